//! The building as plain numbers, for every alternative that is compared: where
//! each body stands and how far everything reaches, as figures that follow the
//! length and the depth of the main body.

use super::place::{Follows, Reach, Turn};
use crate::elevation::Faces;
use crate::finding::{Finding, Outcome, Subject};
use crate::job::Job;
use crate::job::body::{Along, Body, BodyPlace, RoofKind, RoofPlace, Side};
use crate::job::carpentry::{Deck, Steps};
use crate::job::place::{Counts, RoofFollows};
use crate::job::said::Size;
use crate::quantity::slack::NOTHING;
use crate::quantity::{CompressedLength, parse_pitch};
use crate::survey::Survey;

/// Rise and tread of steps where the job does not say, inches: common practice,
/// no source.
pub(super) const STEP: (f64, f64) = (7.5, 10.0);

/// What the shortening decides of the main body, inches at full size.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shape {
    /// Length of the front.
    pub front: f64,
    /// Depth.
    pub depth: f64,
    /// How the roof follows.
    pub roof: RoofFollows,
}

/// A body that something may stand against, or on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Standing {
    /// Its place in the list of bodies.
    pub index: usize,
    /// Along its front.
    pub length: Follows,
    /// Behind its front.
    pub depth: Follows,
    /// Its front's left corner.
    pub origin: [Follows; 2],
    /// How it is turned.
    pub turn: Turn,
    /// The side of the main body it hangs on, itself or by what it stands
    /// against; none for the main body and what stands free.
    pub hangs: Option<Side>,
}

impl Standing {
    /// The corner a side begins at, seen from outside, in the building's frame;
    /// the directions along the side and out from it.
    fn side(&self, side: Side) -> ([Follows; 2], [f64; 2], [f64; 2]) {
        let [u, v] = self.turn.steps();
        let at = |along: Follows, behind: Follows| {
            [0, 1].map(|axis| self.origin[axis] + along.times(u[axis]) + behind.times(v[axis]))
        };
        let none = Follows::default();
        let minus = |d: [f64; 2]| d.map(|part| -part);
        match side {
            Side::Front => (at(none, none), u, minus(v)),
            Side::Right => (at(self.length, none), v, u),
            Side::Back => (at(self.length, self.depth), minus(u), v),
            Side::Left => (at(none, self.depth), minus(v), minus(u)),
        }
    }

    /// Its length from corner to corner on a side.
    fn long(&self, side: Side) -> Follows {
        if side.is_end() { self.depth } else { self.length }
    }

    /// The rectangle it covers, each side moved out by a figure: front, right,
    /// back, left.
    fn reaches(&self, out: [f64; 4]) -> [[Follows; 2]; 2] {
        let [u, v] = self.turn.steps();
        let low = [Follows::fixed(-out[3]), Follows::fixed(-out[0])];
        let high = [self.length + Follows::fixed(out[1]), self.depth + Follows::fixed(out[2])];
        let corner = |along: Follows, behind: Follows, axis: usize| {
            self.origin[axis] + along.times(u[axis]) + behind.times(v[axis])
        };
        [0, 1].map(|axis| {
            let (a, b) = (corner(low[0], low[1], axis), corner(high[0], high[1], axis));
            // Of two opposite corners one is the least along each axis.
            if u[axis] + v[axis] > 0.0 { [a, b] } else { [b, a] }
        })
    }
}

/// Something that counts on the plan.
#[derive(Clone, Copy, Debug)]
struct Item {
    /// The narrowest count that takes it in.
    counts: Counts,
    /// Whether it is of the main body itself.
    main: bool,
    /// The side of the main body it hangs on.
    hangs: Option<Side>,
    /// Least and most along and behind the front.
    span: [[Follows; 2]; 2],
}

/// The building as numbers.
#[derive(Clone, Debug, Default)]
pub struct Scheme {
    /// The bodies, the main one first; those without a place are left out.
    pub standing: Vec<Standing>,
    items: Vec<Item>,
    /// Heights of all but the main body's ridge.
    tops: Vec<f64>,
}

/// The bodies, each after the one it stands on: the order of the file says
/// nothing. What stands in a ring comes last; it is refused when the job is read.
fn hosts_first(job: &Job) -> Vec<usize> {
    let mut placed: Vec<usize> = Vec::new();
    let mut waiting: Vec<usize> = (0..job.bodies.len()).collect();
    while !waiting.is_empty() {
        let stands = |index: &usize| {
            let host = job.bodies[*index].stands.as_ref().map(|it| it.body());
            host.is_none_or(|name| !waiting.iter().any(|other| job.bodies[*other].name == name))
        };
        let (ready, rest): (Vec<usize>, Vec<usize>) = waiting.iter().partition(|it| stands(it));
        placed.extend(if ready.is_empty() { &rest } else { &ready });
        waiting = if ready.is_empty() { Vec::new() } else { rest };
    }
    placed
}

