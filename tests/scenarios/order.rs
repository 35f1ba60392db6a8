//! The order of the built-in jobs: each part in one step, each step after what
//! it waits for.

use scantling::catalog::Catalog;
use scantling::job::Job;
use scantling::job::demo::DEMOS;
use scantling::order::{Order, run};
use scantling::plan::plan;

fn ordered(name: &str) -> (Order, Vec<String>) {
    let demo = DEMOS.iter().find(|demo| demo.name == name).expect("a built-in job");
    let job: Job = demo.text.parse().expect("it reads");
    let plan = plan(&job, &Catalog::built_in().expect("the shipped data"));
    let takeoff = plan.takeoff.expect("parts");
    let found = run(&job, &plan.building.expect("a building"), &takeoff);
    assert!(found.findings.is_empty(), "{:?}", found.findings);
    (found.value, takeoff.parts.into_iter().map(|part| part.label).collect())
}

#[test]
fn every_part_is_put_in_place_once() {
    for demo in DEMOS {
        let (order, mut parts) = ordered(demo.name);
        let mut placed: Vec<String> =
            order.steps.iter().flat_map(|step| step.parts.iter().cloned()).collect();
        placed.sort();
        parts.sort();
        assert_eq!(placed, parts, "{}", demo.name);
    }
}

#[test]
fn each_step_comes_after_what_it_waits_for() {
    for demo in DEMOS {
        let (order, _) = ordered(demo.name);
        assert!(order.before.iter().all(|it| it.first < it.then), "{}", demo.name);
        assert!(!order.before.is_empty());
    }
}

/// Common practice, no source: a wall is braced before its boards, and has its
/// battens after its trim.
#[test]
fn a_wall_is_built_from_its_core_out() {
    let (order, _) = ordered("river-cannery");
    let place = |label: &str| {
        let found = order.steps.iter().position(|step| step.id.to_string() == label);
        found.unwrap_or_else(|| panic!("no step {label}"))
    };
    let walk = ["main/front/core", "main/front/bracing", "main/front/boards", "main/front/trim"];
    // The platform: planks on their stringers.
    assert!(place("platform/stringer") < place("platform/plank"));
    for pair in walk.windows(2) {
        assert!(order.after(place(pair[0])).contains(&place(pair[1])), "{pair:?}");
    }
}
