//! The body of the building: length, depth, eave and roof.

use super::Body;
use super::place::{AsFound, lay};
use super::sized::{Read, Reader, Role};
use crate::finding::{Stop, Subject};
use crate::job::body::{Roof, RoofKind};
use crate::quantity::{Length, Prototype, PrototypeLength, Space, parse_pitch};

/// The run of the slope for a depth: half of it, or all of it for a shed roof.
#[must_use]
pub fn run<S: Space>(kind: RoofKind, depth: Length<S>) -> Length<S> {
    match kind {
        RoofKind::Shed => depth,
        RoofKind::Flat => Length::ZERO,
        RoofKind::Gable | RoofKind::Hip | RoofKind::Gambrel | RoofKind::Monitor => depth / 2.0,
    }
}

/// The body of the prototype.
pub(super) fn prototype(reader: &mut Reader<'_>, read: &Read) -> Result<Body<Prototype>, Stop> {
    let job = reader.job;
    let doing = "laying out the body";
    let main = job.main().ok_or_else(|| super::no_building(doing))?;
    let eave = main.eave.as_ref().ok_or_else(|| {
        let trouble = format!("the body \"{}\" has no eave", main.name);
        Stop::new(doing, trouble, "give `eave`, from the foot of the walls")
    })?;
    let depth = match &main.depth {
        Some(depth) => reader.width(depth, &Subject::Job, "the depth of the building")?,
        None => Length::ZERO,
    };
    let eave = reader.width(eave, &Subject::Job, "the eave of the building")?;
    let bare = Body {
        length: Length::ZERO,
        depth,
        eave,
        ridge: eave,
        pitch: 0.0,
        eave_overhang: Length::ZERO,
        rake_overhang: Length::ZERO,
    };
    let front = &read.rows[read.front.index];
    let length = lay(front, &bare, Role::Front, &AsFound).length;
    let body = Body { length, ..bare };
    match &main.roof {
        Some(roof) => roofed(reader, roof, body),
        None => Ok(body),
    }
}

fn roofed(
    reader: &mut Reader<'_>,
    roof: &Roof,
    body: Body<Prototype>,
) -> Result<Body<Prototype>, Stop> {
    let run = run(roof.kind, body.depth);
    let mut overhang = |size: &Option<_>, name: &str| {
        size.as_ref()
            .map_or(Ok(PrototypeLength::ZERO), |size| reader.size(size, &Subject::Job, name))
    };
    let eave_overhang = overhang(&roof.eave, "the eave overhang")?;
    let rake_overhang = overhang(&roof.rake, "the rake overhang")?;
    let (pitch, ridge) = slope(reader, roof, &body, run)?;
    Ok(Body { ridge, pitch, eave_overhang, rake_overhang, ..body })
}

/// Pitch and ridge, each from the other: the ridge stands on the line of the
/// rafters at the wall face (r = h + p run).
fn slope(
    reader: &mut Reader<'_>,
    roof: &Roof,
    body: &Body<Prototype>,
    run: PrototypeLength,
) -> Result<(f64, PrototypeLength), Stop> {
    let doing = "laying out the roof";
    if roof.kind == RoofKind::Flat {
        return Ok((0.0, body.eave));
    }
    let ridge = (roof.ridge.as_ref())
        .map(|size| reader.width(size, &Subject::Job, "the ridge of the roof"))
        .transpose()?;
    let pitch = pitch_of(roof.pitch.as_deref())?;
    match (pitch, ridge) {
        (_, Some(ridge)) if ridge < body.eave => Err(Stop::new(
            doing,
            "the ridge is below the eave",
            "both count from the foot of the wall",
        )),
        (Some(pitch), Some(ridge)) if roof.kind == RoofKind::Gambrel => Ok((pitch, ridge)),
        (Some(pitch), Some(ridge)) => {
            let by_pitch = body.eave + run * pitch;
            let slack = PrototypeLength::inches(3.0).max(ridge * 0.01);
            if by_pitch.agrees(ridge, slack) {
                return Ok((pitch, ridge));
            }
            let show = |length: &PrototypeLength| reader.job.about.full_notation().show(length);
            Err(Stop::new(
                doing,
                format!(
                    "the pitch puts the ridge at {}, and `ridge` says {}",
                    show(&by_pitch),
                    show(&ridge)
                ),
                "write only one of `pitch` and `ridge`, or put eave, depth or pitch right",
            ))
        }
        (Some(pitch), None) if roof.kind == RoofKind::Gambrel => {
            let (Some(upper), Some(lower)) =
                (pitch_of(roof.upper_pitch.as_deref())?, roof.lower_run.as_ref())
            else {
                return Err(Stop::new(
                    doing,
                    "the gambrel has no upper slope",
                    "give `upper-pitch` and `lower-run`, or the height of the ridge",
                ));
            };
            let lower = reader.width(lower, &Subject::Job, "the run of the lower slope")?;
            if lower >= run {
                return Err(Stop::new(
                    doing,
                    "the lower slope runs to the middle of the building or beyond",
                    "`lower-run` is level, from the wall face to the break of the slope",
                ));
            }
            Ok((pitch, body.eave + lower * pitch + (run - lower) * upper))
        }
        (Some(pitch), None) => Ok((pitch, body.eave + run * pitch)),
        (None, Some(ridge)) => Ok(((ridge - body.eave) / run, ridge)),
        (None, None) => {
            Err(Stop::new(doing, "the roof has neither pitch nor ridge", "give one of the two"))
        }
    }
}

/// Rise over run as a number.
pub(super) fn pitch_of(text: Option<&str>) -> Result<Option<f64>, Stop> {
    text.map(|text| parse_pitch(text).map(|pitch| pitch.value.value())).transpose().map_err(
        |error| Stop::new("laying out the roof", error.to_string(), "write rise over run: 6:12"),
    )
}
