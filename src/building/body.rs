//! The bodies of the building at their places, with their sizes and why.

use std::sync::Arc;

use super::Raise;
use super::origin::{Origin, Sized, Why};
use super::place::{Frame, Point};
use super::profile::{Profile, Ridge};
use super::scheme::{Standing, out_over};
use crate::elevation::{Span, SpanKind};
use crate::finding::{Finding, Subject};
use crate::job::body::{self as job, BodyPlace, RoofKind, RoofPlace, Side};
use crate::job::face::{Element, ElementKind};
use crate::job::place::RoofFollows;
use crate::job::said::Size;
use crate::job::wall::Corners;
use crate::quantity::slack::{NOTHING, TOUCH};
use crate::quantity::{Compressed, parse_pitch};

/// How a body stands to another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stand {
    /// On the ground by itself.
    Free,
    /// Against a side of another, or out from it.
    Against(usize, Side),
    /// Astride the ridge of another.
    Ridge(usize),
    /// On the slope of another over a side.
    Slope(usize, Side),
}

/// A body of the building.
#[derive(Clone, Debug)]
pub struct Body {
    /// Its name.
    pub name: String,
    /// Its place in the job's list of bodies.
    pub index: usize,
    /// Of the closed sides of a deck: its place in the list of decks.
    pub deck: Option<usize>,
    /// How it stands to others; an index is one of the building's bodies.
    pub stand: Stand,
    /// Its own frame.
    pub frame: Frame,
    /// Along its front.
    pub length: Sized<Compressed>,
    /// Behind its front.
    pub depth: Sized<Compressed>,
    /// Height of its eave above the foot of its walls.
    pub eave: Sized<Compressed>,
    /// Rise over run of its roof.
    pub pitch: Arc<Origin>,
    /// The underside of its roof's sheet; nothing where it is open above.
    pub profile: Option<Profile>,
    /// Whether the roof was cut at the ridge.
    pub half: bool,
    /// How far the roof stands out over each side: front, right, back, left.
    pub over: [f64; 4],
    /// Why at the eaves, and at the rakes.
    pub overhangs: [Arc<Origin>; 2],
    /// The height its walls rise level to, above the roof.
    pub parapet: Option<Sized<Compressed>>,
    /// How far walls rise above the roof.
    pub rises: f64,
    /// The sides that have a wall.
    pub sides: Vec<Side>,
    /// Thickness of the roof's sheet at full size, inches, and why on the model.
    pub sheet: (f64, Arc<Origin>),
    /// How its walls meet where no corner says else.
    pub joint: Corners,
    /// Whether the wall it stands against is bare behind it.
    pub bare: bool,
}

impl Body {
    /// The sizes along and behind its front, inches.
    #[must_use]
    pub fn plan(&self) -> [f64; 2] {
        [self.length.length.in_inches(), self.depth.length.in_inches()]
    }

    /// From corner to corner of a side.
    #[must_use]
    pub fn side(&self, side: Side) -> &Sized<Compressed> {
        if side.is_end() { &self.depth } else { &self.length }
    }

    /// Whether a side has a wall.
    #[must_use]
    pub fn has(&self, side: Side) -> bool {
        self.sides.contains(&side)
    }

    /// What it stands against, of one that does.
    #[must_use]
    pub fn host(&self) -> Option<(usize, Side)> {
        match self.stand {
            Stand::Against(host, side) => Some((host, side)),
            _ => None,
        }
    }

    /// Whether its roof stands on posts.
    #[must_use]
    pub fn on_posts(&self) -> bool {
        self.sides.is_empty()
    }

    /// Whether it stands on a roof.
    #[must_use]
    pub fn on_roof(&self) -> bool {
        matches!(self.stand, Stand::Ridge(_) | Stand::Slope(..))
    }

    /// The top of its roof's sheet over a point of the building; nothing
    /// without a roof.
    #[must_use]
    pub fn top_over(&self, [x, y]: [f64; 2]) -> Option<f64> {
        let profile = self.profile.as_ref()?;
        let [u, v, _] = self.frame.local([x, y, 0.0]);
        let upright = self.sheet.0 * profile.slope_at(u, v).hypot(1.0);
        Some(self.frame.origin[2] + profile.height(u, v) + upright)
    }

    /// A point of its frame in the building's.
    #[must_use]
    pub fn point(&self, at: Point) -> Point {
        self.frame.point(at)
    }
}

