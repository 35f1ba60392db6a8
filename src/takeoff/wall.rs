//! The walls of the building: those the job describes, and the plain ones that
//! close the box.

use super::outline::{self, Band, Outline, Slab};
use crate::elevation::Built;
use crate::elevation::{Hole, Span};
use crate::job::Job;
use crate::job::body::{FaceId, RoofKind, Side};
use crate::job::place::RoofFollows;
use crate::quantity::{Area, Compressed, CompressedLength};

/// Where a wall stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Stand {
    /// The face that gives the length.
    Front,
    /// Behind it.
    Back,
    /// At the left of the front.
    LeftEnd,
    /// At the right of the front.
    RightEnd,
}

/// Corners of a line across a wall, left to right: from the left corner, and
/// above the foot.
pub(crate) type Line = Vec<(CompressedLength, CompressedLength)>;

/// One wall, seen from outside, from its left corner at the foot.
#[derive(Clone, Debug)]
pub struct Wall {
    /// Body and side: `main/front`.
    pub name: String,
    /// What it is called in drawings.
    pub title: String,
    /// Where it stands.
    pub stand: Stand,
    /// From corner to corner.
    pub width: CompressedLength,
    /// Corners of its top line, left to right.
    pub top: Vec<(CompressedLength, CompressedLength)>,
    /// Corners of its foot, left to right: level at zero, but on a roof.
    pub foot: Vec<(CompressedLength, CompressedLength)>,
    /// Its elements.
    pub spans: Vec<Span<Compressed>>,
    /// Its doors and windows.
    pub holes: Vec<Hole<Compressed>>,
    /// Names of its claddings.
    pub claddings: Vec<String>,
    /// Whether the job describes it; else it is taken as plain.
    pub described: bool,
}

impl Wall {
    /// Height of the wall at a distance from its left corner.
    #[must_use]
    pub fn top_at(&self, x: CompressedLength) -> CompressedLength {
        height_at(&self.top, x)
    }

    /// Height of its foot there.
    #[must_use]
    pub fn foot_at(&self, x: CompressedLength) -> CompressedLength {
        height_at(&self.foot, x)
    }

    /// The lowest point of the foot between two distances.
    #[must_use]
    pub fn lowest(&self, left: CompressedLength, right: CompressedLength) -> CompressedLength {
        let corners = self.foot.iter().filter(|(x, _)| *x > left && *x < right).map(|(_, y)| *y);
        corners.fold(self.foot_at(left).min(self.foot_at(right)), CompressedLength::min)
    }

    /// The highest point between two distances.
    #[must_use]
    pub fn highest(&self, left: CompressedLength, right: CompressedLength) -> CompressedLength {
        let corners = self.top.iter().filter(|(x, _)| *x > left && *x < right).map(|(_, y)| *y);
        corners.fold(self.top_at(left).max(self.top_at(right)), CompressedLength::max)
    }

    /// Wall area between two distances and above a height, up to the top line
    /// or a limit.
    #[must_use]
    pub fn area(
        &self,
        (left, right): (CompressedLength, CompressedLength),
        (low, high): (CompressedLength, CompressedLength),
    ) -> Area<Compressed> {
        let cuts = self.cuts((left, right), &[low, high]);
        let height =
            |x| (self.top_at(x).min(high) - self.foot_at(x).max(low)).max(CompressedLength::ZERO);
        // Between two cuts the height runs straight, so the mean is exact.
        let slice = |pair: &[CompressedLength]| {
            (pair[1] - pair[0]) * ((height(pair[0]) + height(pair[1])) / 2.0)
        };
        cuts.windows(2).map(slice).fold(super::part::no_area(), |sum, area| sum + area)
    }

    /// The shapes between two distances and two heights, less holes: one for
    /// each piece that hangs together, in the wall's own measures.
    #[must_use]
    pub fn shapes(
        &self,
        (left, right): (CompressedLength, CompressedLength),
        (low, high): (CompressedLength, CompressedLength),
        holes: &[Hole<Compressed>],
    ) -> Vec<Outline<Compressed>> {
        let levels: Vec<CompressedLength> =
            holes.iter().flat_map(|hole| [hole.foot, hole.head()]).chain([low, high]).collect();
        let mut cuts = self.cuts((left, right), &levels);
        let edges = holes.iter().flat_map(|hole| [hole.left, hole.right()]);
        cuts.extend(edges.filter(|x| *x > left && *x < right));
        cuts.sort_by(CompressedLength::total_cmp);
        cuts.dedup_by(|a, b| a.agrees(*b, CompressedLength::inches(1e-6)));
        let slabs: Vec<Slab<Compressed>> =
            cuts.windows(2).map(|pair| self.slab((pair[0], pair[1]), (low, high), holes)).collect();
        outline::trace(&slabs)
    }

