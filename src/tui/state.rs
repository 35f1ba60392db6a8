//! What the terminal program knows between two keys.

use std::collections::BTreeMap;
use std::path::PathBuf;
use std::sync::Arc;

use tui_input::Input;

use super::action::Command;
use super::keymap::Context;
use super::screen::bench::Bench;
use super::screen::beside::Beside;
use super::screen::photo::Photos;
use super::screen::tables::Tables;
use super::view::palette::Look;
use crate::catalog::Catalog;
use crate::drawing::Page;
use crate::elevation::Built;
use crate::finding::Subject;
use crate::job::document::Document;
use crate::job::entry::Carried;
use crate::job::hold::Hold;
use crate::job::open::Wanted;
use crate::job::store::Keep;
use crate::plan::Plan;
use crate::plan::long::{InputHash, Kind, Known};
use crate::report::table::{Act, Row, RowKey, Table, View};
use crate::report::{VIEWS, ViewId};
use crate::solve::watch::Standing;

/// Where a job stands on disk.
#[derive(Clone, Debug, Default)]
pub struct Place {
    /// The file; a built-in job has none until it is saved.
    pub path: Option<PathBuf>,
    /// The text the file held when it was opened or saved last.
    pub opened: String,
    /// Where unsaved work is kept; nowhere when no folder could be found.
    pub keep: Option<Keep>,
    /// Whether another window works on the file too.
    pub hold: Hold,
    /// Whether another program is known to have changed the file.
    pub differs: bool,
}

/// Where the person is in one view.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Spot {
    /// The table.
    pub table: usize,
    /// The row, counted in the order shown.
    pub row: usize,
    /// The table and the row by what they are; nothing until they are settled.
    pub kept: Option<(String, RowKey)>,
    /// The first row shown.
    pub top: usize,
    /// Columns pushed out at the left.
    pub shift: usize,
    /// The column the table is sorted by.
    pub sort: Option<usize>,
    /// Whether that order is turned round.
    pub reverse: bool,
    /// What rows must hold to be shown.
    pub filter: String,
}

impl Spot {
    /// The same view with another row marked.
    pub fn mark(&mut self, table: usize, row: usize) {
        if self.table != table {
            (self.top, self.sort, self.shift) = (0, None, 0);
        }
        (self.table, self.row, self.kept) = (table, row, None);
    }
}

/// One field of a form.
#[derive(Clone, Debug)]
pub struct Field {
    /// What is asked.
    pub label: String,
    /// What was typed.
    pub input: Input,
}

/// What a filled form is for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Purpose {
    /// Value and uncertainty of a reading.
    Reading(String),
    /// The reason for switching a reading off.
    SwitchOff(String),
    /// A round figure for a dimension, and the reason.
    Adopt(String),
    /// The reason for an alternative.
    Choose(String),
    /// A stock size for a member, and the reason.
    Take(String),
    /// How many sticks or sheets are cut.
    Cut,
    /// Length, depth, height and margin of the place.
    Space,
    /// Tolerance and weight of a feature of the look.
    Weigh(String),
    /// Bounds of an element, `face/element`, with the keys asked for.
    Bound(String, Vec<&'static str>),
    /// The scale.
    Scale,
    /// New readings, one a line.
    Enter,
    /// The factor for uncertainties that are too small.
    Broaden,
    /// The five answers of a new job.
    NewJob,
    /// The name to save under.
    SaveAs,
    /// What rows must hold.
    Filter,
    /// The file this view is written to.
    Write,
    /// The file or folder templates are written to, their form, and whether
    /// what is there may be written over.
    Files,
    /// A new photograph: its file and its name.
    AddPhoto,
    /// What a length on the photograph in sight is known to be.
    Know(String),
    /// What a length on the photograph in sight is a reading of.
    Reads(String),
    /// What a length on the photograph in sight is a multiple of.
    Alike(String),
    /// How far a mark on the photograph in sight stands in front of the wall.
    InFront(String),
    /// What kind of picture the photograph in sight is.
    Picture,
    /// What the bars of a printed page measure, and the paper.
    Bars,
    /// What a size measures on the mock-up or the model.
    Measure(String),
    /// The reason for taking a size back from the mock-up.
    TakeBack(String),
}

