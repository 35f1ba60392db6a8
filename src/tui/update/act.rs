//! Commands, one by one.

use super::{
    after_edit, broaden, close, edit, forms, jobs, jump, long, mock_up, moves, photo, tables,
    typing,
};
use crate::report::table::Act;
use crate::tui::action::Command;
use crate::tui::effect::Effect;
use crate::tui::keymap::Context;
use crate::tui::screen::tables::lack;
use crate::tui::screen::{cuts, photo as picture};
use crate::tui::state::{After, List, Over, State};

/// Does what was asked for.
pub(super) fn obey(state: &mut State, command: Command) -> Vec<Effect> {
    if state.context() == Context::Picture
        && let Some(effects) = photo::obey(state, command)
    {
        return effects;
    }
    if matches!(state.context(), Context::Tables | Context::Field)
        && let Some(effects) = tables::obey(state, command)
    {
        return effects;
    }
    on_a_view(state, command)
}

/// What a command does where nothing of its own lies over the view.
fn on_a_view(state: &mut State, command: Command) -> Vec<Effect> {
    match command {
        Command::Up | Command::Down | Command::PageUp | Command::PageDown => {
            moves::rows(state, command);
        }
        Command::First | Command::Last => moves::rows(state, command),
        Command::Left | Command::Right => moves::sideways(state, command),
        Command::ShiftLeft | Command::ShiftRight => moves::shift(state, command),
        Command::NextStage => moves::stage(state, 1),
        Command::PrevStage => moves::stage(state, -1),
        Command::NextLook => moves::next_look(state),
        Command::NextFace => moves::next_face(state),
        Command::Sort | Command::Reverse => moves::sort(state, command),
        Command::Act => return main_thing(state),
        Command::Edit
        | Command::Choose
        | Command::Take
        | Command::Space
        | Command::Scale
        | Command::Broaden
        | Command::AddReading
        | Command::Cut
        | Command::Filter
        | Command::SaveAs
        | Command::Write
        | Command::AddPhoto
        | Command::Bars => {
            forms::open(state, command);
        }
        Command::Switch => return edit::switch(state),
        Command::Tick => return edit::tick(state),
        Command::Undo | Command::Redo => return edit::history(state, command),
        Command::Save => return edit::save(state),
        Command::Jobs => jobs::offer(state),
        Command::NewJob => jobs::ask(state),
        Command::KeepMine => return jobs::keep_mine(state),
        Command::TakeTheirs => return jobs::take_theirs(state),
        Command::Why => jump::why(state),
        Command::Back => jump::back(state),
        Command::Findings => jump::findings(state),
        Command::Help => help(state),
        Command::Find => typing::find(state),
        Command::Accept => return accept(state),
        Command::NextField => typing::field(state, 1),
        Command::PrevField => typing::field(state, -1),
        Command::Better => return long::go_on(state),
        Command::Cancel => return cancel(state),
        Command::Discard => return discard(state),
        Command::Describe => tables::describe(state),
        Command::Tables => tables::open(state),
        Command::Large => state.bench.large = !state.bench.large,
        Command::Palette => state.look = state.look.turned(),
        Command::Mouse => return mouse(state),
        Command::Copy => return copy(state),
        Command::Suspend => return vec![Effect::Suspend],
        Command::Quit => return quit(state),
        // The rest mean something in the tables of the job or on the picture only.
        _ => {}
    }
    Vec::new()
}

