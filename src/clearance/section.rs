//! The cross-section of a body: half widths by height, the same on both sides.

use crate::quantity::slack::EXACT;

/// A cross-section from its lowest to its highest point, model inches: half
/// width and height over the rail head. Between two points its side is a
/// straight line; two points at one height make a step.
#[derive(Clone, Debug, PartialEq)]
pub struct Section {
    points: Vec<[f64; 2]>,
    convex: bool,
    /// All round, against the clock from the foot on the right.
    ring: Vec<[f64; 2]>,
    /// From the axis at the bottom to the axis at the top.
    sides: Vec<Side>,
}

/// A straight piece of the outline.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Side {
    from: [f64; 2],
    span: [f64; 2],
    /// One over the square of its length; nothing for a side without length.
    per_square: f64,
    /// The way out, square to it.
    square: [f64; 2],
}

impl Side {
    fn new(from: [f64; 2], to: [f64; 2]) -> Self {
        let span = [to[0] - from[0], to[1] - from[1]];
        let square = span[0] * span[0] + span[1] * span[1];
        let per_square = if square > 0.0 { 1.0 / square } else { 0.0 };
        let long = square.sqrt().max(f64::MIN_POSITIVE);
        // Outwards of a side that goes up is to its right.
        Self { from, span, per_square, square: [span[1] / long, -span[0] / long] }
    }

    /// From its nearest place to a point.
    fn away(&self, x: f64, high: f64) -> [f64; 2] {
        let ([a, low], [dx, dy]) = (self.from, self.span);
        let share = (((x - a) * dx + (high - low) * dy) * self.per_square).clamp(0.0, 1.0);
        [x - a - dx * share, high - low - dy * share]
    }
}

impl Section {
    /// The section of some points from the bottom up; nothing where they are
    /// fewer than two, go down again, or hold no area.
    #[must_use]
    pub fn new(points: Vec<[f64; 2]>) -> Option<Self> {
        let rises = points.windows(2).all(|pair| pair[1][1] >= pair[0][1]);
        let sound = points.iter().all(|[half, high]| *half >= 0.0 && (half + high).is_finite());
        let tall = points.len() > 1 && points[points.len() - 1][1] > points[0][1];
        let wide = points.iter().any(|[half, _]| *half > 0.0);
        (rises && sound && tall && wide).then(|| Self::of(points))
    }

    fn of(points: Vec<[f64; 2]>) -> Self {
        let left = points.iter().rev().map(|[half, high]| [-half, *high]);
        let ring = points.iter().copied().chain(left).collect();
        let end = |at: &[f64; 2]| [0.0, at[1]];
        let ends = points.first().map(end).into_iter();
        let round: Vec<[f64; 2]> =
            ends.chain(points.iter().copied()).chain(points.last().map(end)).collect();
        let sides = round.windows(2).map(|pair| Side::new(pair[0], pair[1])).collect();
        Self { convex: is_convex(&points), ring, sides, points }
    }

    /// A rectangle.
    #[must_use]
    pub fn rectangle(half: f64, low: f64, high: f64) -> Option<Self> {
        Self::new(vec![[half, low], [half, high]])
    }

    /// Its points.
    #[must_use]
    pub fn points(&self) -> &[[f64; 2]] {
        &self.points
    }

    /// Its greatest half width.
    #[must_use]
    pub fn half(&self) -> f64 {
        self.points.iter().map(|point| point[0]).fold(0.0, f64::max)
    }

    /// Its lowest and highest point.
    #[must_use]
    pub fn heights(&self) -> [f64; 2] {
        [self.points[0][1], self.points[self.points.len() - 1][1]]
    }

    /// Its greatest half width at a height; nothing above and below it.
    #[must_use]
    pub fn half_at(&self, high: f64) -> Option<f64> {
        let across = |pair: &[[f64; 2]]| {
            let ([a, low], [b, top]) = (pair[0], pair[1]);
            if high < low || high > top {
                return None;
            }
            let share = if top > low { (high - low) / (top - low) } else { 1.0 };
            Some(if top > low { a + (b - a) * share } else { a.max(b) })
        };
        self.points.windows(2).filter_map(across).reduce(f64::max)
    }

    /// Wider by so much on both sides.
    #[must_use]
    pub fn widened(&self, by: f64) -> Self {
        Self::of(self.points.iter().map(|[half, high]| [half + by, *high]).collect())
    }

