use super::*;
use crate::job::said::Said;

fn demo(name: &str) -> (Job, Outcome<Survey>) {
    let text = match name {
        "grain-store" => include_str!("../../data/demo/grain-store.toml"),
        "river-cannery" => include_str!("../../data/demo/river-cannery.toml"),
        _ => include_str!("../../data/demo/creamery.toml"),
    };
    let job: Job = text.parse().expect("a demo job reads");
    let catalog = Catalog::built_in().expect("the shipped data reads");
    let survey = run(&job, &catalog);
    (job, survey)
}

fn near(found: f64, wanted: f64, slack: f64) {
    assert!((found - wanted).abs() <= slack, "found {found}, wanted {wanted}");
}

fn feet(survey: &Survey, name: &str) -> (f64, f64) {
    let measured = survey.dimension(name).and_then(|d| d.measured.as_ref()).expect("fixed");
    (measured.value.in_feet(), measured.sigma.in_feet())
}

#[test]
fn the_grain_store_gives_up_its_foot() {
    let (_, Outcome { value: survey, .. }) = demo("grain-store");
    let ids: Vec<&str> = survey.rejected.iter().map(|r| r.id.as_str()).collect();
    assert_eq!(ids, ["D3-left"]);
    near(survey.rejected[0].z, 18.4, 0.05);
    let all: f64 = survey.networks.iter().map(|n| n.chi_square_of_all).sum();
    near(all, 342.0, 0.5);
    let degrees: usize = survey.networks.iter().map(|n| n.degrees_of_all).sum();
    assert_eq!(degrees, 8);
    near(survey.networks.iter().map(|n| n.chi_square).sum(), 2.1, 0.05);
    let (overall, sigma) = feet(&survey, "overall");
    near(overall * 12.0, 1152.49, 0.005);
    near(sigma * 12.0, 0.41, 0.005);
    let unchecked: Vec<&str> = survey
        .dimensions
        .iter()
        .filter(|d| d.checked == Checked::Unchecked)
        .map(|d| d.name.as_str())
        .collect();
    assert_eq!(
        unchecked,
        ["office_door_left", "office_door_right", "w3_left", "w3_right", "w4_left", "w4_right"]
    );
}

#[test]
fn the_cannery_drops_the_clerks_figure() {
    let (_, Outcome { value: survey, .. }) = demo("river-cannery");
    assert_eq!(survey.rejected.len(), 1);
    assert_eq!(survey.rejected[0].id, "A4");
    near(survey.rejected[0].z, 5.5, 0.06);
    let (length, sigma) = feet(&survey, "length");
    near(length, 211.0, 0.05);
    near(sigma, 1.5, 0.05);
    let (bay, sigma) = feet(&survey, "bay");
    near(bay, 13.93, 0.006);
    near(sigma, 0.10, 0.006);
    near(feet(&survey, "door").0, 8.01, 0.006);
    near(survey.networks[0].chi_square, 0.7, 0.05);
    assert_eq!(survey.networks[0].degrees, 4);
    let (eave, sigma) = feet(&survey, "eave");
    near(eave, 16.15, 0.006);
    near(sigma, 0.35, 0.006);
    let (ridge, sigma) = feet(&survey, "ridge");
    near(ridge, 31.13, 0.006);
    near(sigma, 0.68, 0.006);
    near(survey.networks[1].chi_square, 0.6, 0.05);
    assert_eq!(survey.networks[1].degrees, 4);
}

#[test]
fn the_creamery_was_48_feet() {
    let (_, Outcome { value: survey, .. }) = demo("creamery");
    assert_eq!(survey.rejected.len(), 1);
    assert_eq!(survey.rejected[0].id, "C3");
    near(survey.rejected[0].z, 26.0, 0.05);
    near(feet(&survey, "front").0, 48.65, 0.006);
    near(feet(&survey, "front").1, 0.92, 0.006);
    near(feet(&survey, "bay").0, 6.59, 0.006);
    near(feet(&survey, "bay").1, 0.13, 0.006);
    near(feet(&survey, "ground").0, 11.98, 0.006);
    near(feet(&survey, "ground").1, 0.23, 0.006);
    near(feet(&survey, "upper").0, 12.15, 0.006);
    near(feet(&survey, "upper").1, 0.27, 0.006);
}

#[test]
fn a_size_is_taken_else_adopted_else_measured() {
    let (_, Outcome { value: survey, .. }) = demo("grain-store");
    let measured: Linear = "d3_left - w2_right".parse().expect("a form");
    let size = Size { take: None, measured: Some(measured.clone()) };
    let found = survey.size(&size).expect("fixed");
    let estimate = found.measured.clone().expect("measured");
    assert!(found.value.agrees(estimate.value, PrototypeLength::inches(1e-9)));
    assert!(estimate.sigma.in_inches() < 0.5);
    assert!(estimate.sources.contains(&"W2-D3-gap".to_owned()));
    assert!(!estimate.sources.contains(&"D3-left".to_owned()));

    let take: Said<_> = "9 ft".parse().expect("a length");
    let found = survey.size(&Size { take: Some(take), measured: Some(measured) }).expect("taken");
    near(found.value.in_feet(), 9.0, 1e-12);
    assert!(found.measured.is_some());

    let overall = Size { take: None, measured: Some(Linear::of("overall")) };
    let found = survey.size(&overall).expect("adopted");
    near(found.value.in_feet(), 96.0, 1e-12);
    near(found.measured.expect("measured").value.in_inches(), 1152.49, 0.005);

    let nothing = Size { take: None, measured: Some(Linear::of("loft")) };
    let stop = survey.size(&nothing).expect_err("no such dimension");
    assert!(stop.trouble.contains("loft"));
}

