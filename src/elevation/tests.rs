use super::*;
use crate::estimate::Estimate;
use crate::finding::Severity;
use crate::quantity::PrototypeLength;

pub(crate) const GRAIN_STORE: &str = include_str!("../../data/demo/grain-store.toml");
pub(crate) const CANNERY: &str = include_str!("../../data/demo/river-cannery.toml");
pub(crate) const CREAMERY: &str = include_str!("../../data/demo/creamery.toml");

/// Sizes as the person took or adopted them, without the survey.
pub(crate) fn adopted(job: &Job, size: &Size) -> Result<SizeFound, Stop> {
    let value = match (&size.take, &size.measured) {
        (Some(said), _) => Some(said.length()),
        (None, Some(form)) => form
            .value(|name| {
                let known = job.dimensions.iter().find(|dimension| dimension.name == name)?;
                known.adopt.as_ref().map(|said| said.length().in_metres())
            })
            .map(PrototypeLength::metres),
        (None, None) => None,
    };
    value
        .map(|value| SizeFound { value, measured: None })
        .ok_or_else(|| Stop::new("finding a size", "nothing adopted", ""))
}

pub(crate) fn job(text: &str) -> Job {
    text.parse().unwrap()
}

pub(crate) fn faces_of(job: &Job) -> Outcome<Faces> {
    lay_out_with(job, &|size| adopted(job, size)).unwrap()
}

pub(crate) fn stop_of(job: &Job) -> Stop {
    lay_out_with(job, &|size| adopted(job, size)).unwrap_err()
}

fn feet(length: PrototypeLength) -> f64 {
    length.in_feet()
}

fn close(a: f64, b: f64) {
    assert!((a - b).abs() < 1e-9, "{a} against {b}");
}

#[test]
fn the_grain_store_stands_as_it_was_measured() {
    let job = job(GRAIN_STORE);
    let Outcome { value: faces, findings } = faces_of(&job);
    assert!(findings.is_empty(), "{findings:?}");
    let front = faces.front();
    close(feet(front.length), 96.0);
    close(feet(faces.body.ridge), 26.0);
    close(faces.body.pitch, 0.5);
    assert_eq!(front.holes.len(), 8);
    assert_eq!(front.spans.len(), 19);
    let second = front.spans.iter().find(|span| span.label == "module#2/door-window").unwrap();
    assert_eq!(second.element, "door-window");
    close(feet(second.left), 45.0);
    close(feet(second.right), 54.0);
    let last = front.spans.last().unwrap();
    close(feet(last.right), feet(front.length));
}

#[test]
fn bays_carry_their_openings_in_the_middle() {
    let job = job(CANNERY);
    let faces = faces_of(&job).value;
    let front = faces.front();
    close(feet(front.length), 212.0);
    close(faces.body.pitch, 0.5);
    let doors: Vec<_> = front.holes.iter().filter(|hole| hole.kind == "freight-door").collect();
    let labels: Vec<_> = doors.iter().map(|hole| hole.label.as_str()).collect();
    assert_eq!(labels, ["bay#2", "bay#5", "bay#8", "bay#11", "bay#14"]);
    // The eighth bay of fifteen: its door's middle is the middle of the wall.
    close(feet(doors[2].left + doors[2].width / 2.0), 106.0);
}

#[test]
fn two_openings_of_a_bay_stand_one_above_the_other() {
    let job = job(CREAMERY);
    let faces = faces_of(&job).value;
    let front = faces.front();
    close(feet(front.length), 48.0);
    close(feet(faces.body.ridge), 35.25);
    assert_eq!(front.holes.len(), 14);
    assert_eq!(front.holes[1].label, "bay#1/upper-window");
    close(feet(front.holes[0].left), feet(front.holes[1].left));
}

#[test]
fn rows_that_do_not_add_up_are_noticed() {
    let mut job = job(GRAIN_STORE);
    job.faces[0].length = Some("95 ft".parse().map(Size::taken).unwrap());
    let findings = faces_of(&job).findings;
    assert_eq!(
        findings[0].message,
        "the row of the face \"track\" adds up to 96'-0\", 1'-0\" longer than its length"
    );
}

#[test]
fn a_figure_far_from_the_readings_is_noticed() {
    let job = job(GRAIN_STORE);
    let sigma = PrototypeLength::inches(0.5);
    let found = lay_out_with(&job, &|size| {
        let mut found = adopted(&job, size)?;
        found.measured = (size.measured.is_some())
            .then(|| Estimate::new(found.value + sigma * 2.5, sigma, Vec::new()));
        Ok(found)
    });
    let findings = found.unwrap().findings;
    assert!(!findings.is_empty());
    assert_eq!(findings[0].severity, Severity::Look);
    assert!(findings[0].message.contains("2.5 sigma apart"), "{}", findings[0].message);
}

#[test]
fn an_opening_wider_than_its_bay_is_noticed_once() {
    let mut job = job(CANNERY);
    job.openings[0].width = "15 ft".parse().map(Size::taken).unwrap();
    let findings = faces_of(&job).findings;
    let wide: Vec<_> = findings.iter().filter(|f| f.severity == Severity::Trouble).collect();
    assert!(wide[0].message.contains("its bay \"bay\" only 14'-0\""), "{}", wide[0].message);
}

#[test]
fn what_has_no_size_is_named() {
    let mut none = job(GRAIN_STORE);
    none.building = None;
    let stop = lay_out_with(&none, &|size| adopted(&none, size)).unwrap_err();
    assert!(stop.trouble.contains("[building]"));
    let mut lost = job(CANNERY);
    lost.dimensions.retain(|dimension| dimension.name != "bay");
    let stop = lay_out_with(&lost, &|size| adopted(&lost, size)).unwrap_err();
    assert_eq!(stop.doing, "finding the width of \"bay\" on the face \"land\"");
}
