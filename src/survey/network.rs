//! What hangs together, adjusted.

use std::collections::HashMap;
use std::sync::Arc;

use crate::finding::{Finding, Subject};
use crate::job::Job;
use crate::job::form::Linear;
use crate::solve::least_squares::{
    Equation, Form, Group, Limits, NonlinearObservation, NonlinearProblem, Problem, Solution,
    Terms, Trouble,
};
use crate::solve::special::chi_square_tail;

use super::blunder::{self, Searched};
use super::names::Names;
use super::observed::{Correlations, Observed, Shared};

/// Dimensions that readings and ties bind together, with their adjustment.
#[derive(Clone, Debug)]
pub struct Network {
    /// Its unknowns: dimensions of the job, then what readings brought along.
    pub names: Vec<String>,
    /// Its readings, by their place in the job; switched off ones are in none.
    pub readings: Vec<usize>,
    /// Chi-square with nothing set aside.
    pub chi_square_of_all: f64,
    /// Degrees of freedom with nothing set aside.
    pub degrees_of_all: usize,
    /// Chi-square of what is kept.
    pub chi_square: f64,
    /// Degrees of freedom of what is kept.
    pub degrees: usize,
    /// The size of a standardized residual beyond which a reading is set
    /// aside here.
    pub limit: f64,
    places: HashMap<String, usize>,
    pub(super) searched: Searched,
}

/// The observations and ties of one network, by number in the network.
#[derive(Clone, Debug, Default)]
pub(super) struct Part {
    pub(super) unknowns: usize,
    pub(super) equations: Vec<Equation>,
    pub(super) observed: Vec<Observed>,
    /// The level at which readings are set aside, where the job sets one.
    pub(super) level: Option<f64>,
}

impl Part {
    /// The adjustment of those observations that are kept.
    pub(super) fn solve(&self, kept: &[bool]) -> Result<Solution, Trouble> {
        let kept: Vec<&Observed> = self
            .observed
            .iter()
            .zip(kept)
            .filter(|(_, kept)| **kept)
            .map(|(seen, _)| seen)
            .collect();
        let groups = pictures(&kept);
        let observations = kept
            .into_iter()
            .map(|seen| NonlinearObservation {
                form: seen.form.clone(),
                value: seen.value,
                sigma: seen.sigma,
            })
            .collect();
        let equations = self.equations.clone();
        NonlinearProblem { unknowns: self.unknowns, equations, observations, groups }
            .solve(Limits::default())
    }
}

/// What one picture says: places among the observations, each with its row.
struct Picture<'a> {
    correlations: &'a Correlations,
    members: Vec<(usize, usize)>,
}

impl Picture<'_> {
    fn group(self) -> Group {
        let of = self.correlations;
        let row = |row: usize| self.members.iter().map(|(_, column)| of[row][*column]).collect();
        Group {
            of: self.members.iter().map(|(at, _)| *at).collect(),
            correlations: self.members.iter().map(|(_, at)| row(*at)).collect(),
        }
    }
}

/// The observations of each picture, with their correlations.
fn pictures(observed: &[&Observed]) -> Vec<Group> {
    let mut all: Vec<Picture<'_>> = Vec::new();
    for (at, seen) in observed.iter().enumerate() {
        let Some(Shared { correlations, row }) = &seen.shared else { continue };
        match all.iter_mut().find(|picture| Arc::ptr_eq(picture.correlations, correlations)) {
            Some(picture) => picture.members.push((at, *row)),
            None => all.push(Picture { correlations, members: vec![(at, *row)] }),
        }
    }
    all.into_iter().map(Picture::group).collect()
}

/// The unknowns that each picture speaks of.
fn spoken_of_by_pictures(observed: &[Observed]) -> Vec<Vec<usize>> {
    let all: Vec<&Observed> = observed.iter().collect();
    let terms = |group: Group| {
        group.of.into_iter().flat_map(|at| each_term(&all[at].form).collect::<Vec<_>>()).collect()
    };
    pictures(&all).into_iter().map(terms).collect()
}

fn each_term(form: &Form) -> impl Iterator<Item = usize> {
    let (one, other) = match form {
        Form::Sum(terms) => (terms, None),
        Form::Ratio(one, other) | Form::Product(one, other) | Form::Diagonal(one, other) => {
            (one, Some(other))
        }
    };
    one.iter().chain(other.into_iter().flatten()).map(|(at, _)| *at)
}

/// Groups that grow together.
struct Groups(Vec<usize>);

impl Groups {
    fn of(&mut self, mut at: usize) -> usize {
        while self.0[at] != at {
            self.0[at] = self.0[self.0[at]];
            at = self.0[at];
        }
        at
    }

    fn join(&mut self, members: impl Iterator<Item = usize>) {
        let mut first = None;
        for at in members {
            let group = self.of(at);
            match first {
                None => first = Some(group),
                Some(first) => self.0[group] = first,
            }
        }
    }
}

