//! Which job is worked on: a built-in one, a file, or a new one; with what an
//! earlier run left beside it.

use std::path::{Path, PathBuf};

use super::demo::{self, DEMOS};
use super::document::Document;
use super::hold::Hold;
use super::store::Keep;
use super::{last, store};
use crate::catalog::Catalog;
use crate::catalog::rack::Rack;
use crate::disk::change;
use crate::finding::Stop;

/// A job someone asks for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Wanted {
    /// A built-in job, by its name.
    BuiltIn(String),
    /// A file.
    File(PathBuf),
    /// A job typed just now: its name, and its text.
    New(String, String),
}

impl Wanted {
    /// What a word of the command line asks for: a file, or a built-in job
    /// where no file has that name.
    #[must_use]
    pub fn named(word: &str) -> Self {
        match demo::find(word) {
            Some(demo) if !Path::new(word).exists() => Self::BuiltIn(demo.name.to_owned()),
            _ => Self::File(PathBuf::from(word)),
        }
    }

    /// The built-in job that is opened when nothing is asked for.
    #[must_use]
    pub fn first() -> Self {
        Self::BuiltIn(DEMOS[0].name.to_owned())
    }
}

/// A job with the place it was read from; only files have one.
#[derive(Clone, Debug)]
pub struct Read {
    /// The job.
    pub document: Document,
    /// Its file.
    pub path: Option<PathBuf>,
    /// The data it is read with: that of its own rack too, where it names one.
    pub catalog: Catalog,
}

/// Reads a job with the person's data, `own`.
///
/// # Errors
/// A file that is not there or is no job; a rack that cannot be read.
pub fn read(wanted: &Wanted, own: &Catalog) -> Result<Read, Stop> {
    let stop = |error: &dyn std::fmt::Display| Stop::new("opening a job", error.to_string(), "");
    match wanted {
        Wanted::BuiltIn(name) => {
            let demo = demo::find(name).ok_or_else(|| {
                Stop::new(
                    "opening a job",
                    format!("none called {name} is built in"),
                    jobs_built_in(),
                )
            })?;
            let document = Document::read(demo.name, demo.text, own).map_err(|e| stop(&e))?;
            Ok(Read { document, path: None, catalog: own.clone() })
        }
        Wanted::File(path) => {
            // What a killed save left is nobody's.
            change::clear(path.parent().unwrap_or(Path::new("")));
            let text = store::open(path)
                .map_err(|error| Stop::new("opening a job", error.to_string(), jobs_built_in()))?;
            let catalog = with_rack_of(own.clone(), path, rack_named(&text).as_deref())?;
            let name = path.display().to_string();
            let document = Document::read(&name, &text, &catalog).map_err(|e| stop(&e))?;
            Ok(Read { document, path: Some(path.clone()), catalog })
        }
        Wanted::New(name, text) => {
            let document = Document::unsaved(name, text, own).map_err(|e| stop(&e))?;
            Ok(Read { document, path: None, catalog: own.clone() })
        }
    }
}

fn jobs_built_in() -> String {
    let names: Vec<&str> = DEMOS.iter().map(|demo| demo.name).collect();
    format!("the jobs built in are {}", names.join(", "))
}

/// The rack a job names, before the job is checked against what is on it. A
/// text that does not read is told by the job's own reader.
fn rack_named(text: &str) -> Option<String> {
    let file = toml_edit::Document::parse(text).ok()?;
    Some(file.get("job")?.get("rack")?.as_str()?.to_owned())
}

/// The catalogue with the rack that a job names read over it; the path counts
/// from the job's own folder.
fn with_rack_of(catalog: Catalog, job: &Path, rack: Option<&str>) -> Result<Catalog, Stop> {
    match rack {
        None => Ok(catalog),
        Some(rack) => own_file(catalog, Rack::NAME, &job.with_file_name(rack)),
    }
}

/// The catalogue with a file of the person's own read over it, as `name`.
///
/// # Errors
/// A file that cannot be read or holds what the catalogue does not take.
pub fn own_file(catalog: Catalog, name: &str, path: &Path) -> Result<Catalog, Stop> {
    let doing = || format!("reading {}", path.display());
    let text = store::open(path).map_err(|error| Stop::new(doing(), error.to_string(), ""))?;
    catalog.with_own(name, &text).map_err(|error| Stop::new(doing(), error.trouble, ""))
}

