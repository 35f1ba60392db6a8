//! Readings: means, uncertainties, levels, lines through points.

use crate::bench::answer::{Answer, List, plain};
use crate::bench::desk::Desk;
use crate::bench::said::{Given, Line, any};
use crate::estimate::budget::{Contribution, combine as together, rectangular};
use crate::estimate::mean::Mean;
use crate::finding::Stop;
use crate::quantity::{Piece, Sign, Unit};
use crate::solve::least_squares::{Observation, Problem, Solution, Terms};
use crate::solve::special::{chi_square_limit, two_sided_normal};

fn unsolved(doing: &str, trouble: impl std::fmt::Display, hint: &str) -> Stop {
    Stop::new(doing, trouble.to_string(), hint)
}

/// What readings are shown in: the unit of the line, or plain numbers.
fn shown_in(unit: Option<Unit>) -> (f64, &'static str) {
    unit.map_or((1.0, ""), |unit| (unit.in_inches(), unit.word()))
}

/// The weighted mean of readings.
pub(super) fn mean(line: &mut Line<'_>, desk: &Desk<'_>) -> Result<Answer, Stop> {
    let doing = "taking a mean";
    let example = "mean 24.0 \u{b1} 0.25, 24.6 \u{b1} 0.3 ft";
    let (given, unit) = line.series();
    let (over, word) = shown_in(unit);
    let estimates: Vec<(f64, f64)> =
        given.iter().map(|it| (it.number() / over, it.spread() / over)).collect();
    if estimates.is_empty() {
        return Err(line.missing(doing, "a reading", example));
    }
    let bare = estimates.iter().all(|(_, sigma)| *sigma <= 0.0);
    let weighted: Vec<(f64, f64)> = if bare {
        estimates.iter().map(|(value, _)| (*value, 1.0)).collect()
    } else {
        estimates.clone()
    };
    let found = Mean::of(&weighted).ok_or_else(|| {
        unsolved(doing, "a reading has no \u{b1}", "give each its \u{b1}, or none")
    })?;
    let mut answer = Answer::new("mean", format!("the mean of {} readings", estimates.len()));
    if bare {
        let n = estimates.len() as f64;
        let spread = (found.chi_square / (n - 1.0).max(1.0)).sqrt();
        return Ok(answer
            .says(format!(
                "{} {word}; readings spread by {} {word}, the mean by {}.",
                plain(found.value),
                plain(spread),
                plain(spread / n.sqrt())
            ))
            .number("mean", found.value, word)
            .number("standard deviation", spread, word)
            .number("of the mean", spread / n.sqrt(), word)
            .by("sum over number", "arithmetic", ""));
    }
    let limit = if found.degrees > 0 { chi_square_limit(0.05, found.degrees as f64) } else { 0.0 };
    let agree = found.degrees == 0 || found.chi_square <= limit;
    answer = answer
        .says(format!(
            "{:.6} \u{b1} {:.6} {word}; chi-square {:.6} on {}, {} {:.3}.",
            found.value,
            found.sigma,
            found.chi_square,
            found.degrees,
            if agree { "under" } else { "over" },
            limit
        ))
        .number("mean", found.value, word)
        .number("\u{b1} 1 sigma", found.sigma, word)
        .number("chi-square", found.chi_square, "")
        .number("degrees of freedom", found.degrees as f64, "");
    if let Some(birge) = found.birge() {
        answer = answer.number("Birge ratio", birge, "");
    }
    if !agree {
        answer =
            answer.look("the readings do not agree", "look for a slip before you take the mean");
    }
    if let Some(unit) = unit {
        let model = |value: f64| value * unit.in_inches() * 25.4 / desk.scale.ratio.value();
        answer = answer.number("on the model", model(found.value), "mm").number(
            "on the model \u{b1}",
            model(found.sigma),
            "mm",
        );
    }
    Ok(answer.by(
        "weights 1 / sigma^2; sigma of the mean 1 / sqrt(sum of weights)",
        "JCGM 100:2008 (GUM) and R. T. Birge, from memory",
        "",
    ))
}

