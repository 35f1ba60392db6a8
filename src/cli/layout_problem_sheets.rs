//! The sheet half of `scantling layout --problem FILE`.

use super::layout_problem::{answer, how_good, shown};
use super::until::Until;
use crate::cutting::problem::SheetProblem;
use crate::finding::Stop;
use crate::report::cell::Cell;
use crate::report::column::{count, only, percent, text};
use crate::report::draft::rows;
use crate::report::table::{Table, View};
use crate::solve::sheets::{
    Axis, Budget, Control, Method, Problem, SheetPlan, Solution, runs_of_settings, setting, solve,
};

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
) -> Result<View, Stop> {
    let problem = file.problem()?;
    let method = match method {
        Method::Knife { .. } => Method::Knife { stages: file.stages },
        Method::Laser => Method::Laser,
    };
    let late = || until.is_over();
    let budget = Budget { stop: Some(&late), ..Budget::steps(u64::MAX) };
    let solution = solve(&problem, method, &budget, &mut |_| Control::Continue)
        .map_err(|error| Stop::new(format!("laying out {}", file.name), error.to_string(), ""))?;
    Ok(as_view(file, &problem, method, &solution, until.taken()))
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

fn as_view(
    file: &SheetProblem,
    problem: &Problem,
    method: Method,
    solution: &Solution,
    taken: f64,
) -> View {
    let waste = waste(problem, &solution.sheets);
    let lead = format!(
        "{} sheets, {}; {:.1} percent waste.",
        solution.sheets.len(),
        how_good(solution.cost, solution.bound, solution.proven),
        100.0 * waste
    );
    let left = |(row, count): &(usize, u64)| format!("{count} of row {} found no room.", row + 1);
    View {
        title: format!("{}: sheets", file.name),
        lead: std::iter::once(lead).chain(solution.unplaced.iter().map(left)).collect(),
        tables: vec![
            placed(file, problem, solution),
            set_ups(file, solution),
            answer(&file.name, file.grid(), taken, waste)
                .col(only("method"), |()| if method == Method::Laser { "laser" } else { "knife" })
                .col(only("sheets"), |()| solution.sheets.len())
                .col(only("cost"), |()| solution.cost)
                .col(only("bound"), |()| solution.bound)
                .col(only("proven"), |()| solution.proven)
                .table(),
        ],
        ..View::default()
    }
}

/// What lies on each sheet, and what is left of it.
fn placed(file: &SheetProblem, problem: &Problem, solution: &Solution) -> Table {
    let parts = |plan: &SheetPlan| {
        let mut rows: Vec<usize> = plan.placed.iter().map(|placed| placed.part).collect();
        rows.sort_unstable();
        Cell::list(
            rows.chunk_by(|a, b| a == b).map(|run| format!("{} ({})", run.len(), run[0] + 1)),
        )
    };
    let offcut = |plan: &SheetPlan| {
        let size = plan.offcut.map(|it| [it.width, it.height].map(|it| shown(it, file.grid())));
        Cell::said(size.map_or(String::new(), |size| size.join(" x ")), Cell::data(plan.offcut))
    };
    rows("plan", "Sheets", solution.sheets.iter().enumerate())
        .col(count("number", "sheet").screen(), |(number, _)| number + 1)
        .col(count("sheet", "size row"), |(_, it)| Cell::said((it.sheet + 1).to_string(), it.sheet))
        .col(text("parts", "parts: count (row)").screen(), |(_, it)| parts(it))
        .col(percent("waste", "waste %", 1).tail("").screen(), |(_, it)| {
            waste(problem, std::slice::from_ref(it))
        })
        .col(text("offcut", "offcut"), |(_, it)| offcut(it))
        .col(count("settings", "settings").screen(), |(_, it)| runs_of_settings(&it.cuts).count())
        .col(only("placed"), |(_, it)| Cell::data(&it.placed))
        .col(only("cuts"), |(_, it)| Cell::data(&it.cuts))
        .table()
}

/// The fence for each run of cuts of a knife.
fn set_ups(file: &SheetProblem, solution: &Solution) -> Table {
    let at = if file.grid().is_some() { "at in" } else { "at" };
    let runs = solution.sheets.iter().enumerate().flat_map(|(number, plan)| {
        let runs = runs_of_settings(&plan.cuts).filter(|run| !run.is_empty()).enumerate();
        runs.map(move |(set, run)| (number, set, run))
    });
    rows("set_ups", "Set-ups", runs)
        .screen()
        .col(count("sheet", "sheet"), |(number, set, _)| {
            let words = if set == 0 { (number + 1).to_string() } else { String::new() };
            Cell::said(words, number + 1)
        })
        .col(count("set", "set"), |(_, set, _)| set + 1)
        .col(text("along", "fence along"), |(.., run)| match setting(&run[0]).0 {
            Axis::X => "the grain",
            Axis::Y => "across it",
        })
        .col(count("at", at), |(.., run)| {
            let from = setting(&run[0]).1;
            Cell::said(shown(from, file.grid()), from)
        })
        .col(count("cuts", "cuts"), |(.., run)| run.len())
        .table()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cli::layout_problem::solve_problem_file;
    use crate::report;
    use serde_json::json;

    /// A pinwheel: no edge-to-edge cut takes it apart.
    const FILE: &str = "name = \"pinwheel\"\nkind = \"sheets\"\nsheet = [3, 3]\n\
                        parts = [[2, 1, 2], [1, 2, 2]]\n";

    #[test]
    fn the_answer_has_the_keys_promised() {
        let answer = solve_problem_file(FILE, Method::Laser, &Until::after(1.0)).unwrap();
        let answer = report::json::view(&answer);
        assert_eq!((&answer["sheets"], &answer["bound"]), (&json!(1), &json!(1)));
        assert_eq!(answer["proven"], true);
        assert!(answer["seconds"].is_number());
        assert_eq!(answer["plan"][0]["placed"].as_array().unwrap().len(), 4);
    }

    #[test]
    fn the_knife_needs_its_cuts_and_here_a_second_sheet() {
        let knife = method("knife").unwrap();
        let view = solve_problem_file(FILE, knife, &Until::after(0.2)).unwrap();
        let answer = report::json::view(&view);
        assert_eq!(answer["sheets"], 2);
        assert!(!answer["plan"][0]["cuts"].as_array().unwrap().is_empty());
        let text = report::text::view(&view);
        assert!(text.contains("2 sheets, cost 2") && text.contains("Set-ups"), "{text}");
    }

    #[test]
    fn other_methods_are_refused() {
        assert!(method("saw").is_err());
    }
}
