//! Flat shapes in inches: clipped by half planes, cut from one another.

use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::float::single::SingleFloatOverlay as _;

use crate::quantity::slack::{NEAR, TOUCH};

/// Corners against the clock.
pub(crate) type Corners = Vec<[f64; 2]>;

/// The area inside, below zero where the corners run with the clock.
#[must_use]
pub(crate) fn area(corners: &[[f64; 2]]) -> f64 {
    let next = corners.iter().cycle().skip(1);
    corners.iter().zip(next).map(|(a, b)| a[0] * b[1] - b[0] * a[1]).sum::<f64>() / 2.0
}

/// What of a shape lies where `side` is not below zero; the shape must have no
/// hollows there. `side` is linear.
#[must_use]
pub(crate) fn clip(corners: &[[f64; 2]], side: impl Fn([f64; 2]) -> f64) -> Corners {
    let mut kept = Corners::new();
    for (number, &from) in corners.iter().enumerate() {
        let to = corners[(number + 1) % corners.len()];
        let (a, b) = (side(from), side(to));
        if a >= 0.0 {
            push(&mut kept, from);
        }
        if (a > 0.0 && b < 0.0) || (a < 0.0 && b > 0.0) {
            let share = a / (a - b);
            push(&mut kept, [0, 1].map(|axis| from[axis] + (to[axis] - from[axis]) * share));
        }
    }
    while kept.len() > 1 && near(kept[0], kept[kept.len() - 1]) {
        kept.pop();
    }
    kept
}

fn push(kept: &mut Corners, point: [f64; 2]) {
    if kept.last().is_none_or(|last| !near(*last, point)) {
        kept.push(point);
    }
}

/// Whether two corners are one.
#[must_use]
pub(crate) fn near(a: [f64; 2], b: [f64; 2]) -> bool {
    (a[0] - b[0]).abs() < TOUCH && (a[1] - b[1]).abs() < TOUCH
}

/// A shape less others; the pieces that are left, each its outside alone.
#[must_use]
pub(crate) fn less(corners: &[[f64; 2]], others: &[Corners]) -> Vec<Corners> {
    let subject = corners.to_vec();
    if others.is_empty() {
        return vec![subject];
    }
    let left = subject.overlay(&others.to_vec(), OverlayRule::Difference, FillRule::NonZero);
    outsides(left, &[corners, &others.concat()].concat())
}

/// What two shapes share.
#[must_use]
pub(crate) fn shared(corners: &[[f64; 2]], other: &[[f64; 2]]) -> Vec<Corners> {
    let subject = corners.to_vec();
    let both = subject.overlay(&other.to_vec(), OverlayRule::Intersect, FillRule::NonZero);
    outsides(both, &[corners, other].concat())
}

/// The outsides, their corners put back on the nearest given one: the overlay
/// works on a grid.
fn outsides(shapes: Vec<Vec<Corners>>, given: &[[f64; 2]]) -> Vec<Corners> {
    let back = |point: [f64; 2]| {
        let close =
            |at: &&[f64; 2]| (at[0] - point[0]).abs() < NEAR && (at[1] - point[1]).abs() < NEAR;
        given.iter().find(close).copied().unwrap_or(point)
    };
    let outside = |shape: Vec<Corners>| shape.into_iter().next();
    shapes
        .into_iter()
        .filter_map(outside)
        .map(|corners| {
            let mut corners: Corners = corners.into_iter().map(back).collect();
            if area(&corners) < 0.0 {
                corners.reverse();
            }
            straight(&corners)
        })
        .filter(|corners| corners.len() > 2)
        .collect()
}

/// The same without corners on a straight line.
fn straight(corners: &[[f64; 2]]) -> Corners {
    let count = corners.len();
    let bends = |number: &usize| {
        let (a, b, c) = (
            corners[(number + count - 1) % count],
            corners[*number],
            corners[(number + 1) % count],
        );
        let across = (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]);
        across.abs() > TOUCH
    };
    (0..count).filter(bends).map(|number| corners[number]).collect()
}

/// Least and most of a shape along both axes.
#[must_use]
pub(crate) fn bounds(corners: &[[f64; 2]]) -> [[f64; 2]; 2] {
    [0, 1].map(|axis| {
        let each = corners.iter().map(|corner| corner[axis]);
        [each.clone().fold(f64::INFINITY, f64::min), each.fold(f64::NEG_INFINITY, f64::max)]
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    const SQUARE: [[f64; 2]; 4] = [[0.0, 0.0], [10.0, 0.0], [10.0, 10.0], [0.0, 10.0]];

    #[test]
    fn a_half_plane_cuts_a_corner() {
        let cut = clip(&SQUARE, |[x, y]| 15.0 - x - y);
        assert_eq!(cut.len(), 5);
        assert!((area(&cut) - 87.5).abs() < 1e-9);
    }

    #[test]
    fn a_notch_leaves_one_piece_with_its_own_corners() {
        let notch = vec![[2.0, -1.0], [8.0, -1.0], [5.0, 4.0]];
        let left = less(&SQUARE, &[notch]);
        assert_eq!(left.len(), 1);
        assert!(left[0].contains(&[5.0, 4.0]));
        assert!((area(&left[0]) - (100.0 - 0.5 * 4.8 * 4.0)).abs() < 1e-3, "{}", area(&left[0]));
    }
}
