//! The shape of a flat part: an outer line and the openings in it.
//!
//! `x` runs to the right and `y` up as the part stands on its face, from the
//! lower left corner of the rectangle round it.

use std::collections::BTreeMap;

use crate::quantity::slack::TOUCH;
use crate::quantity::{Compressed, Length, Model, Scale, Space};

/// A corner.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point<S: Space> {
    /// To the right.
    pub x: Length<S>,
    /// Upwards.
    pub y: Length<S>,
}

impl<S: Space> Point<S> {
    /// A corner at these distances.
    #[must_use]
    pub fn new(x: Length<S>, y: Length<S>) -> Self {
        Self { x, y }
    }
}

/// A flat shape.
#[derive(Clone, Debug, PartialEq)]
pub struct Outline<S: Space> {
    /// Corners of the outer line, counterclockwise, the first not repeated.
    pub outer: Vec<Point<S>>,
    /// Corners of each opening that is closed all round, clockwise.
    pub openings: Vec<Vec<Point<S>>>,
}

impl<S: Space> Outline<S> {
    /// A rectangle.
    #[must_use]
    pub fn rectangle(wide: Length<S>, high: Length<S>) -> Self {
        let zero = Length::ZERO;
        let corner = Point::new;
        let outer = vec![corner(zero, zero), corner(wide, zero), corner(wide, high)];
        Self::polygon([outer, vec![corner(zero, high)]].concat())
    }

    /// A shape without openings.
    #[must_use]
    pub fn polygon(outer: Vec<Point<S>>) -> Self {
        Self { outer, openings: Vec::new() }
    }

    /// Lower left and upper right corner of the rectangle round it.
    #[must_use]
    pub fn bounds(&self) -> (Point<S>, Point<S>) {
        let Some(&first) = self.outer.first() else {
            let none = Point::new(Length::ZERO, Length::ZERO);
            return (none, none);
        };
        self.outer.iter().fold((first, first), |(low, high), point| {
            (
                Point::new(low.x.min(point.x), low.y.min(point.y)),
                Point::new(high.x.max(point.x), high.y.max(point.y)),
            )
        })
    }

    /// Area inside the outer line less the openings, in square inches.
    #[must_use]
    pub fn square_inches(&self) -> f64 {
        turned(&self.outer) + self.openings.iter().map(|opening| turned(opening)).sum::<f64>()
    }

    /// Whether it is a rectangle without openings.
    #[must_use]
    pub fn is_rectangle(&self) -> bool {
        let (low, high) = self.bounds();
        let round = (high.x - low.x).in_inches() * (high.y - low.y).in_inches();
        self.outer.len() == 4
            && self.openings.is_empty()
            && (round - self.square_inches()).abs() <= TOUCH * round
    }

    /// The same shape with its lower left corner at zero.
    #[must_use]
    pub fn at_origin(&self) -> Self {
        let (low, _) = self.bounds();
        self.mapped(|point| Point::new(point.x - low.x, point.y - low.y))
    }

    /// Whether it agrees with another, corner by corner.
    #[must_use]
    pub fn agrees(&self, other: &Self, slack: Length<S>) -> bool {
        let same = |a: &[Point<S>], b: &[Point<S>]| {
            let near =
                |(a, b): (&Point<S>, &Point<S>)| a.x.agrees(b.x, slack) && a.y.agrees(b.y, slack);
            a.len() == b.len() && a.iter().zip(b).all(near)
        };
        same(&self.outer, &other.outer)
            && self.openings.len() == other.openings.len()
            && self.openings.iter().zip(&other.openings).all(|(a, b)| same(a, b))
    }

    fn mapped<T: Space>(&self, of: impl Fn(&Point<S>) -> Point<T>) -> Outline<T> {
        let line = |points: &Vec<Point<S>>| points.iter().map(&of).collect();
        Outline { outer: line(&self.outer), openings: self.openings.iter().map(line).collect() }
    }
}

impl Outline<Compressed> {
    /// The shape on the model.
    #[must_use]
    pub fn reduce(&self, scale: &Scale) -> Outline<Model> {
        self.mapped(|point| Point::new(scale.reduce(point.x), scale.reduce(point.y)))
    }
}

/// Area of a closed line in square inches, negative where it runs clockwise.
fn turned<S: Space>(line: &[Point<S>]) -> f64 {
    let next = line.iter().cycle().skip(1);
    let part = |(a, b): (&Point<S>, &Point<S>)| {
        a.x.in_inches() * b.y.in_inches() - b.x.in_inches() * a.y.in_inches()
    };
    line.iter().zip(next).map(part).sum::<f64>() / 2.0
}

/// Between two uprights, what is solid: from `low` to `high` at the left and
/// at the right.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Band<S: Space> {
    pub(crate) left: (Length<S>, Length<S>),
    pub(crate) right: (Length<S>, Length<S>),
}

/// The bands between one upright and the next, from the foot up.
#[derive(Clone, Debug)]
pub(crate) struct Slab<S: Space> {
    pub(crate) from: Length<S>,
    pub(crate) to: Length<S>,
    pub(crate) bands: Vec<Band<S>>,
}

