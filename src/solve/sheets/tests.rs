//! Small cases with known answers, and bad input.

use super::check::check;
use super::*;

const KNIFE: Method = Method::Knife { stages: None };
const METHODS: [Method; 3] = [Method::Laser, KNIFE, Method::Knife { stages: Some(3) }];

fn part(width: i64, height: i64, quantity: u64) -> Part {
    Part { width, height, quantity, may_turn: false }
}

fn sheet(width: i64, height: i64) -> Sheet {
    Sheet { width, height, cost: 1, supply: None }
}

fn problem(sheet: Sheet, parts: Vec<Part>) -> Problem {
    Problem { sheets: vec![sheet], parts, gap: 0, margin: 0 }
}

fn solved(problem: &Problem, method: Method) -> Solution {
    let budget = Budget::steps(200_000);
    let solution = solve(problem, method, &budget, &mut |_| Control::Continue).unwrap();
    check(problem, method, &solution).unwrap();
    solution
}

#[test]
fn nothing_wanted_costs_nothing() {
    let solution = solved(&problem(sheet(10, 10), vec![]), Method::Laser);
    assert_eq!((solution.cost, solution.proven), (0, true));
}

#[test]
fn four_quarters_fill_a_sheet() {
    for method in METHODS {
        let solution = solved(&problem(sheet(10, 10), vec![part(5, 5, 4)]), method);
        assert_eq!((solution.cost, solution.bound, solution.proven), (1, 1, true));
    }
}

#[test]
fn a_pinwheel_fits_for_the_laser_and_not_for_the_knife() {
    let parts = vec![part(2, 1, 2), part(1, 2, 2)];
    let asked = problem(sheet(3, 3), parts);
    assert_eq!(solved(&asked, Method::Laser).cost, 1);
    assert_eq!(solved(&asked, KNIFE).cost, 2);
}

/// Every small set of parts on one sheet: the exact tests must agree with a
/// search over all placements on whole-number positions.
mod against_all_placements {
    use super::*;
    use crate::solve::sheets::chance::Chance;
    use crate::solve::sheets::hull::Hulls;
    use crate::solve::sheets::onesheet::{Fit, one_sheet};
    use crate::solve::sheets::separate::stages;
    use crate::solve::sheets::work::Work;

    /// Tries every position of every part; `done` judges a full placement.
    fn any(
        parts: &[(i64, i64)],
        size: (i64, i64),
        laid: &mut Vec<Rect>,
        done: &dyn Fn(&[Rect]) -> bool,
    ) -> bool {
        let Some(&(width, height)) = parts.get(laid.len()) else { return done(laid) };
        for x in 0..=size.0 - width {
            for y in 0..=size.1 - height {
                let rect = Rect::new(x, y, width, height);
                if laid.iter().any(|other| other.overlaps(&rect)) {
                    continue;
                }
                laid.push(rect);
                if any(parts, size, laid, done) {
                    return true;
                }
                laid.pop();
            }
        }
        false
    }

    #[test]
    fn the_exact_tests_of_one_sheet_agree() {
        let mut chance = Chance::new(3);
        let (mut yes, mut apart) = (0, 0);
        for _ in 0..150 {
            let size = (5, 4);
            let count = 3 + chance.below(3);
            let mut side = |most: usize| 1 + chance.below(most) as i64;
            let parts: Vec<(i64, i64)> = (0..count).map(|_| (side(3), side(3))).collect();
            let rows = parts.iter().map(|&(width, height)| part(width, height, 1)).collect();
            let work = Work::fold(&problem(sheet(size.0, size.1), rows), Method::Laser);
            let items: Vec<usize> = (0..count).collect();
            let free = matches!(one_sheet(&work, &items, size, &mut 1_000_000), Fit::Yes(_));
            assert_eq!(free, any(&parts, size, &mut Vec::new(), &|_| true), "{parts:?}");
            let cut = Hulls::new(&work, size).fits((1 << count) - 1, size);
            let comes_apart = |laid: &[Rect]| stages(&mut laid.to_vec(), size.0, size.1).is_some();
            assert_eq!(cut, any(&parts, size, &mut Vec::new(), &comes_apart), "{parts:?}");
            yes += usize::from(free);
            apart += usize::from(free && !cut);
        }
        assert!((20..130).contains(&yes), "{yes} of 150 fit: the cases are one-sided");
        assert!(apart < yes);
    }
}

