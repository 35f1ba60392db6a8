//! Lines and texts on paper.

use super::type_face;
use crate::quantity::{Angle, ModelLength, PaperLength, Scale};

/// A paper length from millimetres.
#[must_use]
pub fn mm(millimetres: f64) -> PaperLength {
    PaperLength::millimetres(millimetres)
}

/// A model length laid on paper at 1:1.
#[must_use]
pub fn on_paper(model: ModelLength) -> PaperLength {
    Scale::to_paper(model)
}

/// A point on paper: `x` to the right, `y` upwards.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Point {
    /// To the right.
    pub x: PaperLength,
    /// Upwards.
    pub y: PaperLength,
}

impl Point {
    /// A point from its two lengths.
    #[must_use]
    pub fn new(x: PaperLength, y: PaperLength) -> Self {
        Self { x, y }
    }

    /// The point moved by another.
    #[must_use]
    pub fn moved(self, by: Self) -> Self {
        Self { x: self.x + by.x, y: self.y + by.y }
    }

    /// The point in millimetres.
    #[must_use]
    pub fn in_mm(self) -> [f64; 2] {
        [self.x.in_millimetres(), self.y.in_millimetres()]
    }

    /// A point from millimetres.
    #[must_use]
    pub fn of_mm([x, y]: [f64; 2]) -> Self {
        Self::new(mm(x), mm(y))
    }
}

/// A rectangle that stands upright.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Area {
    /// Lower left corner.
    pub least: Point,
    /// Upper right corner.
    pub most: Point,
}

impl Area {
    /// The rectangle of a corner and two sizes.
    #[must_use]
    pub fn new(least: Point, width: PaperLength, height: PaperLength) -> Self {
        Self { least, most: least.moved(Point::new(width, height)) }
    }

    /// Size along `x`.
    #[must_use]
    pub fn width(self) -> PaperLength {
        self.most.x - self.least.x
    }

    /// Size along `y`.
    #[must_use]
    pub fn height(self) -> PaperLength {
        self.most.y - self.least.y
    }

    /// Its corners, against the clock from the lower left.
    #[must_use]
    pub fn corners(self) -> Vec<Point> {
        let (a, b) = (self.least, self.most);
        vec![a, Point::new(b.x, a.y), b, Point::new(a.x, b.y)]
    }

    /// The rectangle moved.
    #[must_use]
    pub fn moved(self, by: Point) -> Self {
        Self { least: self.least.moved(by), most: self.most.moved(by) }
    }

    /// The smallest rectangle round both.
    #[must_use]
    pub fn with(self, other: Self) -> Self {
        Self {
            least: Point::new(self.least.x.min(other.least.x), self.least.y.min(other.least.y)),
            most: Point::new(self.most.x.max(other.most.x), self.most.y.max(other.most.y)),
        }
    }

    /// Whether it holds another, within `slack`.
    #[must_use]
    pub fn holds(self, other: Self, slack: PaperLength) -> bool {
        other.least.x >= self.least.x - slack
            && other.least.y >= self.least.y - slack
            && other.most.x <= self.most.x + slack
            && other.most.y <= self.most.y + slack
    }

    fn of(points: impl IntoIterator<Item = Point>) -> Option<Self> {
        points.into_iter().map(|at| Self { least: at, most: at }).reduce(Self::with)
    }
}

/// What is done to the part along a line; the last is for paper only.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Layer {
    /// Cut through.
    Through,
    /// Scribe or score: boards, courses, folds.
    Scribe,
    /// Mark on the face: labels, places of other parts.
    Mark,
    /// On paper alone: dimensions, notes, frames.
    Note,
}

impl Layer {
    /// Every layer.
    pub const ALL: [Self; 4] = [Self::Through, Self::Scribe, Self::Mark, Self::Note];

    /// What is done to a part, in the order it is done: engraved while the
    /// sheet is whole, cut out last.
    pub const CUT: [Self; 3] = [Self::Scribe, Self::Mark, Self::Through];

