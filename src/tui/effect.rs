//! What update asks for: all work beyond the state, done on a worker.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::picture::{self, News, Task};
use crate::catalog::Catalog;
use crate::compress::Alternative;
use crate::drawing::Page;
use crate::elevation::Built;
use crate::job::Job;
use crate::job::hold::Hold;
use crate::job::last;
use crate::job::open::{self, Opened, Wanted};
use crate::job::store::{self, Keep};
use crate::plan::long::{Answer as LongAnswer, InputHash, Known, Question};
use crate::plan::{self, Plan, plan_with};
use crate::report::table::View;
use crate::report::templates::files::{Format, files};
use crate::report::templates::{Wish, pages};
use crate::report::{Seen, VIEWS};
use crate::solve::watch::Standing;
use crate::writers::save;

/// Something to be done outside the state.
#[derive(Clone, Debug)]
pub enum Effect {
    /// Work everything out anew.
    Plan {
        /// The number to answer with.
        asked: u64,
        /// The job.
        job: Box<Job>,
        /// Long answers known.
        known: Known,
    },
    /// Lay an alternative out, to be looked at.
    Preview {
        /// The number of the plan it belongs to.
        asked: u64,
        /// Its key.
        key: String,
        /// The job with that alternative chosen.
        job: Box<Job>,
    },
    /// See what a change would come to while it is typed.
    Try {
        /// The number to answer with.
        number: u64,
        /// The job with the change made.
        job: Box<Job>,
    },
    /// Save over the file that was opened.
    Save {
        /// The file.
        path: PathBuf,
        /// The new text.
        text: String,
        /// What the file should still hold.
        opened: String,
    },
    /// Save under a new name.
    SaveNew {
        /// The file.
        path: PathBuf,
        /// The text.
        text: String,
    },
    /// Keep work that is not saved.
    Keep {
        /// Where.
        at: Keep,
        /// The text.
        text: String,
    },
    /// Forget kept work.
    Forget(Keep),
    /// Open another job.
    Open {
        /// Which.
        wanted: Wanted,
        /// The person's own data.
        own: Arc<Catalog>,
        /// Where the last jobs are noted.
        folder: Option<PathBuf>,
    },
    /// Mark a job's file as worked on, and note it among the last.
    Hold {
        /// The file.
        path: PathBuf,
        /// Where marks and last jobs are kept.
        folder: Option<PathBuf>,
    },
    /// See whether another program changed the job's file.
    Glance {
        /// The file.
        path: PathBuf,
        /// What it should still hold.
        opened: String,
    },
    /// Write a view to a text file.
    Write {
        /// The file.
        path: PathBuf,
        /// The text.
        text: String,
    },
    /// Work on a question that needs time, beside everything else.
    Long {
        /// The question.
        question: Question,
        /// To the end; else for a while.
        to_the_end: bool,
    },
    /// End the long work under way with the best so far.
    EndLong,
    /// Write templates: a file, or a folder of files.
    Files {
        /// The file or folder.
        path: PathBuf,
        /// Their form.
        format: Format,
        /// Whether what is there may be written over.
        over: bool,
        /// The job.
        job: Box<Job>,
        /// Long answers known.
        known: Known,
    },
    /// Work on the photograph in sight, on the worker for pictures.
    Picture(Task),
    /// Copy to the terminal's clipboard.
    Copy(String),
    /// Switch the mouse on or off.
    Mouse(bool),
    /// Hand the terminal back until the program is called again.
    Suspend,
    /// End the program.
    Quit,
}

/// What an effect has to say.
#[derive(Clone, Debug)]
pub enum Answer {
    /// A plan is worked out.
    Planned {
        /// The number it was asked with.
        asked: u64,
        /// The plan.
        plan: Arc<Plan>,
        /// The views.
        views: Vec<View>,
        /// The pages to print; none where nothing can be drawn.
        pages: Arc<Vec<Page>>,
    },
    /// An alternative is laid out.
    Preview {
        /// The number of the plan it belongs to.
        asked: u64,
        /// Its key.
        key: String,
        /// The building, where it can be built.
        built: Option<Arc<Built>>,
    },
    /// What a change would come to.
    Tried {
        /// The number it was asked with.
        number: u64,
        /// In words: what would be built, and the next best.
        lines: Vec<String>,
        /// What would be built, where anything can be.
        built: Option<Arc<Built>>,
    },
    /// The job is on disk.
    Saved {
        /// The file.
        path: PathBuf,
        /// The text it now holds.
        text: String,
    },
    /// Another job is open.
    Opened {
        /// The job.
        opened: Box<Opened>,
        /// The jobs worked on last.
        last: Vec<PathBuf>,
    },
    /// The job's file is marked as worked on.
    Held {
        /// Whether by another window too.
        hold: Hold,
        /// The jobs worked on last.
        last: Vec<PathBuf>,
    },
    /// Nothing was saved: the file holds something else than when it was opened.
    Beside {
        /// What it holds.
        theirs: String,
    },
    /// Another program changed the job's file.
    ChangedOnDisk,
    /// Where long work stands.
    LongStands {
        /// The input of its question.
        input: InputHash,
        /// Best, bound and phase.
        standing: Standing,
    },
    /// What came of long work.
    LongDone {
        /// The input of its question.
        input: InputHash,
        /// The answer, or what went wrong.
        answer: Result<LongAnswer, String>,
    },
    /// The worker for pictures says something.
    Picture(News),
    /// A view was written.
    Written(PathBuf),
    /// Something could not be done.
    Failed(String),
}

