//! Text and tables set in type, column by column of a room's height.

use crate::drawing::shape::mm;
use crate::drawing::type_face::{printable, width, wrap};
use crate::drawing::{Anchor, Drawing, Figure, Layer, Point};
use crate::quantity::PaperLength;
use crate::report::table::{Mark, Row, Table, View};
use crate::report::text;

/// Size of running text, of headings, of the title.
const TEXT_MM: f64 = 2.9;
const HEAD_MM: f64 = 3.8;
const TITLE_MM: f64 = 5.0;
/// Between two columns.
const GUTTER_MM: f64 = 3.0;
/// The least a column of words is squeezed to.
const LEAST_MM: f64 = 16.0;

/// A room being filled from the top, and the rooms filled before it.
#[derive(Debug)]
pub struct Flow {
    room: (PaperLength, PaperLength),
    label: String,
    done: Vec<Drawing>,
    now: Drawing,
    down: PaperLength,
}

impl Flow {
    /// An empty room.
    #[must_use]
    pub fn new(label: &str, room: (PaperLength, PaperLength)) -> Self {
        let now = Drawing::default();
        Self { room, label: label.to_owned(), done: Vec::new(), now, down: PaperLength::ZERO }
    }

    /// The rooms filled, as figures.
    #[must_use]
    pub fn finish(mut self) -> Vec<Figure> {
        self.turn();
        let label = self.label;
        let figure = |(at, drawing): (usize, Drawing)| {
            let name = if at == 0 { label.clone() } else { format!("{label} {}", at + 1) };
            Figure { true_size: false, ..Figure::new(name.clone(), name, drawing) }
        };
        self.done.into_iter().enumerate().map(figure).collect()
    }

    fn turn(&mut self) {
        if !self.now.items.is_empty() {
            self.done.push(std::mem::take(&mut self.now));
        }
        self.down = PaperLength::ZERO;
    }

    /// Takes a stretch of height, in the next room where this one has too
    /// little left; says where its top is.
    fn take(&mut self, height: PaperLength) -> PaperLength {
        if self.down + height > self.room.1 && self.down > PaperLength::ZERO {
            self.turn();
        }
        if self.now.items.is_empty() {
            // A rule as wide as the room, so that each room stands alone.
            self.now.line(Layer::Note, &[Point::default(), Point::new(self.room.0, mm(0.0))]);
            self.down = mm(1.0);
        }
        let top = self.down;
        self.down += height;
        -top
    }

    fn put(&mut self, top: PaperLength, x: PaperLength, size: PaperLength, text: &str) {
        let at = Point::new(x, top - size * 0.8);
        self.now.text(Layer::Note, at, size, Anchor::Start, text);
    }

    /// A little space.
    pub fn space(&mut self, height: PaperLength) {
        if self.down > PaperLength::ZERO {
            self.down += height;
        }
    }

    /// A paragraph.
    pub fn paragraph(&mut self, words: &str) {
        self.lines("", words, mm(TEXT_MM), PaperLength::ZERO);
    }

    /// A paragraph with a sign before it.
    pub fn item(&mut self, sign: &str, words: &str) {
        self.lines(sign, words, mm(TEXT_MM), mm(4.0));
    }

    /// The title.
    pub fn title(&mut self, words: &str) {
        self.lines("", words, mm(TITLE_MM), PaperLength::ZERO);
        self.space(mm(1.5));
    }

    /// A heading, with room for some lines under it.
    pub fn heading(&mut self, words: &str) {
        self.space(mm(3.0));
        if self.down + mm(18.0) > self.room.1 {
            self.turn();
        }
        self.lines("", words, mm(HEAD_MM), PaperLength::ZERO);
        self.space(mm(0.8));
    }

    /// Lines of a text with a sign before the first, in one room where they are
    /// no more than a room holds.
    fn lines(&mut self, sign: &str, words: &str, size: PaperLength, indent: PaperLength) {
        let lines = wrap(&whole(words), size, self.room.0 - indent);
        let high = size * 1.3 * lines.len() as f64;
        if self.down + high > self.room.1 && high < self.room.1 {
            self.turn();
        }
        for (at, line) in lines.iter().enumerate() {
            let top = self.take(size * 1.3);
            self.put(top, indent, size, line);
            if at == 0 && !sign.is_empty() {
                self.put(top, PaperLength::ZERO, size, sign);
            }
        }
    }

    /// A table, its heads again in each room.
    pub fn table(&mut self, table: &Table) {
        let size = mm(TEXT_MM);
        let widths = widths(table, self.room.0 - mm(3.0), size);
        let heads: Vec<String> =
            table.heads().iter().map(|column| column.head().to_owned()).collect();
        let heads = Row::plain(heads);
        self.row(table, &heads, &widths, true);
        for row in &table.rows {
            let rooms = self.done.len();
            let high = row_height(row, &widths, size);
            if self.down + high > self.room.1 {
                self.turn();
            }
            if self.done.len() > rooms {
                self.row(table, &heads, &widths, true);
            }
            self.row(table, row, &widths, false);
        }
        for note in &table.notes {
            self.paragraph(note);
        }
    }

