//! The sheet half of `scantling layout --problem FILE`.

use super::layout_problem::{Answer, how_good, shown};
use super::until::Until;
use crate::cutting::problem::SheetProblem;
use crate::finding::Stop;
use crate::quantity::ModelLength;
use crate::report::table::{Row, Table, View};
use crate::solve::sheets::{
    Axis, Budget, Control, Method, Problem, SheetPlan, Solution, runs_of_settings, setting, solve,
};
use serde_json::{Value, json};

/// Reads the word after `--method`.
///
/// # Errors
/// A word other than `knife` and `laser`.
pub(super) fn method(word: &str) -> Result<Method, Stop> {
    match word {
        "laser" => Ok(Method::Laser),
        "knife" => Ok(Method::Knife { stages: None }),
        other => Err(Stop::new(
            "reading the method",
            format!("\"{other}\" is not known"),
            "write knife for cuts from edge to edge, laser for any placement",
        )),
    }
}

/// Solves a sheet problem until it is time to end. As JSON: `name`, `method`,
/// `sheets` (a number), `cost`, `bound`, `proven`, `seconds`, `waste` (a
/// share), `grid_in` where lengths have units, and `plan`, a list of sheets
/// with `sheet` (row of the file from 0), `placed` (`part` is the row of the
/// file from 0), `cuts` in order and `offcut`.
///
/// # Errors
/// Numbers the solver refuses.
pub(super) fn solve_sheets(
    file: &SheetProblem,
    method: Method,
    until: &Until,
) -> Result<Answer, Stop> {
    let problem = file.problem()?;
    let method = match method {
        Method::Knife { .. } => Method::Knife { stages: file.stages },
        Method::Laser => Method::Laser,
    };
    let late = || until.is_over();
    let budget = Budget { stop: Some(&late), ..Budget::steps(u64::MAX) };
    let solution = solve(&problem, method, &budget, &mut |_| Control::Continue)
        .map_err(|error| Stop::new(format!("laying out {}", file.name), error.to_string(), ""))?;
    let json = as_json(file, &problem, method, &solution, until.taken());
    Ok(Answer { view: as_view(file, &problem, &solution), json })
}

fn as_json(
    file: &SheetProblem,
    problem: &Problem,
    method: Method,
    solution: &Solution,
    taken: f64,
) -> Value {
    let word = if method == Method::Laser { "laser" } else { "knife" };
    json!({
        "name": file.name,
        "method": word,
        "sheets": solution.sheets.len(),
        "cost": solution.cost,
        "bound": solution.bound,
        "proven": solution.proven,
        "seconds": taken,
        "waste": waste(problem, &solution.sheets),
        "grid_in": file.grid().map(ModelLength::in_inches),
        "plan": solution.sheets.iter().map(sheet_json).collect::<Vec<_>>(),
    })
}

fn sheet_json(plan: &SheetPlan) -> Value {
    json!({
        "sheet": plan.sheet,
        "placed": plan.placed,
        "cuts": plan.cuts,
        "offcut": plan.offcut,
    })
}

/// Share of some sheets that does not become parts.
fn waste(problem: &Problem, plans: &[SheetPlan]) -> f64 {
    let area = |width: i64, height: i64| width as f64 * height as f64;
    let (mut bought, mut used) = (0.0, 0.0);
    for plan in plans {
        let sheet = &problem.sheets[plan.sheet];
        bought += area(sheet.width, sheet.height);
        let parts = plan.placed.iter().map(|placed| &problem.parts[placed.part]);
        used += parts.map(|part| area(part.width, part.height)).sum::<f64>();
    }
    if bought > 0.0 { 1.0 - used / bought } else { 0.0 }
}

