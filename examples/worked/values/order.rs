//! Which steps come before which, near and far.

use scantling::order;

use super::Work;
use super::out::Out;

pub(crate) fn say(work: &Work<'_>, out: &mut Out) {
    let Ok(takeoff) = &work.plan.takeoff else { return };
    let found = order::run(work.job, work.building, takeoff).value;
    for (at, step) in found.steps.iter().enumerate() {
        for then in found.after(at) {
            out.also(&step.id.to_string(), "before", &found.steps[then].id);
        }
    }
}
