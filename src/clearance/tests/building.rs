//! The whole building against the track: boxes and roofs over the rails, and
//! distances on the plan worked out by hand.

use super::*;

/// A shed of 40 by 20 ft at 1:48 with straight track this far before it, full
/// size, and a car of 40 ft, square in section.
fn shed_by(out: f64, more: &str) -> String {
    shed(&format!(
        "{more}\n[track]\nat = [\"-10 in\", \"{:.6} in\"]\ncars = [\"square\"]\npaint = \"0 thou\"\n\
         {STRAIGHT}[[car]]\nkey = \"square\"\nlength = \"41 ft\"\ncentres = \"30 ft\"\n\
         profile = [[\"10 ft\", \"0 in\"], [\"10 ft\", \"12 ft 6 in\"]]\n",
        -out / 48.0
    ))
}

fn thing<'a>(found: &'a Clearance, name: &str) -> &'a Checked {
    let it = found.checked.iter().find(|it| it.name == name);
    let names: Vec<&str> = found.checked.iter().map(|it| it.name.as_str()).collect();
    it.unwrap_or_else(|| panic!("no {name} among {names:?}"))
}

/// A box against the track face, across the rails.
#[test]
fn a_box_across_the_rails_is_named_with_the_car_that_hits_it() {
    let box_ = "[[body]]\nname = \"box\"\nstands = { against = \"main/front\", at = \"10 ft\" }\n\
                length = \"12 ft\"\ndepth = \"8 ft\"\neave = \"9 ft\"\n\
                roof = { kind = \"shed\", pitch = \"3:12\" }\n";
    let plan = planned(&shed_by(108.0, box_)).expect("it goes on");
    let found = plan.value.expect("a track");
    // Track 9 ft out, box 8 ft: 1 ft off the centre line, the car reaches 5 ft.
    let front = thing(&found, "box/front");
    near(front.off.by, 12.0 / 48.0, 1e-9);
    let held = front.held[0].as_ref().expect("held");
    near(held.plan_gap, (12.0 - 60.0) / 48.0, 1e-9);
    assert!(held.clear < 0.0, "{held:?}");
    let told = plan.findings.iter().find(|it| it.message.contains("they meet")).expect("told");
    assert!(told.message.contains("box/") && told.message.contains("square"), "{}", told.message);
    assert!(found.worst.is_some_and(|(at, _)| found.checked[at].name.starts_with("box/")));
}

fn lean_to(walls: &str, meets: &str, pitch: &str) -> String {
    format!(
        "[[body]]\nname = \"leanto\"\nstands = {{ against = \"main/front\", at = \"0 ft\" }}\n\
         length = \"40 ft\"\ndepth = \"14 ft\"\nmeets = \"{meets}\"\n{walls}\
         roof = {{ kind = \"shed\", pitch = \"{pitch}\", eave = \"1 ft\" }}\n"
    )
}

/// A lean-to 14 ft deep over a track 2 in on the model from the wall: its walls
/// stand across the rails, its roof is too low for the cars.
#[test]
fn a_lean_to_over_the_track_is_named_with_the_car_that_hits_it() {
    let found = clearance(&shed_by(96.0, &lean_to("", "15 ft", "3:12")));
    for name in ["leanto/left", "leanto/right", "leanto/roof/front"] {
        let held = thing(&found, name).held[0].as_ref().expect("held");
        assert!(held.clear < 0.0 && held.plan_gap < 0.0, "{name}: {held:?}");
    }
}

/// The roof of a lean-to on posts is held over the cars where it has no rafters:
/// the car's corner farthest out stands under its lowest part.
#[test]
fn a_roof_is_checked_over_the_cars() {
    let found = clearance(&shed_by(96.0, &lean_to("walls = []\n", "15 ft", "1:12")));
    let roof = thing(&found, "leanto/roof/front");
    let held = roof.held[0].as_ref().expect("held");
    // At 13 ft out the underside is 180 - 13 in; the car is 150 in high.
    near(held.headroom.expect("over it"), (167.0 - 150.0) / 48.0, 1e-6);
    // The nearest point is square to the slope from the car's upper corner.
    near(held.clear, 17.0 / 48.0 * 12.0 / 12.0_f64.hypot(1.0), 1e-6);
    near(roof.heights[0], (180.0 - 15.0) / 48.0, 1e-9);
    let least = found.headroom.first().expect("a body on posts");
    assert_eq!((least.body.as_str(), least.standard), ("leanto", 0));
    near(least.least, 17.0 / 48.0, 1e-6);
    let low = clearance(&shed_by(96.0, &lean_to("walls = []\n", "13 ft", "1:12")));
    let held = thing(&low, "leanto/roof/front").held[0].as_ref().expect("held");
    assert!(held.clear < 0.0, "{held:?}");
    near(held.headroom.expect("over it"), (156.0 - 13.0 - 150.0) / 48.0, 1e-6);
    assert!(matches!(held.fix, Some(Fix::Raise(by)) if by > 7.0 / 48.0), "{:?}", held.fix);
}

