//! What was taken because the job does not say it, view by view.

use super::Seen;
use super::column::{only, text};
use super::draft::rows;
use super::table::Table;
use crate::job::Job;
use crate::job::building::Opening;
use crate::job::grammar::Taken;
use crate::stock::catalog::{assumed_era, rafters_are_assumed};

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

/// What was taken in these tables of a job; `*` is all of them.
#[must_use]
pub fn table(tables: &[&str], seen: Seen<'_>) -> Table {
    let what = |it: &Taken| match it.name.as_str() {
        "" => it.table.to_owned(),
        name => format!("{} {name}", it.table),
    };
    rows("taken", "Taken, not given", &of(tables, seen))
        .col(text("what", "for").screen(), what)
        .col(only("for"), |it| it.table)
        .col(only("name"), |it| &it.name)
        .col(text("key", "what"), |it| it.key)
        .col(text("taken", "taken"), |it| &it.value)
        .col(text("source", "where it comes from"), |it| &it.source)
        .table()
}

fn of(tables: &[&str], seen: Seen<'_>) -> Vec<Taken> {
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
