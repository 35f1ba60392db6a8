//! What stands near the track, at its place on the model.

use super::body::{Bar, Point};
use crate::compress::{Built, Compression};
use crate::finding::{Finding, Stop, Subject};
use crate::job::Job;
use crate::job::building::Member;
use crate::job::place::RoofFollows;
use crate::job::said::Size;
use crate::job::track::{Obstacle, Runs};
use crate::quantity::{CompressedLength, ModelLength, Scale};
use crate::stock::Choices;
use crate::survey::Survey;
use crate::takeoff::courses::spaced;

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
    /// The edge of a platform.
    Platform,
    /// A wall.
    Wall,
    /// The lower edge of a roof.
    Eave,
    /// The end of that edge.
    RoofCorner,
    /// Something else.
    Other,
}

/// A thing near the track.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Item {
    /// What it is called: `canopy-post 3`.
    pub name: String,
    /// What it speaks of.
    pub subject: Subject,
    /// What it is.
    pub what: What,
    /// Its line; of a face, its upper edge.
    pub bar: Bar,
    /// How far down a face goes below its upper edge; none for a bar.
    pub down: f64,
    /// Of a brace: where post and beam would meet.
    pub corner: Option<Point>,
}

/// The building on the plan, and its height over the rail.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Ground {
    corner: [f64; 2],
    turn: [f64; 2],
    rail: f64,
}

impl Ground {
    /// Where the building stands: on the site where there is one, else with the
    /// left corner of its front at zero.
    pub(super) fn of(compress: &Compression, rail: ModelLength) -> Self {
        let placed = compress.ground.as_ref().and_then(|ground| ground.placement);
        let (corner, angle) = placed.map_or(([0.0; 2], 0.0), |it| (it.corner, it.angle));
        let (sin, cos) = angle.sin_cos();
        Self { corner, turn: [cos, sin], rail: rail.in_inches() }
    }

    /// Ground without a building: its corner at zero.
    pub(super) fn bare(rail: ModelLength) -> Self {
        Self { corner: [0.0; 2], turn: [1.0, 0.0], rail: rail.in_inches() }
    }

    /// A point along the front, out from it, and up from the foot of the wall.
    fn point(&self, along: f64, out: f64, up: f64) -> Point {
        let level = self.direction(along, out);
        [self.corner[0] + level[0], self.corner[1] + level[1], up - self.rail]
    }

    fn direction(&self, along: f64, out: f64) -> Point {
        let [cos, sin] = self.turn;
        [along * cos + out * sin, along * sin - out * cos, 0.0]
    }
}

/// Gathers what stands near the track.
pub(super) struct Gather<'a> {
    pub(super) job: &'a Job,
    pub(super) survey: &'a Survey,
    pub(super) built: &'a Built,
    pub(super) stock: &'a Choices,
    pub(super) scale: &'a Scale,
    pub(super) ground: Ground,
    pub(super) items: Vec<Item>,
    pub(super) findings: Vec<Finding>,
}

