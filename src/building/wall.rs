//! A wall: its outline at the finished face, what is in it, and its layers.

use std::sync::Arc;

use super::layer::Layer;
use super::origin::{Origin, Why};
use super::outline::{self, Band, Outline, Slab};
use super::place::Plane;
use crate::elevation::{Hole, Span};
use crate::job::body::{FaceId, Side};
use crate::quantity::slack::{NOTHING, TOUCH};
use crate::quantity::{Area, Compressed, CompressedLength, Length};

type Full = CompressedLength;

/// Corners of a line across a wall, left to right: from the left corner, and
/// above the foot. Two corners one above the other are a step.
pub type Line = Vec<(Full, Full)>;

/// One wall, seen from outside, from its left corner at the foot.
#[derive(Clone, Debug)]
pub struct Wall {
    /// Body and side.
    pub id: FaceId,
    /// The same as text.
    pub name: String,
    /// What it is called in drawings.
    pub title: String,
    /// Where it stands.
    pub plane: Plane,
    /// From corner to corner.
    pub width: Full,
    /// Corners of its top line, left to right.
    pub top: Line,
    /// Corners of its foot, left to right: level at zero, but on a roof and, of
    /// a layer, above what stands against it.
    pub foot: Line,
    /// Its elements.
    pub spans: Vec<Span<Compressed>>,
    /// Its doors and windows, as described.
    pub holes: Vec<Hole<Compressed>>,
    /// Its layers from outside in.
    pub layers: Vec<Layer>,
    /// Stretches that are covered by what stands against it.
    pub behind: Vec<Behind>,
    /// Whether the job describes it; else it is taken as plain.
    pub described: bool,
    /// Why it is as it is.
    pub why: Reasons,
}

/// Why a wall is as long and as high as it is.
#[derive(Clone, Debug)]
pub struct Reasons {
    /// Its left corner: everything along it counts from there.
    pub left: Arc<Origin>,
    /// From corner to corner.
    pub width: Arc<Origin>,
    /// Of a wall on a roof: its foot at the left corner, and rise over run of
    /// the roof.
    pub stands: Option<[Arc<Origin>; 2]>,
    /// Its lower upright edge, or its parapet.
    pub eave: Arc<Origin>,
    /// Rise over run of its top.
    pub pitch: Arc<Origin>,
    /// The run of a single slope behind it: to its high side.
    pub run: Arc<Origin>,
    /// Of a gambrel: level run of the lower slope, and pitch of the upper one.
    pub upper: Option<[Arc<Origin>; 2]>,
    /// What its top rises above the roof.
    pub rises: Option<Arc<Origin>>,
    /// Widths of its elements.
    pub spans: Vec<Arc<Origin>>,
    /// Its openings, in the order of `holes`.
    pub holes: Vec<HoleWhy>,
}

/// Why an opening is where it is and as large.
#[derive(Clone, Debug)]
pub struct HoleWhy {
    /// Its label.
    pub label: String,
    /// Its left edge from the left corner.
    pub left: Arc<Origin>,
    /// Its width.
    pub width: Arc<Origin>,
    /// Its foot.
    pub foot: Arc<Origin>,
    /// Its height.
    pub height: Arc<Origin>,
    /// Width of its trim.
    pub trim: Arc<Origin>,
}

/// What stands against a wall: a stretch of it, up to a line.
#[derive(Clone, Debug)]
pub struct Behind {
    /// The body that stands there.
    pub body: String,
    /// Left and right edge.
    pub across: (Full, Full),
    /// Where its roof meets the wall, left to right: the underside of the sheet.
    pub meets: Line,
    /// The same on top of the sheet.
    pub over: Line,
    /// Whether the cladding is left off there.
    pub bare: bool,
    /// Whether the body has walls there, or is a roof on posts.
    pub walled: bool,
    /// Why its left and right edge are there.
    pub edges: [Arc<Origin>; 2],
    /// Its eave, its pitch and the thickness of its sheet at full size.
    pub slope: [Arc<Origin>; 3],
    /// Why the roof meets the wall where it does, and why its sheet's top is
    /// there; where it meets level.
    pub why: [Arc<Origin>; 2],
}

