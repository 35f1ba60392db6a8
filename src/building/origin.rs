//! Where a size comes from: a value that carries its reasons.
//!
//! A size of the building is a reading, a figure the person took, a default of
//! a data row, a recorded choice, or a rule worked from other sizes. A rule is
//! a plain function of them, so that the chain can be worked again from its
//! ends: [`Origin::again`].

use std::sync::Arc;

use crate::job::said::Size;
use crate::quantity::{Compressed, Length, Model, Scale, Space};

/// A figure with its reasons. Lengths are in inches of their own space, ratios
/// and counts are plain.
#[derive(Debug)]
pub struct Origin {
    /// What it is, in words: `depth of leanto`.
    pub what: String,
    /// The figure.
    pub value: f64,
    /// Where it comes from.
    pub why: Why,
}

/// Where a figure comes from.
#[derive(Debug)]
pub enum Why {
    /// A size of the job: its readings, or the figure taken.
    Said(Size),
    /// Stated in the job, on the model or without a unit; as written.
    Stated(String),
    /// A default, with its source.
    Default(&'static str),
    /// A row of the data files, with its source.
    Row(String),
    /// The shortening decided it: the reason recorded, or none yet.
    Chosen(String),
    /// A rule, in words, worked from other figures.
    Rule {
        /// The rule.
        rule: &'static str,
        /// What it is worked from.
        of: Vec<Arc<Origin>>,
        /// How.
        work: Work,
    },
}

/// A rule on plain figures: inches of full size, ratios, counts.
pub type Work = fn(&[f64]) -> f64;

impl PartialEq for Origin {
    /// Whether two figures are of one thing and the same.
    fn eq(&self, other: &Self) -> bool {
        self.what == other.what && self.value.total_cmp(&other.value).is_eq()
    }
}

impl Origin {
    /// The figure worked again from the ends of the chain.
    #[must_use]
    pub fn again(&self) -> f64 {
        match &self.why {
            Why::Rule { of, work, .. } => {
                let figures: Vec<f64> = of.iter().map(|origin| origin.again()).collect();
                work(&figures)
            }
            _ => self.value,
        }
    }

    /// Calls back for every end of the chain, left to right.
    pub fn ends<'a>(&'a self, take: &mut dyn FnMut(&'a Self)) {
        match &self.why {
            Why::Rule { of, .. } => of.iter().for_each(|origin| origin.ends(take)),
            _ => take(self),
        }
    }

    /// A plain figure.
    #[must_use]
    pub fn plain(what: impl Into<String>, value: f64, why: Why) -> Arc<Self> {
        Arc::new(Self { what: what.into(), value, why })
    }

    /// A figure by a rule.
    #[must_use]
    pub fn rule(
        what: impl Into<String>,
        rule: &'static str,
        of: &[&Arc<Self>],
        work: Work,
    ) -> Arc<Self> {
        let figures: Vec<f64> = of.iter().map(|origin| origin.value).collect();
        let value = work(&figures);
        let of = of.iter().map(|origin| Arc::clone(origin)).collect();
        Self::plain(what, value, Why::Rule { rule, of, work })
    }
}

/// A length that knows where it comes from.
#[derive(Clone, Debug)]
pub struct Sized<S: Space> {
    /// The length.
    pub length: Length<S>,
    /// Its chain.
    pub origin: Arc<Origin>,
}

impl<S: Space> Sized<S> {
    /// A length of an origin counted in inches.
    #[must_use]
    pub fn of(origin: Arc<Origin>) -> Self {
        Self { length: Length::inches(origin.value), origin }
    }

    /// A length by a rule from other figures.
    #[must_use]
    pub fn rule(
        what: impl Into<String>,
        rule: &'static str,
        of: &[&Arc<Origin>],
        work: Work,
    ) -> Self {
        Self::of(Origin::rule(what, rule, of, work))
    }
}

impl<S: Space> PartialEq for Sized<S> {
    fn eq(&self, other: &Self) -> bool {
        self.length == other.length
    }
}

impl Sized<Model> {
    /// A model length at full size.
    #[must_use]
    pub fn enlarged(&self, scale: &Scale) -> Sized<Compressed> {
        let full: Length<Compressed> = scale.enlarge(Length::<Model>::inches(1.0));
        let ratio = Origin::plain("scale", full.in_inches(), Why::Stated(scale.name.to_string()));
        Sized::rule(
            self.origin.what.clone(),
            "the size on the model at full size",
            &[&self.origin, &ratio],
            |of| of[0] * of[1],
        )
    }
}
