//! The views as tables, and the tables as text, JSON and files.
//!
//! A view is one file here with a `view` and a `json` function, and one line
//! in [`VIEWS`]; the command line and the terminal both read that list.

pub mod before_after;
pub mod bench;
pub mod bench_tables;
pub mod cautions;
pub mod cell;
pub mod clearance;
pub mod column;
pub mod compress;
pub mod csv;
pub mod draft;
pub mod faces;
pub mod field_sheet;
pub mod json;
pub mod keys;
pub mod lamps;
pub mod layout;
pub mod mockup;
pub mod notes;
pub mod order;
pub mod paper;
pub mod photo;
pub mod place;
pub mod rack;
pub mod record;
pub mod site;
mod sizes;
pub mod stock;
pub mod table;
pub mod taken;
pub mod takeoff;
pub mod templates;
pub mod text;

use serde_json::Value;

use self::table::View;
use crate::catalog::Catalog;
use crate::finding::{Finding, Severity, Stage};
use crate::job::Job;
use crate::plan::Plan;

/// What a view is made from.
#[derive(Clone, Copy, Debug)]
pub struct Seen<'a> {
    /// What the person wrote.
    pub job: &'a Job,
    /// The data behind it.
    pub catalog: &'a Catalog,
    /// What follows from both.
    pub plan: &'a Plan,
}

/// Which view.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum ViewId {
    /// `notes`.
    Notes,
    /// `photo`.
    Photo,
    /// `field-sheet`.
    FieldSheet,
    /// `faces`.
    Faces,
    /// `site`.
    Site,
    /// `compress`.
    Compress,
    /// `stock`.
    Stock,
    /// `takeoff`.
    Takeoff,
    /// `layout`.
    Layout,
    /// `templates`.
    Templates,
    /// `order`.
    Order,
    /// `mockup`.
    MockUp,
    /// `clearance`.
    Clearance,
    /// `lamps`.
    Lamps,
    /// `record`.
    Record,
}

impl ViewId {
    /// Its row of [`VIEWS`].
    #[must_use]
    pub fn kind(self) -> &'static ViewKind {
        // Each id has its row: the rows are in the order of the ids.
        &VIEWS[self as usize]
    }
}

/// A view that needs a job.
#[derive(Clone, Copy, Debug)]
pub struct ViewKind {
    /// Which it is.
    pub id: ViewId,
    /// Its name: the verb and the screen.
    pub name: &'static str,
    /// What it shows, for help.
    pub about: &'static str,
    /// The stages whose findings it shows.
    pub own: &'static [Stage],
    /// The stages whose findings it shows again where they ask for a look.
    pub again: &'static [Stage],
    /// The tables of a job it rests on; `*` is all of them.
    pub rests_on: &'static [&'static str],
    /// The view as tables.
    pub view: fn(Seen<'_>) -> View,
    /// The view as JSON, where its tables do not hold all of it.
    pub json: Option<fn(Seen<'_>) -> Value>,
}

impl ViewKind {
    /// The view in which the work of a stage is started and shown.
    #[must_use]
    pub fn of_stage(stage: Stage) -> Option<&'static Self> {
        VIEWS.iter().find(|kind| kind.own.contains(&stage))
    }

    /// The view, with what was noticed and what it takes that the job does not
    /// give.
    #[must_use]
    pub fn shown(&self, seen: Seen<'_>) -> View {
        self.with_findings((self.view)(seen), seen)
    }

    /// The same for a view of it that was made otherwise.
    #[must_use]
    pub fn with_findings(&self, mut view: View, seen: Seen<'_>) -> View {
        view.id = Some(self.id);
        view.tables.push(taken::table(self.rests_on, seen));
        view.findings.splice(0..0, self.noticed(seen.plan));
        view
    }

    /// What the stages of this view noticed, in the order of the work.
    pub(crate) fn noticed(&self, plan: &Plan) -> Vec<Finding> {
        let is_its = |it: &&Finding| {
            let again = it.severity >= Severity::Look && self.again.contains(&it.stage);
            again || self.own.contains(&it.stage)
        };
        plan.findings.iter().filter(is_its).cloned().collect()
    }

    /// The same as JSON: what was taken is under `taken`.
    #[must_use]
    pub fn told(&self, seen: Seen<'_>) -> Value {
        let shown = self.shown(seen);
        let Some(json) = self.json else { return json::view(&shown) };
        let mut value = json(seen);
        if let (Some(object), Value::Object(own)) = (value.as_object_mut(), json::view(&shown)) {
            object.extend(own);
        }
        value
    }
}

