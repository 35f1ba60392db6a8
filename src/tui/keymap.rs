//! The keys, as one table.
//!
//! Keys, the bottom line, help and the finder all read [`KEYS`]. The choice is
//! plain: arrows, Tab, Enter, Esc, `?` and `/` as everywhere; else the first
//! letter of the English word for the work, where it is free. Nothing needs a
//! function key, Alt or the mouse.

use crossterm::event::KeyCode;

use super::action::{Command, Key};

/// Where a key is pressed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Context {
    /// On a view: no field takes letters.
    View,
    /// On the picture of a photograph: arrows move the cross-hair.
    Picture,
    /// On the bench, where letters belong to the field.
    Bench,
    /// In a form: letters belong to the field.
    Form,
    /// In a list over the view: help, findings, the chain of a number.
    List,
    /// In the finder: letters are what is looked for.
    Finder,
    /// Asked before leaving.
    Leave,
    /// Asked about unsaved work of an earlier run.
    Left,
    /// Where the job here and the job on disk stand side by side.
    Beside,
    /// In the tables of the job.
    Tables,
    /// In a field of the tables: letters belong to it.
    Field,
}

impl Context {
    /// Every context with the heading it has in help.
    pub const ALL: &'static [(Self, &'static str)] = &[
        (Self::View, "On a view"),
        (Self::Picture, "On a picture"),
        (Self::Bench, "On the bench"),
        (Self::Form, "In a form"),
        (Self::List, "In a list"),
        (Self::Finder, "In the finder"),
        (Self::Leave, "When something is not saved"),
        (Self::Left, "When unsaved work was found"),
        (Self::Beside, "When the job was changed on disk"),
        (Self::Tables, "In the job's tables"),
        (Self::Field, "In a key of the job"),
    ];
}

/// One row of the table.
#[derive(Clone, Copy, Debug)]
pub struct Binding {
    /// Where.
    pub context: Context,
    /// Which key.
    pub key: Key,
    /// What it does.
    pub command: Command,
    /// Its place in the bottom line, 1 first; 0 keeps it out.
    pub rank: u8,
}

const fn bind(context: Context, code: KeyCode, command: Command, rank: u8) -> Binding {
    Binding { context, key: Key::plain(code), command, rank }
}

const fn letter(context: Context, letter: char, command: Command, rank: u8) -> Binding {
    bind(context, KeyCode::Char(letter), command, rank)
}

const fn ctrl(context: Context, letter: char, command: Command) -> Binding {
    Binding { context, key: Key::ctrl(letter), command, rank: 0 }
}

use Context::{Bench, Beside, Field, Finder, Form, Leave, Left, List, Picture, Tables, View};

