//! NIST Statistical Reference Datasets, linear least squares: data and
//! certified values READ in the test suites of SciPy, GSL and statsmodels, and
//! refitted in exact fractions, agreeing to every printed digit.
//!
//! Goal: log relative error of 9 on Norris and NoInt, 8 on Longley and
//! Wampler1, all through the least squares of the survey.

use scantling::solve::least_squares::{Observation, Problem, Solution};

use super::near;

/// Correct digits: the log relative error, absolute where the value is zero.
fn digits(found: f64, certified: f64) -> f64 {
    let off = (found - certified).abs() / if certified.abs() > 0.0 { certified.abs() } else { 1.0 };
    if off > 0.0 { -off.log10() } else { 15.0 }
}

/// Fits `y` by columns, each observation with a sigma of one.
fn fit(rows: &[(Vec<f64>, f64)]) -> Solution {
    let observations = rows
        .iter()
        .map(|(x, y)| Observation {
            terms: x.iter().copied().enumerate().collect(),
            value: *y,
            sigma: 1.0,
        })
        .collect();
    let unknowns = rows.first().map_or(0, |(x, _)| x.len());
    Problem { unknowns, observations, ..Problem::default() }.solve().expect("a fit")
}

fn residual_sd(solution: &Solution) -> f64 {
    (solution.chi_square() / solution.degrees() as f64).sqrt()
}

#[track_caller]
fn check(name: &str, rows: &[(Vec<f64>, f64)], certified: &[(f64, f64)], goal: f64) -> Solution {
    let solution = fit(rows);
    let s = residual_sd(&solution);
    let (mut worst, mut worst_sd) = (15.0_f64, 15.0_f64);
    for (at, (value, sd)) in certified.iter().enumerate() {
        worst = worst.min(digits(solution.values()[at], *value));
        let found = solution.sigma(&[(at, 1.0)]).expect("fixed") * s;
        worst_sd = worst_sd.min(digits(found, *sd));
    }
    println!("{name}: {worst:.1} digits, {worst_sd:.1} of the deviations");
    assert!(worst >= goal, "{name}: only {worst:.1} digits");
    assert!(worst_sd >= goal - 2.0, "{name}: only {worst_sd:.1} digits of the deviations");
    solution
}

const NORRIS: [(f64, f64); 36] = [
    (0.2, 0.1),
    (337.4, 338.8),
    (118.2, 118.1),
    (884.6, 888.0),
    (10.1, 9.2),
    (226.5, 228.1),
    (666.3, 668.5),
    (996.3, 998.5),
    (448.6, 449.1),
    (777.0, 778.9),
    (558.2, 559.2),
    (0.4, 0.3),
    (0.6, 0.1),
    (775.5, 778.1),
    (666.9, 668.8),
    (338.0, 339.3),
    (447.5, 448.9),
    (11.6, 10.8),
    (556.0, 557.7),
    (228.1, 228.3),
    (995.8, 998.0),
    (887.6, 888.8),
    (120.2, 119.6),
    (0.3, 0.3),
    (0.3, 0.6),
    (556.8, 557.6),
    (339.1, 339.3),
    (887.2, 888.0),
    (999.0, 998.5),
    (779.0, 778.9),
    (11.1, 10.2),
    (118.3, 117.6),
    (229.2, 228.9),
    (669.1, 668.4),
    (448.9, 449.2),
    (0.5, 0.2),
];

#[test]
fn r5_12_norris() {
    let rows: Vec<_> = NORRIS.iter().map(|(x, y)| (vec![1.0, *x], *y)).collect();
    let certified =
        [(-0.262323073774029, 0.232818234301152), (1.00211681802045, 0.000429796848199937)];
    let solution = check("Norris", &rows, &certified, 9.0);
    near(residual_sd(&solution), 0.884796396144373, 1e-9);
    near(solution.chi_square(), 26.6173985294224, 1e-7);
}

