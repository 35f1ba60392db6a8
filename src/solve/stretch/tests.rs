use super::*;
use proptest::prelude::*;

/// Trade practice, worked: gaps of 7 1/2 and four of 9 in a row with 52 1/2
/// fixed, made 76: the factor is 23.5 / 43.5.
#[test]
fn one_factor_for_every_free_gap() {
    let pieces = [(1.0, 7.5, 0.1, 7.5), (4.0, 9.0, 0.1, 9.0)];
    let sizes = one_factor(&pieces, 23.5);
    assert!((sizes[0] - 7.5 * 23.5 / 43.5).abs() < 1e-12);
    assert!((sizes[1] - 9.0 * 23.5 / 43.5).abs() < 1e-12);
}

#[test]
fn a_gap_at_its_bound_stays_and_the_rest_gives_more() {
    let pieces = [(1.0, 8.0, 6.0, 8.0), (1.0, 8.0, 1.0, 8.0)];
    let sizes = one_factor(&pieces, 10.0);
    assert!((sizes[0] - 6.0).abs() < 1e-12);
    assert!((sizes[1] - 4.0).abs() < 1e-12);
}

#[test]
fn what_cannot_fit_says_how_short_it_can_be() {
    let piece = Piece { original: 43.5, least: 26.1, most: 43.5, tolerance: 0.1, weight: 3.0 };
    let rows = vec![Row { fixed: 52.5, pieces: vec![piece], total: None }];
    let problem = Problem { rows, wholes: vec![], shortest: 0.0, longest: 76.0 };
    let none = best(&problem).unwrap_err();
    assert!((none.shortest - 78.6).abs() < 1e-9);
}

fn piece() -> impl Strategy<Value = Piece> {
    // Half of them may grow, some far beyond where their cost turns.
    let sizes = (3.0..200.0, 0.3..0.95, 0.2..2.5_f64);
    (sizes, 0.03..0.3, 0.5..4.0).prop_map(|((original, least, most), tolerance, weight)| Piece {
        original,
        least: original * least,
        most: original * most.max(1.0),
        tolerance,
        weight,
    })
}

fn whole(original: f64) -> impl Strategy<Value = Whole> {
    (0.4..1.6, 0.05..0.4, 0.0..4.0).prop_map(move |(share, tolerance, weight)| Whole {
        original: original * share,
        tolerance,
        weight,
    })
}

fn face() -> impl Strategy<Value = Problem> {
    (10.0..200.0, prop::collection::vec(piece(), 1..=2), 0.0..1.0).prop_flat_map(
        |(fixed, pieces, share)| {
            let row = Row { fixed, pieces, total: None };
            let longest = row.shortest() + share * (row.longest() - row.shortest());
            prop::collection::vec(whole(row.longest()), 0..=3).prop_map(move |wholes| Problem {
                rows: vec![row.clone()],
                wholes,
                shortest: 0.0,
                longest,
            })
        },
    )
}

/// The least cost over a grid of sizes, each piece within its bounds.
fn grid(problem: &Problem, steps: u32) -> f64 {
    let row = &problem.rows[0];
    let rows: Vec<Hulled> = problem.rows.iter().map(Hulled::from).collect();
    let curve = Curve { rows: &rows, wholes: &problem.wholes };
    let size = |piece: &Piece, step: u32| {
        piece.least + (piece.most - piece.least) * f64::from(step) / f64::from(steps)
    };
    let mut least = f64::INFINITY;
    for first in 0..=steps {
        let a = size(&row.pieces[0], first);
        let seconds = if row.pieces.len() > 1 { steps } else { 0 };
        for second in 0..=seconds {
            let b = row.pieces.get(1).map(|piece| size(piece, second));
            let total = row.fixed + a + b.unwrap_or(0.0);
            if total <= problem.longest {
                let pieces = row.pieces[0].cost(a)
                    + row.pieces.get(1).zip(b).map_or(0.0, |(piece, b)| piece.cost(b));
                least = least.min(pieces + curve.wholes(total.ln()));
            }
        }
    }
    least
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn no_grid_finds_better(problem in face()) {
        let found = best(&problem).unwrap();
        prop_assert!(found.proven);
        let steps = if problem.rows[0].pieces.len() > 1 { 300 } else { 20_000 };
        prop_assert!(found.cost <= grid(&problem, steps) + 1e-6);
    }

    #[test]
    fn the_sizes_fill_the_total(problem in face()) {
        let found = best(&problem).unwrap();
        let sum: f64 = found.sizes[0].iter().sum::<f64>() + problem.rows[0].fixed;
        prop_assert!((sum - found.total).abs() < 1e-6);
        for (piece, size) in problem.rows[0].pieces.iter().zip(&found.sizes[0]) {
            prop_assert!(*size >= piece.least - 1e-9 && *size <= piece.most + 1e-9);
        }
    }
}
