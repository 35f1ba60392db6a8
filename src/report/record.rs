//! The build record: what differs from the prototype and why, with sources.

use super::Seen;
use super::cell::Cell;
use super::column::{bare, count, only, text};
use super::draft::{one, own, rows, sentences};
use super::sizes::Sizes;
use super::table::{Mark, Table, View};
use super::{before_after, mockup, notes};
use crate::compress::record::{self, Record};
use crate::finding::Subject;
use crate::quantity::Unit;
use crate::survey::DimensionFound;

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
    let sizes = Sizes::of(seen);
    let mut lead = Vec::new();
    if !about.intent.is_empty() {
        lead.push(format!("What must survive: {}", about.intent));
    }
    lead.push(format!("Scale {}.{}", about.scale, year(seen)));
    if !about.notes.is_empty() {
        lead.push(about.notes.clone());
    }
    let changed = compression(seen);
    View {
        title: format!("{}: build record", about.name),
        lead,
        tables: vec![
            own(about)
                .col(only("name"), |it| &it.name)
                .col(only("intent"), |it| &it.intent)
                .col(only("scale"), |it| &it.scale)
                .table(),
            sources(seen),
            dimensions(seen, &sizes),
            set_aside(seen),
            switched_off(seen),
            choice(seen),
            built_as(seen),
            before_after::table(seen),
            counts(changed.as_ref()),
            changes(changed.as_ref(), &sizes),
            mockup::taken_back(seen, &sizes),
            mockup::as_measured(seen, &sizes),
            on_the_model(seen, &sizes),
            stock(seen),
            parts(seen),
            all_parts(seen),
            sentences("cautions", "Cautions", CAUTIONS),
            super::cautions::table(seen),
        ],
        ..View::default()
    }
}

fn year(seen: Seen<'_>) -> String {
    seen.job.about.year.map_or(String::new(), |year| format!(" Shown as in {year}."))
}

fn sources(seen: Seen<'_>) -> Table {
    rows("sources", "Sources", &seen.job.sources)
        .about(|it| Subject::Source(it.id.clone()))
        .col(text("id", "id"), |it| &it.id)
        .col(text("kind", "kind"), |it| &it.kind)
        .col(text("title", "title"), |it| &it.title)
        .col(text("date", "date"), |it| &it.date)
        .col(text("quality", "quality"), |it| &it.quality)
        .col(text("terms", "terms"), |it| &it.terms)
        .table()
}

fn dimensions(seen: Seen<'_>, sizes: &Sizes) -> Table {
    let value = |it: &DimensionFound| it.measured.as_ref().map(|found| found.value);
    let known_by = |it: &DimensionFound| {
        let adopted = it.adopted.map(|_| Cell::from("adopted"));
        Cell::list(notes::marks::kinds(it).chain(adopted))
    };
    let reason = |it: &DimensionFound| {
        let said = seen.job.dimensions.iter().find(|said| said.name == it.name);
        said.map(|said| &said.reason)
    };
    rows("dimensions", "Dimensions of the prototype", &seen.plan.survey.dimensions)
        .about(|it| Subject::Dimension(it.name.clone()))
        .marked(|it| if notes::is_open(it) { Mark::Look } else { Mark::Plain })
        .col(text("name", "dimension"), |it| &it.name)
        .col(sizes.full_size("built", "built to").blank("-").screen(), |it| {
            it.adopted.or(value(it))
        })
        .col(sizes.full_size("value_in", "measured").blank("-"), value)
        .col(bare("sigma_in", "± in", Unit::Inch, 2).blank("-"), |it| {
            it.measured.as_ref().map(|found| found.sigma)
        })
        .col(text("known_by", "known by").screen(), known_by)
        .col(text("checked", "check"), |it| it.checked.word())
        .col(text("reason", "reason").screen(), reason)
        .col(only("adopted_in"), |it| it.adopted)
        .table()
}

