//! What stands on every page: the two check bars, the title, the page map.

use super::page::Format;
use super::shape::{Anchor, Area, Drawing, Layer, Point, mm};
use super::tile::Tile;
use super::type_face::clip;
use crate::job::paper::{bar_across, bar_up};
use crate::quantity::{Angle, PaperLength};

/// What the title says.
#[derive(Clone, Copy, Debug)]
pub struct Words<'a> {
    /// The building's name.
    pub job: &'a str,
    /// The scale.
    pub scale: &'a str,
    /// What is on the page.
    pub title: &'a str,
    /// Its number, and how many there are.
    pub page: (usize, usize),
    /// The tile it shows.
    pub tile: Option<Tile>,
}

/// Draws it.
#[must_use]
pub fn draw(format: &Format, words: &Words<'_>) -> Drawing {
    let mut drawing = Drawing::default();
    bars(&mut drawing, format);
    title(&mut drawing, format, words);
    if let Some(tile) = words.tile {
        map(&mut drawing, format, tile, words.page.0);
    }
    drawing
}

/// The bars, with a tick at each half inch and each centimetre.
fn bars(drawing: &mut Drawing, format: &Format) {
    let corner = format.safe.least;
    let across = corner.moved(Point::of_mm([11.0, 9.0]));
    let end = across.moved(Point::new(bar_across(), PaperLength::ZERO));
    drawing.line(Layer::Note, &[across, end]);
    for half in 0..=8 {
        let at = across.moved(Point::new(bar_across() * (f64::from(half) / 8.0), mm(0.0)));
        let long = if half % 8 == 0 { 3.0 } else { 1.5 };
        drawing.line(Layer::Note, &[at, at.moved(Point::of_mm([0.0, long]))]);
    }
    let under = across.moved(Point::of_mm([0.0, -3.0]));
    let words = if format.check.is_plain() {
        "this bar is 4.000 in long; print at 100 percent, never \"fit to page\""
    } else {
        "corrected page: this bar should measure 4.000 in; print at 100 percent, never \"fit to page\""
    };
    drawing.text(Layer::Note, under, mm(2.4), Anchor::Start, words);
    let up = corner.moved(Point::of_mm([6.0, 17.0]));
    let top = up.moved(Point::new(PaperLength::ZERO, bar_up()));
    drawing.line(Layer::Note, &[up, top]);
    for ten in 0..=10 {
        let at = up.moved(Point::new(mm(0.0), bar_up() * (f64::from(ten) / 10.0)));
        let long = if ten % 10 == 0 { 3.0 } else { 1.5 };
        drawing.line(Layer::Note, &[at, at.moved(Point::of_mm([long, 0.0]))]);
    }
    let beside = up.moved(Point::of_mm([-1.5, 0.0]));
    let turn = (Angle::degrees(90.0), Anchor::Start);
    let words = if format.check.is_plain() {
        "this bar is 100.0 mm long; measure both, and type what they measure"
    } else {
        "corrected page: 100.0 mm; where both measure true the check holds as it is"
    };
    drawing.turned(Layer::Note, beside, mm(2.4), turn, words);
}

fn title(drawing: &mut Drawing, format: &Format, words: &Words<'_>) {
    let safe = format.safe;
    let base = safe.most.y - mm(3.5);
    let number = format!("page {} of {}", words.page.0, words.page.1);
    let right = Point::new(safe.most.x, base);
    drawing.text(Layer::Note, right, mm(3.2), Anchor::End, &number);
    let text = format!("{}   {}   {}", words.title, words.job, words.scale);
    let room = safe.width() - mm(30.0);
    let text = clip(&super::type_face::printable(&text), mm(3.6), room);
    drawing.text(Layer::Note, Point::new(safe.least.x, base), mm(3.6), Anchor::Start, &text);
    let rule = base - mm(1.6);
    drawing.line(Layer::Note, &[Point::new(safe.least.x, rule), Point::new(safe.most.x, rule)]);
}

/// The tiles of the figure as boxes with their page numbers, this one crossed.
fn map(drawing: &mut Drawing, format: &Format, tile: Tile, page: usize) {
    let (wide, high) = (mm(46.0), mm(13.0));
    let box_wide = (wide / f64::from(tile.columns)).min(mm(9.0));
    let box_high = (high / f64::from(tile.rows)).min(mm(6.0));
    let left = format.safe.most.x - box_wide * f64::from(tile.columns);
    let top = format.safe.least.y + mm(14.0);
    let first = page - (tile.row * tile.columns + tile.column) as usize;
    for row in 0..tile.rows {
        for column in 0..tile.columns {
            let low = Point::new(
                left + box_wide * f64::from(column),
                top - box_high * f64::from(row + 1),
            );
            let area = Area::new(low, box_wide, box_high);
            let mut round = area.corners();
            round.push(area.least);
            drawing.line(Layer::Note, &round);
            let here = (row, column) == (tile.row, tile.column);
            if here {
                let (a, b) = (area.least, area.most);
                drawing.line(Layer::Note, &[a, b]);
                drawing.line(Layer::Note, &[Point::new(a.x, b.y), Point::new(b.x, a.y)]);
            } else if box_high >= mm(2.4) && box_wide >= mm(4.0) {
                let at = area.least.moved(Point::new(box_wide / 2.0, box_high / 2.0 - mm(0.8)));
                let number = (first + (row * tile.columns + column) as usize).to_string();
                drawing.text(Layer::Note, at, mm(2.2), Anchor::Middle, &number);
            }
        }
    }
}
