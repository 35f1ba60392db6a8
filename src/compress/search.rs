//! The counts: all that are allowed, searched by branch and bound.
//!
//! The faces are put as parts and rows without trade words: a top-level repeated
//! element with everything in it is a part, each of its counts an option, each
//! face (or stretch of a face between pinned openings) a row, each group of
//! plain wall or bays a piece. [`explore`] bounds all counts together; each pick
//! it points to is worked out in full here.

use super::case::Case;
use super::fit::{Freedom, Widths, fit};
use super::score::repeated;
use super::tally::{Counts, Tally};
use crate::solve::choose::{Addition, Choosing, Line, Ratio, Share, explore};

/// How many of the best counts are kept beside the best of each kind.
const KEPT: usize = 10;

/// Counts with the best widths for them.
#[derive(Clone, Debug)]
pub(crate) struct Found {
    pub(crate) counts: Counts,
    pub(crate) widths: Widths,
    /// Cost of everything but roof and depth.
    pub(crate) cost: f64,
    pub(crate) trimmed: bool,
}

/// What a search found.
#[derive(Clone, Debug, Default)]
pub(crate) struct Search {
    /// The best counts, cheapest first.
    pub(crate) found: Vec<Found>,
    /// Whether no other counts can be better.
    pub(crate) complete: bool,
    /// Boxes of counts looked at.
    pub(crate) steps: usize,
}

/// Which widths a search looks at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Kind {
    /// The best widths of each count.
    Best,
    /// Full widths only.
    Full,
}

/// Searches the counts for fronts no longer than `longest` inches. `go_on` is
/// told the boxes looked at so far and may end the search.
pub(crate) fn search(
    case: &Case<'_>,
    longest: f64,
    kind: Kind,
    go_on: &mut dyn FnMut(usize) -> bool,
) -> Search {
    let (problem, options) = put(case, longest, kind);
    let freedom = if kind == Kind::Full { Freedom::None } else { Freedom::All };
    let mut best = Vec::new();
    let mut judge = |pick: &[usize]| {
        let picked = options.iter().zip(pick).flat_map(|(options, at)| options[*at].clone());
        let counts: Counts = picked.collect();
        if let Ok(widths) = fit(case, &counts, &freedom, longest, false) {
            keep(case, &mut best, counts, widths);
        }
        if best.len() < KEPT { f64::INFINITY } else { best.last().map_or(0.0, |it| it.cost) }
    };
    let explored = explore(&problem, &mut judge, &mut |boxes| boxes <= case.steps && go_on(boxes));
    Search { found: best, complete: explored.proven, steps: explored.boxes }
}

/// Keeps counts among the best, cheapest first.
fn keep(case: &Case<'_>, best: &mut Vec<Found>, counts: Counts, widths: Widths) {
    let cost = case.along_cost(&counts, &widths);
    let place = best.partition_point(|known| known.cost <= cost);
    if place < KEPT {
        let trimmed = case.is_trimmed(&counts, &widths);
        best.insert(place, Found { counts, widths, cost, trimmed });
        best.truncate(KEPT);
    }
}

/// The faces as parts and rows, and the counts that each option stands for.
fn put(case: &Case<'_>, longest: f64, kind: Kind) -> (Choosing, Vec<Vec<Counts>>) {
    let slots = case.slots();
    let none: Counts = slots.iter().map(|(key, _)| (key.clone(), 0)).collect();
    let some: Counts =
        slots.iter().map(|(key, times)| (key.clone(), times.at_most.max(1))).collect();
    let faces = Faces::new(case, &some, kind);
    let bare = faces.sums(case, &none);
    let mut options = Vec::new();
    let mut parts = Vec::new();
    for cluster in case.clusters() {
        let mut every = vec![Counts::new()];
        for (key, times) in &cluster {
            every = (times.at_least..=times.at_most)
                .flat_map(|count| {
                    let with = |known: &Counts| {
                        known
                            .iter()
                            .map(|(k, n)| (k.clone(), *n))
                            .chain([(key.clone(), count)])
                            .collect()
                    };
                    every.iter().map(with).collect::<Vec<Counts>>()
                })
                .collect();
        }
        let of = |counts: &Counts| {
            let mut with = none.clone();
            with.extend(counts.clone());
            faces.sums(case, &with).less(&bare, own_cost(case, &with, counts))
        };
        let mut both: Vec<(Counts, Addition)> =
            every.into_iter().map(|counts| (of(&counts), counts)).map(|(a, c)| (c, a)).collect();
        let length = |it: &Addition| it.fixed.iter().chain(&it.sums).sum::<f64>();
        both.sort_by(|a, b| length(&a.1).total_cmp(&length(&b.1)));
        let (counts, additions) = both.into_iter().unzip();
        options.push(counts);
        parts.push(additions);
    }
    let problem = Choosing {
        rows: faces.rows,
        bare: bare.less(&Addition::default(), 0.0),
        parts,
        ratios: faces.ratios,
        wholes: super::fit::of_length(case),
        longest,
    };
    (problem, options)
}

