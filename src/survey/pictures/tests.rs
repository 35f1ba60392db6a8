use super::*;
use crate::catalog::Catalog;
use crate::finding::Outcome;
use crate::survey::{Survey, run};

const GRAIN_STORE: &str = include_str!("../../../data/demo/grain-store.toml");

fn survey_of(text: &str) -> Outcome<Survey> {
    let job: Job = text.parse().expect("a job");
    run(&job, &Catalog::built_in().expect("the shipped data reads"))
}

/// The grain store with the lengths of its track picture switched on.
fn switched_on() -> String {
    let (before, after) = GRAIN_STORE.split_once("id = \"B2\"").expect("the picture");
    format!("{before}id = \"B2\"{}", after.replace("\noff = true", ""))
}

#[test]
fn switched_off_they_change_nothing_but_are_shown() {
    let survey = survey_of(GRAIN_STORE).value;
    assert!(survey.photographed.len() >= 3);
    let shown = &survey.readings[survey.readings.len() - survey.photographed.len()..];
    for found in shown {
        assert_eq!(found.standing, crate::survey::Standing::Off);
        assert!(found.read.is_some() && found.network.is_none(), "{found:?}");
    }
}

/// The lesson of the track picture: it convicts the reading that is a foot
/// out, and its own lengths stand.
#[test]
fn the_track_picture_convicts_the_foot() {
    let survey = survey_of(&switched_on()).value;
    let ids: Vec<&str> = survey.rejected.iter().map(|it| it.id.as_str()).collect();
    assert_eq!(ids, ["D3-left"], "{:?}", survey.rejected);
    let without = survey_of(GRAIN_STORE).value;
    assert!(survey.rejected[0].z > without.rejected[0].z);
    assert!(survey.readings.iter().any(|it| it.id == "B2 door3:width" && it.z.is_some()));
    let sigma = |survey: &Survey| {
        let found = survey.dimension("d3_left").and_then(|it| it.measured.clone());
        found.expect("fixed").sigma.in_inches()
    };
    assert!(sigma(&survey) < sigma(&without));
}

/// Two lengths of one picture, and nothing else: their sum has the variance
/// that the covariance of the picture gives it, not that of independent ones.
#[test]
fn lengths_of_one_picture_keep_their_covariance() {
    let mut job: Job = switched_on().parse().expect("a job");
    job.readings.clear();
    job.ties.clear();
    let photo = job.photos.iter_mut().find(|photo| photo.id == "B2").expect("the picture");
    let wanted = ["wall_bl..door3_tl:level", "door3:width"];
    photo.asks.retain(|ask| wanted.contains(&ask.of.as_str()));
    let shot = from_job::shot(photo, FIRST_ORDER).expect("it is measured");
    let rows: Vec<usize> = shot.readings.iter().map(|reading| reading.row).collect();
    let covariance = |a: usize, b: usize| {
        let inch = 0.0254;
        shot.measured.covariance[(rows[a], rows[b])] / (inch * inch)
    };
    let survey = run(&job, &Catalog::built_in().expect("the shipped data reads")).value;
    let sigma = |of: &str| {
        let form = of.parse().expect("a form");
        survey.estimate(&form).expect("fixed").sigma.in_inches()
    };
    let [left, width, both] = [covariance(0, 0), covariance(1, 1), covariance(0, 1)];
    assert!((sigma("d3_left").powi(2) / left - 1.0).abs() < 1e-9);
    assert!((sigma("d3_right - d3_left").powi(2) / width - 1.0).abs() < 1e-9);
    let sum = left + width + 2.0 * both;
    assert!((sigma("d3_right").powi(2) / sum - 1.0).abs() < 1e-9);
    assert!((sum / (left + width) - 1.0).abs() > 0.05, "they are correlated");
}

/// A length that is another twice over would seem to check it.
#[test]
fn what_follows_from_the_same_picture_is_left_out() {
    let twice = "[[photo.ask]]\nof = \"door3:width\"\nreads = \"d3_right - d3_left\"\n";
    let text = switched_on();
    let (before, after) = text.split_once("id = \"B2\"").expect("the picture");
    let at = after.find("[[photo.ask]]\nof = \"wall_bl..door3_tl:level\"").expect("a length");
    let text = format!("{before}id = \"B2\"{}{twice}{}", &after[..at], &after[at..]);
    let Outcome { value: survey, findings } = survey_of(&text);
    let left_out =
        survey.readings.iter().filter(|it| it.standing == crate::survey::Standing::LeftOut);
    assert_eq!(left_out.count(), 1);
    assert!(findings.iter().any(|it| it.message.contains("says nothing new")), "{findings:?}");
}

#[test]
fn a_picture_that_cannot_be_measured_says_so_with_its_readings() {
    let mut job: Job = switched_on().parse().expect("a job");
    let photo = job.photos.iter_mut().find(|photo| photo.id == "B2").expect("the picture");
    photo.pixels = Some([0, 0]);
    let catalog = Catalog::built_in().expect("the shipped data reads");
    let Outcome { value: survey, findings } = run(&job, &catalog);
    let of_b2 = survey.readings.iter().filter(|it| it.id.starts_with("B2 "));
    for found in of_b2 {
        assert_eq!(found.standing, crate::survey::Standing::LeftOut, "{found:?}");
    }
    assert!(findings.iter().any(|it| it.message.starts_with("B2 ")), "{findings:?}");
}
