//! Length kept against cost: what each foot is worth.

use super::case::Case;
use super::search::{Kind, search};
use crate::catalog::Catalog;
use crate::elevation::Faces;
use crate::finding::Stop;
use crate::job::Job;
use crate::quantity::{CompressedLength, Scale};

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
}

/// The best for `points` lengths from nothing to the full length; lengths that
/// nothing fits are left out.
///
/// # Errors
///
/// As [`super::run`], except that not fitting is no error.
pub fn trade_off(
    job: &Job,
    catalog: &Catalog,
    faces: &Faces,
    scale: &Scale,
    points: u32,
) -> Result<Vec<Point>, Stop> {
    let case = Case::new(job, catalog, faces, scale)?;
    let full = case.full_length();
    let mut out = Vec::new();
    for step in 1..=points {
        let allowed = full * f64::from(step) / f64::from(points);
        let found = search(&case, allowed, Kind::Best, &mut |_| true).found;
        let Some(best) = found.into_iter().next() else { continue };
        let decision = case.decision(&best.counts, &best.widths, case.as_found());
        out.push(Point {
            allowed: CompressedLength::inches(allowed),
            length: case.length(&decision),
            cost: best.cost,
            counts: best.counts,
        });
    }
    Ok(out)
}
