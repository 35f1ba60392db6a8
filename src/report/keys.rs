//! The reference of keys: what a job may say, from the table of the grammar.

use std::collections::BTreeMap;

use serde_json::{Value, json};

use crate::finding::Stop;
use crate::job::grammar::{Bound, FOOT, Key, Kind, Listed, Rule, Text, Word, show_inches, tables};

/// Every table in a line, or one table with all its keys.
///
/// # Errors
/// When no table has that name: the names there are.
pub fn text(table: Option<&str>) -> Result<String, Stop> {
    match table {
        None => Ok(overview()),
        Some(name) => Ok(page(&find(name)?)),
    }
}

/// The same as JSON.
///
/// # Errors
/// As [`text`].
pub fn as_json(table: Option<&str>) -> Result<Value, Stop> {
    let all = match table {
        None => tables(),
        Some(name) => vec![find(name)?],
    };
    let one = |listed: &Listed| {
        json!({
            "table": listed.shape.head.name,
            "several": listed.several,
            "says": plain(listed.shape.says()),
            "keys": listed.shape.keys.iter().map(key_json).collect::<Vec<_>>(),
        })
    };
    Ok(json!({ "tables": all.iter().map(one).collect::<Vec<_>>() }))
}

/// The whole reference as a page of Markdown.
#[must_use]
pub fn markdown() -> String {
    let mut out = String::from(
        "# Keys of a job file\n\nMade by `scantling keys --page`; a test holds it against the \
         program. A length is text with its unit (`\"12 ft 6 1/2 in\"`, `\"3.81 m\"`, \
         `\"20 thou\"`). A size is a full-size length, a sum of surveyed dimensions \
         (`\"right - left\"`), or both: `{ take = \"9 ft\", measured = \"right - left\" }`. A key \
         without the word *must* may be left out.\n",
    );
    for listed in tables() {
        let shape = listed.shape;
        out.push_str(&format!("\n## {}\n\n{}\n", heading(&listed), sentence(shape.says())));
        if let Some(by) = shape.head.by {
            out.push_str(&format!("Which keys count goes by `{by}`.\n"));
        }
        out.push_str("\n| key | what it is | value | example |\n|---|---|---|---|\n");
        for key in shape.keys {
            let value = described(key).replace('|', "\\|");
            let example = key.example();
            let example = if example.is_empty() { String::new() } else { format!("`{example}`") };
            let mut says = sentence(key.says());
            for word in choice(key) {
                says.push_str(&format!(" `{}`: {}", word.word, sentence(word.says)));
            }
            out.push_str(&format!("| `{}` | {says} | {value} | {example} |\n", key.name));
        }
    }
    out
}

fn overview() -> String {
    let all = tables();
    let widest = all.iter().map(|listed| heading(listed).len()).max().unwrap_or(0);
    let line = |listed: &Listed| {
        format!("{:<widest$}  {}\n", heading(listed), first_sentence(&plain(listed.shape.says())))
    };
    let lines: String = all.iter().map(line).collect();
    format!("Tables of a job; scantling keys TABLE lists the keys of one.\n\n{lines}")
}

fn page(listed: &Listed) -> String {
    let shape = listed.shape;
    let mut out = format!("{}\n{}\n", heading(listed), wrapped(&plain(shape.says()), 0));
    for key in shape.keys {
        out.push_str(&format!("\n{}\n{}\n", key.name, wrapped(&plain(key.says()), 4)));
        out.push_str(&format!("{}\n", wrapped(&described(key), 4)));
        for word in choice(key) {
            let line = format!("{}: {}", word.word, plain(word.says));
            out.push_str(&format!("{}\n", wrapped(&line, 6)));
        }
        let example = key.example();
        if !example.is_empty() {
            out.push_str(&format!("    {} = {example}\n", key.name));
        }
    }
    out
}

fn find(name: &str) -> Result<Listed, Stop> {
    let plain = name.trim().trim_matches(['[', ']']);
    let all = tables();
    all.iter().find(|listed| listed.shape.head.name == plain).copied().ok_or_else(|| {
        let names: Vec<&str> = all.iter().map(|listed| listed.shape.head.name).collect();
        Stop::new("listing keys", format!("a job has no table {plain}"), names.join(", "))
    })
}

/// `[space]`, `[[wall]]`, or the name alone of a table in a line.
fn heading(listed: &Listed) -> String {
    let name = listed.shape.head.name;
    match (name, listed.several) {
        ("file", _) => "file".to_owned(),
        (_, true) => format!("[[{name}]]"),
        (_, false) => format!("[{name}]"),
    }
}

/// A sentence of the source without the marks of its code.
#[must_use]
pub fn plain(says: &str) -> String {
    sentence(says).replace('`', "")
}

