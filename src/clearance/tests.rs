mod building;

use super::body::{Block, Body, Solid};
use super::chain::{Chain, Piece};
use super::section::Section;
use super::sweep::Sweep;
use super::*;
use crate::site::reach;

fn body(length: f64, centres: f64, width: f64) -> Body {
    let section = Section::rectangle(width / 2.0, 0.0, 2.0).expect("a section");
    Body { centres, blocks: vec![Block::new([-length / 2.0, length / 2.0], section)] }
}

/// A car of full feet at 1:87.1.
fn ho(length: f64, centres: f64) -> Body {
    let model = |feet: f64| feet * 12.0 / 87.1;
    body(model(length), model(centres), model(10.0))
}

fn chain(pieces: &[Piece]) -> Chain {
    Chain::new([0.0; 2], 0.0, pieces).expect("a chain")
}

fn near(found: f64, expected: f64, slack: f64) {
    assert!((found - expected).abs() <= slack, "found {found}, expected {expected}");
}

/// On a pure arc the envelope is that of the formula, on both sides.
#[test]
fn on_an_arc_the_envelope_is_the_formula() {
    for radius in [18.0, 24.0, 36.0] {
        let chain = chain(&[Piece::arc(radius, 1.2)]);
        for (length, centres) in [(41.0, 30.0), (51.0, 40.0), (61.0, 46.0), (85.0, 59.5)] {
            let body = ho(length, centres);
            let inch = ModelLength::inches;
            let model = |feet: f64| inch(feet * 12.0 / 87.1);
            let by_rule =
                reach(inch(radius), model(length), model(centres), model(10.0)).expect("it goes");
            let sweep = Sweep::new(&chain, body, 0.0).expect("it goes");
            let along = radius * 0.6;
            near(sweep.reach(along, 1.0, true).unwrap(), by_rule.inside.in_inches(), 1e-4);
            near(sweep.reach(along, 1.0, false).unwrap(), by_rule.outside.in_inches(), 1e-4);
        }
    }
}

/// A post beside a pure arc stands as far from the car as the formula says.
#[test]
fn a_post_beside_an_arc_has_what_the_formula_leaves() {
    let chain = chain(&[Piece::arc(24.0, 1.2)]);
    let sweep = Sweep::new(&chain, ho(61.0, 46.0), 0.0).expect("it goes");
    let centre = [0.0, 24.0];
    for (out, reach) in [(1.5, 0.837), (-1.5, 0.899)] {
        let angle = -std::f64::consts::FRAC_PI_2 + 0.6;
        let far = 24.0 + out;
        let at = [centre[0] + far * angle.cos(), centre[1] + far * angle.sin()];
        let found = sweep.nearest(&Solid::line([at[0], at[1], 0.2], [at[0], at[1], 1.8]));
        near(found.clear, 1.5 - reach, 0.001);
        let shift = [found.away[0] * 0.1, found.away[1] * 0.1, 0.0];
        let moved = Solid::line([at[0], at[1], 0.2], [at[0], at[1], 1.8]).moved(shift);
        assert!(sweep.nearest(&moved).clear > found.clear + 0.09, "away is away");
    }
}

#[test]
fn the_straight_next_to_a_curve_is_swept_too() {
    let radius = 18.0;
    let chain = chain(&[Piece::straight(30.0), Piece::arc(radius, 1.0)]);
    let sweep = Sweep::new(&chain, ho(85.0, 59.5), 0.0).expect("it goes");
    let half = 5.0 * 12.0 / 87.1;
    let at = |along: f64, left: bool| sweep.reach(along, 1.0, left).unwrap();
    near(at(15.0, true), half, 1e-9);
    near(at(15.0, false), half, 1e-9);
    // The curve is to the left: the tail swings out to the right before it.
    assert!(at(27.0, false) > half + 0.01, "{}", at(27.0, false));
    assert!(at(29.5, true) > half + 0.01, "{}", at(29.5, true));
    let deep = at(30.0 + radius * 0.5, true);
    assert!(at(29.5, true) < deep);
}

