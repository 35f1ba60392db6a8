//! Trim and decks.

use serde::Deserialize;

use super::said::{Said, Size};
use crate::quantity::Model;

/// Trim boards. A board that is not named here is not made.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Trim {
    /// Thickness of all of them, casings too; 1 in when absent.
    pub thickness: Option<Size>,
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

/// A platform, dock or wharf along the front.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Deck {
    /// Short name.
    pub name: String,
    /// Along the front; the length of the front when absent.
    pub length: Option<Size>,
    /// From the wall outwards.
    pub width: Size,
    /// Top of the planks above the ground.
    pub height: Size,
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
