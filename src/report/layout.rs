//! The cut list: sticks and sheets, each drawn as what is cut from it.
//!
//! JSON: `stop` where the stage could not go on, else `sticks[]` (`stock`,
//! `count`, `bound`, `proven`, `waste`, `spare`, `usable_in`, `cuts[]` with
//! `times`, `pieces[]`, `left_in`), `sheet_plans[]` (`stock`, `count`,
//! `bound`, `proven`, `waste`, `sheets[]` with `parts[]` as `label`, `x_in`,
//! `y_in`, `width_in`, `height_in`, `turned`), and `findings[]`.

use serde_json::{Value, json};

use super::Seen;
use super::faces::stopped;
use super::table::{Mark, Row, Table, View};
use super::takeoff::state_word;
use crate::cutting::parts::{SheetGroup, StickGroup};
use crate::cutting::sheets::SheetCut;
use crate::cutting::sticks::StickCut;
use crate::finding::{Finding, Stop, Subject};
use crate::job::model::Done;
use crate::quantity::ModelLength;

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
    let mut tables = vec![shopping(&layout.sticks, &layout.sheets), tonight(seen)];
    tables.extend(layout.sticks.iter().map(|group| sticks(seen, group)));
    tables.extend(layout.sheets.iter().map(|group| sheets(seen, group)));
    View {
        title,
        lead: vec![
            "Bound: no layout needs fewer. Waste is what the layout leaves; spares are for breakage."
                .to_owned(),
        ],
        tables: tables.into_iter().filter(|table| !table.rows.is_empty()).collect(),
        findings: noticed(seen),
        next: "record: the build record".to_owned(),
    }
}

/// What to buy.
fn shopping(sticks: &[StickGroup], sheets: &[SheetGroup]) -> Table {
    let heads = ["stock", ">needed", ">bound", "best", ">waste %", ">spare"];
    let mut table = Table::new("To buy", &heads);
    for group in sticks {
        let row = vec![
            format!("{}, {:.0} in", group.stock, group.bought.in_inches()),
            group.count().to_string(),
            group.layout.bound.to_string(),
            proven(group.layout.proven).to_owned(),
            format!("{:.1}", 100.0 * group.waste()),
            group.spare.to_string(),
        ];
        table.push(Row::about(Subject::Stock(group.stock.clone()), row));
    }
    for group in sheets {
        let count = group.layout.sheets.len();
        let row = vec![
            group.stock.clone(),
            count.to_string(),
            group.bound().to_string(),
            proven(group.layout.proven).to_owned(),
            format!("{:.1}", 100.0 * sheet_waste(group)),
            usize::from(count > 0).to_string(),
        ];
        table.push(Row::about(Subject::Stock(group.stock.clone()), row));
    }
    table
}

fn proven(proven: bool) -> &'static str {
    if proven { "proven" } else { "quick answer" }
}

fn sheet_waste(group: &SheetGroup) -> f64 {
    let count = group.layout.sheets.len();
    let used: f64 = group.layout.sheets.iter().map(|sheet| sheet.used).sum();
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
        "Tick a part under [done] in the job: \"land/batten-1\" = \"cut\", stained, fitted."
            .to_owned(),
    );
    table
}

fn sticks(seen: Seen<'_>, group: &StickGroup) -> Table {
    let heads = [">sticks", "cut", "pieces", ">left in"];
    let mut table = Table::new(&group.stock, &heads);
    for cut in &group.layout.cuts {
        let all_cut = cut.pieces.iter().all(|&part| is_cut(seen, &group.parts[part].label));
        let row = Row::about(
            Subject::Stock(group.stock.clone()),
            vec![
                cut.times.to_string(),
                bar(group, cut),
                pieces(group, cut),
                format!("{:.2}", cut.left.in_inches()),
            ],
        );
        table.push(if all_cut { row.marked(Mark::Chosen) } else { row });
    }
    table
}

fn is_cut(seen: Seen<'_>, label: &str) -> bool {
    seen.job.done.contains_key(label)
}

/// A stick as a bar of its pieces: `|----|----|..`, the dots left over.
fn bar(group: &StickGroup, cut: &StickCut) -> String {
    let per = group.usable / BAR as f64;
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

fn pieces(group: &StickGroup, cut: &StickCut) -> String {
    let mut runs: Vec<(usize, usize)> = Vec::new();
    for &part in &cut.pieces {
        match runs.last_mut() {
            Some((last, count)) if *last == part => *count += 1,
            _ => runs.push((part, 1)),
        }
    }
    let run = |(part, count): &(usize, usize)| {
        let part = &group.parts[*part];
        format!("{count} {} {:.3}", part.label, part.length.in_inches())
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
            table.push(Row::about(
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
            ));
        }
    }
    table
}

