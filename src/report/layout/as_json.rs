//! The cut list as JSON.
//!
//! `stop` where the stage could not go on, else `fits_nothing[]` (`part`, `stock`, `count`,
//! `across_in`, `along_in`, `remedy`), `to_buy[]` (`stock`, `buys`,
//! `across_in`, `along_in`, `needed`, `on_hand`, `spare`, `buy`, `cost`, `waste`,
//! `bound` in its `unit`: `count`, `length` in inches, `area` in square inches
//! or `money`; `proven`), `sticks[]` (`stock`, `count`,
//! `bound`, `proven`, `waste`, `spare`, `bought_in`, `usable_in`, `cuts[]` with
//! `times`, `from_rack`, `stick_in`, `each[]` the pieces of every stick, `pieces[]`, `at_in[]` where each piece begins, `length_in[]`,
//! `left_in`), `sheet_plans[]` and `findings[]`.
//!
//! `sheet_plans[]`: `stock`, `count`, `bound`, `proven`, `waste`, `sheets[]`
//! with `width_in` (across the grain), `height_in` (along it), `used` (a
//! share), `from_rack`, `parts[]` as `label`, `x_in`, `y_in`, `width_in`, `height_in`,
//! `turned`, and for the laser `outline_in[]` and `openings_in[]`, corners along the grain and
//! across it; `cuts[]` in the order they are made, as `along` (`"grain"` or
//! `"across"`), `at_in` on the sheet, `fence_in`
//! from the edge against the fence, `stage` and the `piece` cut; and
//! `offcut`, the largest rectangle left whole. A rectangle has `x_in`, `y_in`
//! of its lower left corner, `width_in` across the grain and `height_in`
//! along it.

use serde_json::{Value, json};

use super::{Seen, sheet_waste};
use crate::cutting::parts::{SheetGroup, StickGroup};
use crate::cutting::sheets::{Area, KnifeCut, SheetCut};
use crate::cutting::sticks::StickCut;
use crate::quantity::{Model, ModelLength};
use crate::solve::sheets::Axis;
use crate::takeoff::Point;

/// The view as JSON.
#[must_use]
pub fn json(seen: Seen<'_>) -> Value {
    match &seen.plan.layout {
        Ok(layout) => json!({
            "fits_nothing": super::shopping::misfits_json(layout),
            "to_buy": super::shopping::json(seen),
            "sticks": layout.sticks.iter().map(sticks).collect::<Vec<_>>(),
            "sheet_plans": layout.sheets.iter().map(sheets).collect::<Vec<_>>(),
        }),
        Err(stop) => json!({ "stop": stop }),
    }
}

fn sticks(group: &StickGroup) -> Value {
    json!({
        "stock": group.stock,
        "count": group.count(),
        "bound": group.amounts()[1].number(),
        "unit": group.amounts()[1].unit,
        "proven": group.layout.proven,
        "waste": group.waste(),
        "spare": group.spare,
        "bought_in": group.bought.in_inches(),
        "usable_in": group.usable.in_inches(),
        "cuts": group.layout.cuts.iter().map(|cut| stick(group, cut)).collect::<Vec<_>>(),
    })
}

fn labels<'a>(group: &'a StickGroup, pieces: &[usize]) -> Vec<&'a str> {
    pieces.iter().map(|&part| group.parts[part].label.as_str()).collect()
}

fn stick(group: &StickGroup, cut: &StickCut) -> Value {
    let parts = || cut.pieces.iter().map(|&part| &group.parts[part]);
    json!({
        "times": cut.times,
        "from_rack": !group.is_new(cut),
        "stick_in": group.usable_of(cut).in_inches(),
        "pieces": parts().map(|part| &part.label).collect::<Vec<_>>(),
        "each": cut.each.iter().map(|one| labels(group, one)).collect::<Vec<_>>(),
        "at_in": group.starts(cut).into_iter().map(ModelLength::in_inches).collect::<Vec<_>>(),
        "length_in": parts().map(|part| part.length.in_inches()).collect::<Vec<_>>(),
        "left_in": cut.left.in_inches(),
    })
}

fn sheets(group: &SheetGroup) -> Value {
    json!({
        "stock": group.stock,
        "count": group.count(),
        "bound": group.amounts()[1].number(),
        "unit": group.amounts()[1].unit,
        "proven": group.layout.proven,
        "waste": sheet_waste(group),
        "sheets": group.layout.sheets.iter().map(|one| sheet(group, one)).collect::<Vec<_>>(),
    })
}

