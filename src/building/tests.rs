//! Bodies against figures worked by hand.

use super::*;
use crate::elevation::{self, Body as Sizes, Elevation, Heights, Hole, Span};
use crate::job::place::RoofFollows;
use crate::quantity::{CompressedLength, Prototype};

type Full = CompressedLength;

fn kept(length: crate::quantity::Length<Prototype>) -> Full {
    Full::kept(length)
}

fn as_found(face: &Elevation<Prototype>) -> Elevation<Compressed> {
    let span = |it: &Span<Prototype>| Span {
        label: it.label.clone(),
        element: it.element.clone(),
        left: kept(it.left),
        right: kept(it.right),
        kind: it.kind,
    };
    let hole = |it: &Hole<Prototype>| Hole {
        label: it.label.clone(),
        kind: it.kind.clone(),
        what: it.what,
        left: kept(it.left),
        foot: kept(it.foot),
        width: kept(it.width),
        height: kept(it.height),
        trim: kept(it.trim),
    };
    Elevation {
        name: face.name.clone(),
        title: face.title.clone(),
        length: kept(face.length),
        height: kept(face.height),
        ridge: kept(face.ridge),
        gable: face.gable,
        spans: face.spans.iter().map(span).collect(),
        holes: face.holes.iter().map(hole).collect(),
    }
}

/// The prototype as it is, or cut at its ridge; 1:48, boards of 1/32 on a core
/// of 3/32 in: 1.5 and 4.5 at full size. The roof's sheet is 1/16: 3.
fn raised(bodies: &str, roof: RoofFollows) -> Building {
    let text = format!(
        "[job]\nname = \"test\"\nscale = \"1:48\"\n\
         [[layer]]\nname = \"core\"\nthick = \"3/32 in\"\n\
         [[layer]]\nname = \"sheet\"\ndoes = \"roof\"\nthick = \"1/16 in\"\n\
         [[cladding]]\nname = \"boards\"\nkind = \"boards\"\nthick = \"1/32 in\"\n\
         [walls]\nlayers = [\"boards\", \"core\"]\n{bodies}"
    );
    let job: Job = text.parse().unwrap_or_else(|error| panic!("{error}"));
    let catalog = Catalog::built_in().expect("the shipped data");
    let survey = crate::survey::run(&job, &catalog).value;
    let faces = elevation::lay_out(&job, &survey).unwrap_or_else(|stop| panic!("{stop}")).value;
    let scale = catalog.scales.find("1:48").expect("1:48");
    let stock = crate::stock::run(&job, &survey, &[], &|_| None, &scale).value;
    let own = faces.body;
    let depth = kept(own.depth) / if roof == RoofFollows::HalfRelief { 2.0 } else { 1.0 };
    let body = Sizes {
        length: kept(own.length),
        depth,
        eave: kept(own.eave),
        ridge: kept(own.ridge),
        pitch: own.pitch,
        eave_overhang: kept(own.eave_overhang),
        rake_overhang: kept(own.rake_overhang),
    };
    let laid = faces.faces.iter().map(as_found).collect();
    let built = Built { body, roof, heights: Heights::default(), faces: laid };
    let scheme = Scheme::of(&job, &survey, &faces).value;
    raise(Given {
        job: &job,
        catalog: &catalog,
        survey: &survey,
        built: &built,
        stock: &stock,
        scale: &scale,
        scheme: &scheme,
    })
    .value
}

/// 480 by 240, eave 120.
fn main_body(roof: &str) -> String {
    format!(
        "[[wall]]\nof = \"main/front\"\n\
         [[body]]\nname = \"main\"\nlength = \"480 in\"\ndepth = \"240 in\"\neave = \"120 in\"\n\
         [body.roof]\nsheet = \"sheet\"\n{roof}\n"
    )
}

fn near(found: f64, wanted: f64) {
    assert!((found - wanted).abs() < 1e-6, "{found}, wanted {wanted}");
}

fn inches(sized: &Sized<Compressed>) -> f64 {
    // The chain gives the size back.
    near(sized.origin.again(), sized.length.in_inches());
    sized.length.in_inches()
}

fn planes<'b>(building: &'b Building, body: &str) -> Vec<&'b RoofPlane> {
    building.planes.iter().filter(|plane| plane.body == body).collect()
}

fn plane<'b>(building: &'b Building, body: &str, over: Side) -> &'b RoofPlane {
    let mut of = planes(building, body).into_iter().filter(|it| it.over == over && !it.upper);
    of.next().expect("a plane over that side")
}

