//! Trim: casings, sills, corner boards, frieze, water table; and what battens
//! stop at.

use std::sync::Arc;

use super::Shop;
use super::boards::{casing, sill_trim};
use super::part::{Kind, Piece};
use super::skin::{Skin, across, as_built, between, foot, said};
use super::zone::Zone;
use crate::building::{Building, MemberKind, Origin, Sized, Wall, Why, line_at};
use crate::elevation::Hole;
use crate::job::body::Side;
use crate::job::wall::TrimBoard;
use crate::quantity::slack::{NOTHING, TOUCH};
use crate::quantity::{Angle, Compressed, CompressedLength};

type Full = CompressedLength;

/// What lies over the cladding of a wall.
pub(super) struct Bands {
    /// What corner boards cover at the left and the right corner, and why.
    covers: [Arc<Origin>; 2],
    width: Full,
    frieze: Option<Sized<Compressed>>,
    water: Option<Sized<Compressed>>,
    /// Battens stop at this height.
    to: Option<Sized<Compressed>>,
    /// Bands that stop battens: edges, foot and head, and why.
    stops: Vec<Stop>,
}

struct Stop {
    across: (Full, Full),
    low: Full,
    low_why: Arc<Origin>,
    over: crate::building::Line,
    over_why: Arc<Origin>,
}

impl Bands {
    pub(super) fn of(shop: &Shop<'_>, wall: &Wall) -> Self {
        let job = shop.job;
        let trim = crate::building::trim_of(job, &wall.id);
        let sizes = shop.trim_of(&wall.id.body);
        let has = |board| trim.contains(&board);
        let sized = |what: &str, size: Option<&crate::job::said::Size>, wanted: bool| {
            let size = size.filter(|_| wanted)?;
            let value = shop.size(Some(size), Full::ZERO);
            (value > Full::ZERO).then(|| said(what, value, Some(size), ""))
        };
        let said_wall = job.wall(&wall.id);
        let to = said_wall.and_then(|it| it.battens_to.as_ref());
        Self {
            covers: corner_cover(shop, wall),
            width: wall.width,
            frieze: sized("frieze", sizes.frieze.as_ref(), has(TrimBoard::Frieze)),
            water: sized("water table", sizes.water_table.as_ref(), has(TrimBoard::WaterTable)),
            to: sized("top of the battens", to, true),
            stops: stops(shop.building, wall),
        }
    }

    /// Whether a corner board lies over a batten.
    pub(super) fn covers(&self, joint: Full, batten: Full) -> bool {
        let [left, right] = self.covers.each_ref().map(|it| Full::inches(it.value));
        let (half, slack) = (batten / 2.0, Full::inches(TOUCH));
        (left > slack && joint - half < left - slack)
            || (right > slack && joint + half > self.width - right + slack)
    }

    /// From where to where a batten may run at a joint, but for what stops it
    /// between.
    pub(super) fn clear_at(&self, wall: &Wall, x: Full, (from, to): (Full, Full)) -> (Full, Full) {
        let low = from.max(self.water.as_ref().map_or(Full::ZERO, |it| it.length));
        let mut high = wall.top_at(x).min(to);
        if let Some(frieze) = &self.frieze {
            high = high.min(wall.top_at(x) - frieze.length * slope_at(wall, x).hypot(1.0));
        }
        if let Some(to) = &self.to {
            high = high.min(to.length);
        }
        (low, high)
    }

    /// What stops a batten between its ends.
    pub(super) fn stops_at(&self, x: Full) -> Vec<(Full, Full)> {
        let hit = self.stops.iter().filter(|stop| x > stop.across.0 && x < stop.across.1);
        hit.map(|stop| (stop.low, line_at(&stop.over, x))).collect()
    }

    /// The cut of a batten's head under a rake, from square.
    pub(super) fn rake(&self, wall: &Wall, x: Full, high: Full) -> Option<Angle> {
        let slope = slope_at(wall, x).abs();
        let drop = self.frieze.as_ref().map_or(Full::ZERO, |it| it.length * slope.hypot(1.0));
        let under = high.agrees(wall.top_at(x) - drop, Full::inches(TOUCH));
        (under && slope > NOTHING).then(|| Angle::radians(slope.atan()))
    }

