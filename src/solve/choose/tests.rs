use proptest::prelude::*;

use super::*;
use crate::solve::stretch::{self, Piece, Problem, Row, cost};

fn share() -> impl Strategy<Value = Share> {
    (0.3..0.95, 0.03..0.3, 0.0..4.0).prop_map(|(least, tolerance, weight)| Share {
        least,
        most: 1.0,
        tolerance,
        weight,
    })
}

/// Two rows of two pieces and one, two quantities, some parts of some options.
fn problem() -> impl Strategy<Value = Choosing> {
    let addition =
        (0.0..3.0, prop::collection::vec(0.0..9.0_f64, 7)).prop_map(|(cost, add)| Addition {
            cost,
            fixed: vec![add[0], add[0] + add[1] * 0.3],
            sums: vec![add[2], add[3], add[4]],
            amounts: vec![add[5], add[6].round()],
        });
    let parts = prop::collection::vec(prop::collection::vec(addition, 1..4), 1..4);
    let rows = (share(), share(), share());
    let terms = prop::collection::vec((0.5..2.0, 0.05..0.4, 0.0..4.0), 3);
    (parts, rows, terms, 0.4..1.1).prop_map(|(parts, (a, b, c), terms, tight)| {
        let bare = Addition {
            cost: 0.0,
            fixed: vec![10.0, 14.0],
            sums: vec![8.0, 4.0, 9.0],
            amounts: vec![3.0, 1.0],
        };
        let ratio = |at: usize, over_total| Ratio {
            original: terms[at].0 * if over_total { 0.5 } else { 6.0 },
            over_total,
            tolerance: terms[at].1,
            weight: terms[at].2,
            nothing: 0.0,
        };
        let whole = Whole { original: 60.0 * terms[2].0, tolerance: terms[2].1, weight: 2.0 };
        Choosing {
            rows: vec![
                Line { pieces: vec![a, b], total: None },
                Line { pieces: vec![Share { least: 0.05, most: 3.0, ..c }], total: None },
            ],
            bare,
            longest: 22.0 + 40.0 * tight,
            ratios: vec![ratio(0, true), ratio(1, false)],
            wholes: vec![whole],
            parts,
        }
    })
}

/// What a pick costs, every term worked out.
fn worked_out(problem: &Choosing, pick: &[usize]) -> Option<f64> {
    let mut sum = problem.bare.clone();
    for (options, at) in problem.parts.iter().zip(pick) {
        let add = &options[*at];
        sum.cost += add.cost;
        for (all, one) in [
            (&mut sum.fixed, &add.fixed),
            (&mut sum.sums, &add.sums),
            (&mut sum.amounts, &add.amounts),
        ] {
            all.iter_mut().zip(one).for_each(|(all, one)| *all += one);
        }
    }
    let mut originals = sum.sums.iter();
    let rows = (problem.rows.iter().zip(&sum.fixed)).map(|(line, fixed)| Row {
        fixed: *fixed,
        pieces: (line.pieces.iter().zip(&mut originals))
            .map(|(share, original)| Piece {
                original: *original,
                least: share.least * original,
                most: share.most * original,
                tolerance: share.tolerance,
                weight: share.weight,
            })
            .collect(),
        total: line.total,
    });
    let mut wholes = problem.wholes.clone();
    let mut cost_of = sum.cost;
    for (ratio, amount) in problem.ratios.iter().zip(&sum.amounts) {
        if ratio.over_total {
            let (tolerance, weight) = (ratio.tolerance, ratio.weight);
            wholes.push(Whole { original: amount / ratio.original, tolerance, weight });
        } else {
            cost_of += cost((amount / ratio.original).ln(), ratio.tolerance, ratio.weight);
        }
    }
    let whole = Problem { rows: rows.collect(), wholes, shortest: 0.0, longest: problem.longest };
    Some(cost_of + stretch::best(&whole).ok()?.cost)
}

fn every_pick(problem: &Choosing) -> Vec<Vec<usize>> {
    problem.parts.iter().fold(vec![vec![]], |known, options| {
        let with = |pick: &Vec<usize>, at: usize| pick.iter().copied().chain([at]).collect();
        known.iter().flat_map(|pick| (0..options.len()).map(move |at| with(pick, at))).collect()
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn no_pick_is_better_than_the_one_proven(problem in problem()) {
        let mut best = f64::INFINITY;
        let mut judge = |pick: &[usize]| {
            best = best.min(worked_out(&problem, pick).unwrap_or(f64::INFINITY));
            best
        };
        let explored = explore(&problem, &mut judge, &mut |_| true);
        prop_assert!(explored.proven);
        let picks = every_pick(&problem);
        let least = picks.iter().filter_map(|pick| worked_out(&problem, pick));
        let least = least.fold(f64::INFINITY, f64::min);
        prop_assert!(best <= least + 1e-6, "{best} for {least}");
    }
}
