//! The look cost as one list of terms.
//!
//! A [`Term`] knows what moves its figure: the widths of a group, the length, or
//! nothing that widths can change. The lines that are printed, the widths of least
//! cost, what no counts can beat and what can be proven at all are read from this
//! list, so that they speak of one cost. `docs/look.md` defines it.

use super::case::Case;
use super::fit::Widths;
use super::look::{Line, Rules};
use super::score::Setting;
use super::tally::{Counts, Repeat, Tally, length};
use super::{Decision, Shape};
use crate::catalog::look::Measure;
use crate::job::body::RoofKind;
use crate::job::place::RoofFollows;
use crate::solve::stretch::Whole;

/// What a figure that has come to nothing counts as, of what it was.
const NOTHING: f64 = 1e-3;

/// One term of the cost.
#[derive(Clone, Debug)]
pub(crate) struct Term {
    pub(crate) feature: String,
    /// What it is, in words.
    pub(crate) what: String,
    pub(crate) measure: Measure,
    /// Tolerance; the z of what holds.
    pub(crate) tolerance: f64,
    pub(crate) weight: f64,
    /// The figure of the original.
    pub(crate) original: f64,
    pub(crate) moved: Moved,
}

/// What moves the figure of a term.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Moved {
    /// The widths of a group: their sum over what it was, so many times.
    Group { face: usize, name: String, by: f64 },
    /// The length of the front over this.
    Length { over: f64 },
    /// The length of a face whose openings have this area, under this height.
    Void { face: usize, area: f64, height: f64 },
    /// The counts alone, through the openings: the figure.
    Openings(f64),
    /// The count of one repeated element alone: the figure.
    Count { key: String, now: f64 },
    /// Depth, roof and storeys: the figure.
    Body(f64),
    /// Widths and length in a way that widths are not found for.
    After(After),
}

/// What is judged only after the widths are found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum After {
    /// How uneven the walls of the front stand; never less than at first.
    Spacing,
    /// The outline, at the ridge as built.
    Silhouette { before: f64, ridge: f64 },
}

impl Term {
    /// Its figure with the widths of a setting.
    fn figure(&self, setting: &Setting<'_>) -> f64 {
        match &self.moved {
            Moved::Group { face, name, by } => {
                let group = setting.tallies[*face].groups.iter().find(|it| it.name == *name);
                group.map_or(1.0, |group| {
                    by * group.sum(|item| setting.decision.width(item))
                        / group.sum(|item| item.original)
                })
            }
            Moved::Length { over } => setting.length(0) / over,
            Moved::Void { face, area, height } => area / (setting.length(*face) * height),
            Moved::Openings(now) | Moved::Count { now, .. } | Moved::Body(now) => *now,
            Moved::After(After::Spacing) => {
                let now = &setting.tallies[0];
                uneven(now, |item| setting.decision.width(item)).max(self.original)
            }
            Moved::After(After::Silhouette { before, ridge }) => {
                let after = setting.length(0) / ridge;
                1.0 - before.min(after) / before.max(after)
            }
        }
    }

    /// How far a figure is from the original, in tolerances.
    fn z(&self, now: f64) -> f64 {
        match self.measure {
            Measure::Ratio => {
                let share = if now > 0.0 { now / self.original } else { NOTHING };
                share.ln() / self.tolerance
            }
            Measure::Degrees | Measure::Share => (now - self.original) / self.tolerance,
            Measure::YesNo => self.tolerance,
        }
    }

    fn cost(&self, z: f64) -> f64 {
        self.weight * ((1.0 + z * z).sqrt() - 1.0)
    }

    /// What it costs where no width moves it.
    pub(crate) fn settled(&self) -> f64 {
        match self.moved {
            Moved::Openings(now) | Moved::Count { now, .. } | Moved::Body(now) => {
                self.cost(self.z(now))
            }
            _ => 0.0,
        }
    }

    /// What it costs once nothing is left of its figure.
    pub(crate) fn of_nothing(&self) -> f64 {
        self.cost(self.z(0.0))
    }

    /// The line that is printed.
    pub(crate) fn line(&self, setting: &Setting<'_>) -> Line {
        let now = self.figure(setting);
        let z = self.z(now);
        let figures = (self.measure != Measure::YesNo).then_some((self.original, now));
        Line {
            feature: self.feature.clone(),
            what: self.what.clone(),
            original: figures.map(|(original, _)| original),
            now: figures.map(|(_, now)| now),
            z,
            weight: self.weight,
            cost: self.cost(z),
        }
    }
}

