//! A sheet from above, its grain from left to right: parts, cuts, offcut.

use std::collections::BTreeMap;

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Color;
use ratatui::symbols::Marker;
use ratatui::widgets::Widget;
use ratatui::widgets::canvas::{Canvas, Context, Line, Points, Rectangle};

use super::super::palette::{Look, Role};
use super::super::text::{cells, set};
use super::short;
use crate::cutting::parts::SheetGroup;
use crate::cutting::sheets::{Area, KnifeCut, SheetCut};
use crate::job::model::Done;
use crate::report::table::OnSheet;
use crate::solve::sheets::Axis;

pub(super) fn caption(group: &SheetGroup, at: usize) -> String {
    let sheet = &group.layout.sheets[at];
    let stock = &group.sheets[sheet.stock];
    let offcut = sheet.offcut.map_or(String::new(), |offcut| {
        let (wide, long) = (offcut.width.in_inches(), offcut.height.in_inches());
        format!("; largest offcut {wide:.2} x {long:.2} in")
    });
    format!(
        "{}: sheet {} of {}, {:.1} x {:.1} in, grain \u{2192}, {:.0} % used{offcut}",
        group.stock,
        at + 1,
        group.layout.sheets.len(),
        stock.width.in_inches(),
        stock.height.in_inches(),
        100.0 * sheet.used
    )
}

/// A rectangle in dots, `x` along the grain.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Dots {
    x: f64,
    y: f64,
    wide: f64,
    high: f64,
}

/// Inches into whole dots, so that equal things look equal.
#[derive(Clone, Copy)]
struct Pen {
    dots: f64,
    pane: Rect,
}

impl Pen {
    /// The largest scale at which the sheet fits.
    fn fitting(group: &SheetGroup, sheet: &SheetCut, pane: Rect) -> Self {
        let stock = &group.sheets[sheet.stock];
        let along = (f64::from(pane.width) * 2.0 - 2.0) / stock.height.in_inches().max(1e-9);
        let across = (f64::from(pane.height) * 4.0 - 1.0) / stock.width.in_inches().max(1e-9);
        Self { dots: along.min(across), pane }
    }

    fn dot(self, inches: f64) -> f64 {
        (inches * self.dots).round()
    }

    fn place(self, area: &Area) -> Dots {
        let (x, y) = (self.dot(area.y.in_inches()), self.dot(area.x.in_inches()));
        let right = self.dot((area.y + area.height).in_inches());
        let top = self.dot((area.x + area.width).in_inches());
        Dots { x, y, wide: right - x, high: top - y }
    }

    /// The cell in which a dot lies.
    fn cell(self, x: f64, y: f64) -> (u16, u16) {
        let column = (x / 2.0).floor().max(0.0) as u16;
        let up = (y / 4.0).floor().max(0.0) as u16;
        (self.pane.x + column, (self.pane.bottom() - 1).saturating_sub(up))
    }
}

pub(super) fn draw(
    group: &SheetGroup,
    at: usize,
    on: OnSheet,
    done: &BTreeMap<String, Done>,
    area: Rect,
    look: Look,
    buf: &mut Buffer,
) {
    let sheet = &group.layout.sheets[at];
    let area = area.intersection(buf.area);
    let pen = Pen::fitting(group, sheet, area);
    let bounds = [f64::from(area.width) * 2.0 - 1.0, f64::from(area.height) * 4.0 - 1.0];
    Canvas::default()
        .marker(Marker::Braille)
        .background_color(look.ground_color())
        .x_bounds([0.0, bounds[0]])
        .y_bounds([0.0, bounds[1]])
        .paint(|context| paint(context, group, sheet, on, pen, look))
        .render(area, buf);
    labels(group, sheet, done, pen, look, buf);
    if let OnSheet::Cut(marked) = on {
        numbers(&sheet.cuts, marked, pen, look, buf);
    }
}

