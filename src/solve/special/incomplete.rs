//! The incomplete gamma and beta functions.

const TINY: f64 = 1e-300;
const CLOSE: f64 = 1e-16;
const TERMS: u32 = 2000;

/// The logarithm of gamma, for a value above zero.
pub(super) fn ln_gamma(x: f64) -> f64 {
    const LEAD: f64 = 0.999_999_999_999_809_9;
    const TERMS: [f64; 8] = [
        676.520_368_121_885_1,
        -1_259.139_216_722_402_8,
        771.323_428_777_653_1,
        -176.615_029_162_140_6,
        12.507_343_278_686_905,
        -0.138_571_095_265_720_12,
        9.984_369_578_019_572e-6,
        1.505_632_735_149_311_6e-7,
    ];
    let x = x - 1.0;
    let mut place = x;
    let series = TERMS.iter().fold(LEAD, |sum, term| {
        place += 1.0;
        sum + term / place
    });
    let t = x + 7.5;
    0.5 * (2.0 * std::f64::consts::PI).ln() + (x + 0.5) * t.ln() - t + series.ln()
}

/// The regularized incomplete gamma function: its part below `x` and the part
/// above.
pub(super) fn gamma_part(a: f64, x: f64) -> (f64, f64) {
    if x <= 0.0 {
        return (0.0, 1.0);
    }
    let front = (a * x.ln() - x - ln_gamma(a)).exp();
    if x < a + 1.0 {
        let below = (front * gamma_series(a, x)).clamp(0.0, 1.0);
        (below, 1.0 - below)
    } else {
        let above = (front * gamma_fraction(a, x)).clamp(0.0, 1.0);
        (1.0 - above, above)
    }
}

fn gamma_series(a: f64, x: f64) -> f64 {
    let (mut term, mut sum, mut at) = (1.0 / a, 1.0 / a, a);
    for _ in 0..TERMS {
        at += 1.0;
        term *= x / at;
        sum += term;
        if term < CLOSE * sum {
            break;
        }
    }
    sum
}

fn gamma_fraction(a: f64, x: f64) -> f64 {
    let mut b = x + 1.0 - a;
    let mut c = 1.0 / TINY;
    let mut d = 1.0 / b;
    let mut value = d;
    for i in 1..TERMS {
        let step = f64::from(i);
        let an = -step * (step - a);
        b += 2.0;
        d = 1.0 / away(an * d + b);
        c = away(b + an / c);
        value *= d * c;
        if (d * c - 1.0).abs() < CLOSE {
            break;
        }
    }
    value
}

/// The regularized incomplete beta function.
pub(super) fn beta_part(a: f64, b: f64, x: f64) -> f64 {
    if x <= 0.0 {
        return 0.0;
    }
    if x >= 1.0 {
        return 1.0;
    }
    let front = (ln_gamma(a + b) - ln_gamma(a) - ln_gamma(b) + a * x.ln() + b * (-x).ln_1p()).exp();
    if x < (a + 1.0) / (a + b + 2.0) {
        front * beta_fraction(a, b, x) / a
    } else {
        1.0 - front * beta_fraction(b, a, 1.0 - x) / b
    }
}

fn beta_fraction(a: f64, b: f64, x: f64) -> f64 {
    let mut c = 1.0;
    let mut d = 1.0 / away(1.0 - (a + b) * x / (a + 1.0));
    let mut value = d;
    for i in 1..TERMS {
        let m = f64::from(i);
        let even = m * (b - m) * x / ((a + 2.0 * m - 1.0) * (a + 2.0 * m));
        d = 1.0 / away(1.0 + even * d);
        c = away(1.0 + even / c);
        value *= d * c;
        let odd = -(a + m) * (a + b + m) * x / ((a + 2.0 * m) * (a + 2.0 * m + 1.0));
        d = 1.0 / away(1.0 + odd * d);
        c = away(1.0 + odd / c);
        value *= d * c;
        if (d * c - 1.0).abs() < CLOSE {
            break;
        }
    }
    value
}

/// The value, kept away from zero.
fn away(value: f64) -> f64 {
    if value.abs() < TINY { TINY } else { value }
}
