//! The adjustment -> lengths with intervals.

use nalgebra::DMatrix;

use super::blame::{self, Verdict};
use super::marked::{Marked, Span};
use super::mixture::{self, Said};
use super::trouble;
use super::wiring::{measure, network};
use crate::finding::{Finding, Outcome, Staged, Stop, Subject};
use crate::solve::camera::monte_carlo::Interval;
use crate::solve::camera::network::{Measure, Tie};
use crate::solve::camera::solution::{Misfit, Solution, adjust};

/// How the intervals are worked out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Effort {
    /// Draws of the Monte Carlo; zero for first order alone.
    pub draws: usize,
    /// Seed of the draws.
    pub seed: u64,
}

impl Default for Effort {
    fn default() -> Self {
        Self { draws: 2000, seed: 1 }
    }
}

/// One length of the wall.
#[derive(Clone, Debug, PartialEq)]
pub struct Found {
    /// What it is the length of.
    pub span: Span,
    /// Its name.
    pub name: String,
    /// The best value.
    pub value: f64,
    /// First-order standard uncertainty.
    pub sigma: f64,
    /// The 95 percent interval.
    pub interval: Interval,
    /// Whether the ends are those of the draws, because first order differs.
    pub by_draws: bool,
    /// Whether other marks check the marks it rests on.
    pub checked: bool,
    /// Why the value should not be used, if it should not.
    pub withheld: Option<&'static str>,
    /// Whether it was given.
    pub known: bool,
}

/// What one picture says.
#[derive(Clone, Debug)]
pub struct Measured {
    /// The lengths: rectangles first, then those asked for.
    pub lengths: Vec<Found>,
    /// First-order covariance of the lengths, in their order: they share the
    /// picture and are not independent.
    pub covariance: DMatrix<f64>,
    /// Focal length in pixels.
    pub focal: f64,
    /// Whether the marks say what the focal length is.
    pub focal_known: bool,
    /// k1.
    pub radial: f64,
    /// Angle between the optical axis and the wall's normal, in degrees.
    pub obliquity: f64,
    /// Chi squared and its degrees of freedom.
    pub chi_squared: (f64, i64),
    /// Whether the residuals are as large as the uncertainties say.
    pub passes: bool,
    /// What all uncertainties were multiplied by.
    pub spread: f64,
    /// The most by which a length differs, relative, with what the picture may
    /// be; zero where that is said.
    pub kinds: f64,
    /// The mark that fits worst.
    pub worst: Option<Misfit>,
    /// What may be wrong, the likeliest first.
    pub verdict: Verdict,
    /// Observations beyond the number needed.
    pub checks: i64,
    /// Draws without an answer.
    pub failed_draws: usize,
}

/// Above this the marks do not say what the focal length is (ln units).
const VAGUE_FOCAL: f64 = 0.4;
/// Above this they say nothing at all of it, and what was expected beforehand
/// would be the whole answer.
const NO_FOCAL: f64 = 4.0;

/// Measures a marked picture.
///
/// # Errors
/// Each degenerate case of [`trouble`].
pub fn run(marked: &Marked, effort: Effort) -> Staged<Measured> {
    let solution = solve(marked)?;
    let spans = marked.spans();
    let mut measured = measure_all(marked, &solution, &spans, effort);
    allow_for_doubt(marked, &mut measured);
    let findings = findings(marked, &solution, &measured);
    Ok(Outcome { value: measured, findings })
}

/// Adjusts a marked picture.
///
/// # Errors
/// Each degenerate case of [`trouble`].
pub fn solve(marked: &Marked) -> Result<Solution, Stop> {
    let network = network(marked)?;
    let solution = adjust(network).map_err(|trouble| trouble::unsolved(marked, trouble))?;
    refuse(marked, &solution)?;
    Ok(solution)
}

/// Whether known lengths stand in more than one direction.
fn both_ways(solution: &Solution) -> bool {
    let level = |axis: usize, at: usize| {
        solution.network.sights.iter().any(|s| (if axis == 0 { s.x } else { s.y }) == at)
    };
    let ways: Vec<usize> = solution
        .network
        .ties
        .iter()
        .filter_map(|tie| match tie {
            Tie::Length { of: Measure::Along { from, .. }, .. } => {
                Some(usize::from(!level(0, *from)))
            }
            Tie::Length { .. } => Some(2),
            Tie::Ratio { .. } => None,
        })
        .collect();
    ways.contains(&2) || (ways.contains(&0) && ways.contains(&1))
}

