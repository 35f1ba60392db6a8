//! Outside checks: nominal and actual lumber, and what it comes to on the bench.
//!
//! Sources: NIST Voluntary Product Standard PS 20 (READ, a public transcription);
//! Simplified Practice Recommendation 16 as amended in 1926 (READ, from a garbled
//! scan; MEMORY where said).

use scantling::catalog::Catalog;
use scantling::catalog::lumber::{Actual, Class, Nominal};
use scantling::quantity::{
    Exact, Model, ModelLength, Prototype, PrototypeLength, Rational, Reading, Unit, parse,
};
use scantling::stock::nearest::{Form, listed, nearest};

fn catalog() -> Catalog {
    Catalog::built_in().expect("the shipped data is sound")
}

fn actual(nominal: &str, era: &str) -> Actual {
    let nominal = nominal.parse().unwrap_or_else(|stop| panic!("{stop}"));
    catalog().lumber.actual(nominal, era).unwrap_or_else(|stop| panic!("{stop}"))
}

fn measures(nominal: &str, era: &str, thickness: &str, width: &str) {
    let inches = |text: &str| {
        let size: Exact<Prototype> =
            parse(text, &Reading::in_unit(Unit::Inch)).expect("inches").exact();
        size
    };
    let found = actual(nominal, era);
    assert_eq!(found.thickness, inches(thickness), "{nominal} {era}");
    assert_eq!(found.width, inches(width), "{nominal} {era}");
    assert!(!found.sources.is_empty());
}

fn on_model(size: Exact<Prototype>, scale: &str) -> Exact<Model> {
    let scale = catalog().scales.find(scale).expect("a scale");
    scale.reduce_exact(size).expect("numbers of ordinary size")
}

fn near(found: f64, expected: f64, slack: f64) {
    assert!((found - expected).abs() <= slack, "{found} is not {expected} within {slack}");
}

/// R3-01. PS 20 (READ).
#[test]
fn r3_01_two_by_four() {
    measures("2x4", "ps20-dry", "1 1/2", "3 1/2");
    measures("2x4", "ps20-green", "1 9/16", "3 9/16");
}

/// R3-02. PS 20 (READ).
#[test]
fn r3_02_one_by_eight() {
    measures("1x8", "ps20-dry", "3/4", "7 1/4");
    measures("1x8", "ps20-green", "25/32", "7 1/2");
}

/// R3-03. PS 20 (READ): timbers.
#[test]
fn r3_03_timbers() {
    measures("8x8", "ps20-dry", "7.25", "7.25");
    measures("8x8", "ps20-green", "7.5", "7.5");
    measures("6x6", "ps20-dry", "5.5", "5.5");
    assert_eq!(actual("6x6", "ps20-dry").class, Class::Timber);
}

/// R3-04. SPR 16 of 1926 (READ, garbled).
#[test]
fn r3_04_two_by_ten_of_1926() {
    measures("2x10", "1924-1969", "1.625", "9.5");
}

/// R3-05. SPR 16 (MEMORY).
#[test]
fn r3_05_two_by_four_of_1926_to_1969() {
    measures("2x4", "1924-1969", "1.625", "3.625");
}

/// From 1961 to 1969 sizes were changing: the answer is either, and both are
/// shown (a rule of this program on the READ dates of 3b).
#[test]
fn the_nineteen_sixties_answer_either() {
    let lumber = &catalog().lumber;
    let keys: Vec<&str> = lumber.eras_of_year(1965).iter().map(|era| era.key.as_str()).collect();
    assert_eq!(keys, ["1924-1969", "ps20-dry", "ps20-green"]);
}

/// R3-06. Board feet (READ in several glossaries; nominal thickness under 1 in
/// counts as 1 in, MEMORY of PS 20).
#[test]
fn r3_06_board_feet() {
    for (nominal, feet, expected) in [("2x6", 14.0, 14.0), ("1x8", 12.0, 8.0), ("1/2x6", 10.0, 5.0)]
    {
        let nominal: Nominal = nominal.parse().unwrap_or_else(|stop| panic!("{stop}"));
        near(nominal.board_feet(PrototypeLength::feet(feet)), expected, 1e-12);
    }
}

/// R3-07. PS 20 and NMRA S-1.2 (READ).
#[test]
fn r3_07_dry_two_by_four_in_ho() {
    let found = actual("2x4", "ps20-dry");
    let millimetres = |size| on_model(size, "HO").in_unit(Unit::Millimetre).expect("small");
    assert_eq!(Some(millimetres(found.thickness)), Rational::new(4375, 10_000));
    near(millimetres(found.width).value(), 1.020_833, 1e-6);
}