impl Behind {
    /// Why its roof meets the wall, or its sheet's top is there, at a level: all
    /// along, or at a distance from the wall's left corner under its gable.
    pub(crate) fn met_at(&self, level: f64, s: &Arc<Origin>) -> Option<Arc<Origin>> {
        let near = |it: &&Arc<Origin>| (it.value - level).abs() < TOUCH;
        if let Some(found) = self.why.iter().find(near) {
            return Some(Arc::clone(found));
        }
        let [eave, pitch, sheet] = &self.slope;
        let [left, right] = &self.edges;
        let rule = "under the gable that stands there: its eave, and pitch times run";
        let works: [super::origin::Work; 2] = [
            |of| of[0] + of[1] * (of[2] - of[3]).min(of[4] - of[2]),
            |of| of[0] + of[1] * (of[2] - of[3]).min(of[4] - of[2]) + of[5] * of[1].hypot(1.0),
        ];
        let each = [s, left, right].into_iter().flat_map(|s| {
            let of = [eave, pitch, s, left, right, sheet];
            works.map(|work| Origin::rule("where the roof meets the wall", rule, &of, work))
        });
        let each: Vec<Arc<Origin>> = each.collect();
        each.iter().find(near).cloned()
    }
}

/// Which way to look from a step of a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Looking {
    Left,
    Right,
}

impl Wall {
    /// Which of its body's sides it is.
    #[must_use]
    pub fn side(&self) -> Side {
        self.id.side
    }

    /// Names of its claddings, layer by layer, each from the foot up.
    pub fn claddings(&self) -> impl Iterator<Item = &str> {
        self.layers.iter().flat_map(|layer| &layer.claddings).map(String::as_str)
    }

    /// Whether one of its claddings has that name.
    #[must_use]
    pub fn is_clad_with(&self, name: &str) -> bool {
        self.claddings().any(|cladding| cladding == name)
    }

    /// Height of the wall at a distance from its left corner.
    #[must_use]
    pub fn top_at(&self, x: Full) -> Full {
        height_at(&self.top, x, Looking::Left)
    }

    /// Height of its foot there; at a step the lower.
    #[must_use]
    pub fn foot_at(&self, x: Full) -> Full {
        height_at(&self.foot, x, Looking::Left).min(height_at(&self.foot, x, Looking::Right))
    }

    /// The lowest point of the foot between two distances.
    #[must_use]
    pub fn lowest(&self, left: Full, right: Full) -> Full {
        let ends = height_at(&self.foot, left, Looking::Right).min(height_at(
            &self.foot,
            right,
            Looking::Left,
        ));
        let corners = self.foot.iter().filter(|(x, _)| *x > left && *x < right).map(|(_, y)| *y);
        corners.fold(ends, Full::min)
    }

    /// What is left of a stretch where nothing that stands before the wall
    /// hides it up to a height.
    #[must_use]
    pub fn seen_below(&self, (left, right): (Full, Full), top: Full) -> (Full, Full) {
        let hidden = |x: Full, looking| height_at(&self.foot, x, looking) >= top;
        let corners = || self.foot.iter().map(|it| it.0).filter(|x| *x > left && *x < right);
        let from = match hidden(left, Looking::Right) {
            true => corners().find(|x| !hidden(*x, Looking::Right)).unwrap_or(left),
            false => left,
        };
        let to = match hidden(right, Looking::Left) {
            true => corners().rev().find(|x| !hidden(*x, Looking::Left)).unwrap_or(right),
            false => right,
        };
        (from, to)
    }

    /// The highest point between two distances.
    #[must_use]
    pub fn highest(&self, left: Full, right: Full) -> Full {
        let corners = self.top.iter().filter(|(x, _)| *x > left && *x < right).map(|(_, y)| *y);
        corners.fold(self.top_at(left).max(self.top_at(right)), Full::max)
    }

    /// Why its top is as high as it is at a distance from its left corner.
    #[must_use]
    pub fn top_why(&self, s: &Arc<Origin>) -> Arc<Origin> {
        let high = self.top_at(Full::inches(s.value)).in_inches();
        let found = self.under_roof(s, high);
        let over = self.why.rises.as_ref().and_then(|rises| {
            let under = self.under_roof(s, high - rises.value)?;
            let rule = "the roof there and what the wall rises above it";
            Some(Origin::rule("top of the wall", rule, &[&under, rises], |of| of[0] + of[1]))
        });
        found.or(over).unwrap_or_else(|| {
            Origin::plain("top of the wall", high, Why::Default("as its roof is laid out"))
        })
    }

