//! The sheet half of `scantling layout --problem FILE`.

use super::until::Until;
use crate::cutting::problem::SheetProblem;
use crate::finding::Stop;
use crate::solve::sheets::{Budget, Control, Method, SheetPlan, Solution, solve};
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

/// Solves a sheet problem until it is time to end, as the JSON the verb prints:
/// `name`, `method`, `sheets` (a number), `bound`, `proven`, `seconds` and
/// `plan`, a list of sheets with `placed` (`part` is the row of the file from
/// 0), `cuts` in order and `offcut`. The fastest answer comes when the fewest
/// sheets are proven.
///
/// # Errors
/// Numbers the solver refuses.
pub(super) fn solve_sheets(
    file: &SheetProblem,
    method: Method,
    until: &Until,
) -> Result<Value, Stop> {
    let problem = file.problem()?;
    let late = || until.is_over();
    let budget = Budget { stop: Some(&late), ..Budget::steps(u64::MAX) };
    let solution = solve(&problem, method, &budget, &mut |_| Control::Continue)
        .map_err(|error| Stop::new(format!("laying out {}", file.name), error.to_string(), ""))?;
    Ok(as_json(&file.name, method, &solution, until.taken()))
}

fn as_json(name: &str, method: Method, solution: &Solution, taken: f64) -> Value {
    let word = if method == Method::Laser { "laser" } else { "knife" };
    json!({
        "name": name,
        "method": word,
        "sheets": solution.sheets.len(),
        "bound": solution.bound,
        "proven": solution.proven,
        "seconds": taken,
        "plan": solution.sheets.iter().map(sheet_json).collect::<Vec<_>>(),
    })
}

fn sheet_json(plan: &SheetPlan) -> Value {
    json!({ "placed": plan.placed, "cuts": plan.cuts, "offcut": plan.offcut })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cli::layout_problem::solve_problem_file;

    /// A pinwheel: no edge-to-edge cut takes it apart.
    const FILE: &str = "name = \"pinwheel\"\nkind = \"sheets\"\nsheet = [3, 3]\n\
                        parts = [[2, 1, 2], [1, 2, 2]]\n";

    #[test]
    fn the_answer_has_the_keys_promised() {
        let answer = solve_problem_file(FILE, Method::Laser, &Until::after(1.0)).unwrap();
        assert_eq!((&answer["sheets"], &answer["bound"]), (&json!(1), &json!(1)));
        assert_eq!(answer["proven"], true);
        assert!(answer["seconds"].is_number());
        assert_eq!(answer["plan"][0]["placed"].as_array().unwrap().len(), 4);
    }

    #[test]
    fn the_knife_needs_its_cuts_and_here_a_second_sheet() {
        let answer =
            solve_problem_file(FILE, method("knife").unwrap(), &Until::after(0.2)).unwrap();
        assert_eq!(answer["sheets"], 2);
        assert!(!answer["plan"][0]["cuts"].as_array().unwrap().is_empty());
    }

    #[test]
    fn other_methods_are_refused() {
        assert!(method("saw").is_err());
    }
}
