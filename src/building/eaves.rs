//! What is along the eaves of a roof: rafter tails and fascias, and how much
//! room they leave over a lower roof.

use std::sync::Arc;

use super::body::Body;
use super::origin::{Origin, Sized, Why, Work};
use super::roof::{EdgeKind, RoofPlane};
use super::{Building, Raise};
use crate::finding::{Finding, Subject};
use crate::job::body::{FaceId, Roof, Side, Tails as Said};
use crate::job::building::CladdingKind;
use crate::job::wall::TrimBoard;
use crate::quantity::slack::{TOUCH, WHOLE};
use crate::quantity::{Angle, Compressed};

/// So many plies of shingles lie above one another at a butt: common practice,
/// no source.
const PLIES: f64 = 3.0;

/// An eave: one lower edge of one plane.
#[derive(Clone, Debug)]
pub struct Eave {
    /// The body.
    pub body: String,
    /// The side it runs along.
    pub over: Side,
    /// From end to end.
    pub length: Sized<Compressed>,
    /// Its rafter tails.
    pub tails: Option<Tails>,
    /// The board under the edge of the sheet.
    pub fascia: Option<Fascia>,
    /// Lower roofs that it passes over.
    pub passes: Vec<Passes>,
}

/// Rafter tails under an eave, both ends plumb.
#[derive(Clone, Debug)]
pub struct Tails {
    /// How many.
    pub count: u32,
    /// Middle of the first and of the last from the left end of the eave, and
    /// the distance between the others: inches.
    pub places: [f64; 3],
    /// Thickness.
    pub wide: Sized<Compressed>,
    /// Depth, square to its length.
    pub deep: Sized<Compressed>,
    /// Along the slope, point to point.
    pub length: Sized<Compressed>,
    /// Out from the wall face to its inner and its outer end, level.
    pub run: [Sized<Compressed>; 2],
    /// Of both ends, from square.
    pub cut: Angle,
}

/// A board under the edge of the sheet, its face at the eave edge.
#[derive(Clone, Debug)]
pub struct Fascia {
    /// Its depth.
    pub depth: Sized<Compressed>,
    /// Its thickness.
    pub thick: Sized<Compressed>,
}

/// An eave over a lower roof: the least free height over its covering.
#[derive(Clone, Debug)]
pub struct Passes {
    /// The body under the lower roof.
    pub body: String,
    /// Under the tails.
    pub tails: Option<Sized<Compressed>>,
    /// Under the fascia.
    pub fascia: Option<Sized<Compressed>>,
}

