use super::*;
use crate::solve::least_squares::Form as Seen;

/// A reading of `wall` (or another form), by its lines in the job file.
fn observe_one(of: &str, lines: &str) -> Result<(Observed, Vec<Observed>), Unusable> {
    let job = format!(
        "[job]\nname = \"made up\"\nscale = \"1:48\"\n[[source]]\nid = \"P1\"\nkind = \"photograph\"\ntitle = \"\"\n\
         [[dimension]]\nname = \"wall\"\n[[dimension]]\nname = \"bay\"\n\
         [[reading]]\nid = \"r\"\nof = \"{of}\"\nsource = \"P1\"\n{lines}\n"
    );
    let job: Job = job.parse().expect("a job");
    let catalog = Catalog::built_in().expect("the shipped data reads");
    let mut names = Names::new(&job);
    let mut priors = Vec::new();
    let mut bench = Bench { job: &job, catalog: &catalog, names: &mut names, priors: &mut priors };
    let seen = observe(&mut bench, &job.readings[0])?;
    Ok((seen, priors))
}

fn wall(lines: &str) -> (f64, f64) {
    let (seen, _) = observe_one("wall", lines).expect("it says something");
    (seen.value + seen.base, seen.sigma)
}

fn refused(lines: &str) -> String {
    let Err(why) = observe_one("wall", lines) else { panic!("{lines} is refused") };
    format!("{} ({})", why.trouble, why.hint)
}

fn near(found: (f64, f64), value: f64, sigma: f64, slack: f64) {
    let close = (found.0 - value).abs() <= slack && (found.1 - sigma).abs() <= slack;
    assert!(close, "found {found:?}, wanted {value} ± {sigma}");
}

#[test]
fn a_value_is_taken_at_its_word() {
    near(wall("method = \"tape\"\nvalue = \"10 ft\""), 120.0, 0.25, 1e-9);
    near(wall("method = \"tape\"\nvalue = \"10 ft\"\nsigma = \"0.1 ft\""), 120.0, 1.2, 1e-9);
    near(wall("method = \"tape\"\nvalue = \"10 ft ± 1 in\""), 120.0, 1.0, 1e-9);
    near(wall("method = \"guess\"\nvalue = \"10 ft\""), 120.0, 15.0, 1e-9);
    let (seen, _) = observe_one("wall / bay", "method = \"photo-ratio\"\nvalue = \"1.74 ± 0.02\"")
        .expect("a ratio");
    near((seen.value, seen.sigma), 1.74, 0.02, 1e-12);
    let (seen, _) = observe_one(
        "wall * bay",
        "method = \"record\"\nvalue = \"560 sq ft\"\nsigma = \"5 sq ft\"",
    )
    .expect("an area");
    near((seen.value, seen.sigma), 560.0 * 144.0, 720.0, 1e-6);
}

// 85 paces of 2.50 ft: trade knowledge, common practice, no source.
#[test]
fn paces_by_their_length() {
    let (value, sigma) =
        wall("method = \"pacing\"\ngiven = { paces = \"85\", pace = \"2.5 ft ± 0.05 ft\" }");
    near((value, sigma), 2550.0, (85.0_f64 * 0.6).hypot(0.25 * 30.0), 1e-6);
    let walks = "method = \"pacing\"\ngiven = { paces = \"80\", calibration = \"100 ft\", \
                 walks = \"40 40 41 39 40 45 30\" }";
    near(wall(walks), 2400.0, 30.0, 5.0);
    assert!(refused("method = \"pacing\"\ngiven = { paces = \"85\" }").contains("calibration"));
}