impl Scheme {
    /// Reads bodies, decks, terraces and base. What has no place is told and
    /// left out.
    #[must_use]
    pub fn of(job: &Job, survey: &Survey, faces: &Faces) -> Outcome<Self> {
        let mut read = Read { job, survey, faces, findings: Vec::new() };
        let mut scheme = Self::default();
        for index in hosts_first(job) {
            let body = &job.bodies[index];
            let standing = if index == 0 { Some(main()) } else { read.stand(index, body, &scheme) };
            let Some(standing) = standing else { continue };
            scheme.add(&mut read, body, standing);
        }
        for deck in &job.decks {
            read.deck(deck, &mut scheme);
        }
        read.ground(&mut scheme);
        Outcome { value: scheme, findings: read.findings }
    }

    /// A body by its name.
    #[must_use]
    pub fn find(&self, job: &Job, name: &str) -> Option<&Standing> {
        self.standing.iter().find(|it| job.bodies[it.index].name == name)
    }

    fn add(&mut self, read: &mut Read<'_>, body: &Body, standing: Standing) {
        self.standing.push(standing);
        let hangs = standing.hangs;
        let posts = body.walls.as_ref().is_some_and(Vec::is_empty);
        let mut push = |counts, out| {
            self.items.push(Item {
                counts,
                main: standing.index == 0,
                hangs,
                span: standing.reaches(out),
            });
        };
        if !posts {
            push(Counts::Walls, [0.0; 4]);
        }
        if body.roof.is_some() {
            let out = read.overhangs(body, standing.index == 0);
            push(if posts { Counts::All } else { Counts::Eaves }, out);
        }
        if standing.index > 0 {
            let top = read.top(body);
            self.tops.extend(top);
        }
    }

    /// What counts, on the plan of an alternative.
    #[must_use]
    pub fn reach(&self, shape: &Shape, counts: Counts) -> Reach {
        let at = |it: Follows| it.at(shape.front, shape.depth);
        let main = Reach { along: [0.0, shape.front], behind: [0.0, shape.depth] };
        self.counted(shape.roof, counts)
            .map(|item| Reach {
                along: item.span[0].map(at),
                behind: if item.main && shape.roof == RoofFollows::HalfRelief {
                    // Cut at the ridge: nothing stands out behind.
                    [at(item.span[1][0]), at(item.span[1][1]).min(shape.depth)]
                } else {
                    item.span[1].map(at)
                },
            })
            .fold(main, Reach::and)
    }

    /// What counts and has something to hang on.
    fn counted(&self, roof: RoofFollows, counts: Counts) -> impl Iterator<Item = &Item> {
        self.items.iter().filter(move |item| {
            let wide = match counts {
                Counts::Walls => item.counts == Counts::Walls,
                Counts::Eaves => item.counts != Counts::All,
                Counts::All => true,
            };
            let stays = match (roof, item.hangs) {
                (RoofFollows::Flat, Some(side)) => side == Side::Front,
                (RoofFollows::HalfRelief, Some(side)) => side != Side::Back,
                // The front alone has no roof.
                (RoofFollows::Flat, None) => !item.main || item.counts == Counts::Walls,
                _ => true,
            };
            wide && stays
        })
    }

    /// The longest main front that fits a length, inches; nothing where even a
    /// front of nothing does not.
    ///
    /// Everything reaches by a straight line of the front's length, so each
    /// pair of a right and a left edge bounds it in closed form.
    #[must_use]
    pub fn longest_front(
        &self,
        room: f64,
        depth: f64,
        roof: RoofFollows,
        counts: Counts,
    ) -> Option<f64> {
        let main = [Follows::default(), Follows::FRONT];
        let spans =
            || self.counted(roof, counts).map(|item| item.span[0]).chain(std::iter::once(main));
        let mut longest = f64::INFINITY;
        for [_, right] in spans() {
            for [left, _] in spans() {
                let wide = right - left;
                let fixed = wide.fixed + wide.depth * depth;
                if wide.front > 0.0 {
                    longest = longest.min((room - fixed) / wide.front);
                } else if wide.front.abs() < f64::EPSILON && fixed > room + NOTHING {
                    return None;
                }
            }
        }
        (longest >= 0.0).then_some(longest)
    }

