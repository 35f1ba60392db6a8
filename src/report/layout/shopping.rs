//! The shopping list.

use super::{Cell, Mark, Seen, Table, count, only, percent, rows, text};
use crate::catalog::rack::coins;
use crate::cutting::parts::{Layout, Misfit};
use crate::cutting::shopping::{self, Buys, Line, Source, sources};
use crate::finding::Subject;
use crate::report::column::number;
use crate::report::table::{OnSheet, RowKey};

/// What to buy: needed and spare, less what is on hand.
pub(super) fn table(seen: Seen<'_>, layout: &Layout) -> Table {
    let lines = match (&seen.plan.stock, &seen.plan.takeoff) {
        (Ok(stock), Ok(takeoff)) => shopping::list(layout, stock, takeoff, &seen.catalog.rack),
        _ => Vec::new(),
    };
    let places: Vec<RowKey> = sources(layout).into_iter().map(|it| place(layout, it)).collect();
    let key = |(at, it): (usize, &Line)| {
        places.get(at).cloned().unwrap_or_else(|| RowKey::of(&Subject::Stock(it.stock.clone())))
    };
    let costs: Vec<i64> = lines.iter().filter_map(Line::cost).collect();
    let known = if costs.len() < lines.len() { ", as far as prices are known" } else { "" };
    let cost = format!("In all {}{known}.", coins(costs.iter().sum()));
    rows("to_buy", "To buy", lines.iter().enumerate())
        .about(|(_, it)| Subject::Stock(it.stock.clone()))
        .keyed(key)
        .col(text("stock", "stock"), |(_, it)| {
            Cell::said(format!("{}{}", it.stock, size(it)), &it.stock)
        })
        .col(text("buys", "of"), |(_, it)| Cell::said(it.buys.word(), Cell::data(it.buys)))
        .col(only("across_in"), |(_, it)| it.size.0)
        .col(only("along_in"), |(_, it)| it.size.1)
        .col(count("needed", "needed"), |(_, it)| it.needed)
        .col(count("on_hand", "on hand"), |(_, it)| it.on_hand)
        .col(count("spare", "spare"), |(_, it)| it.spare)
        .col(count("buy", "buy"), |(_, it)| it.to_buy())
        .col(super::money("cost", "cost"), |(_, it)| it.cost().map(Cell::Money))
        .col(percent("waste", "waste %", 1).tail(""), |(_, it)| it.waste)
        .col(number("bound", "bound", 2), |(_, it)| {
            it.best.map(|[_, bound]| Cell::said(bound.to_string(), bound.number()))
        })
        .col(only("unit"), |(_, it)| it.best.map(|[_, bound]| Cell::data(bound.unit)))
        .col(only("proven"), |(_, it)| it.proven)
        .col(text("best", "best").screen(), |(_, it)| best(it))
        .notes((!costs.is_empty()).then_some(cost))
        .note("Waste is what the layout leaves, of what is bought; spares are for breakage.")
        .table()
}

/// Where the first of a size is cut.
fn place(layout: &Layout, source: Source) -> RowKey {
    match source {
        Source::Sticks(at, size) => {
            let group = &layout.sticks[at];
            let at = group.layout.cuts.iter().position(|cut| cut.stock == size);
            RowKey::laid(&group.stock, at.unwrap_or(0), None)
        }
        Source::Sheets(at, size) => {
            let group = &layout.sheets[at];
            let at = group.layout.sheets.iter().position(|sheet| sheet.stock == size);
            RowKey::laid(&group.stock, at.unwrap_or(0), Some(OnSheet::Whole))
        }
    }
}

fn size(line: &Line) -> String {
    let (across, along) = (line.size.0.in_inches(), line.size.1.in_inches());
    match line.buys {
        Buys::Sticks => format!(", {along:.0} in"),
        Buys::SheetsToRip | Buys::Sheets => format!(", {across:.1} x {along:.1} in"),
        Buys::Castings => format!(", frame {across:.3} x {along:.3} in"),
    }
}

/// How good the layout behind a line is.
fn best(line: &Line) -> Option<String> {
    let [cost, bound] = line.best?;
    Some(match line.proven {
        true => format!("{}, proven", cost.best_word()),
        false => format!("at most {} more", cost.less(bound)),
    })
}

/// What fits nothing that can be bought, with what would help.
pub(super) fn misfits(layout: &Layout) -> Table {
    let size = |it: &Misfit| {
        let long = it.size.1.in_inches();
        match it.size.0 {
            Some(wide) => format!("{:.3} x {long:.3}", wide.in_inches()),
            None => format!("{long:.3}"),
        }
    };
    rows("fits_nothing", "Fits nothing", &layout.misfits)
        .about(|it| Subject::Part(it.label.clone()))
        .marked(|_| Mark::Refused)
        .col(text("part", "part"), |it| &it.label)
        .col(count("count", "count"), |it| it.count)
        .col(text("size", "size in").screen(), |it| Cell::said(size(it), it.size.1))
        .col(only("across_in"), |it| it.size.0)
        .col(only("along_in"), |it| it.size.1)
        .col(text("stock", "stock"), |it| &it.stock)
        .col(text("remedy", "what would do"), |it| &it.remedy)
        .table()
}
