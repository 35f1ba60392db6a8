//! Outside checks: what a building of several bodies must hold, each on a small
//! building typed here, every figure worked out beside it from plane geometry
//! (COMPUTED). Joints and covers are common practice, no source.
//!
//! Elsewhere: boxes and roofs over the track, margins, arcs of published
//! outlines in `src/clearance/tests/`; what counts in a space in
//! `src/compress/` and `src/site/`; order, mirror and scale in
//! `tests/properties/buildings.rs`.

use scantling::compress::{Alternative, Standing};
use scantling::finding::Finding;
use scantling::plan::Plan;
use scantling::takeoff::{Kind, Part, Takeoff};

use super::takeoff::{count, planned};

/// A main body at 1:48 of a length, depth and eave in inches, with what else the
/// job says. Boards are 1 in thick at full size, the core 3 in.
fn built([length, depth, eave]: [u32; 3], roof: &str, layers: &str, more: &str) -> Plan {
    planned(&format!(
        "[job]\nname = \"test\"\nscale = \"1:48\"\n\
         [[layer]]\nname = \"core\"\nthick = \"1/16 in\"\n\
         [[cladding]]\nname = \"boards\"\nkind = \"boards\"\nunit = \"12 in\"\n\
         thick = \"0.0208333333 in\"\n\
         [[cladding]]\nname = \"engraved\"\nkind = \"boards\"\nunit = \"12 in\"\n\
         thick = \"1/16 in\"\nscribed = true\n\
         [[cladding]]\nname = \"battened\"\nkind = \"board-and-batten\"\nunit = \"12 in\"\n\
         batten = \"3 in\"\nthick = \"0.0208333333 in\"\n\
         [walls]\nlayers = [{layers}]\ntrim = []\n\
         [[body]]\nname = \"main\"\nlength = \"{length} in\"\ndepth = \"{depth} in\"\n\
         eave = \"{eave} in\"\n[body.roof]\n{roof}\n{more}"
    ))
}

/// A main body 480 long of a depth in inches.
fn built_deep(depth: &str, more: &str) -> Plan {
    planned(&format!(
        "[job]\nname = \"test\"\nscale = \"1:48\"\n\
         [[layer]]\nname = \"core\"\nthick = \"1/16 in\"\n[walls]\nlayers = [\"core\"]\n\
         [[body]]\nname = \"main\"\nlength = \"480 in\"\ndepth = \"{depth} in\"\n\
         eave = \"120 in\"\nroof = {{ kind = \"gable\", pitch = \"6:12\" }}\n{more}"
    ))
}

const GABLE: &str = "kind = \"gable\"\npitch = \"6:12\"";
const CLAD: &str = "\"boards\", \"core\"";

fn taken(plan: &Plan) -> &Takeoff {
    plan.takeoff.as_ref().unwrap_or_else(|stop| panic!("{}", stop.told()))
}

fn first(takeoff: &Takeoff, face: &str, kind: Kind) -> Part {
    let found = takeoff.of(face, kind).next();
    found.unwrap_or_else(|| panic!("no {kind:?} on {face}")).clone()
}

/// Length of the first of a kind, inches at full size.
fn long(takeoff: &Takeoff, face: &str, kind: Kind) -> f64 {
    first(takeoff, face, kind).length.in_inches()
}

/// To a thou on the model.
fn near(found: f64, wanted: f64) {
    assert!((found - wanted).abs() < 0.048, "{found} in, by hand {wanted} in");
}

fn says(plan: &Plan, words: &str) -> bool {
    plan.findings.iter().any(|finding: &Finding| finding.message.contains(words))
}

fn lean_to(more: &str, behind: &str) -> String {
    format!(
        "[[body]]\nname = \"lean\"\nstands = {{ against = \"main/front\", at = \"60 in\" }}\n\
         length = \"200 in\"\ndepth = \"168 in\"\neave = \"84 in\"\n{behind}\
         roof = {{ kind = \"shed\", pitch = \"3:12\", eave = \"12 in\" }}\n{more}"
    )
}

/// 14 ft deep with 12 in over the eave at 3:12: 180 x sqrt(1 + 1/16) = 185.5 up
/// the slope, for the edge at the wall has no overhang.
#[test]
fn a_lean_to_roof_counts_one_overhang() {
    let plan = built([480, 240, 180], GABLE, CLAD, &lean_to("", ""));
    let planes = &plan.building.as_ref().unwrap().planes;
    let slope = planes.iter().find(|plane| plane.body == "lean").map(|plane| plane.slope.length);
    near(slope.map_or(0.0, |it| it.in_inches()), 185.54);
}

