//! Posts, beams and braces with their end angles; decks and stairs.

use super::courses::{at_centres, planks, spaced, stairs};
use super::part::{Kind, Origin, Piece};
use super::{Run, Shop};
use crate::finding::{Finding, Subject};
use crate::job::building::{Cross, Member};
use crate::job::carpentry::Deck;
use crate::job::track::Runs;
use crate::quantity::CompressedLength;

pub use crate::sums::frame::{Brace, brace, cross_brace};

type Full = CompressedLength;

/// The members of the job.
pub(super) fn member_pieces(shop: &mut Shop<'_>) -> Vec<Piece> {
    let job = shop.job;
    job.members.iter().filter_map(|member| member_piece(shop, member)).collect()
}

fn member_piece(shop: &mut Shop<'_>, member: &Member) -> Option<Piece> {
    let section = shop.stock.of(&member.name).map(|choice| choice.wanted.full);
    let width = section.map_or(Full::ZERO, |section| section.width);
    let from = vec![Origin::Member(member.name.clone())];
    if let Some(cross) = &member.cross {
        return crossed(shop, member, cross, width).map(|piece| piece.from(from));
    }
    let count = count(shop, member);
    if let Some([level, upright]) = &member.legs {
        let (level, upright) =
            (shop.size(Some(level), Full::ZERO), shop.size(Some(upright), Full::ZERO));
        if level <= Full::ZERO || upright <= Full::ZERO {
            return None;
        }
        let brace = brace(level, upright, width);
        let note = format!(
            "{}: {:.1} degrees from level; short side {}",
            member.name,
            brace.from_level.in_degrees(),
            shop.job.about.model_notation().show(&shop.scale.reduce(brace.short.max(Full::ZERO)))
        );
        let piece = Piece::stick(Kind::Member, brace.line, width).of(&member.name).from(from);
        return Some(piece.times(count).ends(brace.from_level).note(note));
    }
    let length = shop.size(member.length.as_ref(), Full::ZERO);
    let piece = Piece::stick(Kind::Member, length, width).of(&member.name).from(from);
    (length > Full::ZERO && count > 0).then(|| piece.times(count).note(member.name.clone()))
}

/// Two braces crossed in every bay of a row of posts. One of each pair runs
/// through, the other is halved over it or cut in two.
fn crossed(shop: &mut Shop<'_>, member: &Member, cross: &Cross, width: Full) -> Option<Piece> {
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
    let post = shop.stock.of(&posts.name).map_or(Full::ZERO, |choice| choice.wanted.full.width);
    let height = shop.size(Some(&cross.height), Full::ZERO);
    let most = shop.size(posts.spacing.as_ref(), Full::ZERO);
    let bays = match posts.count {
        Some(count) => count.saturating_sub(1),
        None if most > Full::ZERO => spaced(shop.built.body.length, most).0,
        None => 0,
    };
    if bays == 0 || height <= Full::ZERO {
        return None;
    }
    let bay = shop.built.body.length / f64::from(bays);
    let brace = cross_brace(bay, post, height);
    let note = format!(
        "{}: {:.1} degrees from level; two a bay, halved where they cross",
        member.name,
        brace.from_level.in_degrees()
    );
    let piece = Piece::stick(Kind::Member, brace.line, width).of(&member.name);
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
pub(super) fn deck_pieces(shop: &mut Shop<'_>) -> Vec<Piece> {
    let job = shop.job;
    job.decks.iter().flat_map(|deck| deck_parts(shop, deck)).collect()
}

fn deck_parts(shop: &mut Shop<'_>, deck: &Deck) -> Vec<Piece> {
    let length = shop.size(deck.length.as_ref(), shop.built.body.length);
    let wide = shop.size(Some(&deck.width), Full::ZERO);
    let plank = shop.size(Some(&deck.plank), Full::inches(8.0));
    let gap = shop.size(deck.gap.as_ref(), Full::ZERO);
    let (count, used) = planks(length, plank, gap);
    let from = || vec![Origin::Deck(deck.name.clone()), Origin::Body("length")];
    let stringer = shop
        .stock
        .of(&format!("{} stringer", deck.name))
        .map_or(Full::ZERO, |choice| choice.wanted.full.width);
    if deck.stringers.is_none() {
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
    let rows = at_centres(wide, shop.size(deck.stringers.as_ref(), Full::feet(2.0)));
    let (pieces, each) = shop.split(&format!("{} stringer", deck.name), length);
    let mut parts = vec![
        Piece::stick(Kind::Plank, wide, plank)
            .of(format!("{} plank", deck.name))
            .from(from())
            .times(count)
            .note(format!("{}: gaps of {:.2} in", deck.name, used.in_inches())),
        Piece::stick(Kind::Stringer, each, stringer)
            .of(format!("{} stringer", deck.name))
            .from(from())
            .times(rows * pieces)
            .note(deck.name.clone()),
    ];
    if deck.stairs > 0 {
        parts.extend(stair_parts(shop, deck));
    }
    parts
}

fn stair_parts(shop: &Shop<'_>, deck: &Deck) -> Vec<Piece> {
    let height = shop.size(Some(&deck.height), Full::ZERO);
    let tread = Full::inches(10.0);
    let flight = stairs(height, Full::inches(7.5), tread);
    let wide = shop.size(deck.stair_width.as_ref(), Full::feet(3.0));
    let from = || vec![Origin::Deck(deck.name.clone())];
    let note = format!(
        "{} risers of {:.2} in, run {:.0} in",
        flight.risers,
        flight.rise.in_inches(),
        flight.run.in_inches()
    );
    vec![
        Piece::stick(Kind::Tread, wide, tread)
            .of(format!("{} plank", deck.name))
            .from(from())
            .times(flight.treads * deck.stairs)
            .note(note.clone()),
        Piece::stick(Kind::Stringer, flight.stringer, tread)
            .of(format!("{} stringer", deck.name))
            .from(from())
            .times(2 * deck.stairs)
            .note(note),
    ]
}