/// Uncertainties taken together.
pub(super) fn combine(line: &mut Line<'_>, _desk: &Desk<'_>) -> Result<Answer, Stop> {
    let (given, unit) = line.series();
    let (over, word) = shown_in(unit);
    let parts: Vec<f64> = given.iter().map(|given| given.number() / over).collect();
    if parts.is_empty() {
        return Err(line.missing(
            "combining uncertainties",
            "a part",
            "combine 25, 9.7, 2.9, 16.6",
        ));
    }
    let each: Vec<Contribution> = parts
        .iter()
        .map(|spread| Contribution { spread: *spread, degrees: f64::INFINITY })
        .collect();
    let sum = together(&each).sigma;
    let straight: f64 = parts.iter().map(|part| part.abs()).sum();
    Ok(Answer::new("combine", format!("{} parts together", parts.len()))
        .says(format!("{sum:.6} {word} together; {} if all went one way.", plain(straight)))
        .number("together", sum, word)
        .number("all one way", straight, word)
        .number("twice it, k = 2", 2.0 * sum, word)
        .by(
            "root of the sum of squares",
            "JCGM 100:2008 (GUM) equation 10, from memory",
            "sqrt(25^2 + 9.7^2 + 2.9^2 + 16.6^2) = 31.671",
        ))
}

/// What a reading to a fraction is worth.
pub(super) fn resolution(line: &mut Line<'_>, _desk: &Desk<'_>) -> Result<Answer, Stop> {
    let step = line.length(any(&["to", "reading", "nearest"]).bare(Unit::Inch));
    let step = step
        .ok_or_else(|| {
            line.missing("weighing a reading", "the step it was read to", "reading to 1/8 in")
        })?
        .full();
    let half = step / 2.0;
    let u = rectangular(half.in_inches());
    Ok(Answer::new("reading", format!("a reading to {} in", plain(step.in_inches())))
        .says(format!("\u{b1} {u:.6} in (1 sigma), \u{b1} {:.6} in at k = 2.", 2.0 * u))
        .number("1 sigma", u, "in")
        .number("k = 2", 2.0 * u, "in")
        .number("1 sigma, mm", u * 25.4, "mm")
        .number("half the step", half.in_inches(), "in")
        .by(
            "half the step over the root of 3: all places within it alike",
            "JCGM 100:2008 (GUM) 4.3.7, from memory",
            format!("{} / sqrt(3) = {u:.6}", plain(half.in_inches())),
        ))
}

/// A rise between two points.
struct Rise {
    from: String,
    to: String,
    value: f64,
    sigma: f64,
}

/// A line cut at its semicolons: the words and quantities of each part.
fn parts(line: &Line<'_>) -> Vec<std::ops::Range<usize>> {
    let mut parts = Vec::new();
    let mut from = 0;
    for at in 0..=line.tokens.len() {
        let end = line.tokens.get(at).is_none_or(|token| token.what == Piece::Sign(Sign::End));
        if end {
            parts.push(from..at);
            from = at + 1;
        }
    }
    parts
}

/// A net of levels.
pub(super) fn levels(line: &mut Line<'_>, desk: &Desk<'_>) -> Result<Answer, Stop> {
    let doing = "adjusting levels";
    let hint = "write: levels A 437.596 m; A B 10.509 \u{b1} 0.006 m; B A -10.507 \u{b1} 0.006 m";
    let mut fixed: Vec<(String, f64)> = Vec::new();
    let mut rises: Vec<Rise> = Vec::new();
    let mut unit = Unit::Metre;
    for part in parts(line) {
        let mut names = Vec::new();
        let mut numbers: Vec<(f64, bool)> = Vec::new();
        let mut negative = false;
        for at in part.clone() {
            match &line.tokens[at].what {
                Piece::Word(word)
                    if !["levels", "levelling", "leveling", "network", "to", "from"]
                        .contains(&word.as_str()) =>
                {
                    names.push(line.written(at).to_owned());
                }
                Piece::Length(inches, found) => {
                    unit = *found;
                    numbers.push((inches.value() / found.in_inches(), false));
                }
                Piece::Number(number) => numbers.push((number.value(), true)),
                Piece::Sign(Sign::Minus) => {
                    negative |= numbers.is_empty()
                        && matches!(
                            line.tokens.get(at + 1).map(|t| &t.what),
                            Some(Piece::Number(_) | Piece::Length(..))
                        );
                }
                _ => {}
            }
        }
        let value = numbers.first().map(|(value, _)| if negative { -*value } else { *value });
        let sigma = numbers.get(1).map(|(value, _)| value.abs());
        match (names.as_slice(), value) {
            ([point], Some(height)) => fixed.push((point.clone(), height)),
            ([from, to], Some(value)) => rises.push(Rise {
                from: from.clone(),
                to: to.clone(),
                value,
                sigma: sigma.filter(|sigma| *sigma > 0.0).unwrap_or(1.0),
            }),
            ([], None) => {}
            _ => {
                let text = part.map(|at| line.written(at)).collect::<Vec<_>>().join(" ");
                return Err(unsolved(
                    doing,
                    format!("\"{text}\" is no rise between two points"),
                    hint,
                ));
            }
        }
    }
    line.take(0..line.tokens.len());
    if fixed.is_empty() || rises.is_empty() {
        return Err(unsolved(doing, "a fixed point and a rise are wanted", hint));
    }
    adjusted(&fixed, &rises, unit, desk)
}

