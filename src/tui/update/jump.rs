//! From a number to what it came from, and back.

use super::close;
use crate::finding::{Finding, Severity, Subject};
use crate::job::Job;
use crate::report::text;
use crate::takeoff;
use crate::tui::screen::sheet::order;
use crate::tui::state::{Line, List, Over, Spot, State};
use crate::tui::trace;

/// Opens the chain behind the row marked: the row itself in full, what was
/// noticed about it, and each thing it rests on.
pub(super) fn why(state: &mut State) {
    let (Some(row), Some(table)) = (state.row(), state.table()) else { return };
    let mut lines: Vec<Line> = table
        .heads()
        .iter()
        .zip(&row.texts)
        .filter(|(_, cell)| !cell.is_empty())
        .map(|(head, cell)| plain(format!("{}: {cell}", head.head())))
        .collect();
    let title = format!("Why: {}", row.texts.first().map_or("", String::as_str));
    if let Some(subject) = &row.subject {
        lines.extend(noticed(state, subject));
        lines.extend(behind(state, subject));
    }
    state.over.push(Over::List(List { title, lines, at: 0 }));
}

fn plain(text: String) -> Line {
    Line { text, target: None }
}

fn noticed(state: &State, subject: &Subject) -> Vec<Line> {
    let mut seen: Vec<&Finding> = Vec::new();
    for view in &state.views {
        for finding in view.findings.iter().filter(|finding| finding.subject == *subject) {
            if !seen.contains(&finding) {
                seen.push(finding);
            }
        }
    }
    seen.into_iter().map(|finding| plain(text::finding(finding))).collect()
}

/// Each subject behind this one, with the places that show it.
fn behind(state: &State, subject: &Subject) -> Vec<Line> {
    let job = state.document.job();
    if let Subject::Part(label) = subject {
        return part(state, label);
    }
    let mut lines = Vec::new();
    for (depth, one) in trace::chain(job, subject) {
        let indent = "  ".repeat(depth);
        let word = if depth == 0 { "is" } else { "rests on" };
        let name = name(job, &one);
        let target = place(state, &one);
        lines.push(Line { text: format!("{indent}{word} {name}"), target });
    }
    lines
}

/// The chain of a part, as the take-off tells it.
fn part(state: &State, label: &str) -> Vec<Line> {
    let step = |step: takeoff::Step| Line {
        text: format!("{}{}", "  ".repeat(usize::from(step.depth)), step.text),
        target: place(state, &step.subject),
    };
    trace::part(state, label).into_iter().map(step).collect()
}

/// A subject in words.
fn name(job: &Job, subject: &Subject) -> String {
    match subject {
        Subject::Job => "the job".to_owned(),
        Subject::Source(id) => match job.sources.iter().find(|source| source.id == *id) {
            Some(source) => format!("source {id}: {}, {}", source.kind, source.title),
            None => format!("source {id}"),
        },
        Subject::Reading(id) => match job.readings.iter().find(|reading| reading.id == *id) {
            Some(reading) => format!(
                "reading {id}: {} by {}{}",
                reading.value.as_deref().unwrap_or("worked out"),
                reading.method,
                if reading.off { ", switched off" } else { "" }
            ),
            None => match job.photo_reading(id) {
                Some((photo, ask)) => format!("photograph {}: {}", photo.id, ask.of),
                None => format!("reading {id}"),
            },
        },
        Subject::Dimension(id) => match job.dimensions.iter().find(|one| one.name == *id) {
            Some(one) => format!("dimension {id}: {}", one.what),
            None => format!("dimension {id}"),
        },
        Subject::Tie(id) => format!("tie {id}"),
        Subject::Element(path) => format!("element {path}"),
        Subject::Alternative(key) => format!("alternative {key}"),
        Subject::Member(name) => format!("member {name}"),
        Subject::Part(label) => format!("part {label}"),
        Subject::Stock(size) => format!("stock {size}"),
        Subject::Photo(id) => format!("photograph {id}"),
        Subject::Page(number) => format!("page {number}"),
        Subject::Obstacle(name) => name.clone(),
        Subject::Lamp(name) => format!("lamp {name}"),
        Subject::Feature(key) => format!("look of the {key}"),
        Subject::Measured(name) => format!("{name}, measured on the mock-up"),
    }
}

/// The view that shows a subject best: another than the one in sight.
fn place(state: &State, subject: &Subject) -> Option<(usize, Subject)> {
    let here = state.stage.checked_sub(1);
    let shows = |at: &usize| row_of(state, *at, subject).is_some();
    let found = (0..state.views.len()).filter(|at| Some(*at) != here).find(shows);
    found.or(here.filter(shows)).map(|at| (at, subject.clone()))
}

/// Table and row of a subject in a view, all rows shown.
pub(super) fn row_of(state: &State, at: usize, subject: &Subject) -> Option<(usize, usize)> {
    let view = state.views.get(at)?;
    view.shown().into_iter().enumerate().find_map(|(table_at, table)| {
        order(table, &Spot::default())
            .iter()
            .position(|row| table.rows[*row].subject.as_ref() == Some(subject))
            .map(|row| (table_at, row))
    })
}

/// Goes where the line marked leads.
pub(super) fn follow(state: &mut State) {
    let Some(Over::List(list)) = close(state) else { return };
    let Some((at, subject)) = list.lines.get(list.at).and_then(|line| line.target.clone()) else {
        return;
    };
    go(state, at, &subject);
}

/// Goes to a subject in a view, and keeps the way back.
pub(super) fn go(state: &mut State, at: usize, subject: &Subject) {
    let Some((table, row)) = row_of(state, at, subject) else { return };
    if let Some(spot) = state.spot().cloned() {
        state.trail.push((state.stage, spot));
    }
    state.stage = at + 1;
    if let Some(spot) = state.spot_mut() {
        *spot = Spot::default();
        spot.mark(table, row);
    }
}

pub(super) fn back(state: &mut State) {
    if let Some((stage, spot)) = state.trail.pop() {
        state.stage = stage;
        if let Some(old) = state.spot_mut() {
            *old = spot;
        }
    }
}

/// What this stage noticed, each line leading to its subject.
pub(super) fn findings(state: &mut State) {
    let Some(view) = state.view() else { return };
    let here = state.stage - 1;
    let mut all: Vec<&Finding> = view.findings.iter().collect();
    all.sort_by_key(|finding| std::cmp::Reverse(severity(finding)));
    let lines: Vec<Line> = all
        .into_iter()
        .map(|finding| {
            let target = row_of(state, here, &finding.subject)
                .map(|_| (here, finding.subject.clone()))
                .or_else(|| place(state, &finding.subject));
            Line { text: text::finding(finding), target }
        })
        .collect();
    if lines.is_empty() {
        state.said = "nothing was noticed here".to_owned();
        return;
    }
    let title = "Look here: Enter goes there".to_owned();
    state.over.push(Over::List(List { title, lines, at: 0 }));
}

fn severity(finding: &Finding) -> Severity {
    finding.severity
}
