use super::*;

fn seen(terms: &[(usize, f64)], value: f64, sigma: f64) -> Observation {
    Observation { terms: terms.to_vec(), value, sigma }
}

fn equal(terms: &[(usize, f64)], value: f64) -> Equation {
    Equation { terms: terms.to_vec(), value }
}

fn near(found: f64, wanted: f64, slack: f64) {
    assert!((found - wanted).abs() <= slack, "found {found}, wanted {wanted}");
}

#[test]
fn an_exact_equation_holds_and_is_no_observation() {
    // a + b = 10, a seen 6.2, b seen 4.2: each gives up 0.2.
    let problem = Problem {
        unknowns: 2,
        equations: vec![equal(&[(0, 1.0), (1, 1.0)], 10.0)],
        observations: vec![seen(&[(0, 1.0)], 6.2, 0.1), seen(&[(1, 1.0)], 4.2, 0.1)],
        groups: vec![],
    };
    let solution = problem.solve().expect("a good problem");
    near(solution.values()[0], 6.0, 1e-12);
    near(solution.values()[1], 4.0, 1e-12);
    assert_eq!(solution.degrees(), 1);
    near(solution.chi_square(), 8.0, 1e-9);
    near(solution.sigma(&[(0, 1.0), (1, 1.0)]).expect("fixed"), 0.0, 1e-12);
    near(solution.covariance(&[(0, 1.0)], &[(1, 1.0)]).expect("fixed"), -0.005, 1e-12);
    let all = solution.covariance_with_all(&[(0, 1.0)]).expect("fixed");
    near(all[0], 0.005, 1e-12);
    near(all[1], -0.005, 1e-12);
    near(solution.residual_correlation(0, 1).expect("checked").abs(), 1.0, 1e-9);
}

#[test]
fn equations_that_cannot_hold_together_are_named() {
    let problem = Problem {
        unknowns: 3,
        equations: vec![
            equal(&[(2, 1.0)], 5.0),
            equal(&[(0, 1.0), (1, -2.0)], 0.0),
            equal(&[(0, 2.0), (1, -4.0)], 3.0),
        ],
        observations: vec![],
        groups: vec![],
    };
    let Err(Trouble::Contradiction { equations, off }) = problem.solve() else {
        panic!("they contradict each other");
    };
    assert_eq!(equations, [1, 2]);
    assert!(off > 0.1);
}

#[test]
fn equations_that_leave_only_zero_are_named() {
    let length_of = |bays: f64| equal(&[(0, 1.0), (1, -bays)], 0.0);
    let problem = |equations| Problem { unknowns: 3, equations, ..Problem::default() };
    let open = problem(vec![length_of(15.0), equal(&[(2, 1.0), (1, -1.0)], 0.0)]);
    assert_eq!(open.fixed_by_equations(), Ok(None));
    let shut = problem(vec![length_of(15.0), equal(&[(2, 1.0), (1, -1.0)], 0.0), length_of(14.0)]);
    let found = shut.fixed_by_equations().expect("no contradiction").expect("shut");
    assert_eq!(found.1, [0, 2]);
}

#[test]
fn an_equation_said_twice_is_no_harm() {
    let problem = Problem {
        unknowns: 2,
        equations: vec![equal(&[(0, 1.0), (1, -1.0)], 0.0), equal(&[(1, 3.0), (0, -3.0)], 0.0)],
        observations: vec![seen(&[(0, 1.0)], 2.0, 1.0)],
        groups: vec![],
    };
    let solution = problem.solve().expect("a good problem");
    near(solution.values()[1], 2.0, 1e-12);
    assert_eq!(solution.degrees(), 0);
}

#[test]
fn what_nothing_fixes_is_said_and_the_rest_solved() {
    // Only the difference of 0 and 1 is seen, 2 is seen, 3 is not.
    let problem = Problem {
        unknowns: 4,
        equations: vec![],
        observations: vec![
            seen(&[(0, 1.0), (1, -1.0)], 3.0, 0.5),
            seen(&[(0, 1.0), (1, -1.0)], 3.4, 0.5),
            seen(&[(2, 1.0)], 7.0, 0.5),
        ],
        groups: vec![],
    };
    let solution = problem.solve().expect("a good problem");
    let fixed = |at: usize| solution.is_fixed(&[(at, 1.0)]);
    assert_eq!([fixed(0), fixed(1), fixed(2), fixed(3)], [false, false, true, false]);
    near(solution.value(&[(0, 1.0), (1, -1.0)]).expect("fixed"), 3.2, 1e-12);
    near(solution.sigma(&[(0, 1.0), (1, -1.0)]).expect("fixed"), 0.5 / 2_f64.sqrt(), 1e-12);
    assert_eq!(solution.value(&[(3, 1.0)]), None);
    assert_eq!(solution.degrees(), 1);
    near(solution.fits()[0].redundancy, 0.5, 1e-12);
    near(solution.fits()[2].redundancy, 0.0, 0.0);
}