#[test]
fn a_raised_rail_leans_the_car_to_the_inside() {
    let lean = 0.1;
    let piece = Piece { lean: [lean; 2], ..Piece::arc(60.0, 0.6) };
    let chain = chain(&[piece]);
    let sweep = Sweep::new(&chain, body(5.0, 3.5, 1.2), 0.325).expect("it goes");
    let flat_chain = self::chain(&[Piece::arc(60.0, 0.6)]);
    let flat = Sweep::new(&flat_chain, body(5.0, 3.5, 1.2), 0.325).expect("it goes");
    let (along, high) = (18.0, 1.8);
    let gain = sweep.reach(along, high, true).unwrap() - flat.reach(along, high, true).unwrap();
    // At a height h the side stands h tan(lean) further in, and the body is
    // broader by 1 / cos.
    let lift = 0.325 * lean.sin();
    near(gain, (high - lift) * lean.tan() + 0.6 * (1.0 / lean.cos() - 1.0), 1e-4);
    assert!(sweep.reach(along, high, false).unwrap() < flat.reach(along, high, false).unwrap());
}

/// A brace whose ends are clear can still cut the corner of the body.
#[test]
fn a_brace_is_held_along_its_line_and_not_at_its_ends() {
    let chain = chain(&[Piece::straight(40.0)]);
    let sweep = Sweep::new(&chain, body(6.0, 4.0, 1.4), 0.0).expect("it goes");
    let brace = Solid::line([20.0, 1.0, 1.5], [20.0, 0.2, 2.3]);
    let ends = brace.axis.map(|end| sweep.nearest(&Solid::line(end, end)).clear);
    near(ends[0], 0.3, 1e-9);
    near(ends[1], 0.3, 1e-9);
    let found = sweep.nearest(&brace);
    // Between (0.7, 1.8) and (0.5, 2.0) the line is inside; its middle the
    // deepest, 0.1 from the side and from the top.
    near(found.clear, -0.1, 1e-4);
    assert!(found.clear < 0.0 && found.share > 0.3 && found.share < 0.7, "{found:?}");
}

#[test]
fn a_square_post_counts_with_its_side() {
    let chain = chain(&[Piece::straight(40.0)]);
    let sweep = Sweep::new(&chain, body(6.0, 4.0, 1.4), 0.0).expect("it goes");
    let across = [([1.0, 0.0, 0.0], 0.05), ([0.0, 1.0, 0.0], 0.08)];
    let post = Solid::bar([[20.0, 1.0, 0.0], [20.0, 1.0, 3.0]], across);
    near(sweep.nearest(&post).clear, 0.3 - 0.08, 1e-9);
}

#[test]
fn the_hollow_under_a_wide_body_is_free() {
    let points = vec![[0.4, 0.0], [0.4, 0.3], [0.7, 0.3], [0.7, 2.0]];
    let section = Section::new(points).expect("a section");
    let body = Body { centres: 4.0, blocks: vec![Block::new([-3.0, 3.0], section)] };
    let chain = chain(&[Piece::straight(40.0)]);
    let sweep = Sweep::new(&chain, body, 0.0).expect("it goes");
    let edge = |high: f64| Solid::line([0.0, 0.5, high], [40.0, 0.5, high]);
    near(sweep.nearest(&edge(0.15)).clear, 0.1, 1e-9);
    near(sweep.nearest(&edge(0.25)).clear, 0.05, 1e-9);
    near(sweep.nearest(&edge(1.0)).clear, -0.2, 1e-9);
}

