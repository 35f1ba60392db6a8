//! What a person does, step by step.

use scantling::tui::action::Action;
use scantling::tui::effect::Effect;
use scantling::tui::state::{Over, State};

use crate::desk::Desk;

fn at_notes() -> Desk {
    let mut desk = Desk::demo("grain-store", (100, 30));
    desk.stage("notes");
    desk
}

#[test]
fn a_length_typed_at_the_bench_is_answered_at_once() {
    let mut desk = Desk::demo("grain-store", (80, 24));
    desk.stage("bench").text("8 ft");
    assert!(desk.shows("2\""), "{}", desk.picture());
    assert!(desk.shows("50.80 mm"), "{}", desk.picture());
}

#[test]
fn a_figure_typed_on_a_view_goes_to_the_bench() {
    let mut desk = Desk::demo("grain-store", (80, 24));
    desk.stage("faces").text("9");
    assert_eq!(State::stage_name(desk.state.stage), "bench");
    desk.text(" ft");
    assert!(desk.shows("2 1/4\""), "{}", desk.picture());
}

#[test]
fn a_figure_typed_on_a_reading_begins_it_anew() {
    let mut desk = at_notes();
    desk.row("D3-left").text("7");
    let Some(Over::Form(form)) = desk.state.over.last() else { panic!("{}", desk.picture()) };
    assert_eq!(form.fields[0].input.value(), "7");
}

/// The blunder of the grain store, mended: nothing is set aside any more.
#[test]
fn a_mended_reading_acts_at_once_and_can_be_taken_back() {
    let mut desk = at_notes();
    assert!(desk.shows("1 set aside"), "{}", desk.picture());
    desk.row("D3-left").keys("Enter").retype("792.5 in").keys("Enter");
    assert!(desk.shows("0 set aside"), "{}", desk.picture());
    assert!(desk.state.document.is_changed());
    desk.keys("u");
    assert!(desk.shows("1 set aside"), "{}", desk.picture());
    assert!(!desk.state.document.is_changed());
    desk.keys("r");
    assert!(desk.shows("0 set aside"), "{}", desk.picture());
}

#[test]
fn a_value_that_cannot_be_read_keeps_the_form_open() {
    let mut desk = at_notes();
    desk.row("D3-left").keys("Enter").retype("about nine").keys("Enter");
    let Some(Over::Form(form)) = desk.state.over.last() else { panic!("{}", desk.picture()) };
    assert!(!form.trouble.is_empty());
    assert!(!desk.state.document.is_changed());
}

#[test]
fn a_reading_is_switched_off_with_a_reason_and_on_again() {
    let mut desk = at_notes();
    desk.row("D3-left").keys("x Enter");
    assert!(matches!(desk.state.over.last(), Some(Over::Form(_))), "a reason is asked for");
    desk.text("a foot too long").keys("Enter");
    let off = |desk: &Desk| {
        let readings = &desk.state.document.job().readings;
        readings.iter().any(|reading| reading.id == "D3-left" && reading.off)
    };
    assert!(off(&desk));
    desk.row("D3-left").keys("x");
    assert!(!off(&desk));
}

#[test]
fn a_hundred_edits_can_be_taken_back() {
    let mut desk = at_notes();
    desk.idle = true;
    let before = desk.state.document.text().to_owned();
    for n in 0..120 {
        desk.row("D1-left").keys("Enter").retype(&format!("{}.25 in", 90 + n % 7)).keys("Enter");
    }
    for _ in 0..120 {
        desk.keys("u");
    }
    assert_eq!(desk.state.document.text(), before);
}

#[test]
fn why_leads_to_the_reading_and_back_again() {
    let mut desk = Desk::demo("grain-store", (100, 30));
    desk.stage("faces");
    desk.row("module#1/door-window");
    let from = desk.state.spot().cloned();
    desk.keys("w");
    let at = match desk.state.over.last() {
        Some(Over::List(list)) => {
            list.lines.iter().position(|line| line.text.contains("reading W1-left"))
        }
        _ => None,
    };
    for _ in 0..at.expect("the chain ends at its readings") {
        desk.keys("Down");
    }
    desk.keys("Enter");
    assert_eq!(State::stage_name(desk.state.stage), "notes");
    assert!(desk.state.row().is_some_and(|row| row.texts.contains(&"W1-left".to_owned())));
    desk.keys("Backspace");
    assert_eq!(State::stage_name(desk.state.stage), "faces");
    assert_eq!(desk.state.spot().cloned(), from);
}

