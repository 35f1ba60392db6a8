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
pub mod curve;
mod findings;
mod fit;
mod kinds;
pub mod limits;
mod look;
mod roof;
mod score;
mod search;
mod snap;
mod tally;
#[cfg(test)]
mod tests;
mod words;

use std::collections::BTreeMap;

pub use alternative::{Alternative, Exact, Standing};
pub use choice::choice_of;
pub use look::Line;
pub use tally::LEAST_SHARE;

use self::case::Case;
use self::limits::Limits;
use self::tally::Item;
use crate::catalog::Catalog;
use crate::elevation::{Body, Elevation, Faces};
use crate::finding::{Outcome, Staged, Stop};
use crate::job::Job;
use crate::job::place::{Choice, RoofFollows};
use crate::quantity::{Compressed, CompressedLength, ModelLength, Scale};
use crate::site::{Clearance, Placement};

/// The building that will be built: the chosen alternative laid out.
#[derive(Clone, Debug, PartialEq)]
pub struct Built {
    /// Its body.
    pub body: Body<Compressed>,
    /// How the roof follows the depth.
    pub roof: RoofFollows,
    /// Its faces, in the order of the job.
    pub faces: Vec<Elevation<Compressed>>,
}

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
    /// Whether one end is slanted to the edge of the site.
    pub wedge: bool,
}

impl Decision {
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

/// The place of what is built on its ground.
#[derive(Clone, Debug, PartialEq)]
pub struct Standpoint {
    /// The longest front the ground takes at the depth built.
    pub longest: CompressedLength,
    /// Where that front stands, model inches on the outline.
    pub placement: Option<Placement>,
    /// The track's clearances, where there is a track.
    pub clearance: Option<Clearance>,
}

/// What the compression stage hands on.
#[derive(Clone, Debug, PartialEq)]
pub struct Compression {
    /// What the space allows.
    pub limits: Limits,
    /// Where the building stands on its ground, where the job has one.
    pub ground: Option<Standpoint>,
    /// The alternatives, cheapest first; not all of them are offered.
    pub alternatives: Vec<Alternative>,
    /// Which of them is built.
    pub chosen: usize,
    /// Whether the person chose it; otherwise it is only the first.
    pub is_chosen: bool,
    /// What is built.
    pub built: Built,
    /// Whether every count was searched.
    pub complete: bool,
    /// Counts worked out in full.
    pub steps: usize,
}

impl Compression {
    /// The alternative that is built.
    #[must_use]
    pub fn chosen(&self) -> &Alternative {
        &self.alternatives[self.chosen]
    }
}

/// Finds the alternatives and builds the one chosen.
///
/// # Errors
///
/// Where the space leaves nothing, a bound or count cannot be met, the look
/// names what is no feature, or no alternative fits: then with the shortest that
/// would and the rule that binds.
pub fn run(job: &Job, catalog: &Catalog, faces: &Faces, scale: &Scale) -> Staged<Compression> {
    run_while(job, catalog, faces, scale, &mut |_| true)
}

/// [`run`], told now and then how many counts are worked out; it stops searching
/// when `go_on` says no and keeps the best so far.
///
/// # Errors
///
/// As [`run`].
pub fn run_while(
    job: &Job,
    catalog: &Catalog,
    faces: &Faces,
    scale: &Scale,
    go_on: &mut dyn FnMut(usize) -> bool,
) -> Staged<Compression> {
    let case = Case::new(job, catalog, faces, scale)?;
    let found = kinds::all(&case, go_on);
    let mut alternatives = found.alternatives;
    let chosen = match &job.choice {
        Some(choice) => choice::adopt(&case, choice, &mut alternatives)?,
        None => alternatives
            .iter()
            .position(Alternative::is_offered)
            .ok_or_else(|| kinds::nothing_fits(&case))?,
    };
    let Some(decision) = alternatives.get(chosen).and_then(|it| it.decision.as_ref()) else {
        return Err(kinds::nothing_fits(&case));
    };
    let (built, mut noticed) = build::build(&case, decision);
    noticed.extend(findings::all(&case, &alternatives[chosen], &built, job.choice.is_some()));
    let value = Compression {
        limits: case.limits,
        ground: standpoint(&case, decision),
        alternatives,
        chosen,
        is_chosen: job.choice.is_some(),
        built,
        complete: found.complete,
        steps: found.steps,
    };
    Ok(Outcome { value, findings: noticed })
}

fn standpoint(case: &Case<'_>, decision: &Decision) -> Option<Standpoint> {
    let ground = case.ground.as_ref()?;
    let depth = if decision.wedge { CompressedLength::ZERO } else { decision.depth };
    let placement = ground.ground.longest_front(case.scale.reduce(depth).in_inches());
    let front = ModelLength::inches(placement.map_or(0.0, |placed| placed.front));
    Some(Standpoint { longest: case.scale.enlarge(front), placement, clearance: ground.clearance })
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
    let case = Case::new(job, catalog, faces, scale)?;
    Ok(score::score(&case, &choice::decision(&case, stated)?))
}
