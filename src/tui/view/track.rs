//! The clearance drawn: the plan with the envelopes, and the section at the
//! tightest place.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Color;
use ratatui::symbols::Marker;
use ratatui::widgets::Widget;
use ratatui::widgets::canvas::{Canvas, Context, Line, Points};

use super::palette::{Look, Role};
use super::text::clip;
use crate::clearance::{Clearance, Cut, Kind, Picture};
use crate::finding::Subject;

/// Draws the plan, and beside it the section where there is room.
pub fn draw(found: &Clearance, marked: Option<&Subject>, area: Rect, look: Look, buf: &mut Buffer) {
    let picture = &found.picture;
    let Some(cut) = picture.section.as_ref().filter(|_| area.width >= 40) else {
        plan(found, picture, marked, area, look, buf);
        return;
    };
    let right = (area.width / 3).max(area.height * 2).min(area.width / 2);
    let left = Rect { width: area.width - right, ..area };
    plan(found, picture, marked, left, look, buf);
    let right = Rect { x: left.right(), width: right, ..area };
    section(found, cut, right, look, buf);
}

fn color(kind: Kind, look: Look) -> Color {
    look.color(match kind {
        Kind::Car => Role::Built,
        Kind::Rule | Kind::Outline => Role::Prototype,
    })
}

fn plan(
    found: &Clearance,
    picture: &Picture,
    marked: Option<&Subject>,
    area: Rect,
    look: Look,
    buf: &mut Buffer,
) {
    let caption = "plan: cars reach to the lines, rules to the dots";
    let edges = picture.edges.iter().flat_map(|(_, sides)| sides.iter().flatten());
    // The far walls would make the near ones small.
    let points = picture.track.iter().chain(edges).copied();
    let Some(sheet) = Sheet::new(points, area, caption, look, buf) else { return };
    sheet.paint(look, buf, |context, pen| {
        for (kind, sides) in &picture.edges {
            for side in sides {
                match kind {
                    Kind::Car => pen.line(context, side, color(*kind, look)),
                    Kind::Rule | Kind::Outline => pen.dotted(context, side, color(*kind, look)),
                }
            }
        }
        pen.dots(context, &picture.track, look.color(Role::Faint));
        for (at, ends) in &picture.things {
            let thing = found.checked.get(*at);
            let here = thing.is_some_and(|thing| Some(&thing.subject) == marked);
            let ink = if here { Role::Strong } else { Role::Text };
            pen.thing(context, *ends, look.color(ink));
        }
    });
}

fn section(found: &Clearance, cut: &Cut, area: Rect, look: Look, buf: &mut Buffer) {
    let name = found.checked.get(cut.thing).map_or("", |it| it.name.as_str());
    let caption = format!("section at {name}");
    let outlines = || cut.outlines.iter().map(|(kind, _, points)| (*kind, outline(points)));
    // A rule without a height goes up without end; the cars say what is seen.
    let top = cut.outlines.iter().filter(|(kind, ..)| *kind == Kind::Car);
    let top = top.flat_map(|(_, _, points)| points).map(|point| point[2]).fold(0.5, f64::max) * 1.6;
    let low = |point: &[f64; 2]| point[1] <= top;
    let all = outlines().flat_map(|(_, points)| points);
    let things = cut.things.iter().flat_map(|(_, ends)| ends).copied();
    let points = all.chain([[0.0, 0.0]]).chain(things).filter(low);
    let Some(sheet) = Sheet::new(points, area, &caption, look, buf) else { return };
    sheet.paint(look, buf, |context, pen| {
        for (kind, points) in outlines() {
            match kind {
                Kind::Car => pen.line(context, &points, color(kind, look)),
                Kind::Rule | Kind::Outline => pen.dotted(context, &points, color(kind, look)),
            }
        }
        for (at, ends) in &cut.things {
            let ink = if *at == cut.thing { Role::Strong } else { Role::Text };
            pen.thing(context, *ends, look.color(ink));
        }
    });
}

/// Up one side and down the other; out counts to the left, so it is turned.
fn outline(points: &[[f64; 3]]) -> Vec<[f64; 2]> {
    let left = points.iter().map(|[left, _, high]| [-left, *high]);
    let right = points.iter().rev().map(|[_, right, high]| [*right, *high]);
    let mut all: Vec<[f64; 2]> = left.chain(right).collect();
    all.extend(all.first().copied());
    all
}

