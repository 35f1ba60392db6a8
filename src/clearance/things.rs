//! What stands near the track: the solids of the building and the obstacles of
//! the job, at their places on the model.

use std::collections::BTreeMap;

use super::Given;
use super::body::{Point, Solid};
use crate::building::{self, Building, SolidKind};
use crate::compress::Compression;
use crate::finding::{Finding, Subject};
use crate::job::Job;
use crate::job::track::Obstacle;
use crate::quantity::slack::NOTHING;
use crate::quantity::{CompressedLength, ModelLength, Scale};

/// What a thing near the track is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum What {
    /// A timber that stands.
    Post,
    /// A timber that lies.
    Beam,
    /// A timber that leans.
    Brace,
    /// A timber under a roof.
    Rafter,
    /// A platform.
    Platform,
    /// Steps or stairs.
    Steps,
    /// A wall.
    Wall,
    /// A plane of a roof.
    Roof,
    /// A retaining wall.
    Terrace,
    /// The plate the building stands on.
    Base,
    /// Something else.
    Other,
}

impl What {
    /// Whether it is one of many sticks.
    pub(super) fn is_timber(self) -> bool {
        matches!(self, Self::Post | Self::Beam | Self::Brace | Self::Rafter)
    }

    /// Whether a car may pass under it.
    pub(super) fn may_be_overhead(self) -> bool {
        matches!(self, Self::Beam | Self::Rafter | Self::Roof)
    }
}

impl From<SolidKind> for What {
    fn from(kind: SolidKind) -> Self {
        match kind {
            SolidKind::Wall => Self::Wall,
            SolidKind::Roof => Self::Roof,
            SolidKind::Post => Self::Post,
            SolidKind::Beam => Self::Beam,
            SolidKind::Brace => Self::Brace,
            SolidKind::Rafter => Self::Rafter,
            SolidKind::Platform => Self::Platform,
            SolidKind::Steps => Self::Steps,
            SolidKind::Terrace => Self::Terrace,
            SolidKind::Base => Self::Base,
        }
    }
}

/// A thing near the track.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Item {
    /// What it is called: `canopy-post 3`, `leanto/right`.
    pub name: String,
    /// What it speaks of.
    pub subject: Subject,
    /// What it is.
    pub what: What,
    /// The body it belongs to; nothing for what is no part of the building.
    pub body: String,
    /// Its solid.
    pub solid: Solid,
    /// Of a brace: where post and beam would meet.
    pub corner: Option<Point>,
}

/// The building on the plan, and its height over the rail.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Ground {
    corner: [f64; 2],
    turn: [f64; 2],
    rail: f64,
    /// Model inches for an inch of the building.
    scale: f64,
}

impl Ground {
    /// Where the building stands: on the site where there is one, else with the
    /// left corner of its front at zero.
    fn of(compress: &Compression, rail: ModelLength, scale: f64) -> Self {
        let placed = compress.ground.as_ref().and_then(|ground| ground.walls);
        let (corner, angle) = placed.map_or(([0.0; 2], 0.0), |it| (it.corner, it.angle));
        let (sin, cos) = angle.sin_cos();
        Self { corner, turn: [cos, sin], rail: rail.in_inches(), scale }
    }

    /// Ground without a building.
    fn bare(rail: ModelLength, scale: f64) -> Self {
        Self { corner: [0.0; 2], turn: [1.0, 0.0], rail: rail.in_inches(), scale }
    }

    /// A point on the model along the front, behind it, and up from the foot of
    /// the wall.
    fn point(&self, [along, back, up]: Point) -> Point {
        let [x, y, z] = self.direction([along, back, up]);
        [self.corner[0] + x, self.corner[1] + y, z - self.rail]
    }

    fn direction(&self, [along, back, up]: Point) -> Point {
        let [cos, sin] = self.turn;
        [along * cos - back * sin, along * sin + back * cos, up]
    }

    /// A point of the building.
    fn built(&self, at: Point) -> Point {
        self.point(at.map(|part| part * self.scale))
    }

    fn item(&self, solid: building::Solid) -> Item {
        let face: Vec<Point> = solid.face.iter().map(|at| self.built(*at)).collect();
        let push = self.direction(solid.push.map(|part| part * self.scale));
        let mut made = Solid::pushed(&face, push);
        let what = What::from(solid.kind);
        made.axis = axis(what, &face, push, made.axis);
        let corner = solid.corner.map(|at| self.built(at));
        Item {
            name: solid.name,
            subject: solid.subject,
            what,
            body: solid.body,
            solid: made,
            corner,
        }
    }

