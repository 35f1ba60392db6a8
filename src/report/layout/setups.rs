//! The set-up sheet: what the fence or the stop is set to, and what it cuts
//! before it is set again.

use super::{Act, Row, Seen, Table, across_along};
use crate::cutting::parts::{SheetGroup, StickGroup};
use crate::cutting::saw;
use crate::cutting::sheets::{KnifeCut, SheetCut, runs_of_settings};
use crate::finding::Subject;
use crate::quantity::ModelLength;
use crate::solve::sheets::Axis;

/// Lengths this near are cut at one stop.
const ONE_STOP_THOU: f64 = 0.75;

/// Pieces of one length of a stock.
struct Stop {
    length: ModelLength,
    count: u32,
    /// Row of the table of sticks, pieces a stick.
    from: Vec<(usize, u32)>,
    labels: Vec<String>,
}

/// The stop for each length of a stock, the longest first.
pub(super) fn sticks(seen: Seen<'_>, group: &StickGroup) -> Table {
    let heads = [">set", ">stop at in", ">pieces", "from row", "ends", "marked"];
    let mut table = Table::new(&format!("{}: set-ups", group.stock), &heads);
    for (at, stop) in stops(group).iter().enumerate() {
        let from = |(row, each): &(usize, u32)| {
            let times = group.layout.cuts[*row].times;
            if times == 1 {
                format!("{}: {each}", row + 1)
            } else {
                format!("{}: {each} each", row + 1)
            }
        };
        table.push(Row::about(
            Subject::Stock(group.stock.clone()),
            vec![
                (at + 1).to_string(),
                format!("{:.3}", stop.length.in_inches()),
                stop.count.to_string(),
                stop.from.iter().map(from).collect::<Vec<_>>().join(", "),
                ends(seen, &stop.labels),
                first_few(&stop.labels),
            ],
        ));
    }
    table.notes.push(left_over(group));
    table
}

/// The first rows of the sticks from which each stop takes pieces.
pub(super) fn stick_rows(group: &StickGroup) -> Vec<usize> {
    stops(group).iter().map(|stop| stop.from.first().map_or(0, |from| from.0)).collect()
}

fn stops(group: &StickGroup) -> Vec<Stop> {
    let mut stops: Vec<Stop> = Vec::new();
    let near = ModelLength::thou(ONE_STOP_THOU);
    for (row, cut) in group.layout.cuts.iter().enumerate() {
        for (place, &part) in cut.pieces.iter().enumerate() {
            let length = group.parts[part].length;
            let found = stops.iter().position(|stop| stop.length.agrees(length, near));
            let at = found.unwrap_or_else(|| {
                stops.push(Stop { length, count: 0, from: Vec::new(), labels: Vec::new() });
                stops.len() - 1
            });
            let stop = &mut stops[at];
            stop.count += cut.times;
            match stop.from.last_mut().filter(|from| from.0 == row) {
                Some(from) => from.1 += 1,
                None => stop.from.push((row, 1)),
            }
            for one in &cut.each {
                let label = &group.parts[one[place]].label;
                if !stop.labels.contains(label) {
                    stop.labels.push(label.clone());
                }
            }
        }
    }
    stops.sort_by(|a, b| b.length.total_cmp(&a.length));
    stops
}

/// How the ends are cut where they are not square: those at an angle lie head
/// to tail, one cut for two ends.
fn ends(seen: Seen<'_>, labels: &[String]) -> String {
    let Ok(takeoff) = &seen.plan.takeoff else { return String::new() };
    let angles = labels.iter().filter_map(|label| takeoff.part(label)?.ends);
    let mut texts: Vec<String> =
        angles.map(|angle| format!("{:.1} deg, head to tail", angle.in_degrees())).collect();
    texts.dedup();
    if texts.is_empty() { "square".to_owned() } else { texts.join("; ") }
}

fn first_few(labels: &[String]) -> String {
    const SHOWN: usize = 3;
    let mut text = labels.iter().take(SHOWN).cloned().collect::<Vec<_>>().join(", ");
    if labels.len() > SHOWN {
        text += &format!(" and {} more", labels.len() - SHOWN);
    }
    text
}

/// What to keep and what to bin.
fn left_over(group: &StickGroup) -> String {
    let keep = |worth: bool| {
        let here = group.layout.cuts.iter().filter(move |cut| saw::is_worth_keeping(cut) == worth);
        here.map(|cut| cut.times).sum::<u32>()
    };
    format!(
        "Row: that of the table above. Left over: keep {} with a label, bin {}.",
        keep(true),
        keep(false)
    )
}

/// The fence for each run of cuts of the sheets of a stock.
pub(super) fn sheets(group: &SheetGroup) -> Table {
    let heads = [">sheet", ">set", "fence along", ">at in", ">cuts", "of", "gives"];
    let mut table = Table::new(&format!("{}: set-ups", group.stock), &heads);
    for (number, sheet) in group.layout.sheets.iter().enumerate() {
        for (at, run) in runs_of_settings(&sheet.cuts).enumerate() {
            let Some(first) = run.first() else { continue };
            let head = if at == 0 { (number + 1).to_string() } else { String::new() };
            table.push(
                Row::about(
                    Subject::Stock(group.stock.clone()),
                    vec![
                        head,
                        (at + 1).to_string(),
                        along(first).to_owned(),
                        format!("{:.3}", first.set_to().in_inches()),
                        run.len().to_string(),
                        across_along(&first.piece),
                        gives(group, sheet, run),
                    ],
                )
                .can(vec![Act::Cut]),
            );
        }
    }
    table.notes.push(
        "The fence is set once for all cuts of a row; the edge of the piece against it.".to_owned(),
    );
    let kept = group.layout.sheets.iter().filter_map(|sheet| sheet.offcut);
    let kept: Vec<String> =
        kept.filter(saw::is_worth_keeping_sheet).map(|offcut| across_along(&offcut)).collect();
    if !kept.is_empty() {
        table.notes.push(format!("Keep with a label: {}; bin the rest.", kept.join(", ")));
    }
    table
}

/// Sheet and first cut of each row of [`sheets`].
pub(super) fn sheet_rows(group: &SheetGroup) -> Vec<(usize, usize)> {
    let mut rows = Vec::new();
    for (number, sheet) in group.layout.sheets.iter().enumerate() {
        let mut at = 0;
        for run in runs_of_settings(&sheet.cuts) {
            rows.push((number, at));
            at += run.len();
        }
    }
    rows
}

fn along(cut: &KnifeCut) -> &'static str {
    match cut.axis {
        Axis::X => "the grain",
        Axis::Y => "across it",
    }
}

/// The parts that are free after a run of cuts.
fn gives(group: &SheetGroup, sheet: &SheetCut, run: &[KnifeCut]) -> String {
    let hair = ModelLength::thou(1.0);
    let mut found: Vec<(&str, u32)> = Vec::new();
    for cut in run {
        let kept = cut.kept();
        let same = |laid: &&crate::cutting::sheets::LaidPart| {
            let (a, b) = (laid.area, kept);
            a.x.agrees(b.x, hair)
                && a.y.agrees(b.y, hair)
                && a.width.agrees(b.width, hair)
                && a.height.agrees(b.height, hair)
        };
        if let Some(laid) = sheet.parts.iter().find(same) {
            let label = group.parts[laid.part].label.as_str();
            match found.iter_mut().find(|one| one.0 == label) {
                Some(one) => one.1 += 1,
                None => found.push((label, 1)),
            }
        }
    }
    let texts: Vec<String> =
        found.iter().map(|(label, count)| format!("{count} {label}")).collect();
    first_few(&texts)
}
