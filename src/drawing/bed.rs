//! Figures laid side by side for a laser: what is cut, without what is for
//! paper alone, every copy, and the piece that measures the kerf.

use super::kerf::{compensated, test_square};
use super::shape::{Drawing, Layer, Point, mm};
use super::template::Figure;
use crate::finding::Stop;
use crate::quantity::PaperLength;

/// Between neighbours: lines nearer than half a millimetre may burn out (laser
/// service pages, READ).
const GAP_MM: f64 = 3.0;

/// The figures in rows no wider than `wide`, where each fits; a figure that is
/// wider has a row of its own. The kerf is allowed for, except in the test
/// square, which measures it.
///
/// # Errors
/// When a shape is smaller than the kerf.
pub fn arranged(figures: &[Figure], kerf: PaperLength, wide: PaperLength) -> Result<Drawing, Stop> {
    let cut = [Layer::Through, Layer::Scribe, Layer::Mark];
    let mut bed = Drawing::default();
    let mut pen = Point::default();
    let mut row = PaperLength::ZERO;
    let mut lay = |drawing: &Drawing| {
        let Some(area) = drawing.extent_of(&cut) else { return };
        if pen.x > PaperLength::ZERO && pen.x + area.width() > wide {
            pen = Point::new(PaperLength::ZERO, pen.y + row + mm(GAP_MM));
            row = PaperLength::ZERO;
        }
        let kept = drawing.items.iter().filter(|item| cut.contains(&item.layer)).cloned();
        let kept = Drawing { items: kept.collect() };
        bed.add(&kept, Point::new(pen.x - area.least.x, pen.y - area.least.y));
        pen.x += area.width() + mm(GAP_MM);
        row = row.max(area.height());
    };
    lay(&test_square());
    for figure in figures {
        let drawing = compensated(&figure.drawing, kerf).map_err(|stop| {
            Stop::new(format!("{}, {}", stop.doing, figure.label), stop.trouble, stop.hint)
        })?;
        (0..figure.copies).for_each(|_| lay(&drawing));
    }
    Ok(bed)
}
