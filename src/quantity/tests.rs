use super::*;

fn inches(text: &str) -> Rational {
    read(text, &Reading::default())
}

fn read(text: &str, reading: &Reading) -> Rational {
    match parse::<Prototype>(text, reading) {
        Ok(written) => written.exact().in_inches(),
        Err(error) => panic!("{text}: {error}"),
    }
}

fn refused(text: &str, reading: &Reading) -> NotationError {
    parse::<Prototype>(text, reading).expect_err(text)
}

fn rational(numerator: i128, denominator: i128) -> Rational {
    Rational::new(numerator, denominator).unwrap()
}

#[test]
fn a_figure_of_another_program_is_read_to_fifteen_digits() {
    let said: Written<Prototype> =
        parse("482.99068313995457 in", &Reading::default()).expect("17 digits");
    assert!((said.length().in_inches() - 482.990_683_139_954_57).abs() < 1e-9);
    let slope = parse_pitch("33.7 deg").expect("a slope").value.value();
    assert!((slope - 33.7_f64.to_radians().tan()).abs() < 1e-6);
    assert!(parse_pitch("90 deg").is_err());
}

#[test]
fn feet_and_inches_in_every_usual_writing() {
    for text in [
        "12' 6 1/2\"",
        "12ft 6-1/2in",
        "12'-6.5\"",
        "12'-6 1/2\"",
        "12'6½\"",
        "12′ 6½″",
        "12’ 6 ½”",
        "12 ft. 6 1/2 in.",
        "12 feet 6.5 inches",
        "12' 6 1/2''",
        "12 FT 6.5 IN",
        "12' 6 1/2",
        "12'\u{2013}6 1\u{2044}2\u{2033}",
        "  150.5\" ",
        "150 1/2 in",
        "+12'-6 1/2\"",
    ] {
        assert_eq!(inches(text), rational(301, 2), "{text}");
    }
}

#[test]
fn metric_and_thousandths() {
    for text in ["3.81 m", "381cm", "3810 mm", "3810mm", "150000 thou", "150000 mil"] {
        assert_eq!(inches(text), Rational::whole(150), "{text}");
    }
    assert_eq!(inches("2 yd"), Rational::whole(72));
}

#[test]
fn fractions_with_a_default_unit() {
    let inch = Reading::in_unit(Unit::Inch);
    assert_eq!(read("6 1/2", &inch), rational(13, 2));
    assert_eq!(read("6-1/2", &inch), rational(13, 2));
    assert_eq!(read("3/16", &inch), rational(3, 16));
    assert_eq!(read("⅜", &inch), rational(3, 8));
    assert_eq!(read("12.6", &inch), rational(63, 5));
    assert_eq!(read("6 1/2", &Reading::in_unit(Unit::Foot)), Rational::whole(78));
    assert_eq!(read("12.6", &Reading::in_unit(Unit::Millimetre)), rational(63, 127));
}

#[test]
fn negative_lengths() {
    assert_eq!(inches("-12' 6\""), Rational::whole(-150));
    assert_eq!(inches("\u{2212}3/4 in"), rational(-3, 4));
}

#[test]
fn surveyors_figures_only_with_their_parts() {
    let quarters = Reading { surveyor: Denominator::new(4), ..Reading::default() };
    let sixteenths = Reading { surveyor: Denominator::new(16), ..Reading::default() };
    assert_eq!(read("3.10.1", &quarters), rational(46 * 4 + 1, 4));
    assert_eq!(read("1.3.13", &sixteenths), rational(15 * 16 + 13, 16));
    assert!(refused("3.10.1", &Reading::default()).hint.contains("quarters"));
    assert!(refused("3.12.1", &quarters).message.contains("under 12"));
    assert!(refused("3.10.4", &quarters).message.contains("under 4"));
    assert!(refused("3.10.", &quarters).message.contains("missing"));
}

#[test]
fn a_bare_decimal_of_feet_is_refused_with_both_readings() {
    let error = refused("12.6", &Reading::in_unit(Unit::Foot));
    assert_eq!(error.hint, "write 12.6 ft (which is 12'-7 3/16\"+), 12'-6\"");
    assert_eq!(error.span, 0..4);
    let error = refused("12.6", &Reading::default());
    assert!(error.hint.contains("12'-6\"") && error.hint.contains("12.6 mm"), "{error}");
    assert!(refused("12.11", &Reading::default()).hint.contains("12'-11\""));
    assert_eq!(inches("12.6 ft"), rational(756, 5));
}

