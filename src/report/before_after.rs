//! The front before and after the compression: in letters for the screen, text
//! and Markdown, in lines for paper.

use super::Seen;
use super::cell::Cell;
use super::column::{number, text};
use super::draft::rows;
use super::table::{RowKey, Table};
use crate::drawing::shape::mm;
use crate::drawing::{Anchor, Area, Drawing, Figure, Layer, Point, Run};
use crate::elevation::{Elevation, Hole};
use crate::finding::Subject;
use crate::quantity::{FullSize, PaperLength, PrototypeLength};

/// Columns of the longer of the two, in letters.
/// The id of its table, which paper draws in lines instead.
pub(super) const ID: &str = "before_and_after";

const LETTERS: f64 = 44.0;
/// Openings whose foot is no higher than this are doors.
const THRESHOLD_FT: f64 = 0.1;

/// A face with its sizes as plain feet, whatever world it is of.
struct Front {
    word: &'static str,
    told: String,
    length: f64,
    eave: f64,
    ridge: f64,
    gable: bool,
    /// Left, foot, width, height.
    holes: Vec<[f64; 4]>,
}

impl Front {
    fn of<S: FullSize>(seen: Seen<'_>, word: &'static str, face: &Elevation<S>) -> Self {
        let hole = |hole: &Hole<S>| {
            [hole.left, hole.foot, hole.width, hole.height].map(|length| length.in_feet())
        };
        Self {
            word,
            told: seen.job.about.full_notation().show(&face.length),
            length: face.length.in_feet(),
            eave: face.height.in_feet(),
            ridge: face.ridge.in_feet().max(face.height.in_feet()),
            gable: face.gable,
            holes: face.holes.iter().map(hole).collect(),
        }
    }

    /// The row in letters, so many to the foot.
    fn letters(&self, per_foot: f64) -> String {
        let column = |feet: f64| (feet * per_foot).round() as usize;
        let mut row = vec!['.'; column(self.length).max(1)];
        for [left, foot, width, _] in &self.holes {
            let sign = if *foot <= THRESHOLD_FT { '#' } else { 'o' };
            let (from, to) = (column(*left), column(left + width).max(column(*left) + 1));
            row.iter_mut().take(to).skip(from).for_each(|cell| *cell = sign);
        }
        row.into_iter().collect()
    }

    /// Walls, roof and openings, so many millimetres to the foot.
    fn draw(&self, drawing: &mut Drawing, foot: Point, per_foot: f64) {
        let at = |x: f64, y: f64| foot.moved(Point::of_mm([x * per_foot, y * per_foot]));
        let (long, eave, ridge) = (self.length, self.eave, self.ridge);
        let wall = [at(0.0, 0.0), at(long, 0.0), at(long, eave), at(0.0, eave)];
        drawing.closed(Layer::Through, &wall, Run::Outside);
        let roof = if self.gable {
            vec![at(0.0, eave), at(long / 2.0, ridge), at(long, eave)]
        } else {
            vec![at(0.0, eave), at(0.0, ridge), at(long, ridge), at(long, eave)]
        };
        drawing.line(Layer::Mark, &roof);
        for [left, sill, width, height] in &self.holes {
            let size = [width, height].map(|side| mm(side * per_foot));
            let area = Area::new(at(*left, *sill), size[0], size[1]);
            drawing.closed(Layer::Mark, &area.corners(), Run::Hole);
        }
        let over = at(0.0, ridge).moved(Point::of_mm([0.0, 1.5]));
        let words = format!("{}: {}", self.word, self.told);
        drawing.text(Layer::Note, over, mm(2.9), Anchor::Start, &words);
    }
}

/// The front as it was and as it is built; nothing where it is not built.
fn fronts(seen: Seen<'_>) -> Option<[Front; 2]> {
    let faces = seen.plan.faces.as_ref().ok()?;
    let built = &seen.plan.compress.as_ref().ok()?.built;
    let was = Front::of(seen, "prototype", faces.front());
    Some([was, Front::of(seen, "as built", built.faces.get(faces.front)?)])
}

