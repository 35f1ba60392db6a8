//! Parts that are bought and stand on the building.

use super::place::Point;
use super::{Building, Raise};
use crate::finding::{Finding, Subject};

/// A part that is bought and stands on a body.
#[derive(Clone, Debug)]
pub struct Bought {
    /// Its name.
    pub name: String,
    /// What it is.
    pub what: String,
    /// The body it stands on.
    pub body: String,
    /// How many.
    pub count: u32,
    /// Where its middle stands on the roof, of one with a place.
    pub at: Option<Point>,
}

impl Raise<'_> {
    /// The bought parts, those whose body is built.
    pub(super) fn bought_parts(&mut self, building: &Building) -> Vec<Bought> {
        let job = self.job;
        let mut all = Vec::new();
        for said in &job.bought {
            let body = match &said.of {
                Some(name) => building.body(name),
                None => building.bodies.first(),
            };
            let Some(body) = body else {
                let subject = Subject::Member(said.name.clone());
                let message = format!("{} stands on a body that is not built", said.name);
                let hint = "name one of the bodies, or leave `of` out for the main one";
                self.findings.push(Finding::look(subject, message, hint));
                continue;
            };
            let at = said.at.as_ref().and_then(|at| {
                let [u, v] = [self.inches(&at[0], &said.name)?, self.inches(&at[1], &said.name)?];
                let [x, y, z] = body.point([u, v, 0.0]);
                Some([x, y, body.top_over([x, y]).unwrap_or(z)])
            });
            all.push(Bought {
                name: said.name.clone(),
                what: said.what.clone(),
                body: body.name.clone(),
                count: said.count.unwrap_or(1),
                at,
            });
        }
        all
    }
}