fn as_view(file: &SheetProblem, problem: &Problem, solution: &Solution) -> View {
    let lead = format!(
        "{} sheets, {}; {:.1} percent waste.",
        solution.sheets.len(),
        how_good(solution.cost, solution.bound, solution.proven),
        100.0 * waste(problem, &solution.sheets)
    );
    let left = |(row, count): &(usize, u64)| format!("{count} of row {} found no room.", row + 1);
    View {
        title: format!("{}: sheets", file.name),
        lead: std::iter::once(lead).chain(solution.unplaced.iter().map(left)).collect(),
        tables: vec![placed(file, problem, solution), set_ups(file, solution)],
        findings: Vec::new(),
        next: String::new(),
        ..View::default()
    }
}

/// What lies on each sheet, and what is left of it.
fn placed(file: &SheetProblem, problem: &Problem, solution: &Solution) -> Table {
    let heads = [">sheet", ">size row", "parts: count (row)", ">waste %", "offcut", ">settings"];
    let mut table = Table::new("Sheets", &heads);
    for (number, plan) in solution.sheets.iter().enumerate() {
        let mut rows: Vec<usize> = plan.placed.iter().map(|placed| placed.part).collect();
        rows.sort_unstable();
        let counts =
            rows.chunk_by(|a, b| a == b).map(|run| format!("{} ({})", run.len(), run[0] + 1));
        let offcut = plan.offcut.map_or_else(String::new, |offcut| {
            let size = [offcut.width, offcut.height].map(|counts| shown(counts, file.grid()));
            size.join(" x ")
        });
        table.push(Row::plain(vec![
            (number + 1).to_string(),
            (plan.sheet + 1).to_string(),
            counts.collect::<Vec<_>>().join(", "),
            format!("{:.1}", 100.0 * waste(problem, std::slice::from_ref(plan))),
            offcut,
            runs_of_settings(&plan.cuts).count().to_string(),
        ]));
    }
    table
}

/// The fence for each run of cuts of a knife.
fn set_ups(file: &SheetProblem, solution: &Solution) -> Table {
    let at = if file.grid().is_some() { ">at in" } else { ">at" };
    let mut table = Table::new("Set-ups", &[">sheet", ">set", "fence along", at, ">cuts"]);
    for (number, plan) in solution.sheets.iter().enumerate() {
        for (set, run) in runs_of_settings(&plan.cuts).enumerate() {
            let Some(first) = run.first() else { continue };
            let (axis, from) = setting(first);
            let along = if axis == Axis::X { "the grain" } else { "across it" };
            table.push(Row::plain(vec![
                if set == 0 { (number + 1).to_string() } else { String::new() },
                (set + 1).to_string(),
                along.to_owned(),
                shown(from, file.grid()),
                run.len().to_string(),
            ]));
        }
    }
    table
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cli::layout_problem::solve_problem_file;
    use crate::report::text;

    /// A pinwheel: no edge-to-edge cut takes it apart.
    const FILE: &str = "name = \"pinwheel\"\nkind = \"sheets\"\nsheet = [3, 3]\n\
                        parts = [[2, 1, 2], [1, 2, 2]]\n";

    #[test]
    fn the_answer_has_the_keys_promised() {
        let answer = solve_problem_file(FILE, Method::Laser, &Until::after(1.0)).unwrap().json;
        assert_eq!((&answer["sheets"], &answer["bound"]), (&json!(1), &json!(1)));
        assert_eq!(answer["proven"], true);
        assert!(answer["seconds"].is_number());
        assert_eq!(answer["plan"][0]["placed"].as_array().unwrap().len(), 4);
    }

    #[test]
    fn the_knife_needs_its_cuts_and_here_a_second_sheet() {
        let knife = method("knife").unwrap();
        let answer = solve_problem_file(FILE, knife, &Until::after(0.2)).unwrap();
        assert_eq!(answer.json["sheets"], 2);
        assert!(!answer.json["plan"][0]["cuts"].as_array().unwrap().is_empty());
        let text = text::view(&answer.view);
        assert!(text.contains("2 sheets, cost 2") && text.contains("Set-ups"), "{text}");
    }

    #[test]
    fn other_methods_are_refused() {
        assert!(method("saw").is_err());
    }
}
