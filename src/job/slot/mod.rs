//! Places in a job: a table, a row of a table, or a key.
//!
//! A place is made from the grammar, so it can stand for what is not written
//! yet: `body.main.roof.pitch`, `wall.main/front.row.2.width`. Rows are found
//! by the name they give themselves, else by their number.

mod look;
mod names;
mod row;
mod say;
mod show;

pub use look::{Holds, Line, counting, holds, is_needed, lines};
pub use names::names;
pub use row::{kind_of, name_of};
pub(super) use row::{name_key, row_names};
pub use say::check;
pub(super) use say::value;
pub use show::text;

use toml_edit::DocumentMut;

use super::grammar::{Key, Kind, Node, Shape, Shaped as _};
use super::locate::Step;
use super::model::Job;
use super::read::nearest;
use crate::finding::{Stop, short};

/// A place in a job, with the words for it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Slot {
    steps: Vec<Step>,
    words: Vec<String>,
}

impl Slot {
    /// The whole file.
    #[must_use]
    pub fn root() -> Self {
        Self::default()
    }

    /// The place a person names.
    ///
    /// # Errors
    /// What is not there, with the nearest that is.
    pub fn find(file: &DocumentMut, path: &str) -> Result<Self, Stop> {
        Self::root().under(file, path)
    }

    /// The place a person names, seen from this one.
    ///
    /// # Errors
    /// What is not there, with the nearest that is.
    pub fn under(&self, file: &DocumentMut, path: &str) -> Result<Self, Stop> {
        let mut here = self.clone();
        let mut rest = path.trim();
        while !rest.is_empty() {
            let stray = |trouble: String, hint: String| {
                Stop::new(format!("looking for {} in the job", short::word(path)), trouble, hint)
            };
            rest = match table_of(here.kind()).map_or_else(|| here.holds(), Holds::Table) {
                Holds::Table(shape) => here.go_to_key(shape, rest, &stray)?,
                Holds::Rows(_) => here.go_to_row(file, rest, &stray)?,
                Holds::Map(_) => {
                    here = here.key(rest.trim_matches('"'));
                    ""
                }
                Holds::Value => {
                    let trouble = format!("{} is a value: nothing stands under it", here.path());
                    return Err(stray(trouble, "leave out what follows it".to_owned()));
                }
            };
        }
        Ok(here)
    }