    /// Signed distance of a point: beside the axis by `out`, at a height; below
    /// zero inside. With it the direction away from the section, whose first
    /// part counts outwards.
    #[must_use]
    pub fn distance(&self, out: f64, high: f64) -> Away {
        let (side, x) = (if out < 0.0 { -1.0 } else { 1.0 }, out.abs());
        let (mut nearest, mut to, mut way) = (f64::INFINITY, [0.0, 0.0], [1.0, 0.0]);
        for it in &self.sides {
            let [u, v] = it.away(x, high);
            if u * u + v * v < nearest {
                (nearest, to, way) = (u * u + v * v, [u, v], it.square);
            }
        }
        let distance = nearest.sqrt();
        let direction = if distance > EXACT { to.map(|part| part / distance) } else { way };
        let mut best = Away { distance, direction };
        if self.half_at(high).is_some_and(|half| x < half) {
            best.distance = -best.distance;
            best.direction = best.direction.map(|part| -part);
        }
        best.direction[0] *= side;
        best
    }

    /// Whether it has no hollow.
    #[must_use]
    pub fn is_convex(&self) -> bool {
        self.convex
    }

    /// The sides of its parts without hollows, each part as large as its layers
    /// let it be: the way out to the right and up, and how far out the side is.
    pub(super) fn runs(&self) -> Vec<Vec<[f64; 3]>> {
        let tall: Vec<&[[f64; 2]]> =
            self.points.windows(2).filter(|pair| pair[1][1] > pair[0][1]).collect();
        let sides = |from: usize, to: usize| {
            let (low, high) = (tall[from][0][1], tall[to][1][1]);
            let mut all = vec![[0.0, -1.0, -low], [0.0, 1.0, high]];
            for pair in &tall[from..=to] {
                let side = Side::new(pair[0], pair[1]);
                let [out, up] = side.square;
                let far = out * pair[0][0] + up * pair[0][1];
                all.extend([[out, up, far], [-out, up, far]]);
            }
            all
        };
        if self.convex {
            return vec![sides(0, tall.len() - 1)];
        }
        let count = tall.len();
        (0..count)
            .flat_map(|from| (from..count).map(move |to| (from, to)))
            .map(|(a, b)| sides(a, b))
            .collect()
    }

    /// Its furthest point in a direction.
    pub(super) fn outermost(&self, [out, up]: [f64; 2]) -> [f64; 2] {
        let mut best = (f64::NEG_INFINITY, [0.0; 2]);
        for point in &self.ring {
            let far = point[0] * out + point[1] * up;
            if far > best.0 {
                best = (far, *point);
            }
        }
        best.1
    }

    /// Its parts without hollows, from the bottom up.
    pub fn layers(&self) -> impl Iterator<Item = Self> + '_ {
        let tall = |pair: &&[[f64; 2]]| pair[1][1] > pair[0][1];
        self.points.windows(2).filter(tall).map(|pair| Self::of(pair.to_vec()))
    }
}

/// A signed distance and the direction away.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Away {
    /// Below zero inside.
    pub distance: f64,
    /// Outwards and up.
    pub direction: [f64; 2],
}

/// Whether going up the side never turns outwards again.
fn is_convex(points: &[[f64; 2]]) -> bool {
    let turn = |a: [f64; 2], b: [f64; 2], c: [f64; 2]| {
        (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])
    };
    let bottom = [0.0, points[0][1]];
    let top = [0.0, points[points.len() - 1][1]];
    let all: Vec<[f64; 2]> =
        [bottom].into_iter().chain(points.iter().copied()).chain([top]).collect();
    all.windows(3).all(|three| turn(three[0], three[1], three[2]) >= -EXACT)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A wide body on narrow trucks, with a roof that is cut at its corners.
    fn car() -> Section {
        let points = vec![[0.4, 0.0], [0.4, 0.2], [0.7, 0.2], [0.7, 1.4], [0.2, 1.6]];
        Section::new(points).expect("a section")
    }

    #[test]
    fn distances_outside_and_inside() {
        let car = car();
        let near = |out: f64, high: f64, expected: f64| {
            let found = car.distance(out, high).distance;
            assert!((found - expected).abs() < 1e-12, "{out} {high}: {found}");
        };
        near(1.0, 1.0, 0.3);
        near(-1.0, 1.0, 0.3);
        near(0.5, 0.1, 0.1);
        near(0.0, 2.0, 0.4);
        near(0.6, 0.8, -0.1);
        near(0.0, 1.5, -0.1);
        near(1.0, 1.8, (0.3_f64.powi(2) + 0.4_f64.powi(2)).sqrt());
        assert!(car.distance(0.65, 0.1).distance > 0.0, "the hollow under the body is free");
        assert!(!car.is_convex() && car.layers().count() == 3);
        let [out, up] = car.distance(-1.0, 1.0).direction;
        assert!((out + 1.0).abs() < 1e-12 && up.abs() < 1e-12);
    }

    #[test]
    fn no_section_without_area_or_that_goes_down() {
        assert!(Section::new(vec![[1.0, 0.0]]).is_none());
        assert!(Section::new(vec![[1.0, 1.0], [1.0, 0.0]]).is_none());
        assert!(Section::new(vec![[0.0, 0.0], [0.0, 1.0]]).is_none());
        assert!(Section::new(vec![[1.0, 1.0], [1.0, 1.0]]).is_none());
    }
}