/// The table.
pub const KEYS: &[Binding] = &[
    bind(View, KeyCode::Up, Command::Up, 0),
    bind(View, KeyCode::Down, Command::Down, 0),
    bind(View, KeyCode::PageUp, Command::PageUp, 0),
    bind(View, KeyCode::PageDown, Command::PageDown, 0),
    bind(View, KeyCode::Home, Command::First, 0),
    bind(View, KeyCode::End, Command::Last, 0),
    bind(View, KeyCode::Left, Command::Left, 0),
    bind(View, KeyCode::Right, Command::Right, 8),
    letter(View, '<', Command::ShiftLeft, 0),
    letter(View, '>', Command::ShiftRight, 0),
    bind(View, KeyCode::Tab, Command::NextStage, 6),
    bind(View, KeyCode::BackTab, Command::PrevStage, 0),
    bind(View, KeyCode::Enter, Command::Act, 1),
    letter(View, 'e', Command::Edit, 0),
    letter(View, 'x', Command::Switch, 2),
    letter(View, 'c', Command::Choose, 0),
    letter(View, 't', Command::Take, 3),
    letter(View, ' ', Command::Tick, 2),
    letter(View, 'k', Command::Cut, 3),
    letter(View, 'w', Command::Why, 4),
    bind(View, KeyCode::Backspace, Command::Back, 5),
    letter(View, 'n', Command::NextLook, 7),
    letter(View, 'b', Command::Better, 3),
    letter(View, 'l', Command::Findings, 0),
    letter(View, 'v', Command::NextFace, 0),
    letter(View, '/', Command::Filter, 0),
    letter(View, 'o', Command::Sort, 0),
    letter(View, 'O', Command::Reverse, 0),
    letter(View, 'u', Command::Undo, 9),
    letter(View, 'r', Command::Redo, 0),
    letter(View, 's', Command::Save, 10),
    letter(View, 'S', Command::SaveAs, 0),
    letter(View, 'j', Command::Jobs, 0),
    letter(View, 'N', Command::NewJob, 0),
    letter(View, 'p', Command::Space, 0),
    letter(View, 'm', Command::Scale, 0),
    letter(View, 'a', Command::AddReading, 0),
    letter(View, 'B', Command::Broaden, 0),
    letter(View, 'd', Command::Describe, 0),
    letter(View, 'D', Command::Tables, 0),
    letter(View, 'y', Command::Copy, 0),
    letter(View, 'W', Command::Write, 0),
    letter(View, 'g', Command::Bars, 0),
    letter(View, 'A', Command::AddPhoto, 0),
    letter(View, 'P', Command::Palette, 0),
    letter(View, 'M', Command::Mouse, 0),
    letter(View, 'f', Command::Find, 11),
    letter(View, '?', Command::Help, 12),
    bind(View, KeyCode::F(1), Command::Help, 0),
    letter(View, 'q', Command::Quit, 13),
    bind(View, KeyCode::Esc, Command::Cancel, 0),
    ctrl(View, 'z', Command::Suspend),
    ctrl(View, 'c', Command::Quit),
    bind(Picture, KeyCode::Up, Command::Up, 0),
    bind(Picture, KeyCode::Down, Command::Down, 0),
    bind(Picture, KeyCode::Left, Command::Left, 0),
    bind(Picture, KeyCode::Right, Command::Right, 0),
    bind(Picture, KeyCode::Enter, Command::Act, 1),
    letter(Picture, 'c', Command::Corner, 2),
    letter(Picture, 'm', Command::PutMark, 0),
    letter(Picture, 'l', Command::LevelLine, 0),
    letter(Picture, 'p', Command::PlumbLine, 0),
    letter(Picture, 'd', Command::Between, 0),
    letter(Picture, 'k', Command::KnownLength, 3),
    letter(Picture, 't', Command::Reads, 6),
    letter(Picture, 'i', Command::Switch, 0),
    letter(Picture, '=', Command::Alike, 0),
    letter(Picture, 'f', Command::InFront, 0),
    letter(Picture, 'y', Command::Picture, 0),
    letter(Picture, 'g', Command::SetRight, 0),
    letter(Picture, 'x', Command::TakeOff, 0),
    letter(Picture, 'e', Command::Refine, 0),
    letter(Picture, 'n', Command::NextLook, 0),
    bind(Picture, KeyCode::Tab, Command::NextMark, 0),
    bind(Picture, KeyCode::BackTab, Command::PrevMark, 0),
    letter(Picture, '+', Command::Nearer, 4),
    letter(Picture, '-', Command::Farther, 0),
    letter(Picture, 'a', Command::Whole, 0),
    letter(Picture, '.', Command::Finer, 5),
    letter(Picture, ',', Command::Coarser, 0),
    bind(Picture, KeyCode::PageUp, Command::PageUp, 0),
    bind(Picture, KeyCode::PageDown, Command::PageDown, 0),
    letter(Picture, 'o', Command::NextPhoto, 0),
    letter(Picture, 'w', Command::Wall, 0),
    letter(Picture, 'u', Command::Undo, 0),
    letter(Picture, 'r', Command::Redo, 0),
    letter(Picture, 's', Command::Save, 0),
    letter(Picture, 'S', Command::SaveAs, 0),
    letter(Picture, 'b', Command::Better, 0),
    letter(Picture, 'P', Command::Palette, 0),
    letter(Picture, 'M', Command::Mouse, 0),
    letter(Picture, '?', Command::Help, 11),
    bind(Picture, KeyCode::F(1), Command::Help, 0),
    bind(Picture, KeyCode::Esc, Command::Cancel, 12),
    ctrl(Picture, 'z', Command::Suspend),
    ctrl(Picture, 'c', Command::Quit),
    bind(Bench, KeyCode::Enter, Command::Large, 1),
    bind(Bench, KeyCode::Up, Command::PrevField, 0),
    bind(Bench, KeyCode::Down, Command::NextField, 2),
    bind(Bench, KeyCode::PageUp, Command::PageUp, 0),
    bind(Bench, KeyCode::PageDown, Command::PageDown, 3),
    bind(Bench, KeyCode::Tab, Command::NextStage, 4),
    bind(Bench, KeyCode::BackTab, Command::PrevStage, 0),
    bind(Bench, KeyCode::Esc, Command::Cancel, 5),
    letter(Bench, '?', Command::Help, 6),
    bind(Bench, KeyCode::F(1), Command::Help, 0),
    ctrl(Bench, 'z', Command::Suspend),
    ctrl(Bench, 'c', Command::Quit),
    bind(Form, KeyCode::Enter, Command::Accept, 1),
    bind(Form, KeyCode::Tab, Command::NextField, 2),
    bind(Form, KeyCode::Down, Command::NextField, 0),
    bind(Form, KeyCode::BackTab, Command::PrevField, 0),
    bind(Form, KeyCode::Up, Command::PrevField, 0),
    bind(Form, KeyCode::Esc, Command::Cancel, 3),
    bind(Form, KeyCode::F(1), Command::Help, 0),
    ctrl(Form, 'z', Command::Suspend),
    ctrl(Form, 'c', Command::Cancel),
    bind(List, KeyCode::Enter, Command::Accept, 1),
    bind(List, KeyCode::Up, Command::Up, 0),
    bind(List, KeyCode::Down, Command::Down, 2),
    bind(List, KeyCode::PageUp, Command::PageUp, 0),
    bind(List, KeyCode::PageDown, Command::PageDown, 0),
    bind(List, KeyCode::Home, Command::First, 0),
    bind(List, KeyCode::End, Command::Last, 0),
    bind(List, KeyCode::Esc, Command::Cancel, 3),
    letter(List, 'q', Command::Cancel, 0),
    letter(List, '?', Command::Help, 0),
    bind(List, KeyCode::F(1), Command::Help, 0),
    ctrl(List, 'z', Command::Suspend),
    ctrl(List, 'c', Command::Cancel),
    bind(Finder, KeyCode::Enter, Command::Accept, 1),
    bind(Finder, KeyCode::Up, Command::Up, 0),
    bind(Finder, KeyCode::Down, Command::Down, 2),
    bind(Finder, KeyCode::Esc, Command::Cancel, 3),
    ctrl(Finder, 'z', Command::Suspend),
    ctrl(Finder, 'c', Command::Cancel),
    letter(Leave, 's', Command::Save, 1),
    letter(Leave, 'd', Command::Discard, 2),
    bind(Leave, KeyCode::Esc, Command::Cancel, 3),
    ctrl(Leave, 'z', Command::Suspend),
    ctrl(Leave, 'c', Command::Cancel),
    letter(Left, 't', Command::Accept, 1),
    letter(Left, 'd', Command::Discard, 2),
    bind(Left, KeyCode::Esc, Command::Cancel, 3),
    ctrl(Left, 'z', Command::Suspend),
    ctrl(Left, 'c', Command::Quit),
    letter(Beside, 'k', Command::KeepMine, 1),
    letter(Beside, 't', Command::TakeTheirs, 2),
    letter(Beside, 'S', Command::SaveAs, 3),
    bind(Beside, KeyCode::Esc, Command::Cancel, 4),
    bind(Beside, KeyCode::Down, Command::Down, 5),
    bind(Beside, KeyCode::Up, Command::Up, 0),
    bind(Beside, KeyCode::PageUp, Command::PageUp, 0),
    bind(Beside, KeyCode::PageDown, Command::PageDown, 0),
    bind(Beside, KeyCode::Home, Command::First, 0),
    bind(Beside, KeyCode::End, Command::Last, 0),
    ctrl(Beside, 'z', Command::Suspend),
    ctrl(Beside, 'c', Command::Cancel),
    bind(Tables, KeyCode::Enter, Command::Accept, 1),
    letter(Tables, 'a', Command::AddRow, 2),
    letter(Tables, 'x', Command::RemoveRow, 3),
    letter(Tables, 'c', Command::CopyRow, 0),
    letter(Tables, 'n', Command::NameRow, 0),
    letter(Tables, '/', Command::Filter, 0),
    letter(Tables, '<', Command::RowUp, 0),
    letter(Tables, '>', Command::RowDown, 0),
    bind(Tables, KeyCode::Up, Command::Up, 0),
    bind(Tables, KeyCode::Down, Command::Down, 0),
    bind(Tables, KeyCode::PageUp, Command::PageUp, 0),
    bind(Tables, KeyCode::PageDown, Command::PageDown, 0),
    bind(Tables, KeyCode::Home, Command::First, 0),
    bind(Tables, KeyCode::End, Command::Last, 0),
    bind(Tables, KeyCode::Right, Command::Right, 0),
    bind(Tables, KeyCode::Left, Command::Left, 0),
    letter(Tables, 'u', Command::Undo, 4),
    letter(Tables, 'r', Command::Redo, 0),
    letter(Tables, 's', Command::Save, 0),
    letter(Tables, 'D', Command::Tables, 0),
    letter(Tables, 'q', Command::Close, 0),
    letter(Tables, '?', Command::Help, 5),
    bind(Tables, KeyCode::F(1), Command::Help, 0),
    bind(Tables, KeyCode::Esc, Command::Cancel, 6),
    ctrl(Tables, 'z', Command::Suspend),
    ctrl(Tables, 'c', Command::Close),
    bind(Field, KeyCode::Enter, Command::Accept, 1),
    bind(Field, KeyCode::Tab, Command::NextField, 2),
    bind(Field, KeyCode::BackTab, Command::PrevField, 0),
    bind(Field, KeyCode::Down, Command::Down, 3),
    bind(Field, KeyCode::Up, Command::Up, 0),
    bind(Field, KeyCode::Esc, Command::Cancel, 4),
    bind(Field, KeyCode::F(1), Command::Help, 0),
    ctrl(Field, 'z', Command::Suspend),
    ctrl(Field, 'c', Command::Cancel),
];

