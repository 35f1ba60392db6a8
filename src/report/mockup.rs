//! What was measured on the mock-up against the plan, as tables.

use super::Seen;
use super::cell::Cell;
use super::column::{only, text};
use super::draft::{Draft, one, rows};
use super::sizes::Sizes;
use super::table::{Act, Mark, Table, View};
use crate::finding::Subject;
use crate::job::mock_up::{Measured, On};
use crate::mockup::{Found, MockUp, Planned, Standing, Way, signed};

/// The view.
#[must_use]
pub fn view(seen: Seen<'_>) -> View {
    let title = format!("{}: mock-up", seen.job.about.name);
    let found = match (&seen.plan.mock_up, &seen.plan.compress) {
        (Some(found), _) => found,
        (None, Err(stop)) => return View::stopped(title, stop),
        (None, Ok(_)) => return View { title, ..View::default() },
    };
    let sizes = Sizes::of(seen);
    View {
        title,
        lead: lead(found, &sizes),
        tables: vec![
            tolerance(found),
            told(found),
            mock_up(seen, found, &sizes),
            model(seen, found, &sizes),
            taken_back(seen, &sizes),
        ],
        next: "templates: the mock-up in card to print; record: what was changed, and why"
            .to_owned(),
        ..View::default()
    }
}

fn lead(found: &MockUp, sizes: &Sizes) -> Vec<String> {
    let measured: Vec<&Found> = found.sizes.iter().filter_map(|it| it.mock_up.as_ref()).collect();
    let first = if measured.is_empty() {
        "Nothing is measured yet: stand the card on the table, look, trim it, measure it."
            .to_owned()
    } else {
        let count = |standing| measured.iter().filter(|it| it.standing == standing).count();
        let (over, back) =
            (count(Standing::Over) + count(Standing::Left), count(Standing::TakenBack));
        format!("{} measured, {over} over tolerance, {back} taken back.", measured.len())
    };
    let tolerance = |on: On| {
        let tolerance = found.tolerance(on);
        format!("{} {}", on.word(), sizes.model_alone(tolerance.either_way))
    };
    let source = &found.mock_up.source;
    vec![
        first,
        format!("Left alone: {}, {} ({source}).", tolerance(On::MockUp), tolerance(On::Model)),
    ]
}

fn tolerance(found: &MockUp) -> Table {
    one("tolerance", Some(found))
        .col(only("mock_up_in"), |it| it.mock_up.either_way)
        .col(only("mock_up_source"), |it| &it.mock_up.source)
        .col(only("model_in"), |it| it.model.either_way)
        .col(only("model_source"), |it| &it.model.source)
        .table()
}

/// Every size with all that was measured of it, for JSON.
fn told(found: &MockUp) -> Table {
    rows("sizes", "", &found.sizes)
        .col(only("name"), |it| &it.name)
        .col(only("planned_in"), |it| it.planned)
        .col(only("can_be_taken"), |it| it.way.is_ok())
        .col(only("why_not"), |it| it.way.as_ref().err())
        .col(only("where"), |it| {
            it.way.as_ref().ok().map(|way| match way {
                Way::Choice(_) => "choice",
                Way::Space(_) => "space",
            })
        })
        .within("mock_up", |it| it.mock_up.as_ref(), measured)
        .within("model", |it| it.model.as_ref(), measured)
        .table()
}

fn measured(found: Option<&Found>) -> Table {
    one("measured", found)
        .col(only("reads_in"), |it| it.reads)
        .col(only("off_in"), |it| it.off)
        .col(only("standing"), |it| Cell::data(it.standing))
        .col(only("note"), |it| &it.note)
        .col(only("was_in"), |it| it.was)
        .col(only("reason"), |it| &it.reason)
        .table()
}

/// A size, and what it was measured on.
type Held<'a> = (&'a Planned, On);

