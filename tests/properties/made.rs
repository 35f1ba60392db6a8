//! Every key of the grammar can be made, changed and removed by the edits that
//! forms and verbs use, on a job in which it stands.

use std::collections::{BTreeMap, BTreeSet};

use scantling::catalog::Catalog;
use scantling::job::document::Document;
use scantling::job::edit::{Edit, RowEdit};
use scantling::job::grammar::{Key, Kind, Text, Word, tables};
use scantling::job::slot::{Holds, Line, Slot, is_needed, lines, name_of, names, text};
use toml_edit::DocumentMut;

const EVERY: &str = include_str!("every_key.toml");

/// Keys that are not taken out alone, and what the refusal says: the two bars
/// of a printed page are measured together, or not at all.
const PAIRS: &[(&str, &str)] = &[("across", "one of the two bars"), ("up", "one of the two bars")];

/// Names that rows of tables can have which give themselves no name.
const NAMES: &[&str] = &["main/back", "main/back-right", "height", "iron", "void", "HO"];

struct Bench {
    document: Document,
    catalog: Catalog,
    file: DocumentMut,
}

impl Bench {
    fn new() -> Self {
        let catalog = Catalog::built_in().expect("the built-in data reads");
        let document = Document::read("every_key.toml", EVERY, &catalog);
        let document = document.unwrap_or_else(|error| panic!("{error}"));
        Self { document, catalog, file: EVERY.parse().expect("it is TOML") }
    }

    /// The same job after an edit; nothing where it is refused. The edit taken
    /// back leaves every letter as it was.
    fn after(&self, edit: RowEdit, why: &mut String) -> Option<Self> {
        let mut document = self.document.clone();
        let edit = Edit::Row(edit);
        if let Err(error) = document.apply(&edit, &self.catalog) {
            *why = error.to_string();
            return None;
        }
        let file = document.text().parse().expect("it is TOML");
        Some(Self { document, catalog: self.catalog.clone(), file })
    }

    fn said(&self, slot: &Slot) -> String {
        text(slot.node(&self.file))
    }

    /// The pieces of what is said, in no order: keys may change places.
    fn pieces(&self, slot: &Slot) -> Vec<String> {
        let said = self.said(slot);
        let parts = said.split([',', ';', '{', '}', '[', ']', '=']).map(str::trim);
        let mut all: Vec<String> =
            parts.filter(|part| !part.is_empty()).map(str::to_owned).collect();
        all.sort();
        all
    }

    fn lines(&self, slot: &Slot) -> Vec<Line> {
        lines(&self.file, slot)
    }

    /// Keys of a table with what is written, as a person would type them.
    fn typed(&self, slot: &Slot) -> Vec<(String, String)> {
        let written = self.lines(slot).into_iter().filter(|line| line.text.is_some());
        written.map(|line| (line.slot.word().to_owned(), self.said(&line.slot))).collect()
    }

    /// Every line of the job, those of tables that are not written too.
    fn all(&self) -> Vec<Line> {
        let mut found = Vec::new();
        let mut open = vec![Slot::root()];
        while let Some(slot) = open.pop() {
            for line in self.lines(&slot) {
                open.push(line.slot.clone());
                found.push(line);
            }
        }
        found
    }

    /// Values to try under a key: its example, names, some of its kind.
    fn tries(&self, slot: &Slot, key: &Key) -> Vec<String> {
        let all: &[&str] = match (key.kind)() {
            Kind::Flag => &["true", "false"],
            Kind::Count => &["1", "2", "3", "4", "1936"],
            Kind::Number => &["0.15", "2", "1850.5"],
            Kind::Length(_) | Kind::Size => {
                &["7 in", "20 thou", "1/4 in", "2 ft", "6 ft 6 in", "10 ft", "31 ft", "99 mm"]
            }
            Kind::Electric("voltage") => &["3 V", "10 V", "14 V", "17 V"],
            Kind::Electric("current") => &["2 mA", "90 mA"],
            Kind::Text if key.rule.text == Text::Pitch => &["4:12", "9:12"],
            Kind::Text if key.rule.text == Text::Angle => &["3 deg", "15 deg"],
            Kind::Text => {
                &["another", "E24", "a4", "1:87.1", "main/back-right", "main/front", "pair"]
            }
            Kind::Choice(words) => return choose(words),
            Kind::List(inner) => match inner() {
                Kind::Choice(words) => return choose(words),
                _ => &[],
            },
            Kind::Map(_) => &["{ all = [card] }"],
            _ => &[],
        };
        let all = all.iter().map(|one| (*one).to_owned());
        let named = names(&self.file, &self.catalog, slot).into_iter().take(5);
        let other = self.said(slot);
        let less = other.rsplit_once(", ").map(|(less, _)| less.to_owned());
        let mut figures = other.char_indices().filter(|(_, c)| ('1'..'9').contains(c));
        let ends = [figures.clone().next(), figures.next_back()];
        let bumped = ends.into_iter().flatten().map(|(at, c)| {
            let mut text = other.clone();
            text.replace_range(at..=at, &char::from(c as u8 + 1).to_string());
            text
        });
        let first = std::iter::once(key.rule.example.to_owned()).chain(less).chain(bumped);
        first.chain(named).chain(all).collect()
    }

