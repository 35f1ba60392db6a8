//! How long adjustments take. Printing only: a clock is no test.

use std::time::Instant;

use scantling::solve::least_squares::{Observation, Problem};

use super::draw::Chance;

fn network(chance: &mut Chance, observations: usize, unknowns: usize, near: usize) -> Problem {
    let mut problem = Problem { unknowns, ..Problem::default() };
    for at in 0..observations {
        let one = at % unknowns;
        let step = 1 + chance.below(near);
        let other = (one + step) % unknowns;
        let terms =
            if at < unknowns / 4 { vec![(one, 1.0)] } else { vec![(one, -1.0), (other, 1.0)] };
        problem.observations.push(Observation {
            terms,
            value: chance.between(0.0, 1.0),
            sigma: 0.5,
        });
    }
    problem
}

#[test]
#[ignore = "prints times"]
fn times() {
    for (what, observations, unknowns, near) in [
        ("30 observations, 10 unknowns", 30, 10, 3),
        ("1,000 of 300, neighbours", 1000, 300, 4),
        ("1,000 of 300, anything with anything", 1000, 300, 299),
        ("2,000 of 300, anything", 2000, 300, 299),
        ("4,000 of 300, anything", 4000, 300, 299),
        ("1,000 of 150, anything", 1000, 150, 149),
        ("1,000 of 600, anything", 1000, 600, 599),
        ("10,000 of 2,000, neighbours", 10_000, 2_000, 4),
    ] {
        let problem = network(&mut Chance::new(1), observations, unknowns, near);
        time(what, || problem.solve().expect("a good network").degrees());
    }
    dense();
}

fn dense() {
    let mut chance = Chance::new(2);
    let observations = (0..1000)
        .map(|_| Observation {
            terms: (0..300).map(|at| (at, chance.between(-1.0, 1.0))).collect(),
            value: chance.between(0.0, 1.0),
            sigma: 0.5,
        })
        .collect();
    let problem = Problem { unknowns: 300, observations, ..Problem::default() };
    time("1,000 of 300, every row full", || problem.solve().expect("a good network").degrees());
}

fn time(what: &str, mut solve: impl FnMut() -> usize) {
    let mut best = f64::INFINITY;
    let mut degrees = 0;
    for _ in 0..5 {
        let start = Instant::now();
        degrees = solve();
        best = best.min(start.elapsed().as_secs_f64() * 1000.0);
    }
    println!("{what:<40} {best:>9.3} ms ({degrees} degrees)");
}
