//! Decks with what closes them and their steps, retaining walls, the base.

use std::sync::Arc;

use super::body::{Body, Stand};
use super::origin::{Origin, Sized, Why};
use super::place::{Frame, Plane, Point, Reach};
use super::scheme::{STEP, leaning, turned};
use super::{Building, Raise};
use crate::job::body::Side;
use crate::job::carpentry::{Deck as Said, Steps, Terrace};
use crate::job::wall::Corners;
use crate::quantity::slack::{NOTHING, WHOLE};
use crate::quantity::{Compressed, Model};

/// Thickness of planks where the job does not say, inches.
const PLANK: (f64, &str) = (2.0, "2 in planks, common practice, no source");

/// A deck at its place.
#[derive(Clone, Debug)]
pub struct Deck {
    /// Its name.
    pub name: String,
    /// Its own frame: its front faces away from the wall it lies along, its foot
    /// is the ground.
    pub frame: Frame,
    /// Along the wall.
    pub length: Sized<Compressed>,
    /// Out from it.
    pub width: Sized<Compressed>,
    /// Top of the planks above the ground.
    pub height: Sized<Compressed>,
    /// Thickness of a plank.
    pub plank: Sized<Compressed>,
    /// Steps up to it.
    pub steps: Option<Flight>,
}

/// A flight of steps or stairs.
#[derive(Clone, Debug)]
pub struct Flight {
    /// How many risers.
    pub risers: u32,
    /// Height of one.
    pub riser: Sized<Compressed>,
    /// How many treads: one fewer than the risers.
    pub treads: u32,
    /// Its level run.
    pub run: Sized<Compressed>,
    /// A stringer, from foot to head.
    pub stringer: Sized<Compressed>,
    /// Its width, inches.
    pub width: f64,
    /// Why it is as wide.
    pub wide: Arc<Origin>,
    /// The middle of its foot and of its head.
    pub line: [Point; 2],
    /// A level step across it.
    pub across: [f64; 2],
}

/// A retaining wall.
#[derive(Clone, Debug)]
pub struct Retaining {
    /// Its name.
    pub name: String,
    /// The ends of its foot.
    pub foot: [Point; 2],
    /// A level step from its face into the ground behind it.
    pub behind: [f64; 2],
    /// Along its foot.
    pub length: Sized<Compressed>,
    /// Height.
    pub rise: Sized<Compressed>,
    /// How far its top stands back, inches.
    pub lean: f64,
    /// How far its cap reaches behind its top edge, inches.
    pub cap: f64,
    /// Up its face.
    pub slope: Sized<Compressed>,
    /// Courses from foot to cap; none where the job says no course.
    pub courses: u32,
    /// A stair along it.
    pub stair: Option<Flight>,
}

/// The plate the building stands on.
#[derive(Clone, Debug)]
pub struct BasePlate {
    /// Along the grain: the longer side.
    pub length: Sized<Compressed>,
    /// Across it.
    pub width: Sized<Compressed>,
    /// Thickness on the model.
    pub thick: Sized<Model>,
    /// The same at full size, inches.
    pub full: f64,
    /// What it covers.
    pub reach: Reach,
}

