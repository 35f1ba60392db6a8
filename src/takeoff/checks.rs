//! What a carpenter would notice.

use super::courses::boards;
use super::part::{Form, Kind, Part};
use super::{Run, Shop, casting};
use crate::building::Wall;
use crate::elevation::SpanKind;
use crate::finding::{Finding, Subject};
use crate::job::building::{Cladding, CladdingKind};
use crate::quantity::{CompressedLength, ModelLength};
use crate::stock::{accumulate, redistribute};

type Full = CompressedLength;

/// Thinner than this is no part for the hand.
const THIN_THOU: f64 = 20.0;

/// Checks of one wall and its claddings.
pub(super) fn wall(shop: &mut Shop<'_>, wall: &Wall) {
    for name in wall.claddings() {
        let job = shop.job;
        let Some(cladding) = job.claddings.iter().find(|cladding| cladding.name == name) else {
            continue;
        };
        if matches!(cladding.kind, CladdingKind::BoardAndBatten | CladdingKind::Boards) {
            boards_of(shop, wall, cladding);
        }
        if cladding.kind == CladdingKind::BoardAndBatten {
            thin_trim(shop, wall, cladding);
        }
    }
    castings(shop, wall);
}

fn boards_of(shop: &mut Shop<'_>, wall: &Wall, cladding: &Cladding) {
    let unit = shop.size(cladding.unit.as_ref(), Full::inches(12.0));
    let gap = shop.size(cladding.gap.as_ref(), Full::ZERO);
    let row = boards(wall.width, unit + gap, cladding.remainder);
    if let [.., before, last] = row.edges.as_slice() {
        let width = *last - *before;
        if width < unit / 3.0 {
            shop.findings.push(Finding::look(
                Subject::Element(wall.name.clone()),
                format!(
                    "the last board on {} is a sliver of {:.2} in",
                    wall.name,
                    width.in_inches()
                ),
                "set `remainder` of the cladding to \"centre\" or \"adjust\"",
            ));
        }
    }
    if cladding.kind == CladdingKind::BoardAndBatten {
        let batten = shop.size(cladding.batten.as_ref(), Full::inches(3.0));
        posts(shop, wall, &row.edges, batten);
    }
}

/// A batten that falls on the post beside a door or window.
fn posts(shop: &mut Shop<'_>, wall: &Wall, edges: &[Full], batten: Full) {
    let joints = edges.get(1..edges.len().saturating_sub(1)).unwrap_or_default();
    let struck = |hole: &&crate::elevation::Hole<crate::quantity::Compressed>| {
        let reach = batten / 2.0;
        joints.iter().any(|joint| {
            let beside = |low: Full, high: Full| *joint > low - reach && *joint < high + reach;
            hole.trim > Full::ZERO
                && (beside(hole.left - hole.trim, hole.left)
                    || beside(hole.right(), hole.right() + hole.trim))
        })
    };
    let labels: Vec<&str> =
        wall.holes.iter().filter(struck).map(|hole| hole.label.as_str()).collect();
    if !labels.is_empty() {
        shop.findings.push(Finding::look(
            Subject::Element(wall.name.clone()),
            format!(
                "on {} battens fall on the posts of {} of {} openings ({})",
                wall.name,
                labels.len(),
                wall.holes.len(),
                few(&labels)
            ),
            "centre the boards on the bays, or use a board that divides the bay",
        ));
    }
}

fn few(labels: &[&str]) -> String {
    let shown = labels.iter().take(3).copied().collect::<Vec<_>>().join(", ");
    if labels.len() > 3 { format!("{shown} and others") } else { shown }
}