/// A change that is being typed, tried out before it is taken.
#[derive(Clone, Debug, Default)]
pub struct Trial {
    /// The number of the last one asked for.
    pub number: u64,
    /// What was typed when it was asked for.
    pub typed: Vec<String>,
    /// What would be built.
    pub built: Option<Arc<Built>>,
}

/// Fields to fill in.
#[derive(Clone, Debug)]
pub struct Form {
    /// Its heading.
    pub title: String,
    /// What it is for.
    pub purpose: Purpose,
    /// What helps to fill it in.
    pub about: Vec<String>,
    /// Its fields.
    pub fields: Vec<Field>,
    /// The field that takes letters.
    pub at: usize,
    /// Why it was not taken.
    pub trouble: String,
    /// What would follow from it.
    pub preview: Vec<String>,
}

/// One line of a list, and where it leads.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Line {
    /// The text.
    pub text: String,
    /// The view it leads to, and the subject there.
    pub target: Option<(usize, Subject)>,
}

/// A list over the view.
#[derive(Clone, Debug, Default)]
pub struct List {
    /// Its heading.
    pub title: String,
    /// Its lines.
    pub lines: Vec<Line>,
    /// The line marked.
    pub at: usize,
}

/// What lies over the view.
#[derive(Clone, Debug)]
pub enum Over {
    /// A form.
    Form(Form),
    /// Help, findings, or the chain of a number.
    List(List),
    /// The finder.
    Finder {
        /// What is looked for.
        input: Input,
        /// The hit marked.
        at: usize,
    },
    /// Something is not saved: leave all the same?
    Leave,
    /// The jobs that can be opened, and the one marked.
    Jobs(usize),
    /// The file was changed by another program: both texts.
    Beside(Beside),
    /// An earlier run left this text unsaved.
    Left(String),
    /// The tables of the job.
    Tables(Box<Tables>),
}

/// What is done once the job is left.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum After {
    /// The program ends.
    Quit,
    /// Another job is opened.
    Open(Wanted),
}

/// Long work under way.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Running {
    /// What it is about.
    pub kind: Kind,
    /// The hash of its question's input.
    pub input: InputHash,
    /// What was heard of it last.
    pub standing: Standing,
}

/// Everything.
#[derive(Clone, Debug)]
pub struct State {
    /// The job.
    pub document: Document,
    /// Where it stands.
    pub place: Place,
    /// The data behind it.
    pub catalog: Arc<Catalog>,
    /// The person's own data, without the rack of this job.
    pub own: Arc<Catalog>,
    /// Where the program keeps what is neither job nor setting.
    pub folder: Option<PathBuf>,
    /// The jobs worked on last, the newest first.
    pub last: Vec<PathBuf>,
    /// What follows from both.
    pub plan: Option<Arc<Plan>>,
    /// The views of [`VIEWS`] as tables.
    pub views: Vec<View>,
    /// The pages to print.
    pub pages: Arc<Vec<Page>>,
    /// Alternatives laid out to be looked at, by key; nothing while one is
    /// being laid out.
    pub previews: BTreeMap<String, Option<Arc<Built>>>,
    /// The change being typed.
    pub trial: Trial,
    /// The number of the last plan asked for; an older one is thrown away.
    pub asked: u64,
    /// Whether a plan is being worked out.
    pub waiting: bool,
    /// Long answers known, of this job and of what it was before.
    pub known: Known,
    /// Long work under way.
    pub long: Option<Running>,
    /// The stage shown: 0 is the bench, then [`VIEWS`] in order.
    pub stage: usize,
    /// Where the person is in each view.
    pub spots: Vec<Spot>,
    /// The bench.
    pub bench: Bench,
    /// The face drawn; the front when it names none.
    pub face: usize,
    /// What lies over the view, the last on top.
    pub over: Vec<Over>,
    /// Where jumps started: stage and spot.
    pub trail: Vec<(usize, Spot)>,
    /// What is carried from one new reading to the next.
    pub carried: Option<Carried>,
    /// The readings entered last, by id.
    pub entered: Vec<String>,
    /// What was said last.
    pub said: String,
    /// Colours and signs.
    pub look: Look,
    /// The picture of the photograph in sight.
    pub photos: Photos,
    /// Whether the mouse is listened to.
    pub mouse: bool,
    /// Columns and rows of the terminal.
    pub size: (u16, u16),
    /// What is done once the job is saved or given up.
    pub after: Option<After>,
}

