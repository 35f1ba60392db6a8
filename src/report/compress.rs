//! The alternatives side by side, with their lines of cost.
//!
//! JSON: `stop` (`doing`, `trouble`, `hint`) where the stage could not go on,
//! else `intent`, `limits` (`length_in`, `depth_in`, `height_in`, full size),
//! `ground` (null without a site; `longest_in` full size, and in model inches
//! `corners_in`, `car_in`, `rule_in`, `kept_in`), `alternatives[]` in order of cost, `chosen` (a key), `is_chosen`,
//! `complete`, `steps`, `built` (`body`, `faces[]` as in the view of faces) and
//! `findings[]`. An alternative has `key`, `kind`, `kind_words`, `words`,
//! `lost[]`, `standing` (`offered`, `under its bound`, `does not fit`,
//! `shown only`, `forbidden`), `why`, `best_of_kind`, `length_in`, `depth_in`, `ridge_in`,
//! `model_in`, `cost` (null where nothing but an even reduction was done),
//! `lines[]` (`feature`, `what`, `original`, `now`, `z`, `weight`, `cost`),
//! `counts`, `widths_in`, `roof`, and `exact` (`cost`, `widths_in`) where the
//! widths were put on whole inches or boards.

use std::collections::BTreeMap;

use serde_json::{Value, json};

use super::Seen;
use super::faces::{Sizes, body_json, face_json, plain, stopped};
use super::table::{Mark, Row, Table, View};
use crate::compress::{Alternative, Compression, Decision, Line, Standing};
use crate::finding::{Finding, Subject};
use crate::quantity::CompressedLength;

/// The view.
#[must_use]
pub fn view(seen: Seen<'_>) -> View {
    let title = format!("{}: compress", seen.job.about.name);
    let compression = match &seen.plan.compress {
        Ok(compression) => compression,
        Err(stop) => return stopped(title, stop),
    };
    let sizes = Sizes::of(seen);
    let (kinds, others): (Vec<_>, Vec<_>) =
        compression.alternatives.iter().enumerate().partition(|(_, it)| it.best_of_kind);
    let mut tables = vec![
        alternatives("The best of each kind", &kinds, compression, &sizes),
        alternatives("Other counts", &others, compression, &sizes),
        lines(compression.chosen()),
        lost(compression),
    ];
    tables.retain(|table| !table.rows.is_empty());
    View {
        title,
        lead: lead(seen, compression, &sizes),
        tables,
        findings: noticed(seen),
        next: next(compression),
    }
}

fn lead(seen: Seen<'_>, compression: &Compression, sizes: &Sizes) -> Vec<String> {
    let limits = &compression.limits;
    let limit = |what: &str, size: Option<CompressedLength>| {
        size.map(|size| format!("{} {what} ({})", sizes.full(size), sizes.model(size)))
    };
    let taken =
        [limit("long", limits.length), limit("deep", limits.depth), limit("high", limits.height)];
    let taken: Vec<_> = taken.into_iter().flatten().collect();
    let mut lead = Vec::new();
    if !seen.job.about.intent.is_empty() {
        lead.push(format!("What must survive: {}", seen.job.about.intent));
    }
    if !taken.is_empty() {
        lead.push(format!("The space takes {}.", taken.join(", ")));
    } else if compression.ground.is_none() {
        lead.push("The space sets no limit.".to_owned());
    }
    lead.extend(ground(compression, sizes));
    let chosen = compression.chosen();
    lead.push(if compression.is_chosen {
        format!("Chosen: {}. {}", chosen.words, reason(seen))
    } else {
        format!("Not yet chosen; built as the first: {}.", chosen.words)
    });
    if !compression.complete {
        lead.push("The search was stopped: there may be better counts.".to_owned());
    }
    lead
}

/// What the ground takes, and both clearances: the car's and the rule's.
fn ground(compression: &Compression, sizes: &Sizes) -> Vec<String> {
    let Some(ground) = &compression.ground else { return Vec::new() };
    let built = &compression.built.body;
    let mut lines = vec![format!(
        "The ground takes a front of {} ({}) at {} deep.",
        sizes.full(ground.longest),
        sizes.model(ground.longest),
        sizes.full(built.depth),
    )];
    if let Some(clearance) = ground.clearance {
        let full = |length| sizes.at_full(length);
        let rule = clearance.rule.map_or("no full-size rule is given".to_owned(), |rule| {
            format!("the full-size rule asks {}", full(rule))
        });
        lines.push(format!(
            "From the track centre the model car needs {}, {rule}; kept is {}.",
            full(clearance.car),
            full(clearance.kept),
        ));
    }
    lines
}

fn reason(seen: Seen<'_>) -> &str {
    seen.job.choice.as_ref().map_or("", |choice| choice.reason.as_str())
}

fn next(compression: &Compression) -> String {
    if compression.is_chosen {
        "stock: the nearest sizes for what is built".to_owned()
    } else {
        "choose an alternative and write why: the reason goes into the record".to_owned()
    }
}

