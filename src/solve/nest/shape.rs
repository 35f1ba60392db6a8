//! Outlines in whole numbers.

/// A closed line with openings; corners as `[x, y]`, the first not repeated.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash)]
pub struct Shape {
    /// Corners of the outer line.
    pub outer: Vec<[i64; 2]>,
    /// Corners of each opening.
    pub openings: Vec<Vec<[i64; 2]>>,
}

/// A stretch between two corners.
pub(super) type Edge = ([i64; 2], [i64; 2]);

impl Shape {
    /// A rectangle from its lower left corner at nothing.
    #[must_use]
    pub fn rectangle(wide: i64, high: i64) -> Self {
        let outer = vec![[0, 0], [wide, 0], [wide, high], [0, high]];
        Self { outer, openings: Vec::new() }
    }

    fn lines(&self) -> impl Iterator<Item = &Vec<[i64; 2]>> {
        std::iter::once(&self.outer).chain(&self.openings)
    }

    /// Every corner.
    pub(super) fn points(&self) -> impl Iterator<Item = &[i64; 2]> {
        self.lines().flatten()
    }

    /// Every stretch between neighbouring corners.
    pub(super) fn edges(&self) -> impl Iterator<Item = Edge> {
        self.lines()
            .flat_map(|line| line.iter().zip(line.iter().cycle().skip(1)).map(|(a, b)| (*a, *b)))
    }

    /// Twice the area inside the outer line less the openings.
    #[must_use]
    pub fn doubled_area(&self) -> i128 {
        let openings: i128 = self.openings.iter().map(|line| doubled(line).abs()).sum();
        doubled(&self.outer).abs() - openings
    }

    /// Lower left and upper right corner of the rectangle round it.
    pub(super) fn bounds(&self) -> ([i64; 2], [i64; 2]) {
        let first = self.outer.first().copied().unwrap_or_default();
        self.outer.iter().fold((first, first), |(low, high), point| {
            (
                [low[0].min(point[0]), low[1].min(point[1])],
                [high[0].max(point[0]), high[1].max(point[1])],
            )
        })
    }

    /// Size of the rectangle round it.
    #[must_use]
    pub fn size(&self) -> (i64, i64) {
        let (low, high) = self.bounds();
        (high[0] - low[0], high[1] - low[1])
    }

    fn mapped(&self, of: impl Fn(&[i64; 2]) -> [i64; 2]) -> Self {
        let line = |points: &Vec<[i64; 2]>| points.iter().map(&of).collect();
        Self { outer: line(&self.outer), openings: self.openings.iter().map(line).collect() }
    }

    /// The same shape turned by quarters against the clock, the lower left
    /// corner of the rectangle round it at nothing.
    #[must_use]
    pub fn turned(&self, quarters: u8) -> Self {
        let turned = self.mapped(|&[x, y]| match quarters % 4 {
            0 => [x, y],
            1 => [-y, x],
            2 => [-x, -y],
            _ => [y, -x],
        });
        let (low, _) = turned.bounds();
        turned.mapped(|point| [point[0] - low[0], point[1] - low[1]])
    }

    /// The same shape elsewhere.
    #[must_use]
    pub fn moved(&self, x: i64, y: i64) -> Self {
        self.mapped(|point| [point[0] + x, point[1] + y])
    }

    /// Whether a point given in halves lies inside and not on the line.
    pub(super) fn holds(&self, [x, y]: [f64; 2]) -> bool {
        let crossed = self.edges().filter(|(a, b)| {
            let ([ax, ay], [bx, by]) = (a.map(as_f64), b.map(as_f64));
            (ay > y) != (by > y) && x < ax + (bx - ax) * ((y - ay) / (by - ay))
        });
        crossed.count() % 2 == 1
    }
}

#[allow(clippy::cast_precision_loss)] // at most MAX_LENGTH
pub(super) fn as_f64(number: i64) -> f64 {
    number as f64
}

fn doubled(line: &[[i64; 2]]) -> i128 {
    let next = line.iter().cycle().skip(1);
    line.iter().zip(next).map(|(a, b)| cross(*a, *b)).sum()
}

fn cross(a: [i64; 2], b: [i64; 2]) -> i128 {
    i128::from(a[0]) * i128::from(b[1]) - i128::from(b[0]) * i128::from(a[1])
}

fn less(a: [i64; 2], b: [i64; 2]) -> [i64; 2] {
    [a[0] - b[0], a[1] - b[1]]
}

fn dot(a: [i64; 2], b: [i64; 2]) -> i128 {
    i128::from(a[0]) * i128::from(b[0]) + i128::from(a[1]) * i128::from(b[1])
}

/// Whether two stretches cross: each has the ends of the other on both sides.
pub(super) fn crosses((a, b): Edge, (c, d): Edge) -> bool {
    let side = |p: [i64; 2], q: [i64; 2], r: [i64; 2]| cross(less(q, p), less(r, p)).signum();
    side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0
}

/// Whether a point lies nearer to a stretch than `gap`; exact.
fn point_is_near(point: [i64; 2], (a, b): Edge, gap: i64) -> bool {
    let (along, to) = (less(b, a), less(point, a));
    let gap = i128::from(gap) * i128::from(gap);
    let (length, ahead) = (dot(along, along), dot(to, along));
    if length == 0 || ahead <= 0 {
        return dot(to, to) < gap;
    }
    if ahead >= length {
        let beyond = less(point, b);
        return dot(beyond, beyond) < gap;
    }
    let off = cross(along, to);
    off * off < gap * length
}

/// Whether two stretches are nearer than `gap`, or cross.
pub(super) fn is_near(one: Edge, other: Edge, gap: i64) -> bool {
    crosses(one, other)
        || (gap > 0
            && (point_is_near(one.0, other, gap)
                || point_is_near(one.1, other, gap)
                || point_is_near(other.0, one, gap)
                || point_is_near(other.1, one, gap)))
}
