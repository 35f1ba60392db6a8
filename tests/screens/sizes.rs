//! Every size, from nothing to very large, without a panic.

use scantling::tui::state::State;

use crate::desk::Desk;

/// Sizes that try every branch of the layout; the corners are the ends asked for.
fn sizes() -> Vec<(u16, u16)> {
    let wide = [0, 1, 2, 3, 9, 10, 11, 39, 40, 41, 59, 60, 71, 72, 73, 79, 80, 100, 120, 160, 300];
    let high = [0, 1, 2, 3, 9, 10, 11, 17, 18, 20, 23, 24, 25, 30, 40, 50, 100];
    wide.iter().flat_map(|wide| high.iter().map(move |high| (*wide, *high))).collect()
}

/// Draws without storing; a buffer of no cells is drawn on as well.
fn draw(desk: &mut Desk, size: (u16, u16)) {
    desk.size(size);
    let area = ratatui::layout::Rect::new(0, 0, size.0, size.1);
    let mut buffer = ratatui::buffer::Buffer::empty(area);
    let cursor = scantling::tui::view::draw(&desk.state, area, &mut buffer);
    assert!(cursor.is_none_or(|at| area.contains(at)), "{size:?}");
}

#[test]
fn no_size_is_too_small_or_too_large_for_any_stage() {
    let mut desk = Desk::demo("grain-store", (80, 24));
    for stage in 0..desk.state.stages() {
        desk.state.stage = stage;
        for size in sizes() {
            draw(&mut desk, size);
        }
    }
}

#[test]
fn no_size_is_wrong_for_what_lies_over_a_view() {
    for keys in ["?", "f", "w", "l", "Enter", "m", "a", "S", "x"] {
        let mut desk = Desk::demo("grain-store", (80, 24));
        desk.stage("notes").keys(keys);
        for size in sizes() {
            draw(&mut desk, size);
        }
    }
    let mut desk = Desk::demo("grain-store", (80, 24));
    desk.stage("bench").keys("Enter");
    assert!(desk.state.bench.large);
    for size in sizes() {
        draw(&mut desk, size);
    }
}

#[test]
fn a_terminal_that_is_too_small_is_told_so() {
    let mut desk = Desk::demo("grain-store", (39, 9));
    assert!(desk.picture().contains("needs 40 by 10"), "{}", desk.picture());
    desk.size((40, 10));
    assert!(!desk.picture().contains("needs 40 by 10"));
}

#[test]
fn a_resize_keeps_place_and_mark() {
    let mut desk = Desk::demo("grain-store", (80, 24));
    desk.stage("notes").keys("Down Down Down");
    let before = (desk.state.stage, desk.state.spot().cloned().map(|spot| (spot.table, spot.row)));
    for size in [(0, 0), (40, 10), (300, 100), (80, 24)] {
        desk.size(size);
    }
    let after = (desk.state.stage, desk.state.spot().cloned().map(|spot| (spot.table, spot.row)));
    assert_eq!(before, after);
}

#[test]
fn sixty_by_twenty_has_every_stage() {
    let mut desk = Desk::demo("grain-store", (60, 20));
    for stage in 0..desk.state.stages() {
        desk.state.stage = stage;
        desk.size((60, 20));
        let name: String = State::stage_name(stage).chars().take(2).collect();
        assert!(desk.shows(&name), "{}", desk.picture());
    }
}
