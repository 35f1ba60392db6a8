//! A sheet to print and fill in on the ground.
//!
//! It lists what to take in running dimensions from one zero, what checks it,
//! and the cautions. Running dimensions, because the errors of separate ones
//! add up (*Recording Historic Structures and Sites with HABS Measured
//! Drawings*, section 3, READ).

use super::Seen;
use super::column::text;
use super::draft::{Draft, rows, sentences};
use super::table::{Table, View};
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
    View {
        title: format!("{}: field sheet", seen.job.about.name),
        lead: vec![
            "Date ____________  Book ____________  Tape ____________  Held by ____________"
                .to_owned(),
            format!("What must survive: {}", seen.job.about.intent),
        ],
        tables: vec![
            running(seen),
            checks(seen),
            sentences("habits", "How", HABITS),
            sentences("cautions", "Cautions", CAUTIONS),
        ],
        next: "print it, fill it in on the ground, enter the readings in notes".to_owned(),
        ..View::default()
    }
}

/// Something to read: what it speaks of, of what, in words, as last read.
type Line = (Subject, String, String, String);

/// Lines with blanks to fill in.
fn to_fill_in<'a>(id: &str, title: &str, lines: &'a [Line]) -> Draft<&'a Line> {
    const BLANK: &str = "______________";
    rows(id, title, lines)
        .about(|it| it.0.clone())
        .col(text("of", "of"), |it| &it.1)
        .col(text("what", "what"), |it| &it.2)
        .col(text("last", "last read"), |it| &it.3)
        .col(text("now", "now").screen(), |_| BLANK)
        .col(text("how", "how").screen(), |_| BLANK)
}

/// Every dimension, to be read from one zero.
fn running(seen: Seen<'_>) -> Table {
    let last = |name: &str| {
        let reading = readings_of(seen).find(|(of, _)| *of == name);
        reading.and_then(|(_, reading)| reading.value.clone()).unwrap_or_default()
    };
    let lines = seen.job.dimensions.iter().map(|it| {
        let subject = Subject::Dimension(it.name.clone());
        (subject, it.name.clone(), it.what.clone(), last(&it.name))
    });
    let title = "Take, running from the zero at ____________";
    to_fill_in("running", title, &lines.collect::<Vec<_>>()).table()
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
    let single = |it: &Reading| matches!(&it.of, Form::Linear(form) if form.single().is_some());
    let across = seen.job.readings.iter().filter(|it| !single(it)).map(|it| {
        let last = it.value.clone().unwrap_or_default();
        (Subject::Reading(it.id.clone()), it.of.to_string(), "read across".to_owned(), last)
    });
    let ties = seen.job.ties.iter().map(|it| {
        (Subject::Tie(it.id.clone()), it.says.to_string(), it.why.clone(), String::new())
    });
    let next = seen.plan.measure_next.iter().flat_map(|next| &next.candidates).map(|it| {
        let subject = Subject::Dimension(it.helps.clone());
        (subject, it.of.to_string(), it.how.clone(), String::new())
    });
    let lines: Vec<Line> = across.chain(ties).chain(next).collect();
    to_fill_in("checks", "Check before you leave", &lines).table()
}
