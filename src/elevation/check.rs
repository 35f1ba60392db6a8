//! What a laid-out face should be looked at for.

use super::sized::{Face, Placed, Role};
use super::{Body, Elevation, Hole, Span, SpanKind};
use crate::finding::{Finding, Subject};
use crate::job::Job;
use crate::quantity::{Prototype, PrototypeLength};

/// Lengths that differ by less than this agree: a tenth of a sixteenth.
fn slack() -> PrototypeLength {
    PrototypeLength::inches(1.0 / 160.0)
}

/// Everything on one face that needs a look.
pub(super) fn face(
    job: &Job,
    row: &Face,
    role: Role,
    face: &Elevation<Prototype>,
    body: &Body<Prototype>,
) -> Vec<Finding> {
    let mut findings = Vec::new();
    findings.extend(length(job, row, role, face, body));
    findings.extend(face.holes.iter().filter_map(|hole| head(job, face, role, hole)));
    findings.extend(row.openings.iter().filter_map(|placed| beyond(job, face, placed)));
    let bays = face.spans.iter().filter(|span| span.kind == SpanKind::Bay);
    let mut seen: Option<&str> = None;
    for bay in bays {
        if let Some(finding) = tight(job, face, bay)
            && seen != Some(bay.element.as_str())
        {
            seen = Some(&bay.element);
            findings.push(finding);
        }
    }
    findings.extend(overlap(face));
    findings
}

/// The row against the length the face should have.
fn length(
    job: &Job,
    row: &Face,
    role: Role,
    face: &Elevation<Prototype>,
    body: &Body<Prototype>,
) -> Option<Finding> {
    let (wanted, which) = match (row.length, role) {
        (Some(length), _) => (length, "its length"),
        (None, Role::Front | Role::Other) => return None,
        (None, Role::End) => (body.depth, "the depth of the building"),
        (None, Role::Side) => (body.length, "the front"),
    };
    if row.row.is_empty() || face.length.agrees(wanted, slack()) {
        return None;
    }
    let notation = job.about.full_notation();
    let apart = face.length - wanted;
    let more = if apart > PrototypeLength::ZERO { "longer" } else { "shorter" };
    Some(Finding::look(
        Subject::Element(face.name.clone()),
        format!(
            "the row of the face \"{}\" adds up to {}, {} {more} than {which}",
            face.name,
            notation.show(&face.length),
            notation.show(&apart.abs()),
        ),
        "one of its widths, or the length, is off",
    ))
}

/// Openings that reach above the wall.
fn head(
    job: &Job,
    face: &Elevation<Prototype>,
    role: Role,
    hole: &Hole<Prototype>,
) -> Option<Finding> {
    // A body built on may have one slope: its ends rise to the ridge.
    let top = if face.gable || role == Role::Other { face.ridge } else { face.height };
    (hole.head() > top + slack()).then(|| {
        let notation = job.about.full_notation();
        Finding::look(
            Subject::Element(format!("{}/{}", face.name, hole.label)),
            format!(
                "the {} \"{}\" reaches {}, the wall ends at {}",
                hole.kind,
                hole.label,
                notation.show(&hole.head()),
                notation.show(&top),
            ),
            "look at its sill and height",
        )
    })
}

/// An opening at a place of its own that the wall does not reach.
fn beyond(job: &Job, face: &Elevation<Prototype>, placed: &Placed) -> Option<Finding> {
    let right = placed.at + placed.opening.width;
    (right > face.length + slack()).then(|| {
        let notation = job.about.full_notation();
        Finding::trouble(
            Subject::Element(format!("{}/{}", face.name, placed.label)),
            format!(
                "the {} ends at {}, the wall at {}",
                placed.opening.kind,
                notation.show(&right),
                notation.show(&face.length),
            ),
            "`at` is its left edge, from the left corner of the wall",
        )
    })
}

/// Openings wider than their bay.
fn tight(job: &Job, face: &Elevation<Prototype>, bay: &Span<Prototype>) -> Option<Finding> {
    let width = bay.right - bay.left;
    let hole = face.holes.iter().find(|hole| {
        (hole.label == bay.label || hole.label.starts_with(&format!("{}/", bay.label)))
            && hole.width > width + slack()
    })?;
    let notation = job.about.full_notation();
    Some(Finding::trouble(
        Subject::Element(format!("{}/{}", face.name, bay.element)),
        format!(
            "the {} is {} wide, its bay \"{}\" only {}",
            hole.kind,
            notation.show(&hole.width),
            bay.element,
            notation.show(&width),
        ),
        "a bay must hold its opening: look at both widths",
    ))
}

/// Openings that stand in one another.
fn overlap(face: &Elevation<Prototype>) -> Vec<Finding> {
    let inside = |a: &Hole<Prototype>, b: &Hole<Prototype>| {
        a.left + slack() < b.right()
            && b.left + slack() < a.right()
            && a.foot + slack() < b.head()
            && b.foot + slack() < a.head()
    };
    let pairs = face
        .holes
        .iter()
        .enumerate()
        .flat_map(|(at, first)| face.holes[at + 1..].iter().map(move |second| (first, second)));
    pairs
        .filter(|(first, second)| inside(first, second))
        .map(|(first, second)| {
            Finding::trouble(
                Subject::Element(format!("{}/{}", face.name, first.label)),
                format!(
                    "the {} and the {} at \"{}\" stand in one another",
                    first.kind, second.kind, second.label
                ),
                "look at their sills and heights",
            )
        })
        .collect()
}