    /// Why the roof over the wall is at a height at a distance from its left
    /// corner.
    fn under_roof(&self, s: &Arc<Origin>, high: f64) -> Option<Arc<Origin>> {
        let Reasons { width, eave, pitch, run, upper, .. } = &self.why;
        let near = |origin: &Arc<Origin>| (origin.value - high).abs() < TOUCH;
        if near(eave) {
            return Some(Arc::clone(eave));
        }
        let what = "top of the wall";
        let rule = "the eave and the pitch times the run to the high side";
        let back = Origin::rule(what, rule, &[eave, pitch, run], |of| of[0] + of[1] * of[2]);
        if near(&back) {
            return Some(back);
        }
        if let Some([lower, above]) = upper {
            let rule = "the eave, and both pitches times the runs to there";
            let of = [eave, pitch, s, width, lower, above];
            let gambrel = Origin::rule(what, rule, &of, |of| {
                let run = of[2].min(of[3] - of[2]);
                of[0] + of[1] * run.min(of[4]) + of[5] * (run - of[4]).max(0.0)
            });
            if near(&gambrel) {
                return Some(gambrel);
            }
        }
        let rule = "the eave and the pitch times the run to there";
        let of = [eave, pitch, s, width];
        let works: [super::origin::Work; 3] = [
            |of| of[0] + of[1] * of[2].min(of[3] - of[2]),
            |of| of[0] + of[1] * of[2],
            |of| of[0] + of[1] * (of[3] - of[2]),
        ];
        let mut each = works.into_iter().map(|work| Origin::rule(what, rule, &of, work));
        each.find(near)
    }

    /// Why its foot is as high as it is at a distance from its left corner: on
    /// the ground, above what stands there, or on the roof it stands on.
    #[must_use]
    pub fn foot_why(&self, s: &Arc<Origin>) -> Arc<Origin> {
        let low = self.foot_at(Full::inches(s.value)).in_inches();
        self.foot_level(low, s).unwrap_or_else(|| {
            Origin::plain("foot of the wall", low, Why::Default("as the building is laid out"))
        })
    }

    /// Why the foot is at a level at a distance, or at an edge of what stands
    /// against the wall.
    #[must_use]
    pub fn foot_level(&self, low: f64, s: &Arc<Origin>) -> Option<Arc<Origin>> {
        let what = "foot of the wall";
        let near = |it: &Arc<Origin>| (it.value - low).abs() < TOUCH;
        if low.abs() < NOTHING && self.why.stands.is_none() {
            return Some(Origin::plain(what, 0.0, Why::Default("heights count from there")));
        }
        let met = self.behind.iter().find_map(|it| it.met_at(low, s));
        let Some([start, slope]) = &self.why.stands else { return met };
        let rule = "on top of the roof it stands on, as far along its slope";
        let works: [super::origin::Work; 5] = [
            |of| of[0],
            |of| of[0] + of[1] * of[2],
            |of| of[0] - of[1] * of[2],
            |of| of[0] + of[1] * of[2].min(of[3] - of[2]),
            |of| of[0] - of[1] * of[2].min(of[3] - of[2]),
        ];
        let corners = [s, &self.why.left, &self.why.width];
        let mut each = corners.into_iter().flat_map(|s| {
            let of = [start, slope, s, &self.why.width];
            works.map(|work| Origin::rule(what, rule, &of, work))
        });
        met.or_else(|| each.find(near))
    }

    /// Why its top is at its ridge, or wherever it is highest.
    #[must_use]
    pub fn peak_why(&self) -> Arc<Origin> {
        let peak = self.top.iter().max_by(|a, b| a.1.total_cmp(&b.1));
        let at = peak.map_or(0.0, |(x, _)| x.in_inches());
        let near = |x: f64| (x - at).abs() < TOUCH;
        let wide = &self.why.width;
        let place = if near(wide.value / 2.0) {
            Origin::rule("the middle", "half the width", &[wide], |of| of[0] / 2.0)
        } else if near(wide.value) {
            Arc::clone(wide)
        } else {
            Origin::plain("the corner", at, Why::Default("the corner of the wall"))
        };
        self.top_why(&place)
    }

