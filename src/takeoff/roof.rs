//! Roof planes at their true size, covering, fascia, rafters.

use super::courses::{at_centres, boards, slope_courses, spaced, tiers};
use super::part::{Kind, Origin, Piece};
use super::{Shop, core, iron};
use crate::finding::{Finding, Subject};
use crate::job::building::{Cladding, CladdingKind, Remainder, RoofKind};
use crate::job::place::RoofFollows;
use crate::quantity::{Angle, CompressedLength, Length, Space};

type Full = CompressedLength;

/// Length along the slope over a level run: `run sqrt(1 + p^2)`.
#[must_use]
pub fn along_slope<S: Space>(run: Length<S>, pitch: f64) -> Length<S> {
    run * pitch.hypot(1.0)
}

/// What one plane is longer by where its top edge is left square over the
/// other: thickness times the tangent of the pitch.
#[must_use]
pub fn ridge_overlap<S: Space>(thickness: Length<S>, pitch: f64) -> Length<S> {
    thickness * pitch
}

/// A common rafter to the ridge board, without its tail: its line less half
/// the ridge board along the slope.
#[must_use]
pub fn rafter<S: Space>(run: Length<S>, pitch: f64, ridge_board: Length<S>) -> Length<S> {
    along_slope(run - ridge_board / 2.0, pitch)
}

/// A hip rafter: the diagonal of run, run and rise.
#[must_use]
pub fn hip_rafter<S: Space>(run: Length<S>, pitch: f64) -> Length<S> {
    run * (2.0 + pitch * pitch).sqrt()
}

/// Length of the boards of a gable laid one beside the other, in the unit of
/// the span per unit of board width: `p D^2 / 4`.
#[must_use]
pub fn gable_area(pitch: f64, span: f64) -> f64 {
    pitch * span * span / 4.0
}

/// The planes of a roof.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Planes {
    count: u32,
    /// Along the eave.
    long: Full,
    /// Along the ridge.
    short: Full,
    /// Up the slope.
    slope: Full,
    /// Level run of the slope, overhang included.
    run: Full,
}

fn planes(shop: &Shop<'_>, kind: RoofKind) -> Planes {
    let body = &shop.built.body;
    let half = shop.built.roof == RoofFollows::HalfRelief;
    let over = body.eave_overhang;
    let long = body.length + body.rake_overhang * 2.0;
    let (count, run, short) = match kind {
        RoofKind::Shed => (1, body.depth + over * 2.0, long),
        RoofKind::Flat => (1, body.depth, long),
        RoofKind::Hip => (2, body.depth / 2.0 + over, (body.length - body.depth).max(Full::ZERO)),
        _ if half => (1, body.depth + over, long),
        RoofKind::Gable | RoofKind::Monitor => (2, body.depth / 2.0 + over, long),
    };
    let long = if kind == RoofKind::Hip { body.length + over * 2.0 } else { long };
    let pitch = if kind == RoofKind::Flat { 0.0 } else { body.pitch };
    Planes { count, long, short, slope: along_slope(run, pitch), run }
}

/// Everything above the plate.
pub(super) fn pieces(shop: &mut Shop<'_>) -> Vec<Piece> {
    let Some(roof) = &shop.job.roof else { return Vec::new() };
    if shop.built.roof == RoofFollows::Flat {
        return Vec::new();
    }
    let planes = planes(shop, roof.kind);
    let mut pieces = plane_core(shop, planes, roof.kind);
    if roof.kind == RoofKind::Hip {
        pieces.push(hip_ends(shop, planes));
    }
    if roof.kind == RoofKind::Monitor {
        shop.findings.push(Finding::look(
            Subject::Job,
            "the raised strip of the monitor is not taken off",
            "add it as members and an attached face",
        ));
    }
    let covering = roof
        .cladding
        .as_ref()
        .and_then(|name| shop.job.claddings.iter().find(|cladding| &cladding.name == name));
    if let Some(cladding) = covering {
        pieces.extend(cover(shop, cladding, planes));
    }
    pieces.extend(fascia(shop, planes, roof.kind));
    if let Some(spacing) = &roof.rafters {
        let spacing = shop.size(Some(spacing), Full::feet(2.0));
        pieces.extend(rafters(shop, planes, spacing));
    }
    pieces
}

/// The planes at their true size, in strips along the grain where the slope is
/// longer than the sheet is wide, with a doubler behind each joint.
fn plane_core(shop: &Shop<'_>, planes: Planes, kind: RoofKind) -> Vec<Piece> {
    let wide: Full = shop.scale.enlarge(core::sheets(shop).0);
    // A hip plane is no rectangle: it is left whole, and found if it is too wide.
    let (strips, each) =
        if kind == RoofKind::Hip { (1, planes.slope) } else { spaced(planes.slope, wide) };
    let pitch = Angle::radians(shop.built.body.pitch.atan());
    let t = shop.job.core.thickness.as_ref().map(|said| said.length()).unwrap_or_default();
    let longer = ridge_overlap(t, shop.built.body.pitch).in_thou();
    let note = match kind {
        RoofKind::Flat | RoofKind::Shed => String::new(),
        RoofKind::Hip => format!(
            "cut to {:.3} in along the ridge; bevel {:.1} degrees",
            shop.scale.reduce(planes.short).in_inches(),
            pitch.in_degrees()
        ),
        _ if planes.count == 1 => {
            format!(
                "top edge bevelled {:.1} degrees to stand against the backdrop",
                pitch.in_degrees()
            )
        }
        _ => format!(
            "bevel both top edges {:.1} degrees, or leave one {longer:.0} thou longer",
            pitch.in_degrees()
        ),
    };
    let note = if strips > 1 { format!("one of {strips} strips a plane; {note}") } else { note };
    let mut piece = Piece::sheet(Kind::Roof, planes.long, each)
        .of("core")
        .from(vec![
            Origin::Body("length"),
            Origin::Body("depth"),
            Origin::Rule(
                "true size: the run with its overhang, along the slope, not in plan".into(),
            ),
        ])
        .times(planes.count * strips)
        .note(note);
    piece.covers = (planes.long + planes.short) / 2.0 * each;
    let mut pieces = vec![piece];
    if strips > 1 {
        let behind = core::doubler(shop, planes.long, "level, behind the joint of the roof");
        pieces.push(behind.times(planes.count * (strips - 1)));
    }
    pieces
}

