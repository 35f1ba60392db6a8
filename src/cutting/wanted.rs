//! The parts of the take-off, sorted by the stock they are cut from.
//!
//! [`Wanted`] holds all that a layout depends on and nothing else: it can go
//! to another thread, and its [`Wanted::input`] says whether an answer found
//! there still belongs to the job.

use super::amount::Unit;
use super::sheets::{SheetJob, SheetPart, SheetStock};
use super::sold::{hundredths, new_strips, said, sheet_sizes};
use super::sticks::{StickJob, StickPart, StickStock};
use crate::finding::{Finding, Outcome, Subject};
use crate::job::Job;
use crate::job::building::CutBy;
use crate::job::rack::Offcut;
use crate::job::said::Said;
use crate::quantity::{Compressed, CompressedLength, Model, ModelLength, Scale};
use crate::solve::sheets::Method;
use crate::stock::{Choice, Choices, Way};
use crate::takeoff::{Form, Outline, Part, Point, Runs, Takeoff};
use std::collections::BTreeMap;
use std::hash::{DefaultHasher, Hash as _, Hasher as _};

/// One count of the whole-number grid.
const GRID_THOU: f64 = 0.5;
/// How often a sheet is turned, where the job does not say (judgement).
pub(super) const STAGES: u32 = 3;

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
    /// What their costs are counted in.
    pub unit: Unit,
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
    /// The flat parts cut from them.
    pub parts: Vec<SheetPart>,
    /// The sticks ripped from them, by their stock.
    pub ripped: Vec<String>,
    /// Whether their grain decides how parts lie.
    pub grain: bool,
    /// What their costs are counted in.
    pub unit: Unit,
    /// How often a sheet may be turned, cut with a knife.
    pub stages: u32,
    /// How they are cut.
    pub method: CutBy,
    /// Kept free along their edges.
    pub margin: ModelLength,
}

