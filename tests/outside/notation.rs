//! Outside checks: units, rounding and the notation of lengths.
//!
//! Sources: NIST Handbook 44 Appendix C and SP 811 Appendix B (MEMORY, confirmed
//! against a general units library, READ); ASTM E29 and ISO 80000-1 Annex B rule
//! A, nearest with ties to even (READ in a state testing manual quoting E29).

use scantling::quantity::{
    Denominator, Exact, Notation, Prototype, PrototypeLength, Rational, Reading, Stepped as _,
    Unit, parse, parse_number, parse_stated,
};

fn size(text: &str) -> Exact<Prototype> {
    parse(text, &Reading::default()).unwrap_or_else(|error| panic!("{error}")).exact()
}

fn amount(text: &str, unit: Unit) -> Rational {
    size(text).in_unit(unit).expect("numbers of ordinary size")
}

fn rational(above: i128, below: i128) -> Rational {
    Rational::new(above, below).expect("not over zero")
}

fn near(found: f64, expected: f64, slack: f64) {
    assert!((found - expected).abs() <= slack, "{found} is not {expected} within {slack}");
}

/// R4-01. Handbook 44.
#[test]
fn r4_01_feet_and_inches_in_millimetres() {
    assert_eq!(amount("5 ft 7 3/8 in", Unit::Inch), rational(539, 8));
    assert_eq!(amount("5 ft 7 3/8 in", Unit::Millimetre), rational(1_711_325, 1000));
}

/// R4-02. Handbook 44: the metre is 5000/127 in.
#[test]
fn r4_02_a_metre_in_inches() {
    let inches = amount("1 m", Unit::Inch);
    near(inches.value(), 39.370_078_740_2, 1e-10);
    near(inches.value() - 36.0, 3.370_078_740_2, 1e-10);
    assert_eq!(Notation::BUILDING.show(&size("1 m")), "3'-3 3/8\"-");
}

/// R4-03. The US survey foot, 1200/3937 m.
#[test]
fn r4_03_a_thousand_survey_feet() {
    let metres = amount("1000 ftUS", Unit::Metre).value();
    near(metres, 304.800_609_601, 1e-9);
    let international = amount("1000 ft", Unit::Metre).value();
    near((metres - international) * 1000.0, 0.609_601, 1e-6);
}

/// R4-04. COMPUTED: to the nearest 1/64, and how far off that is.
#[test]
fn r4_04_decimal_text_to_sixty_fourths() {
    let wanted = size("0.40190 in");
    assert_eq!(wanted.steps(Unit::Inch, 64).expect("a size").count, 26);
    assert_eq!(Notation::FeetInches(Denominator::SIXTY_FOURTHS).show(&wanted), "13/32\"-");
    assert_eq!(rational(13, 32).minus(wanted.in_inches()), Some(rational(435, 100_000)));
}

/// R4-05. The rule of ASTM E29 on fractions: both ties go to the even sixteenth.
#[test]
fn r4_05_ties_of_fractions_go_to_even() {
    for text in ["3/32 in", "5/32 in"] {
        assert_eq!(size(text).steps(Unit::Inch, 16).expect("a size").count, 2, "{text}");
    }
    assert_eq!(Notation::BUILDING.show(&size("3/32 in")), "1/8\"-");
    assert_eq!(Notation::BUILDING.show(&size("5/32 in")), "1/8\"+");
    let float = PrototypeLength::inches(3.0 / 32.0);
    assert_eq!(Notation::BUILDING.show(&float), "1/8\"-");
}

/// R4-06. ASTM E29 on decimal text; binary arithmetic would make 2.67 of 2.675.
#[test]
fn r4_06_ties_of_decimal_text_go_to_even() {
    for (text, shown) in [("2.675 in", "2.68 in"), ("0.125 in", "0.12 in"), ("0.375 in", "0.38 in")]
    {
        assert_eq!(Notation::Decimal(Unit::Inch, 2).show(&size(text)), shown);
    }
    // The rule for floating point: within 1e-9 of a half counts as the half.
    let float = PrototypeLength::inches(2.675);
    assert_eq!(Notation::Decimal(Unit::Inch, 2).show(&float), "2.68 in");
}

/// R4-07. The examples of ASTM E29 (READ).
#[test]
fn r4_07_the_examples_of_e29() {
    for (text, shown) in
        [("45.7500 mm", "45.8 mm"), ("45.4500 mm", "45.4 mm"), ("45.45001 mm", "45.5 mm")]
    {
        assert_eq!(Notation::Decimal(Unit::Millimetre, 1).show(&size(text)), shown);
    }
    let tenths = |text: &str| {
        let value = parse_number(text).expect("a number").value;
        value.times(Rational::whole(10)).expect("small numbers").nearest_whole().0
    };
    assert_eq!([tenths("45.7500"), tenths("45.4500"), tenths("45.45001")], [458, 454, 455]);
}

/// R4-08. Notation of the trade: two writings of one length.
#[test]
fn r4_08_two_writings_of_one_length() {
    for text in ["12'-6 1/2\"", "12ft6.5in"] {
        assert_eq!(amount(text, Unit::Inch), rational(301, 2), "{text}");
        assert_eq!(amount(text, Unit::Millimetre), rational(38_227, 10), "{text}");
    }
}

/// R4-09. COMPUTED: a length with its uncertainty.
#[test]
fn r4_09_a_length_with_its_uncertainty() {
    let stated = parse_stated::<Prototype>("10 ft 0 in ± 1/8 in", &Reading::default())
        .expect("a length with ±");
    let millimetres = |exact: Exact<Prototype>| exact.in_unit(Unit::Millimetre);
    assert_eq!(millimetres(stated.value.exact()), Some(Rational::whole(3048)));
    let sigma = stated.sigma.expect("a sigma").exact();
    assert_eq!(millimetres(sigma), Some(rational(3175, 1000)));
}

/// R4-10. Handbook 44.
#[test]
fn r4_10_sheet_thickness_both_ways() {
    assert_eq!(amount("0.020 in", Unit::Millimetre), rational(508, 1000));
    near(amount("0.5 mm", Unit::Inch).value(), 0.019_685, 1e-6);
}

/// R4-11. The carry rule: a rounded 12 in goes into the foot (COMMON PRACTICE).
#[test]
fn r4_11_twelve_inches_are_carried() {
    let wanted = size("11 63/64 in");
    assert_eq!(wanted.steps(Unit::Inch, 16).expect("a size").count, 12 * 16);
    assert_eq!(Notation::BUILDING.show(&wanted), "1'-0\"-");
}

/// R4-12. Handbook 44: the rod and the chain of international feet.
#[test]
fn r4_12_rod_and_chain() {
    assert_eq!(amount("1 rod", Unit::Metre), rational(50_292, 10_000));
    assert_eq!(amount("1 chain", Unit::Metre), rational(201_168, 10_000));
}

/// The note form of the Historic American Buildings Survey (READ): 3.10.1 is
/// 3'-10 1/4" in quarters, 1.3.13 has sixteenths.
#[test]
fn figures_of_a_measured_survey() {
    let read = |text, parts| {
        let reading = Reading { surveyor: Denominator::new(parts), ..Reading::default() };
        let size = parse::<Prototype>(text, &reading).expect("figures").exact();
        Notation::BUILDING.show(&size)
    };
    assert_eq!(read("3.10.1", 4), "3'-10 1/4\"");
    assert_eq!(read("1.3.13", 16), "1'-3 13/16\"");
}