#[test]
fn counts_share_their_unit() {
    let lines = "method = \"count\"\ngiven = { count = \"54\", unit = \"course\", unit-size = \"2.667 in ± 0.08 in\" }";
    let (seen, priors) = observe_one("wall", lines).expect("a count");
    near((seen.value + seen.base, seen.sigma), 144.018, 0.2667, 1e-9);
    assert_eq!(priors.len(), 1);
    assert_eq!(priors[0].prior, "unit course");
    near((priors[0].value, priors[0].sigma), 2.667, 0.08, 1e-12);
    let unsure = "method = \"count\"\ngiven = { count = \"15 ± 1\", unit = \"14 ft\" }";
    near(wall(unsure), 2520.0, 168.0_f64.hypot(16.8), 1e-9);
    let bay =
        "method = \"count\"\ngiven = { count = \"15\", unit = \"bay\", parts = \"2 ft ± 2 in\" }";
    let (seen, priors) = observe_one("wall", bay).expect("a count of bays");
    assert!(priors.is_empty());
    assert_eq!(seen.form, Seen::Sum(vec![(0, 1.0), (1, -15.0)]));
    near((seen.value, seen.sigma), 24.0, 2.0, 1e-9);
}

// Man 5.58 ft, give 0.25, times 2.86, give 0.05: the result 15.96 ± 0.77 ft is
// that of the demonstration notes, worked out by hand.
#[test]
fn a_known_object_so_many_times() {
    let own = "method = \"known-object\"\ngiven = { size = \"5.58 ft ± 0.25 ft\", times = \"2.86 ± 0.05\" }";
    let (value, sigma) = wall(own);
    near((value / 12.0, sigma / 12.0), 15.96, 0.77, 0.005);
    let shared =
        "method = \"known-object\"\ngiven = { object = \"man-1900\", times = \"2.86 ± 0.05\" }";
    let (seen, priors) = observe_one("wall", shared).expect("an object");
    assert_eq!(priors[0].prior, "man-1900 in P1");
    near((seen.value + seen.base, seen.sigma), 67.0 * 2.86, 67.0 * 0.05, 1e-9);
}

// 6 ft in front of the wall at 60 ft is +11.1 percent (computed).
#[test]
fn an_object_nearer_than_the_wall_is_put_back() {
    let lines = "method = \"known-object\"\ngiven = { size = \"6 ft\", times = \"3\", nearer = \"6 ft ± 1 in\", camera = \"60 ft\" }";
    let (value, _) = wall(lines);
    near((value / 216.0, 0.0), 1.1111, 0.0, 1e-4);
    let behind = "method = \"known-object\"\ngiven = { size = \"6 ft\", times = \"3\", nearer = \"70 ft\", camera = \"60 ft\" }";
    assert!(refused(behind).contains("behind the camera"));
}

// Half a degree each sight and 2 percent of a paced distance: D = 50, H = 30
// gives ±0.92 ft; D = 100, ±1.41; D = 60, H = 60 ±1.63 (computed).
#[test]
fn a_clinometer_wants_two_angles_and_a_distance() {
    for (distance, height, sigma) in [(50.0, 30.0, 0.92), (100.0, 30.0, 1.41), (60.0, 60.0, 1.63)] {
        let eye = 5.25_f64;
        let up = ((height - eye) / distance).atan().to_degrees();
        let down = (eye / distance).atan().to_degrees();
        let (value, found) = wall(&format!(
            "method = \"clinometer\"\ngiven = {{ up = \"{up:.6} deg\", down = \"{down:.6} deg\", distance = \"{distance} ft\" }}"
        ));
        near((value / 12.0, found / 12.0), height, sigma, 0.011);
    }
    let one = "method = \"clinometer\"\ngiven = { up = \"30 deg\", distance = \"50 ft\" }";
    assert!(refused(one).contains("one angle alone"));
}

