//! Dimensions and space -> alternatives -> compressed dimensions.
//!
//! A decision is a number for each repeated element, a width for each element
//! that may stretch, a depth and a roof. [`run`] searches the decisions that fit
//! the space, scores each by the look cost of [`Lines`], keeps the best of each
//! kind, and builds the one chosen in the job, or the first.
//!
//! Hard rules are never traded: what people touch stays full size, bounds and
//! the space hold. An alternative that would break one is scored and shown, and
//! says which; it is not offered.

mod alternative;
mod build;
mod case;
mod choice;
pub mod compared;
pub mod curve;
mod findings;
mod fit;
mod kind;
mod kinds;
pub mod limits;
pub mod long;
mod look;
pub mod measured;
mod needs;
pub mod record;
mod roof;
pub mod scales;
mod score;
mod search;
mod snap;
mod stand;
mod storeys;
mod tally;
mod terms;
#[cfg(test)]
mod tests;
mod words;

use std::collections::BTreeMap;

pub use alternative::{Alternative, Beyond, Exact, Standing};
pub use choice::choice_of;
pub use kind::{Along, AlternativeKind, Beside};
pub use look::Line;
pub use needs::Needs;
pub use stand::{Standpoint, Taken};
pub use tally::LEAST_SHARE;

use self::case::Case;
use self::limits::Limits;
use self::roof::Roofed;
use self::tally::Item;
use crate::building::Scheme;
use crate::catalog::Catalog;
use crate::catalog::look::Look;
use crate::elevation::{Built, Faces, SetHeights};
use crate::finding::{Finding, Outcome, Staged, Stop, Subject};
use crate::job::Job;
use crate::job::place::{Choice, RoofFollows};
use crate::quantity::{CompressedLength, Scale};

/// What is decided: everything else of the building follows.
#[derive(Clone, Debug, PartialEq)]
pub struct Decision {
    /// Repeats kept, by element name; `face/element` away from the front.
    pub counts: BTreeMap<String, u32>,
    /// Width of every element that may stretch, named likewise.
    pub widths: BTreeMap<String, CompressedLength>,
    /// Depth as built.
    pub depth: CompressedLength,
    /// How the roof follows it.
    pub roof: RoofFollows,
    /// Storeys kept, by name; all of those not named.
    pub storeys: BTreeMap<String, u32>,
    /// What else is done to its plan.
    pub shape: Shape,
    /// Heights set by hand.
    pub set: SetHeights,
}

impl Decision {
    /// The depth with its roof.
    pub(crate) fn roofed(&self) -> Roofed {
        Roofed { depth: self.depth, roof: self.roof }
    }
}

/// What is done to the plan of a building beside its length and depth.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Shape {
    /// Nothing: four square corners.
    #[default]
    Square,
    /// One end slants to the edge of the ground.
    Wedge,
    /// It runs off the edge of the scene at this distance from the left corner.
    SceneEdge(CompressedLength),
    /// Behind the front everything stands at a smaller ratio, so that the whole
    /// depth comes into the space.
    SmallerBehind,
}

impl Decision {
    /// Whether one end is slanted to the edge of the site.
    #[must_use]
    pub fn is_wedge(&self) -> bool {
        self.shape == Shape::Wedge
    }

    /// Width of an element, inches; its own where nothing is decided.
    fn width(&self, item: &Item) -> f64 {
        self.widths.get(&item.key).map_or(item.original, |width| width.in_inches())
    }
}

/// The look cost of a decision, line by line.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Lines(pub Vec<Line>);

impl Lines {
    /// The cost as one number; the lines say more.
    #[must_use]
    pub fn total(&self) -> f64 {
        self.0.iter().map(|line| line.cost).sum()
    }
}

/// What the compression stage hands on.
#[derive(Clone, Debug, PartialEq)]
pub struct Compression {
    /// What the space allows.
    pub limits: Limits,
    /// Where the building stands on its ground, where the job has one.
    pub ground: Option<Standpoint>,
    /// The alternatives, cheapest first, those that are only shown behind the rest;
    /// not all of the rest are offered.
    pub alternatives: Vec<Alternative>,
    /// Which of them is built.
    pub chosen: usize,
    /// Whether the person chose it; otherwise it is only the first.
    pub is_chosen: bool,
    /// What is built.
    pub built: Built,
    /// Whether every count was searched.
    pub complete: bool,
    /// Features of this job that are judged only after the widths are found, so
    /// that nothing is proven about them.
    pub judged_after: Vec<&'static str>,
    /// Ranges of counts looked at.
    pub steps: usize,
}

