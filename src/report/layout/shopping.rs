//! The shopping list.

use serde_json::{Value, json};

use super::{Mark, Row, Seen, Table};
use crate::catalog::rack::coins;
use crate::cutting::parts::{Layout, Misfit};
use crate::cutting::shopping::{self, Buys, Line};
use crate::finding::Subject;
use crate::quantity::ModelLength;

/// What to buy: needed and spare, less what is on hand.
pub(super) fn table(seen: Seen<'_>) -> Table {
    let heads = [
        "stock", "of", ">needed", ">on hand", ">spare", ">buy", ">cost", ">waste %", ">bound",
        "best",
    ];
    let mut table = Table::new("To buy", &heads);
    let lines = lines(seen);
    for line in &lines {
        let row = vec![
            format!("{}{}", line.stock, size(line)),
            line.buys.word().to_owned(),
            line.needed.to_string(),
            line.on_hand.to_string(),
            line.spare.to_string(),
            line.to_buy().to_string(),
            line.cost().map_or_else(String::new, coins),
            line.waste.map_or_else(String::new, |waste| format!("{:.1}", 100.0 * waste)),
            line.best.map_or_else(String::new, |[_, bound]| bound.to_string()),
            best(line),
        ];
        table.push(Row::about(Subject::Stock(line.stock.clone()), row));
    }
    let costs: Vec<i64> = lines.iter().filter_map(Line::cost).collect();
    if !costs.is_empty() {
        let known = if costs.len() < lines.len() { ", as far as prices are known" } else { "" };
        table.notes.push(format!("In all {}{known}.", coins(costs.iter().sum())));
    }
    table.notes.push(
        "Waste is what the layout leaves, of what is bought; spares are for breakage.".to_owned(),
    );
    table
}

fn lines(seen: Seen<'_>) -> Vec<Line> {
    let plan = seen.plan;
    match (&plan.layout, &plan.stock, &plan.takeoff) {
        (Ok(layout), Ok(stock), Ok(takeoff)) => {
            shopping::list(layout, stock, takeoff, &seen.catalog.rack)
        }
        _ => Vec::new(),
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
fn best(line: &Line) -> String {
    let Some([cost, bound]) = line.best else { return String::new() };
    if line.proven {
        return format!("{}, proven", cost.best_word());
    }
    format!("at most {} more", cost.less(bound))
}

/// What fits nothing that can be bought, with what would help.
pub(super) fn misfits(layout: &Layout) -> Table {
    let mut table =
        Table::new("Fits nothing", &["part", ">count", "size in", "stock", "what would do"]);
    for misfit in &layout.misfits {
        let long = misfit.size.1.in_inches();
        let size = misfit.size.0.map_or_else(
            || format!("{long:.3}"),
            |wide| format!("{:.3} x {long:.3}", wide.in_inches()),
        );
        let cells = vec![
            misfit.label.clone(),
            misfit.count.to_string(),
            size,
            misfit.stock.clone(),
            misfit.remedy.clone(),
        ];
        let row = Row::about(Subject::Part(misfit.label.clone()), cells);
        table.push(row.marked(Mark::Refused));
    }
    table
}

/// What fits nothing, as JSON.
pub(super) fn misfits_json(layout: &Layout) -> Vec<Value> {
    let one = |misfit: &Misfit| {
        json!({
            "part": misfit.label,
            "stock": misfit.stock,
            "count": misfit.count,
            "across_in": misfit.size.0.map(ModelLength::in_inches),
            "along_in": misfit.size.1.in_inches(),
            "remedy": misfit.remedy,
        })
    };
    layout.misfits.iter().map(one).collect()
}

/// The list as JSON.
pub(super) fn json(seen: Seen<'_>) -> Vec<Value> {
    let line = |line: &Line| {
        json!({
            "stock": line.stock,
            "buys": line.buys,
            "across_in": line.size.0.in_inches(),
            "along_in": line.size.1.in_inches(),
            "needed": line.needed,
            "on_hand": line.on_hand,
            "spare": line.spare,
            "buy": line.to_buy(),
            "cost": line.cost().map(coins),
            "waste": line.waste,
            "bound": line.best.map(|[_, bound]| bound.number()),
            "unit": line.best.map(|[_, bound]| bound.unit),
            "proven": line.proven,
        })
    };
    lines(seen).iter().map(line).collect()
}
