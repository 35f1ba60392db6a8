//! The best widths for given counts.

use std::collections::BTreeMap;

use super::case::Case;
use super::tally::{Counts, Group, Tally};
use crate::quantity::CompressedLength;
use crate::solve::stretch::{NoTotal, Piece, Problem, Row, Whole, best, one_factor};

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

/// The widths that cost least, no longer than `longest` inches.
pub(crate) fn fit(
    case: &Case<'_>,
    counts: &Counts,
    freedom: &Freedom,
    longest: f64,
    loose: bool,
) -> Result<Widths, NoTotal> {
    let tallies: Vec<Tally> =
        (0..case.originals.len()).map(|at| case.tally(at, counts, loose)).collect();
    if *freedom == Freedom::Alike {
        // One factor cannot meet a pin.
        if let Some(tally) = tallies.iter().find(|tally| tally.segments.len() > 1) {
            let length = super::tally::length(tally, |item| item.original);
            return Err(NoTotal { shortest: length, longest: length, row: Some(0) });
        }
        return alike(&tallies, longest);
    }
    let free = |group: &Group| match freedom {
        Freedom::All => true,
        Freedom::One(name) => group.name == *name,
        Freedom::None | Freedom::Alike => false,
    };
    let rows = tallies.iter().flat_map(|tally| rows(case, tally, &free)).collect();
    let problem = Problem { rows, wholes: wholes(case, &tallies), shortest: 0.0, longest };
    let best = best(&problem)?;
    let mut widths = Widths::new();
    let mut solved = best.sizes.iter();
    for tally in &tallies {
        for (segment, sizes) in (0..tally.segments.len()).zip(solved.by_ref()) {
            let mut sizes = sizes.iter();
            for group in tally.groups.iter().filter(|group| group.segment == segment) {
                let sum = if free(group) { sizes.next().copied() } else { None };
                spread(group, sum, &mut widths);
            }
        }
    }
    Ok(widths)
}

/// A row for each stretch between pinned openings.
fn rows(case: &Case<'_>, tally: &Tally, free: &impl Fn(&Group) -> bool) -> Vec<Row> {
    let fixed = tally.rows_fixed();
    (tally.segments.iter().zip(fixed).enumerate())
        .map(|(at, (segment, fixed))| {
            let groups = || tally.groups.iter().filter(move |group| group.segment == at);
            Row { total: segment.total, ..row(case, fixed, groups(), free) }
        })
        .collect()
}

fn row<'g>(
    case: &Case<'_>,
    fixed: f64,
    groups: impl Iterator<Item = &'g Group> + Clone,
    free: &impl Fn(&Group) -> bool,
) -> Row {
    let kept: f64 = groups.clone().filter(|g| !free(g)).map(|g| g.sum(|item| item.original)).sum();
    let pieces = (groups.filter(|group| free(group)))
        .map(|group| Piece {
            original: group.sum(|item| item.original),
            least: group.sum(|item| item.least),
            most: group.sum(|item| item.most),
            tolerance: case.rules.tau(&group.feature, 1.0),
            weight: case.rules.weight(&group.feature),
        })
        .collect();
    Row { fixed: fixed + kept, pieces, total: None }
}

/// Terms of the length: the void ratio of each face, length and aspect.
fn wholes(case: &Case<'_>, tallies: &[Tally]) -> Vec<Whole> {
    let rules = &case.rules;
    let mut wholes = of_length(case);
    for (original, tally) in case.originals.iter().zip(tallies) {
        if original.area > 0.0 && tally.area > 0.0 {
            let was = super::tally::length(original, |item| item.original);
            wholes.push(Whole {
                original: tally.area / original.area * was,
                tolerance: rules.tau("void", original.area / was),
                weight: rules.weight("void"),
            });
        }
    }
    wholes.retain(|whole| whole.weight > 0.0);
    wholes
}

/// Terms of the length alone.
pub(crate) fn of_length(case: &Case<'_>) -> Vec<Whole> {
    let full = case.full_length();
    let term = |key: &str, figure: f64| Whole {
        original: full,
        tolerance: case.rules.tau(key, figure),
        weight: case.rules.weight(key),
    };
    let eave = case.faces.body.eave.in_inches();
    let terms = [term("length", full), term("aspect", full / eave)];
    terms.into_iter().filter(|whole| whole.weight > 0.0).collect()
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
