//! `scantling layout --problem FILE`: a plain problem file, solved.

use super::layout_problem_sheets::{method, solve_sheets};
use super::output::{Failure, pretty};
use super::until::Until;
use crate::cutting::problem::{FORM, ProblemFile, StickProblem, read};
use crate::finding::Stop;
use crate::quantity::ModelLength;
use crate::report::table::{Row, Table, View};
use crate::report::text;
use crate::solve::sheets::Method;
use crate::solve::sticks::{Budget, Control, Problem, Solution, Stock, solve};
use clap::{Arg, ArgMatches, Command};
use serde_json::{Value, json};
use std::path::Path;

/// Adds what `layout` takes when it solves a plain problem file.
pub(super) fn with_problem(layout: Command) -> Command {
    layout
        .arg(
            Arg::new("problem")
                .long("problem")
                .value_name("FILE")
                .conflicts_with("job")
                .help("Solve this plain problem file instead of a job; its form stands below"),
        )
        .after_long_help(FORM)
}

/// An answer for people and for programs.
pub(super) struct Answer {
    pub(super) view: View,
    pub(super) json: Value,
}

/// Solves the problem file named on the command line.
pub(super) fn run(matches: &ArgMatches) -> Result<String, Failure> {
    let file = matches.get_one::<String>("problem").cloned().unwrap_or_default();
    let until = Until::said(matches);
    let word = matches.get_one::<String>("method").map_or("knife", String::as_str);
    let method = method(word)?;
    let text = crate::job::store::open(Path::new(&file)).map_err(Failure::failed)?;
    let answer = solve_problem_file(&text, method, &until)?;
    if matches.get_flag("json") { pretty(&answer.json) } else { Ok(text::view(&answer.view)) }
}

/// Solves a problem file until it is time to end. As JSON: `name`, `cost`,
/// `bound`, `proven`, `seconds`, `waste` (a share), `grid_in` where lengths
/// have units, and `plan`, a list of `stock` (row of the file, from 0),
/// `pieces` (rows of the file, from 0) and `times`. Sheets are laid out by
/// `method`; see [`solve_sheets`].
///
/// # Errors
/// A file that cannot be read; numbers the solver refuses.
pub(super) fn solve_problem_file(
    text: &str,
    method: Method,
    until: &Until,
) -> Result<Answer, Stop> {
    match read(text)? {
        ProblemFile::Sticks(file) => sticks(&file, until),
        ProblemFile::Sheets(file) => solve_sheets(&file, method, until),
    }
}

fn sticks(file: &StickProblem, until: &Until) -> Result<Answer, Stop> {
    let problem = file.problem()?;
    let late = || until.is_over();
    let budget = Budget { steps: u64::MAX, stop: Some(&late) };
    let solution = solve(&problem, &budget, &mut |_| Control::Continue)
        .map_err(|error| Stop::new(format!("laying out {}", file.name), error.to_string(), ""))?;
    let json = as_json(file, &problem, &solution, until.taken());
    Ok(Answer { view: as_view(file, &problem, &solution), json })
}

fn as_json(file: &StickProblem, problem: &Problem, solution: &Solution, taken: f64) -> Value {
    let plan: Vec<Value> = (solution.plan.iter())
        .map(|p| json!({ "stock": p.stock, "pieces": p.pieces, "times": p.times }))
        .collect();
    json!({
        "name": file.name,
        "cost": solution.cost,
        "bound": solution.bound,
        "proven": solution.proven,
        "seconds": taken,
        "waste": waste(problem, solution),
        "grid_in": file.grid().map(ModelLength::in_inches),
        "plan": plan,
    })
}

/// Share of the strips that does not become parts.
fn waste(problem: &Problem, solution: &Solution) -> f64 {
    let (mut bought, mut used) = (0.0, 0.0);
    for pattern in &solution.plan {
        let times = f64::from(pattern.times);
        bought += problem.stock[pattern.stock].length as f64 * times;
        let pieces: i64 = pattern.pieces.iter().map(|&part| problem.parts[part].length).sum();
        used += pieces as f64 * times;
    }
    if bought > 0.0 { 1.0 - used / bought } else { 0.0 }
}

/// A cost and what none can beat, in words.
pub(super) fn how_good(cost: i64, bound: i64, proven: bool) -> String {
    if proven {
        format!("cost {cost}, proven: no plan costs less")
    } else {
        format!("cost {cost}; no plan costs less than {bound}")
    }
}

/// A number of counts as it is shown: inches where lengths have units.
pub(super) fn shown(counts: i64, grid: Option<ModelLength>) -> String {
    match grid {
        Some(grid) => format!("{:.3}", (grid * counts as f64).in_inches()),
        None => counts.to_string(),
    }
}