impl Compression {
    /// Whether no other counts or widths can cost less, before rounding.
    #[must_use]
    pub fn is_proven(&self) -> bool {
        self.complete && self.judged_after.is_empty()
    }

    /// The alternative that is built.
    #[must_use]
    pub fn chosen(&self) -> &Alternative {
        &self.alternatives[self.chosen]
    }
}

/// Ranges of counts that a quick answer looks at in each search; [`long`] goes on.
const QUICK: usize = 1000;

/// Finds the alternatives and builds the one chosen.
///
/// # Errors
///
/// Where the space leaves nothing, a bound or count cannot be met, the look
/// names what is no feature, or no alternative fits: then with the shortest that
/// would and the rule that binds.
pub fn run(
    job: &Job,
    catalog: &Catalog,
    standing: (&Faces, &Scheme),
    scale: &Scale,
) -> Staged<Compression> {
    settle(&Case::new(job, &catalog.look, standing, scale, QUICK)?, &mut |_| true)
}

/// The alternatives of a case, and what is built; `go_on` may end the search.
fn settle(case: &Case<'_>, go_on: &mut dyn FnMut(usize) -> bool) -> Staged<Compression> {
    let job = case.job;
    let found = kinds::all(case, go_on);
    let mut alternatives = found.alternatives;
    let chosen = match &job.choice {
        Some(choice) => choice::adopt(case, choice, &mut alternatives)?,
        None => offered(case, &mut alternatives)?,
    };
    let Some(decision) = alternatives.get(chosen).and_then(|it| it.decision.as_ref()) else {
        return Err(kinds::nothing_fits(case));
    };
    let (built, mut noticed) = build::build(case, decision);
    if let Standing::DoesNotFit(why) = &alternatives[chosen].standing {
        noticed.push(Finding::trouble(
            Subject::Job,
            format!("the building does not fit its place: {why}"),
            "find a larger place, or give the front a `row`: what may shrink is read from it",
        ));
    }
    noticed.extend(findings::all(case, &alternatives[chosen], &built, job.choice.is_some()));
    let value = Compression {
        limits: case.limits,
        ground: stand::standpoint(case, decision, &built.body)?,
        alternatives,
        chosen,
        is_chosen: job.choice.is_some(),
        built,
        complete: found.complete,
        judged_after: terms::judged_after(case),
        steps: found.steps,
    };
    Ok(Outcome { value, findings: noticed })
}

/// The cheapest alternative that can be built; of a building that nothing may be
/// taken from, the building as it stands.
fn offered(case: &Case<'_>, alternatives: &mut Vec<Alternative>) -> Result<usize, Stop> {
    if let Some(first) = alternatives.iter().position(Alternative::is_offered) {
        return Ok(first);
    }
    let whole = kinds::as_it_stands(case).ok_or_else(|| kinds::nothing_fits(case))?;
    alternatives.push(whole);
    Ok(alternatives.len() - 1)
}

/// The cheapest alternative that can be built.
///
/// # Errors
///
/// As [`run`].
pub(crate) fn first(
    job: &Job,
    look: &Look,
    standing: (&Faces, &Scheme),
    scale: &Scale,
) -> Result<Alternative, Stop> {
    let case = Case::new(job, look, standing, scale, QUICK / 4)?;
    let found = kinds::all(&case, &mut |_| true).alternatives;
    found.into_iter().find(Alternative::is_offered).ok_or_else(|| kinds::nothing_fits(&case))
}

/// The look cost of stated dimensions, within the space or not.
///
/// # Errors
///
/// As [`run`], and where the choice names what the faces do not have.
pub fn score_stated(
    job: &Job,
    catalog: &Catalog,
    faces: &Faces,
    scale: &Scale,
    stated: &Choice,
) -> Result<Lines, Stop> {
    // The space does not count, so nothing has to stand anywhere.
    let nowhere = Scheme::default();
    let case = Case::new(job, &catalog.look, (faces, &nowhere), scale, 0)?;
    Ok(score::score(&case, &choice::decision(&case, stated)?))
}
