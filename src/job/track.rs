//! The track beside the building, and what stands near it.

use super::grammar::{
    FOOT, Kind, Named, Node, Reader, Rule, Text, Value, Wrong, choice, eg, keys, must, table,
};
use super::said::{Said, Size};
use crate::catalog::Tag;
use crate::catalog::cars::{Car, EndSteps};
use crate::quantity::{Model, Prototype, Written};

keys! {
    /// The track as it lies on the layout: a chain of pieces.
    ///
    /// Model lengths on the plan of the building: `x` along the front from its left
    /// corner, `y` backwards, so that what lies before the front is below zero.
    /// With a `[site]` they count on its outline.
    #[derive(Clone, Debug)]
    pub struct Track [table("track")] {
        /// Where the first piece begins.
        "at": pub at: [Said<Model>; 2] = must("[\"-16 in\", \"-3.9 in\"]").within(-200.0 * FOOT, 200.0 * FOOT),
        /// Which way it goes, against the clock from `x`: `-2 deg`; along `x` when
        /// absent.
        "heading": pub heading: Option<String> = eg("-2 deg").text(Text::Angle).within(-360.0, 360.0)
            .unless("0 deg", "judgement"),
        /// Rail head above the foot of the wall; level with it when absent.
        "rail": pub rail: Option<Said<Model>> = eg("-1 in").within(-20.0 * FOOT, 20.0 * FOOT)
            .unless("0 in", "judgement"),
        /// Gauge, where an outer rail is raised; full-size standard gauge when
        /// absent.
        "gauge": pub gauge: Option<Said<Model>> = eg("1.177 in").within(0.05, 24.0)
            .unless("4 ft 8 1/2 in at the job's scale", "standard gauge"),
        /// The pieces.
        "piece": pub pieces: Vec<TrackPiece> = eg("[{ straight = \"36 in\" }]"),
        /// The cars that pass: names of `[[car]]` or of `data/cars.toml`.
        "cars": pub cars: Vec<String> = eg("[\"40 ft box car\"]").of(Named::Car),
        /// Full-size rules held beside them: keys of `data/clearances.toml`.
        "rules": pub rules: Vec<String> = eg("[\"WAC 480-60\"]").of(Named::Rule),
        /// Published outlines held beside them: keys of `data/clearances.toml`.
        "outlines": pub outlines: Vec<String> = eg("[]").of(Named::Outline),
        /// Whether a wire hangs over the track: outlines are held with the part they
        /// keep free for it.
        "wire": pub wire: bool = eg("true"),
        /// Kept free beyond the car; 1/8 in when absent.
        "margin": pub margin: Option<Said<Model>> = eg("1/8 in").within(0.0, 12.0)
            .taken("1/8 in", "judgement"),
        /// Paint and glue on what stands there; by `data/fits.toml` when absent.
        "paint": pub paint: Option<Said<Model>> = eg("5 thou").within(0.0, 0.25),
        /// What the platform is for, where a rule asks, such as `refrigerator
        /// loading`.
        "platform-for": pub platform_for: Option<String> = eg("refrigerator loading").text(Text::Name),
        /// Middle of the first car spotted, along the front; where the doors fit
        /// best when absent.
        "first-car": pub first_car: Option<Said<Model>> = eg("4 in").within(-200.0 * FOOT, 200.0 * FOOT),
    }

    /// A piece of the track.
    #[derive(Clone, Debug)]
    pub struct TrackPiece [table("track.piece").one_of(&["straight", "arc", "easement"])] {
        /// Length of a straight.
        "straight": pub straight: Option<Said<Model>> = eg("36 in").within(0.0, 500.0 * FOOT),
        /// Turn of an arc, such as `30 deg`.
        "arc": pub arc: Option<String> = eg("20 deg").text(Text::Angle).within(0.0, 360.0),
        /// Radius of an arc.
        "radius": pub radius: Option<Said<Model>> = eg("48 in").within(0.0, 1000.0 * FOOT).only(&["arc"]),
        /// Length of an easement from the bend before it.
        "easement": pub easement: Option<Said<Model>> = eg("8 in").upto(500.0 * FOOT),
        /// Radius an easement leads to; straight when absent.
        "to": pub to: Option<Said<Model>> = eg("48 in").within(1.0, 1000.0 * FOOT).only(&["easement"]),
        /// Which way it turns; left when absent.
        "turn": pub turn: Turn = eg("right").unless("left", "judgement").only(&["arc", "easement"]),
        /// How far the outer rail is raised at the end of the piece.
        "raised": pub raised: Option<Said<Model>> = eg("20 thou").within(0.0, 2.0),
    }

    /// Something near the track that is no part of the building.
    #[derive(Clone, Debug)]
    pub struct Obstacle [table("obstacle")] {
        /// Short name.
        "name": pub name: String = must("signal mast").names(Named::Obstacle),
        /// One end: along, back, up from the foot of the wall.
        "from": pub from: [Said<Model>; 3] = must("[\"2 in\", \"-3 in\", \"-1 in\"]").within(-200.0 * FOOT, 200.0 * FOOT),
        /// The other end.
        "to": pub to: [Said<Model>; 3] = must("[\"2 in\", \"-3 in\", \"5 in\"]").within(-200.0 * FOOT, 200.0 * FOOT),
        /// Thickness across it.
        "thickness": pub thickness: Option<Said<Model>> = eg("1/8 in").within(0.0, 10.0 * FOOT),
        /// Whether it goes down to the ground, as a wall or platform does.
        "solid": pub solid: bool = eg("true"),
    }

    /// Where timbers of one kind stand on the finished building, full size.
    #[derive(Clone, Debug)]
    pub struct Stands [table("member.stands")] {
        /// Their line from the front's wall face outwards.
        "out": pub out: Size = must("6 ft 9 in").within(-500.0 * FOOT, 500.0 * FOOT),
        /// Their lower end above the foot of the wall.
        "foot": pub foot: Option<Size> = eg("12 ft 5 in").within(-200.0 * FOOT, 500.0 * FOOT)
            .unless("0 in", "judgement"),
        /// Which way they run.
        "runs": pub runs: Runs = eg("along").unless("up", "judgement"),
    }

    /// A car of the person's own, full size.
    #[derive(Clone, Debug)]
    pub struct OwnCar [table("car")] {
        /// What it is called for.
        "key": key: String = must("50 ft box car, mine").names(Named::Car),
        /// What it is.
        "name": name: String = eg("steel box car"),
        /// Length over its ends.
        "length": length: Written<Prototype> = must("40 ft 6 in").upto(200.0 * FOOT),
        /// Between truck centres.
        "centres": centres: Written<Prototype> = must("31 ft").upto(200.0 * FOOT)
            .agrees("the length: the trucks stand under the car"),
        /// Length it takes in a row of cars, coupled.
        "coupled": coupled: Option<Written<Prototype>> = eg("44 ft").upto(250.0 * FOOT),
        /// Its floor over the rail head.
        "floor": floor: Option<Written<Prototype>> = eg("3 ft 8 in").within(0.0, 20.0 * FOOT),
        /// Width of the door in the middle of its side.
        "door": door: Option<Written<Prototype>> = eg("6 ft").upto(100.0 * FOOT),
        /// Its cross-section from the rail head up: width and height, at the least
        /// two points.
        "profile": profile: Vec<[Written<Prototype>; 2]> =
            must("[[\"10 ft\", \"3 ft\"], [\"10 ft\", \"14 ft\"]]").within(0.0, 50.0 * FOOT)
            .agrees("itself: its points go up"),
        /// Steps at its ends, where they stand out.
        "steps": steps: Option<OwnSteps> =
            eg("{ length = \"2 ft\", width = \"10 ft\", low = \"1 ft\", high = \"4 ft\" }"),
        /// What to bear in mind.
        "note": note: String = eg("from its own drawing"),
        /// Where the row comes from.
        "source": source: Option<String> = eg("measured in the museum yard").unless("own entry", "judgement"),
        /// How it is known.
        "tag": tag: OwnTag = eg("own").unless("own", "judgement"),
    }

    /// Steps and ladders at the ends of a car.
    #[derive(Clone, Debug)]
    pub struct OwnSteps [table("car.steps")] {
        /// How far they go along the car from its end.
        "length": length: Written<Prototype> = must("2 ft").upto(30.0 * FOOT),
        /// Width over both sides.
        "width": width: Written<Prototype> = must("10 ft").upto(30.0 * FOOT),
        /// Their foot over the rail head.
        "low": low: Written<Prototype> = must("1 ft").within(0.0, 30.0 * FOOT),
        /// Their top over the rail head.
        "high": high: Written<Prototype> = must("4 ft").within(0.0, 30.0 * FOOT),
    }
}