    /// Its name in files.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Through => "through",
            Self::Scribe => "scribe",
            Self::Mark => "mark",
            Self::Note => "note",
        }
    }

    /// How thick its lines are drawn.
    #[must_use]
    pub fn pen(self) -> PaperLength {
        match self {
            Self::Through => mm(0.35),
            Self::Scribe => mm(0.2),
            Self::Mark | Self::Note => mm(0.15),
        }
    }
}

/// How a line closes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Run {
    /// It has two ends.
    Open,
    /// Round a part.
    Outside,
    /// Round a hole in a part.
    Hole,
}

/// Which point of a text stands at its place, along the line it is written on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    /// Its beginning.
    Start,
    /// Its middle.
    Middle,
    /// Its end.
    End,
}

/// One thing drawn.
#[derive(Clone, Debug, PartialEq)]
pub enum Shape {
    /// Straight from point to point.
    Line {
        /// The points.
        points: Vec<Point>,
        /// How it closes.
        run: Run,
        /// Whether it is drawn dashed: folds, things hidden.
        dashed: bool,
    },
    /// A text in one line.
    Text {
        /// Where its base line has its anchor.
        at: Point,
        /// Size of the type, from line to line set solid.
        size: PaperLength,
        /// Turned against the clock from level.
        turn: Angle,
        /// Which of its points stands there.
        anchor: Anchor,
        /// What it says, fit to print: see [`type_face::printable`].
        text: String,
    },
}

/// A shape and its layer.
#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    /// What is done along it.
    pub layer: Layer,
    /// The shape.
    pub shape: Shape,
}

/// A drawing: shapes on layers.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Drawing {
    /// What is drawn, in order.
    pub items: Vec<Item>,
}

impl Drawing {
    /// Adds a line.
    pub fn line(&mut self, layer: Layer, points: &[Point]) {
        self.push(layer, points, Run::Open, false);
    }

    /// Adds a dashed line.
    pub fn dashed(&mut self, layer: Layer, points: &[Point]) {
        self.push(layer, points, Run::Open, true);
    }

    /// Adds a closed line.
    pub fn closed(&mut self, layer: Layer, points: &[Point], run: Run) {
        self.push(layer, points, run, false);
    }

    /// Adds a rectangle cut through.
    pub fn part(&mut self, area: Area) {
        self.closed(Layer::Through, &area.corners(), Run::Outside);
    }

    fn push(&mut self, layer: Layer, points: &[Point], run: Run, dashed: bool) {
        let shape = Shape::Line { points: points.to_vec(), run, dashed };
        self.items.push(Item { layer, shape });
    }

    /// Adds a level text; what cannot be printed is put right.
    pub fn text(&mut self, layer: Layer, at: Point, size: PaperLength, anchor: Anchor, text: &str) {
        self.turned(layer, at, size, (Angle::degrees(0.0), anchor), text);
    }

    /// Adds a text at an angle.
    pub fn turned(
        &mut self,
        layer: Layer,
        at: Point,
        size: PaperLength,
        (turn, anchor): (Angle, Anchor),
        text: &str,
    ) {
        let text = type_face::printable(text);
        if !text.is_empty() {
            self.items.push(Item { layer, shape: Shape::Text { at, size, turn, anchor, text } });
        }
    }

    /// Adds an arrow with its head at the end.
    pub fn arrow(&mut self, layer: Layer, from: Point, to: Point) {
        let ([x0, y0], [x1, y1]) = (from.in_mm(), to.in_mm());
        let along = (y1 - y0).atan2(x1 - x0);
        let barb = |turn: f64| {
            let angle = along + turn;
            Point::of_mm([x1 - 2.0 * angle.cos(), y1 - 2.0 * angle.sin()])
        };
        self.line(layer, &[from, to]);
        self.line(layer, &[barb(0.35), to, barb(-0.35)]);
    }