/// A place to draw on: cells, and how inches go to dots.
struct Sheet {
    area: Rect,
    bounds: [f64; 2],
    low: [f64; 2],
    dots: f64,
    shift: [f64; 2],
}

impl Sheet {
    /// Writes the caption and fits the points under it; nothing where there is
    /// no room or nothing to see.
    fn new(
        points: impl Iterator<Item = [f64; 2]>,
        area: Rect,
        caption: &str,
        look: Look,
        buf: &mut Buffer,
    ) -> Option<Self> {
        let area = area.intersection(buf.area);
        if area.height < 2 || area.width < 8 {
            return None;
        }
        let (mut low, mut high) = ([f64::INFINITY; 2], [f64::NEG_INFINITY; 2]);
        for point in points {
            for axis in 0..2 {
                low[axis] = low[axis].min(point[axis]);
                high[axis] = high[axis].max(point[axis]);
            }
        }
        if !(high[0] >= low[0] && high[1] >= low[1]) {
            return None;
        }
        let caption = clip(caption, area.width as usize - 1);
        buf.set_string(area.x, area.y, caption, look.style(Role::Faint));
        let canvas = Rect { y: area.y + 1, height: area.height - 1, ..area };
        let bounds = [f64::from(canvas.width) * 2.0 - 1.0, f64::from(canvas.height) * 4.0 - 1.0];
        let span = [high[0] - low[0], high[1] - low[1]].map(|span| span.max(0.1));
        let dots = ((bounds[0] - 2.0) / span[0]).min((bounds[1] - 1.0) / span[1]);
        let shift = [0, 1].map(|axis| (bounds[axis] - span[axis] * dots) / 2.0);
        Some(Self { area: canvas, bounds, low, dots, shift })
    }

    fn paint(&self, look: Look, buf: &mut Buffer, draw: impl Fn(&mut Context<'_>, &Self)) {
        Canvas::default()
            .marker(Marker::Braille)
            .background_color(look.ground_color())
            .x_bounds([0.0, self.bounds[0]])
            .y_bounds([0.0, self.bounds[1]])
            .paint(|context| draw(context, self))
            .render(self.area, buf);
    }

    fn at(&self, point: [f64; 2]) -> [f64; 2] {
        [0, 1].map(|axis| (self.shift[axis] + (point[axis] - self.low[axis]) * self.dots).round())
    }

    fn line(&self, context: &mut Context<'_>, points: &[[f64; 2]], color: Color) {
        for pair in points.windows(2) {
            self.stroke(context, [pair[0], pair[1]], color);
        }
    }

    fn stroke(&self, context: &mut Context<'_>, ends: [[f64; 2]; 2], color: Color) {
        let [[x1, y1], [x2, y2]] = ends.map(|end| self.at(end));
        context.draw(&Line { x1, y1, x2, y2, color });
    }

    fn dots(&self, context: &mut Context<'_>, points: &[[f64; 2]], color: Color) {
        let coords: Vec<(f64, f64)> =
            points.iter().map(|it| self.at(*it)).map(|[x, y]| (x, y)).collect();
        context.draw(&Points { coords: &coords, color });
    }

    /// A line of which every third dot is set.
    fn dotted(&self, context: &mut Context<'_>, points: &[[f64; 2]], color: Color) {
        let (mut coords, mut walked) = (Vec::new(), 0.0);
        for pair in points.windows(2) {
            let [from, to] = [self.at(pair[0]), self.at(pair[1])];
            let span = [to[0] - from[0], to[1] - from[1]];
            let long = span[0].hypot(span[1]);
            while walked < long {
                let share = walked / long;
                coords.push((from[0] + span[0] * share, from[1] + span[1] * share));
                walked += 3.0;
            }
            walked -= long;
        }
        context.draw(&Points { coords: &coords, color });
    }

    /// A line, and a point where it is seen end on: two dots each way.
    fn thing(&self, context: &mut Context<'_>, ends: [[f64; 2]; 2], color: Color) {
        let [[x1, y1], [x2, y2]] = ends.map(|end| self.at(end));
        if (x1 - x2).abs() + (y1 - y2).abs() < 1.5 {
            let coords = [(x1, y1), (x1 + 1.0, y1), (x1, y1 + 1.0), (x1 + 1.0, y1 + 1.0)];
            context.draw(&Points { coords: &coords, color });
        } else {
            context.draw(&Line { x1, y1, x2, y2, color });
        }
    }
}
