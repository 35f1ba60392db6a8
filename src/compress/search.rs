//! The counts: all that are allowed, searched by branch and bound.
//!
//! A branch fixes some counts. It cannot cost less than the lines of those
//! counts, plus the cheapest lines of the others, plus what the shortest length
//! still open must lose; and for every price of length the sum of what each
//! part would cost at that price, less the price of the whole space, bounds it
//! too. Branches that cannot beat the best of the kinds they may hold are cut.

use super::case::Case;
use super::fit::{Freedom, Widths, fit};
use super::score::repeated;
use super::tally::{Counts, Repeat};
use crate::job::face::Times;
use crate::solve::stretch::cost;

/// How many of the best counts are kept beside the best of each kind.
const KEPT: usize = 10;
/// Counts are worked out in full for so many at most before the search says that
/// it is not complete.
const STEPS: usize = 20_000;

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
    /// Whether everything was searched.
    pub(crate) complete: bool,
    /// Counts worked out in full.
    pub(crate) steps: usize,
}

/// One repeated element while searching.
struct Slot {
    key: String,
    choices: Vec<Choice>,
}

/// One count of it.
struct Choice {
    count: u32,
    /// Cost of the lines that depend on it alone.
    cost: f64,
    /// Least it adds to the length.
    least: f64,
    /// For each price of length: its cost and the price of its room, together.
    priced: Vec<f64>,
    openings: f64,
}

/// Searches the counts for fronts no longer than `longest` inches. `go_on` is
/// told the number of counts worked out so far and may end the search.
pub(crate) fn search(
    case: &Case<'_>,
    longest: f64,
    kind: Kind,
    go_on: &mut dyn FnMut(usize) -> bool,
) -> Search {
    let all = case.slots();
    let mut tree = Tree::new(case, longest, kind, &all);
    tree.out.complete = true;
    tree.branch(0, &mut Counts::new(), &tree.start(), go_on);
    tree.out.found.sort_by(|a, b| a.cost.total_cmp(&b.cost));
    tree.out
}

/// Which widths a search looks at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Kind {
    /// The best widths of each count.
    Best,
    /// Full widths only.
    Full,
}

struct Tree<'c, 'a> {
    case: &'c Case<'a>,
    longest: f64,
    kind: Kind,
    slots: Vec<Slot>,
    prices: Vec<f64>,
    /// Least of the slots from here on: cost, length, most openings, priced.
    rest: Vec<Sums>,
    /// Least length of what is not repeated.
    fixed: f64,
    fixed_openings: f64,
    /// Whether openings multiply, so that their sum bounds nothing.
    nested: bool,
    out: Search,
}

#[derive(Clone)]
struct Sums {
    cost: f64,
    least: f64,
    openings: f64,
    priced: Vec<f64>,
}

impl Sums {
    fn plus(&self, cost: f64, least: f64, openings: f64, priced: &[f64]) -> Self {
        Self {
            cost: self.cost + cost,
            least: self.least + least,
            openings: self.openings + openings,
            priced: self.priced.iter().zip(priced).map(|(a, b)| a + b).collect(),
        }
    }
}

