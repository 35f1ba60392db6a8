//! Names that must stand for something, and for only one thing.

use std::collections::{BTreeSet, HashMap, HashSet};
use std::ops::Range;

use super::{Reader, Wrong};
use crate::catalog::Catalog;
use crate::finding::short;
use crate::job::read::nearest;

/// What a name is the name of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Named {
    /// A source of evidence.
    Source,
    /// A dimension.
    Dimension,
    /// A tie.
    Tie,
    /// A reading.
    Reading,
    /// A way of reading: `data/methods.toml`.
    Method,
    /// A photograph.
    Photo,
    /// A mark, or corner of a rectangle, on one photograph.
    Mark,
    /// A plane of one photograph.
    Plane,
    /// A kind of door or window.
    Opening,
    /// What a bay holds: openings, `"a + b"` one above the other.
    InBay,
    /// A cladding.
    Cladding,
    /// A sheet that walls and roofs are made of.
    Layer,
    /// A layer of a wall: a sheet or a cladding, `"a + b"` one above the other.
    InWall,
    /// A body.
    Body,
    /// A wall by body and side: `main/front`.
    Wall,
    /// An element of one wall.
    Element,
    /// A storey of one body.
    Storey,
    /// A kind of timber.
    Member,
    /// A platform.
    Deck,
    /// A car: of the job, or of `data/cars.toml`.
    Car,
    /// Something near the track.
    Obstacle,
    /// A published rule: `data/clearances.toml`.
    Rule,
    /// A published outline: `data/clearances.toml`.
    Outline,
    /// A supply of the lamps.
    Supply,
    /// A string or load of the lamps.
    Lit,
    /// A kind of lamp: `data/lamps.toml`.
    Lamp,
    /// A material that is sold or on the rack.
    Material,
    /// A feature of the look: `data/look.toml`.
    Feature,
}

impl Named {
    /// The word for such a thing.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Source => "source",
            Self::Dimension => "dimension",
            Self::Tie => "tie",
            Self::Reading => "reading",
            Self::Method => "method",
            Self::Photo => "photo",
            Self::Mark => "mark",
            Self::Plane => "plane",
            Self::Opening | Self::InBay => "opening",
            Self::Cladding => "cladding",
            Self::Layer => "layer",
            Self::InWall => "layer or cladding",
            Self::Body => "body",
            Self::Wall => "wall",
            Self::Element => "element",
            Self::Storey => "storey",
            Self::Member => "member",
            Self::Deck => "deck",
            Self::Car => "car",
            Self::Obstacle => "obstacle",
            Self::Rule => "rule",
            Self::Outline => "outline",
            Self::Supply => "supply",
            Self::Lit => "string or load",
            Self::Lamp => "lamp",
            Self::Material => "material",
            Self::Feature => "feature",
        }
    }

    /// Whether it counts only inside the table that holds it.
    #[must_use]
    pub fn is_scoped(self) -> bool {
        matches!(self, Self::Element | Self::Storey | Self::Mark | Self::Plane)
    }

    /// The names that the data give, beside those of the job.
    #[must_use]
    pub fn in_data(self, catalog: &Catalog) -> Vec<&str> {
        match self {
            Self::Method => catalog.methods.rows.iter().map(|row| row.key.as_str()).collect(),
            Self::Car => catalog.cars.rows.iter().map(|row| row.key.as_str()).collect(),
            Self::Rule => catalog.clearances.rules.iter().map(|row| row.key.as_str()).collect(),
            Self::Outline => {
                catalog.clearances.outlines.iter().map(|row| row.key.as_str()).collect()
            }
            Self::Lamp => catalog.lamps.lamps.iter().map(|row| row.key.as_str()).collect(),
            Self::Feature => catalog.look.rows.iter().map(|row| row.key.as_str()).collect(),
            Self::Material => materials(catalog),
            _ => Vec::new(),
        }
    }

    /// More than one of them.
    fn several(self) -> String {
        if self == Self::Body { "bodies".to_owned() } else { format!("{}s", self.word()) }
    }

    /// The declared things that a name of this kind looks for: one is enough.
    pub(in crate::job) fn looks_for(self) -> [Self; 2] {
        match self {
            Self::InBay => [Self::Opening; 2],
            Self::InWall => [Self::Cladding, Self::Layer],
            Self::Wall => [Self::Body; 2],
            _ => [self; 2],
        }
    }

    /// The names that a text of this kind speaks of.
    pub(super) fn parts(self, text: &str) -> Vec<&str> {
        match self {
            Self::InBay | Self::InWall => {
                text.split('+').map(str::trim).filter(|name| !name.is_empty()).collect()
            }
            Self::Wall => text.split('/').take(1).collect(),
            _ => vec![text],
        }
    }
}

