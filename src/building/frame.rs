//! Timbers with their places: an axis in space, two ends that say how they are
//! cut, and what is housed in what.

use std::sync::Arc;

use super::body::Body;
use super::origin::{Origin, Sized, Why};
use super::place::Point;
use super::{Building, Raise};
use crate::finding::{Finding, Subject};
use crate::job::building::{EndCut, Member as Said};
use crate::quantity::slack::{NOTHING, WHOLE};
use crate::quantity::{Angle, Compressed};

/// What a timber is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum MemberKind {
    /// It stands.
    Post,
    /// It lies level.
    Beam,
    /// It leans between two others.
    Brace,
    /// It lies under a roof.
    Rafter,
    /// A strip on a wall that carries rafters.
    Ledger,
}

/// An end of a timber.
#[derive(Clone, Debug, PartialEq)]
pub struct End {
    /// How it is cut.
    pub cut: EndCut,
    /// How far from square.
    pub from_square: Angle,
    /// What it meets, in words.
    pub meets: String,
}

/// A place cut out of a timber for another.
#[derive(Clone, Debug)]
pub struct Housing {
    /// The timber that lies in it.
    pub of: String,
    /// Its middle from the left end.
    pub at: f64,
    /// Its width, that of the other timber.
    pub width: f64,
    /// Its depth on the inner side, towards the wall.
    pub inner: Sized<Compressed>,
    /// Its depth on the outer side.
    pub outer: Sized<Compressed>,
}

/// A timber at its place.
#[derive(Clone, Debug)]
pub struct Member {
    /// The name of its `[[member]]`.
    pub name: String,
    /// The body it belongs to.
    pub body: String,
    /// Its number among those alike, from the left end.
    pub number: u32,
    /// What it is.
    pub kind: MemberKind,
    /// The middle of its section at both ends.
    pub axis: [Point; 2],
    /// Half of its thickness and of its depth at full size, inches, each along a
    /// step square to its axis.
    pub across: [(Point, f64); 2],
    /// Both ends.
    pub ends: [End; 2],
    /// Its length as it is cut, point to point.
    pub length: Sized<Compressed>,
    /// Its angle from level.
    pub from_level: Angle,
    /// What is cut out of it.
    pub housings: Vec<Housing>,
    /// Of a brace: where post and beam would meet.
    pub corner: Option<Point>,
    /// Its top at full size above the foot of the main walls, of a beam or ledger.
    pub top: Option<Sized<Compressed>>,
    /// Its underside, of a ledger.
    pub foot: Option<Sized<Compressed>>,
    /// Whether it is counted and cut by its place; else by what `[[member]]`
    /// says of count and length.
    pub by_place: bool,
}

impl Member {
    /// Why the underside of a level timber is where it is.
    #[must_use]
    pub fn foot_why(&self) -> Arc<Origin> {
        let low = self.axis[0][2] - self.across[1].1;
        match &self.foot {
            Some(foot) => Arc::clone(&foot.origin),
            None => Origin::plain(
                format!("underside of {}", self.name),
                low,
                Why::Default("as it lies"),
            ),
        }
    }
}

/// A row of places along a body: the first, the distance, how many.
#[derive(Clone, Copy, Debug)]
struct Row {
    first: f64,
    every: f64,
    count: u32,
}

impl Row {
    fn at(&self, number: u32) -> f64 {
        self.first + self.every * f64::from(number)
    }
}

/// So many timbers of one kind at most: more is a slip of a key.
pub(super) const MOST: u32 = 4000;

