//! Roof planes at their true size, their bevels, fascia, rafters and hips.

use super::courses::at_centres;
use super::part::{Kind, Piece};
use super::skin::{as_built, said};
use super::{Shop, core, covering};
use crate::building::shape;
use crate::building::{self, Body, EdgeKind, Origin, Outline, Point, Sized, Why};
use crate::finding::{Finding, Subject};
use crate::job::body::{Roof, RoofKind};
use crate::quantity::slack::NEAR;
use crate::quantity::{Angle, Compressed, CompressedLength, ModelLength};

pub use crate::sums::roof::{
    along_slope, gable_area, hip_bevel, hip_rafter, rafter, ridge_overlap,
};

type Full = CompressedLength;

/// A plane of a roof at its true size, all its strips together.
#[derive(Clone, Debug, PartialEq)]
pub struct RoofPlane {
    /// What it is called: `main/roof/plane-1`.
    pub label: String,
    /// How many are alike.
    pub count: u32,
    /// Strips one above the other, of one height.
    pub strips: u32,
    /// Along the eave.
    pub eave: CompressedLength,
    /// Along the ridge; nothing for a triangle.
    pub ridge: CompressedLength,
    /// Up the slope.
    pub slope: CompressedLength,
    /// Its corners: along the eave and up the slope.
    pub outline: Outline<Compressed>,
    /// How its edges are bevelled.
    pub note: String,
}

/// Planes of a body that are alike.
pub(super) struct Alike<'a> {
    pub(super) plane: &'a building::RoofPlane,
    pub(super) count: u32,
}

/// The planes of a body, those alike together, the largest first.
pub(super) fn alike<'a>(shop: &Shop<'a>, body: &Body) -> Vec<Alike<'a>> {
    let mut groups: Vec<Alike<'a>> = Vec::new();
    for plane in shop.building.planes.iter().filter(|plane| plane.body == body.name) {
        let same = groups.iter_mut().find(|group| same_shape(group.plane, plane));
        match same {
            Some(group) => group.count += 1,
            None => groups.push(Alike { plane, count: 1 }),
        }
    }
    groups
}

/// Whether two planes are cut alike; one may be the other turned over.
fn same_shape(a: &building::RoofPlane, b: &building::RoofPlane) -> bool {
    let near = |a: f64, b: f64| (a - b).abs() < NEAR;
    let round =
        |plane: &building::RoofPlane| shape::bounds(&plane.outline).map(|[low, high]| high - low);
    let ([aw, ah], [bw, bh]) = (round(a), round(b));
    near(aw, bw)
        && near(ah, bh)
        && near(a.area(), b.area())
        && a.outline.len() == b.outline.len()
        && near(a.pitch, b.pitch)
}

fn outline_of(corners: &[[f64; 2]]) -> Outline<Compressed> {
    let points = corners.iter().map(|at| Point::new(Full::inches(at[0]), Full::inches(at[1])));
    Outline::polygon(points.collect())
}

/// The planes of a body.
pub(super) fn whole(shop: &Shop<'_>, body: &Body) -> Vec<RoofPlane> {
    alike(shop, body)
        .into_iter()
        .enumerate()
        .map(|(number, group)| RoofPlane {
            label: format!("{}/roof/plane-{}", body.name, number + 1),
            count: group.count,
            strips: strips(shop, body, group.plane).0,
            eave: group.plane.eave.length,
            ridge: group.plane.ridge.length,
            slope: group.plane.slope.length,
            outline: outline_of(&group.plane.outline),
            note: bevel_note(shop, body, &group),
        })
        .collect()
}

/// How many strips a plane is made of, and their height.
fn strips(shop: &Shop<'_>, body: &Body, plane: &building::RoofPlane) -> (u32, Full) {
    let most = shop.scale.enlarge(core::sheets(shop, &shop.roof_section(body)).0);
    super::courses::spaced(plane.slope.length, most)
}

