use std::sync::Arc;
use std::time::Instant;

use super::compared::Comparing;
use super::*;
use crate::elevation::tests::{CANNERY, CREAMERY, GRAIN_STORE, faces_of, job};
use crate::job::face::ElementKind;
use crate::quantity::ModelLength;

fn result(job: &Job) -> Staged<Compression> {
    let catalog = Catalog::built_in().unwrap();
    let scale = catalog.scales.find(&job.about.scale).unwrap();
    let faces = faces_of(job).value;
    run(job, &catalog, (&faces, &scheme_of(job, &catalog, &faces)), &scale)
}

fn compress(job: &Job) -> Outcome<Compression> {
    result(job).unwrap_or_else(|stop| panic!("{stop}"))
}

/// Writes an alternative's choice into the job, as a file would have it.
fn choose(job: &mut Job, alternative: &Alternative) {
    use crate::job::document::Document;
    use crate::job::edit::Edit;
    let catalog = Catalog::built_in().unwrap();
    let bare = "[job]\nname = \"a\"\nscale = \"1:48\"\n";
    let mut document = Document::read("a", bare, &catalog).unwrap();
    let mut chosen = choice_of(alternative).unwrap();
    chosen.reason = "because".into();
    document.apply(&Edit::Choose(chosen), &catalog).unwrap();
    job.choice.clone_from(&document.job().choice);
}

#[test]
fn a_choice_builds_its_alternative_again() {
    for text in [CANNERY, GRAIN_STORE, CREAMERY] {
        let mut job = job(text);
        let first = compress(&job).value;
        for alternative in first.alternatives.iter().filter(|it| it.is_offered()) {
            choose(&mut job, alternative);
            let again = compress(&job).value;
            assert!(again.is_chosen);
            assert_eq!(again.chosen().key, alternative.key);
            let (old, new) = (&alternative.body, &again.built.body);
            let slack = CompressedLength::inches(1e-4);
            assert!(new.length.agrees(old.length, slack), "{}", alternative.key);
            assert!(new.depth.agrees(old.depth, slack) && new.ridge.agrees(old.ridge, slack));
            assert!((again.chosen().cost().unwrap() - alternative.cost().unwrap()).abs() < 1e-4);
        }
    }
}

#[test]
fn doors_and_windows_keep_their_size() {
    for text in [CANNERY, GRAIN_STORE, CREAMERY] {
        let job = job(text);
        let faces = faces_of(&job).value;
        for hole in &compress(&job).value.built.faces[0].holes {
            let same = faces.front().holes.iter().find(|other| other.kind == hole.kind).unwrap();
            assert!((hole.width.in_inches() - same.width.in_inches()).abs() < 1e-9);
            assert!((hole.height.in_inches() - same.height.in_inches()).abs() < 1e-9);
        }
    }
}

#[test]
fn what_is_under_its_bound_says_how_short_it_can_be() {
    let compression = compress(&job(GRAIN_STORE)).value;
    let under = compression.alternatives.iter().find(|it| it.key.starts_with("trim-only-plain"));
    let why = under.unwrap().standing.why();
    assert!(why.starts_with("with 3 freight doors: shortest is 78'-7 3/16\""), "{why}");
}

#[test]
fn half_sheets_are_noticed() {
    let findings = compress(&job(GRAIN_STORE)).findings;
    let half = findings.iter().find(|finding| finding.message.contains("33.5 sheets")).unwrap();
    assert!(half.hint.starts_with("make it 66'-0\" or 68'-0\", or cut one"), "{}", half.hint);
}

#[test]
fn a_space_too_small_is_refused_with_what_would_do() {
    let mut small = job(CANNERY);
    small.space.as_mut().unwrap().length = Some("2 in".parse().unwrap());
    let stop = result(&small).unwrap_err();
    assert!(stop.trouble.contains("the shortest it can be is 27'-2 3/8\""), "{}", stop.trouble);
    assert!(stop.trouble.contains("with 5 freight doors"), "{}", stop.trouble);
    small.space.as_mut().unwrap().length = Some("1/8 in".parse().unwrap());
    assert_eq!(result(&small).unwrap_err().trouble, "nothing is left of its length");
}

