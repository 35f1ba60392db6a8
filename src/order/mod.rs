//! The order of work: which step must come before which, and why, and one
//! order in which the building goes together.
//!
//! Steps are read from the building and its parts; the rules are common
//! practice, no source: splice and bracing of a core before its cladding;
//! lines, then stain, then glue; trim before the battens that butt to it;
//! castings last on a wall, and before a roof that is glued down; what a piece
//! rests on before the piece; a roof before what stands on it or is fitted to
//! it; valleys and fascias before the shingles.

mod bodies;
mod frames;
mod roofs;
mod walls;

use std::collections::{BTreeMap, BTreeSet, HashMap};
use std::fmt;

use crate::building::Building;
use crate::finding::{Finding, Outcome, Subject};
use crate::job::Job;
use crate::takeoff::{Kind, Part, Takeoff};

/// What a step does, beside putting parts of one kind in place.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Work {
    /// Parts of a kind, by the word of their group.
    Fit(&'static str),
    /// Joints and splices of a sheet, with the strips behind them.
    Splice,
    /// Strips across the grain.
    Brace,
    /// Lines scribed on a sheet.
    Engrave,
    /// Stain or paint before anything is glued over it.
    Stain,
    /// Boards and sticks over the cladding.
    Trim,
    /// Castings and their glass.
    Castings,
    /// A wall as a whole, put up.
    Wall,
    /// The walls of a body joined.
    Walls,
    /// Housings cut in a timber.
    Notch,
    /// Lamps with their wires.
    Lamp,
}

/// A step: where, and what.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct StepId {
    /// `main`, `main/front`, `main/roof`.
    pub at: String,
    /// What is done.
    pub work: Work,
}

impl StepId {
    fn new(at: impl Into<String>, work: Work) -> Self {
        Self { at: at.into(), work }
    }

    fn fit(at: impl Into<String>, group: &'static str) -> Self {
        Self::new(at, Work::Fit(group))
    }
}

impl fmt::Display for StepId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let word = match self.work {
            Work::Fit(group) => group,
            Work::Splice => "splice",
            Work::Brace => "bracing",
            Work::Engrave => "engraved",
            Work::Stain => "stain",
            Work::Trim => "trim",
            Work::Castings => "castings",
            Work::Wall => return f.write_str(&self.at),
            Work::Walls => "walls",
            Work::Notch => "notch",
            Work::Lamp => "lamp",
        };
        write!(f, "{}/{word}", self.at)
    }
}

/// A step with the parts that are put in place in it.
#[derive(Clone, Debug)]
pub struct Step {
    /// Where, and what.
    pub id: StepId,
    /// Labels of its parts.
    pub parts: Vec<String>,
}

/// That one step comes before another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Before {
    /// Place of the earlier one among the steps.
    pub first: usize,
    /// Place of the later one.
    pub then: usize,
    /// Why.
    pub why: &'static str,
}

/// Steps in an order that works, and what it rests on.
#[derive(Clone, Debug, Default)]
pub struct Order {
    /// The steps; each comes after all it waits for.
    pub steps: Vec<Step>,
    /// What waits for what, by the places of both.
    pub before: Vec<Before>,
}

impl Order {
    /// What a step waits for.
    pub fn waits_for(&self, step: usize) -> impl Iterator<Item = &Before> {
        self.before.iter().filter(move |it| it.then == step)
    }

    /// The places of all steps that must come after one, near or far.
    #[must_use]
    pub fn after(&self, step: usize) -> BTreeSet<usize> {
        let mut found = BTreeSet::new();
        let mut open = vec![step];
        while let Some(at) = open.pop() {
            let next = self.before.iter().filter(|it| it.first == at).map(|it| it.then);
            open.extend(next.filter(|then| found.insert(*then)));
        }
        found
    }
}

/// Works out the order of work of a building.
///
/// Never stops: steps that wait for one another in a ring are a finding, and
/// stand at the end.
#[must_use]
pub fn run(job: &Job, building: &Building, takeoff: &Takeoff) -> Outcome<Order> {
    let mut steps = Steps {
        job,
        building,
        takeoff,
        found: Vec::new(),
        places: HashMap::new(),
        before: Vec::new(),
    };
    for body in &building.bodies {
        steps.body(body);
    }
    for body in &building.bodies {
        steps.beside(body);
    }
    steps.rest();
    steps.sorted()
}

/// The steps as they are found.
struct Steps<'a> {
    job: &'a Job,
    building: &'a Building,
    takeoff: &'a Takeoff,
    found: Vec<Step>,
    places: HashMap<StepId, usize>,
    before: Vec<Before>,
}

