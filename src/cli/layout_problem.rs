//! `scantling layout --problem FILE`: a plain problem file, solved.

use super::layout_problem_sheets::{method, solve_sheets};
use super::output::Failure;
use super::until::Until;
use super::views;
use crate::cutting::problem::{FORM, ProblemFile, StickProblem, read};
use crate::finding::Stop;
use crate::quantity::ModelLength;
use crate::report::cell::Cell;
use crate::report::column::{count, number, only, text};
use crate::report::draft::{Draft, own, rows};
use crate::report::table::{Table, View};
use crate::solve::sheets::Method;
use crate::solve::sticks::{Budget, Control, Pattern, Problem, Solution, Stock, solve};
use clap::{Arg, ArgMatches, Command};
use std::collections::BTreeSet;
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

/// Solves the problem file named on the command line.
pub(super) fn run(matches: &ArgMatches) -> Result<String, Failure> {
    let file = matches.get_one::<String>("problem").cloned().unwrap_or_default();
    let until = Until::said(matches);
    let word = matches.get_one::<String>("method").map_or("knife", String::as_str);
    let method = method(word)?;
    let text = crate::job::store::open(Path::new(&file)).map_err(Failure::failed)?;
    views::printed(&solve_problem_file(&text, method, &until)?, matches)
}

/// Solves a problem file until it is time to end. As JSON: `name`, `cost`,
/// `bound`, `proven`, `seconds`, `waste` (a share), `grid_in` where lengths
/// have units, and `plan`, a list of `stock` (row of the file, from 0),
/// `pieces` (rows of the file, from 0) and `times`. Sheets are laid out by
/// `method`; see [`solve_sheets`].
///
/// # Errors
/// A file that cannot be read; numbers the solver refuses.
pub(super) fn solve_problem_file(text: &str, method: Method, until: &Until) -> Result<View, Stop> {
    match read(text)? {
        ProblemFile::Sticks(file) => sticks(&file, until),
        ProblemFile::Sheets(file) => solve_sheets(&file, method, until),
    }
}

fn sticks(file: &StickProblem, until: &Until) -> Result<View, Stop> {
    let problem = file.problem()?;
    let late = || until.is_over();
    let budget = Budget { steps: u64::MAX, stop: Some(&late) };
    let solution = solve(&problem, &budget, &mut |_| Control::Continue)
        .map_err(|error| Stop::new(format!("laying out {}", file.name), error.to_string(), ""))?;
    Ok(as_view(file, &problem, &solution, until.taken()))
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

/// What JSON says of an answer as a whole.
pub(super) fn answer(name: &str, grid: Option<ModelLength>, taken: f64, waste: f64) -> Draft<()> {
    own(())
        .col(only("name"), |()| name)
        .col(only("seconds"), |()| taken)
        .col(only("waste"), |()| waste)
        .col(only("grid_in"), |()| grid)
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

fn as_view(file: &StickProblem, problem: &Problem, solution: &Solution, taken: f64) -> View {
    let strips: u32 = solution.plan.iter().map(|pattern| pattern.times).sum();
    let waste = waste(problem, solution);
    View {
        title: format!("{}: sticks", file.name),
        lead: vec![format!(
            "{strips} strips, {}; {:.1} percent waste.",
            how_good(solution.cost, solution.bound, solution.proven),
            100.0 * waste
        )],
        tables: vec![
            bought(file, problem, solution),
            cuts(file, problem, solution),
            answer(&file.name, file.grid(), taken, waste)
                .col(only("cost"), |()| solution.cost)
                .col(only("bound"), |()| solution.bound)
                .col(only("proven"), |()| solution.proven)
                .table(),
        ],
        ..View::default()
    }
}

/// What is taken of each stock, with what a length of it costs.
fn bought(file: &StickProblem, problem: &Problem, solution: &Solution) -> Table {
    let grid = file.grid();
    let taken = |row: usize| -> u32 {
        let here = solution.plan.iter().filter(|pattern| pattern.stock == row);
        here.map(|pattern| pattern.times).sum()
    };
    let stocks = problem.stock.iter().enumerate().filter(|(row, _)| taken(*row) > 0);
    rows("stock", "Stock", stocks)
        .screen()
        .col(count("row", "row"), |(row, _)| row + 1)
        .col(count("length", if grid.is_some() { "length in" } else { "length" }), |(_, it)| {
            Cell::said(shown(it.length, grid), it.length)
        })
        .col(count("cost", "cost"), |(_, it)| it.cost)
        .col(number("a_length", "cost a length", 4), |(_, it)| a_length(it, grid))
        .col(count("taken", "taken"), |(row, _)| taken(row))
        .notes(grid.map(|_| "The cost of a length is that of an inch."))
        .table()
}

fn a_length(stock: &Stock, grid: Option<ModelLength>) -> f64 {
    let long = grid.map_or(stock.length as f64, |grid| (grid * stock.length as f64).in_inches());
    stock.cost as f64 / long
}

fn cuts(file: &StickProblem, problem: &Problem, solution: &Solution) -> Table {
    let long = |part: usize| problem.parts[part].length;
    let stops: BTreeSet<i64> =
        solution.plan.iter().flat_map(|it| &it.pieces).map(|&part| long(part)).collect();
    let pieces = |it: &Pattern| {
        let runs = it.pieces.chunk_by(|a, b| a == b).map(|run| {
            format!("{} x {} ({})", run.len(), shown(long(run[0]), file.grid()), run[0] + 1)
        });
        runs.collect::<Vec<_>>().join(", ")
    };
    let left = |it: &Pattern| {
        let kerfs = problem.kerf.saturating_mul(it.pieces.len() as i64);
        let used = it.pieces.iter().map(|&part| long(part)).sum::<i64>().saturating_add(kerfs);
        (problem.stock[it.stock].length - used).max(0)
    };
    rows("plan", "Cuts", &solution.plan)
        .col(count("times", "times"), |it| it.times)
        .col(count("stock", "stock row"), |it| Cell::said((it.stock + 1).to_string(), it.stock))
        .col(text("pieces", "pieces: count x length (row)"), |it| {
            Cell::said(pieces(it), Cell::list(it.pieces.iter().copied()))
        })
        .col(count("left", "left").screen(), |it| {
            Cell::said(shown(left(it), file.grid()), left(it))
        })
        .note(format!("{} ways to cut, {} settings of the stop.", solution.plan.len(), stops.len()))
        .table()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report;

    const FILE: &str = "name = \"a\"\nkind = \"sticks\"\nstock = [[10, 1, -1]]\nparts = [[5, 3]]\n";

    #[test]
    fn the_answer_has_the_keys_promised() {
        let answer = solve_problem_file(FILE, Method::Laser, &Until::after(1.0)).unwrap();
        let answer = report::json::view(&answer);
        assert_eq!(answer["cost"], 2);
        assert_eq!(answer["bound"], 2);
        assert_eq!(answer["proven"], true);
        assert!(answer["seconds"].is_number());
        assert_eq!(answer["plan"][0]["pieces"], serde_json::json!([0, 0]));
    }

    #[test]
    fn people_read_waste_offcuts_and_settings() {
        let answer = solve_problem_file(FILE, Method::Laser, &Until::after(1.0)).unwrap();
        let text = report::text::view(&answer);
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
