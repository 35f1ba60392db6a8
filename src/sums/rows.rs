//! Rows of equal pieces: courses up a wall or a slope, planks along a deck,
//! posts along a front, stairs, slates.

use crate::quantity::{Length, Space};

/// How much narrower than a whole piece still counts as whole.
pub(crate) const SLACK: f64 = 1e-6;

/// Pieces of a row and the pitch that makes them come out even:
/// `length / round(length / nominal)`. At least one piece.
///
/// ```
/// use scantling::quantity::CompressedLength;
/// use scantling::sums::rows::redistribute;
///
/// let (count, pitch) =
///     redistribute(CompressedLength::inches(275.04), CompressedLength::inches(5.0));
/// assert_eq!(count, 55);
/// assert!((pitch.in_inches() - 5.0007).abs() < 1e-4);
/// ```
#[must_use]
pub fn redistribute<S: Space>(length: Length<S>, nominal: Length<S>) -> (u32, Length<S>) {
    // A saturating cast is right for a number of pieces.
    let count = if nominal > Length::ZERO { nearest_whole(length / nominal) } else { 1.0 };
    let count = count.max(1.0);
    (count as u32, length / count)
}

/// The gap that leaves so many things of a width evenly in a length, with a gap
/// at both ends: `(L - n w) / (n + 1)`. Below zero where they do not fit.
#[must_use]
pub fn even_gaps<S: Space>(length: Length<S>, each: Length<S>, count: f64) -> Length<S> {
    (length - each * count) / (count + 1.0)
}

/// The pane between bars: `(L - (n - 1) b) / n`.
#[must_use]
pub fn panes<S: Space>(glass: Length<S>, bar: Length<S>, count: f64) -> Length<S> {
    (glass - bar * (count - 1.0)) / count
}

/// The nearest whole number, a half to the even one, where a number carries
/// the dust of its own arithmetic.
pub(crate) fn nearest_whole(value: f64) -> f64 {
    let below = value.floor();
    if (value - below - 0.5).abs() <= 1e-9 * value.abs().max(1.0) {
        return (below + 0.5).round_ties_even();
    }
    value.round()
}

/// Courses between two fixed lines.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CourseRun<S: Space> {
    /// Lower line.
    pub from: Length<S>,
    /// Upper line.
    pub to: Length<S>,
    /// Number of courses.
    pub count: u32,
    /// What each shows.
    pub exposure: Length<S>,
}

/// Courses between fixed lines: `n_i = round(gap_i / e)`, `e_i = gap_i / n_i`.
///
/// Lines are dropped where they would put an exposure more than 5 percent out;
/// as many as possible are kept, the first and the last always.
#[must_use]
pub fn between_lines<S: Space>(lines: &[Length<S>], exposure: Length<S>) -> Vec<CourseRun<S>> {
    let run = |from: Length<S>, to: Length<S>| {
        let (count, each) = redistribute(to - from, exposure);
        CourseRun { from, to, count, exposure: each }
    };
    let within = |from, to| (run(from, to).exposure / exposure - 1.0).abs() <= 0.05 + SLACK;
    // Most lines kept from each line to the last, by dynamic programming.
    let last = lines.len().saturating_sub(1);
    let mut best: Vec<Option<(u32, usize)>> = vec![None; lines.len()];
    for at in (0..last).rev() {
        for next in (at + 1..=last).rev() {
            let rest = if next == last { Some(0) } else { best[next].map(|(kept, _)| kept) };
            let Some(kept) = rest.map(|rest| rest + 1) else { continue };
            let better = best[at].is_none_or(|(most, _)| kept > most);
            if within(lines[at], lines[next]) && better {
                best[at] = Some((kept, next));
            }
        }
    }
    let mut runs = Vec::new();
    let mut at = 0;
    while at < last {
        let next = best[at].map_or(last, |(_, next)| next);
        runs.push(run(lines[at], lines[next]));
        at = next;
    }
    runs
}

/// Courses up a slope so that the last is whole.
///
/// `ceil(S / e)` courses; where the last would show less than a third of the
/// exposure, `round(S / e)` courses of `S` over that number.
#[must_use]
pub fn slope_courses<S: Space>(slope: Length<S>, exposure: Length<S>) -> (u32, Length<S>) {
    let count = (slope / exposure - SLACK).ceil().max(1.0);
    let last = slope - exposure * (count - 1.0);
    if last < exposure / 3.0 {
        return redistribute(slope, exposure);
    }
    (count as u32, exposure)
}