/// R3-08. PS 20 (READ).
#[test]
fn r3_08_dry_two_by_four_in_o() {
    let found = actual("2x4", "ps20-dry");
    let thickness = on_model(found.thickness, "O").in_inches();
    assert_eq!(Some(thickness), Rational::new(1, 32));
    assert_eq!(thickness.to_string(), "1/32");
    near(on_model(found.width, "O").in_inches().value(), 0.072_917, 1e-6);
}

/// The nearest size of a material sold by the inch.
fn nearest_inch(wanted: ModelLength, material: &str, sizes: &[&str]) -> (String, f64) {
    let all = listed(&catalog().stock).into_iter().filter(|one| {
        one.material == material
            && one.form == Form::Strip
            && one.unit == Unit::Inch
            && (sizes.is_empty() || sizes.contains(&one.text.as_str()))
    });
    let found = nearest(wanted.in_inches(), all, |one| one.size.length().in_inches());
    let found = found.expect("there is stock");
    let off = (wanted - found.size.length()).in_inches();
    (found.text, off)
}

/// R8-01. PS 20 (READ) against the styrene strip of the catalogue (COMMON
/// PRACTICE).
#[test]
fn r8_01_dry_two_by_six_in_ho_from_styrene() {
    let found = actual("2x6", "ps20-dry");
    let (thickness, width) = (on_model(found.thickness, "HO"), on_model(found.width, "HO"));
    near(thickness.in_inches().value(), 0.017_224, 1e-6);
    near(width.in_inches().value(), 0.063_156, 1e-6);
    let (size, off) = nearest_inch(thickness.length(), "styrene", &[]);
    assert_eq!(size, "0.015 in");
    near(off, 0.002_224, 1e-6);
    let (size, off) = nearest_inch(width.length(), "styrene", &[]);
    assert_eq!(size, "0.060 in");
    near(off, 0.003_156, 1e-6);
}

/// R8-02. PS 20 (READ) against two sizes of stripwood (COMMON PRACTICE).
#[test]
fn r8_02_dry_two_by_four_in_o_from_wood() {
    let found = actual("2x4", "ps20-dry");
    let (size, off) = nearest_inch(on_model(found.thickness, "O").length(), "wood", &[]);
    assert_eq!(size, "1/32 in");
    near(off, 0.0, 1e-12);
    let width = on_model(found.width, "O").length();
    let (size, off) = nearest_inch(width, "wood", &["1/16 in", "3/32 in"]);
    assert_eq!(size, "1/16 in");
    near(off, 0.010_417, 1e-6);
    let (_, off) = nearest_inch(width, "wood", &["3/32 in"]);
    near(-off, 0.020_833, 1e-6);
}

/// R8-05. The inch: a label in millimetres is not the size in inches.
#[test]
fn r8_05_a_millimetre_label_is_another_size() {
    let stock = &catalog().stock;
    let sheet = |text: &str| {
        let row = stock
            .sheets
            .iter()
            .find(|sheet| sheet.material == "styrene" && sheet.thickness.text() == text);
        let size = row.expect("a sheet").thickness.exact().in_unit(Unit::Millimetre);
        size.expect("small numbers")
    };
    assert_eq!(Some(sheet("0.060 in")), Rational::new(1524, 1000));
    assert_eq!(sheet("0.060 in").minus(sheet("1.5 mm")), Rational::new(24, 1000));
}

/// Rows of coverings, bricks, ties and stairs.
mod covering {
    use scantling::quantity::{CompressedLength, ModelLength, Ratio, Scale};
    use scantling::stock::redistribute;
    use scantling::takeoff::{core, courses};

    fn inches(value: f64) -> CompressedLength {
        CompressedLength::inches(value)
    }

    fn near(found: f64, wanted: f64, slack: f64) {
        assert!((found - wanted).abs() <= slack, "{found}, wanted {wanted}");
    }

    /// R3-11. 16 ft 8 in of slope at 5 in: 40 courses; 5 in at 3.5 mm to the
    /// foot is 1.4583 mm. READ: IRC 2018 Table R905.7.5(1), exposure of 16 in
    /// shingles.
    #[test]
    fn shingles_at_the_exposure_of_the_code() {
        let (count, exposure) = courses::slope_courses(inches(200.0), inches(5.0));
        assert_eq!(count, 40);
        let ho = Scale::new("HO", Ratio::new(3048, 35).expect("a ratio"));
        near(ho.reduce(exposure).in_millimetres(), 1.4583, 1e-4);
    }