/// An element of a row by its name, at any depth.
fn element<'e>(row: &'e [Element], name: &str) -> Option<&'e Element> {
    row.iter().find_map(|it| match &it.kind {
        _ if it.name == name => Some(it),
        ElementKind::Repeat { row, .. } => element(row, name),
        _ => None,
    })
}

impl Raise<'_> {
    /// All bodies that stand, each after the one it stands on.
    pub(super) fn bodies(&mut self) -> Vec<Body> {
        let shape = self.shape;
        let mut bodies: Vec<Body> = Vec::new();
        for standing in self.scheme.standing.clone() {
            let said = &self.job.bodies[standing.index];
            if standing.index > 0 && !self.keeps(&standing, said, &bodies) {
                continue;
            }
            let frame = Frame {
                origin: [
                    standing.origin[0].at(shape.front, shape.depth),
                    standing.origin[1].at(shape.front, shape.depth),
                    0.0,
                ],
                turn: standing.turn,
            };
            let body = if standing.index == 0 {
                self.main(said, frame)
            } else {
                self.other(said, &standing, frame, &bodies)
            };
            bodies.extend(body);
        }
        bodies.extend(self.closed_decks(&bodies));
        bodies
    }

    /// Whether what a body hangs on is still there, and it on it.
    fn keeps(&mut self, standing: &Standing, said: &job::Body, bodies: &[Body]) -> bool {
        let hangs = match (self.shape.roof, standing.hangs) {
            (RoofFollows::Flat, Some(side)) => side == Side::Front,
            (RoofFollows::HalfRelief, Some(side)) => side != Side::Back,
            _ => true,
        };
        let host = said.stands.as_ref().map(|it| it.body());
        let host = host.and_then(|name| bodies.iter().find(|body| body.name == name));
        let subject = Subject::Member(said.name.clone());
        let hint = "give it another place, or choose another alternative";
        let gone = match host {
            None => "what it stands against is not built",
            Some(_) if !hangs => "the wall it stands against is cut away",
            Some(host) => {
                if self.is_off(standing, said, host) {
                    let message = format!(
                        "{} reaches beyond the corner of the shortened building",
                        said.name
                    );
                    self.findings.push(Finding::look(subject, message, hint));
                }
                return true;
            }
        };
        let message = format!("{} is not built: {gone}", said.name);
        self.findings.push(Finding::look(subject, message, hint));
        false
    }

    /// Whether a body reaches beyond the wall or ridge it stands against.
    fn is_off(&self, standing: &Standing, said: &job::Body, host: &Body) -> bool {
        let place = said.stands.as_ref().map(|it| &it.place);
        let side = match place {
            Some(BodyPlace::Against(face) | BodyPlace::Out(face)) => face.side,
            Some(BodyPlace::On(RoofPlace::Slope(face))) => face.side,
            Some(BodyPlace::On(RoofPlace::Ridge(_))) => Side::Front,
            _ => return false,
        };
        let at = |it: super::place::Follows| it.at(self.shape.front, self.shape.depth);
        let origin = [at(standing.origin[0]), at(standing.origin[1]), 0.0];
        let plane = super::place::Plane::of_side(side, host.plan()[0], host.plan()[1])
            .of_frame(&host.frame);
        let left = plane.local(origin)[0];
        let long = host.side(side).length.in_inches();
        left < -0.1 || left + at(standing.length) > long + 0.1
    }

    /// The body that is shortened.
    fn main(&mut self, said: &job::Body, frame: Frame) -> Option<Body> {
        let built = self.built;
        let roof = said.roof.as_ref();
        let flat = built.roof == RoofFollows::Flat;
        let half = built.roof == RoofFollows::HalfRelief;
        let of = |what: &str| format!("{what} of {}", said.name);
        let length = self.front_length(said);
        let deep = built.body.depth.in_inches();
        let depth = match &said.depth {
            Some(depth) => self.decided(of("depth"), depth, deep),
            None => self.chosen(of("depth"), deep),
        };
        let eave = match &said.eave {
            Some(size) => self.decided(of("eave"), size, built.body.eave.in_inches()),
            None => self.chosen(of("eave"), built.body.eave.in_inches()),
        };
        let pitch = self.pitch_origin(said, built.body.pitch, &eave.origin, &depth.origin);
        let kind = roof.map(|roof| roof.kind).filter(|_| !flat);
        let profile = kind.map(|kind| Profile {
            kind,
            runs: Ridge::Along,
            half,
            length: built.body.length.in_inches(),
            depth: built.body.depth.in_inches(),
            eave: built.body.eave.in_inches(),
            ridge: built.body.ridge.in_inches(),
            pitch: built.body.pitch,
            upper: roof.and_then(|roof| self.upper(roof, &said.name)),
            against: false,
        });
        let overhangs = self.overhangs(said);
        let rises = self.rises(said);
        let level = said.parapet.is_some() || rises > 0.0;
        let figures = (overhangs[0].value, overhangs[1].value);
        let mut over = kind.map_or([0.0; 4], |kind| out_over(kind, figures, (half, false)));
        if level {
            over = [0.0; 4];
        }
        let sides: &[Side] = match built.roof {
            RoofFollows::Flat => &[Side::Front],
            RoofFollows::HalfRelief => &[Side::Front, Side::Right, Side::Left],
            _ => &Side::ALL,
        };
        let wanted = |side: &Side| said.said_walls().is_none_or(|walls| walls.contains(side));
        let sheet = self.roof_sheet(said);
        Some(Body {
            name: said.name.clone(),
            index: 0,
            deck: None,
            stand: Stand::Free,
            frame,
            length,
            depth,
            eave,
            pitch,
            profile,
            half,
            over,
            overhangs,
            parapet: self.parapet(said),
            rises,
            sides: sides.iter().copied().filter(wanted).collect(),
            sheet,
            joint: said.corners.unwrap_or_default(),
            bare: said.behind == job::Behind::Bare,
        })
    }

    /// The length of the front: its elements side by side.
    fn front_length(&self, said: &job::Body) -> Sized<Compressed> {
        let what = format!("length of {}", said.name);
        let front = self.built.faces.iter().find(|face| self.is_front(&face.name));
        let Some(front) = front.filter(|face| !face.spans.is_empty()) else {
            return self.chosen(what, self.built.body.length.in_inches());
        };
        let widths: Vec<Arc<Origin>> =
            front.spans.iter().map(|span| self.span(&front.name, span)).collect();
        let whole: f64 = widths.iter().map(|width| width.value).sum();
        let length = self.built.body.length.in_inches();
        if (whole - length).abs() > TOUCH {
            return self.chosen(what, length);
        }
        let of: Vec<&Arc<Origin>> = widths.iter().collect();
        Sized::rule(what, "the elements of the front side by side", &of, |of| of.iter().sum())
    }

    /// Width of an element: as described, or as the shortening has it.
    pub(super) fn span(&self, face: &str, span: &Span<Compressed>) -> Arc<Origin> {
        let width = (span.right - span.left).in_inches();
        let what = format!("width of {}", span.label);
        let size = self.element_size(face, span);
        match size {
            Some(size) => self.decided(what, &size, width).origin,
            None => self.chosen(what, width).origin,
        }
    }

    /// What the job says of an element's width.
    fn element_size(&self, face: &str, span: &Span<Compressed>) -> Option<Size> {
        let wall = self.job.walls.iter().find(|wall| wall.of.to_string() == face)?;
        let element = element(&wall.row, &span.element)?;
        match (&element.kind, span.kind) {
            (ElementKind::Opening { kind, .. }, SpanKind::Opening) => {
                let opening = self.job.openings.iter().find(|it| &it.name == kind)?;
                Some(opening.width.clone())
            }
            (ElementKind::Corner { width }, _)
            | (ElementKind::Plain { width, .. }, _)
            | (ElementKind::Bays { width, .. }, _) => Some(width.clone()),
            _ => None,
        }
    }

    /// A size as described where it was kept, else as the shortening has it.
    pub(super) fn decided(&self, what: String, size: &Size, value: f64) -> Sized<Compressed> {
        let kept = self.survey.size(size).ok().map(|found| found.value.in_inches());
        match kept.filter(|kept| (kept - value).abs() < NOTHING) {
            Some(_) => Sized::of(Origin::plain(what, value, Why::Said(size.clone()))),
            None => self.chosen(what, value),
        }
    }

    pub(super) fn chosen(&self, what: String, value: f64) -> Sized<Compressed> {
        let reason = self.job.choice.as_ref().map_or("", |choice| choice.reason.as_str());
        Sized::of(Origin::plain(what, value, Why::Chosen(reason.to_owned())))
    }

    /// Rise over run: stated, or from the heights.
    fn pitch_origin(
        &self,
        said: &job::Body,
        pitch: f64,
        eave: &Arc<Origin>,
        depth: &Arc<Origin>,
    ) -> Arc<Origin> {
        let what = format!("pitch of {}", said.name);
        let roof = said.roof.as_ref();
        let stated = roof.and_then(|roof| roof.pitch.as_ref());
        if let Some(text) = stated
            && parse_pitch(text).is_ok_and(|read| (read.value.value() - pitch).abs() < NOTHING)
        {
            return Origin::plain(what, pitch, Why::Stated(text.clone()));
        }
        let ridge = roof.and_then(|roof| roof.ridge.as_ref());
        let ridge = ridge.map(|size| {
            let high = self.built.body.ridge.in_inches();
            self.decided(format!("ridge of {}", said.name), size, high).origin
        });
        let run = self.built.body.depth.in_inches();
        match ridge {
            Some(ridge) if run > 0.0 => {
                let gable = roof.is_some_and(|roof| roof.kind != RoofKind::Shed);
                let whole = !gable || self.built.roof == RoofFollows::HalfRelief;
                let work: super::origin::Work = if whole {
                    |of| (of[0] - of[1]) / of[2]
                } else {
                    |of| (of[0] - of[1]) / (of[2] / 2.0)
                };
                let rule = "rise from eave to ridge over the run";
                let found = Origin::rule(&what, rule, &[&ridge, eave, depth], work);
                if (found.value - pitch).abs() < NOTHING {
                    return found;
                }
                self.chosen(what, pitch).origin
            }
            _ => self.chosen(what, pitch).origin,
        }
    }

    /// The upper slope of a gambrel: where it begins, and its pitch.
    fn upper(&mut self, roof: &job::Roof, of: &str) -> Option<(f64, f64)> {
        if roof.kind != RoofKind::Gambrel {
            return None;
        }
        let run = self.inches(roof.lower_run.as_ref()?, of)?;
        let pitch = parse_pitch(roof.upper_pitch.as_deref()?).ok()?;
        Some((run, pitch.value.value()))
    }

    /// What a roof stands out at its eaves and at its rakes.
    fn overhangs(&mut self, said: &job::Body) -> [Arc<Origin>; 2] {
        let roof = said.roof.as_ref();
        let sizes = [
            ("eave overhang", roof.and_then(|roof| roof.eave.as_ref())),
            ("rake overhang", roof.and_then(|roof| roof.rake.as_ref())),
        ];
        sizes.map(|(what, size)| {
            let what = format!("{what} of {}", said.name);
            match size.and_then(|size| Some((size, self.inches(size, &said.name)?))) {
                Some((size, value)) => Origin::plain(what, value, Why::Said(size.clone())),
                None => Origin::plain(what, 0.0, Why::Default("none where the job says none")),
            }
        })
    }

    fn rises(&mut self, said: &job::Body) -> f64 {
        let size = said.roof.as_ref().and_then(|roof| roof.parapet.as_ref());
        size.and_then(|size| self.inches(size, &said.name)).unwrap_or(0.0)
    }

    fn parapet(&mut self, said: &job::Body) -> Option<Sized<Compressed>> {
        let size = said.parapet.as_ref()?;
        self.said(format!("parapet of {}", said.name), size, &said.name)
    }

    /// The pitch of a body's roof; level where it has none.
    fn pitch(&mut self, said: &job::Body) -> Arc<Origin> {
        let name = &said.name;
        let what = format!("pitch of {name}");
        let level = || Origin::plain(what.clone(), 0.0, Why::Default("level"));
        let sloped = said.roof.as_ref().filter(|roof| roof.kind != RoofKind::Flat);
        let Some(text) = sloped.and_then(|roof| roof.pitch.clone()) else { return level() };
        match parse_pitch(&text) {
            Ok(pitch) => Origin::plain(what, pitch.value.value(), Why::Stated(text)),
            Err(error) => {
                let hint = "write rise over run: 4:12";
                let message = format!("the pitch of {name}: {error}");
                self.findings.push(Finding::trouble(Subject::Member(name.clone()), message, hint));
                level()
            }
        }
    }

    /// A body that stands against or on another, or free.
    fn other(
        &mut self,
        said: &job::Body,
        standing: &Standing,
        mut frame: Frame,
        bodies: &[Body],
    ) -> Option<Body> {
        let name = &said.name;
        let place = &said.stands.as_ref()?.place;
        let host = bodies
            .iter()
            .position(|body| body.name == said.stands.as_ref().map_or("", |it| it.body()))?;
        let stand = match place {
            BodyPlace::Against(face) | BodyPlace::Out(face) => Stand::Against(host, face.side),
            BodyPlace::On(RoofPlace::Ridge(_)) => Stand::Ridge(host),
            BodyPlace::On(RoofPlace::Slope(face)) => Stand::Slope(host, face.side),
            BodyPlace::Beside(..) => Stand::Free,
        };
        let of = |what: &str| format!("{what} of {name}");
        let length = self.said(of("length"), said.length.as_ref()?, name)?;
        let depth = self.said(of("depth"), said.depth.as_ref()?, name)?;
        let roof = said.roof.as_ref();
        let pitch = self.pitch(said);
        let out = matches!(place, BodyPlace::Out(_))
            || (matches!(stand, Stand::Slope(..))
                && roof.is_some_and(|roof| roof.kind.has_gables()));
        let eave = self.eave(said, &pitch, &depth)?;
        // With a back of its own it stands free behind: a tower before a wall.
        let own_back = said.walls.as_ref().is_some_and(|walls| walls.contains(&Side::Back));
        let against = match stand {
            Stand::Against(..) => !own_back,
            Stand::Slope(..) => true,
            Stand::Free | Stand::Ridge(_) => false,
        };
        let profile = roof.map(|roof| {
            let mut profile = Profile {
                kind: roof.kind,
                runs: if out { Ridge::Out } else { Ridge::Along },
                half: false,
                length: length.length.in_inches(),
                depth: depth.length.in_inches(),
                eave: eave.length.in_inches(),
                ridge: 0.0,
                pitch: pitch.value,
                upper: self.upper(roof, name),
                against,
            };
            profile.ridge = profile.peak();
            profile
        });
        let overhangs = self.overhangs(said);
        let rises = self.rises(said);
        let parapet = self.parapet(said);
        let figures = (overhangs[0].value, overhangs[1].value);
        let walled = parapet.is_some() || rises > 0.0;
        let over = match &profile {
            Some(profile) if !walled => out_over(profile.kind, figures, (against, out)),
            _ => [0.0; 4],
        };
        let sheet = self.roof_sheet(said);
        let plan = [length.length.in_inches(), depth.length.in_inches()];
        if let Stand::Ridge(host) | Stand::Slope(host, _) = stand {
            let middle = frame.point([plan[0] / 2.0, 0.0, 0.0]);
            frame.origin[2] = bodies[host].top_over([middle[0], middle[1]]).unwrap_or(0.0);
        }
        let sides = said.walls.clone().unwrap_or_else(|| usual_sides(stand).to_vec());
        Some(Body {
            name: name.clone(),
            index: standing.index,
            deck: None,
            stand,
            frame,
            length,
            depth,
            eave,
            pitch,
            profile,
            half: false,
            over,
            overhangs,
            parapet,
            rises,
            sides,
            sheet,
            joint: said.corners.unwrap_or_default(),
            bare: said.behind == job::Behind::Bare && !own_back,
        })
    }

    /// The eave of a body: as said, or from where its roof meets the wall.
    fn eave(
        &mut self,
        said: &job::Body,
        pitch: &Arc<Origin>,
        depth: &Sized<Compressed>,
    ) -> Option<Sized<Compressed>> {
        let what = format!("eave of {}", said.name);
        if let Some(size) = &said.eave {
            return self.said(what, size, &said.name);
        }
        let meets = said.meets.as_ref().and_then(|size| {
            self.said(format!("where the roof of {} meets the wall", said.name), size, &said.name)
        });
        let Some(meets) = meets else {
            let hint = "give `eave`, or `meets`: where its roof meets the wall";
            let message = format!("{} has no height", said.name);
            self.findings.push(Finding::trouble(Subject::Member(said.name.clone()), message, hint));
            return None;
        };
        let rule = "where it meets the wall, less pitch times depth";
        Some(Sized::rule(what, rule, &[&meets.origin, pitch, &depth.origin], |of| {
            of[0] - of[1] * of[2]
        }))
    }
}

/// The sides of a body that have a wall where the job says none.
fn usual_sides(stand: Stand) -> &'static [Side] {
    match stand {
        Stand::Against(..) => &[Side::Front, Side::Right, Side::Left],
        // Behind what stands on a slope the roof may come up to its top.
        Stand::Free | Stand::Ridge(_) | Stand::Slope(..) => &Side::ALL,
    }
}
