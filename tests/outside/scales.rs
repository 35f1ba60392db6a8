//! Outside checks: scales and proportion.
//!
//! Tags: READ, seen in the source; MEMORY, from memory of it; COMPUTED, worked
//! out from a definition.

use scantling::catalog::Catalog;
use scantling::quantity::{
    Exact, Model, Prototype, Rational, Reading, Scale, Stepped as _, Unit, parse,
};

fn scale(name: &str) -> Scale {
    let catalog = Catalog::built_in().expect("the shipped data is sound");
    catalog.scales.find(name).unwrap_or_else(|stop| panic!("{stop}"))
}

fn full(text: &str) -> Exact<Prototype> {
    parse(text, &Reading::default()).expect("a length").exact()
}

fn on_model(text: &str, at: &str) -> Exact<Model> {
    scale(at).reduce_exact(full(text)).expect("numbers of ordinary size")
}

fn millimetres(size: Exact<Model>) -> f64 {
    size.in_unit(Unit::Millimetre).expect("numbers of ordinary size").value()
}

fn exactly(size: Option<Rational>, above: i128, below: i128) {
    assert_eq!(size, Rational::new(above, below));
}

fn near(found: f64, expected: f64, slack: f64) {
    assert!((found - expected).abs() <= slack, "{found} is not {expected} within {slack}");
}

/// R1-01. NMRA S-1.2: HO is 3.5 mm to the foot (READ).
#[test]
fn r1_01_twelve_feet_in_ho_are_42_mm() {
    exactly(on_model("12 ft", "HO").in_unit(Unit::Millimetre), 42, 1);
}

/// R1-02. The label 1:87.1 of NMRA S-1.2 (MEMORY) is another ratio; COMPUTED.
#[test]
fn r1_02_the_label_is_not_the_definition() {
    near(millimetres(on_model("12 ft", "1:87.1")), 41.993_111, 1e-6);
    exactly(on_model("12 ft", "1:87.1").in_unit(Unit::Millimetre), 36_576, 871);
}

/// R1-03. NEM 010 (2011), H0 is 1:87 (READ).
#[test]
fn r1_03_nem_h0() {
    near(millimetres(on_model("12 ft", "NEM H0")), 42.041_379, 1e-6);
}

/// R1-04. The ratio of 3.5 mm to the foot, by the definition of NMRA S-1.2 (READ).
#[test]
fn r1_04_the_exact_ratio_of_ho() {
    for name in ["HO", "3.5 mm/ft", "UK HO"] {
        let ratio = scale(name).ratio;
        assert_eq!((ratio.numerator(), ratio.denominator()), (3048, 35), "{name}");
        near(ratio.value(), 87.085_714_285_7, 1e-10);
    }
}

/// R1-05. O of NMRA S-1.2, 0 of NEM 010 and 7 mm of British usage (READ): the
/// same letter and three ratios.
#[test]
fn r1_05_three_scales_called_o() {
    exactly(Some(on_model("40 ft", "O").in_inches()), 10, 1);
    near(millimetres(on_model("40 ft", "NEM 0")), 270.9333, 1e-4);
    exactly(on_model("40 ft", "UK O").in_unit(Unit::Millimetre), 280, 1);
}

/// R1-06. Standard gauge at HO against the 16.5 mm track of NMRA S-1.2.
#[test]
fn r1_06_standard_gauge_in_ho() {
    let gauge = millimetres(on_model("56 1/2 in", "HO"));
    near(gauge, 16.479_167, 1e-6);
    near((16.5 / gauge - 1.0) * 100.0, 0.1264, 1e-4);
}

/// R1-07. On30 of NMRA S-1.2: 16.5 mm track (MEMORY) read back at 1:48.
#[test]
fn r1_07_on30_track_read_back() {
    let track = parse::<Model>("16.5 mm", &Reading::default()).expect("a length").exact();
    let gauge: Exact<Prototype> = scale("On30").enlarge_exact(track).expect("a gauge");
    let inches = gauge.in_inches().value();
    near(inches, 31.1811, 1e-4);
    near((inches / 30.0 - 1.0) * 100.0, 3.937, 1e-3);
}

