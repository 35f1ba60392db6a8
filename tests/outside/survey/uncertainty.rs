//! Uncertainty worked out by the rules of the GUM (JCGM 100:2008).

use scantling::estimate::budget::{Contribution, combine, propagate, rectangular};
use scantling::estimate::mean::Mean;
use scantling::quantity::{PrototypeLength, Ratio, Scale};
use scantling::solve::special::{chi_square_limit, t_limit};

use super::near;

/// GUM H.1, end gauge: contributions in nm and degrees of freedom, worked out
/// from the inputs READ in public test suites that quote the annex.
fn end_gauge() -> [Contribution; 4] {
    let length_nm = 50.000_623e6;
    let systematic_and_random = combine(&[
        Contribution { spread: 5.8, degrees: 24.0 },
        Contribution { spread: 3.9, degrees: 5.0 },
        Contribution { spread: 6.7, degrees: 8.0 },
    ]);
    near(systematic_and_random.sigma, 9.7, 0.05);
    // The inputs are rounded to two digits; unrounded they give 25.6.
    near(systematic_and_random.degrees, 25.6, 0.2);
    [
        Contribution { spread: 25.0, degrees: 18.0 },
        Contribution { spread: systematic_and_random.sigma, degrees: 25.6 },
        // l_S theta u(delta alpha), theta = -0.1 degree.
        Contribution { spread: length_nm * 0.1 * 0.58e-6, degrees: 50.0 },
        // l_S alpha_S u(delta theta).
        Contribution { spread: length_nm * 11.5e-6 * 0.029, degrees: 2.0 },
    ]
}

/// Published: contributions 25, 9.7, 2.9, 16.6 nm, u = 32 nm, effective
/// degrees 16.7, taken as 16; t99 = 2.92; U99 = 93 nm. Recomputed with the
/// GTC library 1.5.1: 31.705 nm, 16.64.
#[test]
fn r5_01_end_gauge() {
    let inputs = end_gauge();
    near(inputs[2].spread, 2.9, 0.05);
    near(inputs[3].spread, 16.6, 0.08);
    let combined = combine(&inputs);
    near(combined.sigma, 31.705, 0.001);
    near(combined.degrees, 16.64, 0.05);
    let k = t_limit(0.01, combined.degrees.floor());
    near(k, 2.92, 0.005);
    near(k * combined.sigma, 93.0, 0.5);
    // From the published, rounded contributions.
    let printed =
        [25.0, 9.7, 2.9, 16.6].map(|spread| Contribution { spread, degrees: f64::INFINITY });
    near(combine(&printed).sigma, 31.671, 0.05);
}

/// The product term first order leaves out. COMPUTED from the inputs of H.1.
#[test]
fn r5_02_what_first_order_leaves_out() {
    near(50.000_623e6 * 0.58e-6 * 0.41, 11.89, 0.01);
    // Propagation about zero slopes indeed gives nothing for it.
    let (_, sigma) = propagate([(0.0, 0.58e-6), (0.0, 0.41)], |[a, t]| 50.000_623e6 * a * t);
    near(sigma, 0.0, 1e-12);
}

/// GUM 4.3.7: known only to lie within half a division.
#[test]
fn r5_03_a_reading_to_an_eighth() {
    near(rectangular(1.0 / 16.0), 0.036_084, 1e-6);
    near(2.0 * rectangular(1.0 / 16.0), 0.072_169, 1e-6);
}

/// Inverse-variance mean. COMPUTED.
#[test]
fn r5_04_and_05_three_readings_of_one_wall() {
    let mean = Mean::of(&[(24.0, 0.25), (24.6, 0.30), (24.1, 0.10)]).expect("three readings");
    near(mean.value, 24.131_119, 1e-6);
    near(mean.sigma, 0.088_697, 1e-6);
    near(mean.chi_square, 2.814_685, 1e-6);
    assert_eq!(mean.degrees, 2);
    assert!(mean.chi_square < chi_square_limit(0.05, 2.0));
    near(mean.birge().expect("two degrees"), 1.186_315, 1e-6);
}

/// COMPUTED.
#[test]
fn r5_06_two_readings_that_disagree() {
    let mean = Mean::of(&[(31.5, 0.2), (32.4, 0.15)]).expect("two readings");
    near(mean.value, 32.076, 1e-9);
    near(mean.sigma, 0.12, 1e-9);
    near(mean.chi_square, 12.96, 1e-9);
    assert!(mean.chi_square > chi_square_limit(0.05, 1.0));
    near(mean.birge().expect("one degree"), 3.6, 1e-9);
}

/// Scaling by an exact ratio keeps the relative uncertainty. HO is 3.5 mm to
/// the foot.
#[test]
fn r5_07_to_the_model() {
    let scale = Scale::new("HO", Ratio::new(3048, 35).expect("a ratio"));
    near(scale.reduce(PrototypeLength::feet(24.10)).in_millimetres(), 84.35, 1e-9);
    near(scale.reduce(PrototypeLength::feet(0.10)).in_millimetres(), 0.35, 1e-12);
}

/// GUM 5.1 and 5.2: eight boards, errors their own or all one.
#[test]
fn r5_08_eight_boards() {
    let own = propagate([(9.5, 0.1); 8], |boards| boards.iter().sum());
    near(own.0, 76.0, 1e-9);
    near(own.1, 0.282_843, 1e-6);
    let common = propagate([(9.5, 0.1)], |[board]| 8.0 * board);
    near(common.1, 0.8, 1e-6);
}

/// GUM equation (10).
#[test]
fn r5_09_an_area() {
    let (area, sigma) = propagate([(40.0, 0.2), (14.0, 0.1)], |[a, b]| a * b);
    near(area, 560.0, 1e-9);
    near(sigma, 4.8826, 1e-4);
}
