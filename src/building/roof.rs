//! Roof planes with typed edges, and where two roofs meet in valleys.

use super::body::{Body, Stand};
use super::origin::{Origin, Sized};
use super::place::Point;
use super::profile::{Profile, Ridge};
use super::shape::{self, Corners};
use super::slopes::Sizes;
use super::{Building, Raise};
use crate::job::body::{RoofKind, Side};
use crate::quantity::slack::{EXACT, TOUCH};
use crate::quantity::{Angle, Compressed};

/// What an edge of a roof plane is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum EdgeKind {
    /// The lower edge.
    Eave,
    /// The edge over a gable.
    Rake,
    /// The upper edge, against another plane of the same roof.
    Ridge,
    /// A sloping edge against another plane of the same roof.
    Hip,
    /// A sloping edge where two roofs meet.
    Valley,
    /// Where two slopes of a gambrel meet.
    Break,
    /// Against a wall or inside a parapet.
    Wall,
    /// Where the building is cut by the scene.
    SceneEdge,
}

/// An edge of a roof plane.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Edge {
    /// What it is.
    pub kind: EdgeKind,
    /// Its ends in the plane: along the eave and up the slope, inches.
    pub ends: [[f64; 2]; 2],
    /// How it is cut, from square.
    pub bevel: Angle,
}

impl Edge {
    /// Its length.
    #[must_use]
    pub fn length(&self) -> f64 {
        let [a, b] = self.ends;
        (b[0] - a[0]).hypot(b[1] - a[1])
    }
}

/// A plane of a roof: the underside of its sheet.
#[derive(Clone, Debug)]
pub struct RoofPlane {
    /// The body.
    pub body: String,
    /// Over which of the body's sides it falls.
    pub over: Side,
    /// Of a gambrel: whether it is the upper one.
    pub upper: bool,
    /// Its corners in the plane: along the eave from the left as seen from
    /// outside, and up the slope from the lowest edge.
    pub outline: Corners,
    /// The same in the building.
    pub corners: Vec<Point>,
    /// Its edges, in the order of the corners.
    pub edges: Vec<Edge>,
    /// Rise over run.
    pub pitch: f64,
    /// Along its lowest edge.
    pub eave: Sized<Compressed>,
    /// Along its highest edge; nothing for a triangle.
    pub ridge: Sized<Compressed>,
    /// Up the slope.
    pub slope: Sized<Compressed>,
    /// What a valley takes out of it: along its eave, and up its slope.
    pub cut: Option<[f64; 2]>,
    /// Thickness of its sheet at full size, inches.
    pub sheet: f64,
}

impl RoofPlane {
    /// Its area.
    #[must_use]
    pub fn area(&self) -> f64 {
        shape::area(&self.outline)
    }

    /// The edges of a kind.
    pub fn edges_of(&self, kind: EdgeKind) -> impl Iterator<Item = &Edge> {
        self.edges.iter().filter(move |edge| edge.kind == kind)
    }
}

/// A valley between two roofs.
#[derive(Clone, Debug)]
pub struct Valley {
    /// The body that runs into the other.
    pub body: String,
    /// The other.
    pub host: String,
    /// From the eave to the ridge that dies there.
    pub ends: [Point; 2],
    /// Its length.
    pub length: Sized<Compressed>,
    /// In the plane of the body, between the valley and its ridge.
    pub in_plane: Angle,
    /// On the plan, from the ridge of the body.
    pub on_plan: Angle,
}

/// A plane on the plan of its body, before it meets other roofs.
struct Slab {
    over: Side,
    upper: bool,
    /// Corners on the plan of the body.
    plan: Corners,
    pitch: f64,
    /// What its three sizes are made of.
    eave: Sized<Compressed>,
    ridge: Sized<Compressed>,
    slope: Sized<Compressed>,
}

impl Slab {
    /// The lower of two planes, or the only one, with its eave, ridge and slope.
    fn new(over: Side, plan: Corners, pitch: f64, sizes: [Sized<Compressed>; 3]) -> Self {
        let [eave, ridge, slope] = sizes;
        Self { over, upper: false, plan, pitch, eave, ridge, slope }
    }
}

