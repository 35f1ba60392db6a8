use super::*;
use crate::catalog::Catalog;
use crate::quantity::{Ratio, Scale};
use crate::survey::{self, Survey};

fn survey_of(text: &str) -> (Job, Survey, Vec<Finding>) {
    let job: Job = text.parse().expect("a job");
    let catalog = Catalog::built_in().expect("the shipped data reads");
    let outcome = survey::run(&job, &catalog);
    (job, outcome.value, outcome.findings)
}

fn made_up(dimensions: &str, readings: &str) -> String {
    format!(
        "[job]\nname = \"made up\"\nscale = \"1:48\"\nhand = \"5 thou\"\n\
         [[source]]\nid = \"old\"\nkind = \"map\"\ntitle = \"old\"\nyear = 1900\n\
         [[source]]\nid = \"new\"\nkind = \"field book\"\ntitle = \"new\"\nyear = 2026\n\
         {dimensions}\n{readings}\n"
    )
}

fn reading(id: &str, of: &str, value: &str, source: &str) -> String {
    format!(
        "[[reading]]\nid = \"{id}\"\nof = \"{of}\"\nmethod = \"tape\"\nvalue = \"{value}\"\nsource = \"{source}\"\n"
    )
}

fn weighed(text: &str) -> Next {
    let (job, survey, _) = survey_of(text);
    let scale = Scale::new("1:48", Ratio::new(48, 1).expect("a ratio"));
    next(&job, &Catalog::built_in().expect("data"), &survey, &scale)
}

#[test]
fn the_best_candidate_helps_the_worst_dimension() {
    let next = weighed(&made_up(
        "[[dimension]]\nname = \"wall\"\n[[dimension]]\nname = \"door\"\n",
        &(reading("a", "wall", "30 ft ± 2 in", "new")
            + &reading("b", "wall", "30 ft ± 2 in", "new")
            + &reading("c", "door", "8 ft ± 1/4 in", "new")
            + &reading("d", "door", "8 ft ± 1/4 in", "new")),
    ));
    assert_eq!(next.worst, "wall");
    assert!(!next.stop && !next.fine);
    let best = &next.candidates[0];
    assert_eq!(best.of.to_string(), "wall");
    assert_eq!(best.how, "tape wall");
    // sqrt(2) in and a tape of 1/4 in: 1/sqrt(1/2 + 16) in, over 48.
    let after = 1.0 / (0.5_f64 + 16.0).sqrt() / 48.0 * 1000.0;
    assert!((best.to.in_thou() - after).abs() < 1e-6);
}

#[test]
fn fine_and_checked_means_stop() {
    let two = |sigma: &str| {
        made_up(
            "[[dimension]]\nname = \"wall\"\n",
            &(reading("a", "wall", &format!("30 ft ± {sigma}"), "new")
                + &reading("b", "wall", &format!("30 ft ± {sigma}"), "new")),
        )
    };
    assert!(weighed(&two("1/4 in")).stop);
    assert!(!weighed(&two("1 in")).stop);
    // Fine, but a blunder could never show.
    let one =
        made_up("[[dimension]]\nname = \"wall\"\n", &reading("a", "wall", "30 ft ± 1/8 in", "new"));
    let next = weighed(&one);
    assert!(next.fine && !next.stop);
    assert!(next.candidates[0].checks);
}

#[test]
fn what_nothing_fixes_comes_as_a_candidate() {
    let next = weighed(&made_up(
        "[[dimension]]\nname = \"wall\"\n[[dimension]]\nname = \"loft\"\n",
        &reading("a", "wall", "30 ft", "new"),
    ));
    assert!(
        next.candidates
            .iter()
            .any(|candidate| candidate.helps == "loft" && candidate.from.is_none())
    );
}

#[test]
fn two_years_that_disagree_are_told() {
    let (_, _, findings) = survey_of(&made_up(
        "[[dimension]]\nname = \"wall\"\n",
        &(reading("a", "wall", "30 ft ± 6 in", "old")
            + &reading("b", "wall", "32 ft ± 6 in", "new")),
    ));
    let told = findings.iter().find(|finding| finding.message.contains("may have changed"));
    let told = told.expect("a finding");
    assert!(told.message.contains("1900") && told.message.contains("2026"), "{}", told.message);
    let (_, _, findings) = survey_of(&made_up(
        "[[dimension]]\nname = \"wall\"\n",
        &(reading("a", "wall", "30 ft ± 6 in", "old")
            + &reading("b", "wall", "30 ft 4 in ± 6 in", "new")),
    ));
    assert!(!findings.iter().any(|finding| finding.message.contains("may have changed")));
}

