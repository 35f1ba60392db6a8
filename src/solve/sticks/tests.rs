//! Small cases of our own.

use super::*;

pub(super) fn problem(stock: &[(i64, i64, i64)], parts: &[(i64, u32)], kerf: i64) -> Problem {
    let stock = stock
        .iter()
        .map(|&(length, cost, supply)| Stock { length, cost, supply: u32::try_from(supply).ok() })
        .collect();
    let parts = parts.iter().map(|&(length, quantity)| Part { length, quantity }).collect();
    Problem { stock, parts, kerf }
}

fn solved(problem: &Problem) -> Solution {
    let solution =
        solve(problem, &Budget::steps(2_000_000_000), &mut |_| Control::Continue).unwrap();
    assert_eq!(check(problem, &solution), Ok(()));
    solution
}

fn refused(problem: &Problem) -> ProblemError {
    solve(problem, &Budget::steps(2_000_000_000), &mut |_| Control::Continue).unwrap_err()
}

#[test]
fn nothing_wanted_costs_nothing() {
    let solution = solved(&problem(&[(10, 1, -1)], &[(4, 0)], 1));
    assert_eq!((solution.cost, solution.proven), (0, true));
    assert_eq!(solved(&problem(&[], &[], 0)).cost, 0);
}

#[test]
fn kerf_is_lost_between_pieces_only() {
    assert_eq!(solved(&problem(&[(10, 1, -1)], &[(5, 2)], 0)).cost, 1);
    assert_eq!(solved(&problem(&[(10, 1, -1)], &[(5, 2)], 1)).cost, 2);
    assert_eq!(solved(&problem(&[(11, 1, -1)], &[(5, 2)], 1)).cost, 1);
    // A kerf wider than the part.
    assert_eq!(solved(&problem(&[(20, 1, -1)], &[(2, 9)], 7)).cost, 3);
}

#[test]
fn parts_that_fit_no_stock_are_named() {
    let asked = problem(&[(10, 1, -1), (99, 1, 0)], &[(4, 1), (11, 2), (12, 0), (13, 1)], 0);
    assert_eq!(refused(&asked), ProblemError::FitsNoStock { parts: vec![1, 3] });
}

#[test]
fn numbers_out_of_range_are_named() {
    type Case = (Problem, fn(&ProblemError) -> bool);
    let cases: [Case; 7] = [
        (problem(&[(0, 1, -1)], &[], 0), |e| matches!(e, ProblemError::StockLength { .. })),
        (problem(&[(5, -1, -1)], &[], 0), |e| matches!(e, ProblemError::StockCost { .. })),
        (problem(&[(5, 1, -1)], &[(-3, 1)], 0), |e| matches!(e, ProblemError::PartLength { .. })),
        (problem(&[(5, 1, -1)], &[(3, 1)], -1), |e| matches!(e, ProblemError::Kerf { .. })),
        (problem(&[(i64::MAX, 1, -1)], &[], 0), |e| matches!(e, ProblemError::TooLarge { .. })),
        (problem(&[(5, 1, -1)], &[], i64::MAX), |e| matches!(e, ProblemError::TooLarge { .. })),
        (problem(&[(5, LARGEST, -1)], &[(5, 2)], 0), |e| {
            matches!(e, ProblemError::TooLarge { .. })
        }),
    ];
    for (asked, expected) in cases {
        let error = refused(&asked);
        assert!(expected(&error), "{error}");
    }
}

#[test]
fn supply_short_is_said() {
    let asked = problem(&[(10, 1, 2)], &[(6, 3)], 0);
    assert!(matches!(refused(&asked), ProblemError::SupplyShort { .. }));
    let asked = problem(&[(10, 1, 0)], &[(6, 3)], 0);
    assert!(matches!(refused(&asked), ProblemError::FitsNoStock { .. }));
}

#[test]
fn lengths_near_the_limit_do_not_overflow() {
    let asked = problem(&[(LARGEST, 1, -1)], &[(LARGEST / 2, 4), (LARGEST / 3, 3)], 0);
    assert_eq!(solved(&asked).cost, 3);
}

#[test]
fn free_offcuts_come_first() {
    let asked = problem(&[(100, 10, -1), (40, 0, 2)], &[(40, 2), (50, 2)], 0);
    assert_eq!(solved(&asked).cost, 10);
}

#[test]
fn the_watcher_can_stop() {
    let asked = problem(&[(100, 1, -1)], &[(31, 9), (27, 11), (43, 7)], 0);
    let solution = solve(&asked, &Budget::steps(2_000_000_000), &mut |_| Control::Stop).unwrap();
    assert_eq!(check(&asked, &solution), Ok(()));
}
