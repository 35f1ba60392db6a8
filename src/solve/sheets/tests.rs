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
    let budget = Budget { steps: 200_000, seed: 1 };
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