/// Everything above the plate.
pub(super) fn pieces(shop: &mut Shop<'_>, body: &Body) -> Vec<Piece> {
    let said = shop.said(body);
    let Some(roof) = said.and_then(|said| said.roof.as_ref()).filter(|_| body.profile.is_some())
    else {
        return Vec::new();
    };
    let mut pieces = Vec::new();
    let groups = alike(shop, body);
    for group in &groups {
        pieces.extend(plane_core(shop, body, group));
        pieces.extend(covering::pieces(shop, body, roof, group));
    }
    let astride =
        shop.building.bodies.iter().any(|it| matches!(it.stand, building::Stand::Ridge(_)));
    if roof.kind == RoofKind::Monitor && !astride {
        shop.findings.push(Finding::look(
            Subject::Job,
            "the raised strip of the monitor is not taken off",
            "describe it as a [[body]] astride the ridge: stands = { on = \"main/ridge\" }",
        ));
    }
    pieces.extend(eaves(shop, body));
    if roof.fascia.is_none() {
        pieces.extend(fascia(shop, body, roof, &groups));
    }
    if roof.kind == RoofKind::Hip {
        pieces.extend(hips(shop, body));
    }
    if let Some(spacing) = &roof.rafters {
        let spacing = shop.size(Some(spacing), Full::feet(2.0));
        pieces.extend(rafters(shop, body, &groups, spacing));
    }
    pieces
}

/// The planes at their true size, in strips along the grain where the slope is
/// longer than the sheet is wide; their joints fall on rafters or purlins.
fn plane_core(shop: &Shop<'_>, body: &Body, group: &Alike<'_>) -> Vec<Piece> {
    let plane = group.plane;
    let (strips, each) = strips(shop, body, plane);
    let note = bevel_note(shop, body, group);
    let section = shop.roof_section(body);
    let mut pieces = Vec::new();
    let [[left, right], _] = shape::bounds(&plane.outline);
    for strip in 0..strips {
        let low = each.in_inches() * f64::from(strip);
        let high = low + each.in_inches();
        let band =
            vec![[left - 1.0, low], [right + 1.0, low], [right + 1.0, high], [left - 1.0, high]];
        let cut = if strips == 1 {
            vec![plane.outline.clone()]
        } else {
            shape::shared(&plane.outline, &band)
        };
        for corners in cut {
            let [[x0, x1], [y0, y1]] = shape::bounds(&corners);
            let named = match (strips, note.as_str()) {
                (1, note) => note.to_owned(),
                (_, "") => format!("strip {} of {strips} from the eave", strip + 1),
                (_, note) if strip + 1 == strips => {
                    format!("strip {} of {strips} from the eave; {note}", strip + 1)
                }
                _ => format!("strip {} of {strips} from the eave", strip + 1),
            };
            let near = |a: f64, b: f64| (a - b).abs() < NEAR;
            let longer =
                if plane.ridge.length > plane.eave.length { &plane.ridge } else { &plane.eave };
            let length = if near(x1 - x0, longer.length.in_inches()) {
                longer.clone()
            } else {
                strip_length(plane, (strip, strips), x1 - x0)
            };
            let width = if strips == 1 {
                plane.slope.clone()
            } else if near(y1 - y0, each.in_inches()) {
                let count = Origin::plain(
                    "strips",
                    f64::from(strips),
                    Why::Default("as few as the sheet allows"),
                );
                Sized::rule(
                    "height of a strip",
                    "equal strips",
                    &[&plane.slope.origin, &count],
                    |of| of[0] / of[1],
                )
            } else {
                Sized::of(as_built("height of the strip", Full::inches(y1 - y0)))
            };
            let mut piece = Piece::sheet(Kind::Roof, length, width)
                .of(section.clone())
                .times(group.count)
                .note(named)
                .lying()
                .shaped(&outline_of(&corners));
            piece.covers = Full::inches(shape::area(&corners)) * Full::inches(1.0);
            pieces.push(piece);
        }
    }
    pieces
}

/// How long a strip of a plane is: at its lower or upper edge between eave and
/// ridge.
fn strip_length(
    plane: &building::RoofPlane,
    (strip, strips): (u32, u32),
    long: f64,
) -> Sized<Compressed> {
    let number = |what, value: u32| {
        Origin::plain(what, f64::from(value), Why::Default("counted from the eave"))
    };
    let strips = number("strips", strips);
    let near = |it: &Sized<Compressed>| (it.length.in_inches() - long).abs() < NEAR;
    let each = [strip, strip + 1].map(|edge| {
        let of = [&plane.eave.origin, &plane.ridge.origin, &number("edge", edge), &strips];
        Sized::rule("length of the strip", "between eave and ridge, at its edge", &of, |of| {
            of[0] + (of[1] - of[0]) * of[2] / of[3]
        })
    });
    let found = each.into_iter().find(near);
    found.unwrap_or_else(|| Sized::of(as_built("length of the strip", Full::inches(long))))
}

