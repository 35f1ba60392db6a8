//! Length kept against cost: what each foot is worth.

use super::case::Case;
use super::long::Asked;
use super::search::{Kind, search};
use crate::finding::Stop;
use crate::quantity::CompressedLength;

/// Ranges of counts looked at for each length.
const STEPS: usize = 200;

/// The best that a length allows.
#[derive(Clone, Debug, PartialEq)]
pub struct Point {
    /// The length allowed.
    pub allowed: CompressedLength,
    /// The length used.
    pub length: CompressedLength,
    /// The look cost of counts and widths, roof and depth aside.
    pub cost: f64,
    /// The counts.
    pub counts: std::collections::BTreeMap<String, u32>,
    /// Whether no other counts cost less.
    pub proven: bool,
}

/// The best for `points` lengths from nothing to the full length; lengths that
/// nothing fits are left out.
///
/// # Errors
///
/// As [`super::run`], except that not fitting is no error.
pub fn trade_off(asked: &Asked, points: u32) -> Result<Vec<Point>, Stop> {
    let Asked { job, look, faces, scheme, scale } = asked;
    let case = Case::new(job, look, (faces, scheme), scale, STEPS)?;
    let full = case.full_length();
    let mut out = Vec::new();
    for step in 1..=points {
        let allowed = full * f64::from(step) / f64::from(points);
        let found = search(&case, allowed, Kind::Best, &mut |_| true);
        let proven = found.complete;
        let Some(best) = found.found.into_iter().next() else { continue };
        let decision = case.decision(&best.counts, &best.widths, case.as_found());
        let length = case.length(&decision);
        // More room that is not used says nothing new.
        let used = |last: &Point| last.length.agrees(length, CompressedLength::inches(1e-3));
        if out.last().is_some_and(used) {
            continue;
        }
        out.push(Point {
            allowed: CompressedLength::inches(allowed),
            length,
            cost: best.cost,
            counts: best.counts,
            proven,
        });
    }
    Ok(out)
}
