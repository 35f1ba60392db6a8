//! Shapes without hollows, given by their corners: how far apart two of them
//! are, how deep one lies in planes, and how a flat outline falls into such.

use super::body::Point;
use crate::building::place::{cross, dot, plus};

/// What was found between two shapes.
#[derive(Clone, Copy, Debug)]
pub(super) enum Apart {
    /// Apart by this: the nearest point of the first, and the way to it.
    By { distance: f64, at: Point, direction: Point },
    /// Apart by no less than this, which was enough to know.
    AtLeast(f64),
    /// They meet.
    Meet,
}

/// A corner of the difference of two shapes, with the corner of the first it
/// comes from.
#[derive(Clone, Copy, Debug)]
struct Pick {
    between: Point,
    of: Point,
}

/// How far a shape of some corners is from another, whose outermost point in a
/// direction is known; no further than `enough` is looked.
///
/// Gilbert, Johnson and Keerthi (IEEE Journal of Robotics and Automation 4,
/// 1988): the point nearest to zero of the difference of both, over simplexes.
pub(super) fn apart(corners: &[Point], other: impl Fn(Point) -> Point, enough: f64) -> Apart {
    let pick = |towards: Point| {
        let of = outermost(corners, towards);
        Pick { between: plus(of, other(towards.map(|part| -part)), -1.0), of }
    };
    let first = pick([0.0, 0.0, 1.0]);
    let (mut simplex, mut count, mut weights) = ([first; 4], 1, [1.0, 0.0, 0.0, 0.0]);
    let mut v = first.between;
    for _ in 0..48 {
        let square = dot(v, v);
        if square < 1e-20 {
            return Apart::Meet;
        }
        let next = pick(v.map(|part| -part));
        let reach = dot(v, next.between);
        if reach > 0.0 && reach * reach > enough * enough * square {
            return Apart::AtLeast(reach / square.sqrt());
        }
        let known = simplex[..count].iter().any(|it| same(it, &next));
        if square - reach <= 1e-11 * square || known {
            break;
        }
        simplex[count] = next;
        let Some(found) = nearest(&simplex[..=count]) else { return Apart::Meet };
        let all = count + 1;
        count = 0;
        for at in 0..all {
            if found[at] > 0.0 {
                (simplex[count], weights[count]) = (simplex[at], found[at]);
                count += 1;
            }
        }
        v = mean(&simplex[..count], &weights, |it| it.between);
        if dot(v, v) >= square {
            break;
        }
    }
    let distance = dot(v, v).sqrt();
    let at = mean(&simplex[..count], &weights, |it| it.of);
    Apart::By { distance, at, direction: v.map(|part| part / distance.max(f64::MIN_POSITIVE)) }
}

fn same(a: &Pick, b: &Pick) -> bool {
    (0..3).all(|axis| (a.between[axis] - b.between[axis]).abs() < 1e-13)
}

fn mean(simplex: &[Pick], weights: &[f64], of: fn(&Pick) -> Point) -> Point {
    simplex.iter().zip(weights).fold([0.0; 3], |sum, (it, by)| plus(sum, of(it), *by))
}

/// The corner furthest in a direction.
pub(super) fn outermost(corners: &[Point], towards: Point) -> Point {
    let mut best = (f64::NEG_INFINITY, [0.0; 3]);
    for corner in corners {
        let far = dot(*corner, towards);
        if far > best.0 {
            best = (far, *corner);
        }
    }
    best.1
}

/// Shares of the corners of a simplex that give its point nearest to zero;
/// nothing where zero lies within it.
fn nearest(simplex: &[Pick]) -> Option<[f64; 4]> {
    match simplex.len() {
        2 => Some(of_line([0, 1], simplex)),
        3 => Some(of_triangle([0, 1, 2], simplex)),
        _ => of_tetrahedron(simplex),
    }
}

fn of_line([a, b]: [usize; 2], simplex: &[Pick]) -> [f64; 4] {
    let from = simplex[a].between;
    let span = plus(simplex[b].between, from, -1.0);
    let square = dot(span, span);
    let share = if square > 0.0 { (-dot(from, span) / square).clamp(0.0, 1.0) } else { 0.0 };
    let mut shares = [0.0; 4];
    (shares[a], shares[b]) = (1.0 - share, share);
    shares
}