fn hip_ends(shop: &Shop<'_>, planes: Planes) -> Piece {
    let base = shop.built.body.depth + shop.built.body.eave_overhang * 2.0;
    let mut piece = Piece::sheet(Kind::Roof, base, planes.slope)
        .of("core")
        .from(vec![Origin::Body("depth")])
        .times(2)
        .note("triangle to the end of the ridge");
    piece.covers = base * planes.slope / 2.0;
    piece
}

fn cover(shop: &mut Shop<'_>, cladding: &Cladding, planes: Planes) -> Vec<Piece> {
    match cladding.kind {
        CladdingKind::Shingle | CladdingKind::Clapboard => shingles(shop, cladding, planes),
        CladdingKind::Corrugated => sheets(shop, cladding, planes),
        CladdingKind::Boards | CladdingKind::BoardAndBatten | CladdingKind::Brick => {
            shop.findings.push(Finding::look(
                Subject::Member(cladding.name.clone()),
                format!("{} on the roof is not taken off", cladding.name),
                "roofs take shingles or corrugated sheet",
            ));
            Vec::new()
        }
    }
}

/// Courses and one starter a slope. The last course is whole.
fn shingles(shop: &Shop<'_>, cladding: &Cladding, planes: Planes) -> Vec<Piece> {
    let nominal = shop.size(cladding.exposure.as_ref(), Full::inches(5.0));
    let (courses, exposure) = slope_courses(planes.slope, nominal);
    let (pieces, length) = shop.split((planes.long + planes.short) / 2.0);
    let origin = || vec![Origin::Cladding(cladding.name.clone()), Origin::Body("depth")];
    let strip = |covers: bool, note: String| {
        let mut piece = Piece::stick(Kind::Shingle, length, exposure)
            .of(format!("{} strip", cladding.name))
            .from(origin())
            .note(note);
        if covers {
            piece.covers = length * exposure;
        }
        piece
    };
    let shown = format!("{courses} courses a slope, {:.4} in each", exposure.in_inches());
    vec![
        strip(true, shown).times(planes.count * courses * pieces),
        strip(false, "starter: doubled at the eave".to_owned()).times(planes.count * pieces),
    ]
}

fn sheets(shop: &Shop<'_>, cladding: &Cladding, planes: Planes) -> Vec<Piece> {
    let (cover, length, lap) = iron::sheet(shop, cladding);
    let row = boards(planes.long, cover, Remainder::Leave);
    let count = tiers((planes.slope - lap).max(Full::inches(1.0)), length, lap);
    let mut pieces = Vec::new();
    for edges in row.edges.windows(2) {
        for tier in 0..count {
            let foot = (length - lap) * f64::from(tier);
            let last = tier + 1 == count;
            let shown = if last { planes.slope - foot } else { length - lap };
            let over = if last { Full::ZERO } else { lap };
            let mut piece = Piece::sheet(Kind::Iron, shown + over, edges[1] - edges[0])
                .of(format!("{} sheet", cladding.name))
                .from(vec![Origin::Cladding(cladding.name.clone()), Origin::Body("depth")])
                .times(planes.count);
            piece.covers = shown * (edges[1] - edges[0]);
            pieces.push(piece);
        }
    }
    pieces
}

fn fascia(shop: &Shop<'_>, planes: Planes, kind: RoofKind) -> Vec<Piece> {
    let Some(width) = &shop.job.trim.fascia else { return Vec::new() };
    let width = shop.size(Some(width), Full::ZERO);
    let board = |length: Full, count: u32, note: &str| {
        let (pieces, each) = shop.split(length);
        Piece::stick(Kind::Fascia, each, width)
            .of("fascia")
            .from(vec![Origin::Body("length"), Origin::Body("depth")])
            .times(count * pieces)
            .note(note)
    };
    let mut boards = vec![board(planes.long, planes.count, "along the eave")];
    if !matches!(kind, RoofKind::Hip | RoofKind::Flat) {
        boards.push(board(planes.slope, planes.count * 2, "along the rake"));
    }
    boards
}

/// Tails where the eave stands out: nobody sees the rest; whole rafters else.
fn rafters(shop: &Shop<'_>, planes: Planes, spacing: Full) -> Vec<Piece> {
    let body = &shop.built.body;
    let over = body.eave_overhang;
    let width = shop.stock.of("rafter").map_or(Full::ZERO, |choice| choice.wanted.full.width);
    let plumb = Angle::radians(body.pitch.atan());
    let (length, along, note) = if over > Full::ZERO {
        (
            along_slope(over, body.pitch),
            planes.long,
            "tail beyond the wall; add what you glue inside",
        )
    } else {
        let ridge = Full::inches(1.5);
        (rafter(planes.run, body.pitch, ridge), body.length, "to a ridge board of 1 1/2 in")
    };
    vec![
        Piece::stick(Kind::Rafter, length, width)
            .of("rafter")
            .from(vec![
                Origin::Body("depth"),
                Origin::Rule("along the slope; plumb cut at the pitch".into()),
            ])
            .times(at_centres(along, spacing) * planes.count)
            .ends(plumb)
            .note(note),
    ]
}
