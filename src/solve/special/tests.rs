use super::*;

fn near(found: f64, wanted: f64, slack: f64) {
    assert!((found - wanted).abs() <= slack, "found {found}, wanted {wanted}");
}

#[test]
fn known_points() {
    near(normal_cdf(0.0), 0.5, 1e-15);
    near(normal_cdf(1.0), 0.841_344_746_068_543, 1e-13);
    near(normal_cdf(-1.0), 0.158_655_253_931_457, 1e-13);
    near(chi_square_tail(0.0, 3.0), 1.0, 0.0);
    near(t_two_sided(1.0, 1.0), 0.5, 1e-13);
}

#[test]
fn limits_undo_tails() {
    for degrees in [1.0, 2.0, 7.0, 40.0, 300.0, 5000.0] {
        for p in [0.999, 0.5, 0.05, 1e-3, 1e-6] {
            near(chi_square_tail(chi_square_limit(p, degrees), degrees), p, 1e-10);
            near(t_two_sided(t_limit(p, degrees), degrees), p, 1e-10);
        }
    }
    near(normal_quantile(normal_cdf(-2.5)), -2.5, 1e-10);
}

#[test]
fn impossible_levels_have_plain_answers() {
    near(chi_square_limit(1.0, 3.0), 0.0, 0.0);
    assert!(chi_square_limit(0.0, 3.0).is_infinite());
    assert!(two_sided_normal(f64::NAN).is_infinite());
}