    /// The greatest depth of the main body that fits, the same way.
    #[must_use]
    pub fn deepest(&self, room: f64, roof: RoofFollows, counts: Counts) -> Option<f64> {
        let main = [Follows::default(), Follows::DEPTH];
        let cut = roof == RoofFollows::HalfRelief;
        let spans = || {
            let each = self.counted(roof, counts).map(move |item| {
                let [low, high] = item.span[1];
                if cut && item.main { [low, Follows::DEPTH] } else { [low, high] }
            });
            each.chain(std::iter::once(main))
        };
        let mut deepest = f64::INFINITY;
        for [_, back] in spans() {
            for [before, _] in spans() {
                let deep = back - before;
                if deep.depth > 0.0 {
                    deepest = deepest.min((room - deep.fixed) / deep.depth);
                } else if deep.depth.abs() < f64::EPSILON && deep.fixed > room + NOTHING {
                    return None;
                }
            }
        }
        (deepest >= 0.0).then_some(deepest)
    }

    /// The highest point of all but the main roof.
    #[must_use]
    pub fn top(&self) -> f64 {
        self.tops.iter().copied().fold(0.0, f64::max)
    }
}

/// The main body.
fn main() -> Standing {
    Standing {
        index: 0,
        length: Follows::FRONT,
        depth: Follows::DEPTH,
        origin: [Follows::default(); 2],
        turn: Turn::default(),
        hangs: None,
    }
}

/// How often a body against a side is turned.
pub(super) fn turned(side: Side) -> u8 {
    match side {
        Side::Front => 0,
        Side::Right => 1,
        Side::Back => 2,
        Side::Left => 3,
    }
}

/// How far a roof stands out over the four sides of its body, from the figures
/// at its eaves and rakes: front, right, back, left.
pub(super) fn out_over(
    kind: RoofKind,
    (eave, rake): (f64, f64),
    (against, outwards): (bool, bool),
) -> [f64; 4] {
    let [front, right, back, left] = match kind {
        RoofKind::Hip => [eave; 4],
        RoofKind::Flat => [eave, rake, eave, rake],
        _ if outwards => [rake, eave, rake, eave],
        _ => [eave, rake, eave, rake],
    };
    [front, right, if against { 0.0 } else { back }, left]
}

struct Read<'a> {
    job: &'a Job,
    survey: &'a Survey,
    faces: &'a Faces,
    findings: Vec<Finding>,
}

