//! Lengths there and back.

use proptest::prelude::*;
use scantling::catalog::Catalog;
use scantling::quantity::{
    Denominator, Exact, Length, Notation, Prototype, Rational, Reading, Unit, parse, parse_angle,
    parse_number, parse_pitch, parse_stated,
};

fn denominator() -> impl Strategy<Value = Denominator> {
    (0_u32..7).prop_map(|power| Denominator::new(1 << power).expect("one of the seven"))
}

fn unit() -> impl Strategy<Value = Unit> {
    prop::sample::select(Unit::ALL.to_vec())
}

fn notation() -> impl Strategy<Value = Notation> {
    prop_oneof![
        denominator().prop_map(Notation::FeetInches),
        denominator().prop_map(Notation::Inches),
        (unit(), 0_u8..5).prop_map(|(unit, places)| Notation::Decimal(unit, places)),
    ]
}

/// A size on the grid of a notation.
fn on_grid(notation: Notation, count: i64) -> Exact<Prototype> {
    let (unit, parts) = notation.step();
    let amount = Rational::new(i128::from(count), i128::from(parts)).expect("parts above zero");
    Exact::of(amount, unit).expect("numbers of ordinary size")
}

/// Text of the characters lengths are made of, in any order.
const JUNK: &str = "[0-9 .,'\"/±%+\\-a-z½⅜′″°:]{0,24}";

proptest! {
    #[test]
    fn parse_of_show_is_the_same_on_the_grid(notation in notation(), count in -1_900_000_i64..1_900_000) {
        let size = on_grid(notation, count);
        let text = notation.show(&size);
        let read = parse::<Prototype>(&text, &Reading::default()).map_err(|error| TestCaseError::fail(error.to_string()))?;
        prop_assert_eq!(read.exact(), size, "{}", text);
        prop_assert_eq!(read.notice(), None);
    }

    #[test]
    fn a_floating_point_size_on_the_grid_is_shown_as_the_exact_one(notation in notation(), count in -90_000_i64..90_000) {
        let size = on_grid(notation, count);
        prop_assert_eq!(notation.show(&size.length()), notation.show(&size));
    }

    #[test]
    fn what_is_shown_is_within_half_a_step(notation in notation(), inches in -1e5_f64..1e5) {
        let size: Length<Prototype> = Length::inches(inches);
        let text = notation.show(&size);
        let read = parse::<Prototype>(&text, &Reading::default()).map_err(|error| TestCaseError::fail(error.to_string()))?;
        let (unit, parts) = notation.step();
        let half = 0.5 * unit.in_inches() / parts as f64;
        let slack = half + 1e-8 * inches.abs();
        prop_assert!(read.length().agrees(size, Length::inches(slack)), "{inches} shown as {text}");
    }

    #[test]
    fn shown_text_is_a_fixed_point(notation in notation(), inches in -1e5_f64..1e5) {
        let size: Length<Prototype> = Length::inches(inches);
        let once = notation.show(&size);
        let read = parse::<Prototype>(&once, &Reading::default()).map_err(|error| TestCaseError::fail(error.to_string()))?;
        let mark = |text: &str| match notation {
            Notation::Decimal(..) => text.to_owned(),
            _ => text.trim_end_matches(['+', '-']).to_owned(),
        };
        prop_assert_eq!(notation.show(&read.exact()), mark(&once));
    }

    #[test]
    fn junk_is_refused_with_a_place_inside_it(text in JUNK) {
        for unit in [None, Some(Unit::Foot), Some(Unit::Millimetre)] {
            let reading = Reading { unit, surveyor: Denominator::new(16) };
            if let Err(error) = parse_stated::<Prototype>(&text, &reading) {
                prop_assert!(error.text.get(error.span.clone()).is_some(), "{error:?}");
                prop_assert!(error.to_string().contains('^'));
            }
        }
    }

    #[test]
    fn no_text_makes_a_reader_panic(text in any::<String>()) {
        let _ = parse::<Prototype>(&text, &Reading::in_unit(Unit::Inch));
        let _ = parse_stated::<Prototype>(&text, &Reading::default());
        let _ = (parse_number(&text), parse_pitch(&text), parse_angle(&text));
        let catalog = Catalog::built_in().map_err(|error| TestCaseError::fail(error.to_string()))?;
        let _ = catalog.scales.find(&text);
    }

    #[test]
    fn junk_makes_no_other_reader_panic(text in JUNK) {
        let _ = (parse_number(&text), parse_pitch(&text), parse_angle(&text));
        let catalog = Catalog::built_in().map_err(|error| TestCaseError::fail(error.to_string()))?;
        let _ = catalog.scales.find(&text);
        let _ = text.parse::<scantling::catalog::lumber::Nominal>();
    }
}
