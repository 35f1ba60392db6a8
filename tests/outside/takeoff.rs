//! Outside checks: the complete take-off of the demonstration buildings, each
//! counted here anew by hand from its drawing, and figures of handbooks.
//!
//! The demonstration buildings are invented; their counts are COMPUTED here
//! without the program's own arithmetic. Sources of the rest stand beside it.

use scantling::catalog::Catalog;
use scantling::job::{Job, demo};
use scantling::plan::{Plan, plan};
use scantling::quantity::PrototypeLength;
use scantling::takeoff::courses::{pieces_over, slate_exposure};
use scantling::takeoff::{Kind, Takeoff};

pub(crate) fn planned(text: &str) -> Plan {
    let job: Job = text.parse().unwrap();
    plan(&job, &Catalog::built_in().unwrap())
}

fn taken(name: &str) -> Takeoff {
    planned(demo::find(name).unwrap().text).takeoff.unwrap()
}

/// Linear feet of a kind on a face.
pub(crate) fn feet(takeoff: &Takeoff, face: &str, kind: Kind) -> f64 {
    takeoff.of(face, kind).map(|part| part.total().in_feet()).sum()
}

pub(crate) fn count(takeoff: &Takeoff, face: &str, kind: Kind) -> u32 {
    takeoff.of(face, kind).map(|part| part.count).sum()
}

/// Square feet that a kind covers on a face.
fn square_feet(takeoff: &Takeoff, face: &str, kind: Kind) -> f64 {
    takeoff.of(face, kind).map(|p| p.covers.in_square_feet() * f64::from(p.count)).sum()
}

/// To the inch.
pub(crate) fn to_the_inch(found: f64, wanted: f64) {
    assert!((found - wanted).abs() < 1.0 / 12.0, "{found} ft, counted {wanted} ft");
}

/// To a thousandth.
pub(crate) fn to_a_thousandth(found: f64, wanted: f64) {
    assert!((found / wanted - 1.0).abs() < 1e-3, "{found} sq ft, counted {wanted}");
}

/// Openings of the cannery front as left, foot, width, height in inches: nine
/// bays of 150 after a strip of 12, the middle of every three a door.
fn cannery_openings() -> Vec<[f64; 4]> {
    let opening = |bay: i32| {
        let centre = 12.0 + 150.0 * f64::from(bay) + 75.0;
        if bay % 3 == 1 {
            [centre - 48.0, 0.0, 96.0, 108.0]
        } else {
            [centre - 18.0, 48.0, 36.0, 60.0]
        }
    };
    (0..9).map(opening).collect()
}

/// Inches of board in a column of the front: all of it, but where one opening
/// takes its whole width.
fn column(left: f64, right: f64) -> f64 {
    let whole = |hole: &&[f64; 4]| hole[0] <= left + 0.01 && hole[0] + hole[2] >= right - 0.01;
    192.0 - cannery_openings().iter().find(whole).map_or(0.0, |hole| hole[3])
}

/// A: 114'-6" by 30' in half relief, eave 16', ridge 31', boards 12 in.
#[test]
fn the_cannery_counted_by_hand() {
    let out = taken("river-cannery");
    let columns = (0..115).map(|n| f64::from(n) * 12.0);
    let boards: f64 = columns.map(|left| column(left, (left + 12.0).min(1374.0))).sum();
    to_the_inch(feet(&out, "main/front", Kind::Board), boards / 12.0);
    to_the_inch(feet(&out, "main/front", Kind::Batten), 1429.75);
    // Legs of height and head width, a head of width and two casings, a sill.
    let door = 2.0 * (108.0 + 5.0) + 96.0 + 10.0;
    let window = 2.0 * (60.0 + 5.0) + 36.0 + 10.0;
    to_the_inch(feet(&out, "main/front", Kind::Casing), (3.0 * door + 6.0 * window) / 12.0);
    to_the_inch(feet(&out, "main/front", Kind::Sill), 6.0 * (36.0 + 10.0) / 12.0);
    to_a_thousandth(
        square_feet(&out, "main/front", Kind::Board),
        114.5 * 16.0 - 3.0 * 72.0 - 6.0 * 15.0,
    );
    for end in ["main/left", "main/right"] {
        // Thirty boards, each to the higher of its edges; 29 joints.
        let boards: f64 = (1..=30).map(|n| 192.0 + 6.0 * f64::from(n)).sum();
        let battens: f64 = (1..=29).map(|n| 192.0 + 6.0 * f64::from(n)).sum();
        to_the_inch(feet(&out, end, Kind::Board), boards / 12.0);
        to_the_inch(feet(&out, end, Kind::Batten), battens / 12.0);
        // The front's boards, 1/64 in as bought, cover the edge of the ends'.
        let edge = 87.1 / 64.0 / 12.0;
        let whole = 30.0 * (16.0 + 31.0) / 2.0;
        to_a_thousandth(square_feet(&out, end, Kind::Board), whole - edge * 16.0);
    }
    // A run of 378 in at 6:12 is 422.6 in: 85 courses of 5 in and a starter.
    to_the_inch(feet(&out, "main/roof", Kind::Shingle), 86.0 * 116.5);
    assert_eq!(count(&out, "main/roof", Kind::Rafter), 59);
    // Eleven posts, each with an arm and its brace; two knee braces a bay.
    assert_eq!(count(&out, "main", Kind::Member), 11 + 20 + 11 + 11);
}

