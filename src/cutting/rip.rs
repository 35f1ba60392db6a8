//! Strips that are ripped from sheets: sticks first, then rectangles among the
//! flat parts of the same sheets.
//!
//! A strip is as long as the pieces cut from it. What no plan can beat is
//! worked out from the pieces themselves, not from the strips chosen.

use super::parts::StickGroup;
use super::sheets::{self, SheetLayout, SheetPart, StripOf};
use super::wanted::{MadeUp, SheetsWanted};
use crate::job::building::CutBy;
use crate::quantity::ModelLength;

/// The flat parts of a sheet, and the strips of the sticks ripped from it.
pub(super) fn with_strips(wanted: &SheetsWanted, sticks: &[StickGroup]) -> Vec<SheetPart> {
    let mut parts = wanted.parts.clone();
    for (group, made) in ripped(wanted, sticks) {
        let mut strips: Vec<(ModelLength, u32)> = Vec::new();
        for cut in group.new_sticks() {
            let pieces: ModelLength = cut.pieces.iter().map(|&part| group.parts[part].length).sum();
            let kerfs = group.kerf * cut.pieces.len().saturating_sub(1) as f64;
            let long = (pieces + kerfs).min(group.usable_of(cut));
            let hair = ModelLength::thou(0.1);
            match strips.iter_mut().find(|(other, _)| other.agrees(long, hair)) {
                Some((_, count)) => *count += cut.times,
                None => strips.push((long, cut.times)),
            }
        }
        let kind = |spare| StripOf { stock: group.stock.clone(), spare };
        for (height, count) in strips {
            parts.push(strip(wanted, made, (height, count), kind(false)));
        }
        if group.spare > 0 {
            parts.push(strip(wanted, made, (group.usable, group.spare), kind(true)));
        }
    }
    parts
}

fn ripped<'a>(
    wanted: &'a SheetsWanted,
    sticks: &'a [StickGroup],
) -> impl Iterator<Item = (&'a StickGroup, &'a MadeUp)> {
    let of = |group: &'a StickGroup| Some((group, group.made_up.as_ref()?));
    sticks.iter().filter(|group| wanted.ripped.contains(&group.stock)).filter_map(of)
}

fn strip(
    wanted: &SheetsWanted,
    made: &MadeUp,
    (height, count): (ModelLength, u32),
    of: StripOf,
) -> SheetPart {
    let what = if of.spare { "spare strip" } else { "strip" };
    SheetPart {
        label: format!("{what} {:.0} thou", made.width.in_thou()),
        width: made.width,
        height,
        quantity: count * made.layers,
        grain_free: !wanted.grain,
        strip: Some(of),
        outline: None,
        scribed: Vec::new(),
    }
}

/// Takes the bound from the pieces, which need not be cut from these strips.
///
/// Sticks for which strips are on hand may take none from the sheets, so that
/// they are left out of it.
pub(super) fn bound_by_pieces(
    wanted: &SheetsWanted,
    sticks: &[StickGroup],
    layout: &mut SheetLayout,
) {
    // Outlines have a bound of their own, from areas.
    if wanted.ripped.is_empty() || wanted.method == CutBy::Laser {
        return;
    }
    let mut pieces = wanted.parts.clone();
    for &misfit in layout.misfits.iter().filter(|&&misfit| misfit < wanted.parts.len()) {
        pieces[misfit].quantity = 0;
    }
    for (group, made) in ripped(wanted, sticks) {
        if group.strips.iter().any(|strip| strip.supply.is_some()) {
            continue;
        }
        let misfit = |at: &usize| group.layout.misfits.contains(at);
        let cut = group.parts.iter().enumerate().filter(|(at, _)| !misfit(at));
        pieces.extend(cut.map(|(_, part)| SheetPart {
            label: part.label.clone(),
            width: made.width,
            height: part.length,
            quantity: part.quantity * made.layers,
            grain_free: !wanted.grain,
            strip: None,
            outline: None,
            scribed: Vec::new(),
        }));
        let of = StripOf { stock: group.stock.clone(), spare: true };
        if group.spare > 0 {
            pieces.push(strip(wanted, made, (group.usable, group.spare), of));
        }
    }
    let bound = sheets::least_cost(&wanted.problem(&pieces), layout.cost).unwrap_or(0);
    layout.bound = bound.min(layout.cost);
    layout.proven = layout.bound == layout.cost && layout.unplaced.is_empty();
}
