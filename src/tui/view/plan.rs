//! The ground from above, to scale in dots: outline, track, the car at its
//! nearest, what it sweeps, and the building as built.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Color;
use ratatui::symbols::Marker;
use ratatui::widgets::Widget;
use ratatui::widgets::canvas::{Canvas, Context, Line, Points};

use super::palette::{Look, Role};
use super::text::clip;
use crate::compress::Standpoint;
use crate::site::Track;

/// Model inches drawn beyond the outline, so that the track comes into sight.
const BEYOND: f64 = 0.4;

/// Draws the ground under a caption.
pub fn draw(stand: &Standpoint, caption: &str, area: Rect, look: Look, buf: &mut Buffer) {
    let area = area.intersection(buf.area);
    if area.height < 3 || area.width < 12 {
        return;
    }
    let caption = clip(caption, area.width as usize - 1);
    buf.set_string(area.x, area.y, caption, look.style(Role::Built));
    let canvas = Rect { y: area.y + 1, height: area.height - 1, ..area };
    let dots = [f64::from(canvas.width) * 2.0 - 1.0, f64::from(canvas.height) * 4.0 - 1.0];
    let pen = Pen::new(&in_sight(stand), dots, look);
    Canvas::default()
        .marker(Marker::Braille)
        .background_color(look.ground_color())
        .x_bounds([0.0, dots[0]])
        .y_bounds([0.0, dots[1]])
        .paint(|context| pen.site(context, stand))
        .render(canvas, buf);
}

/// The points that must be seen: the outline, and the centre line beside it.
fn in_sight(stand: &Standpoint) -> Vec<[f64; 2]> {
    let mut points = stand.survey.ground.outline().to_vec();
    if let Some(track) = &stand.survey.track {
        let [low, high] = bounds(&points);
        let reach = track.reach.inside.in_inches().max(track.reach.outside.in_inches());
        let near = |point: &[f64; 2]| {
            (0..2).all(|axis| {
                point[axis] > low[axis] - 2.5 * reach && point[axis] < high[axis] + 2.5 * reach
            })
        };
        let beside = |point: &[f64; 2]| point[0] > low[0] && point[0] < high[0];
        points.extend(arc(track, 0.0).into_iter().filter(|it| near(it) && beside(it)));
    }
    points
}

/// Least and most of both axes.
fn bounds(points: &[[f64; 2]]) -> [[f64; 2]; 2] {
    let start = [[f64::INFINITY; 2], [f64::NEG_INFINITY; 2]];
    points.iter().fold(start, |[low, high], point| {
        [
            [low[0].min(point[0]), low[1].min(point[1])],
            [high[0].max(point[0]), high[1].max(point[1])],
        ]
    })
}

/// Points on a circle that lies so far outside the centre line.
fn arc(track: &Track, out: f64) -> Vec<[f64; 2]> {
    let radius = track.radius.in_inches() + out;
    (0..3600)
        .map(|step| f64::from(step).to_radians() / 10.0)
        .map(|at| [track.centre[0] + radius * at.cos(), track.centre[1] + radius * at.sin()])
        .collect()
}

/// Corners of the car where it stands nearest to the building, or to the middle
/// of the outline.
fn car(track: &Track, beside: [f64; 2]) -> [[f64; 2]; 4] {
    let to = [beside[0] - track.centre[0], beside[1] - track.centre[1]];
    let far = to[0].hypot(to[1]).max(1e-9);
    let (cos, sin) = (to[0] / far, to[1] / far);
    let (half, wide) = (0.5 * track.car_length.in_inches(), 0.5 * track.car_width.in_inches());
    // The trucks stand on the centre line, the middle a little inside it.
    let middle = track.radius.in_inches() + wide - track.reach.inside.in_inches();
    let at = |along: f64, out: f64| {
        let out = middle + out;
        [track.centre[0] + out * cos - along * sin, track.centre[1] + out * sin + along * cos]
    };
    [at(-half, -wide), at(half, -wide), at(half, wide), at(-half, wide)]
}

/// Draws in model inches; whole dots.
struct Pen {
    low: [f64; 2],
    dots: f64,
    look: Look,
}

impl Pen {
    fn new(points: &[[f64; 2]], room: [f64; 2], look: Look) -> Self {
        let [low, high] = bounds(points);
        let size = [high[0] - low[0] + 2.0 * BEYOND, high[1] - low[1] + 2.0 * BEYOND];
        let dots = (room[0] / size[0].max(1e-9)).min(room[1] / size[1].max(1e-9));
        Self { low: [low[0] - BEYOND, low[1] - BEYOND], dots, look }
    }

    fn dot(&self, point: [f64; 2]) -> (f64, f64) {
        let at = |axis: usize| ((point[axis] - self.low[axis]) * self.dots).round();
        (at(0), at(1))
    }

    fn site(&self, context: &mut Context<'_>, stand: &Standpoint) {
        let color = |role| self.look.color(role);
        if let Some(track) = &stand.survey.track {
            self.scatter(context, &arc(track, 0.0), 1, color(Role::Text));
            let (inside, outside) = (track.reach.inside, track.reach.outside);
            self.scatter(context, &arc(track, outside.in_inches()), 3, color(Role::Look));
            self.scatter(context, &arc(track, -inside.in_inches()), 3, color(Role::Look));
            let beside = stand.built.map_or([0.0; 2], |it| {
                let [a, b, ..] = it.corners();
                [0.5 * (a[0] + b[0]), 0.5 * (a[1] + b[1])]
            });
            self.closed(context, &car(track, beside), color(Role::Text));
        }
        self.closed(context, stand.survey.ground.outline(), color(Role::Prototype));
        if let Some(built) = &stand.built {
            self.closed(context, &built.corners(), color(Role::Built));
        }
    }

    fn closed(&self, context: &mut Context<'_>, corners: &[[f64; 2]], color: Color) {
        for (a, b) in corners.iter().zip(corners.iter().cycle().skip(1)) {
            let ((x1, y1), (x2, y2)) = (self.dot(*a), self.dot(*b));
            context.draw(&Line { x1, y1, x2, y2, color });
        }
    }

    /// One dot in so many, by its column, so that lines differ without colour.
    fn scatter(&self, context: &mut Context<'_>, points: &[[f64; 2]], one_in: i64, color: Color) {
        let mut dots: Vec<(f64, f64)> = points.iter().map(|point| self.dot(*point)).collect();
        dots.retain(|(x, y)| (*x as i64 + *y as i64).rem_euclid(one_in) == 0);
        dots.dedup();
        context.draw(&Points { coords: &dots, color });
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::ModelLength;
    use crate::site::Reach;

    fn track() -> Track {
        let inches = ModelLength::inches;
        Track {
            centre: [4.0, -31.0],
            radius: inches(30.0),
            inside: false,
            reach: Reach { inside: inches(1.070), outside: inches(1.044) },
            car_length: inches(7.6875),
            car_width: inches(1.875),
            margin: inches(0.125),
        }
    }

    #[test]
    fn the_car_reaches_as_far_as_it_is_said_to() {
        let track = track();
        let out = |point: [f64; 2]| (point[0] - 4.0).hypot(point[1] + 31.0) - 30.0;
        let far = car(&track, [4.0, 0.0]).into_iter().map(out).fold(f64::MIN, f64::max);
        assert!((far - 1.044).abs() < 0.001, "{far}");
        let middle = car(&track, [4.0, 0.0]);
        let inner = [0.5 * (middle[0][0] + middle[1][0]), 0.5 * (middle[0][1] + middle[1][1])];
        assert!((out(inner) + 1.070).abs() < 0.001);
    }
}