impl Gather<'_> {
    /// Everything, in the order of the building: walls, roof, platforms, frame,
    /// and what else the job names.
    pub(super) fn all(&mut self) {
        self.walls();
        self.roof();
        self.decks();
        for member in &self.job.members {
            self.member(member);
        }
        for obstacle in &self.job.obstacles {
            self.items.push(standing(obstacle, self.ground));
        }
    }

    fn model(&self, full: CompressedLength) -> f64 {
        self.scale.reduce(full).in_inches()
    }

    /// A size of the job on the model.
    fn size(&mut self, size: Option<&Size>, about: &Subject) -> Option<f64> {
        match self.survey.size(size?) {
            Ok(found) => Some(self.model(CompressedLength::kept(found.value))),
            Err(Stop { trouble, hint, .. }) => {
                self.findings.push(Finding::trouble(about.clone(), trouble, hint));
                None
            }
        }
    }

    fn push(&mut self, name: impl Into<String>, subject: Subject, what: What, bar: Bar, down: f64) {
        self.items.push(Item { name: name.into(), subject, what, bar, down, corner: None });
    }

    /// The four walls, each as its upper edge and what is under it.
    fn walls(&mut self) {
        let body = &self.built.body;
        let [length, depth, eave] = [body.length, body.depth, body.eave].map(|it| self.model(it));
        let sides = [
            ("front wall", [0.0, 0.0], [length, 0.0]),
            ("right wall", [length, 0.0], [length, -depth]),
            ("back wall", [length, -depth], [0.0, -depth]),
            ("left wall", [0.0, -depth], [0.0, 0.0]),
        ];
        for (name, from, to) in sides {
            let ends = [from, to].map(|[along, out]| self.ground.point(along, out, eave));
            let bar = Bar::line(ends[0], ends[1]);
            self.push(name, Subject::Obstacle(name.to_owned()), What::Wall, bar, eave);
        }
    }

    /// The lower edge of the roof on the front, and its two corners.
    fn roof(&mut self) {
        if self.job.roof.is_none() || self.built.roof == RoofFollows::Flat {
            return;
        }
        let body = &self.built.body;
        let [length, out, rake] =
            [body.length, body.eave_overhang, body.rake_overhang].map(|it| self.model(it));
        let up = self.model(body.eave) - out * body.pitch;
        let ends = [-rake, length + rake].map(|along| self.ground.point(along, out, up));
        let subject = |name: &str| Subject::Obstacle(name.to_owned());
        self.push("eave", subject("eave"), What::Eave, Bar::line(ends[0], ends[1]), 0.0);
        for (name, end) in [("roof corner left", ends[0]), ("roof corner right", ends[1])] {
            self.push(name, subject(name), What::RoofCorner, Bar::line(end, end), 0.0);
        }
    }

    fn decks(&mut self) {
        let length = self.model(self.built.body.length);
        let foundation = self.job.building.as_ref().and_then(|it| it.foundation.as_ref());
        let foundation = self.size(foundation, &Subject::Job).unwrap_or(0.0);
        for deck in &self.job.decks {
            let subject = Subject::Obstacle(deck.name.clone());
            let (Some(out), Some(high)) =
                (self.size(Some(&deck.width), &subject), self.size(Some(&deck.height), &subject))
            else {
                continue;
            };
            let long = self.size(deck.length.as_ref(), &subject).unwrap_or(length);
            let ends = [0.0, long].map(|along| self.ground.point(along, out, high - foundation));
            let name = format!("{} edge", deck.name);
            self.push(name, subject, What::Platform, Bar::line(ends[0], ends[1]), high);
        }
    }

    /// Timbers that say where they stand; the others are left out, and it is
    /// said where they were meant to be held against the track.
    fn member(&mut self, member: &Member) {
        let subject = Subject::Member(member.name.clone());
        let Some(stands) = &member.stands else {
            if member.beside_track {
                self.findings.push(Finding::look(
                    subject,
                    format!("{} stands beside the track, but not where", member.name),
                    "write stands = { out = \"8 ft\", foot = \"0 ft\" }",
                ));
            }
            return;
        };
        let Some(out) = self.size(Some(&stands.out), &subject) else { return };
        let foot = self.size(stands.foot.as_ref(), &subject).unwrap_or(0.0);
        let long = self.size(member.length.as_ref(), &subject);
        let legs = member.legs.as_ref().map(|legs| {
            let [level, up] = legs;
            (self.size(Some(level), &subject), self.size(Some(up), &subject))
        });
        let section = self.stock.of(&member.name).map(|choice| choice.wanted.full);
        let [thick, wide] = section.map_or([0.0; 2], |section| {
            [self.model(section.thickness) / 2.0, self.model(section.width) / 2.0]
        });
        let timber = Timber { member, subject, out, foot, thick, wide, runs: stands.runs };
        match (legs, long) {
            (Some((Some(level), Some(up))), _) => self.braces(&timber, level, up),
            (None, Some(long)) => self.straight(&timber, long),
            _ => {}
        }
    }

    /// Places along the front: as the take-off counts them.
    fn places(&mut self, timber: &Timber<'_>) -> Vec<f64> {
        let length = self.built.body.length;
        let (member, along) = (timber.member, timber.runs != Runs::Out);
        let bays = match member.count.map(|count| count * member.each.unwrap_or(1)) {
            // A brace on each side of a bay; a beam over it.
            Some(count) if member.legs.is_some() && along => (count / 2).max(1),
            Some(count) if timber.runs == Runs::Along => count,
            Some(count) => count.saturating_sub(1),
            None => {
                let most = member.spacing.as_ref().and_then(|it| self.survey.size(it).ok());
                most.map_or(0, |most| spaced(length, CompressedLength::kept(most.value)).0)
            }
        };
        let long = self.model(length);
        let at =
            |n: u32| if bays == 0 { long / 2.0 } else { long * f64::from(n) / f64::from(bays) };
        (0..=bays.min(2000)).map(at).collect()
    }

    fn straight(&mut self, timber: &Timber<'_>, long: f64) {
        let Timber { out, foot, .. } = *timber;
        let (along, outwards) = (self.ground.direction(1.0, 0.0), self.ground.direction(0.0, 1.0));
        let up = [0.0, 0.0, 1.0];
        let places = self.places(timber);
        for (n, at) in places.iter().enumerate() {
            let from = self.ground.point(*at, out, foot);
            let (to, across, what) = match timber.runs {
                Runs::Up => {
                    let to = self.ground.point(*at, out, foot + long);
                    (to, [(along, timber.wide), (outwards, timber.thick)], What::Post)
                }
                Runs::Along => {
                    let next = places.get(n + 1).copied().unwrap_or(at + long);
                    if n + 1 == places.len() && places.len() > 1 {
                        continue;
                    }
                    let to = self.ground.point(next, out, foot);
                    (to, [(up, timber.wide), (outwards, timber.thick)], What::Beam)
                }
                Runs::Out => {
                    let to = self.ground.point(*at, out + long, foot);
                    (to, [(up, timber.wide), (along, timber.thick)], What::Beam)
                }
            };
            let bar = Bar { ends: [from, to], across };
            let name = format!("{} {}", timber.member.name, n + 1);
            self.push(name, timber.subject.clone(), what, bar, 0.0);
        }
    }

    /// Braces in the corner between post and beam: along the front to the sides
    /// there is room for, or outwards.
    fn braces(&mut self, timber: &Timber<'_>, level: f64, rise: f64) {
        let Timber { out, foot, thick, wide, .. } = *timber;
        let places = self.places(timber);
        let last = places.len().saturating_sub(1);
        for (n, at) in places.iter().enumerate() {
            let ways: Vec<(&str, [f64; 2])> = match timber.runs {
                Runs::Out => vec![("", [0.0, 1.0])],
                Runs::Along | Runs::Up => [("left", -1.0), ("right", 1.0)]
                    .into_iter()
                    .filter(|(side, _)| {
                        (*side == "left" && n > 0) || (*side == "right" && n < last)
                    })
                    .map(|(side, way)| (side, [way, 0.0]))
                    .collect(),
            };
            for (side, [along, outwards]) in ways {
                let corner = self.ground.point(*at, out, foot + rise);
                let tip =
                    self.ground.point(at + along * level, out + outwards * level, foot + rise);
                let ends = [self.ground.point(*at, out, foot), tip];
                let way = self.ground.direction(along, outwards);
                let long = level.hypot(rise).max(1e-9);
                let square = [way[0] * rise / long, way[1] * rise / long, -level / long];
                let flat = self.ground.direction(outwards, along);
                let bar = Bar { ends, across: [(square, wide), (flat, thick)] };
                let name = format!("{} {} {side}", timber.member.name, n + 1);
                let name = name.trim_end().to_owned();
                let subject = timber.subject.clone();
                let corner = Some(corner);
                self.items.push(Item { name, subject, what: What::Brace, bar, down: 0.0, corner });
            }
        }
    }
}

