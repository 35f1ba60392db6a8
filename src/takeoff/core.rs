//! Core walls: level joints, splices and what stands behind them; uprights and
//! blocks inside; floors.

use std::sync::Arc;

use super::part::{Form, Kind, Piece};
use super::skin::{Skin, across, as_built, between, foot};
use super::stiff;
use super::{Bought, Shop, casting};
use crate::building::{Body, Inside, Layer, Origin, Role, Sized, Wall, Why};
use crate::elevation::Hole;
use crate::finding::{Finding, Subject};
use crate::job::body::Side;
use crate::job::building::Casting;
use crate::job::wall::Grain;
use crate::quantity::slack::{TOUCH, WHOLE};
use crate::quantity::{Compressed, CompressedLength, ModelLength};

pub use crate::sums::fit::{casting_opening, drawn_hole, drawn_outside};

type Full = CompressedLength;

/// Castings to order: one spare up to ten, then 5 percent.
#[must_use]
pub fn spares(count: u32) -> u32 {
    if count <= 10 { u32::from(count > 0) } else { count.div_ceil(20) }
}

/// Sheets for a section: width across the grain and length along it. Those of
/// the job, else of the stock taken, else 4 in by 24 in.
pub(super) fn sheets(shop: &Shop<'_>, section: &str) -> (ModelLength, ModelLength) {
    let said = &shop.job.cutting.sheets;
    let zero = (ModelLength::ZERO, ModelLength::ZERO);
    if !said.is_empty() {
        return said.iter().fold(zero, |best, [width, length]| {
            (best.0.max(width.length()), best.1.max(length.length()))
        });
    }
    let taken = shop.stock.of(section).and_then(|choice| choice.taken());
    taken
        .and_then(|made| Some((made.sheet?, made.length)))
        .unwrap_or((ModelLength::inches(4.0), ModelLength::inches(24.0)))
}

/// A level joint of a sheet, and the strip behind it.
#[derive(Clone, Debug)]
pub struct Joint {
    /// The wall.
    pub wall: String,
    /// The layer.
    pub layer: String,
    /// Its height above the foot of the wall.
    pub at: CompressedLength,
    /// How many strips the sheet is made of.
    pub strips: u32,
}

/// The sheets of a layer without boards: its strips, joints and splices, and
/// what stiffens them inside.
pub(super) fn sheet_pieces(
    shop: &mut Shop<'_>,
    body: &Body,
    inside: Option<&Inside>,
    wall: &Wall,
    layer: &Layer,
    battens: &[Full],
) -> Vec<Piece> {
    let skin = Skin::of(wall, layer, shop.scale);
    let joints = joints(shop, body, inside, &skin);
    for at in &joints {
        shop.joints.push(Joint {
            wall: wall.name.clone(),
            layer: layer.id.layer.clone(),
            at: Full::inches(at.value),
            strips: joints.len() as u32 + 1,
        });
    }
    let lines = splice_lines(shop, &skin, battens);
    let mut pieces = Vec::new();
    for pair in lines.windows(2) {
        pieces.extend(strips(&skin, (&pair[0], &pair[1]), &joints));
    }
    for line in lines.get(1..lines.len().saturating_sub(1)).unwrap_or_default() {
        pieces.push(behind_splice(shop, inside, &skin, line));
    }
    if layer.role == Role::Core && inside.is_some_and(|_| is_innermost(wall, layer)) {
        let splices = lines.get(1..lines.len().saturating_sub(1)).unwrap_or_default();
        pieces.extend(stiff::pieces(shop, body, inside, &skin, &joints, splices));
    }
    pieces
}

/// Whether no layer lies inside it.
fn is_innermost(wall: &Wall, layer: &Layer) -> bool {
    wall.layers.last().is_some_and(|last| last.id == layer.id)
}

