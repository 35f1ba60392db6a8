//! Every thing near the track against every standard.

use super::body::{Bar, Point};
use super::standard::{Kind, Standard};
use super::structure::{Item, What};
use super::sweep::{Nearest, Sweep};
use crate::finding::Subject;

/// How a thing stands to one car, rule or outline; lengths in model inches.
#[derive(Clone, Debug, PartialEq)]
pub struct Held {
    /// From surface to surface; below zero where they meet.
    pub clear: f64,
    /// What is wanted: for a car the margin, with handwork and paint.
    pub want: f64,
    /// The nearest point: on the plan, and over the rail head.
    pub at: Point,
    /// Where on the thing that is.
    pub part: &'static str,
    /// Where along the track that is.
    pub along: f64,
    /// From the centre line, square to the track.
    pub out: f64,
    /// What to do, where it is short.
    pub fix: Option<Fix>,
}

impl Held {
    /// By how much it is short; below zero where there is more than enough.
    #[must_use]
    pub fn short(&self) -> f64 {
        self.want - self.clear
    }

    /// Whether it is short by more than the dust of the arithmetic.
    #[must_use]
    pub fn is_short(&self) -> bool {
        self.short() > 1e-6
    }
}

/// What would make it clear; model inches.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Fix {
    /// Away from the track by so much; nothing where no distance was found that
    /// helps. For a brace, the share of its legs that would clear where it is.
    Move {
        /// How far.
        by: f64,
        /// The share of its legs, of a brace.
        legs: Option<f64>,
    },
    /// Up by so much.
    Raise(f64),
}

/// A thing held against all standards, in their order; nothing where one says
/// nothing of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Checked {
    /// What it is called.
    pub name: String,
    /// What it speaks of.
    pub subject: Subject,
    /// What it is.
    pub what: What,
    /// Against each standard.
    pub held: Vec<Option<Held>>,
}

/// Holds a thing against a standard.
pub(super) fn hold(item: &Item, standard: &Standard<'_>) -> Option<Held> {
    let swung = Swung::of(item, standard)?;
    let nearest = swung.nearest(item);
    let want = standard.want;
    let mut held = Held {
        clear: nearest.clear,
        want,
        at: nearest.at,
        part: part(item, nearest),
        along: nearest.along,
        out: out(swung.sweep(), nearest),
        fix: None,
    };
    if held.is_short() {
        held.fix = Some(fix(item, &swung, nearest, want));
    }
    Some(held)
}

/// The sweep that counts for a thing.
enum Swung<'s, 'a> {
    Main(&'s Sweep<'a>),
    Own(Box<Sweep<'a>>),
    Shared(std::sync::Arc<Sweep<'a>>),
}

impl<'s, 'a> Swung<'s, 'a> {
    fn of(item: &Item, standard: &'s Standard<'a>) -> Option<Self> {
        let main = standard.main();
        let top = item.bar.ends[0][2].max(item.bar.ends[1][2]);
        if item.what == What::Platform
            && let Some(half) = standard.platform(top)
        {
            return Some(Self::Own(Box::new(standard.narrowed(half)?)));
        }
        if standard.kind == Kind::Outline {
            let along = Self::Main(main).nearest(item).along;
            return Some(match standard.widened(along)? {
                Some(wide) => Self::Shared(wide),
                None => Self::Main(main),
            });
        }
        Some(Self::Main(main))
    }

    fn sweep(&self) -> &Sweep<'a> {
        match self {
            Self::Main(sweep) => sweep,
            Self::Own(sweep) => sweep,
            Self::Shared(sweep) => sweep,
        }
    }

    fn nearest(&self, item: &Item) -> Nearest {
        let sweep = self.sweep();
        let mut best = sweep.nearest(&item.bar);
        for bar in lower(item, sweep) {
            let found = sweep.nearest(&bar);
            if found.clear < best.clear {
                best = found;
            }
        }
        best
    }
}

/// A face as lines at the heights where the body has its corners: between two
/// of them both are straight, so that one of them is the nearest.
fn lower(item: &Item, sweep: &Sweep<'_>) -> Vec<Bar> {
    if item.down <= 0.0 {
        return Vec::new();
    }
    let top = item.bar.ends[0][2];
    let heights = sweep.body().corners();
    let inside = heights.into_iter().filter(|high| *high < top && *high > top - item.down);
    inside.chain([top - item.down]).map(|high| item.bar.moved([0.0, 0.0, high - top])).collect()
}

/// Which part of a thing is nearest, in words.
fn part(item: &Item, nearest: Nearest) -> &'static str {
    let [from, to] = item.bar.ends;
    let upright = (to[2] - from[2]).abs() > 1e-9;
    match (item.what, nearest.share) {
        (What::Post, share) if share < 0.05 => "foot",
        (What::Post, share) if share > 0.95 => "head",
        (What::Brace, share) if share < 0.05 => "heel",
        (What::Brace, share) if share > 0.95 => "toe",
        (What::Brace, _) => "knee",
        (What::Post, _) => "shaft",
        (_, share) if !upright && share < 0.02 => "left end",
        (_, share) if !upright && share > 0.98 => "right end",
        _ => "",
    }
}

