//! Repeatable chance: a 64-bit generator with a fixed seed.

/// A multiply-and-shift generator over a Weyl sequence (Steele, Lea and Flood
/// 2014, "Fast splittable pseudorandom number generators").
#[derive(Clone, Debug)]
pub(super) struct Chance(u64);

impl Chance {
    pub(super) fn new(seed: u64) -> Self {
        Self(seed)
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        mixed ^ (mixed >> 31)
    }

    /// A whole number below `count`, which must not be 0.
    #[allow(clippy::cast_possible_truncation)] // below `count`, a usize
    pub(super) fn below(&mut self, count: usize) -> usize {
        ((u128::from(self.next()) * count as u128) >> 64) as usize
    }

    /// A number from 0 to 1.
    #[allow(clippy::cast_precision_loss)] // 53 bits are exact
    pub(super) fn unit(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1_u64 << 53) as f64
    }
}