#[test]
fn escape_backs_out_one_step_at_a_time() {
    let mut desk = at_notes();
    desk.keys("?");
    desk.keys("Esc");
    assert!(desk.state.over.is_empty());
    desk.keys("/").text("W1").keys("Enter");
    assert_eq!(desk.state.spot().map(|spot| spot.filter.as_str()), Some("W1"));
    desk.keys("Esc");
    assert_eq!(desk.state.spot().map(|spot| spot.filter.as_str()), Some(""));
}

#[test]
fn leaving_asks_only_when_something_is_not_saved() {
    let mut desk = at_notes();
    desk.keys("q");
    assert!(matches!(desk.outside.last(), Some(Effect::Quit)));
    let mut desk = at_notes();
    desk.row("D1-left").keys("Enter").retype("96.5 in").keys("Enter q");
    assert!(desk.outside.is_empty(), "it asks first");
    desk.keys("Esc");
    assert!(desk.state.over.is_empty() && desk.outside.is_empty());
    desk.keys("q d");
    assert!(matches!(desk.outside.last(), Some(Effect::Quit)));
}

#[test]
fn a_job_is_saved_under_a_name_and_never_over_another() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("store.toml");
    let mut desk = at_notes();
    desk.row("D1-left").keys("Enter").retype("96.5 in").keys("Enter s");
    desk.retype(&path.display().to_string()).keys("Enter");
    let saved = std::fs::read_to_string(&path).expect("the job is on disk");
    assert_eq!(saved, desk.state.document.text());
    assert!(!desk.state.document.is_changed());
    // Somebody else changes the file.
    std::fs::write(&path, "other").expect("the file can be changed");
    desk.row("D1-left").keys("Enter").retype("96 in").keys("Enter s");
    assert!(desk.shows("Changed on disk by another program"), "{}", desk.picture());
    assert_eq!(std::fs::read_to_string(&path).expect("still there"), "other");
}

#[test]
fn work_is_kept_until_it_is_saved() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("store.toml");
    let text = scantling::job::demo::DEMOS[0].text;
    std::fs::write(&path, text).expect("a job on disk");
    let mut desk = Desk::of("store.toml", text, Some(path.clone()), (100, 30));
    desk.stage("notes").row("D1-left").keys("Enter").retype("96.5 in").keys("Enter");
    let kept = scantling::job::store::find_recovery(&path, text).expect("unsaved work is kept");
    assert_eq!(kept, desk.state.document.text());
    desk.keys("s");
    assert_eq!(scantling::job::store::find_recovery(&path, text), None);
}

#[test]
fn the_finder_goes_to_a_stage_and_does_an_action() {
    let mut desk = at_notes();
    desk.keys("f").text("faces").keys("Enter");
    assert_eq!(State::stage_name(desk.state.stage), "faces");
    desk.keys("f").text("palette").keys("Enter");
    assert_eq!(desk.state.look.ground, scantling::tui::view::palette::Ground::Light);
}

#[test]
fn a_drawing_marks_the_element_of_the_row() {
    let mut desk = Desk::demo("grain-store", (100, 30));
    desk.stage("faces");
    let plain = desk.picture();
    desk.row("office-left");
    assert_ne!(drawing(&plain), drawing(&desk.picture()));
}

fn drawing(picture: &str) -> String {
    picture.lines().take(10).collect()
}

/// The alternatives of a stage, as keys, in the order shown.
fn alternatives(desk: &Desk) -> Vec<String> {
    let plan = desk.state.plan.as_ref().expect("a plan");
    let found = plan.compress.as_ref().expect("alternatives");
    found.alternatives.iter().filter(|one| one.is_offered()).map(|one| one.key.clone()).collect()
}

