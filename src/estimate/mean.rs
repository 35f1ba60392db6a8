//! The mean of independent estimates of one quantity.

/// Inverse-variance mean of estimates, and how well they agree.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mean {
    /// The mean.
    pub value: f64,
    /// Its standard uncertainty.
    pub sigma: f64,
    /// Squared distances from it over the variances.
    pub chi_square: f64,
    /// One less than the estimates.
    pub degrees: usize,
}

impl Mean {
    /// The mean of values with their standard uncertainties, each weighted by
    /// the inverse of its variance; nothing without estimates or where one
    /// has no sigma above zero.
    #[must_use]
    pub fn of(estimates: &[(f64, f64)]) -> Option<Self> {
        let sound = estimates.iter().all(|(value, sigma)| value.is_finite() && *sigma > 0.0);
        if estimates.is_empty() || !sound {
            return None;
        }
        let weights = || estimates.iter().map(|(value, sigma)| (value, 1.0 / (sigma * sigma)));
        let sum: f64 = weights().map(|(_, weight)| weight).sum();
        let value = weights().map(|(value, weight)| value * weight).sum::<f64>() / sum;
        let chi_square = weights().map(|(each, weight)| (each - value).powi(2) * weight).sum();
        Some(Self { value, sigma: sum.sqrt().recip(), chi_square, degrees: estimates.len() - 1 })
    }

    /// The root of chi-square over its degrees (R. T. Birge); nothing for one
    /// estimate alone.
    #[must_use]
    pub fn birge(&self) -> Option<f64> {
        (self.degrees > 0).then(|| (self.chi_square / self.degrees as f64).sqrt())
    }
}
