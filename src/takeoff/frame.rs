//! Posts, beams and braces with their end angles; decks and stairs.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::courses::{at_centres, planks, spaced};
use super::part::{Kind, Piece};
use super::skin::said;
use super::{Run, Shop};
use crate::building::{self, MemberKind, Origin, Sized, Why, end_cut};
use crate::finding::{Finding, Subject};
use crate::job::building::{Cross, EndCut, Member};
use crate::job::track::Runs;
use crate::quantity::slack::TOUCH;
use crate::quantity::{Compressed, CompressedLength};
use crate::sums::rows::nearest_whole;

pub use crate::sums::frame::{Brace, brace, cross_brace};

type Full = CompressedLength;

/// Timbers, decks and what stands on the ground, by the body or the name they
/// are called after.
pub(super) fn all(shop: &mut Shop<'_>) -> BTreeMap<String, Vec<Piece>> {
    let mut all: BTreeMap<String, Vec<Piece>> = BTreeMap::new();
    let each = member_pieces(shop).into_iter().chain(deck_pieces(shop)).chain(ground_pieces(shop));
    for (name, pieces) in each {
        all.entry(name).or_default().extend(pieces);
    }
    all
}

/// The members of the job, each with its body.
fn member_pieces(shop: &mut Shop<'_>) -> Vec<(String, Vec<Piece>)> {
    let job = shop.job;
    let mut all: Vec<(String, Vec<Piece>)> = Vec::new();
    for member in &job.members {
        let placed: Vec<&building::Member> = shop
            .building
            .members
            .iter()
            .filter(|it| it.name == member.name && it.by_place)
            .collect();
        match placed.first() {
            Some(first) => all.push((first.body.clone(), placed_pieces(shop, member, &placed))),
            None => {
                let body = member.of.clone().or(job.main().map(|main| main.name.clone()));
                let piece = member_piece(shop, member).into_iter().collect();
                all.push((body.unwrap_or_default(), piece));
            }
        }
    }
    for ledger in shop.building.members.iter().filter(|it| it.kind == MemberKind::Ledger) {
        let tall = ledger.top.as_ref().zip(ledger.foot.as_ref()).map(|(top, foot)| {
            super::skin::between("height of the ledger", &foot.origin, &top.origin)
        });
        let Some(tall) = tall else { continue };
        let piece = Piece::stick(Kind::Ledger, ledger.length.clone(), tall)
            .of("wall ledger")
            .note("on the wall, its top planed to the rafters");
        all.push((ledger.body.clone(), vec![piece]));
    }
    all
}

/// Members that have a place: alike pieces are counted together later.
fn placed_pieces(shop: &Shop<'_>, member: &Member, placed: &[&building::Member]) -> Vec<Piece> {
    let width = section_depth(shop, &member.name);
    placed
        .iter()
        .map(|it| {
            let [end, _] = &it.ends;
            let mut piece = Piece::stick(Kind::Member, it.length.clone(), width.clone())
                .called(&member.name)
                .of(&member.name)
                .note(placed_note(shop, member, it));
            if end.from_square.in_degrees() > TOUCH {
                piece = piece.ends(end.from_square);
            }
            piece
        })
        .collect()
}

/// How a member with a place is cut.
fn placed_note(shop: &Shop<'_>, member: &Member, it: &building::Member) -> String {
    let show = |full: Full| shop.job.about.model_notation().show(&shop.scale.reduce(full));
    if let (Some(first), count) = (it.housings.first(), it.housings.len()) {
        return format!(
            "{}: housed for {count}, {} deep inside and {} outside, the first at {}",
            member.name,
            show(first.inner.length),
            show(first.outer.length),
            show(Full::inches(first.at))
        );
    }
    let degrees = it.ends[0].from_square.in_degrees();
    match (it.kind, it.ends[0].cut) {
        (MemberKind::Rafter, _) => {
            format!("{}: both ends plumb, {degrees:.1} degrees from square", member.name)
        }
        (_, EndCut::Flat) => format!(
            "{}: ends to lie flat, {:.1} degrees from level",
            member.name,
            it.from_level.in_degrees()
        ),
        _ => member.name.clone(),
    }
}

