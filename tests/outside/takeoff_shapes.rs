//! Outside checks: boxes, roofs and frames typed from nothing, every figure
//! worked out here from plane geometry (COMPUTED).

use scantling::quantity::Angle;
use scantling::takeoff::{Kind, Part, Takeoff};

use super::takeoff::{count, feet, planned, to_a_thousandth, to_the_inch};

/// A store of 40 by 24 ft, eave 12 ft, at 1:48, with a core of 1/16 in.
fn store(roof: &str, more: &str) -> Takeoff {
    let text = format!(
        "[job]\nname = \"store\"\nscale = \"1:48\"\n\
         [[body]]\nname = \"main\"\ndepth = \"24 ft\"\neave = \"12 ft\"\n\
         [body.roof]\n{roof}\n[[layer]]\nname = \"core\"\nthick = \"1/16 in\"\n\
         [walls]\nlayers = [\"boards\", \"core\"]\n\
         [[cladding]]\nname = \"boards\"\nkind = \"boards\"\nunit = \"12 in\"\n\
         [[wall]]\nof = \"main/front\"\n\
         row = [{{ plain = \"wall\", width = \"40 ft\" }}]\n{more}"
    );
    planned(&text).takeoff.unwrap_or_else(|stop| panic!("{}", stop.told()))
}

/// Boards of 1 in as bought for 1:48: 0.020 in, in feet at full size. Those of
/// the front cover the edges of the ends', the ends' those of the back.
const BOARD: f64 = 0.020 * 48.0 / 12.0;

/// Square feet of the outlines of a kind on a face.
fn outlined(takeoff: &Takeoff, face: &str, kind: Kind) -> f64 {
    takeoff
        .of(face, kind)
        .map(|part| part.outline().square_inches() / 144.0 * f64::from(part.count))
        .sum()
}

fn area(takeoff: &Takeoff, wall: &str) -> f64 {
    let cover = takeoff.cover.iter().find(|cover| cover.wall == wall);
    let cover = cover.unwrap_or_else(|| panic!("no wall {wall}"));
    let share = cover.covered.in_square_feet() / cover.wanted.in_square_feet();
    assert!((share - 1.0).abs() < 1e-3, "{wall} is covered {share} times");
    cover.wanted.in_square_feet()
}

fn named<'a>(takeoff: &'a Takeoff, face: &'a str, kind: Kind, note: &str) -> &'a Part {
    let found = takeoff.of(face, kind).find(|part| part.note.contains(note));
    found.unwrap_or_else(|| panic!("no {kind:?} says \"{note}\""))
}

fn degrees(angle: Option<Angle>) -> f64 {
    angle.map_or(f64::NAN, Angle::in_degrees)
}

/// A hip of 6:12 over 24 ft: run 12, slope 13.416, ridge 16 ft; planes of
/// (40 + 16) / 2 and 24 / 2; hips sqrt(144 + 144 + 36) = 18 ft; the planes turn
/// by acos(4/5), half of it 18.4 degrees.
#[test]
fn a_hip_roof() {
    let out = store("kind = \"hip\"\npitch = \"6:12\"\nrafters = \"24 in\"", "");
    let slope = 12.0 * 1.25_f64.sqrt();
    to_a_thousandth(outlined(&out, "main/roof", Kind::Roof), 2.0 * (28.0 + 12.0) * slope);
    let hip = named(&out, "main/roof", Kind::Rafter, "hip");
    to_the_inch(hip.length.in_feet(), 18.0);
    assert_eq!(hip.count, 4);
    assert!((degrees(hip.ends) - (6.0_f64 / 288.0_f64.sqrt()).atan().to_degrees()).abs() < 0.01);
    assert!(hip.note.contains("18.4"), "{}", hip.note);
    assert!(named(&out, "main/roof", Kind::Roof, "ridge edge 26.6").note.contains("18.4"));
}

/// A parapet of 18 in on a level roof: four walls of 13.5 ft, and a roof that
/// lies between them.
#[test]
fn a_parapet() {
    let out = store("kind = \"flat\"\nparapet = \"18 in\"", "");
    to_a_thousandth(area(&out, "main/front"), 40.0 * 13.5);
    to_a_thousandth(area(&out, "main/left"), (24.0 - BOARD) * 13.5);
    // Boards and a core of 1/16 in, that is 3 in, at every wall.
    let wall = 2.0 * (BOARD + 3.0 / 12.0);
    let roof = (40.0 - wall) * (24.0 - wall);
    to_a_thousandth(outlined(&out, "main/roof", Kind::Roof), roof);
}