#[test]
fn bounds_and_counts_that_cannot_be_are_named() {
    let mut negative = job(CANNERY);
    if let ElementKind::Bays { least, .. } = &mut negative.walls[0].row[1].kind {
        *least = Some("15 ft".parse().unwrap());
    }
    assert_eq!(result(&negative).unwrap_err().doing, "bounding \"bay\"");
    let mut even = job(CANNERY);
    if let ElementKind::Bays { times, .. } = &mut even.walls[0].row[1].kind {
        (times.at_least, times.at_most) = (4, 4);
    }
    assert_eq!(result(&even).unwrap_err().doing, "counting \"bay\"");
    let mut unknown = job(CANNERY);
    unknown.look.features.push("smell".into());
    assert!(result(&unknown).unwrap_err().trouble.contains("smell"));
}

#[test]
fn a_shelf_too_low_takes_the_flat_ridge() {
    let mut low = job(CANNERY);
    low.space.as_mut().unwrap().height = Some("3.5 in".parse().unwrap());
    let compression = compress(&low).value;
    assert!(compression.chosen().key.ends_with("/keep-pitch"), "{}", compression.chosen().key);
    let high = compression.alternatives.iter().find(|it| it.key.ends_with("/half-relief"));
    assert_eq!(high.unwrap().standing.word(), "does not fit");
    assert!(compression.chosen().model_length < ModelLength::inches(15.876));
}

/// A row of its own: plain wall, a door pinned at 40 ft, plain wall, 80 ft long.
fn pinned(at: &str) -> Job {
    let mut job = tangled(0, 1, 9);
    let row = format!(
        "[job]\nname = \"a\"\nscale = \"1:48\"\n[[wall]]\nof = \"main/front\"\nrow = [ {{ plain = \"a\", width = \"47 ft\" }}, \
         {{ opening = \"d\", kind = \"door\", pinned = \"{at}\" }}, \
         {{ plain = \"b\", width = \"27 ft\" }} ]"
    );
    job.walls[0].row = row.parse::<Job>().unwrap().walls.remove(0).row;
    job
}

#[test]
fn a_pinned_door_stands_at_its_place() {
    let compression = compress(&pinned("40 ft")).value;
    assert!(compression.is_proven());
    for it in compression.alternatives.iter().filter(|it| it.is_offered()) {
        let widths = &it.decision.as_ref().unwrap().widths;
        assert!((widths["a"].in_feet() - 37.0).abs() < 1e-6, "{}: {widths:?}", it.key);
    }
    let door = &compression.built.faces[0].holes[0];
    let centre = door.left + door.width / 2.0;
    assert!(centre.agrees(CompressedLength::feet(40.0), CompressedLength::inches(1e-4)));
}

#[test]
fn a_pin_that_cannot_be_kept_is_named() {
    let overlaps = result(&pinned("2 ft")).unwrap_err();
    assert_eq!(overlaps.doing, "pinning \"d\"");
    let far = result(&pinned("20 ft")).unwrap_err();
    assert!(far.trouble.contains("the pinned \"d\""), "{}", far.trouble);
    let mut repeated = tangled(1, 2, 9);
    if let ElementKind::Repeat { row, .. } = &mut repeated.walls[0].row[1].kind
        && let ElementKind::Opening { pinned, .. } = &mut row[0].kind
    {
        *pinned = Some("9 ft".parse().unwrap());
    }
    assert_eq!(result(&repeated).unwrap_err().doing, "pinning \"o0\"");
}

#[test]
fn more_ways_than_can_be_compared_are_refused() {
    let mut many = tangled(1, 2, 9);
    if let ElementKind::Repeat { times, .. } = &mut many.walls[0].row[1].kind {
        times.at_most = 1_000_000;
    }
    assert_eq!(result(&many).unwrap_err().doing, "counting \"r0\"");
}