fn adjusted(
    fixed: &[(String, f64)],
    rises: &[Rise],
    unit: Unit,
    _desk: &Desk<'_>,
) -> Result<Answer, Stop> {
    let doing = "adjusting levels";
    let mut unknown: Vec<&str> = Vec::new();
    for rise in rises {
        for point in [&rise.from, &rise.to] {
            let known = fixed.iter().any(|(name, _)| name == point);
            if !known && !unknown.contains(&point.as_str()) {
                unknown.push(point);
            }
        }
    }
    let observation = |rise: &Rise| {
        let mut terms: Terms = Vec::new();
        let mut value = rise.value;
        for (point, sign) in [(&rise.from, -1.0), (&rise.to, 1.0)] {
            match fixed.iter().find(|(name, _)| name == point) {
                Some((_, height)) => value -= sign * height,
                None => {
                    let at = unknown.iter().position(|name| name == point).unwrap_or(0);
                    terms.push((at, sign));
                }
            }
        }
        Observation { terms, value, sigma: rise.sigma }
    };
    let observations: Vec<Observation> = rises.iter().map(observation).collect();
    let problem = Problem { unknowns: unknown.len(), observations, ..Problem::default() };
    let solution = problem.solve().map_err(|trouble| {
        unsolved(
            doing,
            format!("the net cannot be solved: {trouble}"),
            "join every point to a fixed one",
        )
    })?;
    let word = unit.word();
    let heights: Vec<String> = unknown
        .iter()
        .zip(solution.values())
        .map(|(name, value)| format!("{name} {value:.6} {word}"))
        .collect();
    let degrees = solution.degrees();
    let mut answer =
        Answer::new("levels", format!("levels of {} rises", rises.len())).says(format!(
            "{}; sum of p v^2 {:.6} on {degrees} degrees.",
            heights.join(", "),
            solution.chi_square()
        ));
    for (at, name) in unknown.iter().enumerate() {
        answer = answer.number(*name, solution.values()[at], word);
        if let Some(sigma) = solution.sigma(&[(at, 1.0)]) {
            answer = answer.number(format!("{name} \u{b1}"), sigma, word);
        }
    }
    answer = answer.number("sum of p v^2", solution.chi_square(), "").number(
        "degrees of freedom",
        degrees as f64,
        "",
    );
    if degrees > 0 {
        answer =
            answer.number("reference sigma", (solution.chi_square() / degrees as f64).sqrt(), "");
    }
    answer = rises_list(answer, rises, &solution, word);
    Ok(answer.by("least squares, weights 1 / sigma^2; normalized residual = v / (sigma sqrt(r)); slip = -v / r", "Ghilani and Wolf, Adjustment Computations, chapters 12 and 21, from memory; Baarda's limit", ""))
}

fn rises_list(
    mut answer: Answer,
    rises: &[Rise],
    solution: &Solution,
    word: &'static str,
) -> Answer {
    let heads = ["from", "to", ">observed", ">residual", ">redundancy", ">normalized"];
    let mut list = List::new("Rises; residual = adjusted less observed", &heads);
    let mut worst: Option<(usize, f64)> = None;
    for (at, (rise, fit)) in rises.iter().zip(solution.fits()).enumerate() {
        // Residuals of the book are adjusted less observed; ours the other way.
        let z = fit.standardized.map(|z| -z);
        list = list.row([
            rise.from.clone(),
            rise.to.clone(),
            plain(rise.value),
            format!("{:.6}", -fit.residual),
            format!("{:.6}", fit.redundancy),
            z.map_or("unchecked".to_owned(), |z| format!("{z:.4}")),
        ]);
        if let Some(z) = z {
            answer = answer.number(format!("normalized residual {}", at + 1), z, "");
            if worst.is_none_or(|(_, most)| z.abs() > most) {
                worst = Some((at, z.abs()));
            }
        }
    }
    answer = answer.list(list);
    let limit = two_sided_normal(0.001);
    if let Some((at, most)) = worst.filter(|(_, most)| *most > limit) {
        let (rise, fit) = (&rises[at], solution.fits()[at]);
        let slip = fit.residual / fit.redundancy;
        answer = answer
            .number("slip", slip, word)
            .look(
                format!("reading {} from {} to {} is off by about {slip:.4} {word}: normalized residual {most:.4} against {limit:.2}", at + 1, rise.from, rise.to),
                "take it out and adjust again; drop one at a time",
            );
    }
    answer
}

