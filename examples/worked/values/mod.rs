//! What the building of a job comes to, as lines of part, field and value. All
//! of it is read from the plan; nothing is worked out here but counts and sums
//! of what is alike.

mod bill;
mod clearance;
mod courses;
mod frame;
mod ground;
mod inside;
mod labels;
mod order;
mod out;
mod parts;
mod roofs;
mod site;
mod stiff;
mod trim;
mod walls;

use out::Out;
use scantling::catalog::Catalog;
use scantling::job::Job;
use scantling::job::model::Units;
use scantling::plan::{Plan, plan};

/// What the subjects read.
struct Work<'a> {
    job: &'a Job,
    plan: &'a Plan,
    building: &'a scantling::building::Building,
}

/// Every value of a job's building.
pub(crate) fn of(job: &Job, catalog: &Catalog) -> Result<Vec<String>, String> {
    let plan = plan(job, catalog);
    let scale = plan.scale.clone().map_err(|stop| stop.to_string())?;
    let building = plan.building.clone().map_err(|stop| stop.to_string())?;
    let mut out = Out::new(scale, job.about.units == Units::Metric);
    let work = Work { job, plan: &plan, building: &building };
    walls::say(&work, &mut out);
    roofs::say(&work, &mut out);
    inside::say(&work, &mut out);
    frame::say(&work, &mut out);
    ground::say(&work, &mut out);
    parts::say(&work, &mut out);
    order::say(&work, &mut out);
    bill::say(&work, &mut out);
    site::say(&work, &mut out);
    clearance::say(&work, &mut out);
    Ok(out.lines().to_vec())
}
