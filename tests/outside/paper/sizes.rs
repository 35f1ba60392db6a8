//! Rows R9 of the check values: paper, units, tiles, the print check.

use scantling::drawing::shape::mm;
use scantling::drawing::tile::needed;
use scantling::job::paper::{Paper, PrintCheck};
use scantling::quantity::{CompressedLength, PaperLength, Ratio, Scale};

fn points(length: PaperLength) -> f64 {
    length.in_inches() * 72.0
}

/// ISO 216 (READ): A0 to A4. ANSI/ASME Y14.1 (READ): A to E, A being Letter.
#[test]
fn sheets_of_paper_have_the_sizes_of_their_standards() {
    for (key, wide, high) in [
        ("a0", 841.0, 1189.0),
        ("a1", 594.0, 841.0),
        ("a2", 420.0, 594.0),
        ("a3", 297.0, 420.0),
        ("a4", 210.0, 297.0),
    ] {
        let (short, long) = Paper::find(key).unwrap().upright();
        assert!(short.agrees(mm(wide), mm(1e-9)) && long.agrees(mm(high), mm(1e-9)), "{key}");
    }
    for (key, wide, high) in [
        ("letter", 8.5, 11.0),
        ("ansi-b", 11.0, 17.0),
        ("ansi-c", 17.0, 22.0),
        ("ansi-d", 22.0, 34.0),
        ("ansi-e", 34.0, 44.0),
        // Architectural C to E: from MEMORY.
        ("arch-c", 18.0, 24.0),
        ("arch-d", 24.0, 36.0),
        ("arch-e", 36.0, 48.0),
    ] {
        let (short, long) = Paper::find(key).unwrap().upright();
        let inches = PaperLength::inches;
        assert!(short.agrees(inches(wide), mm(1e-9)) && long.agrees(inches(high), mm(1e-9)));
    }
    assert!(Paper::find("a4 ").is_ok() && Paper::find("napkin").is_err());
}

/// R9-01, R9-02, R9-10: ISO 216 and ISO 32000-2, 8.3.2.3 (READ).
#[test]
fn paper_in_points() {
    let (short, long) = Paper::find("a4").unwrap().upright();
    assert!((points(short) - 595.2756).abs() < 1e-4 && (points(long) - 841.8898).abs() < 1e-4);
    assert!((long / short - 1.414_286).abs() < 1e-6);
    let (short, long) = Paper::find("letter").unwrap().upright();
    assert!((points(short) - 612.0).abs() < 1e-9 && (points(long) - 792.0).abs() < 1e-9);
    // CSS: 96 px to the inch (READ).
    assert!((short.in_inches() * 96.0 - 816.0).abs() < 1e-9);
    assert!((long.in_inches() * 96.0 - 1056.0).abs() < 1e-9);
}

/// R9-09: 1 px is 1/96 in, 1 pt is 1/72 in (CSS Values and Units and ISO 32000-2,
/// READ); a page of 612 points is 8.5 in wide by that.
#[test]
fn a_pixel_and_a_point_in_millimetres() {
    let (px, pt) = (PaperLength::inches(1.0 / 96.0), PaperLength::inches(1.0 / 72.0));
    assert!((px.in_millimetres() - 0.264_583_3).abs() < 1e-7);
    assert!((pt.in_millimetres() - 0.352_777_8).abs() < 1e-7);
    let (short, _) = Paper::find("letter").unwrap().upright();
    assert!((short / pt - 612.0).abs() < 1e-9 && (short / px - 816.0).abs() < 1e-9);
}

/// R9-03: a wall of 40 ft in HO is 140 mm on paper.
#[test]
fn a_wall_on_paper() {
    let scale = Scale::new("HO", Ratio::new(3048, 35).unwrap());
    let paper = Scale::to_paper(scale.reduce(CompressedLength::feet(40.0)));
    assert!((paper.in_millimetres() - 140.0).abs() < 1e-9);
    assert!((points(paper) - 396.8504).abs() < 1e-4);
    assert!((paper.in_inches() * 96.0 - 529.1339).abs() < 1e-4);
}

/// R9-09: a CSS pixel is 1/96 in and a point 1/72 in (CSS Values and Units, ISO
/// 32000-2; READ).
#[test]
fn a_pixel_and_a_point() {
    let (point, pixel) = (1.0 / points(mm(1.0)), mm(25.4).in_millimetres() / 96.0);
    assert!((point - 0.352_777_8).abs() < 1e-7, "{point}");
    assert!((pixel - 0.264_583_3).abs() < 1e-7, "{pixel}");
    assert!((PaperLength::inches(1.0 / 96.0).in_millimetres() - pixel).abs() < 1e-12);
}

/// R9-04, R9-05: arithmetic.
#[test]
fn tiles_for_a_template() {
    let count = |length, room, lap| needed(mm(length), mm(room), mm(lap));
    assert_eq!((count(500.0, 190.0, 0.0), count(300.0, 277.0, 0.0)), (3, 2));
    assert_eq!((count(500.0, 190.0, 10.0), count(300.0, 277.0, 10.0)), (3, 2));
}

/// R9-06, R9-07: arithmetic; the limit of half a percent is common practice
/// for card templates, no source.
#[test]
fn a_bar_that_measures_short() {
    let check = PrintCheck::measured(PaperLength::inches(4.0 * 0.971), mm(97.1), false).unwrap();
    assert!((check.up - 0.971).abs() < 1e-12);
    assert!((100.0 / check.up - 102.9866).abs() < 1e-4);
    assert!((140.0 * (1.0 - check.up) - 4.06).abs() < 1e-9);
    assert!(PrintCheck::measured(PaperLength::inches(4.0), mm(99.8), false).is_ok());
    assert!(PrintCheck::measured(PaperLength::inches(4.0), mm(99.4), false).is_err());
}
