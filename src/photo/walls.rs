//! Several walls of one picture, at right angles and meeting in corners: one
//! camera for all of them, one scale, one upright.
//!
//! Each wall is a photograph of its own in the job, of the same file; the other
//! says at which of its marks it meets the first. Its marks are adjusted as
//! places of the first wall's space, so that what one wall tells of the camera
//! serves the other, and their lengths share one covariance.

use std::sync::Arc;

use nalgebra::DMatrix;

use super::blame::{Blamed, Suspect, Verdict};
use super::from_job::{Shot, marked, readings};
use super::lengths::{Effort, Measured, run as measure};
use super::marked::{Alike, Deep, Known, Marked, SideWall, Span};
use crate::finding::{Finding, Outcome, Stop, Subject};
use crate::job::photo::Photo;

/// How the lengths of a wall hang together with those of the others.
#[derive(Clone, Debug)]
pub struct Joint {
    /// The photograph of the first wall.
    pub first: String,
    /// Covariance of the lengths of all walls.
    pub covariance: Arc<DMatrix<f64>>,
    /// The row in it of each length of this wall.
    pub rows: Vec<usize>,
}

/// The photographs in the order of their first walls: each with the walls that
/// meet it.
#[must_use]
pub fn families(photos: &[Photo]) -> Vec<Vec<&Photo>> {
    let first_of = |photo: &Photo| {
        let corner = photo.corner.as_ref()?;
        photos.iter().find(|first| {
            first.id == corner.of
                && first.file == photo.file
                && first.corner.is_none()
                && first.has_marks()
        })
    };
    let alone = photos.iter().filter(|photo| first_of(photo).is_none());
    alone
        .map(|first| {
            let meets = |photo: &&Photo| {
                photo.has_marks() && first_of(photo).is_some_and(|known| known.id == first.id)
            };
            std::iter::once(first).chain(photos.iter().filter(meets)).collect()
        })
        .collect()
}

/// What is said of a corner that leads nowhere.
#[must_use]
pub fn stray_corner(photo: &Photo, all: &[Photo]) -> Option<Finding> {
    let corner = photo.corner.as_ref()?;
    let other = all.iter().find(|other| other.id == corner.of);
    let trouble = match other {
        None => format!("there is no marked photograph \"{}\" for it to meet", corner.of),
        Some(other) if other.file != photo.file => {
            format!("{} is another picture: walls meet in one", corner.of)
        }
        Some(other) if other.corner.is_some() => {
            format!("{} meets a wall itself: name that one", corner.of)
        }
        Some(_) => return None,
    };
    let hint = "until then this wall is measured by itself";
    Some(Finding::look(Subject::Photo(photo.id.clone()), trouble, hint))
}

/// Name of a mark, rectangle or length of a side wall beside the first.
fn beside(wall: &str, text: &str) -> String {
    let (what, way) = text.split_once(':').map_or((text, None), |(what, way)| (what, Some(way)));
    let what = match what.split_once("..") {
        Some((a, b)) => format!("{wall}.{a}..{wall}.{b}"),
        None => format!("{wall}.{what}"),
    };
    way.map_or(what.clone(), |way| format!("{what}:{way}"))
}

/// All walls as one marked picture.
///
/// # Errors
/// When a wall cannot be read, or a name in it is not there.
pub fn together(family: &[&Photo]) -> Result<Marked, Stop> {
    let [first, sides @ ..] = family else {
        return Err(Stop::new("measuring walls together", "there is none", ""));
    };
    let mut all = marked(first)?;
    for side in sides {
        let stop = |trouble: String| {
            let hint = "name a mark of this wall that lies on the corner of both";
            Stop::new(format!("putting {} beside {}", side.id, first.id), trouble, hint)
        };
        let at = side.corner.as_ref().map_or("", |corner| corner.at.as_str());
        add(&mut all, &side.id, &marked(side)?, at).map_err(stop)?;
    }
    for mark in &first.marks {
        if let Some(text) = &mark.deep {
            let deep = deep(&all, &mark.id, text).map_err(|trouble| {
                let hint = "name marks of a wall at right angles: end.eave, end.eave..end.far_eave";
                Stop::new(format!("finding how deep {} lies", mark.id), trouble, hint)
            })?;
            all.deep.push(deep);
        }
    }
    for known in &all.known {
        all.wall_of(known.span).map_err(|trouble| Stop::new("reading a length", trouble, ""))?;
    }
    Ok(all)
}

fn deep(all: &Marked, id: &str, text: &str) -> Result<Deep, String> {
    let on_side = |name: &str| {
        let mark = all.find(name)?;
        let corner = all.sides.iter().any(|side| side.corner == mark);
        let fits = corner || all.side_of(mark).is_some();
        if fits { Ok(mark) } else { Err(format!("{name} lies on the first wall itself")) }
    };
    let as_deep = match text.split_once("..") {
        Some((a, b)) => (on_side(a)?, Some(on_side(b)?)),
        None => (on_side(text)?, None),
    };
    Ok(Deep { mark: all.find(id)?, as_deep })
}