#[test]
fn bad_numbers_are_named() {
    let whole = |change: &dyn Fn(&mut Problem)| {
        let mut asked = problem(sheet(10, 10), vec![part(5, 5, 2)]);
        change(&mut asked);
        solve(&asked, KNIFE, &Budget::steps(1000), &mut |_| Control::Continue)
    };
    let refused: [&dyn Fn(&mut Problem); 9] = [
        &|p| p.gap = -1,
        &|p| p.margin = i64::MAX,
        &|p| p.parts[0].width = 0,
        &|p| p.parts[0].height = i64::MIN,
        &|p| p.sheets[0].height = i64::MAX,
        &|p| p.sheets[0].cost = -1,
        &|p| p.parts[0].quantity = u64::MAX,
        &|p| p.sheets.clear(),
        &|p| p.sheets[0].supply = Some(0),
    ];
    for change in refused {
        assert!(whole(change).is_err());
    }
    assert_eq!(whole(&|p| p.parts[0].width = 11), Err(ProblemError::FitNoSheet(vec![0])));
    assert_eq!(whole(&|p| p.margin = 5), Err(ProblemError::FitNoSheet(vec![0])));
    let few = Method::Knife { stages: Some(1) };
    assert_eq!(problem(sheet(1, 1), vec![]).validate(few), Err(ProblemError::TooFewStages));
}

#[test]
fn a_gap_larger_than_the_parts_is_kept() {
    let mut asked = problem(sheet(10, 10), vec![part(1, 1, 4)]);
    asked.gap = 8;
    assert_eq!(METHODS.map(|method| solved(&asked, method).cost), [1, 1, 1]);
    asked.gap = 9;
    assert_eq!(METHODS.map(|method| solved(&asked, method).cost), [4, 4, 4]);
}

#[test]
fn lengths_at_the_limit_do_not_overflow() {
    let most = MAX_LENGTH;
    let mut asked = problem(sheet(most, most), vec![part(most, 1, 3), part(1, most / 2, 2)]);
    asked.gap = most;
    asked.sheets[0].cost = MAX_COST;
    for method in METHODS {
        assert_eq!(solved(&asked, method).cost, 5 * MAX_COST);
    }
}

#[test]
fn grain_is_kept_unless_the_part_may_turn() {
    let mut asked = problem(sheet(10, 4), vec![part(4, 10, 1)]);
    assert_eq!(asked.misfits(), vec![0]);
    asked.parts[0].may_turn = true;
    assert!(solved(&asked, KNIFE).sheets[0].placed[0].turned);
}

#[test]
fn offcuts_on_hand_are_used_before_sheets_are_bought() {
    let offcut = Sheet { width: 5, height: 10, cost: 0, supply: Some(1) };
    let mut asked = problem(sheet(10, 10), vec![part(5, 5, 6)]);
    asked.sheets.push(offcut);
    for method in METHODS {
        let solution = solved(&asked, method);
        assert_eq!((solution.cost, solution.proven, solution.sheets.len()), (1, true, 2));
    }
}

#[test]
fn the_cheaper_size_is_taken_where_it_will_do() {
    let mut asked = problem(sheet(10, 10), vec![part(6, 6, 1), part(4, 4, 1)]);
    asked.sheets[0].cost = 5;
    asked.sheets.push(Sheet { width: 6, height: 10, cost: 3, supply: None });
    assert_eq!(solved(&asked, KNIFE).cost, 3);
}

#[test]
fn a_short_supply_leaves_parts_over_and_proves_nothing() {
    let mut asked = problem(sheet(10, 10), vec![part(10, 5, 5)]);
    asked.sheets[0].supply = Some(2);
    let solution = solved(&asked, Method::Laser);
    assert_eq!((solution.unplaced, solution.proven), (vec![(0, 1)], false));
}

