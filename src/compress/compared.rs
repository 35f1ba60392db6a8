//! What is compared beside the alternatives: length against cost, and the
//! building at other scales. Nothing is built from it, so that it can be worked
//! out beside the plan.

use std::hash::{DefaultHasher, Hash, Hasher};
use std::sync::Arc;

use super::curve::{self, Point};
use super::long::Asked;
use super::scales::{self, AtScale};
use crate::catalog::Catalog;
use crate::finding::Stop;
use crate::quantity::{PrototypeLength, Scale};
use crate::solve::watch::Standing;
use crate::survey::Survey;

/// Lengths looked at for the curve.
const CURVE: u32 = 16;

/// What is compared beside the alternatives.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Compared {
    /// The best for every length.
    pub curve: Vec<Point>,
    /// The building at several scales.
    pub scales: Vec<AtScale>,
}

/// What the comparison works from.
#[derive(Clone, Debug)]
pub struct Comparing {
    asked: Arc<Asked>,
    scales: Vec<Scale>,
    smallest: Option<(String, PrototypeLength)>,
}

impl Comparing {
    /// The question, with the scales found by name.
    ///
    /// # Errors
    ///
    /// Where the job names a scale that is not known.
    pub fn new(asked: Arc<Asked>, catalog: &Catalog, survey: &Survey) -> Result<Self, Stop> {
        let scales = scales::named(&asked.job, catalog, &asked.scale)?;
        Ok(Self { smallest: scales::smallest(&asked.job, survey), scales, asked })
    }

    /// A hash of all that the answer depends on.
    #[must_use]
    pub fn input(&self) -> u64 {
        let mut hash = DefaultHasher::new();
        format!("{self:?}").hash(&mut hash);
        hash.finish()
    }

    /// Works it out. What cannot be shortened at all has no curve.
    #[must_use]
    pub fn compare(&self) -> Compared {
        let curve = curve::trade_off(&self.asked, CURVE).unwrap_or_default();
        Compared {
            curve,
            scales: scales::scales(&self.asked, &self.scales, self.smallest.as_ref()),
        }
    }
}

impl Compared {
    /// Where the comparison stood when it ended.
    #[must_use]
    pub fn standing(&self) -> Standing {
        Standing {
            phase: "comparing lengths and scales",
            best: format!("{} lengths, {} scales", self.curve.len(), self.scales.len()),
            bound: String::new(),
        }
    }
}