/// Equal spaces no longer than `most`: their number and size. One post more
/// than spaces.
#[must_use]
pub fn spaced<S: Space>(length: Length<S>, most: Length<S>) -> (u32, Length<S>) {
    let count = if most > Length::ZERO { (length / most - SLACK).ceil().max(1.0) } else { 1.0 };
    (count as u32, length / count)
}

/// Pieces at centres along a length: `floor(L / spacing) + 1`, and one more
/// where the last gap would be over a spacing and a quarter.
#[must_use]
pub fn at_centres<S: Space>(length: Length<S>, spacing: Length<S>) -> u32 {
    if spacing <= Length::ZERO {
        return 0;
    }
    let gaps = (length / spacing + SLACK).floor();
    let over = length - spacing * gaps > spacing * 1.25;
    gaps as u32 + 1 + u32::from(over)
}

/// Whole planks along a deck and the gap that uses up what is left.
#[must_use]
pub fn planks<S: Space>(length: Length<S>, plank: Length<S>, gap: Length<S>) -> (u32, Length<S>) {
    let count = ((length + gap) / (plank + gap) + SLACK).floor().max(1.0);
    let gaps = (count - 1.0).max(1.0);
    let left = length - plank * count - gap * (count - 1.0);
    (count as u32, if count > 1.0 { gap + left / gaps } else { gap })
}

/// A flight of stairs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stairs<S: Space> {
    /// Number of risers.
    pub risers: u32,
    /// Height of each.
    pub rise: Length<S>,
    /// Number of treads: one less.
    pub treads: u32,
    /// Level length of the flight.
    pub run: Length<S>,
    /// Length of the stringer along its line.
    pub stringer: Length<S>,
}

/// Stairs of old practice: risers of about 7 1/2 in.
#[must_use]
pub fn stairs<S: Space>(height: Length<S>, riser: Length<S>, tread: Length<S>) -> Stairs<S> {
    flight(height, nearest_whole(height / riser).max(1.0), tread)
}

/// Stairs whose riser may not be higher than `most`.
#[must_use]
pub fn stairs_by_code<S: Space>(height: Length<S>, most: Length<S>, tread: Length<S>) -> Stairs<S> {
    flight(height, (height / most - SLACK).ceil().max(1.0), tread)
}

fn flight<S: Space>(height: Length<S>, risers: f64, tread: Length<S>) -> Stairs<S> {
    let run = tread * (risers - 1.0);
    Stairs {
        risers: risers as u32,
        rise: height / risers,
        treads: risers as u32 - 1,
        run,
        stringer: hypotenuse(run, height),
    }
}

/// The long side of a right-angled corner.
#[must_use]
pub fn hypotenuse<S: Space>(level: Length<S>, upright: Length<S>) -> Length<S> {
    Length::metres(level.in_metres().hypot(upright.in_metres()))
}

/// Sheets across a wall: `ceil((W - lap) / cover)`, where the first sheet
/// covers a side lap more than the others.
#[must_use]
pub fn sheets_across<S: Space>(width: Length<S>, cover: Length<S>, lap: Length<S>) -> u32 {
    ((width - lap) / cover - SLACK).ceil().max(1.0) as u32
}

/// Tiers up a wall: `ceil(H / (sheet - end lap))`.
#[must_use]
pub fn tiers<S: Space>(height: Length<S>, sheet: Length<S>, lap: Length<S>) -> u32 {
    (height / (sheet - lap) - SLACK).ceil().max(1.0) as u32
}

/// Exposure of slate: half of what the headlap leaves of its length.
#[must_use]
pub fn slate_exposure<S: Space>(length: Length<S>, headlap: Length<S>) -> Length<S> {
    (length - headlap) / 2.0
}

/// Shingles or slates over an area in square inches, each showing width times
/// exposure.
#[must_use]
pub fn pieces_over<S: Space>(square_inches: f64, width: Length<S>, exposure: Length<S>) -> f64 {
    square_inches / (width.in_inches() * exposure.in_inches())
}
