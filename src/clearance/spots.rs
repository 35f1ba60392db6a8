//! Cars spotted at the doors, and the floor of the car against the platform.

use crate::catalog::cars::Car;
use crate::elevation::Built;
use crate::job::building::OpeningWhat;
use crate::quantity::slack::WHOLE;
use crate::quantity::{CompressedLength, PrototypeLength};

type Full = CompressedLength;

/// A row of cars of one kind along the front, full size.
#[derive(Clone, Debug, PartialEq)]
pub struct Spots {
    /// The car.
    pub car: String,
    /// From the middle of one car to that of the next.
    pub pitch: Full,
    /// Cars that stand before the front in full.
    pub cars: u32,
    /// Middle of the first car that stands at the front or before its left
    /// corner.
    pub first: Full,
    /// Whether the person said where.
    pub said: bool,
    /// The doors of the front.
    pub doors: Vec<AtDoor>,
}

/// A door and the car that stands at it.
#[derive(Clone, Debug, PartialEq)]
pub struct AtDoor {
    /// The door's label on the front.
    pub door: String,
    /// Its middle from the left corner.
    pub middle: Full,
    /// The middle of the nearest car's door.
    pub car: Full,
    /// Width of what is open through both.
    pub open: Full,
    /// The narrower of the two doors.
    pub full: Full,
}

impl AtDoor {
    /// How far the building's door stands right of the car's.
    #[must_use]
    pub fn off(&self) -> Full {
        self.middle - self.car
    }

    /// Whether the doors face each other over the whole of the narrower one.
    #[must_use]
    pub fn meets(&self) -> bool {
        self.open >= self.full - Full::inches(0.5)
    }
}

/// Spots cars at the doors of the front; nothing where the car has no door or
/// no coupled length, or the front no doors.
pub(super) fn spots(car: &Car, built: &Built, front: usize, first: Option<Full>) -> Option<Spots> {
    let (pitch, door) = (car.coupled.as_ref()?, car.door.as_ref()?);
    let (pitch, door) = (Full::kept(pitch.length()), Full::kept(door.length()));
    let face = built.faces.get(front)?;
    let holes = face.holes.iter().filter(|hole| hole.what == OpeningWhat::Door);
    let doors: Vec<(String, Full, Full)> =
        holes.map(|hole| (hole.label.clone(), hole.left + hole.width / 2.0, hole.width)).collect();
    if doors.is_empty() || pitch <= Full::ZERO {
        return None;
    }
    let said = first.is_some();
    let start = first.unwrap_or_else(|| best(&doors, pitch, door));
    let at = |middle: Full| start + pitch * ((middle - start) / pitch).round();
    let first = start + pitch * (-(start / pitch).floor());
    let doors = doors
        .iter()
        .map(|(label, middle, width)| {
            let (car, full) = (at(*middle), width.min(door));
            let open = ((*width + door) / 2.0 - (*middle - car).abs()).min(full).max(Full::ZERO);
            AtDoor { door: label.clone(), middle: *middle, car, open, full }
        })
        .collect();
    let cars = (face.length / pitch + WHOLE).floor() as u32;
    Some(Spots { car: car.key.clone(), pitch, cars, first, said, doors })
}

/// The place of the row of cars that opens the most door: one of those at which
/// a car stands square at a door.
fn best(doors: &[(String, Full, Full)], pitch: Full, door: Full) -> Full {
    let open = |start: Full| -> Full {
        let one = |(_, middle, width): &(String, Full, Full)| {
            let off = *middle - start;
            let off = (off - pitch * (off / pitch).round()).abs();
            ((*width + door) / 2.0 - off).min(width.min(door)).max(Full::ZERO)
        };
        doors.iter().map(one).sum()
    };
    let starts = doors.iter().map(|(_, middle, _)| *middle);
    starts.max_by(|a, b| open(*a).total_cmp(&open(*b))).unwrap_or_default()
}

/// A platform beside the floor of a car, full size over the rail.
#[derive(Clone, Debug, PartialEq)]
pub struct AtFloor {
    /// The platform.
    pub platform: String,
    /// Its top.
    pub top: PrototypeLength,
    /// The car.
    pub car: String,
    /// Its floor.
    pub floor: PrototypeLength,
}

impl AtFloor {
    /// How far the platform stands above the floor; below zero where it is
    /// lower.
    #[must_use]
    pub fn above(&self) -> PrototypeLength {
        self.top - self.floor
    }

    /// Whether goods roll across: the platform level with the floor or at most
    /// 6 in under it (common practice, no source).
    #[must_use]
    pub fn rolls(&self) -> bool {
        let (slack, most) = (PrototypeLength::inches(0.5), PrototypeLength::inches(6.5));
        self.above() <= slack && self.above() >= -most
    }
}
