//! Palettes, no colours, plain ASCII.

use ratatui::style::Color;
use scantling::tui::view::palette::{Depth, Ground, Look};

use crate::desk::Desk;

#[test]
fn in_ascii_every_cell_is_ascii() {
    let mut desk = Desk::demo("grain-store", (80, 24));
    desk.state.look = Look { ascii: true, ..Look::default() };
    for stage in 0..desk.state.stages() {
        desk.state.stage = stage;
        desk.size((80, 24));
        let buffer = desk.buffer();
        assert!(buffer.content.iter().all(|cell| cell.symbol().is_ascii()), "{}", desk.picture());
    }
}

#[test]
fn without_colours_no_cell_has_one() {
    let mut desk = Desk::demo("grain-store", (80, 24));
    desk.state.look = Look { depth: Depth::None, ..Look::default() };
    for stage in 0..desk.state.stages() {
        desk.state.stage = stage;
        for cell in &desk.buffer().content {
            assert_eq!((cell.fg, cell.bg), (Color::Reset, Color::Reset));
        }
    }
}

/// Nothing is told by colour alone: without colours the same text stands.
#[test]
fn the_text_is_the_same_in_every_palette() {
    let mut desk = Desk::demo("grain-store", (80, 24));
    desk.stage("notes");
    let first = desk.picture();
    for depth in [Depth::None, Depth::Sixteen, Depth::Many] {
        for ground in [Ground::Dark, Ground::Light] {
            desk.state.look = Look { ground, depth, ascii: false };
            assert_eq!(desk.picture(), first);
        }
    }
}

#[test]
fn a_key_turns_the_palette() {
    let mut desk = Desk::demo("grain-store", (80, 24));
    desk.stage("notes").keys("P");
    assert_eq!(desk.state.look.ground, Ground::Light);
}