#[test]
fn an_alternative_is_chosen_with_a_reason_and_taken_back() {
    let mut desk = Desk::demo("grain-store", (100, 30));
    desk.stage("compress");
    let second = alternatives(&desk)[1].clone();
    desk.subject_row(&scantling::finding::Subject::Alternative(second.clone()));
    assert!(desk.shows("this one"), "it is drawn before it is chosen:\n{}", desk.picture());
    desk.keys("Enter Enter");
    assert!(desk.state.document.job().choice.is_none(), "a reason is asked for");
    desk.text("the long wall reads best").keys("Enter");
    let choice = desk.state.document.job().choice.as_ref().expect("a choice");
    assert_eq!(choice.reason, "the long wall reads best");
    let plan = desk.state.plan.as_ref().expect("a plan");
    assert!(plan.compress.as_ref().expect("still fits").is_chosen);
    desk.keys("u");
    assert!(desk.state.document.job().choice.is_none());
}

#[test]
fn what_cannot_be_built_cannot_be_chosen() {
    let mut desk = Desk::demo("grain-store", (100, 30));
    desk.stage("compress");
    let refused = {
        let plan = desk.state.plan.as_ref().expect("a plan");
        let found = plan.compress.as_ref().expect("alternatives");
        found.alternatives.iter().find(|one| !one.is_offered()).map(|one| one.key.clone())
    };
    let Some(refused) = refused else { return };
    desk.subject_row(&scantling::finding::Subject::Alternative(refused));
    desk.keys("Enter").text("because").keys("Enter");
    assert!(desk.state.document.job().choice.is_none());
    let Some(Over::Form(form)) = desk.state.over.last() else { panic!("{}", desk.picture()) };
    assert!(!form.trouble.is_empty());
}

#[test]
fn a_part_is_ticked_and_says_why_it_has_its_size() {
    let mut desk = Desk::demo("grain-store", (100, 30));
    desk.stage("takeoff");
    let label = {
        let plan = desk.state.plan.as_ref().expect("a plan");
        plan.takeoff.as_ref().expect("parts").parts[0].label.clone()
    };
    desk.subject_row(&scantling::finding::Subject::Part(label.clone()));
    desk.keys("w");
    let Some(Over::List(list)) = desk.state.over.last() else { panic!("{}", desk.picture()) };
    assert!(list.lines.iter().any(|line| line.text.contains("over 1:48")), "{list:?}");
    desk.keys("Esc Enter");
    assert_eq!(desk.state.document.job().done.len(), 1, "{label} is cut");
    desk.keys("Enter Enter Enter");
    assert!(desk.state.document.job().done.is_empty(), "after fitted comes nothing");
}

/// A reading every two seconds: a figure and Enter, the rest is carried on.
#[test]
fn readings_are_entered_one_a_line() {
    let mut desk = at_notes();
    let before = desk.state.document.job().readings.len();
    desk.keys("a").text("d1_left = 8 ft 0 1/8 in");
    assert!(desk.shows("the others say"), "{}", desk.picture());
    desk.keys("Enter");
    let Some(Over::Form(form)) = desk.state.over.last() else { panic!("{}", desk.picture()) };
    assert!(form.fields[0].input.value().is_empty(), "the line is free for the next");
    assert!(form.preview.iter().any(|line| line.contains("in, ")), "{:?}", form.preview);
    desk.text("14 ft").keys("Enter");
    let readings = &desk.state.document.job().readings;
    assert_eq!(readings.len(), before + 2);
    let last = readings.last().expect("a reading");
    assert_eq!(last.of.to_string(), "d1_right", "the dimension after the last");
    assert_eq!(last.source, readings[before].source);
    desk.keys("Enter");
    assert!(desk.state.over.is_empty(), "an empty line ends");
    desk.keys("u u");
    assert_eq!(desk.state.document.job().readings.len(), before);
}

