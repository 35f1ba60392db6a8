//! Walls with their layers, and the holes through them.

use scantling::building::{Layer, Role, Wall};
use scantling::job::building::Cladding;
use scantling::job::wall::Corners;
use scantling::quantity::{Angle, Compressed, CompressedLength, ModelLength};

use super::out::Out;
use super::{Work, labels};

pub(crate) fn say(work: &Work<'_>, out: &mut Out) {
    for body in &work.building.bodies {
        out.say(&body.name, "walls", work.building.walls_of(&body.name).count());
    }
    for wall in &work.building.walls {
        one(work, wall, out);
    }
    posts(work, out);
}

fn one(work: &Work<'_>, wall: &Wall, out: &mut Out) {
    let name = &wall.name;
    out.say(name, "layers", wall.layers.len());
    out.full(name, "length", wall.width);
    out.inches(
        name,
        "foot",
        wall.plane.corner[2] + wall.foot_at(CompressedLength::ZERO).in_inches(),
    );
    let whole = (CompressedLength::ZERO, wall.width);
    let open: f64 = wall.holes.iter().map(|it| (it.width * it.height).in_square_inches()).sum();
    out.area(name, wall.area(whole, everything()).in_square_inches() - open);
    for layer in &wall.layers {
        for (kind, cladding) in labels::kinds(work.job, layer) {
            let part = format!("{name}/{kind}");
            sheet(work, layer, &part, out);
            upright(wall, layer, &part, out);
            holes(work, wall, (layer, cladding), &part, out);
        }
    }
}

/// Below and above anything.
fn everything() -> (CompressedLength, CompressedLength) {
    (CompressedLength::feet(-1000.0), CompressedLength::feet(1000.0))
}

fn sheet(work: &Work<'_>, layer: &Layer, part: &str, out: &mut Out) {
    out.full(part, "length", layer.length().length);
    let own = layer.material.clone();
    let taken = || work.job.materials.get(&layer.id.layer)?.first().cloned();
    if let Some(material) = own.or_else(taken) {
        out.say(part, "material", material);
    }
    if let Some(grain) = labels::grain(layer.grain) {
        out.say(part, "grain", grain);
    }
    let mitred = layer.edges.iter().any(|edge| edge.met && edge.joint == Corners::Mitre);
    if mitred && layer.role != Role::Cladding {
        let corner = work.building.corners.iter().find(|corner| {
            corner.id.body == layer.id.face.body
                && corner.joins(layer.id.face.side)
                && corner.joint == Corners::Mitre
        });
        if let Some(corner) = corner {
            out.degrees(part, "mitre", Angle::degrees(corner.degrees / 2.0));
        }
    }
}

/// The two upright edges, and the height at the highest.
fn upright(wall: &Wall, layer: &Layer, part: &str, out: &mut Out) {
    let (left, right) = (layer.left.length, layer.right.length);
    let edge = |x| wall.top_at(x) - wall.foot_at(x);
    let (a, b) = (edge(left), edge(right));
    out.full(part, "height", wall.highest(left, right) - wall.lowest(left, right));
    out.full(part, "low_height", a.min(b));
    out.full(part, "high_height", a.max(b));
}

fn holes(
    work: &Work<'_>,
    wall: &Wall,
    (layer, cladding): (&Layer, Option<&Cladding>),
    part: &str,
    out: &mut Out,
) {
    let size = |size: &Option<scantling::job::said::Size>| {
        let found = work.plan.survey.size(size.as_ref()?).ok()?;
        Some(CompressedLength::kept(found.value))
    };
    let (low, high) = everything();
    let from = cladding.and_then(|it| size(&it.from)).unwrap_or(low);
    let to = cladding.and_then(|it| size(&it.to)).unwrap_or(high);
    let through = |it: &&scantling::building::LayerHole| it.hole.foot < to && it.hole.head() > from;
    let holes: Vec<_> = layer.holes.iter().filter(through).collect();
    out.say(part, "openings", holes.len());
    let seen = wall.seen_as(layer);
    let whole = seen.area((layer.left.length, layer.right.length), (from, to));
    let open: f64 = seen.holes.iter().map(|hole| taken(hole, from, to)).sum();
    out.area(part, whole.in_square_inches() - open);
    let is_cast =
        |kind: &str| work.job.openings.iter().any(|it| it.name == kind && it.casting.is_some());
    if let Some(hole) = holes.iter().find(|it| is_cast(&it.hole.kind)) {
        out.model(part, "hole_width", hole.width.length);
        out.model(part, "hole_height", hole.height.length);
    }
    let mut holes = holes;
    holes.sort_by(|a, b| a.hole.left.total_cmp(&b.hole.left));
    for (number, hole) in holes.iter().enumerate() {
        let at = |field: &str| format!("hole_{}_{field}", number + 1);
        let model = |length| -> ModelLength { out.scale().reduce(length) };
        let (left, foot) = (model(hole.hole.left - layer.left.length), model(hole.hole.foot));
        out.model(part, &at("left"), left);
        out.model(part, &at("foot"), foot);
        out.model(part, &at("width"), hole.width.length);
        out.model(part, &at("height"), hole.height.length);
    }
}

/// What an opening takes of a band between two heights, square inches.
fn taken(
    hole: &scantling::elevation::Hole<Compressed>,
    from: CompressedLength,
    to: CompressedLength,
) -> f64 {
    let tall = hole.head().min(to) - hole.foot.max(from);
    (hole.width * tall.max(CompressedLength::ZERO)).in_square_inches()
}

/// Corner posts, body by body.
fn posts(work: &Work<'_>, out: &mut Out) {
    for body in &work.building.bodies {
        let of = work.building.corners.iter().filter(|corner| corner.id.body == body.name);
        let posts: Vec<_> = of.filter_map(|corner| corner.post.as_ref()).collect();
        let Some(first) = posts.first() else { continue };
        let part = format!("{}/corner-post", body.name);
        out.say(&part, "count", posts.len());
        out.full(&part, "height", body.eave.length);
        out.full(&part, "length", body.eave.length);
        let width: CompressedLength = out.scale().enlarge(first.length);
        out.full(&part, "width", width);
    }
}