fn alternatives(
    title: &str,
    rows: &[(usize, &Alternative)],
    compression: &Compression,
    sizes: &Sizes,
) -> Table {
    let heads = ["alternative", ">length", ">model", ">depth", ">ridge", ">cost", "standing"];
    let mut table = Table::new(title, &heads);
    for (at, it) in rows {
        let mark = match &it.standing {
            _ if *at == compression.chosen => Mark::Chosen,
            Standing::Offered => Mark::Plain,
            Standing::UnderBound(_) | Standing::ShownOnly(_) => Mark::Look,
            Standing::DoesNotFit(_) | Standing::Forbidden(_) => Mark::Refused,
        };
        let cells = vec![
            it.words.clone(),
            sizes.full(it.body.length),
            sizes.model(it.body.length),
            sizes.full(it.body.depth),
            sizes.full(it.body.ridge),
            it.cost().map_or("-".to_owned(), |cost| format!("{cost:.1}")),
            it.standing.word().to_owned(),
        ];
        table.push(Row::about(Subject::Alternative(it.key.clone()), cells).marked(mark));
        if !it.is_offered() && it.kind != "uniform" {
            table.notes.push(format!("{}: {}", it.words, it.standing.why()));
        }
        if it.kind == "uniform" {
            table.notes.push(format!("everything reduced evenly: {}", it.standing.why()));
        }
    }
    table
}

fn lines(chosen: &Alternative) -> Table {
    let title = format!("What it costs: {}", chosen.words);
    let heads = ["feature", ">original", ">now", ">z", ">weight", ">cost"];
    let mut table = Table::new(&title, &heads);
    for line in &chosen.lines.0 {
        let figure =
            |value: Option<f64>| value.map_or("-".to_owned(), |value| format!("{value:.3}"));
        table.push(Row::plain(vec![
            line.what.clone(),
            figure(line.original),
            figure(line.now),
            format!("{:+.2}", line.z),
            plain(line.weight),
            format!("{:.2}", line.cost),
        ]));
    }
    table.notes.push("Tolerances and weights are judgement: change them under [look].".to_owned());
    table
}

fn lost(compression: &Compression) -> Table {
    let mut table = Table::new("What is lost", &["alternative", "lost"]);
    for it in compression.alternatives.iter().filter(|it| it.best_of_kind && !it.lost.is_empty()) {
        let subject = Subject::Alternative(it.key.clone());
        table.push(Row::about(subject, vec![it.words.clone(), it.lost.join("; ")]));
    }
    table
}

/// What was noticed about the alternatives.
fn noticed(seen: Seen<'_>) -> Vec<Finding> {
    let of_it = |finding: &&Finding| matches!(finding.subject, Subject::Alternative(_));
    seen.plan.findings.iter().filter(of_it).cloned().collect()
}

/// The view as JSON.
#[must_use]
pub fn json(seen: Seen<'_>) -> Value {
    let compression = match &seen.plan.compress {
        Ok(compression) => compression,
        Err(stop) => return json!({ "stop": stop }),
    };
    let inches = |size: Option<CompressedLength>| size.map(CompressedLength::in_inches);
    let built = &compression.built;
    json!({
        "intent": seen.job.about.intent,
        "limits": {
            "length_in": inches(compression.limits.length),
            "depth_in": inches(compression.limits.depth),
            "height_in": inches(compression.limits.height),
        },
        "alternatives": compression.alternatives.iter().map(alternative).collect::<Vec<_>>(),
        "ground": compression.ground.as_ref().map(|ground| json!({
            "longest_in": ground.longest.in_inches(),
            "corners_in": ground.placement.map(|placed| placed.corners()),
            "car_in": ground.clearance.map(|clear| clear.car.in_inches()),
            "rule_in": ground.clearance.and_then(|clear| clear.rule).map(|rule| rule.in_inches()),
            "kept_in": ground.clearance.map(|clear| clear.kept.in_inches()),
        })),
        "chosen": compression.chosen().key,
        "is_chosen": compression.is_chosen,
        "complete": compression.complete,
        "steps": compression.steps,
        "built": {
            "body": body_json(&built.body, &Sizes::of(seen)),
            "roof": built.roof,
            "faces": built.faces.iter().map(face_json).collect::<Vec<_>>(),
        },
        "findings": noticed(seen),
    })
}

fn alternative(it: &Alternative) -> Value {
    let widths = |decision: &Decision| {
        let widths = decision.widths.iter();
        widths.map(|(key, width)| (key.clone(), width.in_inches())).collect::<BTreeMap<_, _>>()
    };
    json!({
        "key": it.key,
        "kind": it.kind,
        "kind_words": it.kind_words,
        "words": it.words,
        "lost": it.lost,
        "standing": it.standing.word(),
        "why": it.standing.why(),
        "best_of_kind": it.best_of_kind,
        "length_in": it.body.length.in_inches(),
        "depth_in": it.body.depth.in_inches(),
        "ridge_in": it.body.ridge.in_inches(),
        "model_in": it.model_length.in_inches(),
        "cost": it.cost(),
        "lines": it.lines.0.iter().map(line).collect::<Vec<_>>(),
        "counts": it.decision.as_ref().map(|decision| &decision.counts),
        "widths_in": it.decision.as_ref().map(widths),
        "roof": it.decision.as_ref().map(|decision| decision.roof),
        "exact": it.exact.as_ref().map(|exact| json!({
            "cost": exact.cost,
            "widths_in": widths(&exact.decision),
        })),
    })
}

fn line(line: &Line) -> Value {
    json!({
        "feature": line.feature,
        "what": line.what,
        "original": line.original,
        "now": line.now,
        "z": line.z,
        "weight": line.weight,
        "cost": line.cost,
    })
}