/// An upright strip behind a splice: on the floor's top, to the eave.
fn behind_splice(
    shop: &Shop<'_>,
    inside: Option<&Inside>,
    skin: &Skin<'_>,
    x: &Arc<Origin>,
) -> Piece {
    let wall = &skin.wall;
    let line = Full::inches(x.value);
    let low = inside
        .and_then(|it| it.floor.as_ref())
        .map(|floor| floor.thick.enlarged(shop.scale).origin);
    let low = low.unwrap_or_else(|| wall.foot_why(x));
    let high =
        if wall.top_at(line) > wall.eave() { Arc::clone(&wall.why.eave) } else { wall.top_why(x) };
    let length = between("doubler", &low, &high);
    doubler(shop, length, "upright, behind the splice").at(line, Full::inches(low.value))
}

/// What stiffens an engraved sheet that is the wall alone: uprights behind its
/// splices, and strips across its grain.
pub(super) fn behind_engraved(
    shop: &Shop<'_>,
    (body, inside): (&Body, Option<&Inside>),
    skin: &Skin<'_>,
    engraved: &super::Engraved,
) -> Vec<Piece> {
    let splices = &engraved.edges;
    let mut pieces: Vec<Piece> =
        splices.iter().map(|line| behind_splice(shop, inside, skin, line)).collect();
    pieces.extend(stiff::pieces(shop, body, inside, skin, &[], splices));
    pieces
}

/// Where a wall is joined along its length: ends, and splices under full
/// battens so that no piece is longer than the sheet.
fn splice_lines(shop: &mut Shop<'_>, skin: &Skin<'_>, battens: &[Full]) -> Vec<Arc<Origin>> {
    let wall = &skin.wall;
    let most: Full = shop.scale.enlarge(sheets(shop, &skin.layer.id.layer).1);
    let (left, right) = (skin.left, skin.right);
    let mut lines = vec![Arc::clone(&skin.layer.left.origin)];
    let mut at = left;
    // Fewest pieces: the farthest full batten each time. The back starts from
    // the other half, so that splices do not stand opposite each other.
    let stagger = if wall.id.side == Side::Back { 0.8 } else { 1.0 };
    while right - at > most + Full::inches(TOUCH) {
        let reach = at + most * if lines.len() == 1 { stagger } else { 1.0 };
        let next = battens.iter().copied().filter(|x| *x > at + most * 0.1 && *x <= reach);
        match next.max_by(Full::total_cmp) {
            Some(next) => {
                let near = |it: &&(Full, Arc<Origin>)| it.0.agrees(next, Full::inches(TOUCH));
                let why = shop.splices.iter().find(near).map(|it| Arc::clone(&it.1));
                lines.push(why.unwrap_or_else(|| as_built("splice", next)));
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
                let sheet = Why::Row(format!("the sheet for {}", skin.layer.id.layer));
                let sheet =
                    Origin::plain("as far as the sheet reaches", (reach - at).in_inches(), sheet);
                let from = lines.last().unwrap_or(&skin.layer.left.origin);
                let rule = "from the last joint as far as the sheet reaches";
                lines.push(Origin::rule("splice", rule, &[from, &sheet], |of| of[0] + of[1]));
                at = reach;
            }
        }
    }
    lines.push(Arc::clone(&skin.layer.right.origin));
    lines
}