/// The deeper side of a member's section, by the lumber era or as it says.
fn section_depth(shop: &Shop<'_>, name: &str) -> Sized<Compressed> {
    let choice = shop.stock.of(name);
    let width = choice.map_or(Full::ZERO, |choice| choice.wanted.full.width);
    let why = match choice.and_then(|choice| choice.wanted.nominal.clone()) {
        Some(nominal) => Why::Row(format!("{nominal}, by the lumber era")),
        None => Why::Stated("as the member says".to_owned()),
    };
    super::part::stated("depth of the member", width, why)
}

fn member_piece(shop: &mut Shop<'_>, member: &Member) -> Option<Piece> {
    let width = section_depth(shop, &member.name);
    if let Some(cross) = &member.cross {
        return crossed(shop, member, cross, width);
    }
    let count = count(shop, member);
    if let Some([level, upright]) = &member.legs {
        let leg = |what: &str, size| said(what, shop.size(Some(size), Full::ZERO), Some(size), "");
        let (level, upright) = (leg("level leg", level), leg("upright leg", upright));
        if level.length <= Full::ZERO || upright.length.abs() <= Full::ZERO {
            return None;
        }
        let brace = brace(level.length, upright.length.abs(), width.length);
        let end = end_cut(member, brace.from_level.in_radians());
        let line = Sized::rule(
            "length of the member",
            "along its line, leg and leg",
            &[&level.origin, &upright.origin],
            |of| of[0].hypot(of[1]),
        );
        let note = if end.cut == EndCut::Flat {
            format!(
                "{}: {:.1} degrees from level; short side {}",
                member.name,
                brace.from_level.in_degrees(),
                shop.job
                    .about
                    .model_notation()
                    .show(&shop.scale.reduce(brace.short.max(Full::ZERO)))
            )
        } else {
            format!(
                "{}: a rafter, plumb cut {:.1} degrees from square, its seat level",
                member.name,
                end.from_square.in_degrees()
            )
        };
        let angle = if end.cut == EndCut::Flat { brace.from_level } else { end.from_square };
        let piece = Piece::stick(Kind::Member, line, width).called(&member.name).of(&member.name);
        return Some(piece.times(count).ends(angle).note(note));
    }
    let length = shop.size(member.length.as_ref(), Full::ZERO);
    let length = said("length of the member", length, member.length.as_ref(), "");
    let solid = length.length > Full::ZERO && count > 0;
    let piece = Piece::stick(Kind::Member, length, width).called(&member.name).of(&member.name);
    solid.then(|| piece.times(count).note(member.name.clone()))
}

/// Two braces crossed in every bay of a row of posts. One of each pair runs
/// through, the other is halved over it or cut in two.
fn crossed(
    shop: &mut Shop<'_>,
    member: &Member,
    cross: &Cross,
    width: Sized<Compressed>,
) -> Option<Piece> {
    let job = shop.job;
    let Some(posts) = job.members.iter().find(|posts| posts.name == cross.posts) else {
        shop.findings.push(Finding::look(
            Subject::Member(member.name.clone()),
            format!(
                "{} is to cross between \"{}\", and no member is called so",
                member.name, cross.posts
            ),
            "name the member that stands at each end of the bay",
        ));
        return None;
    };
    let post = section_depth(shop, &posts.name);
    let height = said(
        "height of the braces",
        shop.size(Some(&cross.height), Full::ZERO),
        Some(&cross.height),
        "",
    );
    let most = shop.size(posts.spacing.as_ref(), Full::ZERO);
    let bays = match posts.count {
        Some(count) => count.saturating_sub(1),
        None if most > Full::ZERO => spaced(shop.built.body.length, most).0,
        None => 0,
    };
    if bays == 0 || height.length <= Full::ZERO {
        return None;
    }
    let bay = shop.built.body.length / f64::from(bays);
    let brace = cross_brace(bay, post.length, height.length);
    let number = Origin::plain("bays", f64::from(bays), Why::Default("by the posts"));
    let of = [&shop.main_length(), &number, &post.origin, &height.origin];
    let line = Sized::rule("crossed brace", "from post to post, over the height", &of, |of| {
        (of[0] / of[1] - of[2]).hypot(of[3])
    });
    let note = format!(
        "{}: {:.1} degrees from level; two a bay, halved where they cross",
        member.name,
        brace.from_level.in_degrees()
    );
    let piece = Piece::stick(Kind::Member, line, width).called(&member.name).of(&member.name);
    Some(piece.times(2 * bays).ends(brace.from_level).note(note))
}

