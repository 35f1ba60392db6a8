//! Each degenerate case by its smallest cause, and the quick way.

use super::lengths::{Effort, Measured, run};
use super::marked::{Known, Mark, Marked, Origin, Plane, Rect, Span};
use super::ruler::{compare, compare_ahead, depth_error};
use crate::finding::{Outcome, Stop};

/// A pinhole of 1600 by 1200 with focal length 1350, 12 units from the wall,
/// turned to the side and tilted up by degrees: wall place -> pixel.
fn see(turn: f64, tilt: f64, [x, y, h]: [f64; 3]) -> [f64; 2] {
    let (s, c) = turn.to_radians().sin_cos();
    let (across, deep) = (c * x + s * h, s * x - c * h);
    let (s, c) = tilt.to_radians().sin_cos();
    let (up, deep) = (c * y - s * deep, c * deep + s * y);
    let depth = 12.0 + deep;
    [799.5 + 1350.0 * across / depth, 599.5 - 1350.0 * up / depth]
}

/// Windows 1.2 by 1.5 on that wall.
fn wall(turn: f64, tilt: f64, n: usize) -> Marked {
    let mut marked = Marked::bare("wall", [1600, 1200]);
    for i in 0..n {
        let (x, y) = ((i % 3) as f64 * 2.2 - 3.0, (i / 3) as f64 * 2.4 - 2.0);
        let places = [[x, y + 1.5], [x + 1.2, y + 1.5], [x + 1.2, y], [x, y]];
        let first = marked.marks.len();
        for (k, [x, y]) in places.into_iter().enumerate() {
            let at = see(turn, tilt, [x, y, 0.0]);
            marked.marks.push(Mark::new(&format!("w{i}_{k}"), at));
        }
        let corners = [first, first + 1, first + 2, first + 3];
        marked.rects.push(Rect { id: format!("w{i}"), corners });
    }
    marked.known = vec![known(Span::Width(0), 1.2), known(Span::Height(0), 1.5)];
    marked
}

fn known(span: Span, value: f64) -> Known {
    Known { span, value, sigma: 0.001 * value.abs() }
}

fn quick(marked: &Marked) -> Result<Outcome<Measured>, Stop> {
    run(marked, Effort { draws: 200, seed: 1 })
}

fn refused(marked: &Marked, words: &str) {
    let stop = quick(marked).expect_err(words);
    assert!(stop.trouble.contains(words), "{} has not \"{words}\"", stop.trouble);
    assert!(!stop.hint.is_empty());
}

#[test]
fn bad_corners_are_named() {
    let swap = |a: usize, b: usize| {
        let mut marked = wall(25.0, 8.0, 4);
        marked.rects[1].corners.swap(a, b);
        marked
    };
    refused(&swap(1, 2), "crossed order");
    let mut mirrored = wall(25.0, 8.0, 4);
    mirrored.rects[1].corners.reverse();
    refused(&mirrored, "mirrored order");
    let mut twice = wall(25.0, 8.0, 4);
    twice.marks[5].at = twice.marks[4].at;
    refused(&twice, "duplicate corners");
    let mut flat = wall(25.0, 8.0, 4);
    let (a, b) = (flat.marks[4].at, flat.marks[6].at);
    flat.marks[5].at = [0.5 * (a[0] + b[0]), 0.5 * (a[1] + b[1])];
    refused(&flat, "collinear corners");
}

#[test]
fn lengths_that_are_none_are_refused() {
    for value in [0.0, -2.0, f64::NAN] {
        let mut marked = wall(25.0, 8.0, 4);
        marked.known[0].value = value;
        refused(&marked, "zero or negative");
    }
    let mut marked = wall(25.0, 8.0, 4);
    marked.known.clear();
    refused(&marked, "no known length");
}

#[test]
fn level_and_turned_needs_a_second_length_or_the_focal_length() {
    let mut marked = wall(30.0, 0.0, 6);
    marked.distortion = false;
    assert!(quick(&marked).is_ok());
    marked.known.pop();
    refused(&marked, "camera level and turned");
    marked.focal = Some(super::marked::Focal { pixels: 1350.0, relative: 0.04 });
    assert!(quick(&marked).is_ok());
}

#[test]
fn head_on_is_no_error() {
    let outcome = quick(&wall(0.0, 0.0, 6)).unwrap();
    assert!(!outcome.value.focal_known);
    assert!(outcome.findings.iter().any(|f| f.message.contains("undetermined")));
    for length in &outcome.value.lengths {
        let truth = if matches!(length.span, Span::Width(_)) { 1.2 } else { 1.5 };
        assert!((length.value / truth - 1.0).abs() < 1e-3, "{}: {}", length.name, length.value);
    }
}

#[test]
fn corners_of_no_rectangle_have_no_focal_length() {
    // Both families of edges meet on the same side of the middle.
    let mut marked = wall(0.0, 0.0, 2);
    let shear = |[x, y]: [f64; 2]| {
        let (dx, dy) = (x - 799.5, y - 599.5);
        let q = 1.0 + 4e-4 * dx + 4e-4 * dy;
        [799.5 + (dx + 0.3 * dy) / q, 599.5 + (dy + 0.3 * dx) / q]
    };
    marked.marks.iter_mut().for_each(|mark| mark.at = shear(mark.at));
    marked.click = 0.3;
    marked.floor = 0.3;
    refused(&marked, "squared focal length");
}

#[test]
fn a_mark_beyond_the_horizon_stops() {
    let mut marked = wall(60.0, 0.0, 3);
    // The horizon of a wall turned 60 degrees stands 1350 / tan 60 = 779 px to the right.
    marked.marks.push(Mark::new("sky", [1700.0, 600.0]));
    marked.asked.push(Span::Straight(0, 12));
    refused(&marked, "beyond the horizon");
}