#[test]
fn a_pasted_column_is_one_step() {
    let mut desk = at_notes();
    let before = desk.state.document.job().readings.len();
    let paste = |desk: &mut Desk, text: &str| desk.act(Action::Paste(text.to_owned()));
    desk.keys("a");
    paste(&mut desk, "d1_left\t96 in\r\nd1_right\t192 in\r\n+ porch\t6 ft\r\n");
    assert_eq!(desk.state.document.job().readings.len(), before + 3);
    paste(&mut desk, "d1_left\t96 in\nnobody\t1 ft\n");
    let Some(Over::Form(form)) = desk.state.over.last() else { panic!("{}", desk.picture()) };
    assert!(form.trouble.contains("line 2"), "{}", form.trouble);
    desk.keys("Esc u");
    assert_eq!(desk.state.document.job().readings.len(), before);
    assert!(!desk.state.document.is_changed());
}

#[test]
fn a_round_figure_is_offered_and_adopted_as_an_assumption() {
    let text = "[job]\nname = \"made up\"\nscale = \"1:48\"\n[[dimension]]\nname = \"wall\"\n\
                [[reading]]\nid = \"a\"\nof = \"wall\"\nmethod = \"tape\"\nvalue = \"30 ft 0 1/8 in\"\n";
    let mut desk = Desk::of("made up", text, None, (100, 30));
    desk.stage("notes").row("wall").keys("Enter");
    assert!(desk.shows("Proposed, as an assumption"), "{}", desk.picture());
    desk.keys("Enter");
    let wall = desk.state.document.job().dimensions[0].clone();
    assert_eq!(wall.adopt.map(|said| said.length().in_feet().round()), Some(30.0));
    assert!(wall.reason.starts_with("assumed: 30 of 1 ft"), "{}", wall.reason);
    desk.keys("u");
    assert!(desk.state.document.job().dimensions[0].adopt.is_none());
}

#[test]
fn proud_uncertainties_are_broadened_and_narrow_again() {
    let values = ["30 ft", "30 ft 1/2 in", "29 ft 11 1/2 in", "30 ft 1/2 in", "29 ft 11 1/2 in"];
    let mut text =
        "[job]\nname = \"made up\"\nscale = \"1:48\"\n[[dimension]]\nname = \"wall\"\n".to_owned();
    for (at, value) in values.iter().enumerate() {
        text += &format!(
            "[[reading]]\nid = \"r{at}\"\nof = \"wall\"\nmethod = \"tape\"\nvalue = \"{value} ± 1/4 in\"\n"
        );
    }
    let mut desk = Desk::of("made up", &text, None, (100, 30));
    desk.stage("notes").keys("B");
    assert!(desk.shows("scatter more than they say"), "{}", desk.picture());
    desk.keys("Enter");
    let chi_square = |desk: &Desk| {
        let plan = desk.state.plan.clone().expect("a plan");
        let network = &plan.survey.networks[0];
        network.chi_square / network.degrees as f64
    };
    assert!((chi_square(&desk) - 1.0).abs() < 0.02, "{}", chi_square(&desk));
    desk.keys("u");
    assert!(chi_square(&desk) > 2.0);
}

/// The lesson of the grain store: its track picture convicts the bad reading.
#[test]
fn a_length_of_a_photograph_is_switched_on_in_the_notes() {
    let mut desk = at_notes();
    desk.row("B2 door3:width").keys("x");
    let on = |desk: &Desk| {
        let found = desk.state.document.job().photo_reading("B2 door3:width");
        found.is_some_and(|(_, ask)| !ask.off)
    };
    assert!(on(&desk), "{}", desk.picture());
    desk.keys("u");
    assert!(!on(&desk));
}

/// What a person does before the first cut: look at a page, print, measure the
/// bars, have it corrected, take that back.
#[test]
fn a_print_is_checked_and_taken_back() {
    let mut desk = Desk::demo("grain-store", (100, 30));
    desk.stage("templates");
    assert!(desk.shows("The print is not checked"), "{}", desk.picture());
    desk.keys("g").text("3.98 in").keys("Tab").text("97 mm").keys("Enter");
    let Some(Over::Form(form)) = desk.state.over.last() else { panic!("{}", desk.picture()) };
    assert!(form.trouble.contains("disagree"), "{}", form.trouble);
    desk.retype("99.6 mm").keys("Enter");
    assert!(desk.shows("Corrected for a printer"), "{}", desk.picture());
    let check = desk.state.document.job().paper.check().unwrap();
    assert!((check.across - 0.995).abs() < 1e-9 && (check.up - 0.996).abs() < 1e-9);
    desk.keys("u");
    assert!(desk.shows("The print is not checked"), "{}", desk.picture());
}

