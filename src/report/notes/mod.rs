//! The field notes: every reading with its residual, and what they come to.

pub(super) mod marks;
mod next;

use super::Seen;
use super::cell::Cell;
use super::column::{count, number, only, text, uncertainty};
use super::draft::{own, rows};
use super::sizes::Sizes;
use super::table::{Mark, Table, View};
use crate::finding::Subject;
use crate::job::model::Reading;
use crate::quantity::{PrototypeLength, Unit, significant};
use crate::survey::{Checked, DimensionFound, Network, ReadingFound, Rejected, Standing, WhatRead};

use marks::bar;

/// The view.
#[must_use]
pub fn view(seen: Seen<'_>) -> View {
    let sizes = Sizes::of(seen);
    View {
        title: format!("{}: notes", seen.job.about.name),
        lead: lead(seen),
        tables: vec![
            dimensions(seen, &sizes),
            readings(seen),
            rejected(seen, &sizes),
            networks(seen),
            together(&seen.plan.survey.networks),
            next::table(seen, &sizes),
        ],
        next: next_step(seen),
        ..View::default()
    }
}

fn lead(seen: Seen<'_>) -> Vec<String> {
    let survey = &seen.plan.survey;
    let count = |checked| survey.dimensions.iter().filter(|d| d.checked == checked).count();
    let kept = survey.readings.iter().filter(|r| r.standing == Standing::Kept).count();
    let mut lead = vec![format!(
        "{kept} readings in, {} set aside; {} dimensions: {} checked, {} weakly, {} unchecked, {} not fixed.",
        survey.rejected.len(),
        survey.dimensions.len(),
        count(Checked::Checked),
        count(Checked::Weakly),
        count(Checked::Unchecked),
        count(Checked::Unfixed),
    )];
    lead.extend(survey.rejected.iter().map(|r| format!("{} is set aside: {}.", r.id, r.why)));
    lead
}

fn next_step(seen: Seen<'_>) -> String {
    let survey = &seen.plan.survey;
    if survey.readings.is_empty() {
        return "add a reading".to_owned();
    }
    if let Some(unfixed) = survey.dimensions.iter().find(|d| d.checked == Checked::Unfixed) {
        return format!("nothing fixes {}: read it", unfixed.name);
    }
    match &seen.plan.measure_next {
        Some(next) if next.stop => "stop measuring; faces: lay the face out".to_owned(),
        Some(next) => match next.candidates.first() {
            Some(best) => format!("{}, or faces: lay the face out from what there is", best.how),
            None => "faces: lay the face out from these dimensions".to_owned(),
        },
        None => "faces: lay the face out from these dimensions".to_owned(),
    }
}

fn dimensions(seen: Seen<'_>, sizes: &Sizes) -> Table {
    let all = &seen.plan.survey.dimensions;
    let sigma = |it: &DimensionFound| it.measured.as_ref().map(|found| found.sigma);
    let proposed = |it: &DimensionFound| it.proposal.as_ref().map(|proposal| proposal.figure);
    let asked = |it: &DimensionFound| proposed(it).filter(|_| it.adopted.is_none());
    let adopted = |it: &DimensionFound| match asked(it) {
        Some(figure) => Cell::said(format!("{} ?", sizes.full(figure)), figure),
        None => it.adopted.into(),
    };
    let note = "?: a round figure within one standard deviation; to adopt it is an assumption";
    rows("dimensions", "Dimensions", all)
        .about(|it| Subject::Dimension(it.name.clone()))
        .marked(|it| match it.checked {
            _ if is_open(it) => Mark::Look,
            _ if it.adopted.is_some() => Mark::Chosen,
            _ => Mark::Plain,
        })
        .col(text("name", "dimension"), |it| &it.name)
        .col(sizes.full_size("value_in", "measured").blank("-"), |it| {
            it.measured.as_ref().map(|found| found.value)
        })
        .col(uncertainty("sigma_in", "\u{b1} full size", Unit::Inch), sigma)
        .col(sizes.spread("model_sigma_thou", "\u{b1} model"), |it| {
            sigma(it).and_then(|sigma| sizes.reduce(sigma))
        })
        .col(sizes.full_size("adopted", "adopted").screen(), adopted)
        .col(only("adopted_in"), |it| it.adopted)
        .col(only("proposed_in"), proposed)
        .col(text("status", "checked"), |it| Cell::worded(it.checked.word(), it.checked))
        .col(text("kinds", "how"), |it| Cell::list(marks::kinds(it)))
        .col(text("what", "what"), |it| &it.what)
        .col(only("sources"), |it| Cell::list(it.measured.iter().flat_map(|found| &found.sources)))
        .col(only("network"), |it| it.network)
        .notes(all.iter().any(|it| asked(it).is_some()).then_some(note))
        .table()
}

/// Whether a blunder in a dimension could never show.
pub(super) fn is_open(found: &DimensionFound) -> bool {
    matches!(found.checked, Checked::Unfixed | Checked::Unchecked)
}

