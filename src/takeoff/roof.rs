//! Roof planes at their true size, their bevels, fascia, rafters and hips.

use super::courses::{at_centres, spaced};
use super::covering;
use super::mass::Mass;
use super::outline::{Outline, Point};
use super::part::{Kind, Origin, Piece};
use super::{Shop, core};
use crate::finding::{Finding, Subject};
use crate::job::building::RoofKind;
use crate::quantity::{Angle, Compressed, CompressedLength, ModelLength};

pub use crate::sums::roof::{
    along_slope, gable_area, hip_bevel, hip_rafter, rafter, ridge_overlap, valley,
};

type Full = CompressedLength;

/// A plane of a roof at its true size, all its strips together.
#[derive(Clone, Debug, PartialEq)]
pub struct RoofPlane {
    /// What it is called: `roof/plane-1`.
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
    /// How its edges are bevelled.
    pub note: String,
}

/// The planes of a box.
pub(super) fn whole(shop: &Shop<'_>, mass: &Mass) -> Vec<RoofPlane> {
    let Some(kind) = mass.roof else { return Vec::new() };
    let all = planes(shop, mass, kind).into_iter().enumerate();
    all.map(|(number, planes)| RoofPlane {
        label: format!("{}/plane-{}", mass.group("roof"), number + 1),
        count: planes.count,
        strips: strips(shop, planes).0,
        eave: planes.long,
        ridge: planes.short,
        slope: planes.slope,
        note: bevel_note(shop, mass, planes, kind),
    })
    .collect()
}

/// How many strips a plane is made of, and their height.
fn strips(shop: &Shop<'_>, planes: Planes) -> (u32, Full) {
    spaced(planes.slope, shop.scale.enlarge(core::sheets(shop).0))
}

/// The planes of a roof, alike but for the ends of a hip roof.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Planes {
    pub(super) count: u32,
    /// Along the eave.
    pub(super) long: Full,
    /// Along the ridge.
    pub(super) short: Full,
    /// Up the slope.
    pub(super) slope: Full,
    /// Level run of the slope, overhang included.
    pub(super) run: Full,
}

impl Planes {
    /// What a level line at a distance up the slope is shorter by at each end.
    fn inset(&self, up: Full) -> Full {
        if self.slope > Full::ZERO {
            (self.long - self.short) / 2.0 * (up / self.slope)
        } else {
            Full::ZERO
        }
    }

    /// The stretch of a plane between two distances up its slope.
    fn strip(&self, low: Full, high: Full) -> Outline<Compressed> {
        let (under, over) = (self.inset(low), self.inset(high));
        let mut corners = vec![
            Point::new(under, low),
            Point::new(self.long - under, low),
            Point::new(self.long - over, high),
        ];
        if self.long - over * 2.0 > Full::inches(1e-6) {
            corners.push(Point::new(over, high));
        }
        Outline::polygon(corners).at_origin()
    }
}

/// The planes of a box: the two, or the one, that lie along its ridge, and the
/// two ends of a hip roof.
pub(super) fn planes(shop: &Shop<'_>, mass: &Mass, kind: RoofKind) -> Vec<Planes> {
    let body = &mass.body;
    let over = body.eave_overhang;
    let rakes = if mass.parapet > Full::ZERO { Full::ZERO } else { body.rake_overhang };
    let long = body.length + rakes * 2.0;
    let sloped = |count: u32, run: Full, (long, short): (Full, Full)| Planes {
        count,
        long,
        short,
        slope: along_slope(run, body.pitch),
        run,
    };
    match kind {
        RoofKind::Flat => {
            let inside = parapet_walls(shop, mass);
            let (long, run) = (long - inside, body.depth - inside);
            vec![Planes { count: 1, long, short: long, slope: run, run }]
        }
        RoofKind::Shed => vec![sloped(1, body.depth + over * 2.0, (long, long))],
        RoofKind::Hip => {
            let run = body.depth / 2.0 + over;
            let ridge = (body.length - body.depth).max(Full::ZERO);
            let ends = (body.depth + over * 2.0, Full::ZERO);
            vec![sloped(2, run, (body.length + over * 2.0, ridge)), sloped(2, run, ends)]
        }
        _ if mass.half => vec![sloped(1, body.depth + over, (long, long))],
        RoofKind::Gable | RoofKind::Monitor => {
            vec![sloped(2, body.depth / 2.0 + over, (long, long))]
        }
    }
}

/// What two walls with a parapet take off a roof between them.
fn parapet_walls(shop: &Shop<'_>, mass: &Mass) -> Full {
    let Some(front) = mass.walls.first().filter(|_| mass.parapet > Full::ZERO) else {
        return Full::ZERO;
    };
    let t = shop.job.core.thickness.as_ref().map(|said| said.length()).unwrap_or_default();
    (core::cladding_thickness(shop, front) + shop.scale.enlarge::<Compressed>(t)) * 2.0
}

/// Everything above the plate.
pub(super) fn pieces(shop: &mut Shop<'_>, mass: &Mass) -> Vec<Piece> {
    let Some(kind) = mass.roof else { return Vec::new() };
    let mut pieces = Vec::new();
    let all = planes(shop, mass, kind);
    for planes in &all {
        pieces.extend(plane_core(shop, mass, *planes, kind));
        pieces.extend(covering::pieces(shop, mass, *planes));
    }
    if kind == RoofKind::Monitor {
        shop.findings.push(Finding::look(
            Subject::Job,
            "the raised strip of the monitor is not taken off",
            "describe it as [[attached]] astride the ridge, `stands = \"on-ridge\"`",
        ));
    }
    let Some(first) = all.first() else { return pieces };
    pieces.extend(fascia(shop, *first, kind));
    if kind == RoofKind::Hip {
        pieces.extend(hips(shop, mass, *first));
    }
    let spacing = shop.job.roof.as_ref().and_then(|roof| roof.rafters.as_ref());
    if let Some(spacing) = spacing.filter(|_| mass.name.is_none()) {
        let spacing = shop.size(Some(spacing), Full::feet(2.0));
        pieces.extend(rafters(shop, mass, *first, spacing));
    }
    pieces
}

