//! Trim and decks.

use super::grammar::{FOOT, Named, eg, keys, must, table};
use super::said::{Said, Size};
use crate::quantity::Model;

keys! {
    /// Trim boards. A board that is not named here is not made.
    #[derive(Clone, Debug, Default)]
    pub struct Trim [table("trim")] {
        /// Thickness of all of them, casings too; 1 in when absent.
        "thickness": pub thickness: Option<Size> = eg("1 in").upto(12.0)
            .unless("1 in", "common practice, no source"),
        /// Width of a corner board, as seen on each of its two faces.
        "corner": pub corner: Option<Size> = eg("6 in").upto(4.0 * FOOT),
        /// Width of the board under the eave.
        "frieze": pub frieze: Option<Size> = eg("8 in").upto(6.0 * FOOT),
        /// Width of the board at the foot of the wall.
        "water-table": pub water_table: Option<Size> = eg("10 in").upto(6.0 * FOOT),
        /// Width of the board on the rafter ends and along the rakes.
        "fascia": pub fascia: Option<Size> = eg("6 in").upto(4.0 * FOOT),
        /// How far a window sill stands out beyond its casing, each side.
        "horn": pub horn: Option<Size> = eg("2 in").within(0.0, 2.0 * FOOT)
            .unless("0 in", "judgement"),
    }

    /// A platform, dock or wharf along the front.
    #[derive(Clone, Debug)]
    pub struct Deck [table("deck")] {
        /// Short name.
        "name": pub name: String = must("platform").names(Named::Deck),
        /// Along the front; the length of the front when absent.
        "length": pub length: Option<Size> = eg("60 ft").upto(2000.0 * FOOT),
        /// From the wall outwards.
        "width": pub width: Size = must("8 ft").upto(500.0 * FOOT),
        /// Top of the planks above the ground.
        "height": pub height: Size = must("4 ft").upto(200.0 * FOOT),
        /// Width of a plank; planks lie across the deck.
        "plank": pub plank: Size = must("10 in").within(0.5, 4.0 * FOOT),
        /// Thickness of a plank; 2 in when absent.
        "thickness": pub thickness: Option<Size> = eg("3 in").upto(2.0 * FOOT)
            .taken("2 in", "common practice, no source"),
        /// Gap between planks; none when absent.
        "gap": pub gap: Option<Size> = eg("1/4 in").within(0.0, 2.0 * FOOT)
            .unless("0 in", "judgement"),
        /// Distance of the stringers under the planks; 2 ft when absent.
        "stringers": pub stringers: Option<Size> = eg("2 ft").within(6.0, 30.0 * FOOT)
            .taken("2 ft", "common practice, no source"),
        /// Flights of stairs up to it.
        "stairs": pub stairs: u32 = eg("1").within(0.0, 50.0).unless("0", "judgement"),
        /// Width of a flight; 3 ft when absent.
        "stair-width": pub stair_width: Option<Size> = eg("3 ft").within(12.0, 100.0 * FOOT)
            .unless("3 ft", "common practice, no source"),
    }

    /// How the model is set down beside the track.
    #[derive(Clone, Debug, Default)]
    pub struct Install [table("install")] {
        /// Thickness of what lies under the foundation: base board, ground.
        "base": pub base: Option<Said<Model>> = eg("1/4 in").within(0.0, 24.0),
        /// Height of the rail head above the table.
        "rail-head": pub rail_head: Option<Said<Model>> = eg("3/8 in").within(0.0, 24.0),
        /// Height of the car floor above the rail head; 3 ft 8 in when absent.
        "car-floor": pub car_floor: Option<Size> = eg("3 ft 8 in").within(0.0, 20.0 * FOOT)
            .unless("3 ft 8 in", "trade knowledge, from memory"),
    }
}