#[test]
fn proud_sigmas_are_told_with_a_factor() {
    let readings: String =
        ["30 ft", "30 ft 1/2 in", "29 ft 11 1/2 in", "30 ft 1/2 in", "29 ft 11 1/2 in"]
            .iter()
            .enumerate()
            .map(|(at, value)| {
                reading(&format!("r{at}"), "wall", &format!("{value} ± 1/4 in"), "new")
            })
            .collect();
    let (_, survey, findings) = survey_of(&made_up("[[dimension]]\nname = \"wall\"\n", &readings));
    assert!(survey.rejected.is_empty());
    let told = findings.iter().find(|finding| finding.message.contains("scatter more"));
    assert!(told.expect("a finding").hint.contains("multiply"));
}

#[test]
fn a_round_figure_within_one_sigma_is_proposed() {
    let (_, survey, _) = survey_of(&made_up(
        "[[dimension]]\nname = \"wall\"\nmodule = \"24 in\"\n[[dimension]]\nname = \"door\"\n[[dimension]]\nname = \"odd\"\n",
        &(reading("a", "wall", "1152.4 in ± 0.5 in", "new")
            + &reading("b", "door", "8 ft 0 1/8 in", "new")
            + &reading("c", "odd", "7 ft 3 in", "new")),
    ));
    let proposal = |name: &str| survey.dimension(name).and_then(|found| found.proposal.clone());
    let wall = proposal("wall").expect("sheets");
    assert!((wall.figure.in_inches() - 1152.0).abs() < 1e-9);
    assert!((wall.count - 48.0).abs() < 1e-9);
    assert!((proposal("door").expect("feet").figure.in_inches() - 96.0).abs() < 1e-9);
    assert_eq!(proposal("odd"), None);
}

/// Two networks that know nothing of each other: the diagonal binds them.
/// Length 30 ft ± 1 in, depth 40 ft ± 1 in, diagonal 50 ft to 1/4 in: the
/// variance of the depth falls by (0.8)^2 / (1 + 1/16) (from first principles).
#[test]
fn a_diagonal_binds_two_networks() {
    let text = made_up(
        "[[dimension]]\nname = \"length\"\n[[dimension]]\nname = \"depth\"\n\
         [[dimension]]\nname = \"eave\"\n",
        &(reading("a", "length", "30 ft ± 1 in", "new")
            + &reading("b", "depth", "40 ft ± 1 in", "new")
            + "[[body]]\nname = \"main\"\ndepth = \"depth\"\neave = \"10 ft\"\n\
               [[wall]]\nof = \"main/front\"\nrow = [{ plain = \"w\", width = \"length\" }]\n"),
    );
    let next = weighed(&text);
    let found =
        next.candidates.iter().find(|it| it.how.starts_with("tape the diagonal of the plan"));
    let found = found.unwrap_or_else(|| panic!("no diagonal in {:?}", next.candidates));
    assert_eq!(found.of.to_string(), "diagonal of length and depth");
    assert_eq!(found.helps, "depth");
    let after = (1.0_f64 - 0.64 / (1.0 + 0.0625)).sqrt() / 48.0 * 1000.0;
    assert!((found.to.in_thou() - after).abs() < 1e-6, "{}", found.to.in_thou());
}

#[test]
fn a_diagonal_read_checks_its_sides() {
    let read = |long: &str| {
        survey_of(&made_up(
            "[[dimension]]\nname = \"length\"\n[[dimension]]\nname = \"depth\"\n",
            &(reading("a", "length", "30 ft", "new")
                + &reading("b", "depth", "40 ft", "new")
                + &reading("c", "diagonal of length and depth", long, "new")),
        ))
    };
    let (_, survey, findings) = read("50 ft");
    let found = survey.dimension("depth").and_then(|found| found.measured.clone()).expect("fixed");
    assert!((found.value.in_inches() - 480.0).abs() < 1e-6, "{findings:?}");
    // One quarter-inch tape more, at 0.8: 1/16 (1 - 0.64/2).
    assert!((found.sigma.in_inches() - 0.25 * 0.68_f64.sqrt()).abs() < 1e-6);
    let (_, survey, _) = read("51 ft");
    assert_eq!(survey.rejected.len(), 1);
}
