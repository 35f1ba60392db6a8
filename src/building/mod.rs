//! Sizes -> solids: the building in three dimensions, which every later stage
//! reads.
//!
//! | file | what it holds |
//! |---|---|
//! | `scheme` | the building as plain numbers, for every alternative compared |
//! | `origin` | a size with the chain of its reasons |
//! | `place` | frames, quarter turns, planes, reach on the plan |
//! | `body`, `profile` | bodies at their places; the underside of a roof over one |
//! | `wall`, `walls`, `outline` | walls and the shapes cut out of them |
//! | `corner`, `layer`, `stack`, `hole` | how walls meet, layer by layer; holes through layers |
//! | `roof`, `slopes`, `shape` | roof planes with typed edges, and where roofs meet |
//! | `inside` | floors, corner blocks' height, the box under a roof that lifts off |
//! | `eaves`, `near` | tails and fascias; how bodies lie to one another on a roof |
//! | `frame`, `timbers` | members with two ends: of roofs on posts, and by their own place |
//! | `trim` | which trim boards a wall has, how thick |
//! | `leaf`, `flange`, `bought`, `wire` | door leaves, flanges beside trim, bought parts, wires of lamps |
//! | `meeting` | which of two pieces that meet is trimmed, and by how much |
//! | `ground` | decks, steps, terraces, the base |
//! | `solid` | everything as flat shapes pushed out, for clearance and pictures |
//!
//! [`raise`] never stops: what cannot be built is left out and told. The frame
//! is that of [`place`]; lengths inside sums are inches at full size.

mod body;
mod bought;
mod clash;
mod corner;
mod eaves;
mod flange;
mod frame;
mod ground;
mod hole;
mod inside;
mod layer;
mod leaf;
mod meeting;
mod near;
pub mod origin;
pub mod outline;
pub mod place;
mod profile;
mod roof;
pub mod scheme;
pub(crate) mod shape;
mod slopes;
mod solid;
mod stack;
#[cfg(test)]
mod tests;
mod timbers;
mod trim;
mod wall;
mod walls;
mod wire;

pub use body::{Body, Stand};
pub use bought::Bought;
pub use corner::Corner;
pub use eaves::{Eave, Fascia, Passes, Tails};
pub use flange::Flange;
pub use frame::{End, Housing, Member, MemberKind};
pub use ground::{BasePlate, Deck, Flight, Retaining};
pub use inside::{Floor, Inside, Lid};
pub use layer::{EdgeCut, Layer, LayerHole, LayerId, Role};
pub use leaf::{Brace, Leaf};
pub use meeting::Meeting;
pub use origin::{Origin, Sized, Why};
pub use outline::{Outline, Point};
pub use place::{Frame, Plane, Reach};
pub use profile::{Profile, Ridge};
pub use roof::{Edge, EdgeKind, RoofPlane, Valley};
pub use scheme::{Scheme, Shape};
pub use solid::{Solid, SolidKind};
pub use timbers::end_cut;
pub use trim::trim_of;
pub use wall::{Behind, HoleWhy, Line, Reasons, Wall, line_at, no_area};
pub use wire::WireRun;

use std::sync::Arc;

use crate::catalog::Catalog;
use crate::elevation::Built;
use crate::finding::{Finding, Outcome, Subject};
use crate::job::Job;
use crate::job::body as said;
use crate::job::body::{FaceId, Side};
use crate::job::place::Counts;
use crate::job::said::{Said, Size};
use crate::quantity::{Compressed, Model, ModelLength, Scale};
use crate::stock::Choices;
use crate::survey::Survey;

/// The building as it is built.
#[derive(Clone, Debug, Default)]
pub struct Building {
    /// Its bodies, the main one first.
    pub bodies: Vec<Body>,
    /// Its walls, body by body.
    pub walls: Vec<Wall>,
    /// How they meet.
    pub corners: Vec<Corner>,
    /// What is inside each body: the room the layers leave.
    pub insides: Vec<Inside>,
    /// The planes of its roofs.
    pub planes: Vec<RoofPlane>,
    /// Where roofs meet in valleys.
    pub valleys: Vec<Valley>,
    /// Timbers with their places.
    pub members: Vec<Member>,
    /// Decks with what closes them.
    pub decks: Vec<Deck>,
    /// Retaining walls.
    pub terraces: Vec<Retaining>,
    /// The plate it stands on.
    pub base: Option<BasePlate>,
    /// Eaves with tails or fascias.
    pub eaves: Vec<Eave>,
    /// Door leaves.
    pub leaves: Vec<Leaf>,
    /// Flanges beside trim.
    pub flanges: Vec<Flange>,
    /// Bought parts that stand on it.
    pub bought: Vec<Bought>,
    /// Wires of the lamps under its roofs.
    pub wires: Vec<WireRun>,
    /// What counts on the plan, from walls alone to everything.
    reaches: [Option<Reach>; 3],
}

impl Building {
    /// A body by its name.
    #[must_use]
    pub fn body(&self, name: &str) -> Option<&Body> {
        self.bodies.iter().find(|body| body.name == name)
    }

    /// A wall.
    #[must_use]
    pub fn wall(&self, id: &FaceId) -> Option<&Wall> {
        self.walls.iter().find(|wall| wall.id == *id)
    }

    /// The walls of a body.
    pub fn walls_of<'a>(&'a self, body: &'a str) -> impl Iterator<Item = &'a Wall> {
        self.walls.iter().filter(move |wall| wall.id.body == body)
    }

    /// The main front.
    #[must_use]
    pub fn front(&self) -> Option<&Wall> {
        self.walls.first()
    }