/// Its side walls, 168 deep: the core stops at the front's boards and core
/// (4 in) and runs on to the bare core behind (1 in). Clad behind, they gain
/// nothing.
#[test]
fn ends_of_a_lean_to_gain_the_boards_left_off_behind() {
    let bare = built([480, 240, 180], GABLE, CLAD, &lean_to("", ""));
    near(long(taken(&bare), "lean/left", Kind::Core), 168.0 - 4.0 + 1.0);
    let clad = built([480, 240, 180], GABLE, CLAD, &lean_to("", "behind = \"clad\"\n"));
    near(long(taken(&clad), "lean/left", Kind::Core), 168.0 - 4.0);
    // The wall behind has no boards there but up to where the roof meets it.
    let boards = |plan: &Plan| -> f64 {
        let each = taken(plan).of("main/front", Kind::Board);
        each.map(|it| it.covers.in_square_inches() * f64::from(it.count)).sum()
    };
    near((boards(&clad) - boards(&bare)) / 200.0, 84.0 + 168.0 / 4.0);
}

/// The roof meets the wall at 126 and its sheet is 3 in thick: a window from 110
/// to 140 is cut, one from 132 is not, nor is a doorway under the roof.
#[test]
fn a_lean_to_roof_that_cuts_a_window_is_told() {
    let window = |sill: u32, high: u32| {
        lean_to(
            &format!(
                "[[opening]]\nname = \"sash\"\nwhat = \"window\"\nwidth = \"30 in\"\n\
                 height = \"{high} in\"\nsill = \"{sill} in\"\n[[wall]]\nof = \"main/front\"\n\
                 openings = [{{ kind = \"sash\", at = \"100 in\" }}]\n"
            ),
            "",
        )
    };
    let told = |sill, high| {
        let plan = built([480, 240, 180], GABLE, CLAD, &window(sill, high));
        says(&plan, "the roof of lean runs across")
    };
    assert!(told(110, 30));
    assert!(!told(132, 30));
    assert!(!told(0, 80));
}

/// 37 ft long and 20 ft deep, the back without boards: the front's core is the
/// face less the boards of both ends, 36'-10"; so is the back's. The ends' stop
/// at the front's boards and core and at the back's core: 240 - 4 - 3. The box
/// is 442 by 239 outside its core: 502.48 across, 10.468 on the model.
#[test]
fn a_box_with_a_bare_back_closes() {
    let more = "[[wall]]\nof = \"main/back\"\nlayers = [\"core\"]\n";
    let plan = built([444, 240, 120], GABLE, CLAD, more);
    let out = taken(&plan);
    near(long(out, "main/front", Kind::Core), 442.0);
    near(long(out, "main/back", Kind::Core), 442.0);
    near(long(out, "main/left", Kind::Core), 233.0);
    let across = 442.0_f64.hypot(239.0) / 48.0;
    assert!((out.boxes[0].diagonal.in_inches() - across).abs() < 0.001);
}

/// Engraved sheet of 3 in at full size and nothing behind it: the ends are
/// shorter by the front and the back; corner blocks and floor are there,
/// and no wall is a core.
#[test]
fn one_engraved_layer_is_a_wall() {
    let sheets = "[cutting]\nsheets = [[\"4 in\", \"22 in\"]]\n";
    let plan = built([240, 180, 120], GABLE, "\"engraved\"", sheets);
    let out = taken(&plan);
    let fronts = out.of("main/front", Kind::Scribed);
    near(fronts.map(|it| it.width.in_inches() * f64::from(it.count)).sum(), 240.0);
    near(first(out, "main/left", Kind::Scribed).width.in_inches(), 180.0 - 6.0);
    for kind in [Kind::CornerBlock, Kind::Floor] {
        assert!(out.parts.iter().any(|part| part.kind == kind), "no {kind:?}");
    }
    assert!(out.parts.iter().all(|part| part.kind != Kind::Core));
    // 240 less both ends and both blocks of 12 is 210, the upright of 12 behind
    // the splice in its middle taken out: twice 99. The end is one sheet: 174
    // less two blocks.
    let level = |face| {
        let each = out.of(face, Kind::Bracing).map(|it| (it.length.in_inches(), it.count));
        each.collect::<Vec<_>>()
    };
    assert_eq!(level("main/front").len(), 1);
    near(level("main/front")[0].0, 99.0);
    assert_eq!(level("main/front")[0].1, 2);
    near(level("main/left")[0].0, 150.0);
    // Nothing of it is bought as core.
    let alone = planned(
        "[job]\nname = \"test\"\nscale = \"1:48\"\n[[cladding]]\nname = \"engraved\"\n\
         kind = \"boards\"\nunit = \"12 in\"\nthick = \"1/16 in\"\nscribed = true\n\
         [walls]\nlayers = [\"engraved\"]\n[[body]]\nname = \"main\"\nlength = \"240 in\"\n\
         depth = \"180 in\"\neave = \"120 in\"\nroof = { kind = \"gable\", pitch = \"6:12\" }\n",
    );
    let core = |part: &&Part| part.section.contains("core");
    assert_eq!(taken(&alone).parts.iter().find(core).map(|part| &part.label), None);
}

