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
    job.walls[0].length = Some("95 ft".parse().map(Size::taken).unwrap());
    let findings = faces_of(&job).findings;
    assert_eq!(
        findings[0].message,
        "the row of the face \"main/front\" adds up to 96'-0\", 1'-0\" longer than its length"
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
    none.bodies.clear();
    let stop = lay_out_with(&none, &|size| adopted(&none, size)).unwrap_err();
    assert!(stop.trouble.contains("[[body]]"));
    let mut lost = job(CANNERY);
    lost.dimensions.retain(|dimension| dimension.name != "bay");
    let stop = lay_out_with(&lost, &|size| adopted(&lost, size)).unwrap_err();
    assert_eq!(stop.doing, "finding the width of \"bay\" on the face \"main/front\"");
}

/// A shed of 30 by 20 ft with a lean-to of 12 by 8 ft on its left end.
fn shed(more: &str) -> String {
    format!(
        "[job]\nname = \"shed\"\nscale = \"1:48\"\n\
         [[body]]\nname = \"main\"\nlength = \"30 ft\"\ndepth = \"20 ft\"\neave = \"12 ft\"\n\
         {more}\n\
         [[body]]\nname = \"lean-to\"\nstands = {{ against = \"main/left\", at = \"4 ft\" }}\n\
         length = \"12 ft\"\ndepth = \"8 ft\"\nmeets = \"10 ft\"\n\
         roof = {{ kind = \"shed\", pitch = \"3:12\" }}\n\
         [[opening]]\nname = \"door\"\nwhat = \"door\"\nwidth = \"3 ft\"\nheight = \"6 ft\"\n\
         [[wall]]\nof = \"main/left\"\nopenings = [{{ kind = \"door\", at = \"2 ft\" }}, \
         {{ kind = \"door\", at = \"18 ft\", sill = \"1 ft\" }}]\n\
         [[wall]]\nof = \"lean-to/left\"\n[[wall]]\nof = \"lean-to/front\"\n"
    )
}

#[test]
fn a_front_that_is_only_a_length_is_one_stretch_of_wall() {
    let found = faces_of(&job(&shed("roof = { kind = \"gable\", pitch = \"6:12\" }"))).value;
    let front = found.front();
    assert_eq!((front.name.as_str(), front.spans.len()), ("main/front", 1));
    close(feet(front.length), 30.0);
    let gables: Vec<_> = found.faces.iter().filter(|it| it.gable).map(|it| &it.name).collect();
    assert_eq!(gables, ["main/left"]);
}

#[test]
fn openings_at_their_place_are_holes_where_the_wall_reaches() {
    let Outcome { value, findings } =
        faces_of(&job(&shed("roof = { kind = \"gable\", pitch = \"6:12\" }")));
    let left = value.faces.iter().find(|face| face.name == "main/left").unwrap();
    let labels: Vec<_> = left.holes.iter().map(|hole| hole.label.as_str()).collect();
    assert_eq!(labels, ["door@1"]);
    close(feet(left.holes[0].left), 2.0);
    assert!(
        findings.iter().any(|it| it.message == "the door ends at 21'-0\", the wall at 20'-0\"")
    );
}

#[test]
fn walls_of_a_body_built_on_have_its_own_measures() {
    let found = faces_of(&job(&shed("roof = { kind = \"flat\" }"))).value;
    let wall = |name: &str| found.faces.iter().find(|face| face.name == name).unwrap();
    close(feet(wall("lean-to/left").length), 8.0);
    close(feet(wall("lean-to/front").length), 12.0);
    // 10 ft at the wall, 8 ft of run at 3:12 lower at its eave.
    close(feet(wall("lean-to/front").height), 8.0);
    close(feet(wall("lean-to/left").ridge), 10.0);
}

/// Half of 20 ft: 4 ft at 24:12 and 6 ft at 6:12 above an eave of 12 ft.
#[test]
fn a_gambrel_rises_by_both_its_slopes() {
    let roof = "roof = { kind = \"gambrel\", pitch = \"24:12\", upper-pitch = \"6:12\", \
                lower-run = \"4 ft\" }";
    close(feet(faces_of(&job(&shed(roof))).value.body.ridge), 12.0 + 8.0 + 3.0);
    let broken = stop_of(&job(&shed(&roof.replace("4 ft", "10 ft"))));
    assert!(broken.trouble.contains("runs to the middle"), "{broken}");
}
