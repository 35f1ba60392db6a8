//! Signals, and a terminal that goes away.

use std::io;
use std::sync::mpsc::Sender;
use std::thread;
use std::time::Duration;

use rustix::event::{PollFd, PollFlags, poll};
use signal_hook::consts::{SIGCONT, SIGHUP, SIGINT, SIGTERM, SIGTSTP};
use signal_hook::iterator::Signals;
use signal_hook::low_level::emulate_default_handler;

use super::Wake;

/// How long the main thread has to end after a signal.
const PATIENCE: Duration = Duration::from_secs(2);

/// Listens to signals, and for the terminal going away.
pub(super) fn listen(queue: &Sender<Wake>) -> io::Result<()> {
    let mut signals = Signals::new([SIGTERM, SIGINT, SIGHUP, SIGTSTP, SIGCONT])?;
    let to = queue.clone();
    thread::spawn(move || {
        for signal in signals.forever() {
            // When nobody listens any more, the watch below still ends.
            let _ = to.send(Wake::Signal(signal));
            if !is_stop(signal) && !is_continue(signal) {
                end_late(signal);
            }
        }
    });
    let to = queue.clone();
    thread::spawn(move || {
        if wait_for_hang_up().is_ok() {
            let _ = to.send(Wake::Gone);
            end_late(SIGHUP);
        }
    });
    Ok(())
}

/// Ends the process from outside when the main thread does not end by itself:
/// it may hang in a write to a terminal that takes nothing more.
fn end_late(signal: i32) {
    thread::spawn(move || {
        thread::sleep(PATIENCE);
        let _ = end_by(signal);
    });
}

/// Waits until the terminal is gone; no event is asked for, so nothing else
/// wakes it.
fn wait_for_hang_up() -> io::Result<()> {
    let stdin = io::stdin();
    loop {
        let mut watched = [PollFd::new(&stdin, PollFlags::empty())];
        match poll(&mut watched, None) {
            Ok(_) if watched[0].revents().intersects(PollFlags::HUP | PollFlags::ERR) => {
                return Ok(());
            }
            Ok(_) | Err(rustix::io::Errno::INTR) => {}
            Err(error) => return Err(error.into()),
        }
    }
}

/// Whether a signal asks to stop, to be continued later.
pub(super) fn is_stop(signal: i32) -> bool {
    signal == SIGTSTP
}

/// Whether a signal says that the program is called again.
pub(super) fn is_continue(signal: i32) -> bool {
    signal == SIGCONT
}

/// Stops the process until it is called again.
pub(super) fn stop() -> io::Result<()> {
    emulate_default_handler(SIGTSTP)
}

/// Ends the process as the signal would have ended it.
pub(super) fn end_by(signal: i32) -> io::Result<()> {
    emulate_default_handler(signal)
}
