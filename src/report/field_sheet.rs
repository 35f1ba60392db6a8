//! A sheet to print and fill in on the ground.
//!
//! It lists what to take in running dimensions from one zero, what checks it,
//! and the cautions. Running dimensions, because the errors of separate ones
//! add up (*Recording Historic Structures and Sites with HABS Measured
//! Drawings*, section 3, READ).

use serde_json::{Value, json as object};

use super::Seen;
use super::table::{Row, Table, View};
use crate::finding::Subject;
use crate::job::form::Form;
use crate::job::model::Reading;

/// What to bear in mind on other people's ground. Trade knowledge, from
/// memory, but the rail clause, READ; local law goes before it.
const CAUTIONS: [&str; 11] = [
    "Private ground: ask the owner. Measuring from the public road is the default.",
    "Rail property: tracks, and commonly about 25 ft each side of the centre-line, are private; disused is not abandoned; trains are quiet and overhang the rails. Do not measure from the track. The gauge in a picture serves as a ruler; nobody has to stand there.",
    "Unsafe buildings: rotten floors, loose sheets, wells, wharves over water. Stay outside; never alone.",
    "Bins, silos, pits, tanks: never go in. Gas without a smell kills at once, and grain draws a grown man under in seconds.",
    "Say where you are and when you are back, to somebody who will look for you.",
    "Dust: lead paint, asbestos sheet and lagging, bird droppings. Do not scrape, sand or sweep.",
    "Ladders and roofs: not for a model. Count courses instead.",
    "Drones: registration, line of sight, no flight over people or near airfields, local bans near rail and in parks. Look up the rules of the day.",
    "Security sites (docks, power, prisons): ask first.",
    "Archive pictures and drawings belong to somebody: note the owner's terms with the source.",
    "Local law and the owner's word go before this sheet.",
];

/// How to take it. The first line READ in the guideline named above, the rest
/// common practice, no source.
const HABITS: [&str; 6] = [
    "Running dimensions from one named zero; separate ones and the overall as checks.",
    "Write the notation down and keep to it: 12'-6 1/2\", never 12.6.",
    "Count twice, in opposite directions. Bays are one less than posts.",
    "Say for each figure how it was taken, and what you would swear to.",
    "One source a page: date, light, who held the tape.",
    "Close on the spot: the overall against the sum of the parts; more than two standard deviations out, measure again.",
];

/// The sheet as tables to print.
#[must_use]
pub fn view(seen: Seen<'_>) -> View {
    let tables =
        vec![running(seen), checks(seen), lines("How", &HABITS), lines("Cautions", &CAUTIONS)];
    View {
        title: format!("{}: field sheet", seen.job.about.name),
        lead: vec![
            "Date ____________  Book ____________  Tape ____________  Held by ____________"
                .to_owned(),
            format!("What must survive: {}", seen.job.about.intent),
        ],
        tables: tables.into_iter().filter(|table| !table.rows.is_empty()).collect(),
        next: "print it, fill it in on the ground, enter the readings in notes".to_owned(),
        ..View::default()
    }
}

/// The sheet as JSON: `running[]` and `checks[]` (`of`, `what`, `last`),
/// `habits[]`, `cautions[]`.
#[must_use]
pub fn json(seen: Seen<'_>) -> Value {
    let rows = |table: Table| -> Vec<Value> {
        let row =
            |row: Row| object!({ "of": row.texts[0], "what": row.texts[1], "last": row.texts[2] });
        table.rows.into_iter().map(row).collect()
    };
    object!({
        "running": rows(running(seen)),
        "checks": rows(checks(seen)),
        "habits": HABITS,
        "cautions": CAUTIONS,
    })
}

const BLANK: &str = "______________";

fn sheet_table(title: &str) -> Table {
    Table::new(title, &["of", "what", ">last read", "now", "how"])
}

/// Every dimension, to be read from one zero.
fn running(seen: Seen<'_>) -> Table {
    let mut table = sheet_table("Take, running from the zero at ____________");
    for dimension in &seen.job.dimensions {
        let last = readings_of(seen).find(|(name, _)| *name == dimension.name);
        let last = last.and_then(|(_, reading)| reading.value.clone()).unwrap_or_default();
        let subject = Subject::Dimension(dimension.name.clone());
        let cells =
            vec![dimension.name.clone(), dimension.what.clone(), last, BLANK.into(), BLANK.into()];
        table.push(Row::about(subject, cells));
    }
    table
}

fn readings_of(seen: Seen<'_>) -> impl Iterator<Item = (&str, &Reading)> {
    seen.job.readings.iter().filter_map(|reading| match &reading.of {
        Form::Linear(form) => Some((form.single()?, reading)),
        _ => None,
    })
}

/// The closing checks: what was read across dimensions, what the ties say, and
/// the readings that would help most.
fn checks(seen: Seen<'_>) -> Table {
    let mut table = sheet_table("Check before you leave");
    let mut push = |subject: Subject, of: String, what: String, last: String| {
        table.push(Row::about(subject, vec![of, what, last, BLANK.into(), BLANK.into()]));
    };
    for reading in &seen.job.readings {
        let single = matches!(&reading.of, Form::Linear(form) if form.single().is_some());
        if !single {
            let last = reading.value.clone().unwrap_or_default();
            push(
                Subject::Reading(reading.id.clone()),
                reading.of.to_string(),
                "read across".into(),
                last,
            );
        }
    }
    for tie in &seen.job.ties {
        push(Subject::Tie(tie.id.clone()), tie.says.to_string(), tie.why.clone(), String::new());
    }
    for candidate in seen.plan.measure_next.iter().flat_map(|next| &next.candidates) {
        let subject = Subject::Dimension(candidate.helps.clone());
        push(subject, candidate.of.to_string(), candidate.how.clone(), String::new());
    }
    table
}

fn lines(title: &str, lines: &[&str]) -> Table {
    let mut table = Table::new(title, &["", ""]);
    for (at, line) in lines.iter().enumerate() {
        table.push(Row::plain(vec![format!("{}.", at + 1), (*line).to_owned()]));
    }
    table
}
