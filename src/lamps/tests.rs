use super::*;
use crate::finding::Severity;

fn job(lamps: &str) -> Result<Job, String> {
    let text = format!("[job]\nname = \"lamps\"\nscale = \"1:48\"\n\n{lamps}");
    let catalog = Catalog::built_in().expect("the shipped data is sound");
    crate::job::read::read("lamps.toml", &text, &catalog).map_err(|error| error.to_string())
}

fn supplied(string: &str) -> String {
    let supply = "[[lamps.supply]]\nname = \"pack\"\nvolts = \"12 V\"\namperes = \"300 mA\"\n";
    format!("{supply}{string}")
}

fn lit(string: &str) -> Outcome<Lighting> {
    let catalog = Catalog::built_in().expect("the shipped data is sound");
    let job = job(&supplied(string)).unwrap_or_else(|error| panic!("{error}"));
    let Outcome { value, findings } = run(&job, &catalog).expect("it goes on");
    Outcome { value: value.expect("there are lamps"), findings }
}

fn string(more: &str) -> String {
    format!("[[lamps.string]]\nname = \"office\"\nlamp = \"white\"\ncurrent = \"5 mA\"\n{more}\n")
}

fn refused(more: &str) -> Refused {
    let Outcome { value, findings } = lit(&string(more));
    let refused = value.strings[0].answer.clone().expect_err(more);
    let told = findings.iter().any(|it| it.severity == Severity::Trouble && !it.hint.is_empty());
    assert!(told, "{findings:?}");
    refused
}

#[test]
fn what_is_wired_wrong_on_purpose_is_refused_with_the_reason() {
    let one = "lamps = 3\njoined = \"parallel\"\nresistors = \"one\"";
    assert_eq!(refused(one), Refused::OneForParallel(3));
    assert_eq!(refused("times = 2\nresistors = \"one\""), Refused::OneForParallel(2));
    assert_eq!(refused("resistor = \"none\""), Refused::NoResistor);
    assert_eq!(refused("resistor = \"0 ohm\""), Refused::ZeroOhm);
    assert!(matches!(refused("reversed = true"), Refused::Reversed(..)));
    assert!(matches!(refused("lamps = 4"), Refused::TooFewVolts { lamps: 4, .. }));
    assert_eq!(refused("lamps = 0"), Refused::NotAboveZero("the number of lamps"));
    assert_eq!(refused("gauge = 99\nrun = \"1 ft\""), Refused::Gauge(99));
}

#[test]
fn mains_track_and_alternating_supplies_are_refused() {
    for (kind, volts, why) in [
        ("mains", "120 V", Refused::Mains),
        ("track", "12 V", Refused::Track),
        ("ac", "12 V", Refused::Alternates),
    ] {
        let supply = format!(
            "[[lamps.supply]]\nname = \"pack\"\nkind = \"{kind}\"\nvolts = \"{volts}\"\namperes = \"1 A\"\n"
        );
        let job = job(&format!("{supply}{}", string(""))).expect("it reads");
        let catalog = Catalog::built_in().expect("the shipped data is sound");
        let lighting = run(&job, &catalog).expect("it goes on").value.expect("lamps");
        assert_eq!(lighting.strings[0].answer, Err(why));
        assert!(lighting.budgets.is_empty(), "nothing is added up on it");
    }
    let high = supplied("").replace("12 V", "48 V");
    let job = job(&format!("{high}{}", string(""))).expect("it reads");
    let catalog = Catalog::built_in().expect("the shipped data is sound");
    let lighting = run(&job, &catalog).expect("it goes on").value.expect("lamps");
    assert!(matches!(lighting.strings[0].answer, Err(Refused::NotLow(..))));
}

#[test]
fn less_than_a_quarter_across_the_resistor_is_a_finding() {
    let found = lit(&string("lamps = 3\nresistor = \"470 ohm\"")).findings;
    let told = found.iter().find(|it| it.message.contains("across the resistor")).expect("told");
    assert!(told.message.contains("20 percent of 12 V"), "{}", told.message);
    assert!(told.message.contains("8.94 mA instead of 5.11 mA (+75 percent)"), "{}", told.message);
    let two = lit(&string("lamps = 2")).findings;
    assert!(!two.iter().any(|it| it.message.contains("across the resistor")), "{two:?}");
}

#[test]
fn a_supply_counts_branches_flicker_units_and_its_reserve() {
    let stove = "[[lamps.load]]\nname = \"stove\"\ncurrent = \"20 mA\"\nmost = \"13 V\"\n";
    let outcome = lit(&format!("{}{stove}", string("times = 8")));
    let budget = &outcome.value.budgets[0];
    let each = (12.0 - 3.2) / 1800.0;
    assert!((budget.drawn.in_amperes() - (8.0 * each + 0.02)).abs() < 1e-12);
    assert!((budget.wanted / budget.drawn - 1.25).abs() < 1e-12);
    assert!(budget.holds());
    let told = outcome
        .findings
        .iter()
        .any(|it| it.severity == Severity::Trouble && it.message.contains("stands 13 V"));
    assert!(told, "{:?}", outcome.findings);
    assert!(!lit(&string("times = 60")).value.budgets[0].holds());
}