fn paint(
    context: &mut Context<'_>,
    group: &SheetGroup,
    sheet: &SheetCut,
    on: OnSheet,
    pen: Pen,
    look: Look,
) {
    let stock = &group.sheets[sheet.stock];
    let color = |role| look.color(role);
    if let Some(offcut) = &sheet.offcut {
        hatch(context, pen.place(offcut), 4.0, color(Role::Line));
    }
    if let OnSheet::Part(part) = on
        && let Some(laid) = sheet.parts.get(part)
    {
        hatch(context, pen.place(&laid.area), 2.0, color(Role::Strong));
    }
    let (wide, high) = (pen.dot(stock.height.in_inches()), pen.dot(stock.width.in_inches()));
    frame(context, Dots { x: 0.0, y: 0.0, wide, high }, color(Role::Line));
    if sheet.outlines.is_empty() {
        for laid in &sheet.parts {
            frame(context, pen.place(&laid.area), color(Role::Built));
        }
    }
    for outline in &sheet.outlines {
        for line in std::iter::once(&outline.outer).chain(&outline.openings) {
            for (a, b) in line.iter().zip(line.iter().cycle().skip(1)) {
                let dots = [a.x, a.y, b.x, b.y].map(|length| pen.dot(length.in_inches()));
                let [x1, y1, x2, y2] = dots;
                context.draw(&Line { x1, y1, x2, y2, color: color(Role::Built) });
            }
        }
    }
    if let OnSheet::Cut(at) = on
        && let Some(cut) = sheet.cuts.get(at)
    {
        let (from, to) = ends(cut, pen);
        let (x1, y1, x2, y2) = (from.0, from.1, to.0, to.1);
        context.draw(&Line { x1, y1, x2, y2, color: color(Role::Strong) });
    }
}

fn frame(context: &mut Context<'_>, dots: Dots, color: Color) {
    let Dots { x, y, wide: width, high: height } = dots;
    context.draw(&Rectangle { x, y, width, height, color });
}

/// A dot in every `step` by `step`, the rows shifted: seen without colour.
fn hatch(context: &mut Context<'_>, dots: Dots, step: f64, color: Color) {
    let (wide, high) = ((dots.wide / step).floor() as u32, (dots.high / step).floor() as u32);
    let at = |column: u32, row: u32| {
        let shift = if row.is_multiple_of(2) { step / 2.0 } else { 0.0 };
        (dots.x + f64::from(column) * step + shift, dots.y + f64::from(row) * step)
    };
    let points: Vec<(f64, f64)> =
        (0..=high).flat_map(|row| (0..=wide).map(move |column| at(column, row))).collect();
    context.draw(&Points { coords: &points, color });
}

/// A cut as a line of dots.
fn ends(cut: &KnifeCut, pen: Pen) -> ((f64, f64), (f64, f64)) {
    let piece = pen.place(&cut.piece);
    let at = pen.dot(cut.at.in_inches());
    match cut.axis {
        // Along the grain: from left to right.
        Axis::X => ((piece.x, at), (piece.x + piece.wide, at)),
        Axis::Y => ((at, piece.y), (at, piece.y + piece.high)),
    }
}

/// The name of each part inside it, where it fits.
fn labels(
    group: &SheetGroup,
    sheet: &SheetCut,
    done: &BTreeMap<String, Done>,
    pen: Pen,
    look: Look,
    buf: &mut Buffer,
) {
    for laid in &sheet.parts {
        let label = &group.parts[laid.part].label;
        let role = if done.contains_key(label) { Role::Chosen } else { Role::Text };
        inside(pen.place(&laid.area), label, role, pen, look, buf);
    }
    if let Some(offcut) = &sheet.offcut {
        inside(pen.place(offcut), "offcut", Role::Faint, pen, look, buf);
    }
}

fn inside(dots: Dots, label: &str, role: Role, pen: Pen, look: Look, buf: &mut Buffer) {
    let (left, _) = pen.cell(dots.x + 2.0, dots.y);
    let (right, _) = pen.cell(dots.x + dots.wide - 1.0, dots.y);
    let room = usize::from(right.saturating_sub(left));
    let name = short(label, room);
    if dots.high >= 5.0 {
        let x = left + ((room - cells(name).min(room)) / 2) as u16;
        let (_, y) = pen.cell(dots.x, dots.y + dots.high / 2.0);
        set(buf, pen.pane, x, y, name, look.style(role));
    }
}

/// The numbers of the cuts at their middles, the one marked first; a number
/// that would touch another is left out.
fn numbers(cuts: &[KnifeCut], marked: usize, pen: Pen, look: Look, buf: &mut Buffer) {
    let mut taken: Vec<Rect> = Vec::new();
    for at in [marked].into_iter().chain(0..cuts.len()).filter(|at| *at < cuts.len()) {
        let (from, to) = ends(&cuts[at], pen);
        let (x, y) = pen.cell(f64::midpoint(from.0, to.0), f64::midpoint(from.1, to.1));
        let number = (at + 1).to_string();
        let room = Rect { x, y, width: number.len() as u16 + 1, height: 1 };
        if taken.iter().any(|other| other.intersects(room)) {
            continue;
        }
        taken.push(room);
        let role = if at == marked { Role::Strong } else { Role::Faint };
        set(buf, pen.pane, x, y, &number, look.style(role));
    }
}