/// The stages up to this one.
fn planned(job: &str) -> Staged<Option<Clearance>> {
    let catalog = Catalog::built_in().expect("the shipped data is sound");
    let job = crate::job::read::read("a.toml", job, &catalog);
    let job = job.unwrap_or_else(|error| panic!("{error}"));
    let survey = crate::survey::run(&job, &catalog).value;
    let scale = catalog.scales.find(&job.about.scale)?;
    let faces = crate::elevation::lay_out(&job, &survey)?.value;
    let scheme = crate::building::Scheme::of(&job, &survey, &faces).value;
    let compress = crate::compress::run(&job, &catalog, (&faces, &scheme), &scale)?.value;
    let offers = crate::stock::catalog::offers(&catalog);
    let era = crate::stock::catalog::era(&job, &catalog);
    let actual = |nominal: &str| crate::stock::catalog::actual(&catalog, &era, nominal);
    let stock = crate::stock::run(&job, &survey, &offers, &actual, &scale).value;
    let building = crate::building::raise(crate::building::Given {
        job: &job,
        catalog: &catalog,
        survey: &survey,
        built: &compress.built,
        stock: &stock,
        scale: &scale,
        scheme: &scheme,
    });
    run(Given {
        job: &job,
        catalog: &catalog,
        compress: &compress,
        building: &building.value,
        scale: &scale,
    })
}

/// A shed of 40 by 20 ft at 1:48: 10 by 5 in, with track before it.
fn shed(more: &str) -> String {
    format!(
        "[job]\nname = \"shed\"\nscale = \"1:48\"\nhand = \"5 thou\"\n\
         [[body]]\nname = \"main\"\ndepth = \"20 ft\"\neave = \"16 ft\"\n\
         [[wall]]\nof = \"main/front\"\nrow = [{{ plain = \"wall\", width = \"40 ft\" }}]\n{more}"
    )
}

fn track(more: &str, pieces: &str) -> String {
    shed(&format!("[track]\nat = [\"-10 in\", \"-3 in\"]\npaint = \"0 thou\"\n{more}\n{pieces}"))
}

const STRAIGHT: &str = "[[track.piece]]\nstraight = \"40 in\"\n";

fn clearance(job: &str) -> Clearance {
    planned(job).expect("it goes on").value.expect("there is a track")
}

fn held<'a>(found: &'a Clearance, name: &str) -> &'a Held {
    let it = found.checked.iter().find(|it| it.name == name);
    it.unwrap_or_else(|| panic!("no {name}")).held[0].as_ref().expect("held")
}

#[test]
fn members_stand_where_the_job_says_on_the_model() {
    let post = "[[member]]\nname = \"post\"\nwidth = \"8 in\"\nthickness = \"8 in\"\n\
                length = \"14 ft\"\ncount = 3\nstands = { out = \"4 ft\" }\n";
    let found = clearance(&format!("{}{post}", track("", STRAIGHT)));
    // Track 3 in before the front, post line 1 in, car 10 ft wide (1.25 in to its
    // side), post 2 in square at full size 8 in: 1/6 in, half of it 1/12.
    near(held(&found, "post 2").clear, 3.0 - 1.0 - 1.25 - 1.0 / 12.0, 1e-6);
    near(held(&found, "main/front").clear, 3.0 - 1.25, 1e-6);
    assert_eq!(found.checked.iter().filter(|it| it.what == What::Post).count(), 3);
    assert!(!held(&found, "post 2").is_short());
}

#[test]
fn what_is_short_is_named_with_what_to_do() {
    let post = "[[member]]\nname = \"post\"\nwidth = \"8 in\"\nthickness = \"8 in\"\n\
                length = \"14 ft\"\ncount = 3\nstands = { out = \"6 ft 6 in\" }\n";
    let job = format!("{}{post}", track("margin = \"0.1 in\"", STRAIGHT));
    let plan = planned(&job).expect("it goes on");
    let found = plan.value.expect("a track");
    let post = held(&found, "post 1");
    // 3 - 1.625 - 1.25 - 1/12 = 0.041667; wanted 0.105.
    near(post.short(), 0.105 - 0.125 / 3.0, 1e-6);
    let Some(Fix::Move { by, legs: None }) = post.fix else { panic!("{:?}", post.fix) };
    near(by, post.short(), 3e-4);
    let told = plan.findings.iter().find(|it| it.message.contains("post 1")).expect("told");
    assert!(told.message.contains("0.063 in short; 2 more"), "{}", told.message);
    assert!(told.hint.starts_with("move it 0.06"), "{}", told.hint);
}

