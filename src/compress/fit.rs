//! The best widths for given counts.

use std::collections::BTreeMap;

use super::case::Case;
use super::score::Setting;
use super::tally::{Counts, Group, Tally};
use super::terms::{Term, of_group, terms, wholes};
use crate::quantity::CompressedLength;
use crate::solve::stretch::{NoTotal, Piece, Problem, ROUNDING, Row, best, one_factor};

/// What may shrink.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Freedom {
    /// Every group by a factor of its own.
    All,
    /// Nothing.
    None,
    /// One group alone.
    One(String),
    /// Every group by one and the same factor.
    Alike,
}

/// Widths by element.
pub(crate) type Widths = BTreeMap<String, CompressedLength>;

/// Widths of least cost.
#[derive(Clone, Debug)]
pub(crate) struct Fitted {
    pub(crate) widths: Widths,
    /// Whether no others cost less.
    pub(crate) proven: bool,
}

/// The widths that cost least, no longer than `longest` inches.
pub(crate) fn fit(
    case: &Case<'_>,
    counts: &Counts,
    freedom: &Freedom,
    longest: f64,
    loose: bool,
) -> Result<Fitted, NoTotal> {
    let decision = case.decision(counts, &Widths::new(), case.as_found());
    let setting = Setting::of(case, &decision, loose);
    let tallies = &setting.tallies;
    if *freedom == Freedom::Alike {
        // One factor cannot meet a pin.
        if let Some(tally) = tallies.iter().find(|tally| tally.segments.len() > 1) {
            let length = super::tally::length(tally, |item| item.original);
            return Err(NoTotal { shortest: length, longest: length, row: Some(0) });
        }
        return Ok(Fitted { widths: alike(tallies, longest)?, proven: false });
    }
    let free = |group: &Group| match freedom {
        Freedom::All => true,
        Freedom::One(name) => group.name == *name,
        Freedom::None | Freedom::Alike => false,
    };
    let terms = terms(case, &setting);
    let each = tallies.iter().enumerate();
    let rows = each.flat_map(|(face, tally)| rows(&terms, face, tally, &free)).collect();
    let problem = Problem { rows, wholes: wholes(&terms), shortest: 0.0, longest };
    let best = best(&problem)?;
    let mut widths = Widths::new();
    let mut solved = best.sizes.iter();
    for tally in tallies {
        for (segment, sizes) in (0..tally.segments.len()).zip(solved.by_ref()) {
            let mut sizes = sizes.iter();
            for group in tally.groups.iter().filter(|group| group.segment == segment) {
                let sum = if free(group) { sizes.next().copied() } else { None };
                spread(group, sum, &mut widths);
            }
        }
    }
    Ok(Fitted { widths, proven: best.proven })
}

/// A row for each stretch between pinned openings.
fn rows(terms: &[Term], face: usize, tally: &Tally, free: &impl Fn(&Group) -> bool) -> Vec<Row> {
    (tally.segments.iter().zip(tally.rows_fixed()).enumerate())
        .map(|(at, (segment, fixed))| {
            let groups = || tally.groups.iter().filter(move |group| group.segment == at);
            let kept = groups().filter(|group| !free(group));
            let kept: f64 = kept.map(|group| group.sum(|item| item.original)).sum();
            let pieces =
                groups().filter(|group| free(group)).map(|group| piece(terms, face, group));
            Row { fixed: fixed + kept, pieces: pieces.collect(), total: segment.total }
        })
        .collect()
}

/// A group as a piece of its row.
pub(super) fn piece(terms: &[Term], face: usize, group: &Group) -> Piece {
    let (tolerance, weight) = of_group(terms, face, &group.name);
    Piece {
        original: group.sum(|item| item.original),
        least: group.sum(|item| item.least),
        most: group.sum(|item| item.most),
        tolerance,
        weight,
    }
}

/// Shares the room of a group among its elements by one factor, each within its
/// bounds.
fn spread(group: &Group, sum: Option<f64>, widths: &mut Widths) {
    let pieces: Vec<_> =
        group.items.iter().map(|it| (it.times, it.original, it.least, it.most)).collect();
    let sizes = match sum {
        Some(sum) => one_factor(&pieces, sum),
        None => group.items.iter().map(|item| item.original).collect(),
    };
    for (item, size) in group.items.iter().zip(sizes) {
        // What comes out as it was is as it was, to the last figure.
        let kept = (size - item.original).abs() <= ROUNDING * item.original;
        let size = if kept { item.original } else { size };
        widths.insert(item.key.clone(), CompressedLength::inches(size));
    }
}

/// One factor for everything that may shrink, as large as the length takes.
fn alike(tallies: &[Tally], longest: f64) -> Result<Widths, NoTotal> {
    let mut widths = Widths::new();
    for tally in tallies {
        let items = || tally.groups.iter().flat_map(|group| &group.items);
        let pieces: Vec<_> =
            items().map(|it| (it.times, it.original, it.least, it.most.min(it.original))).collect();
        let least: f64 = pieces.iter().map(|(times, _, least, _)| times * least).sum();
        let most: f64 = pieces.iter().map(|(times, .., most)| times * most).sum();
        let room = longest - tally.fixed;
        if room < least {
            return Err(NoTotal {
                shortest: tally.fixed + least,
                longest: tally.fixed + most,
                row: None,
            });
        }
        let sizes = one_factor(&pieces, room.min(most));
        for (item, size) in items().zip(sizes) {
            widths.insert(item.key.clone(), CompressedLength::inches(size));
        }
    }
    Ok(widths)
}
