//! A drawing larger than the paper, in tiles that overlap.

use super::shape::{Area, Drawing, Layer, Point, mm};
use crate::quantity::PaperLength;

/// What neighbouring tiles share.
#[must_use]
pub fn overlap() -> PaperLength {
    mm(10.0)
}

/// Slack of the counts: a millionth of a tile is no tile.
const SLACK: f64 = 1e-6;

/// Tiles needed for a length: `ceil((length - overlap) / (room - overlap))`.
#[must_use]
pub fn needed(length: PaperLength, room: PaperLength, overlap: PaperLength) -> u32 {
    if room <= overlap {
        return 1;
    }
    let count = ((length - overlap) / (room - overlap) - SLACK).ceil();
    // A wall of the largest building is some hundred pages.
    count.clamp(1.0, 10_000.0) as u32
}

/// Where a tile stands among its neighbours.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Tile {
    /// Column, from the left.
    pub column: u32,
    /// Row, from the top.
    pub row: u32,
    /// Columns there are.
    pub columns: u32,
    /// Rows there are.
    pub rows: u32,
}

/// The windows of a drawing: what of it each tile shows, row by row from the
/// top. Together they cover it; neighbours share the overlap.
#[must_use]
pub fn windows(whole: Area, room: (PaperLength, PaperLength)) -> Vec<(Tile, Area)> {
    let lap = overlap();
    let columns = needed(whole.width(), room.0, lap);
    let rows = needed(whole.height(), room.1, lap);
    let mut tiles = Vec::new();
    for row in 0..rows {
        for column in 0..columns {
            let left = whole.least.x + (room.0 - lap) * f64::from(column);
            let top = whole.most.y - (room.1 - lap) * f64::from(row);
            let low = Point::new(left, (top - room.1).max(whole.least.y));
            let high = Point::new((left + room.0).min(whole.most.x), top);
            tiles.push((Tile { column, row, columns, rows }, Area { least: low, most: high }));
        }
    }
    tiles
}

/// The joints of the tiles, in the middle of each overlap: dashed lines with
/// crosses, which both neighbours print, so that one is cut on the line and
/// laid on the other.
#[must_use]
pub fn joints(whole: Area, room: (PaperLength, PaperLength)) -> Drawing {
    let lap = overlap();
    let mut drawing = Drawing::default();
    for column in 1..needed(whole.width(), room.0, lap) {
        let x = whole.least.x + (room.0 - lap) * f64::from(column) + lap / 2.0;
        joint(&mut drawing, Point::new(x, whole.least.y), Point::new(x, whole.most.y));
    }
    for row in 1..needed(whole.height(), room.1, lap) {
        let y = whole.most.y - (room.1 - lap) * f64::from(row) - lap / 2.0;
        joint(&mut drawing, Point::new(whole.least.x, y), Point::new(whole.most.x, y));
    }
    drawing
}

fn joint(drawing: &mut Drawing, from: Point, to: Point) {
    drawing.dashed(Layer::Note, &[from, to]);
    let (run, rise) = (to.x - from.x, to.y - from.y);
    let crosses = ((run + rise) / mm(40.0)).floor().clamp(1.0, 100.0);
    for number in 0..=(crosses as u32) {
        let share = f64::from(number) / crosses;
        let at = Point::new(from.x + run * share, from.y + rise * share);
        for (dx, dy) in [(3.0, 0.0), (0.0, 3.0)] {
            let arm = Point::of_mm([dx, dy]);
            let back = Point::of_mm([-dx, -dy]);
            drawing.line(Layer::Note, &[at.moved(back), at.moved(arm)]);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Walls of 40 in and roofs of 20 in, on every paper: windows begin where
    /// the drawing begins, end where it ends, and neighbours share exactly the
    /// overlap, so that nothing is missing between them.
    #[test]
    fn tiles_of_a_forty_inch_wall_leave_no_gap() {
        let origin = Point::of_mm([-7.0, 3.0]);
        let whole = Area::new(origin, PaperLength::inches(40.0), PaperLength::inches(20.0));
        for paper in crate::drawing::Paper::ALL {
            let room = paper.upright();
            let tiles = windows(whole, room);
            let covered = tiles.iter().map(|(_, area)| *area).reduce(Area::with);
            assert_eq!(covered, Some(whole), "{}", paper.name);
            for (tile, area) in &tiles {
                assert!(area.width() <= room.0 + mm(1e-9) && area.height() <= room.1 + mm(1e-9));
                let next = tiles
                    .iter()
                    .find(|(other, _)| other.row == tile.row && other.column == tile.column + 1);
                if let Some((_, next)) = next {
                    assert!((area.most.x - next.least.x).agrees(overlap(), mm(1e-9)));
                }
                let below = tiles
                    .iter()
                    .find(|(other, _)| other.column == tile.column && other.row == tile.row + 1);
                if let Some((_, below)) = below {
                    assert!((below.most.y - area.least.y).agrees(overlap(), mm(1e-9)));
                }
            }
        }
    }

    #[test]
    fn what_fits_is_one_tile() {
        let whole = Area::new(Point::default(), mm(100.0), mm(50.0));
        assert_eq!(windows(whole, (mm(100.0), mm(50.0))).len(), 1);
        assert!(joints(whole, (mm(100.0), mm(50.0))).items.is_empty());
    }
}