    /// Whether the stretch between two distances and heights is a rectangle
    /// but for openings.
    #[must_use]
    pub fn is_level(
        &self,
        (left, right): (CompressedLength, CompressedLength),
        (low, high): (CompressedLength, CompressedLength),
    ) -> bool {
        let slack = CompressedLength::inches(0.01);
        let within =
            |x: CompressedLength| self.top_at(x) >= high - slack && self.foot_at(x) <= low + slack;
        let corners = self.top.iter().chain(&self.foot).map(|(x, _)| *x);
        let between = corners.filter(|x| *x > left && *x < right);
        between.chain([left, right]).all(within)
    }

    /// What is solid between two uprights that no corner or crossing parts.
    fn slab(
        &self,
        (from, to): (CompressedLength, CompressedLength),
        (low, high): (CompressedLength, CompressedLength),
        holes: &[Hole<Compressed>],
    ) -> Slab<Compressed> {
        let at = |x| (self.foot_at(x).max(low), self.top_at(x).min(high));
        let middle = (from + to) / 2.0;
        let mut bands = vec![Band { left: at(from), right: at(to) }];
        for hole in holes.iter().filter(|hole| hole.left < middle && hole.right() > middle) {
            bands = bands.into_iter().flat_map(|band| less(band, hole)).collect();
        }
        let is_solid = |band: &Band<Compressed>| {
            band.left.1 + band.right.1 > band.left.0 + band.right.0
                && band.left.1 >= band.left.0
                && band.right.1 >= band.right.0
        };
        bands.retain(is_solid);
        Slab { from, to, bands }
    }

    /// Two distances and every corner or crossing with a level between them.
    fn cuts(
        &self,
        (left, right): (CompressedLength, CompressedLength),
        levels: &[CompressedLength],
    ) -> Vec<CompressedLength> {
        let mut cuts: Vec<CompressedLength> = vec![left, right];
        let corners = self.top.iter().chain(&self.foot).map(|(x, _)| *x);
        let crossings = levels.iter().flat_map(|level| {
            [&self.top, &self.foot].into_iter().flat_map(|line| crossings(line, *level))
        });
        cuts.extend(corners.chain(crossings).filter(|x| *x > left && *x < right));
        cuts.sort_by(CompressedLength::total_cmp);
        cuts
    }

    /// Part of a level line that lies under the top line.
    #[must_use]
    pub fn width_at(
        &self,
        level: CompressedLength,
    ) -> Option<(CompressedLength, CompressedLength)> {
        let inside = |x: CompressedLength| self.top_at(x) >= level;
        let mut edges = crossings(&self.top, level);
        edges.extend([CompressedLength::ZERO, self.width].into_iter().filter(|x| inside(*x)));
        edges.extend(self.top.iter().filter(|(_, y)| *y >= level).map(|(x, _)| *x));
        edges.sort_by(CompressedLength::total_cmp);
        Some((*edges.first()?, *edges.last()?)).filter(|(left, right)| right > left)
    }

    /// The highest point of the wall.
    #[must_use]
    pub fn height(&self) -> CompressedLength {
        self.top.iter().map(|(_, y)| *y).fold(CompressedLength::ZERO, CompressedLength::max)
    }
}

/// Height of a line at a distance.
fn height_at(line: &Line, x: CompressedLength) -> CompressedLength {
    let under = line.windows(2).find(|pair| x <= pair[1].0);
    match (under, line.last()) {
        (Some(pair), _) => {
            let run = pair[1].0 - pair[0].0;
            if run <= CompressedLength::ZERO {
                return pair[1].1;
            }
            pair[0].1 + (pair[1].1 - pair[0].1) * ((x - pair[0].0) / run)
        }
        (None, Some(last)) => last.1,
        (None, None) => CompressedLength::ZERO,
    }
}

/// Where a line crosses a level.
fn crossings(line: &Line, level: CompressedLength) -> Vec<CompressedLength> {
    let crosses = |pair: &[(CompressedLength, CompressedLength)]| {
        let rise = pair[1].1 - pair[0].1;
        let share = if rise.in_inches().abs() > 1e-9 { (level - pair[0].1) / rise } else { -1.0 };
        (share > 0.0 && share < 1.0).then(|| pair[0].0 + (pair[1].0 - pair[0].0) * share)
    };
    line.windows(2).filter_map(crosses).collect()
}

/// A band less a hole: what is under it and what is over it.
fn less(band: Band<Compressed>, hole: &Hole<Compressed>) -> Vec<Band<Compressed>> {
    let (foot, head) = (hole.foot, hole.head());
    let up_to = |(low, high): (CompressedLength, CompressedLength)| (low, high.min(foot));
    let from = |(low, high): (CompressedLength, CompressedLength)| (low.max(head), high);
    vec![
        Band { left: up_to(band.left), right: up_to(band.right) },
        Band { left: from(band.left), right: from(band.right) },
    ]
}