#[test]
fn a_dormer_dies_in_the_slope_it_stands_on() {
    let dormer = "[[body]]\nname = \"dormer\"\nlength = \"60 in\"\ndepth = \"80 in\"\neave = \"36 in\"\n\
         walls = [\"front\", \"left\", \"right\"]\n\
         stands = { on = \"main/front\", at = \"100 in\", back = \"24 in\" }\n\
         [body.roof]\nkind = \"gable\"\npitch = \"6:12\"\neave = \"6 in\"\nrake = \"4 in\"\nsheet = \"sheet\"\n";
    let text = main_body("kind = \"gable\"\npitch = \"12:12\"") + dormer;
    let building = raised(&text, RoofFollows::KeepPitch);
    let body = building.body("dormer").expect("a dormer");
    // On the top of the sheet, 24 in from the eave of a slope of 45 degrees.
    near(body.frame.origin[2], 120.0 + 24.0 + 3.0 * 2.0_f64.sqrt());
    let over = plane(&building, "dormer", Side::Right);
    near(inches(&over.ridge), 4.0 + 36.0 + 0.5 * 30.0);
    near(inches(&over.eave), 4.0 + 36.0 - 0.5 * 6.0);
    near(inches(&over.slope), 36.0 * 1.25_f64.sqrt());
    let valleys: Vec<&Valley> = building.valleys.iter().filter(|it| it.body == "dormer").collect();
    assert_eq!(valleys.len(), 2);
    near(inches(&valleys[0].length), (36.0_f64.powi(2) + 18.0 * 18.0 + 18.0 * 18.0).sqrt());
    // Its sides are triangles 36 high that end 36 behind its front.
    let side = building.wall(&FaceId::new("dormer", Side::Left)).expect("its left side");
    near(side.width.in_inches(), 36.0);
    let zero = Full::ZERO;
    let area = side.area((zero, side.width), (Full::feet(-9.0), Full::feet(90.0)));
    near(area.in_square_inches(), 36.0 * 36.0 / 2.0);
    // Behind its front the boards lose the front's, the core both.
    near(inches(&side.layers[0].length()), 36.0 - 1.5);
    near(inches(&side.layers[1].length()), 36.0 - 6.0);
}

#[test]
fn a_gambrel_breaks_between_its_slopes() {
    let roof = "kind = \"gambrel\"\npitch = \"2\"\nupper-pitch = \"0.5\"\nlower-run = \"48 in\"\n\
                eave = \"12 in\"\nrake = \"6 in\"";
    let building = raised(&main_body(roof), RoofFollows::KeepPitch);
    assert_eq!(planes(&building, "main").len(), 4);
    let lower = plane(&building, "main", Side::Front);
    near(inches(&lower.slope), 60.0 * 5.0_f64.sqrt());
    let edge = lower.edges_of(EdgeKind::Break).next().expect("a break");
    // Half of the angle between atan 2 and atan 1/2.
    near(edge.bevel.in_degrees(), (63.434_948_822_922 - 26.565_051_177_078) / 2.0);
    let upper = building.planes.iter().find(|it| it.upper).expect("an upper plane");
    near(inches(&upper.slope), 72.0 * 1.25_f64.sqrt());
    near(inches(&upper.eave), 480.0 + 12.0);
    let end = building.wall(&FaceId::new("main", Side::Left)).expect("an end");
    let heights: Vec<f64> = end.top.iter().map(|(_, high)| high.in_inches()).collect();
    for (found, wanted) in heights.iter().zip([120.0, 216.0, 252.0, 216.0, 120.0]) {
        near(*found, wanted);
    }
    assert_eq!(heights.len(), 5);
}

#[test]
fn a_body_astride_a_gambrel_stands_on_its_upper_slope() {
    let roof = "kind = \"gambrel\"\npitch = \"2\"\nupper-pitch = \"0.5\"\nlower-run = \"48 in\"";
    let cupola = "[[body]]\nname = \"cupola\"\nlength = \"40 in\"\ndepth = \"40 in\"\neave = \"30 in\"\n\
         stands = { on = \"main/ridge\" }\n[body.roof]\nkind = \"hip\"\npitch = \"0.5\"\n";
    let building = raised(&(main_body(roof) + cupola), RoofFollows::KeepPitch);
    let cupola = building.body("cupola").expect("a cupola");
    // 20 in down from the ridge, and the upper slope's sheet measured upright.
    near(cupola.frame.origin[2], 252.0 - 10.0 + 3.0 * 1.25_f64.sqrt());
    // The end walls stand over the ridge: 10 in of it cuts into each.
    let end = building.wall(&FaceId::new("cupola", Side::Left)).expect("an end");
    let area = end.area((Full::ZERO, end.width), (Full::feet(-9.0), Full::feet(90.0)));
    near(area.in_square_inches(), 40.0 * 30.0 - 40.0 * 10.0 / 2.0);
}

