//! The take-off of the demonstration buildings as they will be built, and the
//! worked figures of the trade.

use super::*;
use crate::elevation::{Body, Elevation, Hole, Span, SpanKind};
use crate::job::building::OpeningWhat;
use crate::job::place::RoofFollows;
use crate::job::said::Size;
use crate::quantity::Ratio;

fn inches(value: f64) -> CompressedLength {
    CompressedLength::inches(value)
}

fn near(found: f64, wanted: f64, slack: f64) {
    assert!((found - wanted).abs() <= slack, "{found}, wanted {wanted}");
}

fn hole(kind: &str, left: f64, foot: f64, width: f64, height: f64, trim: f64) -> Hole<Compressed> {
    let what = if foot > 0.0 { OpeningWhat::Window } else { OpeningWhat::Door };
    Hole {
        label: format!("{kind}@{left}"),
        kind: kind.to_owned(),
        what,
        left: inches(left),
        foot: inches(foot),
        width: inches(width),
        height: inches(height),
        trim: inches(trim),
    }
}

fn front(
    name: &str,
    length: f64,
    eave: f64,
    ridge: f64,
    holes: Vec<Hole<Compressed>>,
) -> Elevation<Compressed> {
    Elevation {
        name: name.to_owned(),
        title: name.to_owned(),
        length: inches(length),
        height: inches(eave),
        ridge: inches(ridge),
        gable: false,
        spans: vec![Span {
            label: "bay#1".into(),
            element: "bay".into(),
            left: inches(0.0),
            right: inches(length),
            kind: SpanKind::Bay,
        }],
        holes,
    }
}

fn built(front: Elevation<Compressed>, depth: f64, pitch: f64, roof: RoofFollows) -> Built {
    let body = Body {
        length: front.length,
        depth: inches(depth),
        eave: front.height,
        ridge: front.ridge,
        pitch,
        eave_overhang: inches(0.0),
        rake_overhang: inches(0.0),
    };
    Built { body, roof, heights: crate::elevation::Heights::default(), faces: vec![front] }
}

/// The cannery: nine bays of 12'-6", two end strips of 1', half relief.
fn cannery() -> (Job, Built, Scale) {
    let mut holes = Vec::new();
    for bay in 0..9 {
        let centre = 12.0 + 150.0 * f64::from(bay) + 75.0;
        holes.push(if bay % 3 == 1 {
            hole("freight-door", centre - 48.0, 0.0, 96.0, 108.0, 5.0)
        } else {
            hole("window", centre - 18.0, 48.0, 36.0, 60.0, 5.0)
        });
    }
    let mut built = built(
        front("main/front", 1374.0, 192.0, 372.0, holes),
        360.0,
        0.5,
        RoofFollows::HalfRelief,
    );
    built.body.eave_overhang = inches(18.0);
    built.body.rake_overhang = inches(12.0);
    (demo("river-cannery"), built, scale(871, 10))
}

/// The grain store with one module dropped: 67' by 30'.
fn grain_store() -> (Job, Built, Scale) {
    let mut holes = Vec::new();
    let mut at = 96.0;
    for kind in ["freight-door", "window", "freight-door"] {
        let (wide, high, foot, trim) =
            if kind == "window" { (36.0, 60.0, 48.0, 4.0) } else { (96.0, 108.0, 0.0, 5.0) };
        holes.push(hole(kind, at, foot, wide, high, trim));
        at += wide + 108.0;
    }
    at += 48.0 - 108.0;
    holes.push(hole("office-door", at, 0.0, 36.0, 84.0, 4.0));
    holes.push(hole("window", at + 72.0, 48.0, 36.0, 60.0, 4.0));
    holes.push(hole("window", at + 144.0, 48.0, 36.0, 60.0, 4.0));
    let built =
        built(front("main/front", 804.0, 216.0, 306.0, holes), 360.0, 0.5, RoofFollows::KeepPitch);
    (demo("grain-store"), built, scale(48, 1))
}

fn demo(name: &str) -> Job {
    let demo = crate::job::demo::find(name).expect("a built-in job");
    demo.text.parse().expect("it reads")
}

