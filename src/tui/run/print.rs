//! How pictures come to the terminal: asked of the terminal itself, where the
//! job has photographs and the look allows colours.

use std::time::Duration;

use ratatui_image::picker::Picker;
use ratatui_image::picker::cap_parser::QueryStdioOptions;

use crate::tui::picture::Print;
use crate::tui::state::State;
use crate::tui::view::palette::Depth;

/// Asks a terminal that is known to answer and is not yet read by anybody. One
/// that does not answer this in time shows cells, as do those inside a
/// multiplexer, whose own settings would have to be changed for more.
pub(super) fn ask(state: &State, longest: Duration) -> Print {
    let colored = matches!(state.look.depth, Depth::Many | Depth::Full) && !state.look.ascii;
    let photographed = !state.document.job().photos.is_empty();
    if !colored || !photographed || is_inside_another() {
        return Print::Cells;
    }
    let options = QueryStdioOptions { timeout: longest, ..QueryStdioOptions::default() };
    Picker::from_query_stdio_with_options(options).map_or(Print::Cells, Print::of)
}

/// Whether the terminal is itself shown inside another.
fn is_inside_another() -> bool {
    let said = |name: &str| std::env::var(name).unwrap_or_default();
    let term = said("TERM");
    term.starts_with("tmux") || term.starts_with("screen") || !said("TMUX").is_empty()
}