/// What `[space] counts` says counts: a body 343.92 deep (7.165 in) with a
/// lean-to of 185.2 (3.858 in) and its eave of 12 before it do not fit 8 in;
/// 384 less both is 186.8, so the body is built 15 ft deep; where walls alone
/// count 384 - 185.2 leaves 16 ft; in 12 in it keeps its depth. An annex 60 beyond
/// an end makes 480 into 540: 11.25 in, which 11 in do not hold.
#[test]
fn a_space_counts_what_it_says() {
    let best = |space: &str, annex: &str| {
        let more = format!("[space]\n{space}\n{annex}");
        let plan = built_deep("343.92", &more);
        let found = plan.compress.as_ref().unwrap_or_else(|stop| panic!("{}", stop.told()));
        let other = ["half-relief", "smaller-behind", "flat", "keep-ridge"];
        let whole = |it: &&Alternative| {
            it.standing == Standing::Offered
                && !other.iter().any(|end| it.kind.to_string().ends_with(end))
        };
        let best = found.alternatives.iter().filter(whole);
        let sizes = best.map(|it| (it.body.length.in_inches(), it.body.depth.in_inches()));
        sizes.reduce(|a, b| if b.1 > a.1 { b } else { a })
    };
    let lean = "[[body]]\nname = \"lean\"\nstands = { against = \"main/front\", at = \"60 in\" }\n\
                length = \"200 in\"\ndepth = \"185.2 in\"\neave = \"84 in\"\n\
                roof = { kind = \"shed\", pitch = \"3:12\", eave = \"12 in\" }\n";
    let deep = |space: &str| best(space, lean).map_or(f64::NAN, |it| it.1);
    near(deep("length = \"12 in\"\ndepth = \"8 in\""), 180.0);
    near(deep("length = \"12 in\"\ndepth = \"8 in\"\ncounts = \"eaves\""), 180.0);
    near(deep("length = \"12 in\"\ndepth = \"8 in\"\ncounts = \"walls\""), 192.0);
    near(deep("length = \"12 in\"\ndepth = \"12 in\""), 343.92);
    let annex = "[[body]]\nname = \"shed\"\nstands = { against = \"main/left\", at = \"20 in\" }\n\
                 length = \"100 in\"\ndepth = \"60 in\"\neave = \"84 in\"\n\
                 roof = { kind = \"shed\", pitch = \"3:12\" }\n";
    let long = |space: &str| best(space, annex).map_or(f64::NAN, |it| it.0);
    near(long("length = \"11.3 in\"\ndepth = \"8 in\""), 480.0);
    assert!(long("length = \"11 in\"\ndepth = \"8 in\"").is_nan());
}

/// Battens between a water table of 8 in and a frieze of 8 in on a wall of 144:
/// 128; none under corner boards of 5 in, so 39 joints less none at 12 in and
/// none lost: the first joint is 12 in from the corner. No alarm for boards of
/// usual length.
#[test]
fn battens_stop_at_trim() {
    let more = "[trim]\ncorner = \"14 in\"\nfrieze = \"8 in\"\nwater-table = \"8 in\"\n\
                [[wall]]\nof = \"main/front\"\n\
                trim = [\"corner-left\", \"corner-right\", \"frieze\", \"water-table\"]\n";
    let plan = built([480, 240, 144], GABLE, "\"battened\", \"core\"", more);
    let out = taken(&plan);
    near(long(out, "main/front", Kind::Batten), 128.0);
    // Joints at 12, 24 ... 468: those at 12 and 468 lie under corner boards.
    assert_eq!(count(out, "main/front", Kind::Batten), 37);
    // Boards run under the trim.
    near(long(out, "main/front", Kind::Board), 144.0);
}