impl State {
    /// The state of a job just opened, before anything was worked out.
    #[must_use]
    pub fn new(document: Document, place: Place, catalog: Arc<Catalog>, look: Look) -> Self {
        let scale = document.job().about.scale.clone();
        Self {
            bench: Bench::new(&scale),
            document,
            place,
            own: catalog.clone(),
            catalog,
            folder: None,
            last: Vec::new(),
            plan: None,
            views: vec![View::default(); VIEWS.len()],
            pages: Arc::new(Vec::new()),
            previews: BTreeMap::new(),
            trial: Trial::default(),
            asked: 0,
            waiting: true,
            known: Known::default(),
            long: None,
            stage: usize::from(!VIEWS.is_empty()),
            spots: vec![Spot::default(); VIEWS.len()],
            face: 0,
            over: Vec::new(),
            trail: Vec::new(),
            carried: None,
            entered: Vec::new(),
            said: String::new(),
            look,
            photos: Photos { step: 2, ..Photos::default() },
            mouse: true,
            size: (80, 24),
            after: None,
        }
    }

    /// Stages on the pole: the bench and every view.
    #[must_use]
    pub fn stages(&self) -> usize {
        1 + self.views.len()
    }

    /// The name of a stage.
    #[must_use]
    pub fn stage_name(stage: usize) -> &'static str {
        match stage.checked_sub(1) {
            Some(at) => VIEWS.get(at).map_or("", |kind| kind.name),
            None => "bench",
        }
    }

    /// Which view is shown; nothing on the bench.
    #[must_use]
    pub fn screen(&self) -> Option<ViewId> {
        VIEWS.get(self.stage.checked_sub(1)?).map(|kind| kind.id)
    }

    /// The view shown; nothing on the bench.
    #[must_use]
    pub fn view(&self) -> Option<&View> {
        self.views.get(self.stage.checked_sub(1)?)
    }

    /// Where the person is in the view shown.
    #[must_use]
    pub fn spot(&self) -> Option<&Spot> {
        self.spots.get(self.stage.checked_sub(1)?)
    }

    /// The same, to be changed.
    pub fn spot_mut(&mut self) -> Option<&mut Spot> {
        self.spots.get_mut(self.stage.checked_sub(1)?)
    }

    /// Where a key is pressed now.
    #[must_use]
    pub fn context(&self) -> Context {
        match self.over.last() {
            Some(Over::Form(_)) => Context::Form,
            Some(Over::List(_) | Over::Jobs(_)) => Context::List,
            Some(Over::Beside(_)) => Context::Beside,
            Some(Over::Finder { .. }) => Context::Finder,
            Some(Over::Tables(tables)) if tables.entry.is_some() => Context::Field,
            Some(Over::Tables(_)) => Context::Tables,
            Some(Over::Leave) => Context::Leave,
            Some(Over::Left(_)) => Context::Left,
            None if self.photos.open && super::screen::photo::is_here(self) => Context::Picture,
            None if self.stage == 0 && self.bench.typing => Context::Bench,
            None => Context::View,
        }
    }

    /// The table in sight.
    #[must_use]
    pub fn table(&self) -> Option<&Table> {
        self.view()?.table(self.spot()?.table)
    }

    /// The row marked in the view shown.
    #[must_use]
    pub fn row(&self) -> Option<&Row> {
        let (table, spot) = (self.table()?, self.spot()?);
        let order = super::screen::sheet::order(table, spot);
        table.rows.get(*order.get(spot.row)?)
    }

    /// The page the row marked speaks of.
    #[must_use]
    pub fn page(&self) -> Option<&Page> {
        match self.subject()? {
            Subject::Page(number) => self.pages.get(number.checked_sub(1)?),
            _ => None,
        }
    }

    /// What a command does to the row marked; nothing where it does not apply.
    #[must_use]
    pub fn act(&self, command: Command) -> Option<Act> {
        let row = self.row()?;
        match command {
            Command::Act => row.main(),
            _ => row.acts.iter().copied().find(|act| Command::of(*act) == command),
        }
    }

    /// What the row marked speaks of.
    #[must_use]
    pub fn subject(&self) -> Option<&Subject> {
        self.row()?.subject.as_ref()
    }
}
