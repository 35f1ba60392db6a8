use super::*;

/// A made-up case: a reading of this method and text, in inches, against what
/// the others say.
fn case(method: &str, text: &str, value: f64, expected: f64) -> Option<Slip> {
    named(method, text, value, expected, 0.5, "")
}

fn named(
    method: &str,
    text: &str,
    value: f64,
    expected: f64,
    sigma: f64,
    given: &str,
) -> Option<Slip> {
    let job = format!(
        "[job]\nname = \"made up\"\nscale = \"1:48\"\n\n[[reading]]\nid = \"r\"\nof = \"wall\"\n\
         method = \"{method}\"\nvalue = \"{text}\"\n{given}\n"
    );
    let job: Job = job.parse().expect("a job");
    name(&Case {
        job: &job,
        catalog: &Catalog::built_in().expect("the shipped data reads"),
        reading: &job.readings[0],
        value,
        expected,
        sigma,
        repeats: vec![164.0],
        overalls: vec![1000.0],
    })
}

fn kind(slip: Option<Slip>) -> Option<SlipKind> {
    slip.map(|slip| slip.kind)
}

#[test]
fn one_whole_foot() {
    let slip = case("running-tape", "804.5 in", 804.5, 792.4).expect("named");
    assert_eq!(slip.kind, SlipKind::WholeFoot);
    assert_eq!(slip.words, "exactly one foot too long");
    assert_eq!(slip.or, [SlipKind::ZeroNotAtZero]);
    let slip = case("tape", "780.25 in", 780.25, 804.3).expect("named");
    assert_eq!(slip.words, "exactly 2 feet too short");
    let slip = case("tape", "5.30 m", 208.66, 169.3).expect("named");
    assert_eq!(slip.words, "exactly one metre too long");
}

#[test]
fn two_digits_swapped() {
    let slip = named("record", "221.0 ft", 2652.0, 2532.0, 22.0, "").expect("named");
    assert_eq!(slip.kind, SlipKind::DigitsSwapped);
    assert_eq!(slip.words, "221.0 ft for 212.0 ft");
    assert_eq!(
        kind(named("record", "84 ft", 1008.0, 584.0, 16.0, "")),
        Some(SlipKind::DigitsSwapped)
    );
}

#[test]
fn a_figure_upside_down() {
    assert_eq!(kind(case("tape", "96 in", 96.0, 66.2)), Some(SlipKind::UpsideDown));
    assert_eq!(kind(case("tape", "66 in", 66.0, 99.3)), Some(SlipKind::UpsideDown));
}

#[test]
fn one_bay() {
    assert_eq!(kind(case("pacing", "500 in", 500.0, 663.6)), Some(SlipKind::OneBay));
    assert_eq!(kind(case("pacing", "500 in", 500.0, 336.2)), Some(SlipKind::OneBay));
}

#[test]
fn posts_for_bays() {
    let given = "given = { count = \"9\", unit = \"10 ft\" }";
    let slip = named("count", "1080 in", 1080.0, 960.3, 1.0, given);
    assert_eq!(slip.as_ref().map(|slip| slip.words.as_str()), Some("9 counted where there are 8"));
    assert_eq!(kind(slip), Some(SlipKind::FencePost));
}

#[test]
fn a_tape_not_held_at_its_zero() {
    // An inch burnt; a foot burnt looks like a foot misread and is told beside.
    assert_eq!(
        kind(named("tape", "301 in", 301.0, 300.01, 0.05, "")),
        Some(SlipKind::ZeroNotAtZero)
    );
}

#[test]
fn feet_and_inches_as_decimal_feet() {
    let slip = named("tape", "12.11 ft", 145.32, 155.1, 0.3, "").expect("named");
    assert_eq!(slip.kind, SlipKind::DecimalFeet);
    assert_eq!(slip.words, "12.11 ft for 12 ft 11 in");
    let slip = named("tape", "12.6 ft", 151.2, 150.02, 0.15, "");
    assert_eq!(kind(slip), Some(SlipKind::DecimalFeet));
}

#[test]
fn quarters_as_tenths() {
    let slip = named("tape", "46.3 in", 46.3, 46.75, 0.03, "");
    assert_eq!(kind(slip), Some(SlipKind::QuartersAsTenths));
}

#[test]
fn half_for_whole() {
    assert_eq!(kind(case("tape", "150 in", 150.0, 300.4)), Some(SlipKind::HalfForWhole));
    assert_eq!(kind(case("tape", "333 in", 333.0, 166.3)), Some(SlipKind::HalfForWhole));
}

#[test]
fn inside_for_outside() {
    assert_eq!(kind(case("tape", "377 in", 377.0, 393.1)), Some(SlipKind::InsideForOutside));
}

#[test]
fn from_the_other_end() {
    assert_eq!(kind(case("running-tape", "287.5 in", 287.5, 712.2)), Some(SlipKind::Mirrored));
}

#[test]
fn metric_for_inches() {
    assert_eq!(kind(case("tape", "254 in", 254.0, 100.1)), Some(SlipKind::MetricForInch));
    assert_eq!(kind(case("tape", "40 in", 40.0, 1016.2)), Some(SlipKind::MetricForInch));
}

#[test]
fn no_name_where_none_fits() {
    for (method, text, value, expected) in [
        ("tape", "377 in", 377.0, 371.2),
        ("tape", "377 in", 377.0, 355.7),
        ("tape", "512.5 in", 512.5, 440.8),
        ("running-tape", "804.5 in", 804.5, 799.0),
        ("map", "804.5 in", 804.5, 792.5),
    ] {
        assert_eq!(case(method, text, value, expected), None, "{text} against {expected}");
    }
}

#[test]
fn a_wide_sigma_names_nothing_by_chance() {
    for expected in [1150.0, 1400.0] {
        assert_eq!(named("tape", "377 in", 377.0, expected, 48.0, ""), None, "{expected}");
    }
}

#[test]
fn every_slip_has_its_weight_in_the_data() {
    let catalog = Catalog::built_in().expect("the shipped data reads");
    for kind in SlipKind::ALL {
        assert!(catalog.slips.weight(kind.key()) > 0.0, "{kind:?}");
        assert_eq!(serde_json::to_value(kind).expect("a word"), kind.key());
    }
    assert_eq!(catalog.slips.slips.len(), SlipKind::ALL.len());
}