    /// An obstacle: a bar, or what goes down to the ground under it.
    fn obstacle(&self, said: &Obstacle) -> Item {
        let end = |at: &[crate::job::said::Said<crate::quantity::Model>; 3]| {
            self.point([&at[0], &at[1], &at[2]].map(|it| it.length().in_inches()))
        };
        let (from, to) = (end(&said.from), end(&said.to));
        let half = said.thickness.as_ref().map_or(0.0, |it| it.length().in_inches() / 2.0);
        let way = [to[0] - from[0], to[1] - from[1]];
        let long = way[0].hypot(way[1]);
        let up = [0.0, 0.0, 1.0];
        // A bar that goes along is thick to its sides and up; one that stands, to
        // all sides.
        let across = if long > NOTHING {
            let side = [-way[1] / long, way[0] / long, 0.0];
            [(side, half), (up, if said.solid { 0.0 } else { half })]
        } else {
            [1.0, 0.0].map(|along| (self.direction([along, 1.0 - along, 0.0]), half))
        };
        let mut solid = Solid::bar([from, to], across);
        if said.solid {
            let down = (from[2] + self.rail).max(from[2]).max(0.0);
            let under = solid.moved([0.0, 0.0, -down]);
            solid.parts[0].extend(under.corners());
        }
        let subject = Subject::Obstacle(said.name.clone());
        let (name, what) = (said.name.clone(), What::Other);
        Item { name, subject, what, body: String::new(), solid, corner: None }
    }
}

/// The line a thing is told along: a timber's middle line, the lowest edge of a
/// roof, else its first side.
fn axis(what: What, face: &[Point], push: Point, first: [Point; 2]) -> [Point; 2] {
    let middle =
        |a: Point, b: Point| std::array::from_fn(|axis| (a[axis] + b[axis] + push[axis]) / 2.0);
    match (what, face) {
        (_, [a, b, c, d]) if what.is_timber() => [middle(*a, *d), middle(*b, *c)],
        (What::Roof, _) => {
            let pairs = face.iter().zip(face.iter().cycle().skip(1));
            let lowest = pairs.min_by(|a, b| (a.0[2] + a.1[2]).total_cmp(&(b.0[2] + b.1[2])));
            lowest.map_or(first, |(a, b)| [*a, *b])
        }
        // Its foot may have a corner in it; its far end is where it is longest.
        (What::Wall, [from, ..]) => {
            let way = [first[1][0] - first[0][0], first[1][1] - first[0][1]];
            let along = |at: &&Point| (at[0] - from[0]) * way[0] + (at[1] - from[1]) * way[1];
            let far = face.iter().max_by(|a, b| along(a).total_cmp(&along(b)));
            [*from, far.map_or(first[1], |far| [far[0], far[1], from[2]])]
        }
        _ => first,
    }
}

/// Everything that stands there, in the order of the building, and what else the
/// job names. A timber that should stand beside the track and has no place is
/// told.
pub(super) fn gather(given: Given<'_>, findings: &mut Vec<Finding>) -> Vec<Item> {
    let Given { job, compress, building, scale, .. } = given;
    let rail = job.track.as_ref().and_then(|track| track.rail.as_ref());
    let rail = rail.map_or(ModelLength::ZERO, |rail| rail.length());
    let ground =
        Ground::of(compress, rail, scale.reduce(CompressedLength::inches(1.0)).in_inches());
    let built = solids(building).into_iter().map(|solid| ground.item(solid));
    let beside = job.obstacles.iter().map(|said| ground.obstacle(said));
    let items: Vec<Item> = built.chain(beside).collect();
    for member in job.members.iter().filter(|member| member.beside_track) {
        let subject = Subject::Member(member.name.clone());
        if !items.iter().any(|item| item.subject == subject) {
            findings.push(Finding::look(
                subject,
                format!("{} stands beside the track, but not where", member.name),
                "write stands = { out = \"8 ft\", foot = \"0 ft\" }",
            ));
        }
    }
    items
}

/// What else the job names, where nothing is built yet: the corner of the
/// building's front is then at zero.
pub(super) fn alone(job: &Job, scale: &Scale) -> Vec<Item> {
    let rail = job.track.as_ref().and_then(|track| track.rail.as_ref());
    let rail = rail.map_or(ModelLength::ZERO, |rail| rail.length());
    let ground = Ground::bare(rail, scale.reduce(CompressedLength::inches(1.0)).in_inches());
    job.obstacles.iter().map(|said| ground.obstacle(said)).collect()
}

/// The solids of the building, each with a name of its own.
fn solids(building: &Building) -> Vec<building::Solid> {
    let mut solids = building.solids();
    let mut seen: BTreeMap<String, u32> = BTreeMap::new();
    for solid in &mut solids {
        let count = seen.entry(solid.name.clone()).or_default();
        *count += 1;
        if *count > 1 {
            solid.name = format!("{}-{count}", solid.name);
        }
    }
    solids
}
