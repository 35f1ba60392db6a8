//! What can happen: commands a person can give, and everything else that
//! arrives from outside.

use crossterm::event::{KeyCode, KeyEvent, KeyModifiers};

use super::effect::Answer;
use crate::report::table::Act;

macro_rules! commands {
    ($($name:ident $words:literal $help:literal;)*) => {
        /// Something a person can ask for. Each has words for the bottom line
        /// and the finder, and a sentence for help.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
        pub enum Command {
            $(#[doc = $help] $name,)*
        }

        impl Command {
            /// Every command.
            pub const ALL: &'static [Self] = &[$(Self::$name),*];

            /// What it is called: one or two words.
            #[must_use]
            pub fn words(self) -> &'static str {
                match self { $(Self::$name => $words,)* }
            }

            /// What it does, in a sentence.
            #[must_use]
            pub fn help(self) -> &'static str {
                match self { $(Self::$name => $help,)* }
            }
        }
    };
}

commands! {
    Up "up" "One row or field up.";
    Down "down" "One row or field down.";
    PageUp "page up" "One page up.";
    PageDown "page down" "One page down.";
    First "first" "To the first row.";
    Last "last" "To the last row.";
    Left "table before" "To the table before, or the setting before.";
    Right "next table" "To the next table, or the next setting.";
    ShiftLeft "columns left" "Shows the columns further left.";
    ShiftRight "columns right" "Shows the columns further right.";
    NextStage "next stage" "Down the story pole to the next stage.";
    PrevStage "stage before" "Up the story pole to the stage before.";
    Act "do it" "Does what the row is for: edit, choose, take, tick, or explain.";
    Edit "edit" "Changes a reading, adopts a figure, moves a bound or a weight, measures the mock-up.";
    Switch "off / on" "Switches a reading off with a reason, or on again.";
    Choose "choose" "Chooses an alternative and asks for the reason.";
    Take "take size" "Takes a stock size by hand, or a size back from the mock-up, with a reason.";
    Cut "is cut" "Says that sticks or a sheet are cut: their pieces leave the list, the offcut goes to the rack.";
    Tick "tick" "Ticks a part: cut, stained, fitted, nothing.";
    Why "why" "Opens the chain from a number back to the readings it came from.";
    Back "back" "Back to where the last jump started.";
    NextLook "next look" "To the next row that asks for a look.";
    Findings "findings" "Lists what this stage noticed.";
    NextFace "next face" "Draws the next face of the building.";
    Filter "filter" "Shows only the rows that hold what is typed; in the job's tables goes to one.";
    Sort "sort" "Sorts the table by the next column.";
    Reverse "reverse" "Turns the order of the table round.";
    Better "look longer" "Works on for a better answer, or the proof that there is none; Esc stops it and keeps the best.";
    Large "large" "Shows the answer in figures for arm's length.";
    Undo "undo" "Takes the last edit back.";
    Redo "redo" "Makes an edit taken back again.";
    Jobs "open a job" "Opens another job: a new one, one of the last, or one that is built in.";
    NewJob "new job" "Begins a job by five short questions.";
    Save "save" "Saves the job.";
    SaveAs "save as" "Saves the job under another name.";
    Space "set space" "Changes the length, depth, height and margin of the place.";
    Scale "set scale" "Changes the scale of the model.";
    AddReading "new readings" "Adds readings to the notes, one a line; a pasted column at once.";
    Broaden "broaden \u{b1}" "Multiplies uncertainties until readings that scatter agree.";
    Copy "copy" "Copies the row to the terminal's clipboard.";
    Write "write file" "Writes this view to a text file; templates as PDF or for a laser.";
    AddPhoto "add photograph" "Adds a photograph to the job, to be marked.";
    PutMark "mark" "Puts a new mark at the cross-hair.";
    Corner "corner" "Marks a corner of a rectangle; the fourth makes it.";
    LevelLine "level line" "Marks an end of a level edge; the second makes it.";
    PlumbLine "plumb line" "Marks an end of a plumb edge; the second makes it.";
    Between "length" "Marks an end of a length to be found; the second makes it.";
    KnownLength "known length" "Says what the length pointed at is.";
    Reads "into the notes" "Makes the length pointed at a reading of a dimension, old or new.";
    Alike "alike" "Says that the length pointed at is as long as another, or a multiple of it.";
    InFront "in front" "Says how far the mark under the cross-hair stands in front of the wall.";
    Picture "which picture" "Says what kind of picture it is: camera file, print, part, unknown; its focal length.";
    SetRight "set right" "Puts the corners of a rectangle that is crossed or turned in order.";
    TakeOff "take off" "Takes off the mark or rectangle under the cross-hair.";
    Refine "to the edges" "Moves the marks to where the picture's edges meet.";
    NextMark "next mark" "The cross-hair to the next mark.";
    PrevMark "mark before" "The cross-hair to the mark before.";
    Nearer "closer" "Shows the picture larger, about the cross-hair.";
    Farther "farther" "Shows more of the picture.";
    Whole "whole" "Shows the whole picture.";
    Finer "finer step" "Moves the cross-hair in smaller steps, down to 1/4 pixel.";
    Coarser "coarser step" "Moves the cross-hair in larger steps, up to 20 pixels.";
    NextPhoto "next picture" "Shows the next photograph of the job.";
    Wall "squared wall" "Shows the wall as if seen squarely in place of the lengths.";
    Bars "print check" "Takes what the two bars of a printed page measure, and the paper.";
    Describe "describe" "Opens what the job says of this row, to be changed there.";
    Tables "the job's tables" "Opens the tables of the job: every key can be made, changed and removed there.";
    AddRow "add" "Adds a row: to the list in sight, one more like the row in sight, or to the list marked.";
    RemoveRow "remove" "Takes out the key, row or table marked.";
    CopyRow "copy" "Copies the row under another name.";
    NameRow "rename" "Gives the row another name; what speaks of it follows.";
    RowUp "move up" "Moves the row up among its like.";
    RowDown "move down" "Moves the row down among its like.";
    Close "close" "Closes the tables of the job.";
    Palette "palette" "Changes between the dark and the light palette.";
    Mouse "mouse" "Switches the mouse on or off.";
    Find "find" "Finds any action or view by a few letters.";
    Help "help" "Lists the keys that work here.";
    Accept "accept" "Takes what was typed.";
    NextField "next field" "To the next field.";
    PrevField "field before" "To the field before.";
    Cancel "back" "Backs out one step.";
    KeepMine "keep mine" "Saves what is here; what is on disk stays beside it as the text before.";
    TakeTheirs "take theirs" "Takes what is on disk; undo brings back what was here.";
    Discard "discard" "Goes on without saving.";
    Suspend "suspend" "Hands the terminal back until the program is called again.";
    Quit "quit" "Ends the program; asks when something is not saved.";
}