/// The lines of cost that depend on counts alone.
fn own_cost(case: &Case<'_>, with: &Counts, of: &Counts) -> f64 {
    let tallies = (0..case.originals.len()).map(|at| case.tally(at, with, false));
    let repeats = tallies.flat_map(|tally| tally.repeats).filter(|it| of.contains_key(&it.key));
    repeats.flat_map(|repeat| repeated(case, &repeat)).map(|line| line.cost).sum()
}

impl Addition {
    /// What is added beyond another, at a cost.
    fn less(&self, other: &Self, cost: f64) -> Self {
        let apart = |a: &[f64], b: &[f64]| {
            let b = b.iter().copied().chain(std::iter::repeat(0.0));
            a.iter().zip(b).map(|(a, b)| a - b).collect()
        };
        Self {
            cost,
            fixed: apart(&self.fixed, &other.fixed),
            sums: apart(&self.sums, &other.sums),
            amounts: apart(&self.amounts, &other.amounts),
        }
    }
}

/// How the faces along the building are put.
struct Faces {
    rows: Vec<Line>,
    /// Face and name of each piece, in order.
    pieces: Vec<(usize, String)>,
    ratios: Vec<Ratio>,
    /// Faces whose void ratio counts.
    voids: Vec<usize>,
}

impl Faces {
    fn new(case: &Case<'_>, some: &Counts, kind: Kind) -> Self {
        let mut out =
            Self { rows: Vec::new(), pieces: Vec::new(), ratios: Vec::new(), voids: Vec::new() };
        for (at, original) in case.originals.iter().enumerate() {
            out.face(case, at, &case.tally(at, some, false), kind);
            if original.area > 0.0 {
                let was = super::tally::length(original, |item| item.original);
                out.voids.push(at);
                let figure = original.area / (was * case.height(at));
                out.ratios.push(Ratio {
                    original: original.area / was,
                    over_total: true,
                    tolerance: case.rules.tau("void", figure),
                    weight: case.rules.weight("void"),
                });
            }
        }
        let openings = f64::from(case.originals[0].openings);
        out.ratios.push(Ratio {
            original: openings.max(1.0),
            over_total: false,
            tolerance: case.rules.tau("openings", openings),
            weight: if openings > 0.0 { case.rules.weight("openings") } else { 0.0 },
        });
        out
    }

    /// The rows of one face.
    fn face(&mut self, case: &Case<'_>, at: usize, tally: &Tally, kind: Kind) {
        for (number, segment) in tally.segments.iter().enumerate() {
            let mut line = Line { pieces: Vec::new(), total: segment.total };
            for group in tally.groups.iter().filter(|group| group.segment == number) {
                let shares = |of: fn(&super::tally::Item) -> f64| {
                    group.items.iter().map(move |item| of(item) / item.original)
                };
                let (least, most) = match kind {
                    Kind::Full => (1.0, 1.0),
                    Kind::Best => (
                        shares(|item| item.least).fold(f64::INFINITY, f64::min),
                        shares(|item| item.most).fold(0.0, f64::max),
                    ),
                };
                line.pieces.push(Share {
                    least,
                    most,
                    tolerance: case.rules.tau(&group.feature, 1.0),
                    weight: case.rules.weight(&group.feature),
                });
                self.pieces.push((at, group.name.clone()));
            }
            self.rows.push(line);
        }
    }

    /// Every sum for given counts.
    fn sums(&self, case: &Case<'_>, counts: &Counts) -> Addition {
        let tallies: Vec<Tally> =
            (0..case.originals.len()).map(|at| case.tally(at, counts, false)).collect();
        let sum = |(face, name): &(usize, String)| {
            let group = tallies[*face].groups.iter().find(|group| group.name == *name);
            group.map_or(0.0, |group| group.sum(|item| item.original))
        };
        Addition {
            cost: 0.0,
            fixed: tallies.iter().flat_map(Tally::rows_fixed).collect(),
            sums: self.pieces.iter().map(sum).collect(),
            amounts: (self.voids.iter().map(|at| tallies[*at].area))
                .chain([f64::from(tallies[0].openings)])
                .collect(),
        }
    }
}