/// A shed beside a track on one arc, with a canopy on posts to a beam beyond the
/// track and a platform; every figure worked out by hand from circles and
/// chords (Pythagoras), a car on two pivots by `reach`'s formula.
const CANOPY: &str = r#"
[job]
name = "apples"
scale = "1:48"
lumber = "full-dimension"
[[layer]]
name = "core"
does = "core"
thick = "3/32 in"
[walls]
layers = ["core"]
[[body]]
name = "main"
length = "504 in"
depth = "264 in"
eave = "168 in"
foundation = "52 in"
roof = { kind = "gable", pitch = "6:12", eave = "18 in", rake = "12 in" }
[[body]]
name = "leanto"
stands = { against = "main/left", at = "42 in" }
length = "168 in"
depth = "108 in"
eave = "84 in"
roof = { kind = "shed", pitch = "3:12", eave = "12 in", rake = "4 in" }
[[body]]
name = "canopy"
stands = { against = "main/front", at = "0 in" }
length = "504 in"
depth = "270 in"
meets = "149 in"
walls = []
roof = { kind = "shed", pitch = "1.5:12", eave = "12 in" }
[[wall]]
of = "main/front"
[[member]]
name = "rafter"
of = "canopy"
thickness = "2 in"
width = "6 in"
under-roof = true
at = "12 in"
every = "24 in"
let-in = "2 in"
[[member]]
name = "beam"
of = "canopy"
thickness = "8 in"
width = "10 in"
carries = "rafter"
[[member]]
name = "post"
of = "canopy"
thickness = "8 in"
width = "8 in"
carries = "beam"
at = "12 in"
spacing = "144 in"
[[deck]]
name = "platform"
width = "72 in"
height = "52 in"
plank = "8 in"
[track]
at = ["-24.75 in", "-11.350975773 in"]
heading = "30 deg"
rail = "-0.916666667 in"
cars = ["box"]
rules = ["WAC 480-60"]
[[track.piece]]
arc = "60 deg"
radius = "60 in"
turn = "right"
[[car]]
key = "box"
length = "41 ft"
centres = "30 ft"
profile = [["10 ft", "0 in"], ["10 ft", "12 ft 6 in"]]
"#;

#[test]
fn a_canopy_over_a_curve_as_worked_by_hand() {
    let found = clearance(CANOPY);
    let [inside, outside] = found.standards[0].on_curve.expect("a curve");
    let middle = (60.0_f64.powi(2) - 3.75_f64.powi(2)).sqrt();
    near(inside.in_inches(), 60.0 - (middle - 1.25), 1e-9);
    near(inside.in_inches(), 1.3673, 5e-5);
    near(outside.in_inches(), 1.3471, 5e-5);
    let of = |name: &str, standard: usize| {
        let thing = thing(&found, name);
        (thing, thing.held[standard].as_ref().expect("held"))
    };
    // An end post stands 240 in off the middle; the centre of the arc is 60 in
    // and the 159 in (full size) of the track before the wall.
    let (post, held) = of("post 1", 0);
    near(post.off.by, 60.0 - 5.0833_f64.hypot(63.3125 - 5.5417), 5e-4);
    near(post.off.by, 2.006, 5e-4);
    near(held.plan_gap, 0.6387, 5e-4);
    near(of("post 1", 1).1.rule_short.expect("a rule"), 0.119, 5e-4);
    near(of("post 3", 0).1.plan_gap, 107.0 / 48.0 - inside.in_inches(), 5e-4);
    near(of("platform", 0).1.plan_gap, 87.0 / 48.0 - outside.in_inches(), 5e-4);
    let corner = 5.25_f64.hypot(64.4375) - 60.0;
    near(of("leanto/right", 0).1.plan_gap, corner - outside.in_inches(), 5e-4);
    near(of("rafter 1", 0).1.headroom.expect("over it"), 0.158, 5e-4);
    let least = found.headroom.iter().find(|it| it.body == "canopy").expect("on posts");
    assert!(least.least <= 0.1585 && least.least > 0.1, "{least:?}");
    near(thing(&found, "beam").heights[0], 3.0251, 5e-4);
}

