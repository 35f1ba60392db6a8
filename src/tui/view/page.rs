//! A page to print, in dots: the sheet of paper with what stands where, and
//! beside it what is drawn, as large as there is room.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::symbols::Marker;
use ratatui::widgets::Widget;
use ratatui::widgets::canvas::{Canvas, Context, Line};

use super::palette::{Look, Role};
use super::text::clip;
use crate::drawing::shape::{Area, Item, Shape};
use crate::drawing::tile::Tile;
use crate::drawing::{Anchor, Block, Page, Point, Run, type_face};

/// Draws a page under its caption.
pub fn draw(page: &Page, count: usize, area: Rect, look: Look, buf: &mut Buffer) {
    let area = area.intersection(buf.area);
    if area.height < 2 || area.width < 12 {
        return;
    }
    let caption = clip(&caption(page, count), area.width as usize - 1);
    buf.set_string(area.x, area.y, caption, look.style(Role::Strong));
    let canvas = Rect { y: area.y + 1, height: area.height - 1, ..area };
    let sheet = Rect { width: sheet_width(page, canvas), ..canvas };
    paint(sheet, page.format.printed, look, buf, |pen, context| pen.sheet(context, page));
    let left = sheet.width + 2;
    let rest = Rect { x: canvas.x + left, width: canvas.width.saturating_sub(left), ..canvas };
    let seen = drawn(page).map(|block| shown(page, block)).reduce(Area::with);
    if let (Some(seen), true) = (seen, rest.width > 8) {
        paint(rest, seen, look, buf, |pen, context| {
            drawn(page).for_each(|block| pen.block(context, page, block));
        });
    }
}

/// Cells a sheet of paper takes at the height of the room, a third at most.
fn sheet_width(page: &Page, room: Rect) -> u16 {
    let printed = page.format.printed;
    let cells = f64::from(room.height) * 2.0 * (printed.width() / printed.height());
    (cells.ceil() as u16 + 1).min(room.width / 3)
}

fn caption(page: &Page, count: usize) -> String {
    let tile = page.tile().map_or(String::new(), |tile| {
        format!(
            ", tile {} of {} across, {} of {} down",
            tile.column + 1,
            tile.columns,
            tile.row + 1,
            tile.rows
        )
    });
    format!("page {} of {count}: {}{tile}", page.number, page.title)
}

/// What was drawn for this page, without what stands on every one.
fn drawn(page: &Page) -> impl Iterator<Item = &Block> {
    page.blocks.iter().filter(|block| !block.labels.is_empty())
}

/// The stretch of the page that a block takes.
fn shown(page: &Page, block: &Block) -> Area {
    block.clip.or_else(|| block.drawing.extent()).unwrap_or(page.format.room)
}

fn paint(
    area: Rect,
    seen: Area,
    look: Look,
    buf: &mut Buffer,
    draw: impl Fn(&Pen, &mut Context<'_>),
) {
    let bounds = [f64::from(area.width) * 2.0 - 1.0, f64::from(area.height) * 4.0 - 1.0];
    let size = [seen.width().in_millimetres(), seen.height().in_millimetres()];
    let dots = (bounds[0] / size[0].max(1.0)).min(bounds[1] / size[1].max(1.0));
    let pen = Pen { dots, least: seen.least.in_mm(), look };
    Canvas::default()
        .marker(Marker::Braille)
        .background_color(look.ground_color())
        .x_bounds([0.0, bounds[0]])
        .y_bounds([0.0, bounds[1]])
        .paint(|context| draw(&pen, context))
        .render(area, buf);
}

/// Draws in millimetres of the page.
struct Pen {
    dots: f64,
    least: [f64; 2],
    look: Look,
}

impl Pen {
    fn line(&self, context: &mut Context<'_>, from: Point, to: Point, role: Role) {
        let at = |point: Point| {
            let [x, y] = point.in_mm();
            [(x - self.least[0]) * self.dots, (y - self.least[1]) * self.dots]
        };
        let ([x1, y1], [x2, y2]) = (at(from).map(f64::round), at(to).map(f64::round));
        context.draw(&Line { x1, y1, x2, y2, color: self.look.color(role) });
    }

    fn round(&self, context: &mut Context<'_>, area: Area, role: Role) {
        let corners = area.corners();
        for (at, corner) in corners.iter().enumerate() {
            self.line(context, *corner, corners[(at + 1) % corners.len()], role);
        }
    }

    /// The paper, and a box for each block; a tile crossed in its map.
    fn sheet(&self, context: &mut Context<'_>, page: &Page) {
        self.round(context, page.format.printed, Role::Text);
        for block in drawn(page) {
            let area = shown(page, block);
            match block.tile {
                Some(tile) => self.map(context, page.format.room, tile),
                None => self.round(context, area, Role::Built),
            }
        }
    }

    /// The tiles of a figure in the room of the page, this one crossed.
    fn map(&self, context: &mut Context<'_>, room: Area, tile: Tile) {
        let (wide, high) =
            (room.width() / f64::from(tile.columns), room.height() / f64::from(tile.rows));
        for row in 0..tile.rows {
            for column in 0..tile.columns {
                let low = Point::new(
                    room.least.x + wide * f64::from(column),
                    room.most.y - high * f64::from(row + 1),
                );
                let area = Area::new(low, wide, high);
                self.round(context, area, Role::Built);
                if (column, row) == (tile.column, tile.row) {
                    self.line(context, area.least, area.most, Role::Strong);
                }
            }
        }
    }

    /// What is drawn; a text as the line it stands on.
    fn block(&self, context: &mut Context<'_>, page: &Page, block: &Block) {
        let window = shown(page, block);
        for item in &block.drawing.items {
            self.item(context, item, window);
        }
    }

    fn item(&self, context: &mut Context<'_>, item: &Item, window: Area) {
        match &item.shape {
            Shape::Line { points, run, .. } => {
                let first = points.first().filter(|_| *run != Run::Open);
                let all: Vec<Point> = points.iter().chain(first).copied().collect();
                for pair in all.windows(2) {
                    self.clipped(context, pair[0], pair[1], window, Role::Built);
                }
            }
            Shape::Text { at, size, turn, anchor, text } => {
                let wide = type_face::width(text, *size);
                let back = match anchor {
                    Anchor::Start => wide * 0.0,
                    Anchor::Middle => wide / 2.0,
                    Anchor::End => wide,
                };
                let (sin, cos) = turn.in_radians().sin_cos();
                let along = |by| at.moved(Point::new(by * cos, by * sin));
                self.clipped(context, along(-back), along(wide - back), window, Role::Faint);
            }
        }
    }

    /// The part of a line inside a window (the method of Liang and Barsky).
    fn clipped(&self, context: &mut Context<'_>, from: Point, to: Point, window: Area, role: Role) {
        let ([x0, y0], [x1, y1]) = (from.in_mm(), to.in_mm());
        let ([left, foot], [right, top]) = (window.least.in_mm(), window.most.in_mm());
        let (mut start, mut end) = (0.0_f64, 1.0_f64);
        let (dx, dy) = (x1 - x0, y1 - y0);
        for (step, room) in [(-dx, x0 - left), (dx, right - x0), (-dy, y0 - foot), (dy, top - y0)] {
            if step.abs() < 1e-12 {
                if room < 0.0 {
                    return;
                }
            } else if step < 0.0 {
                start = start.max(room / step);
            } else {
                end = end.min(room / step);
            }
        }
        if start <= end {
            let at = |share: f64| Point::of_mm([x0 + dx * share, y0 + dy * share]);
            self.line(context, at(start), at(end), role);
        }
    }
}