/// One length of a wall as strips between its joints, with the openings cut out
/// of them.
fn strips(
    skin: &Skin<'_>,
    (from_why, to_why): (&Arc<Origin>, &Arc<Origin>),
    joints: &[Arc<Origin>],
) -> Vec<Piece> {
    let wall = &skin.wall;
    let (left, right) = (Full::inches(from_why.value), Full::inches(to_why.value));
    let layer = skin.layer;
    let holes: Vec<Hole<Compressed>> = layer.holes.iter().map(|hole| hole.hole.clone()).collect();
    let low = wall.lowest(left, right);
    let high = wall.highest(left, right);
    let mut levels: Vec<Full> = vec![low];
    levels.extend(joints.iter().map(|at| Full::inches(at.value)));
    levels.push(high);
    let count = levels.len() - 1;
    let mut pieces = Vec::new();
    for (strip, pair) in levels.windows(2).enumerate() {
        for shape in wall.shapes((left, right), (pair[0], pair[1]), &holes) {
            let (from, to) = shape.bounds();
            let near = |a: Full, b: Full| a.agrees(b, Full::inches(TOUCH));
            let at = |x| match x {
                x if near(x, left) => Arc::clone(from_why),
                x if near(x, right) => Arc::clone(to_why),
                x => skin.at_why(x, || {
                    let on_slope = joints.iter().find_map(|joint| skin.on_slope(x, joint));
                    on_slope.unwrap_or_else(|| skin.corner_why(x))
                }),
            };
            let (left_why, right_why) = (at(from.x), at(to.x));
            let up = |y: Full| level_why(skin, y, [&left_why, &right_why], joints);
            let along = across("length of the core", &left_why, &right_why);
            let tall = between("height of the core", &up(from.y), &up(to.y));
            let mut piece = match layer.grain {
                Grain::Up => Piece::sheet(Kind::Core, tall, along).at(from.x, from.y),
                Grain::Along | Grain::None => {
                    Piece::sheet(Kind::Core, along, tall).level_at(from.x, from.y)
                }
            };
            if layer.grain == Grain::None {
                piece.form = Form::SheetAnyWay;
            }
            piece = piece.of(layer.id.layer.clone()).shaped(&shape);
            piece.covers = Full::inches(shape.square_inches()) * Full::inches(1.0);
            if count > 1 {
                piece = piece.note(format!("strip {} of {count} from the foot", strip + 1));
            }
            pieces.push(piece);
        }
    }
    pieces
}

/// Why an edge of a strip is at a height: a joint, or what the wall has there.
fn level_why(
    skin: &Skin<'_>,
    y: Full,
    [x, right]: [&Arc<Origin>; 2],
    joints: &[Arc<Origin>],
) -> Arc<Origin> {
    let near = |it: &&Arc<Origin>| (it.value - y.in_inches()).abs() < TOUCH;
    if let Some(joint) = joints.iter().find(near) {
        return Arc::clone(joint);
    }
    skin.height_why(y, x, || {
        let ends = [x, right].map(|x| [skin.wall.top_why(x), skin.wall.foot_why(x)]);
        let found = ends.iter().flatten().find(near).cloned();
        found.unwrap_or_else(|| as_built("edge of the strip", y))
    })
}

/// Heights of the level joints of a sheet that is wider across its grain than
/// the stock.
///
/// A gable end is joined at its eave where both pieces fit and nothing is cut:
/// no opening, ledger or roof box nearer than half a doubler; else at the
/// nearest clear level where both fit. All else in equal strips.
fn joints(
    shop: &Shop<'_>,
    body: &Body,
    inside: Option<&Inside>,
    skin: &Skin<'_>,
) -> Vec<Arc<Origin>> {
    let wall = &skin.wall;
    if skin.layer.grain == Grain::Up {
        return Vec::new();
    }
    let most: Full = shop.scale.enlarge(sheets(shop, &skin.layer.id.layer).0);
    let high = wall.highest(skin.left, skin.right);
    let low = wall.lowest(skin.left, skin.right);
    let slack = Full::inches(TOUCH);
    if high - low <= most + slack {
        return Vec::new();
    }
    let gable =
        body.profile.is_some_and(|it| it.is_gable(wall.id.side)) && high > wall.eave() + slack;
    let peak = wall.peak_why();
    if gable && let Some(joint) = gable_joint(shop, inside, skin, (low, high, most)) {
        return vec![joint];
    }
    let count = ((high - low) / most - WHOLE).ceil();
    let count = Origin::plain("strips", count, Why::Default("as few as the sheet allows"));
    (1..count.value as u32)
        .map(|strip| {
            let number =
                Origin::plain("strip", f64::from(strip), Why::Default("counted from the foot"));
            let low = lowest_why(wall, low);
            let of = [&low, &peak, &number, &count];
            Origin::rule("level joint", "equal strips, as few as fit", &of, |of| {
                of[0] + (of[1] - of[0]) * of[2] / of[3]
            })
        })
        .collect()
}

