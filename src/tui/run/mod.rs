//! The only part that touches the terminal.
//!
//! Five threads feed one queue: keys, signals, the worker's answers, those of
//! long work and those of work on pictures. The main thread waits on the queue and draws when something arrived; it never
//! waits on the terminal itself, which may be gone. Reading keys can hang for
//! ever when the terminal is gone, so an ending signal is also watched from
//! outside: if the main thread has not ended in time, the process is.

mod ask;
mod ground;
mod long;
mod picture;
mod screen;
#[cfg(unix)]
mod signals;
mod worker;

use std::io;
use std::sync::Arc;
use std::sync::mpsc::{Receiver, Sender, channel};

use crossterm::event::{self, Event, KeyEventKind, MouseButton, MouseEventKind};

use self::long::LongWork;
use self::picture::PictureWork;
use self::screen::Screen;
use self::worker::Worker;
use super::action::Action;
use super::effect::{Answer, Effect, is_for_the_loop};
use super::picture::Print;
use super::state::{Over, Place, State};
use super::update::{shared, start, update};
use super::view::palette::Look;
use crate::catalog::Catalog;
use crate::job::last;
use crate::job::open::{self, Read};

/// What the program is started with.
#[derive(Debug)]
pub struct Options {
    /// The job, with the data behind it.
    pub read: Read,
    /// The person's own data, for other jobs.
    pub own: Catalog,
    /// Whether jobs are offered before this one is worked on.
    pub offer: bool,
    /// Colours and signs.
    pub look: Look,
    /// Whether the terminal is asked if it is dark or light.
    pub ask_ground: bool,
    /// Whether the mouse is listened to.
    pub mouse: bool,
}

/// A terminal that answers does so in a few thousandths of a second; one at the
/// other end of a line in less than a second.
fn longest_answer() -> std::time::Duration {
    let is_far = std::env::var_os("SSH_CONNECTION").is_some();
    std::time::Duration::from_millis(if is_far { 1000 } else { 250 })
}

/// Why the terminal program could not run.
#[derive(Debug, thiserror::Error)]
pub enum RunError {
    /// There is no terminal to draw on.
    #[error("there is no terminal; ask for a view by its name to have it printed")]
    NoTerminal,
    /// The terminal refused.
    #[error("using the terminal: {0}")]
    Terminal(#[from] io::Error),
}

/// What wakes the main thread.
#[derive(Debug)]
enum Wake {
    /// The terminal said something.
    Event(Event),
    /// The worker answered.
    Answer(Answer),
    /// A signal arrived.
    #[cfg_attr(not(unix), allow(dead_code))]
    Signal(i32),
    /// The terminal is gone.
    Gone,
}

/// Who works while keys go on.
struct Workers {
    quick: Worker,
    long: LongWork,
    picture: PictureWork,
}

/// How the loop ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Ended {
    Quit,
    Signal(i32),
    Gone,
}

/// Runs the terminal program until it is left. A signal that ends it ends the
/// process, after the terminal is given back and unsaved work is kept.
///
/// # Errors
/// When there is no terminal, or it refuses.
pub fn run(options: Options) -> Result<(), RunError> {
    if !screen::is_there() {
        return Err(RunError::NoTerminal);
    }
    let ask_ground = options.ask_ground;
    let mut state = begin(options);
    let (sender, queue) = channel();
    let workers = Workers {
        quick: Worker::start(sender.clone()),
        long: LongWork::start(sender.clone()),
        picture: PictureWork::start(sender.clone()),
    };
    let ended = guarded(|| {
        // Signals are listened to before the terminal is changed.
        #[cfg(unix)]
        signals::listen(&sender)?;
        let mut screen = Screen::open(state.mouse)?;
        let answers = ask::ask(ask_ground, ask::wants_pictures(&state), longest_answer());
        state.look.ground = answers.ground.unwrap_or(state.look.ground);
        state.photos.print = answers.real.map_or(Print::Cells, Print::Pixels);
        for key in answers.keys {
            // The receiver lives as long as this function.
            let _ = sender.send(Wake::Event(Event::Key(key)));
        }
        listen(sender);
        live(&mut state, &mut screen, &queue, &workers)
    });
    if state.document.is_changed()
        && !matches!(ended, Ok(Ended::Quit))
        && let Some(at) = state.place.keep.clone()
    {
        let text = state.document.text().to_owned();
        workers.quick.ask(Effect::Keep { at, text }, &state.catalog);
    }
    // Waits for what is still to be written.
    drop(workers);
    match ended? {
        Ended::Quit => Ok(()),
        #[cfg(unix)]
        Ended::Signal(signal) => Ok(signals::end_by(signal)?),
        _ => Err(RunError::Terminal(io::Error::other("the terminal is gone"))),
    }
}

