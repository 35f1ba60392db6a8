//! Long work on a thread of its own, one question at a time.
//!
//! A new question, or the wish to end, makes the work under way stop with the
//! best it has; that answer is sent like any other. The clock is read here
//! and nowhere else: for the limit of work that began alone, and to send no
//! more news than can be read.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::mpsc::{Sender, channel};
use std::thread;
use std::time::{Duration, Instant};

use super::Wake;
use super::worker::fault;
use crate::plan::long::Question;
use crate::solve::watch::{Standing, Watch};
use crate::tui::effect::Answer;

/// How long work goes on that nobody asked for.
const ALONE: Duration = Duration::from_secs(30);
/// Between two pieces of news.
const BETWEEN: Duration = Duration::from_millis(100);

/// The thread for long work. Dropping it ends the work without waiting.
pub(super) struct LongWork {
    asks: Sender<(u64, Question, Option<Duration>)>,
    /// The number of the work wanted; any other has to end.
    wanted: Arc<AtomicU64>,
}

impl LongWork {
    /// Starts it; news and answers go to the queue.
    pub(super) fn start(queue: Sender<Wake>) -> Self {
        let (asks, todo) = channel();
        let wanted = Arc::new(AtomicU64::new(0));
        let still = wanted.clone();
        thread::spawn(move || {
            for (number, question, limit) in todo {
                work(&question, limit, &queue, &|| still.load(Ordering::Relaxed) != number);
            }
        });
        Self { asks, wanted }
    }

    /// Works on a question from now on; to the end, or for a while.
    pub(super) fn begin(&self, question: Question, to_the_end: bool) {
        let number = self.wanted.fetch_add(1, Ordering::Relaxed) + 1;
        // The thread ends only with this value.
        let _ = self.asks.send((number, question, (!to_the_end).then_some(ALONE)));
    }

    /// Ends the work under way.
    pub(super) fn end(&self) {
        self.wanted.fetch_add(1, Ordering::Relaxed);
    }
}

impl Drop for LongWork {
    fn drop(&mut self) {
        self.end();
    }
}

fn work(
    question: &Question,
    limit: Option<Duration>,
    queue: &Sender<Wake>,
    unwanted: &dyn Fn() -> bool,
) {
    let (start, input) = (Instant::now(), question.input);
    let stop = || unwanted() || limit.is_some_and(|limit| start.elapsed() >= limit);
    let mut last: Option<Instant> = None;
    let mut tell = |standing: &Standing| {
        if last.is_none_or(|last| last.elapsed() >= BETWEEN) {
            last = Some(Instant::now());
            let standing = standing.clone();
            // Nobody left to tell is no harm.
            let _ = queue.send(Wake::Answer(Answer::LongStands { input, standing }));
        }
    };
    let mut watch = Watch { stop: &stop, tell: &mut tell };
    let answer = catch_unwind(AssertUnwindSafe(|| question.work(&mut watch)));
    let answer = answer.map_err(|cause| fault(&*cause));
    let _ = queue.send(Wake::Answer(Answer::LongDone { input, answer }));
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cutting::amount::Unit;
    use crate::cutting::parts::{Steps, lay_out};
    use crate::cutting::sticks::{StickPart, StickStock};
    use crate::cutting::wanted::{SticksWanted, Wanted};
    use crate::plan::long::{Ask, InputHash, Kind};
    use crate::quantity::ModelLength;

    /// A question over so many lengths that it is not answered at once.
    fn question(input: u64) -> Question {
        let usable = ModelLength::thou(100_000.0);
        let parts = (0..200_u32).map(|n| StickPart {
            label: format!("board-{n}"),
            length: ModelLength::thou(f64::from(20_000 + 7_919 * n % 13_331)),
            quantity: 3,
        });
        let strip = StickStock {
            name: "strip".into(),
            length: usable,
            bought: usable,
            cost: 1,
            supply: None,
        };
        let wanted = Wanted {
            sticks: vec![SticksWanted {
                stock: "strip".into(),
                usable,
                bought: usable,
                kerf: ModelLength::ZERO,
                strips: vec![strip],
                parts: parts.collect(),
                unit: Unit::Count,
                made_up: None,
            }],
            sheets: Vec::new(),
        };
        let quick = lay_out(&wanted, Steps { sticks: 0, sheets: 0 });
        let ask = Ask::Layout(Arc::new(wanted), Arc::new(quick));
        Question { kind: Kind::Layout, input: InputHash(input), ask }
    }

    /// The input of the next answer.
    fn next(queue: &std::sync::mpsc::Receiver<Wake>) -> InputHash {
        loop {
            match queue.recv_timeout(Duration::from_secs(60)).expect("an answer") {
                Wake::Answer(Answer::LongDone { input, answer }) => {
                    assert!(answer.is_ok());
                    return input;
                }
                Wake::Answer(Answer::LongStands { .. }) => {}
                other => panic!("not meant for this queue: {other:?}"),
            }
        }
    }

    #[test]
    fn a_new_question_ends_the_old_and_both_are_answered_in_turn() {
        let (sender, queue) = channel();
        let long = LongWork::start(sender);
        long.begin(question(1), true);
        long.begin(question(2), true);
        assert_eq!(next(&queue), InputHash(1));
        long.end();
        assert_eq!(next(&queue), InputHash(2));
    }
}