    /// Why an opening is as it is.
    #[must_use]
    pub fn hole_why(&self, label: &str) -> Option<&HoleWhy> {
        self.why.holes.iter().find(|it| it.label == label)
    }

    /// The lower of its two upright edges: where a level frieze or an eave is.
    #[must_use]
    pub fn eave(&self) -> Full {
        self.top_at(Full::ZERO).min(self.top_at(self.width))
    }

    /// Wall area between two distances and above a height, up to the top line
    /// or a limit.
    #[must_use]
    pub fn area(&self, (left, right): (Full, Full), (low, high): (Full, Full)) -> Area<Compressed> {
        let cuts = self.cuts((left, right), &[low, high]);
        let height = |x| (self.top_at(x).min(high) - self.foot_at(x).max(low)).max(Full::ZERO);
        // Between two cuts the height runs straight: the middle's is the mean.
        let slice = |pair: &[Full]| (pair[1] - pair[0]) * height((pair[0] + pair[1]) / 2.0);
        cuts.windows(2).map(slice).fold(no_area(), |sum, area| sum + area)
    }

    /// The shapes between two distances and two heights, less holes: one for
    /// each piece that hangs together, in the wall's own measures.
    #[must_use]
    pub fn shapes(
        &self,
        (left, right): (Full, Full),
        (low, high): (Full, Full),
        holes: &[Hole<Compressed>],
    ) -> Vec<Outline<Compressed>> {
        let levels: Vec<Full> =
            holes.iter().flat_map(|hole| [hole.foot, hole.head()]).chain([low, high]).collect();
        let mut cuts = self.cuts((left, right), &levels);
        let edges = holes.iter().flat_map(|hole| [hole.left, hole.right()]);
        cuts.extend(edges.filter(|x| *x > left && *x < right));
        cuts.sort_by(Full::total_cmp);
        cuts.dedup_by(|a, b| a.agrees(*b, Full::inches(TOUCH)));
        let slabs: Vec<Slab<Compressed>> =
            cuts.windows(2).map(|pair| self.slab((pair[0], pair[1]), (low, high), holes)).collect();
        outline::trace(&slabs)
    }

    /// Whether the stretch between two distances and heights is a rectangle
    /// but for openings.
    #[must_use]
    pub fn is_level(&self, (left, right): (Full, Full), (low, high): (Full, Full)) -> bool {
        let slack = Full::inches(0.01);
        let within = |x: Full| self.top_at(x) >= high - slack;
        let clear = |x: Full, looking| height_at(&self.foot, x, looking) <= low + slack;
        let between = self.top.iter().map(|(x, _)| *x).filter(|x| *x > left && *x < right);
        let foot = self.foot.iter().filter(|(x, _)| *x > left && *x < right);
        between.chain([left, right]).all(within)
            && foot.map(|(_, y)| *y).all(|y| y <= low + slack)
            && clear(left, Looking::Right)
            && clear(right, Looking::Left)
    }

    /// What is solid between two uprights that no corner or crossing parts.
    fn slab(
        &self,
        (from, to): (Full, Full),
        (low, high): (Full, Full),
        holes: &[Hole<Compressed>],
    ) -> Slab<Compressed> {
        let at = |x, looking| {
            (height_at(&self.foot, x, looking).max(low), height_at(&self.top, x, looking).min(high))
        };
        let middle = (from + to) / 2.0;
        let mut bands = vec![Band { left: at(from, Looking::Right), right: at(to, Looking::Left) }];
        for hole in holes.iter().filter(|hole| hole.left < middle && hole.right() > middle) {
            bands = bands.into_iter().flat_map(|band| less(band, hole)).collect();
        }
        // Where foot and top meet in a point they may cross by a rounding.
        let slack = Full::inches(TOUCH);
        let is_solid = |band: &Band<Compressed>| {
            band.left.1 + band.right.1 > band.left.0 + band.right.0
                && band.left.1 + slack >= band.left.0
                && band.right.1 + slack >= band.right.0
        };
        bands.retain(is_solid);
        Slab { from, to, bands }
    }

