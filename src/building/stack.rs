//! What a wall is made of, and how thick each layer is: as what is bought.

use super::Raise;
use super::body::Body;
use super::layer::Role;
use super::origin::{Origin, Sized, Why};
use crate::job::body::{self as said, FaceId, Side};
use crate::job::building::{Cladding, CladdingKind};
use crate::job::wall::{Does, Grain};
use crate::quantity::{Model, ModelLength};

/// A layer before it is placed.
#[derive(Clone, Debug)]
pub(super) struct Sheet {
    /// Its name: that of the `[[layer]]`, or of the lowest cladding.
    pub(super) name: String,
    pub(super) role: Role,
    /// Names of its claddings, from the foot up.
    pub(super) claddings: Vec<String>,
    pub(super) thick: Sized<Model>,
    /// At full size, inches.
    pub(super) full: f64,
    pub(super) grain: Grain,
    pub(super) material: Option<String>,
}

/// The layers of a wall, from outside in.
#[derive(Clone, Debug, Default)]
pub(super) struct Stack {
    pub(super) sheets: Vec<Sheet>,
}

impl Stack {
    /// Thickness of what covers the core.
    pub(super) fn cladding(&self) -> f64 {
        self.sheets.iter().filter(|it| it.role == Role::Cladding).map(|it| it.full).sum()
    }

    /// Thickness of the rest.
    pub(super) fn core(&self) -> f64 {
        self.sheets.iter().filter(|it| it.role != Role::Cladding).map(|it| it.full).sum()
    }
}

impl Raise<'_> {
    /// Names of the layers of a wall of a body, from outside in.
    pub(super) fn layers_said(&self, body: &said::Body, side: Side) -> Vec<String> {
        let wall = self.job.wall(&FaceId::new(&body.name, side));
        wall.and_then(|wall| wall.layers.clone())
            .or_else(|| body.layers.clone())
            .unwrap_or_else(|| self.job.usual.layers.clone())
    }

    /// Names of the layers of a wall as built.
    pub(super) fn names(&self, body: &Body, side: Side) -> Vec<String> {
        match body.deck {
            Some(deck) => self.job.decks[deck].layers.clone(),
            None => self.layers_said(&self.job.bodies[body.index], side),
        }
    }

    /// The layers of a wall by their names.
    pub(super) fn stack(&self, names: &[String]) -> Stack {
        let cores = |name: &String| self.job.layers.iter().any(|it| &it.name == name);
        let carries = names.iter().position(cores);
        let sheet = |(at, name): (usize, &String)| {
            let role = match carries {
                None if at + 1 == names.len() => Role::Single,
                Some(core) if at >= core => Role::Core,
                _ => Role::Cladding,
            };
            self.sheet(name, role)
        };
        Stack { sheets: names.iter().enumerate().map(sheet).collect() }
    }

    fn sheet(&self, name: &str, role: Role) -> Sheet {
        let thick = self.thickness(name);
        let full = thick.enlarged(self.scale).length.in_inches();
        if let Some(layer) = self.job.layers.iter().find(|it| it.name == name) {
            return Sheet {
                name: name.to_owned(),
                role,
                claddings: Vec::new(),
                thick,
                full,
                grain: layer.grain(),
                material: layer.material.clone(),
            };
        }
        let claddings: Vec<String> = parts(name).map(str::to_owned).collect();
        let lowest = claddings.first().cloned().unwrap_or_default();
        Sheet { name: lowest, role, claddings, thick, full, grain: Grain::Up, material: None }
    }

    /// Thickness of a layer on the model: as stated, else that of the stock
    /// taken, else what is wanted.
    pub(super) fn thickness(&self, name: &str) -> Sized<Model> {
        let what = format!("thickness of {name}");
        if let Some(layer) = self.job.layers.iter().find(|it| it.name == name) {
            if let Some(said) = &layer.thick {
                return Self::on_model(what, said);
            }
            let usual = match layer.does {
                Does::Core | Does::Roof | Does::Floor => 1.0 / 16.0,
            };
            return self.bought(what, name).unwrap_or_else(|| {
                let why = Why::Default("1/16 in, common practice, no source");
                Sized::of(Origin::plain(format!("thickness of {name}"), usual, why))
            });
        }
        let claddings = parts(name).filter_map(|name| self.cladding(name));
        let thick = claddings.map(|cladding| self.cladding_thickness(cladding));
        let thickest = thick.max_by(|a, b| a.length.total_cmp(&b.length));
        thickest.unwrap_or_else(|| {
            Sized::of(Origin::plain(what, 0.0, Why::Default("no layer of that name")))
        })
    }

    pub(super) fn cladding(&self, name: &str) -> Option<&Cladding> {
        self.job.claddings.iter().find(|it| it.name == name)
    }

    fn cladding_thickness(&self, cladding: &Cladding) -> Sized<Model> {
        let what = format!("thickness of {}", cladding.name);
        if let Some(said) = &cladding.thick {
            return Self::on_model(what, said);
        }
        if let Some(bought) = self.bought(what.clone(), &section(cladding)) {
            return bought;
        }
        let said = cladding.thickness.as_ref();
        let found = said.and_then(|size| Some((size, self.survey.size(size).ok()?)));
        let (full, why) = match found {
            Some((size, found)) => (found.value.in_inches(), Why::Said(size.clone())),
            None => usual_thickness(cladding.kind),
        };
        let full = Origin::plain(what.clone(), full, why);
        let one = self.scale.enlarge::<crate::quantity::Compressed>(ModelLength::inches(1.0));
        let ratio = Origin::plain("scale", one.in_inches(), Why::Stated(self.scale.name.clone()));
        Sized::rule(what, "the size at full size on the model", &[&full, &ratio], |of| {
            of[0] / of[1]
        })
    }

    /// Thickness of the stock taken for a section.
    fn bought(&self, what: String, section: &str) -> Option<Sized<Model>> {
        let made = self.stock.of(section)?.taken()?;
        let inches = made.gives.thickness.in_inches();
        Some(Sized::of(Origin::plain(what, inches, Why::Row(format!("{}, as bought", made.stock)))))
    }
}

/// How thick a cladding is where nothing says, inches at full size: common
/// practice, no source.
fn usual_thickness(kind: CladdingKind) -> (f64, Why) {
    match kind {
        CladdingKind::Corrugated => {
            (0.5, Why::Default("1/2 in deep corrugation, common practice, no source"))
        }
        CladdingKind::Clapboard | CladdingKind::Shingle => {
            (0.5, Why::Default("1/2 in at the butt, common practice, no source"))
        }
        CladdingKind::BoardAndBatten | CladdingKind::Boards | CladdingKind::Brick => {
            (1.0, Why::Default("1 in, common practice, no source"))
        }
    }
}

/// The key of a cladding's sheet or board in the stock.
fn section(cladding: &Cladding) -> String {
    let piece = match cladding.kind {
        CladdingKind::BoardAndBatten | CladdingKind::Boards if !cladding.scribed => "board",
        CladdingKind::Clapboard | CladdingKind::Shingle => "strip",
        _ => "sheet",
    };
    format!("{} {piece}", cladding.name)
}

/// The claddings of a layer, from the foot up: `brick + boards`.
pub(super) fn parts(name: &str) -> impl Iterator<Item = &str> {
    name.split('+').map(str::trim).filter(|part| !part.is_empty())
}