/// Battens end against trim that is thinner than they are.
fn thin_trim(shop: &mut Shop<'_>, wall: &Wall, cladding: &Cladding) {
    let thickness = |key: &str| {
        let choice = shop.stock.of(key)?;
        Some(choice.taken().map_or(choice.model.thickness, |made| made.gives.thickness))
    };
    let Some(batten) = thickness(&format!("{} batten", cladding.name)) else { return };
    let mut kinds: Vec<&str> = wall.holes.iter().map(|hole| hole.kind.as_str()).collect();
    kinds.sort_unstable();
    kinds.dedup();
    for kind in kinds {
        let Some(trim) = thickness(&format!("{kind} casing")) else { continue };
        if trim < batten - ModelLength::thou(0.5) {
            shop.findings.push(Finding::look(
                Subject::Member(format!("{kind} casing")),
                format!(
                    "the casing of {kind} is {:.0} thou, thinner than the batten of {:.0}",
                    trim.in_thou(),
                    batten.in_thou()
                ),
                "use thicker trim, or butt the battens against it",
            ));
        }
    }
}

/// A casting with its trim and two boards needs that much bay.
fn castings(shop: &mut Shop<'_>, wall: &Wall) {
    let job = shop.job;
    for hole in &wall.holes {
        let opening = job.openings.iter().find(|opening| opening.name == hole.kind);
        let Some(bought) = opening.and_then(|opening| casting(opening, shop.catalog)) else {
            continue;
        };
        let span =
            wall.spans.iter().find(|span| span.left <= hole.left && span.right >= hole.right());
        let Some(span) = span.filter(|span| span.kind == SpanKind::Bay) else { continue };
        let frame: Full = shop.scale.enlarge(bought.frame.0);
        let board = job
            .claddings
            .iter()
            .find(|cladding| wall.is_clad_with(&cladding.name))
            .and_then(|cladding| cladding.unit.as_ref());
        let need = frame + hole.trim * 2.0 + shop.size(board, Full::ZERO) * 2.0;
        if need > span.right - span.left {
            shop.findings.push(Finding::look(
                Subject::Element(format!("{}/{}", wall.name, span.element)),
                format!(
                    "the casting of {} with its trim and two boards is {:.1} in wide, the bay {:.1}",
                    hole.kind,
                    need.in_inches(),
                    (span.right - span.left).in_inches()
                ),
                "widen the bay or find a narrower casting",
            ));
            return;
        }
    }
}

/// Checks of the parts as they come off the list.
pub(super) fn parts(shop: &mut Shop<'_>, parts: &[Part]) {
    let thin = ModelLength::thou(THIN_THOU);
    let small = parts.iter().filter(|part| {
        part.form != Form::Bought
            && part.kind != Kind::Shingle
            && part.model_width.min(part.model_length) < thin
            && part.model_width > ModelLength::ZERO
    });
    for part in small {
        shop.findings.push(Finding::look(
            part.subject(),
            format!(
                "{} is only {:.0} thou across",
                part.label,
                part.model_width.min(part.model_length).in_thou()
            ),
            "leave it out, scribe it, or join it to its neighbour",
        ));
    }
}

/// Rows whose pieces are wider or narrower than meant: the sum counts, not the
/// single error.
pub(super) fn rows(shop: &mut Shop<'_>) {
    let found: Vec<Finding> = shop.runs.iter().filter_map(|run| adds_up(shop, run)).collect();
    shop.findings.extend(found);
}

fn adds_up(shop: &Shop<'_>, run: &Run) -> Option<Finding> {
    let made = shop.stock.of(&run.section)?.taken().filter(|_| run.by_width)?;
    let unit: ModelLength = shop.scale.reduce(run.nominal);
    let all = accumulate(run.count, made.width_error, unit, shop.scale);
    if all.within_half {
        return None;
    }
    let (count, pitch) = redistribute(run.length, shop.scale.enlarge(unit + made.width_error));
    let pitch: ModelLength = shop.scale.reduce(pitch);
    Some(Finding::look(
        Subject::Member(run.section.clone()),
        format!(
            "{} on {}: {} pieces each {:+.1} thou come to {:+.3} in, {:+.1} in at full size",
            run.section,
            run.face,
            run.count,
            all.each.in_thou(),
            all.sum.in_inches(),
            all.sum_full.in_inches()
        ),
        format!("lay {count} at a pitch of {:.1} thou, or rip them to width", pitch.in_thou()),
    ))
}