    /// Why a batten ends at a height.
    pub(super) fn why(
        &self,
        shop: &Shop<'_>,
        skin: &Skin<'_>,
        x: &Arc<Origin>,
        y: Full,
        is_head: bool,
        zone: &Zone<'_>,
    ) -> Arc<Origin> {
        let near = |value: f64| (value - y.in_inches()).abs() < TOUCH;
        for sized in self.to.iter().chain(&self.water) {
            if near(sized.length.in_inches()) {
                return Arc::clone(&sized.origin);
            }
        }
        if is_head && let Some(frieze) = &self.frieze {
            let top = skin.wall.top_why(x);
            let under = Origin::rule(
                "under the frieze",
                "top of the wall less the frieze, measured upright",
                &[&top, &frieze.origin, &slope_why(&skin.wall, x)],
                |of| of[0] - of[1] * of[2].hypot(1.0),
            );
            if near(under.value) {
                return under;
            }
        }
        for stop in &self.stops {
            for why in [&stop.low_why, &stop.over_why] {
                if near(why.value) {
                    return Arc::clone(why);
                }
            }
        }
        if let Some(met) = skin.wall.behind.iter().find_map(|it| it.met_at(y.in_inches(), x)) {
            return met;
        }
        for hole in &skin.wall.holes {
            let Some(of) = skin.wall.hole_why(&hole.label) else { continue };
            let trim = casing_why(shop, hole, &of.trim);
            let sill = Origin::rule(
                "under the sill's trim",
                "sill less its trim",
                &[&of.foot, &trim],
                |of| of[0] - of[1],
            );
            let head = Origin::rule(
                "over the casing",
                "sill, height and casing",
                &[&of.foot, &of.height, &trim],
                |of| of[0] + of[1] + of[2],
            );
            if near(head.value) {
                return head;
            }
            if near(sill.value) {
                return sill;
            }
        }
        skin.height_why(y, x, || {
            if near(zone.from.in_inches()) {
                return Arc::clone(&zone.why.0);
            }
            zone.why.1.clone().unwrap_or_else(|| as_built("end of the batten", y))
        })
    }
}

/// Why trim round an opening is as wide as it is.
fn casing_why(shop: &Shop<'_>, hole: &Hole<Compressed>, trim: &Arc<Origin>) -> Arc<Origin> {
    let wide = casing(shop, hole);
    if (trim.value - wide.in_inches()).abs() < NOTHING {
        return Arc::clone(trim);
    }
    Origin::plain("flange", wide.in_inches(), Why::Row(format!("the casting of {}", hole.kind)))
}

/// Rise over run of a wall's top at a distance.
fn slope_at(wall: &Wall, x: Full) -> f64 {
    let under = wall.top.windows(2).find(|pair| x <= pair[1].0);
    under.map_or(0.0, |pair| {
        let run = pair[1].0 - pair[0].0;
        if run > Full::ZERO { (pair[1].1 - pair[0].1) / run } else { 0.0 }
    })
}

fn slope_why(wall: &Wall, x: &Arc<Origin>) -> Arc<Origin> {
    let slope = slope_at(wall, Full::inches(x.value)).abs();
    if (slope - wall.why.pitch.value).abs() < NOTHING {
        return Arc::clone(&wall.why.pitch);
    }
    Origin::plain("slope of the top", slope, Why::Default("level"))
}

/// What stands against a wall and stops its battens: a roof with its ledger.
fn stops(building: &Building, wall: &Wall) -> Vec<Stop> {
    let stop = |it: &crate::building::Behind| {
        let ledger = building
            .members
            .iter()
            .find(|member| member.kind == MemberKind::Ledger && member.body == it.body);
        let (low, low_why) = if it.bare {
            (Full::ZERO, foot())
        } else {
            let why =
                ledger.map_or_else(|| Arc::clone(&it.why[0]), crate::building::Member::foot_why);
            (Full::inches(why.value), why)
        };
        Stop {
            across: it.across,
            low,
            low_why,
            over: it.over.clone(),
            over_why: Arc::clone(&it.why[1]),
        }
    };
    wall.behind.iter().map(stop).collect()
}

