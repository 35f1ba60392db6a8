//! Lamps: supplies, strings and fixed loads. Low voltage only.

use super::grammar::{
    FOOT, Kind, Named, Node, Reader, Rule, Text, Value, Wrong, choice, eg, keys, must, table,
};
use super::said::{Said, Size};
use crate::quantity::{Current, Model, Resistance, Voltage};

keys! {
    /// The lamps of the building.
    #[derive(Clone, Debug, Default)]
    pub struct Lamps [table("lamps")] {
        /// What feeds them.
        "supply": pub supplies: Vec<Supply> = eg("[{ name = \"pack\", volts = \"12 V\", amperes = \"500 mA\" }]"),
        /// Lamps on resistors.
        "string": pub strings: Vec<LampString> = eg("[{ name = \"office\", lamp = \"warm-white\", current = \"3 mA\" }]"),
        /// What draws a fixed current: flicker units, filament lamps.
        "load": pub loads: Vec<Load> = eg("[{ name = \"stove\", current = \"15 mA\" }]"),
        /// The series resistors are bought in, a key of `data/lamps.toml`; E12 when
        /// absent.
        "series": pub series: Option<String> = eg("E24").text(Text::Name).taken("E12", "IEC 60063"),
        /// Whether a plug parts the wires of a roof that lifts off.
        "plug": pub plug: bool = eg("true"),
        /// Slack in the wires of such a roof.
        "slack": pub slack: Option<Said<Model>> = eg("4 in").within(0.0, 10.0 * FOOT)
            .unless("0 in", "judgement"),
        /// Degrees Celsius in the closed building; 40 when absent.
        "inside": pub inside: Option<f64> = eg("40.0").within(0.0, 90.0).taken("40", "judgement"),
    }

    /// A supply.
    #[derive(Clone, Debug)]
    pub struct Supply [table("lamps.supply")] {
        /// Short name.
        "name": pub name: String = must("12 V pack").names(Named::Supply),
        /// What it gives.
        "kind": pub kind: SupplyKind = eg("dc").unless("dc", "judgement"),
        /// The voltage it is named for.
        "volts": pub volts: Voltage = must("12 V").upto(1000.0),
        /// The lowest it sags to; by `data/lamps.toml` when absent.
        "low": pub low: Option<Voltage> = eg("11 V").within(0.0, 1000.0).agrees("volts: it is not higher"),
        /// The highest it rises to; by `data/lamps.toml` when absent.
        "high": pub high: Option<Voltage> = eg("13.8 V").upto(1000.0).agrees("volts: it is not lower"),
        /// The current it is made for.
        "amperes": pub amperes: Current = must("500 mA").upto(1000.0),
        /// The fuse behind it.
        "fuse": pub fuse: Option<Current> = eg("250 mA").upto(1000.0),
        /// Whether it limits its current by itself.
        "limited": pub limited: bool = eg("true"),
        /// Gauge of the wire from it to the building.
        "gauge": pub gauge: Option<u32> = eg("24").within(0.0, 100.0),
        /// Length of that wire, one way.
        "run": pub run: Option<Said<Model>> = eg("6 ft").within(0.0, 1000.0 * FOOT),
    }

    /// Lamps that hang together.
    #[derive(Clone, Debug)]
    pub struct LampString [table("lamps.string")] {
        /// Short name.
        "name": pub name: String = must("office").names(Named::Lit),
        /// The supply; the first when absent.
        "supply": pub supply: Option<String> = eg("12 V pack").of(Named::Supply).unless("the first", "judgement"),
        /// The kind of lamp, a key of `data/lamps.toml`.
        "lamp": pub lamp: String = must("warm-white").of(Named::Lamp),
        /// How many lamps; 1 when absent.
        "lamps": pub lamps: Option<u32> = eg("2").within(0.0, 1000.0).unless("1", "judgement"),
        /// How they are joined.
        "joined": pub joined: Joined = eg("series").unless("series", "judgement"),
        /// Whether lamps in parallel have a resistor each.
        "resistors": pub resistors: Resistors = eg("each").unless("each", "common practice, no source"),
        /// How many such strings there are; 1 when absent.
        "times": pub times: Option<u32> = eg("2").within(1.0, 1000.0).unless("1", "judgement"),
        /// The current wanted through each lamp.
        "current": pub current: Current = must("3 mA").upto(100.0),
        /// The resistor picked; the next standard value up when absent.
        "resistor": pub resistor: Option<Picked> = eg("1 kohm").within(0.0, 1e9),
        /// The forward voltage of one lamp, as measured.
        "forward": pub forward: Option<Voltage> = eg("3.1 V").upto(100.0),
        /// Whether the lamps are joined backwards.
        "reversed": pub reversed: bool = eg("true"),
        /// Gauge of the wire to the string.
        "gauge": pub gauge: Option<u32> = eg("30").within(0.0, 100.0),
        /// Length of that wire, one way.
        "run": pub run: Option<Said<Model>> = eg("12 in").within(0.0, 1000.0 * FOOT),
        /// Where it hangs under a roof, where its wire is to be worked out.
        "hangs": pub hangs: Option<Hangs> = eg("{ under = \"canopy\", along = \"23 ft\", out = \"3 ft\" }"),
        /// What part of the building it hangs on.
        "on": pub on: On = eg("roof").unless("walls", "judgement"),
    }

    /// Where a lamp hangs under a roof that stands against a wall.
    #[derive(Clone, Debug)]
    pub struct Hangs [table("lamps.string.hangs")] {
        /// The body whose roof it is.
        "under": pub under: String = must("canopy").text(Text::Name)
            .agrees("the bodies: it has a roof against a wall"),
        /// Along the front of that body, from its left corner.
        "along": pub along: Size = must("23 ft").within(0.0, 2000.0 * FOOT),
        /// Out from the wall.
        "out": pub out: Size = must("3 ft").within(0.0, 500.0 * FOOT),
        /// Slack in its wire; 3 in when absent.
        "slack": pub slack: Option<Said<Model>> = eg("4 in").within(0.0, 10.0 * FOOT)
            .unless("3 in", "judgement"),
    }

    /// Something that draws a fixed current.
    #[derive(Clone, Debug)]
    pub struct Load [table("lamps.load")] {
        /// Short name.
        "name": pub name: String = must("stove flicker").names(Named::Lit),
        /// The supply; the first when absent.
        "supply": pub supply: Option<String> = eg("12 V pack").of(Named::Supply).unless("the first", "judgement"),
        /// What one draws, as its maker or a meter says.
        "current": pub current: Current = must("15 mA").upto(100.0),
        /// How many; 1 when absent.
        "times": pub times: Option<u32> = eg("2").within(1.0, 1000.0).unless("1", "judgement"),
        /// The lowest voltage it works at.
        "least": pub least: Option<Voltage> = eg("9 V").within(0.0, 1000.0),
        /// The highest it stands.
        "most": pub most: Option<Voltage> = eg("16 V").upto(1000.0),
        /// Whether it runs hot, as a filament does.
        "hot": pub hot: bool = eg("true"),
        /// What part of the building it hangs on.
        "on": pub on: On = eg("roof").unless("walls", "judgement"),
    }
}