/// Whether a command can do something here.
pub(super) fn applies(state: &State, command: Command) -> bool {
    let tables = state.view().map_or(0, |view| view.shown().len());
    match command {
        Command::Act => {
            state.row().is_some()
                || state.stage == 0
                || lack(state).is_some()
                || picture::is_here(state) && picture::in_sight(state).is_some()
        }
        Command::AddPhoto => picture::is_here(state),
        Command::Take if state.act(command) == Some(Act::TakeBack) => mock_up::can_be_taken(state),
        Command::Cut => cuts::times(state).is_some(),
        Command::Edit | Command::Switch | Command::Choose | Command::Take | Command::Tick => {
            state.act(command).is_some()
        }
        Command::Why | Command::Copy | Command::Filter | Command::Sort | Command::Reverse => {
            state.row().is_some()
        }
        Command::Write => state.view().is_some(),
        Command::Broaden => broaden::factor(state).is_some(),
        Command::Left | Command::Right => tables > 1 || state.stage == 0,
        Command::Better => state.long.is_none() && long::question(state).is_some(),
        Command::Back => !state.trail.is_empty(),
        Command::NextLook => moves::look_from(state).is_some(),
        Command::Undo => state.document.undo_name().is_some(),
        Command::Redo => state.document.redo_name().is_some(),
        Command::Save => state.document.is_changed(),
        _ => true,
    }
}

/// What Enter does on a row.
fn main_thing(state: &mut State) -> Vec<Effect> {
    if state.stage == 0 {
        state.bench.typing = true;
        return Vec::new();
    }
    if picture::is_here(state) {
        photo::open(state);
        return Vec::new();
    }
    if let Some(list) = lack(state) {
        tables::begin_at(state, list);
        return Vec::new();
    }
    match state.act(Command::Act).map(Command::of) {
        Some(Command::Tick) => return edit::tick(state),
        Some(command) => forms::open(state, command),
        None => jump::why(state),
    }
    Vec::new()
}

fn accept(state: &mut State) -> Vec<Effect> {
    match state.over.last() {
        Some(Over::Form(_)) => forms::accept(state),
        Some(Over::List(_)) => {
            jump::follow(state);
            Vec::new()
        }
        Some(Over::Finder { .. }) => typing::found(state),
        Some(Over::Jobs(_)) => jobs::take_offer(state),
        Some(Over::Left(text)) => {
            let text = text.clone();
            close(state);
            edit::take_left(state, &text)
        }
        _ => Vec::new(),
    }
}

fn cancel(state: &mut State) -> Vec<Effect> {
    if close(state).is_some() {
        state.after = None;
    } else if state.stage == 0 {
        // Large figures first, then the field.
        let large = std::mem::take(&mut state.bench.large);
        state.bench.typing &= large;
    } else if let Some(spot) = state.spot_mut().filter(|spot| !spot.filter.is_empty()) {
        spot.filter.clear();
    } else if long::in_sight(state).is_some() {
        return long::end(state);
    } else {
        jump::back(state);
    }
    Vec::new()
}

fn discard(state: &mut State) -> Vec<Effect> {
    let forget = state.place.keep.clone().map(Effect::Forget);
    match close(state) {
        Some(Over::Leave) => {
            let after = state.after.take();
            let after = after.map_or_else(Vec::new, |after| jobs::go(state, after));
            forget.into_iter().chain(after).collect()
        }
        Some(Over::Left(_)) => forget.into_iter().collect(),
        _ => Vec::new(),
    }
}

fn quit(state: &mut State) -> Vec<Effect> {
    jobs::leave(state, After::Quit)
}

fn mouse(state: &mut State) -> Vec<Effect> {
    state.mouse = !state.mouse;
    state.said = format!("the mouse is {}", if state.mouse { "on" } else { "off" });
    vec![Effect::Mouse(state.mouse)]
}

fn copy(state: &mut State) -> Vec<Effect> {
    let Some(row) = state.row() else { return Vec::new() };
    let text = row.texts.join("\t");
    state.said = format!("copied, where the terminal allows: {}", row.texts.join("  "));
    vec![Effect::Copy(text)]
}

fn help(state: &mut State) {
    let lines = crate::tui::view::keys::help(state.context());
    state.over.push(Over::List(List { title: "Keys".to_owned(), lines, at: 0 }));
}

/// Shared with the answer to a save that was asked for on the way out.
pub(super) fn plan_again(state: &mut State) -> Vec<Effect> {
    after_edit(state)
}
