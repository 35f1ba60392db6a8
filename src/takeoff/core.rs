//! Core walls by their corner joint, splices, floor, openings for castings.

use super::Shop;
use super::part::{Form, Kind, Origin, Piece};
use super::wall::{Stand, Wall};
use crate::finding::{Finding, Subject};
use crate::job::building::Corners;
use crate::quantity::{CompressedLength, Length, ModelLength, Space};

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

/// The opening cut for a casting: its frame and the fit on each side.
#[must_use]
pub fn casting_opening(
    (width, height): (ModelLength, ModelLength),
    fit: ModelLength,
) -> (ModelLength, ModelLength) {
    (width + fit * 2.0, height + fit * 2.0)
}

/// An outside shape as drawn for a beam of kerf `k` that runs on the line.
#[must_use]
pub fn drawn_outside<S: Space>(size: Length<S>, kerf: Length<S>) -> Length<S> {
    size + kerf
}

/// A hole as drawn for a beam of kerf `k` that runs on the line.
#[must_use]
pub fn drawn_hole<S: Space>(size: Length<S>, kerf: Length<S>) -> Length<S> {
    size - kerf
}

/// Castings to order: one spare up to ten, then 5 percent.
#[must_use]
pub fn spares(count: u32) -> u32 {
    if count <= 10 { u32::from(count > 0) } else { count.div_ceil(20) }
}

/// Sheets for the core: width across the grain and length along it. 4 in by
/// 24 in where the job names none.
pub(super) fn sheets(shop: &Shop<'_>) -> (ModelLength, ModelLength) {
    let said = &shop.job.cutting.sheets;
    let zero = (ModelLength::ZERO, ModelLength::ZERO);
    let largest = said.iter().fold(zero, |best, [width, length]| {
        (best.0.max(width.length()), best.1.max(length.length()))
    });
    if said.is_empty() { (ModelLength::inches(4.0), ModelLength::inches(24.0)) } else { largest }
}

/// Thickness of the cladding on a wall: that of its lowest cladding.
fn cladding_thickness(shop: &Shop<'_>, wall: &Wall) -> Full {
    let first = wall.claddings.first();
    let cladding =
        first.and_then(|name| shop.job.claddings.iter().find(|cladding| &cladding.name == name));
    cladding
        .map_or(Full::ZERO, |cladding| shop.size(cladding.thickness.as_ref(), Full::inches(1.0)))
}

/// The core of a wall, spliced where it is longer than the sheet or higher
/// than the sheet is wide. The grain runs along the wall.
pub(super) fn wall_pieces(shop: &mut Shop<'_>, wall: &Wall, battens: &[Full]) -> Vec<Piece> {
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
        pieces.extend(strips(shop, wall, (pair[0], pair[1])));
    }
    for line in lines.get(1..lines.len().saturating_sub(1)).unwrap_or_default() {
        pieces.push(
            doubler(shop, wall.top_at(*line), "upright, behind the splice").at(*line, Full::ZERO),
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

/// One length of a wall as strips along the grain, none wider than the sheet.
fn strips(shop: &Shop<'_>, wall: &Wall, (left, right): (Full, Full)) -> Vec<Piece> {
    let high = wall.highest(left, right);
    let (count, each) = super::courses::spaced(
        high,
        shop.scale.enlarge::<crate::quantity::Compressed>(sheets(shop).0),
    );
    let mut pieces = Vec::new();
    for strip in 0..count {
        let low = each * f64::from(strip);
        let Some((from, to)) = wall.width_at(low + Full::inches(1e-6)) else { continue };
        let (from, to) = (from.max(left), to.min(right));
        if to <= from {
            continue;
        }
        let mut piece = Piece::sheet(Kind::Core, to - from, each)
            .of("core")
            .from(vec![
                Origin::Body(if wall.width.agrees(shop.built.body.length, Full::inches(0.1)) {
                    "length"
                } else {
                    "depth"
                }),
                Origin::Body("eave"),
                Origin::Rule(corner_rule(shop.job.core.corners).to_owned()),
            ])
            .level_at(from, low);
        if count > 1 {
            piece = piece.note(format!("strip {} of {count} from the foot", strip + 1));
            if strip > 0 {
                pieces
                    .push(doubler(shop, to - from, "level, behind the joint").level_at(from, low));
            }
        }
        pieces.push(piece);
    }
    pieces
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

/// Floor and castings.
pub(super) fn body_pieces(shop: &mut Shop<'_>, walls: &[Wall]) -> Vec<Piece> {
    let mut pieces: Vec<Piece> = floor(shop, walls).into_iter().collect();
    for opening in &shop.job.openings {
        let count =
            walls.iter().flat_map(|wall| &wall.holes).filter(|hole| hole.kind == opening.name);
        let count = u32::try_from(count.count()).unwrap_or(u32::MAX);
        let Some(casting) = opening.casting.as_ref().filter(|_| count > 0) else { continue };
        let (width, height) = (
            shop.scale.enlarge(casting.width.length()),
            shop.scale.enlarge(casting.height.length()),
        );
        let mut piece = Piece::stick(Kind::Casting, height, width)
            .of(format!("{} casting", opening.name))
            .from(vec![Origin::Opening(opening.name.clone())])
            .times(count)
            .note(casting_note(shop, casting, count));
        piece.form = Form::Bought;
        pieces.push(piece);
    }
    pieces
}

fn casting_note(shop: &Shop<'_>, casting: &crate::job::building::Casting, count: u32) -> String {
    let fit = fit(shop, "casting", 5.0);
    let (wide, high) = casting_opening((casting.width.length(), casting.height.length()), fit);
    format!(
        "cut the opening {:.3} x {:.3} in; order {} with spares",
        wide.in_inches(),
        high.in_inches(),
        count + spares(count)
    )
}

/// A fit of the catalogue, or its usual figure in thou.
fn fit(shop: &Shop<'_>, key: &str, otherwise: f64) -> ModelLength {
    let row = shop.catalog.fits.get(key);
    row.map_or(ModelLength::thou(otherwise), |row| row.take.length())
}

/// The floor: inside size less the fit all round.
fn floor(shop: &Shop<'_>, walls: &[Wall]) -> Option<Piece> {
    let thickness = shop.job.core.thickness.as_ref()?;
    let front = walls.first().filter(|_| walls.len() > 1)?;
    let t: Full = shop.scale.enlarge(thickness.length());
    let fit: Full = shop.scale.enlarge(fit(shop, "floor", 12.0));
    let inside = (cladding_thickness(shop, front) + t + fit) * 2.0;
    let body = &shop.built.body;
    Some(Piece::sheet(Kind::Floor, body.length - inside, body.depth - inside).of("core").from(
        vec![
            Origin::Body("length"),
            Origin::Body("depth"),
            Origin::Rule("inside size less the floor's fit all round".into()),
        ],
    ))
}
