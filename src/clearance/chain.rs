//! A chain of straight, arc and easement pieces: the centre line of the track.
//!
//! Plain numbers, model inches and radians. Curvature is positive where the
//! track turns left. An easement's curvature changes evenly along it.

use std::f64::consts::TAU;

use crate::quantity::slack::{EXACT, NOTHING, TOUCH};

/// A piece of the chain.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Piece {
    /// Its length along the centre line.
    pub length: f64,
    /// Curvature where it begins and where it ends.
    pub curvature: [f64; 2],
    /// Lean of the track to the left where it begins and where it ends, radians.
    pub lean: [f64; 2],
}

impl Piece {
    /// A straight.
    #[must_use]
    pub fn straight(length: f64) -> Self {
        Self { length, curvature: [0.0; 2], lean: [0.0; 2] }
    }

    /// An arc of a radius and a turn in radians, positive to the left.
    #[must_use]
    pub fn arc(radius: f64, turn: f64) -> Self {
        let curvature = turn.signum() / radius;
        Self { length: radius * turn.abs(), curvature: [curvature; 2], lean: [0.0; 2] }
    }

    /// An easement between two curvatures.
    #[must_use]
    pub fn easement(length: f64, from: f64, to: f64) -> Self {
        Self { length, curvature: [from, to], lean: [0.0; 2] }
    }

    fn at(values: [f64; 2], share: f64) -> f64 {
        values[0] + (values[1] - values[0]) * share
    }

    /// Turned along the first `along` of it.
    fn turned(&self, along: f64) -> f64 {
        let [from, to] = self.curvature;
        from * along + (to - from) * along * along / (2.0 * self.length)
    }

    fn is_even(&self) -> bool {
        (self.curvature[0] - self.curvature[1]).abs() * self.length < EXACT
    }
}

/// A place on the track: where, which way, and how it leans.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spot {
    /// On the plan.
    pub at: [f64; 2],
    /// Heading against the clock from `x`, radians.
    pub heading: f64,
    /// Lean to the left, radians.
    pub lean: f64,
}

/// The chain, going on at both ends as its end pieces do.
#[derive(Clone, Debug, PartialEq)]
pub struct Chain {
    runs: Vec<Run>,
    length: f64,
}

#[derive(Clone, Copy, Debug, PartialEq)]
struct Run {
    from: f64,
    start: Spot,
    piece: Piece,
}

/// What is wrong with a chain: the piece, counted from 1.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum ChainError {
    /// No pieces.
    #[error("the track has no pieces")]
    Empty,
    /// A piece of no length.
    #[error("piece {0} has no length")]
    NoLength(usize),
    /// A number that is none.
    #[error("piece {0} has a size that is no number")]
    NoNumber(usize),
    /// An arc that closes on itself.
    #[error("piece {0} goes round more than once, so that it lies on itself")]
    RoundAndRound(usize),
    /// Pieces that lie over each other.
    #[error("piece {1} lies across piece {0}: they overlap")]
    Overlap(usize, usize),
}

impl Chain {
    /// The chain of some pieces from a place on the plan.
    ///
    /// # Errors
    ///
    /// A piece without length, or pieces that overlap.
    pub fn new(at: [f64; 2], heading: f64, pieces: &[Piece]) -> Result<Self, ChainError> {
        if pieces.is_empty() {
            return Err(ChainError::Empty);
        }
        for (place, piece) in pieces.iter().enumerate() {
            sound(place + 1, piece)?;
        }
        let mut runs = Vec::with_capacity(pieces.len());
        let mut start = Spot { at, heading, lean: pieces[0].lean[0] };
        let mut from = 0.0;
        for piece in pieces {
            let run = Run { from, start, piece: *piece };
            start = run.spot(piece.length);
            from += piece.length;
            runs.push(run);
        }
        let chain = Self { runs, length: from };
        match chain.overlap() {
            Some((first, second)) => Err(ChainError::Overlap(first, second)),
            None => Ok(chain),
        }
    }

    /// Its length.
    #[must_use]
    pub fn length(&self) -> f64 {
        self.length
    }

