//! The walls of the bodies, raised layer by layer.

use std::sync::Arc;

use super::Raise;
use super::body::{Body, Stand};
use super::corner::{Corner, Meeting, edges, meets_host};
use super::hole::Depth;
use super::layer::{Layer, LayerId, Role};
use super::origin::{Origin, Sized, Why};
use super::place::Plane;
use super::scheme::full;
use super::stack::{Sheet, Stack};
use super::wall::{Behind, HoleWhy, Line, Reasons, Wall, line_at};
use crate::elevation::{Elevation, Hole, Span, SpanKind};
use crate::finding::{Finding, Subject};
use crate::job::body::{Along, FaceId, RoofKind, Side};
use crate::job::said::Size;
use crate::quantity::slack::{NOTHING, TOUCH};
use crate::quantity::{Compressed, CompressedLength};

/// In which order the walls of a body stand in lists.
const ORDER: [Side; 4] = [Side::Front, Side::Left, Side::Right, Side::Back];

/// The layers of the four sides of a body.
struct Sides {
    stacks: [Stack; 4],
}

impl Sides {
    fn of(&self, side: Side) -> &Stack {
        &self.stacks[side as usize]
    }
}

impl Raise<'_> {
    /// All walls with their layers, and all corners.
    pub(super) fn walls(&mut self, bodies: &[Body]) -> (Vec<Wall>, Vec<Corner>) {
        let sides: Vec<Sides> = bodies.iter().map(|body| self.sides(body)).collect();
        let mut walls = Vec::new();
        let mut all = Vec::new();
        for (at, body) in bodies.iter().enumerate() {
            let mut bare: Vec<Wall> = ORDER
                .into_iter()
                .filter(|side| body.has(*side))
                .filter_map(|side| self.bare_wall(body, side, bodies))
                .collect();
            let mut corners = self.corners(body);
            corners.retain(|corner| bare.iter().filter(|it| corner.joins(it.id.side)).count() == 2);
            let missing = self.missing(body, bodies, &sides);
            for wall in &mut bare {
                wall.behind = self.behind(at, wall.id.side, bodies, &sides, &wall.plane);
                self.lay(wall, body, &corners, &sides[at], missing.as_deref());
            }
            walls.extend(bare);
            self.too_small(body, &sides[at]);
            all.extend(corners);
        }
        walls.iter().for_each(|wall| self.cut_by_roofs(wall));
        (walls, all)
    }

    fn sides(&self, body: &Body) -> Sides {
        let stack = |side| {
            if body.has(side) { self.stack(&self.names(body, side)) } else { Stack::default() }
        };
        Sides { stacks: Side::ALL.map(stack) }
    }

    /// A wall before its layers are laid; nothing where it has no area, as
    /// behind a dormer.
    fn bare_wall(&mut self, body: &Body, side: Side, bodies: &[Body]) -> Option<Wall> {
        let id = FaceId::new(&body.name, side);
        let name = id.to_string();
        let built = self.built;
        let face = built.faces.iter().find(|face| face.name == name);
        let own = Self::from_corner_to_corner(body, side, bodies);
        let width = match face {
            Some(face) if body.index == 0 => face.length,
            _ => own.length,
        };
        let plane = {
            let [length, depth] = body.plan();
            let depth = if side.is_end() && body.index > 0 { width.in_inches() } else { depth };
            Plane::of_side(side, length, depth).of_frame(&body.frame)
        };
        let top = self.top(body, side, width, face);
        let foot = Self::foot(body, &plane, width, bodies);
        let mut wall = Wall {
            title: face.map_or_else(|| self.title(body, side), |face| face.title.clone()),
            plane,
            width,
            top,
            foot,
            spans: face.map_or_else(|| plain(width), |face| face.spans.clone()),
            holes: face.map_or_else(Vec::new, |face| face.holes.clone()),
            layers: Vec::new(),
            behind: Vec::new(),
            described: face.is_some() || body.index > 0,
            why: self.reasons(body, &id, (&own, width), face),
            id,
            name,
        };
        wall.why.stands = Self::stands_on(body, &wall, bodies);
        wall.holes.retain(|hole| hole.right() <= width + full(0.1));
        let zero = CompressedLength::ZERO;
        (wall.highest(zero, width) > wall.lowest(zero, width)).then_some(wall)
    }

    /// How long a side is; the side of a body on a slope ends where the slope
    /// comes up to its top.
    fn from_corner_to_corner(body: &Body, side: Side, bodies: &[Body]) -> Sized<Compressed> {
        let whole = body.side(side);
        let (Stand::Slope(host, _), true, Some(profile)) =
            (body.stand, side.is_end(), body.profile)
        else {
            return whole.clone();
        };
        let host = &bodies[host];
        let u = if side == Side::Left { 0.0 } else { profile.length };
        let level = profile.runs == super::profile::Ridge::Out;
        let over = |v: f64| {
            let [x, y, _] = body.point([u, v, 0.0]);
            let foot = host.top_over([x, y]).unwrap_or(0.0) - body.frame.origin[2];
            (if level { profile.eave } else { profile.height(u, v) }) - foot
        };
        let (mut low, mut high) = (0.0, whole.length.in_inches());
        if over(high) > 0.0 || over(low) <= 0.0 {
            return whole.clone();
        }
        for _ in 0..60 {
            let middle = f64::midpoint(low, high);
            if over(middle) > 0.0 { low = middle } else { high = middle }
        }
        let what = format!("length of {}/{side}", body.name);
        let rule = "to where the slope it stands on comes up to its top";
        let of = [&body.eave.origin, &host.pitch, &body.pitch];
        let by_rule = if level {
            Sized::rule(what.clone(), rule, &of[..2], |of| of[0] / of[1])
        } else {
            Sized::rule(what.clone(), rule, &of, |of| of[0] / (of[1] - of[2]))
        };
        if (by_rule.origin.value - low).abs() < TOUCH {
            return by_rule;
        }
        Sized::of(Origin::plain(what, low, Why::Default(rule)))
    }

    /// Why a wall is as it is.
    fn reasons(
        &self,
        body: &Body,
        id: &FaceId,
        (own, width): (&Sized<Compressed>, CompressedLength),
        face: Option<&Elevation<Compressed>>,
    ) -> Reasons {
        let width_why = if own.length.agrees(width, full(TOUCH)) {
            Arc::clone(&own.origin)
        } else {
            self.chosen(format!("length of {id}"), width.in_inches()).origin
        };
        let eave = match (&body.parapet, face) {
            (Some(parapet), _) => Arc::clone(&parapet.origin),
            (None, Some(face))
                if body.index == 0 && !face.height.agrees(body.eave.length, full(TOUCH)) =>
            {
                let said = self.job.wall(id).and_then(|wall| wall.height.as_ref());
                let what = format!("height of {id}");
                let high = face.height.in_inches();
                match said {
                    Some(size) => self.decided(what, size, high).origin,
                    None => self.chosen(what, high).origin,
                }
            }
            _ => Arc::clone(&body.eave.origin),
        };
        let spans: Vec<Arc<Origin>> = face.map_or_else(Vec::new, |face| {
            face.spans.iter().map(|span| self.span(&face.name, span)).collect()
        });
        let holes = face.map_or_else(Vec::new, |face| {
            face.holes.iter().map(|hole| self.hole_why(id, face, hole, &spans)).collect()
        });
        let left = Origin::plain("left corner", 0.0, Why::Default("distances count from there"));
        let pitch = Arc::clone(&body.pitch);
        let roof = self.job.body(&body.name).and_then(|said| said.roof.as_ref());
        let upper = body.profile.and_then(|it| it.upper).and_then(|(run, pitch)| {
            let (lower, text) = (roof?.lower_run.clone()?, roof?.upper_pitch.clone()?);
            Some([
                Origin::plain("run of the lower slope", run, Why::Said(lower)),
                Origin::plain("upper pitch", pitch, Why::Stated(text)),
            ])
        });
        let rises = roof
            .and_then(|roof| roof.parapet.clone())
            .map(|size| Origin::plain("what it rises above the roof", body.rises, Why::Said(size)));
        let run = Arc::clone(&body.depth.origin);
        let width = width_why;
        Reasons { left, width, stands: None, eave, pitch, run, upper, rises, spans, holes }
    }

    /// Why an opening is where it is: after the elements before it, in the
    /// middle of its bay, or at its own place.
    fn hole_why(
        &self,
        id: &FaceId,
        face: &Elevation<Compressed>,
        hole: &Hole<Compressed>,
        spans: &[Arc<Origin>],
    ) -> HoleWhy {
        let opening = self.job.openings.iter().find(|it| it.name == hole.kind);
        let size = |what: &str, said: Option<&Size>, value: CompressedLength| {
            let what = format!("{what} of {}", hole.kind);
            match said {
                Some(said) => self.decided(what, said, value.in_inches()).origin,
                None => Origin::plain(what, value.in_inches(), Why::Default("none is said")),
            }
        };
        let width = size("width", opening.map(|it| &it.width), hole.width);
        let wall = self.job.wall(id);
        let placed = wall.into_iter().flat_map(|wall| &wall.openings).find(|placed| {
            placed.kind == hole.kind
                && self
                    .survey
                    .size(&placed.at)
                    .is_ok_and(|at| (at.value.in_inches() - hole.left.in_inches()).abs() < TOUCH)
        });
        let left = match placed {
            Some(placed) => size("place", Some(&placed.at), hole.left),
            None => in_row(face, hole, spans, &width),
        };
        let sill = placed.and_then(|placed| placed.sill.as_ref());
        HoleWhy {
            label: hole.label.clone(),
            foot: size("sill", sill.or(opening.and_then(|it| it.sill.as_ref())), hole.foot),
            height: size("height", opening.map(|it| &it.height), hole.height),
            trim: size("trim", opening.and_then(|it| it.trim.as_ref()), hole.trim),
            left,
            width,
        }
    }

    fn title(&self, body: &Body, side: Side) -> String {
        if body.index == 0 {
            let word = match side {
                Side::Front => "Front",
                Side::Back => "Back",
                Side::Left => "Left end",
                Side::Right => "Right end",
            };
            return word.to_owned();
        }
        let what = self.job.body(&body.name).map_or("", |said| said.what.as_str());
        let name = if what.is_empty() { body.name.clone() } else { what.to_owned() };
        if side == Side::Front { name } else { format!("{name}, {side}") }
    }

    /// The top line of a wall: under the sheet of its roof, or level at its
    /// parapet.
    fn top(
        &self,
        body: &Body,
        side: Side,
        width: CompressedLength,
        face: Option<&Elevation<Compressed>>,
    ) -> Line {
        let level = |at| vec![(CompressedLength::ZERO, at), (width, at)];
        if let Some(parapet) = &body.parapet {
            return level(parapet.length);
        }
        let eave = match face {
            Some(face) if body.index == 0 => face.height,
            _ => body.eave.length,
        };
        let Some(profile) = &body.profile else { return level(eave) };
        let rises = match profile.kind {
            RoofKind::Flat | RoofKind::Shed => body.rises,
            _ if profile.is_gable(side) => body.rises,
            _ => 0.0,
        };
        // A side that ends on a slope has a shorter plan of its own.
        let depth = if side.is_end() { width.in_inches() } else { profile.depth };
        let profile = match body.stand {
            Stand::Slope(..) => super::Profile { depth, ..*profile },
            _ => *profile,
        };
        let line = profile.top(side, eave.in_inches());
        line.into_iter().map(|(s, high)| (s, high + full(rises))).collect()
    }

    /// The foot of a wall: level on the ground; on a roof it follows the top of
    /// the sheet.
    fn foot(body: &Body, plane: &Plane, width: CompressedLength, bodies: &[Body]) -> Line {
        let level =
            vec![(CompressedLength::ZERO, CompressedLength::ZERO), (width, CompressedLength::ZERO)];
        let (Stand::Ridge(host) | Stand::Slope(host, _)) = body.stand else {
            return level;
        };
        let host = &bodies[host];
        let at = |s: f64| {
            let point = plane.point(s, 0.0, 0.0);
            let top = host.top_over([point[0], point[1]]).unwrap_or(plane.corner[2]);
            (full(s), full(top - body.frame.origin[2]))
        };
        let long = width.in_inches();
        let mut places = vec![0.0, long];
        // A wall across a ridge turns where the slope under it does.
        if let Some(profile) = &host.profile {
            let (step, along): (fn(f64) -> [f64; 3], _) = match profile.runs {
                super::profile::Ridge::Along => (|it| [0.0, it, 0.0], [1.0, 0.0]),
                super::profile::Ridge::Out => (|it| [it, 0.0, 0.0], [0.0, 1.0]),
            };
            let along = host.frame.direction(along);
            let crosses = (along[0] * plane.along[0] + along[1] * plane.along[1]).abs() < 0.5;
            let turns = profile.turns_across().into_iter();
            let turns = turns.map(|turn| plane.local(host.frame.point(step(turn)))[0]);
            places.extend(turns.filter(|at| crosses && *at > 0.0 && *at < long));
        }
        places.sort_by(f64::total_cmp);
        places.into_iter().map(at).collect()
    }

    /// Why the foot of a wall on a roof is where it is at its left corner, and
    /// the slope it stands on.
    fn stands_on(body: &Body, wall: &Wall, bodies: &[Body]) -> Option<[Arc<Origin>; 2]> {
        let (Stand::Ridge(host) | Stand::Slope(host, _)) = body.stand else { return None };
        let host = &bodies[host];
        let start = wall.foot.first()?.1.in_inches();
        let what = "foot at the left corner";
        let zero = Why::Default("heights count from the roof under its outer wall");
        let up: super::origin::Work = |of| of[0] * of[1];
        let down: super::origin::Work = |of| -of[0] * of[1];
        let of = [&host.pitch, &wall.why.width];
        let along = [up, down].map(|work| Origin::rule(what, "as far up the slope", &of, work));
        let [up, down] = along;
        let near = |it: &Arc<Origin>| (it.value - start).abs() < TOUCH;
        let found = [Origin::plain(what, 0.0, zero), up, down].into_iter().find(near);
        let laid = || Origin::plain(what, start, Why::Default("as the building is laid out"));
        Some([found.unwrap_or_else(laid), Arc::clone(&host.pitch)])
    }

    /// What stands against a wall of a body.
    fn behind(
        &self,
        at: usize,
        side: Side,
        bodies: &[Body],
        sides: &[Sides],
        plane: &Plane,
    ) -> Vec<Behind> {
        let against = |(_, it): &(usize, &Body)| it.host() == Some((at, side));
        let each = bodies.iter().enumerate().filter(against);
        let mut behind: Vec<Behind> = each
            .filter_map(|(number, body)| {
                let profile = body.profile.as_ref()?;
                let [length, depth] = body.plan();
                let left = plane.local(body.point([0.0, depth, 0.0]))[0];
                let upright = body.sheet.0 * profile.pitch.hypot(1.0);
                let places = profile.turns_behind();
                let line: Vec<(f64, f64)> =
                    places.iter().map(|u| (*u, profile.height(*u, depth))).collect();
                let walls = [Side::Left, Side::Right].map(|end| {
                    let stack = sides[number].of(end);
                    stack.cladding() + stack.core()
                });
                let parapet = body.parapet.as_ref().map(|it| it.length.in_inches());
                let moved = |line: Vec<(f64, f64)>| -> Line {
                    line.into_iter().map(|(u, high)| (full(left + u), full(high))).collect()
                };
                let over = line.iter().map(|(u, high)| (*u, high + upright)).collect();
                Some(Behind {
                    body: body.name.clone(),
                    across: (full(left), full(left + length)),
                    meets: moved(with_parapet(line, parapet, length, walls)),
                    over: moved(over),
                    bare: body.bare && !body.on_posts(),
                    walled: !body.on_posts(),
                    edges: self.edges_why(body, &bodies[at].side(side).origin, left),
                    slope: [
                        Arc::clone(&body.eave.origin),
                        Arc::clone(&body.pitch),
                        self.sheet_why(body),
                    ],
                    why: self.meets_why(body),
                })
            })
            .collect();
        behind.sort_by(|a, b| a.across.0.total_cmp(&b.across.0));
        behind
    }

    /// Why the edges of a body are where they are along the wall behind it.
    fn edges_why(&self, body: &Body, host: &Arc<Origin>, left: f64) -> [Arc<Origin>; 2] {
        let what = format!("left edge of {}", body.name);
        let said = self.job.body(&body.name).and_then(|said| said.stands.as_ref());
        let length = &body.length.origin;
        let size = |size: &Size| {
            let found = self.survey.size(size).ok()?;
            Some(Origin::plain("place", found.value.in_inches(), Why::Said(size.clone())))
        };
        let by_rule = said.and_then(|stands| match &stands.along {
            Along::Left(at) => size(at),
            Along::Right(at) => size(at).map(|at| {
                let rule = "so far from the right corner";
                Origin::rule(what.clone(), rule, &[host, length, &at], |of| of[0] - of[1] - of[2])
            }),
            Along::Middle => {
                let rule = "in the middle of the wall";
                Some(Origin::rule(what.clone(), rule, &[host, length], |of| (of[0] - of[1]) / 2.0))
            }
            Along::Element(_) => None,
        });
        let near = |it: &Arc<Origin>| (it.value - left).abs() < TOUCH;
        let left = by_rule.filter(near).unwrap_or_else(|| {
            let why = Why::Chosen("it keeps its place with the elements of the wall".to_owned());
            Origin::plain(what, left, why)
        });
        let right = Origin::rule(
            format!("right edge of {}", body.name),
            "its left edge and its length",
            &[&left, length],
            |of| of[0] + of[1],
        );
        [left, right]
    }

    /// Why a body's roof meets the wall behind it where it does, and its sheet's
    /// top there.
    fn meets_why(&self, body: &Body) -> [Arc<Origin>; 2] {
        let of = [&body.eave.origin, &body.pitch, &body.depth.origin];
        let meets = Origin::rule(
            "where the roof meets the wall",
            "eave and pitch times depth",
            &of,
            |of| of[0] + of[1] * of[2],
        );
        let sheet = self.sheet_why(body);
        let rule = "where the roof meets the wall, and its sheet measured upright";
        let over = Origin::rule(
            "top of the sheet at the wall",
            rule,
            &[&meets, &sheet, &body.pitch],
            |of| of[0] + of[1] * of[2].hypot(1.0),
        );
        [meets, over]
    }

    /// Why the sheet of a body's roof is as thick as it is at full size.
    fn sheet_why(&self, body: &Body) -> Arc<Origin> {
        let sheet = Sized::<crate::quantity::Model>::of(Arc::clone(&body.sheet.1));
        sheet.enlarged(self.scale).origin
    }

    /// The cladding that is left off the wall behind a body.
    fn missing(&self, body: &Body, bodies: &[Body], sides: &[Sides]) -> Option<Vec<Arc<Origin>>> {
        let (host, side) = body.host()?;
        if !body.bare || !bodies[host].has(side) {
            return Some(Vec::new());
        }
        Some(self.full_of(sides[host].of(side), |role| role == Role::Cladding))
    }

    /// Lays the layers of a wall between its neighbours, with their holes.
    fn lay(
        &self,
        wall: &mut Wall,
        body: &Body,
        corners: &[Corner],
        sides: &Sides,
        missing: Option<&[Arc<Origin>]>,
    ) {
        let side = wall.id.side;
        let width = Sized::of(Arc::clone(&wall.why.width));
        let at = |at_left: bool| {
            let neighbour = if at_left { side.at_left() } else { side.at_right() };
            let corner = corners.iter().find(|it| it.joins(side) && it.joins(neighbour));
            Meeting {
                corner,
                neighbour: corner.map(|_| sides.of(neighbour)),
                missing: missing.filter(|_| meets_host(body, side, at_left)),
            }
        };
        let (left, right) = (at(true), at(false));
        let stack = sides.of(side);
        let mut out = 0.0;
        let mut reach = [0.0_f64; 2];
        for (number, sheet) in stack.sheets.iter().enumerate() {
            let (from, to) =
                (self.set_back(side, sheet.role, &left), self.set_back(side, sheet.role, &right));
            let [from_edge, to_edge] = edges(&width, &from.by, &to.by);
            reach = [reach[0].min(from.by.value), reach[1].min(to.by.value)];
            let mut layer = Layer {
                id: LayerId { face: wall.id.clone(), layer: sheet.name.clone() },
                role: sheet.role,
                claddings: sheet.claddings.clone(),
                thick: sheet.thick.clone(),
                full: sheet.full,
                out,
                left: from_edge,
                right: to_edge,
                edges: [from.cut, to.cut],
                foot: wall.foot.clone(),
                holes: Vec::new(),
                grain: sheet.grain,
                material: sheet.material.clone(),
                shows: number == 0,
            };
            if sheet.role == Role::Cladding {
                layer.foot = bare_foot(wall);
            }
            layer.holes = self.holes(wall, stack, number);
            out += sheet.full;
            wall.layers.push(layer);
        }
        run_on(wall, reach);
    }

    fn holes(&self, wall: &Wall, stack: &Stack, number: usize) -> Vec<super::LayerHole> {
        let sheet = &stack.sheets[number];
        let each = wall.holes.iter().filter_map(|hole| {
            let middle = (hole.left + hole.width / 2.0, hole.foot + hole.height / 2.0);
            let bare = wall.is_bare_at(middle.0, middle.1);
            if bare && sheet.role == Role::Cladding {
                return None;
            }
            let shows = |sheet: &Sheet| !bare || sheet.role != Role::Cladding;
            let outermost = stack.sheets.iter().position(shows) == Some(number);
            let carries = number + 1 < stack.sheets.len();
            Some(self.hole(hole, Depth { outermost, carries }))
        });
        each.collect()
    }

    /// Openings that a roof against their wall runs across.
    fn cut_by_roofs(&mut self, wall: &Wall) {
        let slack = full(0.01);
        for it in &wall.behind {
            let cut = wall.holes.iter().filter(|hole| {
                let (left, right) = (hole.left.max(it.across.0), hole.right().min(it.across.1));
                let ends = [left, right];
                right > left + slack
                    && ends.iter().any(|x| hole.head() > line_at(&it.meets, *x) + slack)
                    && ends.iter().any(|x| hole.foot < line_at(&it.over, *x) - slack)
            });
            self.findings.extend(cut.map(|hole| {
                Finding::trouble(
                    Subject::Element(format!("{}/{}", wall.name, hole.label)),
                    format!("the roof of {} runs across {} of {}", it.body, hole.label, wall.name),
                    "lower that roof, or move the opening",
                )
            }));
        }
    }

    /// A body smaller than the walls that are to stand in it.
    fn too_small(&mut self, body: &Body, sides: &Sides) {
        let thick = |side| sides.of(side).cladding() + sides.of(side).core();
        let [length, depth] = body.plan();
        let inside = [
            length - thick(Side::Left) - thick(Side::Right),
            depth - thick(Side::Front) - thick(Side::Back),
        ];
        let alone = self.job.main().is_some_and(|main| main.is_one_wall());
        if !alone && !body.on_posts() && inside.iter().any(|room| *room <= 0.0) {
            self.findings.push(Finding::trouble(
                Subject::Member(body.name.clone()),
                format!("{} is no larger than its own walls are thick", body.name),
                "make it larger, or its layers thinner",
            ));
        }
    }
}