    /// What the building covers on the plan, inches at full size.
    #[must_use]
    pub fn footprint(&self, counts: Counts) -> Option<Reach> {
        let at = match counts {
            Counts::Walls => 0,
            Counts::Eaves => 1,
            Counts::All => 2,
        };
        self.reaches[at]
    }
}

/// What the building is raised from.
#[derive(Clone, Copy, Debug)]
pub struct Given<'a> {
    /// The job.
    pub job: &'a Job,
    /// The data: fits.
    pub catalog: &'a Catalog,
    /// The dimensions.
    pub survey: &'a Survey,
    /// The main body and the faces as shortened.
    pub built: &'a Built,
    /// Stock taken: a layer is as thick as what is bought.
    pub stock: &'a Choices,
    /// The scale.
    pub scale: &'a Scale,
    /// The building as numbers.
    pub scheme: &'a Scheme,
}

/// Raises the building. What cannot be built is left out and told.
#[must_use]
pub fn raise(given: Given<'_>) -> Outcome<Building> {
    let Given { job, catalog, survey, built, stock, scale, scheme } = given;
    let shape = Shape {
        front: built.body.length.in_inches(),
        depth: built.body.depth.in_inches(),
        roof: built.roof,
    };
    let findings = Vec::new();
    let mut raise = Raise { job, catalog, survey, built, stock, scale, scheme, shape, findings };
    let bodies = raise.bodies();
    let (walls, corners) = raise.walls(&bodies);
    let mut building = Building { bodies, walls, corners, ..Building::default() };
    building.insides = raise.insides(&building);
    (building.planes, building.valleys) = raise.planes(&building);
    building.members = raise.members(&building);
    raise.on_the_ground(&mut building);
    building.eaves = raise.eaves(&building);
    building.leaves = raise.leaves(&building);
    building.flanges = raise.flanges(&building);
    building.bought = raise.bought_parts(&building);
    building.wires = raise.wires(&building);
    raise.ridges_that_die_inside(&building);
    raise.roofs_that_clash(&building);
    building.reaches = [Counts::Walls, Counts::Eaves, Counts::All]
        .map(|counts| Some(scheme.reach(&shape, counts)));
    Outcome { value: building, findings: raise.findings }
}

/// What is known while a building is raised.
pub(crate) struct Raise<'a> {
    job: &'a Job,
    catalog: &'a Catalog,
    survey: &'a Survey,
    built: &'a Built,
    stock: &'a Choices,
    scale: &'a Scale,
    scheme: &'a Scheme,
    shape: Shape,
    findings: Vec<Finding>,
}

impl Raise<'_> {
    /// A size with its reason; one that is not known is told.
    fn said(&mut self, what: String, size: &Size, of: &str) -> Option<Sized<Compressed>> {
        let value = self.inches(size, of)?;
        Some(Sized::of(Origin::plain(what, value, Why::Said(size.clone()))))
    }

    /// A size in inches; one that is not known is told.
    fn inches(&mut self, size: &Size, of: &str) -> Option<f64> {
        match self.survey.size(size) {
            Ok(found) => Some(found.value.in_inches()),
            Err(stop) => {
                let message = format!("{of}: {}", stop.trouble);
                let subject = Subject::Member(of.to_owned());
                self.findings.push(Finding::trouble(subject, message, stop.hint));
                None
            }
        }
    }

    /// A size with its reason, or a default with its source.
    fn said_or(
        &mut self,
        what: String,
        size: Option<&Size>,
        of: &str,
        (otherwise, source): (f64, &'static str),
    ) -> Sized<Compressed> {
        let found = size.and_then(|size| self.said(what.clone(), size, of));
        found.unwrap_or_else(|| Sized::of(Origin::plain(what, otherwise, Why::Default(source))))
    }

    /// Whether a face, by its text, is the main front.
    fn is_front(&self, face: &str) -> bool {
        self.job.front().is_some_and(|front| front.to_string() == face)
    }

    /// A length on the model with its reason.
    fn on_model(what: String, said: &Said<Model>) -> Sized<Model> {
        let inches = said.length().in_inches();
        Sized::of(Origin::plain(what, inches, Why::Stated(said.text().to_owned())))
    }

    /// A fit of the data, on the model.
    fn fit(&self, key: &str, otherwise: f64) -> Sized<Model> {
        let row = self.catalog.fits.get(key);
        let what = format!("fit of a {key}, a side");
        match row {
            Some(row) => {
                let inches = row.take.length().in_inches();
                Sized::of(Origin::plain(
                    what,
                    inches,
                    Why::Row(format!("{}, {}", row.name, row.source)),
                ))
            }
            None => {
                let inches = ModelLength::thou(otherwise).in_inches();
                Sized::of(Origin::plain(what, inches, Why::Default("judgement")))
            }
        }
    }

    /// The sheet of a body's roof: its thickness at full size, and why on the
    /// model.
    fn roof_sheet(&self, body: &said::Body) -> (f64, Arc<Origin>) {
        let named = body.roof.as_ref().and_then(|roof| roof.sheet.as_ref());
        let core = || {
            let layers = self.layers_said(body, Side::Front);
            let core =
                layers.iter().find(|name| self.job.layers.iter().any(|it| it.name == **name));
            core.or(self.job.layers.first().map(|layer| &layer.name)).cloned()
        };
        let name = named.cloned().or_else(core);
        match name {
            Some(name) => {
                let thick = self.thickness(&name);
                (thick.enlarged(self.scale).length.in_inches(), thick.origin)
            }
            None => (0.0, Origin::plain("roof sheet", 0.0, Why::Default("no sheet is named"))),
        }
    }
}
