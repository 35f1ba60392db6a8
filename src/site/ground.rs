//! The longest front and the largest rectangle that stand on an outline.
//!
//! For one angle the outline is turned so that the front lies along `x`. A
//! rectangle of depth `d` with its front at `y` fits between `x` values that no
//! edge crosses anywhere in the strip from `y` to `y + d`. Each gap's ends move
//! along edges as `y` moves, so the best `y` lies on a corner or where two edges
//! trade places: the cells between corners are searched by thirds. Over angles
//! the search halves intervals: a rectangle at one angle holds a slightly
//! smaller one at another, which bounds every interval, so the best is within
//! [`WITHIN`] of the true one.

use crate::finding::Stop;

/// How near to the true longest front a placement is, model inches.
pub const WITHIN: f64 = 0.005;

/// A circle the building must stay out of, or, standing inside a curve, within.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Circle {
    /// Its centre.
    pub centre: [f64; 2],
    /// Its radius.
    pub radius: f64,
    /// Whether the building stands inside it.
    pub inside: bool,
}

/// An outline with the track beside it, model inches.
#[derive(Clone, Debug, PartialEq)]
pub struct Ground {
    outline: Vec<[f64; 2]>,
    circle: Option<Circle>,
    turn: f64,
}

/// A rectangle on the ground, model inches.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Placement {
    /// Length of its front.
    pub front: f64,
    /// Depth behind it.
    pub depth: f64,
    /// Angle of the front, radians against the clock.
    pub angle: f64,
    /// Left corner of the front.
    pub corner: [f64; 2],
}

impl Placement {
    /// Its four corners, against the clock from the left of the front.
    #[must_use]
    pub fn corners(&self) -> [[f64; 2]; 4] {
        let (sin, cos) = self.angle.sin_cos();
        let at = |along: f64, back: f64| {
            [self.corner[0] + along * cos - back * sin, self.corner[1] + along * sin + back * cos]
        };
        [at(0.0, 0.0), at(self.front, 0.0), at(self.front, self.depth), at(0.0, self.depth)]
    }
}

type Segment = ([f64; 2], [f64; 2]);

impl Ground {
    /// The ground of an outline, turned at most `turn` radians either way.
    ///
    /// # Errors
    ///
    /// Where the outline has fewer than three corners, crosses itself or holds
    /// no area.
    pub fn new(outline: Vec<[f64; 2]>, circle: Option<Circle>, turn: f64) -> Result<Self, Stop> {
        let doing = "reading the site's outline";
        if outline.len() < 3 {
            return Err(Stop::new(doing, "it has fewer than three corners", "add its corners"));
        }
        if let Some((a, b)) = crossing(&outline) {
            return Err(Stop::new(
                doing,
                format!(
                    "it crosses itself: the side from corner {a} meets the side from corner {b}"
                ),
                "list the corners in order round the ground",
            ));
        }
        if area(&outline) < 1e-9 {
            return Err(Stop::new(doing, "it holds no area", "look at its corners"));
        }
        Ok(Self { outline, circle, turn: turn.min(std::f64::consts::PI) })
    }