/// How the edges of a plane are bevelled.
fn bevel_note(shop: &Shop<'_>, body: &Body, group: &Alike<'_>) -> String {
    let plane = group.plane;
    let degrees = Angle::radians(plane.pitch.atan()).in_degrees();
    let t: ModelLength = shop.scale.reduce(Full::inches(body.sheet.0));
    let longer = ridge_overlap(t, plane.pitch).in_thou();
    let has = |kind| plane.edges_of(kind).next().is_some();
    if has(EdgeKind::Valley) {
        return format!("bevel the ridge {degrees:.1} degrees; cut the valley to the other slope");
    }
    if has(EdgeKind::Hip) {
        let hip = hip_bevel(plane.pitch).in_degrees();
        let ridge =
            if has(EdgeKind::Ridge) { format!(", ridge edge {degrees:.1}") } else { String::new() };
        return format!("bevel hip edges {hip:.1} degrees{ridge}");
    }
    if has(EdgeKind::SceneEdge) {
        return format!("top edge bevelled {degrees:.1} degrees to stand against the backdrop");
    }
    if has(EdgeKind::Wall) && plane.pitch > 0.0 && body.parapet.is_none() && body.rises <= 0.0 {
        return format!("upper edge cut plumb, {degrees:.1} degrees from square, against the wall");
    }
    if !has(EdgeKind::Ridge) {
        return String::new();
    }
    if t <= ModelLength::ZERO {
        return format!("bevel both top edges {degrees:.1} degrees");
    }
    format!("bevel both top edges {degrees:.1} degrees, or leave one {longer:.0} thou longer")
}

/// Boards on the edges: those of `[trim]` on eaves and rakes, or those of the
/// roof itself along its eaves.
fn fascia(shop: &Shop<'_>, body: &Body, roof: &Roof, groups: &[Alike<'_>]) -> Vec<Piece> {
    let along = |size, plane: &building::RoofPlane, kinds: &[EdgeKind], times: u32, note: &str| {
        let width = shop.size(Some(size), Full::ZERO);
        let width = said("fascia", width, Some(size), "");
        let mut boards = Vec::new();
        for edge in plane.edges.iter().filter(|edge| kinds.contains(&edge.kind)) {
            let near = |sized: &&Sized<Compressed>| {
                (sized.length.in_inches() - edge.length()).abs() < NEAR
            };
            let known = [&plane.eave, &plane.ridge, &plane.slope];
            let whole = known.into_iter().find(near).cloned();
            let whole = whole.unwrap_or_else(|| {
                Sized::of(as_built("edge of the roof", Full::inches(edge.length())))
            });
            let (count, _) = shop.split("fascia", whole.length);
            let each = shop.shared(&whole, count);
            boards.push(
                Piece::stick(Kind::Fascia, each, width.clone())
                    .of("fascia")
                    .times(times * count)
                    .note(note),
            );
        }
        boards
    };
    let trim = shop.trim_of(&body.name);
    let Some(size) = &trim.fascia else { return Vec::new() };
    if roof.kind == RoofKind::Flat {
        return groups
            .iter()
            .flat_map(|group| {
                along(size, group.plane, &[EdgeKind::Eave], group.count, "along the eave")
            })
            .collect();
    }
    groups
        .iter()
        .flat_map(|group| {
            let mut boards =
                along(size, group.plane, &[EdgeKind::Eave], group.count, "along the eave");
            boards.extend(along(
                size,
                group.plane,
                &[EdgeKind::Rake],
                group.count,
                "along the rake",
            ));
            boards
        })
        .collect()
}