impl Raise<'_> {
    /// Decks whose sides are closed, as bodies with walls from the ground to the
    /// underside of the planks.
    pub(super) fn closed_decks(&mut self, bodies: &[Body]) -> Vec<Body> {
        let job = self.job;
        let closed = job.decks.iter().enumerate().filter(|(_, deck)| !deck.walls.is_empty());
        closed.filter_map(|(number, deck)| self.closed(bodies, number, deck)).collect()
    }

    fn closed(&mut self, bodies: &[Body], number: usize, said: &Said) -> Option<Body> {
        let (host, side) = self.deck_host(bodies, said)?;
        let deck = self.deck(bodies, said)?;
        let eave = Sized::rule(
            format!("height of the sides of {}", said.name),
            "to the underside of the planks",
            &[&deck.height.origin, &deck.plank.origin],
            |of| of[0] - of[1],
        );
        let none = || Origin::plain("overhang", 0.0, Why::Default("a deck has none"));
        Some(Body {
            name: said.name.clone(),
            index: usize::MAX,
            deck: Some(number),
            stand: Stand::Against(host, side),
            frame: deck.frame,
            length: deck.length,
            depth: deck.width,
            eave,
            pitch: none(),
            profile: None,
            half: false,
            over: [0.0; 4],
            overhangs: [none(), none()],
            parapet: None,
            rises: 0.0,
            sides: said.walls.clone(),
            sheet: (0.0, none()),
            joint: Corners::Butt,
            bare: false,
        })
    }

    fn deck_host(&self, bodies: &[Body], said: &Said) -> Option<(usize, Side)> {
        let face = said.of.clone().or(self.job.front())?;
        let host = bodies.iter().position(|body| body.name == face.body)?;
        bodies[host].has(face.side).then_some((host, face.side))
    }

    /// A deck with its sizes.
    fn deck(&mut self, bodies: &[Body], said: &Said) -> Option<Deck> {
        let (host, side) = self.deck_host(bodies, said)?;
        let host = &bodies[host];
        let name = &said.name;
        let of = |what: &str| format!("{what} of {name}");
        let width = self.said(of("width"), &said.width, name)?;
        let height = self.said(of("height"), &said.height, name)?;
        let length = match &said.length {
            Some(size) => self.said(of("length"), size, name)?,
            None => host.side(side).clone(),
        };
        let plank =
            self.said_or(of("thickness of the planks"), said.thickness.as_ref(), name, PLANK);
        let at = said.at.as_ref().and_then(|at| self.inches(at, name)).unwrap_or(0.0);
        let top = match said.top.as_ref().and_then(|top| self.inches(top, name)) {
            Some(top) => top,
            None => {
                let foundation = self.job.main().and_then(|body| body.foundation.as_ref());
                let foundation = foundation.and_then(|size| self.inches(size, name));
                height.length.in_inches() - foundation.unwrap_or(0.0)
            }
        };
        let [long, deep] = host.plan();
        let plane = Plane::of_side(side, long, deep).of_frame(&host.frame);
        let out = width.length.in_inches();
        let origin = plane.point(at, out, top - height.length.in_inches() - plane.corner[2]);
        let frame = Frame { origin, turn: host.frame.turn.by(turned(side)) };
        let steps = said.steps.as_ref();
        let mut deck =
            Deck { name: name.clone(), frame, length, width, height, plank, steps: None };
        deck.steps = steps.and_then(|steps| self.steps(said, &deck, steps));
        Some(deck)
    }

    fn steps(&mut self, said: &Said, deck: &Deck, steps: &Steps) -> Option<Flight> {
        let name = &said.name;
        let [long, deep] = [&deck.length, &deck.width].map(|it| it.length.in_inches());
        let plane = Plane::of_side(steps.side, long, deep).of_frame(&deck.frame);
        let whole = if steps.side.is_end() { &deck.width } else { &deck.length };
        let what = format!("width of the steps of {name}");
        let said = steps.width.as_ref().and_then(|size| self.said(what, size, name));
        let wide = said.map_or_else(|| Arc::clone(&whole.origin), |said| said.origin);
        let width = wide.value;
        let at = steps.at.as_ref().and_then(|size| self.inches(size, name)).unwrap_or(0.0);
        let made = self.flight(name, &deck.height, (steps.riser.as_ref(), steps.tread.as_ref()));
        let run = made.run.length.in_inches();
        let middle = at + width / 2.0;
        let high = deck.height.length.in_inches();
        Some(Flight {
            width,
            wide,
            line: [plane.point(middle, run, 0.0), plane.point(middle, 0.0, high)],
            across: plane.along,
            ..made
        })
    }

    /// A flight over a height: whole risers nearest to the one wanted, a tread
    /// fewer. The stringer covers the whole rise, the last riser too.
    fn flight(
        &mut self,
        name: &str,
        height: &Sized<Compressed>,
        (riser, tread): (Option<&crate::job::said::Size>, Option<&crate::job::said::Size>),
    ) -> Flight {
        const SOURCE: &str = "common practice, no source";
        let riser = self.said_or(format!("riser of {name}, nearly"), riser, name, (STEP.0, SOURCE));
        let tread = self.said_or(format!("tread of {name}"), tread, name, (STEP.1, SOURCE));
        let of = [&height.origin, &riser.origin, &tread.origin];
        let risers = (height.length.in_inches() / riser.length.in_inches()).round().max(1.0);
        let run = Sized::rule(
            format!("run of the steps of {name}"),
            "treads, one fewer than risers",
            &of,
            |of| ((of[0] / of[1]).round().max(1.0) - 1.0) * of[2],
        );
        let each =
            Sized::rule(format!("riser of {name}"), "the height in whole risers", &of, |of| {
                of[0] / (of[0] / of[1]).round().max(1.0)
            });
        let stringer = Sized::rule(
            format!("stringer of {name}"),
            "rise and run",
            &[&height.origin, &run.origin],
            |of| of[0].hypot(of[1]),
        );
        Flight {
            risers: risers as u32,
            riser: each,
            treads: (risers as u32).saturating_sub(1),
            run,
            stringer,
            width: 0.0,
            wide: Origin::plain("width", 0.0, Why::Chosen(String::new())),
            line: [[0.0; 3]; 2],
            across: [1.0, 0.0],
        }
    }

    /// Decks, retaining walls and the base.
    pub(super) fn on_the_ground(&mut self, building: &mut Building) {
        let job = self.job;
        building.decks =
            job.decks.iter().filter_map(|deck| self.deck(&building.bodies, deck)).collect();
        building.terraces = job.terraces.iter().filter_map(|it| self.terrace(it)).collect();
        building.base = job.base.as_ref().and_then(|base| {
            let mut at = |what: &str, size| self.said(format!("{what} of the base"), size, "base");
            let [left, right] = [at("left end", &base.along[0])?, at("right end", &base.along[1])?];
            let [before, behind] = [at("front", &base.back[0])?, at("back", &base.back[1])?];
            let across = |what: &str, a: &Sized<Compressed>, b: &Sized<Compressed>| {
                Sized::rule(what, "from end to end", &[&a.origin, &b.origin], |of| of[1] - of[0])
            };
            let long = across("length of the base", &left, &right);
            let deep = across("width of the base", &before, &behind);
            let thick = match &base.thick {
                Some(said) => Self::on_model("thickness of the base".to_owned(), said),
                None => self.usual_sheet(),
            };
            let full = thick.enlarged(self.scale).length.in_inches();
            let inches = |it: &Sized<Compressed>| it.length.in_inches();
            let reach = Reach {
                along: [inches(&left), inches(&right)],
                behind: [inches(&before), inches(&behind)],
            };
            let (length, width) =
                if long.length >= deep.length { (long, deep) } else { (deep, long) };
            Some(BasePlate { length, width, thick, full, reach })
        });
    }

    /// The sheet of the first `[[layer]]`.
    fn usual_sheet(&self) -> Sized<Model> {
        match self.job.layers.first() {
            Some(layer) => self.thickness(&layer.name),
            None => {
                let why = Why::Default("1/16 in, common practice, no source");
                Sized::of(Origin::plain("sheet", 1.0 / 16.0, why))
            }
        }
    }

    fn terrace(&mut self, said: &Terrace) -> Option<Retaining> {
        let name = &said.name;
        let of = |what: &str| format!("{what} of {name}");
        let rise = self.said(of("rise"), &said.rise, name)?;
        let lean = match &said.lean {
            Some(size) => self.said(of("lean"), size, name)?,
            None => Sized::of(Origin::plain(of("lean"), 0.0, Why::Default("upright"))),
        };
        let mut ends = Vec::new();
        for end in &said.foot {
            ends.push([
                self.said(of("foot"), &end[0], name)?,
                self.said(of("foot"), &end[1], name)?,
            ]);
        }
        let all: Vec<&Arc<Origin>> = ends.iter().flatten().map(|it| &it.origin).collect();
        let length = Sized::rule(of("length"), "from end to end of its foot", &all, |of| {
            (of[2] - of[0]).hypot(of[3] - of[1])
        });
        let level = said.level.as_ref().and_then(|size| self.inches(size, name)).unwrap_or(0.0);
        let at = |end: &[Sized<Compressed>; 2]| {
            [end[0].length.in_inches(), end[1].length.in_inches(), level]
        };
        let foot = [at(&ends[0]), at(&ends[1])];
        let long = length.length.in_inches().max(NOTHING);
        let way = [(foot[1][0] - foot[0][0]) / long, (foot[1][1] - foot[0][1]) / long];
        let slope =
            Sized::rule(of("slope"), "rise and lean", &[&rise.origin, &lean.origin], |of| {
                of[0].hypot(of[1])
            });
        let course = said.courses.as_ref().and_then(|size| self.inches(size, name));
        let courses = course
            .filter(|it| *it > 0.0)
            .map_or(0, |course| (rise.length.in_inches() / course - WHOLE).ceil().max(1.0) as u32);
        let cap = said.cap.as_ref().and_then(|size| self.inches(size, name)).unwrap_or(0.0);
        let stair = said.stair.as_ref().and_then(|stair| {
            let from = self.said(of("foot of the stair"), &stair.from, name)?;
            let to = self.said(of("head of the stair"), &stair.to, name)?;
            let wide = self.said(of("width of the stair"), &stair.width, name)?.origin;
            let width = wide.value;
            let made = self.flight(name, &rise, (stair.riser.as_ref(), stair.tread.as_ref()));
            let run = Sized::rule(
                of("run of the stair"),
                "treads, one fewer than risers",
                &[&made.run.origin],
                |of| of[0],
            );
            // Along the foot, on the side of its face.
            let base = foot[0];
            let out = width / 2.0;
            let on = |along: f64, up: f64| {
                [
                    base[0] + way[0] * along + way[1] * out,
                    base[1] + way[1] * along - way[0] * out,
                    level + up,
                ]
            };
            let zero = if way[0].abs() > way[1].abs() { base[0] } else { base[1] };
            let (start, end) = (from.length.in_inches() - zero, to.length.in_inches() - zero);
            Some(Flight {
                run,
                width,
                wide,
                line: [on(start, 0.0), on(end, rise.length.in_inches())],
                across: [-way[1], way[0]],
                ..made
            })
        });
        Some(Retaining {
            name: name.clone(),
            foot,
            behind: [-way[1], way[0]],
            length,
            rise,
            lean: lean.length.in_inches(),
            cap,
            slope,
            courses,
            stair,
        })
    }
}

impl Retaining {
    /// What it covers on the plan, cap and all.
    #[must_use]
    pub fn span(&self) -> [[f64; 2]; 2] {
        leaning(self.foot.map(|[x, y, _]| [x, y]), self.lean + self.cap)
    }
}
