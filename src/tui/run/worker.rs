//! The worker: does what effects ask for, in order, while keys go on.

use std::any::Any;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::Arc;
use std::sync::mpsc::{Sender, channel};
use std::thread::{self, JoinHandle};

use super::Wake;
use crate::catalog::Catalog;
use crate::tui::effect::{Answer, Effect, perform};

/// A thread that works off effects; dropping it waits for the last.
pub(super) struct Worker {
    asks: Option<Sender<(Effect, Arc<Catalog>)>>,
    thread: Option<JoinHandle<()>>,
}

impl Worker {
    /// Starts it; answers go to the queue.
    pub(super) fn start(queue: Sender<Wake>) -> Self {
        let (asks, todo) = channel::<(Effect, Arc<Catalog>)>();
        let thread = thread::spawn(move || {
            for (effect, catalog) in todo {
                if let Some(answer) = caught(effect, &catalog) {
                    // When nobody listens any more, the rest is still done.
                    let _ = queue.send(Wake::Answer(answer));
                }
            }
        });
        Self { asks: Some(asks), thread: Some(thread) }
    }

    /// Asks for an effect, with the data of the job it is about.
    pub(super) fn ask(&self, effect: Effect, catalog: &Arc<Catalog>) {
        if let Some(asks) = &self.asks {
            // The worker ends only when it is dropped.
            let _ = asks.send((effect, catalog.clone()));
        }
    }
}

impl Drop for Worker {
    fn drop(&mut self) {
        self.asks = None;
        if let Some(thread) = self.thread.take() {
            let _ = thread.join();
        }
    }
}

/// A bug in a stage costs its answer, not the person's work.
fn caught(effect: Effect, catalog: &Catalog) -> Option<Answer> {
    catch_unwind(AssertUnwindSafe(|| perform(effect, catalog)))
        .unwrap_or_else(|cause| Some(Answer::Failed(fault(&*cause))))
}

/// What is said of a bug.
pub(super) fn fault(cause: &(dyn Any + Send)) -> String {
    let said = cause
        .downcast_ref::<String>()
        .map(String::as_str)
        .or_else(|| cause.downcast_ref::<&str>().copied())
        .unwrap_or("no message");
    format!("a fault of the program; undo helps: {said}")
}