impl Read<'_> {
    /// A size in inches; one that is not known is told.
    fn size(&mut self, size: &Size, of: &str) -> Option<f64> {
        match self.survey.size(size) {
            Ok(found) => Some(found.value.in_inches()),
            Err(stop) => {
                let message = format!("{of}: {}", stop.trouble);
                self.findings.push(Finding::trouble(
                    Subject::Member(of.to_owned()),
                    message,
                    stop.hint,
                ));
                None
            }
        }
    }

    fn maybe(&mut self, size: Option<&Size>, of: &str) -> Option<f64> {
        size.and_then(|size| self.size(size, of))
    }

    /// Where a body stands; nothing where a size or what it stands against is
    /// missing.
    fn stand(&mut self, index: usize, body: &Body, scheme: &Scheme) -> Option<Standing> {
        let name = &body.name;
        let stands = body.stands.as_ref()?;
        let host = *scheme.find(self.job, stands.body())?;
        let depth = self.maybe(body.depth.as_ref(), name)?;
        let length = self.maybe(body.length.as_ref(), name);
        let Some(length) = length else {
            self.findings.push(Finding::trouble(
                Subject::Member(name.clone()),
                format!("{name} has no length"),
                "give `length`: along the wall or ridge it stands against",
            ));
            return None;
        };
        let hangs = |side| if host.index == 0 { Some(side) } else { host.hangs };
        let (length, depth) = (Follows::fixed(length), Follows::fixed(depth));
        let bare = Standing { index, length, depth, ..host };
        match &stands.place {
            BodyPlace::Against(face) | BodyPlace::Out(face) => {
                let at = self.along(&stands.along, host.long(face.side), length, name);
                Some(beside_wall(bare, &host, face.side, at, depth, hangs(face.side)))
            }
            BodyPlace::On(RoofPlace::Ridge(_)) => {
                let at = self.along(&stands.along, host.length, length, name);
                let across = (host.depth - depth).times(0.5);
                let [u, v] = host.turn.steps();
                let origin = [0, 1]
                    .map(|axis| host.origin[axis] + at.times(u[axis]) + across.times(v[axis]));
                Some(Standing { origin, ..bare })
            }
            BodyPlace::On(RoofPlace::Slope(face)) => {
                let at = self.along(&stands.along, host.long(face.side), length, name);
                let back = self.maybe(stands.back.as_ref(), name).unwrap_or(0.0);
                let out = Follows::fixed(-back);
                Some(beside_wall(bare, &host, face.side, at, out, hangs(face.side)))
            }
            BodyPlace::Beside(face, gap) => {
                let gap = Follows::fixed(self.size(gap, name)?);
                let back = self.maybe(stands.back.as_ref(), name).map(Follows::fixed);
                let at = self.along(&stands.along, host.long(face.side), length, name);
                Some(free(bare, &host, face.side, (gap, back.unwrap_or_default(), at)))
            }
        }
    }

    /// The left edge of something of a length along a wall.
    fn along(&mut self, along: &Along, wall: Follows, length: Follows, of: &str) -> Follows {
        match along {
            Along::Left(at) => Follows::fixed(self.size(at, of).unwrap_or(0.0)),
            Along::Right(at) => wall - length - Follows::fixed(self.size(at, of).unwrap_or(0.0)),
            Along::Middle | Along::Element(_) => (wall - length).times(0.5),
        }
    }

    fn overhangs(&mut self, body: &Body, is_main: bool) -> [f64; 4] {
        let Some(roof) = &body.roof else { return [0.0; 4] };
        let over = if is_main {
            let own = &self.faces.body;
            (own.eave_overhang.in_inches(), own.rake_overhang.in_inches())
        } else {
            let eave = self.maybe(roof.eave.as_ref(), &body.name).unwrap_or(0.0);
            (eave, self.maybe(roof.rake.as_ref(), &body.name).unwrap_or(0.0))
        };
        if body.parapet.is_some() || roof.parapet.is_some() {
            return [0.0; 4];
        }
        let place = body.stands.as_ref().map(|stands| &stands.place);
        let outwards = matches!(place, Some(BodyPlace::Out(_)));
        let own_back = body.walls.as_ref().is_some_and(|walls| walls.contains(&Side::Back));
        let stands_at_wall = outwards || matches!(place, Some(BodyPlace::Against(_)));
        let against = stands_at_wall && !own_back;
        out_over(roof.kind, over, (against, outwards))
    }

    /// The highest point of a body that is not the main one.
    fn top(&mut self, body: &Body) -> Option<f64> {
        let name = &body.name;
        if matches!(body.stands.as_ref().map(|it| &it.place), Some(BodyPlace::On(_))) {
            // It goes up and down with the roof it stands on.
            return None;
        }
        let eave = self.maybe(body.eave.as_ref(), name);
        let meets = self.maybe(body.meets.as_ref(), name);
        let parapet = self.maybe(body.parapet.as_ref(), name);
        let depth = self.maybe(body.depth.as_ref(), name).unwrap_or(0.0);
        let length = self.maybe(body.length.as_ref(), name).unwrap_or(0.0);
        let roof = body.roof.as_ref();
        let pitch = roof.and_then(|roof| parse_pitch(roof.pitch.as_deref()?).ok());
        let pitch = pitch.map_or(0.0, |pitch| pitch.value.value());
        let out = matches!(body.stands.as_ref().map(|it| &it.place), Some(BodyPlace::Out(_)));
        let run = match roof.map(|roof| roof.kind) {
            None | Some(RoofKind::Flat) => 0.0,
            Some(RoofKind::Shed) => depth,
            Some(_) if out => length / 2.0,
            Some(_) => depth / 2.0,
        };
        let ridge = meets.or(eave.map(|eave| eave + run * pitch));
        Some(ridge.unwrap_or(0.0).max(parapet.unwrap_or(0.0)))
    }

    /// A deck with its steps.
    fn deck(&mut self, deck: &Deck, scheme: &mut Scheme) {
        let front = self.job.front();
        let Some(face) = deck.of.clone().or(front) else { return };
        let Some(host) = scheme.find(self.job, &face.body).copied() else { return };
        let Some(out) = self.size(&deck.width, &deck.name) else { return };
        let length = self.maybe(deck.length.as_ref(), &deck.name);
        let at = self.maybe(deck.at.as_ref(), &deck.name).unwrap_or(0.0);
        let length = length.map_or(host.long(face.side), Follows::fixed);
        let hangs = if host.index == 0 { Some(face.side) } else { host.hangs };
        let depth = Follows::fixed(out);
        let bare = Standing { length, depth, ..host };
        let box_ = beside_wall(bare, &host, face.side, Follows::fixed(at), depth, hangs);
        let mut reach = [0.0; 4];
        if let Some(steps) = &deck.steps {
            let run = self.steps(deck, steps);
            match steps.side {
                Side::Front => reach[0] = run,
                Side::Right => reach[1] = run,
                Side::Left => reach[3] = run,
                Side::Back => {}
            }
        }
        let span = box_.reaches(reach);
        scheme.items.push(Item { counts: Counts::All, main: false, hangs, span });
    }

    /// The level run of a flight.
    fn steps(&mut self, deck: &Deck, steps: &Steps) -> f64 {
        let rise = self.size(&deck.height, &deck.name).unwrap_or(0.0);
        let riser = self.maybe(steps.riser.as_ref(), &deck.name).unwrap_or(STEP.0);
        let tread = self.maybe(steps.tread.as_ref(), &deck.name).unwrap_or(STEP.1);
        flight(rise, riser, tread).1
    }

    /// Terraces and the base plate.
    fn ground(&mut self, scheme: &mut Scheme) {
        let job = self.job;
        let mut points = Vec::new();
        for terrace in &job.terraces {
            let name = &terrace.name;
            let cap = self.maybe(terrace.cap.as_ref(), name).unwrap_or(0.0);
            let lean = self.maybe(terrace.lean.as_ref(), name).unwrap_or(0.0);
            let ends = terrace.foot.each_ref().map(|end| {
                [self.size(&end[0], name).unwrap_or(0.0), self.size(&end[1], name).unwrap_or(0.0)]
            });
            points.push(leaning(ends, lean + cap));
        }
        if let Some(base) = &job.base {
            let mut at = |size: &Size| self.size(size, "base").unwrap_or(0.0);
            let along = [at(&base.along[0]), at(&base.along[1])];
            points.push([along, [at(&base.back[0]), at(&base.back[1])]]);
        }
        scheme.items.extend(points.into_iter().map(|span| Item {
            counts: Counts::All,
            main: false,
            hangs: None,
            span: span.map(|axis| axis.map(Follows::fixed)),
        }));
    }
}