impl Raise<'_> {
    /// The eaves of all roofs that have tails or fascias.
    pub(super) fn eaves(&mut self, building: &Building) -> Vec<Eave> {
        let mut all = Vec::new();
        for body in building.bodies.iter().filter(|body| body.deck.is_none()) {
            let Some(roof) = self.job.bodies[body.index].roof.clone() else { continue };
            if roof.tails.is_none() && roof.fascia.is_none() {
                continue;
            }
            let fascia = self.fascia(body, &roof);
            let tails = roof.tails.as_ref().and_then(|said| {
                self.tails(building, body, said, (roof.lifts_off, fascia.as_ref()))
            });
            for plane in building.planes.iter().filter(|it| it.body == body.name && !it.upper) {
                for edge in plane.edges_of(EdgeKind::Eave) {
                    let length = eave_length(plane, edge.length());
                    let tails = tails.as_ref().map(|it| it.along(length.length.in_inches()));
                    let mut eave = Eave {
                        body: body.name.clone(),
                        over: plane.over,
                        length,
                        tails,
                        fascia: fascia.clone(),
                        passes: Vec::new(),
                    };
                    eave.passes = self.passes(building, body, &eave);
                    self.too_low(&eave);
                    all.push(eave);
                }
            }
        }
        all
    }

    fn fascia(&mut self, body: &Body, roof: &Roof) -> Option<Fascia> {
        let size = roof.fascia.as_ref()?;
        let depth = self.said(format!("depth of the fascia of {}", body.name), size, &body.name)?;
        let thick = Sized::of(self.trim_thickness(&self.job.trim_of(&body.name)));
        Some(Fascia { depth, thick })
    }

    /// The tails of a roof, cut alike for the side with the thicker trim.
    fn tails(
        &mut self,
        building: &Building,
        body: &Body,
        said: &Said,
        (lifts_off, fascia): (bool, Option<&Fascia>),
    ) -> Option<Tails> {
        let name = &body.name;
        let [wide, deep] = self.tail_section(name, said)?;
        let every = self.inches(&said.every, name).filter(|every| *every > 0.0)?;
        let [eave, _] = &body.overhangs;
        let none = |what: &str| Origin::plain(what, 0.0, Why::Default("none"));
        let trim = self.eave_trim(building, body).unwrap_or_else(|| none("trim under the eave"));
        let fit = self.fit("roof", 15.0).enlarged(self.scale).origin;
        let from = if lifts_off {
            Sized::rule(
                "inner end of the tails",
                "clear of the trim by the roof's fit",
                &[&trim, &fit],
                |of| of[0] + of[1],
            )
        } else {
            Sized::of(none("inner end of the tails, at the wall face"))
        };
        let board = fascia.map_or_else(|| none("fascia"), |it| Arc::clone(&it.thick.origin));
        let to = Sized::rule(
            "outer end of the tails",
            "the eave edge, or the back of the fascia",
            &[eave, &board],
            |of| of[0] - of[1],
        );
        let rule = "from its inner to its outer end, along the slope";
        let of = [&from.origin, &to.origin, &body.pitch];
        let length = Sized::rule(format!("tail of {name}"), rule, &of, |of| {
            (of[1] - of[0]) * of[2].hypot(1.0)
        });
        (length.length.in_inches() > 0.0).then(|| Tails {
            count: 0,
            places: [0.0, 0.0, every],
            wide,
            deep,
            length,
            run: [from, to],
            cut: Angle::radians(body.pitch.value.atan()),
        })
    }

    fn tail_section(&mut self, body: &str, said: &Said) -> Option<[Sized<Compressed>; 2]> {
        let of = |what: &str| format!("{what} of the tails of {body}");
        if let Some([wide, deep]) = &said.section {
            return Some([
                self.said(of("thickness"), wide, body)?,
                self.said(of("depth"), deep, body)?,
            ]);
        }
        let nominal = said.lumber.as_deref().unwrap_or("2x4");
        let era = crate::stock::catalog::era(self.job, self.catalog);
        let Some(section) = crate::stock::catalog::actual(self.catalog, &era, nominal) else {
            self.findings.push(Finding::look(
                Subject::Member(body.to_owned()),
                format!("{nominal}, of the tails of {body}, is no lumber size of this era"),
                "give `section`: thickness and depth as measured",
            ));
            return None;
        };
        let one = |what: &str, inches: f64| {
            Sized::of(Origin::plain(of(what), inches, Why::Row(format!("{nominal}, {era}"))))
        };
        Some([
            one("thickness", section.thickness.in_inches()),
            one("depth", section.width.in_inches()),
        ])
    }

    /// Thickness of the boards under the eaves of a body; nothing where no wall
    /// there has one.
    fn eave_trim(&self, building: &Building, body: &Body) -> Option<Arc<Origin>> {
        let profile = body.profile.as_ref()?;
        let has = |side: &Side| {
            let id = FaceId::new(&body.name, *side);
            building.wall(&id).is_some() && self.trim_of(&id).contains(&TrimBoard::Frieze)
        };
        let sizes = self.job.trim_of(&body.name);
        sizes.frieze.as_ref()?;
        let mut eaves = Side::ALL.into_iter().filter(|side| !profile.is_gable(*side));
        eaves.any(|side| has(&side)).then(|| self.trim_thickness(&sizes))
    }

    /// What lies on the sheet of a roof, at full size: shingles count with the
    /// plies at a butt.
    pub(super) fn covering(&self, body: &Body) -> Arc<Origin> {
        let said = self.job.bodies.get(body.index).and_then(|body| body.roof.as_ref());
        let name = said.and_then(|roof| roof.cladding.as_ref());
        let Some(cladding) = name.and_then(|name| self.cladding(name)) else {
            return Origin::plain("covering of the roof", 0.0, Why::Default("none"));
        };
        let one = self.thickness(&cladding.name).enlarged(self.scale).origin;
        if cladding.kind != CladdingKind::Shingle {
            return one;
        }
        let why = Why::Default("three at a butt, common practice, no source");
        let plies = Origin::plain("plies of shingles", PLIES, why);
        Origin::rule("covering of the roof", "the plies at a butt", &[&one, &plies], |of| {
            of[0] * of[1]
        })
    }

    /// The roofs of one slope against the same wall that an eave passes over.
    fn passes(&self, building: &Building, body: &Body, eave: &Eave) -> Vec<Passes> {
        let Some(own) = building.bodies.iter().position(|it| it.name == body.name) else {
            return Vec::new();
        };
        let lower = building.bodies.iter().filter(|it| it.host() == Some((own, eave.over)));
        lower.filter_map(|lower| self.pass(body, eave, lower)).collect()
    }

    fn pass(&self, body: &Body, eave: &Eave, lower: &Body) -> Option<Passes> {
        let profile = lower.profile.filter(|it| it.runs == super::Ridge::Along)?;
        let meets = profile.height(0.0, profile.depth);
        // A roof that meets the wall above the eave is not under it.
        if meets >= body.eave.length.in_inches() {
            return None;
        }
        let sheet = {
            let one = self.ratio();
            Origin::rule("roof sheet", "at full size", &[&lower.sheet.1, &one], |of| of[0] * of[1])
        };
        let covering = self.covering(lower);
        let under = [
            &body.eave.origin,
            &body.pitch,
            &lower.eave.origin,
            &lower.pitch,
            &lower.depth.origin,
            &sheet,
            &covering,
        ];
        let least = |what: &str, more: &[&Arc<Origin>], work: Work| {
            let of: Vec<&Arc<Origin>> = under.iter().chain(more).copied().collect();
            let what = format!("{what} of {} over {}", body.name, lower.name);
            Sized::rule(what, "least along its run, over the covering", &of, work)
        };
        let tails = eave.tails.as_ref().map(|tails| {
            let [from, to] = &tails.run;
            least("tails", &[&from.origin, &to.origin, &tails.deep.origin], |of| {
                let low = |run: f64| of[0] - of[1] * run - of[9] * of[1].hypot(1.0) - top(of, run);
                low(of[7]).min(low(of[8]))
            })
        });
        let fascia = eave.fascia.as_ref().map(|board| {
            let [over, _] = &body.overhangs;
            least("fascia", &[over, &board.thick.origin, &board.depth.origin], |of| {
                let low = of[0] - of[1] * of[7] - of[9];
                (low - top(of, of[7] - of[8])).min(low - top(of, of[7]))
            })
        });
        Some(Passes { body: lower.name.clone(), tails, fascia })
    }

    fn too_low(&mut self, eave: &Eave) {
        for pass in &eave.passes {
            let low = |it: &Option<Sized<Compressed>>| {
                it.as_ref().is_some_and(|free| free.length.in_inches() < 0.0)
            };
            if low(&pass.tails) || low(&pass.fascia) {
                self.findings.push(Finding::look(
                    Subject::Member(pass.body.clone()),
                    format!("the eave of {} does not clear the roof of {}", eave.body, pass.body),
                    "lower that roof, or shorten tails and fascia",
                ));
            }
        }
    }
}

/// Top of the covering of a lower roof, so far out from the wall.
fn top(of: &[f64], run: f64) -> f64 {
    of[2] + of[3] * (of[4] - run) + (of[5] + of[6]) * of[3].hypot(1.0)
}

/// The length of an eave edge: that of its plane, or what a valley leaves of it.
fn eave_length(plane: &RoofPlane, edge: f64) -> Sized<Compressed> {
    if (plane.eave.length.in_inches() - edge).abs() < TOUCH {
        return plane.eave.clone();
    }
    let why = Why::Default("what the roof that runs in leaves of it");
    Sized::of(Origin::plain(format!("eave of {}", plane.body), edge, why))
}

impl Tails {
    /// The same along an eave: the outer faces of the first and the last flush
    /// with its ends, the others at their centres from the first.
    fn along(&self, long: f64) -> Self {
        let half = self.wide.length.in_inches() / 2.0;
        let every = self.places[2];
        let room = (long - 2.0 * half).max(0.0);
        let bays = (room / every - WHOLE).ceil().max(0.0);
        Self { count: bays as u32 + 1, places: [half, long - half, every], ..self.clone() }
    }
}
