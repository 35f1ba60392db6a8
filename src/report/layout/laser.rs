//! Files for the laser: a file a sheet, every part in its true outline where
//! the layout has it, half the kerf allowed for on each side.

use super::Seen;
use crate::cutting::parts::SheetGroup;
use crate::cutting::sheets::SheetCut;
use crate::drawing::kerf::compensated;
use crate::drawing::shape::{Anchor, Drawing, Layer, Point as OnPaper, Run, mm, on_paper};
use crate::drawing::sheets::hole_for_casting;
use crate::drawing::test_piece::{self, Tried};
use crate::finding::Stop;
use crate::job::building::CutBy;
use crate::job::model::Units;
use crate::quantity::{Model, ModelLength, PaperLength};
use crate::report::cautions;
use crate::report::templates::files::Format;
use crate::stock::Choice;
use crate::takeoff::Point;
use crate::writers::dxf::{self, DxfUnit, Version};
use crate::writers::save::{FileOut, file_stem};
use crate::writers::svg;

/// Height of the labels that are marked on the parts.
const LABEL_MM: f64 = 2.5;
/// How far scribed lines run off the edge of a part, so that none stops short
/// of it: 10 thou, common practice, no source; no farther than half way to the
/// next part.
const RUN_OFF_THOU: f64 = 10.0;

/// The files of every sheet that a laser may cut; [`cautioned`] names the rest.
///
/// # Errors
/// When nothing is laid out for a laser or may be cut by one, in a format that
/// is none for it, or where a shape is smaller than the kerf.
pub fn files(seen: Seen<'_>, format: Format) -> Result<Vec<FileOut>, Stop> {
    let layout = seen.plan.layout.as_ref().map_err(Clone::clone)?;
    if seen.job.cutting.method != CutBy::Laser {
        return Err(Stop::new(
            "writing files for the laser",
            "the sheets are laid out for the knife",
            "add --method laser, or write method = \"laser\" under [cutting]",
        ));
    }
    let stem = file_stem(&seen.job.about.name);
    let mut files = Vec::new();
    let stops: Vec<Stop> = layout.sheets.iter().filter_map(|it| refused(seen, it)).collect();
    if let Some(stop) = stops.first().filter(|_| stops.len() == layout.sheets.len()) {
        return Err(stop.clone());
    }
    for group in layout.sheets.iter().filter(|it| refused(seen, it).is_none()) {
        let materials = cautions::of_stock(seen, &group.stock);
        let words = cautions::for_laser(seen, &materials);
        for (at, sheet) in group.layout.sheets.iter().enumerate() {
            let title = format!("{} sheet {}", group.stock, at + 1);
            let drawing = drawn(seen, group, sheet).map_err(|stop| {
                Stop::new(format!("{}, {title}", stop.doing), stop.trouble, stop.hint)
            })?;
            let name = format!("{stem}-{}-{}", file_stem(&group.stock), at + 1);
            files.push(file(seen, &drawing, [&name, &title], &words, format)?);
        }
        if let Some(tried) = tried(seen, &group.stock) {
            let drawing = compensated(&test_piece::drawn(tried), kerf(seen))?;
            let name = format!("{stem}-{}-test-piece", file_stem(&group.stock));
            let title = format!("{} test piece: slots by thou over its thickness", group.stock);
            files.push(file(seen, &drawing, [&name, &title], &words, format)?);
        }
    }
    Ok(files)
}

/// Why a laser may not cut a stock.
fn refused(seen: Seen<'_>, group: &SheetGroup) -> Option<Stop> {
    let materials = cautions::of_stock(seen, &group.stock);
    cautions::laser_may(seen, &group.stock, &materials, &seen.job.paper.laser_safe).err()
}

/// What a test piece of a sheet tries: nothing where its thickness is not known.
fn tried(seen: Seen<'_>, stock: &str) -> Option<Tried> {
    let choices = seen.plan.stock.iter().flat_map(|stock| &stock.choices);
    let made = choices.filter_map(Choice::taken).find(|made| stock.starts_with(&made.stock))?;
    let mut openings = seen.job.openings.iter();
    let casting = openings.find_map(|opening| hole_for_casting(opening, seen.catalog));
    Some(Tried { thick: on_paper(made.gives.thickness), casting })
}