    /// Distances along it at which its pieces begin, and its end.
    pub fn joints(&self) -> impl Iterator<Item = f64> + '_ {
        self.runs.iter().map(|run| run.from).chain([self.length])
    }

    /// The sharpest curvature, without its sign.
    #[must_use]
    pub fn sharpest(&self) -> f64 {
        let bends = self.runs.iter().flat_map(|run| run.piece.curvature);
        bends.map(f64::abs).fold(0.0, f64::max)
    }

    /// The sharpest curvature between two distances, without its sign.
    #[must_use]
    pub fn sharpest_between(&self, from: f64, to: f64) -> f64 {
        let inside = |run: &&Run| run.from < to && run.from + run.piece.length > from;
        let bends = |run: &Run| {
            let share = |at: f64| ((at - run.from) / run.piece.length).clamp(0.0, 1.0);
            let of = |at: f64| Piece::at(run.piece.curvature, share(at)).abs();
            of(from).max(of(to))
        };
        self.runs.iter().filter(inside).map(bends).fold(0.0, f64::max)
    }

    /// The one curvature from one distance to another, on level track; nothing
    /// where it changes or leans. Beyond its ends the end pieces go on.
    pub(super) fn even_between(&self, from: f64, to: f64) -> Option<f64> {
        let runs = &self.runs[self.run_at(from)..=self.run_at(to)];
        let bend = runs[0].piece.curvature[0];
        let same = |value: &f64| (value - bend).abs() < EXACT;
        let level = |run: &Run| run.piece.lean.iter().all(|lean| lean.abs() < EXACT);
        let all = runs.iter().all(|run| level(run) && run.piece.curvature.iter().all(same));
        all.then_some(bend)
    }

    /// The place at a distance along it; beyond its ends the end pieces go on.
    #[must_use]
    pub fn spot(&self, along: f64) -> Spot {
        let run = &self.runs[self.run_at(along)];
        if along < run.from || along > run.from + run.piece.length {
            return run.beyond(along - run.from);
        }
        run.spot(along - run.from)
    }

    /// The straight on which a distance lies, with its own ends; nothing on a
    /// curve. The first and last straight have no end outwards.
    pub(super) fn straight_at(&self, along: f64) -> Option<[f64; 2]> {
        let at = self.run_at(along);
        let run = &self.runs[at];
        let flat = |values: [f64; 2]| values.iter().all(|value| value.abs() < EXACT);
        if !flat(run.piece.curvature) || !flat(run.piece.lean) {
            return None;
        }
        let low = if at == 0 { f64::NEG_INFINITY } else { run.from };
        let last = at + 1 == self.runs.len();
        let high = if last { f64::INFINITY } else { run.from + run.piece.length };
        Some([low, high])
    }

    fn run_at(&self, along: f64) -> usize {
        self.runs.partition_point(|run| run.from <= along).max(1) - 1
    }

    /// Two pieces whose centre lines cross.
    fn overlap(&self) -> Option<(usize, usize)> {
        let lines: Vec<(usize, [[f64; 2]; 2])> =
            self.runs.iter().enumerate().flat_map(drawn).collect();
        for (at, (first, a)) in lines.iter().enumerate() {
            // A neighbour shares an end with it.
            for (second, b) in lines.iter().skip(at + 2) {
                if crosses(*a, *b) {
                    return Some((first + 1, second + 1));
                }
            }
        }
        None
    }
}

fn sound(place: usize, piece: &Piece) -> Result<(), ChainError> {
    let numbers = piece.curvature.iter().chain(&piece.lean).chain([&piece.length]);
    if !numbers.copied().all(f64::is_finite) {
        return Err(ChainError::NoNumber(place));
    }
    if piece.length <= NOTHING {
        return Err(ChainError::NoLength(place));
    }
    if piece.is_even() && piece.turned(piece.length).abs() >= TAU - NOTHING {
        return Err(ChainError::RoundAndRound(place));
    }
    Ok(())
}

/// A run as straight lines of at most a quarter radian.
fn drawn((at, run): (usize, &Run)) -> Vec<(usize, [[f64; 2]; 2])> {
    let bend = run.piece.curvature.iter().map(|bend| bend.abs()).fold(0.0, f64::max);
    let count = (bend * run.piece.length / 0.25).ceil().clamp(1.0, 400.0) as u32;
    let point = |n: u32| run.spot(run.piece.length * f64::from(n) / f64::from(count)).at;
    (0..count).map(|n| (at, [point(n), point(n + 1)])).collect()
}

fn crosses([a, b]: [[f64; 2]; 2], [c, d]: [[f64; 2]; 2]) -> bool {
    let side = |a: [f64; 2], b: [f64; 2], p: [f64; 2]| {
        (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])
    };
    let parted = |x: f64, y: f64| x * y <= 0.0 && (x.abs() > EXACT || y.abs() > EXACT);
    parted(side(a, b, c), side(a, b, d)) && parted(side(c, d, a), side(c, d, b))
}

/// Gauss-Legendre points and weights of order 5 on 0 to 1.
const GAUSS: [(f64, f64); 5] = [
    (0.046_910_077_030_668, 0.118_463_442_528_094_5),
    (0.230_765_344_947_158_45, 0.239_314_335_249_683_25),
    (0.5, 0.284_444_444_444_444_4),
    (0.769_234_655_052_841_5, 0.239_314_335_249_683_25),
    (0.953_089_922_969_332, 0.118_463_442_528_094_5),
];

impl Run {
    fn spot(&self, along: f64) -> Spot {
        let piece = &self.piece;
        let heading = self.start.heading + piece.turned(along);
        let lean = Piece::at(piece.lean, along / piece.length);
        let [dx, dy] = if piece.is_even() {
            even(self.start.heading, piece.curvature[0], along)
        } else {
            self.eased(along)
        };
        Spot { at: [self.start.at[0] + dx, self.start.at[1] + dy], heading, lean }
    }

