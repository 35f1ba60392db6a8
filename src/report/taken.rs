//! What was taken because the job does not say it, view by view.

use serde_json::{Value, json};

use super::Seen;
use super::table::{Row, Table};
use crate::job::Job;
use crate::job::building::Opening;
use crate::job::grammar::Taken;
use crate::stock::catalog::{assumed_era, rafters_are_assumed};

/// Which tables of a job a view rests on; `*` is all of them.
const RESTS_ON: &[(&str, &[&str])] = &[
    ("stock", &["job", "cladding", "trim", "deck", "member", "body.roof", "layer"]),
    (
        "takeoff",
        &[
            "job",
            "cladding",
            "trim",
            "deck",
            "member",
            "opening",
            "body",
            "body.roof",
            "walls",
            "wall",
            "layer",
            "corner",
            "terrace",
            "base",
        ],
    ),
    ("layout", &["job", "cladding", "deck", "member", "cutting"]),
    ("templates", &["opening", "paper", "walls", "layer", "corner", "cladding"]),
    ("site", &["site.track"]),
    ("clearance", &["track", "job"]),
    ("lamps", &["lamps", "lamps.supply", "lamps.string", "lamps.string.hangs", "lamps.load"]),
    ("record", &["*"]),
];

/// Everything taken and not given in a job, by the keys of the grammar and by
/// the stages that had to assume more.
#[must_use]
pub fn all(seen: Seen<'_>) -> Vec<Taken> {
    let job = seen.job;
    let mut all = job.taken.clone();
    if let Some((era, name)) = assumed_era(job, seen.catalog) {
        let source = match job.about.year {
            Some(year) => format!("data/lumber.toml, by the year {year}"),
            None => "judgement: the job names neither era nor year".to_owned(),
        };
        all.push(taken("job", "", "lumber", format!("{era}: {name}"), source));
    }
    if rafters_are_assumed(job) {
        let value = "2x6".to_owned();
        all.push(taken("body.roof", "", "section of the rafters", value, judged()));
    }
    for body in &job.bodies {
        let tails = body.roof.as_ref().and_then(|roof| roof.tails.as_ref());
        if tails.is_some_and(|tails| tails.lumber.is_none() && tails.section.is_none()) {
            let value = "2x4".to_owned();
            all.push(taken("body.roof", &body.name, "section of the tails", value, judged()));
        }
    }
    for deck in &job.decks {
        let beam = "2x10".to_owned();
        all.push(taken("deck", &deck.name, "section of the stringers", beam, judged()));
        if deck.stairs > 0 {
            let value = "riser near 7 1/2 in, tread 10 in".to_owned();
            let source = "common practice, no source".to_owned();
            all.push(taken("deck", &deck.name, "stairs", value, source));
        }
    }
    all.extend(casting_fit(seen));
    all
}

fn taken(
    table: &'static str,
    name: &str,
    key: &'static str,
    value: String,
    source: String,
) -> Taken {
    Taken { table, name: name.to_owned(), key, value, source }
}

fn judged() -> String {
    "judgement".to_owned()
}

/// The play left round a casting.
fn casting_fit(seen: Seen<'_>) -> Option<Taken> {
    let has = |opening: &Opening| opening.casting.is_some();
    seen.job.openings.iter().any(has).then_some(())?;
    let row = seen.catalog.fits.get("casting")?;
    let value = format!("{} a side", row.take);
    Some(taken(
        "opening",
        "",
        "play round a casting",
        value,
        format!("data/fits.toml: {}", row.source),
    ))
}

/// What a view of that name rests on, as a table; nothing where all is given.
#[must_use]
pub fn table(view: &str, seen: Seen<'_>) -> Option<Table> {
    let taken = of(view, seen);
    let mut table =
        Table::new("Taken, not given", &["for", "what", "taken", "where it comes from"]);
    for one in &taken {
        let what = if one.name.is_empty() {
            one.table.to_owned()
        } else {
            format!("{} {}", one.table, one.name)
        };
        table.push(Row::plain(vec![
            what,
            one.key.to_owned(),
            one.value.clone(),
            one.source.clone(),
        ]));
    }
    (!taken.is_empty()).then_some(table)
}

/// The same as JSON: `for`, `name`, `key`, `taken`, `source`.
#[must_use]
pub fn as_json(view: &str, seen: Seen<'_>) -> Value {
    let one = |it: &Taken| json!({ "for": it.table, "name": it.name, "key": it.key, "taken": it.value, "source": it.source });
    of(view, seen).iter().map(one).collect()
}

fn of(view: &str, seen: Seen<'_>) -> Vec<Taken> {
    let Some((_, tables)) = RESTS_ON.iter().find(|(name, _)| *name == view) else {
        return Vec::new();
    };
    let mut all = all(seen);
    all.retain(|taken| tables.contains(&"*") || tables.contains(&taken.table));
    all
}

/// What was taken for a section such as `boards batten`: that of its cladding,
/// member or deck, and of the job as a whole.
#[must_use]
pub fn for_section(section: &str, seen: Seen<'_>) -> Vec<Taken> {
    let lumber = |job: &Job| {
        job.members.iter().any(|member| member.name == section && member.lumber.is_some())
            || section == "rafter"
            || section.ends_with(" stringer")
            || section.ends_with(" tail")
    };
    let mut all = all(seen);
    all.retain(|taken| match taken.table {
        "job" => taken.key == "lumber" && lumber(seen.job),
        "body.roof" if taken.name.is_empty() => section == "rafter",
        "body.roof" => section.strip_prefix(taken.name.as_str()) == Some(" tail"),
        _ => {
            let rest = section.strip_prefix(taken.name.as_str());
            !taken.name.is_empty()
                && rest.is_some_and(|rest| rest.is_empty() || rest.starts_with(' '))
        }
    });
    all
}
