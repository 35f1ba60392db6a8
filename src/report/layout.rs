//! The cut list: sticks and sheets, what is cut from each, and in what order.
//!
//! The keys of the JSON stand in `as_json`; `shown` says which stick or sheet
//! a row speaks of, so that it can be drawn.

mod as_csv;
mod as_json;
mod by_wall;
pub mod laser;
mod setups;
mod shopping;
pub mod shown;

pub use as_csv::csv;
pub use as_json::json;
pub use by_wall::view_by_wall;

use super::Seen;
use super::faces::stopped;
use super::table::{Act, Mark, Row, Table, View};
use super::takeoff::state_word;
use crate::cutting::amount::{Amount, Unit};
use crate::cutting::parts::{Layout, SheetGroup, StickGroup};
use crate::cutting::sheets::{Area, SheetCut};
use crate::cutting::sticks::StickCut;
use crate::finding::Subject;
use crate::job::model::Done;
use crate::quantity::ModelLength;
use crate::solve::sheets::Axis;

/// Characters a stick is drawn with.
const BAR: usize = 40;

/// The view.
#[must_use]
pub fn view(seen: Seen<'_>) -> View {
    let title = format!("{}: cut list", seen.job.about.name);
    let layout = match &seen.plan.layout {
        Ok(layout) => layout,
        Err(stop) => return stopped(title, stop),
    };
    let table = |kind: &shown::TableKind| match *kind {
        shown::TableKind::Misfits => shopping::misfits(layout),
        shown::TableKind::Buying => shopping::table(seen),
        shown::TableKind::Work => tonight(seen),
        shown::TableKind::Rack => rack(seen),
        shown::TableKind::Sticks(at) => sticks(seen, &layout.sticks[at]),
        shown::TableKind::Sheets(at) => sheets(seen, &layout.sheets[at]),
        shown::TableKind::StickSetUps(at) => setups::sticks(seen, &layout.sticks[at]),
        shown::TableKind::SetUps(at) => setups::sheets(&layout.sheets[at]),
        shown::TableKind::Cuts(at) => cuts(&layout.sheets[at]),
    };
    View {
        title,
        lead: vec![how_good(layout)].into_iter().chain(saved(layout)).collect(),
        tables: shown::tables(layout, !seen.job.offcuts.is_empty()).iter().map(table).collect(),
        next: "record: the build record".to_owned(),
        ..View::default()
    }
}

/// How many stocks are proven, and how far the others may be from the best.
/// Sticks that are ripped stand under the sheets they come from.
fn how_good(layout: &Layout) -> String {
    let bought = layout.sticks.iter().filter(|group| !group.is_ripped());
    let sticks = bought.map(|group| (group.layout.proven, group.amounts()));
    let sheets = layout.sheets.iter().map(|group| (group.layout.proven, group.amounts()));
    let all: Vec<(bool, [Amount; 2])> = sticks.chain(sheets).collect();
    let proven = all.iter().filter(|(proven, _)| *proven).count();
    let mut text = format!("{proven} of {} stocks proven: no plan takes less", all.len());
    let gaps = |unit: Unit| {
        let open =
            all.iter().filter(|(proven, _)| !proven).map(|(_, [cost, bound])| cost.less(*bound));
        open.filter(|gap| gap.unit == unit).max_by_key(|gap| gap.value)
    };
    for unit in [Unit::Count, Unit::Length, Unit::Area, Unit::Money] {
        if let Some(gap) = gaps(unit) {
            let what = if unit == Unit::Count { " sticks or sheets" } else { "" };
            text += &format!("; the others take at most {gap}{what} more than they must");
        }
    }
    let misfits = layout.misfits.len();
    if misfits > 0 {
        text += &format!("; {misfits} part{} fit nothing", if misfits == 1 { "" } else { "s" });
    }
    text + "."
}