#[test]
fn moving_by_what_is_said_clears_and_shorter_legs_too() {
    let brace = |out: &str, legs: &str| {
        format!(
            "[[member]]\nname = \"brace\"\nwidth = \"4 in\"\nthickness = \"4 in\"\n\
             legs = [\"{legs}\", \"{legs}\"]\ncount = 2\n\
             stands = {{ out = \"{out}\", foot = \"11 ft\", runs = \"out\" }}\n"
        )
    };
    let all = |brace: &str| clearance(&format!("{}{brace}", track("", STRAIGHT)));
    let found = all(&brace("5 ft", "48 in"));
    let first = held(&found, "brace 1");
    assert!(first.is_short() && first.part == "knee", "{first:?}");
    let Some(Fix::Move { by, legs: Some(legs) }) = first.fix else { panic!("{:?}", first.fix) };
    let moved = 5.0 - by * 4.0 - 1e-3;
    let again = all(&brace(&format!("{moved:.5} ft"), "48 in"));
    assert!(!held(&again, "brace 1").is_short(), "{:?}", held(&again, "brace 1"));
    assert!(held(&again, "brace 1").short() > -0.01, "and not by much more");
    assert!(legs > 0.1 && legs < 1.0);
}

#[test]
fn platforms_are_held_to_their_own_rule() {
    let deck =
        "[[deck]]\nname = \"dock\"\nwidth = \"4 ft 6 in\"\nheight = \"4 ft\"\nplank = \"8 in\"\n";
    let rules = "rules = [\"WAC 480-60\"]";
    let found = clearance(&format!("{}{deck}", track(rules, STRAIGHT)));
    let dock = found.checked.iter().find(|it| it.name == "dock").expect("a dock");
    // 3 in are 12 ft; less 4 ft 6 in are 7 ft 6 in: 3 in more than 7 ft 3 in.
    near(dock.held[1].as_ref().unwrap().clear, 3.0 / 48.0, 1e-6);
    let high = deck.replace("height = \"4 ft\"", "height = \"5 ft\"");
    let found = clearance(&format!("{}{high}", track(rules, STRAIGHT)));
    let dock = found.checked.iter().find(|it| it.name == "dock").expect("a dock");
    near(dock.held[1].as_ref().unwrap().clear, -12.0 / 48.0, 1e-6);
    assert!(found.floors.iter().any(|floor| !floor.rolls()), "5 ft stands over the car floor");
}

#[test]
fn cars_are_spotted_at_doors_by_their_pitch() {
    let doors = track("", STRAIGHT).replace(
        "row = [{ plain = \"wall\", width = \"40 ft\" }]",
        "row = [{ plain = \"a\", width = \"1 ft\" }, { opening = \"door\", kind = \"door\" }, { plain = \"b\", width = \"26 ft\" }, { opening = \"door2\", kind = \"door\" }, { plain = \"c\", width = \"1 ft\" }]\n[[opening]]\nname = \"door\"\nwhat = \"door\"\nwidth = \"6 ft\"\nheight = \"8 ft\"",
    );
    let found = clearance(&doors);
    let spots = found.spots.expect("doors");
    near(spots.pitch.in_feet(), 44.0, 1e-9);
    assert_eq!(spots.doors.len(), 2);
    // Middles at 4 and 36 ft, 32 apart against 44: one opens, the other not.
    assert!(spots.doors.iter().filter(|door| door.meets()).count() == 1);
    let shut = spots.doors.iter().find(|door| !door.meets()).expect("one");
    near(shut.off().in_feet().abs(), 12.0, 1e-9);
    near(shut.open.in_feet(), 0.0, 1e-9);
}

