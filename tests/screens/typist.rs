//! Whole buildings typed into the tables of the job, key by key: the job is the
//! one that was written by hand, and the keys are counted.

use scantling::job::document::Document;
use scantling::job::grammar::Shape;
use scantling::job::slot::{Holds, Line, Slot, lines, text};
use scantling::tui::screen::tables::{Asked, Entry, Tables};
use scantling::tui::state::Over;
use toml_edit::DocumentMut;

use crate::desk::Desk;

/// Somebody who has a building before him and types it.
struct Typist {
    desk: Desk,
    target: DocumentMut,
    keys: usize,
    said: usize,
}

impl Typist {
    fn tables(&self) -> &Tables {
        match self.desk.state.over.last() {
            Some(Over::Tables(tables)) => tables,
            _ => panic!("the tables are not open: {}", self.desk.picture()),
        }
    }

    fn entry(&self) -> Option<&Entry> {
        self.tables().entry.as_ref()
    }

    fn press(&mut self, keys: &str) {
        self.keys += keys.split(' ').count();
        self.desk.keys(keys);
    }

    fn letters(&mut self, letters: &str) {
        self.keys += letters.chars().count();
        self.desk.text(letters);
    }

    /// What stands at a place in the building.
    fn wanted(&self, slot: &Slot) -> Option<String> {
        slot.is_written(&self.target).then(|| text(slot.node(&self.target)))
    }

    /// Types what a field asks for, with as few letters as pick a word.
    fn answer(&mut self, value: &str) {
        self.said += value.chars().count();
        let entry = self.entry().expect("a field is open").clone();
        let is_marked = |entry: &Entry| entry.picked().is_some_and(|(_, pick)| pick.word == value);
        if entry.closed && !is_marked(&entry) {
            let mut left = value.chars();
            while !self.entry().is_some_and(is_marked) {
                match left.next() {
                    Some(letter) => self.letters(&letter.to_string()),
                    None => break,
                }
            }
        } else if !entry.closed {
            if !entry.input.value().is_empty() {
                self.keys += 1;
                self.desk.retype("");
            }
            self.letters(value);
        }
        self.press("Enter");
        while self.entry().is_some_and(|now| now.asked == entry.asked)
            && self.tables().trouble.is_empty()
        {
            self.press("Enter");
        }
    }

    /// Marks a line: by the arrows, or by the first letters of its name.
    fn mark(&mut self, word: &str) {
        let at = |tables: &Tables| tables.lines.iter().position(|line| line.slot.word() == word);
        let at = at(self.tables()).unwrap_or_else(|| panic!("{word}: {}", self.desk.picture()));
        let from = self.tables().mark();
        let steps = at.abs_diff(from);
        let end = self.tables().lines.len() - 1 - at;
        if end + 1 < steps {
            self.press("End");
            (0..end).for_each(|_| self.press("Up"));
        } else {
            (0..steps).for_each(|_| self.press(if at > from { "Down" } else { "Up" }));
        }
    }

    /// Opens a table of the job by its first letters.
    fn table(&mut self, word: &str) {
        if !matches!(self.desk.state.over.last(), Some(Over::Tables(tables)) if tables.here() == Slot::root())
        {
            self.press("D");
        }
        self.press("/");
        let is_it = |entry: &Entry| {
            let exact = entry.fitting().iter().any(|pick| pick.word == entry.input.value());
            entry.picked().is_some_and(|(_, pick)| pick.word == word)
                || exact && entry.input.value() == word
        };
        let mut left = word.chars();
        while !self.entry().is_some_and(is_it) {
            let letter = left.next().expect("the whole word fits");
            self.letters(&letter.to_string());
        }
        self.press("Enter");
    }

    /// Answers what is asked of a new row or table until it is made.
    fn make(&mut self, row: &Slot, shape: &'static Shape) {
        let mut rounds = 0;
        while self.tables().draft.is_some() {
            rounds += 1;
            assert!(rounds < 60, "{row} is not made: {}", self.desk.picture());
            match self.entry().map(|entry| entry.asked.clone()) {
                Some(Asked::Kind) => {
                    let is_there = |key: &&&str| row.key(key).is_written(&self.target);
                    let kind = shape.head.one_of.iter().find(is_there).expect("a kind");
                    self.answer(kind);
                }
                Some(Asked::Value(slot)) => match self.wanted(&row.key(slot.word())) {
                    Some(value) => self.answer(&value),
                    None => {
                        self.press("Esc");
                        self.more(row);
                    }
                },
                _ => self.more(row),
            }
        }
    }

    /// Says one more key of a row being made.
    fn more(&mut self, row: &Slot) {
        let open = |line: &&Line| {
            line.text.is_none() && row.key(line.slot.word()).is_written(&self.target)
        };
        let word = self.tables().lines.iter().find(open).map(|line| line.slot.word().to_owned());
        let word = word.unwrap_or_else(|| panic!("{row} is refused: {}", self.desk.picture()));
        self.mark(&word);
        self.press("Enter");
        let value = self.wanted(&row.key(&word)).expect("it is written");
        self.answer(&value);
    }