/// Runs something that owns the screen, with a panic hook that gives the
/// terminal back before the message is printed.
pub fn guarded<T>(work: impl FnOnce() -> T) -> T {
    let before = Arc::new(std::panic::take_hook());
    let (main, old) = (std::thread::current().id(), before.clone());
    std::panic::set_hook(Box::new(move |panic| {
        // A worker's panic is caught and said on the screen.
        if std::thread::current().id() == main {
            screen::give_back();
            old(panic);
        }
    }));
    let done = work();
    std::panic::set_hook(Box::new(move |panic| before(panic)));
    done
}

/// The state of a job, and what an earlier run left beside it.
fn begin(options: Options) -> State {
    let Options { read, own, look, offer, mouse, .. } = options;
    let folder = last::folder();
    let opened = open::take_up(read, folder.as_deref());
    let catalog = Arc::new(opened.read.catalog);
    let place = Place {
        path: opened.read.path,
        opened: opened.read.document.text().to_owned(),
        keep: opened.keep,
        hold: opened.hold,
        differs: false,
    };
    let mut state = State::new(opened.read.document, place, catalog, look);
    state.own = Arc::new(own);
    state.mouse = mouse;
    state.last = folder.as_deref().map(last::jobs).unwrap_or_default();
    state.folder = folder;
    state.over.extend(offer.then_some(Over::Jobs(0)));
    state.over.extend(opened.left.map(Over::Left));
    state.said = shared(&state.place);
    state
}

/// Reads the terminal on a thread of its own.
fn listen(queue: Sender<Wake>) {
    std::thread::spawn(move || {
        while let Ok(event) = event::read() {
            if queue.send(Wake::Event(event)).is_err() {
                return;
            }
        }
        // Nobody left to tell is no harm.
        let _ = queue.send(Wake::Gone);
    });
}

fn live(
    state: &mut State,
    screen: &mut Screen,
    queue: &Receiver<Wake>,
    workers: &Workers,
) -> Result<Ended, RunError> {
    let size = screen.size()?;
    let _ = update(state, Action::Resize(size.0, size.1));
    for effect in start(state) {
        workers.quick.ask(effect, &state.catalog);
    }
    screen.draw(state)?;
    while let Ok(first) = queue.recv() {
        // Everything that waits is worked off before one picture is drawn.
        for wake in std::iter::once(first).chain(queue.try_iter()) {
            if let Some(ended) = woken(state, screen, workers, wake)? {
                return Ok(ended);
            }
        }
        let size = screen.size()?;
        if size != state.size {
            let _ = update(state, Action::Resize(size.0, size.1));
        }
        if screen.draw(state).is_err() {
            return Ok(Ended::Gone);
        }
    }
    Ok(Ended::Gone)
}

fn woken(
    state: &mut State,
    screen: &mut Screen,
    workers: &Workers,
    wake: Wake,
) -> Result<Option<Ended>, RunError> {
    let action = match wake {
        Wake::Gone => return Ok(Some(Ended::Gone)),
        #[cfg(unix)]
        Wake::Signal(signal) if signals::is_stop(signal) => {
            screen.suspend(state.mouse)?;
            return Ok(None);
        }
        #[cfg(unix)]
        Wake::Signal(signal) if signals::is_continue(signal) => {
            screen.take_again(state.mouse)?;
            return Ok(None);
        }
        Wake::Signal(signal) => return Ok(Some(Ended::Signal(signal))),
        Wake::Answer(answer) => Some(Action::Answer(answer)),
        Wake::Event(event) => action(event),
    };
    let Some(action) = action else { return Ok(None) };
    for effect in update(state, action) {
        match effect {
            Effect::Quit => return Ok(Some(Ended::Quit)),
            Effect::Suspend => screen.suspend(state.mouse)?,
            Effect::Copy(text) => screen.copy(&text)?,
            Effect::Mouse(on) => screen.mouse(on)?,
            Effect::Long { question, to_the_end } => workers.long.begin(question, to_the_end),
            Effect::EndLong => workers.long.end(),
            Effect::Picture(task) => workers.picture.ask(task),
            effect => {
                debug_assert!(!is_for_the_loop(&effect), "handled above");
                workers.quick.ask(effect, &state.catalog);
            }
        }
    }
    Ok(None)
}

/// What an event of the terminal means; nothing for those without meaning here.
fn action(event: Event) -> Option<Action> {
    match event {
        Event::Key(key) if key.kind != KeyEventKind::Release => Some(Action::Key(key.into())),
        Event::Paste(text) => Some(Action::Paste(text)),
        Event::Resize(wide, high) => Some(Action::Resize(wide, high)),
        Event::Mouse(mouse) => match mouse.kind {
            MouseEventKind::Down(MouseButton::Left) => Some(Action::Click(mouse.column, mouse.row)),
            MouseEventKind::ScrollDown => Some(Action::Wheel(3)),
            MouseEventKind::ScrollUp => Some(Action::Wheel(-3)),
            _ => None,
        },
        _ => None,
    }
}
