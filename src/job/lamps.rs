//! Lamps: supplies, strings and fixed loads. Low voltage only.

use serde::Deserialize;

use super::said::{Said, Size};
use crate::quantity::{Current, Model, Resistance, Voltage};

/// The lamps of the building.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Lamps {
    /// What feeds them.
    #[serde(default, rename = "supply")]
    pub supplies: Vec<Supply>,
    /// Lamps on resistors.
    #[serde(default, rename = "string")]
    pub strings: Vec<LampString>,
    /// What draws a fixed current: flicker units, filament lamps.
    #[serde(default, rename = "load")]
    pub loads: Vec<Load>,
    /// The series resistors are bought in, a key of `data/lamps.toml`; E12 when
    /// absent.
    pub series: Option<String>,
    /// Whether a plug parts the wires of a roof that lifts off.
    #[serde(default)]
    pub plug: bool,
    /// Slack in the wires of such a roof.
    pub slack: Option<Said<Model>>,
    /// Degrees Celsius in the closed building; 40 when absent.
    pub inside: Option<f64>,
}

/// A supply.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Supply {
    /// Short name.
    pub name: String,
    /// What it gives.
    #[serde(default)]
    pub kind: SupplyKind,
    /// The voltage it is named for.
    pub volts: Voltage,
    /// The lowest it sags to; by `data/lamps.toml` when absent.
    pub low: Option<Voltage>,
    /// The highest it rises to; by `data/lamps.toml` when absent.
    pub high: Option<Voltage>,
    /// The current it is made for.
    pub amperes: Current,
    /// The fuse behind it.
    pub fuse: Option<Current>,
    /// Whether it limits its current by itself.
    #[serde(default)]
    pub limited: bool,
    /// Gauge of the wire from it to the building.
    pub gauge: Option<u32>,
    /// Length of that wire, one way.
    pub run: Option<Said<Model>>,
}

/// What a supply gives.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum SupplyKind {
    /// Direct current of low voltage.
    #[default]
    Dc,
    /// Alternating current.
    Ac,
    /// The rails.
    Track,
    /// The house.
    Mains,
}

/// Lamps that hang together.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct LampString {
    /// Short name.
    pub name: String,
    /// The supply; the first when absent.
    pub supply: Option<String>,
    /// The kind of lamp, a key of `data/lamps.toml`.
    pub lamp: String,
    /// How many lamps; 1 when absent.
    pub lamps: Option<u32>,
    /// How they are joined.
    #[serde(default)]
    pub joined: Joined,
    /// Whether lamps in parallel have a resistor each.
    #[serde(default)]
    pub resistors: Resistors,
    /// How many such strings there are; 1 when absent.
    pub times: Option<u32>,
    /// The current wanted through each lamp.
    pub current: Current,
    /// The resistor picked; the next standard value up when absent.
    pub resistor: Option<Picked>,
    /// The forward voltage of one lamp, as measured.
    pub forward: Option<Voltage>,
    /// Whether the lamps are joined backwards.
    #[serde(default)]
    pub reversed: bool,
    /// Gauge of the wire to the string.
    pub gauge: Option<u32>,
    /// Length of that wire, one way.
    pub run: Option<Said<Model>>,
    /// Where it hangs under a roof, where its wire is to be worked out.
    pub hangs: Option<Hangs>,
    /// What part of the building it hangs on.
    #[serde(default)]
    pub on: On,
}

/// Where a lamp hangs under a roof that stands against a wall.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Hangs {
    /// The body whose roof it is.
    pub under: String,
    /// Along the front of that body, from its left corner.
    pub along: Size,
    /// Out from the wall.
    pub out: Size,
    /// Slack in its wire; 3 in when absent.
    pub slack: Option<Said<Model>>,
}

/// How the lamps of a string are joined.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Joined {
    /// One behind the other.
    #[default]
    Series,
    /// Side by side.
    Parallel,
}

/// Resistors of lamps side by side.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Resistors {
    /// One for each branch.
    #[default]
    Each,
    /// One for all.
    One,
}

/// A resistor picked by hand, or none.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Picked {
    /// `none`: the person means to do without.
    None,
    /// Of that value.
    Of(Resistance),
}

impl<'de> Deserialize<'de> for Picked {
    fn deserialize<D: serde::Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        let text = String::deserialize(from)?;
        if text.trim() == "none" {
            return Ok(Self::None);
        }
        text.parse().map(Self::Of).map_err(|error: crate::quantity::NotationError| {
            serde::de::Error::custom(format!("{}\nhint: {}", error.message, error.hint))
        })
    }
}

/// The part of the building something hangs on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum On {
    /// Walls and floor: they stay.
    #[default]
    Walls,
    /// The roof: it lifts off.
    Roof,
}

/// Something that draws a fixed current.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Load {
    /// Short name.
    pub name: String,
    /// The supply; the first when absent.
    pub supply: Option<String>,
    /// What one draws, as its maker or a meter says.
    pub current: Current,
    /// How many; 1 when absent.
    pub times: Option<u32>,
    /// The lowest voltage it works at.
    pub least: Option<Voltage>,
    /// The highest it stands.
    pub most: Option<Voltage>,
    /// Whether it runs hot, as a filament does.
    #[serde(default)]
    pub hot: bool,
    /// What part of the building it hangs on.
    #[serde(default)]
    pub on: On,
}