choice! {
    /// What a supply gives.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub enum SupplyKind = Dc {
        /// Direct current of low voltage.
        Dc = "dc",
        /// Alternating current.
        Ac = "ac",
        /// The rails.
        Track = "track",
        /// The house.
        Mains = "mains",
    }

    /// How the lamps of a string are joined.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub enum Joined = Series {
        /// One behind the other.
        Series = "series",
        /// Side by side.
        Parallel = "parallel",
    }

    /// Resistors of lamps side by side.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub enum Resistors = Each {
        /// One for each branch.
        Each = "each",
        /// One for all.
        One = "one",
    }

    /// The part of the building something hangs on.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub enum On = Walls {
        /// Walls and floor: they stay.
        Walls = "walls",
        /// The roof: it lifts off.
        Roof = "roof",
    }
}

/// A resistor picked by hand, or none.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Picked {
    /// `none`: the person means to do without.
    None,
    /// Of that value.
    Of(Resistance),
}

impl Value for Picked {
    fn kind() -> Kind {
        Resistance::kind()
    }

    fn read(node: Node<'_>, reader: &Reader<'_>, rule: &Rule) -> Result<Self, Wrong> {
        match node.text("a resistance with its unit, or \"none\"")?.trim() {
            "none" => Ok(Self::None),
            _ => Resistance::read(node, reader, rule).map(Self::Of),
        }
    }
}
