//! Core walls by their corner joint, splices, floor, openings for castings.

use super::mass::Mass;
use super::part::{Form, Kind, Origin, Piece};
use super::wall::{Stand, Wall};
use super::{Bought, Shop, casting};
use crate::elevation::Hole;
use crate::finding::{Finding, Subject};
use crate::job::building::{Casting, Corners, Opening};
use crate::quantity::{Compressed, CompressedLength, Length, ModelLength, Space};

pub use crate::sums::fit::{casting_opening, drawn_hole, drawn_outside};

type Full = CompressedLength;

/// Widths of the core walls of a box of outside size `x` by `y`, cladding `c`
/// on every face, core `t`: the walls along `x`, then those along `y`.
///
/// Butted, the long walls run through: `x - 2c` and `y - 2c - 2t`. Mitred, all
/// four are full: `x - 2c` and `y - 2c`, measured to the point.
#[must_use]
pub fn widths<S: Space>(
    (x, y): (Length<S>, Length<S>),
    c: Length<S>,
    t: Length<S>,
    corners: Corners,
) -> (Length<S>, Length<S>) {
    let long = x - c * 2.0;
    let short = y - c * 2.0;
    match corners {
        Corners::Butt => (long, short - t * 2.0),
        Corners::Mitre => (long, short),
    }
}

/// Castings to order: one spare up to ten, then 5 percent.
#[must_use]
pub fn spares(count: u32) -> u32 {
    if count <= 10 { u32::from(count > 0) } else { count.div_ceil(20) }
}

/// Sheets for the core: width across the grain and length along it. Those of
/// the job, else of the stock taken, else 4 in by 24 in.
pub(super) fn sheets(shop: &Shop<'_>) -> (ModelLength, ModelLength) {
    let said = &shop.job.cutting.sheets;
    let zero = (ModelLength::ZERO, ModelLength::ZERO);
    if !said.is_empty() {
        return said.iter().fold(zero, |best, [width, length]| {
            (best.0.max(width.length()), best.1.max(length.length()))
        });
    }
    let taken = shop.stock.of("core").and_then(|choice| choice.taken());
    taken
        .and_then(|made| Some((made.sheet?, made.length)))
        .unwrap_or((ModelLength::inches(4.0), ModelLength::inches(24.0)))
}

/// Thickness of the cladding on a wall: that of its lowest cladding.
pub(super) fn cladding_thickness(shop: &Shop<'_>, wall: &Wall) -> Full {
    let first = wall.claddings.first();
    let cladding =
        first.and_then(|name| shop.job.claddings.iter().find(|cladding| &cladding.name == name));
    cladding
        .map_or(Full::ZERO, |cladding| shop.size(cladding.thickness.as_ref(), Full::inches(1.0)))
}

/// The core of a wall, spliced where it is longer than the sheet or higher
/// than the sheet is wide. The grain runs along the wall.
pub(super) fn wall_pieces(
    shop: &mut Shop<'_>,
    mass: &Mass,
    wall: &Wall,
    battens: &[Full],
) -> Vec<Piece> {
    let Some(thickness) = &shop.job.core.thickness else { return Vec::new() };
    let t: Full = shop.scale.enlarge(thickness.length());
    let c = cladding_thickness(shop, wall);
    let (long, short) = widths((wall.width, wall.width), c, t, shop.job.core.corners);
    let end = matches!(wall.stand, Stand::LeftEnd | Stand::RightEnd);
    let width = if end { short } else { long };
    let inset = (wall.width - width) / 2.0;
    let lines = splice_lines(shop, wall, (inset, inset + width), battens);
    let mut pieces = Vec::new();
    for pair in lines.windows(2) {
        pieces.extend(strips(shop, mass, wall, (pair[0], pair[1])));
    }
    pieces.extend(bracing(shop, wall));
    for line in lines.get(1..lines.len().saturating_sub(1)).unwrap_or_default() {
        pieces.push(
            doubler(shop, wall.top_at(*line) - wall.foot_at(*line), "upright, behind the splice")
                .at(*line, wall.foot_at(*line)),
        );
    }
    pieces
}

