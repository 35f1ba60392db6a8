//! The set-up sheet: what the fence or the stop is set to, and what it cuts
//! before it is set again.

use super::sheets::{across_along, in_inches, number_of};
use super::{Act, Cell, Seen, Table, count, rows, text};
use crate::cutting::parts::{SheetGroup, StickGroup};
use crate::cutting::saw;
use crate::cutting::sheets::{KnifeCut, SheetCut, runs_of_settings};
use crate::finding::Subject;
use crate::quantity::ModelLength;
use crate::report::table::{OnSheet, RowKey};
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

/// The stop for each length of a stock, the longest first. A single row of
/// sticks says all there is to set.
pub(super) fn sticks(seen: Seen<'_>, group: &StickGroup) -> Table {
    let stops = if group.layout.cuts.len() > 1 { stops(group) } else { Vec::new() };
    let stock = group.stock.as_str();
    let from = |(row, each): &(usize, u32)| {
        let once = group.layout.cuts[*row].times == 1;
        format!("{}: {each}{}", row + 1, if once { "" } else { " each" })
    };
    let first = |it: &Stop| it.from.first().map_or(0, |(row, _)| *row);
    rows("stops", &format!("{stock}: set-ups"), stops.iter().enumerate())
        .screen()
        .named(&format!("{stock}: stops"))
        .about(|_| Subject::Stock(stock.to_owned()))
        .keyed(|(_, it)| RowKey::laid(stock, first(it), None))
        .col(count("set", "set"), |(at, _)| at + 1)
        .col(in_inches("stop_in", "stop at in"), |(_, it)| it.length)
        .col(count("count", "pieces"), |(_, it)| it.count)
        .col(text("from", "from row"), |(_, it)| Cell::list(it.from.iter().map(from)))
        .col(text("ends", "ends"), |(_, it)| ends(seen, &it.labels))
        .col(text("marked", "marked"), |(_, it)| first_few(&it.labels))
        .note(left_over(group))
        .table()
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
    let stock = group.stock.as_str();
    let all = &group.layout.sheets;
    let runs = all.iter().enumerate().flat_map(|(number, sheet)| {
        let mut next = 0;
        let runs = runs_of_settings(&sheet.cuts).filter(|run| !run.is_empty());
        runs.enumerate().map(move |(at, run)| {
            let first = next;
            next += run.len();
            Run { number, sheet, at, first, run }
        })
    });
    let kept = all.iter().filter_map(|sheet| sheet.offcut);
    let kept: Vec<String> =
        kept.filter(saw::is_worth_keeping_sheet).map(|offcut| across_along(&offcut)).collect();
    rows("fence", &format!("{stock}: set-ups"), runs)
        .screen()
        .named(&format!("{stock}: fence"))
        .about(|_| Subject::Stock(stock.to_owned()))
        .keyed(|it| RowKey::laid(stock, it.number, Some(OnSheet::Cut(it.first))))
        .can(|_| vec![Act::Cut])
        .col(count("sheet", "sheet"), |it| number_of(it.number, it.at))
        .col(count("set", "set"), |it| it.at + 1)
        .col(text("along", "fence along"), |it| along(&it.run[0]))
        .col(in_inches("at_in", "at in"), |it| it.run[0].set_to())
        .col(count("cuts", "cuts"), |it| it.run.len())
        .col(text("piece", "of"), |it| across_along(&it.run[0].piece))
        .col(text("gives", "gives"), |it| gives(group, it.sheet, it.run))
        .note("The fence is set once for all cuts of a row; the edge of the piece against it.")
        .notes(
            (!kept.is_empty())
                .then(|| format!("Keep with a label: {}; bin the rest.", kept.join(", "))),
        )
        .table()
}

/// Cuts of a sheet made at one setting of the fence.
#[derive(Clone, Copy)]
struct Run<'a> {
    number: usize,
    sheet: &'a SheetCut,
    /// Which of the sheet's runs.
    at: usize,
    /// Its first cut among those of the sheet.
    first: usize,
    run: &'a [KnifeCut],
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
