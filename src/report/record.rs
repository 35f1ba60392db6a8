//! The build record: what differs from the prototype and why, with sources.
//!
//! JSON: `name`, `intent`, `scale`, `sources[]`, `dimensions[]` (`name`,
//! `value_in`, `sigma_in`, `adopted_in`, `checked`), `rejected[]` (`id`, `z`,
//! `why`), `off[]` (`id`, `why`), `choice` (`kind`, `words`, `lost[]`,
//! `cost`, `reason`, `date`), `changes[]` (`name`, `prototype_in`, `sigma_in`,
//! `used_in`, `model_in`, `uncut_in`, `rule`, `snapped`), `counts[]` (`name`, `was`,
//! `is`), `stock[]` (`key`, `stock`, `error_thou`,
//! `reason`), `taken_back[]` (`name`, `was_in`, `reads_in`, `reason`, `note`),
//! `as_measured[]` (`name`, `on`, `planned_in`, `reads_in`, `off_in`,
//! `standing`), `parts`, `cautions[]`, `cautions_by_step[]` (`step`, `says`),
//! `findings[]`.

use serde_json::{Value, json};

use super::Seen;
use super::draft::sentences;
use super::table::{Mark, Row, Table, View};
use crate::compress::record::{self, Record};
use crate::finding::Subject;
use crate::survey::{Checked, DimensionFound};

/// Cautions of measuring, cutting and lamps. Local law and codes come first.
pub const CAUTIONS: [&str; 8] = [
    "Ask the owner before going on private ground; measure from the public road where you can.",
    "Keep off railway land: disused is not abandoned, trains are quiet and overhang the rails.",
    "Stay out of unsafe buildings, off wharves over water, ladders and roofs; never go alone.",
    "Do not scrape, sand or sweep old paint, asbestos sheet or droppings: lead and fibres.",
    "Look up the present rules before flying a drone; ask first at docks, power works, prisons.",
    "Cut away from the hand with a sharp knife; catch dust and vapour when sanding and spraying.",
    "Never cut vinyl or unknown plastics with a laser, and draw off its fumes.",
    "Lamps: low voltage only, a resistor for each branch, a fuse; card and wood burn. Local codes decide.",
];

/// The view.
#[must_use]
pub fn view(seen: Seen<'_>) -> View {
    let about = &seen.job.about;
    let mut lead = Vec::new();
    if !about.intent.is_empty() {
        lead.push(format!("What must survive: {}", about.intent));
    }
    lead.push(format!("Scale {}.{}", about.scale, year(seen)));
    if !about.notes.is_empty() {
        lead.push(about.notes.clone());
    }
    let tables = [
        sources(seen),
        dimensions(seen),
        set_aside(seen),
        choice(seen),
        super::before_after::table(seen),
        changes(seen),
        super::mockup::taken_back(seen, &super::sizes::Sizes::of(seen)),
        super::mockup::as_measured(seen, &super::sizes::Sizes::of(seen)),
        sizes(seen),
        stock(seen),
        parts(seen),
        sentences("cautions", "Cautions", CAUTIONS),
        super::cautions::table(seen),
    ];
    View {
        title: format!("{}: build record", about.name),
        lead,
        tables: tables.into_iter().filter(|table| !table.rows.is_empty()).collect(),
        next: String::new(),
        ..View::default()
    }
}

fn year(seen: Seen<'_>) -> String {
    seen.job.about.year.map_or(String::new(), |year| format!(" Shown as in {year}."))
}

fn sources(seen: Seen<'_>) -> Table {
    let mut table = Table::new("Sources", &["id", "kind", "title", "date", "quality", "terms"]);
    for source in &seen.job.sources {
        table.push(Row::about(
            Subject::Source(source.id.clone()),
            vec![
                source.id.clone(),
                source.kind.clone(),
                source.title.clone(),
                source.date.clone(),
                source.quality.clone(),
                source.terms.clone(),
            ],
        ));
    }
    table
}