/// What the beam takes away.
fn kerf(seen: Seen<'_>) -> PaperLength {
    let said = seen.job.cutting.kerf.as_ref();
    crate::drawing::kerf::on_paper(said.map_or(ModelLength::ZERO, |said| said.length()))
}

/// What to bear in mind with these files, each sentence once.
#[must_use]
pub fn cautioned(seen: Seen<'_>) -> Vec<String> {
    let groups = seen.plan.layout.iter().flat_map(|layout| &layout.sheets);
    let mut out: Vec<String> = Vec::new();
    for group in groups {
        if let Some(stop) = refused(seen, group) {
            out.push(format!("{} is left out: {}; cut it with a knife", group.stock, stop.trouble));
            continue;
        }
        for says in cautions::for_laser(seen, &cautions::of_stock(seen, &group.stock)) {
            if !out.contains(&says) {
                out.push(says);
            }
        }
    }
    out
}

fn file(
    seen: Seen<'_>,
    drawing: &Drawing,
    [name, title]: [&str; 2],
    words: &[String],
    format: Format,
) -> Result<FileOut, Stop> {
    let unit = match seen.job.about.units {
        Units::FeetInches => DxfUnit::Inches,
        Units::Metric => DxfUnit::Millimetres,
    };
    let (name, text) = match format {
        Format::Svg => {
            (format!("{name}.svg"), svg::write(drawing, title, words, &seen.catalog.fits))
        }
        Format::Dxf => {
            (format!("{name}-{}.dxf", unit.word()), dxf::write(drawing, Version::R12, unit, words))
        }
        Format::Dxf2000 => {
            (format!("{name}.dxf"), dxf::write(drawing, Version::R2000, unit, words))
        }
        Format::Pdf | Format::Png | Format::Csv => {
            return Err(Stop::new(
                "writing files for the laser",
                format!("{} is no format for a laser", format.key()),
                "the formats are svg, dxf, dxf-2000",
            ));
        }
    };
    Ok(FileOut { name, bytes: text.into_bytes() })
}

/// A line that runs on beyond both its ends.
fn run_off([a, b]: [OnPaper; 2], by: PaperLength) -> [OnPaper; 2] {
    let ([ax, ay], [bx, by_]) = (a.in_mm(), b.in_mm());
    let long = (bx - ax).hypot(by_ - ay).max(f64::MIN_POSITIVE);
    let step = |from: f64, to: f64| (to - from) / long * by.in_millimetres();
    let (dx, dy) = (step(ax, bx), step(ay, by_));
    [OnPaper::of_mm([ax - dx, ay - dy]), OnPaper::of_mm([bx + dx, by_ + dy])]
}

/// One sheet: outlines cut through, lines scribed, labels marked where a part
/// has room and its face is not the one that shows.
fn drawn(seen: Seen<'_>, group: &SheetGroup, sheet: &SheetCut) -> Result<Drawing, Stop> {
    // Parts lie a kerf apart.
    let beyond = on_paper(ModelLength::thou(RUN_OFF_THOU)).min(kerf(seen) / 2.0);
    let mut drawing = Drawing::default();
    for ((laid, outline), scribed) in sheet.parts.iter().zip(&sheet.outlines).zip(&sheet.scribed) {
        let point = |p: &Point<Model>| OnPaper::new(on_paper(p.x), on_paper(p.y));
        let line = |points: &[Point<Model>]| -> Vec<OnPaper> { points.iter().map(point).collect() };
        for [a, b] in scribed {
            drawing.line(Layer::Scribe, &run_off([point(a), point(b)], beyond));
        }
        drawing.closed(Layer::Through, &line(&outline.outer), Run::Outside);
        for opening in &outline.openings {
            drawing.closed(Layer::Through, &line(opening), Run::Hole);
        }
        let name = &group.parts[laid.part].label;
        let (long, wide) = (on_paper(laid.area.height), on_paper(laid.area.width));
        let clean = outline.openings.is_empty() && scribed.is_empty();
        if clean && wide > mm(2.0 * LABEL_MM) && long > mm(20.0) {
            let middle = OnPaper::new(
                on_paper(laid.area.y + laid.area.height / 2.0),
                on_paper(laid.area.x + laid.area.width / 3.0),
            );
            drawing.text(Layer::Mark, middle, mm(LABEL_MM), Anchor::Middle, name);
        }
    }
    compensated(&drawing, kerf(seen))
}