/// A line or a polynomial through readings.
pub(super) fn fit(line: &mut Line<'_>, _desk: &Desk<'_>) -> Result<Answer, Stop> {
    let doing = "fitting";
    let hint = "write pairs x y: fit line 0.2 0.1; 337.4 338.8, or columns, the last first: fit columns 3 ...";
    let origin = line.has(&["origin"]);
    let degree =
        line.number(&["polynomial", "degree", "power"]).map(|given| given.number() as usize);
    let columns = line.number(&["columns", "variables"]).map(|given| given.number() as usize);
    let numbers: Vec<f64> = line.numbers().into_iter().map(Given::number).collect();
    let wide = columns.map_or(2, |columns| columns + 1);
    if wide < 2 || numbers.len() < 2 * wide || !numbers.len().is_multiple_of(wide) {
        return Err(unsolved(
            doing,
            format!("{} numbers make no rows of {wide}", numbers.len()),
            hint,
        ));
    }
    let degree = degree.unwrap_or(1).clamp(1, 9);
    // Rows are x y; with columns, y first and then each variable.
    let row = |row: &[f64]| -> (Vec<f64>, f64) {
        if columns.is_some() {
            (std::iter::once(1.0).chain(row[1..].iter().copied()).collect(), row[0])
        } else {
            let first = i32::from(origin);
            ((first..=degree as i32).map(|power| row[0].powi(power)).collect(), row[1])
        }
    };
    let rows: Vec<(Vec<f64>, f64)> = numbers.chunks_exact(wide).map(row).collect();
    let unknowns = rows[0].0.len();
    if rows.len() < unknowns {
        return Err(unsolved(doing, "fewer readings than unknowns", hint));
    }
    // Columns are brought to one size, so that their powers do not drown.
    let largest = |at: usize| rows.iter().map(|(terms, _)| terms[at].abs()).fold(0.0, f64::max);
    let scales: Vec<f64> =
        (0..unknowns).map(largest).map(|size| if size > 0.0 { size } else { 1.0 }).collect();
    let observations = rows.iter().map(|(terms, value)| Observation {
        terms: terms.iter().enumerate().map(|(at, term)| (at, term / scales[at])).collect(),
        value: *value,
        sigma: 1.0,
    });
    let problem = Problem { unknowns, observations: observations.collect(), ..Problem::default() };
    let solution = problem
        .solve()
        .map_err(|trouble| unsolved(doing, trouble, "the readings do not fix a line"))?;
    Ok(fitted(&solution, &scales, rows.len(), i32::from(origin), columns.is_some()))
}

fn fitted(solution: &Solution, scales: &[f64], rows: usize, first: i32, columns: bool) -> Answer {
    let square = solution.chi_square();
    let degrees = rows.saturating_sub(scales.len());
    let residual = if degrees > 0 { (square / degrees as f64).sqrt() } else { 0.0 };
    let mut answer =
        Answer::new("fit", format!("a fit of {} coefficients to {rows} readings", scales.len()));
    let mut said = Vec::new();
    for (at, scale) in scales.iter().enumerate() {
        let value = solution.values()[at] / scale;
        let name = match (columns, at as i32 + first) {
            (true, 0) | (false, 0) => "intercept".to_owned(),
            (true, column) => format!("b{column}"),
            (false, 1) => "slope".to_owned(),
            (false, power) => format!("x^{power}"),
        };
        said.push(format!("{name} {value:.12}"));
        let mut figure = crate::bench::answer::Figure::number(name.clone(), value, "");
        figure.text = format!("{value:.12}");
        answer = answer.figure(figure);
        if let Some(sigma) = solution.sigma(&[(at, 1.0)]) {
            answer = answer.number(format!("{name} sd"), sigma / scale * residual, "");
        }
    }
    answer
        .says(format!("{}; residual sd {}.", said.join(", "), plain(residual)))
        .number("residual sd", residual, "")
        .number("sum of squares", square, "")
        .by(
            "least squares by QR",
            "NIST Statistical Reference Datasets are met by it",
            "y = 8/11 x through 4 3, 5 4, 6 4",
        )
}
