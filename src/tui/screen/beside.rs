//! Two texts of a job side by side, as lines to scroll through.

use crate::job::beside::{Hunk, beside};
use crate::tui::view::text::wrap;

/// The job here, and what another program made of its file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Beside {
    /// The text on disk.
    pub theirs: String,
    /// What differs.
    pub hunks: Vec<Hunk>,
    /// The first line shown.
    pub top: usize,
}

/// A line of the picture.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Pair {
    /// Where in the job the next lines stand.
    Place(String),
    /// Here and on disk.
    Lines(String, String),
}

impl Beside {
    /// What differs between the text here and the one on disk.
    #[must_use]
    pub fn of(mine: &str, theirs: String) -> Self {
        Self { hunks: beside(mine, &theirs), theirs, top: 0 }
    }

    /// The lines, each half `wide` cells.
    #[must_use]
    pub fn pairs(&self, wide: usize) -> Vec<Pair> {
        let broken = |lines: &[String]| -> Vec<String> {
            lines.iter().flat_map(|line| wrap(line, wide.max(1))).collect()
        };
        let (mut place, mut out) = (None, Vec::new());
        for hunk in &self.hunks {
            if place != Some(&hunk.place) {
                place = Some(&hunk.place);
                out.push(Pair::Place(hunk.place.clone()));
            }
            let (mine, theirs) = (broken(&hunk.mine), broken(&hunk.theirs));
            for at in 0..mine.len().max(theirs.len()) {
                let line = |lines: &[String]| lines.get(at).cloned().unwrap_or_default();
                out.push(Pair::Lines(line(&mine), line(&theirs)));
            }
        }
        out
    }

    /// Cells of each half on a terminal so wide: frame, margins and the line
    /// between are taken off.
    #[must_use]
    pub fn half(wide: u16) -> usize {
        usize::from(wide.saturating_sub(9) / 2)
    }

    /// Lines seen at once on a terminal so high.
    #[must_use]
    pub fn rows(high: u16) -> usize {
        usize::from(high.saturating_sub(7)).max(1)
    }
}