fn dimensions(seen: Seen<'_>) -> Table {
    let heads = ["dimension", ">built to", ">measured", ">± in", "known by", "check", "reason"];
    let mut table = Table::new("Dimensions of the prototype", &heads);
    let notation = seen.job.about.full_notation();
    for found in &seen.plan.survey.dimensions {
        let said = seen.job.dimensions.iter().find(|said| said.name == found.name);
        let measured = found.measured.as_ref();
        let built = found.adopted.or(measured.map(|measured| measured.value));
        let row = Row::about(
            Subject::Dimension(found.name.clone()),
            vec![
                found.name.clone(),
                built.map_or("-".to_owned(), |size| notation.show(&size)),
                measured.map_or("-".to_owned(), |measured| notation.show(&measured.value)),
                measured.map_or("-".to_owned(), |measured| {
                    format!("{:.2}", measured.sigma.in_inches())
                }),
                kinds(found),
                checked(found.checked).to_owned(),
                said.map(|said| said.reason.clone()).unwrap_or_default(),
            ],
        );
        let open = matches!(found.checked, Checked::Unfixed | Checked::Unchecked);
        table.push(if open { row.marked(Mark::Look) } else { row });
    }
    table
}

fn kinds(found: &DimensionFound) -> String {
    let adopted = found.adopted.map(|_| "adopted".to_owned());
    found
        .kinds
        .iter()
        .map(|kind| super::notes::marks::kind(*kind).to_owned())
        .chain(adopted)
        .collect::<Vec<_>>()
        .join(", ")
}

fn checked(checked: Checked) -> &'static str {
    match checked {
        Checked::Unfixed => "nothing fixes it",
        Checked::Unchecked => "unchecked",
        Checked::Weakly => "weakly checked",
        Checked::Checked => "checked",
    }
}

/// Readings that were not used, kept with the reason.
fn set_aside(seen: Seen<'_>) -> Table {
    let mut table = Table::new("Readings set aside", &["id", "of", "value", "why"]);
    let mut push = |id: &str, why: &str| {
        let Some(reading) = seen.plan.survey.said(seen.job).find(|reading| reading.id == id) else {
            return;
        };
        let row = vec![
            id.to_owned(),
            reading.of.to_string(),
            reading.value.clone().unwrap_or_default(),
            why.to_owned(),
        ];
        table.push(Row::about(Subject::Reading(id.to_owned()), row).marked(Mark::Refused));
    };
    for rejected in &seen.plan.survey.rejected {
        push(&rejected.id, &rejected.why);
    }
    for reading in seen.job.readings.iter().filter(|reading| reading.off) {
        push(&reading.id, &format!("switched off: {}", reading.off_reason));
    }
    table
}

fn choice(seen: Seen<'_>) -> Table {
    let mut table = Table::new("Compression", &["", ""]);
    let Ok(compress) = &seen.plan.compress else { return table };
    let Some(chosen) = compress.alternatives.get(compress.chosen) else { return table };
    let said = seen.job.choice.as_ref();
    let reason = said.map(|said| said.reason.clone()).filter(|reason| !reason.is_empty());
    let missing = "no reason given yet: only the first of the list".to_owned();
    let rows = [
        ("built as", chosen.words.clone()),
        ("kind", chosen.kind_words.clone()),
        ("given up", chosen.lost.join("; ")),
        ("reason", reason.unwrap_or(missing)),
        ("date", said.map(|said| said.date.clone()).unwrap_or_default()),
    ];
    for (what, text) in rows.into_iter().filter(|(_, text)| !text.is_empty()) {
        let subject = Subject::Alternative(chosen.key.clone());
        table.push(Row::about(subject, vec![what.to_owned(), text]));
    }
    table
}

/// What the compression changed; nothing where it could not be worked out.
#[must_use]
pub fn compression(seen: Seen<'_>) -> Option<Record> {
    let plan = seen.plan;
    let (Ok(faces), Ok(compress), Ok(scale)) = (&plan.faces, &plan.compress, &plan.scale) else {
        return None;
    };
    Some(record::record(seen.job, &plan.survey, faces, compress, scale))
}

