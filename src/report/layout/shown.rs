//! Which stick or sheet a row of the cut list speaks of.

use crate::cutting::parts::{Layout, SheetGroup, StickGroup};
use crate::report::table::{Laid, OnSheet};

/// What a row shows.
#[derive(Clone, Copy, Debug)]
pub enum Shown<'a> {
    /// Sticks of one stock, and the row of its layout.
    Sticks(&'a StickGroup, usize),
    /// A sheet of one stock, by number from 0, with the part or the cut on it.
    Sheet(&'a SheetGroup, usize, OnSheet),
}

/// What stands at a place of the layout; nothing where the layout has changed.
#[must_use]
pub fn shown<'a>(layout: &'a Layout, laid: &Laid) -> Option<Shown<'a>> {
    let Some(on) = laid.on else {
        let group = layout.sticks.iter().find(|group| group.stock == laid.stock)?;
        return group.layout.cuts.get(laid.at).map(|_| Shown::Sticks(group, laid.at));
    };
    let group = layout.sheets.iter().find(|group| group.stock == laid.stock)?;
    group.layout.sheets.get(laid.at).map(|_| Shown::Sheet(group, laid.at, on))
}
