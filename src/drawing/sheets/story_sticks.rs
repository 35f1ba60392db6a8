//! Story sticks: a strip for each row of joints, every joint in running
//! dimensions from one zero. A wall's strips stand on one sheet.

use super::{heading_size, label_size};
use crate::drawing::running::{Joint, Way, draw, every};
use crate::drawing::shape::{Anchor, Area, Drawing, Layer, Point, mm};
use crate::drawing::template::{Bench, Figure};
use crate::quantity::{CompressedLength, PaperLength};
use crate::takeoff::courses::spaced;
use crate::takeoff::{Kind, Wall};

/// Height of a strip, and of a strip with its figures.
const STRIP_MM: f64 = 9.0;
const ROW_MM: f64 = 38.0;

type Full = CompressedLength;

/// One row of joints.
struct Row {
    name: String,
    length: Full,
    joints: Vec<Full>,
}

/// A figure for every wall with joints, one for the roof and the frame.
#[must_use]
pub fn figures(bench: &Bench<'_>) -> Vec<Figure> {
    let mut figures = Vec::new();
    for wall in bench.walls().iter().filter(|wall| wall.described) {
        figures.extend(sheet(
            bench,
            &format!("{}/sticks", wall.name),
            &wall.title,
            &rows(bench, wall),
        ));
    }
    let rows = roof_and_frame(bench);
    figures.extend(sheet(bench, "frame/sticks", "Roof and frame", &rows));
    figures
}

fn rows(bench: &Bench<'_>, wall: &Wall) -> Vec<Row> {
    let along = wall.holes.iter().flat_map(|hole| [hole.left, hole.right()]);
    let up = wall.holes.iter().flat_map(|hole| [hole.foot, hole.head()]);
    let up = up.chain(wall.top.iter().map(|(_, y)| *y));
    let of = |kind: Kind| bench.takeoff.of(&wall.name, kind).flat_map(|part| part.places.iter());
    let battens = of(Kind::Batten).map(|place| place.left + place.wide / 2.0);
    let boards = of(Kind::Board).map(|place| place.left);
    let courses = of(Kind::Clapboard).map(|place| place.foot);
    let iron = of(Kind::Iron).map(|place| place.left);
    let row =
        |name: &str, length: Full, joints: Vec<Full>| Row { name: name.to_owned(), length, joints };
    let rows = vec![
        row("openings, from the left corner", wall.width, along.collect()),
        row("heights, from the foot", wall.height(), up.collect()),
        row("board joints, from the left corner", wall.width, boards.collect()),
        row("batten centres, from the left corner", wall.width, battens.collect()),
        row("courses, from the foot", wall.height(), courses.collect()),
        row("sheet joints, from the left corner", wall.width, iron.collect()),
    ];
    rows.into_iter().map(|row| tidy(bench, row)).filter(|row| row.joints.len() > 2).collect()
}

/// Sorted, each joint once, the ends among them.
fn tidy(bench: &Bench<'_>, mut row: Row) -> Row {
    row.joints.extend([Full::ZERO, row.length]);
    row.joints.sort_by(Full::total_cmp);
    let hair = bench.scale.enlarge(crate::quantity::ModelLength::thou(1.0));
    row.joints.dedup_by(|a, b| (*a - *b).abs() < hair);
    row
}

fn roof_and_frame(bench: &Bench<'_>) -> Vec<Row> {
    let mut rows = Vec::new();
    let size = |size: Option<&crate::job::said::Size>| {
        size.and_then(|size| size.take.as_ref()).map(|said| Full::kept(said.length()))
    };
    if let (Some(exposure), Some(plane)) =
        (super::roof::exposure(bench), super::roof::planes(bench).first())
    {
        let count = (plane.slope / exposure).floor().min(1000.0) as u32;
        let joints = (1..=count).map(|number| exposure * f64::from(number)).collect();
        rows.push(Row { name: "roof courses, from the eave".into(), length: plane.slope, joints });
    }
    let body = &bench.built.body;
    let spacing = bench.job.main_roof().and_then(|roof| size(roof.rafters.as_ref()));
    if let Some(spacing) = spacing.filter(|spacing| *spacing > Full::inches(1.0)) {
        let count = (body.length / spacing).floor().min(1000.0) as u32;
        let joints = (0..=count).map(|number| spacing * f64::from(number)).collect();
        rows.push(Row { name: "rafters, from the left end".into(), length: body.length, joints });
    }
    for member in &bench.job.members {
        let Some(most) = size(member.spacing.as_ref()).filter(|most| *most > Full::ZERO) else {
            continue;
        };
        let (bays, each) = spaced(body.length, most);
        let joints = (0..=bays).map(|number| each * f64::from(number)).collect();
        rows.push(Row {
            name: format!("{}, from the left end", member.name),
            length: body.length,
            joints,
        });
    }
    rows.into_iter().map(|row| tidy(bench, row)).filter(|row| row.joints.len() > 2).collect()
}

fn sheet(bench: &Bench<'_>, label: &str, title: &str, rows: &[Row]) -> Option<Figure> {
    let mut drawing = Drawing::default();
    for (number, row) in rows.iter().enumerate() {
        let foot = Point::new(PaperLength::ZERO, mm(-ROW_MM * number as f64));
        strip(&mut drawing, bench, row, foot);
    }
    let top = Point::new(mm(0.0), mm(STRIP_MM + 6.0));
    drawing.text(Layer::Note, top, heading_size(), Anchor::Start, &format!("{label}: {title}"));
    (!rows.is_empty()).then(|| Figure::new(label, title, drawing))
}

fn strip(drawing: &mut Drawing, bench: &Bench<'_>, row: &Row, foot: Point) {
    let length = bench.paper(row.length);
    drawing.part(Area::new(foot, length, mm(STRIP_MM)));
    for joint in &row.joints {
        let at = foot.moved(Point::new(bench.paper(*joint), PaperLength::ZERO));
        drawing.line(Layer::Mark, &[at, at.moved(Point::new(mm(0.0), mm(STRIP_MM)))]);
    }
    let joints: Vec<Joint> = (row.joints.iter())
        .map(|joint| Joint { at: bench.paper(*joint), text: bench.model(*joint) })
        .collect();
    draw(drawing, foot.moved(Point::of_mm([0.0, -2.5])), Way::Right, &joints);
    let words = match every(&joints) {
        1 => row.name.clone(),
        more => format!("{}; a figure at every {more} joints", row.name),
    };
    let over = foot.moved(Point::of_mm([0.0, STRIP_MM + 1.2]));
    drawing.text(Layer::Note, over, label_size(), Anchor::Start, &words);
}