/// A tie with its place in the job.
struct Bound {
    tie: usize,
    equation: Equation,
}

/// Splits the job into its networks and adjusts each.
pub(super) fn split(
    job: &Job,
    names: &Names,
    observed: &[Observed],
    findings: &mut Vec<Finding>,
) -> Vec<Network> {
    let ties = ties(job, names, findings);
    let mut groups = Groups((0..names.len()).collect());
    for tie in &ties {
        groups.join(tie.equation.terms.iter().map(|(at, _)| *at));
    }
    for seen in observed {
        groups.join(each_term(&seen.form));
    }
    for unknowns in spoken_of_by_pictures(observed) {
        groups.join(unknowns.into_iter());
    }
    let mut order: Vec<usize> = Vec::new();
    let mut members: HashMap<usize, Vec<usize>> = HashMap::new();
    for at in 0..names.len() {
        let group = groups.of(at);
        let list = members.entry(group).or_insert_with(|| {
            order.push(group);
            Vec::new()
        });
        list.push(at);
    }
    let mut ties_of: HashMap<usize, Vec<&Bound>> = HashMap::new();
    for tie in &ties {
        if let Some((at, _)) = tie.equation.terms.first() {
            ties_of.entry(groups.of(*at)).or_default().push(tie);
        }
    }
    let mut observed_of: HashMap<usize, Vec<&Observed>> = HashMap::new();
    for seen in observed {
        if let Some(at) = each_term(&seen.form).next() {
            observed_of.entry(groups.of(at)).or_default().push(seen);
        }
    }
    let empty = (Vec::new(), Vec::new());
    order
        .iter()
        .map(|group| {
            let ties = ties_of.get(group).unwrap_or(&empty.0);
            let observed = observed_of.get(group).unwrap_or(&empty.1);
            adjust(job, names, &members[group], ties, observed, findings)
        })
        .collect()
}

fn ties(job: &Job, names: &Names, findings: &mut Vec<Finding>) -> Vec<Bound> {
    let mut ties = Vec::new();
    for (tie, said) in job.ties.iter().enumerate() {
        match names.terms(&said.says.difference()) {
            Ok(terms) => ties.push(Bound { tie, equation: Equation { terms, value: 0.0 } }),
            Err(name) => findings.push(Finding::trouble(
                Subject::Tie(said.id.clone()),
                format!("the tie {} is left out: no dimension is called \"{name}\"", said.id),
                "add the dimension or mend the name",
            )),
        }
    }
    ties
}

fn adjust(
    job: &Job,
    names: &Names,
    members: &[usize],
    ties: &[&Bound],
    observed: &[&Observed],
    findings: &mut Vec<Finding>,
) -> Network {
    let local: HashMap<usize, usize> =
        members.iter().enumerate().map(|(place, at)| (*at, place)).collect();
    let part = Part {
        unknowns: members.len(),
        equations: ties.iter().map(|bound| moved_equation(&bound.equation, &local)).collect(),
        observed: observed.iter().map(|seen| moved(seen, &local)).collect(),
        level: job.about.rejection_level,
    };
    let mut bound: Vec<usize> = ties.iter().map(|bound| bound.tie).collect();
    let part = open(job, part, &mut bound, findings);
    let searched = settle(job, part, &mut bound, findings);
    let names: Vec<String> = members.iter().map(|at| names.name(*at).to_owned()).collect();
    Network {
        readings: observed.iter().filter_map(|seen| seen.reading).collect(),
        chi_square_of_all: searched.all.chi_square(),
        degrees_of_all: searched.all.degrees(),
        chi_square: searched.solution.chi_square(),
        degrees: searched.solution.degrees(),
        limit: searched.limit,
        places: names.iter().enumerate().map(|(place, name)| (name.clone(), place)).collect(),
        names,
        searched,
    }
}

/// Leaves out ties that together would make a dimension nothing at all. Ties
/// speak of sums only, so that is how two of them contradict each other.
fn open(job: &Job, mut part: Part, ties: &mut Vec<usize>, findings: &mut Vec<Finding>) -> Part {
    loop {
        let equations = part.equations.clone();
        let problem = Problem { unknowns: part.unknowns, equations, ..Problem::default() };
        let Ok(Some((_, together))) = problem.fixed_by_equations() else { return part };
        let Some(last) = together.last().copied() else { return part };
        findings.push(contradiction(job, ties, &together));
        part.equations.remove(last);
        ties.remove(last);
    }
}

/// Adjusts, leaving out ties and observations that make it impossible, each
/// with a finding.
fn settle(
    job: &Job,
    mut part: Part,
    ties: &mut Vec<usize>,
    findings: &mut Vec<Finding>,
) -> Searched {
    loop {
        match blunder::search(&part) {
            Ok(searched) => return searched,
            Err(Trouble::Contradiction { equations, .. }) => {
                let last = equations.last().copied().unwrap_or(0);
                findings.push(contradiction(job, ties, &equations));
                part.equations.remove(last);
                ties.remove(last);
            }
            Err(trouble) => {
                let all: Vec<usize> = (0..part.observed.len()).collect();
                let out = out_of(&part, &trouble).map_or(all, |one| vec![one]);
                findings.extend(out.iter().map(|at| left_out(job, &part.observed[*at], &trouble)));
                part.observed = keep(&part.observed, &out);
            }
        }
    }
}