#[test]
fn a_long_thin_wire_makes_the_far_lamp_dim() {
    let far = "times = 20\ngauge = 34\nrun = \"24 ft\"";
    let Outcome { value, findings } = lit(&string(far));
    let hung = &value.strings[0];
    let strung = hung.answer.as_ref().expect("worked out");
    // The branch's own current over the wire all branches share.
    let wire = 48.0 * 0.2609;
    let by_hand = (12.0 - 3.2) / (1800.0 + 20.0 * wire);
    assert!((hung.at_end.in_amperes() - by_hand).abs() < 1e-12, "{hung:?}");
    assert!(hung.at_end < strung.current);
    assert!(findings.iter().any(|it| it.message.contains("with the wire")), "{findings:?}");
}

#[test]
fn a_roof_that_lifts_off_wants_a_plug_or_slack() {
    let roof = |more: &str| {
        let text = supplied(&string("on = \"roof\""));
        let job = job(&format!("[lamps]\n{more}\n{text}")).expect("it reads");
        let catalog = Catalog::built_in().expect("the shipped data is sound");
        run(&job, &catalog).expect("it goes on")
    };
    let bare = roof("");
    assert_eq!(bare.value.expect("lamps").contacts, 2);
    let asks = |outcome: &[Finding]| outcome.iter().any(|it| it.message.contains("plug of 2"));
    assert!(asks(&bare.findings));
    assert!(!asks(&roof("plug = true").findings));
    assert!(!asks(&roof("slack = \"3 in\"").findings));
    assert!(asks(&roof("slack = \"1 in\"").findings));
}

#[test]
fn a_resistor_picked_is_rated_for_the_worst() {
    let outcome = lit(&string("lamps = 3\nresistor = \"330 ohm\""));
    let strung = outcome.value.strings[0].answer.clone().expect("worked out");
    // Three lamps 15 degrees over 25 need 0.09 V less; E12 may be 10 percent low.
    let worst = (13.8 - 9.0 + 0.09) / (330.0 * 0.9);
    assert!((strung.worst.in_amperes() - worst).abs() < 1e-12, "{strung:?}");
    assert!(strung.rating.in_watts() >= worst * worst * 330.0 * 0.9);
    assert!(outcome.findings.iter().any(|it| it.message.contains("at the worst")));
    let picked = outcome.findings.iter().find(|it| it.message.contains("was picked"));
    assert!(picked.expect("told").message.contains("the plan would take 560 ohm"));
    assert!(matches!(refused("lamps = 3\nresistor = \"100 ohm\""), Refused::OverAtWorst { .. }));
}

#[test]
fn a_lamp_that_would_be_over_its_limit_gets_a_larger_resistor() {
    let text = string("").replace("5 mA", "20 mA");
    let Outcome { value, findings } = lit(&text);
    let strung = value.strings[0].answer.as_ref().expect("worked out");
    // (13.8 - 3 + 0.03) / (20 mA x 0.9) is 602 ohm; (12 - 3.2) / 20 mA is 440.
    assert!((strung.resistor.in_ohms() - 680.0).abs() < 1e-9, "{strung:?}");
    let told = findings.iter().any(|it| it.message.contains("680 ohm instead of 470 ohm"));
    assert!(told, "{findings:?}");
}

#[test]
fn no_larger_fuse_is_advised_before_the_fault_is_cleared() {
    let hint = |text: &str, gauge: &str| {
        let fused =
            supplied(text).replace("300 mA\"", &format!("300 mA\"\nfuse = \"20 mA\"{gauge}"));
        let job = job(&fused).unwrap_or_else(|error| panic!("{error}"));
        let catalog = Catalog::built_in().expect("the shipped data is sound");
        let found = run(&job, &catalog).expect("it goes on").findings;
        let fuse = found.into_iter().find(|it| it.message.starts_with("the fuse of"));
        fuse.expect("told").hint
    };
    let good = string("times = 8");
    assert!(hint(&good, "").starts_with("look for a fault first"));
    let bad = string("resistor = \"100 ohm\"").replace("office", "shed");
    assert!(hint(&format!("{good}{bad}"), "").starts_with("first clear"));
}

#[test]
fn names_that_stand_for_nothing_are_refused_with_their_line() {
    let error = |text: &str| job(text).expect_err(text);
    assert!(error(&supplied(&string("supply = \"pak\""))).contains("pak"));
    let strange = string("").replace("\"white\"", "\"whyte\"");
    assert!(error(&supplied(&strange)).contains("no lamp called \"whyte\""));
    assert!(error(&supplied(&string("current2 = \"1 mA\""))).contains("current2"));
    let bare = string("").replace("5 mA", "5");
    assert!(error(&supplied(&bare)).contains("5 mA"), "the unit is shown");
    assert!(error(&supplied(&format!("{0}{0}", string("")))).contains("two"));
    assert!(error("[lamps]\nseries = \"E13\"\n").contains("E13"));
}