impl Steps<'_> {
    fn place(&self, id: &StepId) -> Option<usize> {
        self.places.get(id).copied()
    }

    /// The place of a step, which is made where it is new.
    fn add(&mut self, id: StepId) -> usize {
        if let Some(place) = self.place(&id) {
            return place;
        }
        self.places.insert(id.clone(), self.found.len());
        self.found.push(Step { id, parts: Vec::new() });
        self.found.len() - 1
    }

    /// A step of the parts of some kinds at a place; nothing where there are
    /// none.
    fn of_parts(&mut self, id: StepId, at: &str, kinds: &[Kind]) -> Option<StepId> {
        let own = |part: &&Part| part.face == at && kinds.contains(&part.kind);
        let labels: Vec<String> =
            self.takeoff.parts.iter().filter(own).map(|part| part.label.clone()).collect();
        self.with_parts(id, labels)
    }

    fn with_parts(&mut self, id: StepId, labels: Vec<String>) -> Option<StepId> {
        if labels.is_empty() {
            return None;
        }
        let place = self.add(id.clone());
        self.found[place].parts.extend(labels);
        Some(id)
    }

    /// One before the other, where both are steps.
    fn put(&mut self, first: &StepId, then: &StepId, why: &'static str) {
        let (Some(first), Some(then)) = (self.place(first), self.place(then)) else { return };
        let known = self.before.iter().any(|it| it.first == first && it.then == then);
        if first != then && !known {
            self.before.push(Before { first, then, why });
        }
    }

    fn put_all<'s>(
        &mut self,
        first: impl IntoIterator<Item = &'s StepId>,
        then: &StepId,
        why: &'static str,
    ) {
        first.into_iter().for_each(|first| self.put(first, then, why));
    }

    /// Parts that no rule speaks of, a step for each kind at each place.
    fn rest(&mut self) {
        let taken: BTreeSet<String> =
            self.found.iter().flat_map(|step| step.parts.iter().cloned()).collect();
        let mut groups: BTreeMap<(usize, &str, &'static str), Vec<String>> = BTreeMap::new();
        for (place, part) in self.takeoff.parts.iter().enumerate() {
            if !taken.contains(&part.label) {
                let first = groups.keys().find(|it| it.1 == part.face && it.2 == part.kind.word());
                let place = first.map_or(place, |it| it.0);
                let group = (place, part.face.as_str(), part.kind.word());
                groups.entry(group).or_default().push(part.label.clone());
            }
        }
        let places: Vec<&str> = groups.keys().map(|it| it.1).collect();
        for ((_, at, word), labels) in groups {
            self.with_parts(StepId::fit(at, word), labels);
        }
        for at in places {
            let stringer = StepId::fit(at, Kind::Stringer.word());
            for laid in [Kind::Plank, Kind::Tread] {
                self.put(&stringer, &StepId::fit(at, laid.word()), "it lies on the stringers");
            }
        }
    }

    /// The steps so that each comes after what it waits for; of those that are
    /// free, the first found.
    fn sorted(self) -> Outcome<Order> {
        let count = self.found.len();
        let mut waits = vec![0_usize; count];
        self.before.iter().for_each(|it| waits[it.then] += 1);
        let mut free: BTreeSet<usize> = (0..count).filter(|at| waits[*at] == 0).collect();
        let mut order = Vec::with_capacity(count);
        while let Some(at) = free.pop_first() {
            order.push(at);
            for it in self.before.iter().filter(|it| it.first == at) {
                waits[it.then] -= 1;
                if waits[it.then] == 0 {
                    free.insert(it.then);
                }
            }
        }
        let ring: Vec<usize> = (0..count).filter(|at| !order.contains(at)).collect();
        let findings = ring.first().map(|at| {
            Finding::trouble(
                Subject::Job,
                format!(
                    "{} and {} steps more wait for one another",
                    self.found[*at].id,
                    ring.len() - 1
                ),
                "say with [[body]] what stands on what, each on one other",
            )
        });
        order.extend(&ring);
        let mut place = vec![0; count];
        order.iter().enumerate().for_each(|(new, old)| place[*old] = new);
        let moved = |it: &Before| Before { first: place[it.first], then: place[it.then], ..*it };
        let mut before: Vec<Before> = self.before.iter().map(moved).collect();
        before.sort_by_key(|it| (it.then, it.first));
        let steps = order.iter().map(|at| self.found[*at].clone()).collect();
        Outcome { value: Order { steps, before }, findings: findings.into_iter().collect() }
    }
}
