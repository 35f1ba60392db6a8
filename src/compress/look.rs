//! What counts in the look of this building: the shipped features with the
//! job's own tolerances and weights over them.

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
            if !sound(own.tau, 1e-6) || !sound(own.weight, 0.0) {
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

    /// The line of a ratio, of `what` where it needs saying.
    pub(crate) fn ratio(&self, key: &str, of: &str, original: f64, now: f64) -> Option<Line> {
        let row = self.get(key)?;
        if !(original > 0.0 && now > 0.0) {
            return None;
        }
        Some(line(row, of, Some((original, now)), (now / original).ln() / self.tau(key, original)))
    }

    /// The line of a difference or share against its tolerance.
    pub(crate) fn apart(&self, key: &str, original: f64, now: f64) -> Option<Line> {
        let row = self.get(key)?;
        let z = (now - original) / self.tau(key, original);
        Some(line(row, "", Some((original, now)), z))
    }

    /// The line of a yes-or-no feature that holds.
    pub(crate) fn holds(&self, key: &str, of: &str) -> Option<Line> {
        let row = self.get(key)?;
        Some(line(row, of, None, row.z.unwrap_or(1.0)))
    }

    /// The tolerance of a feature whose original figure is this.
    pub(crate) fn tau(&self, key: &str, original: f64) -> f64 {
        let row = self.features.iter().find(|row| row.key == key);
        row.map_or(1.0, |row| {
            let tau = row.tau.unwrap_or(1.0);
            if original <= FEW + 0.5 { row.tau_few.unwrap_or(tau) } else { tau }
        })
    }

    /// Features of this job that the widths are not found for.
    pub(crate) fn judged_after(&self) -> Vec<&'static str> {
        const AFTER: [&str; 2] = ["spacing", "silhouette"];
        AFTER.into_iter().filter(|key| self.weight(key) > 0.0).collect()
    }

    /// The weight of a feature; none where it does not count.
    pub(crate) fn weight(&self, key: &str) -> f64 {
        self.get(key).map_or(0.0, |row| row.weight)
    }
}

fn line(row: &Feature, of: &str, figures: Option<(f64, f64)>, z: f64) -> Line {
    let what = if of.is_empty() { row.name.clone() } else { format!("{}, {of}", row.name) };
    Line {
        feature: row.key.clone(),
        what,
        original: figures.map(|(original, _)| original),
        now: figures.map(|(_, now)| now),
        z,
        weight: row.weight,
        cost: row.weight * ((1.0 + z * z).sqrt() - 1.0),
    }
}
