//! Timbers that say where they stand: by their two ends, or by the line they
//! stand on, upright, level or leaning.

use std::sync::Arc;

use super::body::Body;
use super::frame::{End, MOST, Member, MemberKind, across};
use super::origin::{Origin, Sized};
use super::{Building, Raise};
use crate::finding::{Finding, Subject};
use crate::job::building::{EndCut, Member as Said};
use crate::job::track::{Runs, Stands};
use crate::quantity::slack::{NOTHING, TOUCH, WHOLE};
use crate::quantity::{Angle, Compressed};

impl Raise<'_> {
    /// Timbers that say where they begin and end, seen from a wall.
    pub(super) fn between_ends(&mut self, building: &Building, said: &Said) -> Vec<Member> {
        let (Some(from), Some(to)) = (&said.from, &said.to) else {
            self.findings.push(Finding::look(
                Subject::Member(said.name.clone()),
                format!("{} says one end only", said.name),
                "give both `from` and `to`: along, out, up",
            ));
            return Vec::new();
        };
        let Some(body) = self.body_of(building, said) else { return Vec::new() };
        let mut read = |at: &[crate::job::said::Size; 3]| -> Option<[Sized<Compressed>; 3]> {
            let mut one =
                |number: usize| self.said(format!("end of {}", said.name), &at[number], &said.name);
            Some([one(0)?, one(1)?, one(2)?])
        };
        let (Some(from), Some(to)) = (read(from), read(to)) else { return Vec::new() };
        let [thick, deep] = self.section(&said.name);
        let of: Vec<&Arc<Origin>> = from.iter().chain(&to).map(|it| &it.origin).collect();
        let cut = Sized::rule(format!("length of {}", said.name), "from end to end", &of, |of| {
            ((of[3] - of[0]).powi(2) + (of[4] - of[1]).powi(2) + (of[5] - of[2]).powi(2)).sqrt()
        });
        let value =
            |at: &[Sized<Compressed>; 3]| [0, 1, 2].map(|n: usize| at[n].length.in_inches());
        let (from, to) = (value(&from), value(&to));
        let every =
            said.every.as_ref().and_then(|size| self.inches(size, &said.name)).unwrap_or(0.0);
        let level = (to[0] - from[0]).hypot(to[1] - from[1]);
        let angle = (to[2] - from[2]).abs().atan2(level);
        let kind = if level < TOUCH {
            MemberKind::Post
        } else if angle < TOUCH {
            MemberKind::Beam
        } else {
            MemberKind::Brace
        };
        let ends = end_cut(said, angle);
        (0..said.count.unwrap_or(1).min(MOST))
            .map(|number| {
                let shift = every * f64::from(number);
                // Out from the front is before it.
                let point = |at: [f64; 3]| body.point([at[0] + shift, -at[1], at[2]]);
                let axis = [point(from), point(to)];
                Member {
                    name: said.name.clone(),
                    body: body.name.clone(),
                    number: number + 1,
                    kind,
                    across: across(axis, thick, deep),
                    axis,
                    ends: [ends.clone(), ends.clone()],
                    length: cut.clone(),
                    from_level: Angle::radians(angle),
                    housings: Vec::new(),
                    corner: None,
                    top: None,
                    foot: None,
                    by_place: true,
                }
            })
            .collect()
    }

    /// Timbers in rows before the main front, by their distance from it.
    pub(super) fn standing(
        &mut self,
        building: &Building,
        said: &Said,
        stands: &Stands,
    ) -> Vec<Member> {
        let Some(body) = building.bodies.first() else { return Vec::new() };
        let name = &said.name;
        let Some(out) = self.inches(&stands.out, name) else { return Vec::new() };
        let foot = stands.foot.as_ref().and_then(|size| self.inches(size, name)).unwrap_or(0.0);
        let long = said
            .length
            .as_ref()
            .and_then(|size| self.said(format!("length of {name}"), size, name));
        let legs = said.legs.as_ref().and_then(|[level, up]| {
            let level = self.said(format!("level leg of {name}"), level, name)?;
            Some([level, self.said(format!("upright leg of {name}"), up, name)?])
        });
        let places = self.places(body, said, stands);
        match (legs, long) {
            (Some(legs), _) => self.leaning(body, said, stands, (out, foot), &legs, &places),
            (None, Some(long)) => self.straight(body, said, stands, (out, foot), &long, &places),
            _ => Vec::new(),
        }
    }

    /// Places along the front: as many as are counted, at equal distances.
    fn places(&mut self, body: &Body, said: &Said, stands: &Stands) -> Vec<f64> {
        let long = body.plan()[0];
        let along = stands.runs != Runs::Out;
        let bays = match said.count.map(|count| count.saturating_mul(said.each.unwrap_or(1))) {
            // A brace on each side of a bay; a beam over it.
            Some(count) if said.legs.is_some() && along => (count / 2).max(1),
            Some(count) if stands.runs == Runs::Along => count,
            Some(count) => count.saturating_sub(1),
            None => {
                let most = said.spacing.as_ref().and_then(|size| self.inches(size, &said.name));
                most.filter(|most| *most > 0.0)
                    .map_or(0, |most| (long / most - WHOLE).ceil().max(1.0) as u32)
            }
        };
        let at =
            |n: u32| if bays == 0 { long / 2.0 } else { long * f64::from(n) / f64::from(bays) };
        (0..=bays.min(MOST)).map(at).collect()
    }

    fn straight(
        &self,
        body: &Body,
        said: &Said,
        stands: &Stands,
        (out, foot): (f64, f64),
        long: &Sized<Compressed>,
        places: &[f64],
    ) -> Vec<Member> {
        let [thick, wide] = self.section(&said.name);
        let length = long.length.in_inches();
        let at = |along: f64, out: f64, up: f64| body.point([along, -out, up]);
        let end =
            || End { cut: EndCut::Square, from_square: Angle::default(), meets: String::new() };
        let mut all = Vec::new();
        for (n, &place) in places.iter().enumerate() {
            let from = at(place, out, foot);
            let (to, across, kind) = match stands.runs {
                Runs::Up => (
                    at(place, out, foot + length),
                    [([1.0, 0.0, 0.0], wide / 2.0), ([0.0, -1.0, 0.0], thick / 2.0)],
                    MemberKind::Post,
                ),
                Runs::Along => {
                    if n + 1 == places.len() && places.len() > 1 {
                        continue;
                    }
                    let next = places.get(n + 1).copied().unwrap_or(place + length);
                    (
                        at(next, out, foot),
                        [([0.0, 0.0, 1.0], wide / 2.0), ([0.0, -1.0, 0.0], thick / 2.0)],
                        MemberKind::Beam,
                    )
                }
                Runs::Out => (
                    at(place, out + length, foot),
                    [([0.0, 0.0, 1.0], wide / 2.0), ([1.0, 0.0, 0.0], thick / 2.0)],
                    MemberKind::Beam,
                ),
            };
            all.push(Member {
                name: said.name.clone(),
                body: body.name.clone(),
                number: n as u32 + 1,
                kind,
                axis: [from, to],
                across,
                ends: [end(), end()],
                length: long.clone(),
                from_level: Angle::default(),
                housings: Vec::new(),
                corner: None,
                top: None,
                foot: None,
                by_place: false,
            });
        }
        all
    }

    /// Braces in the corner between post and beam: along the front to the sides
    /// there is room for, or outwards; a rafter where it lies flatter.
    fn leaning(
        &self,
        body: &Body,
        said: &Said,
        stands: &Stands,
        (out, foot): (f64, f64),
        [level, up]: &[Sized<Compressed>; 2],
        places: &[f64],
    ) -> Vec<Member> {
        let [thick, wide] = self.section(&said.name);
        let cut = Sized::rule(
            format!("length of {}", said.name),
            "along its line, leg and leg",
            &[&level.origin, &up.origin],
            |of| of[0].hypot(of[1]),
        );
        let (level, rise) = (level.length.in_inches(), up.length.in_inches());
        let angle = rise.abs().atan2(level);
        let ends = end_cut(said, angle);
        let last = places.len().saturating_sub(1);
        let at = |along: f64, out: f64, up: f64| body.point([along, -out, up]);
        let mut all = Vec::new();
        for (n, &place) in places.iter().enumerate() {
            let ways: Vec<[f64; 2]> = match stands.runs {
                Runs::Out => vec![[0.0, 1.0]],
                Runs::Along | Runs::Up => [(-1.0, n > 0), (1.0, n < last)]
                    .into_iter()
                    .filter(|(_, room)| *room)
                    .map(|(way, _)| [way, 0.0])
                    .collect(),
            };
            for [along, outwards] in ways {
                let axis = [
                    at(place, out, foot),
                    at(place + along * level, out + outwards * level, foot + rise),
                ];
                let long = level.hypot(rise).max(NOTHING);
                let way = [along, -outwards];
                let square = [way[0] * rise / long, way[1] * rise / long, -level / long];
                let flat = [outwards.abs(), along.abs(), 0.0];
                all.push(Member {
                    name: said.name.clone(),
                    body: body.name.clone(),
                    number: n as u32 + 1,
                    kind: if ends.cut == EndCut::Flat {
                        MemberKind::Brace
                    } else {
                        MemberKind::Rafter
                    },
                    axis,
                    across: [(square, wide / 2.0), (flat, thick / 2.0)],
                    ends: [ends.clone(), ends.clone()],
                    length: cut.clone(),
                    from_level: Angle::radians(angle),
                    housings: Vec::new(),
                    corner: Some(at(place, out, foot + rise)),
                    top: None,
                    foot: None,
                    by_place: false,
                });
            }
        }
        all
    }
}

/// How the ends of an inclined timber are cut where the job does not say: one
/// that lies flatter than 30 degrees is a rafter, one that stands steeper a
/// brace (common practice, no source).
#[must_use]
pub fn end_cut(said: &Said, from_level: f64) -> End {
    let usual = if from_level < 30.0_f64.to_radians() { EndCut::Plumb } else { EndCut::Flat };
    let cut = said.ends.unwrap_or(usual);
    let from_square = match cut {
        EndCut::Square => Angle::default(),
        EndCut::Plumb | EndCut::Flat => Angle::radians(from_level),
    };
    End { cut, from_square, meets: String::new() }
}
