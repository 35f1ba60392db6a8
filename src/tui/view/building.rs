//! The building, drawn to scale in dots: the prototype and what will be
//! built, at one scale, with a striped survey staff of six feet.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Color;
use ratatui::symbols::Marker;
use ratatui::widgets::Widget;
use ratatui::widgets::canvas::{Canvas, Context, Line, Points, Rectangle};

use super::palette::{Look, Role};
use super::text::clip;
use crate::elevation::{Elevation, Hole, Span};
use crate::quantity::Space;

/// A face as it is drawn, in feet; its space is told by where it stands.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Outline {
    /// What stands over it.
    pub caption: String,
    /// From corner to corner.
    pub length: f64,
    /// Foot of the wall to eave.
    pub eave: f64,
    /// Foot of the wall to ridge.
    pub ridge: f64,
    /// Whether the gable stands on it.
    pub gable: bool,
    /// Doors and windows: left, foot, width, height.
    pub holes: Vec<[f64; 4]>,
    /// What is marked: left and right edge.
    pub marked: Vec<[f64; 2]>,
    /// What it was shortened from, drawn thin behind it: length, eave, ridge.
    pub ghost: Option<[f64; 3]>,
    /// Length of the car that stands in front of it.
    pub car: Option<f64>,
}

impl Outline {
    /// The outline of a face; `marked` says which elements, as `face/element`.
    #[must_use]
    pub fn of<S: Space>(face: &Elevation<S>, caption: String, marked: &[String]) -> Self {
        Self {
            caption,
            length: face.length.in_feet(),
            eave: face.height.in_feet(),
            ridge: face.ridge.in_feet(),
            gable: face.gable,
            holes: face.holes.iter().map(hole).collect(),
            marked: face
                .spans
                .iter()
                .filter(|span| marked.iter().any(|path| is_marked(&face.name, span, path)))
                .map(|span| [span.left.in_feet(), span.right.in_feet()])
                .collect(),
            ghost: None,
            car: None,
        }
    }

    /// The same in front of what it was shortened from.
    #[must_use]
    pub fn before(self, original: &Self) -> Self {
        Self { ghost: Some([original.length, original.eave, original.ridge]), ..self }
    }

    /// The walls and the roof as lines.
    fn edges(&self) -> Vec<([f64; 2], [f64; 2])> {
        let (long, eave, ridge) = (self.length, self.eave, self.ridge.max(self.eave));
        let top =
            if self.gable { vec![[0.5 * long, ridge]] } else { vec![[long, ridge], [0.0, ridge]] };
        let foot = [[0.0, 0.0], [long, 0.0], [long, eave]];
        let corners: Vec<_> = foot.into_iter().chain(top).chain([[0.0, eave]]).collect();
        around(&corners)
    }

    fn height(&self) -> f64 {
        self.ridge.max(self.eave).max(STAFF)
    }
}

/// The sides of a closed figure.
fn around(corners: &[[f64; 2]]) -> Vec<([f64; 2], [f64; 2])> {
    let next = corners.iter().cycle().skip(1);
    corners.iter().copied().zip(next.copied()).collect()
}

fn hole<S: Space>(hole: &Hole<S>) -> [f64; 4] {
    [hole.left, hole.foot, hole.width, hole.height].map(|length| length.in_feet())
}

/// Whether `path` names the span by its label, by the element all its repeats
/// share, or by an opening in it.
fn is_marked<S: Space>(face: &str, span: &Span<S>, path: &str) -> bool {
    let Some(name) = path.strip_prefix(face).and_then(|rest| rest.strip_prefix('/')) else {
        return false;
    };
    name == span.label || name == span.element || name.starts_with(&format!("{}:", span.label))
}

/// Height of the survey staff, in feet.
const STAFF: f64 = 6.0;
/// Body of a car over the rail: foot and top, feet (common practice, no source).
const CAR: [f64; 2] = [3.5, 13.0];
/// Dots left free at the left of a face for the staff.
const BESIDE: f64 = 8.0;

/// Where a face stands: its cells, and how many dots a foot is.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Stand {
    area: Rect,
    dots: f64,
}

/// Draws the faces; the second, if there is one, at the scale of the first.
pub fn draw(faces: &[Outline], area: Rect, look: Look, buf: &mut Buffer) {
    let roles = [Role::Prototype, Role::Built];
    for ((face, stand), role) in faces.iter().zip(arrange(faces, area)).zip(roles) {
        one(face, stand, look, role, buf);
    }
}