    fn row(&mut self, table: &Table, row: &Row, widths: &[PaperLength], head: bool) {
        let size = mm(TEXT_MM);
        let high = row_height(row, widths, size);
        if head && row.texts.iter().all(String::is_empty) {
            return;
        }
        let under = if head { mm(1.4) } else { mm(0.6) };
        let top = self.take(high + under);
        if row.mark != Mark::Plain {
            self.put(top, PaperLength::ZERO, size, row.mark.sign());
        }
        let mut x = mm(3.0);
        for ((cell, column), wide) in row.texts.iter().zip(table.heads()).zip(widths) {
            for (at, line) in wrap(&whole(cell), size, *wide).iter().enumerate() {
                let base = top - size * (0.8 + 1.25 * at as f64);
                let (x, anchor) =
                    if column.is_right() { (x + *wide, Anchor::End) } else { (x, Anchor::Start) };
                self.now.text(Layer::Note, Point::new(x, base), size, anchor, line);
            }
            x += *wide + mm(GUTTER_MM);
        }
        if head {
            let y = top - high - mm(0.4);
            self.now.line(Layer::Note, &[Point::new(mm(3.0), y), Point::new(self.room.0, y)]);
        }
    }
}

/// A text in pieces short enough that none of it is cut off.
fn whole(text: &str) -> String {
    let words = text.split_whitespace().map(printable);
    words.collect::<Vec<_>>().join(" ")
}

fn row_height(row: &Row, widths: &[PaperLength], size: PaperLength) -> PaperLength {
    let lines =
        row.texts.iter().zip(widths).map(|(cell, wide)| wrap(&whole(cell), size, *wide).len());
    size * (1.25 * lines.max().unwrap_or(1).max(1) as f64)
}

/// Widths of the columns: as wide as their widest cell, the widest columns of
/// words squeezed until all fit.
fn widths(table: &Table, room: PaperLength, size: PaperLength) -> Vec<PaperLength> {
    let mut widths: Vec<PaperLength> = (0..table.heads().len())
        .map(|at| {
            let cells = table.rows.iter().filter_map(|row| row.texts.get(at));
            let widest = cells.map(|cell| width(&whole(cell), size));
            widest.fold(width(table.columns[at].head(), size), PaperLength::max) + mm(0.2)
        })
        .collect();
    let gutters = mm(GUTTER_MM) * table.heads().len().saturating_sub(1) as f64;
    let total = |widths: &[PaperLength]| widths.iter().copied().sum::<PaperLength>() + gutters;
    while total(&widths) > room {
        let words = |(_, wide): &(usize, &mut PaperLength)| **wide > mm(LEAST_MM);
        let widest = widths.iter_mut().enumerate().filter(words);
        let Some((_, wide)) = widest.max_by(|a, b| a.1.total_cmp(b.1)) else { break };
        *wide = (*wide * 0.95).max(mm(LEAST_MM));
    }
    widths
}

/// A view set in type.
#[must_use]
pub fn view(view: &View, label: &str, room: (PaperLength, PaperLength)) -> Vec<Figure> {
    let mut flow = Flow::new(label, room);
    flow.title(&view.title);
    for line in &view.lead {
        flow.paragraph(line);
    }
    for table in view.shown() {
        flow.heading(&table.title);
        flow.table(table);
    }
    if !view.findings.is_empty() {
        flow.heading("Look here");
        for finding in &view.findings {
            let line = text::finding(finding);
            let (sign, words) = line.split_once(' ').unwrap_or(("", &line));
            flow.item(sign, words);
        }
    }
    flow.finish()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_is_set_and_stays_in_its_room() {
        let mut table = Table::new("Parts", &["part", ">count", "note"]);
        for number in 0..200 {
            let note = "a note that is rather long and has to be broken over two lines or more";
            table.push(Row::plain(vec![
                format!("main/front/batten-{number}"),
                "3".into(),
                note.into(),
            ]));
        }
        let sheet = View { title: "Parts".into(), tables: vec![table], ..View::default() };
        let room = (mm(90.0), mm(200.0));
        let figures = view(&sheet, "cut-list", room);
        assert!(figures.len() > 3);
        let mut seen = 0;
        for figure in &figures {
            let area = figure.drawing.extent().expect("something is set");
            assert!(area.width() <= room.0 + mm(0.01), "{:?}", area.width());
            assert!(area.height() <= room.1 + mm(1.5), "{:?}", area.height());
            seen += figure
                .drawing
                .items
                .iter()
                .filter(|item| matches!(&item.shape, crate::drawing::Shape::Text { text, .. } if text.starts_with("main/front/batten-")))
                .count();
        }
        assert_eq!(seen, 200);
    }

    #[test]
    fn an_item_stays_together_with_its_sign() {
        let mut flow = Flow::new("record", (mm(60.0), mm(40.0)));
        let words = "one two three four five six seven eight nine ten eleven twelve thirteen";
        for _ in 0..19 {
            flow.item("?", words);
        }
        let rooms = flow.finish();
        assert!(rooms.len() > 2);
        for room in &rooms {
            let text = |item: &crate::drawing::Item| match &item.shape {
                crate::drawing::Shape::Text { text, .. } => Some(text.clone()),
                _ => None,
            };
            let said: Vec<String> = room.drawing.items.iter().filter_map(text).collect();
            let begun = said.iter().filter(|line| line.starts_with("one")).count();
            let ended = said.iter().filter(|line| line.ends_with("thirteen")).count();
            let signs = said.iter().filter(|line| *line == "?").count();
            assert_eq!((begun, ended), (signs, signs), "{said:?}");
        }
    }
}