/// The left edge of an opening of a row: the elements before it, and half of
/// what its bay is wider.
fn in_row(
    face: &Elevation<Compressed>,
    hole: &Hole<Compressed>,
    spans: &[Arc<Origin>],
    width: &Arc<Origin>,
) -> Arc<Origin> {
    let middle = hole.left + hole.width / 2.0;
    let at = face.spans.iter().position(|span| span.left < middle && span.right > middle);
    let what = format!("left edge of {}", hole.label);
    let Some(at) = at.filter(|at| *at < spans.len()) else {
        return Origin::plain(what, hole.left.in_inches(), Why::Chosen(String::new()));
    };
    let of: Vec<&Arc<Origin>> = spans[..at].iter().chain([&spans[at], width]).collect();
    let rule = "the elements before it, and in the middle of its own";
    let found = Origin::rule(&what, rule, &of, |of| {
        let (before, own) = of.split_at(of.len() - 2);
        before.iter().sum::<f64>() + (own[0] - own[1]) / 2.0
    });
    if (found.value - hole.left.in_inches()).abs() < TOUCH {
        return found;
    }
    Origin::plain(what, hole.left.in_inches(), Why::Chosen(String::new()))
}

/// A plain wall as one span.
fn plain(width: CompressedLength) -> Vec<Span<Compressed>> {
    vec![Span {
        label: "wall".to_owned(),
        element: "wall".to_owned(),
        left: CompressedLength::ZERO,
        right: width,
        kind: SpanKind::Plain,
    }]
}

