//! Outside checks: cutting.

use scantling::cutting::problem::{ProblemFile, StickProblem, read};
use scantling::solve::sticks::{
    Budget, Control, Part, Problem, Progress, Solution, Stock, check, solve,
};
use std::path::PathBuf;
use std::time::{Duration, Instant};

/// Strips of one length at cost 1, as many as wanted.
fn strips(length: i64, kerf: i64, parts: &[(i64, u32)]) -> Problem {
    let parts = parts.iter().map(|&(length, quantity)| Part { length, quantity }).collect();
    Problem { stock: vec![Stock { length, cost: 1, supply: None }], parts, kerf }
}

fn solved(problem: &Problem) -> Solution {
    let solution =
        solve(problem, &Budget::steps(5_000_000_000), &mut |_| Control::Continue).expect("a plan");
    assert_eq!(check(problem, &solution), Ok(()));
    solution
}

/// V. Chvatal, "Linear Programming" (1983), chapter 13: rolls of 100 in, four
/// widths (read in a public copy of the example); relaxation 452.25, optimum
/// 453 (from memory).
#[test]
fn chvatal_rolls_take_453() {
    let asked = strips(100, 0, &[(45, 97), (36, 610), (31, 395), (14, 211)]);
    let solution = solved(&asked);
    assert_eq!((solution.cost, solution.proven), (453, true));
}

/// The paper-machine example of the encyclopedia article "Cutting stock
/// problem": rolls of 5600 mm, thirteen widths, 72.7 rolls of material (read in
/// a copy of the article); optimum 73 (from memory; it meets that bound).
#[test]
fn paper_machine_rolls_take_73() {
    let widths = [
        (1380, 22),
        (1520, 25),
        (1560, 12),
        (1710, 14),
        (1820, 18),
        (1880, 18),
        (1930, 20),
        (2000, 10),
        (2050, 12),
        (2100, 14),
        (2140, 16),
        (2150, 18),
        (2200, 20),
    ];
    let solution = solved(&strips(5600, 0, &widths));
    assert_eq!((solution.cost, solution.proven), (73, true));
}

/// Halves, thirds and fifths, the family behind the first examples of a gap
/// between the rounded relaxation and the optimum (literature on the integer
/// round-up property; from memory). 59 of 60 would be used by two strips, but
/// no set of these pieces fills more than 28 of 30 (arithmetic).
#[test]
fn halves_thirds_and_fifths_take_three() {
    let solution = solved(&strips(30, 0, &[(15, 1), (10, 2), (6, 4)]));
    assert_eq!((solution.cost, solution.proven), (3, true));
}

/// Kerf decides (arithmetic): 24 in strips in 1/64 in, pieces of 3 in. Eight a
/// strip without kerf, seven with any.
#[test]
fn kerf_takes_the_eighth_piece() {
    assert_eq!(solved(&strips(1536, 0, &[(192, 56)])).cost, 7);
    assert_eq!(solved(&strips(1536, 1, &[(192, 56)])).cost, 8);
}

/// The published stick instances and the generated jobs beside the project.
fn instances() -> Vec<StickProblem> {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../shared/benchmarks/sticks");
    let Ok(entries) = std::fs::read_dir(&folder) else {
        println!("no ../shared/benchmarks/sticks: nothing to run");
        return Vec::new();
    };
    let mut files: Vec<PathBuf> = entries.filter_map(|entry| Some(entry.ok()?.path())).collect();
    files.sort();
    let texts = files.iter().filter_map(|file| std::fs::read_to_string(file).ok());
    texts
        .filter_map(|text| match read(&text) {
            Ok(ProblemFile::Sticks(problem)) => Some(problem),
            _ => None,
        })
        .collect()
}

/// Every instance, a fixed small number of steps: plans are sound, and no bound
/// passes the best value known.
#[test]
fn published_sticks_are_never_contradicted() {
    for file in instances() {
        let problem = file.problem().unwrap();
        let solution =
            solve(&problem, &Budget::steps(3_000_000), &mut |_| Control::Continue).unwrap();
        assert_eq!(check(&problem, &solution), Ok(()), "{}", file.name);
        assert!(solution.bound <= file.best_known.unwrap(), "{}", file.name);
        assert!(solution.cost >= file.lower_bound.unwrap(), "{}", file.name);
    }
}

/// Prints the table. Run in a release build:
/// `cargo test --release --test outside -- --ignored --nocapture stick_table`
#[test]
#[ignore = "prints a table of times"]
fn stick_table() {
    println!("| instance | cost | best known | bound | proven | first ms | seconds |");
    println!("|---|---|---|---|---|---|---|");
    for file in instances() {
        let problem = file.problem().unwrap();
        let (solution, first, taken) = timed(&problem, 10.0);
        assert_eq!(check(&problem, &solution), Ok(()), "{}", file.name);
        println!(
            "| {} | {} | {} | {} | {} | {:.1} | {taken:.2} |",
            file.name,
            solution.cost,
            file.best_known.unwrap_or(-1),
            solution.bound,
            if solution.proven { "yes" } else { "no" },
            first * 1e3,
        );
    }
}

/// 5,000 parts of 60 lengths, 2 s: gap to the bound. A cancel after 0.2 s on
/// the same: how late it comes.
#[test]
#[ignore = "prints times"]
fn stick_large_and_cancel() {
    let mut state = 7u64;
    let mut next = |below: u64| {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963);
        (state >> 33) % below
    };
    let parts: Vec<(i64, u32)> = (0..60).map(|_| (500 + next(9000) as i64, 83)).collect();
    let problem = strips(24_000, 15, &parts);
    for seconds in [2.0, 0.2] {
        let (solution, first, taken) = timed(&problem, seconds);
        println!(
            "{seconds} s: cost {} bound {} gap {:.2} percent, first {:.1} ms, taken {taken:.3} s",
            solution.cost,
            solution.bound,
            100.0 * (solution.cost - solution.bound) as f64 / solution.bound as f64,
            first * 1e3,
        );
    }
}

/// The solution, and the seconds to the first plan and to the end.
fn timed(problem: &Problem, seconds: f64) -> (Solution, f64, f64) {
    let start = Instant::now();
    let most = Duration::from_secs_f64(seconds);
    let late = || start.elapsed() >= most;
    let mut first = None;
    let mut watch = |progress: &Progress| {
        if progress.best < i64::MAX {
            first.get_or_insert_with(|| start.elapsed().as_secs_f64());
        }
        Control::Continue
    };
    let budget = Budget { steps: u64::MAX, stop: Some(&late) };
    let solution = solve(problem, &budget, &mut watch).expect("a plan");
    let taken = start.elapsed().as_secs_f64();
    (solution, first.unwrap_or(taken), taken)
}
