//! Each degenerate case by its smallest cause, and the quick way.

use super::blame::Blamed;
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

/// Door height 2.6 for 2.032 m: where the camera is level nothing else tells
/// it, so it is named as unchecked, and the intervals hold the truth.
#[test]
fn a_wrong_second_length_is_named_and_the_intervals_are_honest() {
    for (turn, tilt) in [(20.0, 0.0), (25.0, 8.0), (0.0, 0.0)] {
        let mut marked = wall(turn, tilt, 6);
        marked.known[1].value *= 2.6 / 2.032;
        let outcome = quick(&marked).unwrap();
        let verdict = &outcome.value.verdict;
        let suspected = verdict.suspects[..verdict.alike.min(verdict.suspects.len())]
            .iter()
            .any(|suspect| suspect.blamed == Blamed::Known(1));
        assert!(suspected || verdict.unchecked.contains(&1), "{turn} {tilt}: {verdict:?}");
        for length in outcome.value.lengths.iter().filter(|length| !length.known) {
            let truth = if matches!(length.span, Span::Width(_)) { 1.2 } else { 1.5 };
            let ends = length.interval;
            assert!(ends.low < truth && truth < ends.high, "{turn} {tilt} {length:?}");
        }
    }
}

/// One wall said to be 7.315 and 8: both are named, and no mark.
#[test]
fn contradicting_lengths_are_both_named() {
    let mut marked = wall(25.0, 8.0, 6);
    marked.known.push(known(Span::Width(0), 1.2 * 8.0 / 7.315));
    let outcome = quick(&marked).unwrap();
    let verdict = outcome.value.verdict;
    let named: Vec<&Blamed> =
        verdict.suspects[..verdict.alike].iter().map(|suspect| &suspect.blamed).collect();
    assert!(named.contains(&&Blamed::Known(0)) && named.contains(&&Blamed::Known(2)), "{named:?}");
    assert!(!named.iter().any(|blamed| matches!(blamed, Blamed::Mark(_))), "{named:?}");
    assert!(outcome.findings.iter().any(|f| f.message.contains("cannot tell which")));
}

#[test]
fn a_good_picture_blames_no_one() {
    let verdict = quick(&wall(25.0, 8.0, 6)).unwrap().value.verdict;
    assert!(verdict.suspects.is_empty() && verdict.without.is_empty(), "{verdict:?}");
}

/// A window that carries a known length and stands in front of the wall.
#[test]
fn what_stands_in_front_is_said_with_its_distance() {
    let mut marked = wall(25.0, 8.0, 6);
    marked.known.push(known(Span::Width(4), 1.2));
    for (k, [x, y]) in [[-0.8, 1.9], [0.4, 1.9], [0.4, 0.4], [-0.8, 0.4]].into_iter().enumerate() {
        marked.marks[16 + k].at = see(25.0, 8.0, [x, y, 1.0]);
    }
    let verdict = quick(&marked).unwrap().value.verdict;
    let is_front = |blamed: &Blamed| *blamed == Blamed::InFront(vec![16, 17, 18, 19]);
    let front = verdict.suspects.iter().find(|s| is_front(&s.blamed)).unwrap();
    assert!(front.message.contains("about 1.0"), "{}", front.message);
    assert!(front.message.contains("in front"), "{}", front.message);
}

#[test]
fn a_rectangle_turned_against_the_others_is_named() {
    let mut marked = wall(25.0, 8.0, 4);
    marked.rects[2].corners.rotate_left(1);
    refused(&marked, "rectangle w2: turned order");
    assert_eq!(super::wiring::out_of_order(&marked), [2]);
    // A picture on its side turns all of them.
    marked.rects.iter_mut().for_each(|rect| rect.corners.rotate_left(1));
    marked.rects[2].corners.rotate_right(1);
    assert!(super::wiring::out_of_order(&marked).is_empty());
}

/// Level and plumb edges with two known lengths, and no rectangle.
#[test]
fn edges_alone_are_enough() {
    let mut marked = wall(25.0, 8.0, 4);
    for rect in std::mem::take(&mut marked.rects) {
        let [tl, tr, br, bl] = rect.corners;
        marked.level.extend([vec![tl, tr], vec![bl, br]]);
        marked.plumb.extend([vec![tl, bl], vec![tr, br]]);
    }
    marked.known = vec![known(Span::Level(0, 1), 1.2), known(Span::Plumb(3, 0), 1.5)];
    marked.asked = vec![Span::Straight(0, 10)];
    let found = quick(&marked).unwrap().value.lengths[0].value;
    assert!((found - 5.6_f64.hypot(1.5)).abs() < 5e-3, "{found}");
}

/// A stretched copy is measured as an undeclared picture: the intervals hold.
#[test]
fn a_picture_of_unknown_kind_is_measured_both_ways() {
    for (cut, stretch) in [(0.0, 1.0), (150.0, 1.02)] {
        let mut marked = wall(25.0, 10.0, 6);
        marked.known.pop();
        marked.origin = Origin::Unknown;
        for mark in &mut marked.marks {
            mark.at = [mark.at[0] - cut, mark.at[1] * stretch];
        }
        let outcome = quick(&marked).unwrap();
        for length in outcome.value.lengths.iter().filter(|length| !length.known) {
            let truth = if matches!(length.span, Span::Width(_)) { 1.2 } else { 1.5 };
            let ends = length.interval;
            assert!(ends.low < truth && truth < ends.high, "{cut}: {length:?}");
        }
        marked.origin = Origin::Camera;
        let camera = quick(&marked).unwrap().value;
        for (open, proud) in outcome.value.lengths.iter().zip(&camera.lengths) {
            assert!(
                open.known || open.sigma > 0.99 * proud.sigma,
                "{} {}",
                open.sigma,
                proud.sigma
            );
        }
    }
}

/// Where the frame of a part is known, its axis is that of the whole.
#[test]
fn a_part_with_its_frame_is_as_good_as_the_whole() {
    let whole = quick(&wall(25.0, 10.0, 6)).unwrap().value;
    let mut marked = wall(25.0, 10.0, 6);
    marked.marks.iter_mut().for_each(|mark| mark.at[0] -= 400.0);
    (marked.size, marked.origin) = ([1200, 1200], Origin::Part);
    marked.frame = Some([400.0, 0.0, 1600.0, 1200.0]);
    let part = quick(&marked).unwrap().value;
    for (a, b) in whole.lengths.iter().zip(&part.lengths) {
        assert!((a.value / b.value - 1.0).abs() < 1e-3 && (a.sigma / b.sigma - 1.0).abs() < 0.1);
    }
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
