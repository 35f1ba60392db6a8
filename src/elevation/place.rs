//! Elements stood side by side: one routine for the prototype and for every
//! shortened version of it.

use super::sized::{Element, Face, Kind, Opening, Placed, Role};
use super::{Body, Elevation, Hole, Span, SpanKind};
use crate::job::face::Times;
use crate::quantity::{Length, Prototype, PrototypeLength, Space};

/// How a row is to be placed: what each width and count becomes.
pub trait Fit<S: Space> {
    /// What a size becomes that is never shortened.
    fn keep(&self, size: PrototypeLength) -> Length<S>;
    /// What the width of an element becomes. `group` is empty except for plain
    /// wall.
    fn width(&self, element: &str, group: &str, size: PrototypeLength) -> Length<S>;
    /// How often an element is repeated.
    fn count(&self, element: &str, times: &Times) -> u32;
}

/// As the prototype is.
#[derive(Clone, Copy, Debug)]
pub struct AsFound;

impl Fit<Prototype> for AsFound {
    fn keep(&self, size: PrototypeLength) -> PrototypeLength {
        size
    }
    fn width(&self, _: &str, _: &str, size: PrototypeLength) -> PrototypeLength {
        size
    }
    fn count(&self, _: &str, times: &Times) -> u32 {
        times.count
    }
}

/// Lays out one face. A face without a row is plain wall as long as its part
/// in the body asks for.
pub fn lay<S: Space>(face: &Face, body: &Body<S>, role: Role, fit: &impl Fit<S>) -> Elevation<S> {
    let mut row = Row { fit, at: Length::ZERO, spans: Vec::new(), holes: Vec::new() };
    row.elements(&face.row, "");
    if face.row.is_empty() {
        let along = match role {
            Role::Front | Role::Side => body.length,
            Role::End => body.depth,
            Role::Other => face.length.map_or(Length::ZERO, |length| fit.keep(length)),
        };
        row.span("wall", "wall", along, SpanKind::Plain);
    }
    row.placed(&face.openings);
    Elevation {
        name: face.name.clone(),
        title: face.title.clone(),
        length: row.at,
        height: face.height.map_or(body.eave, |height| fit.keep(height)),
        ridge: face.ridge.map_or(body.ridge, |ridge| fit.keep(ridge)),
        gable: face.gable,
        spans: row.spans,
        holes: row.holes,
    }
}

struct Row<'a, S: Space, F> {
    fit: &'a F,
    at: Length<S>,
    spans: Vec<Span<S>>,
    holes: Vec<Hole<S>>,
}

impl<S: Space, F: Fit<S>> Row<'_, S, F> {
    fn elements(&mut self, row: &[Element], before: &str) {
        for element in row {
            self.element(element, before);
        }
    }

    fn element(&mut self, element: &Element, before: &str) {
        let name = element.name.as_str();
        let label = format!("{before}{name}");
        match &element.kind {
            Kind::Corner { width } => {
                let width = self.fit.width(name, "", *width);
                self.span(&label, name, width, SpanKind::Corner);
            }
            Kind::Plain { width, group, .. } => {
                let width = self.fit.width(name, group, *width);
                self.span(&label, name, width, SpanKind::Plain);
            }
            Kind::Opening { opening, .. } => self.opening(&label, name, opening),
            Kind::Bays { width, cycle, times, .. } => {
                let width = self.fit.width(name, "", *width);
                for number in 0..self.fit.count(name, times) {
                    let openings = cycle.get(number as usize % cycle.len().max(1));
                    let label = format!("{label}#{}", number + 1);
                    self.bay(&label, name, width, openings.map_or(&[], Vec::as_slice));
                }
            }
            Kind::Repeat { row, times } => {
                for number in 1..=self.fit.count(name, times) {
                    self.elements(row, &format!("{label}#{number}/"));
                }
            }
        }
    }

    /// Openings at their own place, those that the wall still has.
    fn placed(&mut self, openings: &[Placed]) {
        let hair = Length::inches(1.0 / 64.0);
        for placed in openings {
            let left = self.fit.keep(placed.at);
            if left + self.fit.keep(placed.opening.width) <= self.at + hair {
                self.hole(placed.label.clone(), left, &placed.opening);
            }
        }
    }

    fn opening(&mut self, label: &str, name: &str, opening: &Opening) {
        let left = self.at;
        self.span(label, name, self.fit.keep(opening.width), SpanKind::Opening);
        self.hole(label.to_owned(), left, opening);
    }

    /// The openings of a bay stand in its middle.
    fn bay(&mut self, label: &str, name: &str, width: Length<S>, openings: &[Opening]) {
        let left = self.at;
        self.span(label, name, width, SpanKind::Bay);
        for opening in openings {
            let label = match openings {
                [_] => label.to_owned(),
                _ => format!("{label}/{}", opening.kind),
            };
            let beside = (width - self.fit.keep(opening.width)) / 2.0;
            self.hole(label, left + beside, opening);
        }
    }

    fn span(&mut self, label: &str, element: &str, width: Length<S>, kind: SpanKind) {
        let left = self.at;
        self.at = left + width;
        self.spans.push(Span {
            label: label.to_owned(),
            element: element.to_owned(),
            left,
            right: self.at,
            kind,
        });
    }

    fn hole(&mut self, label: String, left: Length<S>, opening: &Opening) {
        self.holes.push(Hole {
            label,
            kind: opening.kind.clone(),
            what: opening.what,
            left,
            foot: self.fit.keep(opening.sill),
            width: self.fit.keep(opening.width),
            height: self.fit.keep(opening.height),
            trim: self.fit.keep(opening.trim),
        });
    }
}
