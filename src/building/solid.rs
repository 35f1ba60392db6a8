//! Everything that is built as solids: a flat shape pushed out along a step.

use super::frame::{Member, MemberKind};
use super::place::Point;
use super::roof::RoofPlane;
use super::wall::Wall;
use super::{Building, Deck, Flight, Retaining};
use crate::finding::Subject;
use crate::job::building::EndCut;
use crate::quantity::slack::{NOTHING, TOUCH};

/// What a solid is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum SolidKind {
    /// A wall with all its layers.
    Wall,
    /// A plane of a roof with its sheet.
    Roof,
    /// A timber that stands.
    Post,
    /// A timber that lies.
    Beam,
    /// A timber that leans.
    Brace,
    /// A timber under a roof.
    Rafter,
    /// A deck.
    Platform,
    /// Steps or stairs.
    Steps,
    /// A retaining wall.
    Terrace,
    /// The plate everything stands on.
    Base,
}

/// A solid of the building, inches at full size.
#[derive(Clone, Debug, PartialEq)]
pub struct Solid {
    /// What it is called: `leanto/right`, `canopy-post 3`.
    pub name: String,
    /// What it speaks of.
    pub subject: Subject,
    /// The body it belongs to; of what stands on the ground, nothing.
    pub body: String,
    /// What it is.
    pub kind: SolidKind,
    /// Of a brace: where post and beam would meet.
    pub corner: Option<Point>,
    /// Corners of one flat face, in order.
    pub face: Vec<Point>,
    /// The step to the opposite face.
    pub push: Point,
}

impl Solid {
    /// Corners of both faces.
    #[must_use]
    pub fn corners(&self) -> Vec<Point> {
        let [x, y, z] = self.push;
        let other = self.face.iter().map(|at| [at[0] + x, at[1] + y, at[2] + z]);
        self.face.iter().copied().chain(other).collect()
    }

    /// Its volume, cubic inches at full size.
    #[must_use]
    pub fn volume(&self) -> f64 {
        let normal = self.face_normal();
        (normal[0] * self.push[0] + normal[1] * self.push[1] + normal[2] * self.push[2]).abs()
    }

    /// The normal of its face, as long as the face is large.
    #[must_use]
    pub fn face_normal(&self) -> Point {
        let Some(&origin) = self.face.first() else { return [0.0; 3] };
        let from = |at: &Point| [at[0] - origin[0], at[1] - origin[1], at[2] - origin[2]];
        let mut sum = [0.0; 3];
        for pair in self.face.windows(2) {
            let (a, b) = (from(&pair[0]), from(&pair[1]));
            sum[0] += (a[1] * b[2] - a[2] * b[1]) / 2.0;
            sum[1] += (a[2] * b[0] - a[0] * b[2]) / 2.0;
            sum[2] += (a[0] * b[1] - a[1] * b[0]) / 2.0;
        }
        sum
    }
}

impl Building {
    /// Walls, roofs, timbers, decks and what stands on the ground, each as one
    /// solid.
    #[must_use]
    pub fn solids(&self) -> Vec<Solid> {
        let mut solids: Vec<Solid> = self.walls.iter().filter_map(wall).collect();
        solids.extend(self.planes.iter().map(plane));
        solids.extend(self.decks.iter().flat_map(deck));
        solids.extend(self.members.iter().map(|it| member(it, self)));
        solids.extend(self.terraces.iter().flat_map(terrace));
        solids.extend(self.base.iter().map(|base| {
            let ([x0, x1], [y0, y1]) = (base.reach.along, base.reach.behind);
            Solid {
                name: "base".to_owned(),
                subject: Subject::Obstacle("base".to_owned()),
                body: String::new(),
                kind: SolidKind::Base,
                corner: None,
                face: vec![[x0, y0, 0.0], [x1, y0, 0.0], [x1, y1, 0.0], [x0, y1, 0.0]],
                push: [0.0, 0.0, -base.full],
            }
        }));
        solids
    }
}

/// A wall from its finished face inwards, between its corners.
fn wall(wall: &Wall) -> Option<Solid> {
    let thick: f64 = wall.layers.iter().map(|layer| layer.full).sum();
    let at = |(s, up): &(crate::quantity::CompressedLength, crate::quantity::CompressedLength)| {
        wall.plane.point(s.in_inches(), 0.0, up.in_inches())
    };
    // Layers may run on into what it stands against, under that wall's face.
    let slack = crate::quantity::CompressedLength::inches(TOUCH);
    let within =
        |(s, _): &&(crate::quantity::CompressedLength, _)| *s >= -slack && *s <= wall.width + slack;
    let foot = wall.foot.iter().filter(within).map(at);
    let top = wall.top.iter().rev().filter(within).map(at);
    let face: Vec<Point> = foot.chain(top).collect();
    let [x, y] = wall.plane.out;
    (face.len() > 2).then(|| Solid {
        name: wall.name.clone(),
        subject: Subject::Element(wall.name.clone()),
        body: wall.id.body.clone(),
        kind: SolidKind::Wall,
        corner: None,
        face,
        push: [-x * thick, -y * thick, 0.0],
    })
}