    /// Its sides.
    pub fn sides(&self) -> impl Iterator<Item = Segment> + '_ {
        sides(&self.outline)
    }

    /// The longest front of a building of a depth.
    #[must_use]
    pub fn longest_front(&self, depth: f64) -> Option<Placement> {
        let mut best = self.at(0.0, depth);
        if self.turn <= 0.0 {
            return best;
        }
        let mut open = Vec::new();
        let parts = 16;
        for part in 0..parts {
            let at = |n: i32| self.turn * (2.0 * f64::from(n) / f64::from(parts) - 1.0);
            self.open(at(part), at(part + 1), depth, &mut best, &mut open);
        }
        let longest = |best: &Option<Placement>| best.map_or(0.0, |best| best.front);
        for _ in 0..4000 {
            let next = open.iter().enumerate().max_by(|a, b| a.1.2.total_cmp(&b.1.2));
            let Some((at, &(low, high, bound))) = next else { break };
            if bound <= longest(&best) + WITHIN {
                break;
            }
            open.swap_remove(at);
            let middle = 0.5 * (low + high);
            self.open(low, middle, depth, &mut best, &mut open);
            self.open(middle, high, depth, &mut best, &mut open);
        }
        best
    }

    /// Tries the middle of an interval of angles, and keeps the interval with
    /// the longest front it can hold.
    fn open(
        &self,
        low: f64,
        high: f64,
        depth: f64,
        best: &mut Option<Placement>,
        open: &mut Vec<(f64, f64, f64)>,
    ) {
        let (middle, half) = (0.5 * (low + high), 0.5 * (high - low));
        if let Some(found) = self.at(middle, depth)
            && best.is_none_or(|best| found.front > best.front)
        {
            *best = Some(found);
        }
        // A front of `a` and depth `d` within `half` of the middle holds, at the
        // middle, a depth of d cos - a sin beside a front of (a - d' sin) / cos.
        let (sin, cos) = half.sin_cos();
        let shallow = ((depth - self.span() * sin) / cos).max(0.0);
        let bound = self.at(middle, shallow).map_or(0.0, |wide| wide.front * cos + shallow * sin);
        if half > 1e-7 {
            open.push((low, high, bound));
        }
    }

    /// The largest rectangle whose front over depth lies in a range: within
    /// [`WITHIN`] of its front for every depth tried; depths are tried all over
    /// the ground and then ever finer round the best.
    #[must_use]
    pub fn largest(&self, aspect: [f64; 2]) -> Option<Placement> {
        let most = self.span();
        let tried = |depth: f64| {
            let found = self.longest_front(depth)?;
            let front = found.front.min(depth * aspect[1]);
            (front >= depth * aspect[0] - 1e-9).then_some(Placement { front, ..found })
        };
        let better =
            |a: &Placement, b: &Placement| (a.front * a.depth).total_cmp(&(b.front * b.depth));
        let steps = 30;
        let coarse = (1..=steps).map(|n| most * f64::from(n) / f64::from(steps));
        let mut best = coarse.filter_map(tried).max_by(better)?;
        let mut step = most / f64::from(steps);
        while step > WITHIN / 4.0 {
            step /= 4.0;
            let near = (-4..=4).map(|n| best.depth + step * f64::from(n));
            let finer = near.filter(|depth| *depth > 0.0).filter_map(tried).max_by(better);
            best = finer.into_iter().chain([best]).max_by(better)?;
        }
        Some(best)
    }

    /// A length no rectangle on the ground exceeds.
    fn span(&self) -> f64 {
        let side = |axis: usize| {
            let of = || self.outline.iter().map(|point| point[axis]);
            of().fold(f64::NEG_INFINITY, f64::max) - of().fold(f64::INFINITY, f64::min)
        };
        side(0).hypot(side(1))
    }

    /// The longest front at one angle.
    fn at(&self, angle: f64, depth: f64) -> Option<Placement> {
        let (sin, cos) = angle.sin_cos();
        let turned = |[x, y]: [f64; 2]| [x * cos + y * sin, y * cos - x * sin];
        let strip = Turned {
            outline: self.outline.iter().map(|point| turned(*point)).collect(),
            circle: self.circle.map(|circle| Circle { centre: turned(circle.centre), ..circle }),
            depth,
        };
        let (y, left, front) = strip.best()?;
        let corner = [left * cos - y * sin, left * sin + y * cos];
        Some(Placement { front, depth, angle, corner })
    }
}

/// The ground turned so that the front lies along `x`.
struct Turned {
    outline: Vec<[f64; 2]>,
    circle: Option<Circle>,
    depth: f64,
}

impl Turned {
    /// The front line, left end and length of the longest front.
    fn best(&self) -> Option<(f64, f64, f64)> {
        let mut lines = self.turning_lines();
        lines.sort_by(f64::total_cmp);
        lines.dedup_by(|a, b| (*a - *b).abs() < 1e-12);
        let mut best: Option<(f64, f64, f64)> = None;
        let mut take = |y: f64| -> f64 {
            let Some((left, front)) = self.gap(y) else { return 0.0 };
            if best.is_none_or(|(_, _, longest)| front > longest) {
                best = Some((y, left, front));
            }
            front
        };
        for pair in lines.windows(2) {
            let [a, b] = [pair[0], pair[1]];
            take(a);
            take(b);
            // Inside a cell the longest gap is the greatest of a few concave
            // functions: four parts of it, each by thirds.
            for part in 0..4 {
                let at = |n: i32| a + (b - a) * f64::from(n) / 4.0;
                let (mut low, mut high) = (at(part), at(part + 1));
                for _ in 0..40 {
                    let third = (high - low) / 3.0;
                    if take(low + third) < take(high - third) {
                        low += third;
                    } else {
                        high -= third;
                    }
                }
            }
        }
        best.filter(|(_, _, front)| *front > 1e-9)
    }

    /// Front lines at which an edge enters or leaves the strip.
    fn turning_lines(&self) -> Vec<f64> {
        let ys = || self.outline.iter().map(|point| point[1]);
        let (low, high) =
            (ys().fold(f64::INFINITY, f64::min), ys().fold(f64::NEG_INFINITY, f64::max));
        let round = self.circle.iter().flat_map(|circle| {
            [circle.centre[1] - circle.radius, circle.centre[1], circle.centre[1] + circle.radius]
        });
        ys().chain(round)
            .flat_map(|y| [y, y - self.depth])
            .filter(|y| *y >= low - 1e-12 && *y <= high - self.depth + 1e-12)
            .collect()
    }