/// Why the lowest place of a wall's foot is as low as it is.
fn lowest_why(wall: &Wall, low: Full) -> Arc<Origin> {
    let ends = [&wall.why.left, &wall.why.width].map(|x| wall.foot_why(x));
    let near = |it: &&Arc<Origin>| (it.value - low.in_inches()).abs() < TOUCH;
    let found = ends.iter().find(near).cloned();
    found.unwrap_or_else(|| as_built("foot of the wall", low))
}

fn gable_joint(
    shop: &Shop<'_>,
    inside: Option<&Inside>,
    skin: &Skin<'_>,
    (low, high, most): (Full, Full, Full),
) -> Option<Arc<Origin>> {
    let wall = &skin.wall;
    let half = stiff::doubler_width(shop).length / 2.0;
    let slack = Full::inches(TOUCH);
    // What must stay clear of a joint: foot and head, with why at each.
    let mut held: Vec<[Arc<Origin>; 2]> = Vec::new();
    for cut in &skin.layer.holes {
        let hole = &cut.hole;
        let described = wall.hole_why(&hole.label)?;
        let head =
            Origin::rule("head", "sill and height", &[&described.foot, &described.height], |of| {
                of[0] + of[1]
            });
        held.push([Arc::clone(&described.foot), head]);
    }
    if let Some(inside) = inside {
        if let Some([foot, top]) = &inside.ledger {
            held.push([Arc::clone(&foot.origin), Arc::clone(&top.origin)]);
        }
        if let Some(lid) = &inside.lid {
            held.push([Arc::clone(&lid.foot.origin), wall.peak_why()]);
        }
    }
    let clear = |at: f64| {
        let (low_ok, high_ok) = (
            at - low.in_inches() <= (most + slack).in_inches(),
            high.in_inches() - at <= (most + slack).in_inches(),
        );
        let free = held.iter().all(|[foot, head]| {
            at >= head.value + half.in_inches() - TOUCH
                || at <= foot.value - half.in_inches() + TOUCH
        });
        at > low.in_inches() && at < high.in_inches() && low_ok && high_ok && free
    };
    let eave = &wall.why.eave;
    let half_why = Origin::rule(
        "half a doubler",
        "half its width",
        &[&stiff::doubler_width(shop).origin],
        |of| of[0] / 2.0,
    );
    let mut levels = vec![Arc::clone(eave)];
    for [foot, head] in &held {
        levels.push(Origin::rule(
            "level joint",
            "half a doubler under what must stay clear",
            &[foot, &half_why],
            |of| of[0] - of[1],
        ));
        levels.push(Origin::rule(
            "level joint",
            "half a doubler over what must stay clear",
            &[head, &half_why],
            |of| of[0] + of[1],
        ));
    }
    // A joint must lie within a sheet of the foot and of the top.
    let sheet =
        Origin::plain("width of the sheet", most.in_inches(), Why::Row("as bought".to_owned()));
    levels.push(Origin::rule(
        "level joint",
        "as high as the sheet is wide",
        &[&foot(), &sheet],
        |of| of[0] + of[1],
    ));
    levels.push(Origin::rule(
        "level joint",
        "the top less a sheet",
        &[&wall.peak_why(), &sheet],
        |of| of[0] - of[1],
    ));
    levels.into_iter().filter(|at| clear(at.value)).min_by(|a, b| {
        let off = |it: &Arc<Origin>| (it.value - eave.value).abs();
        off(a).total_cmp(&off(b))
    })
}

