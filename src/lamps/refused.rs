//! Wiring that is refused, with the reason.

use crate::quantity::{Current, Resistance, Voltage};

/// Why a string is not worked out.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum Refused {
    /// The supply is the house's.
    #[error("the supply is mains, and mains has no place in a model")]
    Mains,
    /// The supply is above what counts as low here.
    #[error("the supply gives {0}: more than the {1} this program speaks of")]
    NotLow(Voltage, Voltage),
    /// The supply is the rails.
    #[error(
        "the supply is the track: its voltage, polarity and short-circuit current are those of trains"
    )]
    Track,
    /// The supply alternates.
    #[error("the supply alternates: half the time the lamps stand backwards in it")]
    Alternates,
    /// The voltages of the supply contradict each other.
    #[error("the supply is named for {named} and said to move from {low} to {high}")]
    OutOfOrder {
        /// The lowest.
        low: Voltage,
        /// What it is named for.
        named: Voltage,
        /// The highest.
        high: Voltage,
    },
    /// Nothing is to flow, or nothing hangs there.
    #[error("{0} is not above zero")]
    NotAboveZero(&'static str),
    /// No resistor.
    #[error("without a resistor nothing holds the current: the lamp is dead at once")]
    NoResistor,
    /// A resistor of nothing.
    #[error("a resistor of 0 ohm is a piece of wire: the lamp is dead at once")]
    ZeroOhm,
    /// One resistor for lamps side by side.
    #[error(
        "one resistor for {0} lamps side by side: the one that needs least voltage takes most of the current, burns out, and the next follows"
    )]
    OneForParallel(u32),
    /// Backwards.
    #[error(
        "the lamps are joined backwards: they stay dark, and {0} is more than the {1} a lamp stands that way"
    )]
    Reversed(Voltage, Voltage),
    /// The supply is too low.
    #[error(
        "{lamps} in series need {needs} before any current flows, and the supply gives {gives}"
    )]
    TooFewVolts {
        /// How many lamps.
        lamps: u32,
        /// What they need.
        needs: Voltage,
        /// What there is.
        gives: Voltage,
    },
    /// More than the lamp stands.
    #[error("{0} through each is more than the {1} such a lamp stands")]
    OverLimit(Current, Current),
    /// More than the lamp stands when everything is at its worst.
    #[error(
        "at the worst (the supply at {high}, the lamps at their least, {resistor} as low as it may be, the heat inside) {flows} flow through each, more than the {stands} such a lamp stands"
    )]
    OverAtWorst {
        /// The highest the supply rises to.
        high: Voltage,
        /// The resistor, as marked.
        resistor: Resistance,
        /// What flows.
        flows: Current,
        /// What a lamp stands.
        stands: Current,
    },
    /// A measured voltage that no lamp of its kind has.
    #[error("{volts} is not the forward voltage of such a lamp: {least} to {most}")]
    NotItsKind {
        /// What was said.
        volts: Voltage,
        /// The least of its kind.
        least: Voltage,
        /// The most.
        most: Voltage,
    },
    /// A fault melts the wire before anything ends it.
    #[error(
        "a fault can draw {fault} through wire of gauge {gauge}, which stands {stands} at the most"
    )]
    Fault {
        /// What flows into a fault.
        fault: Current,
        /// The thinnest wire on the way.
        gauge: u32,
        /// What it stands for a while.
        stands: Current,
    },
    /// More voltage than a load stands.
    #[error("it stands {stands}, and the supply rises to {high}")]
    LoadOver {
        /// What it stands.
        stands: Voltage,
        /// The highest the supply rises to.
        high: Voltage,
    },
    /// No such wire.
    #[error("wire of gauge {0} is not known here")]
    Gauge(u32),
    /// So much heat that no resistor of the list stands it.
    #[error("the resistor would have to get rid of {0}, more than any of the list stands")]
    TooHot(crate::quantity::Power),
}

impl Refused {
    /// What to do instead.
    #[must_use]
    pub fn hint(&self) -> &'static str {
        match self {
            Self::Mains | Self::NotLow(..) => {
                "use an approved low-voltage supply that stands outside the model; leave mains to licensed practice"
            }
            Self::Track => "give the buildings a supply of their own",
            Self::Alternates => "use direct current, or a supply with its rectifier built in",
            Self::OutOfOrder { .. } => "the low one at or under its name, the high one at or over",
            Self::NotAboveZero(_) => "write how many, and how much",
            Self::NoResistor | Self::ZeroOhm => "strike the line: the next standard value is taken",
            Self::OneForParallel(_) => "a resistor for each branch: resistors = \"each\"",
            Self::Reversed(..) => {
                "turn it round: the long lead, the round side, is the positive one"
            }
            Self::TooFewVolts { .. } => "fewer lamps in a string, and more strings",
            Self::OverLimit(..) => "1 to 5 mA is bright enough inside a room",
            Self::OverAtWorst { .. } => {
                "strike the resistor: the next value that is safe is taken; or a steady supply"
            }
            Self::NotItsKind { .. } => {
                "measure it again with a resistor before it, or name its kind"
            }
            Self::Fault { .. } => "clear this first: a smaller fuse at the supply, or thicker wire",
            Self::LoadOver { .. } => "a lower or a steady supply",
            Self::Gauge(_) => "gauges 10 to 44",
            Self::TooHot(_) => "less current, or a lower supply",
        }
    }
}
