//! Every thing near the track against every standard.

use super::beside::{Line, Off};
use super::body::{Point, Solid};
use super::standard::{Kind, Standard};
use super::sweep::{Nearest, Sweep};
use super::things::{Item, What};
use crate::finding::Subject;
use crate::quantity::slack::{NOTHING, TOUCH};

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
    /// From the centre line to that point, square to the track.
    pub out: f64,
    /// How far what is carried reaches on the plan where the thing is nearest to
    /// the centre line, on its side, whatever the height.
    pub reach: f64,
    /// The thing's distance from the centre line on the plan less that reach,
    /// without margin and paint; below zero where it stands within it.
    pub plan_gap: f64,
    /// Of a rule: its distance from the centre line less the thing's; above zero
    /// where the thing stands too near, whatever the height.
    pub rule_short: Option<f64>,
    /// Of what a car passes under: the least from the car's roof to its
    /// underside, over all the car covers there.
    pub headroom: Option<f64>,
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
        self.short() > TOUCH
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
    /// The body it belongs to; nothing for what is no part of the building.
    pub body: String,
    /// How far it stands from the centre line on the plan, whatever the height.
    pub off: Off,
    /// Of a wall: how far its left and its right end stand from the centre line.
    pub ends: Option<[f64; 2]>,
    /// Its lowest and its highest point over the rail head.
    pub heights: [f64; 2],
    /// Against each standard.
    pub held: Vec<Option<Held>>,
}

/// A thing at its place on the plan, held against nothing yet.
pub(super) fn place(item: &Item, line: &Line<'_>) -> Checked {
    let ends = (item.what == What::Wall)
        .then(|| item.solid.axis.map(|end| line.off(&Solid::line(end, end)).by));
    Checked {
        name: item.name.clone(),
        subject: item.subject.clone(),
        what: item.what,
        body: item.body.clone(),
        off: line.off(&item.solid),
        ends,
        heights: item.solid.heights(),
        held: Vec::new(),
    }
}

/// Holds a thing against a standard.
pub(super) fn hold(
    item: &Item,
    off: &Off,
    standard: &Standard<'_>,
    line: &Line<'_>,
) -> Option<Held> {
    let swung = Swung::of(item, standard)?;
    let sweep = swung.sweep();
    let nearest = settled(item, sweep, sweep.nearest(&item.solid));
    let want = standard.want;
    let reach = sweep.reach_on_plan(off.along, off.left).unwrap_or(0.0);
    let overhead = standard.kind == Kind::Car && item.what.may_be_overhead() && off.by < reach;
    let under = overhead.then(|| line.under(&item.solid, sweep)).flatten();
    let mut held = Held {
        // Things that are alike are equally near, but for the dust.
        clear: (nearest.clear * 1e8).round() / 1e8,
        want,
        at: nearest.at,
        part: part(item, nearest),
        along: nearest.along,
        out: out(sweep, nearest),
        reach,
        plan_gap: on_plan(sweep, &nearest, off, reach),
        rule_short: (standard.kind == Kind::Rule).then(|| sweep.body().widest()[0] - off.by),
        headroom: under.map(|under| under - sweep.body().heights()[1]),
        fix: None,
    };
    if held.is_short() {
        held.fix = Some(fix(item, sweep, nearest, want));
    }
    Some(held)
}

/// What is left on the plan: where the thing is nearest to the centre line, or,
/// where the reach changes along the track, where it is nearest in space; never
/// more than is left in space.
fn on_plan(sweep: &Sweep<'_>, nearest: &Nearest, off: &Off, reach: f64) -> f64 {
    let at_nearest = off.by - reach;
    let apart = (nearest.along - off.along).abs() > 0.05;
    let other = apart.then(|| sweep.reach_on_plan(nearest.along, nearest.left)).flatten();
    let there = other.map_or(f64::INFINITY, |reach| out(sweep, *nearest) - reach);
    let in_space = if nearest.clear > 0.0 { nearest.clear } else { f64::INFINITY };
    at_nearest.min(there).min(in_space)
}

/// Of several points of a thing that are equally near, one is told: the first
/// end of a timber, the top of a wall or platform.
fn settled(item: &Item, sweep: &Sweep<'_>, nearest: Nearest) -> Nearest {
    let at = nearest.at;
    let points: Vec<Point> = if item.what.is_timber() {
        let ends = item.solid.axis;
        let foot = |axis: usize| ends[0][axis] + (ends[1][axis] - ends[0][axis]) * nearest.share;
        ends.map(|end| [0, 1, 2].map(|axis| at[axis] - foot(axis) + end[axis])).to_vec()
    } else if matches!(item.what, What::Wall | What::Platform) {
        let top = item.solid.top_over([at[0], at[1]]);
        let [low, high] = [at[2], top.unwrap_or(at[2])];
        let mut heights = sweep.body().corners();
        heights.retain(|up| *up > low && *up < high);
        heights.push(high);
        heights.into_iter().rev().map(|up| [at[0], at[1], up]).collect()
    } else {
        return nearest;
    };
    let as_near = |at: &Point| sweep.there(&nearest, *at) <= nearest.clear + 1e-7;
    match points.into_iter().find(as_near) {
        Some(at) => Nearest { at, share: item.solid.share(at), ..nearest },
        None => nearest,
    }
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
        let [_, top] = item.solid.heights();
        if item.what == What::Platform
            && let Some(half) = standard.platform(top)
        {
            return Some(Self::Own(Box::new(standard.narrowed(half)?)));
        }
        if standard.kind == Kind::Outline {
            let along = main.nearest(&item.solid).along;
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
}

/// Which part of a thing is nearest, in words.
fn part(item: &Item, nearest: Nearest) -> &'static str {
    let [from, to] = item.solid.axis;
    let upright = (to[2] - from[2]).abs() > NOTHING;
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
fn fix(item: &Item, sweep: &Sweep<'_>, nearest: Nearest, want: f64) -> Fix {
    let clear = |by: Point| sweep.nearest(&item.solid.moved(by)).clear;
    let stands = !item.what.may_be_overhead() && item.what != What::Other;
    let overhead = nearest.direction[2] > 0.7 && !stands;
    if overhead {
        return Fix::Raise(until(want, nearest.clear, |by| clear([0.0, 0.0, by])));
    }
    let [x, y] = nearest.away;
    let by = until(want, nearest.clear, |by| clear([x * by, y * by, 0.0]));
    let legs = item.corner.and_then(|corner| {
        let shorter = |share: f64| sweep.nearest(&item.solid.shrunk(corner, share)).clear;
        share(want, nearest.clear, shorter)
    });
    Fix::Move { by, legs }
}

/// Nearer than this to what is wanted, nothing is gained by another try.
const NEAR: f64 = 1e-4;

/// The least move that gives what is wanted: what is missing is added until
/// nothing is, then taken back by what is too much.
fn until(want: f64, now: f64, clear: impl Fn(f64) -> f64) -> f64 {
    let (mut low, mut high, mut there) = ((0.0, now), (want - now).max(TOUCH), now);
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