#[test]
fn the_largest_rectangle_of_the_last_sheet_is_kept_whole() {
    let mut asked = problem(sheet(10, 10), vec![part(10, 3, 2)]);
    (asked.gap, asked.margin) = (1, 0);
    for method in METHODS {
        let offcut = solved(&asked, method).sheets[0].offcut.unwrap();
        assert_eq!((offcut.width, offcut.height), (10, 2), "10 less 3, 1, 3 and 1");
    }
}

#[test]
fn stopping_keeps_the_best_plan_so_far() {
    let asked = problem(sheet(20, 20), vec![part(7, 6, 9), part(5, 9, 8), part(3, 4, 20)]);
    let solution = solve(&asked, KNIFE, &Budget::default(), &mut |_| Control::Stop).unwrap();
    check(&asked, KNIFE, &solution).unwrap();
}

/// The checker must refuse plans that are wrong in one thing.
#[test]
fn the_checker_finds_what_is_wrong() {
    let mut asked = problem(sheet(10, 10), vec![part(4, 4, 3), part(3, 8, 1)]);
    (asked.gap, asked.margin) = (1, 0);
    let good = solved(&asked, KNIFE);
    let spoil: [&dyn Fn(&mut Solution); 9] = [
        &|s| s.cost += 1,
        &|s| s.bound += 1,
        &|s| s.sheets[0].placed[0].x = -1,
        &|s| s.sheets[0].placed[0] = s.sheets[0].placed[1],
        &|s| s.sheets[0].placed[0].turned = true,
        &|s| s.sheets[0].placed.truncate(1),
        &|s| s.sheets[0].cuts.truncate(1),
        &|s| s.sheets[0].cuts[0].at += 1,
        &|s| s.sheets[0].offcut = Some(Rect::new(0, 0, 10, 10)),
    ];
    for (number, change) in spoil.iter().enumerate() {
        let mut bad = good.clone();
        change(&mut bad);
        assert!(check(&asked, KNIFE, &bad).is_err(), "spoilt plan {number} passes");
    }
    let mut scarce = asked.clone();
    scarce.sheets[0].supply = Some(0);
    assert!(check(&scarce, KNIFE, &good).is_err());
    let mut wider = asked;
    wider.gap = 3;
    assert!(check(&wider, Method::Laser, &good).is_err());
}

mod properties {
    use super::*;
    use proptest::prelude::*;

    fn any_problem() -> impl Strategy<Value = Problem> {
        let parts = prop::collection::vec((1..14_i64, 1..10_i64, 0..4_u64, any::<bool>()), 0..8);
        (parts, 0..4_i64, 0..3_i64, prop::option::of(0..3_u64)).prop_map(
            |(parts, gap, margin, supply)| Problem {
                sheets: vec![
                    Sheet { width: 20, height: 16, cost: 3, supply: None },
                    Sheet { width: 18, height: 14, cost: 2, supply },
                ],
                parts: parts
                    .into_iter()
                    .map(|(width, height, quantity, may_turn)| Part {
                        width,
                        height,
                        quantity,
                        may_turn,
                    })
                    .collect(),
                gap,
                margin,
            },
        )
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 24, ..ProptestConfig::default() })]

        /// Inside, apart, gap kept, every part once, cuts that set each free:
        /// the checker says so. What is used and what is wasted make the whole,
        /// and the bound of the laser holds for the knife.
        #[test]
        fn every_plan_passes_its_check(asked in any_problem(), seed in 0..1000_u64) {
            let budget = Budget { seed, ..Budget::steps(3000) };
            let mut bounds = Vec::new();
            for method in METHODS {
                let go_on = &mut |_: &Progress| Control::Continue;
                let solution = solve(&asked, method, &budget, go_on).unwrap();
                prop_assert_eq!(check(&asked, method, &solution), Ok(()));
                prop_assert!(solution.unplaced.is_empty());
                let again = solve(&asked, method, &budget, go_on).unwrap();
                prop_assert_eq!(&again, &solution);
                bounds.push((solution.bound, solution.cost));
            }
            prop_assert!(bounds.iter().all(|(_, cost)| *cost >= bounds[0].0));
        }
    }
}

