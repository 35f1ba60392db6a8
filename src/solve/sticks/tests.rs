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

/// The least cost by trying everything: pieces one by one into open strips or
/// a new one.
fn brute(problem: &Problem) -> Option<i64> {
    fn place(
        problem: &Problem,
        pieces: &[i64],
        open: &mut Vec<(usize, i64)>,
        cost: i64,
        best: &mut Option<i64>,
    ) {
        if best.is_some_and(|best| cost >= best) {
            return;
        }
        let Some((&piece, rest)) = pieces.split_first() else {
            *best = Some(cost);
            return;
        };
        for at in 0..open.len() {
            let (stock, room) = open[at];
            if room >= piece + problem.kerf {
                open[at].1 = room - piece - problem.kerf;
                place(problem, rest, open, cost, best);
                open[at] = (stock, room);
            }
        }
        for (stock, kind) in problem.stock.iter().enumerate() {
            let used = open.iter().filter(|strip| strip.0 == stock).count();
            let there = kind.supply.is_none_or(|most| used < most as usize);
            if there && kind.length >= piece {
                open.push((stock, kind.length - piece));
                place(problem, rest, open, cost + kind.cost, best);
                open.pop();
            }
        }
    }
    let mut pieces: Vec<i64> = (problem.parts.iter())
        .flat_map(|part| std::iter::repeat_n(part.length, part.quantity as usize))
        .collect();
    pieces.sort_unstable_by(|a, b| b.cmp(a));
    let mut best = None;
    place(problem, &pieces, &mut Vec::new(), 0, &mut best);
    best
}

/// A small problem made from a number: one to three stocks, some of them few,
/// some free, up to nine pieces.
fn small(seed: u64) -> Problem {
    let mut chance = dive::Chance::new(seed + 1);
    let mut upto = |most: u32| (chance.next() * f64::from(most)) as i64;
    // The first numbers of near seeds are alike.
    for _ in 0..5 {
        upto(2);
    }
    let stocks = 1 + upto(3);
    let mut stock: Vec<(i64, i64, i64)> =
        (0..stocks).map(|_| (12 + upto(30), upto(9), upto(6) - 2)).collect();
    stock[0].2 = stock[0].2.min(4);
    let mut left = 9;
    let mut parts = Vec::new();
    while left > 0 && parts.len() < 6 {
        let quantity = 1 + upto(3).min(left - 1);
        parts.push((3 + upto(14), quantity as u32));
        left -= quantity;
    }
    let kerf = upto(3);
    problem(&stock, &parts, kerf)
}

#[test]
fn small_problems_agree_with_trying_everything() {
    for seed in 0..400 {
        let asked = small(seed);
        let answer = solve(&asked, &Budget::steps(300_000_000), &mut |_| Control::Continue);
        match (answer, brute(&asked)) {
            (Ok(solution), Some(least)) => {
                assert_eq!(check(&asked, &solution), Ok(()), "{asked:?}");
                assert_eq!((solution.cost, solution.proven), (least, true), "{seed} {asked:?}");
            }
            (Err(ProblemError::FitsNoStock { .. } | ProblemError::SupplyShort { .. }), None) => {}
            (answer, least) => panic!("{seed} {asked:?}: {answer:?}, least {least:?}"),
        }
    }
}

#[test]
fn a_supply_that_only_just_holds_the_parts_is_no_refusal() {
    let asked =
        problem(&[(20, 5, 3), (24, 0, 1), (23, 7, 2)], &[(9, 3), (11, 3), (16, 2), (14, 1)], 2);
    assert_eq!(solved(&asked).cost, 29);
}

#[test]
fn sums_that_only_one_mix_can_reach_are_proven() {
    let asked = problem(&[(240, 24, -1), (110, 11, -1)], &[(60, 4), (54, 4)], 1);
    let solution = solved(&asked);
    assert_eq!((solution.cost, solution.proven), (brute(&asked).unwrap(), true));
}

#[test]
fn the_same_question_has_the_same_answer() {
    let asked = problem(&[(1000, 7, -1), (700, 5, 4)], &[(233, 17), (191, 23), (307, 11)], 3);
    assert_eq!(solved(&asked), solved(&asked));
}

#[test]
fn dear_stock_and_long_strips_do_not_overflow() {
    let (long, dear) = (1 << 55, 1 << 50);
    let parts: Vec<(i64, u32)> = (0..12).map(|k| (long / 7 + (k << 40), 5)).collect();
    let asked = problem(&[(long, dear, -1), (long / 2, dear / 3, 9)], &parts, 1 << 20);
    let solution = solve(&asked, &Budget::steps(20_000_000), &mut |_| Control::Continue).unwrap();
    assert_eq!(check(&asked, &solution), Ok(()));
    assert!(solution.bound > 0);
}

#[test]
fn many_equal_parts_are_laid_out_as_runs() {
    let solution = solved(&problem(&[(100, 1, -1)], &[(33, 1_000_000), (1, 500_000)], 0));
    // Each of 333,333 strips takes three 33s and a 1, one more the last 33 and
    // 67 ones; the 166,600 ones left take 1,666.
    assert_eq!((solution.cost, solution.proven), (335_000, true));
}

/// Nine strips either way: seven ways to cut them, or four.
#[test]
fn of_plans_of_like_cost_the_one_with_fewer_ways_to_cut_is_kept() {
    let asked = problem(&[(100, 1, -1)], &[(60, 4), (40, 4), (50, 2), (30, 6), (20, 6)], 0);
    let instance = Instance::new(&asked).unwrap();
    let mut ignore = |_: &Progress| Control::Continue;
    let mut search = Search::new(&asked, &instance, Budget::steps(1000), &mut ignore);
    let cut = |counts: &[(u32, u32)], times| normal::Cut { bar: 0, counts: counts.to_vec(), times };
    // Items by length: 60, 50, 40, 30, 20.
    let many = [
        cut(&[(0, 1), (2, 1)], 3),
        cut(&[(0, 1), (3, 1)], 1),
        cut(&[(1, 2)], 1),
        cut(&[(2, 1), (3, 2)], 1),
        cut(&[(3, 3)], 1),
        cut(&[(4, 5)], 1),
        cut(&[(4, 1)], 1),
    ];
    let few = [
        cut(&[(0, 1), (2, 1)], 4),
        cut(&[(1, 2)], 1),
        cut(&[(3, 2), (4, 1)], 3),
        cut(&[(4, 3)], 1),
    ];
    assert!(search.offer(&many));
    assert!(!search.offer(&few), "it is no cheaper");
    assert_eq!(search.best.as_deref(), Some(&few[..]));
    assert!(!search.offer(&many));
    assert_eq!(search.best.as_deref(), Some(&few[..]));
}