fn rectangle(u: [f64; 2], v: [f64; 2]) -> Corners {
    vec![[u[0], v[0]], [u[1], v[0]], [u[1], v[1]], [u[0], v[1]]]
}

/// The four planes of a gambrel.
fn gambrel(body: &Body, profile: &Profile, sizes: &Sizes<'_, '_>) -> Vec<Slab> {
    let [length, depth] = body.plan();
    let [front, right, back, left] = body.over;
    let out = profile.runs == Ridge::Out;
    let across = if out { length } else { depth };
    let (run, upper) = profile.upper.unwrap_or((across / 4.0, profile.pitch));
    let [made_lower, made_upper] = sizes.gambrel(run, upper);
    // From one eave over the ridge to the other: left to right, or front to back.
    let (sides, over, long) = if out {
        ([Side::Left, Side::Right], [left, right], [-front, sizes.far()])
    } else {
        ([Side::Front, Side::Back], [front, back], [-left, length + right])
    };
    let plan = |strip| if out { rectangle(strip, long) } else { rectangle(long, strip) };
    let lower = |side, strip| Slab::new(side, plan(strip), profile.pitch, made_lower.clone());
    let above = |side, strip| Slab {
        upper: true,
        ..Slab::new(side, plan(strip), upper, made_upper.clone())
    };
    let middle = across / 2.0;
    vec![
        lower(sides[0], [-over[0], run]),
        above(sides[0], [run, middle]),
        above(sides[1], [middle, across - run]),
        lower(sides[1], [across - run, across + over[1]]),
    ]
}