/// Sizes beside what was measured of them; columns before those of the figures
/// are for `first`.
fn held<'a>(
    seen: Seen<'_>,
    sizes: &Sizes,
    (id, title, head): (&str, &str, &str),
    from: impl IntoIterator<Item = Held<'a>>,
    first: impl FnOnce(Draft<Held<'a>>) -> Draft<Held<'a>>,
) -> Draft<Held<'a>> {
    let found = |(size, on): Held<'a>| size.found(on);
    let draft = rows(id, title, from)
        .about(|(size, _)| Subject::Measured(size.name.clone()))
        .marked(|it| match found(it).map(|found| found.standing) {
            Some(standing) if standing.asks() => Mark::Look,
            Some(Standing::TakenBack) => Mark::Chosen,
            _ => Mark::Plain,
        })
        .col(text("name", "size"), |(size, _)| &size.name);
    first(draft)
        .col(sizes.on_model("planned_in", "planned"), |(size, _)| size.planned)
        .col(sizes.on_model("reads_in", head).blank(""), |it| found(it).map(|found| found.reads))
        .col(sizes.on_model("off_in", "off").blank(""), |it| {
            found(it).map(|found| Cell::said(signed(seen.job, found.off), found.off))
        })
        .col(text("standing", "state"), |it| {
            found(it).map(|found| Cell::worded(state(it.0, found, sizes), found.standing))
        })
}

/// Every size, with what the mock-up measures.
fn mock_up(seen: Seen<'_>, found: &MockUp, sizes: &Sizes) -> Table {
    let all = found.sizes.iter().map(|size| (size, On::MockUp));
    held(seen, sizes, ("mock-up", "Mock-up", "mock-up"), all, |it| it).screen().table()
}

/// The finished model, as far as it was measured.
fn model(seen: Seen<'_>, found: &MockUp, sizes: &Sizes) -> Table {
    let all = found.sizes.iter().filter(|size| size.model.is_some());
    let all = all.map(|size| (size, On::Model));
    held(seen, sizes, ("model", "Finished model", "model"), all, |it| it)
        .can(|_| vec![Act::Measure(On::Model), Act::TakeBack])
        .screen()
        .table()
}

/// What the mock-up and the model measure otherwise than planned, for the
/// record.
pub(super) fn as_measured(seen: Seen<'_>, sizes: &Sizes) -> Table {
    let all = seen.plan.mock_up.iter().flat_map(|found| &found.sizes);
    let all = all.flat_map(|size| On::ALL.iter().map(move |on| (size, *on)));
    let all = all.filter(|(size, on)| size.found(*on).is_some());
    let on = |draft: Draft<_>| draft.col(text("on", "on"), |(_, on): Held<'_>| on.word());
    held(seen, sizes, ("as_measured", "As measured", "measured"), all, on).table()
}

fn state(size: &Planned, found: &Found, sizes: &Sizes) -> String {
    // First, since the end of the column is cut where the screen is narrow.
    let was = found.was.map(|was| format!("was {}, ", sizes.model_alone(was)));
    let stays = match &size.way {
        Err(_) if found.standing == Standing::Over => ", not to be taken back",
        _ => "",
    };
    let note = if found.note.is_empty() { String::new() } else { format!(": {}", found.note) };
    format!("{}{}{stays}{note}", was.unwrap_or_default(), found.standing.word())
}

/// What was taken back, in the order it was done.
pub(super) fn taken_back(seen: Seen<'_>, sizes: &Sizes) -> Table {
    let all = seen.job.measured.iter();
    let taken = all.filter_map(|said| Some((said, said.was.as_ref()?.length())));
    let why = |it: &Measured| match it.note.as_str() {
        "" => it.reason.clone(),
        note => format!("{}: {note}", it.reason),
    };
    rows("taken_back", "Taken back from the mock-up", taken)
        .about(|(said, _)| Subject::Measured(said.of.clone()))
        .col(text("name", "size"), |(said, _)| &said.of)
        .col(sizes.on_model("was_in", "was planned"), |(_, was)| was)
        .col(sizes.on_model("reads_in", "mock-up"), |(said, _)| said.reads.length())
        .col(text("why", "why").screen(), |(said, _)| why(said))
        .col(only("reason"), |(said, _)| &said.reason)
        .col(only("note"), |(said, _)| &said.note)
        .table()
}
