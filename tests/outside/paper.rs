//! Outside checks: paper. Files are read back by readers that know nothing of
//! this program: `lopdf`, `roxmltree`, `dxf`, `csv`.

mod cut_sheets;
mod dxf_files;
mod harm;
mod laser;
mod pdf_pages;
mod sizes;
mod svg_files;

use scantling::catalog::Catalog;
use scantling::job::Job;
use scantling::job::demo;
use scantling::job::document::Document;
use scantling::plan::{Plan, plan};
use scantling::report::Seen;

/// A job with what follows from it.
struct Made {
    job: Job,
    catalog: Catalog,
    plan: Plan,
}

impl Made {
    fn of(text: &str) -> Self {
        Self::read(text).unwrap()
    }

    /// The job, or why it was refused.
    fn read(text: &str) -> Result<Self, String> {
        let catalog = Catalog::built_in().unwrap();
        let document = Document::read("job.toml", text, &catalog).map_err(|e| e.to_string())?;
        let job = document.job().clone();
        let plan = plan(&job, &catalog);
        Ok(Self { job, catalog, plan })
    }

    fn demo(name: &str) -> Self {
        Self::of(demo::find(name).unwrap().text)
    }

    fn seen(&self) -> Seen<'_> {
        Seen { job: &self.job, catalog: &self.catalog, plan: &self.plan }
    }
}

/// A box: least and most corner.
#[derive(Clone, Copy, Debug)]
struct Box2([f64; 2], [f64; 2]);

impl Box2 {
    fn of(points: &[[f64; 2]]) -> Self {
        let mut found = Self([f64::MAX; 2], [f64::MIN; 2]);
        for [x, y] in points {
            found.0 = [found.0[0].min(*x), found.0[1].min(*y)];
            found.1 = [found.1[0].max(*x), found.1[1].max(*y)];
        }
        found
    }

    fn size(&self) -> [f64; 2] {
        [self.1[0] - self.0[0], self.1[1] - self.0[1]]
    }

    /// Whether it is so large, within a slack.
    fn is(&self, wanted: [f64; 2], slack: f64) -> bool {
        let size = self.size();
        (size[0] - wanted[0]).abs() <= slack && (size[1] - wanted[1]).abs() <= slack
    }
}

/// Sizes in millimetres that must be found on paper: cores, floor, planes.
fn part_sizes(made: &Made) -> Vec<(String, [f64; 2])> {
    use scantling::takeoff::Kind;
    let takeoff = made.plan.takeoff.as_ref().unwrap();
    let mm = |part: &scantling::takeoff::Part| {
        [part.model_length.in_millimetres(), part.model_width.in_millimetres()]
    };
    let scale = made.plan.scale.as_ref().unwrap();
    let planes = takeoff.planes.iter().map(|plane| {
        let size = [plane.eave, plane.slope].map(|full| {
            let size: scantling::quantity::ModelLength = scale.reduce(full);
            size.in_millimetres()
        });
        (plane.label.clone(), size)
    });
    let flat = takeoff.parts.iter().filter(|part| matches!(part.kind, Kind::Core | Kind::Floor));
    flat.map(|part| (part.label.clone(), mm(part))).chain(planes).collect()
}
