//! Sizes -> choices of stock and the error each makes.
//!
//! | file | what it does |
//! |---|---|
//! | `wanted` | the sections a job asks for |
//! | `offer` | stock that can be had |
//! | `catalog` | the catalogue's rows as stock, its lumber by era |
//! | `matching` | ways to make a section from stock, best first |
//! | `rules` | when the next size will do |
//! | `accumulate` | small differences that add up |
//! | `nearest` | the nearest of a list of single sizes |

mod accumulate;
pub mod catalog;
mod matching;
pub mod nearest;
mod offer;
mod rules;
mod section;
mod wanted;

pub use accumulate::{Accumulated, accumulate, redistribute};
pub use matching::{Ask, Match, Way, per_length, ways};
pub use offer::{Offer, OfferForm};
pub use rules::{Use, Verdict, judge, lone, minute_of_arc, on_edge};
pub use section::Section;
pub use wanted::{Actual, Wanted, wanted};

use crate::finding::{Finding, Outcome, Subject};
use crate::job::Job;
use crate::job::building::{Cutting, PickedStock};
use crate::job::said::Said;
use crate::quantity::{Model, ModelLength, Scale};
use crate::survey::Survey;

/// Length of a stick where neither the job nor the stock says.
const STICK_INCHES: f64 = 24.0;
/// From where a model is seen when the job does not say.
const SEEN_FROM_INCHES: f64 = 24.0;

/// Stock chosen for one section.
#[derive(Clone, Debug, PartialEq)]
pub struct Choice {
    /// What is wanted.
    pub wanted: Wanted,
    /// The same on the model.
    pub model: Section<Model>,
    /// Ways to make it, best first; a way picked by hand that is not among
    /// the best stands last.
    pub ways: Vec<Match>,
    /// The way taken, an index into `ways`; nothing where no stock is known.
    pub taken: Option<usize>,
    /// Why it was picked by hand; nothing where the rules chose.
    pub picked: Option<String>,
    /// Pieces on the person's rack that do as well as the stock taken, itself
    /// included: other lengths, offcuts.
    pub pieces: Vec<OnRack>,
}

/// Pieces alike on the person's rack.
#[derive(Clone, Debug, PartialEq)]
pub struct OnRack {
    /// Their name.
    pub name: String,
    /// Across the grain; of a strip, its width.
    pub width: ModelLength,
    /// Along the grain.
    pub length: ModelLength,
    /// How many; nothing where they are not counted.
    pub count: Option<u32>,
}

impl Choice {
    /// The way taken.
    #[must_use]
    pub fn taken(&self) -> Option<&Match> {
        self.taken.and_then(|at| self.ways.get(at))
    }

    /// The name its stock goes by in lists: the size, or the wanted section
    /// where nothing is near.
    #[must_use]
    pub fn stock_name(&self) -> String {
        match self.taken() {
            Some(made) => match made.way {
                Way::Single => made.stock.clone(),
                Way::Ripped => format!("{}, ripped to {:.0} thou", made.stock, self.thou()),
                Way::TwoLayers => {
                    format!("{}, two layers, {:.0} thou wide", made.stock, self.thou())
                }
                Way::ThreeLayers => {
                    format!("{}, three layers, {:.0} thou wide", made.stock, self.thou())
                }
            },
            None => format!(
                "{:.0} x {:.0} thou, to be made",
                self.model.thickness.in_thou(),
                self.model.width.in_thou()
            ),
        }
    }

    /// Length of the stock as bought and as it can be used, less what is lost
    /// at its ends. A stick length that the job names stands for strip; sheet
    /// is as long as it is sold.
    #[must_use]
    pub fn lengths(&self, cutting: &Cutting) -> (ModelLength, ModelLength) {
        let said = cutting.stick.as_ref().map(Said::length);
        let bought = match self.taken() {
            Some(made) if made.sheet.is_some() || made.on_hand => made.length,
            Some(made) => said.unwrap_or(made.length),
            None => said.unwrap_or(ModelLength::inches(STICK_INCHES)),
        };
        (bought, bought - cutting.trim.as_ref().map_or(ModelLength::ZERO, Said::length))
    }

    fn thou(&self) -> f64 {
        self.model.width.in_thou()
    }
}

/// The stock of a whole job.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Choices {
    /// One for each section wanted.
    pub choices: Vec<Choice>,
}

impl Choices {
    /// The choice for a key such as `canopy-post` or `boards batten`.
    #[must_use]
    pub fn of(&self, key: &str) -> Option<&Choice> {
        self.choices.iter().find(|choice| choice.wanted.key == key)
    }
}

/// Picks stock for every section the job asks for.
///
/// `actual` gives the actual size of a nominal lumber size in the job's era.
/// Stock picked by hand in the job is taken, with a finding where the rules
/// would have done better.
#[must_use]
pub fn run(
    job: &Job,
    survey: &Survey,
    offers: &[Offer],
    actual: Actual<'_>,
    scale: &Scale,
) -> Outcome<Choices> {
    let seen_from = job
        .about
        .seen_from
        .as_ref()
        .map_or(ModelLength::inches(SEEN_FROM_INCHES), |said| said.length());
    let (wanted, mut findings) = wanted::wanted(job, survey, actual, scale);
    let choices: Vec<Choice> = wanted
        .into_iter()
        .map(|wanted| {
            let ask = Ask {
                wanted: wanted.full.reduce(scale),
                how: wanted.how,
                sigma: wanted.sigma.map(|sigma| scale.reduce(sigma)),
                seen_from,
                materials: liked(job, &wanted.key),
            };
            let mut choice = choose(wanted, &ask, offers);
            if let Some(picked) = job.picked.iter().find(|picked| is_for(picked, &choice.wanted)) {
                findings.extend(pick(&mut choice, &ask, offers, picked));
            }
            findings.extend(unmet(&choice));
            choice.pieces = pieces(&choice, offers);
            choice
        })
        .collect();
    findings.extend(pairs(&choices));
    Outcome { value: Choices { choices }, findings }
}