/// Distance from the centre line, square to it.
fn out(sweep: &Sweep<'_>, nearest: Nearest) -> f64 {
    let spot = sweep.chain().spot(nearest.along);
    (nearest.at[0] - spot.at[0]).hypot(nearest.at[1] - spot.at[1])
}

/// What would make it clear.
fn fix(item: &Item, swung: &Swung<'_, '_>, nearest: Nearest, want: f64) -> Fix {
    let clear = |by: Point| {
        let moved = Item { bar: item.bar.moved(by), ..item.clone() };
        swung.nearest(&moved).clear
    };
    let stands = matches!(item.what, What::Brace | What::Post | What::Platform | What::Wall);
    let overhead = nearest.direction[2] > 0.7 && !stands;
    if overhead {
        return Fix::Raise(until(want, nearest.clear, |by| clear([0.0, 0.0, by])));
    }
    let [x, y] = nearest.away;
    let by = until(want, nearest.clear, |by| clear([x * by, y * by, 0.0]));
    let legs = item.corner.and_then(|corner| {
        let shorter = |share: f64| {
            let end = |end: Point| {
                std::array::from_fn(|axis| corner[axis] + (end[axis] - corner[axis]) * share)
            };
            let bar = Bar { ends: item.bar.ends.map(end), ..item.bar };
            swung.nearest(&Item { bar, ..item.clone() }).clear
        };
        share(want, nearest.clear, shorter)
    });
    Fix::Move { by, legs }
}

/// Nearer than this to what is wanted, nothing is gained by another try.
const NEAR: f64 = 1e-4;

/// The least move that gives what is wanted: what is missing is added until
/// nothing is, then taken back by what is too much.
fn until(want: f64, now: f64, clear: impl Fn(f64) -> f64) -> f64 {
    let (mut low, mut high, mut there) = ((0.0, now), (want - now).max(1e-6), now);
    for _ in 0..12 {
        there = clear(high);
        if there >= want {
            break;
        }
        low = (high, there);
        high += (want - there).max(high * 0.5);
    }
    if there < want {
        return high;
    }
    between(want, low, (high, there), clear)
}

/// The largest share of a brace's legs that gives what is wanted.
fn share(want: f64, now: f64, clear: impl Fn(f64) -> f64) -> Option<f64> {
    let short = clear(0.1);
    if short < want {
        return None;
    }
    Some(between(want, (1.0, now), (0.1, short), clear))
}

/// From a place that has too little and one that has enough, the place nearest to
/// the first that has enough: on the line between both, and half way in turn.
fn between(
    want: f64,
    mut little: (f64, f64),
    mut enough: (f64, f64),
    clear: impl Fn(f64) -> f64,
) -> f64 {
    for round in 0..10 {
        if (enough.0 - little.0).abs() < 2.0 * NEAR || enough.1 - want < NEAR {
            break;
        }
        let line = (want + NEAR / 2.0 - little.1) / (enough.1 - little.1);
        let share = if round % 2 == 0 { line.clamp(0.02, 0.98) } else { 0.5 };
        let at = little.0 + (enough.0 - little.0) * share;
        let there = clear(at);
        if there >= want {
            enough = (at, there);
        } else {
            little = (at, there);
        }
    }
    enough.0
}