#[test]
fn r5_11_no_intercept_2() {
    let rows: Vec<_> = [(4.0, 3.0), (5.0, 4.0), (6.0, 4.0)].map(|(x, y)| (vec![x], y)).to_vec();
    let solution = check("NoInt2", &rows, &[(0.727272727272727, 0.0420827318078432)], 9.0);
    near(solution.values()[0], 8.0 / 11.0, 1e-12);
    near(solution.chi_square(), 3.0 / 11.0, 1e-12);
    near(residual_sd(&solution), 0.369274472937998, 1e-12);
}

#[test]
fn r5_12_no_intercept_1() {
    let rows: Vec<_> =
        (0..11).map(|step| (vec![60.0 + f64::from(step)], 130.0 + f64::from(step))).collect();
    let solution = check("NoInt1", &rows, &[(2.07438016528926, 0.0165289256198347)], 9.0);
    near(residual_sd(&solution), 3.56753034006338, 1e-9);
    near(solution.chi_square(), 127.272727272727, 1e-9);
}

/// Employment; deflator, product, unemployed, armed forces, population, year.
const LONGLEY: [[f64; 7]; 16] = [
    [60323.0, 83.0, 234289.0, 2356.0, 1590.0, 107608.0, 1947.0],
    [61122.0, 88.5, 259426.0, 2325.0, 1456.0, 108632.0, 1948.0],
    [60171.0, 88.2, 258054.0, 3682.0, 1616.0, 109773.0, 1949.0],
    [61187.0, 89.5, 284599.0, 3351.0, 1650.0, 110929.0, 1950.0],
    [63221.0, 96.2, 328975.0, 2099.0, 3099.0, 112075.0, 1951.0],
    [63639.0, 98.1, 346999.0, 1932.0, 3594.0, 113270.0, 1952.0],
    [64989.0, 99.0, 365385.0, 1870.0, 3547.0, 115094.0, 1953.0],
    [63761.0, 100.0, 363112.0, 3578.0, 3350.0, 116219.0, 1954.0],
    [66019.0, 101.2, 397469.0, 2904.0, 3048.0, 117388.0, 1955.0],
    [67857.0, 104.6, 419180.0, 2822.0, 2857.0, 118734.0, 1956.0],
    [68169.0, 108.4, 442769.0, 2936.0, 2798.0, 120445.0, 1957.0],
    [66513.0, 110.8, 444546.0, 4681.0, 2637.0, 121950.0, 1958.0],
    [68655.0, 112.6, 482704.0, 3813.0, 2552.0, 123366.0, 1959.0],
    [69564.0, 114.2, 502601.0, 3931.0, 2514.0, 125368.0, 1960.0],
    [69331.0, 115.7, 518173.0, 4806.0, 2572.0, 127852.0, 1961.0],
    [70551.0, 116.9, 554894.0, 4007.0, 2827.0, 130081.0, 1962.0],
];

#[test]
fn r5_12_longley() {
    let rows: Vec<_> = LONGLEY
        .iter()
        .map(|row| ([1.0].into_iter().chain(row[1..].iter().copied()).collect(), row[0]))
        .collect();
    let certified = [
        (-3482258.63459582, 890420.383607373),
        (15.0618722713733, 84.9149257747669),
        (-0.0358191792925910, 0.0334910077722432),
        (-2.02022980381683, 0.488399681651699),
        (-1.03322686717359, 0.214274163161675),
        (-0.0511041056535807, 0.226073200069370),
        (1829.15146461355, 455.478499142212),
    ];
    let solution = check("Longley", &rows, &certified, 8.0);
    near(residual_sd(&solution), 304.854073561965, 1e-6);
    near(solution.chi_square(), 836424.055505915, 0.01);
}

#[test]
fn r5_12_wampler_1() {
    let rows: Vec<_> = (0..21)
        .map(|x| {
            let powers: Vec<f64> = (0..6).map(|power| f64::from(x).powi(power)).collect();
            let y = powers.iter().sum();
            (powers, y)
        })
        .collect();
    let solution = fit(&rows);
    let worst = solution.values().iter().map(|value| digits(*value, 1.0)).fold(15.0, f64::min);
    println!("Wampler1: {worst:.1} digits");
    assert!(worst >= 8.0, "only {worst:.1} digits");
    near(solution.chi_square(), 0.0, 1e-9);
}