/// The hip rafters, with the backing of their tops.
fn hips(shop: &Shop<'_>, body: &Body) -> Vec<Piece> {
    let Some(choice) = shop.stock.of("rafter") else { return Vec::new() };
    let pitch = body.pitch.value;
    let hip = shop
        .building
        .planes
        .iter()
        .filter(|plane| plane.body == body.name)
        .flat_map(|plane| plane.edges_of(EdgeKind::Hip));
    let edges: Vec<f64> = hip.map(building::Edge::length).collect();
    let Some(&long) = edges.first() else { return Vec::new() };
    let [eave, _] = &body.overhangs;
    let run = Origin::rule(
        "run of the hip",
        "half the shorter side, and the overhang",
        &[&body.length.origin, &body.depth.origin, eave],
        |of| of[0].min(of[1]) / 2.0 + of[2],
    );
    let length = Sized::rule(
        "hip rafter",
        "the diagonal of run, run and rise",
        &[&run, &body.pitch],
        |of| of[0] * (2.0 + of[1] * of[1]).sqrt(),
    );
    let length = if (length.length.in_inches() - long).abs() < NEAR {
        length
    } else {
        Sized::of(as_built("hip rafter", Full::inches(long)))
    };
    let plumb = Angle::radians((pitch / std::f64::consts::SQRT_2).atan());
    let note = format!("hip: back its top {:.1} degrees each way", hip_bevel(pitch).in_degrees());
    let width = super::part::stated(
        "depth of the rafter",
        choice.wanted.full.width,
        Why::Row("the rafter's section".to_owned()),
    );
    vec![
        Piece::stick(Kind::Rafter, length, width)
            .of("rafter")
            .times((edges.len() / 2) as u32)
            .ends(plumb)
            .note(note),
    ]
}

/// Tails where the eave stands out: nobody sees the rest; whole rafters else.
fn rafters(shop: &Shop<'_>, body: &Body, groups: &[Alike<'_>], spacing: Full) -> Vec<Piece> {
    let width = shop.stock.of("rafter").map_or(Full::ZERO, |choice| choice.wanted.full.width);
    let width = super::part::stated(
        "depth of the rafter",
        width,
        Why::Row("the rafter's section".to_owned()),
    );
    let plumb = Angle::radians(body.pitch.value.atan());
    let Some(first) = groups.first() else { return Vec::new() };
    let planes = groups.first().map_or(0, |group| group.count);
    let over = &body.overhangs[0];
    let (length, along, note) = if body.over[0] > 0.0 {
        let tail = Sized::rule(
            "rafter tail",
            "the overhang, along the slope",
            &[over, &body.pitch],
            |of| of[0] * of[1].hypot(1.0),
        );
        (tail, first.plane.eave.length, "tail beyond the wall; add what you glue inside")
    } else {
        let ridge =
            Origin::plain("ridge board", 1.5, Why::Default("1 1/2 in, common practice, no source"));
        let of = [&first.plane.slope.origin, &ridge, &body.pitch];
        let whole = Sized::rule("rafter", "the slope less half the ridge board", &of, |of| {
            of[0] - of[1] / 2.0 * of[2].hypot(1.0)
        });
        (whole, body.length.length, "to a ridge board of 1 1/2 in")
    };
    vec![
        Piece::stick(Kind::Rafter, length, width)
            .of("rafter")
            .times(at_centres(along, spacing) * planes)
            .ends(plumb)
            .note(note),
    ]
}

/// Rafter tails and fascias under the eaves of a body.
fn eaves(shop: &Shop<'_>, body: &Body) -> Vec<Piece> {
    let mut pieces = Vec::new();
    for eave in shop.building.eaves.iter().filter(|eave| eave.body == body.name) {
        if let Some(tails) = &eave.tails {
            pieces.push(
                Piece::stick(Kind::Tail, tails.length.clone(), tails.deep.clone())
                    .of(format!("{} tail", body.name))
                    .times(tails.count)
                    .ends(tails.cut)
                    .note("under the eave, both ends plumb"),
            );
        }
        if let Some(fascia) = &eave.fascia {
            let (count, _) = shop.split("fascia", eave.length.length);
            let each = shop.shared(&eave.length, count);
            pieces.push(
                Piece::stick(Kind::Fascia, each, fascia.depth.clone())
                    .of("fascia")
                    .times(count)
                    .note("along the eave, before the shingles"),
            );
        }
    }
    pieces
}