/// Puts a side wall behind what is there.
fn add(all: &mut Marked, wall: &str, side: &Marked, corner: &str) -> Result<(), String> {
    let (marks, rects, planes) = (all.marks.len(), all.rects.len(), all.planes.len());
    let span = |span: Span| match span {
        Span::Width(r) => Span::Width(r + rects),
        Span::Height(r) => Span::Height(r + rects),
        Span::Level(a, b) => Span::Level(a + marks, b + marks),
        Span::Plumb(a, b) => Span::Plumb(a + marks, b + marks),
        Span::Straight(a, b) => Span::Straight(a + marks, b + marks),
    };
    let corner = side.find(corner)? + marks;
    for mark in &side.marks {
        let mut mark = mark.clone();
        mark.id = beside(wall, &mark.id);
        if mark.plane.is_some() {
            return Err(format!("{} stands before a wall that stands at right angles", mark.id));
        }
        all.marks.push(mark);
    }
    for rect in &side.rects {
        let mut rect = rect.clone();
        rect.id = beside(wall, &rect.id);
        rect.corners = rect.corners.map(|mark| mark + marks);
        all.rects.push(rect);
    }
    let moved = |group: &Vec<usize>| group.iter().map(|mark| mark + marks).collect();
    all.level.extend(side.level.iter().map(moved));
    all.plumb.extend(side.plumb.iter().map(moved));
    all.known.extend(side.known.iter().map(|known| Known { span: span(known.span), ..*known }));
    let alike = side.alike.iter();
    all.alike.extend(alike.map(|one| Alike { a: span(one.a), b: span(one.b), ..*one }));
    all.asked.extend(side.asked.iter().map(|&asked| span(asked)));
    debug_assert_eq!(planes, all.planes.len());
    let own = (marks..all.marks.len()).collect();
    all.sides.push(SideWall { corner, marks: own });
    Ok(())
}

/// Measures walls together: a shot for each, in their order.
///
/// # Errors
/// As for one picture, and as [`together`].
pub fn shots(family: &[&Photo], effort: Effort) -> Result<Vec<Shot>, Stop> {
    let all = together(family)?;
    let Outcome { value: measured, findings } = measure(&all, effort)?;
    let covariance = Arc::new(measured.covariance.clone());
    let (mut marks, mut knowns, mut rects) = (0, 0, 0);
    let mut shots = Vec::new();
    for (place, photo) in family.iter().enumerate() {
        let alone = marked(photo)?;
        let name = |span: Span| match place {
            0 => alone.name(span),
            _ => beside(&photo.id, &alone.name(span)),
        };
        let row = |span: Span| {
            let span = all.span(&name(span)).ok()?;
            measured.lengths.iter().position(|found| found.span == span)
        };
        let own: Vec<(Span, usize)> =
            alone.spans().into_iter().filter_map(|span| Some((span, row(span)?))).collect();
        let from = From { marks, knowns, rects };
        let part = from.part(&alone, &measured, &own);
        let readings = readings(photo, &alone, &part);
        let rows = own.iter().map(|(_, row)| *row).collect();
        let joint = Joint { first: family[0].id.clone(), covariance: covariance.clone(), rows };
        let findings = if place == 0 { findings.clone() } else { Vec::new() };
        marks += alone.marks.len();
        knowns += alone.known.len();
        rects += alone.rects.len();
        shots.push(Shot { marked: alone, measured: part, readings, findings, joint: Some(joint) });
    }
    Ok(shots)
}

/// Where a wall's own marks, knowns and rectangles begin among those of all.
struct From {
    marks: usize,
    knowns: usize,
    rects: usize,
}

impl From {
    /// One wall's share of what was measured of all.
    fn part(&self, alone: &Marked, all: &Measured, own: &[(Span, usize)]) -> Measured {
        let lengths = own.iter().map(|&(span, row)| {
            let mut found = all.lengths[row].clone();
            (found.span, found.name) = (span, alone.name(span));
            found
        });
        let mark = |mark: usize| mark.checked_sub(self.marks).filter(|m| *m < alone.marks.len());
        let worst = all.worst.and_then(|mut worst| {
            worst.mark = mark(worst.mark)?;
            Some(worst)
        });
        let covariance =
            DMatrix::from_fn(own.len(), own.len(), |i, j| all.covariance[(own[i].1, own[j].1)]);
        let suspects = all.verdict.suspects.iter().filter_map(|one| self.suspect(alone, one));
        let suspects: Vec<Suspect> = suspects.collect();
        let alike = all.verdict.alike.min(suspects.len());
        let verdict = Verdict { suspects, alike, ..all.verdict.clone() };
        Measured { lengths: lengths.collect(), covariance, worst, verdict, ..all.clone() }
    }

    /// A suspect of this wall by its own numbers; nothing for one of another.
    fn suspect(&self, alone: &Marked, one: &Suspect) -> Option<Suspect> {
        let own = |index: usize, first: usize, count: usize| {
            index.checked_sub(first).filter(|index| *index < count)
        };
        let mark = |mark: usize| own(mark, self.marks, alone.marks.len());
        let blamed = match &one.blamed {
            Blamed::Mark(at) => Blamed::Mark(mark(*at)?),
            Blamed::Known(at) => Blamed::Known(own(*at, self.knowns, alone.known.len())?),
            Blamed::Rect(at) => Blamed::Rect(own(*at, self.rects, alone.rects.len())?),
            Blamed::InFront(marks) => {
                let marks: Option<Vec<usize>> = marks.iter().map(|m| mark(*m)).collect();
                Blamed::InFront(marks?)
            }
            Blamed::Alike(_) => return None,
            Blamed::Axis => Blamed::Axis,
            Blamed::Stretch => Blamed::Stretch,
            Blamed::Focal => Blamed::Focal,
        };
        Some(Suspect { blamed, ..one.clone() })
    }
}

#[cfg(test)]
mod tests;