/// One above the other, or side by side where that makes them clearly larger.
fn arrange(faces: &[Outline], area: Rect) -> Vec<Stand> {
    let count = faces.len().max(1) as u16;
    let stacked = rows(area, count);
    let across = columns(area, faces);
    let scale = |areas: &[Rect]| {
        let each = faces.iter().zip(areas).map(|(face, area)| fitting(face, *area));
        each.fold(f64::INFINITY, f64::min)
    };
    let (up, side) = (scale(&stacked), scale(&across));
    let (areas, dots) = if side > 1.15 * up { (across, side) } else { (stacked, up) };
    areas.into_iter().map(|area| Stand { area, dots }).collect()
}

fn rows(area: Rect, count: u16) -> Vec<Rect> {
    let high = area.height / count;
    (0..count).map(|n| Rect { y: area.y + n * high, height: high, ..area }).collect()
}

/// Columns as wide as the faces are long.
fn columns(area: Rect, faces: &[Outline]) -> Vec<Rect> {
    let beside = BESIDE / 2.0 + 1.0;
    let room = f64::from(area.width) - beside * faces.len() as f64;
    let total: f64 = faces.iter().map(|face| face.length).sum();
    let mut x = area.x;
    faces
        .iter()
        .map(|face| {
            let width = (room.max(0.0) * face.length / total.max(1.0) + beside).floor() as u16;
            let width = width.min(area.right().saturating_sub(x));
            let column = Rect { x, width, ..area };
            x += width;
            column
        })
        .collect()
}

/// Dots to the foot at which a face fits under its caption.
fn fitting(face: &Outline, area: Rect) -> f64 {
    let wide = f64::from(area.width) * 2.0 - BESIDE - 4.0;
    let high = f64::from(area.height.saturating_sub(1)) * 4.0 - 2.0;
    (wide / face.length.max(1.0)).min(high / face.height().max(1.0)).max(0.0)
}

fn one(face: &Outline, stand: Stand, look: Look, role: Role, buf: &mut Buffer) {
    let Stand { area, dots } = stand;
    let area = area.intersection(buf.area);
    if area.height < 2 || area.width < 8 {
        return;
    }
    let caption = clip(&face.caption, area.width as usize - 1);
    buf.set_string(area.x, area.y, caption, look.style(role));
    let canvas = Rect { y: area.y + 1, height: area.height - 1, ..area };
    let bounds = [f64::from(canvas.width) * 2.0 - 1.0, f64::from(canvas.height) * 4.0 - 1.0];
    Canvas::default()
        .marker(Marker::Braille)
        .background_color(look.ground_color())
        .x_bounds([0.0, bounds[0]])
        .y_bounds([0.0, bounds[1]])
        .paint(|context| {
            let pen = Pen { dots, color: look.color(role), look };
            pen.face(context, face);
        })
        .render(canvas, buf);
}

/// Draws in feet; whole dots, so that equal things look equal.
struct Pen {
    dots: f64,
    color: Color,
    look: Look,
}

impl Pen {
    fn x(&self, feet: f64) -> f64 {
        (BESIDE + feet * self.dots).round()
    }

    fn y(&self, feet: f64) -> f64 {
        (feet * self.dots).round()
    }

    fn line(&self, context: &mut Context<'_>, from: [f64; 2], to: [f64; 2], color: Color) {
        let (x1, y1) = (self.x(from[0]), self.y(from[1]));
        let (x2, y2) = (self.x(to[0]), self.y(to[1]));
        context.draw(&Line { x1, y1, x2, y2, color });
    }

    fn face(&self, context: &mut Context<'_>, face: &Outline) {
        self.staff(context);
        if let Some([length, eave, ridge]) = face.ghost {
            let ghost = Outline { length, eave, ridge, gable: face.gable, ..Outline::default() };
            self.thin(context, &ghost.edges(), 3, self.look.color(Role::Prototype));
        }
        if let Some(length) = face.car {
            let [foot, top] = CAR;
            let corners = [[0.0, foot], [length, foot], [length, top], [0.0, top]];
            self.thin(context, &around(&corners), 2, self.look.color(Role::Text));
        }
        for marked in &face.marked {
            self.hatch(context, *marked, face.eave);
        }
        let [left, right] = [0.0, face.length];
        self.line(context, [left, 0.0], [left, face.eave], self.color);
        self.line(context, [right, 0.0], [right, face.eave], self.color);
        self.line(context, [left, 0.0], [right, 0.0], self.color);
        self.line(context, [left, face.eave], [right, face.eave], self.color);
        self.roof(context, face);
        for hole in &face.holes {
            self.hole(context, *hole);
        }
    }

