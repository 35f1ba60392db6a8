//! The likely slip behind a reading that does not fit.
//!
//! Each of the twelve classic slips says what the reading would have been
//! without it. A slip is named when that stands where the others say it
//! should, so closely that chance is a poor explanation: each slip has a
//! weight for how often it is made, shared among the ways it can be made, and
//! is set against the weight of an error without a name, which may be
//! anything. The weights are rows of `data/slips.toml`.

mod figures;
mod kinds;

#[cfg(test)]
mod tests;

pub use kinds::SlipKind;

use crate::catalog::Catalog;
use crate::job::Job;
use crate::job::form::Form;
use crate::job::model::Reading;

/// What is known about a reading that does not fit.
#[derive(Clone, Debug)]
pub(super) struct Case<'a> {
    pub(super) job: &'a Job,
    pub(super) catalog: &'a Catalog,
    pub(super) reading: &'a Reading,
    /// What was read: inches, plain, or square inches.
    pub(super) value: f64,
    /// What the others say.
    pub(super) expected: f64,
    /// The standard uncertainty of the difference.
    pub(super) sigma: f64,
    /// Lengths that repeat along the building, in inches.
    pub(super) repeats: Vec<f64>,
    /// Overall lengths of the same network, in inches.
    pub(super) overalls: Vec<f64>,
}

impl Case<'_> {
    fn is_length(&self) -> bool {
        matches!(self.reading.of, Form::Linear(_) | Form::Diagonal(..))
    }
}

/// A way the reading may have come about.
#[derive(Clone, Debug, PartialEq)]
struct Way {
    kind: SlipKind,
    /// What it would have been without the slip.
    meant: f64,
    /// Share of the weight of its kind.
    share: f64,
    words: String,
}

/// The slip that explains a reading.
#[derive(Clone, Debug, PartialEq)]
pub struct Slip {
    /// Which of the twelve.
    pub kind: SlipKind,
    /// Others that explain it nearly as well.
    pub or: Vec<SlipKind>,
    /// What the reading would have been, in its own unit.
    pub meant: f64,
    /// In words: `exactly one foot`.
    pub words: String,
}

/// Weight of an error without a name.
const NAMELESS: f64 = 0.1;
/// A slip is named when it carries this share of all weight.
const NAMED: f64 = 0.6;
/// And told beside another when it carries this.
const BESIDE: f64 = 0.1;
/// Farther than this from what the others say it does not explain the reading.
const FAR: f64 = 3.0;

/// The slip that explains a reading; nothing when none does.
pub(super) fn name(case: &Case<'_>) -> Option<Slip> {
    let ways = kinds::ways(case);
    let mut weights: Vec<(SlipKind, f64)> = Vec::new();
    for way in &ways {
        let weight =
            way.share * case.catalog.slips.weight(way.kind.key()) * density(case, way.meant);
        match weights.iter_mut().find(|(kind, _)| *kind == way.kind) {
            Some((_, sum)) => *sum += weight,
            None => weights.push((way.kind, weight)),
        }
    }
    weights.sort_by(|a, b| b.1.total_cmp(&a.1));
    let range = case.value.abs().max(case.expected.abs()).max(case.sigma);
    let named: f64 = weights.iter().map(|(_, weight)| weight).sum();
    let all = named + NAMELESS / (2.0 * range);
    let (kind, _) = weights.first().filter(|_| named > NAMED * all)?;
    let best = |way: &&Way| (way.meant - case.expected).abs();
    let way =
        ways.iter().filter(|way| way.kind == *kind).min_by(|a, b| best(a).total_cmp(&best(b)))?;
    let or = weights[1..].iter().filter(|(_, weight)| *weight > BESIDE * all);
    Some(Slip {
        kind: *kind,
        or: or.map(|(kind, _)| *kind).collect(),
        meant: way.meant,
        words: way.words.clone(),
    })
}

/// How likely the others are to say what they say, had the reading been this.
fn density(case: &Case<'_>, meant: f64) -> f64 {
    let z = (meant - case.expected) / case.sigma;
    if z.abs() > FAR {
        return 0.0;
    }
    (-z * z / 2.0).exp() / (case.sigma * (2.0 * std::f64::consts::PI).sqrt())
}

/// The slip behind a pull whose zero comes out at so many inches: the tape
/// was held at another mark.
pub(super) fn zero(at: f64) -> Option<Slip> {
    let marks = [(12.0, "1 ft"), (1.0, "1 in"), (100.0 / 25.4, "10 cm"), (10.0 / 25.4, "1 cm")];
    let slack = |mark: f64| 0.05_f64.max(mark * 0.05);
    let near = |(mark, _): &&(f64, &str)| (at.abs() - mark).abs() <= slack(*mark);
    let (mark, word) = marks.iter().find(near)?;
    Some(Slip {
        kind: SlipKind::ZeroNotAtZero,
        or: Vec::new(),
        meant: mark.copysign(at),
        words: format!("the tape was held at its {word} mark, not at its zero"),
    })
}
