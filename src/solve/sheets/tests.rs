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