impl SheetsWanted {
    /// Those parts as the solver's side takes them.
    #[must_use]
    pub fn problem<'a>(&'a self, parts: &'a [SheetPart]) -> SheetJob<'a> {
        SheetJob {
            stock: &self.sheets,
            parts,
            gap: self.kerf,
            margin: self.margin,
            grid: ModelLength::thou(GRID_THOU),
            method: match self.method {
                CutBy::Knife => Method::Knife { stages: Some(self.stages) },
                CutBy::Laser => Method::Laser,
            },
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
                let sheet = choice.and_then(sheet_name).unwrap_or(name);
                wanted.add_flat(job, &sheet, choice, &flat, scale);
            }
        }
        wanted.add_ripped(job, stock);
        wanted.leave_out_what_is_cut(job, &mut findings);
        wanted.sticks.retain(|one| one.parts.iter().any(|part| part.quantity > 0));
        let sticks = &wanted.sticks;
        wanted.sheets.iter_mut().for_each(|one| {
            one.ripped.retain(|name| sticks.iter().any(|stick| stick.stock == *name));
        });
        wanted
            .sheets
            .retain(|one| !one.ripped.is_empty() || one.parts.iter().any(|part| part.quantity > 0));
        Outcome { value: wanted, findings }
    }

    /// Flat parts, with those that come from the same sheets for other sections.
    fn add_flat(
        &mut self,
        job: &Job,
        sheet: &str,
        choice: Option<&Choice>,
        parts: &[&Part],
        scale: &Scale,
    ) {
        let made = sheet_parts(parts, scale);
        match self.sheets.iter_mut().find(|one| one.stock == sheet) {
            Some(one) => one.parts.extend(made),
            None => {
                let sizes = sheet_sizes(job, choice, true);
                self.sheets.push(sheets(job, sheet, choice, sizes, made));
            }
        }
    }

    /// Sheets that sticks are ripped from, beside the flat parts or alone.
    fn add_ripped(&mut self, job: &Job, stock: &Choices) {
        for stick in &mut self.sticks {
            let Some(made) = stick.made_up.as_ref().filter(|made| made.sheet.is_some()) else {
                continue;
            };
            let from = made.from.clone();
            if !self.sheets.iter().any(|one| one.stock == from) {
                let made_of = |choice: &&Choice| {
                    choice.taken().is_some_and(|made| made.stock == from && made.sheet.is_some())
                };
                let choice = stock.choices.iter().find(made_of);
                let sizes = sheet_sizes(job, choice, false);
                self.sheets.push(sheets(job, &from, choice, sizes, Vec::new()));
            }
            if let Some(sheet) = self.sheets.iter_mut().find(|one| one.stock == from) {
                sheet.ripped.push(stick.stock.clone());
                stick.rip_from(job, sheet);
            }
        }
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

impl SticksWanted {
    /// Strips as long as the sheets they are ripped from; the shorter cost less.
    fn rip_from(&mut self, job: &Job, sheet: &SheetsWanted) {
        let trim = said(job.cutting.trim.as_ref(), 0.0);
        let mut lengths: Vec<ModelLength> = Vec::new();
        for stock in sheet.sheets.iter().filter(|stock| stock.supply.is_none()) {
            let new = !lengths.iter().any(|one| one.agrees(stock.height, ModelLength::thou(1.0)));
            if new && stock.height > trim {
                lengths.push(stock.height);
            }
        }
        let Some(&first) = lengths.first() else { return };
        let one = lengths.len() == 1;
        let strip = |&bought: &ModelLength| StickStock {
            name: self.stock.clone(),
            length: bought - trim,
            bought,
            cost: if one { 1 } else { hundredths(bought.in_inches()) },
            supply: None,
        };
        let on_hand = self.strips.iter().filter(|strip| strip.supply.is_some()).cloned();
        self.strips = lengths.iter().map(strip).chain(on_hand).collect();
        (self.bought, self.usable) = (first, first - trim);
        self.unit = if one { Unit::Count } else { Unit::Length };
    }
}

fn sticks(job: &Job, name: &str, choice: Option<&Choice>, parts: &[&Part]) -> SticksWanted {
    let cutting = &job.cutting;
    let trim = said(cutting.trim.as_ref(), 0.0);
    let (mut strips, unit) = new_strips(job, name, choice);
    let (bought, usable) = strips
        .iter()
        .map(|strip| (strip.bought, strip.length))
        .fold((ModelLength::ZERO, ModelLength::ZERO), |a, b| if b.0 > a.0 { b } else { a });
    let offcut = |offcut: &Offcut| StickStock {
        name: name.to_owned(),
        length: offcut.length.length(),
        bought: offcut.length.length(),
        cost: 0,
        supply: Some(offcut.count),
    };
    let part = |part: &&Part| StickPart {
        label: part.label.clone(),
        length: part.model_length,
        quantity: part.count,
    };
    let made_up = choice.and_then(made_up);
    strips.extend(rack(job, name, false).map(offcut));
    if let Some(choice) = choice.filter(|_| made_up.is_none()) {
        // Shorter than what is lost at their ends they are no use.
        let on_hand = choice.pieces.iter().filter(|piece| piece.length > trim);
        strips.extend(on_hand.map(|piece| StickStock {
            name: piece.name.clone(),
            length: piece.length - trim,
            bought: piece.length,
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
        unit,
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

/// The sheet that flat parts of a section are cut from, however it is named in
/// lists; nothing where they are glued up.
fn sheet_name(choice: &Choice) -> Option<String> {
    let made = choice.taken()?;
    (made.sheet.is_some() && made.layers() == 1).then(|| made.stock.clone())
}

fn sheet_parts(parts: &[&Part], scale: &Scale) -> Vec<SheetPart> {
    let hair: CompressedLength = scale.enlarge(ModelLength::thou(GRID_THOU));
    let part = |part: &&Part| SheetPart {
        label: part.label.clone(),
        width: scale.reduce::<Compressed>(part.width.max(hair)),
        height: scale.reduce::<Compressed>(part.length.max(hair)),
        quantity: part.count,
        grain_free: part.form == Form::SheetAnyWay,
        strip: None,
        outline: part.shape.is_some().then(|| along_grain(part, scale)),
        scribed: part
            .scribed
            .iter()
            .map(|line| line.map(|at| turned_along(part, at, scale)))
            .collect(),
    };
    parts.iter().map(part).collect()
}

/// The shape of a part with `x` along its grain; turned, never mirrored.
fn along_grain(part: &Part, scale: &Scale) -> Outline<Model> {
    let outline = part.outline().at_origin();
    let turned = |at: &Point<Compressed>| turned_along(part, *at, scale);
    let line = |points: &Vec<Point<Compressed>>| points.iter().map(turned).collect();
    Outline { outer: line(&outline.outer), openings: outline.openings.iter().map(line).collect() }
}

/// A point of a part as it stands, on the model and turned with its grain.
fn turned_along(part: &Part, at: Point<Compressed>, scale: &Scale) -> Point<Model> {
    let at = match part.runs {
        Runs::Up => Point::new(at.y, part.outline().at_origin().bounds().1.x - at.x),
        Runs::Across => at,
    };
    Point::new(scale.reduce(at.x), scale.reduce(at.y))
}

/// The sheets of a stock: new ones of some sizes, then those on hand.
fn sheets(
    job: &Job,
    name: &str,
    choice: Option<&Choice>,
    (sizes, unit): (Vec<SheetStock>, Unit),
    parts: Vec<SheetPart>,
) -> SheetsWanted {
    let offcut = |offcut: &Offcut| SheetStock {
        name: name.to_owned(),
        width: offcut.width.as_ref().map_or(ModelLength::ZERO, Said::length),
        height: offcut.length.length(),
        cost: 0,
        supply: Some(offcut.count),
    };
    let bed = job.cutting.bed.as_ref().filter(|_| job.cutting.method == CutBy::Laser);
    let on_bed = |sheet: SheetStock| match bed {
        Some([wide, long]) => SheetStock {
            width: sheet.width.min(wide.length()),
            height: sheet.height.min(long.length()),
            ..sheet
        },
        None => sheet,
    };
    let named = |sheet: SheetStock| on_bed(SheetStock { name: name.to_owned(), ..sheet });
    let mut all: Vec<SheetStock> = sizes.into_iter().map(named).collect();
    let on_hand = choice.into_iter().flat_map(|choice| &choice.pieces);
    all.extend(on_hand.map(|piece| SheetStock {
        name: piece.name.clone(),
        width: piece.width,
        height: piece.length,
        cost: 0,
        supply: Some(piece.count.unwrap_or(UNCOUNTED)),
    }));
    all.extend(rack(job, name, true).map(offcut));
    SheetsWanted {
        stock: name.to_owned(),
        kerf: said(job.cutting.kerf.as_ref(), 0.0),
        sheets: all,
        parts,
        ripped: Vec::new(),
        grain: choice.is_none_or(|choice| choice.sold.iter().all(|sold| sold.grain)),
        unit,
        stages: job.cutting.stages.unwrap_or(STAGES),
        method: job.cutting.method,
        margin: said(job.cutting.margin.as_ref(), 0.0),
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