fn sentence(says: &str) -> String {
    says.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn first_sentence(says: &str) -> String {
    says.split_inclusive(". ").next().unwrap_or(says).trim().to_owned()
}

/// Kind, range, default and agreement in one sentence each.
#[must_use]
pub fn described(key: &Key) -> String {
    let rule = &key.rule;
    let mut out = Vec::new();
    let must = if rule.required { "must: " } else { "" };
    out.push(format!("{must}{}", kind((key.kind)(), rule)));
    let range = range(key);
    if !range.is_empty() {
        out.push(range);
    }
    if !rule.only.is_empty() {
        out.push(format!("for {} only", rule.only.join(", ")));
    }
    if !rule.needed.is_empty() {
        out.push(format!("must for {}", rule.needed.join(", ")));
    }
    if let Some(unless) = rule.unless {
        out.push(format!("without it {} ({})", unless.value, unless.source));
    }
    if !rule.agrees.is_empty() {
        out.push(format!("agrees with {}", rule.agrees));
    }
    out.join("; ")
}

fn kind(kind_: Kind, rule: &Rule) -> String {
    match kind_ {
        Kind::Text => words(rule),
        Kind::Length(space) => format!("a length, {space}"),
        Kind::Size => "a size".to_owned(),
        Kind::Sum => "a sum of dimensions".to_owned(),
        Kind::Form => "dimensions, or one over or times another".to_owned(),
        Kind::Equation => "an equation of dimensions".to_owned(),
        Kind::Count => "a whole number".to_owned(),
        Kind::Number => "a number".to_owned(),
        Kind::Flag => "true or false".to_owned(),
        Kind::Electric(what) => format!("a {what}"),
        Kind::Choice(words) => {
            let words: Vec<&str> = words.iter().map(|word| word.word).collect();
            format!("one of {}", words.join(", "))
        }
        Kind::List(inner) => format!("a list, each {}", kind(inner(), rule)),
        Kind::Row(many, inner) => format!("a list of {many}, each {}", kind(inner(), rule)),
        Kind::Map(inner) => format!("by name, each {}", kind(inner(), rule)),
        Kind::Table(shape) => format!("a table, see {}", shape().head.name),
        Kind::Either(one, other) => format!("{}, or {}", kind(one(), rule), kind(other(), rule)),
    }
}

fn words(rule: &Rule) -> String {
    match (rule.names, rule.text) {
        (Some(of), _) => format!("the name of a {}", of.word()),
        (None, Text::Pitch) => "a pitch".to_owned(),
        (None, Text::Angle) => "an angle".to_owned(),
        (None, Text::File) => "the path of a file".to_owned(),
        (None, Text::Letters) => "a name of letters, digits and underscores".to_owned(),
        (None, text) if rule.declares.is_some() => {
            format!("a name of its own, at most {} characters", text.most())
        }
        (None, text) => format!("a text, at most {} characters", text.most()),
    }
}

/// The range of a key in words, in the unit it is written in.
fn range(key: &Key) -> String {
    let mut inner = (key.kind)();
    while let Kind::List(next) | Kind::Row(_, next) | Kind::Map(next) = inner {
        inner = next();
    }
    let unit = match inner {
        Kind::Length(_) | Kind::Size => return key.rule.range(show_inches),
        Kind::Electric("voltage") => " V",
        Kind::Electric("current") => " A",
        Kind::Electric(_) => " ohm",
        _ if key.rule.text == Text::Angle => " deg",
        _ if key.rule.text == Text::Pitch => {
            return key.rule.range(|end| format!("{:.0}:12", end * FOOT));
        }
        _ => "",
    };
    key.rule.range(|end| format!("{end}{unit}"))
}

/// The words a key is chosen from; none where it is no choice.
fn choice(key: &Key) -> &'static [Word] {
    match (key.kind)() {
        Kind::Choice(words) => words,
        _ => &[],
    }
}

fn key_json(key: &Key) -> Value {
    let rule = &key.rule;
    let end = |bound: Option<Bound>| match bound {
        Some(Bound::At(end)) => json!({ "at": end }),
        Some(Bound::Past(end)) => json!({ "past": end }),
        None => Value::Null,
    };
    json!({
        "key": key.name,
        "says": plain(key.says()),
        "kind": kind((key.kind)(), rule),
        "required": rule.required,
        "words": choice(key).iter().map(|it| (it.word, plain(it.says))).collect::<BTreeMap<_, _>>(),
        "least": end(rule.least),
        "most": end(rule.most),
        "range": range(key),
        "default": rule.unless.map(|it| json!({ "value": it.value, "source": it.source })),
        "names": rule.names.map(crate::job::grammar::Named::word),
        "only": rule.only,
        "agrees": rule.agrees,
        "example": key.example(),
    })
}

/// A text in lines of at most 78 columns, set in by `lead`.
fn wrapped(text: &str, lead: usize) -> String {
    let mut lines = vec![String::new()];
    for word in text.split_whitespace() {
        let line = lines.last().map_or(0, |line| line.chars().count());
        if line > 0 && lead + line + 1 + word.chars().count() > 78 {
            lines.push(String::new());
        }
        if let Some(line) = lines.last_mut() {
            if !line.is_empty() {
                line.push(' ');
            }
            line.push_str(word);
        }
    }
    let lead = " ".repeat(lead);
    lines.iter().map(|line| format!("{lead}{line}")).collect::<Vec<_>>().join("\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_page_of_keys_is_the_programs_own() {
        let kept = include_str!("../../KEYS.md").replace("\r\n", "\n");
        assert!(kept == markdown(), "write it anew: scantling keys --page > KEYS.md");
    }

    #[test]
    fn the_job_of_the_readme_reads_and_is_built() {
        let readme = include_str!("../../README.md").replace("\r\n", "\n");
        let mut blocks = 0;
        for block in readme.split("```toml\n").skip(1) {
            let text = block.split("```").next().unwrap_or_default();
            let catalog = crate::catalog::Catalog::built_in().expect("the shipped data is sound");
            let job = crate::job::read::read("README.md", text, &catalog)
                .unwrap_or_else(|error| panic!("{error}"));
            assert!(crate::plan::plan(&job, &catalog).compress.is_ok());
            blocks += 1;
        }
        assert!(blocks > 0);
    }

    #[test]
    fn a_table_is_listed_with_its_keys_in_eighty_columns() {
        for listed in tables() {
            let page = text(Some(listed.shape.head.name)).expect("a table");
            for line in page.lines().filter(|line| !line.contains(" = ")) {
                assert!(line.chars().count() <= 80, "{line}");
            }
        }
        let stop = text(Some("wlal")).expect_err("none of that name");
        assert!(stop.hint.contains("wall"));
    }
}
