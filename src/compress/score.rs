//! The look cost of stated dimensions, line by line.

use super::case::Case;
use super::tally::{Tally, length};
use super::terms::terms;
use super::{Decision, Lines, Shape};
use crate::elevation::{Elevation, Hole};
use crate::quantity::Compressed;

/// The cost of a decision, line by line.
pub(crate) fn score(case: &Case<'_>, decision: &Decision) -> Lines {
    let setting = Setting::of(case, decision, false);
    Lines(terms(case, &setting).iter().map(|term| term.line(&setting)).collect())
}

/// A decision with its faces summed.
pub(crate) struct Setting<'d> {
    pub(crate) decision: &'d Decision,
    /// The faces along the building, the front first.
    pub(crate) tallies: Vec<Tally>,
    pub(super) cut: Cut,
}

impl<'d> Setting<'d> {
    /// A decision's faces; `loose` sets the bounds of the widths aside.
    pub(crate) fn of(case: &Case<'_>, decision: &'d Decision, loose: bool) -> Self {
        let faces = 0..case.originals.len();
        let tallies = faces.map(|at| case.tally(at, &decision.counts, loose)).collect();
        Self { decision, tallies, cut: Cut::of(case, decision) }
    }

    /// Length of a face, inches.
    pub(super) fn length(&self, face: usize) -> f64 {
        let whole = length(&self.tallies[face], |item| self.decision.width(item));
        self.cut.length.map_or(whole, |edge| whole.min(edge))
    }
}

/// What storeys left out and the edge of the scene take from the faces.
pub(super) struct Cut {
    /// Prototype eave over the eave as built.
    pub(super) slender: f64,
    /// Height taken out of the walls, inches; less than nothing where the eave
    /// was set higher.
    pub(super) taken: f64,
    /// The edge of the scene, inches from the left corner.
    length: Option<f64>,
    /// The openings left on each face along the building: area, and the number of
    /// those that count; nothing where none are taken.
    left: Option<Vec<(f64, u32)>>,
}

impl Cut {
    fn of(case: &Case<'_>, decision: &Decision) -> Self {
        let eave = case.faces.body.eave.in_inches();
        let taken = match decision.set.eave {
            Some(set) => eave - set.in_inches(),
            None => case.heights(decision).taken().in_inches(),
        };
        let length = match decision.shape {
            Shape::SceneEdge(edge) => Some(edge.in_inches()),
            _ => None,
        };
        let left = (taken > 0.0 || length.is_some()).then(|| left(case, decision));
        Self { slender: eave / (eave - taken).max(1.0), taken, length, left }
    }

    /// Area of the openings left on a face.
    pub(super) fn area(&self, at: usize, now: &Tally) -> f64 {
        self.left.as_ref().and_then(|left| left.get(at)).map_or(now.area, |left| left.0)
    }

    /// Openings left on the front, of those that count.
    pub(super) fn openings(&self, now: &Tally) -> f64 {
        let left = self.left.as_ref().and_then(|left| left.first());
        f64::from(left.map_or(now.openings, |left| left.1))
    }
}

/// The openings of the row that are left on each face along the building.
fn left(case: &Case<'_>, decision: &Decision) -> Vec<(f64, u32)> {
    let (built, _) = super::build::build(case, decision);
    let of = |at: usize, name: &str| {
        let Some(face) = built.faces.iter().find(|face| face.name == name) else {
            return (0.0, 0);
        };
        let counted = case.counted(at);
        let own = || face.holes.iter().filter_map(|hole| Some((hole, element(face, hole)?)));
        let area = own().map(|(hole, _)| (hole.width * hole.height).in_square_inches()).sum();
        let number = own().filter(|(_, name)| counted.contains(name)).count();
        // A few hundred at most.
        (area, number as u32)
    };
    case.along_names().into_iter().enumerate().map(|(at, name)| of(at, name)).collect()
}

/// The element of the row an opening stands in; none for one at a place of its own.
fn element<'f>(face: &'f Elevation<Compressed>, hole: &Hole<Compressed>) -> Option<&'f str> {
    let holds = |label: &str| {
        hole.label == label || hole.label.strip_prefix(label).is_some_and(|it| it.starts_with('/'))
    };
    face.spans.iter().find(|span| holds(&span.label)).map(|span| span.element.as_str())
}