/// Whether an effect is for the loop that has the terminal and the threads,
/// not for the worker.
#[must_use]
pub fn is_for_the_loop(effect: &Effect) -> bool {
    matches!(
        effect,
        Effect::Copy(_)
            | Effect::Mouse(_)
            | Effect::Suspend
            | Effect::Quit
            | Effect::Long { .. }
            | Effect::EndLong
    )
}

/// Does what a worker can do.
#[must_use]
pub fn perform(effect: Effect, catalog: &Catalog) -> Option<Answer> {
    match effect {
        Effect::Plan { asked, job, known } => {
            let plan = plan_with(&job, catalog, &known);
            let seen = Seen { job: &job, catalog, plan: &plan };
            let views = VIEWS.iter().map(|kind| kind.shown(seen)).collect();
            let pages = Wish::of(seen).and_then(|wish| pages(seen, &wish)).unwrap_or_default();
            Some(Answer::Planned { asked, plan: Arc::new(plan), views, pages: Arc::new(pages) })
        }
        Effect::Preview { asked, key, job } => {
            let built = plan::compressed(&job, catalog).ok().map(|found| Arc::new(found.built));
            Some(Answer::Preview { asked, key, built })
        }
        Effect::Try { number, job } => {
            let (lines, built) = tried(&job, catalog);
            Some(Answer::Tried { number, lines, built })
        }
        Effect::Save { path, text, opened } => Some(save_over(path, text, &opened)),
        Effect::Open { wanted, own, folder } => Some(open_job(&wanted, &own, folder.as_deref())),
        Effect::Hold { path, folder } => Some(hold(&path, folder.as_deref())),
        Effect::Glance { path, opened } => {
            store::open(&path).ok().filter(|now| *now != opened).map(|_| Answer::ChangedOnDisk)
        }
        Effect::SaveNew { path, text } => {
            let done = store::save_new(&path, &text);
            Some(answer(done, Answer::Saved { path, text }))
        }
        Effect::Keep { at, text } => keep(&at, &text),
        Effect::Forget(at) => {
            at.forget();
            None
        }
        Effect::Write { path, text } => {
            let done = store::save_new(&path, &text);
            Some(answer(done, Answer::Written(path)))
        }
        Effect::Files { path, format, over, job, known } => {
            let plan = plan_with(&job, catalog, &known);
            let seen = Seen { job: &job, catalog, plan: &plan };
            Some(write_files(seen, path, format, over))
        }
        Effect::Picture(task) => Some(Answer::Picture(picture::work(task))),
        Effect::Copy(_)
        | Effect::Mouse(_)
        | Effect::Suspend
        | Effect::Quit
        | Effect::Long { .. }
        | Effect::EndLong => None,
    }
}

fn open_job(wanted: &Wanted, own: &Catalog, folder: Option<&Path>) -> Answer {
    match open::read(wanted, own) {
        Ok(read) => {
            let opened = Box::new(open::take_up(read, folder));
            Answer::Opened { opened, last: folder.map(last::jobs).unwrap_or_default() }
        }
        Err(stop) => Answer::Failed(stop.told()),
    }
}

fn hold(path: &Path, folder: Option<&Path>) -> Answer {
    let hold = Hold::take(folder, path);
    folder.inspect(|folder| last::note(folder, path));
    Answer::Held { hold, last: folder.map(last::jobs).unwrap_or_default() }
}

/// Saves over the file that was opened; a change meanwhile is handed back.
fn save_over(path: PathBuf, text: String, opened: &str) -> Answer {
    match store::save(&path, &text, opened) {
        Err(store::StoreError::Changed { theirs, .. }) => Answer::Beside { theirs },
        done => answer(done, Answer::Saved { path, text }),
    }
}

/// What a job comes to, in a few lines.
fn tried(job: &Job, catalog: &Catalog) -> (Vec<String>, Option<Arc<Built>>) {
    let found = match plan::compressed(job, catalog) {
        Ok(found) => found,
        Err(stop) => return (vec![format!("it would not fit: {}", stop.trouble)], None),
    };
    let about = &job.about;
    let line = |it: &Alternative| {
        let full = about.full_notation().show(&it.body.length);
        let model = about.model_notation().show(&it.model_length);
        let cost = it.cost().map_or(String::new(), |cost| format!(", cost {cost:.1}"));
        format!("{}: {full} ({model}){cost}", it.words)
    };
    let others = found.alternatives.iter().enumerate();
    let others = others.filter(|(at, it)| *at != found.chosen && it.is_offered());
    let mut lines = vec![format!("built would be {}", line(found.chosen()))];
    lines.extend(others.take(2).map(|(_, it)| format!("or {}", line(it))));
    (lines, Some(Arc::new(found.built)))
}

/// Templates as one file, or as files in a folder.
fn write_files(seen: Seen<'_>, path: PathBuf, format: Format, over: bool) -> Answer {
    let done =
        Wish::of(seen).and_then(|wish| files(seen, &wish, format)).and_then(|made| {
            match made.as_slice() {
                [only] if format.is_one_file() => save::one(&path, &only.bytes, over),
                all => save::into_folder(&path, all, over).map(|_| ()),
            }
        });
    match done {
        Ok(()) => Answer::Written(path),
        Err(stop) => Answer::Failed(stop.told()),
    }
}

/// Keeping work is silent unless it fails.
fn keep(at: &Keep, text: &str) -> Option<Answer> {
    let error = at.write(text).err()?;
    Some(Answer::Failed(format!("unsaved work is not kept: {error}")))
}

fn answer(done: Result<(), store::StoreError>, good: Answer) -> Answer {
    match done {
        Ok(()) => good,
        // One line on the screen.
        Err(error) => {
            Answer::Failed(error.to_string().replace("\nhint: ", "; ").replace('\n', " "))
        }
    }
}
