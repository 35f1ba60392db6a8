//! The parts of the take-off, sorted by the stock they are cut from.
//!
//! [`Wanted`] holds all that a layout depends on and nothing else: it can go
//! to another thread, and its [`Wanted::input`] says whether an answer found
//! there still belongs to the job.

use super::sheets::{SheetJob, SheetPart, SheetStock};
use super::sticks::{StickJob, StickPart, StickStock};
use crate::finding::{Finding, Outcome, Subject};
use crate::job::Job;
use crate::job::rack::Offcut;
use crate::job::said::Said;
use crate::quantity::{Compressed, CompressedLength, Model, ModelLength, Scale};
use crate::solve::sheets::Method;
use crate::stock::{Choice, Choices, Way};
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
    /// Strips that can be had: new ones, then those on hand, which cost nothing.
    pub strips: Vec<StickStock>,
    /// The parts cut from them.
    pub parts: Vec<StickPart>,
    /// How they are made up, where they are not strip as it comes.
    pub made_up: Option<MadeUp>,
}

/// Sticks that are ripped from sheet, or glued up in layers, or both.
#[derive(Clone, Debug, PartialEq)]
pub struct MadeUp {
    /// What they are made from, as it is sold.
    pub from: String,
    /// Its size where it is sheet: across its grain, along it.
    pub sheet: Option<(ModelLength, ModelLength)>,
    /// Width of a strip.
    pub width: ModelLength,
    /// Strips glued up to one stick.
    pub layers: u32,
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
    /// Sheets that can be had: new ones, then offcuts.
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
    /// Sorts the parts of a take-off by stock. Pieces that are cut already are
    /// left out, offcuts on the rack are had for nothing; pieces that no longer
    /// fit are a finding.
    #[must_use]
    pub fn of(job: &Job, stock: &Choices, takeoff: &Takeoff, scale: &Scale) -> Outcome<Self> {
        let mut wanted = Self::default();
        let mut findings = Vec::new();
        for (name, (choice, parts)) in grouped(stock, takeoff) {
            let (flat, long): (Vec<&Part>, Vec<&Part>) = parts.into_iter().partition(|p| flat(p));
            if !long.is_empty() {
                wanted.sticks.push(sticks(job, &name, choice, &long));
            }
            if !flat.is_empty() {
                wanted.sheets.push(sheets(job, &name, choice, &flat, scale));
            }
        }
        wanted.leave_out_what_is_cut(job, &mut findings);
        wanted.sticks.retain(|one| one.parts.iter().any(|part| part.quantity > 0));
        wanted.sheets.retain(|one| one.parts.iter().any(|part| part.quantity > 0));
        Outcome { value: wanted, findings }
    }