/// What the size of a roof part comes from.
pub(super) fn origins(mass: &Mass) -> Vec<Origin> {
    match &mass.name {
        Some(name) => vec![Origin::Attached(name.clone())],
        None => vec![Origin::Body("length"), Origin::Body("depth")],
    }
}

/// The planes at their true size, in strips along the grain where the slope is
/// longer than the sheet is wide, with a doubler behind each joint.
fn plane_core(shop: &Shop<'_>, mass: &Mass, planes: Planes, kind: RoofKind) -> Vec<Piece> {
    let (strips, each) = strips(shop, planes);
    let rule =
        Origin::Rule("true size: the run with its overhang, along the slope, not in plan".into());
    let note = bevel_note(shop, mass, planes, kind);
    let mut pieces = Vec::new();
    for strip in 0..strips {
        let low = each * f64::from(strip);
        let shape = planes.strip(low, low + each);
        let (_, corner) = shape.bounds();
        let named = match (strips, note.as_str()) {
            (1, note) => note.to_owned(),
            (_, "") => format!("strip {} of {strips} from the eave", strip + 1),
            (_, note) if strip + 1 == strips => {
                format!("strip {} of {strips} from the eave; {note}", strip + 1)
            }
            _ => format!("strip {} of {strips} from the eave", strip + 1),
        };
        let mut piece = Piece::sheet(Kind::Roof, corner.x, corner.y)
            .of("core")
            .from([origins(mass), vec![rule.clone()]].concat())
            .times(planes.count)
            .note(named)
            .lying()
            .shaped(&shape);
        piece.covers = Full::inches(shape.square_inches()) * Full::inches(1.0);
        pieces.push(piece);
        if strip > 0 {
            let behind = core::doubler(shop, corner.x, "level, behind the joint of the roof");
            pieces.push(behind.times(planes.count));
        }
    }
    pieces
}

/// How the edges of a plane are bevelled.
fn bevel_note(shop: &Shop<'_>, mass: &Mass, planes: Planes, kind: RoofKind) -> String {
    let pitch = mass.body.pitch;
    let degrees = Angle::radians(pitch.atan()).in_degrees();
    let t = shop.job.core.thickness.as_ref().map(|said| said.length()).unwrap_or_default();
    let longer = ridge_overlap(t, pitch).in_thou();
    let ends = planes.short <= Full::inches(1e-6);
    match kind {
        RoofKind::Flat | RoofKind::Shed => String::new(),
        RoofKind::Hip => {
            let hip = hip_bevel(pitch).in_degrees();
            let ridge = if ends { String::new() } else { format!(", ridge edge {degrees:.1}") };
            format!("bevel hip edges {hip:.1} degrees{ridge}")
        }
        _ if planes.count == 1 => {
            format!("top edge bevelled {degrees:.1} degrees to stand against the backdrop")
        }
        _ if t <= ModelLength::ZERO => format!("bevel both top edges {degrees:.1} degrees"),
        _ => format!(
            "bevel both top edges {degrees:.1} degrees, or leave one {longer:.0} thou longer"
        ),
    }
}

/// Boards on the eaves and along the rakes; round all four sides of a hip roof.
fn fascia(shop: &Shop<'_>, planes: Planes, kind: RoofKind) -> Vec<Piece> {
    let Some(width) = &shop.job.trim.fascia else { return Vec::new() };
    let width = shop.size(Some(width), Full::ZERO);
    let board = |length: Full, count: u32, note: &str| {
        let (pieces, each) = shop.split("fascia", length);
        Piece::stick(Kind::Fascia, each, width)
            .of("fascia")
            .from(vec![Origin::Body("length"), Origin::Body("depth")])
            .times(count * pieces)
            .note(note)
    };
    let mut boards = vec![board(planes.long, planes.count, "along the eave")];
    match kind {
        RoofKind::Hip => {
            let end = planes.long - planes.short;
            boards.push(board(end, 2, "along the eave of the end"));
        }
        RoofKind::Flat => {}
        _ => boards.push(board(planes.slope, planes.count * 2, "along the rake")),
    }
    boards
}

/// The four hip rafters, with the backing of their tops.
fn hips(shop: &Shop<'_>, mass: &Mass, planes: Planes) -> Vec<Piece> {
    let Some(choice) = shop.stock.of("rafter") else { return Vec::new() };
    let pitch = mass.body.pitch;
    let level = planes.run * std::f64::consts::SQRT_2;
    let plumb = Angle::radians((planes.run * pitch / level).atan());
    let note = format!("hip: back its top {:.1} degrees each way", hip_bevel(pitch).in_degrees());
    vec![
        Piece::stick(Kind::Rafter, hip_rafter(planes.run, pitch), choice.wanted.full.width)
            .of("rafter")
            .from(origins(mass))
            .times(4)
            .ends(plumb)
            .note(note),
    ]
}

/// Tails where the eave stands out: nobody sees the rest; whole rafters else.
fn rafters(shop: &Shop<'_>, mass: &Mass, planes: Planes, spacing: Full) -> Vec<Piece> {
    let body = &mass.body;
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