type Edge<S> = (Point<S>, Point<S>);

/// The shapes that slabs side by side come to: one for each piece that hangs
/// together.
pub(crate) fn trace<S: Space>(slabs: &[Slab<S>]) -> Vec<Outline<S>> {
    let mut edges = Vec::new();
    for slab in slabs {
        for band in &slab.bands {
            let at = |x, y| Point::new(x, y);
            edges.push((at(slab.from, band.left.0), at(slab.to, band.right.0)));
            edges.push((at(slab.to, band.right.1), at(slab.from, band.left.1)));
        }
    }
    for (number, slab) in slabs.iter().enumerate() {
        let before = if number > 0 { Some(&slabs[number - 1]) } else { None };
        edges.extend(uprights(before, Some(slab), slab.from));
        if number + 1 == slabs.len() {
            edges.extend(uprights(Some(slab), None, slab.to));
        }
    }
    nested(loops(&edges))
}

/// Upright edges where solid meets air: up where it ends, down where it begins.
fn uprights<S: Space>(
    before: Option<&Slab<S>>,
    after: Option<&Slab<S>>,
    x: Length<S>,
) -> Vec<Edge<S>> {
    let ends: Vec<_> =
        before.into_iter().flat_map(|slab| &slab.bands).map(|band| band.right).collect();
    let starts: Vec<_> =
        after.into_iter().flat_map(|slab| &slab.bands).map(|band| band.left).collect();
    let mut levels: Vec<Length<S>> =
        ends.iter().chain(&starts).flat_map(|(low, high)| [*low, *high]).collect();
    levels.sort_by(Length::total_cmp);
    let mut edges = Vec::new();
    for pair in levels.windows(2) {
        let middle = (pair[0] + pair[1]) / 2.0;
        let within = |bands: &[(Length<S>, Length<S>)]| {
            bands.iter().any(|(low, high)| *low < middle && middle < *high)
        };
        match (within(&ends), within(&starts)) {
            (true, false) => edges.push((Point::new(x, pair[0]), Point::new(x, pair[1]))),
            (false, true) => edges.push((Point::new(x, pair[1]), Point::new(x, pair[0]))),
            _ => {}
        }
    }
    edges
}

/// Corners nearer than this are one, inches.
const ONE_CORNER: f64 = 1e-6;

/// Corners by their place among all: those that differ by a rounding are one,
/// wherever the rounding falls.
struct Corners {
    xs: Vec<f64>,
    ys: Vec<f64>,
}

impl Corners {
    fn of<S: Space>(edges: &[Edge<S>]) -> Self {
        let apart = |pick: fn(&Point<S>) -> f64| {
            let mut all: Vec<f64> = edges.iter().flat_map(|(a, b)| [pick(a), pick(b)]).collect();
            all.sort_by(f64::total_cmp);
            all.dedup_by(|next, kept| *next - *kept < ONE_CORNER);
            all
        };
        Self { xs: apart(|it| it.x.in_inches()), ys: apart(|it| it.y.in_inches()) }
    }

    fn key<S: Space>(&self, point: &Point<S>) -> (usize, usize) {
        let place = |all: &[f64], value: f64| all.partition_point(|first| *first <= value);
        (place(&self.xs, point.x.in_inches()), place(&self.ys, point.y.in_inches()))
    }
}

/// Chains edges to closed lines, corners on a straight line left out.
fn loops<S: Space>(edges: &[Edge<S>]) -> Vec<Vec<Point<S>>> {
    let corners = Corners::of(edges);
    let key = |point: &Point<S>| corners.key(point);
    let mut open: BTreeMap<(usize, usize), Vec<usize>> = BTreeMap::new();
    for (number, (from, to)) in edges.iter().enumerate() {
        if key(from) != key(to) {
            open.entry(key(from)).or_default().push(number);
        }
    }
    let mut lines = Vec::new();
    while let Some((&start, _)) = open.iter().next() {
        let mut line: Vec<Point<S>> = Vec::new();
        let mut at = start;
        while let Some(number) = take(&mut open, at, line.last(), edges) {
            line.push(edges[number].0);
            at = key(&edges[number].1);
            if at == start {
                break;
            }
        }
        let line = straightened(&line);
        if line.len() > 2 {
            lines.push(line);
        }
    }
    lines
}

/// The next edge from a corner; where two lines touch, the one most to the
/// left, so that each keeps its own inside.
fn take<S: Space>(
    open: &mut BTreeMap<(usize, usize), Vec<usize>>,
    at: (usize, usize),
    before: Option<&Point<S>>,
    edges: &[Edge<S>],
) -> Option<usize> {
    let here = open.get_mut(&at)?;
    let turn = |number: usize| {
        let (from, to) = edges[number];
        before.map_or(0.0, |before| {
            let way =
                |a: &Point<S>, b: &Point<S>| ((b.x - a.x).in_inches(), (b.y - a.y).in_inches());
            let (a, b) = (way(before, &from), way(&from, &to));
            (a.0 * b.1 - a.1 * b.0).atan2(a.0 * b.0 + a.1 * b.1)
        })
    };
    let best = (0..here.len()).max_by(|a, b| turn(here[*a]).total_cmp(&turn(here[*b])))?;
    let number = here.swap_remove(best);
    if here.is_empty() {
        open.remove(&at);
    }
    Some(number)
}

