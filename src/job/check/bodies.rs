//! The bodies: each at one place, all of them one building.

use std::collections::BTreeSet;

use super::{Checked, Names, trouble};
use crate::job::body::{Along, Body, BodyPlace, FaceId, Roof, RoofKind, RoofPlace, Side, Stands};
use crate::job::face::{Element, ElementKind};
use crate::job::locate::{self, Place};
use crate::job::model::Job;

/// Checks names and places of the bodies, and their roofs.
pub(super) fn check(job: &Job) -> Checked {
    for (index, body) in job.bodies.iter().enumerate() {
        let at = |key: &'static str| locate::row("body", index, key);
        if body.name.contains('/') {
            let hint = "a slash parts the body from its side: main/front";
            return Err(trouble(at("name"), "the name of a body holds no slash", hint));
        }
        place(job, index, body)?;
        if let Some(roof) = &body.roof {
            self::roof(body, roof, &|| at("roof"))?;
        }
    }
    rings(job)
}

/// The first body stands by itself, every other on or against one.
fn place(job: &Job, index: usize, body: &Body) -> Checked {
    let at = |key: &'static str| locate::row("body", index, key);
    let stands = match (&body.stands, index) {
        (Some(_), 0) => {
            return Err(trouble(
                at("stands"),
                format!("\"{}\" is the main body: it stands by itself", body.name),
                "the first [[body]] is the main one; put those that stand against it behind it",
            ));
        }
        (None, 0) if body.is_one_wall() => return one_wall(job, body),
        (None, 0) => {
            return (body.eave.is_some()).then_some(()).ok_or_else(|| {
                let message = format!("the main body \"{}\" has no eave", body.name);
                trouble(at("name"), message, "give `eave`, from the foot of the walls")
            });
        }
        (None, _) => {
            return Err(trouble(
                at("name"),
                format!("nothing says where \"{}\" stands", body.name),
                "give `stands = { against = \"main/front\", at = \"4 ft\" }`, or `out`, `on`, \
                 or `beside` with a `gap`",
            ));
        }
        (Some(stands), _) => stands,
    };
    if body.depth.is_none() {
        let message = format!("the body \"{}\" has no depth", body.name);
        return Err(trouble(at("name"), message, "give `depth`, out from the wall or ridge"));
    }
    if body.length.is_none() {
        return Err(trouble(
            at("name"),
            format!("the body \"{}\" has no length", body.name),
            "give `length`, along the wall or ridge it stands against or on",
        ));
    }
    match &stands.place {
        BodyPlace::Against(face) | BodyPlace::Out(face) | BodyPlace::Beside(face, _) => {
            has_wall(job, face, &|| at("stands"))?;
        }
        BodyPlace::On(roof) => on_roof(job, roof, &|| at("stands"))?,
    }
    along(job, stands, &|| at("stands"))
}

/// One wall alone: an eave, no roof, and nothing stands against it.
fn one_wall(job: &Job, body: &Body) -> Checked {
    let at = |key: &'static str| locate::row("body", 0, key);
    let alone = format!("\"{}\" has no depth, so it is one wall alone", body.name);
    let hint = "give `depth`, behind the front";
    if body.eave.is_none() {
        let message = format!("the wall \"{}\" has no eave", body.name);
        return Err(trouble(at("name"), message, "give `eave`, from the foot of the wall"));
    }
    if body.roof.is_some() {
        return Err(trouble(at("roof"), format!("{alone} and has no roof"), hint));
    }
    if body.walls.as_ref().is_some_and(|walls| walls.as_slice() != [Side::Front]) {
        return Err(trouble(at("walls"), format!("{alone}: its front"), hint));
    }
    if job.bodies.len() > 1 {
        return Err(trouble(at("name"), format!("{alone}: no body stands against it"), hint));
    }
    Ok(())
}