impl Value for Car {
    fn kind() -> Kind {
        OwnCar::kind()
    }

    fn read(node: Node<'_>, reader: &Reader<'_>, rule: &Rule) -> Result<Self, Wrong> {
        let own = OwnCar::read(node, reader, rule)?;
        let steps = own.steps.map(|it| EndSteps {
            length: it.length,
            width: it.width,
            low: it.low,
            high: it.high,
        });
        let car = Self {
            key: own.key,
            name: own.name,
            length: own.length,
            centres: own.centres,
            coupled: own.coupled,
            floor: own.floor,
            door: own.door,
            profile: own.profile,
            steps,
            note: own.note,
            source: own.source.unwrap_or_else(|| "own entry".to_owned()),
            tag: own.tag.into(),
        };
        match car.trouble() {
            Some(what) => Err(Wrong::new(
                node.at(),
                format!("the car {}: {what}", car.key),
                "see [[car]] in the reference of keys",
            )),
            None => Ok(car),
        }
    }
}

impl From<OwnTag> for Tag {
    fn from(tag: OwnTag) -> Self {
        match tag {
            OwnTag::Read => Self::Read,
            OwnTag::Memory => Self::Memory,
            OwnTag::Computed => Self::Computed,
            OwnTag::CommonPractice => Self::CommonPractice,
            OwnTag::Judgement => Self::Judgement,
            OwnTag::Own => Self::Own,
        }
    }
}

choice! {
    /// How the sizes of a car are known.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub enum OwnTag = Own {
        /// Read in the source named.
        Read = "read",
        /// From memory of the source named.
        Memory = "memory",
        /// Worked out from a definition or a formula.
        Computed = "computed",
        /// A habit of the trade with no single authority.
        CommonPractice = "common-practice",
        /// A proposal of this program.
        Judgement = "judgement",
        /// Entered by the person.
        Own = "own",
    }

    /// Which way a curve turns.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub enum Turn = Left {
        /// Against the clock.
        Left = "left",
        /// With the clock.
        Right = "right",
    }

    /// Which way timbers run.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub enum Runs = Up {
        /// Upright.
        Up = "up",
        /// Along the front.
        Along = "along",
        /// Outwards, square to the front.
        Out = "out",
    }
}
