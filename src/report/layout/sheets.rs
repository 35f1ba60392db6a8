//! The sheets, stock by stock: where each part lies, and the cuts in order.

use super::{Act, Cell, Seen, Table, count, only, proven, rows, state, text};
use crate::cutting::parts::SheetGroup;
use crate::cutting::sheets::{Area, KnifeCut, LaidPart, SheetCut};
use crate::finding::Subject;
use crate::quantity::{Model, Unit};
use crate::report::column::{Column, bare};
use crate::report::draft::{Draft, one};
use crate::report::table::{OnSheet, RowKey};
use crate::solve::sheets::Axis;
use crate::takeoff::{Outline, Point};

/// The stocks, sheet by sheet, for JSON.
pub(super) fn table(groups: &[SheetGroup]) -> Table {
    let draft = rows("sheet_plans", "", groups)
        .col(only("stock"), |it| &it.stock)
        .col(only("count"), SheetGroup::count);
    proven(draft, |it| it.amounts()[1], |it| it.layout.proven)
        .col(only("waste"), waste)
        .within("sheets", Some, sheets)
        .table()
}

fn waste(group: &SheetGroup) -> f64 {
    let new = group.layout.sheets.iter().filter(|sheet| group.is_new(sheet));
    let (count, used) = (group.count(), new.map(|sheet| sheet.used).sum::<f64>());
    if count == 0 { 0.0 } else { 1.0 - used / count as f64 }
}

type OnGroup<'a, T> = (&'a SheetGroup, &'a SheetCut, T);

fn sheets(group: Option<&SheetGroup>) -> Table {
    let all = group.iter().flat_map(|group| group.layout.sheets.iter().map(|it| (*group, it)));
    rows("sheets", "", all)
        .col(only("width_in"), |(group, it)| group.sheets[it.stock].width)
        .col(only("height_in"), |(group, it)| group.sheets[it.stock].height)
        .col(only("from_rack"), |(group, it)| !group.is_new(it))
        .col(only("used"), |(_, it)| it.used)
        .within("parts", Some, |on| {
            let on = on
                .iter()
                .flat_map(|(group, sheet)| (0..sheet.parts.len()).map(|at| (*group, *sheet, at)));
            parts(on.collect())
        })
        .within("cuts", |(_, it)| &it.cuts[..], cuts)
        .within("offcut", |(_, it)| it.offcut, area)
        .table()
}

/// The parts on a sheet; for the laser with corners along the grain and across
/// it.
fn parts(parts: Vec<OnGroup<'_, usize>>) -> Table {
    let corners = |points: &[Point<Model>]| Cell::list(points.iter().map(|it| [it.x, it.y]));
    let outline = |(_, sheet, at): OnGroup<'_, usize>, of: &dyn Fn(&Outline<Model>) -> Cell| {
        sheet.outlines.get(at).map_or(Cell::Absent, of)
    };
    sides(rows("parts", "", parts), |(_, sheet, at)| sheet.parts[at].area)
        .col(only("label"), |(group, sheet, at)| &group.parts[sheet.parts[at].part].label)
        .col(only("turned"), |(_, sheet, at)| sheet.parts[at].turned)
        .col(only("outline_in"), |it| outline(it, &|line| corners(&line.outer)))
        .col(only("openings_in"), |it| {
            outline(it, &|line| Cell::list(line.openings.iter().map(|line| corners(line))))
        })
        .table()
}

/// The cuts in the order they are made.
fn cuts(cuts: &[KnifeCut]) -> Table {
    rows("cuts", "", cuts)
        .col(only("along"), |it| if it.axis == Axis::X { "grain" } else { "across" })
        .col(only("at_in"), |it| it.at)
        .col(only("fence_in"), KnifeCut::set_to)
        .col(only("stage"), |it| it.stage)
        .within("piece", |it| Some(it.piece), area)
        .table()
}

/// A rectangle: its lower left corner, across the grain and along it.
fn area(of: Option<Area>) -> Table {
    sides(one("area", of), |it| it).table()
}

fn sides<T: Copy>(draft: Draft<T>, area: impl Fn(T) -> Area) -> Draft<T> {
    draft
        .col(only("x_in"), |it| area(it).x)
        .col(only("y_in"), |it| area(it).y)
        .col(only("width_in"), |it| area(it).width)
        .col(only("height_in"), |it| area(it).height)
}

