//! The picture of a photograph: marks set and moved by keys and by mouse, the
//! lengths beside it, how it comes to terminals of each kind.

use crossterm::event::KeyCode;
use scantling::job::photo::Photo;
use scantling::tui::action::{Action, Key};
use scantling::tui::picture::{Ink, Print};
use scantling::tui::pixels::{Protocol, Real, Shown};
use scantling::tui::screen::photo::sight;
use scantling::tui::state::{Over, State};
use scantling::tui::view::palette::{Depth, Look};
use scantling::tui::view::panes::POLE;

use crate::desk::Desk;

fn at_picture(job: &str, size: (u16, u16)) -> Desk {
    let mut desk = Desk::demo(job, size);
    desk.stage("photo").keys("Enter");
    assert!(desk.state.photos.open, "{}", desk.picture());
    desk
}

fn photo(desk: &Desk) -> &Photo {
    desk.state.document.job().photos.first().expect("a photograph")
}

fn cross(desk: &Desk) -> [f64; 2] {
    sight(&desk.state).expect("a sight").cross
}

/// The cell on which a place of the picture is drawn.
fn cell(desk: &Desk, place: [f64; 2]) -> (u16, u16) {
    let drawn = desk.state.photos.drawn.iter().find_map(|one| one.part).expect("a drawing");
    let [x, y] = drawn.inside(place).expect("inside").map(|c| u16::try_from(c).expect("a cell"));
    (x + POLE, y + 1)
}

#[test]
fn the_picture_at_two_sizes() {
    for size in [(80, 24), (120, 40)] {
        for job in ["creamery", "river-cannery"] {
            let mut desk = at_picture(job, size);
            // Signs of different weight can be read in a stored picture.
            desk.state.look = Look { depth: Depth::None, ..Look::default() };
            let name = format!("picture-{job}-{}x{}", size.0, size.1);
            insta::assert_snapshot!(name, desk.picture());
        }
    }
    let mut desk = at_picture("creamery", (80, 24));
    desk.state.look = Look { depth: Depth::None, ..Look::default() };
    desk.keys("Tab + + + w");
    insta::assert_snapshot!("picture-close-80x24", desk.picture());
}

/// The width of the door's neighbour follows its corner at once, and undo
/// brings it back.
#[test]
fn a_corner_is_moved_and_the_lengths_follow() {
    let mut desk = at_picture("creamery", (120, 40));
    let before = desk.state.document.text().to_owned();
    let width = |desk: &Desk| {
        let picture = desk.picture();
        let row = picture.lines().find(|line| line.contains("up1:width")).expect("a row");
        // The row pointed at has a sign behind it.
        row.split("up1:width").nth(1).expect("a value").replace('<', "").trim().to_owned()
    };
    let first = width(&desk);
    // The corners of the door come first: four, then up1.
    desk.keys("Tab Tab Tab Tab Tab Tab");
    assert_eq!(desk.state.said, "up1_tr");
    desk.keys("Enter");
    assert!(desk.shows("holding up1_tr"), "{}", desk.picture());
    let start = cross(&desk);
    desk.keys("Right Right Right Right");
    assert!((cross(&desk)[0] - start[0] - 4.0).abs() < 0.3, "four steps of a pixel");
    let held = width(&desk);
    assert_ne!(held, first, "the length follows while the mark is held");
    assert!(desk.shows("as held") && desk.state.document.text() == before);
    desk.keys("Enter");
    assert!(desk.state.document.is_changed() && !desk.shows("as held"));
    assert_eq!(width(&desk), held, "put down, it stays");
    assert!((photo(&desk).rects[1].corners[1][0] - cross(&desk)[0]).abs() < 1e-9);
    desk.keys("u");
    assert_eq!(desk.state.document.text(), before);
    assert_eq!(width(&desk), first);
    desk.keys("r");
    assert_eq!(width(&desk), held);
}

#[test]
fn the_cross_hair_goes_in_steps_from_20_pixels_to_a_quarter() {
    let mut desk = at_picture("creamery", (80, 24));
    let start = cross(&desk);
    desk.keys(", , , , Right");
    assert!((cross(&desk)[0] - start[0] - 20.0).abs() < 0.3);
    desk.keys(". . . . . . . . Left Down");
    assert!((cross(&desk)[0] - start[0] - 19.75).abs() < 0.3);
    assert!(desk.shows("step 0.25 px"), "{}", desk.picture());
    // One pixel to the cell, and eight cells to the pixel.
    desk.keys("+ + + + +");
    assert!((sight(&desk.state).expect("a sight").zoom - 1.0).abs() < 1e-9);
    desk.keys("+ + + + + +");
    assert!((sight(&desk.state).expect("a sight").zoom - 0.125).abs() < 1e-9);
    desk.keys("a");
    assert!(sight(&desk.state).expect("a sight").zoom > 10.0);
}