/// Cases in which the numbers would mislead.
fn refuse(marked: &Marked, solution: &Solution) -> Result<(), Stop> {
    let turned = solution.state.obliquity().to_degrees() > 10.0;
    let unknown = marked.focal.is_none() && solution.focal_spread() > NO_FOCAL;
    if turned && unknown && !both_ways(solution) {
        return Err(trouble::level_and_turned(marked));
    }
    let negative = solution.seen.focal_squared.is_some_and(|f| f <= 0.0);
    if negative && solution.freedom > 0 && solution.chi_squared > 4.0 * solution.gate() {
        let worst = solution.worst_mark().map_or("unknown", |w| marked.marks[w.mark].id.as_str());
        return Err(trouble::impossible_focal(marked, worst));
    }
    Ok(())
}

fn measure_all(marked: &Marked, solution: &Solution, spans: &[Span], effort: Effort) -> Measured {
    let verdict = blame::judge(marked, solution);
    let spread = verdict.spread.unwrap_or_else(|| solution.spread());
    let other = mixture::other(marked, solution, spread);
    let ways = match &other {
        Some((whole, [open, camera])) => vec![(solution, *open), (whole, *camera)],
        None => vec![(solution, 1.0)],
    };
    let effort = (effort.draws, effort.seed);
    let mut said: Vec<Said> =
        ways.into_iter().map(|way| mixture::said(marked, way, spans, spread, effort)).collect();
    let (values, covariance) = mixture::together(&said);
    let redundancy = solution.redundancy();
    let checks = solution.network.checks();
    let lengths = spans.iter().enumerate().map(|(i, &span)| {
        let (value, sigma) = (values[i], covariance[(i, i)].sqrt());
        let (interval, by_draws) = mixture::ends(&mut said, i);
        Found {
            span,
            name: marked.name(span),
            value,
            sigma,
            interval,
            by_draws,
            checked: checks > 0 && marked.rests_on(span).iter().all(|&k| redundancy[k] > 0.05),
            withheld: withheld(marked, solution, span, value, interval),
            known: is_known(marked, span),
        }
    });
    let lengths = lengths.collect();
    Measured {
        lengths,
        covariance,
        focal: solution.state.focal(&solution.network),
        focal_known: solution.focal_spread() < VAGUE_FOCAL,
        radial: solution.state.radial(),
        obliquity: solution.state.obliquity().to_degrees(),
        chi_squared: (solution.chi_squared, solution.freedom),
        passes: solution.passes(),
        spread,
        kinds: mixture::differ(&said),
        worst: solution.worst_mark(),
        verdict,
        checks,
        failed_draws: said.iter().map(|one| one.failed).sum(),
    }
}

fn is_known(marked: &Marked, span: Span) -> bool {
    marked.known.iter().any(|known| known.span == span)
}

/// Widens intervals so that they hold what the picture would say without each
/// suspect. The covariances grow with them, so that the notes know it too.
fn allow_for_doubt(marked: &Marked, measured: &mut Measured) {
    let mut grown = vec![1.0; measured.lengths.len()];
    for (found, grown) in measured.lengths.iter_mut().zip(&mut grown) {
        let mut ends = found.interval;
        for other in &measured.verdict.without {
            let of = measure(&other.network, marked, found.span);
            let half = 1.96 * other.spread() * other.sigma(of);
            let value = other.measure(of).abs();
            ends.low = ends.low.min(value - half);
            ends.high = ends.high.max(value + half);
        }
        if found.known || ends == found.interval || found.sigma <= 0.0 {
            continue;
        }
        found.interval = Interval { low: ends.low.max(0.0), high: ends.high };
        let half = (found.value - ends.low).max(ends.high - found.value);
        *grown = (half / (1.96 * found.sigma)).max(1.0);
        found.sigma *= *grown;
    }
    let n = grown.len();
    measured.covariance.component_mul_assign(&DMatrix::from_fn(n, n, |i, j| grown[i] * grown[j]));
}

