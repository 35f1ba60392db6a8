//! Corrugated sheet on walls.

use std::sync::Arc;

use super::Shop;
use super::courses::{boards, tiers};
use super::part::{Kind, Piece};
use super::skin::{Skin, across, as_built, between, said};
use super::zone::Zone;
use crate::building::{Origin, Wall, Why, no_area};
use crate::finding::{Finding, Subject};
use crate::job::building::Remainder;
use crate::quantity::CompressedLength;
use crate::quantity::slack::{TOUCH, WHOLE};

type Full = CompressedLength;

/// Cover, length and end lap of a corrugated cladding. Sheets of 24 in cover
/// and 10 ft with 6 in of end lap where the job does not say.
pub(super) fn sheet(
    shop: &Shop<'_>,
    cladding: &crate::job::building::Cladding,
) -> (Full, Full, Full) {
    let cover = shop.size(cladding.unit.as_ref(), Full::inches(24.0));
    let length = shop.size(cladding.length.as_ref(), Full::feet(10.0));
    let lap = shop.size(cladding.lap.as_ref(), Full::inches(6.0));
    (cover, length, lap.min(length / 2.0))
}

/// The sheets of a zone: columns of the cover, tiers with their end lap, cut
/// where an opening takes the whole width.
pub(super) fn pieces(shop: &mut Shop<'_>, skin: &Skin<'_>, zone: &Zone<'_>) -> Vec<Piece> {
    let wall = &skin.cut;
    let (cover, length, lap) = sheet(shop, zone.cladding);
    odd_sheet(shop, wall, cover);
    let row = boards(wall.width, cover, Remainder::Leave);
    let mut pieces = Vec::new();
    let last = row.edges.len().saturating_sub(1);
    for (at, edges) in row.edges.windows(2).enumerate() {
        // The first and the last run on where the layer does.
        let from = if at == 0 { edges[0].min(skin.left) } else { edges[0] };
        let to = if at + 1 == last { edges[1].max(skin.right) } else { edges[1] };
        let Some((left, right)) = skin.within(from, to) else { continue };
        let top = wall.highest(left, right).min(zone.to);
        let foot = wall.lowest(left, right).max(zone.from);
        for (low, high) in open(wall, (left, right), (foot, top)) {
            let count = tiers((high - low - lap).max(Full::inches(1.0)), length, lap);
            for tier in 0..count {
                let foot = low + (length - lap) * f64::from(tier);
                let last = tier + 1 == count;
                let head = if last { high } else { low + (length - lap) * f64::from(tier + 1) };
                let over = if last { Full::ZERO } else { lap };
                let upright = (foot, head);
                let sheet = Sheet { across: (left, right), upright, from: low, lap: over };
                pieces.push(piece(shop, skin, zone, sheet));
            }
        }
    }
    pieces
}

/// What is left of an upright where openings take the whole width.
fn open(wall: &Wall, (left, right): (Full, Full), span: (Full, Full)) -> Vec<(Full, Full)> {
    let slack = Full::inches(0.01);
    let whole = wall
        .holes
        .iter()
        .filter(|hole| hole.left <= left + slack && hole.right() >= right - slack)
        .map(|hole| (hole.foot, hole.head()))
        .collect();
    super::boards::open(span, whole)
}

/// A sheet on its wall; `lap` is what of it lies under the next.
#[derive(Clone, Copy)]
struct Sheet {
    across: (Full, Full),
    upright: (Full, Full),
    /// Where its column begins: at the foot, or over an opening.
    from: Full,
    lap: Full,
}