fn size_of(group: &SheetGroup, sheet: &SheetCut) -> String {
    group.sheets.get(sheet.stock).map_or_else(String::new, |stock| {
        format!("{:.1} x {:.1} in", stock.width.in_inches(), stock.height.in_inches())
    })
}

fn noticed(seen: Seen<'_>) -> Vec<Finding> {
    let here = |finding: &&Finding| matches!(finding.subject, Subject::Part(_) | Subject::Stock(_));
    seen.plan.findings.iter().filter(here).cloned().collect()
}

/// The view as JSON.
#[must_use]
pub fn json(seen: Seen<'_>) -> Value {
    match &seen.plan.layout {
        Ok(layout) => json!({
            "sticks": layout.sticks.iter().map(stick_json).collect::<Vec<_>>(),
            "sheet_plans": layout.sheets.iter().map(sheet_json).collect::<Vec<_>>(),
            "findings": noticed(seen),
        }),
        Err(stop) => json!({ "stop": stop }),
    }
}

/// The cut list as CSV: a row for each part of each stick or sheet.
///
/// # Errors
/// When nothing is laid out.
pub fn csv(seen: Seen<'_>) -> Result<String, Stop> {
    let layout = seen.plan.layout.as_ref().map_err(Clone::clone)?;
    let heads =
        ["stock", "piece", "times", "part", "x_in", "y_in", "width_in", "length_in", "state"];
    let state = |label: &str| state_word(seen.job.done.get(label).copied()).to_owned();
    let inches = |length: ModelLength| format!("{:.4}", length.in_inches());
    let mut rows = Vec::new();
    for group in &layout.sticks {
        for (at, cut) in group.layout.cuts.iter().enumerate() {
            for part in cut.pieces.iter().map(|&part| &group.parts[part]) {
                let (piece, times) = ((at + 1).to_string(), cut.times.to_string());
                let blank = String::new;
                let size = [blank(), blank(), blank(), inches(part.length), state(&part.label)];
                let head = [group.stock.clone(), piece, times, part.label.clone()];
                rows.push(head.into_iter().chain(size).collect());
            }
        }
    }
    for group in &layout.sheets {
        for (at, sheet) in group.layout.sheets.iter().enumerate() {
            for laid in &sheet.parts {
                let (area, part) = (laid.area, &group.parts[laid.part]);
                let head =
                    [group.stock.clone(), (at + 1).to_string(), "1".to_owned(), part.label.clone()];
                let size = [area.x, area.y, area.width, area.height].map(inches);
                rows.push(head.into_iter().chain(size).chain([state(&part.label)]).collect());
            }
        }
    }
    crate::writers::csv::write(&heads, &rows)
}

fn stick_json(group: &StickGroup) -> Value {
    json!({
        "stock": group.stock,
        "count": group.count(),
        "bound": group.layout.bound,
        "proven": group.layout.proven,
        "waste": group.waste(),
        "spare": group.spare,
        "usable_in": group.usable.in_inches(),
        "cuts": group.layout.cuts.iter().map(|cut| json!({
            "times": cut.times,
            "pieces": cut.pieces.iter().map(|&part| &group.parts[part].label).collect::<Vec<_>>(),
            "left_in": cut.left.in_inches(),
        })).collect::<Vec<_>>(),
    })
}

fn sheet_json(group: &SheetGroup) -> Value {
    json!({
        "stock": group.stock,
        "count": group.layout.sheets.len(),
        "bound": group.bound(),
        "proven": group.layout.proven,
        "waste": sheet_waste(group),
        "sheets": group.layout.sheets.iter().map(|sheet| json!({
            "parts": sheet.parts.iter().map(|laid| json!({
                "label": group.parts[laid.part].label,
                "x_in": laid.area.x.in_inches(),
                "y_in": laid.area.y.in_inches(),
                "width_in": laid.area.width.in_inches(),
                "height_in": laid.area.height.in_inches(),
                "turned": laid.turned,
            })).collect::<Vec<_>>(),
        })).collect::<Vec<_>>(),
    })
}