/// Both rows in letters, at one scale.
#[must_use]
pub fn table(seen: Seen<'_>) -> Table {
    let fronts = fronts(seen);
    let fronts = fronts.as_ref().map_or(&[][..], |fronts| fronts);
    let per_foot = LETTERS / longest(fronts);
    rows(ID, "Before and after", fronts)
        .screen()
        .about(|_| Subject::Job)
        .keyed(|it| RowKey::named(it.word))
        .col(text("front", "front"), |it| it.word)
        .col(number("length", "length", 2), |it| Cell::said(&it.told, it.length))
        .col(text("drawn", "# door, o window, . wall"), |it| it.letters(per_foot))
        .table()
}

fn longest(fronts: &[Front]) -> f64 {
    fronts.iter().fold(1.0, |longest, front| longest.max(front.length))
}

/// Both fronts drawn at one scale, within the width and height of a room, with a
/// staff of six feet beside them.
#[must_use]
pub fn figure(seen: Seen<'_>, room: (PaperLength, PaperLength)) -> Option<Figure> {
    const STAFF_FT: f64 = 6.0;
    const BESIDE_MM: f64 = 8.0;
    const OVER_MM: f64 = 8.0;
    const UNDER_MM: f64 = 6.0;
    let fronts = fronts(seen)?;
    let highest: f64 = fronts.iter().map(|front| front.ridge).sum();
    let wide = (room.0.in_millimetres() - BESIDE_MM) / longest(&fronts);
    let high = (room.1.in_millimetres() - 2.0 * OVER_MM - UNDER_MM) / highest.max(1.0);
    let per_foot = wide.min(high);
    let mut drawing = Drawing::default();
    let mut down = 0.0;
    for front in &fronts {
        down += front.ridge * per_foot + OVER_MM;
        front.draw(&mut drawing, Point::of_mm([BESIDE_MM, -down]), per_foot);
        staff(&mut drawing, Point::of_mm([2.0, -down]), STAFF_FT * per_foot);
    }
    let feet = PrototypeLength::feet(STAFF_FT);
    let words = format!("the staff is {} high", seen.job.about.full_notation().show(&feet));
    let at = Point::of_mm([BESIDE_MM, -down - 4.0]);
    drawing.text(Layer::Note, at, mm(2.6), Anchor::Start, &words);
    let title = "Before and after";
    Some(Figure { true_size: false, ..Figure::new("before-and-after", title, drawing) })
}

/// A survey staff with a stripe for each foot.
fn staff(drawing: &mut Drawing, foot: Point, high: f64) {
    let whole = Area::new(foot, mm(1.4), mm(high));
    drawing.closed(Layer::Mark, &whole.corners(), Run::Outside);
    for stripe in 1..6 {
        let y = mm(high / 6.0 * f64::from(stripe));
        let at = foot.moved(Point::new(mm(0.0), y));
        drawing.line(Layer::Mark, &[at, at.moved(Point::of_mm([1.4, 0.0]))]);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalog::Catalog;
    use crate::job::Job;
    use crate::job::demo;
    use crate::plan::plan;

    #[test]
    fn both_fronts_stay_in_a_room_of_any_shape() {
        let catalog = Catalog::built_in().unwrap();
        for demo in demo::DEMOS {
            let job: Job = demo.text.parse().unwrap();
            let plan = plan(&job, &catalog);
            let seen = Seen { job: &job, catalog: &catalog, plan: &plan };
            for room in [(mm(180.0), mm(120.0)), (mm(180.0), mm(60.0)), (mm(90.0), mm(240.0))] {
                let drawn = figure(seen, room).unwrap().drawing.extent().unwrap();
                assert!(drawn.width() <= room.0 + mm(0.01), "{}: {drawn:?}", demo.name);
                assert!(drawn.height() <= room.1 + mm(0.01), "{}: {drawn:?}", demo.name);
            }
        }
    }
}