impl Raise<'_> {
    /// The planes of all roofs, and their valleys.
    pub(super) fn planes(&mut self, building: &Building) -> (Vec<RoofPlane>, Vec<Valley>) {
        let mut planes = Vec::new();
        let mut valleys = Vec::new();
        for body in &building.bodies {
            let Some(profile) = body.profile else { continue };
            for slab in self.slabs(building, body, &profile) {
                planes.extend(self.plane(building, body, &profile, slab));
            }
            valleys.extend(self.valleys(building, body));
        }
        self.notch(building, &mut planes);
        (planes, valleys)
    }

    /// The planes of a body's roof on its plan.
    fn slabs(&self, building: &Building, body: &Body, profile: &Profile) -> Vec<Slab> {
        let [length, depth] = body.plan();
        let [front, right, back, left] = body.over;
        let along = [-left, length + right];
        let behind = [-front, depth + back];
        let sizes = Sizes { raise: self, body, profile, building };
        match profile.kind {
            RoofKind::Flat | RoofKind::Shed if self.is_inside(body) => {
                let (u, v, made) = sizes.between_walls();
                vec![Slab::new(Side::Front, rectangle(u, v), profile.pitch, made)]
            }
            RoofKind::Flat => {
                vec![Slab::new(Side::Front, rectangle(along, behind), 0.0, sizes.flat())]
            }
            RoofKind::Shed => {
                let far = if matches!(body.stand, Stand::Slope(..)) { sizes.far() } else { depth };
                let behind = [behind[0], behind[1].max(far)];
                vec![Slab::new(Side::Front, rectangle(along, behind), profile.pitch, sizes.shed())]
            }
            _ if profile.half => {
                let made = sizes.gable(true);
                vec![Slab::new(Side::Front, rectangle(along, behind), profile.pitch, made)]
            }
            RoofKind::Gable | RoofKind::Monitor => {
                // Two planes that meet over the middle.
                let far = if profile.runs == Ridge::Out { sizes.far() } else { 0.0 };
                let (sides, plans, made) = match profile.runs {
                    Ridge::Along => (
                        [Side::Front, Side::Back],
                        [[-front, depth / 2.0], [depth / 2.0, depth + back]]
                            .map(|strip| rectangle(along, strip)),
                        sizes.gable(false),
                    ),
                    Ridge::Out => (
                        [Side::Right, Side::Left],
                        [[length / 2.0, length + right], [-left, length / 2.0]]
                            .map(|strip| rectangle(strip, [-front, far])),
                        sizes.out(),
                    ),
                };
                let both = sides.into_iter().zip(plans);
                both.map(|(side, plan)| Slab::new(side, plan, profile.pitch, made.clone()))
                    .collect()
            }
            RoofKind::Gambrel => gambrel(body, profile, &sizes),
            RoofKind::Hip => self.hip(body, profile, &sizes, (along, behind)),
        }
    }

    /// Whether a level or one-sloped roof lies between walls that rise above it.
    fn is_inside(&self, body: &Body) -> bool {
        body.parapet.is_some() || body.rises > 0.0
    }

    fn hip(
        &self,
        body: &Body,
        profile: &Profile,
        sizes: &Sizes<'_, '_>,
        (along, behind): ([f64; 2], [f64; 2]),
    ) -> Vec<Slab> {
        let whole = vec![
            [along[0], behind[0]],
            [along[1], behind[0]],
            [along[1], behind[1]],
            [along[0], behind[1]],
        ];
        let [length, depth] = body.plan();
        // How far in from each side a point lies; a plane is where its own is least.
        let run = |side: Side, [u, v]: [f64; 2]| match side {
            Side::Front => v,
            Side::Right => length - u,
            Side::Back => depth - v,
            Side::Left => u,
        };
        let sides: Vec<Side> = Side::ALL
            .into_iter()
            .filter(|side| !(profile.against && *side == Side::Back))
            .collect();
        let plane = |over: Side| {
            let plan =
                sides.iter().filter(|other| **other != over).fold(whole.clone(), |plan, other| {
                    shape::clip(&plan, |at| run(*other, at) - run(over, at))
                });
            let [eave, ridge, slope] = sizes.hip(over);
            (plan.len() > 2).then_some(Slab {
                over,
                upper: false,
                plan,
                pitch: profile.pitch,
                eave,
                ridge,
                slope,
            })
        };
        [Side::Front, Side::Back, Side::Right, Side::Left]
            .into_iter()
            .filter(|side| sides.contains(side))
            .filter_map(plane)
            .collect()
    }

    /// A plane where it meets what its body stands against.
    fn plane(
        &self,
        building: &Building,
        body: &Body,
        profile: &Profile,
        slab: Slab,
    ) -> Option<RoofPlane> {
        let mut plan = slab.plan;
        if let Some(host) = self.runs_into(building, body) {
            plan = shape::clip(&plan, |at| {
                let [x, y, _] = body.point([at[0], at[1], 0.0]);
                let [u, v, _] = host.body.frame.local([x, y, 0.0]);
                let own = body.frame.origin[2] + slab_height(profile, slab.over, at);
                own - host.body.frame.origin[2] - host.height(u, v)
            });
        }
        if plan.len() < 3 {
            return None;
        }
        Some(placed(body, profile, &Slab { plan, ..slab }))
    }

    /// The roof that a body's roof runs into: that of what it stands against,
    /// where its ridge is higher than the eave there.
    pub(super) fn runs_into<'b>(&self, building: &'b Building, body: &Body) -> Option<Host<'b>> {
        let (host, side) = match body.stand {
            Stand::Against(host, side) | Stand::Slope(host, side) => (host, side),
            _ => return None,
        };
        let on_slope = matches!(body.stand, Stand::Slope(..));
        let own = body.profile.filter(|profile| profile.runs == Ridge::Out || on_slope)?;
        let host = &building.bodies[host];
        let profile = host.profile?;
        let falls = match profile.kind {
            RoofKind::Flat | RoofKind::Shed => on_slope && side == Side::Front,
            RoofKind::Hip => true,
            _ => !profile.is_gable(side),
        };
        let eave = host.frame.origin[2] + profile.eave;
        let top = body.frame.origin[2] + own.ridge;
        if !falls || top <= eave + TOUCH || profile.pitch <= 0.0 {
            return None;
        }
        let mut found = Host {
            body: host,
            profile,
            side,
            eave: profile.eave,
            pitch: profile.pitch,
            sheet: 0.0,
        };
        if on_slope {
            // It stands on the sheet, on the slope that its front stands on.
            let front = body.point([body.plan()[0] / 2.0, 0.0, 0.0]);
            let [u, v, _] = host.frame.local(front);
            found.pitch = profile.slope_at(u, v);
            let is_upper = (found.pitch - profile.pitch).abs() > EXACT;
            if let (true, Some((lower, upper))) = (is_upper, profile.upper) {
                found.eave = profile.eave + (profile.pitch - upper) * lower;
            }
            found.sheet = host.sheet.0 * found.pitch.hypot(1.0);
        }
        Some(found)
    }

    /// The valleys of a body that runs into another roof.
    fn valleys(&self, building: &Building, body: &Body) -> Vec<Valley> {
        let (Some(host), Some(profile)) = (self.runs_into(building, body), body.profile) else {
            return Vec::new();
        };
        if profile.runs != Ridge::Out || profile.kind == RoofKind::Gambrel {
            return Vec::new();
        }
        let sizes = Sizes { raise: self, body, profile: &profile, building };
        let (dies, corner) = sizes.valley_run(&host);
        let [length, depth] = body.plan();
        let over = body.over[1];
        let ends = |u: f64| {
            let low = profile.eave - profile.pitch * over;
            [
                body.point([u, depth - corner, low]),
                body.point([length / 2.0, depth + dies, profile.ridge]),
            ]
        };
        let valley = |u: f64| {
            let ends = ends(u);
            let run = length / 2.0 + over;
            let along = dies + corner;
            let up = run * profile.pitch.hypot(1.0);
            Valley {
                body: body.name.clone(),
                host: host.body.name.clone(),
                ends,
                length: sizes.valley(&host),
                in_plane: Angle::radians(up.atan2(along)),
                on_plan: Angle::radians(run.atan2(along)),
            }
        };
        vec![valley(-over), valley(length + over)]
    }

    /// Takes out of each host's plane what the roofs that run into it cover.
    fn notch(&self, building: &Building, planes: &mut [RoofPlane]) {
        for body in &building.bodies {
            let Some(host) = self.runs_into(building, body) else { continue };
            if matches!(body.stand, Stand::Slope(..)) {
                continue;
            }
            let covers: Vec<Vec<Point>> = planes
                .iter()
                .filter(|plane| plane.body == body.name)
                .map(|plane| plane.corners.clone())
                .collect();
            for plane in planes
                .iter_mut()
                .filter(|plane| plane.body == host.body.name && plane.over == host.side)
            {
                cut_by(plane, host.body, &host.profile, &covers);
            }
        }
    }
}

