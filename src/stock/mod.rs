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

pub(crate) use accumulate::nearest_whole;
pub use accumulate::{Accumulated, accumulate, redistribute};
pub use matching::{Ask, Match, Way, ways};
pub use offer::{Offer, OfferForm};
pub use rules::{Use, Verdict, judge, lone, minute_of_arc, on_edge};
pub use section::Section;
pub use wanted::{Actual, Wanted, wanted};

use crate::finding::{Finding, Outcome, Subject};
use crate::job::Job;
use crate::job::building::PickedStock;
use crate::quantity::{Model, ModelLength, Scale};
use crate::survey::Survey;

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
    let choices = wanted
        .into_iter()
        .map(|wanted| {
            let ask = Ask {
                wanted: wanted.full.reduce(scale),
                how: wanted.how,
                sigma: wanted.sigma.map(|sigma| scale.reduce(sigma)),
                seen_from,
            };
            let mut choice = choose(wanted, &ask, offers);
            if let Some(picked) = job.picked.iter().find(|picked| is_for(picked, &choice.wanted)) {
                findings.extend(pick(&mut choice, &ask, offers, picked));
            }
            findings.extend(unmet(&choice));
            choice
        })
        .collect();
    Outcome { value: Choices { choices }, findings }
}

fn choose(wanted: Wanted, ask: &Ask, offers: &[Offer]) -> Choice {
    let ways = ways(ask, offers);
    let safe = |made: &Match| ask.how != Use::BesideTrack || made.verdict != Verdict::Refuse;
    let taken = ways.iter().position(safe);
    Choice { wanted, model: ask.wanted, ways, taken, picked: None }
}

/// Whether a pick is for this section: by its key, or by the cladding's name
/// for its boards or strips.
fn is_for(picked: &PickedStock, wanted: &Wanted) -> bool {
    picked.member == wanted.key
        || ["board", "strip"].iter().any(|piece| wanted.key == format!("{} {piece}", picked.member))
}

fn pick(choice: &mut Choice, ask: &Ask, offers: &[Offer], picked: &PickedStock) -> Option<Finding> {
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