/// The observation that a trouble is about: the one named, else the last that
/// is no plain sum.
fn out_of(part: &Part, trouble: &Trouble) -> Option<usize> {
    match trouble {
        Trouble::ZeroDenominator { row } | Trouble::Sigma { row, .. } => Some(*row),
        Trouble::NoConvergence { .. } => {
            part.observed.iter().rposition(|seen| !matches!(seen.form, Form::Sum(_)))
        }
        _ => None,
    }
    .filter(|at| *at < part.observed.len())
}

fn keep(observed: &[Observed], out: &[usize]) -> Vec<Observed> {
    let kept = observed.iter().enumerate().filter(|(at, _)| !out.contains(at));
    kept.map(|(_, seen)| seen.clone()).collect()
}

fn left_out(job: &Job, seen: &Observed, trouble: &Trouble) -> Finding {
    let id = seen.reading.map_or(seen.prior.as_str(), |at| job.readings[at].id.as_str());
    super::unusable(id, &format!("the adjustment does not settle with it ({trouble})"), "")
}

fn contradiction(job: &Job, ties: &[usize], equations: &[usize]) -> Finding {
    let tie = |at: &usize| ties.get(*at).map_or("", |tie| job.ties[*tie].id.as_str());
    let ids: Vec<&str> = equations.iter().map(tie).collect();
    let (last, others) = ids.split_last().unwrap_or((&"", &[]));
    let with = match others {
        [] => "anything but nothing at all".to_owned(),
        others => others.join(" and "),
    };
    Finding::trouble(
        Subject::Tie((*last).to_owned()),
        format!("the tie {last} cannot hold together with {with}; {last} is left out"),
        "mend or take out one of them",
    )
}

fn moved_terms(terms: &[(usize, f64)], local: &HashMap<usize, usize>) -> Terms {
    terms.iter().map(|(at, factor)| (local[at], *factor)).collect()
}

fn moved_equation(equation: &Equation, local: &HashMap<usize, usize>) -> Equation {
    Equation { terms: moved_terms(&equation.terms, local), value: equation.value }
}

fn moved(seen: &Observed, local: &HashMap<usize, usize>) -> Observed {
    let form = match &seen.form {
        Form::Sum(terms) => Form::Sum(moved_terms(terms, local)),
        Form::Ratio(a, b) => Form::Ratio(moved_terms(a, local), moved_terms(b, local)),
        Form::Product(a, b) => Form::Product(moved_terms(a, local), moved_terms(b, local)),
        Form::Diagonal(a, b) => Form::Diagonal(moved_terms(a, local), moved_terms(b, local)),
    };
    Observed { form, ..seen.clone() }
}

impl Network {
    /// The factor by which all sigmas would have to grow for the readings to
    /// agree, where chi-square is more than twice the degrees and would come
    /// so high by chance less than once in twenty times (the ratio of R. T.
    /// Birge, from memory).
    #[must_use]
    pub fn proud(&self) -> Option<f64> {
        let degrees = self.degrees as f64;
        let proud = self.degrees > 0
            && self.chi_square > 2.0 * degrees
            && chi_square_tail(self.chi_square, degrees) < 0.05;
        proud.then(|| (self.chi_square / degrees).sqrt())
    }

    /// The place of a name among the unknowns of this network.
    #[must_use]
    pub fn place(&self, name: &str) -> Option<usize> {
        self.places.get(name).copied()
    }

    /// Those terms of a form that are unknowns of this network.
    #[must_use]
    pub fn terms(&self, form: &Linear) -> Terms {
        form.terms.iter().filter_map(|term| Some((self.place(&term.name)?, term.factor))).collect()
    }

    /// Value and sigma, in inches, of a sum of unknowns of this network.
    #[must_use]
    pub fn estimate(&self, terms: &[(usize, f64)]) -> Option<(f64, f64)> {
        Some((self.searched.solution.value(terms)?, self.searched.solution.sigma(terms)?))
    }

    /// The readings, by their place in the job, that a sum of unknowns rests
    /// on, each with its share of the variance.
    pub(super) fn shares(&self, terms: &[(usize, f64)]) -> Vec<(usize, f64)> {
        self.searched.shares(terms)
    }

    /// The readings, by their place in the job, that bear on a sum of unknowns
    /// with more than a thousandth of its variance.
    pub(super) fn sources(&self, terms: &[(usize, f64)]) -> impl Iterator<Item = usize> {
        self.shares(terms).into_iter().filter(|(_, share)| *share > 1e-3).map(|(at, _)| at)
    }
}