/// A roof that another runs into.
pub(super) struct Host<'b> {
    pub(super) body: &'b Body,
    pub(super) profile: Profile,
    pub(super) side: Side,
    /// Height of the plane at its eave, of an upper slope drawn down to there.
    pub(super) eave: f64,
    /// Its rise over run.
    pub(super) pitch: f64,
    /// Its sheet measured upright, where the other stands on it.
    pub(super) sheet: f64,
}

impl Host<'_> {
    /// Height of the plane over the side the other comes from, above a point of
    /// its own plan.
    fn height(&self, u: f64, v: f64) -> f64 {
        let run = match self.side {
            Side::Front => v,
            Side::Right => self.profile.length - u,
            Side::Back => self.profile.depth - v,
            Side::Left => u,
        };
        self.eave + self.pitch * run + self.sheet
    }
}

/// Height of the plane over a side of a roof, drawn on beyond its edges.
fn slab_height(profile: &Profile, over: Side, [u, v]: [f64; 2]) -> f64 {
    let run = match over {
        Side::Front => v,
        Side::Right => profile.length - u,
        Side::Back => profile.depth - v,
        Side::Left => u,
    };
    match profile.kind {
        RoofKind::Flat => profile.eave,
        RoofKind::Gambrel => profile.height(u, v),
        _ => profile.eave + profile.pitch * run,
    }
}

/// Up the slope over a side, and along its eave as seen from outside, on the
/// plan of the body.
fn ways(over: Side) -> ([f64; 2], [f64; 2]) {
    match over {
        Side::Front => ([0.0, 1.0], [1.0, 0.0]),
        Side::Right => ([-1.0, 0.0], [0.0, 1.0]),
        Side::Back => ([0.0, -1.0], [-1.0, 0.0]),
        Side::Left => ([1.0, 0.0], [0.0, -1.0]),
    }
}