    /// The longest stretch of `x` over which the strip behind a front line is
    /// all ground: its left end and length.
    fn gap(&self, y: f64) -> Option<(f64, f64)> {
        let mut taken: Vec<(f64, f64)> =
            sides(&self.outline).filter_map(|side| self.crossed(side, y)).collect();
        taken.extend(self.circle.iter().flat_map(|circle| round(circle, y, y + self.depth)));
        taken.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut best: Option<(f64, f64)> = None;
        let mut reached = taken.first()?.1;
        for (from, to) in taken {
            if from > reached {
                let middle = [0.5 * (reached + from), y + 0.5 * self.depth];
                let front = from - reached;
                if best.is_none_or(|(_, longest)| front > longest) && self.is_ground(middle) {
                    best = Some((reached, front));
                }
            }
            reached = reached.max(to);
        }
        best
    }

    /// The `x` values over which a side runs inside the strip.
    fn crossed(&self, (a, b): Segment, y: f64) -> Option<(f64, f64)> {
        // A strip without depth is its front line, taken from just behind.
        let (low, high) = (y + 1e-9, (y + self.depth - 1e-9).max(y + 2e-9));
        let (a, b) = if a[1] <= b[1] { (a, b) } else { (b, a) };
        if b[1] <= low || a[1] >= high {
            return None;
        }
        let at = |y: f64| a[0] + (b[0] - a[0]) * (y - a[1]) / (b[1] - a[1]);
        let from = if a[1] < low { at(low) } else { a[0] };
        let to = if b[1] > high { at(high) } else { b[0] };
        Some((from.min(to), from.max(to)))
    }

    fn is_ground(&self, point: [f64; 2]) -> bool {
        let in_circle = |circle: &Circle| {
            let away = (point[0] - circle.centre[0]).hypot(point[1] - circle.centre[1]);
            (away <= circle.radius) == circle.inside
        };
        within(&self.outline, point) && self.circle.iter().all(in_circle)
    }
}

/// The `x` values a circle takes from the strip between two lines.
fn round(circle: &Circle, low: f64, high: f64) -> Vec<(f64, f64)> {
    let [x, y] = circle.centre;
    let half = |away: f64| (circle.radius * circle.radius - away * away).max(0.0).sqrt();
    if circle.inside {
        // The far corner of the strip must stay within.
        let half = half((low - y).abs().max((high - y).abs()));
        return vec![(f64::NEG_INFINITY, x - half), (x + half, f64::INFINITY)];
    }
    let near = if low <= y && y <= high { 0.0 } else { (low - y).abs().min((high - y).abs()) };
    // Touching is clear.
    if near >= circle.radius - 1e-9 {
        return Vec::new();
    }
    let half = half(near);
    vec![(x - half, x + half)]
}

fn sides(outline: &[[f64; 2]]) -> impl Iterator<Item = Segment> + '_ {
    let next = outline.iter().cycle().skip(1);
    outline.iter().copied().zip(next.copied())
}

/// Whether a point is inside an outline: an odd number of sides to its right.
pub(super) fn within(outline: &[[f64; 2]], [x, y]: [f64; 2]) -> bool {
    let right = |(a, b): &Segment| {
        (a[1] > y) != (b[1] > y) && x < a[0] + (b[0] - a[0]) * (y - a[1]) / (b[1] - a[1])
    };
    sides(outline).filter(right).count() % 2 == 1
}

fn area(outline: &[[f64; 2]]) -> f64 {
    sides(outline).map(|(a, b)| a[0] * b[1] - b[0] * a[1]).sum::<f64>().abs() / 2.0
}

/// Two sides that meet elsewhere than at a shared corner, counted from 1.
fn crossing(outline: &[[f64; 2]]) -> Option<(usize, usize)> {
    let all: Vec<Segment> = sides(outline).collect();
    let count = all.len();
    for first in 0..count {
        for second in first + 1..count {
            let neighbours = second == first + 1 || (first == 0 && second == count - 1);
            if !neighbours && meet(all[first], all[second]) {
                return Some((first + 1, second + 1));
            }
        }
    }
    None
}

fn meet((a, b): Segment, (c, d): Segment) -> bool {
    let side = |a: [f64; 2], b: [f64; 2], p: [f64; 2]| {
        (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])
    };
    let opposite = |x: f64, y: f64| (x > 0.0) != (y > 0.0);
    opposite(side(a, b, c), side(a, b, d)) && opposite(side(c, d, a), side(c, d, b))
}