/// Risers and level run of a flight: whole risers nearest to the one wanted, a
/// tread fewer.
pub(super) fn flight(rise: f64, riser: f64, tread: f64) -> (f64, f64) {
    if riser <= 0.0 || rise <= 0.0 {
        return (0.0, 0.0);
    }
    let risers = (rise / riser).round().max(1.0);
    (risers, (risers - 1.0) * tread)
}

/// What a leaning wall covers on the plan: from its foot to so far behind it.
/// It faces the right hand of a person who goes along its foot.
pub(super) fn leaning([from, to]: [[f64; 2]; 2], back: f64) -> [[f64; 2]; 2] {
    let way = [to[0] - from[0], to[1] - from[1]];
    let long = way[0].hypot(way[1]).max(NOTHING);
    let behind = [-way[1] / long * back, way[0] / long * back];
    [0, 1].map(|axis| {
        let all = [from[axis], to[axis], from[axis] + behind[axis], to[axis] + behind[axis]];
        [
            all.into_iter().fold(f64::INFINITY, f64::min),
            all.into_iter().fold(f64::NEG_INFINITY, f64::max),
        ]
    })
}

/// A body whose front looks out of a wall of another, `out` from its face.
fn beside_wall(
    bare: Standing,
    host: &Standing,
    side: Side,
    at: Follows,
    out: Follows,
    hangs: Option<Side>,
) -> Standing {
    let (corner, along, away) = host.side(side);
    let origin = [0, 1].map(|axis| corner[axis] + at.times(along[axis]) + out.times(away[axis]));
    Standing { origin, turn: host.turn.by(turned(side)), hangs, ..bare }
}

/// A body that stands free beside a wall, turned as its host. `back` moves it
/// behind the host's front at an end; `at` along the front or the back.
fn free(
    bare: Standing,
    host: &Standing,
    side: Side,
    (gap, back, at): (Follows, Follows, Follows),
) -> Standing {
    let (along, behind) = match side {
        Side::Right => (host.length + gap, back),
        Side::Left => (Follows::default() - gap - bare.length, back),
        Side::Back => (host.length - at - bare.length, host.depth + gap),
        Side::Front => (at, Follows::default() - gap - bare.depth),
    };
    let [u, v] = host.turn.steps();
    let origin =
        [0, 1].map(|axis| host.origin[axis] + along.times(u[axis]) + behind.times(v[axis]));
    Standing { origin, hangs: None, ..bare }
}

/// A length in inches of full size as the building has it.
pub(super) fn full(inches: f64) -> CompressedLength {
    CompressedLength::inches(inches)
}