#[test]
fn redundancy_adds_up_to_the_degrees() {
    let mut problem = Problem { unknowns: 40, ..Problem::default() };
    for at in 0..40_usize {
        let other = (at * 7 + 3) % 40;
        problem.observations.push(seen(&[(at, 1.0)], at as f64, 0.5));
        problem.observations.push(seen(&[(at, 1.0), (other, -1.5)], 0.1, 0.2));
    }
    let solution = problem.solve().expect("a good problem");
    let sum: f64 = solution.fits().iter().map(|fit| fit.redundancy).sum();
    near(sum, solution.degrees() as f64, 1e-9);
}

#[test]
fn bad_rows_are_named() {
    let one = |observation| Problem {
        unknowns: 1,
        equations: vec![],
        observations: vec![seen(&[(0, 1.0)], 1.0, 1.0), observation],
        groups: vec![],
    };
    for sigma in [0.0, -1.0, f64::NAN, f64::INFINITY, 1e-320] {
        let found = one(seen(&[(0, 1.0)], 1.0, sigma)).solve();
        assert!(matches!(found, Err(Trouble::Sigma { row: 1, .. })), "{sigma}: {found:?}");
    }
    let found = one(seen(&[(0, 1.0)], f64::NAN, 1.0)).solve();
    assert!(matches!(found, Err(Trouble::NotFinite { row: 1 })));
    let found = one(seen(&[(9, 1.0)], 1.0, 1.0)).solve();
    assert!(matches!(found, Err(Trouble::NoSuchUnknown { row: 1, unknown: 9 })));
}

#[test]
fn nothing_at_all_is_answered() {
    let solution = Problem::default().solve().expect("an empty problem");
    assert!(solution.values().is_empty());
    assert_eq!(solution.degrees(), 0);
}

fn form(form: Form, value: f64, sigma: f64) -> NonlinearObservation {
    NonlinearObservation { form, value, sigma }
}

#[test]
fn ratios_and_areas_settle() {
    // a = 4, b = 3: a over b, a by b, and b alone.
    let (a, b) = (vec![(0, 1.0)], vec![(1, 1.0)]);
    let problem = NonlinearProblem {
        unknowns: 2,
        equations: vec![],
        observations: vec![
            form(Form::Ratio(a.clone(), b.clone()), 4.0 / 3.0, 0.01),
            form(Form::Product(a.clone(), b.clone()), 12.0, 0.1),
            form(Form::Sum(b), 3.0, 0.05),
        ],
        groups: vec![],
    };
    let solution = problem.solve(Limits::default()).expect("it settles");
    near(solution.values()[0], 4.0, 1e-9);
    near(solution.values()[1], 3.0, 1e-9);
    // 1/sigma^2 of b: from b itself, and from the pair through both forms.
    assert!(solution.sigma(&[(0, 1.0)]).expect("fixed") < 0.04);
}

#[test]
fn an_area_and_a_shape_are_enough() {
    let (a, b) = (vec![(0, 1.0)], vec![(1, 1.0)]);
    let problem = NonlinearProblem {
        unknowns: 2,
        equations: vec![],
        observations: vec![
            form(Form::Product(a.clone(), b.clone()), 80_640.0, 720.0),
            form(Form::Ratio(a.clone(), b), 480.0 / 168.0, 0.04),
        ],
        groups: vec![],
    };
    let solution = problem.solve(Limits::default()).expect("it settles");
    near(solution.values()[0], 480.0, 1e-6);
    near(solution.values()[1], 168.0, 1e-6);
    // An area alone fixes neither side, and is no error.
    let alone = NonlinearProblem { observations: problem.observations[..1].to_vec(), ..problem };
    let solution = alone.solve(Limits::default()).expect("it settles");
    assert!(!solution.is_fixed(&a));
}

#[test]
fn a_product_alone_starts_from_its_known_side() {
    let problem = NonlinearProblem {
        unknowns: 2,
        equations: vec![],
        observations: vec![
            form(Form::Product(vec![(0, 1.0)], vec![(1, 1.0)]), 12.0, 0.1),
            form(Form::Sum(vec![(1, 1.0)]), 3.0, 0.05),
        ],
        groups: vec![],
    };
    let solution = problem.solve(Limits::default()).expect("it settles");
    near(solution.values()[0], 4.0, 1e-9);
}

