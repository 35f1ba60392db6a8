//! Trim and decks.

use serde::Deserialize;

use super::body::{FaceId, Side};
use super::said::{Said, Size};
use crate::quantity::Model;

/// Trim boards. A board that is not named here is not made.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Trim {
    /// Thickness of all of them, casings too; 1 in when absent.
    pub thickness: Option<Size>,
    /// The same on the model, where it is known.
    pub thick: Option<Said<Model>>,
    /// Width of a corner board, as seen on each of its two faces.
    pub corner: Option<Size>,
    /// Width of the board under the eave.
    pub frieze: Option<Size>,
    /// Width of the board at the foot of the wall.
    pub water_table: Option<Size>,
    /// Width of the board on the rafter ends and along the rakes.
    pub fascia: Option<Size>,
    /// How far a window sill stands out beyond its casing, each side.
    pub horn: Option<Size>,
}

impl Trim {
    /// These sizes, and another's where they say none.
    #[must_use]
    pub fn or(&self, other: &Self) -> Self {
        let first = |own: &Option<Size>, other: &Option<Size>| own.clone().or(other.clone());
        // One thickness replaces the other, however it is said.
        let own = self.thickness.is_some() || self.thick.is_some();
        let thickness = if own { self } else { other };
        Self {
            thickness: thickness.thickness.clone(),
            thick: thickness.thick.clone(),
            corner: first(&self.corner, &other.corner),
            frieze: first(&self.frieze, &other.frieze),
            water_table: first(&self.water_table, &other.water_table),
            fascia: first(&self.fascia, &other.fascia),
            horn: first(&self.horn, &other.horn),
        }
    }
}

/// A platform, dock or wharf along a wall.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Deck {
    /// Short name.
    pub name: String,
    /// The wall it lies along; the front of the main body when absent.
    pub of: Option<FaceId>,
    /// Its left end from the left corner of that wall; at the corner when
    /// absent.
    pub at: Option<Size>,
    /// Along the wall; the length of the wall when absent.
    pub length: Option<Size>,
    /// From the wall outwards.
    pub width: Size,
    /// Top of the planks above the ground.
    pub height: Size,
    /// Top of the planks above the foot of the walls; level with the sill on
    /// its foundation when absent.
    pub top: Option<Size>,
    /// Width of a plank; planks lie across the deck.
    pub plank: Size,
    /// Thickness of a plank; 2 in when absent.
    pub thickness: Option<Size>,
    /// Gap between planks; none when absent.
    pub gap: Option<Size>,
    /// Distance of the stringers under the planks; 2 ft when absent.
    pub stringers: Option<Size>,
    /// Flights of stairs up to it.
    #[serde(default)]
    pub stairs: u32,
    /// Width of a flight; 3 ft when absent.
    pub stair_width: Option<Size>,
    /// The sides that are closed down to the ground, as a box.
    #[serde(default)]
    pub walls: Vec<Side>,
    /// The layers of those sides, from outside in.
    #[serde(default)]
    pub layers: Vec<String>,
    /// Steps up to it at one side.
    pub steps: Option<Steps>,
}

/// A flight of steps, going straight out from a side.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Steps {
    /// The side they go out from: front, left or right.
    pub side: Side,
    /// Height of a riser, nearly; 7 1/2 in when absent.
    pub riser: Option<Size>,
    /// Depth of a tread; 10 in when absent.
    pub tread: Option<Size>,
    /// Width of the flight; the whole side when absent.
    pub width: Option<Size>,
    /// Where along the side it begins, from its left corner.
    pub at: Option<Size>,
}

/// A retaining wall: it leans back against the ground it holds.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Terrace {
    /// Short name.
    pub name: String,
    /// Its foot: the two ends, along the front and behind it, from the left
    /// corner of the main front. Seen from the foot its face looks to the
    /// right hand of a person who goes from the first to the second.
    pub foot: [[Size; 2]; 2],
    /// Height.
    pub rise: Size,
    /// How far its top stands back from its foot; upright when absent.
    pub lean: Option<Size>,
    /// Height of its courses, measured upright.
    pub courses: Option<Size>,
    /// How far a cap reaches behind the top edge.
    pub cap: Option<Size>,
    /// Its foot above the foot of the main walls; level with it when absent.
    pub level: Option<Size>,
    /// A stair along its face.
    pub stair: Option<Stair>,
}

/// A stair along a wall.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Stair {
    /// Where its run begins and ends, along the wall's foot.
    pub from: Size,
    /// Where it ends, at the top.
    pub to: Size,
    /// Width of the flight.
    pub width: Size,
    /// Height of a riser, nearly; 7 1/2 in when absent.
    pub riser: Option<Size>,
    /// Depth of a tread; 10 in when absent.
    pub tread: Option<Size>,
}

/// The plate that the bodies stand on; its top lies at the foot of the walls.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Base {
    /// Its ends along the front, from the left corner of the main front.
    pub along: [Size; 2],
    /// Its ends behind the front, below zero before it.
    pub back: [Size; 2],
    /// Its thickness on the model; that of the floor when absent.
    pub thick: Option<Said<Model>>,
}

/// How the model is set down beside the track.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Install {
    /// Thickness of what lies under the foundation: base board, ground.
    pub base: Option<Said<Model>>,
    /// Height of the rail head above the table.
    pub rail_head: Option<Said<Model>>,
    /// Height of the car floor above the rail head; 3 ft 8 in when absent.
    pub car_floor: Option<Size>,
}
