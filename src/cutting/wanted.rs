//! The parts of the take-off, sorted by the stock they are cut from.
//!
//! [`Wanted`] holds all that a layout depends on and nothing else: it can go
//! to another thread, and its [`Wanted::input`] says whether an answer found
//! there still belongs to the job.

use super::sheets::{SheetJob, SheetPart, SheetStock};
use super::sticks::{StickJob, StickPart, StickStock};
use crate::job::Job;
use crate::job::said::Said;
use crate::quantity::{Compressed, CompressedLength, Model, ModelLength, Scale};
use crate::solve::sheets::Method;
use crate::stock::Choices;
use crate::takeoff::{Form, Part, Takeoff};
use std::collections::BTreeMap;
use std::hash::{DefaultHasher, Hash as _, Hasher as _};

/// Length of a stick where the job does not say.
const STICK_INCHES: f64 = 24.0;
/// Sheet taken where the job names none: across the grain, along it.
const SHEET_INCHES: (f64, f64) = (4.0, 24.0);
/// One count of the whole-number grid.
const GRID_THOU: f64 = 0.5;

/// The sticks wanted of one stock.
#[derive(Clone, Debug, PartialEq)]
pub struct SticksWanted {
    /// The stock.
    pub stock: String,
    /// Usable length of one.
    pub usable: ModelLength,
    /// Length of one as bought.
    pub bought: ModelLength,
    /// Width of a cut.
    pub kerf: ModelLength,
    /// Strips that can be had.
    pub strips: Vec<StickStock>,
    /// The parts cut from them.
    pub parts: Vec<StickPart>,
}

impl SticksWanted {
    /// The same as the solver's side takes it.
    #[must_use]
    pub fn problem(&self) -> StickJob<'_> {
        StickJob {
            stock: &self.strips,
            parts: &self.parts,
            kerf: self.kerf,
            grid: ModelLength::thou(GRID_THOU),
        }
    }
}

/// The sheets wanted of one stock.
#[derive(Clone, Debug, PartialEq)]
pub struct SheetsWanted {
    /// The stock.
    pub stock: String,
    /// Width of a cut.
    pub kerf: ModelLength,
    /// Sheets that can be had.
    pub sheets: Vec<SheetStock>,
    /// The parts cut from them.
    pub parts: Vec<SheetPart>,
}

impl SheetsWanted {
    /// The same as the solver's side takes it: cut with a knife, edge to edge.
    #[must_use]
    pub fn problem(&self) -> SheetJob<'_> {
        SheetJob {
            stock: &self.sheets,
            parts: &self.parts,
            gap: self.kerf,
            margin: ModelLength::ZERO,
            grid: ModelLength::thou(GRID_THOU),
            method: Method::Knife { stages: None },
        }
    }
}

/// Everything a job wants cut.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Wanted {
    /// Sticks, by stock.
    pub sticks: Vec<SticksWanted>,
    /// Sheets, by stock.
    pub sheets: Vec<SheetsWanted>,
}

impl Wanted {
    /// Sorts the parts of a take-off by stock.
    #[must_use]
    pub fn of(job: &Job, stock: &Choices, takeoff: &Takeoff, scale: &Scale) -> Self {
        let mut wanted = Self::default();
        for (name, parts) in grouped(stock, takeoff) {
            let (flat, long): (Vec<&Part>, Vec<&Part>) = parts.into_iter().partition(|p| flat(p));
            if !long.is_empty() {
                wanted.sticks.push(sticks(job, &name, &long));
            }
            if !flat.is_empty() {
                wanted.sheets.push(sheets(job, &name, &flat, scale));
            }
        }
        wanted
    }

    /// A hash of everything a layout depends on: lengths print in full, so two
    /// wants that differ anywhere differ here.
    #[must_use]
    pub fn input(&self) -> u64 {
        let mut hasher = DefaultHasher::new();
        format!("{self:?}").hash(&mut hasher);
        hasher.finish()
    }
}

/// Parts under the name of the stock they are cut from.
fn grouped<'a>(stock: &Choices, takeoff: &'a Takeoff) -> BTreeMap<String, Vec<&'a Part>> {
    let mut by_stock: BTreeMap<String, Vec<&Part>> = BTreeMap::new();
    for part in takeoff.parts.iter().filter(|part| part.form != Form::Bought) {
        let name = stock.of(&part.section).map_or_else(|| part.section.clone(), |c| c.stock_name());
        by_stock.entry(name).or_default().push(part);
    }
    by_stock
}

fn flat(part: &Part) -> bool {
    matches!(part.form, Form::Sheet | Form::SheetAnyWay)
}

fn said(said: Option<&Said<Model>>, otherwise: f64) -> ModelLength {
    said.map_or(ModelLength::inches(otherwise), Said::length)
}

fn sticks(job: &Job, name: &str, parts: &[&Part]) -> SticksWanted {
    let cutting = &job.cutting;
    let bought = said(cutting.stick.as_ref(), STICK_INCHES);
    let usable = bought - said(cutting.trim.as_ref(), 0.0);
    let part = |part: &&Part| StickPart {
        label: part.label.clone(),
        length: part.model_length,
        quantity: part.count,
    };
    SticksWanted {
        stock: name.to_owned(),
        usable,
        bought,
        kerf: said(cutting.kerf.as_ref(), 0.0),
        strips: vec![StickStock { name: name.to_owned(), length: usable, cost: 1, supply: None }],
        parts: parts.iter().map(part).collect(),
    }
}

fn sheets(job: &Job, name: &str, parts: &[&Part], scale: &Scale) -> SheetsWanted {
    let hair: CompressedLength = scale.enlarge(ModelLength::thou(GRID_THOU));
    let part = |part: &&Part| SheetPart {
        label: part.label.clone(),
        width: scale.reduce::<Compressed>(part.width.max(hair)),
        height: scale.reduce::<Compressed>(part.length.max(hair)),
        quantity: part.count,
        grain_free: part.form == Form::SheetAnyWay,
    };
    SheetsWanted {
        stock: name.to_owned(),
        kerf: said(job.cutting.kerf.as_ref(), 0.0),
        sheets: sheet_stock(job, name),
        parts: parts.iter().map(part).collect(),
    }
}

fn sheet_stock(job: &Job, name: &str) -> Vec<SheetStock> {
    let sheet = |width: ModelLength, height: ModelLength| SheetStock {
        name: name.to_owned(),
        width,
        height,
        cost: ((width * height).in_square_inches() * 100.0).round() as i64,
        supply: None,
    };
    let said = job.cutting.sheets.iter();
    let said: Vec<SheetStock> =
        said.map(|[width, height]| sheet(width.length(), height.length())).collect();
    if said.is_empty() {
        vec![sheet(ModelLength::inches(SHEET_INCHES.0), ModelLength::inches(SHEET_INCHES.1))]
    } else {
        said
    }
}
