//! The room inside a body that its walls leave, and what stands in it.

use std::sync::Arc;

use super::body::Body;
use super::layer::Role;
use super::origin::{Origin, Sized, Why};
use super::{Building, Raise, Wall};
use crate::job::body::Side;
use crate::job::wall::Grain;
use crate::quantity::{Compressed, Model};

/// The gap left behind a building cut at its ridge, on the model, inches:
/// the trade's 30 thou.
const BACKDROP: f64 = 30.0;

/// The inside of a body.
#[derive(Clone, Debug)]
pub struct Inside {
    /// The body.
    pub body: String,
    /// Along its front, between the cores.
    pub length: Sized<Compressed>,
    /// Behind its front, between the cores or to what it stands against.
    pub depth: Sized<Compressed>,
    /// The left and the front of that room, from the front's left corner.
    pub corner: [f64; 2],
    /// The floor, where it has one.
    pub floor: Option<Floor>,
    /// What the uprights inside stand under: the ledger's underside, or the
    /// eave.
    pub under: Sized<Compressed>,
    /// The ledger that a roof which lifts off is kept by: foot and top.
    pub ledger: Option<[Sized<Compressed>; 2]>,
    /// The box under such a roof.
    pub lid: Option<Lid>,
}

/// A floor: its underside is flush with the foot of the walls.
#[derive(Clone, Debug)]
pub struct Floor {
    /// The longer side, along its grain.
    pub length: Sized<Compressed>,
    /// The shorter side.
    pub width: Sized<Compressed>,
    /// Its thickness on the model.
    pub thick: Sized<Model>,
    /// The same at full size, inches.
    pub full: f64,
}

/// The box under a roof that lifts off: its ends stand between its sides.
#[derive(Clone, Debug)]
pub struct Lid {
    /// Length of a side, along the ridge.
    pub side: Sized<Compressed>,
    /// Length of an end.
    pub end: Sized<Compressed>,
    /// Height of the sides at front and back, at their outer face.
    pub low: [Sized<Compressed>; 2],
    /// The same at their inner face.
    pub high: [Sized<Compressed>; 2],
    /// Its foot above the foot of the walls.
    pub foot: Sized<Compressed>,
    /// Its sheet at full size, inches.
    pub full: f64,
}