/// What corner boards cover of a wall at its corners.
fn corner_cover(shop: &Shop<'_>, wall: &Wall) -> [Arc<Origin>; 2] {
    let trim = crate::building::trim_of(shop.job, &wall.id);
    let sizes = shop.trim_of(&wall.id.body);
    let size = sizes.corner.as_ref();
    [TrimBoard::CornerLeft, TrimBoard::CornerRight].map(|board| match size {
        Some(size) if trim.contains(&board) => {
            let value = shop.size(Some(size), Full::ZERO);
            let board = said("corner board", value, Some(size), "");
            let thick = shop.trim_thickness(&wall.id.body);
            // The wider one lies on the edge of the other, so both look alike.
            Origin::rule(
                "corner board on its wall",
                "its width less the other's thickness",
                &[&board.origin, &thick.origin],
                |of| of[0] - of[1],
            )
        }
        _ => Origin::plain("corner board", 0.0, Why::Default("no corner board there")),
    })
}

/// The trim of a wall.
pub(super) fn pieces(shop: &Shop<'_>, wall: &Wall, bands: &Bands) -> Vec<Piece> {
    let mut pieces: Vec<Piece> =
        wall.holes.iter().flat_map(|hole| casing_pieces(shop, wall, hole)).collect();
    pieces.extend(corners(shop, wall));
    pieces.extend(frieze(shop, wall, bands));
    pieces.extend(water_table(shop, wall, bands));
    pieces
}

/// Casing of one opening: legs of height and head width, a head of width and
/// two casings, both mitred; a sill with its horns where the opening does not
/// stand on the foot. The flange of a casting is its own casing.
fn casing_pieces(shop: &Shop<'_>, wall: &Wall, hole: &Hole<Compressed>) -> Vec<Piece> {
    let Some(of) = wall.hole_why(&hole.label).filter(|_| hole.trim > Full::ZERO) else {
        return Vec::new();
    };
    if wall.is_bare_at(hole.left + hole.width / 2.0, hole.foot + hole.height / 2.0) {
        return Vec::new();
    }
    let key = format!("{} casing", hole.kind);
    let mitre = Angle::degrees(45.0);
    let wide = Sized::of(Arc::clone(&of.trim));
    let rule = "to the long point: the opening and one or two widths";
    let long = Sized::rule("leg of a casing", rule, &[&of.height, &of.trim], |of| of[0] + of[1]);
    let over =
        Sized::rule("head of a casing", rule, &[&of.width, &of.trim], |of| of[0] + 2.0 * of[1]);
    let leg = |left| {
        Piece::stick(Kind::Casing, long.clone(), wide.clone())
            .of(&key)
            .ends(mitre)
            .note("leg, mitred at its head")
            .at(left, hole.foot)
    };
    let head = Piece::stick(Kind::Casing, over, wide.clone())
        .of(&key)
        .ends(mitre)
        .note("head, mitred at both ends")
        .level_at(hole.left - hole.trim, hole.head());
    let mut pieces = vec![leg(hole.left - hole.trim), leg(hole.right()), head];
    if hole.foot > Full::inches(0.01) {
        let sizes = shop.trim_of(&wall.id.body);
        let horn = shop.size(sizes.horn.as_ref(), Full::ZERO);
        let horn_why = said("horn", horn, sizes.horn.as_ref(), "no horn");
        let length = Sized::rule(
            "sill",
            "the opening, two casings and two horns",
            &[&of.width, &of.trim, &horn_why.origin],
            |of| of[0] + 2.0 * of[1] + 2.0 * of[2],
        );
        pieces.push(
            Piece::stick(Kind::Sill, length, wide)
                .of(&key)
                .level_at(hole.left - hole.trim - horn, hole.foot - sill_trim(shop, hole)),
        );
    }
    pieces
}

