//! The alternatives side by side, with their lines of cost; what each foot of
//! length is worth; the same building at other scales.

mod json;
mod trade;

pub use json::json;

use super::Seen;
use super::faces::{Sizes, plain, stopped};
use super::table::{Act, Mark, Row, Table, View};
use crate::compress::{Alternative, Compression, LEAST_SHARE, Standing};
use crate::elevation::sized::{Element, Kind};
use crate::finding::Subject;
use crate::quantity::{CompressedLength, PrototypeLength};

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
        needs(seen, compression),
        bounds(seen, &sizes),
        trade::curve(seen, compression, &sizes),
        trade::scales(seen, &sizes),
    ];
    tables.retain(|table| !table.rows.is_empty());
    View {
        title,
        lead: lead(seen, compression, &sizes),
        tables,
        next: next(compression),
        ..View::default()
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
    lead.push(proof(compression));
    lead
}

/// Whether anything better could be hidden, and what was looked at for it.
fn proof(compression: &Compression) -> String {
    let looked = format!("{} ranges of counts looked at", compression.steps);
    if !compression.complete {
        format!("The search was stopped, {looked}: there may be better counts.")
    } else if compression.judged_after.is_empty() {
        format!("Proven, {looked}: no other counts or widths cost less before rounding.")
    } else {
        format!(
            "All counts are searched, {looked}; not proven, because {} is judged afterwards.",
            compression.judged_after.join(" and ")
        )
    }
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
            Standing::OutOfBounds(..) | Standing::ShownOnly(_) => Mark::Look,
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
        if !it.is_offered() && !it.kind.is_uniform() {
            table.notes.push(format!("{}: {}", it.words, it.standing.why()));
        }
        if it.kind.is_uniform() {
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
        let subject = Subject::Feature(line.feature.clone());
        table.push(Row::about(
            subject,
            vec![
                line.what.clone(),
                figure(line.original),
                figure(line.now),
                format!("{:+.2}", line.z),
                plain(line.weight),
                format!("{:.2}", line.cost),
            ],
        ));
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

/// What each element may become: to be moved.
fn bounds(seen: Seen<'_>, sizes: &Sizes) -> Table {
    let heads = ["element", ">width", ">least", ">most", ">count", ">at least", ">at most"];
    let mut table = Table::new("Bounds", &heads);
    let Ok(faces) = &seen.plan.faces else { return table };
    let shortened = &faces.front_row().id.body;
    for face in faces.rows.iter().filter(|face| face.id.body == *shortened) {
        bounds_of(&face.row, &face.name, sizes, &mut table);
    }
    table.notes.push(format!(
        "Where the job says nothing the least is {LEAST_SHARE} of the width and the most the width \
         itself. Doors and windows keep their size."
    ));
    table
}

fn bounds_of(row: &[Element], face: &str, sizes: &Sizes, table: &mut Table) {
    let show = |size: Option<PrototypeLength>| size.map_or(String::new(), |it| sizes.full(it));
    for element in row {
        let mut cells = vec![format!("{face}: {}", element.name)];
        match &element.kind {
            Kind::Plain { width, least, most, fixed: false, .. } => {
                let least = least.unwrap_or(*width * LEAST_SHARE);
                let sizes = [Some(*width), Some(least), Some(most.unwrap_or(*width))];
                cells.extend(sizes.map(show));
                cells.extend(["", "", ""].map(str::to_owned));
            }
            Kind::Bays { width, least, times, .. } => {
                let least = least.unwrap_or(*width * LEAST_SHARE);
                cells.extend([Some(*width), Some(least), Some(*width)].map(show));
                cells.extend([times.count, times.at_least, times.at_most].map(|n| n.to_string()));
            }
            Kind::Repeat { times, .. } => {
                cells.extend(["", "", ""].map(str::to_owned));
                cells.extend([times.count, times.at_least, times.at_most].map(|n| n.to_string()));
            }
            _ => continue,
        }
        let subject = Subject::Element(format!("{face}/{}", element.name));
        table.push(Row::about(subject, cells).can(vec![Act::Bound]));
        if let Kind::Repeat { row, .. } = &element.kind {
            bounds_of(row, face, sizes, table);
        }
    }
}

/// What has to be ordered for each.
fn needs(seen: Seen<'_>, compression: &Compression) -> Table {
    let mut table = Table::new("What it needs", &["alternative", "openings, boards, sheets"]);
    let sheet = seen.job.cutting.sheets.first();
    let sheet = sheet.map(|[wide, long]| [wide.length(), long.length()]);
    for it in compression.alternatives.iter().filter(|it| it.best_of_kind && it.decision.is_some())
    {
        let words = it.needs.words(sheet).join("; ");
        table.push(Row::about(Subject::Alternative(it.key.clone()), vec![it.words.clone(), words]));
    }
    table
        .notes
        .push("By area and count; the layout has sticks and sheets of the one built.".into());
    table
}