/// How many: as said, or by the spacing along the front. Posts are one more
/// than the bays; braces belong to a bay, unless they reach out from a post.
fn count(shop: &Shop<'_>, member: &Member) -> u32 {
    let each = member.each.unwrap_or(1);
    if let Some(count) = member.count {
        return count * each;
    }
    let most = shop.size(member.spacing.as_ref(), Full::ZERO);
    if most <= Full::ZERO {
        return each;
    }
    let (bays, _) = spaced(shop.built.body.length, most);
    let out = member.stands.as_ref().is_some_and(|stands| stands.runs == Runs::Out);
    let places = if member.legs.is_some() && !out { bays } else { bays + 1 };
    places * each
}

/// Planks, stringers and stairs of the decks.
fn deck_pieces(shop: &mut Shop<'_>) -> Vec<(String, Vec<Piece>)> {
    let decks = shop.building.decks.clone();
    decks.iter().map(|deck| (deck.name.clone(), deck_parts(shop, deck))).collect()
}

fn deck_parts(shop: &mut Shop<'_>, deck: &building::Deck) -> Vec<Piece> {
    let job = shop.job;
    let Some(row) = job.decks.iter().find(|it| it.name == deck.name) else { return Vec::new() };
    let length = deck.length.length;
    let wide = deck.width.length;
    let plank = shop.size(Some(&row.plank), Full::inches(8.0));
    let gap = shop.size(row.gap.as_ref(), Full::ZERO);
    let (count, used) = planks(length, plank, gap);
    let section = format!("{} stringer", deck.name);
    let stringer = section_depth_of(shop, &section);
    if row.stringers.is_none() && row.walls.is_empty() {
        shop.findings.push(Finding::note(
            Subject::Member(deck.name.clone()),
            format!("no stringers are given for {}: 2x10 at 2 ft are assumed", deck.name),
        ));
    }
    shop.runs.push(Run {
        section: format!("{} plank", deck.name),
        face: deck.name.clone(),
        count,
        length,
        nominal: plank + gap,
        used: plank + used,
        by_width: true,
    });
    let plank = said("plank", plank, Some(&row.plank), "");
    let mut parts = vec![
        Piece::stick(Kind::Plank, deck.width.clone(), plank)
            .of(format!("{} plank", deck.name))
            .times(count)
            .note(format!("{}: gaps of {:.2} in", deck.name, used.in_inches())),
    ];
    // A box carries its own planks.
    if row.walls.is_empty() || row.stringers.is_some() {
        let rows = at_centres(wide, shop.size(row.stringers.as_ref(), Full::feet(2.0)));
        let (pieces, _) = shop.split(&section, length);
        let each = shop.shared(&deck.length, pieces);
        parts.push(
            Piece::stick(Kind::Stringer, each, stringer)
                .of(&section)
                .times(rows * pieces)
                .note(deck.name.clone()),
        );
    }
    if row.stairs > 0 {
        parts.extend(stair_parts(shop, row, deck));
    }
    if let Some(steps) = &deck.steps {
        parts.extend(flight_parts(&deck.name, steps, 1));
    }
    parts
}

fn section_depth_of(shop: &Shop<'_>, section: &str) -> Sized<Compressed> {
    let width = shop.stock.of(section).map_or(Full::ZERO, |choice| choice.wanted.full.width);
    super::part::stated(
        "depth of the stringer",
        width,
        Why::Row("2x10, by the lumber era".to_owned()),
    )
}

fn stair_parts(
    shop: &Shop<'_>,
    row: &crate::job::carpentry::Deck,
    deck: &building::Deck,
) -> Vec<Piece> {
    const SOURCE: &str = "common practice, no source";
    let riser = Origin::plain("riser, nearly", 7.5, Why::Default(SOURCE));
    let tread = Origin::plain("tread", 10.0, Why::Default(SOURCE));
    let of = [&deck.height.origin, &riser, &tread];
    let run = Sized::rule("run of the stairs", "treads, one fewer than risers", &of, |of| {
        (nearest_whole(of[0] / of[1]).max(1.0) - 1.0) * of[2]
    });
    let each = Sized::rule("riser", "the height in whole risers", &of, |of| {
        of[0] / nearest_whole(of[0] / of[1]).max(1.0)
    });
    let risers = nearest_whole(deck.height.length / each.length).max(1.0) as u32;
    let stringer =
        Sized::rule("stringer", "rise and run", &[&deck.height.origin, &run.origin], |of| {
            of[0].hypot(of[1])
        });
    let width = shop.size(row.stair_width.as_ref(), Full::feet(3.0));
    let source = "3 ft, common practice, no source";
    let wide = said("width of the flight", width, row.stair_width.as_ref(), source).origin;
    let width = width.in_inches();
    let flight = building::Flight {
        risers,
        riser: each,
        treads: risers.saturating_sub(1),
        run,
        stringer,
        width,
        wide,
        line: [[0.0; 3]; 2],
        across: [1.0, 0.0],
    };
    flight_parts(&deck.name, &flight, row.stairs)
}

