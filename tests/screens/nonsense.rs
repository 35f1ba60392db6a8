//! Headings, titles and sentences are for people: with nonsense in their place
//! every key does what it did before.

use std::mem::discriminant;

use scantling::report::cell::Cell;
use scantling::report::table::{Table, View};
use scantling::tui::state::{Over, Spot, State};

use crate::desk::Desk;

/// Something no program looks for, and that differs from place to place.
struct Nonsense(usize);

impl Nonsense {
    fn word(&mut self) -> String {
        self.0 += 1;
        format!("qux{}", self.0)
    }

    fn view(&mut self, view: &mut View) {
        view.title = self.word();
        view.next = self.word();
        view.lead.iter_mut().for_each(|line| *line = self.word());
        for finding in &mut view.findings {
            (finding.message, finding.hint) = (self.word(), self.word());
        }
        if let Some(stop) = &mut view.stop {
            (stop.doing, stop.trouble, stop.hint) = (self.word(), self.word(), self.word());
        }
        view.tables.iter_mut().for_each(|table| self.table(table));
    }

    fn table(&mut self, table: &mut Table) {
        table.title = self.word();
        table.notes.iter_mut().for_each(|note| *note = self.word());
        for column in &mut table.columns {
            column.head = column.head.as_ref().map(|_| self.word());
        }
        for cell in table.rows.iter_mut().flat_map(|row| &mut row.cells) {
            if let Cell::Table(inner) = cell {
                self.table(inner);
            }
        }
    }
}

/// All that a key may change, without the words it shows.
fn told(desk: &Desk) -> String {
    let state = &desk.state;
    let spot = state.spot().map(|spot| Spot { top: 0, shift: 0, ..spot.clone() });
    let over: Vec<String> = state.over.iter().map(over).collect();
    let outside: Vec<_> = desk.outside.iter().map(discriminant).collect();
    let (stage, subject, text) = (state.stage, state.subject(), state.document.text());
    format!("{stage} {subject:?} {spot:?} {over:?} {outside:?} {text}")
}

fn over(over: &Over) -> String {
    match over {
        Over::Form(form) => {
            let typed: Vec<&str> = form.fields.iter().map(|field| field.input.value()).collect();
            format!("{:?} {typed:?} {}", form.purpose, form.at)
        }
        Over::List(list) => {
            // Sentences may fill fewer lines or more; where lines lead counts.
            let targets: Vec<_> =
                list.lines.iter().filter_map(|line| line.target.as_ref()).collect();
            format!("{targets:?} {}", list.at)
        }
        other => format!("{:?}", discriminant(other)),
    }
}

fn pressed(state: &State, keys: &str) -> Desk {
    let mut desk = Desk { state: state.clone(), idle: true, outside: Vec::new() };
    desk.keys(keys);
    desk
}

#[test]
fn nonsense_for_every_heading_and_sentence_changes_no_key() {
    let letters = ('a'..='z').chain('A'..='Z').map(String::from);
    let others =
        ["Enter", "Space", "Esc", "Tab", "Down o Down Enter", "End Enter", "BackTab Enter"];
    let keys: Vec<String> = letters.chain(others.map(str::to_owned)).collect();
    let mut plain = Desk::demo("grain-store", (80, 24));
    for _ in 0..plain.state.stages() {
        let mut nonsense = plain.state.clone();
        let mut words = Nonsense(0);
        nonsense.views.iter_mut().for_each(|view| words.view(view));
        if plain.state.view().is_some() {
            let pictures = [&plain.state, &nonsense].map(|state| pressed(state, "").picture());
            assert_ne!(pictures[0], pictures[1], "the words are shown");
        }
        for keys in &keys {
            let [was, is] = [&plain.state, &nonsense].map(|state| told(&pressed(state, keys)));
            assert_eq!(was, is, "{keys} on {}", State::stage_name(plain.state.stage));
        }
        plain.keys("Tab");
    }
}