/// Every dimension that was changed, and by which rule.
fn changes(seen: Seen<'_>) -> Table {
    let heads = ["changed", ">prototype", ">± in", ">used", ">model", ">uncut", "rule"];
    let mut table = Table::new("What was changed", &heads);
    let Some(record) = compression(seen) else { return table };
    let (full, model) = (seen.job.about.full_notation(), seen.job.about.model_notation());
    for count in &record.counts {
        let cells = [count.name.as_str(), &count.was.to_string(), "", &count.is.to_string()];
        let mut cells: Vec<String> = cells.into_iter().map(str::to_owned).collect();
        cells.extend(["".to_owned(), "".to_owned(), "repeats dropped or added".to_owned()]);
        table.push(Row::plain(cells));
    }
    for change in &record.changes {
        let rule = change.rule.words();
        let rounded = if change.snapped { ", put on whole inches or boards" } else { "" };
        let sigma = change.sigma.map(|sigma| format!("{:.2}", sigma.in_inches()));
        table.push(Row::about(
            change.subject.clone(),
            vec![
                change.name.clone(),
                full.show(&change.prototype),
                sigma.unwrap_or_default(),
                full.show(&change.used),
                model.show(&change.model),
                model.show(&change.uncut),
                format!("{rule}{rounded}"),
            ],
        ));
    }
    let said = [("Why", &record.reason), ("When", &record.date)];
    let said = said.into_iter().filter(|(_, text)| !text.is_empty());
    table.notes.extend(said.map(|(what, text)| format!("{what}: {text}")));
    table
}

/// Full size, as built, on the model.
fn sizes(seen: Seen<'_>) -> Table {
    let heads = ["size", ">prototype", ">as built", ">model", ">model ± thou", "worth"];
    let mut table = Table::new("Sizes", &heads);
    let (Ok(faces), Some(sized)) = (&seen.plan.faces, &seen.plan.sizes) else { return table };
    let (full, model) = (seen.job.about.full_notation(), seen.job.about.model_notation());
    let before = |name: &str| match name {
        "length" => Some(faces.body.length),
        "depth" => Some(faces.body.depth),
        "eave" => Some(faces.body.eave),
        "ridge" => Some(faces.body.ridge),
        _ => None,
    };
    for size in &sized.sizes {
        table.push(Row::about(
            size.subject.clone(),
            vec![
                size.name.clone(),
                before(&size.name).map_or(String::new(), |was| full.show(&was)),
                full.show(&size.full),
                model.show(&size.model.value),
                size.model.sigma.map_or(String::new(), |sigma| format!("{:.1}", sigma.in_thou())),
                size.model.worth.words().to_owned(),
            ],
        ));
    }
    table
}

fn stock(seen: Seen<'_>) -> Table {
    let mut table = Table::new("Stock", &["for", "stock", ">out thou", "picked because"]);
    let Ok(stock) = &seen.plan.stock else { return table };
    for choice in &stock.choices {
        let out =
            choice.taken().map_or(String::new(), |made| format!("{:+.1}", made.worst().in_thou()));
        table.push(Row::about(
            Subject::Member(choice.wanted.key.clone()),
            vec![
                choice.wanted.key.clone(),
                choice.stock_name(),
                out,
                choice.picked.clone().unwrap_or_default(),
            ],
        ));
    }
    table
}

fn parts(seen: Seen<'_>) -> Table {
    let mut table = Table::new("Parts", &["face", ">sizes", ">parts", ">ticked"]);
    let Ok(takeoff) = &seen.plan.takeoff else { return table };
    let mut faces: Vec<&str> = takeoff.parts.iter().map(|part| part.face.as_str()).collect();
    faces.dedup();
    for face in faces {
        let here: Vec<_> = takeoff.parts.iter().filter(|part| part.face == face).collect();
        let count: u64 = here.iter().map(|part| u64::from(part.count)).sum();
        let ticked = here.iter().filter(|part| seen.job.done.contains_key(&part.label)).count();
        table.push(Row::plain(vec![
            face.to_owned(),
            here.len().to_string(),
            count.to_string(),
            ticked.to_string(),
        ]));
    }
    table
}

/// The record as Markdown. What a person wrote is escaped: it is text, never
/// markup.
#[must_use]
pub fn markdown(seen: Seen<'_>) -> String {
    use std::fmt::Write as _;
    let view = super::ViewId::Record.kind().shown(seen);
    let mut out = format!("# {}\n", escaped(&view.title));
    for line in &view.lead {
        let _ = write!(out, "\n{}\n", escaped(line));
    }
    for table in view.shown() {
        let heads: Vec<&str> = table.heads().iter().map(|column| column.head()).collect();
        let rule: Vec<&str> = table
            .heads()
            .iter()
            .map(|column| if column.is_right() { "---:" } else { "---" })
            .collect();
        let _ = write!(
            out,
            "\n## {}\n\n| {} |\n| {} |\n",
            table.title,
            heads.join(" | "),
            rule.join(" | ")
        );
        for row in &table.rows {
            let cells: Vec<String> = row.texts.iter().map(|cell| escaped(cell)).collect();
            let _ = writeln!(out, "| {} |", cells.join(" | "));
        }
    }
    if !view.findings.is_empty() {
        out.push_str("\n## Look here\n\n");
        for finding in &view.findings {
            let _ = writeln!(out, "- {}", escaped(&super::text::finding(finding)));
        }
    }
    out
}

