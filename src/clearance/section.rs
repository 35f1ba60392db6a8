//! The cross-section of a body: half widths by height, the same on both sides.

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
        let direction = if distance > 1e-12 { to.map(|part| part / distance) } else { way };
        let mut best = Away { distance, direction };
        if self.half_at(high).is_some_and(|half| x < half) {
            best.distance = -best.distance;
            best.direction = best.direction.map(|part| -part);
        }
        best.direction[0] *= side;
        best
    }

    /// How far a line stands off, the share of the line that is nearest and the
    /// direction to it; nothing where they meet.
    #[must_use]
    pub fn beside(&self, [a, b]: [[f64; 2]; 2]) -> Option<Beside> {
        let inside =
            |[out, high]: [f64; 2]| self.half_at(high).is_some_and(|half| out.abs() < half);
        if inside(a) || inside(b) {
            return None;
        }
        let mut best = Beside { distance: f64::INFINITY, share: 0.0, direction: [1.0, 0.0] };
        let count = self.ring.len();
        for at in 0..count {
            let (p, q) = (self.ring[at], self.ring[(at + 1) % count]);
            if crosses([a, b], [p, q]) {
                return None;
            }
            best.take(0.0, away(a, p, q).0);
            best.take(1.0, away(b, p, q).0);
            let (to, share) = away(p, a, b);
            best.take(share, [-to[0], -to[1]]);
        }
        best.distance = best.distance.sqrt();
        let long = best.distance.max(f64::MIN_POSITIVE);
        best.direction = best.direction.map(|part| part / long);
        Some(best)
    }

    /// How far a point lies beyond the line of the side it is furthest beyond, and
    /// the way out square to that side; below zero inside. Sides without length
    /// and the axis count for nothing.
    pub(super) fn furthest(&self, out: f64, high: f64) -> (f64, [f64; 2]) {
        let (side, x) = (if out < 0.0 { -1.0 } else { 1.0 }, out.abs());
        let mut best = (f64::NEG_INFINITY, [1.0, 0.0]);
        for it in self.sides.iter().filter(|it| it.per_square > 0.0) {
            let [out, up] = it.square;
            let beyond = (x - it.from[0]) * out + (high - it.from[1]) * up;
            if beyond > best.0 {
                best = (beyond, [side * out, up]);
            }
        }
        best
    }

    /// Whether it has no hollow.
    #[must_use]
    pub fn is_convex(&self) -> bool {
        self.convex
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

/// How a line stands beside a section.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Beside {
    /// Never below zero.
    pub distance: f64,
    /// Where on the line, 0 to 1.
    pub share: f64,
    /// From the section to the line.
    pub direction: [f64; 2],
}

impl Beside {
    /// Keeps what is nearer; until all are seen the distance is its square.
    fn take(&mut self, share: f64, to: [f64; 2]) {
        let square = to[0] * to[0] + to[1] * to[1];
        if square < self.distance {
            *self = Self { distance: square, share, direction: to };
        }
    }
}

/// From the nearest place between `p` and `q` to a point, and where that is.
fn away(point: [f64; 2], p: [f64; 2], q: [f64; 2]) -> ([f64; 2], f64) {
    let span = [q[0] - p[0], q[1] - p[1]];
    let to = [point[0] - p[0], point[1] - p[1]];
    let long = span[0] * span[0] + span[1] * span[1];
    let share =
        if long > 0.0 { ((to[0] * span[0] + to[1] * span[1]) / long).clamp(0.0, 1.0) } else { 0.0 };
    ([to[0] - span[0] * share, to[1] - span[1] * share], share)
}

fn crosses([a, b]: [[f64; 2]; 2], [c, d]: [[f64; 2]; 2]) -> bool {
    let side = |a: [f64; 2], b: [f64; 2], p: [f64; 2]| {
        (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])
    };
    side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0
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
    all.windows(3).all(|three| turn(three[0], three[1], three[2]) >= -1e-12)
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
    fn a_line_beside_it_and_one_that_meets_it() {
        let car = car();
        let beside = |a: [f64; 2], b: [f64; 2]| car.beside([a, b]);
        let post = beside([1.0, 0.0], [1.0, 3.0]).expect("apart");
        assert!((post.distance - 0.3).abs() < 1e-12);
        assert!((post.direction[0] - 1.0).abs() < 1e-12);
        let beam = beside([-2.0, 2.0], [2.0, 2.0]).expect("apart");
        assert!((beam.distance - 0.4).abs() < 1e-12 && beam.direction[1] > 0.99);
        assert!(beside([-2.0, 1.0], [2.0, 1.0]).is_none(), "right through");
        assert!(beside([0.0, 1.0], [2.0, 1.0]).is_none(), "an end inside");
        // Past the cut corner of the roof, nearest in its middle.
        let brace = beside([1.2, 1.3], [0.2, 2.0]).expect("apart");
        assert!(brace.share > 0.05 && brace.share < 0.95, "{brace:?}");
    }

    #[test]
    fn no_section_without_area_or_that_goes_down() {
        assert!(Section::new(vec![[1.0, 0.0]]).is_none());
        assert!(Section::new(vec![[1.0, 1.0], [1.0, 0.0]]).is_none());
        assert!(Section::new(vec![[0.0, 0.0], [0.0, 1.0]]).is_none());
        assert!(Section::new(vec![[1.0, 1.0], [1.0, 1.0]]).is_none());
    }
}
