//! Levelling networks: published adjustments, and one with a blunder.

use scantling::solve::least_squares::{Observation, Problem, Solution, Terms};
use scantling::solve::special::{chi_square_limit, two_sided_normal};

use super::near;

/// A rise seen between two points: unknowns by number, bench marks by height.
enum Point {
    Unknown(usize),
    Known(f64),
}
use Point::{Known, Unknown};

fn rise(from: &Point, to: &Point, value: f64, sigma: f64) -> Observation {
    let mut terms: Terms = Vec::new();
    let mut value = value;
    for (point, sign) in [(from, -1.0), (to, 1.0)] {
        match point {
            Unknown(at) => terms.push((*at, sign)),
            Known(height) => value -= sign * height,
        }
    }
    Observation { terms, value, sigma }
}

fn solve(unknowns: usize, observations: Vec<Observation>) -> Solution {
    Problem { unknowns, observations, ..Problem::default() }.solve().expect("a good network")
}

/// Ghilani and Wolf, *Adjustment Computations*, chapter 12, "another weighted
/// example": observations READ in lecture slides and a publisher's companion
/// page; adjusted heights MEMORY to four places, residuals and redundancy
/// COMPUTED with numpy. A is 437.596 m.
fn textbook(second: f64) -> Vec<Observation> {
    let (a, b, c, d) = (Known(437.596), Unknown(0), Unknown(1), Unknown(2));
    vec![
        rise(&a, &b, 10.509, 0.006),
        rise(&b, &c, second, 0.004),
        rise(&c, &d, -8.523, 0.005),
        rise(&d, &a, -7.348, 0.003),
        rise(&b, &d, -3.167, 0.004),
        rise(&a, &c, 15.881, 0.012),
    ]
}

/// Residuals in the source are adjusted less observed, along the listed
/// direction; ours the other way.
#[test]
fn r5_13_textbook_network() {
    let solution = solve(3, textbook(5.360));
    for (at, height) in [448.108_712, 453.468_468, 444.943_605].into_iter().enumerate() {
        near(solution.values()[at], height, 1e-6);
    }
    for (at, height) in [448.1087, 453.4685, 444.9436].into_iter().enumerate() {
        near(solution.values()[at], height, 5.1e-5);
    }
    for (at, mm) in [3.525, 4.048, 2.704].into_iter().enumerate() {
        near(solution.sigma(&[(at, 1.0)]).expect("fixed") * 1000.0, mm, 0.000_6);
    }
    let wanted = [
        (0.003_712, 0.654_869, 0.7644),
        (-0.000_244, 0.329_448, -0.1063),
        (-0.001_862, 0.509_175, -0.5220),
        (0.000_395, 0.187_705, 0.3037),
        (0.001_894, 0.432_621, 0.7197),
        (-0.008_532, 0.886_182, -0.7553),
    ];
    for (fit, (residual, redundancy, z)) in solution.fits().iter().zip(wanted) {
        near(-fit.residual, residual, 1e-6);
        near(fit.redundancy, redundancy, 1e-6);
        near(-fit.standardized.expect("checked"), z, 1e-4);
    }
    near(solution.fits().iter().map(|fit| fit.redundancy).sum(), 3.0, 1e-9);
    assert_eq!(solution.degrees(), 3);
    near(solution.chi_square(), 1.272_123, 1e-6);
    assert!(solution.chi_square() < chi_square_limit(0.05, 3.0));
    let s0 = (solution.chi_square() / 3.0).sqrt();
    near(s0, 0.651_184, 1e-6);
    for (at, mm) in [2.295, 2.636, 1.761].into_iter().enumerate() {
        near(solution.sigma(&[(at, 1.0)]).expect("fixed") * s0 * 1000.0, mm, 0.000_6);
    }
}

/// The same network with observation 2 raised by 0.060 m. COMPUTED with numpy
/// from first principles; no printed worked example was readable.
#[test]
fn r5_10_a_blunder_of_60_mm() {
    let solution = solve(3, textbook(5.420));
    for (at, height) in [448.096_030, 453.496_019, 444.945_054].into_iter().enumerate() {
        near(solution.values()[at], height, 1e-6);
    }
    near(solution.chi_square(), 77.227_614, 1e-5);
    assert!(solution.chi_square() > chi_square_limit(0.001, 3.0));
    let z: Vec<f64> =
        solution.fits().iter().map(|fit| -fit.standardized.expect("checked")).collect();
    for (found, wanted) in z.iter().zip([-1.8475, -8.7159, -7.8381, -0.8108, 6.0906, 1.6836]) {
        near(*found, wanted, 1e-4);
    }
    let limit = two_sided_normal(0.001);
    let largest = (0..6).max_by(|a, b| z[*a].abs().total_cmp(&z[*b].abs()));
    assert_eq!(largest, Some(1));
    assert!(z[1].abs() > limit && z[2].abs() > limit);
    let fit = solution.fits()[1];
    near(fit.residual / fit.redundancy, 0.0607, 1e-4);

    let mut without = textbook(5.420);
    without.remove(1);
    let solution = solve(3, without);
    for (at, height) in [448.108_868, 453.468_128, 444.943_587].into_iter().enumerate() {
        near(solution.values()[at], height, 1e-6);
    }
    assert_eq!(solution.degrees(), 2);
    near(solution.chi_square(), 1.260_833, 1e-6);
    assert!(solution.chi_square() < chi_square_limit(0.05, 2.0));
}