    /// R3-12. 8 ft of US modular brick, three courses to 8 in: 36. READ: Brick
    /// Industry Association Technical Notes 10. 2.4 m at 75 mm: 32. READ: UK
    /// metric coordinating size.
    #[test]
    fn brick_goes_by_the_coursing_rule() {
        assert_eq!(redistribute(inches(96.0), inches(8.0 / 3.0)).0, 36);
        let (height, course) = (CompressedLength::metres(2.4), CompressedLength::millimetres(75.0));
        assert_eq!(redistribute(height, course).0, 32);
    }

    /// R3-15. Three bricks of 2 1/4 and three joints of 3/8 are 7 7/8, while
    /// three courses are 8. READ: a trade article.
    #[test]
    fn adding_brick_and_joint_is_the_trap() {
        let added = 3.0 * 2.25 + 3.0 * 0.375;
        near(added, 7.875, 1e-12);
        let (count, each) = redistribute(inches(8.0), inches(8.0 / 3.0));
        near(each.in_inches() * f64::from(count), 8.0, 1e-9);
        assert!(8.0 - added > 0.1);
    }

    /// R3-13. Ties to a mile at 21 in and at 19 1/2 in (arithmetic).
    #[test]
    fn ties_to_a_mile() {
        let mile = CompressedLength::feet(5280.0);
        near(mile / inches(21.0), 3017.14, 0.01);
        near(mile / inches(19.5), 3249.23, 0.01);
        assert_eq!(courses::at_centres(mile, inches(21.0)), 3018);
    }

    /// R3-14. 9 ft from floor to floor, riser at most 7 3/4 in: 14 of 7.7143,
    /// run 130 at 10 in. READ: IRC 2018 R311.7.
    #[test]
    fn stairs_by_the_code() {
        let flight = courses::stairs_by_code(inches(108.0), inches(7.75), inches(10.0));
        assert_eq!(flight.risers, 14);
        near(flight.rise.in_inches(), 7.7143, 1e-4);
        near(flight.run.in_inches(), 130.0, 1e-9);
    }

    /// R3-09 and R3-10. Slate 10 x 20 at 3 in of headlap: 8.5 in exposed, 169.41
    /// to 100 sq ft; 6 x 12 on 16 ft by 20 ft: 1707. READ: building trades
    /// pocketbook and a carpentry text.
    #[test]
    fn slates() {
        let exposure = courses::slate_exposure(inches(20.0), inches(3.0));
        near(exposure.in_inches(), 8.5, 1e-9);
        near(courses::pieces_over(14_400.0, inches(10.0), exposure), 169.41, 0.01);
        let small = courses::slate_exposure(inches(12.0), inches(3.0));
        let count = courses::pieces_over(16.0 * 20.0 * 144.0, inches(6.0), small);
        near(count.ceil(), 1707.0, 1e-9);
    }

    /// R8-03 and R8-04. Kerf 0.2 mm: a 40 mm part is drawn 40.2, a hole of 2 by
    /// 4 is drawn 1.8 by 3.8; drawn 2 by 4 gives a piece of 1.8 by 3.8 and an
    /// opening of 2.2 by 4.2. READ: laser service pages.
    #[test]
    fn kerf_is_added_outside_and_taken_from_holes() {
        let mm = ModelLength::millimetres;
        near(core::drawn_outside(mm(40.0), mm(0.2)).in_millimetres(), 40.2, 1e-9);
        near(core::drawn_hole(mm(2.0), mm(0.2)).in_millimetres(), 1.8, 1e-9);
        near(core::drawn_hole(mm(4.0), mm(0.2)).in_millimetres(), 3.8, 1e-9);
        for (drawn, piece, opening) in [(2.0, 1.8, 2.2), (4.0, 3.8, 4.2)] {
            near(core::drawn_outside(mm(piece), mm(0.2)).in_millimetres(), drawn, 1e-9);
            near(core::drawn_hole(mm(opening), mm(0.2)).in_millimetres(), drawn, 1e-9);
        }
    }

    /// R8-07. A lid over walls of 140 by 85 mm with 0.4 mm all round is 140.8 by
    /// 85.8 inside. COMMON PRACTICE.
    #[test]
    fn a_lid_over_walls() {
        let mm = ModelLength::millimetres;
        let (long, wide) = core::casting_opening((mm(140.0), mm(85.0)), mm(0.4));
        near(long.in_millimetres(), 140.8, 1e-9);
        near(wide.in_millimetres(), 85.8, 1e-9);
    }
}