/// A plane of a roof with its sheet, as thick square to it as the sheet is.
fn plane(plane: &RoofPlane) -> Solid {
    let mut solid = Solid {
        name: format!("{}/roof/{}", plane.body, plane.over),
        subject: Subject::Obstacle(format!("{}/roof", plane.body)),
        body: plane.body.clone(),
        kind: SolidKind::Roof,
        corner: None,
        face: plane.corners.clone(),
        push: [0.0; 3],
    };
    // Eave, ridge and the edge at a wall are cut plumb.
    let [x, y, z] = solid.face_normal();
    let long = (x * x + y * y + z * z).sqrt().max(NOTHING);
    solid.push = [0.0, 0.0, plane.sheet * long / z.abs().max(NOTHING)];
    solid
}

fn member(member: &Member, building: &Building) -> Solid {
    let kind = match member.kind {
        MemberKind::Post => SolidKind::Post,
        MemberKind::Beam | MemberKind::Ledger => SolidKind::Beam,
        MemberKind::Brace => SolidKind::Brace,
        MemberKind::Rafter => SolidKind::Rafter,
    };
    let alone = member.kind == MemberKind::Ledger
        || building
            .members
            .iter()
            .filter(|it| it.name == member.name && it.body == member.body)
            .count()
            == 1
            && member.by_place;
    let name =
        if alone { member.name.clone() } else { format!("{} {}", member.name, member.number) };
    let [(side, thick), (up, deep)] = member.across;
    let [from, to] = member.axis;
    // Two braces stand at one post.
    let name = match member.corner {
        Some(_) if (to[0] - from[0]).abs() > NOTHING => {
            format!("{name} {}", if to[0] < from[0] { "left" } else { "right" })
        }
        _ => name,
    };
    let along = [to[0] - from[0], to[1] - from[1], to[2] - from[2]];
    let level = along[0].hypot(along[1]);
    // Plumb ends: the side of the timber is a slanted four-sided shape.
    let plumb = member.ends.iter().all(|end| end.cut == EndCut::Plumb) && level > NOTHING;
    let up = if plumb {
        let long = (level * level + along[2] * along[2]).sqrt();
        [0.0, 0.0, deep * long / level]
    } else {
        up.map(|part| part * deep)
    };
    let corner = |at: super::place::Point, sign: f64| {
        [0, 1, 2].map(|axis: usize| at[axis] + up[axis] * sign - side[axis] * thick)
    };
    Solid {
        name,
        subject: Subject::Member(member.name.clone()),
        body: member.body.clone(),
        kind,
        corner: member.corner,
        face: vec![corner(from, -1.0), corner(to, -1.0), corner(to, 1.0), corner(from, 1.0)],
        push: side.map(|part| part * thick * 2.0),
    }
}

/// A deck down to the ground, and its steps.
fn deck(deck: &Deck) -> Vec<Solid> {
    let [long, wide, high] =
        [&deck.length, &deck.width, &deck.height].map(|it| it.length.in_inches());
    let at = |u, v| deck.frame.point([u, v, high]);
    let subject = Subject::Obstacle(deck.name.clone());
    let mut solids = vec![Solid {
        name: deck.name.clone(),
        subject: subject.clone(),
        body: String::new(),
        kind: SolidKind::Platform,
        corner: None,
        face: vec![at(0.0, 0.0), at(long, 0.0), at(long, wide), at(0.0, wide)],
        push: [0.0, 0.0, -high],
    }];
    solids.extend(
        deck.steps
            .iter()
            .map(|steps| flight(&format!("{} steps", deck.name), subject.clone(), steps)),
    );
    solids
}

/// A flight as a wedge under its line.
fn flight(name: &str, subject: Subject, flight: &Flight) -> Solid {
    let [foot, head] = flight.line;
    let half = flight.width / 2.0;
    let [x, y] = flight.across;
    let aside = |at: Point| [at[0] - x * half, at[1] - y * half, at[2]];
    let under = [head[0], head[1], foot[2]];
    Solid {
        name: name.to_owned(),
        subject,
        body: String::new(),
        kind: SolidKind::Steps,
        corner: None,
        face: vec![aside(foot), aside(under), aside(head)],
        push: [x * flight.width, y * flight.width, 0.0],
    }
}

fn terrace(wall: &Retaining) -> Vec<Solid> {
    let [from, to] = wall.foot;
    let back = |at: Point, by: f64, up: f64| {
        [at[0] + wall.behind[0] * by, at[1] + wall.behind[1] * by, at[2] + up]
    };
    let rise = wall.rise.length.in_inches();
    let deep = (wall.lean + wall.cap).max(1.0);
    let subject = Subject::Obstacle(wall.name.clone());
    let mut solids = vec![Solid {
        name: wall.name.clone(),
        subject: subject.clone(),
        body: String::new(),
        kind: SolidKind::Terrace,
        corner: None,
        face: vec![
            from,
            back(from, deep, 0.0),
            back(from, deep, rise),
            back(from, wall.lean, rise),
        ],
        push: [to[0] - from[0], to[1] - from[1], to[2] - from[2]],
    }];
    solids.extend(
        wall.stair
            .iter()
            .map(|stair| flight(&format!("{} stair", wall.name), subject.clone(), stair)),
    );
    solids
}