impl Raise<'_> {
    /// The inside of every body with walls.
    pub(super) fn insides(&mut self, building: &Building) -> Vec<Inside> {
        let walled = building.bodies.iter().filter(|body| !body.on_posts() && body.deck.is_none());
        walled.map(|body| self.inside(building, body)).collect()
    }

    fn inside(&mut self, building: &Building, body: &Body) -> Inside {
        let wall = |side| {
            building.walls.iter().find(|wall| wall.id.body == body.name && wall.id.side == side)
        };
        let thick = |side| self.through(wall(side));
        let [front, right, left] = [Side::Front, Side::Right, Side::Left].map(thick);
        let back = match wall(Side::Back) {
            Some(back) => self.through(Some(back)),
            None => self.bare_behind(building, body),
        };
        let between =
            |what: &str, whole: &Sized<Compressed>, a: &[Arc<Origin>], b: &[Arc<Origin>]| {
                let of: Vec<&Arc<Origin>> =
                    std::iter::once(&whole.origin).chain(a).chain(b).collect();
                let rule = "from inside to inside: less the walls on both sides";
                Sized::rule(format!("{what} inside {}", body.name), rule, &of, |of| {
                    of[0] - of[1..].iter().sum::<f64>()
                })
            };
        let length = between("length", &body.length, &left, &right);
        let depth = between("depth", &body.depth, &front, &back);
        let sum = |of: &[Arc<Origin>]| of.iter().map(|it| it.value).sum::<f64>();
        let ledger = self.ledger(body);
        let under = match &ledger {
            Some([foot, _]) => foot.clone(),
            None => body.eave.clone(),
        };
        let mut inside = Inside {
            body: body.name.clone(),
            floor: self.floor(building, body, &length, &depth),
            corner: [sum(&left), sum(&front)],
            length,
            depth,
            under,
            ledger,
            lid: None,
        };
        inside.lid = self.lid(body, &inside);
        inside
    }

    /// The thicknesses that a wall takes of a body's inside.
    fn through(&self, wall: Option<&Wall>) -> Vec<Arc<Origin>> {
        let layers = wall.into_iter().flat_map(|wall| &wall.layers);
        layers.map(|layer| layer.thick.enlarged(self.scale).origin).collect()
    }

    /// What an inside reaches on behind a body: the cladding that is missing on
    /// the wall it stands against, below zero.
    fn bare_behind(&self, building: &Building, body: &Body) -> Vec<Arc<Origin>> {
        let Some((host, side)) = body.host() else { return Vec::new() };
        let host = &building.bodies[host];
        let wall = building.walls.iter().find(|w| w.id.body == host.name && w.id.side == side);
        let Some(wall) = wall.filter(|w| w.behind.iter().any(|it| it.body == body.name && it.bare))
        else {
            return Vec::new();
        };
        let cladding = wall.layers.iter().filter(|layer| layer.role == Role::Cladding);
        let minus = |full: Sized<Compressed>| {
            Origin::rule("bare behind", "no cladding there", &[&full.origin], |of| -of[0])
        };
        cladding.map(|layer| minus(layer.thick.enlarged(self.scale))).collect()
    }

    fn floor(
        &self,
        building: &Building,
        body: &Body,
        length: &Sized<Compressed>,
        depth: &Sized<Compressed>,
    ) -> Option<Floor> {
        let said = &self.job.bodies[body.index];
        let walls = building.walls.iter().filter(|wall| wall.id.body == body.name);
        let core = walls.flat_map(|wall| &wall.layers).find(|layer| self.is_sheet(layer));
        let thick = match (&said.floor_thick, core) {
            (Some(said), _) => {
                Self::on_model(format!("thickness of the floor of {}", body.name), said)
            }
            (None, Some(core)) => core.thick.clone(),
            (None, None) => return None,
        };
        // A front alone, and what stands on a roof, have none.
        let closed = body.sides.len() > 1 && !body.on_roof();
        if !said.floor.unwrap_or(closed) {
            return None;
        }
        let fit = self.fit("floor", 12.0).enlarged(self.scale).origin;
        let behind = if body.half {
            let gap = self.fit("backdrop", BACKDROP);
            gap.enlarged(self.scale).origin
        } else {
            Arc::clone(&fit)
        };
        let what = |what: &str| format!("{what} of the floor of {}", body.name);
        let rule = "inside, less the floor's fit all round";
        let along =
            Sized::rule(what("length"), rule, &[&length.origin, &fit], |of| of[0] - 2.0 * of[1]);
        let across = Sized::rule(what("width"), rule, &[&depth.origin, &fit, &behind], |of| {
            of[0] - of[1] - of[2]
        });
        let zero = crate::quantity::CompressedLength::ZERO;
        if along.length <= zero || across.length <= zero {
            return None;
        }
        let full = thick.enlarged(self.scale).length.in_inches();
        let (length, width) =
            if along.length >= across.length { (along, across) } else { (across, along) };
        Some(Floor { length, width, thick, full })
    }

    /// Whether a layer is a sheet that a floor may be cut from too: a core with
    /// a grain, or an engraved sheet that is the wall alone.
    fn is_sheet(&self, layer: &super::Layer) -> bool {
        match layer.role {
            Role::Cladding => false,
            Role::Core => layer.grain != Grain::None,
            Role::Single => self.cladding(&layer.id.layer).is_some_and(|it| it.scribed),
        }
    }

    /// Foot and top of the ledger inside, of a roof that lifts off.
    fn ledger(&self, body: &Body) -> Option<[Sized<Compressed>; 2]> {
        let roof = self.job.bodies[body.index].roof.as_ref().filter(|roof| roof.lifts_off)?;
        let of = |what: &str| format!("{what} of the ledger inside {}", body.name);
        let (under, thick) = match &roof.ledger {
            Some(said) => (
                Self::on_model(of("depth under the eave"), &said.under),
                Self::on_model(of("side"), &said.thick),
            ),
            None => {
                let usual = |what: &str, inches: f64| {
                    let why = Why::Default(
                        "1/8 in square, 3/8 in under the eave: common practice, no source",
                    );
                    Sized::of(Origin::plain(of(what), inches, why))
                };
                (usual("depth under the eave", 0.375), usual("side", 0.125))
            }
        };
        let (under, thick) = (under.enlarged(self.scale).origin, thick.enlarged(self.scale).origin);
        let top = Sized::rule(of("top"), "under the eave", &[&body.eave.origin, &under], |of| {
            of[0] - of[1]
        });
        let foot = Sized::rule(of("foot"), "its top less its side", &[&top.origin, &thick], |of| {
            of[0] - of[1]
        });
        Some([foot, top])
    }

    /// The box under a roof that lifts off.
    fn lid(&self, body: &Body, inside: &Inside) -> Option<Lid> {
        let said = self.job.bodies[body.index].roof.as_ref()?;
        let [_, ledger] = inside.ledger.as_ref()?;
        body.profile.as_ref()?;
        let of = |what: &str| format!("{what} of the box under the roof of {}", body.name);
        let thick = match &said.box_thick {
            Some(said) => Self::on_model(of("sheet"), said),
            None => Sized::of(Arc::clone(&body.sheet.1)),
        };
        let thick = thick.enlarged(self.scale);
        let fit = self.fit("roof", 15.0).enlarged(self.scale).origin;
        let gap = {
            let why = Why::Default("1/32 in over the ledger, common practice, no source");
            Sized::<Model>::of(Origin::plain("gap over the ledger", 1.0 / 32.0, why))
                .enlarged(self.scale)
                .origin
        };
        let foot =
            Sized::rule(of("foot"), "1/32 in over the ledger", &[&ledger.origin, &gap], |of| {
                of[0] + of[1]
            });
        let side = Sized::rule(
            of("side"),
            "inside, less the roof's fit each side",
            &[&inside.length.origin, &fit],
            |of| of[0] - 2.0 * of[1],
        );
        let end = Sized::rule(
            of("end"),
            "inside, less the roof's fit each side and the two sides of the box",
            &[&inside.depth.origin, &fit, &thick.origin],
            |of| of[0] - 2.0 * of[1] - 2.0 * of[2],
        );
        let pitch = &body.pitch;
        let eave = &body.eave.origin;
        let low = [0, 1].map(|at| {
            let wall = Origin::rule(
                "wall",
                "what the wall takes of the inside",
                &self.wall_at(body, at).iter().collect::<Vec<_>>(),
                |of| of.iter().sum(),
            );
            Sized::rule(
                of("height"),
                "under the sheet there, to its foot",
                &[eave, pitch, &wall, &fit, &foot.origin],
                |of| of[0] + of[1] * (of[2] + of[3]) - of[4],
            )
        });
        let high = [0, 1].map(|at| {
            let low: &Sized<Compressed> = &low[at];
            let rule = "its outer height and the pitch times its sheet";
            Sized::rule(of("inner height"), rule, &[&low.origin, pitch, &thick.origin], |of| {
                of[0] + of[1] * of[2]
            })
        });
        Some(Lid { side, end, low, high, foot, full: thick.length.in_inches() })
    }

    /// Thicknesses of the front, 0, or the back, 1, of a body.
    fn wall_at(&self, body: &Body, at: usize) -> Vec<Arc<Origin>> {
        let side = if at == 0 { Side::Front } else { Side::Back };
        if !body.has(side) {
            return Vec::new();
        }
        let stack = self.stack(&self.names(body, side));
        self.full_of(&stack, |_| true)
    }
}
