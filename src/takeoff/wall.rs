//! The walls of the building: those the job describes, and the plain ones that
//! close the box.

use crate::compress::Built;
use crate::elevation::{Hole, Span};
use crate::job::Job;
use crate::job::building::RoofKind;
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

/// One wall, seen from outside, from its left corner at the foot.
#[derive(Clone, Debug)]
pub struct Wall {
    /// Short name: the face's own, or `back`, `left-end`, `right-end`.
    pub name: String,
    /// What it is called in drawings.
    pub title: String,
    /// Where it stands.
    pub stand: Stand,
    /// From corner to corner.
    pub width: CompressedLength,
    /// Corners of its top line, left to right.
    pub top: Vec<(CompressedLength, CompressedLength)>,
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
        let under = self.top.windows(2).find(|pair| x <= pair[1].0);
        match (under, self.top.last()) {
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
        let mut cuts: Vec<CompressedLength> = vec![left, right];
        cuts.extend(self.top.iter().map(|(x, _)| *x).filter(|x| *x > left && *x < right));
        for level in [low, high] {
            cuts.extend(self.crossings(level).into_iter().filter(|x| *x > left && *x < right));
        }
        cuts.sort_by(CompressedLength::total_cmp);
        let height = |x| self.top_at(x).min(high).max(low) - low;
        // Between two cuts the height runs straight, so the mean is exact.
        let slice = |pair: &[CompressedLength]| {
            (pair[1] - pair[0]) * ((height(pair[0]) + height(pair[1])) / 2.0)
        };
        cuts.windows(2).map(slice).fold(super::part::no_area(), |sum, area| sum + area)
    }

    /// Where the top line crosses a level.
    fn crossings(&self, level: CompressedLength) -> Vec<CompressedLength> {
        let crosses = |pair: &[(CompressedLength, CompressedLength)]| {
            let rise = pair[1].1 - pair[0].1;
            let share =
                if rise.in_inches().abs() > 1e-9 { (level - pair[0].1) / rise } else { -1.0 };
            (share > 0.0 && share < 1.0).then(|| pair[0].0 + (pair[1].0 - pair[0].0) * share)
        };
        self.top.windows(2).filter_map(crosses).collect()
    }

    /// Part of a level line that lies under the top line.
    #[must_use]
    pub fn width_at(
        &self,
        level: CompressedLength,
    ) -> Option<(CompressedLength, CompressedLength)> {
        let inside = |x: CompressedLength| self.top_at(x) >= level;
        let mut edges = self.crossings(level);
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

/// All walls, the front first, then those described, then the plain ones.
#[must_use]
pub fn walls(job: &Job, built: &Built) -> Vec<Wall> {
    let front = job.building.as_ref().map(|building| building.front.as_str());
    let mut walls: Vec<Wall> = Vec::new();
    let mut ends = [Stand::LeftEnd, Stand::RightEnd].into_iter();
    for face in &built.faces {
        let is_end = face.gable
            || (face.length - built.body.depth).abs() < (face.length - built.body.length).abs();
        let stand = match (Some(face.name.as_str()) == front, is_end) {
            (true, _) => Stand::Front,
            (false, true) => ends.next().unwrap_or(Stand::RightEnd),
            (false, false) => Stand::Back,
        };
        let claddings = job
            .faces
            .iter()
            .find(|said| said.name == face.name)
            .map_or_else(Vec::new, |said| said.cladding.clone());
        walls.push(Wall {
            name: face.name.clone(),
            title: face.title.clone(),
            stand,
            width: face.length,
            top: top_line(job, built, stand, face.length, face.height),
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
    walls.extend(missing.into_iter().map(|stand| plain(job, built, stand, claddings.clone())));
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

fn plain(job: &Job, built: &Built, stand: Stand, claddings: Vec<String>) -> Wall {
    let (name, title, width) = match stand {
        Stand::Front => ("front", "Front", built.body.length),
        Stand::Back => ("back", "Back", built.body.length),
        Stand::LeftEnd => ("left-end", "Left end", built.body.depth),
        Stand::RightEnd => ("right-end", "Right end", built.body.depth),
    };
    Wall {
        name: name.to_owned(),
        title: title.to_owned(),
        stand,
        width,
        top: top_line(job, built, stand, width, built.body.eave),
        spans: Vec::new(),
        holes: Vec::new(),
        claddings,
        described: false,
    }
}

/// The top line of a wall: level, a gable, or the slope of half a gable.
fn top_line(
    job: &Job,
    built: &Built,
    stand: Stand,
    width: CompressedLength,
    height: CompressedLength,
) -> Vec<(CompressedLength, CompressedLength)> {
    let zero = CompressedLength::ZERO;
    let ridge = built.body.ridge;
    let level = vec![(zero, height), (width, height)];
    let kind = job.roof.as_ref().map_or(RoofKind::Flat, |roof| roof.kind);
    let end = matches!(stand, Stand::LeftEnd | Stand::RightEnd);
    // A shed, and a gable cut at its ridge, rise from the front to the back.
    let half = kind == RoofKind::Shed || built.roof == RoofFollows::HalfRelief;
    match kind {
        RoofKind::Hip | RoofKind::Flat => level,
        _ if ridge <= height => level,
        _ if !end && stand == Stand::Back && kind == RoofKind::Shed => {
            vec![(zero, ridge), (width, ridge)]
        }
        _ if !end => level,
        // Seen from outside the front is at the right of the left end.
        _ if half && stand == Stand::LeftEnd => vec![(zero, ridge), (width, height)],
        _ if half => vec![(zero, height), (width, ridge)],
        _ => vec![(zero, height), (width / 2.0, ridge), (width, height)],
    }
}
