//! What to measure next, as a table.

use super::super::Seen;
use super::super::table::{Mark, Row, Table};
use crate::finding::Subject;
use crate::job::model::Units;
use crate::quantity::{ModelLength, Unit, spread};

/// The candidates, the most useful first.
pub(super) fn table(seen: Seen<'_>) -> Table {
    let heads = ["what to measure next", "helps", ">\u{b1} model now", ">then", ">worst falls by"];
    let mut table = Table::new("What to measure next", &heads);
    let Some(next) = &seen.plan.measure_next else { return table };
    let size = |length: ModelLength| on_model(seen, length);
    for (at, candidate) in next.candidates.iter().enumerate() {
        let now = match candidate.from {
            Some(_) if candidate.checks => {
                format!("{}, unchecked", candidate.from.map_or(String::new(), size))
            }
            Some(from) => size(from),
            None => "not fixed".to_owned(),
        };
        let falls = candidate.worst_falls;
        let falls = if falls.in_thou() < 0.005 { "-".to_owned() } else { bare(seen, falls) };
        let cells =
            vec![candidate.how.clone(), candidate.helps.clone(), now, size(candidate.to), falls];
        let row = Row::about(Subject::Dimension(candidate.helps.clone()), cells);
        table.push(if at == 0 && !next.stop { row.marked(Mark::Chosen) } else { row });
    }
    table.notes.push(verdict(seen));
    table
}

/// Whether there is anything left to measure.
fn verdict(seen: Seen<'_>) -> String {
    let Some(next) = &seen.plan.measure_next else { return String::new() };
    let hand = bare(seen, next.hand);
    if next.stop {
        format!("stop: everything is checked and below your cutting tolerance of {hand}")
    } else if next.fine {
        format!(
            "everything is below your cutting tolerance of {hand}; what is unchecked is still open to a blunder"
        )
    } else {
        let worst = on_model(seen, next.worst_sigma);
        format!("the worst is {} at {worst}; your cutting tolerance is {hand}", next.worst)
    }
}

fn unit(seen: Seen<'_>) -> Unit {
    match seen.job.about.units {
        Units::FeetInches => Unit::Thou,
        Units::Metric => Unit::Millimetre,
    }
}

fn on_model(seen: Seen<'_>, sigma: ModelLength) -> String {
    spread(sigma, unit(seen))
}

fn bare(seen: Seen<'_>, length: ModelLength) -> String {
    on_model(seen, length).trim_start_matches('\u{b1}').to_owned()
}
