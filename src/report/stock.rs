//! The stock as tables: nearest sizes, the error of each, what adds up.
//!
//! JSON: `stop` where the stage could not go on, else `choices[]` with `key`,
//! `what`, `nominal`, `thickness_full_in`, `width_full_in`, `thickness_in`,
//! `width_in`, `stock`, `picked`, `ways[]` (`stock`, `material`, `way`,
//! `thickness_error_thou`, `width_error_thou`, `error_full_in`, `percent`,
//! `verdict`, `seen`, `under_survey`), `rows[]` (`section`, `face`, `count`,
//! `each_thou`, `sum_in`, `within_half`, `nominal_full_in`, `used_full_in`), and
//! `findings[]`.

use serde_json::{Value, json};

use super::Seen;
use super::faces::stopped;
use super::table::{Mark, Row, Table, View};
use crate::finding::{Finding, Subject};
use crate::quantity::{ModelLength, Scale};
use crate::stock::{Choice, Choices, Match, Verdict, Way, accumulate};
use crate::takeoff::Run;

/// The view.
#[must_use]
pub fn view(seen: Seen<'_>) -> View {
    let title = format!("{}: stock", seen.job.about.name);
    let (stock, scale) = match (&seen.plan.stock, &seen.plan.scale) {
        (Ok(stock), Ok(scale)) => (stock, scale),
        (Err(stop), _) | (_, Err(stop)) => return stopped(title, stop),
    };
    View {
        title,
        lead: vec![
            "Nearest stock for each section: error on the model, at full size, in percent."
                .to_owned(),
        ],
        tables: vec![
            taken(&stock.choices, scale),
            rows(seen, stock, scale),
            others(&stock.choices, scale),
        ],
        findings: noticed(seen),
        next: "takeoff: the parts of the building".to_owned(),
    }
}

fn taken(choices: &[Choice], scale: &Scale) -> Table {
    let heads =
        ["for", "nominal", ">wanted thou", "stock", ">out thou", ">full size", ">%", "verdict"];
    let mut table = Table::new("Taken", &heads);
    for choice in choices {
        let subject = Subject::Member(choice.wanted.key.clone());
        let mut cells = vec![
            choice.wanted.key.clone(),
            choice.wanted.nominal.clone().unwrap_or_default(),
            wanted(choice),
        ];
        let (rest, mark) = match choice.taken() {
            Some(made) => (figures(made, scale), mark(made.verdict, choice.picked.is_some())),
            None => {
                let none = ["none will do", "", "", "", "make it"];
                (none.map(str::to_owned).to_vec(), Mark::Refused)
            }
        };
        cells.extend(rest);
        table.push(Row::about(subject, cells).marked(mark));
    }
    table
}

fn mark(verdict: Verdict, picked: bool) -> Mark {
    match (verdict, picked) {
        (_, true) => Mark::Chosen,
        (Verdict::Take, _) => Mark::Plain,
        _ => Mark::Look,
    }
}

fn wanted(choice: &Choice) -> String {
    format!("{:.1} x {:.1}", choice.model.thickness.in_thou(), choice.model.width.in_thou())
}

fn figures(made: &Match, scale: &Scale) -> Vec<String> {
    vec![
        format!("{}{}", made.stock, way(made.way)),
        format!("{:+.1} x {:+.1}", made.thickness_error.in_thou(), made.width_error.in_thou()),
        format!("{:+.2} in", made.worst_full(scale).in_inches()),
        format!("{:+.1}", made.percent()),
        says(made),
    ]
}

fn way(way: Way) -> &'static str {
    match way {
        Way::Single => "",
        Way::Ripped => ", ripped",
        Way::TwoLayers => ", two layers",
        Way::ThreeLayers => ", three layers",
    }
}

fn says(made: &Match) -> String {
    let verdict = match made.verdict {
        Verdict::Take => "take it",
        Verdict::Warn => "will do",
        Verdict::Refuse => "too far out",
    };
    let seen = if made.seen { "" } else { ", not seen" };
    let known = if made.under_survey == Some(true) { ", under the survey's ±" } else { "" };
    format!("{verdict}{seen}{known}")
}