    /// The end of the run that is nearer, gone on with the bend it has there.
    fn beyond(&self, along: f64) -> Spot {
        let (end, which) = if along < 0.0 { (0.0, 0) } else { (self.piece.length, 1) };
        let from = self.spot(end);
        let bend = self.piece.curvature[which];
        let [dx, dy] = even(from.heading, bend, along - end);
        Spot {
            at: [from.at[0] + dx, from.at[1] + dy],
            heading: from.heading + bend * (along - end),
            lean: from.lean,
        }
    }

    /// Along an easement: the integral of its heading, in panels short enough
    /// that it is right to far below a thousandth of an inch.
    fn eased(&self, along: f64) -> [f64; 2] {
        let bend = self.piece.curvature.iter().map(|bend| bend.abs()).fold(0.0, f64::max);
        let panels = (bend * along / 0.4).ceil().clamp(1.0, 200.0) as u32;
        let wide = along / f64::from(panels);
        let (mut x, mut y) = (0.0, 0.0);
        for panel in 0..panels {
            for (at, weight) in GAUSS {
                let here = wide * (f64::from(panel) + at);
                let (sin, cos) = (self.start.heading + self.piece.turned(here)).sin_cos();
                x += weight * wide * cos;
                y += weight * wide * sin;
            }
        }
        [x, y]
    }
}

/// Along a straight or an arc: the chord, at half the turn.
fn even(heading: f64, bend: f64, along: f64) -> [f64; 2] {
    let half = bend * along / 2.0;
    let chord = if half.abs() < TOUCH { along } else { along * half.sin() / half };
    let (sin, cos) = (heading + half).sin_cos();
    [chord * cos, chord * sin]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_arc_ends_where_its_circle_says() {
        let chain = Chain::new([1.0, 2.0], 0.0, &[Piece::arc(24.0, 1.0)]).unwrap();
        let end = chain.spot(24.0);
        assert!((end.at[0] - (1.0 + 24.0 * 1.0_f64.sin())).abs() < 1e-12);
        assert!((end.at[1] - (2.0 + 24.0 * (1.0 - 1.0_f64.cos()))).abs() < 1e-12);
        let beyond = chain.spot(36.0);
        assert!((beyond.heading - 1.5).abs() < 1e-12, "an arc goes on as an arc");
    }

    /// An easement from straight to a bend is a clothoid; its series
    /// x = s (1 - t^2/10 + t^4/216 - ...), y = s (t/3 - t^3/42 + t^5/1320 - ...)
    /// with t the turn (any handbook of railway curves; from memory).
    #[test]
    fn an_easement_is_a_clothoid() {
        let (length, radius) = (12.0_f64, 18.0_f64);
        let turn = length / (2.0 * radius);
        let chain =
            Chain::new([0.0; 2], 0.0, &[Piece::easement(length, 0.0, 1.0 / radius)]).unwrap();
        let end = chain.spot(length);
        let x = length * (1.0 - turn.powi(2) / 10.0 + turn.powi(4) / 216.0 - turn.powi(6) / 9360.0);
        let y = length
            * (turn / 3.0 - turn.powi(3) / 42.0 + turn.powi(5) / 1320.0 - turn.powi(7) / 75600.0);
        assert!((end.at[0] - x).abs() < 1e-7 && (end.at[1] - y).abs() < 1e-7, "{end:?} {x} {y}");
        assert!((end.heading - turn).abs() < 1e-12);
    }

    #[test]
    fn pieces_that_cannot_be_are_named() {
        let chain = |pieces: &[Piece]| Chain::new([0.0; 2], 0.0, pieces).unwrap_err();
        assert_eq!(chain(&[]), ChainError::Empty);
        assert_eq!(chain(&[Piece::straight(3.0), Piece::straight(0.0)]), ChainError::NoLength(2));
        assert_eq!(chain(&[Piece::arc(10.0, 7.0)]), ChainError::RoundAndRound(1));
        assert_eq!(chain(&[Piece::straight(f64::NAN)]), ChainError::NoNumber(1));
        let knot = [Piece::straight(30.0), Piece::arc(5.0, 4.8), Piece::straight(30.0)];
        assert_eq!(chain(&knot), ChainError::Overlap(1, 3));
        let back = [Piece::arc(5.0, 5.0), Piece::arc(5.0, 3.0)];
        assert_eq!(chain(&back), ChainError::Overlap(1, 2));
    }

    #[test]
    fn the_sharpest_bend_is_that_of_the_stretch() {
        let pieces =
            [Piece::straight(10.0), Piece::easement(10.0, 0.0, 0.05), Piece::arc(20.0, 1.0)];
        let chain = Chain::new([0.0; 2], 0.0, &pieces).unwrap();
        assert!(chain.sharpest_between(0.0, 9.0) < 1e-12);
        assert!((chain.sharpest_between(12.0, 15.0) - 0.025).abs() < 1e-12);
        assert!((chain.sharpest() - 0.05).abs() < 1e-12);
    }
}