fn withheld(
    marked: &Marked,
    solution: &Solution,
    span: Span,
    value: f64,
    interval: Interval,
) -> Option<&'static str> {
    let deepest = marked.rests_on(span).iter().map(|&k| solution.depth(k)).fold(0.0, f64::max);
    let wide = interval.high - interval.low > value;
    (deepest > 8.0 && wide)
        .then_some("near the horizon of the wall: a pixel there is a large part of the length")
}

fn findings(marked: &Marked, solution: &Solution, measured: &Measured) -> Vec<Finding> {
    let subject = || Subject::Photo(marked.id.clone());
    let mut list = Vec::new();
    if measured.checks < 1 {
        list.push(Finding::look(
            subject(),
            "unchecked: there are no marks beyond the number needed, so a wrong mark would not show",
            "mark another rectangle of the wall",
        ));
    } else if !measured.passes && measured.verdict.suspects.is_empty() {
        let (name, score) =
            measured.worst.map_or(("none", 0.0), |w| (marked.marks[w.mark].id.as_str(), w.score));
        list.push(Finding::look(
            subject(),
            format!("the marks disagree by more than {} px explains; {name} fits worst ({score:.1} times its uncertainty)", marked.sigma()),
            "mark it again; as it stands all intervals are widened",
        ));
    }
    if !measured.focal_known {
        list.push(Finding::note(
            subject(),
            "the focal length is undetermined: the picture is taken too squarely, or the marks lie \
             too close together; the intervals allow for it",
        ));
    }
    list.extend(blame::findings(marked, solution, &measured.verdict));
    list.extend(what_picture(marked, measured));
    list.extend(second_length(marked, solution, measured));
    list
}

/// Where the kind of picture is not known and makes a difference.
fn what_picture(marked: &Marked, measured: &Measured) -> Option<Finding> {
    let differs = measured.kinds > 0.01;
    differs.then(|| {
        Finding::look(
            Subject::Photo(marked.id.clone()),
            format!(
                "it is not known what picture this is: as a print it gives lengths that differ by \
                 up to {:.0} percent from those of a camera's whole file; the intervals hold both",
                (100.0 * measured.kinds).ceil()
            ),
            "say what it is: camera, print, or part; a second known length tells more",
        )
    })
}

/// With one known length: what a second one, across it, would be worth.
fn second_length(marked: &Marked, solution: &Solution, measured: &Measured) -> Option<Finding> {
    let [only] = marked.known[..] else { return None };
    let level = matches!(only.span, Span::Width(_) | Span::Level(..));
    let r = (0..marked.rects.len()).max_by(|&a, &b| {
        let side = |r| solution.measure(measure(&solution.network, marked, across(r, level)));
        side(a).total_cmp(&side(b))
    })?;
    let of = measure(&solution.network, marked, across(r, level));
    let value = solution.measure(of);
    let mut better = solution.network.clone();
    better.ties.push(Tie::Length { of, value, sigma: 0.002 * value });
    let better = adjust(better).ok()?;
    let (widest, now) = measured
        .lengths
        .iter()
        .filter(|l| !l.known && l.value > 0.0)
        .map(|l| (l.span, l.sigma / l.value))
        .max_by(|a, b| a.1.total_cmp(&b.1))?;
    let widest = measure(&solution.network, marked, widest);
    let then = measured.spread * better.sigma(widest) / better.measure(widest).abs();
    (then < 0.8 * now).then(|| {
        Finding::look(
            Subject::Photo(marked.id.clone()),
            format!("one known length leaves the widest interval at +-{:.1} percent", 196.0 * now),
            format!(
                "a second one, {} (say {}), would bring it to +-{:.1} percent",
                if level { "plumb" } else { "level" },
                marked.name(across(r, level)),
                196.0 * then
            ),
        )
    })
}

/// The side of a rectangle across the direction that is known.
fn across(rect: usize, level_known: bool) -> Span {
    if level_known { Span::Height(rect) } else { Span::Width(rect) }
}