/// A text in one line without signs that Markdown or HTML would take for
/// their own, and without characters that turn the direction of writing.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for character in text.chars() {
        match character {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '|' | '\\' | '`' | '*' | '[' | ']' => out.extend(['\\', character]),
            '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{200e}' | '\u{200f}' => {}
            other if other.is_control() => out.push(' '),
            other => out.push(other),
        }
    }
    out
}

/// The view as JSON.
#[must_use]
pub fn json(seen: Seen<'_>) -> Value {
    let survey = &seen.plan.survey;
    let compress = seen.plan.compress.as_ref().ok();
    let chosen = compress.and_then(|compress| compress.alternatives.get(compress.chosen));
    let said = seen.job.choice.as_ref();
    let changed = compression(seen);
    json!({
        "name": seen.job.about.name,
        "intent": seen.job.about.intent,
        "scale": seen.job.about.scale,
        "sources": seen.job.sources.iter().map(|source| json!({
            "id": source.id, "kind": source.kind, "title": source.title, "date": source.date,
            "quality": source.quality, "terms": source.terms,
        })).collect::<Vec<_>>(),
        "dimensions": survey.dimensions.iter().map(|found| json!({
            "name": found.name,
            "value_in": found.measured.as_ref().map(|measured| measured.value.in_inches()),
            "sigma_in": found.measured.as_ref().map(|measured| measured.sigma.in_inches()),
            "adopted_in": found.adopted.map(|adopted| adopted.in_inches()),
            "checked": checked(found.checked),
        })).collect::<Vec<_>>(),
        "rejected": survey.rejected.iter().map(|rejected| json!({
            "id": rejected.id, "z": rejected.z, "why": rejected.why,
        })).collect::<Vec<_>>(),
        "off": seen.job.readings.iter().filter(|reading| reading.off).map(|reading| json!({
            "id": reading.id, "why": reading.off_reason,
        })).collect::<Vec<_>>(),
        "choice": chosen.map(|chosen| json!({
            "kind": chosen.kind, "words": chosen.words, "lost": chosen.lost,
            "reason": said.map(|said| &said.reason), "date": said.map(|said| &said.date),
        })),
        "changes": changed.as_ref().map(|record| record.changes.iter().map(|change| json!({
            "name": change.name,
            "prototype_in": change.prototype.in_inches(),
            "sigma_in": change.sigma.map(|sigma| sigma.in_inches()),
            "used_in": change.used.in_inches(),
            "model_in": change.model.in_inches(),
            "uncut_in": change.uncut.in_inches(),
            "rule": change.rule,
            "snapped": change.snapped,
        })).collect::<Vec<_>>()),
        "counts": changed.as_ref().map(|record| record.counts.iter().map(|count| json!({
            "name": count.name, "was": count.was, "is": count.is,
        })).collect::<Vec<_>>()),
        "stock": seen.plan.stock.as_ref().ok().map(|stock| stock.choices.iter().map(|choice| json!({
            "key": choice.wanted.key,
            "stock": choice.stock_name(),
            "error_thou": choice.taken().map(|made| made.worst().in_thou()),
            "reason": choice.picked,
        })).collect::<Vec<_>>()),
        "taken_back": super::json::table(&super::mockup::taken_back(seen, &super::sizes::Sizes::of(seen))),
        "as_measured": super::json::table(&super::mockup::as_measured(seen, &super::sizes::Sizes::of(seen))),
        "parts": seen.plan.takeoff.as_ref().ok().map(|takeoff| {
            takeoff.parts.iter().map(|part| u64::from(part.count)).sum::<u64>()
        }),
        "cautions": CAUTIONS,
        "cautions_by_step": super::cautions::by_step(seen).iter().map(|(step, says)| {
            json!({ "step": step, "says": says })
        }).collect::<Vec<_>>(),
    })
}