/// J. Mahun, Open Access surveying library, *Least Squares Lite*, chapters B
/// and E (READ; the text rounds along the way: allow 0.0015). Weights are 12
/// over the set-ups.
#[test]
fn weighted_by_set_ups() {
    let published = |weighted: bool| {
        let (q, r) = (Unknown(0), Unknown(1));
        let marks = [("A", 806.52), ("B", 818.32), ("C", 820.12), ("D", 824.04)];
        let mark = |name| Known(marks.iter().find(|m| m.0 == name).expect("a mark").1);
        let sigma = |set_ups: f64| if weighted { (set_ups / 12.0).sqrt() } else { 1.0 };
        let rows = vec![
            rise(&mark("A"), &q, 8.91, sigma(3.0)),
            rise(&mark("B"), &q, -2.92, sigma(2.0)),
            rise(&mark("C"), &q, -4.67, sigma(1.0)),
            rise(&mark("D"), &q, -8.66, sigma(3.0)),
            rise(&mark("A"), &r, -3.56, sigma(3.0)),
            rise(&mark("C"), &r, -17.12, sigma(4.0)),
            rise(&mark("D"), &r, -21.10, sigma(2.0)),
            rise(&q, &r, -12.47, sigma(3.0)),
        ];
        let solution = solve(2, rows);
        let s0 = (solution.chi_square() / solution.degrees() as f64).sqrt();
        let sd = |at| solution.sigma(&[(at, 1.0)]).expect("fixed") * s0;
        (solution.values().to_vec(), s0, [sd(0), sd(1)])
    };
    let (heights, s0, sd) = published(true);
    near(heights[0], 815.424, 0.0015);
    near(heights[1], 802.958, 0.0015);
    near(s0, 0.067, 0.0015);
    near(sd[0], 0.012, 0.0015);
    near(sd[1], 0.016, 0.0015);
    // COMPUTED without the rounding.
    near(heights[0], 815.425_182, 1e-6);
    near(heights[1], 802.958_866, 1e-6);
    near(s0, 0.066_740, 1e-6);
    near(sd[0], 0.012_381, 1e-6);
    near(sd[1], 0.016_447, 1e-6);
    let (heights, s0, sd) = published(false);
    near(heights[0], 815.418, 0.0015);
    near(heights[1], 802.962, 0.0015);
    near(s0, 0.028, 0.0015);
    near(sd[0], 0.013, 0.0015);
    near(sd[1], 0.014, 0.0015);
    near(heights[0], 815.418_421, 1e-6);
    near(heights[1], 802.962_105, 1e-6);
    near(s0, 0.029_049, 1e-6);
}

/// Published sample output of GNU Gama 1.5.09, one-dimensional net (READ).
#[test]
fn r5_14_forward_and_back_levels() {
    let (p1, p4, p3, p2) = (Known(1000.0), Unknown(0), Unknown(1), Unknown(2));
    let sigma = 0.005;
    let solution = solve(
        3,
        vec![
            rise(&p1, &p4, -1.225, sigma),
            rise(&p4, &p3, -0.848, sigma),
            rise(&p3, &p2, 1.342, sigma),
            rise(&p2, &p1, 0.720, sigma),
            rise(&p1, &p2, -0.724, sigma),
            rise(&p2, &p3, -1.335, sigma),
            rise(&p3, &p4, 0.842, sigma),
            rise(&p4, &p1, 1.231, sigma),
        ],
    );
    for (at, height) in [998.775_125, 997.933_25, 999.274_875].into_iter().enumerate() {
        near(solution.values()[at], height, 1e-6);
    }
    for (at, height) in [998.77513, 997.93325, 999.27487].into_iter().enumerate() {
        near(solution.values()[at], height, 6e-6);
    }
    for (at, mm) in [3.1, 3.5, 3.1].into_iter().enumerate() {
        near(solution.sigma(&[(at, 1.0)]).expect("fixed") * 1000.0, mm, 0.05);
    }
    assert!(solution.fits().iter().all(|fit| (fit.redundancy - 0.625).abs() < 1e-9));
    near(solution.chi_square() * 25.0, 146.625, 1e-3);
    near((solution.chi_square() / 5.0).sqrt() * 5.0, 5.42, 0.005);
    // Adjusted less observed.
    near(-solution.fits()[5].standardized.expect("checked"), -1.6760, 1e-4);
    near(solution.fits()[5].standardized.expect("checked").abs(), 1.68, 0.005);
}
