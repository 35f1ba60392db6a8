//! Work on pictures on a thread of its own. Of drawings and trials that wait
//! only the last is done: the others are stale.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::mpsc::{Sender, channel};
use std::thread;

use super::Wake;
use super::worker::fault;
use crate::tui::effect::Answer;
use crate::tui::picture::{Task, work};

/// The thread for pictures. Dropping it ends it without waiting.
pub(super) struct PictureWork {
    asks: Sender<Task>,
}

impl PictureWork {
    /// Starts it; answers go to the queue.
    pub(super) fn start(queue: Sender<Wake>) -> Self {
        let (asks, todo) = channel();
        thread::spawn(move || {
            while let Ok(first) = todo.recv() {
                let waiting = std::iter::once(first).chain(todo.try_iter()).collect();
                for task in fresh(waiting) {
                    let news = catch_unwind(AssertUnwindSafe(|| work(task)));
                    let answer = match news {
                        Ok(news) => Answer::Picture(news),
                        Err(cause) => Answer::Failed(fault(&*cause)),
                    };
                    if queue.send(Wake::Answer(answer)).is_err() {
                        return;
                    }
                }
            }
        });
        Self { asks }
    }

    /// Asks for a task.
    pub(super) fn ask(&self, task: Task) {
        // The thread ends only with this value.
        let _ = self.asks.send(task);
    }
}

/// Tasks without drawings and trials that a later one replaces.
fn fresh(tasks: Vec<Task>) -> Vec<Task> {
    let last = |of: fn(&Task) -> bool| tasks.iter().rposition(of);
    let is_draw = |task: &Task| matches!(task, Task::Draw(_));
    let is_try = |task: &Task| matches!(task, Task::Try { .. });
    let (draw, trial) = (last(is_draw), last(is_try));
    let keep = |at: usize, task: &Task| match task {
        Task::Draw(_) => Some(at) == draw,
        Task::Try { .. } => Some(at) == trial,
        Task::Open { .. } | Task::Refine { .. } => true,
    };
    tasks.into_iter().enumerate().filter(|(at, task)| keep(*at, task)).map(|(_, t)| t).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_the_last_trial_is_done_and_every_picture_is_opened() {
        let text = "[job]\nname = \"a\"\nscale = \"1:48\"\n\
                    [[photo]]\nid = \"P\"\nfile = \"p.jpg\"\n";
        let job: crate::job::Job = text.parse().expect("a job");
        let photos = std::sync::Arc::new(job.photos);
        let trial = |number| Task::Try { number, id: "P".to_owned(), photos: photos.clone() };
        let open = || Task::Open { job: None, file: "p.jpg".to_owned() };
        let left = fresh(vec![trial(1), open(), trial(2), open(), trial(3)]);
        assert_eq!(left.len(), 3);
        assert!(matches!(left.last(), Some(Task::Try { number: 3, .. })));
    }
}