    /// Whether there is only one name that a key can hold.
    fn is_only(&self, slot: &Slot) -> bool {
        names(&self.file, &self.catalog, slot).len() == 1
    }
}

fn choose(words: &[Word]) -> Vec<String> {
    words.iter().map(|word| word.word.to_owned()).collect()
}

fn set(slot: &Slot, to: &str) -> RowEdit {
    RowEdit::Set { slot: slot.clone(), to: to.to_owned() }
}

/// A value: changed, taken out, made again as it was.
fn value_lives(bench: &Bench, line: &Line, why: &mut String) -> bool {
    let (Some(key), slot, now) = (line.key, &line.slot, bench.said(&line.slot)) else {
        return false;
    };
    let is_other = |to: &String, why: &mut String| {
        let other = bench.after(set(slot, to), why);
        *to != now && other.is_some_and(|other| other.said(slot) != now)
    };
    let changed = bench.tries(slot, key).iter().any(|to| is_other(to, why));
    let mut other = || is_renamed(bench, line, why) || gives_way(bench, slot, &now);
    if !(changed || bench.is_only(slot) || other()) {
        return false;
    }
    let Some(without) = bench.after(RowEdit::Remove { slot: slot.clone() }, why) else {
        // What must be there goes with its table.
        return why.contains(&format!("{} ", slot.word())) && line.needed
            || why.contains("has exactly one of the keys")
            || PAIRS.iter().any(|(key, why_not)| *key == slot.word() && why.contains(why_not))
            || goes_with_its_row(bench, slot);
    };
    without.after(set(slot, &now), why).is_some_and(|again| again.said(slot) == now)
}

/// A name that others speak of is changed by renaming its row.
fn is_renamed(bench: &Bench, line: &Line, why: &mut String) -> bool {
    let Some(row) = line.slot.parent().filter(|row| row.number().is_some()) else { return false };
    let to = format!("{}_b", bench.said(&line.slot).replace([' ', '/'], "_"));
    let edit = RowEdit::Rename { slot: row, to: to.clone() };
    bench.after(edit, why).is_some_and(|after| after.said(&line.slot) == to)
}

/// Of keys of which just one stands in a table, another takes its place.
fn gives_way(bench: &Bench, slot: &Slot, now: &str) -> bool {
    let Some(around) = slot.parent() else { return false };
    let others = around.shape().map_or(&[][..], |shape| shape.head.one_of);
    others.iter().filter(|other| **other != slot.word()).any(|other| {
        let after = bench.after(set(&around.key(other), now), &mut String::new());
        after.is_some_and(|after| !slot.is_written(&after.file))
    })
}

/// A key of which one must stand is taken out with its row.
fn goes_with_its_row(bench: &Bench, slot: &Slot) -> bool {
    let row = slot.parent().filter(|row| row.number().is_some());
    row.is_some_and(|row| bench.after(RowEdit::Remove { slot: row }, &mut String::new()).is_some())
}

/// A table: taken out, made again as it was.
fn table_lives(bench: &Bench, line: &Line, why: &mut String) -> bool {
    let (slot, keys) = (line.slot.clone(), bench.typed(&line.slot));
    let Some(without) = bench.after(RowEdit::Remove { slot: slot.clone() }, why) else {
        return why.contains(&format!("`{}", slot.word()));
    };
    let Some(again) = without.after(RowEdit::Add { slot: slot.clone(), keys }, why) else {
        return false;
    };
    *why = format!("made {} of {}", again.said(&slot), bench.said(&slot));
    !without.said(&slot).contains('=') && again.pieces(&slot) == bench.pieces(&slot)
}

/// A list: a row like the last is made under another name, moved up, and taken
/// out again.
fn list_lives(bench: &Bench, line: &Line, why: &mut String) -> bool {
    let slot = &line.slot;
    let Some(last) = bench.lines(slot).pop().map(|line| line.slot) else { return false };
    let shape = slot.shape().expect("a list of tables");
    let own = name_of(shape, last.node(&bench.file)).unwrap_or_default().to_owned();
    let new = [format!("{own}_b")].into_iter().chain(NAMES.iter().map(|it| (*it).to_owned()));
    new.into_iter().any(|new| {
        let keys = bench.typed(&last).into_iter();
        let mut keys: Vec<(String, String)> = keys.collect();
        let named = keys.iter_mut().find(|(_, said)| *said == own && !own.is_empty());
        if let Some((_, name)) = named {
            name.clone_from(&new);
        }
        let add = RowEdit::Add { slot: slot.clone(), keys };
        let Some(more) = bench.after(add, why) else { return false };
        let row = more.lines(slot).pop().map(|line| line.slot).expect("it was added");
        let up = more.after(RowEdit::Move { slot: row.clone(), down: false }, why);
        let gone = more.after(RowEdit::Remove { slot: row }, why);
        up.is_some() && gone.is_some_and(|gone| gone.pieces(slot) == bench.pieces(slot))
    })
}