fn on_roof(job: &Job, roof: &RoofPlace, at: &dyn Fn() -> Place) -> Checked {
    let below = job.body(roof.body()).and_then(|body| body.roof.as_ref());
    let Some(below) = below else {
        let message = format!("\"{}\" has no roof to stand on", roof.body());
        return Err(trouble(at(), message, "give that body a roof, or stand this one elsewhere"));
    };
    let level = below.kind == RoofKind::Flat;
    match roof {
        RoofPlace::Ridge(body) if level => Err(trouble(
            at(),
            format!("the flat roof of \"{body}\" has no ridge"),
            format!("stand it on a side of it: `on = \"{body}/front\"`"),
        )),
        RoofPlace::Ridge(_) | RoofPlace::Slope(_) => Ok(()),
    }
}

/// Refuses a wall that its body does not have.
pub(super) fn has_wall(job: &Job, id: &FaceId, at: &dyn Fn() -> Place) -> Checked {
    let Some(body) = job.body(&id.body) else { return Ok(()) };
    let sides = sides(body);
    if sides.contains(&id.side) {
        return Ok(());
    }
    let known: Vec<&str> = sides.iter().map(|side| side.word()).collect();
    let hint = if known.is_empty() {
        format!("\"{}\" has no walls", body.name)
    } else {
        format!("its walls are: {}", known.join(", "))
    };
    Err(trouble(at(), format!("\"{}\" has no {} wall", body.name, id.side), hint))
}

/// The sides that have a wall: those said, else all but the one against a wall.
fn sides(body: &Body) -> Vec<Side> {
    if let Some(walls) = body.said_walls() {
        return walls.to_vec();
    }
    let open = body
        .stands
        .as_ref()
        .is_some_and(|stands| matches!(stands.place, BodyPlace::Against(_) | BodyPlace::Out(_)));
    Side::ALL.into_iter().filter(|side| !(open && *side == Side::Back)).collect()
}

/// An element that a body goes with is one of its wall's row.
fn along(job: &Job, stands: &Stands, at: &dyn Fn() -> Place) -> Checked {
    let Along::Element(element) = &stands.along else { return Ok(()) };
    let face = match &stands.place {
        BodyPlace::Against(face) | BodyPlace::Out(face) | BodyPlace::Beside(face, _) => {
            face.clone()
        }
        BodyPlace::On(RoofPlace::Slope(face)) => face.clone(),
        BodyPlace::On(RoofPlace::Ridge(body)) => FaceId::new(body, Side::Front),
    };
    let row = job.wall(&face).map_or(&[][..], |wall| &wall.row);
    let mut known = BTreeSet::new();
    elements(row, &mut known);
    Names { what: "element", known }.want(element, at)
}

fn elements<'a>(row: &'a [Element], out: &mut BTreeSet<&'a str>) {
    for element in row {
        out.insert(&element.name);
        if let ElementKind::Repeat { row, .. } = &element.kind {
            elements(row, out);
        }
    }
}

fn roof(body: &Body, roof: &Roof, at: &dyn Fn() -> Place) -> Checked {
    let sloped = roof.pitch.is_some() || roof.ridge.is_some();
    // Eave, depth and where it meets the wall give the slope too.
    let between = body.meets.is_some() && body.eave.is_some();
    if roof.kind != RoofKind::Flat && !sloped && !between {
        return Err(trouble(
            at(),
            "the roof has neither a pitch nor a ridge height",
            "give `pitch = \"6:12\"` or `ridge = \"31 ft\"`",
        ));
    }
    let upper = roof.upper_pitch.is_some() && roof.lower_run.is_some();
    if roof.kind == RoofKind::Gambrel && !(upper || roof.ridge.is_some()) {
        return Err(trouble(
            at(),
            "the gambrel has no upper slope",
            "give `upper-pitch` and `lower-run`",
        ));
    }
    Ok(())
}

/// Refuses bodies that stand on one another in a ring.
fn rings(job: &Job) -> Checked {
    for (index, body) in job.bodies.iter().enumerate() {
        let mut below = body.stands.as_ref();
        for _ in 0..job.bodies.len() {
            below = below.and_then(|stands| job.body(stands.body())?.stands.as_ref());
        }
        if below.is_some() {
            return Err(trouble(
                locate::row("body", index, "stands"),
                format!("\"{}\" stands, over others, on itself", body.name),
                "every body stands at last on the main one",
            ));
        }
    }
    Ok(())
}