/// R1-08. NEM 010 section 3.5 prints 45/87 = 0.517 (READ).
#[test]
fn r1_08_redraw_from_0_to_h0() {
    near(scale("NEM 0").redraw(&scale("NEM H0")), 0.517, 5e-4);
}

/// R1-09. Photocopier percentages from an 1/8 in drawing (COMPUTED).
#[test]
fn r1_09_photocopy_percent() {
    let drawing = scale("1/8 in/ft");
    near(drawing.redraw(&scale("O")) * 100.0, 200.0, 1e-12);
    near(drawing.redraw(&scale("HO")) * 100.0, 110.2362, 1e-4);
}

/// R1-10. A model length read back at S 1:64 (COMPUTED).
#[test]
fn r1_10_model_read_back_in_s() {
    let model = parse::<Model>("3 5/16 in", &Reading::default()).expect("a length").exact();
    let full: Exact<Prototype> = scale("S").enlarge_exact(model).expect("a length");
    exactly(Some(full.in_inches()), 212, 1);
    assert_eq!(scantling::quantity::Notation::BUILDING.show(&full), "17'-8\"");
}

/// R1-11. NEM 103 prints 313 mm and 425 mm for the body of group C, 27.2 m, in
/// H0 and S (READ).
#[test]
fn r1_11_car_body_of_nem_103() {
    for (name, printed) in [("NEM H0", 313), ("NEM S", 425)] {
        let steps = on_model("27.2 m", name).steps(Unit::Millimetre, 1).expect("a size");
        assert_eq!(steps.count, printed, "{name}");
    }
}

/// NMRA S-1.2, NEM 010 table 1 and British usage, whole (READ and MEMORY as the
/// rows of the data file say); United States drawing scales (COMMON PRACTICE,
/// ratios COMPUTED).
#[test]
fn every_name_has_its_ratio() {
    let table: &[(&str, i128, i128)] = &[
        ("F", 508, 25),
        ("No. 1", 32, 1),
        ("O", 48, 1),
        ("S", 64, 1),
        ("OO", 381, 5),
        ("TT", 120, 1),
        ("N", 160, 1),
        ("Z", 220, 1),
        ("HOn3", 3048, 35),
        ("Fn3", 508, 25),
        ("UK O", 1524, 35),
        ("UK OO", 381, 5),
        ("UK 3 mm", 508, 5),
        ("UK TT:120", 120, 1),
        ("UK N", 24_384, 165),
        ("UK 2 mm fine", 762, 5),
        ("NEM Z", 220, 1),
        ("NEM N", 160, 1),
        ("NEM TT", 120, 1),
        ("NEM S", 64, 1),
        ("NEM I", 32, 1),
        ("NEM II", 45, 2),
        ("NEM III", 16, 1),
        ("NEM V", 11, 1),
        ("NEM VII", 8, 1),
        ("NEM X", 11, 2),
        ("1/32 in/ft", 384, 1),
        ("3/32 in/ft", 128, 1),
        ("3/16 in/ft", 64, 1),
        ("3/4 in/ft", 16, 1),
        ("1 1/2 in/ft", 8, 1),
        ("3 in/ft", 4, 1),
    ];
    for (name, above, below) in table {
        assert_eq!(
            Some(Rational::from(scale(name).ratio)),
            Rational::new(*above, *below),
            "{name}"
        );
    }
}

/// A page of a hobby association lists 1:22.5, 1:29 and 1:32 under G (READ).
#[test]
fn g_is_no_one_scale() {
    let catalog = Catalog::built_in().expect("the shipped data is sound");
    let stop = catalog.scales.find("G").expect_err("G is refused");
    for ratio in ["1:20.3", "1:22.5", "1:24", "1:29", "1:32"] {
        assert!(stop.hint.contains(ratio), "{}", stop.hint);
    }
}
