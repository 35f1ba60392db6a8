use super::compare::SetBack;
use super::*;
use crate::catalog::Catalog;
use crate::finding::Outcome;
use crate::quantity::{
    Notation, Paper, Ratio, Reading, Scale, Space, Stated, Unit, Written, parse_stated,
};

fn said<S: Space>(text: &str) -> Stated<Written<S>> {
    parse_stated(text, &Reading::default()).unwrap_or_else(|error| panic!("{error}"))
}

fn catalog() -> Catalog {
    Catalog::built_in().expect("the shipped data is sound")
}

fn ask(given: Given, scale: &str, to: Option<&str>) -> Outcome<Bench> {
    let scales = catalog().scales;
    let find = |name: &str| scales.find(name).expect("a scale");
    let ask = Ask { given, scale: find(scale), to: to.map(find) };
    answer(&ask, &catalog()).expect("an answer")
}

fn door() -> Comparison {
    Comparison {
        known: said("80 in ± 1 in"),
        known_print: said::<Paper>("23 mm ± 0.25 mm"),
        print: said::<Paper>("61.5 mm ± 0.25 mm"),
        set_back: None,
    }
}

#[test]
fn full_size_to_the_model_is_exact() {
    let bench = ask(Given::Full(said("12 ft ± 1/2 in")), "HO", Some("O")).value;
    assert_eq!(Notation::HUNDREDTHS.show(&bench.model), "42.00 mm");
    assert!((bench.model.amount(Unit::Millimetre) - 42.0).abs() < f64::MIN_POSITIVE);
    let sigma = bench.model_sigma.expect("a sigma").in_thou();
    assert!((sigma - 500.0 * 35.0 / 3048.0).abs() < 1e-9);
    let other = bench.other.expect("another scale");
    assert_eq!(Notation::BUILDING.show(&other.model), "3\"");
    assert!((other.redraw - 3048.0 / 35.0 / 48.0).abs() < 1e-12);
}

#[test]
fn model_to_full_size_is_exact() {
    let bench = ask(Given::Model(said("3 5/16 in")), "S", None).value;
    assert_eq!(Notation::BUILDING.show(&bench.full), "17'-8\"");
}

/// 80 in seen at 23 mm, the wall at 61.5 mm: 213.9 in. Relative parts 1/80,
/// 0.25/23 and 0.25/61.5, together 1.706 percent (worked by hand).
#[test]
fn by_comparison_with_the_uncertainty_of_all_three() {
    let bench = ask(Given::Compared(Box::new(door())), "O", None).value;
    assert!((bench.full.length().in_inches() - 80.0 * 61.5 / 23.0).abs() < 1e-9);
    let relative =
        (0.0125_f64.powi(2) + (0.25_f64 / 23.0).powi(2) + (0.25_f64 / 61.5).powi(2)).sqrt();
    let sigma = bench.full_sigma.expect("a sigma").in_inches();
    assert!((sigma - 213.913_043 * relative).abs() < 1e-6, "{sigma}");
    assert_eq!(bench.compared.expect("shares").shares.len(), 3);
}

/// A man 4 ft before the wall, camera at 150 ft: he is measured 2.7 percent too
/// big, so the wall comes out 2.7 percent larger once it is corrected.
#[test]
fn a_known_object_before_the_wall_is_corrected() {
    let set_back = SetBack { nearer: said("4 ft ± 1 ft"), distance: said("150 ft ± 20 ft") };
    let bench = ask(
        Given::Compared(Box::new(Comparison { set_back: Some(set_back), ..door() })),
        "O",
        None,
    );
    let found = bench.value.compared.expect("a comparison");
    assert!((found.correction - 150.0 / 146.0).abs() < 1e-12);
    assert_eq!(found.shares.len(), 5);
    assert!((found.shares[3].sigma / found.size - 1.0 / 146.0).abs() < 1e-12);
    assert!((found.shares[4].sigma / found.size - 20.0 * 4.0 / (150.0 * 146.0)).abs() < 1e-12);
}

#[test]
fn what_cannot_be_compared_stops() {
    let scale = Scale::new("O", Ratio::new(48, 1).expect("a ratio"));
    let stop = |comparison| {
        let ask =
            Ask { given: Given::Compared(Box::new(comparison)), scale: scale.clone(), to: None };
        answer(&ask, &catalog()).expect_err("a stop")
    };
    let zero = Comparison { known_print: said::<Paper>("0 mm"), ..door() };
    assert!(stop(zero).trouble.contains("known object on the print"));
    let set_back = SetBack { nearer: said("150 ft"), distance: said("150 ft") };
    assert!(stop(Comparison { set_back: Some(set_back), ..door() }).trouble.contains("camera"));
}

#[test]
fn readings_without_an_uncertainty_are_named() {
    let silent = Comparison { print: said::<Paper>("61.5 mm"), ..door() };
    let outcome = ask(Given::Compared(Box::new(silent)), "O", None);
    assert!(outcome.findings.iter().any(|finding| finding.message.contains("wanted length")));
}

#[test]
fn the_nearest_stock_comes_first_and_every_era_answers() {
    let bench = ask(Given::Full(said("3 1/2 in")), "O", None).value;
    let first = &bench.stock[0];
    assert!(first.miss.model.abs() <= bench.stock[1].miss.model.abs());
    let wood = bench
        .stock
        .iter()
        .find(|near| near.listed.material == "wood" && near.listed.unit == Unit::Inch);
    assert_eq!(wood.expect("wood by the inch").listed.text, "1/16 in");
    assert_eq!(bench.lumber.len(), 5);
    let dry = bench.lumber.iter().find(|near| near.era.key == "ps20-dry").expect("PS 20 dry");
    assert_eq!(dry.side.nominal.to_string(), "4");
    assert!(dry.miss.percent.abs() < 1e-9);
    let zero = ask(Given::Full(said("0 in")), "O", None).value;
    assert!(!zero.stock.is_empty());
}
