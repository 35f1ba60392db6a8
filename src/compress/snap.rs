//! Widths a carpenter would take: whole boards, half boards, whole inches.

use super::case::Case;
use super::fit::Widths;
use super::measured::behind;
use super::tally::{Counts, Item};
use crate::job::building::{Cladding, CladdingKind};
use crate::quantity::slack::{TOUCH, WHOLE};
use crate::quantity::{CompressedLength, PrototypeLength};

/// A step of width.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Step {
    pub(crate) size: f64,
    /// Sheets, and not boards or bricks.
    pub(crate) sheets: bool,
}

impl Step {
    /// What its unit is called.
    pub(crate) fn word(&self) -> &'static str {
        if self.sheets { "sheets" } else { "boards" }
    }
}

/// The board or sheet that stands upright on the front, if the job gives its
/// width as a figure.
pub(crate) fn upright(case: &Case<'_>) -> Option<(CladdingKind, PrototypeLength)> {
    claddings(case)
        .filter(|cladding| {
            matches!(
                cladding.kind,
                CladdingKind::BoardAndBatten | CladdingKind::Boards | CladdingKind::Corrugated
            )
        })
        .find_map(|cladding| {
            let unit = cladding.unit.as_ref()?.take.as_ref()?.length();
            (unit > PrototypeLength::ZERO).then_some((cladding.kind, unit))
        })
}

/// What the front is covered with, from the ground up.
fn claddings<'a>(case: &Case<'a>) -> impl Iterator<Item = &'a Cladding> {
    let known = &case.job.claddings;
    let names = case.job.claddings_of(&case.faces.front_row().id);
    names.into_iter().filter_map(move |name| known.iter().find(|it| it.name == name))
}

/// Half a brick with its joint, inches: 8 in to the brick of the modular size
/// (brick size tables after the Brick Industry Association).
const HALF_BRICK: f64 = 4.0;

/// Whether brick stands on the front.
fn is_brick(case: &Case<'_>) -> bool {
    claddings(case).any(|it| it.kind == CladdingKind::Brick)
}

/// Half a board where the bays are boarded, else a whole inch.
pub(crate) fn usual(case: &Case<'_>) -> Vec<Step> {
    let mut steps = vec![Step { size: 1.0, sheets: false }];
    if let Some((kind, unit)) = upright(case)
        && kind != CladdingKind::Corrugated
    {
        steps.insert(0, Step { size: unit.in_inches() / 2.0, sheets: false });
    } else if is_brick(case) {
        steps.insert(0, Step { size: HALF_BRICK, sheets: false });
    }
    steps
}

/// Whole boards or sheets.
pub(crate) fn whole(case: &Case<'_>) -> Option<Step> {
    let (kind, unit) = upright(case)?;
    Some(Step { size: unit.in_inches(), sheets: kind == CladdingKind::Corrugated })
}

/// The widths on a step, each down so that the row still fits, or up where it
/// would fall under its bound; the back comes to the length of the front. Nothing
/// where a bound or the length forbids it.
pub(crate) fn snap(
    case: &Case<'_>,
    counts: &Counts,
    widths: &Widths,
    step: f64,
    longest: f64,
) -> Option<Widths> {
    // Rounded widths would move a pinned opening.
    if case.is_pinned() {
        return None;
    }
    let mut snapped = widths.clone();
    for item in case.items(counts) {
        let width = widths.get(&item.key)?.in_inches();
        if (width - item.original).abs() > TOUCH {
            let size = on_step(&item, width, step)?;
            snapped.insert(item.key.clone(), CompressedLength::inches(size));
        }
    }
    let mut decision = case.decision(counts, &snapped, case.as_found());
    if case.length(&decision).in_inches() > longest + TOUCH || !behind(case, &mut decision, &[]) {
        return None;
    }
    Some(decision.widths)
}

fn on_step(item: &Item, width: f64, step: f64) -> Option<f64> {
    let down = (width / step + WHOLE).floor() * step;
    let up = (width / step - WHOLE).ceil() * step;
    [down, up].into_iter().find(|size| *size >= item.least - TOUCH && *size <= item.most + TOUCH)
}