#[test]
fn a_new_photograph_is_marked_from_nothing() {
    let text = "[job]\nname = \"Shed\"\nscale = \"1:87.1\"\n";
    let mut desk = Desk::of("shed.toml", text, None, (100, 30));
    desk.stage("photo").keys("A").text("photos/C1_creamery_front.jpg").keys("Tab").text("C1");
    desk.keys("Enter");
    assert!(desk.state.photos.open && desk.shows("no lengths yet"), "{}", desk.picture());
    let to = |desk: &mut Desk, place: [f64; 2]| {
        let mut sight = sight(&desk.state).expect("a sight");
        sight.cross = place;
        desk.state.photos.sights.insert("C1".to_owned(), sight);
    };
    // The corners of the door, not in order.
    for place in [[818.4, 834.3], [753.0, 834.3], [751.4, 1011.2], [816.9, 1009.1]] {
        to(&mut desk, place);
        desk.keys("c");
    }
    assert_eq!(photo(&desk).rects.len(), 1);
    assert!((photo(&desk).rects[0].corners[0][0] - 753.0).abs() < 1e-9, "top left first");
    assert_eq!(photo(&desk).pixels, Some([1560, 1180]), "the picture's size is noted");
    for (place, key) in [([203.3, 1029.3], "l"), ([1261.6, 994.4], "l")] {
        to(&mut desk, place);
        desk.keys(key);
    }
    assert_eq!(photo(&desk).level, vec![vec!["m1".to_owned(), "m2".to_owned()]]);
    for (place, key) in [([203.3, 1029.3], "d"), ([1261.6, 994.4], "d")] {
        to(&mut desk, place);
        desk.keys(key);
    }
    assert_eq!((photo(&desk).asks.len(), photo(&desk).marks.len()), (1, 2), "marks are used again");
    desk.keys("k");
    let Some(Over::Form(form)) = desk.state.over.last() else { panic!("{}", desk.picture()) };
    assert_eq!(form.title, "Known length: r1:width");
    desk.text("3 ft").keys("Enter PageDown k").text("7 ft 6 in").keys("Enter");
    assert_eq!(photo(&desk).known.len(), 2, "{}", desk.picture());
    assert!(desk.shows("m1..m2"), "{}", desk.picture());
    to(&mut desk, [203.3, 1029.3]);
    desk.keys("x");
    assert_eq!((photo(&desk).asks.len(), photo(&desk).marks.len()), (0, 1));
    for _ in 0..12 {
        desk.keys("u");
    }
    assert_eq!(desk.state.document.text(), text, "every step can be taken back");
}

/// From the mark to the notes: the length between two marks becomes a reading
/// of a dimension that is new, one of an old dimension is switched off and on.
#[test]
fn a_length_goes_into_the_notes_at_the_mark() {
    let mut desk = at_picture("creamery", (120, 40));
    let before = desk.state.document.text().to_owned();
    for place in [[288.4, 501.8], [1209.6, 554.3]] {
        let mut sight = sight(&desk.state).expect("a sight");
        sight.cross = place;
        desk.state.photos.sights.insert("C1".to_owned(), sight);
        desk.keys("d");
    }
    assert!(desk.state.said.ends_with("t takes it into the notes"), "{}", desk.state.said);
    desk.keys("t");
    let Some(Over::Form(form)) = desk.state.over.last() else { panic!("{}", desk.picture()) };
    assert_eq!(form.title, "up1_tl..up7_tr into the notes");
    desk.text("windows");
    assert!(desk.shows("windows is a new dimension"), "{}", desk.picture());
    desk.keys("Tab").text("level").keys("Enter");
    let job = desk.state.document.job();
    assert!(job.dimensions.iter().any(|dimension| dimension.name == "windows"));
    let id = "C1 up1_tl..up7_tr:level";
    let ask = |desk: &Desk| {
        let job = desk.state.document.job();
        let (_, ask) = job.photo_reading(id).expect("a reading");
        (ask.off, ask.off_reason.clone())
    };
    assert_eq!(ask(&desk), (false, String::new()));
    assert!(desk.shows("windows = up1_tl..up"), "{}", desk.picture());
    let plan = desk.state.plan.as_ref().expect("a plan");
    let found = plan.survey.dimension("windows").and_then(|one| one.measured.clone());
    let feet = found.expect("measured by the picture").value.in_feet();
    assert!((feet - 42.0).abs() < 1.5, "six bays and a window: {feet}");
    desk.keys("i").text("a curtain in the way").keys("Enter");
    assert_eq!(ask(&desk), (true, "a curtain in the way".to_owned()));
    assert!(desk.shows("off: windows = up1"), "{}", desk.picture());
    desk.keys("i");
    assert_eq!(ask(&desk), (false, String::new()));
    desk.keys("u u u u");
    assert_eq!(desk.state.document.text(), before);
    desk.keys("t").text("no such thing + front").keys("Enter");
    assert!(desk.shows("cannot read") || desk.shows("there is no dimension"), "{}", desk.picture());
}

