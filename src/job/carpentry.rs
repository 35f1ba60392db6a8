//! Trim, decks, terraces and the base.

use super::body::{FaceId, Side};
use super::grammar::{FOOT, Named, Text, eg, keys, must, table};
use super::said::{Said, Size};
use crate::quantity::Model;

keys! {
    /// Trim boards. A board that is not named here is not made.
    #[derive(Clone, Debug, Default)]
    pub struct Trim [table("trim")] {
        /// Thickness of all of them, casings too; 1 in when absent.
        "thickness": pub thickness: Option<Size> = eg("1 in").upto(12.0)
            .unless("1 in", "common practice, no source").agrees("thick: one of the two is enough"),
        /// The same on the model, where it is known.
        "thick": pub thick: Option<Said<Model>> = eg("1/32 in").upto(12.0)
            .agrees("thickness: one of the two is enough"),
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

    /// A platform, dock or wharf along a wall.
    #[derive(Clone, Debug)]
    pub struct Deck [table("deck")] {
        /// Short name.
        "name": pub name: String = must("platform").names(Named::Deck),
        /// The wall it lies along; the front of the main body when absent.
        "of": pub of: Option<FaceId> = eg("main/front").text(Text::Name).agrees("the walls of the bodies"),
        /// Its left end from the left corner of that wall; at the corner when
        /// absent.
        "at": pub at: Option<Size> = eg("4 ft").within(-2000.0 * FOOT, 2000.0 * FOOT)
            .unless("0 in", "judgement"),
        /// Along the wall; the length of the wall when absent.
        "length": pub length: Option<Size> = eg("60 ft").upto(2000.0 * FOOT),
        /// From the wall outwards.
        "width": pub width: Size = must("8 ft").upto(500.0 * FOOT),
        /// Top of the planks above the ground.
        "height": pub height: Size = must("4 ft").upto(200.0 * FOOT),
        /// Top of the planks above the foot of the walls; level with the sill on
        /// its foundation when absent.
        "top": pub top: Option<Size> = eg("1 ft").within(-200.0 * FOOT, 200.0 * FOOT),
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
        /// The sides that are closed down to the ground, as a box.
        "walls": pub walls: Vec<Side> = eg("[\"front\", \"left\"]"),
        /// The layers of those sides, from outside in.
        "layers": pub layers: Vec<String> = eg("[\"dock-boards\", \"core\"]").text(Text::Name)
            .agrees("the names of claddings and layers"),
        /// Steps up to it at one side.
        "steps": pub steps: Option<Steps> = eg("{ side = \"right\" }"),
    }

    /// A flight of steps, going straight out from a side.
    #[derive(Clone, Debug)]
    pub struct Steps [table("deck.steps")] {
        /// The side they go out from: front, left or right.
        "side": pub side: Side = must("right"),
        /// Height of a riser, nearly; 7 1/2 in when absent.
        "riser": pub riser: Option<Size> = eg("7 1/2 in").within(1.0, 4.0 * FOOT)
            .unless("7 1/2 in", "common practice, no source"),
        /// Depth of a tread; 10 in when absent.
        "tread": pub tread: Option<Size> = eg("10 in").within(1.0, 20.0 * FOOT)
            .unless("10 in", "common practice, no source"),
        /// Width of the flight; the whole side when absent.
        "width": pub width: Option<Size> = eg("4 ft").upto(500.0 * FOOT),
        /// Where along the side it begins, from its left corner.
        "at": pub at: Option<Size> = eg("1 ft").within(0.0, 2000.0 * FOOT)
            .unless("0 in", "judgement"),
    }

    /// A retaining wall: it leans back against the ground it holds.
    #[derive(Clone, Debug)]
    pub struct Terrace [table("terrace")] {
        /// Short name.
        "name": pub name: String = must("terrace").text(Text::Name),
        /// Its foot: the two ends, along the front and behind it, from the left
        /// corner of the main front. Seen from the foot its face looks to the
        /// right hand of a person who goes from the first to the second.
        "foot": pub foot: [[Size; 2]; 2] = must("[[\"-1 ft\", \"55 ft\"], [\"99 ft\", \"55 ft\"]]")
            .within(-5000.0 * FOOT, 5000.0 * FOOT),
        /// Height.
        "rise": pub rise: Size = must("9 ft").upto(500.0 * FOOT),
        /// How far its top stands back from its foot; upright when absent.
        "lean": pub lean: Option<Size> = eg("18 in").within(0.0, 500.0 * FOOT)
            .unless("0 in", "judgement"),
        /// Height of its courses, measured upright.
        "courses": pub courses: Option<Size> = eg("12 in").within(1.0, 100.0 * FOOT),
        /// How far a cap reaches behind the top edge.
        "cap": pub cap: Option<Size> = eg("18 in").within(0.0, 100.0 * FOOT),
        /// Its foot above the foot of the main walls; level with it when absent.
        "level": pub level: Option<Size> = eg("2 ft").within(-500.0 * FOOT, 500.0 * FOOT)
            .unless("0 in", "judgement"),
        /// A stair along its face.
        "stair": pub stair: Option<Stair> = eg("{ from = \"60 ft\", to = \"71 ft\", width = \"3 ft\" }"),
    }

    /// A stair along a wall.
    #[derive(Clone, Debug)]
    pub struct Stair [table("terrace.stair")] {
        /// Where its run begins, along the wall's foot.
        "from": pub from: Size = must("60 ft").within(-5000.0 * FOOT, 5000.0 * FOOT),
        /// Where it ends, at the top.
        "to": pub to: Size = must("71 ft").within(-5000.0 * FOOT, 5000.0 * FOOT)
            .agrees("the rise: the treads fill the run"),
        /// Width of the flight.
        "width": pub width: Size = must("3 ft").upto(500.0 * FOOT),
        /// Height of a riser, nearly; 7 1/2 in when absent.
        "riser": pub riser: Option<Size> = eg("7 1/2 in").within(1.0, 4.0 * FOOT)
            .unless("7 1/2 in", "common practice, no source"),
        /// Depth of a tread; 10 in when absent.
        "tread": pub tread: Option<Size> = eg("10 in").within(1.0, 20.0 * FOOT)
            .unless("10 in", "common practice, no source"),
    }

    /// The plate that the bodies stand on; its top lies at the foot of the walls.
    #[derive(Clone, Debug)]
    pub struct Base [table("base")] {
        /// Its ends along the front, from the left corner of the main front.
        "along": pub along: [Size; 2] = must("[\"-1 ft\", \"99 ft\"]").within(-5000.0 * FOOT, 5000.0 * FOOT),
        /// Its ends behind the front, below zero before it.
        "back": pub back: [Size; 2] = must("[\"-9 ft\", \"55 ft\"]").within(-5000.0 * FOOT, 5000.0 * FOOT),
        /// Its thickness on the model; that of the floor when absent.
        "thick": pub thick: Option<Said<Model>> = eg("1/16 in").upto(12.0),
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