fn piece(shop: &Shop<'_>, skin: &Skin<'_>, zone: &Zone<'_>, sheet: Sheet) -> Piece {
    let Sheet { across: (left, right), upright: (foot, head), from: start, lap } = sheet;
    let wall = &skin.cut;
    let name = &zone.cladding.name;
    let mut covers = wall.area((left, right), (foot, head));
    let mut notched = no_area();
    for hole in &wall.holes {
        let wide = (hole.right().min(right) - hole.left.max(left)).max(Full::ZERO);
        let tall = (hole.head().min(head) - hole.foot.max(foot)).max(Full::ZERO);
        notched += wide * tall;
    }
    covers -= notched;
    let joint = |x: Full| joint_why(shop, zone, x);
    let at = |x| skin.at_why(x, || joint(x));
    let (from, to) = (at(left), at(right));
    let ground = |y: Full| {
        let other = || {
            if y.agrees(zone.from, Full::inches(TOUCH)) {
                Arc::clone(&zone.why.0)
            } else {
                as_built("foot", y)
            }
        };
        skin.height_why(y, &from, || skin.height_why(y, &to, other))
    };
    let start = ground(start);
    let high = |y: Full| {
        let tier = || tier_why(shop, zone, &start, y);
        skin.height_why(y, &from, || skin.height_why(y, &to, tier))
    };
    let shown = between("sheet that shows", &high(foot), &high(head));
    let over = if lap > Full::ZERO {
        said("lap", lap, zone.cladding.lap.as_ref(), "6 in, common practice, no source").origin
    } else {
        Origin::plain("lap", 0.0, Why::Default("the last sheet of a column laps no other"))
    };
    let length = crate::building::Sized::rule(
        "length of the sheet",
        "what shows and its lap",
        &[&shown.origin, &over],
        |of| of[0] + of[1],
    );
    let mut piece = Piece::sheet(Kind::Iron, length, across("width of the sheet", &from, &to))
        .of(format!("{name} sheet"))
        .at(left, foot);
    piece.covers = covers;
    if notched.in_square_inches() > 0.01 {
        piece.note = "cut round an opening".to_owned();
    }
    if notched.in_square_inches() > 0.01 || !wall.is_level((left, right), (foot, head + lap)) {
        let shapes = wall.shapes((left, right), (foot, head + lap), &wall.holes);
        if let [only] = shapes.as_slice() {
            piece = piece.shaped(only);
        }
    }
    let rake = (wall.top_at(left).min(head) - wall.top_at(right).min(head)).abs();
    if rake > Full::inches(0.01) {
        piece.note = "top cut to the rake".to_owned();
    }
    piece
}

/// Why two sheets meet at a distance: so many covers from the left corner.
fn joint_why(shop: &Shop<'_>, zone: &Zone<'_>, x: Full) -> Arc<Origin> {
    let (cover, ..) = sheet(shop, zone.cladding);
    let count = x / cover;
    if (count - count.round()).abs() > WHOLE {
        return as_built("edge of a sheet", x);
    }
    let cover = said(
        "cover of a sheet",
        cover,
        zone.cladding.unit.as_ref(),
        "24 in, common practice, no source",
    );
    let count = Origin::plain(
        "sheets to there",
        count.round(),
        crate::building::Why::Default("counted from the left corner"),
    );
    Origin::rule("joint", "so many sheets from the left corner", &[&cover.origin, &count], |of| {
        of[0] * of[1]
    })
}

/// Why a tier ends at a height: so many sheets less their laps, from where its
/// column begins.
fn tier_why(shop: &Shop<'_>, zone: &Zone<'_>, start: &Arc<Origin>, y: Full) -> Arc<Origin> {
    let (_, length, lap) = sheet(shop, zone.cladding);
    let tier = length - lap;
    let count = (y - Full::inches(start.value)) / tier;
    if (count - count.round()).abs() > WHOLE {
        return as_built("end of a tier", y);
    }
    let length = said(
        "length of a sheet",
        length,
        zone.cladding.length.as_ref(),
        "10 ft, common practice, no source",
    );
    let lap = said("lap", lap, zone.cladding.lap.as_ref(), "6 in, common practice, no source");
    let count = Origin::plain(
        "tiers to there",
        count.round(),
        crate::building::Why::Default("counted from the foot"),
    );
    let of = [start, &length.origin, &lap.origin, &count];
    Origin::rule("end of a tier", "so many sheets less their laps", &of, |of| {
        of[0] + of[3] * (of[1] - of[2])
    })
}

/// The front should be whole sheets.
fn odd_sheet(shop: &mut Shop<'_>, wall: &Wall, cover: Full) {
    let sheets = wall.width / cover;
    let rest = (sheets - sheets.round()).abs();
    if rest < 0.02 || !wall.described {
        return;
    }
    let whole = |count: f64| shop.job.about.full_notation().show(&(cover * count));
    let (less, more) = (whole(sheets.floor()), whole(sheets.ceil()));
    shop.findings.push(Finding::look(
        Subject::Element(wall.name.clone()),
        format!("{} is {sheets:.1} sheets long", wall.title),
        format!("trim its length to {less} or {more}, or cut one sheet at a corner"),
    ));
}