/// The views that need a job, in the order of the work.
pub const VIEWS: &[ViewKind] = &[
    ViewKind {
        id: ViewId::Notes,
        name: "notes",
        about: "Show the readings, what they come to, and which do not belong",
        own: &[Stage::Survey, Stage::Agreement],
        again: &[],
        rests_on: &[],
        view: notes::view,
        json: None,
    },
    ViewKind {
        id: ViewId::Photo,
        name: "photo",
        about: "Measure on photographs: marks, lengths with their intervals, the wall squared up",
        own: &[Stage::Photo],
        again: &[],
        rests_on: &[],
        view: photo::plan_view,
        json: None,
    },
    ViewKind {
        id: ViewId::FieldSheet,
        name: "field-sheet",
        about: "Show a sheet to print and fill in: what to take, what checks it, cautions",
        own: &[],
        again: &[],
        rests_on: &[],
        view: field_sheet::view,
        json: None,
    },
    ViewKind {
        id: ViewId::Faces,
        name: "faces",
        about: "Show the faces: every element at its place, full size and model",
        own: &[Stage::Faces, Stage::Scaling],
        again: &[Stage::Agreement],
        rests_on: &[],
        view: faces::view,
        json: None,
    },
    ViewKind {
        id: ViewId::Site,
        name: "site",
        about: "Show the ground: outline, track, car, and where the building stands",
        own: &[],
        again: &[],
        rests_on: &["site.track"],
        view: site::view,
        json: None,
    },
    ViewKind {
        id: ViewId::Compress,
        name: "compress",
        about: "Compare the ways to make the building fit, line by line",
        own: &[Stage::Compress],
        again: &[Stage::Agreement],
        rests_on: &[],
        view: compress::view,
        json: None,
    },
    ViewKind {
        id: ViewId::Stock,
        name: "stock",
        about: "Pick the nearest stock for every section, with the error it makes",
        own: &[Stage::Stock],
        again: &[],
        rests_on: &["job", "cladding", "trim", "deck", "member", "body.roof", "layer"],
        view: stock::view,
        json: None,
    },
    ViewKind {
        id: ViewId::Takeoff,
        name: "takeoff",
        about: "List the parts of the building, and why each has its size",
        own: &[Stage::Building, Stage::Takeoff],
        again: &[Stage::Agreement, Stage::Stock],
        rests_on: &[
            "job",
            "cladding",
            "trim",
            "deck",
            "member",
            "opening",
            "body",
            "body.roof",
            "walls",
            "wall",
            "layer",
            "corner",
            "terrace",
            "base",
        ],
        view: takeoff::view,
        json: None,
    },
    ViewKind {
        id: ViewId::Layout,
        name: "layout",
        about: "Lay the parts out on sticks and sheets: the cut list",
        own: &[Stage::Cutting],
        again: &[Stage::Agreement],
        rests_on: &["job", "cladding", "deck", "member", "cutting"],
        view: layout::view,
        json: None,
    },
    ViewKind {
        id: ViewId::Templates,
        name: "templates",
        about: "Print templates at 1:1 and write files for a laser; check the print",
        own: &[Stage::Templates],
        again: &[Stage::Agreement],
        rests_on: &["opening", "paper", "walls", "layer", "corner", "cladding"],
        view: templates::view,
        json: None,
    },
    ViewKind {
        id: ViewId::Order,
        name: "order",
        about: "List the steps in an order that works, and what each waits for",
        own: &[],
        again: &[],
        rests_on: &[],
        view: order::view,
        json: None,
    },
    ViewKind {
        id: ViewId::MockUp,
        name: "mockup",
        about: "Hold the card mock-up and the finished model against the plan; take sizes back",
        own: &[Stage::MockUp],
        again: &[],
        rests_on: &[],
        view: mockup::view,
        json: None,
    },
    ViewKind {
        id: ViewId::Clearance,
        name: "clearance",
        about: "Hold the building against the track: does the largest car pass everywhere",
        own: &[Stage::Clearance],
        again: &[],
        rests_on: &["track", "job"],
        view: clearance::view,
        json: None,
    },
    ViewKind {
        id: ViewId::Lamps,
        name: "lamps",
        about: "Work out the lamps: resistors, current, wire, and what must not be wired",
        own: &[Stage::Lamps],
        again: &[],
        rests_on: &["lamps", "lamps.supply", "lamps.string", "lamps.string.hangs", "lamps.load"],
        view: lamps::view,
        json: None,
    },
    ViewKind {
        id: ViewId::Record,
        name: "record",
        about: "Print the build record: sources, dimensions, decisions, cautions",
        own: Stage::ALL,
        again: &[],
        rests_on: &["*"],
        view: record::view,
        json: None,
    },
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_view_has_its_row() {
        for (at, kind) in VIEWS.iter().enumerate() {
            assert_eq!(kind.id as usize, at, "{}", kind.name);
            assert_eq!(kind.id.kind().name, kind.name);
        }
    }

    /// The cursor finds its table by its name.
    #[test]
    fn every_table_shown_has_a_name_of_its_own() {
        let catalog = Catalog::built_in().expect("the shipped data");
        for demo in crate::job::demo::DEMOS {
            let job: Job = demo.text.parse().expect("a job");
            let plan = crate::plan::plan(&job, &catalog);
            for kind in VIEWS {
                let view = kind.shown(Seen { job: &job, catalog: &catalog, plan: &plan });
                let mut names: Vec<&str> =
                    view.shown().into_iter().map(|table| table.id.as_str()).collect();
                names.sort_unstable();
                let twice = names.windows(2).find(|pair| pair[0] == pair[1]);
                assert!(twice.is_none(), "{} of {}: {twice:?}", kind.name, demo.name);
            }
        }
    }

    #[test]
    fn every_finding_of_the_demos_is_shown_in_a_view_beside_the_record() {
        let catalog = Catalog::built_in().expect("the shipped data");
        for demo in crate::job::demo::DEMOS {
            let job: Job = demo.text.parse().expect("a job");
            let plan = crate::plan::plan(&job, &catalog);
            assert!(!plan.findings.is_empty());
            let kinds = || VIEWS.iter().filter(|kind| kind.id != ViewId::Record);
            for finding in &plan.findings {
                let shown = kinds().any(|kind| kind.noticed(&plan).contains(finding));
                assert!(shown, "{}: {finding:?}", demo.name);
                assert!(ViewId::Record.kind().noticed(&plan).contains(finding));
            }
        }
    }
}
