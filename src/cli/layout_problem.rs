//! `scantling layout --problem FILE`: a plain problem file, solved.

use super::layout_problem_sheets::{method, solve_sheets};
use super::output::{Failure, pretty};
use crate::cutting::problem::{ProblemFile, StickProblem, read};
use crate::finding::Stop;
use crate::solve::sheets::Method;
use crate::solve::sticks::{Budget, Control, Solution, solve};
use clap::{Arg, ArgMatches, Command, value_parser};
use serde_json::{Value, json};
use std::path::Path;
use std::time::{Duration, Instant};

/// Adds what `layout` takes when it solves a plain problem file.
pub(super) fn with_problem(layout: Command) -> Command {
    layout
        .arg(
            Arg::new("problem")
                .long("problem")
                .value_name("FILE")
                .conflicts_with("job")
                .help("Solve this plain problem file instead of a job"),
        )
        .arg(
            Arg::new("seconds")
                .long("seconds")
                .value_name("N")
                .default_value("10")
                .value_parser(value_parser!(f64))
                .help("Stop with the best found after this long"),
        )
        .arg(
            Arg::new("method")
                .long("method")
                .value_parser(["knife", "laser"])
                .default_value("knife")
                .help("How sheets are cut: edge to edge, or anywhere"),
        )
}

/// Solves the problem file named on the command line.
pub(super) fn run(matches: &ArgMatches) -> Result<String, Failure> {
    let file = matches.get_one::<String>("problem").cloned().unwrap_or_default();
    let seconds = matches.get_one::<f64>("seconds").copied().unwrap_or(10.0);
    let word = matches.get_one::<String>("method").map_or("knife", String::as_str);
    let method = method(word)?;
    let text = crate::job::store::open(Path::new(&file)).map_err(Failure::failed)?;
    pretty(&solve_problem_file(&text, method, seconds)?)
}

/// Solves a problem file within about `seconds`, as the JSON the verb prints:
/// `name`, `cost`, `bound`, `proven`, `seconds` and `plan`, a list of
/// `stock` (row of the file, from 0), `pieces` (rows of the file, from 0) and
/// `times`. Sheets are laid out by `method`; see [`solve_sheets`].
///
/// # Errors
/// A file that cannot be read; numbers the solver refuses.
pub(super) fn solve_problem_file(text: &str, method: Method, seconds: f64) -> Result<Value, Stop> {
    match read(text)? {
        ProblemFile::Sticks(file) => sticks(&file, seconds),
        ProblemFile::Sheets(file) => solve_sheets(&file, method, seconds),
    }
}

fn sticks(file: &StickProblem, seconds: f64) -> Result<Value, Stop> {
    let problem = file.problem()?;
    let start = Instant::now();
    let most = Duration::try_from_secs_f64(seconds).unwrap_or(Duration::MAX);
    let late = || start.elapsed() >= most;
    let budget = Budget { steps: u64::MAX, stop: Some(&late) };
    let solution = solve(&problem, &budget, &mut |_| Control::Continue)
        .map_err(|error| Stop::new(format!("laying out {}", file.name), error.to_string(), ""))?;
    Ok(as_json(&file.name, &solution, start.elapsed()))
}

fn as_json(name: &str, solution: &Solution, taken: Duration) -> Value {
    let plan: Vec<Value> = (solution.plan.iter())
        .map(|p| json!({ "stock": p.stock, "pieces": p.pieces, "times": p.times }))
        .collect();
    json!({
        "name": name,
        "cost": solution.cost,
        "bound": solution.bound,
        "proven": solution.proven,
        "seconds": taken.as_secs_f64(),
        "plan": plan,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_answer_has_the_keys_promised() {
        let text = "name = \"a\"\nkind = \"sticks\"\nstock = [[10, 1, -1]]\nparts = [[5, 3]]\n";
        let answer = solve_problem_file(text, Method::Laser, 1.0).unwrap();
        assert_eq!(answer["cost"], 2);
        assert_eq!(answer["bound"], 2);
        assert_eq!(answer["proven"], true);
        assert!(answer["seconds"].is_number());
        assert_eq!(answer["plan"][0]["pieces"], json!([0, 0]));
    }

    #[test]
    fn a_refusal_names_the_problem() {
        let text = "name = \"short\"\nkind = \"sticks\"\nstock = [[4, 1, -1]]\nparts = [[5, 3]]\n";
        let stop = solve_problem_file(text, Method::Laser, 1.0).unwrap_err();
        assert!(stop.to_string().contains("short"), "{stop}");
    }
}