/// A job that is going to be worked on.
#[derive(Clone, Debug)]
pub struct Opened {
    /// The job, its file, its data.
    pub read: Read,
    /// Where unsaved work is kept; nowhere when no folder could be found.
    pub keep: Option<Keep>,
    /// The text an earlier run left unsaved there.
    pub left: Option<String>,
    /// Whether another window works on it too.
    pub hold: Hold,
}

/// Makes a job that was read ready to be worked on: finds what was left
/// unsaved, marks it as open, notes it among the last jobs. `folder` is
/// [`last::folder`].
#[must_use]
pub fn take_up(read: Read, folder: Option<&Path>) -> Opened {
    let mut hold = Hold::Unknown;
    if let Some(path) = &read.path {
        hold = Hold::take(folder, path);
        folder.inspect(|folder| last::note(folder, path));
        if matches!(hold, Hold::Alone(_)) && !store::recovery(path).exists() {
            // What a second window left, when the first was closed in good order.
            let _ = std::fs::rename(store::recovery(&second(path)), store::recovery(path));
        }
    }
    let keep = kept_at(&read, folder, &hold).map(|path| Keep::of(&path, folder));
    let left = keep.as_ref().and_then(|keep| keep.find(read.document.text()));
    Opened { read, keep, left, hold }
}

/// The name beside which a second window keeps its work.
fn second(path: &Path) -> PathBuf {
    path.with_extension("second.toml")
}

/// Where unsaved work is kept: beside the file, or in `folder` for a job that
/// has none. A second window on one job keeps its work apart from the first's,
/// and a new job from an older one of that name.
fn kept_at(read: &Read, folder: Option<&Path>, hold: &Hold) -> Option<PathBuf> {
    if let Some(path) = &read.path {
        return Some(if hold.is_shared() { second(path) } else { path.clone() });
    }
    let name = read.document.name();
    let named = |text: String| Some(folder?.join(format!("{text}.toml")));
    let is_new = read.document.is_changed();
    let free = |path: &Option<PathBuf>| {
        path.as_deref().is_none_or(|path| !is_new || !store::recovery(path).exists())
    };
    std::iter::once(named(name.to_owned()))
        .chain((2..100).map(|n| named(format!("{name}-{n}"))))
        .find(free)
        .flatten()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::job::new::{Answers, text};

    fn own() -> Catalog {
        Catalog::built_in().expect("the shipped data is sound")
    }

    #[test]
    fn a_new_job_is_unsaved_and_kept_apart_from_one_of_its_name() {
        let folder = tempfile::tempdir().expect("a folder");
        let text = text(&Answers { scale: "1:48".to_owned(), ..Answers::default() });
        let text = text.expect("no sizes");
        let wanted = Wanted::New("mill".to_owned(), text);
        let first = take_up(read(&wanted, &own()).expect("read"), Some(folder.path()));
        assert!(first.read.document.is_changed() && first.left.is_none());
        let keep = first.keep.expect("a place");
        assert_eq!(keep.path(), folder.path().join("mill.toml"));
        keep.write("work").expect("kept");
        let second = take_up(read(&wanted, &own()).expect("read"), Some(folder.path()));
        assert_eq!(second.keep.expect("a place").path(), folder.path().join("mill-2.toml"));
    }

    #[test]
    fn the_second_window_on_a_job_leaves_the_work_of_the_first_alone() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("mill.toml");
        let text = text(&Answers { scale: "1:48".to_owned(), ..Answers::default() });
        std::fs::write(&path, text.expect("no sizes")).expect("written");
        let open = || {
            let read = read(&Wanted::File(path.clone()), &own()).expect("read");
            take_up(read, Some(folder.path()))
        };
        let first = open();
        first.keep.as_ref().expect("a place").write("# work").expect("kept");
        let second = open();
        assert!(second.hold.is_shared() && second.left.is_none());
        assert_ne!(second.keep, first.keep);
        drop(first);
        assert_eq!(open().left.as_deref(), Some("# work"));
        // What the second leaves is found once the first has left nothing.
        store::drop_recovery(&path);
        store::keep_recovery(&super::second(&path), "# more").expect("kept");
        drop(second);
        assert_eq!(open().left.as_deref(), Some("# more"));
        assert_eq!(last::jobs(folder.path()).len(), 1);
    }

    #[test]
    fn a_word_that_is_no_file_may_be_a_built_in_job() {
        assert_eq!(Wanted::named("creamery"), Wanted::BuiltIn("creamery".to_owned()));
        let stop = read(&Wanted::named("no-such-job"), &own()).expect_err("none there");
        assert!(stop.hint.contains("grain-store"));
    }
}
