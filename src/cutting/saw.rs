//! What it means for the job that sticks or sheets of the cut list are cut:
//! the edit that takes their pieces out of the list and puts what is left on
//! the rack.

use std::collections::BTreeMap;

use super::parts::{Layout, SheetGroup, StickGroup};
use super::sheets::{Area, SheetCut};
use super::sticks::StickCut;
use crate::job::Job;
use crate::job::edit::{CutText, PieceText};
use crate::job::model::Units;
use crate::job::rack::Offcut;
use crate::quantity::ModelLength;
use crate::quantity::slack::WHOLE;
use crate::takeoff::Takeoff;

/// The shortest stick, and the shortest side of a sheet along its grain, worth
/// keeping (judgement).
const KEEP_LONG_INCHES: f64 = 1.0;
/// The narrowest sheet worth keeping (judgement).
const KEEP_WIDE_INCHES: f64 = 0.25;

/// Whether what is left of a stick goes to the rack.
#[must_use]
pub fn is_worth_keeping(cut: &StickCut) -> bool {
    cut.left >= ModelLength::inches(KEEP_LONG_INCHES)
}

/// Whether what is left of a sheet goes to the rack.
#[must_use]
pub fn is_worth_keeping_sheet(offcut: &Area) -> bool {
    offcut.height >= ModelLength::inches(KEEP_LONG_INCHES)
        && offcut.width >= ModelLength::inches(KEEP_WIDE_INCHES)
}

/// The edit for so many sticks of one way to cut them.
#[must_use]
pub fn sticks(
    job: &Job,
    takeoff: &Takeoff,
    group: &StickGroup,
    cut: &StickCut,
    times: u32,
) -> CutText {
    let mut counts: BTreeMap<usize, u32> = BTreeMap::new();
    for &piece in cut.each.iter().take(times as usize).flatten() {
        *counts.entry(piece).or_default() += 1;
    }
    let piece = |(&part, &count): (&usize, &u32)| PieceText {
        part: group.parts[part].label.clone(),
        length: written(job, group.parts[part].length),
        width: None,
        count,
    };
    let pieces: Vec<PieceText> = counts.iter().map(piece).collect();
    let worth = is_worth_keeping(cut);
    CutText {
        stock: group.stock.clone(),
        times,
        from: (!group.is_new(cut))
            .then(|| on_rack(job, &group.stock, group.usable_of(cut), None))
            .flatten(),
        done: all_cut(job, takeoff, &pieces),
        pieces,
        ripped: Vec::new(),
        left: worth.then(|| (written_down(job, cut.left), None)),
    }
}

/// Strips that come off a sheet, as sticks for the rack: so many strips make one
/// where they are glued up in layers.
fn ripped(
    job: &Job,
    layout: &Layout,
    group: &SheetGroup,
    sheet: &SheetCut,
) -> Vec<(String, String, u32)> {
    let mut strips: BTreeMap<(&str, String), u32> = BTreeMap::new();
    for laid in &sheet.parts {
        let part = &group.parts[laid.part];
        if let Some(of) = &part.strip {
            *strips.entry((&of.stock, written(job, part.height))).or_default() += 1;
        }
    }
    let layers = |stock: &str| {
        let of = layout.sticks.iter().find(|group| group.stock == stock);
        of.and_then(|group| group.made_up.as_ref()).map_or(1, |made| made.layers.max(1))
    };
    let stick = |((stock, length), count): ((&str, String), u32)| {
        (stock.to_owned(), length, count / layers(stock))
    };
    strips.into_iter().map(stick).filter(|(.., count)| *count > 0).collect()
}

/// The edit for one sheet.
#[must_use]
pub fn sheet(
    job: &Job,
    takeoff: &Takeoff,
    layout: &Layout,
    group: &SheetGroup,
    sheet: &SheetCut,
) -> CutText {
    let mut counts: BTreeMap<usize, u32> = BTreeMap::new();
    let strip = |part: usize| group.parts[part].strip.as_ref();
    for laid in sheet.parts.iter().filter(|laid| strip(laid.part).is_none()) {
        *counts.entry(laid.part).or_default() += 1;
    }
    let piece = |(&part, &count): (&usize, &u32)| PieceText {
        part: group.parts[part].label.clone(),
        length: written(job, group.parts[part].height),
        width: Some(written(job, group.parts[part].width)),
        count,
    };
    let pieces: Vec<PieceText> = counts.iter().map(piece).collect();
    let stock = &group.sheets[sheet.stock];
    CutText {
        stock: group.stock.clone(),
        times: 1,
        from: (!group.is_new(sheet))
            .then(|| on_rack(job, &group.stock, stock.height, Some(stock.width)))
            .flatten(),
        done: all_cut(job, takeoff, &pieces),
        pieces,
        ripped: ripped(job, layout, group, sheet),
        left: sheet.offcut.filter(is_worth_keeping_sheet).map(|offcut| {
            (written_down(job, offcut.height), Some(written_down(job, offcut.width)))
        }),
    }
}

/// The row of the rack with offcuts of that size.
fn on_rack(
    job: &Job,
    stock: &str,
    length: ModelLength,
    width: Option<ModelLength>,
) -> Option<usize> {
    let hair = ModelLength::thou(0.01);
    let same = |one: &Offcut| {
        let wide = match (&one.width, width) {
            (Some(said), Some(width)) => said.length().agrees(width, hair),
            (None, None) => true,
            _ => false,
        };
        one.stock == stock && wide && one.count > 0 && one.length.length().agrees(length, hair)
    };
    job.offcuts.iter().position(same)
}

/// Parts of which no copy is left to cut after this.
fn all_cut(job: &Job, takeoff: &Takeoff, pieces: &[PieceText]) -> Vec<String> {
    let before = |label: &str| -> u32 {
        job.cut.iter().filter(|cut| cut.part == label).map(|cut| cut.count).sum()
    };
    let whole = |piece: &&PieceText| {
        let part = takeoff.part(&piece.part);
        part.is_some_and(|part| before(&piece.part).saturating_add(piece.count) >= part.count)
    };
    pieces.iter().filter(whole).map(|piece| piece.part.clone()).collect()
}

/// A length as the job writes it.
fn written(job: &Job, length: ModelLength) -> String {
    match job.about.units {
        Units::FeetInches => format!("{:.3} in", length.in_inches()),
        Units::Metric => format!("{:.2} mm", length.in_millimetres()),
    }
}

/// The same, never more than there is.
fn written_down(job: &Job, length: ModelLength) -> String {
    let step = match job.about.units {
        Units::FeetInches => ModelLength::thou(1.0),
        Units::Metric => ModelLength::millimetres(0.01),
    };
    // A whole number of steps stays one.
    written(job, step * (length / step + WHOLE).floor())
}