/// What true outlines save, for the laser.
fn saved(layout: &Layout) -> Option<String> {
    let both = layout.sheets.iter().filter_map(|group| {
        let mut boxes = group.clone();
        boxes.layout.cost = group.layout.in_boxes?;
        Some((boxes.amounts()[0], group.amounts()[0]))
    });
    let texts: Vec<String> = both
        .filter(|(boxes, outlines)| boxes.value > outlines.value)
        .map(|(boxes, outlines)| format!("{outlines} where the rectangles round them take {boxes}"))
        .collect();
    let laser = layout.sheets.iter().any(|group| group.layout.in_boxes.is_some());
    laser.then(|| match texts.as_slice() {
        [] => "Laid out for the laser: true outlines take as many sheets as the rectangles round them.".to_owned(),
        _ => format!("Laid out for the laser: true outlines take {}.", texts.join("; ")),
    })
}

fn sheet_waste(group: &SheetGroup) -> f64 {
    let new = group.layout.sheets.iter().filter(|sheet| group.is_new(sheet));
    let (count, used) = (group.count(), new.map(|sheet| sheet.used).sum::<f64>());
    if count == 0 { 0.0 } else { 1.0 - used / count as f64 }
}

/// Parts still to cut, stain and fit: the order of the work.
fn tonight(seen: Seen<'_>) -> Table {
    let mut table = Table::new("Order of work", &["state", ">parts", "next"]);
    let Ok(takeoff) = &seen.plan.takeoff else { return table };
    for state in [None, Some(Done::Cut), Some(Done::Stained), Some(Done::Fitted)] {
        let here =
            takeoff.parts.iter().filter(|part| seen.job.done.get(&part.label).copied() == state);
        let labels: Vec<&str> = here.clone().map(|part| part.label.as_str()).collect();
        let count: u64 = here.map(|part| u64::from(part.count)).sum();
        if count > 0 {
            let next = labels.iter().take(4).copied().collect::<Vec<_>>().join(", ");
            table.push(Row::plain(vec![state_word(state).to_owned(), count.to_string(), next]));
        }
    }
    table.notes.push(
        "Say when a stick or sheet is cut (k on its row on the screen): its pieces leave the list, \
         its offcut goes to the rack. Space ticks a part: cut, stained, fitted."
            .to_owned(),
    );
    table
}

fn sticks(seen: Seen<'_>, group: &StickGroup) -> Table {
    let heads = [">sticks", "cut", "pieces", ">left in"];
    let mut table = Table::new(&group.stock, &heads);
    for cut in &group.layout.cuts {
        let all_cut = cut.each.iter().flatten().all(|&part| is_cut(seen, &group.parts[part].label));
        let row = Row::about(
            Subject::Stock(group.stock.clone()),
            vec![
                cut.times.to_string(),
                bar(group, cut),
                format!("{}{}", from_rack(group, cut), pieces(group, cut)),
                format!("{:.2}", cut.left.in_inches()),
            ],
        )
        .can(vec![Act::Cut]);
        table.push(if all_cut { row.marked(Mark::Chosen) } else { row });
    }
    table
}

fn from_rack(group: &StickGroup, cut: &StickCut) -> String {
    if group.is_new(cut) {
        return String::new();
    }
    format!("of the {:.2} in offcut: ", group.usable_of(cut).in_inches())
}

/// The offcuts on hand; they are used before anything is bought.
fn rack(seen: Seen<'_>) -> Table {
    let mut table = Table::new("On the rack", &["stock", ">count", ">width", ">length"]);
    for offcut in &seen.job.offcuts {
        let wide = offcut.width.as_ref().map_or(String::new(), |said| said.text().to_owned());
        let cells = vec![
            offcut.stock.clone(),
            offcut.count.to_string(),
            wide,
            offcut.length.text().to_owned(),
        ];
        table.push(Row::about(Subject::Stock(offcut.stock.clone()), cells));
    }
    table
}

fn is_cut(seen: Seen<'_>, label: &str) -> bool {
    seen.job.done.contains_key(label)
}

/// A stick as a bar of its pieces: `|----|----|..`, the dots left over.
fn bar(group: &StickGroup, cut: &StickCut) -> String {
    let per = group.usable_of(cut) / BAR as f64;
    let mut text = String::with_capacity(BAR + 2);
    let mut at = ModelLength::ZERO;
    for &part in &cut.pieces {
        text.push('|');
        at += group.parts[part].length;
        let upto = (at / per).floor() as usize;
        while text.len() < upto.min(BAR) {
            text.push('-');
        }
    }
    text.push('|');
    while text.len() < BAR + 1 {
        text.push('.');
    }
    text
}