/// A plane with its corners in itself and in the building.
fn placed(body: &Body, profile: &Profile, slab: &Slab) -> RoofPlane {
    let (up, along) = ways(slab.over);
    let dot = |a: [f64; 2], b: [f64; 2]| a[0] * b[0] + a[1] * b[1];
    let stretch = slab.pitch.hypot(1.0);
    let lowest = slab.plan.iter().map(|at| dot(*at, up)).fold(f64::INFINITY, f64::min);
    let first = slab.plan.iter().map(|at| dot(*at, along)).fold(f64::INFINITY, f64::min);
    let mut outline: Corners = slab
        .plan
        .iter()
        .map(|at| [dot(*at, along) - first, (dot(*at, up) - lowest) * stretch])
        .collect();
    let mut corners: Vec<Point> = slab
        .plan
        .iter()
        .map(|at| body.point([at[0], at[1], profile_height(profile, slab, *at)]))
        .collect();
    if shape::area(&outline) < 0.0 {
        outline.reverse();
        corners.reverse();
    }
    let mut plane = RoofPlane {
        body: body.name.clone(),
        over: slab.over,
        upper: slab.upper,
        edges: Vec::new(),
        outline,
        corners,
        pitch: slab.pitch,
        eave: slab.eave.clone(),
        ridge: slab.ridge.clone(),
        slope: slab.slope.clone(),
        cut: None,
        sheet: body.sheet.0,
    };
    as_it_meets(&mut plane);
    plane.edges = edges(&plane, body, profile);
    plane
}

/// Sizes that no rule gives, where a plane meets another roof: as it is clipped.
fn as_it_meets(plane: &mut RoofPlane) {
    let [_, [low, high]] = shape::bounds(&plane.outline);
    let along = |level: f64| {
        let at = plane.outline.iter().filter(|at| (at[1] - level).abs() < TOUCH).map(|at| at[0]);
        let (least, most) =
            at.fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), x| (a.min(x), b.max(x)));
        (most - least).max(0.0)
    };
    let (eave, ridge) = (along(low), along(high));
    for (size, measured) in
        [(&mut plane.eave, eave), (&mut plane.ridge, ridge), (&mut plane.slope, high - low)]
    {
        if (size.length.in_inches() - measured).abs() > TOUCH {
            let why = super::Why::Default("as it meets the other roof");
            *size = Sized::of(Origin::plain(size.origin.what.clone(), measured, why));
        }
    }
}

fn profile_height(profile: &Profile, slab: &Slab, at: [f64; 2]) -> f64 {
    if profile.kind == RoofKind::Gambrel {
        profile.height(at[0], at[1])
    } else {
        slab_height(profile, slab.over, at)
    }
}

/// The edges of a plane, named by where they lie.
fn edges(plane: &RoofPlane, body: &Body, profile: &Profile) -> Vec<Edge> {
    let [_, [low, high]] = shape::bounds(&plane.outline);
    let count = plane.outline.len();
    let plumb = Angle::radians(plane.pitch.atan());
    let hip = Angle::radians((1.0 / (1.0 + plane.pitch * plane.pitch)).acos() / 2.0);
    // Where a body stands against a wall, its back line lies in that wall.
    let against = matches!(body.stand, Stand::Against(..));
    let in_wall = |number: usize| {
        let ends = [plane.corners[number], plane.corners[(number + 1) % count]];
        against && ends.iter().all(|end| (body.frame.local(*end)[1] - profile.depth).abs() < TOUCH)
    };
    (0..count)
        .map(|number| {
            let ends = [plane.outline[number], plane.outline[(number + 1) % count]];
            let level = (ends[0][1] - ends[1][1]).abs() < TOUCH;
            let kind = if level && (ends[0][1] - low).abs() < TOUCH {
                match (plane.upper, profile.kind) {
                    (true, RoofKind::Gambrel) => EdgeKind::Break,
                    _ if inside(body) => EdgeKind::Wall,
                    _ => EdgeKind::Eave,
                }
            } else if in_wall(number) {
                EdgeKind::Wall
            } else if level && (ends[0][1] - high).abs() < TOUCH {
                upper_edge(plane, body, profile)
            } else if level {
                EdgeKind::Valley
            } else if (ends[0][0] - ends[1][0]).abs() < TOUCH {
                if inside(body) { EdgeKind::Wall } else { EdgeKind::Rake }
            } else if profile.kind == RoofKind::Hip {
                EdgeKind::Hip
            } else {
                EdgeKind::Valley
            };
            let bevel = match kind {
                EdgeKind::Hip | EdgeKind::Valley => hip,
                EdgeKind::Rake => Angle::default(),
                // Up the slope a sheet lies square against a wall.
                EdgeKind::Wall if !level => Angle::default(),
                EdgeKind::Break => break_bevel(profile),
                _ => plumb,
            };
            Edge { kind, ends, bevel }
        })
        .collect()
}