/// Treads and stringers of flights alike.
fn flight_parts(name: &str, flight: &building::Flight, times: u32) -> Vec<Piece> {
    let note = format!(
        "{} risers of {:.2} in, run {:.0} in",
        flight.risers,
        flight.riser.length.in_inches(),
        flight.run.length.in_inches()
    );
    let tread = super::part::stated(
        "tread",
        Full::inches(10.0),
        Why::Default("10 in, common practice, no source"),
    );
    let wide = Sized::of(Arc::clone(&flight.wide));
    vec![
        Piece::stick(Kind::Tread, wide, tread.clone())
            .of(format!("{name} plank"))
            .times(flight.treads * times)
            .note(note.clone()),
        Piece::stick(Kind::Stringer, flight.stringer.clone(), tread)
            .called("stair-stringer")
            .of(format!("{name} stringer"))
            .times(2 * times)
            .note(note),
    ]
}

/// Faces of retaining walls with their stairs, and the base plate.
fn ground_pieces(shop: &Shop<'_>) -> Vec<(String, Vec<Piece>)> {
    let section = shop.core_section();
    let most = shop.scale.enlarge(super::core::sheets(shop, &section).0);
    let mut all = Vec::new();
    for wall in &shop.building.terraces {
        let mut face = Piece::sheet(Kind::Face, wall.length.clone(), wall.slope.clone())
            .of(&section)
            .lying()
            .note(match wall.courses {
                0 => String::new(),
                courses => format!("{courses} courses, measured upright"),
            });
        face.covers = building::no_area();
        let mut pieces = vec![face];
        pieces.extend(wall.stair.iter().flat_map(|stair| flight_parts(&wall.name, stair, 1)));
        all.push((wall.name.clone(), pieces));
    }
    if let Some(base) = &shop.building.base {
        let strips = super::core::strips_of(Kind::Base, &base.length, &base.width, most);
        all.push(("base".to_owned(), strips.of_section(&section)));
    }
    all
}

/// Leaves of doors: boards, ledges, braces.
pub(super) fn leaf_pieces(shop: &Shop<'_>, wall: &building::Wall) -> Vec<Piece> {
    let leaves = shop.building.leaves.iter().filter(|leaf| leaf.wall == wall.id);
    leaves.flat_map(one_leaf).collect()
}

fn one_leaf(leaf: &building::Leaf) -> Vec<Piece> {
    let name = format!("{} leaf", leaf.kind);
    let height = &leaf.size[1];
    let board = |width: &Sized<Compressed>, count: u32| {
        Piece::stick(Kind::LeafBoard, height.clone(), width.clone())
            .of(&name)
            .times(count)
            .note("side by side on the ledges")
    };
    let odd = !leaf.last.length.agrees(leaf.board.length, Full::inches(TOUCH));
    let mut pieces = vec![board(&leaf.board, leaf.boards - u32::from(odd))];
    if odd {
        pieces.push(board(&leaf.last, 1));
    }
    if !leaf.ledges.is_empty() {
        let ledge = Piece::stick(Kind::LeafLedge, leaf.size[0].clone(), leaf.ledge.clone());
        pieces.push(ledge.of(&name).times(leaf.ledges.len() as u32));
    }
    pieces.extend(leaf.braces.iter().map(|brace| {
        Piece::stick(Kind::LeafBrace, brace.length.clone(), leaf.ledge.clone())
            .of(&name)
            .ends(brace.angle)
            .note(format!(
                "{:.1} degrees from level, its foot at the hinge",
                brace.angle.in_degrees()
            ))
    }));
    pieces.retain(|piece| piece.count > 0);
    pieces
}
