//! `scantling layout --problem FILE`: a plain problem file, solved.

use super::layout_problem_sheets::{method, solve_sheets};
use super::output::{Failure, pretty};
use super::until::Until;
use crate::cutting::problem::{ProblemFile, StickProblem, read};
use crate::finding::Stop;
use crate::solve::sheets::Method;
use crate::solve::sticks::{Budget, Control, Solution, solve};
use clap::{Arg, ArgMatches, Command};
use serde_json::{Value, json};
use std::path::Path;

/// Adds what `layout` takes when it solves a plain problem file.
pub(super) fn with_problem(layout: Command) -> Command {
    layout.arg(
        Arg::new("problem")
            .long("problem")
            .value_name("FILE")
            .conflicts_with("job")
            .help("Solve this plain problem file instead of a job"),
    )
}

/// Solves the problem file named on the command line.
pub(super) fn run(matches: &ArgMatches) -> Result<String, Failure> {
    let file = matches.get_one::<String>("problem").cloned().unwrap_or_default();
    let until = Until::said(matches);
    let word = matches.get_one::<String>("method").map_or("knife", String::as_str);
    let method = method(word)?;
    let text = crate::job::store::open(Path::new(&file)).map_err(Failure::failed)?;
    pretty(&solve_problem_file(&text, method, &until)?)
}

/// Solves a problem file until it is time to end, as the JSON the verb prints:
/// `name`, `cost`, `bound`, `proven`, `seconds` and `plan`, a list of
/// `stock` (row of the file, from 0), `pieces` (rows of the file, from 0) and
/// `times`. Sheets are laid out by `method`; see [`solve_sheets`].
///
/// # Errors
/// A file that cannot be read; numbers the solver refuses.
pub(super) fn solve_problem_file(text: &str, method: Method, until: &Until) -> Result<Value, Stop> {
    match read(text)? {
        ProblemFile::Sticks(file) => sticks(&file, until),
        ProblemFile::Sheets(file) => solve_sheets(&file, method, until),
    }
}

fn sticks(file: &StickProblem, until: &Until) -> Result<Value, Stop> {
    let problem = file.problem()?;
    let late = || until.is_over();
    let budget = Budget { steps: u64::MAX, stop: Some(&late) };
    let solution = solve(&problem, &budget, &mut |_| Control::Continue)
        .map_err(|error| Stop::new(format!("laying out {}", file.name), error.to_string(), ""))?;
    Ok(as_json(&file.name, &solution, until.taken()))
}

fn as_json(name: &str, solution: &Solution, taken: f64) -> Value {
    let plan: Vec<Value> = (solution.plan.iter())
        .map(|p| json!({ "stock": p.stock, "pieces": p.pieces, "times": p.times }))
        .collect();
    json!({
        "name": name,
        "cost": solution.cost,
        "bound": solution.bound,
        "proven": solution.proven,
        "seconds": taken,
        "plan": plan,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_answer_has_the_keys_promised() {
        let text = "name = \"a\"\nkind = \"sticks\"\nstock = [[10, 1, -1]]\nparts = [[5, 3]]\n";
        let answer = solve_problem_file(text, Method::Laser, &Until::after(1.0)).unwrap();
        assert_eq!(answer["cost"], 2);
        assert_eq!(answer["bound"], 2);
        assert_eq!(answer["proven"], true);
        assert!(answer["seconds"].is_number());
        assert_eq!(answer["plan"][0]["pieces"], json!([0, 0]));
    }

    #[test]
    fn a_refusal_names_the_problem() {
        let text = "name = \"short\"\nkind = \"sticks\"\nstock = [[4, 1, -1]]\nparts = [[5, 3]]\n";
        let stop = solve_problem_file(text, Method::Laser, &Until::after(1.0)).unwrap_err();
        assert!(stop.to_string().contains("short"), "{stop}");
    }
}