    /// Adds all of another drawing, moved.
    pub fn add(&mut self, other: &Self, by: Point) {
        self.items.extend(other.items.iter().map(|item| item.moved(by)));
    }

    /// The same drawing, moved.
    #[must_use]
    pub fn moved(&self, by: Point) -> Self {
        let mut moved = Self::default();
        moved.add(self, by);
        moved
    }

    /// The smallest rectangle round everything, texts by the width of their
    /// letters; nothing where nothing is drawn.
    #[must_use]
    pub fn extent(&self) -> Option<Area> {
        self.items.iter().filter_map(Item::extent).reduce(Area::with)
    }

    /// What is done to the parts, in the order it is done: lines engraved, then
    /// holes cut, the small ones first, then outlines. A part that is cut out
    /// first may tip, and its holes are lost. What is for paper alone is left
    /// out.
    #[must_use]
    pub fn in_cutting_order(&self) -> Vec<&Item> {
        let place = |item: &Item| {
            let layer = Layer::CUT.iter().position(|layer| *layer == item.layer)?;
            let hole = matches!(&item.shape, Shape::Line { run: Run::Hole, .. });
            let cut = item.layer == Layer::Through;
            let area = item.extent().filter(|_| cut).unwrap_or_default();
            let size = area.width().in_millimetres() * area.height().in_millimetres();
            Some((layer, cut && !hole, size))
        };
        let mut items: Vec<_> =
            self.items.iter().filter_map(|item| Some((place(item)?, item))).collect();
        items.sort_by(|(a, _), (b, _)| (a.0, a.1).cmp(&(b.0, b.1)).then(a.2.total_cmp(&b.2)));
        items.into_iter().map(|(_, item)| item).collect()
    }

    /// The smallest rectangle round what is on some layers.
    #[must_use]
    pub fn extent_of(&self, layers: &[Layer]) -> Option<Area> {
        let on = self.items.iter().filter(|item| layers.contains(&item.layer));
        on.filter_map(Item::extent).reduce(Area::with)
    }
}

impl Item {
    fn moved(&self, by: Point) -> Self {
        let mut item = self.clone();
        match &mut item.shape {
            Shape::Line { points, .. } => {
                points.iter_mut().for_each(|point| *point = point.moved(by));
            }
            Shape::Text { at, .. } => *at = at.moved(by),
        }
        item
    }

    /// The smallest rectangle round it.
    #[must_use]
    pub fn extent(&self) -> Option<Area> {
        match &self.shape {
            Shape::Line { points, .. } => Area::of(points.iter().copied()),
            Shape::Text { at, size, turn, anchor, text } => {
                let width = type_face::width(text, *size);
                let start = match anchor {
                    Anchor::Start => PaperLength::ZERO,
                    Anchor::Middle => -width / 2.0,
                    Anchor::End => -width,
                };
                let (sin, cos) = turn.in_radians().sin_cos();
                let corner = |x: PaperLength, y: PaperLength| {
                    at.moved(Point::new(x * cos - y * sin, x * sin + y * cos))
                };
                let (low, high) = (*size * -0.25, *size * 0.8);
                let ends = [start, start + width];
                Area::of(ends.into_iter().flat_map(|x| [corner(x, low), corner(x, high)]))
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_extent_holds_lines_and_turned_texts() {
        let mut drawing = Drawing::default();
        drawing.part(Area::new(Point::of_mm([10.0, 20.0]), mm(30.0), mm(5.0)));
        let parts = drawing.extent().expect("something is drawn");
        assert!(parts.width().agrees(mm(30.0), mm(1e-9)));
        let up = (Angle::degrees(90.0), Anchor::Start);
        drawing.turned(Layer::Note, Point::of_mm([20.0, 25.0]), mm(4.0), up, "running");
        let both = drawing.extent().expect("something is drawn");
        assert!(both.height() > parts.height(), "the text stands above the part");
        assert!(both.width().agrees(mm(30.0), mm(1e-9)), "and is narrow");
    }
}