#[test]
fn near_the_horizon_the_value_is_withheld() {
    let mut marked = wall(60.0, 5.0, 3);
    marked.click = 2.0;
    for (id, at) in [("far", [1560.0, 600.0]), ("farther", [1562.0, 540.0])] {
        marked.marks.push(Mark::new(id, at));
    }
    marked.asked.push(Span::Straight(12, 13));
    let outcome = quick(&marked).unwrap();
    let last = outcome.value.lengths.last().unwrap();
    assert!(last.withheld.is_some(), "{last:?}");
}

#[test]
fn one_rectangle_is_unchecked_and_a_second_length_is_valued() {
    let mut marked = wall(25.0, 8.0, 1);
    marked.known.pop();
    let outcome = quick(&marked).unwrap();
    assert!(outcome.value.lengths.iter().all(|length| !length.checked));
    assert!(outcome.findings.iter().any(|f| f.message.starts_with("unchecked")));
    assert!(outcome.findings.iter().any(|f| f.hint.contains("a second one, plumb")));
}

#[test]
fn a_figure_in_front_of_the_wall_is_measured_in_its_own_plane() {
    let mut marked = wall(20.0, 6.0, 6);
    marked.planes.push(Plane { ahead: 1.0, sigma: 0.05 });
    for (id, place) in [("foot", [0.5, -2.0, 1.0]), ("head", [0.5, -0.2, 1.0])] {
        let at = see(20.0, 6.0, place);
        marked.marks.push(Mark { plane: Some(0), ..Mark::new(id, at) });
    }
    marked.plumb.push(vec![24, 25]);
    marked.asked.push(Span::Plumb(24, 25));
    let outcome = quick(&marked).unwrap();
    let man = outcome.value.lengths.last().unwrap();
    assert!((man.value - 1.8).abs() < 0.01, "{}", man.value);
    // Taken to stand at the wall he would be measured a twelfth too tall.
    marked.marks[24].plane = None;
    marked.marks[25].plane = None;
    let wrong = quick(&marked).unwrap().value.lengths.last().unwrap().value;
    assert!(wrong > 1.9, "{wrong}");
}

#[test]
fn a_print_allows_for_a_crop() {
    let mut marked = wall(25.0, 10.0, 6);
    marked.marks.iter_mut().for_each(|mark| mark.at[0] -= 150.0);
    marked.origin = Origin::Print;
    let outcome = quick(&marked).unwrap();
    for length in &outcome.value.lengths {
        let truth = if matches!(length.span, Span::Width(_)) { 1.2 } else { 1.5 };
        assert!(length.interval.low < truth && truth < length.interval.high, "{length:?}");
    }
}

#[test]
fn lengths_of_one_picture_hang_together() {
    let mut marked = wall(25.0, 8.0, 6);
    marked.known[0].sigma = 0.1;
    marked.known[1].sigma = 0.1;
    let outcome = quick(&marked).unwrap();
    let c = &outcome.value.covariance;
    assert!(c[(4, 6)] / (c[(4, 4)] * c[(6, 6)]).sqrt() > 0.5);
}

#[test]
fn the_ruler_allows_for_depth() {
    assert_eq!(compare(0.0, 1.0, 1.0), None);
    assert!((compare(6.0, 2.0, 5.0).unwrap() - 15.0).abs() < 1e-12);
    assert_eq!(depth_error(60.0, 60.0), None);
    let raw = compare(6.0, 2.0, 5.0).unwrap();
    let corrected = compare_ahead(6.0, 2.0, 5.0, 6.0, 60.0).unwrap();
    assert!((corrected / raw - 1.0 - 6.0 / 54.0).abs() < 1e-12);
}

#[test]
fn the_demonstration_jobs_give_their_true_lengths() {
    use crate::catalog::Catalog;
    use crate::job::{demo, document::Document};
    let catalog = Catalog::built_in().unwrap();
    // (job, picture, length, feet): the invented buildings as they were drawn.
    let rows = [
        ("grain-store", "B1", "wall_bl..ridge:plumb", 26.0),
        ("grain-store", "B1", "wall_bl..eave_l:plumb", 18.0),
        ("grain-store", "B2", "wall_bl..door3_tl:level", 66.0),
        ("grain-store", "B2", "post2_foot..post3_foot:level", 12.0),
        ("river-cannery", "A1", "wall_bl..wall_br:level", 212.0),
        ("river-cannery", "A2", "win6_tl..win9_tl:level", 42.0),
        ("river-cannery", "A3", "wall_bl..ridge:plumb", 31.0),
        ("creamery", "C1", "wall_bl..wall_br:level", 48.0),
        ("creamery", "C2-end", "ewall_bl..ewall_br:level", 30.0),
    ];
    for (name, picture, length, feet) in rows {
        let document = Document::read(name, demo::find(name).unwrap().text, &catalog).unwrap();
        let effort = Effort { draws: 0, seed: 1 };
        let shots = super::from_job::run(&document.job().photos, effort).value;
        let shot = shots.iter().find(|shot| shot.marked.id == picture).unwrap();
        assert!(
            shot.readings.iter().all(|reading| !reading.on),
            "{picture}: switched off as shipped"
        );
        let found = shot.measured.lengths.iter().find(|found| found.name == length).unwrap();
        let [low, value, high] = super::from_job::Shot::ends(found).map(|l| l.in_feet());
        println!("{picture} {length}: {low:.2} {value:.2} {high:.2}");
        assert!(
            (value / feet - 1.0).abs() < 0.01 && low < feet && feet < high,
            "{picture} {length}: {value}"
        );
    }
}
