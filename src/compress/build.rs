//! From a decision to the building as it will be built.

use super::case::Case;
use super::fit::piece;
use super::tally::{Counts, Summing, key, tally};
use super::terms::Moved;
use super::{Decision, Shape};
use crate::elevation::place::{Fit, lay};
use crate::elevation::sized::{Face, Placed, Role};
use crate::elevation::{Body, Built, Elevation};
use crate::finding::{Finding, Subject};
use crate::job::face::Times;
use crate::job::place::RoofFollows;
use crate::quantity::{Compressed, CompressedLength, PrototypeLength};
use crate::solve::stretch::{Problem, Row, best, one_factor};

/// A face laid out by a decision.
struct Decided<'a> {
    decision: &'a Decision,
    front: bool,
    face: &'a str,
}

impl Fit<Compressed> for Decided<'_> {
    fn keep(&self, size: PrototypeLength) -> CompressedLength {
        CompressedLength::kept(size)
    }

    fn width(&self, element: &str, group: &str, size: PrototypeLength) -> CompressedLength {
        let widths = &self.decision.widths;
        let own = widths.get(&key(self.front, self.face, element));
        let shared = || widths.get(&key(self.front, self.face, group));
        own.or_else(shared).copied().unwrap_or(CompressedLength::kept(size))
    }

    fn count(&self, element: &str, times: &Times) -> u32 {
        let counts = &self.decision.counts;
        counts.get(&key(self.front, self.face, element)).copied().unwrap_or(times.count)
    }
}

/// The building of a decision, and what to look at in it.
pub(crate) fn build(case: &Case<'_>, decision: &Decision) -> (Built, Vec<Finding>) {
    let body = case.body(decision);
    let heights = case.heights(decision);
    // Faces are laid out at the prototype's heights; storeys are taken out after.
    let tall = Body { eave: body.eave + heights.taken(), ..body };
    let front = case.front();
    let mut findings = Vec::new();
    let faces = (case.faces.rows.iter())
        .map(|face| {
            let role = face.role(&front);
            let fit = Decided { decision, front: role == Role::Front, face: &face.name };
            let mut laid = lay(face, &tall, role, &fit);
            if role == Role::Other {
                return laid;
            }
            heights.take_from(&mut laid);
            if let (Shape::SceneEdge(edge), Role::Front | Role::Side) = (decision.shape, role) {
                cut_at(&mut laid, edge);
            }
            laid.ridge = body.ridge;
            match role {
                Role::End => end(laid, &body, decision.roof),
                Role::Front | Role::Side | Role::Other => laid,
            }
        })
        .collect::<Vec<_>>();
    for (face, row) in faces.iter().zip(&case.faces.rows) {
        findings.extend(beyond(case, face, row));
        let wanted = match row.role(&front) {
            Role::Other => continue,
            Role::End => body.depth,
            Role::Front | Role::Side => body.length,
        };
        if !face.length.agrees(wanted, CompressedLength::inches(1.0 / 64.0)) {
            findings.push(uneven(case, face, wanted));
        }
    }
    (Built { body, roof: decision.roof, heights, faces }, findings)
}

/// Openings at a place of their own that the wall as built no longer has.
fn beyond(case: &Case<'_>, face: &Elevation<Compressed>, row: &Face) -> Vec<Finding> {
    let notation = case.job.about.full_notation();
    let end = face.length + CompressedLength::inches(1.0 / 64.0);
    let right = |placed: &Placed| CompressedLength::kept(placed.at + placed.opening.width);
    let gone = row.openings.iter().filter(|placed| right(placed) > end);
    let finding = |placed: &Placed| {
        Finding::look(
            Subject::Element(format!("{}/{}", face.name, placed.label)),
            format!(
                "the {} that ends at {} is left out: {} is {} long as built",
                placed.opening.kind,
                notation.show(&right(placed)),
                face.name,
                notation.show(&face.length),
            ),
            "give it another place with `at`, or make it an element of the row",
        )
    };
    gone.map(finding).collect()
}

fn uneven(case: &Case<'_>, face: &Elevation<Compressed>, wanted: CompressedLength) -> Finding {
    let notation = case.job.about.full_notation();
    Finding::look(
        Subject::Element(face.name.clone()),
        format!(
            "the face \"{}\" comes to {} where the building needs {}",
            face.name,
            notation.show(&face.length),
            notation.show(&wanted),
        ),
        "give its plain walls or repeats more play",
    )
}

/// An end wall of a building cut at the ridge keeps what stands before the cut.
fn end(
    mut face: Elevation<Compressed>,
    body: &Body<Compressed>,
    roof: RoofFollows,
) -> Elevation<Compressed> {
    if !matches!(roof, RoofFollows::HalfRelief | RoofFollows::Flat) || face.length <= body.depth {
        return face;
    }
    cut_at(&mut face, body.depth);
    face
}

/// Keeps what stands left of a cut.
fn cut_at(face: &mut Elevation<Compressed>, cut: CompressedLength) {
    if face.length <= cut {
        return;
    }
    face.spans.retain(|span| span.left < cut);
    if let Some(last) = face.spans.last_mut() {
        last.right = last.right.min(cut);
    }
    face.holes.retain(|hole| hole.right() <= cut);
    face.length = cut;
}

/// Widths of the end walls for a depth, where their rows can come to it.
pub(crate) fn ends(case: &Case<'_>, decision: &mut Decision) {
    if matches!(decision.roof, RoofFollows::HalfRelief | RoofFollows::Flat) {
        return;
    }
    for face in &case.across {
        let how = Summing { rules: &case.rules, front: false, loose: false };
        let sums = tally(face, &Counts::new(), how);
        // No line of cost is theirs; they give way as those of the front do.
        let pieces = sums.groups.iter().map(|group| {
            let moved = Moved::Group { face: 0, name: group.name.clone(), by: 1.0 };
            let term = case.rules.term(&group.feature, &group.name, 1.0, moved);
            piece(term.as_slice(), 0, group)
        });
        let depth = decision.depth.in_inches();
        let rows = vec![Row { fixed: sums.fixed, pieces: pieces.collect(), total: None }];
        let Ok(found) = best(&Problem { rows, wholes: vec![], shortest: depth, longest: depth })
        else {
            continue;
        };
        for (group, sum) in sums.groups.iter().zip(found.sizes.iter().flatten()) {
            let pieces: Vec<_> =
                group.items.iter().map(|it| (it.times, it.original, it.least, it.most)).collect();
            for (item, size) in group.items.iter().zip(one_factor(&pieces, *sum)) {
                decision.widths.insert(item.key.clone(), CompressedLength::inches(size));
            }
        }
    }
}