#[test]
fn the_caret_stands_under_the_place() {
    let error = refused("12′ 6 furlongs", &Reading::default());
    assert_eq!(
        error.to_string(),
        "furlongs is no unit of length\n  12′ 6 furlongs\n        ^^^^^^^^\n\
         hint: units: ft or ', in or \", thou, mm, cm, m, yd, rod, chain, ftUS"
    );
    assert_eq!(&error.text[error.span.clone()], "furlongs");
}

#[test]
fn what_is_no_length_is_refused_at_its_place() {
    for (text, place) in [
        ("", ""),
        ("   ", ""),
        ("abc", "a"),
        ("12 ft 6 mm", "mm"),
        ("12' 14\"", "14"),
        ("12.5' 6\"", "12.5"),
        ("3/", ""),
        ("3/0 in", "3/0"),
        ("1,200 mm", ","),
        ("3,81 m", ","),
        ("5. in", "."),
        ("12 6", "6"),
        ("12-6", "-6"),
        ("12' 6\" 3", "3"),
        ("1234567890123456 mm", "1234567890123456"),
        (
            "0.12345678901234567890123456789012345678901 mm",
            "0.12345678901234567890123456789012345678901",
        ),
        ("12 ft ± 1 in", "± 1 in"),
        ("5%", "%"),
        ("--5 in", "-"),
        ("\u{7f}", "\u{7f}"),
    ] {
        let error = refused(text, &Reading::in_unit(Unit::Inch));
        assert_eq!(&error.text[error.span.clone()], place, "{text}: {error}");
        assert!(!error.message.is_empty());
    }
}

#[test]
fn a_remainder_mark_is_read_over_with_a_notice() {
    let written = parse::<Prototype>("12' 6 1/2\"+", &Reading::default()).unwrap();
    assert_eq!(written.exact().in_inches(), rational(301, 2));
    assert!(written.notice().unwrap().contains('+'));
    let written = parse::<Prototype>("6 1/2 -", &Reading::in_unit(Unit::Inch)).unwrap();
    assert_eq!(written.exact().in_inches(), rational(13, 2));
    assert_eq!(parse::<Prototype>("6 in", &Reading::default()).unwrap().notice(), None);
}

#[test]
fn a_length_with_its_uncertainty() {
    let stated = |text: &str| parse_stated::<Prototype>(text, &Reading::default()).unwrap();
    let both = |text: &str| {
        let found = stated(text);
        (found.value.exact().in_inches(), found.sigma.map(|sigma| sigma.exact().in_inches()))
    };
    let half = Some(rational(1, 2));
    assert_eq!(both("12 ft ± 1/2 in"), (Rational::whole(144), half));
    assert_eq!(both("12 ft +/- 1/2 in"), (Rational::whole(144), half));
    assert_eq!(both("12' 6\" ± 1/2"), (Rational::whole(150), half));
    assert_eq!(both("12' ± 1/2"), (Rational::whole(144), Some(Rational::whole(6))));
    assert_eq!(both("23 ± 0.5 in"), (Rational::whole(23), half));
    assert_eq!(both("25 in ± 2%"), (Rational::whole(25), half));
    assert_eq!(both("12 ft"), (Rational::whole(144), None));
    assert_eq!(stated("12 ft ± 1/2 in").value.text(), "12 ft");
    let error = parse_stated::<Prototype>("12 ft ± -1 in", &Reading::default()).unwrap_err();
    assert!(error.message.contains("below zero"));
    assert!(parse_stated::<Prototype>("12 ± 1", &Reading::default()).is_err());
    assert!(parse_stated::<Prototype>("12 ft ±", &Reading::default()).is_err());
}