/// Gable ends that rise 12 in above the rakes: 24 by 12, the gable, the strip.
#[test]
fn parapets_on_gables() {
    let out = store("kind = \"gable\"\npitch = \"6:12\"\nparapet = \"12 in\"", "");
    to_a_thousandth(area(&out, "main/left"), 24.0 * 13.0 + 24.0 * 6.0 / 2.0 - BOARD * 13.0);
    to_a_thousandth(area(&out, "main/front"), 40.0 * 12.0);
}

/// A lean-to of 16 by 8 ft, 8 ft high outside at 3:12: it meets the wall at
/// 10 ft. Its ends are trapezoids of 8 and 10 over 8 ft: they lose the boards of
/// the front and gain those that the wall behind has not, higher up the slope.
#[test]
fn a_lean_to_has_three_walls_and_one_plane() {
    let out = store(
        "kind = \"gable\"\npitch = \"6:12\"",
        "[[body]]\nname = \"shed\"\nstands = { against = \"main/front\", at = \"4 ft\" }\n\
         length = \"16 ft\"\ndepth = \"8 ft\"\neave = \"8 ft\"\n\
         roof = { kind = \"shed\", pitch = \"3:12\" }\n\
         [[wall]]\nof = \"shed/front\"\nopenings = [{ kind = \"hatch\", at = \"2 ft\" }]\n\
         [[opening]]\nname = \"hatch\"\nwhat = \"door\"\nwidth = \"3 ft\"\nheight = \"6 ft\"\n",
    );
    to_a_thousandth(area(&out, "shed/front"), 16.0 * 8.0 - 18.0);
    to_a_thousandth(area(&out, "shed/left"), 8.0 * (9.0 + BOARD / 4.0));
    assert!(out.cover.iter().all(|cover| cover.wall != "shed/back"));
    let slope = 8.0 * (1.0 + 1.0 / 16.0_f64).sqrt();
    to_a_thousandth(outlined(&out, "shed/roof", Kind::Roof), 16.0 * slope);
    // The door stands on the foot: a notch in the core, no hole.
    let core = out.of("shed/front", Kind::Core).next().unwrap();
    assert_eq!((core.outline().outer.len(), core.outline().openings.len()), (8, 0));
}

/// The other leg of an L: 20 by 16 ft with its own gable at 6:12, ridge at 16
/// ft, 4 ft above the eave: valleys of sqrt(64 + 64 + 16) = 12 ft, and a ridge
/// that runs 8 ft on into the main roof.
#[test]
fn an_l_of_two_bodies() {
    let text = "[[body]]\nname = \"wing\"\nstands = { out = \"main/front\" }\n\
        length = \"16 ft\"\ndepth = \"20 ft\"\neave = \"12 ft\"\n\
        roof = { kind = \"gable\", pitch = \"6:12\" }\n";
    let out = store("kind = \"gable\"\npitch = \"6:12\"", text);
    to_a_thousandth(area(&out, "wing/front"), 16.0 * 12.0 + 16.0 * 4.0 / 2.0);
    to_a_thousandth(area(&out, "wing/left"), 20.0 * 12.0);
    to_a_thousandth(outlined(&out, "wing/roof", Kind::Roof), 2.0 * 24.0 * 8.0 * 1.25_f64.sqrt());
}

/// A cupola of 6 by 6 ft astride a ridge of 6:12, 4 ft at its outer walls: the
/// ends lose 3 ft by 1.5 in the middle. A chimney of 2 by 2 ft on the slope, 5
/// ft at its lower face: the upper face loses 1 ft.
#[test]
fn boxes_on_the_roof_are_cut_to_its_slope() {
    let text = "[[body]]\nname = \"cupola\"\nstands = { on = \"main/ridge\" }\nlength = \"6 ft\"\n\
        depth = \"6 ft\"\neave = \"4 ft\"\nroof = { kind = \"hip\", pitch = \"6:12\" }\n\
        [[body]]\nname = \"chimney\"\nstands = { on = \"main/front\" }\nlength = \"2 ft\"\n\
        depth = \"2 ft\"\neave = \"5 ft\"\n";
    let out = store("kind = \"gable\"\npitch = \"6:12\"", text);
    to_a_thousandth(area(&out, "cupola/front"), 6.0 * 4.0);
    // The boards of its front cover a strip of the ends, as high as that edge.
    let edge = BOARD * (4.0 - BOARD / 4.0);
    to_a_thousandth(area(&out, "cupola/left"), 6.0 * 4.0 - 6.0 * 1.5 / 2.0 - edge);
    to_a_thousandth(area(&out, "chimney/front"), 2.0 * 5.0);
    let edge = BOARD * (5.0 - BOARD / 4.0);
    to_a_thousandth(area(&out, "chimney/left"), 2.0 * 5.0 - 2.0 * 1.0 / 2.0 - edge);
    to_a_thousandth(area(&out, "chimney/back"), (2.0 - 2.0 * BOARD) * 4.0);
    assert_eq!(count(&out, "chimney", Kind::Floor), 0);
}