// Two sights from 40 and 80 ft to a top 30 ft up, eye at 5 ft: the distance
// comes out with the height (from first principles).
#[test]
fn a_clinometer_whose_distance_is_not_known() {
    let sight = |id: &str, far: f64, distance: &str| {
        let up = (25.0 / far).atan().to_degrees();
        let down = (5.0 / far).atan().to_degrees();
        format!(
            "[[reading]]\nid = \"{id}\"\nof = \"top\"\nmethod = \"clinometer\"\n\
             given = {{ up = \"{up:.8} deg\", down = \"{down:.8} deg\", distance = \"{distance}\" }}\n"
        )
    };
    let job = format!(
        "[job]\nname = \"made up\"\nscale = \"1:48\"\n[[dimension]]\nname = \"top\"\n\
         [[dimension]]\nname = \"far\"\n[[dimension]]\nname = \"walk\"\n\
         [[reading]]\nid = \"w\"\nof = \"walk\"\nmethod = \"tape\"\nvalue = \"40 ft\"\n{}{}",
        sight("near", 40.0, "far"),
        sight("off", 80.0, "far + walk")
    );
    let job: Job = job.parse().expect("a job");
    let catalog = Catalog::built_in().expect("the shipped data reads");
    let outcome = crate::survey::run(&job, &catalog);
    let found = |name: &str| {
        let found = outcome.value.dimension(name).and_then(|found| found.measured.clone());
        let found = found.unwrap_or_else(|| panic!("{name}: {:?}", outcome.findings));
        (found.value.in_feet(), found.sigma.in_feet())
    };
    // 40 times the error of the near sight, 160 times that of the far one, each
    // half a degree in both angles.
    near(found("top"), 30.0, 2.162, 0.002);
    assert!((found("top").0 - 30.0).abs() < 1e-3 && (found("far").0 - 40.0).abs() < 1e-3);
}

// 5.00/4.00 times 24.0 is 30.0 ft, with 0.04, 0.08 and 0.25 ft 2.4 percent
// (computed).
#[test]
fn a_shadow_against_a_stick() {
    let lines = "method = \"shadow\"\ngiven = { stick = \"5 ft ± 0.04 ft\", stick-shadow = \"4 ft ± 0.08 ft\", shadow = \"24 ft ± 0.25 ft\" }";
    let (value, sigma) = wall(lines);
    near((value / 12.0, sigma / 12.0), 30.0, 0.72, 0.01);
}

// Pitch 0.49, give 0.02, over half of 60 ft, give 1 ft: 14.70 ± 0.77 (computed).
#[test]
fn a_rise_from_its_pitch() {
    let lines = "method = \"pitch\"\ngiven = { pitch = \"0.49 ± 0.02\", run = \"30 ft ± 1 ft\" }";
    let (value, sigma) = wall(lines);
    near((value / 12.0, sigma / 12.0), 14.70, 0.775, 0.005);
}

#[test]
fn a_map_by_its_ratio() {
    near(
        wall("method = \"map\"\ngiven = { on-map = \"4.2 in\", ratio = \"1:600\" }"),
        2520.0,
        24.0,
        1e-9,
    );
}

#[test]
fn a_ratio_to_another_dimension() {
    let lines = "method = \"photo-ratio\"\ngiven = { ratio = \"2.18 ± 0.03\", to = \"bay\" }";
    let (seen, _) = observe_one("wall", lines).expect("a ratio");
    assert_eq!(seen.form, Seen::Ratio(vec![(0, 1.0)], vec![(1, 1.0)]));
    near((seen.value, seen.sigma), 2.18, 0.03, 1e-12);
}

#[test]
fn readings_on_one_pull_share_its_zero() {
    let lines = "method = \"running-tape\"\npull = \"front\"\nvalue = \"10 ft\"";
    let (seen, priors) = observe_one("wall", lines).expect("a reading");
    assert_eq!(seen.form, Seen::Sum(vec![(0, 1.0), (2, 1.0)]));
    assert_eq!(priors[0].prior, "zero of pull front");
    near((priors[0].value, priors[0].sigma), 0.0, 0.125, 1e-12);
}

#[test]
fn what_is_wrong_is_said() {
    for (lines, says) in [
        ("method = \"dowsing\"\nvalue = \"10 ft\"", "no method is called"),
        ("method = \"tape\"\nvalue = \"12.6\"", "12.6"),
        ("method = \"tape\"\ngiven = { paces = \"3\" }", "takes no \"paces\""),
        (
            "method = \"count\"\ngiven = { counts = \"3\" }",
            "it takes count, parts, unit, unit-size",
        ),
        ("method = \"count\"\ngiven = { count = \"3\", unit = \"plank\" }", "neither a dimension"),
        ("method = \"shadow\"\ngiven = { stick = \"5 ft\" }", "stick-shadow"),
        ("method = \"map\"\ngiven = { on-map = \"4.2 in\", ratio = \"fifty\" }", "is no ratio"),
    ] {
        let said = refused(lines);
        assert!(said.contains(says), "{lines}: {said}");
    }
}