/// What stands on each sheet of a stock: the sheet, the number there, and it.
fn each<'a, T>(
    group: &'a SheetGroup,
    of: impl Fn(&'a SheetCut) -> &'a [T],
) -> Vec<(usize, usize, &'a T)> {
    let all = group.layout.sheets.iter().enumerate().flat_map(|(number, sheet)| {
        of(sheet).iter().enumerate().map(move |(at, it)| (number, at, it))
    });
    all.collect()
}

/// The number of a sheet, said where it begins.
pub(super) fn number_of(number: usize, at: usize) -> Cell {
    let words = if at == 0 { (number + 1).to_string() } else { String::new() };
    Cell::said(words, number + 1)
}

/// A length in thousandths of an inch; its head says so.
pub(super) fn in_inches(id: &str, head: &str) -> Column {
    bare(id, head, Unit::Inch, 3)
}

/// The parts on the sheets of a stock.
pub(super) fn laid(seen: Seen<'_>, group: &SheetGroup) -> Table {
    type Laid<'a> = (usize, usize, &'a LaidPart);
    let stock = group.stock.as_str();
    let label = |(.., it): Laid<'_>| group.parts[it.part].label.as_str();
    let turned = |(.., it): Laid<'_>| if it.turned { " (turned)" } else { "" };
    let size =
        |(number, at, _): Laid<'_>| (at == 0).then(|| size_of(group, &group.layout.sheets[number]));
    rows("laid", stock, each(group, |sheet| &sheet.parts[..]))
        .screen()
        .named(&format!("{stock}: sheets"))
        .about(|it| Subject::Part(label(it).to_owned()))
        .keyed(|(number, at, _)| RowKey::laid(stock, number, Some(OnSheet::Part(at))))
        .can(|_| vec![Act::Tick, Act::Cut])
        .col(count("sheet", "sheet"), |(number, at, _)| number_of(number, at))
        .col(text("size", "size"), size)
        .col(text("part", "part"), |it| format!("{}{}", label(it), turned(it)))
        .col(in_inches("x_in", "x in"), |(.., it)| it.area.x)
        .col(in_inches("y_in", "y in"), |(.., it)| it.area.y)
        .col(in_inches("across_in", "across"), |(.., it)| it.area.width)
        .col(in_inches("along_in", "along grain"), |(.., it)| it.area.height)
        .col(text("state", "state"), |it| state(seen, label(it)))
        .table()
}

/// The cuts of the knife, sheet by sheet, in the order they are made.
pub(super) fn in_order(group: &SheetGroup) -> Table {
    let stock = group.stock.as_str();
    rows("in_order", &format!("{stock}: cuts in order"), each(group, |sheet| &sheet.cuts[..]))
        .screen()
        .named(&format!("{stock}: cuts"))
        .about(|_| Subject::Stock(stock.to_owned()))
        .keyed(|(number, at, _)| RowKey::laid(stock, number, Some(OnSheet::Cut(at))))
        .can(|_| vec![Act::Cut])
        .col(count("sheet", "sheet"), |(number, at, _)| number_of(number, at))
        .col(count("step", "step"), |(_, at, _)| at + 1)
        .col(text("runs", "runs"), |(.., it)| match it.axis {
            Axis::X => "along the grain",
            Axis::Y => "across the grain",
        })
        // Measured from the edge the rule is laid against.
        .col(in_inches("at_in", "at in"), |(.., it)| it.set_to())
        .col(text("piece", "of the piece"), |(.., it)| across_along(&it.piece))
        .col(text("keeps", "keeps"), |(.., it)| across_along(&it.kept()))
        .note("Sizes: across the grain by along it, in inches. A knife: hold the rule well clear of fingers, cut in light passes.")
        .table()
}

pub(super) fn across_along(area: &Area) -> String {
    format!("{:.3} x {:.3}", area.width.in_inches(), area.height.in_inches())
}

fn size_of(group: &SheetGroup, sheet: &SheetCut) -> String {
    group.sheets.get(sheet.stock).map_or_else(String::new, |stock| {
        let offcut = if group.is_new(sheet) { "" } else { " offcut" };
        format!("{:.1} x {:.1} in{offcut}", stock.width.in_inches(), stock.height.in_inches())
    })
}