/// Tolerance and weight of a group's widths.
pub(crate) fn of_group(terms: &[Term], at: usize, group: &str) -> (f64, f64) {
    let same = |moved: &Moved| match moved {
        Moved::Group { face, name, .. } => *face == at && name == group,
        _ => false,
    };
    let term = terms.iter().find(|term| same(&term.moved));
    term.map_or((1.0, 0.0), |term| (term.tolerance, term.weight))
}

/// The terms that one total of all faces moves, at the counts of the list.
pub(crate) fn wholes(terms: &[Term]) -> Vec<Whole> {
    let whole = |term: &Term| {
        let original = match term.moved {
            Moved::Length { over } => term.original * over,
            Moved::Void { area, height, .. } if area > 0.0 => area / (height * term.original),
            _ => return None,
        };
        let Term { tolerance, weight, .. } = *term;
        (weight > 0.0).then_some(Whole { original, tolerance, weight })
    };
    terms.iter().filter_map(whole).collect()
}

/// What the counts of repeated elements cost by themselves.
pub(crate) fn of_repeats<'r>(rules: &Rules, repeats: impl Iterator<Item = &'r Repeat>) -> f64 {
    repeats.flat_map(|repeat| repeated(rules, repeat)).map(|term| term.settled()).sum()
}

/// Features that count here and that widths are not found for: nothing is proven
/// about them.
pub(crate) fn judged_after(case: &Case<'_>) -> Vec<&'static str> {
    let decision = case.decision(&Counts::new(), &Widths::new(), case.as_found());
    let terms = terms(case, &Setting::of(case, &decision, false));
    let after = terms.iter().filter(|term| term.weight > 0.0).filter_map(|term| match term.moved {
        Moved::After(After::Spacing) => Some("spacing"),
        Moved::After(After::Silhouette { .. }) => Some("silhouette"),
        _ => None,
    });
    let mut after: Vec<&str> = after.collect();
    after.sort_unstable_by(|a, b| b.cmp(a));
    after
}

/// Every term of a setting, in the order in which they are printed.
pub(crate) fn terms(case: &Case<'_>, setting: &Setting<'_>) -> Vec<Term> {
    let mut terms = Vec::new();
    for at in 0..setting.tallies.len() {
        terms.extend(face(case, at, setting));
    }
    terms.extend(body(case, setting));
    let rules = &case.rules;
    terms.extend(match setting.decision.shape {
        Shape::Square => None,
        Shape::Wedge => rules.holds("wedge", "", Moved::Body(0.0)),
        Shape::SceneEdge(_) => rules.holds("edge", "", Moved::Body(0.0)),
        Shape::SmallerBehind => rules.holds("behind", "", Moved::Body(0.0)),
    });
    if !setting.decision.storeys.is_empty() {
        terms.extend(rules.holds("storey", "", Moved::Body(0.0)));
    }
    terms
}

/// The terms of one face along the building.
fn face(case: &Case<'_>, at: usize, setting: &Setting<'_>) -> Vec<Term> {
    let (rules, cut) = (&case.rules, &setting.cut);
    let (original, now) = (&case.originals[at], &setting.tallies[at]);
    let mut terms = Vec::new();
    for group in &now.groups {
        // Bays are judged by their slenderness: a lower eave makes them wider.
        let by = if group.feature == "bay" { cut.slender } else { 1.0 };
        let moved = Moved::Group { face: at, name: group.name.clone(), by };
        terms.extend(rules.term(&group.feature, &group.name, 1.0, moved));
    }
    let was = length(original, |item| item.original);
    let height = case.height(at);
    let lower = (height - cut.taken).max(1.0);
    let moved = Moved::Void { face: at, area: cut.area(at, now), height: lower };
    terms.extend(rules.term("void", case.face_name(at), original.area / (was * height), moved));
    if at == 0 {
        terms.extend(front(case, setting, was));
    }
    for repeat in &now.repeats {
        terms.extend(repeated(rules, repeat));
    }
    terms
}

/// The terms that the front alone has.
fn front(case: &Case<'_>, setting: &Setting<'_>, was: f64) -> Vec<Term> {
    let (rules, cut) = (&case.rules, &setting.cut);
    let (original, now) = (&case.originals[0], &setting.tallies[0]);
    let eave = case.faces.body.eave.in_inches();
    let over = eave / cut.slender;
    let openings = Moved::Openings(cut.openings(now));
    let ridge = case.body(setting.decision).ridge.in_inches();
    let before = was / case.faces.body.ridge.in_inches();
    let silhouette = Moved::After(After::Silhouette { before, ridge });
    let spacing = Moved::After(After::Spacing);
    let all = [
        rules.term("length", "", was, Moved::Length { over: 1.0 }),
        rules.term("aspect", "", was / eave, Moved::Length { over }),
        rules.term("openings", "", f64::from(original.openings), openings),
        rules.term("silhouette", "", 0.0, silhouette),
        rules.term("spacing", "", uneven(original, |item| item.original), spacing),
    ];
    all.into_iter().flatten().collect()
}

/// The terms of one repeated element: its count alone moves them.
fn repeated(rules: &Rules, repeat: &Repeat) -> Vec<Term> {
    let Repeat { key, times, count, .. } = repeat;
    let moved = |now: f64| Moved::Count { key: key.clone(), now };
    let mut terms = Vec::new();
    if repeat.bays {
        terms.extend(rules.term("count", key, times.count.into(), moved((*count).into())));
    }
    if *count == times.count {
        return terms;
    }
    if times.parity && count % 2 != times.count % 2 {
        terms.extend(rules.holds("parity", key, moved(0.0)));
    }
    if times.period.is_some_and(|period| period > 0 && !count.is_multiple_of(period)) {
        terms.extend(rules.holds("period", key, moved(0.0)));
    }
    if lost_centre(repeat) || lost_mirror(repeat) {
        terms.extend(rules.holds("centre", key, moved(0.0)));
    }
    terms
}

/// What stands in repeat `number`, counted from 0.
fn stack(repeat: &Repeat, number: u32) -> &[String] {
    let cycle = &repeat.cycle;
    cycle.get(number as usize % cycle.len().max(1)).map_or(&[], Vec::as_slice)
}

fn lost_centre(repeat: &Repeat) -> bool {
    repeat.times.centre.as_ref().is_some_and(|centre| {
        repeat.count.is_multiple_of(2) || !stack(repeat, repeat.count / 2).contains(centre)
    })
}

fn lost_mirror(repeat: &Repeat) -> bool {
    let last = repeat.count.saturating_sub(1);
    repeat.times.mirror && (0..repeat.count).any(|n| stack(repeat, n) != stack(repeat, last - n))
}

/// How uneven the plain walls of a row are: standard deviation over mean.
fn uneven(tally: &Tally, width: impl Fn(&super::tally::Item) -> f64) -> f64 {
    let items = || tally.groups.iter().flat_map(|group| &group.items);
    let times: f64 = items().map(|item| item.times).sum();
    if times < 1.0 {
        return 0.0;
    }
    let mean = items().map(|item| item.times * width(item)).sum::<f64>() / times;
    let square = items().map(|item| item.times * (width(item) - mean).powi(2)).sum::<f64>() / times;
    square.sqrt() / mean
}

/// The terms of the roof and the depth.
fn body(case: &Case<'_>, setting: &Setting<'_>) -> Vec<Term> {
    let Decision { roof, set, .. } = setting.decision;
    let (rules, original) = (&case.rules, &case.faces.body);
    let body = case.body(setting.decision);
    let mut terms = Vec::new();
    // One wall alone has no depth and no roof to look at.
    if case.job.main().is_some_and(crate::job::body::Body::is_one_wall) {
        return terms;
    }
    let now = Moved::Body(body.ridge / body.eave);
    terms.extend(rules.term("ridge", "", original.ridge / original.eave, now));
    terms.extend(match roof {
        RoofFollows::HalfRelief => rules.holds("half-relief", "", Moved::Body(0.0)),
        RoofFollows::Flat => rules.holds("flat", "", Moved::Body(0.0)),
        RoofFollows::KeepPitch | RoofFollows::KeepRidge => {
            let now = Moved::Body(body.depth / body.ridge);
            rules.term("gable", "", original.depth / original.ridge, now)
        }
    });
    let turned = *roof == RoofFollows::KeepRidge || set.ridge.is_some();
    if case.roof != RoofKind::Flat && turned {
        let degrees = |pitch: f64| pitch.atan().to_degrees();
        let now = Moved::Body(degrees(body.pitch));
        terms.extend(rules.term("pitch", "", degrees(original.pitch), now));
    }
    terms
}
