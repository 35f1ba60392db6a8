//! The order of work as a table: each step after all it waits for.

use super::Seen;
use super::cell::Cell;
use super::column::{count, only, text};
use super::draft::rows;
use super::table::{Mark, RowKey, Table, View};
use crate::finding::Subject;
use crate::order::{self, Order, Step};

/// The view.
#[must_use]
pub fn view(seen: Seen<'_>) -> View {
    let title = format!("{}: order of work", seen.job.about.name);
    let (building, takeoff) = match (&seen.plan.building, &seen.plan.takeoff) {
        (Ok(building), Ok(takeoff)) => (building, takeoff),
        (Err(stop), _) | (_, Err(stop)) => return View::stopped(title, stop),
    };
    let found = order::run(seen.job, building, takeoff);
    let lead = format!(
        "{} steps; each stands after all that it waits for. A roof that lifts off waits for less than one that is glued down.",
        found.value.steps.len()
    );
    View {
        title,
        lead: vec![lead],
        tables: vec![steps(seen, &found.value)],
        findings: found.findings,
        next: "mockup: hold what is built against the plan".to_owned(),
        ..View::default()
    }
}

fn steps(seen: Seen<'_>, order: &Order) -> Table {
    let numbered: Vec<(usize, &Step)> = order.steps.iter().enumerate().collect();
    let label = |at: usize| order.steps[at].id.to_string();
    let why = |(at, _): &(usize, &Step)| {
        let mut whys: Vec<&str> = order.waits_for(*at).map(|it| it.why).collect();
        whys.dedup();
        whys.join("; ")
    };
    let done = |step: &Step| {
        !step.parts.is_empty() && step.parts.iter().all(|it| seen.job.done.contains_key(it))
    };
    rows("steps", "From the core out", &numbered)
        .keyed(|(_, step)| RowKey::named(&step.id.to_string()))
        .about(|(_, step)| step.parts.first().map(|part| Subject::Part(part.clone())))
        .marked(|(_, step)| if done(step) { Mark::Chosen } else { Mark::Plain })
        .col(count("number", "no."), |(at, _)| at + 1)
        .col(text("step", "step"), |(_, step)| step.id.to_string())
        .col(count("sizes", "sizes"), |(_, step)| step.parts.len())
        .col(only("parts"), |(_, step)| Cell::list(step.parts.iter().cloned()))
        .col(only("after"), |(at, _)| Cell::list(order.waits_for(*at).map(|it| label(it.first))))
        .col(text("why", "it waits because"), why)
        .note("Sizes: how many sizes of parts are fitted in that step; takeoff lists them. The rules are common practice.")
        .table()
}