impl<'c, 'a> Tree<'c, 'a> {
    fn new(case: &'c Case<'a>, longest: f64, kind: Kind, all: &[(String, Times)]) -> Self {
        let zero: Counts = all.iter().map(|(key, _)| (key.clone(), 0)).collect();
        let bare = Measure::of(case, &zero, kind);
        // Costs per share of the building's length, as the features have them.
        let prices = (0..8).map(|n| 64.0 * 0.5_f64.powi(n) / case.full_length()).collect();
        let mut tree = Self {
            case,
            longest,
            kind,
            slots: Vec::new(),
            prices,
            rest: Vec::new(),
            fixed: bare.least,
            fixed_openings: bare.openings,
            nested: false,
            out: Search::default(),
        };
        // A repeat inside another adds nothing to these sums, which keeps them
        // below the truth; only the openings need it the other way round.
        tree.slots = all.iter().map(|(key, times)| tree.slot(key, times, &zero, &bare)).collect();
        let empty = tree.start();
        tree.rest = vec![empty; tree.slots.len() + 1];
        for at in (0..tree.slots.len()).rev() {
            let slot = &tree.slots[at];
            let least = |of: &dyn Fn(&Choice) -> f64| {
                slot.choices.iter().map(of).fold(f64::INFINITY, f64::min)
            };
            let priced: Vec<f64> =
                (0..tree.prices.len()).map(|p| least(&|choice| choice.priced[p])).collect();
            let openings = slot.choices.iter().map(|choice| choice.openings).fold(0.0, f64::max);
            tree.rest[at] = tree.rest[at + 1].plus(
                least(&|choice| choice.cost),
                least(&|choice| choice.least),
                openings,
                &priced,
            );
        }
        let most: Counts = all.iter().map(|(key, times)| (key.clone(), times.at_most)).collect();
        tree.nested = Measure::of(case, &most, kind).openings
            > tree.fixed_openings + tree.rest[0].openings + 0.5;
        tree
    }

    fn start(&self) -> Sums {
        Sums { cost: 0.0, least: 0.0, openings: 0.0, priced: vec![0.0; self.prices.len()] }
    }

    fn slot(&self, key: &str, times: &Times, zero: &Counts, bare: &Measure) -> Slot {
        let mut counts: Vec<u32> = (times.at_least..=times.at_most).collect();
        counts.sort_by_key(|count| count.abs_diff(times.count));
        let choices = counts.into_iter().map(|count| {
            let mut with = zero.clone();
            with.insert(key.to_owned(), count);
            let measure = Measure::of(self.case, &with, self.kind);
            let lines = measure.repeats.iter().filter(|repeat| repeat.key == key);
            let cost: f64 =
                lines.flat_map(|repeat| repeated(self.case, repeat)).map(|line| line.cost).sum();
            let least = (measure.least - bare.least).max(0.0);
            let priced = (self.prices.iter())
                .map(|price| cost + self.room(key, &measure, bare, *price))
                .collect();
            let openings = (measure.openings - bare.openings).max(0.0);
            Choice { count, cost, least, priced, openings }
        });
        Slot { key: key.to_owned(), choices: choices.collect() }
    }

    /// What the room of one repeated element costs at a price of length: bays
    /// weigh their own shrinking against it, a module counts at its shortest.
    fn room(&self, key: &str, measure: &Measure, bare: &Measure, price: f64) -> f64 {
        let module = price * (measure.least - bare.least).max(0.0);
        let Some((original, least)) =
            measure.bays.iter().find(|(k, ..)| k == key).map(|b| (b.1, b.2))
        else {
            return module;
        };
        let (tau, weight) = (self.case.rules.tau("bay", 1.0), self.case.rules.weight("bay"));
        // The cost is convex in the width: the least over a few steps, each
        // taken with the cost at its wide end and the room at its narrow one.
        let steps = 24;
        let at = |step: i32| least + (original - least) * f64::from(step) / f64::from(steps);
        (0..steps)
            .map(|step| {
                let (narrow, wide) = (at(step), at(step + 1));
                cost((wide / original).ln(), tau, weight) + price * narrow
            })
            .fold(f64::INFINITY, f64::min)
    }

    /// No counts below this branch cost less.
    fn bound(&self, at: usize, sums: &Sums) -> f64 {
        let rest = &self.rest[at];
        let rules = &self.case.rules;
        let whole = self.case.full_length();
        let shortened = |key: &str, figure: f64| {
            let log = (self.longest / whole).ln().min(0.0);
            cost(log, rules.tau(key, figure), rules.weight(key))
        };
        let eave = self.case.faces.body.eave.in_inches();
        let always = shortened("length", whole) + shortened("aspect", whole / eave);
        let original = f64::from(self.case.originals[0].openings);
        let most = self.fixed_openings + sums.openings + rest.openings;
        let openings = if !self.nested && most < original && most > 0.0 {
            cost((most / original).ln(), rules.tau("openings", original), rules.weight("openings"))
        } else {
            0.0
        };
        let plain = sums.cost + rest.cost;
        let priced = (self.prices.iter().enumerate())
            .map(|(p, price)| sums.priced[p] + rest.priced[p] + price * (self.fixed - self.longest))
            .fold(plain, f64::max);
        always + openings + priced
    }