/// Something that stands there and is no part of the building.
pub(super) fn standing(said: &Obstacle, ground: Ground) -> Item {
    let end = |at: &[crate::job::said::Said<crate::quantity::Model>; 3]| {
        let [along, back, up] = [&at[0], &at[1], &at[2]].map(|it| it.length().in_inches());
        ground.point(along, -back, up)
    };
    let (from, to) = (end(&said.from), end(&said.to));
    let half = said.thickness.as_ref().map_or(0.0, |it| it.length().in_inches() / 2.0);
    let way = [to[0] - from[0], to[1] - from[1]];
    let long = way[0].hypot(way[1]);
    // A bar that goes along is thick to its sides and up; one that stands, to
    // all sides.
    let across = if long > 1e-9 {
        let side = [-way[1] / long, way[0] / long, 0.0];
        [(side, half), ([0.0, 0.0, 1.0], if said.solid { 0.0 } else { half })]
    } else {
        [(ground.direction(1.0, 0.0), half), (ground.direction(0.0, 1.0), half)]
    };
    let down = if said.solid { (from[2] + ground.rail).max(from[2]).max(0.0) } else { 0.0 };
    Item {
        name: said.name.clone(),
        subject: Subject::Obstacle(said.name.clone()),
        what: What::Other,
        bar: Bar { ends: [from, to], across },
        down,
        corner: None,
    }
}

/// Timbers of one kind at their place.
struct Timber<'a> {
    member: &'a Member,
    subject: Subject,
    out: f64,
    foot: f64,
    thick: f64,
    wide: f64,
    runs: Runs,
}