/// Where a wall is joined along its length: ends, and splices under full
/// battens so that no piece is longer than the sheet.
fn splice_lines(
    shop: &mut Shop<'_>,
    wall: &Wall,
    (left, right): (Full, Full),
    battens: &[Full],
) -> Vec<Full> {
    let most: Full = shop.scale.enlarge(sheets(shop).1);
    let mut lines = vec![left];
    let mut at = left;
    // Fewest pieces: the farthest full batten each time. The back starts from
    // the other half, so that splices do not stand opposite each other.
    let stagger = if wall.stand == Stand::Back { 0.8 } else { 1.0 };
    while right - at > most {
        let reach = at + most * if lines.len() == 1 { stagger } else { 1.0 };
        let next = battens.iter().copied().filter(|x| *x > at + most * 0.1 && *x <= reach);
        match next.max_by(Full::total_cmp) {
            Some(next) => {
                lines.push(next);
                at = next;
            }
            None => {
                let show = |x| shop.job.about.full_notation().show(&x);
                shop.findings.push(Finding::look(
                    Subject::Element(wall.name.clone()),
                    format!(
                        "{} is longer than the sheet, and no full batten stands between {} and {} to splice under",
                        wall.title,
                        show(at),
                        show(reach)
                    ),
                    "splice behind a door post or downspout, or use a longer sheet",
                ));
                lines.push(reach);
                at = reach;
            }
        }
    }
    lines.push(right);
    lines
}

/// One length of a wall as strips along the grain, none wider than the sheet,
/// with the openings cut out of them.
fn strips(shop: &Shop<'_>, mass: &Mass, wall: &Wall, (left, right): (Full, Full)) -> Vec<Piece> {
    let high = wall.highest(left, right);
    let foot = wall.lowest(left, right);
    let (count, each) =
        super::courses::spaced(high, shop.scale.enlarge::<Compressed>(sheets(shop).0));
    let holes = holes(shop, wall);
    let mut pieces = Vec::new();
    for strip in 0..count {
        let low = foot + each * f64::from(strip);
        for shape in wall.shapes((left, right), (low, low + each), &holes) {
            let (from, to) = shape.bounds();
            let mut piece = Piece::sheet(Kind::Core, to.x - from.x, to.y - from.y)
                .of("core")
                .from(core_origins(shop, mass, wall))
                .level_at(from.x, from.y)
                .shaped(&shape);
            if count > 1 {
                piece = piece.note(format!("strip {} of {count} from the foot", strip + 1));
            }
            if strip > 0 {
                let behind = doubler(shop, to.x - from.x, "level, behind the joint");
                pieces.push(behind.level_at(from.x, low));
            }
            pieces.push(piece);
        }
    }
    pieces
}

fn core_origins(shop: &Shop<'_>, mass: &Mass, wall: &Wall) -> Vec<Origin> {
    let rule = Origin::Rule(corner_rule(shop.job.core.corners).to_owned());
    let Some(name) = &mass.name else {
        let end = matches!(wall.stand, Stand::LeftEnd | Stand::RightEnd);
        return vec![
            Origin::Body(if end { "depth" } else { "length" }),
            Origin::Body("eave"),
            rule,
        ];
    };
    vec![Origin::Attached(name.clone()), rule]
}

/// The openings as cut in the core: those of the wall, or the frame of the
/// casting and its fit, about the same centre; a door's stands on the foot.
fn holes(shop: &Shop<'_>, wall: &Wall) -> Vec<Hole<Compressed>> {
    let fit = fit(shop, "casting", 5.0);
    let cut = |hole: &Hole<Compressed>| {
        let opening = shop.job.openings.iter().find(|opening| opening.name == hole.kind);
        let Some(bought) = opening.and_then(|opening| casting(opening, shop.catalog)) else {
            return hole.clone();
        };
        let (wide, high) = casting_opening(bought.frame, fit);
        let (width, height) = (shop.scale.enlarge(wide), shop.scale.enlarge(high));
        let left = hole.left + (hole.width - width) / 2.0;
        let stands = hole.foot <= Full::inches(0.01);
        let foot = if stands { hole.foot } else { hole.foot + (hole.height - height) / 2.0 };
        Hole { left, foot, width, height, ..hole.clone() }
    };
    wall.holes.iter().map(cut).collect()
}

fn corner_rule(corners: Corners) -> &'static str {
    match corners {
        Corners::Butt => {
            "butted: long walls outside less two claddings, short ones less two cores more"
        }
        Corners::Mitre => "mitred: every wall outside less two claddings, edges at 45 degrees",
    }
}

/// A strip half an inch wide on the model behind a joint.
pub(super) fn doubler(shop: &Shop<'_>, length: Full, note: &str) -> Piece {
    let width: Full = shop.scale.enlarge(ModelLength::inches(0.5));
    let mut piece = Piece::sheet(Kind::Doubler, length, width).of("core").note(note);
    piece.form = Form::SheetAnyWay;
    piece
}