fn scale(over: u64, under: u64) -> Scale {
    let ratio = Ratio::new(over, under).expect("a ratio");
    Scale::new(format!("1:{}", over as f64 / under as f64), ratio)
}

fn taken((job, built, scale): &(Job, Built, Scale)) -> Outcome<Takeoff> {
    let catalog = Catalog::built_in().expect("the shipped data");
    let survey = crate::survey::run(job, &catalog).value;
    let offers = crate::stock::catalog::offers(&catalog);
    let era = crate::stock::catalog::era(job, &catalog);
    let actual = |nominal: &str| crate::stock::catalog::actual(&catalog, &era, nominal);
    let stock = crate::stock::run(job, &survey, &offers, &actual, scale).value;
    let faces = crate::elevation::lay_out(job, &survey).expect("faces").value;
    let scheme = crate::building::Scheme::of(job, &survey, &faces).value;
    let (catalog, survey, stock, scheme) = (&catalog, &survey, &stock, &scheme);
    let given = crate::building::Given { job, catalog, survey, built, stock, scale, scheme };
    let raised = crate::building::raise(given).value;
    run(job, catalog, survey, (built, &raised), stock, scale)
}

/// 63 battens of 192 in, 51 of 79, 24 of 43: 1429.75 ft (COMPUTED).
#[test]
fn battens_of_the_cannery_front() {
    let out = taken(&cannery()).value;
    let battens: Vec<(u32, f64)> = out
        .of("main/front", Kind::Batten)
        .map(|part| (part.count, part.length.in_inches().round()))
        .collect();
    assert_eq!(battens, [(63, 192.0), (51, 79.0), (24, 43.0)]);
    let total: CompressedLength = out.of("main/front", Kind::Batten).map(Part::total).sum();
    near(total.in_feet(), 1429.75, 1e-6);
    assert_eq!(out.part("main/front/batten-1").map(|part| part.places.len()), Some(63));
}

/// 115 boards of 16' at 1:87.1 are 2.204 in each (COMPUTED).
#[test]
fn boards_of_the_cannery_front() {
    let out = taken(&cannery()).value;
    let full: Vec<&Part> = out.of("main/front", Kind::Board).collect();
    near(full[0].model_length.in_inches(), 2.204, 5e-4);
    let columns: std::collections::BTreeSet<i64> = full
        .iter()
        .flat_map(|part| &part.places)
        .map(|place| place.left.in_inches().round() as i64)
        .collect();
    assert_eq!(columns.len(), 115);
}

/// What is covered is the wall less its openings, on every wall, to 0.1
/// percent.
#[test]
fn cladding_covers_the_wall_less_its_openings() {
    for building in [cannery(), grain_store()] {
        let out = taken(&building).value;
        assert!(!out.cover.is_empty());
        for cover in &out.cover {
            let share = cover.covered.in_square_feet() / cover.wanted.in_square_feet();
            near(share, 1.0, 1e-3);
        }
    }
    // The cannery front: 114.5 by 16 ft less three doors and six windows.
    let out = taken(&cannery()).value;
    near(out.cover[0].wanted.in_square_feet(), 114.5 * 16.0 - 3.0 * 72.0 - 6.0 * 15.0, 1e-6);
}

/// Half a gable cut at its ridge: 30' by 15' over the eave line.
#[test]
fn half_relief_has_two_sloping_ends_and_no_back() {
    let out = taken(&cannery()).value;
    let walls: Vec<&str> = out.cover.iter().map(|cover| cover.wall.as_str()).collect();
    assert_eq!(walls, ["main/front", "main/left", "main/right"]);
    // Less the edge that the boards of the front cover: 1/64 in of stock.
    let edge = 87.1 / 64.0 / 12.0;
    let whole = 30.0 * 16.0 + 30.0 * 15.0 / 2.0;
    near(out.cover[1].wanted.in_square_feet(), whole - edge * (16.0 + edge / 4.0), 1e-6);
}