/// Readings that do not fit, kept with the reason.
fn set_aside(seen: Seen<'_>) -> Table {
    let all = seen.plan.survey.rejected.iter().map(|it| {
        let said = seen.plan.survey.said(seen.job).find(|said| said.id == it.id);
        (it, said)
    });
    rows("rejected", "Readings set aside", all)
        .about(|(it, said)| said.map(|_| Subject::Reading(it.id.clone())))
        .marked(|_| Mark::Refused)
        .col(text("id", "id"), |(it, _)| &it.id)
        .col(text("of", "of").screen(), |(_, said)| said.map(|said| said.of.to_string()))
        .col(text("value", "value").screen(), |(_, said)| said.and_then(|said| said.value.clone()))
        .col(text("why", "why"), |(it, _)| &it.why)
        .col(only("z"), |(it, _)| it.z)
        .table()
}

/// Readings the person does not use, kept with the reason.
fn switched_off(seen: Seen<'_>) -> Table {
    rows("off", "Readings switched off", seen.job.readings.iter().filter(|it| it.off))
        .about(|it| Subject::Reading(it.id.clone()))
        .marked(|_| Mark::Off)
        .col(text("id", "id"), |it| &it.id)
        .col(text("of", "of").screen(), |it| it.of.to_string())
        .col(text("value", "value").screen(), |it| it.value.as_ref())
        .col(text("why", "why"), |it| &it.off_reason)
        .table()
}

fn chosen(seen: Seen<'_>) -> Option<&crate::compress::Alternative> {
    let compress = seen.plan.compress.as_ref().ok()?;
    compress.alternatives.get(compress.chosen)
}

fn choice(seen: Seen<'_>) -> Table {
    let said = seen.job.choice.as_ref();
    one("choice", chosen(seen))
        .col(only("kind"), |it| it.kind.to_string())
        .col(only("words"), |it| &it.words)
        .col(only("lost"), |it| Cell::data(&it.lost))
        .col(only("reason"), |_| said.map(|said| &said.reason))
        .col(only("date"), |_| said.map(|said| &said.date))
        .table()
}

fn built_as(seen: Seen<'_>) -> Table {
    let chosen = chosen(seen);
    let said = seen.job.choice.as_ref();
    let reason = said.map(|said| said.reason.as_str()).filter(|reason| !reason.is_empty());
    let missing = "no reason given yet: only the first of the list";
    let lines = chosen.map(|it| {
        [
            ("built as", it.words.clone()),
            ("kind", it.kind_words.clone()),
            ("given up", it.lost.join("; ")),
            ("reason", reason.unwrap_or(missing).to_owned()),
            ("date", said.map(|said| said.date.clone()).unwrap_or_default()),
        ]
    });
    let lines = lines.iter().flatten().filter(|(_, text)| !text.is_empty());
    rows("built_as", "Compression", lines)
        .about(|_| chosen.map(|it| Subject::Alternative(it.key.clone())))
        .col(text("what", ""), |(what, _)| *what)
        .col(text("text", ""), |(_, text)| text)
        .screen()
        .table()
}

/// What the compression changed; nothing where it could not be worked out.
fn compression(seen: Seen<'_>) -> Option<Record> {
    let plan = seen.plan;
    let (Ok(faces), Ok(compress), Ok(scale)) = (&plan.faces, &plan.compress, &plan.scale) else {
        return None;
    };
    Some(record::record(seen.job, &plan.survey, faces, compress, scale))
}

/// How often things are repeated where that was changed.
fn counts(record: Option<&Record>) -> Table {
    rows("counts", "Repeats dropped or added", record.iter().flat_map(|it| &it.counts))
        .known(record.is_some())
        .col(text("name", "changed"), |it| &it.name)
        .col(count("was", "prototype"), |it| it.was)
        .col(count("is", "used"), |it| it.is)
        .table()
}