/// A strip behind a joint, flat, of core stock.
pub(super) fn doubler(shop: &Shop<'_>, length: Sized<Compressed>, note: &str) -> Piece {
    let mut piece = Piece::sheet(Kind::Doubler, length, stiff::doubler_width(shop))
        .of(shop.core_section())
        .note(note);
    piece.covers = crate::building::no_area();
    piece.form = Form::SheetAnyWay;
    piece
}

/// Floor, blocks, ledger and box of a body, and the castings in its walls.
pub(super) fn body_pieces(
    shop: &mut Shop<'_>,
    body: &Body,
    inside: Option<&Inside>,
    walls: &[&Wall],
) -> Vec<Piece> {
    let mut pieces = Vec::new();
    if let Some(inside) = inside {
        pieces.extend(floor(shop, inside));
        pieces.extend(stiff::blocks(shop, body, inside, walls));
        pieces.extend(stiff::lid(shop, inside));
    }
    pieces.extend(stiff::corner_posts(shop, body));
    let holes = || walls.iter().flat_map(|wall| &wall.holes);
    let job = shop.job;
    for opening in &job.openings {
        let count = holes().filter(|hole| hole.kind == opening.name).count();
        let count = u32::try_from(count).unwrap_or(u32::MAX);
        if count == 0 {
            continue;
        }
        match (&opening.casting, casting(opening, shop.catalog)) {
            (_, Some(bought)) => pieces.push(casting_piece(shop, &bought, count)),
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

fn casting_piece(shop: &Shop<'_>, casting: &Bought, count: u32) -> Piece {
    let fit = shop.fit("casting", 5.0);
    let (wide, high) = casting_opening(casting.frame, fit);
    let full = |what: &str, model: ModelLength| {
        let full: Full = shop.scale.enlarge(model);
        super::part::stated(what, full, Why::Row(casting.name.clone()))
    };
    let mut piece = Piece::stick(
        Kind::Casting,
        full("height of the frame", casting.frame.1),
        full("width of the frame", casting.frame.0),
    )
    .of(casting.name.clone())
    .times(count)
    .note(format!("cut the opening {:.3} x {:.3} in", wide.in_inches(), high.in_inches()));
    piece.form = Form::Bought;
    piece
}

/// The floor, in equal strips where it is wider than its sheet.
fn floor(shop: &Shop<'_>, inside: &Inside) -> Vec<Piece> {
    let Some(floor) = &inside.floor else { return Vec::new() };
    let section = shop.core_section();
    let most: Full = shop.scale.enlarge(sheets(shop, &section).0);
    strips_of(Kind::Floor, &floor.length, &floor.width, most).of_section(&section)
}

/// A plate in equal strips along its grain.
pub(super) struct Strips {
    piece: Piece,
    count: u32,
}

impl Strips {
    pub(super) fn of_section(self, section: &str) -> Vec<Piece> {
        let named = self.count > 1;
        let mut piece = self.piece.of(section).times(self.count).lying();
        if named {
            piece = piece
                .note(format!("{} strips side by side, glued on what carries them", self.count));
        }
        vec![piece]
    }
}

/// A plate in as few equal strips as fit a sheet.
pub(super) fn strips_of(
    kind: Kind,
    length: &Sized<Compressed>,
    width: &Sized<Compressed>,
    most: Full,
) -> Strips {
    let count = (width.length / most - WHOLE).ceil().max(1.0);
    let strips = Origin::plain("strips", count, Why::Default("as few as the sheet allows"));
    let each = if count > 1.0 {
        Sized::rule("width of a strip", "equal strips", &[&width.origin, &strips], |of| {
            of[0] / of[1]
        })
    } else {
        width.clone()
    };
    Strips { piece: Piece::sheet(kind, length.clone(), each), count: count as u32 }
}
