use std::time::Instant;

use super::*;
use crate::elevation::tests::{CANNERY, CREAMERY, GRAIN_STORE, faces_of, job};
use crate::job::face::ElementKind;
use crate::quantity::ModelLength;

fn result(job: &Job) -> Staged<Compression> {
    let catalog = Catalog::built_in().unwrap();
    let scale = catalog.scales.find(&job.about.scale).unwrap();
    run(job, &catalog, &faces_of(job).value, &scale)
}

fn compress(job: &Job) -> Outcome<Compression> {
    result(job).unwrap_or_else(|stop| panic!("{stop}"))
}

/// Writes an alternative's choice into the job, as a file would have it.
fn choose(job: &mut Job, alternative: &Alternative) {
    let text = choice_of(alternative).unwrap();
    job.choice = Some(Choice {
        kind: text.kind,
        counts: text.counts,
        widths: text.widths.into_iter().map(|(key, said)| (key, said.parse().unwrap())).collect(),
        depth: text.depth.map(|said| said.parse().unwrap()),
        roof: match text.roof.as_deref() {
            Some("keep-ridge") => Some(RoofFollows::KeepRidge),
            Some("half-relief") => Some(RoofFollows::HalfRelief),
            Some("flat") => Some(RoofFollows::Flat),
            _ => Some(RoofFollows::KeepPitch),
        },
        reason: "because".into(),
        date: String::new(),
    });
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
    if let ElementKind::Bays { least, .. } = &mut negative.faces[0].row[1].kind {
        *least = Some("15 ft".parse().unwrap());
    }
    assert_eq!(result(&negative).unwrap_err().doing, "bounding \"bay\"");
    let mut even = job(CANNERY);
    if let ElementKind::Bays { times, .. } = &mut even.faces[0].row[1].kind {
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

/// Every count without cutting branches finds nothing better.
#[test]
fn cutting_branches_loses_nothing() {
    let job = tangled(4, 3, 9);
    let catalog = Catalog::built_in().unwrap();
    let (faces, scale) = (faces_of(&job).value, catalog.scales.find(&job.about.scale).unwrap());
    let case = Case::new(&job, &catalog, &faces, &scale).unwrap();
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
            let widths = fit::fit(&case, counts, &fit::Freedom::All, longest, false).ok()?;
            Some(case.along_cost(counts, &widths))
        })
        .fold(f64::INFINITY, f64::min);
    assert!(all.len() > found.steps, "{} of {}", found.steps, all.len());
    assert!((found.found[0].cost - best).abs() < 1e-6, "{} for {best}", found.found[0].cost);
}

/// A front of many repeats, with two more faces tied to its length, for a space
/// of so many inches.
fn tangled(repeats: usize, most: u32, space: u32) -> Job {
    let mut text = String::from(
        r#"
[job]
name = "Tangled"
scale = "1:87.1"
[building]
front = "front"
depth = "30 ft"
eave = "16 ft"
[roof]
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
[[face]]
name = "front"
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
    for side in ["back", "lean-to"] {
        text += &format!(
            "[[face]]\nname = \"{side}\"\nrow = [ {{ plain = \"a\", width = \"60 ft\", least = \"1 ft\" }}, \
             {{ opening = \"w\", kind = \"window\" }}, \
             {{ plain = \"b\", width = \"60 ft\", least = \"1 ft\" }} ]\n"
        );
    }
    job(&text.replace("SPACE", &space.to_string()))
}

/// Timing, printed: three tied faces, 12 elements and 4 repeats, and a front of
/// 40 elements and 8 repeats.
#[test]
#[ignore = "prints times"]
fn times() {
    for (repeats, most, space) in [(4, 3, 9), (8, 3, 26)] {
        let job = tangled(repeats, most, space);
        let start = Instant::now();
        let out = compress(&job).value;
        println!(
            "{repeats} repeats: {:?}, {} counts worked out, complete {}, best {:?}",
            start.elapsed(),
            out.steps,
            out.complete,
            out.chosen().cost(),
        );
    }
}