/// Both edges where two slopes of a gambrel meet: half of the angle between
/// them.
fn break_bevel(profile: &Profile) -> Angle {
    let upper = profile.upper.map_or(profile.pitch, |(_, upper)| upper);
    Angle::radians((profile.pitch.atan() - upper.atan()).abs() / 2.0)
}

fn inside(body: &Body) -> bool {
    body.parapet.is_some() || body.rises > 0.0
}

fn upper_edge(plane: &RoofPlane, body: &Body, profile: &Profile) -> EdgeKind {
    match profile.kind {
        RoofKind::Gambrel if !plane.upper => EdgeKind::Break,
        _ if profile.half => EdgeKind::SceneEdge,
        RoofKind::Shed | RoofKind::Flat => match body.stand {
            Stand::Against(..) | Stand::Slope(..) => EdgeKind::Wall,
            _ if inside(body) => EdgeKind::Wall,
            _ => EdgeKind::Eave,
        },
        _ => EdgeKind::Ridge,
    }
}

/// Cuts out of a plane what others cover of it.
fn cut_by(plane: &mut RoofPlane, host: &Body, profile: &Profile, covers: &[Vec<Point>]) {
    let (up, along) = ways(plane.over);
    let dot = |a: [f64; 2], b: [f64; 2]| a[0] * b[0] + a[1] * b[1];
    let local = |at: &Point| {
        let [u, v, _] = host.frame.local(*at);
        [u, v]
    };
    // The plane's own corner at zero, on its plan.
    let plan: Corners = plane.corners.iter().map(local).collect();
    let lowest = plan.iter().map(|at| dot(*at, up)).fold(f64::INFINITY, f64::min);
    let first = plan.iter().map(|at| dot(*at, along)).fold(f64::INFINITY, f64::min);
    let stretch = plane.pitch.hypot(1.0);
    let in_plane = |at: [f64; 2]| [dot(at, along) - first, (dot(at, up) - lowest) * stretch];
    let notches: Vec<Corners> = covers
        .iter()
        .flat_map(|cover| {
            let cover: Corners = cover.iter().map(|at| in_plane(local(at))).collect();
            let cover =
                if shape::area(&cover) < 0.0 { cover.into_iter().rev().collect() } else { cover };
            shape::shared(&cover, &plane.outline)
        })
        .collect();
    if notches.is_empty() {
        return;
    }
    let all = shape::bounds(&notches.concat());
    let left = shape::less(&plane.outline, &notches);
    let largest = left.into_iter().max_by(|a, b| shape::area(a).total_cmp(&shape::area(b)));
    let Some(outline) = largest else { return };
    let back = |at: &[f64; 2]| {
        let (s, t) = (at[0] + first, at[1] / stretch + lowest);
        let plan = [along[0] * s + up[0] * t, along[1] * s + up[1] * t];
        let high = slab_height(profile, plane.over, plan);
        host.point([plan[0], plan[1], high])
    };
    plane.corners = outline.iter().map(back).collect();
    plane.outline = outline;
    plane.cut = Some([all[0][1] - all[0][0], all[1][1] - all[1][0]]);
    plane.edges = edges(plane, host, profile);
    // A sloping edge inside a plane is where another roof comes in.
    for edge in &mut plane.edges {
        let upright = (edge.ends[0][0] - edge.ends[1][0]).abs() < TOUCH;
        let level = (edge.ends[0][1] - edge.ends[1][1]).abs() < TOUCH;
        if !upright && !level && profile.kind != RoofKind::Hip {
            edge.kind = EdgeKind::Valley;
        }
    }
}