#[test]
fn the_canopy_of_the_cannery() {
    let out = taken(&cannery()).value;
    let mut members: Vec<(&str, u32)> =
        out.of("main", Kind::Member).map(|part| (part.section.as_str(), part.count)).collect();
    members.sort_unstable();
    // Arms and their braces reach out from every post; knees belong to the bays.
    let wanted = [("arm-brace", 11), ("canopy-arm", 11), ("canopy-post", 11), ("knee-brace", 20)];
    assert_eq!(members, wanted);
}

/// 67' is 33.5 sheets of 24 in: the person is told.
#[test]
fn the_grain_store_is_half_a_sheet_out() {
    let out = taken(&grain_store());
    let told = out.findings.iter().find(|finding| finding.message.contains("33.5 sheets"));
    assert!(told.is_some_and(|finding| finding.hint.contains("66'-0\"")), "{:?}", out.findings);
    let full = out.value.of("main/front", Kind::Iron).next().expect("sheets");
    near(full.length.in_inches(), 120.0, 1e-6);
    assert_eq!(out.value.of("main", Kind::Member).map(|part| part.count).sum::<u32>(), 9 + 8 + 16);
}

/// Drawn sizes with a kerf of 7 thou: a 2.000 part 2.007, a 0.448 x 0.602
/// opening 0.441 x 0.595 (COMPUTED).
#[test]
fn openings_for_castings_and_kerf() {
    let thou = ModelLength::thou;
    let (wide, high) = core::casting_opening((thou(438.0), thou(592.0)), thou(5.0));
    near(wide.in_thou(), 448.0, 1e-9);
    near(high.in_thou(), 602.0, 1e-9);
    near(core::drawn_hole(wide, thou(7.0)).in_thou(), 441.0, 1e-9);
    near(core::drawn_hole(high, thou(7.0)).in_thou(), 595.0, 1e-9);
    near(core::drawn_outside(thou(2000.0), thou(7.0)).in_thou(), 2007.0, 1e-9);
    assert_eq!([0, 1, 10, 11, 40].map(core::spares), [0, 1, 1, 1, 2]);
}

/// Run 19' at 6:12: 254.91 in, less 0.84 for half a 1 1/2 in ridge board; tail
/// of 18 in 20.12; hip over 15' 22.5'; slope of 38' and 18 in of eave 275.04;
/// ridge overlap 0.031 in (all COMPUTED).
#[test]
fn rafters_hips_and_slopes() {
    let run = CompressedLength::feet(19.0);
    near(roof::along_slope(run, 0.5).in_inches(), 254.91, 5e-3);
    near(roof::rafter(run, 0.5, inches(1.5)).in_inches(), 254.91 - 0.84, 1e-2);
    near(roof::along_slope(inches(18.0), 0.5).in_inches(), 20.12, 5e-3);
    near(roof::hip_rafter(CompressedLength::feet(15.0), 0.5).in_feet(), 22.5, 1e-9);
    near(roof::along_slope(inches(246.0), 0.5).in_inches(), 275.04, 5e-3);
    near(roof::ridge_overlap(ModelLength::inches(0.0625), 0.5).in_inches(), 0.031, 5e-4);
    near(roof::gable_area(0.5, 38.0), 180.5, 1e-9);
}

/// 45 degrees, legs 30: 42.43 long, 34.43 short for a 4 in stick; legs 36 up,
/// 24 out: 43.27 at 56.3 degrees; cross brace 135.4 at 17.2 (all COMPUTED).
#[test]
fn braces_and_their_angles() {
    let knee = frame::brace(inches(30.0), inches(30.0), inches(4.0));
    near(knee.line.in_inches(), 42.43, 5e-3);
    near(knee.short.in_inches(), 34.43, 5e-3);
    let steep = frame::brace(inches(24.0), inches(36.0), inches(4.0));
    near(steep.line.in_inches(), 43.27, 5e-3);
    near(steep.from_level.in_degrees(), 56.3, 0.05);
    let cross = frame::cross_brace(CompressedLength::feet(11.45), inches(8.0), inches(40.0));
    near(cross.line.in_inches(), 135.4, 0.05);
    near(cross.from_level.in_degrees(), 17.2, 0.05);
}