#[test]
fn templates_are_written_and_never_over_a_file_unasked() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("shed.pdf");
    let name = file.display().to_string();
    let mut desk = Desk::demo("grain-store", (100, 30));
    desk.stage("templates").keys("Enter").retype(&name).keys("Enter");
    assert!(desk.state.said.contains(&name), "{}", desk.state.said);
    assert!(std::fs::read(&file).unwrap().starts_with(b"%PDF"));
    std::fs::write(&file, "mine").unwrap();
    desk.keys("W").retype(&name).keys("Enter");
    let Some(Over::Form(form)) = desk.state.over.last() else { panic!("{}", desk.picture()) };
    assert!(form.trouble.contains("already there"), "{}", form.trouble);
    assert_eq!(std::fs::read(&file).unwrap(), b"mine");
    desk.keys("Tab Tab").retype("yes").keys("Enter");
    assert!(std::fs::read(&file).unwrap().starts_with(b"%PDF"));
}

#[test]
fn the_page_marked_is_drawn() {
    let mut desk = Desk::demo("grain-store", (80, 24));
    desk.stage("templates").keys("Down Down");
    assert!(desk.shows("page 4 of"), "{}", desk.picture());
    let before = desk.picture();
    desk.keys("Down");
    assert_ne!(before, desk.picture());
}

/// On the table: a size is typed in, the difference marked, taken back with its
/// reason, seen in the record, and undone by name.
#[test]
fn a_size_of_the_mock_up_is_taken_back_and_undone() {
    let mut desk = Desk::demo("grain-store", (100, 30));
    let depth = |desk: &Desk| {
        let plan = desk.state.plan.as_ref().unwrap();
        plan.mock_up.as_ref().unwrap().get("depth").unwrap().planned.in_inches()
    };
    desk.stage("mockup").row("depth").keys("Enter").text("4.25 in");
    let Some(Over::Form(form)) = desk.state.over.last() else { panic!("{}", desk.picture()) };
    assert!(form.preview.iter().any(|line| line.contains("over the tolerance")), "{form:?}");
    desk.keys("Enter");
    assert!(desk.shows("over tolerance"), "{}", desk.picture());
    desk.row("depth").keys("t");
    assert!(desk.shows("what is built follows"), "{}", desk.picture());
    desk.retype("measured on the mock-up: out of reach").keys("Enter");
    assert!((depth(&desk) - 4.25).abs() < 1e-6, "{}", desk.picture());
    assert!(desk.shows("was 7.500 in, taken back"), "{}", desk.picture());
    let job = desk.state.document.job();
    assert_eq!(job.choice.as_ref().unwrap().depth.as_ref().unwrap().text(), "17 ft");
    desk.stage("record");
    let view = desk.state.view().unwrap();
    let table = view.tables.iter().find(|table| table.title.starts_with("Taken back")).unwrap();
    assert!(table.rows[0].texts.last().unwrap().contains("out of reach"));
    desk.keys("u");
    assert!(desk.state.said.contains("take depth back from the mock-up"), "{}", desk.state.said);
    assert!((depth(&desk) - 7.5).abs() < 1e-6);
}

#[test]
fn a_size_that_was_not_measured_is_not_taken_back() {
    let mut desk = Desk::demo("grain-store", (100, 30));
    desk.stage("mockup").row("depth").keys("t");
    assert!(desk.state.over.is_empty(), "{}", desk.picture());
    desk.row("freight-door width").keys("Enter").text("1.9 in").keys("Enter");
    desk.row("freight-door width").keys("t");
    assert!(desk.state.over.is_empty(), "a door people touch stays full size");
}
