//! Random numbers that are the same in every run.

/// Numbers that are the same in every run (a linear congruential generator of
/// Knuth's, from memory).
pub(crate) struct Numbers(u64);

impl Numbers {
    pub(crate) fn of(first: u64) -> Self {
        let mut numbers = Self(first.wrapping_mul(0x9e37_79b9_7f4a_7c15) ^ 20_261_127);
        numbers.share();
        numbers.share();
        numbers
    }

    pub(crate) fn share(&mut self) -> f64 {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// A length on half inches.
    pub(crate) fn between(&mut self, low: f64, high: f64) -> f64 {
        ((low + (high.max(low) - low) * self.share()) * 2.0).round() / 2.0
    }

    pub(crate) fn one_in(&mut self, many: u32) -> bool {
        self.share() * f64::from(many) < 1.0
    }

    pub(crate) fn pick<T: Copy>(&mut self, of: &[T]) -> T {
        of[((self.share() * of.len() as f64) as usize).min(of.len() - 1)]
    }
}