/// Prints cost, bound and time for the published and generated sheets of
/// `../shared/benchmarks`, beside this folder; nothing is asserted of the
/// time. `cargo test --release --lib sheets::tests::table -- --ignored --nocapture`
#[test]
#[ignore = "prints a table; run in release"]
fn table() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../shared/benchmarks/sheets");
    let Ok(entries) = std::fs::read_dir(folder) else {
        println!("no ../shared/benchmarks/sheets: nothing to print");
        return;
    };
    let mut paths: Vec<_> = entries.filter_map(|entry| Some(entry.ok()?.path())).collect();
    paths.sort();
    println!("{:20} {:>6} {:>6} {:>6} {:>7} {:>8}", "", "known", "sheets", "bound", "proven", "s");
    for path in paths {
        let text = std::fs::read_to_string(&path).unwrap();
        let file: toml::Table = toml::from_str(&text).unwrap();
        for (method, known) in
            [(Method::Laser, "best_known_free"), (KNIFE, "best_known_guillotine")]
        {
            print_row(&file, method, known);
        }
    }
}

fn print_row(file: &toml::Table, method: Method, known: &str) {
    let number = |value: &toml::Value| value.as_integer().unwrap();
    let row =
        |value: &toml::Value| value.as_array().unwrap().iter().map(number).collect::<Vec<_>>();
    let size = row(&file["sheet"]);
    let parts = file["parts"].as_array().unwrap().iter().map(row);
    let mut asked = problem(
        sheet(size[0], size[1]),
        parts.map(|part| self::part(part[0], part[1], part[2].unsigned_abs())).collect(),
    );
    asked.gap = number(&file["gap"]);
    let start = std::time::Instant::now();
    let mut two_seconds = |_: &Progress| {
        if start.elapsed().as_secs_f64() < 2.0 { Control::Continue } else { Control::Stop }
    };
    let budget = Budget::steps(u64::MAX);
    let solution = solve(&asked, method, &budget, &mut two_seconds).unwrap();
    let seconds = start.elapsed().as_secs_f64();
    check(&asked, method, &solution).unwrap();
    println!(
        "{:20} {:>6} {:>6} {:>6} {:>7} {seconds:>8.3} {}",
        file["name"].as_str().unwrap_or(""),
        number(&file[known]),
        solution.cost,
        solution.bound,
        solution.proven,
        if method == Method::Laser { "laser" } else { "knife" },
    );
}

/// Prints how long the search goes on after it is told to stop, on small parts
/// on large sheets, where one move is dear.
/// `cargo test --release --lib sheets::tests::cancel -- --ignored --nocapture`
#[test]
#[ignore = "prints times; run in release"]
fn cancel() {
    use std::time::{Duration, Instant};
    for (method, name) in [(Method::Laser, "laser"), (KNIFE, "knife")] {
        for count in [60, 400, 5000] {
            let mut chance = super::chance::Chance::new(3);
            let mut length = || 200 + chance.below(1200) as i64;
            let parts = (0..count).map(|_| part(length(), length(), 1)).collect();
            let asked = problem(sheet(8000, 48_000), parts);
            let mut worst = Duration::ZERO;
            let mut first = None;
            for after in [5, 20, 60, 150, 400, 900, 2000] {
                let after = Duration::from_millis(after);
                let start = Instant::now();
                let late = || start.elapsed() >= after;
                let budget = Budget { stop: Some(&late), ..Budget::steps(u64::MAX) };
                let mut watch = |progress: &Progress| {
                    if progress.cost.is_some() && first.is_none() {
                        first = Some(start.elapsed());
                    }
                    Control::Continue
                };
                let solution = solve(&asked, method, &budget, &mut watch).unwrap();
                let over = start.elapsed().saturating_sub(after);
                check(&asked, method, &solution).unwrap();
                println!(
                    "{name} {count}: told after {after:?}, {over:.1?} more, {} sheets, bound {}",
                    solution.cost, solution.bound
                );
                worst = worst.max(over);
            }
            println!("{name} {count}: first plan {first:.1?}, worst {worst:.1?}");
        }
    }
}