fn sheet(group: &SheetGroup, sheet: &SheetCut) -> Value {
    let stock = &group.sheets[sheet.stock];
    json!({
        "width_in": stock.width.in_inches(),
        "height_in": stock.height.in_inches(),
        "from_rack": !group.is_new(sheet),
        "used": sheet.used,
        "parts": (0..sheet.parts.len()).map(|at| part(group, sheet, at)).collect::<Vec<_>>(),
        "cuts": sheet.cuts.iter().map(knife_cut).collect::<Vec<_>>(),
        "offcut": sheet.offcut.map(|offcut| area(&offcut)),
    })
}

fn part(group: &SheetGroup, sheet: &SheetCut, at: usize) -> Value {
    let laid = sheet.parts[at];
    let mut value = area(&laid.area);
    value["label"] = json!(group.parts[laid.part].label);
    value["turned"] = json!(laid.turned);
    if let Some(outline) = sheet.outlines.get(at) {
        let line = |points: &[Point<Model>]| -> Vec<[f64; 2]> {
            points.iter().map(|point| [point.x.in_inches(), point.y.in_inches()]).collect()
        };
        value["outline_in"] = json!(line(&outline.outer));
        value["openings_in"] =
            json!(outline.openings.iter().map(|opening| line(opening)).collect::<Vec<_>>());
    }
    value
}

fn knife_cut(cut: &KnifeCut) -> Value {
    json!({
        "along": if cut.axis == Axis::X { "grain" } else { "across" },
        "at_in": cut.at.in_inches(),
        "fence_in": cut.set_to().in_inches(),
        "stage": cut.stage,
        "piece": area(&cut.piece),
    })
}

fn area(area: &Area) -> Value {
    json!({
        "x_in": area.x.in_inches(),
        "y_in": area.y.in_inches(),
        "width_in": area.width.in_inches(),
        "height_in": area.height.in_inches(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalog::Catalog;
    use crate::job::{demo, document::Document};
    use crate::plan::plan;

    fn of_demo(name: &str) -> Value {
        let catalog = Catalog::built_in().expect("the shipped data");
        let text = demo::find(name).expect("a built-in job").text;
        let document = Document::read(name, text, &catalog).expect("a job");
        let plan = plan(document.job(), &catalog);
        json(Seen { job: document.job(), catalog: &catalog, plan: &plan })
    }

    fn number(value: &Value, key: &str) -> f64 {
        value[key].as_f64().unwrap_or_else(|| panic!("{key} in {value}"))
    }

    fn rows<'a>(value: &'a Value, key: &str) -> &'a [Value] {
        value[key].as_array().unwrap_or_else(|| panic!("{key} in {value}"))
    }

    /// Left, foot, right, top.
    fn edges(area: &Value) -> [f64; 4] {
        let [x, y] = ["x_in", "y_in"].map(|key| number(area, key));
        [x, y, x + number(area, "width_in"), y + number(area, "height_in")]
    }

    /// Half a count of the grid and rounding.
    const SLACK: f64 = 0.001;

    #[test]
    fn what_is_printed_lies_on_its_sheet_and_on_nothing_else() {
        for demo in demo::DEMOS {
            for sheet in rows(&of_demo(demo.name), "sheet_plans")
                .iter()
                .flat_map(|plan| rows(plan, "sheets"))
            {
                let parts: Vec<[f64; 4]> = rows(sheet, "parts")
                    .iter()
                    .map(edges)
                    .chain(sheet["offcut"].is_object().then(|| edges(&sheet["offcut"])))
                    .collect();
                for (at, [left, foot, right, top]) in parts.iter().enumerate() {
                    assert!(*left >= 0.0 && *right <= number(sheet, "width_in") + SLACK);
                    assert!(*foot >= 0.0 && *top <= number(sheet, "height_in") + SLACK);
                    for [l, f, r, t] in &parts[at + 1..] {
                        let apart = *l >= right - SLACK
                            || *r <= left + SLACK
                            || *f >= top - SLACK
                            || *t <= foot + SLACK;
                        assert!(apart, "{}: {sheet}", demo.name);
                    }
                }
                assert!(!rows(sheet, "cuts").is_empty(), "a knife cuts every part out");
            }
        }
    }

    #[test]
    fn pieces_follow_each_other_along_the_stick() {
        let plans = of_demo("river-cannery");
        for stick in rows(&plans, "sticks") {
            for cut in rows(stick, "cuts") {
                let usable = number(cut, "stick_in");
                let mut at = 0.0;
                for (begin, length) in rows(cut, "at_in").iter().zip(rows(cut, "length_in")) {
                    assert!(begin.as_f64().unwrap_or(-1.0) >= at - 1e-9, "{cut}");
                    at = begin.as_f64().unwrap_or(0.0) + length.as_f64().unwrap_or(0.0);
                }
                assert!(at <= usable + SLACK, "{cut}");
            }
        }
    }
}
