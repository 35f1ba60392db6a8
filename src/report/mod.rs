//! The views as tables, and the tables as text, JSON and files.
//!
//! A view is one file here with a `view` and a `json` function, and one line
//! in [`VIEWS`]; the command line and the terminal both read that list.

pub mod before_after;
pub mod bench;
pub mod bench_tables;
pub mod cautions;
pub mod clearance;
pub mod compress;
pub mod faces;
pub mod field_sheet;
pub mod keys;
pub mod lamps;
pub mod layout;
pub mod mockup;
pub mod notes;
pub mod paper;
pub mod photo;
pub mod place;
pub mod rack;
pub mod record;
pub mod site;
pub mod stock;
pub mod table;
pub mod taken;
pub mod takeoff;
pub mod templates;
pub mod text;

use serde_json::Value;

use self::table::View;
use crate::catalog::Catalog;
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

/// A view that needs a job.
#[derive(Clone, Copy, Debug)]
pub struct ViewKind {
    /// Its name: the verb and the screen.
    pub name: &'static str,
    /// What it shows, for help.
    pub about: &'static str,
    /// The view as tables.
    pub view: fn(Seen<'_>) -> View,
    /// The view as JSON with stable keys.
    pub json: fn(Seen<'_>) -> Value,
}

impl ViewKind {
    /// The view, with what it takes that the job does not give.
    #[must_use]
    pub fn shown(&self, seen: Seen<'_>) -> View {
        let mut view = (self.view)(seen);
        view.tables.extend(taken::table(self.name, seen));
        if ["takeoff", "layout", "templates"].contains(&self.name) {
            let told = crate::plan::before_cutting(&seen.plan.contradictions);
            let new: Vec<_> = told.filter(|it| !view.findings.contains(it)).cloned().collect();
            view.findings.splice(0..0, new);
        }
        view
    }

    /// The same as JSON: what was taken is under `taken`.
    #[must_use]
    pub fn told(&self, seen: Seen<'_>) -> Value {
        let mut value = (self.json)(seen);
        if let Some(object) = value.as_object_mut() {
            object.insert("taken".to_owned(), taken::as_json(self.name, seen));
        }
        value
    }
}

/// The views that need a job, in the order of the work.
pub const VIEWS: &[ViewKind] = &[
    ViewKind {
        name: "notes",
        about: "Show the readings, what they come to, and which do not belong",
        view: notes::view,
        json: notes::json,
    },
    ViewKind {
        name: "photo",
        about: "Measure on photographs: marks, lengths with their intervals, the wall squared up",
        view: photo::plan_view,
        json: photo::plan_json,
    },
    ViewKind {
        name: "field-sheet",
        about: "Show a sheet to print and fill in: what to take, what checks it, cautions",
        view: field_sheet::view,
        json: field_sheet::json,
    },
    ViewKind {
        name: "faces",
        about: "Show the faces: every element at its place, full size and model",
        view: faces::view,
        json: faces::json,
    },
    ViewKind {
        name: "site",
        about: "Show the ground: outline, track, car, and where the building stands",
        view: site::view,
        json: site::json,
    },
    ViewKind {
        name: "compress",
        about: "Compare the ways to make the building fit, line by line",
        view: compress::view,
        json: compress::json,
    },
    ViewKind {
        name: "stock",
        about: "Pick the nearest stock for every section, with the error it makes",
        view: stock::view,
        json: stock::json,
    },
    ViewKind {
        name: "takeoff",
        about: "List the parts of the building, and why each has its size",
        view: takeoff::view,
        json: takeoff::json,
    },
    ViewKind {
        name: "layout",
        about: "Lay the parts out on sticks and sheets: the cut list",
        view: layout::view,
        json: layout::json,
    },
    ViewKind {
        name: "templates",
        about: "Print templates at 1:1 and write files for a laser; check the print",
        view: templates::view,
        json: templates::json,
    },
    ViewKind {
        name: "mockup",
        about: "Hold the card mock-up and the finished model against the plan; take sizes back",
        view: mockup::view,
        json: mockup::json,
    },
    ViewKind {
        name: "clearance",
        about: "Hold the building against the track: does the largest car pass everywhere",
        view: clearance::view,
        json: clearance::json,
    },
    ViewKind {
        name: "lamps",
        about: "Work out the lamps: resistors, current, wire, and what must not be wired",
        view: lamps::view,
        json: lamps::json,
    },
    ViewKind {
        name: "record",
        about: "Print the build record: sources, dimensions, decisions, cautions",
        view: record::view,
        json: record::json,
    },
];