#[test]
fn numbers_angles_and_pitches() {
    let number = parse_number("2.93 ± 0.03").unwrap();
    assert_eq!((number.value, number.sigma), (rational(293, 100), Some(rational(3, 100))));
    assert_eq!(parse_number("-9 1/2").unwrap().value, rational(-19, 2));
    assert_eq!(parse_number("50 ± 2%").unwrap().sigma, Some(Rational::whole(1)));
    assert!(parse_number("3 ft").is_err());
    for text in ["6:12", "6/12", "0.5", "6 in 12", "6 : 12"] {
        assert_eq!(parse_pitch(text).unwrap().value, rational(1, 2), "{text}");
    }
    assert_eq!(parse_pitch("0.49 ± 0.02").unwrap().sigma, Some(rational(1, 50)));
    assert!(parse_pitch("6:0").is_err());
    assert!(parse_pitch("-6:12").is_err());
    for text in ["30 deg", "30°", "30 degrees", "30.0 °"] {
        assert!((parse_angle(text).unwrap().value.in_degrees() - 30.0).abs() < 1e-12, "{text}");
    }
    let angle = parse_angle("30° ± 1/2").unwrap();
    assert!((angle.sigma.unwrap().in_degrees() - 0.5).abs() < 1e-12);
    assert!(parse_angle("30").unwrap_err().message.contains("no unit"));
}

#[test]
fn feet_and_inches_are_rounded_by_the_written_rule() {
    let show = |parts, numerator, denominator| {
        let parts = Denominator::new(parts).unwrap();
        let size: Exact<Prototype> = Exact::inches(rational(numerator, denominator));
        Notation::FeetInches(parts).show(&size)
    };
    assert_eq!(show(16, 301, 2), "12'-6 1/2\"");
    assert_eq!(show(16, 144, 1), "12'-0\"");
    assert_eq!(show(16, 0, 1), "0\"");
    assert_eq!(show(16, 8, 16), "1/2\"");
    assert_eq!(show(16, -301, 2), "-12'-6 1/2\"");
    assert_eq!(show(16, 767, 64), "1'-0\"-");
    assert_eq!(show(16, 3, 32), "1/8\"-");
    assert_eq!(show(16, 5, 32), "1/8\"+");
    assert_eq!(show(8, 1, 1000), "0\"+");
    assert_eq!(show(1, 5, 2), "2\"+");
}

#[test]
fn floating_point_sizes_snap_to_steps_and_halves() {
    let eighths = Notation::FeetInches(Denominator::EIGHTHS);
    let sum = (0..10).map(|_| PrototypeLength::inches(0.1)).sum::<PrototypeLength>();
    assert_eq!(eighths.show(&sum), "1\"");
    assert_eq!(eighths.show(&PrototypeLength::inches(1.0 / 16.0 + 1e-12)), "0\"+");
    assert_eq!(eighths.show(&PrototypeLength::inches(1.0 / 16.0 + 1e-6)), "1/8\"-");
    assert_eq!(eighths.show(&PrototypeLength::inches(f64::NAN)), "no size");
    assert_eq!(eighths.show(&PrototypeLength::inches(f64::INFINITY)), "no size");
}

#[test]
fn decimals_and_spreads() {
    let size: Exact<Model> = Exact::inches(rational(1, 24));
    assert_eq!(Notation::Decimal(Unit::Thou, 1).show(&size), "41.7 thou");
    assert_eq!(Notation::THOU.show(&size), "42 thou");
    assert_eq!(Notation::HUNDREDTHS.show(&size), "1.06 mm");
    assert_eq!(Notation::Decimal(Unit::Inch, 4).show(&size), "0.0417 in");
    assert_eq!(Notation::Decimal(Unit::Metre, 3).show(&PrototypeLength::feet(-1.0)), "-0.305 m");
    assert_eq!(spread(PrototypeLength::inches(0.4123), Unit::Inch), "±0.41 in");
    assert_eq!(spread(PrototypeLength::inches(1.0), Unit::Millimetre), "±25 mm");
    assert_eq!(significant(0.0996, 2), "0.10");
    assert_eq!(significant(123.4, 2), "120");
    assert_eq!(significant(0.0, 2), "0");
    assert_eq!(significant(9.96, 2), "10");
    let scale = Scale::new("HO", Ratio::new(3048, 35).unwrap());
    let text =
        scale_feet::<Prototype>(ModelLength::millimetres(42.0), &scale, Denominator::EIGHTHS);
    assert_eq!(text, "12'-0\" HO");
}

#[test]
fn a_written_length_goes_through_files_as_its_text() {
    let written: Written<Model> = serde_json::from_str("\"1/16 in\"").unwrap();
    assert_eq!(written.exact().in_inches(), rational(1, 16));
    assert_eq!(serde_json::to_string(&written).unwrap(), "\"1/16 in\"");
    assert!(serde_json::from_str::<Written<Model>>("\"1/16\"").is_err());
}
