//! What to measure next, as a table.

use super::super::Seen;
use super::super::cell::Cell;
use super::super::column::{only, text};
use super::super::draft::{one, rows};
use super::super::sizes::Sizes;
use super::super::table::{Mark, Table};
use crate::finding::Subject;
use crate::quantity::ModelLength;
use crate::survey::advice::{Candidate, Next};

/// The candidates, the most useful first.
pub(super) fn table(seen: Seen<'_>, sizes: &Sizes) -> Table {
    one("measure_next", seen.plan.measure_next.as_ref())
        .col(only("worst"), |it| &it.worst)
        .col(only("worst_thou"), |it| it.worst_sigma)
        .col(only("hand_thou"), |it| it.hand)
        .col(only("stop"), |it| it.stop)
        .within("candidates", Some, |it| candidates(it, sizes))
        .table()
}

fn candidates(next: Option<&Next>, sizes: &Sizes) -> Table {
    let all = next.map_or(&[][..], |next| &next.candidates);
    let best = all.first().filter(|_| next.is_some_and(|next| !next.stop));
    let now = |it: &Candidate| match it.from {
        Some(from) if it.checks => Cell::said(format!("{}, unchecked", sizes.fine(from)), from),
        from => from.into(),
    };
    let falls = |falls: ModelLength| match falls.in_thou() < 0.005 {
        true => "-".to_owned(),
        false => bare(sizes, falls),
    };
    rows("candidates", "What to measure next", all)
        .about(|it| Subject::Dimension(it.helps.clone()))
        .marked(|it| if best == Some(it) { Mark::Chosen } else { Mark::Plain })
        .col(text("how", "what to measure next"), |it| &it.how)
        .col(text("helps", "helps"), |it| &it.helps)
        .col(sizes.spread("from_thou", "\u{b1} model now").blank("not fixed"), now)
        .col(sizes.spread("to_thou", "then"), |it| it.to)
        .col(sizes.spread("worst_falls_thou", "worst falls by"), |it| {
            Cell::said(falls(it.worst_falls), it.worst_falls)
        })
        .col(only("of"), |it| it.of.to_string())
        .col(only("checks"), |it| it.checks)
        .notes(next.map(|next| verdict(next, sizes)))
        .table()
}

/// Whether there is anything left to measure.
fn verdict(next: &Next, sizes: &Sizes) -> String {
    let hand = bare(sizes, next.hand);
    if next.stop {
        format!("stop: everything is checked and below your cutting tolerance of {hand}")
    } else if next.fine {
        format!(
            "everything is below your cutting tolerance of {hand}; what is unchecked is still open to a blunder"
        )
    } else {
        let worst = sizes.fine(next.worst_sigma);
        format!("the worst is {} at {worst}; your cutting tolerance is {hand}", next.worst)
    }
}

fn bare(sizes: &Sizes, length: ModelLength) -> String {
    sizes.fine(length).trim_start_matches('\u{b1}').to_owned()
}