    fn go_to_key<'p>(
        &mut self,
        shape: &'static Shape,
        rest: &'p str,
        stray: &dyn Fn(String, String) -> Stop,
    ) -> Result<&'p str, Stop> {
        let (name, after) = rest.split_once('.').unwrap_or((rest, ""));
        let name = name.trim();
        if shape.key(name).is_some() {
            *self = self.key(name);
            return Ok(after);
        }
        let known = || shape.keys.iter().map(|key| key.name);
        let hint = match nearest(name, known()) {
            Some(meant) => format!("did you mean {meant}?"),
            None => format!("there are: {}", short::list(known())),
        };
        let (what, there) = match self.steps.is_empty() {
            true => ("table", "a job".to_owned()),
            false => ("key", self.path()),
        };
        Err(stray(format!("{there} has no {what} \"{}\"", short::word(name)), hint))
    }

    fn go_to_row<'p>(
        &mut self,
        file: &DocumentMut,
        rest: &'p str,
        stray: &dyn Fn(String, String) -> Stop,
    ) -> Result<&'p str, Stop> {
        let names = row_names(self, file);
        if let Some((at, after)) = row::find(&names, rest) {
            *self = self.row(file, at);
            return Ok(after);
        }
        let name = rest.split('.').next().unwrap_or(rest);
        let known = || names.iter().map(String::as_str);
        let hint = match nearest(name, known()) {
            Some(meant) => format!("did you mean {meant}?"),
            None if names.is_empty() => "none is written yet".to_owned(),
            None => format!("there are: {}", short::list(known())),
        };
        Err(stray(format!("{} has no row \"{}\"", self.path(), short::word(name)), hint))
    }

    /// The key of that name in this table.
    #[must_use]
    pub fn key(&self, name: &str) -> Self {
        let mut slot = self.clone();
        slot.steps.push(Step::Key(name.to_owned()));
        slot.words.push(name.to_owned());
        slot
    }

    /// The row of that number, from 0.
    #[must_use]
    pub fn row(&self, file: &DocumentMut, at: usize) -> Self {
        let names = row_names(self, file);
        let mut slot = self.clone();
        slot.steps.push(Step::At(at));
        slot.words.push(names.get(at).map_or_else(|| (at + 1).to_string(), |name| row::word(name)));
        slot
    }

    /// The row of that number by its number, from 0: it need not be there.
    #[must_use]
    pub fn numbered(&self, at: usize) -> Self {
        let mut slot = self.clone();
        slot.steps.push(Step::At(at));
        slot.words.push((at + 1).to_string());
        slot
    }

    /// The table or list it stands in.
    #[must_use]
    pub fn parent(&self) -> Option<Self> {
        let many = self.steps.len().checked_sub(1)?;
        Some(Self { steps: self.steps[..many].to_vec(), words: self.words[..many].to_vec() })
    }

    /// Whether it is the same place, however it is called.
    #[must_use]
    pub fn is_at(&self, other: &Self) -> bool {
        self.steps == other.steps
    }

    /// The number of the row, from 0, where it is one.
    #[must_use]
    pub fn number(&self) -> Option<usize> {
        match self.steps.last() {
            Some(Step::At(at)) => Some(*at),
            _ => None,
        }
    }

    /// How a person names it.
    #[must_use]
    pub fn path(&self) -> String {
        self.words.join(".")
    }

    /// Its last word: a key, or the name of a row.
    #[must_use]
    pub fn word(&self) -> &str {
        self.words.last().map_or("", String::as_str)
    }

    pub(super) fn steps(&self) -> &[Step] {
        &self.steps
    }

    /// What can stand there.
    #[must_use]
    pub fn kind(&self) -> Kind {
        let start = Kind::Table(<Job as super::grammar::Shaped>::shape);
        self.steps.iter().fold(start, |kind, step| below(kind, step).unwrap_or(Kind::Text))
    }

    /// The key of the grammar it stands for: of a row and of an entry by name,
    /// that of the list.
    #[must_use]
    pub fn grammar(&self) -> Option<&'static Key> {
        let mut kind = Kind::Table(<Job as super::grammar::Shaped>::shape);
        let mut found = None;
        for step in &self.steps {
            if let (Some(shape), Step::Key(name)) = (table_of(kind), step) {
                found = shape.key(name).or(found);
            }
            kind = below(kind, step)?;
        }
        found
    }

    /// What stands there, as a form shows it.
    #[must_use]
    pub fn holds(&self) -> Holds {
        holds(self.kind())
    }

    /// Its table of the grammar: of a list that of its rows.
    #[must_use]
    pub fn shape(&self) -> Option<&'static Shape> {
        match self.holds() {
            Holds::Rows(shape) => Some(shape),
            _ => table_of(self.kind()),
        }
    }

    /// What is written there.
    #[must_use]
    pub fn node<'a>(&self, file: &'a DocumentMut) -> Node<'a> {
        self.node_in(Node::from(file.as_item()))
    }

    /// What is written there in a file that was read with its places.
    pub(super) fn node_in<'a>(&self, root: Node<'a>) -> Node<'a> {
        self.steps.iter().fold(root, |node, step| match step {
            Step::Key(name) => node.get(name),
            Step::At(at) => node.at_row(*at),
        })
    }

    /// The row of a table of the file that it stands in: names may count inside
    /// it only.
    pub(super) fn outer(&self) -> Self {
        let many = self.steps.len().min(2);
        Self { steps: self.steps[..many].to_vec(), words: self.words[..many].to_vec() }
    }

    /// The same place, called as its rows are called now; nothing where a row of
    /// it is gone.
    #[must_use]
    pub fn again(&self, file: &DocumentMut) -> Option<Self> {
        self.steps.iter().try_fold(Self::root(), |slot, step| match step {
            Step::Key(name) => Some(slot.key(name)),
            Step::At(at) => (*at < slot.node(file).rows()).then(|| slot.row(file, *at)),
        })
    }

    /// Whether anything is written there.
    #[must_use]
    pub fn is_written(&self, file: &DocumentMut) -> bool {
        !matches!(self.node(file), Node::Nothing)
    }

    /// The bytes of the text it stands at, or of what it would stand in.
    #[must_use]
    pub fn range(&self, text: &str) -> std::ops::Range<usize> {
        super::locate::range(text, &self.steps)
    }
}

impl std::fmt::Display for Slot {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.path())
    }
}

/// The table a kind is, or may be.
fn table_of(kind: Kind) -> Option<&'static Shape> {
    match kind {
        Kind::Table(shape) => Some(shape()),
        Kind::Either(one, other) => table_of(one()).or_else(|| table_of(other())),
        _ => None,
    }
}

fn below(kind: Kind, step: &Step) -> Option<Kind> {
    match (kind, step) {
        (Kind::List(inner) | Kind::Row(_, inner), Step::At(_))
        | (Kind::Map(inner), Step::Key(_)) => Some(inner()),
        (kind, Step::Key(name)) => Some((table_of(kind)?.key(name)?.kind)()),
        _ => None,
    }
}

/// The file itself as a table of the grammar.
#[must_use]
pub fn file_shape() -> &'static Shape {
    Job::SHAPE
}
