//! Outlines laid, judged by the checker.

use super::check::{Fault, check};
use super::*;

fn sheet(length: i64, width: i64) -> Sheet {
    Sheet { length, width, cost: 1, supply: None }
}

fn gable(wide: i64, high: i64) -> Shape {
    Shape { outer: vec![[0, 0], [wide, 0], [wide / 2, high]], openings: Vec::new() }
}

fn part(shape: Shape, quantity: u32) -> Part {
    Part { shape, quantity, turns: Turns::Half }
}

fn solved(problem: &Problem) -> Solution {
    let solution = solve(problem, &Budget::steps(200_000)).expect("a plan");
    assert_eq!(check(problem, &solution), Ok(()));
    solution
}

/// Two gables head to tail take half the length of two rectangles: four of
/// 400 by 200 on 1,000 by 200, where rectangles would take two sheets.
#[test]
fn gables_lie_head_to_tail() {
    let problem = Problem {
        sheets: vec![sheet(1_040, 200)],
        parts: vec![part(gable(400, 200), 4)],
        gap: 0,
        margin: 0,
    };
    let solution = solved(&problem);
    assert_eq!((solution.sheets.len(), solution.proven), (1, true));
    assert!(solution.sheets[0].placed.iter().any(|placed| placed.quarters == 2));
}

#[test]
fn a_small_part_lies_in_an_opening() {
    let mut frame = Shape::rectangle(200, 200);
    frame.openings.push(vec![[20, 20], [20, 180], [180, 180], [180, 20]]);
    let problem = Problem {
        sheets: vec![sheet(200, 200)],
        parts: vec![part(frame, 1), part(Shape::rectangle(100, 100), 1)],
        gap: 8,
        margin: 0,
    };
    assert_eq!(solved(&problem).sheets.len(), 1);
}

#[test]
fn the_gap_and_the_margin_are_kept() {
    let parts = vec![part(Shape::rectangle(100, 60), 3)];
    let one = |gap, margin, length| {
        let problem = Problem {
            sheets: vec![sheet(length, 60 + 2 * margin)],
            parts: parts.clone(),
            gap,
            margin,
        };
        solved(&problem).sheets.len()
    };
    assert_eq!(one(0, 0, 300), 1);
    assert_eq!(one(5, 0, 300), 2);
    assert_eq!(one(0, 10, 320), 1);
    assert_eq!(one(0, 10, 300), 2);
}

#[test]
fn each_fault_is_named() {
    let problem = Problem {
        sheets: vec![Sheet { supply: Some(1), ..sheet(200, 100) }],
        parts: vec![part(gable(100, 80), 2)],
        gap: 2,
        margin: 5,
    };
    let placed = |x, y, quarters| Placed { part: 0, quarters, x, y };
    let plan = |all: Vec<Placed>| Solution {
        sheets: vec![SheetPlan { sheet: 0, placed: all }],
        cost: 1,
        bound: 1,
        proven: true,
        unplaced: Vec::new(),
    };
    let close = plan(vec![placed(5, 5, 0), placed(56, 5, 2)]);
    assert_eq!(check(&problem, &close), Err(Fault::TooClose { sheet: 0, one: 0, other: 0 }));
    let good = plan(vec![placed(5, 5, 0), placed(60, 5, 2)]);
    assert_eq!(check(&problem, &good), Ok(()));
    let off = plan(vec![placed(5, 5, 0), placed(96, 5, 0)]);
    assert_eq!(check(&problem, &off), Err(Fault::Outside { sheet: 0, part: 0 }));
    let across = plan(vec![placed(5, 5, 0), placed(60, 5, 1)]);
    assert!(matches!(check(&problem, &across), Err(Fault::Outside { .. } | Fault::Grain { .. })));
    let twice = plan(vec![placed(5, 5, 0), placed(5, 5, 0)]);
    assert!(matches!(check(&problem, &twice), Err(Fault::TooClose { .. })));
    let few = plan(vec![placed(5, 5, 0)]);
    assert!(matches!(check(&problem, &few), Err(Fault::Quantity { .. })));
    let mut two = good.clone();
    two.sheets = vec![
        SheetPlan { sheet: 0, placed: vec![placed(5, 5, 0)] },
        SheetPlan { sheet: 0, placed: vec![placed(5, 5, 0)] },
    ];
    assert_eq!(check(&problem, &two), Err(Fault::Supply(0)));
    let dear = Solution { cost: 2, ..good };
    assert_eq!(check(&problem, &dear), Err(Fault::Claim));
}

#[test]
fn what_cannot_be_worked_is_refused() {
    let problem = |shape| Problem {
        sheets: vec![sheet(100, 100)],
        parts: vec![part(shape, 1)],
        gap: 0,
        margin: 0,
    };
    let wide = solve(&problem(gable(200, 20)), &Budget::steps(1));
    assert_eq!(wide, Err(ProblemError::FitNoSheet(vec![0])));
    let flat = Shape { outer: vec![[0, 0], [5, 0], [9, 0]], openings: Vec::new() };
    assert_eq!(solve(&problem(flat), &Budget::steps(1)), Err(ProblemError::NoOutline(1)));
}