#[test]
fn a_hip_against_a_wall_has_three_planes() {
    let annex = |depth: &str| {
        format!(
            "[[body]]\nname = \"annex\"\nlength = \"120 in\"\ndepth = \"{depth}\"\neave = \"84 in\"\n\
             stands = {{ against = \"main/right\", at = \"20 in\" }}\n\
             [body.roof]\nkind = \"hip\"\npitch = \"6:12\"\neave = \"12 in\"\nsheet = \"sheet\"\n"
        )
    };
    let gable = main_body("kind = \"gable\"\npitch = \"6:12\"");
    // Less deep than half its length: its front plane reaches the wall.
    let building = raised(&(gable.clone() + &annex("48 in")), RoofFollows::KeepPitch);
    assert_eq!(planes(&building, "annex").len(), 3);
    let front = plane(&building, "annex", Side::Front);
    near(inches(&front.eave), 144.0);
    near(inches(&front.ridge), 120.0 - 96.0);
    near(inches(&front.slope), 60.0 * 1.25_f64.sqrt());
    assert_eq!(front.edges_of(EdgeKind::Wall).count(), 1);
    near(building.body("annex").and_then(|it| it.profile).expect("a roof").ridge, 84.0 + 24.0);
    // Where it meets the wall: up from both corners to the front plane.
    let behind = &building.wall(&FaceId::new("main", Side::Right)).expect("an end").behind[0];
    let meets: Vec<(f64, f64)> =
        behind.meets.iter().map(|(x, y)| (x.in_inches(), y.in_inches())).collect();
    for (found, wanted) in
        meets.iter().zip([(20.0, 84.0), (68.0, 108.0), (92.0, 108.0), (140.0, 84.0)])
    {
        near(found.0, wanted.0);
        near(found.1, wanted.1);
    }
    // Deeper: a ridge runs out from the wall.
    let building = raised(&(gable + &annex("84 in")), RoofFollows::KeepPitch);
    let side = plane(&building, "annex", Side::Right);
    near(inches(&side.ridge), 84.0 - 60.0);
    near(inches(&side.eave), 84.0 + 12.0);
    near(building.body("annex").and_then(|it| it.profile).expect("a roof").ridge, 84.0 + 30.0);
    // Its side meets the wall in an edge that runs up the slope.
    let edge = side.edges_of(EdgeKind::Wall).next().expect("an edge at the wall");
    near(edge.bevel.in_degrees(), 0.0);
    near(edge.length(), 72.0 * 1.25_f64.sqrt());
    let area: f64 = planes(&building, "annex").iter().map(|plane| plane.area()).sum();
    // Every point of the plan is covered once: area on plan along the slope.
    near(area, 144.0 * 96.0 * 1.25_f64.sqrt());
}

#[test]
fn wings_on_both_ends_and_behind_close_to_their_hosts() {
    let wing = |name: &str, of: &str| {
        format!(
            "[[body]]\nname = \"{name}\"\nlength = \"96 in\"\ndepth = \"60 in\"\neave = \"100 in\"\n\
             stands = {{ out = \"{of}\" }}\n\
             [body.roof]\nkind = \"gable\"\npitch = \"6:12\"\neave = \"6 in\"\nrake = \"6 in\"\nsheet = \"sheet\"\n"
        )
    };
    let text = main_body("kind = \"gable\"\npitch = \"6:12\"\neave = \"12 in\"")
        + &wing("left", "main/left")
        + &wing("right", "main/right")
        + &wing("back", "main/back");
    let building = raised(&text, RoofFollows::KeepPitch);
    for name in ["left", "right", "back"] {
        // The sides run on to the bare core: 60 less the gable's layers, and 1.5.
        for side in [Side::Left, Side::Right] {
            let wall = building.wall(&FaceId::new(name, side)).expect("a side");
            near(inches(&wall.layers[1].length()), 60.0 - 6.0 + 1.5);
        }
    }
    // Against a gable a wing's roof stops at the wall; both alike.
    let [left, right] = ["left", "right"].map(|name| plane(&building, name, Side::Left));
    near(inches(&left.ridge), 66.0);
    near(inches(&right.ridge), 66.0);
    assert_eq!(left.edges_of(EdgeKind::Wall).count(), 1);
    // Behind it runs into the slope: ridge at 124, 4 in over the eave there, dies
    // 8 in beyond the wall; its eaves, at 97, lie under those of the main roof.
    let back = plane(&building, "back", Side::Left);
    near(inches(&back.ridge), 66.0 + 8.0);
    assert_eq!(building.valleys.len(), 2);
}