/// Corner boards: on the front and the back the full width, lying on the edge
/// of the other, which is less by that thickness, so that both look alike. They
/// are cut where a roof meets the wall.
fn corners(shop: &Shop<'_>, wall: &Wall) -> Vec<Piece> {
    let sizes = shop.trim_of(&wall.id.body);
    let Some(size) = &sizes.corner else { return Vec::new() };
    let trim = crate::building::trim_of(shop.job, &wall.id);
    let full = said("corner board", shop.size(Some(size), Full::ZERO), Some(size), "");
    let thick = shop.trim_thickness(&wall.id.body);
    let narrow = Sized::rule(
        "corner board",
        "its width less the other's thickness",
        &[&full.origin, &thick.origin],
        |of| of[0] - of[1],
    );
    let end = matches!(wall.id.side, Side::Left | Side::Right);
    let seen = if end { narrow } else { full };
    let at = |board: TrimBoard| {
        let left = board == TrimBoard::CornerLeft;
        let x = if left { Full::ZERO } else { wall.width };
        let x_why = if left { foot() } else { Arc::clone(&wall.why.width) };
        let place = if left { Full::ZERO } else { wall.width - seen.length };
        let top = wall.top_at(x);
        let inside = if left { Full::inches(0.1) } else { wall.width - Full::inches(0.1) };
        let met = wall
            .behind
            .iter()
            .filter(|it| !it.bare && inside > it.across.0 && inside < it.across.1);
        let blocked: Vec<(Full, Full)> =
            met.map(|it| (line_at(&it.meets, inside), line_at(&it.over, inside))).collect();
        super::boards::open((Full::ZERO, top), blocked)
            .into_iter()
            .map(|(low, high)| {
                let why = |y: Full| {
                    let near = |it: &&Arc<Origin>| (it.value - y.in_inches()).abs() < TOUCH;
                    let behind: Vec<&Arc<Origin>> =
                        wall.behind.iter().flat_map(|it| &it.why).collect();
                    if y <= Full::ZERO {
                        return foot();
                    }
                    behind.into_iter().find(near).cloned().unwrap_or_else(|| wall.top_why(&x_why))
                };
                Piece::stick(
                    Kind::CornerBoard,
                    between("corner board", &why(low), &why(high)),
                    seen.clone(),
                )
                .of("corner board")
                .at(place, low)
            })
            .collect::<Vec<_>>()
    };
    let boards = [TrimBoard::CornerLeft, TrimBoard::CornerRight];
    boards.into_iter().filter(|board| trim.contains(board)).flat_map(at).collect()
}

/// The board under the eave, between corner boards; on a wall with a rake it
/// follows the rake.
fn frieze(shop: &Shop<'_>, wall: &Wall, bands: &Bands) -> Vec<Piece> {
    let Some(width) = &bands.frieze else { return Vec::new() };
    let level = wall.top.windows(2).all(|pair| pair[0].1.agrees(pair[1].1, Full::inches(TOUCH)));
    if level {
        let foot = wall.eave() - width.length;
        let [left, right] = bands.inner(wall);
        return level_run(shop, (Kind::Frieze, "frieze"), width, (&left, &right), foot);
    }
    let mut pieces = Vec::new();
    for pair in wall.top.windows(2) {
        let (run, rise) = (pair[1].0 - pair[0].0, pair[1].1 - pair[0].1);
        if run <= Full::ZERO {
            continue;
        }
        let along = Origin::plain(
            "run of the rake",
            run.in_inches(),
            Why::Default("half of a gable, or the whole of a slope"),
        );
        let run_why = if (wall.why.width.value / 2.0 - run.in_inches()).abs() < TOUCH {
            Origin::rule("run of the rake", "half the width", &[&wall.why.width], |of| of[0] / 2.0)
        } else if (wall.why.width.value - run.in_inches()).abs() < TOUCH {
            Arc::clone(&wall.why.width)
        } else {
            along
        };
        let slope = (rise / run).abs();
        let length = Sized::rule(
            "frieze along the rake",
            "its run, along the slope",
            &[&run_why, &wall.why.pitch],
            |of| of[0] * of[1].hypot(1.0),
        );
        let mut piece = Piece::stick(Kind::Frieze, length, width.clone())
            .of("frieze")
            .note("follows the rake, both ends plumb");
        piece.ends = (slope > NOTHING).then(|| Angle::radians(slope.atan()));
        pieces.push(piece);
    }
    pieces
}