/// The cannery's record: 15 bays of 14 ft made 9 of 12 ft 6 in, cut at the ridge.
#[test]
fn the_record_holds_every_change_with_its_rule() {
    let mut job = job(CANNERY);
    let first = compress(&job).value;
    choose(&mut job, first.chosen());
    let catalog = Catalog::built_in().unwrap();
    let scale = catalog.scales.find(&job.about.scale).unwrap();
    let (faces, built) = (faces_of(&job).value, compress(&job).value);
    let survey = crate::survey::run(&job, &catalog).value;
    let record = record::record(&job, &survey, &faces, &built, &scale);
    assert_eq!(record.reason, "because");
    assert_eq!((record.counts[0].was, record.counts[0].is), (15, 9));
    let change = |name: &str| record.changes.iter().find(|it| it.name == name).unwrap();
    let bay = record.changes.iter().find(|it| it.name.ends_with(": bay")).unwrap();
    assert_eq!(bay.rule, record::Rule::TrimBays);
    assert!(bay.snapped && (bay.used.in_feet() - 12.5).abs() < 1e-6);
    assert!((bay.uncut.in_inches() - 14.0 * 12.0 / 87.1).abs() < 1e-6);
    assert_eq!(change("depth").rule, record::Rule::HalfRelief);
    assert!((change("length").model.in_inches() - 15.775).abs() < 0.001);
    assert!(!record.changes.iter().any(|it| it.name == "ridge"), "half relief keeps it");
}

#[test]
fn needs_and_losses_are_counted() {
    let compression = compress(&job(CANNERY)).value;
    let chosen = compression.chosen();
    let doors = |it: &Alternative| {
        it.needs.openings.iter().find(|it| it.kind.contains("door")).unwrap().count
    };
    assert_eq!(doors(chosen), 3);
    assert!(chosen.lost.iter().any(|lost| lost == "15 bays to 9"), "{:?}", chosen.lost);
    assert!(chosen.lost.iter().any(|lost| lost == "platform 5 cars to 2"), "{:?}", chosen.lost);
    assert!(chosen.needs.cover_in2 > 30.0, "{:?}", chosen.needs);
}

/// The creamery's two storeys: the upper may go, its windows with it.
#[test]
fn a_storey_left_out_takes_its_windows_and_lowers_the_eave() {
    use crate::job::body::Storey;
    let mut job = job(CREAMERY);
    let storey = |name: &str, at_least: Option<u32>| Storey {
        name: name.into(),
        height: crate::job::said::Size::taken("12 ft".parse().unwrap()),
        count: None,
        at_least,
    };
    job.bodies[0].storeys = vec![storey("ground", None), storey("upper", Some(0))];
    let first = compress(&job).value;
    let fewer = (first.alternatives.iter())
        .find(|it| it.kind.beside == Some(Beside::FewerStoreys))
        .unwrap();
    assert!(fewer.is_offered(), "{:?}", fewer.standing);
    assert!(fewer.lost.iter().any(|lost| lost.starts_with("1 storey fewer: 12'-0\" lower")));
    assert!(fewer.lines.0.iter().any(|line| line.feature == "storey"));
    choose(&mut job, fewer);
    let built = compress(&job).value.built;
    assert!((built.body.eave.in_feet() - 12.0).abs() < 1e-6);
    let front = &built.faces[0];
    let top = CompressedLength::feet(12.0);
    assert!(front.holes.iter().all(|hole| hole.head() <= top), "windows above are gone");
    assert!(!front.holes.is_empty(), "those of the ground storey stay");
    job.bodies[0].storeys.push(storey("attic", None));
    let stop = crate::elevation::tests::stop_of(&job);
    assert_eq!(stop.doing, "stacking the storeys");
}

/// The cannery runs off the edge of the scene, or stands smaller behind: shown,
/// with what it means, and never built.
#[test]
fn the_edge_of_the_scene_and_a_smaller_ratio_behind_are_shown_only() {
    let compression = compress(&job(CANNERY)).value;
    let of = |what: Beside| {
        compression.alternatives.iter().find(|it| it.kind.beside == Some(what)).unwrap()
    };
    let edge = of(Beside::SceneEdge);
    assert_eq!(edge.standing.word(), "shown only");
    assert!((edge.model_length.in_inches() - 15.875).abs() < 1e-6);
    let behind = of(Beside::SmallerBehind);
    assert!(
        behind.standing.why().starts_with("behind the front at 1:147"),
        "{:?}",
        behind.standing
    );
}

