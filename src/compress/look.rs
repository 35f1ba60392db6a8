//! What counts in the look of this building: the shipped features with the
//! job's own tolerances and weights over them.

use super::terms::{Moved, Term};
use crate::catalog::look::{Feature, Look as Shipped, Measure};
use crate::finding::Stop;
use crate::job::place::Look;

/// Features that are scored wherever they hold, named in the job or not: to
/// leave them out would make a changed roof look free.
const ALWAYS: &[&str] = &["pitch", "half-relief", "flat", "wedge", "storey", "edge", "behind"];
/// Features that are scored only where the job names them.
const ON_REQUEST: &[&str] = &["length", "spacing", "silhouette"];
/// Originals up to this count are known at a glance.
const FEW: f64 = 4.0;

/// The smallest tolerance that can be divided by.
const LEAST_TAU: f64 = 1e-6;

/// The features of one job.
#[derive(Clone, Debug)]
pub(crate) struct Rules {
    features: Vec<Feature>,
    named: Vec<String>,
}

/// One line of the look cost.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// The feature, a key of `data/look.toml`.
    pub feature: String,
    /// What it is, in words.
    pub what: String,
    /// The prototype's figure; nothing for yes-or-no features.
    pub original: Option<f64>,
    /// The figure now; nothing for yes-or-no features.
    pub now: Option<f64>,
    /// How far it is from the original, in tolerances.
    pub z: f64,
    /// Its weight.
    pub weight: f64,
    /// What it costs.
    pub cost: f64,
}

impl Rules {
    /// The features of a job.
    ///
    /// # Errors
    ///
    /// Where the job names a feature that is not known, or gives a tolerance or
    /// weight that cannot be.
    pub(crate) fn new(shipped: &Shipped, look: &Look) -> Result<Self, Stop> {
        let unknown = |key: &str| {
            Stop::new(
                "weighing the look",
                format!("\"{key}\" is no feature"),
                "see data/look.toml for those there are",
            )
        };
        let mut features = shipped.rows.clone();
        for own in &look.weights {
            let row = (features.iter_mut())
                .find(|row| row.key == own.feature)
                .ok_or_else(|| unknown(&own.feature))?;
            let sound = |value: Option<f64>, least: f64| {
                value.is_none_or(|value| value.is_finite() && value >= least)
            };
            if !sound(own.tau, LEAST_TAU) || !sound(own.weight, 0.0) {
                return Err(Stop::new(
                    format!("weighing the feature \"{}\"", own.feature),
                    "a tolerance must be above zero and a weight not below it",
                    "leave them out to take those of data/look.toml",
                ));
            }
            row.weight = own.weight.unwrap_or(row.weight);
            match row.measure {
                Measure::YesNo => row.z = own.tau.or(row.z),
                _ => {
                    row.tau = own.tau.or(row.tau);
                    row.tau_few = if own.tau.is_some() { None } else { row.tau_few };
                }
            }
        }
        if let Some(key) = look.features.iter().find(|key| shipped.get(key).is_none()) {
            return Err(unknown(key));
        }
        Ok(Self { features, named: look.features.clone() })
    }

    /// The feature, where it counts in this job.
    pub(crate) fn get(&self, key: &str) -> Option<&Feature> {
        let counts = ALWAYS.contains(&key)
            || if self.named.is_empty() {
                !ON_REQUEST.contains(&key)
            } else {
                self.named.iter().any(|named| named == key)
            };
        self.features.iter().find(|row| counts && row.key == key)
    }

    /// The term of a feature, where it counts and the original has such a figure:
    /// `of` what, where it needs saying.
    pub(super) fn term(&self, key: &str, of: &str, original: f64, moved: Moved) -> Option<Term> {
        let row = self.get(key)?;
        if row.measure == Measure::Ratio && original <= 0.0 {
            return None;
        }
        let few = row.counts_things() && original <= FEW + 0.5;
        let tau = if few { row.tau_few.or(row.tau) } else { row.tau };
        let tolerance = if row.measure == Measure::YesNo { row.z } else { tau };
        Some(Term {
            feature: row.key.clone(),
            what: if of.is_empty() { row.name.clone() } else { format!("{}, {of}", row.name) },
            measure: row.measure,
            tolerance: tolerance.unwrap_or(1.0),
            weight: row.weight,
            original,
            moved,
        })
    }

    /// The term of a yes-or-no feature that holds.
    pub(super) fn holds(&self, key: &str, of: &str, moved: Moved) -> Option<Term> {
        self.term(key, of, 0.0, moved)
    }
}