impl Command {
    /// The command that does what can be done with a row.
    #[must_use]
    pub fn of(act: Act) -> Self {
        match act {
            Act::Reading | Act::Adopt | Act::Weigh | Act::Bound | Act::Measure(_) => Self::Edit,
            Act::Switch => Self::Switch,
            Act::Choose => Self::Choose,
            Act::TakeSize | Act::TakeBack => Self::Take,
            Act::Tick => Self::Tick,
            Act::Write => Self::Write,
            Act::Cut => Self::Cut,
        }
    }
}

/// A key as the table of keys names it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Key {
    /// Which key.
    pub code: KeyCode,
    /// Whether Ctrl is held.
    pub ctrl: bool,
}

impl Key {
    /// A key alone.
    #[must_use]
    pub const fn plain(code: KeyCode) -> Self {
        Self { code, ctrl: false }
    }

    /// A letter with Ctrl.
    #[must_use]
    pub const fn ctrl(letter: char) -> Self {
        Self { code: KeyCode::Char(letter), ctrl: true }
    }

    /// How the key is printed.
    #[must_use]
    pub fn name(self) -> String {
        let name = match self.code {
            KeyCode::Char(' ') => "Space".to_owned(),
            KeyCode::Char(c) => c.to_string(),
            KeyCode::BackTab => "Shift-Tab".to_owned(),
            KeyCode::PageUp => "PgUp".to_owned(),
            KeyCode::PageDown => "PgDn".to_owned(),
            KeyCode::Up => "\u{2191}".to_owned(),
            KeyCode::Down => "\u{2193}".to_owned(),
            KeyCode::Left => "\u{2190}".to_owned(),
            KeyCode::Right => "\u{2192}".to_owned(),
            KeyCode::F(n) => format!("F{n}"),
            other => format!("{other:?}"),
        };
        if self.ctrl { format!("Ctrl-{}", name.to_uppercase()) } else { name }
    }
}

impl From<KeyEvent> for Key {
    fn from(event: KeyEvent) -> Self {
        let ctrl = event.modifiers.contains(KeyModifiers::CONTROL);
        let code = match event.code {
            // Some terminals say Shift-Tab in two words.
            KeyCode::Tab if event.modifiers.contains(KeyModifiers::SHIFT) => KeyCode::BackTab,
            // Raw terminals send these control letters for the keys themselves.
            KeyCode::Char(c) if ctrl => KeyCode::Char(c.to_ascii_lowercase()),
            code => code,
        };
        Self { code, ctrl }
    }
}

/// Everything that arrives.
#[derive(Debug)]
pub enum Action {
    /// A key.
    Key(Key),
    /// Text from the terminal's clipboard.
    Paste(String),
    /// The left mouse button, at a cell.
    Click(u16, u16),
    /// The mouse wheel: rows down, or up when negative.
    Wheel(i16),
    /// The terminal has another size: columns and rows.
    Resize(u16, u16),
    /// A command by name, from the finder.
    Do(Command),
    /// An effect has something to say.
    Answer(Answer),
}