fn as_view(file: &StickProblem, problem: &Problem, solution: &Solution) -> View {
    let strips: u32 = solution.plan.iter().map(|pattern| pattern.times).sum();
    let lead = format!(
        "{strips} strips, {}; {:.1} percent waste.",
        how_good(solution.cost, solution.bound, solution.proven),
        100.0 * waste(problem, solution)
    );
    View {
        title: format!("{}: sticks", file.name),
        lead: vec![lead],
        tables: vec![bought(file, problem, solution), cuts(file, problem, solution)],
        findings: Vec::new(),
        next: String::new(),
        ..View::default()
    }
}

/// What is taken of each stock, with what a length of it costs.
fn bought(file: &StickProblem, problem: &Problem, solution: &Solution) -> Table {
    let long = if file.grid().is_some() { ">length in" } else { ">length" };
    let heads = [">row", long, ">cost", ">cost a length", ">taken"];
    let mut table = Table::new("Stock", &heads);
    for (row, stock) in problem.stock.iter().enumerate() {
        let here = solution.plan.iter().filter(|pattern| pattern.stock == row);
        let taken: u32 = here.map(|pattern| pattern.times).sum();
        if taken > 0 {
            table.push(Row::plain(vec![
                (row + 1).to_string(),
                shown(stock.length, file.grid()),
                stock.cost.to_string(),
                a_length(stock, file.grid()),
                taken.to_string(),
            ]));
        }
    }
    if file.grid().is_some() {
        table.notes.push("The cost of a length is that of an inch.".to_owned());
    }
    table
}

fn a_length(stock: &Stock, grid: Option<ModelLength>) -> String {
    let long = grid.map_or(stock.length as f64, |grid| (grid * stock.length as f64).in_inches());
    format!("{:.4}", stock.cost as f64 / long)
}

fn cuts(file: &StickProblem, problem: &Problem, solution: &Solution) -> Table {
    let heads = [">times", ">stock row", "pieces: count x length (row)", ">left"];
    let mut table = Table::new("Cuts", &heads);
    let mut stops: Vec<i64> = Vec::new();
    for pattern in &solution.plan {
        let lengths = || pattern.pieces.iter().map(|&part| problem.parts[part].length);
        stops.extend(lengths());
        let runs = pattern.pieces.chunk_by(|a, b| a == b).filter_map(|run| {
            let part = *run.first()?;
            let long = shown(problem.parts[part].length, file.grid());
            Some(format!("{} x {long} ({})", run.len(), part + 1))
        });
        let kerfs = problem.kerf.saturating_mul(pattern.pieces.len() as i64);
        let used = lengths().sum::<i64>().saturating_add(kerfs);
        let left = (problem.stock[pattern.stock].length - used).max(0);
        table.push(Row::plain(vec![
            pattern.times.to_string(),
            (pattern.stock + 1).to_string(),
            runs.collect::<Vec<_>>().join(", "),
            shown(left, file.grid()),
        ]));
    }
    stops.sort_unstable();
    stops.dedup();
    let (ways, stops) = (solution.plan.len(), stops.len());
    table.notes.push(format!("{ways} ways to cut, {stops} settings of the stop."));
    table
}

#[cfg(test)]
mod tests {
    use super::*;

    const FILE: &str = "name = \"a\"\nkind = \"sticks\"\nstock = [[10, 1, -1]]\nparts = [[5, 3]]\n";

    #[test]
    fn the_answer_has_the_keys_promised() {
        let answer = solve_problem_file(FILE, Method::Laser, &Until::after(1.0)).unwrap().json;
        assert_eq!(answer["cost"], 2);
        assert_eq!(answer["bound"], 2);
        assert_eq!(answer["proven"], true);
        assert!(answer["seconds"].is_number());
        assert_eq!(answer["plan"][0]["pieces"], json!([0, 0]));
    }

    #[test]
    fn people_read_waste_offcuts_and_settings() {
        let answer = solve_problem_file(FILE, Method::Laser, &Until::after(1.0)).unwrap();
        let text = text::view(&answer.view);
        for said in ["2 strips, cost 2, proven", "25.0 percent waste", "2 x 5 (1)", "1 settings"] {
            assert!(text.contains(said), "{said}\n{text}");
        }
    }

    #[test]
    fn a_refusal_names_the_problem() {
        let text = "name = \"short\"\nkind = \"sticks\"\nstock = [[4, 1, -1]]\nparts = [[5, 3]]\n";
        let stop = solve_problem_file(text, Method::Laser, &Until::after(1.0)).err().unwrap();
        assert!(stop.to_string().contains("short"), "{stop}");
    }
}
