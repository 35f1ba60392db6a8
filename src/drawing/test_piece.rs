//! A piece to try a machine and a sheet with, before the wall is cut: how tight
//! a slot holds the sheet, how deep a line is engraved, whether a casting goes
//! in and a corner closes; along the sheet and across it.

use super::shape::{Anchor, Drawing, Layer, Point, Run};
use crate::quantity::{Angle, PaperLength};

/// What a slot is wider than the sheet is thick, in thou: from tight to loose.
const LADDER: [i32; 7] = [-4, -2, 0, 2, 4, 6, 8];
/// Lines of the depth ladder, each run at a setting of its own.
const DEPTHS: usize = 5;
const LABEL_MM: f64 = 2.5;

/// What the piece is for.
#[derive(Clone, Copy, Debug)]
pub struct Tried {
    /// Thickness of the sheet.
    pub thick: PaperLength,
    /// The hole for a casting: width and height.
    pub casting: Option<(PaperLength, PaperLength)>,
}

/// The pieces, along and across the sheet; the kerf is not allowed for yet.
#[must_use]
pub fn drawn(tried: Tried) -> Drawing {
    let mut drawing = Drawing::default();
    let mut along = Pen { drawing: &mut drawing, corner: Point::default(), across: false };
    let high = along.piece(tried);
    let gap = PaperLength::inches(0.25);
    let corner = Point::new(high, high + gap);
    Pen { drawing: &mut drawing, corner, across: true }.piece(tried);
    drawing
}

/// Draws in a frame of its own, turned a quarter where it lies across.
struct Pen<'a> {
    drawing: &'a mut Drawing,
    corner: Point,
    across: bool,
}

impl Pen<'_> {
    fn at(&self, x: PaperLength, y: PaperLength) -> Point {
        let (x, y) = if self.across { (-y, x) } else { (x, y) };
        Point::new(self.corner.x + x, self.corner.y + y)
    }

    fn rectangle(&mut self, [x, y]: [f64; 2], wide: PaperLength, high: PaperLength, run: Run) {
        let (x, y) = (PaperLength::inches(x), PaperLength::inches(y));
        let corners = [(x, y), (x + wide, y), (x + wide, y + high), (x, y + high)];
        let corners = corners.map(|(x, y)| self.at(x, y));
        self.drawing.closed(Layer::Through, &corners, run);
    }

    fn label(&mut self, [x, y]: [f64; 2], text: &str) {
        let at = self.at(PaperLength::inches(x), PaperLength::inches(y));
        let turn = Angle::degrees(if self.across { 90.0 } else { 0.0 });
        let size = super::shape::mm(LABEL_MM);
        self.drawing.turned(Layer::Mark, at, size, (turn, Anchor::Start), text);
    }

    /// One direction; how high it is.
    fn piece(&mut self, tried: Tried) -> PaperLength {
        let inches = PaperLength::inches;
        let casting = tried.casting;
        let room = casting.map_or(0.0, |(_, high)| high.in_inches() + 0.25);
        let wide = casting.map_or(4.4, |(wide, _)| (wide.in_inches() + 0.5).max(4.4));
        let high = 1.35 + room;
        self.rectangle([0.0, 0.0], inches(wide), inches(high), Run::Outside);
        self.ladder(tried.thick);
        self.depths();
        if let Some((wide, high)) = casting {
            self.rectangle([0.25, 1.35], wide, high, Run::Hole);
        }
        self.corner_pieces(wide + 0.2, tried.thick);
        inches(high.max(0.75))
    }

    /// Slots for the edge of the same sheet.
    fn ladder(&mut self, thick: PaperLength) {
        for (n, thou) in LADDER.into_iter().enumerate() {
            let x = 0.3 + 0.55 * n as f64;
            let wide = thick + PaperLength::thou(f64::from(thou));
            if wide > PaperLength::ZERO {
                self.rectangle([x, 0.2], wide, PaperLength::inches(0.35), Run::Hole);
                self.label([x - 0.05, 0.62], &format!("{thou:+}"));
            }
        }
    }

    /// Lines to engrave, each at a setting of its own.
    fn depths(&mut self) {
        for n in 0..DEPTHS {
            let x = PaperLength::inches(0.3 + 0.55 * n as f64);
            let line =
                [self.at(x, PaperLength::inches(0.85)), self.at(x, PaperLength::inches(1.2))];
            self.drawing.line(Layer::Scribe, &line);
            self.label([0.35 + 0.55 * n as f64, 0.9], &(n + 1).to_string());
        }
    }

    /// Two pieces that are 3/4 in over the outside when they are butted.
    fn corner_pieces(&mut self, from: f64, thick: PaperLength) {
        let side = PaperLength::inches(0.75);
        self.rectangle([from, 0.0], side, side, Run::Outside);
        self.rectangle([from + 0.95, 0.0], side - thick, side, Run::Outside);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::shape::Shape;

    /// Slots from 4 thou under to 8 over a sheet of 62, in both directions: the
    /// narrow side of each (COMPUTED).
    #[test]
    fn the_ladder_runs_from_tight_to_loose() {
        let tried = Tried { thick: PaperLength::thou(62.0), casting: None };
        let drawing = drawn(tried);
        let mut narrow: Vec<f64> = Vec::new();
        for item in &drawing.items {
            if let Shape::Line { run: Run::Hole, .. } = &item.shape {
                let area = item.extent().expect("a hole");
                narrow.push(area.width().min(area.height()).in_thou());
            }
        }
        narrow.sort_by(f64::total_cmp);
        let wanted = [58.0, 60.0, 62.0, 64.0, 66.0, 68.0, 70.0];
        assert_eq!(narrow.len(), 14);
        for (pair, wanted) in narrow.chunks(2).zip(wanted) {
            assert!(pair.iter().all(|it| (it - wanted).abs() < 1e-6), "{narrow:?}");
        }
    }

    #[test]
    fn the_pieces_do_not_touch() {
        let tried = Tried {
            thick: PaperLength::thou(62.0),
            casting: Some((PaperLength::inches(0.54), PaperLength::inches(0.98))),
        };
        let drawing = drawn(tried);
        let outsides: Vec<_> = drawing
            .items
            .iter()
            .filter(|it| matches!(it.shape, Shape::Line { run: Run::Outside, .. }))
            .filter_map(|it| it.extent())
            .collect();
        assert_eq!(outsides.len(), 6);
        for (n, a) in outsides.iter().enumerate() {
            for b in &outsides[n + 1..] {
                let apart = a.most.x < b.least.x
                    || b.most.x < a.least.x
                    || a.most.y < b.least.y
                    || b.most.y < a.least.y;
                assert!(apart, "{a:?} {b:?}");
            }
        }
    }
}