#[test]
fn half_relief_has_no_back_and_ends_at_the_scene() {
    let roof = "kind = \"gable\"\npitch = \"6:12\"\neave = \"12 in\"\nrake = \"6 in\"";
    let building = raised(&main_body(roof), RoofFollows::HalfRelief);
    let sides: Vec<Side> = building.walls_of("main").map(Wall::side).collect();
    assert_eq!(sides, [Side::Front, Side::Left, Side::Right]);
    let front = plane(&building, "main", Side::Front);
    assert_eq!(front.edges_of(EdgeKind::SceneEdge).count(), 1);
    near(inches(&front.slope), 132.0 * 1.25_f64.sqrt());
    // The ends lose the front's boards and core, and nothing behind.
    let end = building.wall(&FaceId::new("main", Side::Left)).expect("an end");
    near(inches(&end.layers[1].length()), 120.0 - 6.0);
    // The floor stays 12 thou off three walls and 30 off the backdrop.
    let floor = building.insides[0].floor.as_ref().expect("a floor");
    near(inches(&floor.width), 120.0 - 6.0 - 48.0 * (0.012 + 0.030));
}

#[test]
fn a_parapet_leaves_the_wall_behind_bare_where_its_ends_stand() {
    let annex = "[[body]]\nname = \"annex\"\nlength = \"100 in\"\ndepth = \"60 in\"\nmeets = \"80 in\"\n\
         parapet = \"92 in\"\nstands = { against = \"main/front\", at = \"50 in\" }\n\
         [body.roof]\nkind = \"shed\"\npitch = \"0.05\"\nsheet = \"sheet\"\n";
    let text = main_body("kind = \"gable\"\npitch = \"6:12\"") + annex;
    let building = raised(&text, RoofFollows::KeepPitch);
    let roof = plane(&building, "annex", Side::Front);
    near(inches(&roof.eave), 100.0 - 12.0);
    near(inches(&roof.slope), 54.0 * 1.0025_f64.sqrt());
    let front = building.wall(&FaceId::new("main", Side::Front)).expect("the front");
    let boards = &front.layers[0];
    let high = |x: f64| line_at(&boards.foot, Full::inches(x)).in_inches();
    near(high(49.0), 0.0);
    near(high(53.0), 92.0);
    near(high(100.0), 80.0);
    near(high(147.0), 92.0);
    near(high(151.0), 0.0);
}

#[test]
fn a_tower_before_a_wall_has_a_roof_all_round() {
    let tower = "[[body]]\nname = \"tower\"\nlength = \"100 in\"\ndepth = \"80 in\"\neave = \"300 in\"\n\
         walls = [\"front\", \"right\", \"back\", \"left\"]\n\
         stands = { against = \"main/front\", at = \"50 in\" }\n\
         [body.roof]\nkind = \"hip\"\npitch = \"12:12\"\neave = \"10 in\"\nsheet = \"sheet\"\n";
    let text = main_body("kind = \"gable\"\npitch = \"6:12\"") + tower;
    let building = raised(&text, RoofFollows::KeepPitch);
    assert_eq!(planes(&building, "tower").len(), 4);
    let area: f64 = planes(&building, "tower").iter().map(|plane| plane.area()).sum();
    near(area, 120.0 * 100.0 * 2.0_f64.sqrt());
    // Its own back stands there, so that its ends stop at it, and the wall behind
    // keeps its boards.
    let end = building.wall(&FaceId::new("tower", Side::Left)).expect("an end");
    near(inches(&end.layers[1].length()), 80.0 - 6.0 - 6.0);
    let front = building.wall(&FaceId::new("main", Side::Front)).expect("the front");
    near(line_at(&front.layers[0].foot, Full::inches(100.0)).in_inches(), 0.0);
}

#[test]
fn the_same_building_from_either_side_is_mirrored() {
    let annex = |at: &str| {
        format!(
            "[[body]]\nname = \"annex\"\nlength = \"100 in\"\ndepth = \"60 in\"\neave = \"80 in\"\n\
             stands = {{ against = \"main/front\", {at} = \"30 in\" }}\n\
             [body.roof]\nkind = \"shed\"\npitch = \"3:12\"\neave = \"12 in\"\nrake = \"4 in\"\n"
        )
    };
    let main = main_body("kind = \"gable\"\npitch = \"6:12\"\neave = \"12 in\"");
    let [left, right] =
        ["at", "at-right"].map(|at| raised(&(main.clone() + &annex(at)), RoofFollows::KeepPitch));
    for (wall, other) in left.walls.iter().zip(&right.walls) {
        assert_eq!(wall.layers.len(), other.layers.len(), "{}", wall.name);
    }
    let of = |building: &Building, side| {
        let wall = building.wall(&FaceId::new("annex", side)).expect("an end");
        wall.layers.iter().map(|layer| inches(&layer.length())).collect::<Vec<f64>>()
    };
    for (a, b) in of(&left, Side::Left).into_iter().zip(of(&right, Side::Right)) {
        near(a, b);
    }
    let [a, b] = [&left, &right].map(|it| it.footprint(Counts::All).expect("a plan"));
    near(a.along[0], 480.0 - b.along[1]);
    near(a.depth(), b.depth());
}