/// Every dimension that was changed, and by which rule.
fn changes(record: Option<&Record>, sizes: &Sizes) -> Table {
    let said = record.map(|it| [("Why", &it.reason), ("When", &it.date)]);
    let said = said.iter().flatten().filter(|(_, text)| !text.is_empty());
    rows("changes", "What was changed", record.iter().flat_map(|it| &it.changes))
        .known(record.is_some())
        .about(|it| it.subject.clone())
        .col(text("name", "changed"), |it| &it.name)
        .col(sizes.full_size("prototype_in", "prototype"), |it| it.prototype)
        .col(bare("sigma_in", "± in", Unit::Inch, 2), |it| it.sigma)
        .col(sizes.full_size("used_in", "used"), |it| it.used)
        .col(sizes.on_model("model_in", "model"), |it| it.model)
        .col(sizes.on_model("uncut_in", "uncut"), |it| it.uncut)
        .col(text("rule", "rule"), |it| {
            let rounded = if it.snapped { ", put on whole inches or boards" } else { "" };
            Cell::worded(format!("{}{rounded}", it.rule.words()), it.rule)
        })
        .col(only("snapped"), |it| it.snapped)
        .notes(said.map(|(what, text)| format!("{what}: {text}")))
        .table()
}

/// Full size, as built, on the model.
fn on_the_model(seen: Seen<'_>, sizes: &Sizes) -> Table {
    let body = seen.plan.faces.as_ref().ok().map(|faces| &faces.body);
    let all = seen.plan.sizes.iter().filter(|_| body.is_some()).flat_map(|sized| &sized.sizes);
    let before = |name: &str| match name {
        "length" => body.map(|body| body.length),
        "depth" => body.map(|body| body.depth),
        "eave" => body.map(|body| body.eave),
        "ridge" => body.map(|body| body.ridge),
        _ => None,
    };
    rows("sizes", "Sizes", all)
        .screen()
        .about(|it| it.subject.clone())
        .col(text("name", "size"), |it| &it.name)
        .col(sizes.full_size("prototype", "prototype"), |it| before(&it.name))
        .col(sizes.full_size("built", "as built"), |it| it.full)
        .col(sizes.on_model("model", "model"), |it| it.model.value)
        .col(bare("sigma", "model ± thou", Unit::Thou, 1), |it| it.model.sigma)
        .col(text("worth", "worth"), |it| it.model.worth.words())
        .table()
}

fn stock(seen: Seen<'_>) -> Table {
    let stock = seen.plan.stock.as_ref().ok();
    rows("stock", "Stock", stock.iter().flat_map(|stock| &stock.choices))
        .known(stock.is_some())
        .about(|it| Subject::Member(it.wanted.key.clone()))
        .col(text("key", "for"), |it| &it.wanted.key)
        .col(text("stock", "stock"), |it| it.stock_name())
        .col(bare("error_thou", "out thou", Unit::Thou, 1).signed(), |it| {
            it.taken().map(|made| made.worst())
        })
        .col(text("reason", "picked because"), |it| it.picked.as_ref())
        .table()
}

/// How many parts each face has.
fn parts(seen: Seen<'_>) -> Table {
    let all = seen.plan.takeoff.as_ref().map_or(&[][..], |takeoff| &takeoff.parts);
    let faces: Vec<_> = all.chunk_by(|one, next| one.face == next.face).collect();
    let ticked = |label: &String| seen.job.done.contains_key(label);
    rows("faces", "Parts", faces)
        .screen()
        .col(text("face", "face"), |parts| &parts[0].face)
        .col(count("sizes", "sizes"), |parts| parts.len())
        .col(count("parts", "parts"), |parts| {
            parts.iter().map(|part| u64::from(part.count)).sum::<u64>()
        })
        .col(count("ticked", "ticked"), |parts| {
            parts.iter().filter(|part| ticked(&part.label)).count()
        })
        .table()
}

fn all_parts(seen: Seen<'_>) -> Table {
    let takeoff = seen.plan.takeoff.as_ref().ok();
    own(takeoff)
        .col(only("parts"), |it| {
            it.map(|it| it.parts.iter().map(|part| u64::from(part.count)).sum::<u64>())
        })
        .table()
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