/// Members meant to be alike must come out alike, to two percent, even where
/// both are off: two posts, two casings.
const ALIKE: f64 = 0.02;

fn pairs(choices: &[Choice]) -> Vec<Finding> {
    let near = |a: Section<Model>, b: Section<Model>| {
        let like = |a: ModelLength, b: ModelLength| (a - b).abs() <= b * ALIKE;
        like(a.thickness, b.thickness) && like(a.width, b.width)
    };
    let mut found = Vec::new();
    for (at, one) in choices.iter().enumerate() {
        for other in &choices[at + 1..] {
            let (Some(a), Some(b)) = (one.taken(), other.taken()) else { continue };
            let meant = one.wanted.what == other.wanted.what && near(one.model, other.model);
            if meant && !near(a.gives, b.gives) {
                found.push(Finding::look(
                    Subject::Member(other.wanted.key.clone()),
                    format!(
                        "{} and {} are meant to be alike, and come from {} and {}",
                        one.wanted.key, other.wanted.key, a.stock, b.stock
                    ),
                    "pick one stock for both",
                ));
            }
        }
    }
    found
}

/// The materials liked for a section: under its key, under its first word (the
/// cladding or member), or for everything.
fn liked<'a>(job: &'a Job, key: &str) -> &'a [String] {
    let first = key.split(' ').next().unwrap_or(key);
    let found = [key, first, "all"].into_iter().find_map(|key| job.materials.get(key));
    found.map_or(&[], Vec::as_slice)
}

fn choose(wanted: Wanted, ask: &Ask<'_>, offers: &[Offer]) -> Choice {
    let ways = ways(ask, offers);
    let safe = |made: &Match| ask.how != Use::BesideTrack || made.verdict != Verdict::Refuse;
    let taken = ways.iter().position(safe);
    Choice { wanted, model: ask.wanted, ways, taken, picked: None, pieces: Vec::new() }
}

/// What is on the rack of the same material, form and size as the stock taken.
fn pieces(choice: &Choice, offers: &[Offer]) -> Vec<OnRack> {
    let Some(made) = choice.taken() else { return Vec::new() };
    let Some(like) = offers.iter().find(|offer| offer.name == made.stock) else {
        return Vec::new();
    };
    let is_like = |offer: &&Offer| offer.on_hand && offer.does_as_well_as(like);
    let piece = |offer: &Offer| OnRack {
        name: offer.name.clone(),
        width: offer.width(),
        length: offer.length,
        count: offer.count,
    };
    offers.iter().filter(is_like).map(piece).collect()
}

/// Whether a pick is for this section: by its key, or by the cladding's name
/// for its boards or strips.
fn is_for(picked: &PickedStock, wanted: &Wanted) -> bool {
    picked.member == wanted.key
        || ["board", "strip"].iter().any(|piece| wanted.key == format!("{} {piece}", picked.member))
}

fn pick(
    choice: &mut Choice,
    ask: &Ask<'_>,
    offers: &[Offer],
    picked: &PickedStock,
) -> Option<Finding> {
    let subject = Subject::Member(choice.wanted.key.clone());
    let Some(offer) = offers.iter().find(|offer| offer.name == picked.size) else {
        return Some(Finding::trouble(
            subject,
            format!("the stock \"{}\" picked for {} is not known", picked.size, choice.wanted.key),
            "write its name as the catalogue or the rack has it",
        ));
    };
    let ruled = choice.taken().cloned();
    let mut made = matching::from_offer(ask, offer);
    made.sort_by_key(|made| made.verdict);
    let made = made.into_iter().next()?;
    let at = choice.ways.iter().position(|way| way.stock == made.stock && way.way == made.way);
    let at = at.unwrap_or_else(|| {
        choice.ways.push(made.clone());
        choice.ways.len() - 1
    });
    choice.taken = Some(at);
    choice.picked = Some(picked.reason.clone());
    let ruled = ruled.filter(|ruled| ruled.verdict < made.verdict)?;
    Some(Finding::look(
        subject,
        format!(
            "{} picked for {} is {:+.0} thou out; {} is {:+.0}",
            made.stock,
            choice.wanted.key,
            made.worst().in_thou(),
            ruled.stock,
            ruled.worst().in_thou()
        ),
        "the pick stands; take it out of the job to go by the rules",
    ))
}

fn unmet(choice: &Choice) -> Option<Finding> {
    let subject = Subject::Member(choice.wanted.key.clone());
    let (thick, wide) = (choice.model.thickness.in_thou(), choice.model.width.in_thou());
    match choice.taken() {
        None => Some(Finding::look(
            subject,
            format!("no stock will do for {} ({thick:.0} x {wide:.0} thou)", choice.wanted.key),
            "enter your own rack, or sand a larger size",
        )),
        Some(made) if made.verdict == Verdict::Refuse && choice.picked.is_none() => {
            Some(Finding::look(
                subject,
                format!(
                    "the nearest stock for {} ({thick:.0} x {wide:.0} thou) is {:+.0} thou out",
                    choice.wanted.key,
                    made.worst().in_thou()
                ),
                "sand or scrape it, or enter your own rack",
            ))
        }
        Some(_) => None,
    }
}

#[cfg(test)]
mod tests;