impl Raise<'_> {
    /// All timbers that have a place.
    pub(super) fn members(&mut self, building: &Building) -> Vec<Member> {
        let job = self.job;
        let mut all: Vec<Member> = Vec::new();
        let placed = |said: &&Said| said.under_roof;
        for said in job.members.iter().filter(placed) {
            all.extend(self.rafters(building, said));
        }
        for said in job.members.iter().filter(|said| said.carries.is_some()) {
            if self.carried(said).is_some_and(|it| it.under_roof) {
                all.extend(self.beam(building, said));
            }
        }
        self.house(building, &mut all);
        for said in job.members.iter().filter(|said| said.carries.is_some()) {
            if self.carried(said).is_some_and(|it| !it.under_roof) {
                all.extend(self.posts(building, said, &all));
            }
        }
        for body in &building.bodies {
            all.extend(self.wall_ledger(building, body));
        }
        for said in &job.members {
            if said.from.is_some() || said.to.is_some() {
                all.extend(self.between_ends(building, said));
            } else if let Some(stands) = &said.stands {
                all.extend(self.standing(building, said, stands));
            }
        }
        all
    }

    fn carried(&self, said: &Said) -> Option<&Said> {
        let name = said.carries.as_ref()?;
        self.job.members.iter().find(|it| &it.name == name)
    }

    /// Thickness and depth of a member at full size, inches.
    pub(super) fn section(&self, name: &str) -> [f64; 2] {
        let section = self.stock.of(name).map(|choice| choice.wanted.full);
        section.map_or([0.0; 2], |it| [it.thickness.in_inches(), it.width.in_inches()])
    }

    fn depth_of(&self, name: &str) -> Arc<Origin> {
        let [_, depth] = self.section(name);
        let nominal = self.stock.of(name).and_then(|choice| choice.wanted.nominal.clone());
        let why = match nominal {
            Some(nominal) => Why::Row(format!("{nominal}, by the lumber era")),
            None => Why::Stated("as the member says".to_owned()),
        };
        Origin::plain(format!("depth of {name}"), depth, why)
    }

    pub(super) fn body_of<'b>(&mut self, building: &'b Building, said: &Said) -> Option<&'b Body> {
        match &said.of {
            None => building.bodies.first(),
            Some(name) => {
                let found = building.body(name);
                if found.is_none() {
                    self.findings.push(Finding::look(
                        Subject::Member(said.name.clone()),
                        format!("{} belongs to \"{name}\", which is not built", said.name),
                        "",
                    ));
                }
                found
            }
        }
    }

    /// Places along a length: from the first at its centres, or so many, or by
    /// the greatest spacing.
    fn row(&mut self, said: &Said, long: f64, ends: f64) -> Row {
        let name = said.name.clone();
        let first = said.at.as_ref().and_then(|at| self.inches(at, &name)).unwrap_or(ends);
        let room = (long - 2.0 * first).max(0.0);
        if let Some(every) = said.every.as_ref().and_then(|size| self.inches(size, &name)) {
            let count = if every > 0.0 { (room / every + WHOLE).floor() as u32 + 1 } else { 1 };
            return Row { first, every, count: count.min(MOST) };
        }
        let spaced = |bays: u32| {
            let every = if bays == 0 { 0.0 } else { room / f64::from(bays) };
            Row { first, every, count: (bays + 1).min(MOST) }
        };
        if let Some(count) = said.count {
            return spaced(count.saturating_sub(1));
        }
        let most = said.spacing.as_ref().and_then(|size| self.inches(size, &name));
        match most.filter(|most| *most > 0.0) {
            Some(most) => spaced((room / most - WHOLE).ceil().max(1.0) as u32),
            None => Row { first, every: 0.0, count: 1 },
        }
    }

    /// Rafters under a roof, from the wall or ridge to the eave edge.
    fn rafters(&mut self, building: &Building, said: &Said) -> Vec<Member> {
        let Some(body) = self.body_of(building, said) else { return Vec::new() };
        let Some(profile) = body.profile else {
            self.findings.push(Finding::look(
                Subject::Member(said.name.clone()),
                format!("{} has no roof for {} to lie under", body.name, said.name),
                "give the body a roof",
            ));
            return Vec::new();
        };
        let [length, depth] = body.plan();
        let [thick, deep] = self.section(&said.name);
        let row = self.row(said, length, 0.0);
        let upright = deep * profile.pitch.hypot(1.0);
        let one_slope = profile.run() >= depth - NOTHING;
        let over = &body.overhangs[0];
        let whole = body.over[0].abs() > NOTHING;
        let none = Origin::plain("overhang", 0.0, Why::Default("none"));
        let over = if whole { over } else { &none };
        let rule = "from the wall face to the eave edge, along the slope";
        let of = [&body.depth.origin, over, &body.pitch];
        let cut = if one_slope {
            Sized::rule(format!("length of {}", said.name), rule, &of, |of| {
                (of[0] + of[1]) * of[2].hypot(1.0)
            })
        } else {
            Sized::rule(
                format!("length of {}", said.name),
                "from the ridge to the eave edge, along the slope",
                &of,
                |of| (of[0] / 2.0 + of[1]) * of[2].hypot(1.0),
            )
        };
        let plumb = Angle::radians(profile.pitch.atan());
        let slopes: &[bool] = if one_slope { &[true] } else { &[true, false] };
        let mut rafters = Vec::new();
        for front in slopes {
            for number in 0..row.count {
                let u = row.at(number);
                let (high, low) = match (one_slope, front) {
                    (true, _) => (depth, -body.over[0]),
                    (false, true) => (depth / 2.0, -body.over[0]),
                    (false, false) => (depth / 2.0, depth + body.over[2]),
                };
                let at = |v: f64| body.point([u, v, profile.height(u, v) - upright / 2.0]);
                let axis = [at(high), at(low)];
                let end = |meets: &str| End {
                    cut: EndCut::Plumb,
                    from_square: plumb,
                    meets: meets.to_owned(),
                };
                rafters.push(Member {
                    name: said.name.clone(),
                    body: body.name.clone(),
                    number: number + 1,
                    kind: MemberKind::Rafter,
                    across: across(axis, thick, deep),
                    axis,
                    ends: [
                        end(if one_slope { "the wall" } else { "the ridge" }),
                        end("the eave edge"),
                    ],
                    length: cut.clone(),
                    from_level: plumb,
                    housings: Vec::new(),
                    corner: None,
                    top: None,
                    foot: None,
                    by_place: true,
                });
            }
        }
        rafters
    }

    /// A beam under the rafters of a roof on posts, at the outer line of its
    /// body.
    fn beam(&mut self, building: &Building, said: &Said) -> Option<Member> {
        let body = self.body_of(building, said)?;
        body.profile?;
        let rafter = self.carried(said)?.clone();
        let [length, _] = body.plan();
        let [wide, deep] = self.section(&said.name);
        let rafter_depth = self.depth_of(&rafter.name);
        let half = Origin::plain(
            format!("half the width of {}", said.name),
            wide / 2.0,
            Why::Row(said.name.clone()),
        );
        let let_in = rafter.let_in.as_ref().and_then(|size| {
            self.said(format!("how deep {} is let in", rafter.name), size, &rafter.name)
        });
        let eave = &body.eave.origin;
        let pitch = &body.pitch;
        let what = format!("top of {}", said.name);
        let top = match &let_in {
            Some(by) => Sized::rule(
                what,
                "underside of the rafters at its middle, and how deep they are let in",
                &[eave, pitch, &rafter_depth, &by.origin],
                |of| of[0] - of[2] * of[1].hypot(1.0) + of[3],
            ),
            None => Sized::rule(
                what,
                "underside of the rafters at its lower upper edge",
                &[eave, pitch, &rafter_depth, &half],
                |of| of[0] - of[2] * of[1].hypot(1.0) - of[1].abs() * of[3],
            ),
        };
        let up = top.length.in_inches() - deep / 2.0;
        let axis = [body.point([0.0, 0.0, up]), body.point([length, 0.0, up])];
        let end =
            || End { cut: EndCut::Square, from_square: Angle::default(), meets: String::new() };
        Some(Member {
            name: said.name.clone(),
            body: body.name.clone(),
            number: 1,
            kind: MemberKind::Beam,
            across: across(axis, wide, deep),
            axis,
            ends: [end(), end()],
            length: Sized::rule(
                format!("length of {}", said.name),
                "as long as its body",
                &[&body.length.origin],
                |of| of[0],
            ),
            from_level: Angle::default(),
            housings: Vec::new(),
            corner: None,
            top: Some(top),
            foot: None,
            by_place: true,
        })
    }

    /// Cuts the housings of beams whose rafters are let in.
    fn house(&self, building: &Building, all: &mut [Member]) {
        let job = self.job;
        let rafters: Vec<Member> =
            all.iter().filter(|it| it.kind == MemberKind::Rafter).cloned().collect();
        for beam in all.iter_mut().filter(|it| it.kind == MemberKind::Beam) {
            let said = job.members.iter().find(|it| it.name == beam.name);
            let Some(rafter) = said.and_then(|said| self.carried(said)) else { continue };
            let (Some(body), Some(top), Some(_)) =
                (building.body(&beam.body), &beam.top, &rafter.let_in)
            else {
                continue;
            };
            let half = beam.across[0].1;
            let width = self.section(&rafter.name)[0];
            let depth = self.depth_of(&rafter.name);
            let half = Origin::plain(
                format!("half the width of {}", beam.name),
                half,
                Why::Row(beam.name.clone()),
            );
            let of = [&top.origin, &body.eave.origin, &body.pitch, &depth, &half];
            let rule = "top of the beam less the rafter's underside there";
            let inner = Sized::rule("housing, inner side", rule, &of, |of| {
                of[0] - (of[1] + of[2] * of[4] - of[3] * of[2].hypot(1.0))
            });
            let outer = Sized::rule("housing, outer side", rule, &of, |of| {
                of[0] - (of[1] - of[2] * of[4] - of[3] * of[2].hypot(1.0))
            });
            beam.housings = rafters
                .iter()
                .filter(|it| it.name == rafter.name && it.body == beam.body)
                .map(|it| Housing {
                    of: format!("{}-{}", it.name, it.number),
                    at: body.frame.local(it.axis[0])[0],
                    width,
                    inner: inner.clone(),
                    outer: outer.clone(),
                })
                .collect();
        }
    }

    /// Posts under a beam, from the ground.
    fn posts(&mut self, building: &Building, said: &Said, all: &[Member]) -> Vec<Member> {
        let Some(beam) = all.iter().find(|it| Some(&it.name) == said.carries.as_ref()) else {
            return Vec::new();
        };
        let (Some(body), Some(top)) = (building.body(&beam.body), &beam.top) else {
            return Vec::new();
        };
        let [thick, wide] = self.section(&said.name);
        let ground = self.ground_origin(said);
        let deep = self.depth_of(&beam.name);
        let rule = "from what it stands on to the underside of the beam";
        let cut = Sized::rule(
            format!("length of {}", said.name),
            rule,
            &[&top.origin, &deep, &ground],
            |of| of[0] - of[1] - of[2],
        );
        let row = self.row(said, body.plan()[0], thick / 2.0);
        let (foot, head) = (ground.value, top.length.in_inches() - deep.value);
        let end = |meets: &str| End {
            cut: EndCut::Square,
            from_square: Angle::default(),
            meets: meets.to_owned(),
        };
        (0..row.count)
            .map(|number| {
                let u = row.at(number);
                let base = body.frame.origin[2];
                let axis = [body.point([u, 0.0, foot - base]), body.point([u, 0.0, head])];
                let [along, out] =
                    [body.frame.direction([1.0, 0.0]), body.frame.direction([0.0, 1.0])];
                Member {
                    name: said.name.clone(),
                    body: body.name.clone(),
                    number: number + 1,
                    kind: MemberKind::Post,
                    across: [
                        ([along[0], along[1], 0.0], thick / 2.0),
                        ([out[0], out[1], 0.0], wide / 2.0),
                    ],
                    axis,
                    ends: [end("the ground"), end(&beam.name)],
                    length: cut.clone(),
                    from_level: Angle::degrees(90.0),
                    housings: Vec::new(),
                    corner: None,
                    top: None,
                    foot: None,
                    by_place: true,
                }
            })
            .collect()
    }

    /// What a post stands on: its foot, or the ground under the main foundation.
    fn ground_origin(&mut self, said: &Said) -> Arc<Origin> {
        let what = format!("foot of {}", said.name);
        if let Some(size) = &said.foot
            && let Some(foot) = self.said(what.clone(), size, &said.name)
        {
            return foot.origin;
        }
        let job = self.job;
        let foundation = job.main().and_then(|body| body.foundation.as_ref());
        match foundation.and_then(|size| self.said("foundation".to_owned(), size, "foundation")) {
            Some(foundation) => Origin::rule(
                what,
                "the ground: the foundation below the sill",
                &[&foundation.origin],
                |of| -of[0],
            ),
            None => Origin::plain(what, 0.0, Why::Default("the foot of the walls")),
        }
    }

    /// The strip on a wall that carries the rafters of a roof against it.
    fn wall_ledger(&mut self, building: &Building, body: &Body) -> Option<Member> {
        let job = self.job;
        let said = job.bodies.get(body.index)?.wall_ledger.as_ref()?;
        let (host, side) = body.host()?;
        let host = &building.bodies[host];
        let wall = building.walls.iter().find(|w| w.id.body == host.name && w.id.side == side)?;
        let name = "ledger";
        let foot =
            self.said(format!("foot of the ledger of {}", body.name), &said.foot, &body.name)?;
        let thick = self.said(
            format!("thickness of the ledger of {}", body.name),
            &said.thick,
            &body.name,
        )?;
        let rafter =
            job.members.iter().find(|it| it.under_roof && it.of.as_ref() == Some(&body.name));
        let rafter_depth = match rafter {
            Some(rafter) => self.depth_of(&rafter.name),
            None => Origin::plain("depth of rafters", 0.0, Why::Default("there are none")),
        };
        let of = [&body.eave.origin, &body.pitch, &body.depth.origin, &rafter_depth, &thick.origin];
        let top = Sized::rule(
            format!("top of the ledger of {}", body.name),
            "underside of the rafters at the wall",
            &of,
            |of| of[0] + of[1] * of[2] - of[3] * of[1].hypot(1.0),
        );
        let [left, right] = self.corner_cover(wall);
        let long = Sized::rule(
            format!("length of the ledger of {}", body.name),
            "between the corner boards, along the body",
            &[&body.length.origin, &left, &right],
            |of| of[0] - of[1] - of[2],
        );
        let up = (foot.length + top.length).in_inches() / 2.0;
        let depth = body.plan()[1];
        let half = thick.length.in_inches() / 2.0;
        let base = body.frame.origin[2];
        let axis = [
            body.point([left.value, depth - half, up - base]),
            body.point([left.value + long.length.in_inches(), depth - half, up - base]),
        ];
        let tall = (top.length - foot.length).in_inches();
        let end =
            || End { cut: EndCut::Square, from_square: Angle::default(), meets: String::new() };
        Some(Member {
            name: name.to_owned(),
            body: body.name.clone(),
            number: 1,
            kind: MemberKind::Ledger,
            across: across(axis, thick.length.in_inches(), tall),
            axis,
            ends: [end(), end()],
            length: long,
            from_level: Angle::default(),
            housings: Vec::new(),
            corner: None,
            top: Some(top),
            foot: Some(foot),
            by_place: true,
        })
    }
}

/// Steps square to an axis with half the thickness and half the depth: the
/// depth lies in the upright plane of the axis.
pub(super) fn across([from, to]: [Point; 2], thick: f64, deep: f64) -> [(Point, f64); 2] {
    let way = [to[0] - from[0], to[1] - from[1], to[2] - from[2]];
    let level = way[0].hypot(way[1]);
    let long = level.hypot(way[2]).max(NOTHING);
    if level < NOTHING {
        return [([1.0, 0.0, 0.0], thick / 2.0), ([0.0, 1.0, 0.0], deep / 2.0)];
    }
    let side = [-way[1] / level, way[0] / level, 0.0];
    let up = [-way[0] * way[2] / (level * long), -way[1] * way[2] / (level * long), level / long];
    [(side, thick / 2.0), (up, deep / 2.0)]
}