fn scheme_of(job: &Job, catalog: &Catalog, faces: &Faces) -> crate::building::Scheme {
    let survey = crate::survey::run(job, catalog).value;
    crate::building::Scheme::of(job, &survey, faces).value
}

fn asked(job: &Job, catalog: &Catalog) -> long::Asked {
    long::Asked {
        job: job.clone(),
        look: catalog.look.clone(),
        faces: faces_of(job).value,
        scheme: scheme_of(job, catalog, &faces_of(job).value).into(),
        scale: catalog.scales.find(&job.about.scale).unwrap(),
    }
}

/// More length never costs more, and the curve ends at nothing.
#[test]
fn the_curve_falls_to_nothing_at_full_length() {
    let job = job(CANNERY);
    let catalog = Catalog::built_in().unwrap();
    let curve = curve::trade_off(&asked(&job, &catalog), 16).unwrap();
    assert!(curve.windows(2).all(|pair| pair[1].cost <= pair[0].cost + 1e-9), "{curve:?}");
    assert!(curve.last().unwrap().cost < 1e-9);
}

/// At 1:160 the whole cannery takes 15.9 in and more fits than at 1:48.
#[test]
fn smaller_scales_take_more_of_the_building() {
    let job = job(CANNERY);
    let catalog = Catalog::built_in().unwrap();
    let survey = crate::survey::run(&job, &catalog).value;
    let all = Comparing::new(Arc::new(asked(&job, &catalog)), &catalog, &survey)
        .unwrap()
        .compare()
        .scales;
    assert_eq!(all.len(), 4);
    assert_eq!(all.iter().filter(|it| it.own).count(), 1);
    assert!(all.windows(2).all(|pair| pair[1].length < pair[0].length));
    let kept = |it: &scales::AtScale| it.fits.as_ref().map_or(0.0, |fits| fits.kept);
    assert!(all.windows(2).all(|pair| kept(&pair[1]) >= kept(&pair[0]) - 1e-9));
    let thin = all[0].smallest.as_ref().unwrap().1 / all[3].smallest.as_ref().unwrap().1;
    assert!((thin - all[3].scale.ratio.value() / all[0].scale.ratio.value()).abs() < 1e-9);
    let mut unknown = job.clone();
    unknown.about.compare = vec!["1:banana".into()];
    let survey = crate::survey::run(&unknown, &catalog).value;
    assert!(Comparing::new(Arc::new(asked(&unknown, &catalog)), &catalog, &survey).is_err());
}

/// Every count without cutting branches finds nothing better.
#[test]
fn cutting_branches_loses_nothing() {
    let job = tangled(4, 3, 9);
    let catalog = Catalog::built_in().unwrap();
    let (faces, scale) = (faces_of(&job).value, catalog.scales.find(&job.about.scale).unwrap());
    let scheme = scheme_of(&job, &catalog, &faces);
    let case = Case::new(&job, &catalog.look, (&faces, &scheme), &scale, usize::MAX).unwrap();
    let longest = case.longest();
    let found = search::search(&case, longest, search::Kind::Best, &mut |_| true);
    assert!(found.complete);
    let slots = case.slots();
    let mut all = vec![BTreeMap::new()];
    for (key, times) in &slots {
        all = (times.at_least..=times.at_most)
            .flat_map(|count| {
                all.iter().map(move |counts: &BTreeMap<String, u32>| {
                    let mut counts = counts.clone();
                    counts.insert(key.clone(), count);
                    counts
                })
            })
            .collect();
    }
    let best = (all.iter())
        .filter_map(|counts| {
            let fitted = fit::fit(&case, counts, &fit::Freedom::All, longest, false).ok()?;
            Some(case.along_cost(counts, &fitted.widths))
        })
        .fold(f64::INFINITY, f64::min);
    assert!((found.found[0].cost - best).abs() < 1e-6, "{} for {best}", found.found[0].cost);
}