    /// The cost that a branch must beat.
    fn to_beat(&self) -> f64 {
        if self.out.found.len() < KEPT {
            return f64::INFINITY;
        }
        self.out.found.iter().map(|found| found.cost).fold(f64::NEG_INFINITY, f64::max)
    }

    fn branch(
        &mut self,
        at: usize,
        counts: &mut Counts,
        sums: &Sums,
        go_on: &mut dyn FnMut(usize) -> bool,
    ) {
        if !self.out.complete {
            return;
        }
        let least = self.fixed + sums.least + self.rest[at].least;
        if least > self.longest + 1e-6 || self.bound(at, sums) >= self.to_beat() {
            return;
        }
        if at == self.slots.len() {
            self.leaf(counts, go_on);
            return;
        }
        for choice in 0..self.slots[at].choices.len() {
            let slot = &self.slots[at];
            let chosen = &slot.choices[choice];
            counts.insert(slot.key.clone(), chosen.count);
            let next = sums.plus(chosen.cost, chosen.least, chosen.openings, &chosen.priced);
            let key = slot.key.clone();
            self.branch(at + 1, counts, &next, go_on);
            counts.remove(&key);
        }
    }

    fn leaf(&mut self, counts: &Counts, go_on: &mut dyn FnMut(usize) -> bool) {
        self.out.steps += 1;
        if self.out.steps > STEPS || !go_on(self.out.steps) {
            self.out.complete = false;
            return;
        }
        let freedom = if self.kind == Kind::Full { Freedom::None } else { Freedom::All };
        if let Ok(widths) = fit(self.case, counts, &freedom, self.longest, false) {
            self.keep(counts, widths);
        }
    }

    fn keep(&mut self, counts: &Counts, widths: Widths) {
        let cost = self.case.along_cost(counts, &widths);
        let trimmed = self.case.is_trimmed(counts, &widths);
        self.out.found.push(Found { counts: counts.clone(), widths, cost, trimmed });
        if self.out.found.len() > KEPT {
            let worst = (self.out.found.iter().enumerate())
                .max_by(|a, b| a.1.cost.total_cmp(&b.1.cost))
                .map(|(at, _)| at);
            if let Some(at) = worst {
                self.out.found.swap_remove(at);
            }
        }
    }
}

/// The sums of all faces for given counts.
struct Measure {
    least: f64,
    openings: f64,
    repeats: Vec<Repeat>,
    /// Bays: name, original and least total width.
    bays: Vec<(String, f64, f64)>,
}

impl Measure {
    fn of(case: &Case<'_>, counts: &Counts, kind: Kind) -> Self {
        let mut out = Self { least: 0.0, openings: 0.0, repeats: Vec::new(), bays: Vec::new() };
        for at in 0..case.originals.len() {
            let tally = case.tally(at, counts, false);
            let narrow = |item: &super::tally::Item| {
                if kind == Kind::Full { item.original } else { item.least }
            };
            // Only the front's length is bounded: other faces must come to the
            // same total, so they can only make it longer.
            if at == 0 {
                out.least = super::tally::length(&tally, narrow);
                out.openings = f64::from(tally.openings);
                for group in tally.groups.iter().filter(|group| group.feature == "bay") {
                    let (original, least) = (group.sum(|i| i.original), group.sum(narrow));
                    out.bays.push((group.name.clone(), original, least));
                }
            }
            out.repeats.extend(tally.repeats);
        }
        out
    }
}