/// Fascia and rakes of a 38' by 114'-6" gable: 2 x 116.5 + 4 x 22.92 = 324.7'
/// (COMPUTED); 55 courses and a starter a slope.
#[test]
fn the_roof_of_a_whole_gable() {
    let (mut job, mut built, scale) = cannery();
    built.roof = RoofFollows::KeepPitch;
    built.body.depth = CompressedLength::feet(38.0);
    job.trim.fascia = Some(Size::taken("6 in".parse().expect("a length")));
    job.cutting.stick = "30 in".parse().ok();
    let out = taken(&(job, built, scale)).value;
    let fascia: CompressedLength = out.of("main/roof", Kind::Fascia).map(Part::total).sum();
    near(fascia.in_feet(), 324.7, 0.05);
    let strips: CompressedLength = out.of("main/roof", Kind::Shingle).map(Part::total).sum();
    near(strips.in_feet(), 2.0 * 56.0 * 116.5, 0.05);
    assert_eq!(out.of("main/roof", Kind::Rafter).map(|part| part.count).sum::<u32>(), 2 * 59);
    let area: f64 = out
        .of("main/roof", Kind::Shingle)
        .map(|part| part.covers.in_square_feet() * f64::from(part.count))
        .sum();
    near(area, 5340.0, 1.0);
}

/// Long walls are spliced under full battens, with a doubler behind.
#[test]
fn a_wall_longer_than_the_sheet_is_spliced_under_a_full_batten() {
    let (mut job, built, scale) = cannery();
    job.cutting.sheets = vec![["4 in", "12 in"].map(|size| size.parse().expect("a size"))];
    let out = taken(&(job, built, scale)).value;
    assert_eq!(out.of("main/front", Kind::Core).map(|part| part.count).sum::<u32>(), 2);
    let doubler = out.of("main/front", Kind::Doubler).next().expect("a doubler");
    let line = doubler.places[0].left;
    let full = out.part("main/front/batten-1").expect("full battens");
    let over = |place: &Place| (place.left + place.wide / 2.0).agrees(line, inches(1e-6));
    assert!(full.places.iter().any(over));
}

#[test]
fn a_wall_without_a_place_to_splice_says_so() {
    let (mut job, built, scale) = grain_store();
    job.cutting.sheets = vec![["4 in", "12 in"].map(|size| size.parse().expect("a size"))];
    job.layers =
        "[job]\nname = \"a\"\nscale = \"1:48\"\n[[layer]]\nname = \"core\"\nthick = \"1/16 in\"\n"
            .parse::<Job>()
            .expect("a layer")
            .layers;
    job.usual.layers.push("core".to_owned());
    let out = taken(&(job, built, scale));
    assert!(out.findings.iter().any(|finding| finding.message.contains("no full batten")));
}

/// From 2.204 in back to the tape.
#[test]
fn a_part_knows_why() {
    let (job, built, scale) = cannery();
    let catalog = Catalog::built_in().expect("the shipped data");
    let survey = crate::survey::run(&job, &catalog).value;
    let out = taken(&(job.clone(), built, scale.clone())).value;
    let steps = why(out.part("main/front/batten-1").expect("a part"), &job, &survey, &scale);
    let text: Vec<&str> = steps.iter().map(|step| step.text.as_str()).collect();
    assert!(text[0].contains("2.204"), "{text:?}");
    assert!(text.iter().any(|line| line.contains("dimension eave")), "{text:?}");
    for id in ["H1", "H2", "H3"] {
        assert!(steps.iter().any(|step| step.subject == Subject::Reading(id.into())), "{text:?}");
    }
}

#[test]
fn battens_on_door_posts_are_told() {
    let out = taken(&cannery());
    assert!(out.findings.iter().any(|finding| finding.message.contains("fall on the posts")));
}

/// Prints how long a building of a thousand places and more takes.
#[test]
#[ignore = "prints a time"]
fn time_of_a_large_take_off() {
    let (job, built, scale) = cannery();
    let start = std::time::Instant::now();
    let mut parts = 0;
    for _ in 0..20 {
        let out = taken(&(job.clone(), built.clone(), scale.clone())).value;
        parts = out.parts.iter().map(|part| part.count).sum::<u32>();
    }
    println!("{parts} parts in {:?} with survey and stock", start.elapsed() / 20);
}