/// Walls longer than this on the model are braced inside, at these centres
/// (trade: wider than 4 in, at 2 in centres).
const BRACED_INCHES: (f64, f64) = (4.0, 2.0);

/// Strips inside a long wall, across its grain.
fn bracing(shop: &Shop<'_>, wall: &Wall) -> Option<Piece> {
    let on_model: ModelLength = shop.scale.reduce(wall.width);
    if on_model <= ModelLength::inches(BRACED_INCHES.0) {
        return None;
    }
    let count = super::courses::at_centres(on_model, ModelLength::inches(BRACED_INCHES.1));
    let high = wall.top_at(Full::ZERO).min(wall.top_at(wall.width));
    let width: Full = shop.scale.enlarge(ModelLength::inches(0.25));
    let mut piece = Piece::sheet(Kind::Bracing, high, width)
        .of("core")
        .from(vec![Origin::Rule("a wall over 4 in gets strips inside at 2 in centres".into())])
        .times(count)
        .note("inside, upright, clear of openings");
    piece.form = Form::SheetAnyWay;
    piece.covers = super::part::no_area();
    Some(piece)
}

/// Floor and castings.
pub(super) fn body_pieces(shop: &mut Shop<'_>, mass: &Mass) -> Vec<Piece> {
    let mut pieces: Vec<Piece> = floor(shop, mass).into_iter().collect();
    let holes = || mass.walls.iter().flat_map(|wall| &wall.holes);
    let job = shop.job;
    for opening in &job.openings {
        let count = holes().filter(|hole| hole.kind == opening.name).count();
        let count = u32::try_from(count).unwrap_or(u32::MAX);
        if count == 0 {
            continue;
        }
        match (&opening.casting, casting(opening, shop.catalog)) {
            (_, Some(bought)) => pieces.push(casting_piece(shop, opening, &bought, count)),
            (Some(Casting::Named(name)), None) => shop.findings.push(Finding::look(
                Subject::Element(opening.name.clone()),
                format!("no casting called \"{name}\" is on your rack"),
                "enter it there with the width and length of its frame, or measure it here",
            )),
            _ => {}
        }
    }
    pieces
}

fn casting_piece(shop: &Shop<'_>, opening: &Opening, casting: &Bought, count: u32) -> Piece {
    let (wide, high) = casting_opening(casting.frame, fit(shop, "casting", 5.0));
    let (width, height) =
        (shop.scale.enlarge(casting.frame.0), shop.scale.enlarge(casting.frame.1));
    let mut piece = Piece::stick(Kind::Casting, height, width)
        .of(casting.name.clone())
        .from(vec![Origin::Opening(opening.name.clone())])
        .times(count)
        .note(format!("cut the opening {:.3} x {:.3} in", wide.in_inches(), high.in_inches()));
    piece.form = Form::Bought;
    piece
}

/// A fit of the catalogue, or its usual figure in thou.
fn fit(shop: &Shop<'_>, key: &str, otherwise: f64) -> ModelLength {
    let row = shop.catalog.fits.get(key);
    row.map_or(ModelLength::thou(otherwise), |row| row.take.length())
}

/// The floor: inside size less the fit all round. A box on a roof has none.
fn floor(shop: &Shop<'_>, mass: &Mass) -> Option<Piece> {
    let thickness = shop.job.core.thickness.as_ref()?;
    let front = mass.walls.first().filter(|_| mass.walls.len() > 1)?;
    let stands = front.foot.iter().all(|(_, y)| *y <= Full::ZERO);
    let on_roof = mass.walls.iter().any(|wall| wall.foot.iter().any(|(_, y)| *y > Full::ZERO));
    if !stands || on_roof {
        return None;
    }
    let t: Full = shop.scale.enlarge(thickness.length());
    let fit: Full = shop.scale.enlarge(fit(shop, "floor", 12.0));
    let inside = (cladding_thickness(shop, front) + t + fit) * 2.0;
    let origins = match &mass.name {
        Some(name) => vec![Origin::Attached(name.clone())],
        None => vec![Origin::Body("length"), Origin::Body("depth")],
    };
    let rule = Origin::Rule("inside size less the floor's fit all round".into());
    let floor = Piece::sheet(Kind::Floor, mass.body.length - inside, mass.body.depth - inside);
    Some(floor.of("core").from([origins, vec![rule]].concat()))
}