    /// Two distances and every corner or crossing with a level between them.
    fn cuts(&self, (left, right): (Full, Full), levels: &[Full]) -> Vec<Full> {
        let mut cuts: Vec<Full> = vec![left, right];
        let corners = self.top.iter().chain(&self.foot).map(|(x, _)| *x);
        let crossings = levels.iter().flat_map(|level| {
            [&self.top, &self.foot].into_iter().flat_map(|line| crossings(line, *level))
        });
        cuts.extend(corners.chain(crossings).filter(|x| *x > left && *x < right));
        cuts.sort_by(Full::total_cmp);
        cuts
    }

    /// Part of a level line that lies under the top line.
    #[must_use]
    pub fn width_at(&self, level: Full) -> Option<(Full, Full)> {
        let inside = |x: Full| self.top_at(x) >= level;
        let mut edges = crossings(&self.top, level);
        edges.extend([Full::ZERO, self.width].into_iter().filter(|x| inside(*x)));
        edges.extend(self.top.iter().filter(|(_, y)| *y >= level).map(|(x, _)| *x));
        edges.sort_by(Full::total_cmp);
        Some((*edges.first()?, *edges.last()?)).filter(|(left, right)| right > left)
    }

    /// The highest point of the wall.
    #[must_use]
    pub fn height(&self) -> Full {
        self.top.iter().map(|(_, y)| *y).fold(Full::ZERO, Full::max)
    }

    /// The wall as one of its layers has it: its foot above what stands against
    /// it where the layer is left off there, and the openings that go through
    /// the layer, as described.
    #[must_use]
    pub fn seen_as(&self, layer: &Layer) -> Self {
        let mut seen = self.clone();
        let through = |label: &str| layer.holes.iter().any(|hole| hole.hole.label == label);
        seen.holes.retain(|hole| through(&hole.label));
        seen.foot.clone_from(&layer.foot);
        seen
    }

    /// Whether a point of it lies behind something that leaves it bare.
    #[must_use]
    pub fn is_bare_at(&self, x: Full, y: Full) -> bool {
        self.behind.iter().any(|it| {
            it.bare
                && x > it.across.0
                && x < it.across.1
                && y < height_at(&it.meets, x, Looking::Left)
        })
    }
}

/// Height of a line at a distance, as seen from one side of a step.
fn height_at(line: &Line, x: Full, looking: Looking) -> Full {
    let under = match looking {
        Looking::Left => line.windows(2).find(|pair| x <= pair[1].0),
        Looking::Right => line.windows(2).find(|pair| x < pair[1].0),
    };
    let Some(pair) = under else { return line.last().map_or(Full::ZERO, |last| last.1) };
    let run = pair[1].0 - pair[0].0;
    if run <= Full::ZERO {
        return pair[0].1;
    }
    pair[0].1 + (pair[1].1 - pair[0].1) * ((x - pair[0].0) / run)
}

/// The height of a line at a distance; at a step the lower.
#[must_use]
pub fn line_at(line: &Line, x: Full) -> Full {
    height_at(line, x, Looking::Left).min(height_at(line, x, Looking::Right))
}

/// Where a line crosses a level.
fn crossings(line: &Line, level: Full) -> Vec<Full> {
    let crosses = |pair: &[(Full, Full)]| {
        let rise = pair[1].1 - pair[0].1;
        let share =
            if rise.in_inches().abs() > NOTHING { (level - pair[0].1) / rise } else { -1.0 };
        (share > 0.0 && share < 1.0).then(|| pair[0].0 + (pair[1].0 - pair[0].0) * share)
    };
    line.windows(2).filter_map(crosses).collect()
}

/// A band less a hole: what is under it and what is over it.
fn less(band: Band<Compressed>, hole: &Hole<Compressed>) -> Vec<Band<Compressed>> {
    let (foot, head) = (hole.foot, hole.head());
    let up_to = |(low, high): (Full, Full)| (low, high.min(foot));
    let from = |(low, high): (Full, Full)| (low.max(head), high);
    vec![
        Band { left: up_to(band.left), right: up_to(band.right) },
        Band { left: from(band.left), right: from(band.right) },
    ]
}

/// No area at all.
#[must_use]
pub fn no_area() -> Area<Compressed> {
    Length::ZERO * Length::ZERO
}