fn materials(catalog: &Catalog) -> Vec<&str> {
    let strips = catalog.stock.strips.iter().map(|strip| strip.material.as_str());
    let sheets = catalog.stock.sheets.iter().map(|sheet| sheet.material.as_str());
    strips.chain(sheets).chain(catalog.rack.rows.iter().map(|row| row.material.as_str())).collect()
}

/// A name in the file.
#[derive(Clone, Debug)]
pub(super) struct Spoken {
    pub(super) of: Named,
    pub(super) name: String,
    pub(super) at: Range<usize>,
    pub(super) scope: usize,
}

/// Holds every name that was used against those that were given.
///
/// # Errors
/// The first name that stands twice or for nothing, in the order of the file's
/// tables.
pub(in crate::job) fn resolve(reader: &Reader<'_>, catalog: &Catalog) -> Result<(), Wrong> {
    let gathered = reader.gathered.borrow();
    let mut known: HashMap<(Named, usize), HashSet<&str>> = HashMap::new();
    for one in &gathered.declared {
        let name = one.name.as_str();
        let what = one.of.word();
        if name.trim().is_empty() {
            return Err(Wrong::new(one.at.clone(), format!("this {what} has an empty name"), ""));
        }
        if !known.entry((one.of, one.scope)).or_default().insert(name) {
            let message =
                format!("there are two {} called \"{}\"", one.of.several(), short::word(name));
            return Err(Wrong::new(one.at.clone(), message, "give one of them another name"));
        }
    }
    one_of_a_name(&gathered.declared, &known)?;
    let mut data: HashMap<Named, BTreeSet<&str>> = HashMap::new();
    for one in &gathered.used {
        let looks_for = one.of.looks_for();
        let given = looks_for.map(|of| known.get(&(of, one.scope)));
        let of = looks_for[0];
        let shipped = data.entry(of).or_insert_with(|| of.in_data(catalog).into_iter().collect());
        let is_known = |name: &str| {
            shipped.contains(name) || given.iter().flatten().any(|names| names.contains(name))
        };
        if let Some(name) = one.of.parts(&one.name).into_iter().find(|name| !is_known(name)) {
            let given = given.into_iter().flatten().flatten().copied();
            let all: BTreeSet<&str> = given.chain(shipped.iter().copied()).collect();
            let what = if one.of == Named::InWall { one.of } else { of };
            return Err(unknown(what, name, &all, one.at.clone()));
        }
    }
    Ok(())
}

/// Refuses a sheet that is called as a cladding is: walls name both alike.
fn one_of_a_name(
    declared: &[Spoken],
    known: &HashMap<(Named, usize), HashSet<&str>>,
) -> Result<(), Wrong> {
    let Some(claddings) = known.get(&(Named::Cladding, 0)) else { return Ok(()) };
    let is_both = |one: &&Spoken| one.of == Named::Layer && claddings.contains(one.name.as_str());
    let Some(one) = declared.iter().find(is_both) else { return Ok(()) };
    let message = format!("\"{}\" is a cladding too", short::word(&one.name));
    let hint = "give one of them another name: walls name both alike";
    Err(Wrong::new(one.at.clone(), message, hint))
}

/// That a name stands for nothing, with what was most likely meant.
fn unknown(of: Named, name: &str, known: &BTreeSet<&str>, at: Range<usize>) -> Wrong {
    let what = of.word();
    let hint = match nearest(name, known.iter().copied()) {
        Some(meant) => format!("did you mean \"{meant}\"?"),
        None if known.is_empty() => format!("the job has no {what} yet"),
        None => format!("there are: {}", short::list(known.iter().copied())),
    };
    Wrong::new(at, format!("there is no {what} called \"{}\"", short::word(name)), hint)
}