/// A front of many repeats, with the back tied to its length, for a space
/// of so many inches.
fn tangled(repeats: usize, most: u32, space: u32) -> Job {
    let mut text = String::from(
        r#"
[job]
name = "Tangled"
scale = "1:87.1"
[[body]]
name = "main"
depth = "30 ft"
eave = "16 ft"
[body.roof]
kind = "gable"
pitch = "6:12"
[[opening]]
name = "door"
what = "door"
width = "6 ft"
height = "8 ft"
[[opening]]
name = "window"
what = "window"
width = "3 ft"
height = "5 ft"
[space]
length = "SPACE in"
[[wall]]
of = "main/front"
row = [
"#,
    );
    for n in 0..repeats {
        let wide = 4 + n % 3;
        text += &format!(
            "{{ plain = \"p{n}\", group = \"g{}\", width = \"{wide} ft\" }},\n\
             {{ repeat = \"r{n}\", count = {most}, at-least = 0, row = [\
             {{ opening = \"o{n}\", kind = \"{}\" }}, \
             {{ plain = \"q{n}\", group = \"g{}\", width = \"5 ft\" }} ] }},\n\
             {{ opening = \"x{n}\", kind = \"door\" }},\n",
            n % 2,
            if n % 2 == 0 { "window" } else { "door" },
            n % 2,
        );
    }
    text += "{ corner = \"end\", width = \"1 ft\" } ]\n";
    text += "[[wall]]\nof = \"main/back\"\n\
             row = [ { plain = \"a\", width = \"60 ft\", least = \"1 ft\" }, \
             { opening = \"w\", kind = \"window\" }, \
             { plain = \"b\", width = \"60 ft\", least = \"1 ft\" } ]\n";
    job(&text.replace("SPACE", &space.to_string()))
}

/// A search that is stopped keeps the best so far and says that it was stopped;
/// with time it is proven and never worse.
#[test]
fn a_stopped_search_keeps_the_best_and_does_not_say_proven() {
    use crate::solve::watch::{Standing, Watch};
    let job = tangled(8, 3, 26);
    let catalog = Catalog::built_in().unwrap();
    let asked = long::Asked {
        faces: faces_of(&job).value,
        scheme: scheme_of(&job, &catalog, &faces_of(&job).value).into(),
        scale: catalog.scales.find(&job.about.scale).unwrap(),
        look: catalog.look.clone(),
        job,
    };
    let asked_of = std::cell::Cell::new(0);
    let stop = || {
        asked_of.set(asked_of.get() + 1);
        asked_of.get() > 40
    };
    let mut heard = Vec::new();
    let mut tell = |standing: &Standing| heard.push(standing.clone());
    let stopped = long::prove(&asked, &mut Watch { stop: &stop, tell: &mut tell }).unwrap().value;
    assert!(!stopped.complete && !stopped.is_proven());
    let mut tell = |standing: &Standing| heard.push(standing.clone());
    let proven = long::prove(&asked, &mut Watch { stop: &|| false, tell: &mut tell }).unwrap();
    assert!(proven.value.is_proven());
    let cost = |it: &Compression| it.chosen().cost().unwrap();
    assert!(cost(&proven.value) <= cost(&stopped) + 1e-9);
    assert!(heard.iter().any(|standing| standing.bound.contains("25 ranges")), "{heard:?}");
}

/// Timing, printed: two tied faces, 12 elements and 4 repeats, and a front of
/// 40 elements and 8 repeats.
#[test]
#[ignore = "prints times"]
fn times() {
    let catalog = Catalog::built_in().unwrap();
    for (repeats, most, space) in [(4, 3, 9), (8, 3, 26), (8, 12, 40)] {
        let job = tangled(repeats, most, space);
        let start = Instant::now();
        let faces = faces_of(&job).value;
        let scale = catalog.scales.find(&job.about.scale).unwrap();
        let scheme = scheme_of(&job, &catalog, &faces);
        let case = Case::new(&job, &catalog.look, (&faces, &scheme), &scale, usize::MAX).unwrap();
        let out = settle(&case, &mut |_| true).unwrap().value;
        println!(
            "{repeats} repeats: {:?}, {} counts worked out, complete {}, best {:?}",
            start.elapsed(),
            out.steps,
            out.complete,
            out.chosen().cost(),
        );
    }
}
