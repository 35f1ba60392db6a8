//! Running dimensions: every joint of a row measured from one zero, as the
//! trade marks out, so that errors do not add up from joint to joint.

use super::shape::{Anchor, Drawing, Layer, Point, mm};
use crate::quantity::{Angle, PaperLength};

/// One joint of a row.
#[derive(Clone, Debug, PartialEq)]
pub struct Joint {
    /// From the zero.
    pub at: PaperLength,
    /// What is written at it.
    pub text: String,
}

/// Which way a row runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// To the right; figures stand upright below the line.
    Right,
    /// Upwards; figures stand level at the left.
    Up,
}

/// Size of the figures.
#[must_use]
pub fn figures() -> PaperLength {
    mm(2.3)
}

/// A figure stands no further from its tick than this.
const REACH_MM: f64 = 5.0;

/// Every how many joints a figure stands, so that figures keep near their
/// ticks: all, or every second, third and so on of a crowded row.
#[must_use]
pub fn every(joints: &[Joint]) -> usize {
    let mut places: Vec<PaperLength> = joints.iter().map(|joint| joint.at).collect();
    places.sort_by(PaperLength::total_cmp);
    let near = |every: &usize| {
        let mut free = PaperLength::millimetres(-1e6);
        places.iter().step_by(*every).all(|place| {
            let at = place.max(free);
            free = at + figures() * 1.05;
            at - *place <= mm(REACH_MM)
        })
    };
    (1..places.len().max(2)).find(near).unwrap_or(places.len().max(1))
}

/// Draws a row of running dimensions on paper alone: a line from the zero, a
/// tick at each joint, the figure square to the line. A figure too near the
/// one before is shifted along with a bent tick; in a crowded row only every
/// second, third and so on has a figure, and the last.
pub fn draw(drawing: &mut Drawing, zero: Point, way: Way, joints: &[Joint]) {
    let Some(last) = joints.iter().map(|joint| joint.at).reduce(PaperLength::max) else { return };
    let place = |along: PaperLength, off: PaperLength| match way {
        Way::Right => zero.moved(Point::new(along, -off)),
        Way::Up => zero.moved(Point::new(-off, along)),
    };
    let line = |drawing: &mut Drawing, points: &[Point]| drawing.line(Layer::Note, points);
    line(drawing, &[place(PaperLength::ZERO, mm(0.0)), place(last, mm(0.0))]);
    let (size, gap) = (figures(), figures() * 1.05);
    let mut sorted: Vec<&Joint> = joints.iter().collect();
    sorted.sort_by(|a, b| a.at.total_cmp(&b.at));
    let mut free = PaperLength::millimetres(-1e6);
    let (every, count) = (every(joints), sorted.len());
    for (number, joint) in sorted.into_iter().enumerate() {
        line(drawing, &[place(joint.at, mm(-1.2)), place(joint.at, mm(1.2))]);
        let near_last = number + every > count - 1 && number + 1 < count;
        if number % every != 0 && number + 1 < count || near_last && every > 1 {
            continue;
        }
        let at = joint.at.max(free);
        free = at + gap;
        line(drawing, &[place(joint.at, mm(1.2)), place(at, mm(3.0))]);
        // The middle of the figures stands on the tick.
        let middle = size * 0.36;
        let (turn, at) = match way {
            Way::Right => (Angle::degrees(90.0), place(at + middle, mm(3.6))),
            Way::Up => (Angle::degrees(0.0), place(at - middle, mm(3.6))),
        };
        drawing.turned(Layer::Note, at, size, (turn, Anchor::End), &joint.text);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::Shape;

    #[test]
    fn crowded_figures_are_spread_and_none_is_lost() {
        let joints: Vec<Joint> = (0..20)
            .map(|n| Joint { at: mm(f64::from(n) * 2.2 + f64::from(n % 2)), text: format!("{n}") })
            .collect();
        let mut drawing = Drawing::default();
        draw(&mut drawing, Point::default(), Way::Right, &joints);
        let texts: Vec<PaperLength> = drawing
            .items
            .iter()
            .filter_map(|item| match &item.shape {
                Shape::Text { at, .. } => Some(at.x),
                Shape::Line { .. } => None,
            })
            .collect();
        assert_eq!(texts.len(), 20);
        assert!(texts.windows(2).all(|pair| pair[1] - pair[0] >= figures()));
    }

    #[test]
    fn a_row_too_crowded_has_every_third_figure_and_the_last() {
        let joints: Vec<Joint> =
            (0..200).map(|n| Joint { at: mm(f64::from(n) * 0.9), text: format!("{n}") }).collect();
        assert_eq!(every(&joints), 3);
        let mut drawing = Drawing::default();
        draw(&mut drawing, Point::default(), Way::Right, &joints);
        let area = drawing.extent().expect("something is drawn");
        assert!(area.width() < mm(200.0), "figures keep near their ticks");
        let last = drawing
            .items
            .iter()
            .any(|item| matches!(&item.shape, Shape::Text { text, .. } if text == "199"));
        assert!(last);
    }
}