fn straightened<S: Space>(line: &[Point<S>]) -> Vec<Point<S>> {
    let count = line.len();
    let bends = |number: &usize| {
        let (a, b, c) =
            (line[(number + count - 1) % count], line[*number], line[(number + 1) % count]);
        let across = (b.x - a.x).in_inches() * (c.y - b.y).in_inches()
            - (b.y - a.y).in_inches() * (c.x - b.x).in_inches();
        across.abs() > TOUCH
    };
    (0..count).filter(bends).map(|number| line[number]).collect()
}

/// Lines that run clockwise are openings of the line round them.
fn nested<S: Space>(lines: Vec<Vec<Point<S>>>) -> Vec<Outline<S>> {
    let (outer, inner): (Vec<_>, Vec<_>) = lines.into_iter().partition(|line| turned(line) > 0.0);
    let mut shapes: Vec<Outline<S>> = outer.into_iter().map(Outline::polygon).collect();
    for line in inner {
        if let Some(shape) = shapes.iter_mut().find(|shape| holds(&shape.outer, &line[0])) {
            shape.openings.push(line);
        }
    }
    shapes
}

fn holds<S: Space>(line: &[Point<S>], point: &Point<S>) -> bool {
    let next = line.iter().cycle().skip(1);
    let crossed = line.iter().zip(next).filter(|(a, b)| {
        let over = |p: &Point<S>| p.y > point.y;
        over(a) != over(b) && {
            let share = (point.y - a.y) / (b.y - a.y);
            point.x < a.x + (b.x - a.x) * share
        }
    });
    crossed.count() % 2 == 1
}

#[cfg(test)]
mod tests {
    use super::*;

    type Full = Length<Compressed>;

    fn inches(value: f64) -> Full {
        Full::inches(value)
    }

    fn level(from: f64, to: f64, bands: &[(f64, f64)]) -> Slab<Compressed> {
        let band = |(low, high): &(f64, f64)| {
            let both = (inches(*low), inches(*high));
            Band { left: both, right: both }
        };
        Slab { from: inches(from), to: inches(to), bands: bands.iter().map(band).collect() }
    }

    #[test]
    fn a_window_is_an_opening_and_a_door_a_notch() {
        let slabs = [
            level(0.0, 4.0, &[(0.0, 10.0)]),
            level(4.0, 6.0, &[(0.0, 3.0), (7.0, 10.0)]),
            level(6.0, 8.0, &[(0.0, 10.0)]),
            level(8.0, 11.0, &[(8.0, 10.0)]),
            level(11.0, 12.0, &[(0.0, 10.0)]),
        ];
        let shapes = trace(&slabs);
        assert_eq!(shapes.len(), 1);
        assert_eq!((shapes[0].outer.len(), shapes[0].openings.len()), (8, 1));
        assert!((shapes[0].square_inches() - (120.0 - 8.0 - 24.0)).abs() < 1e-9);
    }

    /// A corner that falls on the half of a millionth: one of its two edges
    /// comes out a rounding lower.
    #[test]
    fn corners_that_differ_by_a_rounding_are_one() {
        let (low, lower) = (207.038_217_5, 207.038_217_499_999_97);
        let slab = |from, to, left, right| Slab::<Compressed> {
            from: inches(from),
            to: inches(to),
            bands: vec![Band { left, right }],
        };
        let foot = |head| (inches(low), inches(head));
        let shapes = trace(&[
            slab(10.0, 103.75, (inches(low), inches(lower)), foot(310.5)),
            slab(103.75, 197.5, foot(310.5), (inches(low), inches(lower))),
        ]);
        assert_eq!(shapes.len(), 1);
        assert!((shapes[0].square_inches() - 93.75 * (310.5 - low)).abs() < 1e-6);
    }

    #[test]
    fn a_strip_cut_through_by_a_door_is_two_pieces() {
        let shapes = trace(&[
            level(0.0, 4.0, &[(0.0, 3.0)]),
            level(4.0, 6.0, &[]),
            level(6.0, 9.0, &[(0.0, 3.0)]),
        ]);
        assert_eq!(shapes.len(), 2);
        assert!(
            shapes[1]
                .at_origin()
                .agrees(&Outline::rectangle(inches(3.0), inches(3.0)), inches(1e-6))
        );
    }

    #[test]
    fn a_gable_has_five_corners() {
        let slab = |from: f64, to: f64, left: f64, right: f64| Slab {
            from: inches(from),
            to: inches(to),
            bands: vec![Band {
                left: (Full::ZERO, inches(left)),
                right: (Full::ZERO, inches(right)),
            }],
        };
        let shapes = trace(&[slab(0.0, 6.0, 8.0, 11.0), slab(6.0, 12.0, 11.0, 8.0)]);
        assert_eq!(shapes[0].outer.len(), 5);
        assert!((shapes[0].square_inches() - (96.0 + 18.0)).abs() < 1e-9);
    }
}