    fn leave_out_what_is_cut(&mut self, job: &Job, findings: &mut Vec<Finding>) {
        for cut in &job.cut {
            let sticks = self.sticks.iter_mut().flat_map(|one| &mut one.parts);
            let sticks = sticks.map(|p| (&p.label, p.length, None, &mut p.quantity));
            let sheets = self.sheets.iter_mut().flat_map(|one| &mut one.parts);
            let sheets = sheets.map(|p| (&p.label, p.height, Some(p.width), &mut p.quantity));
            let part = sticks.chain(sheets).find(|(label, ..)| **label == cut.part);
            match part {
                Some((_, length, width, quantity)) if cut.fit(length, width) => {
                    *quantity = quantity.saturating_sub(cut.count);
                }
                Some(_) => findings.push(Finding::look(
                    Subject::Part(cut.part.clone()),
                    format!(
                        "{} of {} were cut {} long, which is not what is wanted now",
                        cut.count, cut.part, cut.length
                    ),
                    "cut them anew, or set them aside: take their row [[cut]] out of the job",
                )),
                None => findings.push(Finding::note(
                    Subject::Stock(cut.stock.clone()),
                    format!("{} of {} were cut and are no part any more", cut.count, cut.part),
                )),
            }
        }
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

/// Parts under the name of the stock they are cut from, with the choice that
/// named it.
type Grouped<'a> = BTreeMap<String, (Option<&'a Choice>, Vec<&'a Part>)>;

fn grouped<'a>(stock: &'a Choices, takeoff: &'a Takeoff) -> Grouped<'a> {
    let mut by_stock = Grouped::new();
    for part in takeoff.parts.iter().filter(|part| part.form != Form::Bought) {
        let choice = stock.of(&part.section);
        let name = choice.map_or_else(|| part.section.clone(), Choice::stock_name);
        by_stock.entry(name).or_insert((choice, Vec::new())).1.push(part);
    }
    by_stock
}

fn flat(part: &Part) -> bool {
    matches!(part.form, Form::Sheet | Form::SheetAnyWay)
}

fn said(said: Option<&Said<Model>>, otherwise: f64) -> ModelLength {
    said.map_or(ModelLength::inches(otherwise), Said::length)
}

fn sticks(job: &Job, name: &str, choice: Option<&Choice>, parts: &[&Part]) -> SticksWanted {
    let cutting = &job.cutting;
    let trim = said(cutting.trim.as_ref(), 0.0);
    let bought = said(cutting.stick.as_ref(), STICK_INCHES);
    let (bought, usable) = choice.map_or((bought, bought - trim), |choice| choice.lengths(cutting));
    let new = StickStock { name: name.to_owned(), length: usable, cost: 1, supply: None };
    let offcut = |offcut: &Offcut| StickStock {
        name: name.to_owned(),
        length: offcut.length.length(),
        cost: 0,
        supply: Some(offcut.count),
    };
    let part = |part: &&Part| StickPart {
        label: part.label.clone(),
        length: part.model_length,
        quantity: part.count,
    };
    let made_up = choice.and_then(made_up);
    let mut strips = vec![new];
    strips.extend(rack(job, name, false).map(offcut));
    if let Some(choice) = choice.filter(|_| made_up.is_none()) {
        // Shorter than what is lost at their ends they are no use.
        let on_hand = choice.pieces.iter().filter(|piece| piece.length > trim);
        strips.extend(on_hand.map(|piece| StickStock {
            name: piece.name.clone(),
            length: piece.length - trim,
            cost: 0,
            supply: Some(piece.count.unwrap_or(UNCOUNTED)),
        }));
    }
    SticksWanted {
        stock: name.to_owned(),
        usable,
        bought,
        kerf: said(cutting.kerf.as_ref(), 0.0),
        strips,
        parts: parts.iter().map(part).collect(),
        made_up,
    }
}

/// How many there are of what is on hand and not counted.
const UNCOUNTED: u32 = 1000;

fn made_up(choice: &Choice) -> Option<MadeUp> {
    let made = choice.taken().filter(|made| made.way != Way::Single)?;
    Some(MadeUp {
        from: made.stock.clone(),
        sheet: made.sheet.map(|across| (across, made.length)),
        width: made.gives.width,
        layers: made.layers(),
    })
}

fn sheets(
    job: &Job,
    name: &str,
    choice: Option<&Choice>,
    parts: &[&Part],
    scale: &Scale,
) -> SheetsWanted {
    let hair: CompressedLength = scale.enlarge(ModelLength::thou(GRID_THOU));
    let part = |part: &&Part| SheetPart {
        label: part.label.clone(),
        width: scale.reduce::<Compressed>(part.width.max(hair)),
        height: scale.reduce::<Compressed>(part.length.max(hair)),
        quantity: part.count,
        grain_free: part.form == Form::SheetAnyWay,
    };
    let offcut = |offcut: &Offcut| SheetStock {
        name: name.to_owned(),
        width: offcut.width.as_ref().map_or(ModelLength::ZERO, Said::length),
        height: offcut.length.length(),
        cost: 0,
        supply: Some(offcut.count),
    };
    let mut all = sheet_stock(job, name, choice);
    all.extend(rack(job, name, true).map(offcut));
    SheetsWanted {
        stock: name.to_owned(),
        kerf: said(job.cutting.kerf.as_ref(), 0.0),
        sheets: all,
        parts: parts.iter().map(part).collect(),
    }
}

/// The offcuts of one stock, the shortest first.
fn rack<'a>(job: &'a Job, stock: &str, sheets: bool) -> impl Iterator<Item = &'a Offcut> {
    let mut here: Vec<&Offcut> = job
        .offcuts
        .iter()
        .filter(|one| one.stock == stock && one.width.is_some() == sheets && one.count > 0)
        .collect();
    here.sort_by(|a, b| a.length.length().in_inches().total_cmp(&b.length.length().in_inches()));
    here.into_iter()
}

/// Sheets the job names, else the sheet as it is sold; then those on hand.
fn sheet_stock(job: &Job, name: &str, choice: Option<&Choice>) -> Vec<SheetStock> {
    let sheet = |name: &str, width: ModelLength, height: ModelLength| SheetStock {
        name: name.to_owned(),
        width,
        height,
        cost: ((width * height).in_square_inches() * 100.0).round() as i64,
        supply: None,
    };
    let said = job.cutting.sheets.iter();
    let mut stock: Vec<SheetStock> =
        said.map(|[width, height]| sheet(name, width.length(), height.length())).collect();
    if job.cutting.sheets.is_empty() {
        let taken = choice.and_then(Choice::taken);
        let usual = (ModelLength::inches(SHEET_INCHES.0), ModelLength::inches(SHEET_INCHES.1));
        let sold = taken.and_then(|made| Some((made.sheet?, made.length))).unwrap_or(usual);
        stock.push(sheet(name, sold.0, sold.1));
    }
    let on_hand = choice.into_iter().flat_map(|choice| &choice.pieces);
    stock.extend(on_hand.map(|piece| SheetStock {
        cost: 0,
        supply: Some(piece.count.unwrap_or(UNCOUNTED)),
        ..sheet(&piece.name, piece.width, piece.length)
    }));
    stock
}