/// By the regions of its sides and corners.
fn of_triangle([a, b, c]: [usize; 3], simplex: &[Pick]) -> [f64; 4] {
    let [pa, pb, pc] = [a, b, c].map(|at| simplex[at].between);
    let (ab, ac) = (plus(pb, pa, -1.0), plus(pc, pa, -1.0));
    let normal = cross(ab, ac);
    let square = dot(normal, normal);
    if square > 1e-24 * dot(ab, ab) * dot(ac, ac) {
        let part = |p: Point, q: Point| dot(normal, cross(p, q)) / square;
        let [wa, wb, wc] = [part(pb, pc), part(pc, pa), part(pa, pb)];
        if wa >= 0.0 && wb >= 0.0 && wc >= 0.0 {
            let all = wa + wb + wc;
            let mut shares = [0.0; 4];
            (shares[a], shares[b], shares[c]) = (wa / all, wb / all, wc / all);
            return shares;
        }
    }
    let sides = [[a, b], [b, c], [c, a]].map(|side| of_line(side, simplex));
    least(sides.into_iter(), simplex).unwrap_or(sides[0])
}

fn of_tetrahedron(simplex: &[Pick]) -> Option<[f64; 4]> {
    let faces = [([0, 1, 2], 3), ([0, 1, 3], 2), ([0, 2, 3], 1), ([1, 2, 3], 0)];
    let outside = |(face, beyond): &([usize; 3], usize)| {
        let [a, b, c] = face.map(|at| simplex[at].between);
        let normal = cross(plus(b, a, -1.0), plus(c, a, -1.0));
        let zero = -dot(normal, a);
        let other = dot(normal, plus(simplex[*beyond].between, a, -1.0));
        zero * other <= 1e-14 * other.abs().max(1e-14)
    };
    let open = faces.into_iter().filter(outside);
    least(open.map(|(face, _)| of_triangle(face, simplex)), simplex)
}

/// The shares that give the point nearest to zero; nothing where there are none.
fn least(all: impl Iterator<Item = [f64; 4]>, simplex: &[Pick]) -> Option<[f64; 4]> {
    let square = |shares: &[f64; 4]| {
        let point = mean(simplex, shares, |it| it.between);
        dot(point, point)
    };
    all.min_by(|a, b| square(a).total_cmp(&square(b)))
}

/// The point of a shape that lies deepest behind some planes, as shares of its
/// corners, and how deep: `depths[corner][plane]`.
///
/// The greatest of the least over planes is the value of a game of two; its
/// linear program by the simplex rule (Dantzig, Linear Programming and
/// Extensions, 1963, chapter 13).
pub(super) fn deepest(depths: &[Vec<f64>]) -> (f64, Vec<f64>) {
    let (rows, columns) = (depths.len(), depths.first().map_or(0, Vec::len));
    let least = depths.iter().flatten().copied().fold(f64::INFINITY, f64::min);
    let wide = columns + rows + 1;
    let mut table: Vec<Vec<f64>> = depths
        .iter()
        .enumerate()
        .map(|(at, row)| {
            let mut line = vec![0.0; wide];
            line.iter_mut().zip(row).for_each(|(cell, depth)| *cell = depth - least + 1.0);
            line[columns + at] = 1.0;
            // Rows that are alike would make it turn round on the spot.
            line[wide - 1] = 1.0 + 1e-11 * at as f64;
            line
        })
        .collect();
    let mut goal: Vec<f64> = (0..wide).map(|at| if at < columns { -1.0 } else { 0.0 }).collect();
    for _ in 0..8 * (rows + columns) {
        let enters = (0..wide - 1).min_by(|a, b| goal[*a].total_cmp(&goal[*b]));
        let Some(enters) = enters.filter(|at| goal[*at] < -1e-11) else { break };
        let ratio = |row: &Vec<f64>| row[wide - 1] / row[enters];
        let leaves = (0..rows)
            .filter(|at| table[*at][enters] > 1e-11)
            .min_by(|a, b| ratio(&table[*a]).total_cmp(&ratio(&table[*b])));
        let Some(leaves) = leaves else { break };
        pivot(&mut table, &mut goal, leaves, enters);
    }
    let shares: Vec<f64> = (0..rows).map(|at| goal[columns + at].max(0.0)).collect();
    let sum = shares.iter().sum::<f64>().max(f64::MIN_POSITIVE);
    let shares: Vec<f64> = shares.into_iter().map(|share| share / sum).collect();
    let depth = |plane: usize| shares.iter().zip(depths).map(|(by, row)| by * row[plane]).sum();
    ((0..columns).map(depth).fold(f64::INFINITY, f64::min), shares)
}

