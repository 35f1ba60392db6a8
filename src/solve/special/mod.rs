//! Distributions: normal, chi-square, Student's t.
//!
//! All rest on the incomplete gamma and beta functions, by series and
//! continued fraction (modified Lentz). Sources: M. Abramowitz and I. A.
//! Stegun, *Handbook of Mathematical Functions*, 6.5, 26.2, 26.4, 26.7; the
//! coefficients of the logarithm of gamma are those of C. Lanczos with g = 7
//! and nine terms. From memory, checked against printed critical values.

mod incomplete;

#[cfg(test)]
mod tests;

use incomplete::{beta_part, gamma_part};

/// Probability that a standard normal variable is below `z`.
#[must_use]
pub fn normal_cdf(z: f64) -> f64 {
    let tail = gamma_part(0.5, z * z / 2.0).1 / 2.0;
    if z > 0.0 { 1.0 - tail } else { tail }
}

/// The value a standard normal variable is below with probability `p`.
#[must_use]
pub fn normal_quantile(p: f64) -> f64 {
    if p < 0.5 {
        return -normal_quantile(1.0 - p);
    }
    two_sided_normal(2.0 * (1.0 - p))
}

/// The size a standard normal variable exceeds, on either side, with
/// probability `p`: 3.2905 for 0.001.
#[must_use]
pub fn two_sided_normal(p: f64) -> f64 {
    chi_square_limit(p, 1.0).sqrt()
}

/// Probability that chi-square on so many degrees is above `value`.
#[must_use]
pub fn chi_square_tail(value: f64, degrees: f64) -> f64 {
    if value <= 0.0 { 1.0 } else { gamma_part(degrees / 2.0, value / 2.0).1 }
}

/// The value that chi-square on so many degrees is above with probability `p`.
#[must_use]
pub fn chi_square_limit(p: f64, degrees: f64) -> f64 {
    falling(p, |value| chi_square_tail(value, degrees))
}

/// Probability that Student's t on so many degrees is, on either side, beyond
/// `value`.
#[must_use]
pub fn t_two_sided(value: f64, degrees: f64) -> f64 {
    beta_part(degrees / 2.0, 0.5, degrees / (degrees + value * value))
}

/// The size that Student's t on so many degrees exceeds, on either side, with
/// probability `p`: 2.921 for 0.01 on 16.
#[must_use]
pub fn t_limit(p: f64, degrees: f64) -> f64 {
    falling(p, |value| t_two_sided(value, degrees))
}

/// Where a function that falls from 1 at zero to 0 comes down to `p`, by
/// bisection.
fn falling(p: f64, tail: impl Fn(f64) -> f64) -> f64 {
    if p >= 1.0 {
        return 0.0;
    }
    if p.is_nan() || p <= 0.0 {
        return f64::INFINITY;
    }
    let (mut low, mut high) = (0.0, 1.0);
    while tail(high) > p && high < 1e300 {
        (low, high) = (high, high * 2.0);
    }
    while high - low > 1e-14 * high {
        let middle = low + (high - low) / 2.0;
        if middle <= low || middle >= high {
            break;
        }
        if tail(middle) > p {
            low = middle;
        } else {
            high = middle;
        }
    }
    low + (high - low) / 2.0
}