/// A hip of 36 by 30 and of 36 by 20 with a described end wall is 36 long, and a
/// level roof needs no pitch.
#[test]
fn a_described_end_wall_is_an_end_wall() {
    for depth in [360, 240] {
        let more = format!(
            "[[wall]]\nof = \"main/left\"\nrow = [{{ plain = \"wall\", width = \"{depth} in\" }}]\n"
        );
        for roof in [
            "kind = \"hip\"\npitch = \"6:12\"",
            "kind = \"shed\"\npitch = \"1:12\"",
            "kind = \"flat\"",
        ] {
            let plan = built([432, depth, 120], roof, CLAD, &more);
            let body = &plan.building.as_ref().unwrap().bodies[0];
            near(body.length.length.in_inches(), 432.0);
            near(body.depth.length.in_inches(), f64::from(depth));
            near(long(taken(&plan), "main/front", Kind::Core), 430.0);
        }
    }
}

/// A tower of 6 in with walls of 4 in each is told, and no part is less than
/// nothing.
#[test]
fn a_box_smaller_than_its_walls_is_told() {
    let more = "[[body]]\nname = \"stub\"\nstands = { beside = \"main/left\", gap = \"40 in\" }\n\
                length = \"6 in\"\ndepth = \"60 in\"\neave = \"100 in\"\n\
                roof = { kind = \"flat\" }\n";
    let plan = built([240, 180, 120], GABLE, CLAD, more);
    assert!(says(&plan, "stub is no larger than its own walls are thick"));
    for part in &taken(&plan).parts {
        assert!(part.length.in_inches() > 0.0 && part.width.in_inches() >= 0.0, "{}", part.label);
    }
}

/// Rafters that fall 2 ft in 16 ft, 16 of them: parts, sqrt(192^2 + 24^2) =
/// 193.49 long without overhang, ends cut plumb, 7.13 degrees from square. The
/// beam they are let into 2 in has a housing for each.
#[test]
fn rafters_of_a_canopy_that_fall_are_parts() {
    let more = "[[body]]\nname = \"canopy\"\nstands = { against = \"main/front\", at = \"0 in\" }\n\
                length = \"480 in\"\ndepth = \"192 in\"\nmeets = \"150 in\"\nwalls = []\n\
                roof = { kind = \"shed\", pitch = \"1.5:12\" }\n\
                [[member]]\nname = \"rafter\"\nof = \"canopy\"\nthickness = \"2 in\"\nwidth = \"6 in\"\n\
                under-roof = true\nat = \"15 in\"\nevery = \"30 in\"\nlet-in = \"2 in\"\n\
                [[member]]\nname = \"beam\"\nof = \"canopy\"\nthickness = \"8 in\"\nwidth = \"10 in\"\n\
                carries = \"rafter\"\n";
    let plan = built([480, 240, 180], GABLE, CLAD, more);
    let out = taken(&plan);
    let rafters: Vec<&Part> =
        out.parts.iter().filter(|part| part.label.contains("/rafter")).collect();
    assert_eq!(rafters.iter().map(|part| part.count).sum::<u32>(), 16);
    near(rafters[0].length.in_inches(), 192.0_f64.hypot(24.0));
    let from_square = rafters[0].ends.map_or(f64::NAN, |it| it.in_degrees());
    assert!((from_square - 7.125).abs() < 0.01, "{from_square}");
    let members = &plan.building.as_ref().unwrap().members;
    let beam = members.iter().find(|it| it.name == "beam").unwrap();
    assert_eq!(beam.housings.len(), 16);
}

/// Courses of 5 in up a slope of 120 x sqrt(1.25) = 134.16 and a hang of 1.5:
/// 28, the last showing 0.66, under a third, so 27 of 5.02 all alike. With a
/// depth of 230 the slope is 128.57 and the last of 27 shows 0.07: 26 of 5.003.
#[test]
fn the_last_course_is_told_with_its_size() {
    let shingled = |depth: u32| {
        let roof = format!("{GABLE}\ncladding = \"shingles\"");
        let more = "[[cladding]]\nname = \"shingles\"\nkind = \"shingle\"\nexposure = \"5 in\"\n";
        let plan = built([480, depth, 120], &roof, CLAD, more);
        let courses = &taken(&plan).courses[0];
        (courses.count, courses.exposure.in_inches(), courses.last.in_inches())
    };
    let (count, each, last) = shingled(240);
    assert_eq!(count, 27);
    assert!((each - 135.664 / 27.0).abs() < 0.001 && (last - each).abs() < 0.001);
    // 220 deep: 122.98 and 1.5 up the slope, 25 courses, the last of 4.484.
    let (count, each, last) = shingled(220);
    assert_eq!(count, 25);
    assert!((each - 5.0).abs() < 1e-9 && (last - 4.4837).abs() < 0.001, "{last}");
}
