//! The counts: all that are allowed, searched by branch and bound.
//!
//! The faces are put as parts and rows without trade words: a top-level repeated
//! element with everything in it is a part, each of its counts an option, each
//! face (or stretch of a face between pinned openings) a row, each group of
//! plain wall or bays a piece. [`explore`] bounds all counts together; each pick
//! it points to is worked out in full here.

use super::case::Case;
use super::fit::{Freedom, Widths, fit};
use super::score::Setting;
use super::tally::{Counts, Tally};
use super::terms::{Moved, Term, of_group, of_repeats, terms, wholes};
use crate::solve::choose::{Addition, Choosing, Line, Ratio, Share, explore};
use crate::solve::stretch::Whole;

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
    let (mut best, mut proven) = (Vec::new(), true);
    let mut judge = |pick: &[usize]| {
        let picked = options.iter().zip(pick).flat_map(|(options, at)| options[*at].clone());
        let counts: Counts = picked.collect();
        if let Ok(fitted) = fit(case, &counts, &freedom, longest, false) {
            proven &= fitted.proven;
            keep(case, &mut best, counts, fitted.widths);
        }
        if best.len() < KEPT { f64::INFINITY } else { best.last().map_or(0.0, |it| it.cost) }
    };
    let explored = explore(&problem, &mut judge, &mut |boxes| boxes <= case.steps && go_on(boxes));
    Search { found: best, complete: explored.proven && proven, steps: explored.boxes }
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
        wholes: faces.wholes,
        longest,
    };
    (problem, options)
}

/// The terms that the counts of one part move by themselves.
fn own_cost(case: &Case<'_>, with: &Counts, of: &Counts) -> f64 {
    let tallies: Vec<Tally> =
        (0..case.originals.len()).map(|at| case.tally(at, with, false)).collect();
    let repeats = tallies.iter().flat_map(|tally| &tally.repeats);
    of_repeats(&case.rules, repeats.filter(|it| of.contains_key(&it.key)))
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
    /// What each of the ratios is of.
    amounts: Vec<Amount>,
    /// Terms of the length alone.
    wholes: Vec<Whole>,
}

/// A quantity that the counts decide.
#[derive(Clone, Copy)]
enum Amount {
    /// Area of the openings of a face.
    Area(usize),
    /// Openings of the front that count.
    Openings,
}

impl Faces {
    fn new(case: &Case<'_>, some: &Counts, kind: Kind) -> Self {
        let decision = case.decision(some, &Widths::new(), case.as_found());
        let setting = Setting::of(case, &decision, false);
        let terms = terms(case, &setting);
        let of_length = |term: &&Term| matches!(term.moved, Moved::Length { .. });
        let along: Vec<Term> = terms.iter().filter(of_length).cloned().collect();
        let mut out = Self {
            rows: Vec::new(),
            pieces: Vec::new(),
            ratios: Vec::new(),
            amounts: Vec::new(),
            wholes: wholes(&along),
        };
        for (at, tally) in setting.tallies.iter().enumerate() {
            out.face(&terms, at, tally, kind);
        }
        terms.iter().for_each(|term| out.ratio(term));
        out
    }

    /// A term of a quantity.
    fn ratio(&mut self, term: &Term) {
        let (amount, original) = match term.moved {
            Moved::Void { face, height, .. } => (Amount::Area(face), term.original * height),
            Moved::Openings(_) => (Amount::Openings, term.original),
            _ => return,
        };
        let Term { tolerance, weight, .. } = *term;
        let over_total = matches!(amount, Amount::Area(_));
        let nothing = term.of_nothing();
        self.amounts.push(amount);
        self.ratios.push(Ratio { original, over_total, tolerance, weight, nothing });
    }

    /// The rows of one face.
    fn face(&mut self, terms: &[Term], at: usize, tally: &Tally, kind: Kind) {
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
                let (tolerance, weight) = of_group(terms, at, &group.name);
                line.pieces.push(Share { least, most, tolerance, weight });
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
        let amount = |amount: &Amount| match amount {
            Amount::Area(face) => tallies[*face].area,
            Amount::Openings => f64::from(tallies[0].openings),
        };
        Addition {
            cost: 0.0,
            fixed: tallies.iter().flat_map(Tally::rows_fixed).collect(),
            sums: self.pieces.iter().map(sum).collect(),
            amounts: self.amounts.iter().map(amount).collect(),
        }
    }
}