#[test]
fn bad_track_is_named() {
    let stop = |pieces: &str| planned(&track("", pieces)).expect_err(pieces);
    let piece = |text: &str| format!("[[track.piece]]\n{text}\n");
    assert!(stop(&piece("straight = \"0 in\"")).trouble.contains("piece 1 has no length"));
    assert!(stop("").trouble.contains("no pieces"));
    let sharp = stop(&piece("arc = \"30 deg\"\nradius = \"3 in\""));
    assert!(sharp.trouble.contains("under half its truck centres"), "{sharp}");
    assert!(stop(&piece("arc = \"30 deg\"\nradius = \"0 in\"")).trouble.contains("bends nothing"));
    assert!(stop(&piece("arc = \"30 deg\"")).trouble.contains("without a radius"));
    let both = track("", &piece("straight = \"1 in\"\narc = \"3 deg\""));
    let error = both.parse::<crate::job::Job>().expect_err("two kinds in one");
    assert!(error.message.contains("exactly one of the keys straight, arc"), "{error}");
    let knot = format!(
        "{}{}{}",
        piece("straight = \"60 in\""),
        piece("arc = \"270 deg\"\nradius = \"12 in\""),
        piece("straight = \"60 in\"")
    );
    assert!(stop(&knot).trouble.contains("overlap"));
    let bare = track("", &piece("arc = \"30\"\nradius = \"30 in\""));
    let error = bare.parse::<crate::job::Job>().expect_err("no unit");
    assert!(error.message.contains("unit"), "{error}");
}

#[test]
fn names_the_data_do_not_know_are_refused_with_their_line() {
    let catalog = Catalog::built_in().expect("the shipped data is sound");
    let error = |more: &str| {
        let job = track(more, STRAIGHT);
        crate::job::read::read("a.toml", &job, &catalog).expect_err(more).to_string()
    };
    assert!(error("cars = [\"40 ft box cat\"]").contains("did you mean \"40 ft box car\""));
    assert!(error("rules = [\"WAC\"]").contains("no rule called \"WAC\""));
    assert!(error("outlines = [\"NMRA S-7\"]").contains("no outline called"));
}

#[test]
fn the_creamerys_spur_is_its_sites_curve() {
    let text = include_str!("../../data/demo/creamery.toml");
    let found = clearance(text);
    near(found.sharpest.expect("a curve").in_inches(), 30.0, 1e-9);
    // The front stands at the car's own reach and 1/8 in: nothing is left of the
    // margin.
    assert_eq!(found.standards.len(), 2, "its car and its rule, side by side");
    let wall = held(&found, "main/front");
    near(wall.clear, 0.125, 0.001);
    near(wall.want, 0.125, 1e-12);
    near(wall.plan_gap, 0.125, 0.001);
}

#[test]
fn the_cannerys_canopy_has_an_answer_for_car_and_rule() {
    let found = clearance(include_str!("../../data/demo/river-cannery.toml"));
    assert_eq!(found.standards.len(), 3);
    assert!(found.worst.is_some() && !found.gauge.is_empty());
    assert!(found.checked.iter().any(|it| it.name == "arm-brace 3"));
    assert!(found.picture.section.is_some());
}

/// What the take-off counts stands there: as many posts, beams and braces.
#[test]
fn as_many_timbers_stand_as_are_cut() {
    let text = include_str!("../../data/demo/grain-store.toml");
    let found = clearance(text);
    let count = |what: What| found.checked.iter().filter(|it| it.what == what).count();
    assert_eq!((count(What::Post), count(What::Beam), count(What::Brace)), (9, 8, 16));
    let found = clearance(include_str!("../../data/demo/river-cannery.toml"));
    let count = |what: What| found.checked.iter().filter(|it| it.what == what).count();
    assert_eq!((count(What::Post), count(What::Beam), count(What::Brace)), (11, 11, 31));
}
