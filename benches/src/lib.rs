//! Made-up cases for the benches, the same on every run.

use scantling::catalog::Catalog;
use scantling::job::document::Document;

/// The shipped data.
///
/// # Panics
/// When it does not read, which its tests rule out.
#[must_use]
pub fn catalog() -> Catalog {
    Catalog::built_in().expect("the shipped data reads")
}

/// A job of that text.
///
/// # Panics
/// When the text is no job.
#[must_use]
pub fn document(name: &str, text: &str, catalog: &Catalog) -> Document {
    Document::read(name, text, catalog).expect("the text is a job")
}

/// Repeatable numbers (the 64-bit mixer of S. Vigna's SplitMix, from memory).
#[derive(Clone, Debug)]
pub struct Chance(u64);

impl Chance {
    /// The numbers that follow from a seed.
    #[must_use]
    pub fn new(seed: u64) -> Self {
        Self(seed)
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    /// A whole number below `limit`.
    pub fn below(&mut self, limit: usize) -> usize {
        (self.next() % limit as u64) as usize
    }

    /// A number between the two.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * (self.next() >> 11) as f64 / (1_u64 << 53) as f64
    }
}
