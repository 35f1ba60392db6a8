//! A value with its standard uncertainty and the readings it rests on.

pub mod budget;
pub mod mean;

/// A value that is known to within a standard uncertainty.
#[derive(Clone, Debug, PartialEq)]
pub struct Estimate<T> {
    /// The best value.
    pub value: T,
    /// One standard uncertainty, in the unit and space of the value.
    pub sigma: T,
    /// Ids of the readings it rests on, so that sizes from one source can be
    /// told to be tied together.
    pub sources: Vec<String>,
}

impl<T> Estimate<T> {
    /// An estimate with its sources.
    pub fn new(value: T, sigma: T, sources: Vec<String>) -> Self {
        Self { value, sigma, sources }
    }
}