/// What stands in front, what is alike, what kind of picture it is: each a form
/// and one step back; corners set right by a key.
#[test]
fn planes_likeness_and_the_kind_of_picture_are_on_keys() {
    let mut desk = at_picture("creamery", (120, 40));
    let before = desk.state.document.text().to_owned();
    desk.keys("Tab f").text("1 ft").keys("Tab").text("2 in").keys("Enter");
    assert_eq!(photo(&desk).planes.len(), 1 + before.matches("[[photo.plane]]").count().min(1));
    desk.keys("u =").text("up3:width").keys("Tab").text("12/12").keys("Enter");
    assert!(photo(&desk).alike.iter().any(|alike| alike.to == "up3:width"), "{}", desk.picture());
    desk.keys("u y");
    assert!(desk.shows("What picture is C1?") && desk.shows("print"), "{}", desk.picture());
    desk.keys("Esc");
    assert_eq!(desk.state.document.text(), before);
    let crossed =
        before.replacen("[[753.0, 834.3], [818.4, 834.3]", "[[818.4, 834.3], [753.0, 834.3]", 1);
    let mut desk = Desk::of("crossed.toml", &crossed, None, (120, 40));
    desk.stage("photo").keys("Enter");
    desk.state.photos.chosen = Some("C1".to_owned());
    desk.keys("g");
    assert!((photo(&desk).rects[0].corners[0][0] - 753.0).abs() < 1e-9, "{}", desk.state.said);
    desk.keys("g");
    assert!(desk.state.said.contains("in order"), "{}", desk.state.said);
}

#[test]
fn a_bad_mark_is_named_and_offered_for_marking_again() {
    let mut desk = at_picture("river-cannery", (120, 40));
    desk.keys("Tab Tab Enter").keys(", , , ,").keys("Right Enter");
    let picture = desk.picture();
    assert!(picture.contains("n: door5_bl lies 2"), "{picture}");
    desk.keys("n");
    assert!(desk.state.photos.held.is_some(), "{}", desk.picture());
}

#[test]
fn marks_go_to_the_edges_in_one_step_and_back() {
    let mut desk = at_picture("river-cannery", (100, 30));
    let before = desk.state.document.text().to_owned();
    desk.keys("e");
    assert!(desk.state.said.contains("stay"), "{}", desk.state.said);
    if desk.state.document.is_changed() {
        desk.keys("u");
    }
    assert_eq!(desk.state.document.text(), before);
}

#[test]
fn all_of_it_by_mouse() {
    let mut desk = at_picture("creamery", (120, 40));
    let corner = photo(&desk).rects[3].corners[0];
    let (x, y) = cell(&desk, corner);
    desk.act(Action::Click(x, y));
    let held = desk.state.photos.held.clone().expect("a click takes hold of a mark");
    desk.act(Action::Click(x + 2, y));
    assert!(desk.state.photos.held.is_none() && desk.state.document.is_changed(), "{held}");
    desk.keys("u");
    desk.act(Action::Click(20, 30));
    let before = photo(&desk).marks.len();
    desk.act(Action::Click(20, 30));
    assert_eq!(photo(&desk).marks.len(), before + 1, "twice on one place puts a mark");
    let zoom = sight(&desk.state).expect("a sight").zoom;
    desk.act(Action::Wheel(-3));
    assert!(sight(&desk.state).expect("a sight").zoom < zoom);
    // The second word of the bottom line is the corner.
    let at = desk.picture().lines().last().expect("keys").find("c corner").expect("the key");
    desk.act(Action::Click(u16::try_from(at).expect("a column"), 39));
    assert_eq!(desk.state.photos.corners.len(), 1);
    desk.keys("Esc Esc");
    assert!(!desk.state.photos.open);
    desk.act(Action::Click(20, 4));
    assert!(desk.state.photos.open, "a click on the picture opens it");
}