#[test]
fn a_ratio_over_nothing_is_named() {
    let problem = NonlinearProblem {
        unknowns: 2,
        equations: vec![equal(&[(1, 1.0)], 0.0)],
        observations: vec![
            form(Form::Sum(vec![(0, 1.0)]), 1.0, 0.1),
            form(Form::Ratio(vec![(0, 1.0)], vec![(1, 1.0)]), 2.0, 0.1),
        ],
        groups: vec![],
    };
    let found = problem.solve(Limits::default());
    assert!(matches!(found, Err(Trouble::ZeroDenominator { row: 1 })), "{found:?}");
}

/// The best mean of two correlated readings (L. Lyons, D. Gibaut and P.
/// Clifford, Nuclear Instruments and Methods A270, 1988; from memory): weights
/// (s2^2 - r s1 s2, s1^2 - r s1 s2), variance s1^2 s2^2 (1 - r^2) over their
/// sum.
#[test]
fn two_correlated_readings_have_the_mean_of_the_paper() {
    let (s1, s2, r) = (1.0, 2.0, 0.8);
    let group = Group { of: vec![0, 1], correlations: vec![vec![1.0, r], vec![r, 1.0]] };
    let observations = vec![seen(&[(0, 1.0)], 10.0, s1), seen(&[(0, 1.0)], 12.0, s2)];
    let problem = Problem { unknowns: 1, equations: vec![], observations, groups: vec![group] };
    let solution = problem.solve().expect("a good problem");
    let (w1, w2) = (s2 * s2 - r * s1 * s2, s1 * s1 - r * s1 * s2);
    near(solution.values()[0], (w1 * 10.0 + w2 * 12.0) / (w1 + w2), 1e-12);
    let variance = s1 * s1 * s2 * s2 * (1.0 - r * r) / (w1 + w2);
    near(solution.sigma(&[(0, 1.0)]).expect("fixed"), variance.sqrt(), 1e-12);
    // One difference is left, 2 with variance s1^2 + s2^2 - 2 r s1 s2.
    near(solution.chi_square(), 4.0 / 1.8, 1e-12);
    for fit in solution.fits() {
        near(fit.standardized.expect("checked").abs(), (4.0_f64 / 1.8).sqrt(), 1e-9);
    }
    near(solution.influence(&[(0, 1.0)], 1, s2), w2 / (w1 + w2), 1e-12);
    near(solution.residual_correlation(0, 1).expect("checked").abs(), 1.0, 1e-9);
    let with: Vec<f64> = [s1, s2].iter().map(|sigma| variance / sigma).collect();
    let shares = solution.shares(with);
    near(shares.iter().sum::<f64>(), variance, 1e-12);
}

/// Errors that readings share through an unknown of their own, and the same
/// as correlations: two ways to say one thing.
#[test]
fn a_shared_error_is_the_same_as_correlations() {
    // Three stations with sigma 1 on one pull whose zero is good to 2; the
    // last station read alone as well.
    let station = |at, value| seen(&[(at, 1.0), (3, 1.0)], value, 1.0);
    let alone = seen(&[(2, 1.0)], 29.0, 1.5);
    let shared = Problem {
        unknowns: 4,
        observations: vec![
            station(0, 10.0),
            station(1, 20.0),
            station(2, 31.0),
            seen(&[(3, 1.0)], 0.0, 2.0),
            alone.clone(),
            seen(&[(0, 1.0), (1, -1.0)], -10.5, 0.5),
        ],
        ..Problem::default()
    };
    let sigma = 5.0_f64.sqrt();
    let row = |at: usize| (0..3).map(|k| if k == at { 1.0 } else { 0.8 }).collect();
    let same = Problem {
        unknowns: 3,
        observations: vec![
            seen(&[(0, 1.0)], 10.0, sigma),
            seen(&[(1, 1.0)], 20.0, sigma),
            seen(&[(2, 1.0)], 31.0, sigma),
            alone,
            seen(&[(0, 1.0), (1, -1.0)], -10.5, 0.5),
        ],
        groups: vec![Group { of: vec![0, 1, 2], correlations: (0..3).map(row).collect() }],
        ..Problem::default()
    };
    let (one, other) = (shared.solve().expect("good"), same.solve().expect("good"));
    near(one.chi_square(), other.chi_square(), 1e-9);
    assert_eq!(one.degrees(), other.degrees());
    for at in 0..3 {
        near(one.values()[at], other.values()[at], 1e-9);
        let sigma = |of: &Solution| of.sigma(&[(at, 1.0)]).expect("fixed");
        near(sigma(&one), sigma(&other), 1e-9);
        let z = |of: &Solution| of.fits()[at].standardized.expect("checked");
        near(z(&one), z(&other), 1e-9);
    }
}