/// Rows of pieces alike: what the error of each comes to, and the pitch that
/// makes them come out even.
fn rows(seen: Seen<'_>, stock: &Choices, scale: &Scale) -> Table {
    let heads = [
        "row",
        "where",
        ">pieces",
        ">each thou",
        ">sum in",
        ">full size",
        "sum",
        ">pitch thou",
        ">was",
    ];
    let mut table = Table::new("What adds up", &heads);
    let runs = seen.plan.takeoff.as_ref().map_or(&[][..], |takeoff| &takeoff.runs);
    for run in runs.iter().filter(|run| run.count > 1) {
        let made = stock.of(&run.section).and_then(|choice| choice.taken());
        // Courses that lap go by marks, whatever the width of the strip.
        let each = made.filter(|_| run.by_width).map_or(ModelLength::ZERO, |m| m.width_error);
        let unit: ModelLength = scale.reduce(run.nominal);
        let all = accumulate(run.count, each, unit, scale);
        let pitch: ModelLength = scale.reduce(run.used);
        let cells = vec![
            run.section.clone(),
            run.face.clone(),
            run.count.to_string(),
            format!("{:+.1}", each.in_thou()),
            format!("{:+.3}", all.sum.in_inches()),
            format!("{:+.1} in", all.sum_full.in_inches()),
            if all.within_half { "under half a piece" } else { "share it out" }.to_owned(),
            format!("{:.2}", pitch.in_thou()),
            format!("{:.2}", unit.in_thou()),
        ];
        let row = Row::about(Subject::Member(run.section.clone()), cells);
        table.push(if all.within_half { row } else { row.marked(Mark::Look) });
    }
    if !table.rows.is_empty() {
        table.notes.push(
            "Pitch: what each takes so that the row comes out even. Mark it from one end with running marks."
                .to_owned(),
        );
    }
    table
}

fn others(choices: &[Choice], scale: &Scale) -> Table {
    let mut table =
        Table::new("Other ways", &["for", "stock", ">out thou", ">full size", ">%", "verdict"]);
    for choice in choices {
        let rest = choice.ways.iter().enumerate().filter(|(at, _)| Some(*at) != choice.taken);
        for (_, made) in rest.take(2) {
            let mut cells = vec![choice.wanted.key.clone()];
            cells.extend(figures(made, scale));
            table.push(Row::about(Subject::Stock(made.stock.clone()), cells));
        }
    }
    table
}

fn noticed(seen: Seen<'_>) -> Vec<Finding> {
    let members = |finding: &&Finding| matches!(finding.subject, Subject::Member(_));
    seen.plan.findings.iter().filter(members).cloned().collect()
}

/// The view as JSON.
#[must_use]
pub fn json(seen: Seen<'_>) -> Value {
    match (&seen.plan.stock, &seen.plan.scale) {
        (Ok(stock), Ok(scale)) => json!({
            "rows": rows_json(seen, stock, scale),
            "choices": stock.choices.iter().map(|choice| choice_json(choice, scale)).collect::<Vec<_>>(),
            "findings": noticed(seen),
        }),
        (Err(stop), _) | (_, Err(stop)) => json!({ "stop": stop }),
    }
}

fn rows_json(seen: Seen<'_>, stock: &Choices, scale: &Scale) -> Vec<Value> {
    let runs = seen.plan.takeoff.as_ref().map_or(&[][..], |takeoff| &takeoff.runs);
    let row = |run: &Run| {
        let made = stock.of(&run.section).and_then(|choice| choice.taken());
        let each = made.filter(|_| run.by_width).map_or(ModelLength::ZERO, |m| m.width_error);
        let all = accumulate(run.count, each, scale.reduce(run.nominal), scale);
        json!({
            "section": run.section,
            "face": run.face,
            "count": run.count,
            "each_thou": each.in_thou(),
            "sum_in": all.sum.in_inches(),
            "within_half": all.within_half,
            "nominal_full_in": run.nominal.in_inches(),
            "used_full_in": run.used.in_inches(),
        })
    };
    runs.iter().map(row).collect()
}

fn choice_json(choice: &Choice, scale: &Scale) -> Value {
    json!({
        "key": choice.wanted.key,
        "what": choice.wanted.what,
        "nominal": choice.wanted.nominal,
        "thickness_full_in": choice.wanted.full.thickness.in_inches(),
        "width_full_in": choice.wanted.full.width.in_inches(),
        "thickness_in": choice.model.thickness.in_inches(),
        "width_in": choice.model.width.in_inches(),
        "stock": choice.stock_name(),
        "picked": choice.picked,
        "ways": choice.ways.iter().map(|made| json!({
            "stock": made.stock,
            "material": made.material,
            "way": made.way,
            "thickness_error_thou": made.thickness_error.in_thou(),
            "width_error_thou": made.width_error.in_thou(),
            "error_full_in": made.worst_full(scale).in_inches(),
            "percent": made.percent(),
            "verdict": made.verdict,
            "seen": made.seen,
            "under_survey": made.under_survey,
        })).collect::<Vec<_>>(),
    })
}
