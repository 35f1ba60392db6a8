//! What stands at a place of a job, and what may: in words.

use toml_edit::DocumentMut;

use super::keys::{described, plain};
use crate::job::grammar::Key;
use crate::job::slot::{Holds, Line, Slot, is_needed, kind_of, lines, text};

/// A key with what it holds and may hold; a table or list with what is in it.
#[must_use]
pub fn shown(file: &DocumentMut, slot: &Slot) -> String {
    let inside = lines(file, slot);
    match slot.grammar().filter(|_| matches!(slot.holds(), Holds::Value)) {
        Some(key) if inside.is_empty() => value(file, slot, key),
        _ => table(file, slot, &inside),
    }
}

fn value(file: &DocumentMut, slot: &Slot, key: &Key) -> String {
    let mut out = if slot.is_written(file) {
        format!("{slot} = {}\n", text(slot.node(file)))
    } else {
        format!("{slot} is not written{}\n", without(key))
    };
    out.push_str(&format!("{}\n{}\n", plain(key.says()), described(key)));
    let example = key.rule.example;
    if !example.is_empty() {
        out.push_str(&format!("for example: {example}\n"));
    }
    out
}

/// What holds without a key, and where that comes from.
#[must_use]
pub fn without(key: &Key) -> String {
    key.rule.unless.map_or(String::new(), |unless| {
        format!("; without it {} ({})", unless.value, unless.source)
    })
}

fn table(file: &DocumentMut, slot: &Slot, inside: &[Line]) -> String {
    let head = if slot.path().is_empty() { "the job".to_owned() } else { slot.path() };
    let says = slot.shape().map_or("", |shape| shape.says());
    let mut out = format!("{head}: {}\n", plain(says));
    let widest = inside.iter().map(|line| line.slot.word().chars().count()).max().unwrap_or(0);
    for line in inside {
        let said = said(line);
        out.push_str(format!("  {:<widest$}  {said}", line.slot.word()).trim_end());
        out.push('\n');
    }
    if let Holds::Rows(shape) = slot.holds() {
        let kind = kind_of(shape, slot.node(file));
        let must = shape.keys.iter().filter(|key| is_needed(key, kind.as_deref()));
        let must: Vec<&str> = must.map(|key| key.name).collect();
        let must = if must.is_empty() { String::new() } else { format!(": {}", must.join(", ")) };
        out.push_str(&format!("a row more wants{must}\n"));
    }
    out
}

/// What is written on a line, or that nothing is, with what holds then.
fn said(line: &Line) -> String {
    match (&line.text, line.key) {
        (Some(text), _) => text.split_whitespace().collect::<Vec<_>>().join(" "),
        (None, _) if line.needed => "- must be there".to_owned(),
        (None, Some(key)) if !matches!(line.holds, Holds::Rows(_)) => key
            .rule
            .unless
            .map_or("-".to_owned(), |unless| format!("- ({}, {})", unless.value, unless.source)),
        _ => "-".to_owned(),
    }
}