    /// The keys of the table in sight that are not as in the building yet.
    fn rest(&mut self, of: &Slot) {
        for line in lines(&self.target, of) {
            let word = line.slot.word().to_owned();
            let Some(wanted) = self.wanted(&line.slot) else { continue };
            let now = self.tables().lines.iter().find(|one| one.slot.word() == word).cloned();
            let now = now.unwrap_or_else(|| panic!("{word}: {}", self.desk.picture()));
            // What may be a word or a table is typed in one line at first.
            let holds = if now.text.is_none() { now.holds } else { line.holds };
            match holds {
                Holds::Value | Holds::Map(_) if now.text.as_ref() == Some(&wanted) => {}
                Holds::Value => {
                    self.mark(&word);
                    self.press("Enter");
                    self.answer(&wanted);
                    assert_eq!(self.tables().trouble, "", "{of} {word}");
                }
                Holds::Table(shape) => {
                    if now.text.as_deref() == Some(&wanted) {
                        continue;
                    }
                    self.mark(&word);
                    self.press("Enter");
                    self.make(&line.slot, shape);
                    self.rest(&line.slot);
                    self.press("Esc");
                }
                Holds::Rows(shape) => {
                    if self.tables().lines.iter().any(|one| one.slot.word() == word && one.rows > 0)
                    {
                        continue;
                    }
                    self.mark(&word);
                    self.press("Enter");
                    self.rows(&line.slot, shape);
                    self.press("Esc Esc");
                }
                Holds::Map(_) => {
                    self.mark(&word);
                    self.press("Enter");
                    self.entries(&line.slot);
                    self.press("Esc");
                }
            }
        }
    }

    /// The rows of a list: the first is begun already where the list was empty.
    fn rows(&mut self, list: &Slot, shape: &'static Shape) {
        for at in 0..list.node(&self.target).rows() {
            if self.tables().draft.is_none() {
                self.press("a");
            }
            let row = list.row(&self.target, at);
            self.make(&row, shape);
            self.rest(&row);
        }
    }

    fn entries(&mut self, map: &Slot) {
        for line in lines(&self.target, map) {
            self.press("a");
            let name = line.slot.word().trim_matches('"').to_owned();
            self.said += name.chars().count();
            self.letters(&name);
            self.press("Enter");
            let value = self.wanted(&line.slot).expect("it is written");
            self.answer(&value);
        }
    }

    /// The whole building, table by table as it was written.
    fn building(&mut self) {
        let mut order: Vec<String> = self.target.iter().map(|(key, _)| key.to_owned()).collect();
        // What is named later comes first: a car of one's own before its track.
        order.sort_by_key(|key| key == "track");
        for key in order {
            let slot = Slot::root().key(&key);
            self.table(&key);
            match slot.holds() {
                Holds::Rows(shape) => self.rows(&slot, shape),
                Holds::Table(shape) => {
                    self.make(&slot, shape);
                    self.rest(&slot);
                }
                Holds::Map(_) => self.entries(&slot),
                Holds::Value => panic!("{key} is a table"),
            }
        }
        self.press("q");
    }
}

/// All that is written, line by line, in the order of the grammar.
fn told(file: &DocumentMut) -> Vec<String> {
    let mut found = Vec::new();
    let mut open = vec![Slot::root()];
    while let Some(slot) = open.pop() {
        for line in lines(file, &slot) {
            if let (Holds::Value, Some(text)) = (line.holds, &line.text) {
                found.push(format!("{} = {text}", line.slot));
            }
            open.push(line.slot);
        }
    }
    found.sort();
    found
}

fn typed(name: &str, job: &str) -> f64 {
    let start = "[job]\nname = \"A building\"\nscale = \"1:48\"\n";
    let mut desk = Desk::of("building", start, None, (80, 24));
    desk.idle = true;
    let target = job.parse().expect("it is TOML");
    let mut typist = Typist { desk, target, keys: 0, said: 0 };
    typist.building();
    let document: &Document = &typist.desk.state.document;
    assert_eq!(told(&document.file()), told(&typist.target), "{name}");
    #[allow(clippy::cast_precision_loss, reason = "both are small")]
    let each = typist.keys as f64 / typist.said as f64;
    println!("{name}: {} keys for {} characters: {each:.2}", typist.keys, typist.said);
    each
}

#[test]
fn worked_buildings_are_typed_key_by_key() {
    let one = typed("1", include_str!("../scenarios/worked/worked-1.toml"));
    let two = typed("2", include_str!("../scenarios/worked/worked-2.toml"));
    assert!(one < 1.6 && two < 1.6, "{one:.2} and {two:.2} keys a character");
}
