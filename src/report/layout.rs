//! The cut list: sticks and sheets, what is cut from each, and in what order.
//! The key of a row says which stick or sheet it speaks of, so that it can be
//! drawn.

mod by_wall;
pub mod laser;
mod list;
mod setups;
mod sheets;
mod shopping;
pub mod shown;
mod sticks;

pub use by_wall::view_by_wall;
pub use list::csv;

use super::Seen;
use super::cell::Cell;
use super::column::{count, money, only, percent, text};
use super::draft::{Draft, rows};
use super::table::{Act, Mark, Table, View};
use super::takeoff::state_word;
use crate::cutting::amount::{Amount, Unit};
use crate::cutting::parts::Layout;
use crate::finding::Subject;
use crate::job::model::Done;

/// The view.
#[must_use]
pub fn view(seen: Seen<'_>) -> View {
    let title = format!("{}: cut list", seen.job.about.name);
    let layout = match &seen.plan.layout {
        Ok(layout) => layout,
        Err(stop) => return View::stopped(title, stop),
    };
    let mut tables = vec![
        shopping::misfits(layout),
        shopping::table(seen, layout),
        tonight(seen),
        rack(seen),
        sticks::table(seen, &layout.sticks),
        sheets::table(&layout.sheets),
    ];
    for group in &layout.sticks {
        tables.push(sticks::cuts(seen, Some(group)).screen().table());
        tables.push(setups::sticks(seen, group));
    }
    for group in &layout.sheets {
        tables.extend([sheets::laid(seen, group), setups::sheets(group), sheets::in_order(group)]);
    }
    View {
        title,
        lead: vec![how_good(layout)].into_iter().chain(saved(layout)).collect(),
        tables,
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

/// How good the plan of a stock is: what it takes at least, and in what.
fn proven<T: Copy>(
    draft: Draft<T>,
    bound: impl Fn(T) -> Amount,
    proven: impl Fn(T) -> bool,
) -> Draft<T> {
    draft
        .col(only("bound"), |it| bound(it).number())
        .col(only("unit"), |it| Cell::data(bound(it).unit))
        .col(only("proven"), proven)
}

fn state(seen: Seen<'_>, label: &str) -> &'static str {
    state_word(seen.job.done.get(label).copied())
}

/// Parts still to cut, stain and fit: the order of the work.
fn tonight(seen: Seen<'_>) -> Table {
    let parts = seen.plan.takeoff.as_ref().map_or(&[][..], |takeoff| &takeoff.parts);
    let here = |state: Option<Done>| {
        parts.iter().filter(move |part| seen.job.done.get(&part.label).copied() == state)
    };
    let states = [None, Some(Done::Cut), Some(Done::Stained), Some(Done::Fitted)];
    rows("work", "Order of work", states.into_iter().filter(|state| here(*state).next().is_some()))
        .screen()
        .col(text("state", "state"), state_word)
        .col(count("parts", "parts"), |it| here(it).map(|part| u64::from(part.count)).sum::<u64>())
        .col(text("next", "next"), |it| Cell::list(here(it).take(4).map(|part| &part.label)))
        .note(
            "Say when a stick or sheet is cut (k on its row on the screen): its pieces leave the list, \
             its offcut goes to the rack. Space ticks a part: cut, stained, fitted.",
        )
        .table()
}

/// The offcuts on hand; they are used before anything is bought.
fn rack(seen: Seen<'_>) -> Table {
    rows("rack", "On the rack", &seen.job.offcuts)
        .screen()
        .about(|it| Subject::Stock(it.stock.clone()))
        .col(text("stock", "stock"), |it| &it.stock)
        .col(count("count", "count"), |it| it.count)
        .col(super::column::number("width", "width", 3), |it| it.width.as_ref().map(Cell::from))
        .col(super::column::number("length", "length", 3), |it| Cell::from(&it.length))
        .table()
}

#[cfg(test)]
mod tests;
