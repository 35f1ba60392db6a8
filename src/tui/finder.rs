//! Finds any action or view by a few letters.

use nucleo_matcher::pattern::{CaseMatching, Normalization, Pattern};
use nucleo_matcher::{Config, Matcher, Utf32Str};

use super::action::Command;
use super::keymap::{self, Context};
use super::state::State;
use super::update::applies;

/// Something found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hit {
    /// An action.
    Command(Command),
    /// A stage of the pole.
    Stage(usize),
}

impl Hit {
    /// What is matched and shown.
    #[must_use]
    pub fn words(self) -> String {
        match self {
            Self::Command(command) => format!("{}: {}", command.words(), command.help()),
            Self::Stage(stage) => format!("go to {}", State::stage_name(stage)),
        }
    }
}

impl Hit {
    /// What it is called: letters that fit this count before those that only
    /// fit what is said of it.
    fn name(self) -> &'static str {
        match self {
            Self::Command(command) => command.words(),
            Self::Stage(stage) => State::stage_name(stage),
        }
    }
}

/// Commands that mean something outside the view they are given on.
fn is_findable(command: Command) -> bool {
    keymap::of(Context::View).any(|row| row.command == command)
        && !matches!(command, Command::Find | Command::Cancel)
}

/// What fits the letters, the best first; all that can be done, when none are
/// typed.
#[must_use]
pub fn hits(state: &State, typed: &str) -> Vec<Hit> {
    let commands = Command::ALL
        .iter()
        .filter(|command| is_findable(**command) && applies(state, **command))
        .map(|command| Hit::Command(*command));
    let stages = (0..state.stages()).map(Hit::Stage);
    let pattern = Pattern::parse(typed, CaseMatching::Ignore, Normalization::Smart);
    let mut matcher = Matcher::new(Config::DEFAULT);
    let mut buffer = Vec::new();
    let mut found: Vec<((bool, u32), Hit)> = stages
        .chain(commands)
        .filter_map(|hit| {
            let words = hit.words();
            let score = pattern.score(Utf32Str::new(&words, &mut buffer), &mut matcher)?;
            let name = Utf32Str::new(hit.name(), &mut buffer);
            let by_name = pattern.score(name, &mut matcher).is_some();
            Some(((by_name, score), hit))
        })
        .collect();
    found.sort_by_key(|(score, _)| std::cmp::Reverse(*score));
    found.into_iter().map(|(_, hit)| hit).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_command_of_a_view_is_findable() {
        for row in keymap::of(Context::View) {
            let left_out = matches!(row.command, Command::Find | Command::Cancel);
            assert!(is_findable(row.command) || left_out, "{:?}", row.command);
        }
    }
}