/// The pieces of a stick, those alike counted together; where the sticks of a
/// row carry different marks, all of them.
fn pieces(group: &StickGroup, cut: &StickCut) -> String {
    let near = ModelLength::thou(0.75);
    let mut runs: Vec<(ModelLength, usize, Vec<&str>)> = Vec::new();
    for (place, &part) in cut.pieces.iter().enumerate() {
        let length = group.parts[part].length;
        if !runs.last().is_some_and(|run| run.0.agrees(length, near)) {
            runs.push((length, 0, Vec::new()));
        }
        let Some(run) = runs.last_mut() else { continue };
        run.1 += 1;
        for one in &cut.each {
            let label = group.parts[one[place]].label.as_str();
            if !run.2.contains(&label) {
                run.2.push(label);
            }
        }
    }
    let run = |(length, count, labels): &(ModelLength, usize, Vec<&str>)| {
        format!("{count} {} {:.3}", labels.join(" or "), length.in_inches())
    };
    runs.iter().map(run).collect::<Vec<_>>().join(", ")
}

fn sheets(seen: Seen<'_>, group: &SheetGroup) -> Table {
    let heads = [">sheet", "size", "part", ">x in", ">y in", ">across", ">along grain", "state"];
    let mut table = Table::new(&group.stock, &heads);
    for (number, sheet) in group.layout.sheets.iter().enumerate() {
        for (at, laid) in sheet.parts.iter().enumerate() {
            let label = &group.parts[laid.part].label;
            let head = if at == 0 { (number + 1).to_string() } else { String::new() };
            let size = if at == 0 { size_of(group, sheet) } else { String::new() };
            let turned = if laid.turned { " (turned)" } else { "" };
            table.push(
                Row::about(
                    Subject::Part(label.clone()),
                    vec![
                        head,
                        size,
                        format!("{label}{turned}"),
                        format!("{:.3}", laid.area.x.in_inches()),
                        format!("{:.3}", laid.area.y.in_inches()),
                        format!("{:.3}", laid.area.width.in_inches()),
                        format!("{:.3}", laid.area.height.in_inches()),
                        state_word(seen.job.done.get(label).copied()).to_owned(),
                    ],
                )
                .can(vec![Act::Tick, Act::Cut]),
            );
        }
    }
    table
}

/// The cuts of the knife, sheet by sheet, in the order they are made.
fn cuts(group: &SheetGroup) -> Table {
    let heads = [">sheet", ">step", "runs", ">at in", "of the piece", "keeps"];
    let mut table = Table::new(&format!("{}: cuts in order", group.stock), &heads);
    for (number, sheet) in group.layout.sheets.iter().enumerate() {
        for (at, cut) in sheet.cuts.iter().enumerate() {
            let head = if at == 0 { (number + 1).to_string() } else { String::new() };
            let runs = match cut.axis {
                Axis::X => "along the grain",
                Axis::Y => "across the grain",
            };
            // Measured from the edge the rule is laid against.
            let (from, kept) = (cut.set_to(), cut.kept());
            table.push(
                Row::about(
                    Subject::Stock(group.stock.clone()),
                    vec![
                        head,
                        (at + 1).to_string(),
                        runs.to_owned(),
                        format!("{:.3}", from.in_inches()),
                        across_along(&cut.piece),
                        across_along(&kept),
                    ],
                )
                .can(vec![Act::Cut]),
            );
        }
    }
    table.notes.push("Sizes: across the grain by along it, in inches. A knife: hold the rule well clear of fingers, cut in light passes.".to_owned());
    table
}

fn across_along(area: &Area) -> String {
    format!("{:.3} x {:.3}", area.width.in_inches(), area.height.in_inches())
}

fn size_of(group: &SheetGroup, sheet: &SheetCut) -> String {
    group.sheets.get(sheet.stock).map_or_else(String::new, |stock| {
        let offcut = if group.is_new(sheet) { "" } else { " offcut" };
        format!("{:.1} x {:.1} in{offcut}", stock.width.in_inches(), stock.height.in_inches())
    })
}