/// An office against the front of a long store, on the outside of a curve.
#[test]
fn an_annex_outside_a_curve_as_worked_by_hand() {
    let scale = 304.8 / 3.5;
    let job = "[job]\nname = \"nets\"\nscale = \"HO\"\n\
        [[layer]]\nname = \"core\"\ndoes = \"core\"\nthick = \"1/16 in\"\n[walls]\nlayers = [\"core\"]\n\
        [[body]]\nname = \"main\"\nlength = \"720 in\"\ndepth = \"360 in\"\neave = \"180 in\"\n\
        roof = { kind = \"gable\", pitch = \"6:12\", eave = \"18 in\", rake = \"12 in\" }\n\
        [[body]]\nname = \"weigh\"\nstands = { against = \"main/front\", at = \"480 in\" }\n\
        length = \"144 in\"\ndepth = \"96 in\"\neave = \"90 in\"\n\
        roof = { kind = \"shed\", pitch = \"3:12\", eave = \"10 in\", rake = \"4 in\" }\n\
        [[wall]]\nof = \"main/front\"\n\
        [track]\nat = [\"-377.815367 mm\", \"-279.184633 mm\"]\nheading = \"45 deg\"\n\
        cars = [\"box\"]\nrules = [\"WAC 480-60\"]\n\
        [[track.piece]]\narc = \"90 deg\"\nradius = \"30 in\"\nturn = \"right\"\n\
        [[car]]\nkey = \"box\"\nlength = \"41 ft\"\ncentres = \"30 ft\"\n\
        profile = [[\"10 ft\", \"0 in\"], [\"10 ft\", \"12 ft 6 in\"]]\n";
    let found = clearance(job);
    let outside = found.standards[0].on_curve.expect("a curve")[1].in_inches();
    near(outside, 0.7477, 5e-5);
    let wall = thing(&found, "weigh/front");
    let held = wall.held[0].as_ref().expect("held");
    near(held.plan_gap, 96.0 / scale - outside, 5e-4);
    near(held.plan_gap, 0.3546, 5e-4);
    let rule = wall.held[1].as_ref().expect("held");
    near(rule.rule_short.expect("a rule"), 6.0 / scale, 5e-4);
    let corner = (72.0 / scale).hypot(30.0 + 96.0 / scale) - 30.0;
    near(wall.ends.expect("a wall")[0], corner, 5e-4);
    near(corner - held.reach, 0.3656, 5e-4);
    let eave = thing(&found, "weigh/roof/front").held[0].as_ref().expect("held");
    near(eave.plan_gap, 86.0 / scale - outside, 5e-4);
}

/// Many timbers far from the track are counted and not swept.
#[test]
fn timbers_far_from_the_track_are_left_out() {
    let row = |name: &str, out: &str| {
        format!(
            "[[member]]\nname = \"{name}\"\nwidth = \"8 in\"\nthickness = \"8 in\"\n\
             length = \"14 ft\"\ncount = 50\nstands = {{ out = \"{out}\" }}\n"
        )
    };
    let found = clearance(&format!(
        "{}{}",
        track("", STRAIGHT),
        row("near", "4 ft") + &row("far", "-4 ft")
    ));
    assert_eq!(found.further, 50);
    assert_eq!(found.checked.iter().filter(|it| it.what == What::Post).count(), 50);
}

/// With a wire, an outline keeps the part above its top free too; without, what
/// hangs there is clear.
#[test]
fn the_part_for_the_wire_is_held_where_a_wire_hangs() {
    let outline = |wire: &str| {
        let bar = "[[obstacle]]\nname = \"bar\"\nfrom = [\"0 in\", \"-3 in\", \"62 mm\"]\nto = [\"10 in\", \"-3 in\", \"62 mm\"]\n";
        clearance(&format!("{}{bar}", track(&format!("outlines = [\"NEM H0\"]\n{wire}"), STRAIGHT)))
    };
    let clear = |found: &Clearance| thing(found, "bar").held[1].as_ref().expect("held").clear;
    // 59 mm is the top, 65 mm that of the wire: 3 mm over the one, 3 mm under
    // the other (NEM 102, H0).
    near(clear(&outline("")), 3.0 / 25.4, 1e-6);
    near(clear(&outline("wire = true")), -3.0 / 25.4, 1e-6);
}

/// The half circle of 8 ft under 22 ft 6 in (WAC 480-60): a corner of a portal
/// that stands in the square and out of the arch clears.
#[test]
fn an_arched_portal_is_held_by_its_arch() {
    let bar = "[[obstacle]]\nname = \"bar\"\nfrom = [\"0 in\", \"-1.4 in\", \"5.4 in\"]\nto = [\"10 in\", \"-1.4 in\", \"5.4 in\"]\n";
    let found = clearance(&format!("{}{bar}", track("rules = [\"WAC 480-60 bridges\"]", STRAIGHT)));
    let held = thing(&found, "bar").held[1].as_ref().expect("held");
    // 1.6 in out and 5.4 in up; the arch springs at 3.625 in with a radius of 2.
    near(held.clear, 1.6_f64.hypot(5.4 - 3.625) - 2.0, 1e-3);
    assert!(held.clear > 0.0);
}

/// The front that a site sets clear of its curve is as clear on the clearance.
#[test]
fn a_site_and_the_clearance_keep_the_same() {
    let text = include_str!("../../../data/demo/creamery.toml");
    let found = clearance(text);
    let front = thing(&found, "main/front").held[0].as_ref().expect("held");
    near(front.clear, front.want, 0.001);
    near(front.plan_gap, front.want, 0.001);
}