#[test]
fn other_photographs_are_gone_through_and_one_that_is_missing_is_said() {
    let mut desk = at_picture("creamery", (80, 24));
    desk.keys("o");
    assert_eq!(desk.state.photos.chosen.as_deref(), Some("C2"));
    desk.keys("Esc A").text("gone.jpg").keys("Enter");
    assert!(desk.shows("gone.jpg"), "{}", desk.picture());
    assert!(desk.state.photos.drawn.is_empty() || !desk.shows("holding"));
}

/// Half blocks in colours, signs without; nothing else changes.
#[test]
fn colours_where_there_are_some() {
    let mut desk = at_picture("creamery", (80, 24));
    assert!(desk.shows("\u{2580}\u{2580}"), "{}", desk.picture());
    for look in [
        Look { depth: Depth::None, ..Look::default() },
        Look { depth: Depth::Sixteen, ..Look::default() },
        Look { ascii: true, ..Look::default() },
    ] {
        desk.state.look = look;
        assert!(!desk.shows("\u{2580}"), "{look:?}");
        assert!(desk.shows("up1:width"), "{}", desk.picture());
    }
}

#[test]
fn real_pixels_in_the_terminals_own_protocol() {
    for (protocol, sign) in [
        (Protocol::Kitty, "\u{1b}_Ga=t,f=100"),
        (Protocol::Sixel, "\u{1b}P0;1;0q"),
        (Protocol::Iterm, "1337;File"),
    ] {
        let mut desk = Desk::demo("creamery", (80, 24));
        let real = Real { protocol, cell: [8, 16], most: None };
        desk.state.photos.print = Print::Pixels(real);
        desk.stage("photo").keys("Enter");
        let mut shown = Shown::default();
        let first = shown.update(&desk.state, &desk.buffer());
        assert!(first.contains(sign), "{protocol:?}");
        assert!(desk.shows("up1:width"));
        // What stands is not sent again.
        assert_eq!(shown.update(&desk.state, &desk.buffer()), "");
        // Help over the picture: only a protocol with layers has to move.
        desk.keys("?");
        let over = shown.update(&desk.state, &desk.buffer());
        assert_eq!(over.contains("a=p"), protocol == Protocol::Kitty, "{over}");
        assert!(!over.contains("a=t") && over.len() < 1000, "the picture is not sent again");
        desk.keys("Esc");
        let back = shown.update(&desk.state, &desk.buffer());
        assert_eq!(back.contains(sign), protocol != Protocol::Kitty, "{protocol:?}");
        // Another view: it goes away.
        desk.keys("Esc Tab Tab");
        let gone = shown.update(&desk.state, &desk.buffer());
        assert_eq!(gone.contains("a=d,d=I"), protocol == Protocol::Kitty, "{gone}");
    }
}

#[test]
fn a_picture_larger_than_the_terminal_takes_is_said() {
    let mut desk = Desk::demo("creamery", (80, 24));
    let real = Real { protocol: Protocol::Sixel, cell: [8, 16], most: Some([100, 100]) };
    desk.state.photos.print = Print::Pixels(real);
    desk.stage("photo").keys("Enter");
    let drawn = &desk.state.photos.drawn[0];
    assert!(matches!(&drawn.ink, Err(said) if said.contains("100 by 100")));
    assert!(!matches!(drawn.ink, Ok(Ink::Encoded(_))));
}

/// Keys that mean the same everywhere still do.
#[test]
fn the_way_out_is_one_step_at_a_time() {
    let mut desk = at_picture("creamery", (80, 24));
    desk.keys("c Enter");
    assert_eq!(desk.state.photos.corners.len(), 2, "Enter goes on with the rectangle");
    desk.keys("u");
    assert_eq!(desk.state.photos.corners.len(), 1);
    desk.keys("Esc");
    assert!(desk.state.photos.corners.is_empty() && desk.state.photos.open);
    desk.act(Action::Key(Key::plain(KeyCode::Esc)));
    assert!(!desk.state.photos.open);
    desk.keys("BackTab");
    assert_eq!(State::stage_name(desk.state.stage), "notes");
}