#[test]
fn ten_thousand_readings_are_answered() {
    let mut text = "[job]\nname = \"long\"\nscale = \"1:48\"\n".to_owned();
    for at in 0..300 {
        text.push_str(&format!("[[dimension]]\nname = \"d{at}\"\n"));
    }
    for at in 0..10_000_usize {
        let (one, round) = (at % 300, at / 300);
        let (of, value) = match (round % 2, one) {
            (0, 0) | (1, _) => (format!("d{one}"), 10 * (one + 1)),
            _ => (format!("d{one} - d{}", one - 1), 10),
        };
        // One reading of them all is a foot out.
        let value = if at == 4321 { value + 12 } else { value };
        text.push_str(&format!(
            "[[reading]]\nid = \"r{at}\"\nof = \"{of}\"\nmethod = \"tape\"\nvalue = \"{value} in\"\n"
        ));
    }
    let job: Job = text.parse().expect("a job reads");
    let catalog = Catalog::built_in().expect("the shipped data reads");
    let survey = run(&job, &catalog).value;
    assert_eq!(survey.readings.len(), 10_000);
    let ids: Vec<&str> = survey.rejected.iter().map(|rejected| rejected.id.as_str()).collect();
    assert_eq!(ids, ["r4321"]);
    assert!(survey.dimensions.iter().all(|found| found.checked == Checked::Checked));
    near(feet(&survey, "d299").0, 250.0, 1e-6);
    let scale =
        crate::quantity::Scale::new("1:48", crate::quantity::Ratio::new(48, 1).expect("ratio"));
    assert!(!advice::next(&job, &catalog, &survey, &scale).candidates.is_empty());
}

/// Stations along a wall, each read so many times, one reading a foot out.
fn many(stations: usize, times: usize) -> Job {
    let mut text = String::from("[job]\nname = \"made up\"\nscale = \"1:48\"\n");
    for station in 0..stations {
        text += &format!("[[dimension]]\nname = \"s{station}\"\n");
    }
    for at in 0..stations * times {
        let station = at % stations;
        let foot = if at == stations * times / 2 { 12.0 } else { 0.0 };
        let value = 60.0 * (station + 1) as f64 + 0.05 * ((at * 7 % 11) as f64 - 5.0) + foot;
        text += &format!(
            "[[reading]]\nid = \"r{at}\"\nof = \"s{station}\"\nmethod = \"tape\"\n\
             value = \"{value} in\"\n"
        );
    }
    text.parse().expect("a job")
}

#[test]
fn ten_thousand_readings_are_answered_and_none_is_lost() {
    let job = many(200, 50);
    let survey = run(&job, &Catalog::built_in().expect("the shipped data reads")).value;
    assert_eq!(survey.readings.len(), 10_000);
    let kept = survey.readings.iter().filter(|it| it.standing == Standing::Kept).count();
    assert_eq!((kept, survey.rejected.len()), (9_999, 1));
    assert_eq!(survey.rejected[0].id, "r5000");
    assert!(survey.dimensions.iter().all(|it| it.measured.is_some()));
}

/// Nothing is lost when half of it is bad: each bad reading is named, each
/// good one is in.
#[test]
fn bad_readings_are_named_one_by_one() {
    let mut job = many(4, 5);
    let bad = [
        ("0 in", "above zero"),
        ("-1/4 in", "above zero"),
        ("NaN", ""),
        ("1e999 in", ""),
        ("inch", ""),
    ];
    for (at, (sigma, _)) in bad.iter().enumerate() {
        job.readings[at].sigma = Some((*sigma).to_owned());
    }
    job.readings[5].value = Some("NaN in".to_owned());
    job.readings[6].value = Some("inf ft".to_owned());
    job.readings[7].value = Some(String::new());
    job.readings[8].of = "nobody".parse().expect("a form");
    job.readings[9].method = "by magic".to_owned();
    let Outcome { value: survey, findings } =
        run(&job, &Catalog::built_in().expect("the shipped data reads"));
    for (at, found) in survey.readings.iter().enumerate() {
        let named = findings.iter().find(|it| it.subject == Subject::Reading(found.id.clone()));
        assert_eq!(found.standing == Standing::LeftOut, at < 10, "{found:?}");
        assert_eq!(named.is_some_and(|it| it.message.contains("left out")), at < 10, "{found:?}");
        if let Some((_, words)) = bad.get(at) {
            assert!(named.is_some_and(|it| it.message.contains(words)), "{named:?}");
        }
    }
    assert!(survey.dimensions.iter().all(|it| it.measured.is_some()));
}

#[test]
fn the_level_of_the_job_sets_the_limit() {
    let limit_at = |level: Option<f64>| {
        let mut job = many(4, 5);
        job.about.rejection_level = level;
        run(&job, &Catalog::built_in().expect("the shipped data reads")).value.networks[0].limit
    };
    // Five readings of one station: 1 - 0.95^(1/5) is 0.010206, 2.569 two-sided
    // (from the normal distribution).
    near(limit_at(Some(0.05)), 2.569, 0.001);
    near(limit_at(None), 3.29, 0.001);
    assert!(limit_at(Some(0.001)) > limit_at(Some(0.01)));
}