/// A key that is not written: made with its example, or what else is one, and
/// taken out. A table round it that is missing too is made first.
fn new_lives(bench: &Bench, line: &Line, why: &mut String) -> bool {
    let (Some(key), slot) = (line.key, &line.slot) else { return false };
    if let Holds::Table(_) = line.holds {
        let made = with_table(bench, slot, why);
        let remove = RowEdit::Remove { slot: slot.clone() };
        let gone = made.is_some_and(|made| made.after(remove, why).is_some());
        return gone || line.needed && why.contains(slot.word());
    }
    let around = slot.parent().filter(|it| !it.is_written(&bench.file));
    let with = around.as_ref().and_then(|around| with_table(bench, around, why));
    let bench = with.as_ref().unwrap_or(bench);
    if around.is_some() && slot.is_written(&bench.file) {
        let line = bench.lines(&slot.parent().expect("a table")).into_iter();
        let mut line = line.filter(|line| line.slot == *slot);
        return line.next().is_some_and(|line| lives(bench, &line, why));
    }
    let made = |to: &String| bench.after(set(slot, to), &mut String::new());
    let made = bench.tries(slot, key).iter().find_map(made);
    *why = "no value was taken".to_owned();
    made.is_some_and(|made| made.after(RowEdit::Remove { slot: slot.clone() }, why).is_some())
}

/// The job with a table that it lacks, all that must be there by its example.
fn with_table(bench: &Bench, slot: &Slot, why: &mut String) -> Option<Bench> {
    let outer = slot.parent().filter(|it| !it.is_written(&bench.file));
    let outer = outer.and_then(|outer| with_table(bench, &outer, why));
    let bench = outer.as_ref().unwrap_or(bench);
    let shape = slot.shape()?;
    let first = shape.head.one_of.first().copied();
    let must = shape.keys.iter().filter(|key| is_needed(key, first) || Some(key.name) == first);
    let keys = must.map(|key| (key.name.to_owned(), key.rule.example.to_owned())).collect();
    bench.after(RowEdit::Add { slot: slot.clone(), keys }, why)
}

fn lives(bench: &Bench, line: &Line, why: &mut String) -> bool {
    match (&line.text, line.holds) {
        (None, _) => new_lives(bench, line, why),
        (_, Holds::Value | Holds::Map(_)) => value_lives(bench, line, why),
        (_, Holds::Rows(_)) => list_lives(bench, line, why),
        (_, Holds::Table(_)) => table_lives(bench, line, why),
    }
}

/// A key of a table by the names of both.
fn called(line: &Line) -> Option<String> {
    let around = line.slot.parent()?;
    let is_key = !matches!(around.holds(), Holds::Rows(_) | Holds::Map(_));
    let table = around.shape().filter(|_| is_key)?;
    Some(format!("{}.{}", table.head.name, line.slot.word()))
}

#[test]
fn every_key_of_the_grammar_is_made_changed_and_removed() {
    let bench = Bench::new();
    let listed = tables().into_iter().flat_map(|it| {
        it.shape.keys.iter().map(move |key| format!("{}.{}", it.shape.head.name, key.name))
    });
    let all: BTreeSet<String> = listed.collect();
    let mut places: BTreeMap<String, Vec<Line>> = BTreeMap::new();
    for line in bench.all() {
        if let Some(name) = called(&line) {
            places.entry(name).or_default().push(line);
        }
    }
    let trouble = |name: &String| {
        let mut why = "it stands nowhere".to_owned();
        let mut found = places.get(name).cloned().unwrap_or_default();
        // Where it is written, before where it could be.
        found.sort_by_key(|line| line.text.is_none());
        let lives = found.iter().any(|line| lives(&bench, line, &mut why));
        (!lives).then(|| format!("{name}: {why}"))
    };
    let names: Vec<&String> = all.iter().collect();
    let (left, right) = names.split_at(names.len() / 2);
    let troubles = |names: &[&String]| -> Vec<String> {
        names.iter().filter_map(|name| trouble(name)).collect()
    };
    let troubles = std::thread::scope(|scope| {
        let other = scope.spawn(|| troubles(right));
        let mut all = troubles(left);
        all.extend(other.join().expect("it ends"));
        all
    });
    println!("{} of {} keys", all.len() - troubles.len(), all.len());
    assert!(troubles.is_empty(), "{}", troubles.join("\n"));
}