/// Posts at 12 ft at most along 40 ft: four bays of 10 ft, eight cross braces of
/// sqrt(112^2 + 40^2) in between 8 in posts, 19.65 degrees from level.
#[test]
fn cross_braces_between_posts() {
    let out = store(
        "kind = \"gable\"\npitch = \"6:12\"",
        "[[member]]\nname = \"post\"\nthickness = \"8 in\"\nwidth = \"8 in\"\nlength = \"10 ft\"\n\
         spacing = \"12 ft\"\n[[member]]\nname = \"cross\"\nthickness = \"2 in\"\nwidth = \"4 in\"\n\
         cross = { posts = \"post\", height = \"40 in\" }\n",
    );
    let cross = named(&out, "main", Kind::Member, "halved");
    assert_eq!(cross.count, 8);
    to_the_inch(cross.length.in_feet(), 112.0_f64.hypot(40.0) / 12.0);
    assert!((degrees(cross.ends) - 19.65).abs() < 0.01);
}

/// Boards scribed on one sheet without a core cover the wall but for the boards
/// of both ends; it is joined at lines that share out its width.
#[test]
fn scribed_sheet_covers_the_same_wall() {
    let text = "[[cladding]]\nname = \"scribed\"\nkind = \"boards\"\nunit = \"8 in\"\n\
        scribed = true\n[[wall]]\nof = \"main/back\"\nlayers = [\"scribed\"]\n\
        row = [{ plain = \"wall\", width = \"40 ft\" }]\n";
    let out = store("kind = \"gable\"\npitch = \"6:12\"", text);
    to_a_thousandth(area(&out, "main/back"), (40.0 - 2.0 * BOARD) * 12.0);
    let wide = (40.0 - 2.0 * BOARD) * 12.0;
    let pitch = wide / (wide / 8.0).round();
    let joints = out.of("main/back", Kind::Scribed).flat_map(|part| &part.places);
    for place in joints {
        let boards = (place.left.in_inches() - BOARD * 12.0) / pitch;
        assert!((boards - boards.round()).abs() < 1e-6, "joined at {boards} boards");
    }
}

/// Two corner boards a corner: eight of 12 ft; those on the ends lose the
/// thickness of the others. Water table: all round between them, each covering
/// 5 in of its wall.
#[test]
fn corner_boards_and_water_table() {
    let text = "[trim]\nthickness = \"1 in\"\ncorner = \"6 in\"\nwater-table = \"8 in\"\n";
    let out = store("kind = \"gable\"\npitch = \"6:12\"", text);
    let walls = ["main/front", "main/back", "main/left", "main/right"];
    let corners: f64 = walls.iter().map(|wall| feet(&out, wall, Kind::CornerBoard)).sum();
    to_the_inch(corners, 8.0 * 12.0);
    let table: f64 = walls.iter().map(|wall| feet(&out, wall, Kind::WaterTable)).sum();
    to_the_inch(table, 2.0 * (40.0 + 24.0) - 8.0 * 5.0 / 12.0);
    let wide = |wall: &str| {
        out.of(wall, Kind::CornerBoard).next().map(|part| part.width.in_inches().round())
    };
    assert_eq!((wide("main/front"), wide("main/left")), (Some(6.0), Some(5.0)));
}

/// The box before its cladding: 40 ft by 24 ft less two boards at 1:48, the
/// diagonal by Pythagoras; the sill of a base of 1/2 in and a foundation of 3
/// ft over a rail head at 0.3 in stands 0.033 in above the car floor.
#[test]
fn the_box_is_square_and_stands_right() {
    let text = "[install]\nbase = \"1/2 in\"\nrail-head = \"0.3 in\"\n";
    let job = |text: &str| store("kind = \"gable\"\npitch = \"6:12\"", text);
    let out = job(text);
    let square = &out.boxes[0];
    let boards = 2.0 * BOARD * 12.0;
    let (long, short) = ((480.0 - boards) / 48.0, (288.0 - boards) / 48.0);
    assert!((square.diagonal.in_inches() - f64::hypot(long, short)).abs() < 1e-6);
    assert!((square.slack.in_inches() - 1.0 / 64.0).abs() < 1e-9);
}