fn readings(seen: Seen<'_>) -> Table {
    let survey = &seen.plan.survey;
    let of = |found: &ReadingFound, value: Option<f64>, write: fn(f64) -> String| {
        value.map_or(Cell::None, |value| figure(found.what, value, write))
    };
    let read = |(said, found): (&Reading, &ReadingFound)| {
        let value = of(found, found.read.map(|(value, _)| value), |it| significant(it, 5));
        match &said.value {
            Some(words) => Cell::said(words, value),
            None => value,
        }
    };
    rows("readings", "Readings", survey.said(seen.job).zip(&survey.readings))
        .about(|(said, _)| Subject::Reading(said.id.clone()))
        .marked(|(_, found)| reading_mark(found))
        .col(text("id", "reading"), |(said, _)| &said.id)
        .col(text("of", "of"), |(said, _)| said.of.to_string())
        .col(number("value", "read", 0), read)
        .col(number("sigma", "\u{b1}", 0), |(_, found)| {
            let sigma = found.read.map(|(_, sigma)| sigma);
            of(found, sigma, |it| format!("\u{b1}{}", significant(it, 2)))
        })
        .col(number("residual", "residual", 0), |(_, found)| {
            of(found, found.residual, |it| format!("{it:+.2}"))
        })
        .col(number("z", "z", 1).signed(), |(_, found)| found.z)
        .col(text("fit", "fit").screen(), |(_, found)| Cell::said(fit(seen, found), found.z))
        .col(number("redundancy", "redundancy", 2), |(_, found)| found.redundancy)
        .col(text("method", "method").screen(), |(said, _)| &said.method)
        .col(text("source", "source").screen(), |(said, _)| said.source.as_ref())
        .col(text("note", "note").screen(), |(said, _)| noted(said))
        .col(only("what"), |(_, found)| Cell::data(found.what))
        .col(only("status"), |(_, found)| Cell::data(found.checked))
        .col(only("standing"), |(_, found)| Cell::data(found.standing))
        .note("fit: left of the bar under, right of it over, in standard deviations")
        .table()
}

/// What the person wrote beside a reading: when, on which pull, what else.
fn noted(said: &Reading) -> String {
    let pull = said.pull.as_ref().map(|pull| format!("pull {pull}"));
    let off = (said.off && !said.off_reason.is_empty()).then(|| said.off_reason.clone());
    let parts = [Some(said.date.clone()), pull, off, Some(said.note.clone())];
    let parts: Vec<String> = parts.into_iter().flatten().filter(|it| !it.is_empty()).collect();
    parts.join("; ")
}

/// A figure in the unit of the reading; square inches are shown as square feet.
fn figure(what: WhatRead, value: f64, write: impl Fn(f64) -> String) -> Cell {
    let (unit, factor) = match what {
        WhatRead::Length => (" in", 1.0),
        WhatRead::Ratio => ("", 1.0),
        WhatRead::Area => (" sq ft", 144.0),
    };
    Cell::said(format!("{}{unit}", write(value / factor)), value)
}

fn fit(seen: Seen<'_>, found: &ReadingFound) -> String {
    match found.standing {
        Standing::Off => "off".to_owned(),
        Standing::LeftOut => "left out".to_owned(),
        _ if found.checked == Some(Checked::Unchecked) => "unchecked".to_owned(),
        _ => {
            let limit = found.network.map_or(3.29, |at| seen.plan.survey.networks[at].limit);
            found.z.map_or(String::new(), |z| bar(z, limit))
        }
    }
}

fn reading_mark(found: &ReadingFound) -> Mark {
    match found.standing {
        Standing::Off => Mark::Off,
        Standing::Rejected | Standing::LeftOut => Mark::Refused,
        Standing::Kept if found.checked == Some(Checked::Unchecked) => Mark::Look,
        Standing::Kept => Mark::Plain,
    }
}

fn rejected(seen: Seen<'_>, sizes: &Sizes) -> Table {
    let what = |it: &Rejected| it.reading.map(|at| seen.plan.survey.readings[at].what);
    let expected = |it: &Rejected| match what(it).unwrap_or(WhatRead::Length) {
        WhatRead::Length => {
            Cell::said(sizes.full(PrototypeLength::inches(it.expected)), it.expected)
        }
        what => figure(what, it.expected, |it| significant(it, 4)),
    };
    rows("rejected", "Set aside", &seen.plan.survey.rejected)
        .about(|it| it.reading.map(|_| Subject::Reading(it.id.clone())))
        .marked(|_| Mark::Refused)
        .col(text("id", "reading"), |it| &it.id)
        .col(number("z", "z", 1).signed(), |it| it.z)
        .col(number("expected", "the others say", 0), expected)
        .col(text("why", "why"), |it| &it.why)
        .col(only("slip"), |it| Cell::data(it.slip.as_ref().map(|slip| slip.kind)))
        .col(only("meant"), |it| Cell::data(it.slip.as_ref().map(|slip| slip.meant)))
        .col(only("alike"), |it| &it.alike)
        .table()
}

fn networks(seen: Seen<'_>) -> Table {
    let survey = &seen.plan.survey;
    let ids = |it: &Network| Cell::list(it.readings.iter().map(|at| &survey.readings[*at].id));
    rows("networks", "What hangs together", &survey.networks)
        .col(text("names", "network of"), |it| Cell::said(marks::names(&it.names), &it.names))
        .col(count("count", "readings").screen(), |it| it.readings.len())
        .col(number("chi_square_of_all", "chi-square, all", 1), |it| it.chi_square_of_all)
        .col(count("degrees_of_all", "on"), |it| it.degrees_of_all)
        .col(number("chi_square", "kept", 1), |it| it.chi_square)
        .col(count("degrees", "on"), |it| it.degrees)
        .col(text("verdict", "verdict").screen(), marks::verdict)
        .col(only("readings"), ids)
        .col(only("limit"), |it| it.limit)
        .table()
}

/// All networks together.
fn together(all: &[Network]) -> Table {
    let sum = |of: fn(&Network) -> f64| all.iter().map(of).sum::<f64>();
    let count = |of: fn(&Network) -> usize| all.iter().map(of).sum::<usize>();
    own(())
        .col(only("chi_square"), |()| sum(|it| it.chi_square))
        .col(only("degrees"), |()| count(|it| it.degrees))
        .col(only("chi_square_of_all"), |()| sum(|it| it.chi_square_of_all))
        .col(only("degrees_of_all"), |()| count(|it| it.degrees_of_all))
        .table()
}
