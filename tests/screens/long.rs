//! Long work: it begins, can be stopped, and its answers find their plan.

use scantling::job::demo;
use scantling::plan::long::{Kind, Question};
use scantling::solve::watch::Watch;
use scantling::tui::action::Action;
use scantling::tui::effect::{Answer, Effect};

use crate::desk::Desk;

/// The grain store with sixty more timbers of odd lengths: more than a quick
/// answer settles.
fn many_timbers() -> String {
    let mut text = demo::find("grain-store").expect("a built-in job").text.to_owned();
    for n in 0..60_u32 {
        let (inches, count) = (400 + n * 467 % 733, 1 + n % 4);
        text += &format!(
            "\n[[member]]\nname = \"timber-{n}\"\nlumber = \"8x8\"\n\
             length = \"{inches} in\"\ncount = {count}\n"
        );
    }
    text
}

fn desk() -> Desk {
    let mut desk = Desk::of("many.toml", &many_timbers(), None, (100, 30));
    desk.stage("layout");
    // On the way down the pole the photographs were begun; they are let go.
    let photographs = begun(&desk);
    assert_eq!(photographs.kind, Kind::Photographs);
    work(&mut desk, &photographs, true);
    desk
}

/// The question the program began to work on last.
fn begun(desk: &Desk) -> Question {
    let last = desk.outside.iter().rev().find_map(|effect| match effect {
        Effect::Long { question, .. } => Some(question.clone()),
        _ => None,
    });
    last.expect("long work has begun")
}

fn begun_times(desk: &Desk) -> usize {
    let is_layout = |effect: &&Effect| matches!(effect, Effect::Long { question, .. } if question.kind == Kind::Layout);
    desk.outside.iter().filter(is_layout).count()
}

/// Works on a question, to the end or stopped at once, and hands the answer in.
fn work(desk: &mut Desk, question: &Question, stopped: bool) {
    let answer = question.work(&mut Watch { stop: &|| stopped, tell: &mut |_| {} });
    desk.act(Action::Answer(Answer::LongDone { input: question.input, answer: Ok(answer) }));
}

#[test]
fn work_begins_when_its_view_is_seen_and_its_answer_is_shown() {
    let mut desk = desk();
    assert!(desk.shows("take at most") && desk.shows("(Esc stops)"), "{}", desk.picture());
    let question = begun(&desk);
    work(&mut desk, &question, false);
    assert!(desk.shows("proven: ") && !desk.shows("take at most"), "{}", desk.picture());
    assert!(!desk.shows("(Esc stops)"));
    assert_eq!(begun_times(&desk), 1, "what is proven is not asked again");
}

#[test]
fn esc_stops_and_the_best_so_far_stays_until_more_is_asked() {
    let mut desk = desk();
    let question = begun(&desk);
    desk.keys("Esc");
    assert!(matches!(desk.outside.last(), Some(Effect::EndLong)));
    work(&mut desk, &question, true);
    assert!(desk.shows("take at most"), "{}", desk.picture());
    assert_eq!(begun_times(&desk), 1, "stopped is stopped");
    desk.keys("b");
    assert!(matches!(desk.outside.last(), Some(Effect::Long { to_the_end: true, .. })));
}

#[test]
fn an_answer_to_what_was_is_not_shown_and_undo_finds_it_again() {
    let mut desk = desk();
    let old = begun(&desk);
    desk.keys("m").retype("1:45").keys("Enter");
    let ended = desk.outside.iter().any(|effect| matches!(effect, Effect::EndLong));
    assert!(ended, "the question is gone, and so is its work");
    assert_ne!(begun(&desk).input, old.input);
    work(&mut desk, &old, false);
    assert!(desk.shows("take at most"), "an answer for 1:48 says nothing at 1:45");
    desk.keys("u");
    assert!(!desk.shows("take at most"), "{}", desk.picture());
}