fn pivot(table: &mut [Vec<f64>], goal: &mut [f64], leaves: usize, enters: usize) {
    let by = table[leaves][enters];
    table[leaves].iter_mut().for_each(|cell| *cell /= by);
    let line = table[leaves].clone();
    let clear = |row: &mut [f64]| {
        let times = row[enters];
        row.iter_mut().zip(&line).for_each(|(cell, part)| *cell -= times * part);
    };
    table.iter_mut().enumerate().filter(|it| it.0 != leaves).for_each(|it| clear(it.1));
    clear(goal);
}

/// A flat outline as outlines without hollows: itself, or triangles.
pub(super) fn split(face: &[Point]) -> Vec<Vec<Point>> {
    let mut ring: Vec<Point> = Vec::with_capacity(face.len());
    for at in face {
        if ring.last().is_none_or(|last| far(*last, *at)) {
            ring.push(*at);
        }
    }
    while ring.len() > 1 && !far(ring[0], ring[ring.len() - 1]) {
        ring.pop();
    }
    let Some(&first) = ring.first() else { return Vec::new() };
    let normal = ring.windows(2).fold([0.0; 3], |sum, pair| {
        plus(sum, cross(plus(pair[0], first, -1.0), plus(pair[1], first, -1.0)), 1.0)
    });
    let turns =
        |a: Point, b: Point, c: Point| dot(normal, cross(plus(b, a, -1.0), plus(c, b, -1.0)));
    let slack = -1e-9 * dot(normal, normal);
    let mut parts = Vec::new();
    while ring.len() > 3 {
        let count = ring.len();
        let around = |at: usize| [ring[(at + count - 1) % count], ring[at], ring[(at + 1) % count]];
        let hollow = |at: usize| {
            let [a, b, c] = around(at);
            turns(a, b, c) < slack
        };
        if !(0..count).any(hollow) {
            break;
        }
        let is_ear = |at: &usize| {
            let [a, b, c] = around(*at);
            let inside =
                |p: Point| [[a, b], [b, c], [c, a]].iter().all(|[q, r]| turns(*q, *r, p) >= slack);
            let others = ring.iter().filter(|p| far(**p, a) && far(**p, b) && far(**p, c));
            !hollow(*at) && !others.copied().any(inside)
        };
        let Some(ear) = (0..count).find(is_ear) else { break };
        parts.push(around(ear).to_vec());
        ring.remove(ear);
    }
    parts.push(ring);
    parts
}

fn far(a: Point, b: Point) -> bool {
    (0..3).any(|axis| (a[axis] - b[axis]).abs() > 1e-9)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cube(at: Point) -> Vec<Point> {
        let each = |n: u8| [0, 1, 2].map(|axis: usize| at[axis] + f64::from(n >> axis & 1));
        (0..8).map(each).collect()
    }

    #[test]
    fn cubes_apart_and_together() {
        let a = cube([0.0; 3]);
        let of = |at: Point| {
            let b = cube(at);
            apart(&a, |towards| outermost(&b, towards), f64::INFINITY)
        };
        let Apart::By { distance, .. } = of([4.0, 5.0, 0.5]) else { panic!("apart") };
        assert!((distance - 5.0).abs() < 1e-12);
        let Apart::By { distance, .. } = of([2.0, 3.0, 3.0]) else { panic!("apart") };
        assert!((distance - 3.0).abs() < 1e-12);
        assert!(matches!(of([0.5, 0.5, 0.5]), Apart::Meet));
    }

    #[test]
    fn the_deepest_point_behind_planes() {
        // Corners at 0 and 4 between planes at 1 and 5: at 3 both are 2 away.
        let (depth, shares) = deepest(&[vec![-1.0, 5.0], vec![3.0, 1.0]]);
        assert!((depth - 2.0).abs() < 1e-12, "{depth}");
        assert!((shares[1] - 0.75).abs() < 1e-12);
    }

    #[test]
    fn an_outline_with_a_hollow_falls_into_parts_of_the_same_area() {
        let at = |x: f64, y: f64| [x, y, 0.0];
        let ell = [at(0., 0.), at(4., 0.), at(4., 1.), at(1., 1.), at(1., 3.), at(0., 3.)];
        let area = |ring: &Vec<Point>| {
            let pairs = ring.windows(2);
            pairs
                .map(|it| cross(plus(it[0], ring[0], -1.0), plus(it[1], ring[0], -1.0))[2])
                .sum::<f64>()
                / 2.0
        };
        let parts = split(&ell);
        assert!(parts.len() > 1);
        assert!((parts.iter().map(area).sum::<f64>() - 6.0).abs() < 1e-12);
    }
}
