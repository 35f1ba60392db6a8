//! Roof planes, valleys and hips.

use scantling::building::{Body, Edge, EdgeKind, RoofPlane, Stand};
use scantling::job::body::RoofKind;
use scantling::quantity::{CompressedLength, ModelLength};

use super::Work;
use super::out::Out;

pub(crate) fn say(work: &Work<'_>, out: &mut Out) {
    for body in &work.building.bodies {
        let planes: Vec<&RoofPlane> =
            work.building.planes.iter().filter(|plane| plane.body == body.name).collect();
        if planes.is_empty() {
            continue;
        }
        let roof = format!("{}/roof", body.name);
        whole(work, body, &planes, &roof, out);
        // A plane that nothing is cut out of stands for those alike.
        let first = planes.iter().find(|plane| plane.cut.is_none()).unwrap_or(&planes[0]);
        let part = format!("{roof}/plane");
        out.say(&part, "count", planes.len());
        plane(work, body, first, &part, out);
        for one in &planes {
            for name in names(body, one) {
                plane(work, body, one, &format!("{roof}/plane-{name}"), out);
            }
        }
        meetings(work, body, &planes, &roof, out);
    }
}

/// What a plane is called beside the group: by its side, of a hip and a gambrel
/// by its kind too.
fn names(body: &Body, plane: &RoofPlane) -> Vec<String> {
    let side = plane.over.word();
    match body.profile.map(|profile| profile.kind) {
        Some(RoofKind::Gambrel) => {
            let which = if plane.upper { "upper" } else { "lower" };
            vec![which.to_owned(), format!("{side}-{which}")]
        }
        Some(RoofKind::Hip) => {
            let number = if plane.ridge.length.in_inches() > 1e-6 { "1" } else { "2" };
            vec![number.to_owned(), side.to_owned()]
        }
        _ => vec![side.to_owned()],
    }
}

/// What is said of a roof as a whole.
fn whole(work: &Work<'_>, body: &Body, planes: &[&RoofPlane], roof: &str, out: &mut Out) {
    let foot = body.frame.origin[2];
    if let Some(profile) = &body.profile {
        out.inches(roof, "ridge", foot + profile.ridge);
    }
    out.area(roof, planes.iter().map(|plane| plane.area()).sum());
    if let Some(parapet) = &body.parapet {
        let heights = planes.iter().flat_map(|plane| &plane.corners).map(|corner| corner[2] - foot);
        let top = parapet.length.in_inches();
        let low = heights.clone().fold(f64::INFINITY, f64::min);
        let high = heights.fold(f64::NEG_INFINITY, f64::max);
        out.inches(roof, "parapet_low", top - low);
        out.inches(roof, "parapet_high", top - high);
    }
    let valleys = work.building.valleys.iter().filter(|valley| valley.body == body.name);
    if let Some((_, run)) = valley_beside(work, valleys) {
        out.full(roof, "monitor_clear", run);
    }
}

fn valley_beside<'a>(
    work: &'a Work<'_>,
    valleys: impl Iterator<Item = &'a scantling::building::Valley>,
) -> Option<(&'a Body, CompressedLength)> {
    let each = valleys.filter_map(|valley| work.building.beside_on_ridge(valley));
    each.min_by(|a, b| a.1.total_cmp(&b.1))
}

fn plane(work: &Work<'_>, body: &Body, plane: &RoofPlane, part: &str, out: &mut Out) {
    out.full(part, "length", plane.eave.length);
    out.full(part, "eave_length", plane.eave.length);
    out.full(part, "ridge_length", plane.ridge.length);
    out.full(part, "slope", plane.slope.length);
    out.area(part, plane.area());
    let bevel = |kind: EdgeKind| plane.edges_of(kind).next().map(|edge| edge.bevel);
    for (kind, field) in [
        (EdgeKind::Ridge, "ridge_bevel"),
        (EdgeKind::Eave, "eave_bevel"),
        (EdgeKind::Hip, "hip_bevel"),
        (EdgeKind::Break, "break_bevel"),
        (EdgeKind::Wall, "plumb_cut"),
    ] {
        if let Some(angle) = bevel(kind) {
            out.degrees(part, field, angle);
        }
    }
    if bevel(EdgeKind::Ridge).is_some() {
        let sheet = ModelLength::inches(body.sheet.1.value);
        out.model(part, "ridge_overlap", sheet * plane.pitch);
    }
    if let Some([along, up]) = plane.cut {
        out.inches(part, "cut_length", along);
        out.inches(part, "cut_slope", up);
    }
    if let Some(profile) = body.profile.filter(|_| matches!(body.stand, Stand::Against(..))) {
        let top = profile.height(profile.length / 2.0, profile.depth);
        out.inches(part, "meets", body.frame.origin[2] + top);
    }
    if let Some((_, up)) = work.building.below_on_slope(plane) {
        out.full(part, "below_monitor", up.length);
    }
    let valley = work.building.valleys.iter().find(|valley| valley.body == body.name);
    if let Some(valley) = valley {
        out.degrees(part, "valley_edge", valley.in_plane);
    }
}

/// Valleys and hips.
fn meetings(work: &Work<'_>, body: &Body, planes: &[&RoofPlane], roof: &str, out: &mut Out) {
    let valleys: Vec<_> =
        work.building.valleys.iter().filter(|valley| valley.body == body.name).collect();
    if let Some(first) = valleys.first() {
        let part = format!("{roof}/valley");
        out.say(&part, "count", valleys.len());
        out.full(&part, "length", first.length.length);
        out.degrees(&part, "plan", first.on_plan);
    }
    // Each hip is an edge of two planes.
    let hips: Vec<&Edge> = planes.iter().flat_map(|plane| plane.edges_of(EdgeKind::Hip)).collect();
    if let Some(first) = hips.first() {
        let part = format!("{roof}/hip");
        out.say(&part, "count", hips.len() / 2);
        out.inches(&part, "length", first.length());
    }
}