    /// Lines of one dot in so many, so that what stands before them is seen.
    fn thin(
        &self,
        context: &mut Context<'_>,
        lines: &[([f64; 2], [f64; 2])],
        one_in: i64,
        color: Color,
    ) {
        let mut dots = Vec::new();
        for (a, b) in lines {
            let (from, to) = ((self.x(a[0]), self.y(a[1])), (self.x(b[0]), self.y(b[1])));
            let steps = (to.0 - from.0).abs().max((to.1 - from.1).abs()).max(1.0);
            // A screen has a few hundred dots.
            for step in (0..=steps as i64).filter(|step| step % one_in == 0) {
                let part = step as f64 / steps;
                let at = |from: f64, to: f64| (from + part * (to - from)).round();
                dots.push((at(from.0, to.0), at(from.1, to.1)));
            }
        }
        context.draw(&Points { coords: &dots, color });
    }

    fn roof(&self, context: &mut Context<'_>, face: &Outline) {
        let (eave, ridge, right) = (face.eave, face.ridge, face.length);
        if ridge <= eave {
            return;
        }
        if face.gable {
            let top = [right / 2.0, ridge];
            self.line(context, [0.0, eave], top, self.color);
            self.line(context, top, [right, eave], self.color);
        } else {
            self.line(context, [0.0, ridge], [right, ridge], self.color);
            self.line(context, [0.0, eave], [0.0, ridge], self.color);
            self.line(context, [right, eave], [right, ridge], self.color);
        }
    }

    fn hole(&self, context: &mut Context<'_>, [left, foot, wide, high]: [f64; 4]) {
        let (x, y) = (self.x(left), self.y(foot));
        let (width, height) = (self.x(left + wide) - x, self.y(foot + high) - y);
        context.draw(&Rectangle { x, y, width, height, color: self.color });
    }

    /// Every other dot between the edges: seen without colour.
    fn hatch(&self, context: &mut Context<'_>, [left, right]: [f64; 2], eave: f64) {
        let (from, to, top) = (self.x(left) as i64, self.x(right) as i64, self.y(eave) as i64);
        let dots: Vec<(f64, f64)> = (from..=to)
            .flat_map(|x| (0..=top).map(move |y| (x, y)))
            .filter(|(x, y)| (x + y) % 2 == 0)
            .map(|(x, y)| (x as f64, y as f64))
            .collect();
        context.draw(&Points { coords: &dots, color: self.look.color(Role::Strong) });
    }

    /// Feet one and one, filled and open.
    fn staff(&self, context: &mut Context<'_>) {
        let color = self.look.color(Role::Text);
        let dots: Vec<(f64, f64)> = (0..=self.y(STAFF) as i64)
            .filter(|y| ((*y as f64 / self.dots.max(1e-9)) as i64) % 2 == 0)
            .flat_map(|y| [(1.0, y as f64), (2.0, y as f64)])
            .collect();
        context.draw(&Points { coords: &dots, color });
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn face(length: f64) -> Outline {
        Outline { length, eave: 18.0, ridge: 26.0, ..Outline::default() }
    }

    #[test]
    fn faces_share_one_scale_and_stay_inside() {
        let area = Rect::new(0, 0, 70, 8);
        for faces in
            [vec![face(96.0)], vec![face(96.0), face(67.0)], vec![face(212.0), face(114.0)]]
        {
            let stands = arrange(&faces, area);
            assert_eq!(stands.len(), faces.len());
            for (stand, face) in stands.iter().zip(&faces) {
                assert!((stand.dots - stands[0].dots).abs() < 1e-12);
                assert!(face.length * stand.dots + BESIDE <= f64::from(stand.area.width) * 2.0);
                assert!(stand.area.right() <= area.right() && stand.area.bottom() <= area.bottom());
            }
        }
    }

    #[test]
    fn nothing_is_drawn_where_there_is_no_room() {
        for (wide, high) in [(0, 0), (1, 1), (7, 3), (70, 1)] {
            let area = Rect::new(0, 0, wide, high);
            let mut buf = Buffer::empty(area);
            draw(&[face(96.0), face(67.0)], area, Look::default(), &mut buf);
        }
    }
}
