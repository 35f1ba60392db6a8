//! The worked figures of the trade for rows of equal pieces. All COMPUTED
//! from the stated inputs; inches of the full-size building.

use super::*;
use crate::quantity::CompressedLength;

fn inches(value: f64) -> CompressedLength {
    CompressedLength::inches(value)
}

fn near(found: CompressedLength, wanted: f64, slack: f64) {
    assert!((found.in_inches() - wanted).abs() <= slack, "{found:?}, wanted {wanted}");
}

/// 114'-6" of 12 in boards: 115 with a 6 in last; centred 113 whole and two of
/// 9 in; adjusted 114 of 12.053 in (COMPUTED).
#[test]
fn three_ways_with_the_last_board() {
    let left = boards(inches(1374.0), inches(12.0), Remainder::Leave);
    assert_eq!(left.edges.len() - 1, 115);
    near(left.edges[115] - left.edges[114], 6.0, 1e-6);
    let centred = boards(inches(1374.0), inches(12.0), Remainder::Centre);
    assert_eq!(centred.edges.len() - 1, 115);
    near(centred.edges[1], 9.0, 1e-6);
    near(centred.edges[115] - centred.edges[114], 9.0, 1e-6);
    let adjusted = boards(inches(1374.0), inches(12.0), Remainder::Adjust);
    assert_eq!(adjusted.edges.len() - 1, 114);
    near(adjusted.pitch, 12.053, 5e-4);
}

#[test]
fn adjusting_more_than_two_percent_centres_instead() {
    let row = boards(inches(41.0), inches(12.0), Remainder::Adjust);
    assert_eq!(row.edges.len() - 1, 4);
    near(row.edges[1], 8.5, 1e-6);
}

#[test]
fn whole_boards_leave_no_sliver() {
    for rest in [Remainder::Leave, Remainder::Centre, Remainder::Adjust] {
        assert_eq!(boards(inches(120.0), inches(12.0), rest).edges.len() - 1, 10);
    }
}

/// Lines at 0, 30, 108, 144 with 4.5 in: 7, 17, 8 courses of 4.286, 4.588,
/// 4.500 (COMPUTED).
#[test]
fn clapboards_between_sill_and_head() {
    let lines = [0.0, 30.0, 108.0, 144.0].map(inches);
    let runs = between_lines(&lines, inches(4.5));
    let counts: Vec<u32> = runs.iter().map(|run| run.count).collect();
    assert_eq!(counts, [7, 17, 8]);
    for (run, wanted) in runs.iter().zip([4.286, 4.588, 4.5]) {
        near(run.exposure, wanted, 5e-4);
    }
}

#[test]
fn a_line_that_would_squeeze_the_courses_is_dropped() {
    let lines = [0.0, 6.5, 45.0].map(inches);
    let runs = between_lines(&lines, inches(4.5));
    assert_eq!(runs.len(), 1);
    assert_eq!(runs[0].count, 10);
}

/// A slope of 275.04 in at 5 in: 55 courses at 5.0007, not 56 with a last of
/// 0.04 (COMPUTED). 16'-8" at 5 in: 40 courses.
#[test]
fn shingle_courses_come_out_whole() {
    let (count, each) = slope_courses(inches(275.04), inches(5.0));
    assert_eq!(count, 55);
    near(each, 5.0007, 1e-4);
    assert_eq!(slope_courses(inches(200.0), inches(5.0)).0, 40);
    // A last course of half an exposure is left as it comes.
    assert_eq!(slope_courses(inches(52.5), inches(5.0)), (11, inches(5.0)));
}

/// The 60' span of 6:12 with 18 in of eave has 85 courses a side (COMPUTED).
#[test]
fn the_wide_span_has_eighty_five_courses() {
    let slope = super::super::roof::along_slope(inches(30.0 * 12.0 + 18.0), 0.5);
    assert_eq!(slope_courses(slope, inches(5.0)).0, 85);
}

/// 114'-6" at 12' at most: 10 bays of 11.45', 11 posts (COMPUTED).
#[test]
fn posts_are_one_more_than_bays() {
    let (bays, spacing) = spaced(inches(1374.0), inches(144.0));
    assert_eq!(bays, 10);
    near(spacing, 11.45 * 12.0, 1e-6);
}

/// 58 pairs of rafters on 114'-6" at 24 in; 59 tails on 116'-6" (COMPUTED).
#[test]
fn rafters_at_centres() {
    assert_eq!(at_centres(inches(1374.0), inches(24.0)), 58);
    assert_eq!(at_centres(inches(1398.0), inches(24.0)), 59);
}

/// 1374 in of 8 in planks with 1/2 in gaps: 161 planks, gaps of 0.54 in
/// (COMPUTED).
#[test]
fn planks_share_what_is_left() {
    let (count, gap) = planks(inches(1374.0), inches(8.0), inches(0.5));
    assert_eq!(count, 161);
    near(gap, 0.5375, 0.001);
}

/// A 48 in dock: 6 risers of 8 in, 5 treads of 10 in, 50 in of run, stringer
/// 69.3 in (COMPUTED).
#[test]
fn stairs_up_a_dock() {
    let flight = stairs(inches(48.0), inches(7.5), inches(10.0));
    assert_eq!((flight.risers, flight.treads), (6, 5));
    near(flight.rise, 8.0, 1e-9);
    near(flight.run, 50.0, 1e-9);
    near(flight.stringer, 69.3, 0.05);
}

/// 96' of sheet covering 24 in: 48 sheets (COMPUTED).
#[test]
fn corrugated_sheets_across_and_up() {
    assert_eq!(sheets_across(inches(1152.0), inches(24.0), inches(0.0)), 48);
    assert_eq!(sheets_across(inches(1154.0), inches(24.0), inches(2.5)), 48);
    assert_eq!(tiers(inches(216.0), inches(120.0), inches(6.0)), 2);
}