/// A foot that is level at zero.
fn level_foot(width: CompressedLength) -> Line {
    vec![(CompressedLength::ZERO, CompressedLength::ZERO), (width, CompressedLength::ZERO)]
}

/// All walls, the front first, then those described, then the plain ones.
#[must_use]
pub(super) fn walls(job: &Job, built: &Built, parapet: CompressedLength) -> Vec<Wall> {
    let kind = job.main_roof().map_or(RoofKind::Flat, |roof| roof.kind);
    let half = built.roof == RoofFollows::HalfRelief;
    let top = |stand, width, height| {
        top_of(kind, half, stand, width, (height, built.body.ridge), parapet)
    };
    let main = job.main().map_or("", |main| &main.name);
    let mut walls: Vec<Wall> = Vec::new();
    for face in &built.faces {
        let Some(id) = face.name.parse::<FaceId>().ok().filter(|id| id.body == main) else {
            continue;
        };
        let stand = match id.side {
            Side::Front => Stand::Front,
            Side::Back => Stand::Back,
            Side::Left => Stand::LeftEnd,
            Side::Right => Stand::RightEnd,
        };
        let claddings = job.claddings_of(&id);
        walls.push(Wall {
            name: face.name.clone(),
            title: face.title.clone(),
            stand,
            width: face.length,
            top: top(stand, face.length, face.height),
            foot: level_foot(face.length),
            spans: face.spans.clone(),
            holes: face.holes.clone(),
            claddings,
            described: true,
        });
    }
    walls.sort_by_key(|wall| wall.stand != Stand::Front);
    let missing: Vec<Stand> = wanted(built)
        .into_iter()
        .filter(|stand| !walls.iter().any(|wall| wall.stand == *stand))
        .collect();
    let claddings = walls.first().map(|front| front.claddings.clone()).unwrap_or_default();
    let plain = |stand| plain((main, built), stand, claddings.clone(), &top);
    walls.extend(missing.into_iter().map(plain));
    walls
}

/// The walls a body needs: a flat is the front alone, half relief has no back.
fn wanted(built: &Built) -> Vec<Stand> {
    match built.roof {
        RoofFollows::Flat => Vec::new(),
        RoofFollows::HalfRelief => vec![Stand::LeftEnd, Stand::RightEnd],
        RoofFollows::KeepPitch | RoofFollows::KeepRidge => {
            vec![Stand::LeftEnd, Stand::RightEnd, Stand::Back]
        }
    }
}

fn plain(
    (main, built): (&str, &Built),
    stand: Stand,
    claddings: Vec<String>,
    top: &dyn Fn(Stand, CompressedLength, CompressedLength) -> Line,
) -> Wall {
    let (name, title, width) = match stand {
        Stand::Front => ("front", "Front", built.body.length),
        Stand::Back => ("back", "Back", built.body.length),
        Stand::LeftEnd => ("left", "Left end", built.body.depth),
        Stand::RightEnd => ("right", "Right end", built.body.depth),
    };
    Wall {
        name: format!("{main}/{name}"),
        title: title.to_owned(),
        stand,
        width,
        top: top(stand, width, built.body.eave),
        foot: level_foot(width),
        spans: Vec::new(),
        holes: Vec::new(),
        claddings,
        described: false,
    }
}

/// The top line of a wall of a box: level, a gable, or one slope, with what it
/// rises above the roof.
pub(super) fn top_of(
    kind: RoofKind,
    half: bool,
    stand: Stand,
    width: CompressedLength,
    (height, ridge): (CompressedLength, CompressedLength),
    parapet: CompressedLength,
) -> Line {
    let zero = CompressedLength::ZERO;
    let end = matches!(stand, Stand::LeftEnd | Stand::RightEnd);
    // A shed, and a gable cut at its ridge, rise from the front to the back.
    let one_slope = kind == RoofKind::Shed || half;
    let line = match kind {
        RoofKind::Hip | RoofKind::Flat => vec![(zero, height), (width, height)],
        _ if ridge <= height => vec![(zero, height), (width, height)],
        RoofKind::Shed if stand == Stand::Back => vec![(zero, ridge), (width, ridge)],
        _ if !end => vec![(zero, height), (width, height)],
        // Seen from outside the front is at the right of the left end.
        _ if one_slope && stand == Stand::LeftEnd => vec![(zero, ridge), (width, height)],
        _ if one_slope => vec![(zero, height), (width, ridge)],
        _ => vec![(zero, height), (width / 2.0, ridge), (width, height)],
    };
    let rises = match kind {
        RoofKind::Flat | RoofKind::Shed => true,
        RoofKind::Gable | RoofKind::Gambrel | RoofKind::Monitor => end,
        RoofKind::Hip => false,
    };
    let above = if rises { parapet } else { zero };
    line.into_iter().map(|(x, y)| (x, y + above)).collect()
}