/// A line that rises to a parapet where the end walls stand.
fn with_parapet(
    line: Vec<(f64, f64)>,
    parapet: Option<f64>,
    length: f64,
    [left, right]: [f64; 2],
) -> Vec<(f64, f64)> {
    let Some(top) = parapet else { return line };
    let low = line.first().map_or(0.0, |first| first.1);
    let high = line.last().map_or(0.0, |last| last.1);
    vec![
        (0.0, top),
        (left, top),
        (left, low),
        (length - right, high),
        (length - right, top),
        (length, top),
    ]
}

/// The foot of a wall's cladding: above what stands against it, where it is
/// left bare.
fn bare_foot(wall: &Wall) -> Line {
    let mut foot: Line = Vec::new();
    let mut at = CompressedLength::ZERO - full(1e6);
    let bare: Vec<&Behind> = wall.behind.iter().filter(|it| it.bare).collect();
    let plain = |foot: &mut Line, from: CompressedLength, to: CompressedLength| {
        foot.extend(wall.foot.iter().filter(|(x, _)| *x > from && *x < to));
    };
    for it in bare {
        let (left, right) = it.across;
        plain(&mut foot, at, left);
        foot.push((left, line_at(&wall.foot, left)));
        foot.extend(it.meets.iter().copied());
        foot.push((right, line_at(&wall.foot, right)));
        at = right;
    }
    plain(&mut foot, at, full(1e9));
    if foot.is_empty() { wall.foot.clone() } else { foot }
}

/// Draws the top and foot lines on to where layers run beyond the face.
fn run_on(wall: &mut Wall, [left, right]: [f64; 2]) {
    let width = wall.width;
    let on = |line: &mut Line| {
        if right < 0.0
            && let [.., before, last] = line.as_slice()
        {
            let slope = (last.1 - before.1) / (last.0 - before.0).max(full(NOTHING));
            let end = width - full(right);
            line.push((end, last.1 + (end - last.0) * slope));
        }
        if left < 0.0
            && let [first, after, ..] = line.as_slice()
        {
            let slope = (after.1 - first.1) / (after.0 - first.0).max(full(NOTHING));
            let start = full(left);
            line.insert(0, (start, first.1 + (start - first.0) * slope));
        }
    };
    on(&mut wall.top);
    on(&mut wall.foot);
    for layer in &mut wall.layers {
        on(&mut layer.foot);
    }
}