/// B: 67' by 30', eave 18', pitch 6:12; iron on all walls and the roof.
#[test]
fn the_grain_store_counted_by_hand() {
    let out = taken("grain-store");
    let openings = 2.0 * 72.0 + 15.0 + 21.0 + 2.0 * 15.0;
    to_a_thousandth(square_feet(&out, "main/front", Kind::Iron), 67.0 * 18.0 - openings);
    to_a_thousandth(square_feet(&out, "main/back", Kind::Iron), 67.0 * 18.0);
    for end in ["main/left", "main/right"] {
        // One skin, 1/2 in deep: the ends stop at the front and at the back.
        let edges = 2.0 * 0.5 / 12.0 * 18.0;
        to_a_thousandth(square_feet(&out, end, Kind::Iron), 30.0 * 18.0 + 30.0 * 7.5 / 2.0 - edges);
    }
    let slope = 15.0 * 1.25_f64.sqrt();
    to_a_thousandth(square_feet(&out, "main/roof", Kind::Iron), 2.0 * 67.0 * slope);
    // Doors with casings of 5 in, the others of 4: legs, head and sill.
    let casing = 2.0 * (2.0 * 113.0 + 106.0) + (2.0 * 88.0 + 44.0) + 3.0 * (2.0 * 64.0 + 44.0);
    to_the_inch(feet(&out, "main/front", Kind::Casing), casing / 12.0);
    to_the_inch(feet(&out, "main/front", Kind::Sill), 3.0 * 44.0 / 12.0);
    // Posts and beams of 12', braces of 30 in legs, rafters at 24 in.
    let braces = 16.0 * 30.0 * std::f64::consts::SQRT_2 / 12.0;
    to_the_inch(feet(&out, "main", Kind::Member), 17.0 * 12.0 + braces);
    assert_eq!(count(&out, "main/roof", Kind::Rafter), 2 * 34);
}

/// C: five bays, 35' by 30', brick to 12', clapboard to 24', gable 9:12.
#[test]
fn the_creamery_counted_by_hand() {
    let out = taken("creamery");
    to_a_thousandth(square_feet(&out, "main/front", Kind::Brick), 35.0 * 12.0 - 5.0 * 18.0);
    to_a_thousandth(square_feet(&out, "main/front", Kind::Clapboard), 35.0 * 12.0 - 5.0 * 18.0);
    // Lines at 144, 174, 246, 288 in: 7 and 9 courses pass, 16 meet windows.
    to_the_inch(feet(&out, "main/front", Kind::Clapboard), 16.0 * 35.0 + 16.0 * 20.0);
    for end in ["main/left", "main/right"] {
        // One skin, an inch of brick: the ends stop at the front and at the back.
        let edges = 2.0 / 12.0;
        to_a_thousandth(square_feet(&out, end, Kind::Brick), (30.0 - edges) * 12.0);
        let gable = 30.0 * 11.25 / 2.0;
        let clad = 30.0 * 12.0 + gable - edges * 12.0;
        to_a_thousandth(square_feet(&out, end, Kind::Clapboard), clad);
        // 32 courses to the eave, 30 up the gable, each as wide as its foot.
        let raked: f64 = (1..30).map(|n| 30.0 * (1.0 - f64::from(n) / 30.0)).sum();
        to_the_inch(feet(&out, end, Kind::Clapboard), 33.0 * (30.0 - edges) + raked);
    }
    to_a_thousandth(square_feet(&out, "main/back", Kind::Brick), 35.0 * 12.0);
    to_a_thousandth(square_feet(&out, "main/back", Kind::Clapboard), 35.0 * 12.0);
    let casing = 10.0 * (2.0 * 76.0 + 44.0);
    to_the_inch(feet(&out, "main/front", Kind::Casing), casing / 12.0);
    // 15 ft at 9:12 is 225 in: 45 courses of 5 in and a starter, two slopes.
    to_the_inch(feet(&out, "main/roof", Kind::Shingle), 2.0 * 46.0 * 35.0);
}

/// Shingles to a square of 100 square feet: 4 in wide at 5 in 720, at 4 in 900,
/// 6 in wide at 5 in 480. Source: the Building Trades Pocketbook, "Shingles"
/// (READ).
#[test]
fn shingles_to_a_square() {
    let inches = PrototypeLength::inches;
    for (width, exposure, wanted) in [(4.0, 5.0, 720.0), (4.0, 4.0, 900.0), (6.0, 5.0, 480.0)] {
        let found = pieces_over(14_400.0, inches(width), inches(exposure));
        assert!((found - wanted).abs() < 1e-9, "{found}");
    }
}

/// R3-09, R3-10: slate 10 by 20 at 3 in lap shows 8 1/2 in, 169.41 to a square;
/// 6 by 12 on 16 by 20 ft take 1707. Source: slate trade manual pages, a
/// carpentry text (READ).
#[test]
fn slates() {
    let inches = PrototypeLength::inches;
    let shown = slate_exposure(inches(20.0), inches(3.0));
    assert!((shown.in_inches() - 8.5).abs() < 1e-9);
    assert!((pieces_over(14_400.0, inches(10.0), shown) - 169.41).abs() < 0.01);
    let small = slate_exposure(inches(12.0), inches(3.0));
    let over = pieces_over(16.0 * 20.0 * 144.0, inches(6.0), small);
    assert!((over.ceil() - 1707.0).abs() < 1e-9);
}