/// What a key does there.
#[must_use]
pub fn command(context: Context, key: Key) -> Option<Command> {
    KEYS.iter().find(|row| row.context == context && row.key == key).map(|row| row.command)
}

/// The rows of one context, in the order of the table.
pub fn of(context: Context) -> impl Iterator<Item = &'static Binding> {
    KEYS.iter().filter(move |row| row.context == context)
}

/// The keys that give a command on a view, for the finder.
#[must_use]
pub fn names(command: Command) -> String {
    let keys: Vec<String> =
        of(View).filter(|row| row.command == command).map(|row| row.key.name()).collect();
    keys.join(" ")
}

#[cfg(test)]
mod tests {
    use std::collections::HashSet;

    use super::*;

    #[test]
    fn no_key_does_two_things_in_one_place() {
        let mut seen = HashSet::new();
        for row in KEYS {
            assert!(
                seen.insert((row.context, row.key)),
                "{} is bound twice in {:?}",
                row.key.name(),
                row.context
            );
        }
    }

    #[test]
    fn every_command_has_a_key_that_needs_no_function_key() {
        for command in Command::ALL {
            let reachable = KEYS
                .iter()
                .any(|row| row.command == *command && !matches!(row.key.code, KeyCode::F(_)));
            assert!(reachable, "{command:?} has no key");
        }
    }

    #[test]
    fn every_context_can_be_left_and_ranks_are_not_shared() {
        for (context, _) in Context::ALL {
            assert!(of(*context).any(|row| row.command == Command::Cancel), "{context:?}");
            let mut ranks = HashSet::new();
            for row in of(*context).filter(|row| row.rank > 0) {
                // Two commands may share a rank when they seldom apply at once.
                let twin =
                    [Command::Switch, Command::Tick, Command::Take, Command::Cut, Command::Better]
                        .contains(&row.command);
                assert!(ranks.insert(row.rank) || twin, "{context:?} rank {}", row.rank);
            }
        }
    }

    #[test]
    fn command_words_and_help_are_said() {
        for command in Command::ALL {
            assert!(!command.words().is_empty() && command.help().ends_with('.'), "{command:?}");
        }
    }
}