impl Bands {
    /// Between the corner boards.
    fn inner(&self, wall: &Wall) -> [Arc<Origin>; 2] {
        let right = Origin::rule(
            "inside the right corner board",
            "the wall less the board",
            &[&wall.why.width, &self.covers[1]],
            |of| of[0] - of[1],
        );
        [Arc::clone(&self.covers[0]), right]
    }
}

/// The board at the foot, between corner boards and the casings of doors.
fn water_table(shop: &Shop<'_>, wall: &Wall, bands: &Bands) -> Vec<Piece> {
    let Some(width) = &bands.water else { return Vec::new() };
    let [left, right] = bands.inner(wall);
    let mut stretches = Vec::new();
    let mut at = left;
    let mut doors: Vec<&Hole<Compressed>> = wall
        .holes
        .iter()
        .filter(|hole| hole.foot < width.length - Full::inches(0.01))
        .filter(|hole| {
            !wall.is_bare_at(hole.left + hole.width / 2.0, hole.foot + hole.height / 2.0)
        })
        .collect();
    doors.sort_by(|a, b| a.left.total_cmp(&b.left));
    for door in doors {
        let Some(of) = wall.hole_why(&door.label) else { continue };
        let trim = casing_why(shop, door, &of.trim);
        let from = Origin::rule(
            "left of the casing",
            "the opening less its casing",
            &[&of.left, &trim],
            |of| of[0] - of[1],
        );
        let to = Origin::rule(
            "right of the casing",
            "the opening and its casing",
            &[&of.left, &of.width, &trim],
            |of| of[0] + of[1] + of[2],
        );
        if from.value > at.value {
            stretches.push((Arc::clone(&at), from));
        }
        if to.value > at.value {
            at = to;
        }
    }
    for it in wall.behind.iter().filter(|it| it.bare) {
        // What stands against it covers the foot there.
        let [from, to] = &it.edges;
        stretches = split(stretches, from, to);
        if at.value < from.value {
            stretches.push((Arc::clone(&at), Arc::clone(from)));
        }
        if at.value < to.value {
            at = Arc::clone(to);
        }
    }
    if right.value > at.value {
        stretches.push((at, right));
    }
    let runs = stretches.iter().flat_map(|(from, to)| {
        level_run(shop, (Kind::WaterTable, "water table"), width, (from, to), Full::ZERO)
    });
    runs.collect()
}

/// Stretches without what lies between two distances.
fn split(
    stretches: Vec<(Arc<Origin>, Arc<Origin>)>,
    from: &Arc<Origin>,
    to: &Arc<Origin>,
) -> Vec<(Arc<Origin>, Arc<Origin>)> {
    let (low, high) = (from.value, to.value);
    let mut left = Vec::new();
    for (a, b) in stretches {
        if b.value <= low || a.value >= high {
            left.push((a, b));
            continue;
        }
        if a.value < low {
            left.push((Arc::clone(&a), Arc::clone(from)));
        }
        if b.value > high {
            left.push((Arc::clone(to), b));
        }
    }
    left
}

/// A level board between two distances, in equal lengths that come out of a
/// stick.
fn level_run(
    shop: &Shop<'_>,
    (kind, section): (Kind, &str),
    width: &Sized<Compressed>,
    (from, to): (&Arc<Origin>, &Arc<Origin>),
    foot: Full,
) -> Vec<Piece> {
    let whole = across(section, from, to);
    let (count, length) = shop.split(section, whole.length);
    let length_why = shop.shared(&whole, count);
    (0..count)
        .map(|piece| {
            Piece::stick(kind, length_why.clone(), width.clone())
                .of(section)
                .level_at(Full::inches(from.value) + length * f64::from(piece), foot)
        })
        .collect()
}
