//! One string: its resistor, and what it makes of a supply that moves.

use super::refused::Refused;
use super::resistor::{next_up, rating};
use super::wire;
use crate::catalog::lamps::{Lamp, Lamps, Series};
use crate::job::lamps::{Joined, LampString, Picked, Resistors};
use crate::quantity::{Current, Power, Resistance, Voltage};

/// Degrees Celsius at which lamps are measured.
const ROOM: f64 = 25.0;

/// The dust of the arithmetic, no tolerance.
const DUST: f64 = 1e-9;

/// A supply as its lamps see it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Range {
    /// The lowest it sags to.
    pub low: Voltage,
    /// What it is named for.
    pub named: Voltage,
    /// The highest it rises to.
    pub high: Voltage,
}

/// Forward voltage of the lamps in series, all together.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Forward {
    /// If each needs the least of its kind.
    pub least: Voltage,
    /// As taken.
    pub take: Voltage,
    /// If each needs the most of its kind.
    pub most: Voltage,
}

/// A string worked out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Strung {
    /// Lamps one behind the other.
    pub in_series: u32,
    /// Branches side by side, each with its own resistor.
    pub branches: u32,
    /// What the lamps of a branch need together.
    pub forward: Forward,
    /// The current wanted.
    pub wanted: Current,
    /// The resistance that gives it.
    pub exact: Resistance,
    /// The resistor taken.
    pub resistor: Resistance,
    /// Whether the person picked it.
    pub picked: bool,
    /// The current at the voltage the supply is named for.
    pub current: Current,
    /// Heat of the resistor at that current.
    pub heat: Power,
    /// What it is rated for.
    pub rating: Power,
    /// Share of the named supply across the resistor.
    pub share: f64,
    /// The current at the lowest supply, and if the lamps also need the most.
    pub low: [Current; 2],
    /// The current at the highest supply, and if the lamps also need the least.
    pub high: [Current; 2],
    /// The current with everything at its worst: see [`Worst`].
    pub worst: Current,
    /// The current a lamp stands for long in the heat inside.
    pub limit: Current,
    /// Resistance of its wire, there and back.
    pub wire: Resistance,
}

impl Strung {
    /// The current of all branches at a voltage where their wire begins.
    #[must_use]
    pub fn drawn(&self, at: Voltage) -> Current {
        let branches = f64::from(self.branches);
        through(at, self.forward.take, self.resistor + self.wire * branches) * branches
    }

    /// Lamps in it.
    #[must_use]
    pub fn lamps(&self) -> u32 {
        self.in_series.saturating_mul(self.branches)
    }
}

/// The current through a branch: none until the lamps have what they need.
#[must_use]
pub fn through(supply: Voltage, forward: Voltage, resistor: Resistance) -> Current {
    let left = supply - forward;
    if left.in_volts() <= 0.0 { Current::default() } else { left / resistor }
}

/// Everything at its worst together: the supply at its highest, each lamp at the
/// least voltage of its kind and that lowered by the heat inside, the resistor
/// as low as its tolerance allows, no wire.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Worst {
    /// What is left for the resistor.
    pub across: Voltage,
    /// How much lower than marked a resistor may be, as a share.
    pub tolerance: f64,
    /// What a lamp stands in that heat.
    pub limit: Current,
}

impl Worst {
    /// The resistance as low as it may be.
    fn lowest(&self, marked: Resistance) -> Resistance {
        marked * (1.0 - self.tolerance)
    }

    /// The current through a resistor of that mark.
    #[must_use]
    pub fn current(&self, marked: Resistance) -> Current {
        through(self.across, Voltage::default(), self.lowest(marked))
    }

    /// The heat of a resistor of that mark.
    #[must_use]
    pub fn heat(&self, marked: Resistance) -> Power {
        let current = self.current(marked);
        current * self.lowest(marked) * current
    }

    /// The least mark that keeps within what a lamp stands.
    #[must_use]
    pub fn safe(&self) -> Resistance {
        let across = if self.across.in_volts() > 0.0 { self.across } else { Voltage::default() };
        (across / self.limit) * (1.0 / (1.0 - self.tolerance))
    }
}

/// What every string of a building is worked out with.
#[derive(Clone, Copy, Debug)]
pub struct Around<'a> {
    /// Lamps, ratings, wire and rules.
    pub data: &'a Lamps,
    /// The series resistors are bought in.
    pub series: &'a Series,
    /// Degrees Celsius in the closed building.
    pub degrees: f64,
}

/// Works out a string; R = (V - n Vf) / I.
///
/// # Errors
///
/// Wiring that must not be made, with the reason.
pub fn work_out(
    said: &LampString,
    lamp: &Lamp,
    range: Range,
    around: Around<'_>,
) -> Result<Strung, Refused> {
    let data = around.data;
    let (in_series, branches) = layout(said)?;
    let forward = forward(said, lamp, in_series);
    let worst = worst(lamp, forward, range, around, in_series);
    sound(said, lamp, range, forward.take, in_series, data)?;
    if said.current > worst.limit {
        return Err(Refused::OverLimit(said.current, worst.limit));
    }
    let exact = (range.named - forward.take) / said.current;
    let resistor = resistor(said, exact, worst, around.series)?;
    if worst.current(resistor) > worst.limit * (1.0 + DUST) {
        return Err(Refused::OverAtWorst {
            high: range.high,
            resistor,
            flows: worst.current(resistor),
            stands: worst.limit,
        });
    }
    let current = through(range.named, forward.take, resistor);
    let of = |volts, forward| through(volts, forward, resistor);
    let high = [of(range.high, forward.take), of(range.high, forward.least)];
    let heat = |current: Current| current * resistor * current;
    let twice = heat(current) * data.rule("times-heat");
    let hottest = worst.heat(resistor);
    let stands = if hottest > twice { hottest } else { twice };
    let rating = rating(&data.ratings, stands, around.degrees).ok_or(Refused::TooHot(stands))?;
    Ok(Strung {
        in_series,
        branches,
        forward,
        wanted: said.current,
        exact,
        resistor,
        picked: said.resistor.is_some(),
        current,
        heat: heat(current),
        rating,
        share: (range.named - forward.take) / range.named,
        low: [of(range.low, forward.take), of(range.low, forward.most)],
        high,
        worst: worst.current(resistor),
        limit: worst.limit,
        wire: wire_of(said, data)?,
    })
}

/// Lamps in a branch, and branches.
fn layout(said: &LampString) -> Result<(u32, u32), Refused> {
    let (lamps, times) = (said.lamps.unwrap_or(1), said.times.unwrap_or(1));
    if lamps == 0 || times == 0 {
        return Err(Refused::NotAboveZero("the number of lamps"));
    }
    match (said.joined, said.resistors) {
        (Joined::Series, Resistors::Each) => Ok((lamps, times)),
        (Joined::Series, Resistors::One) if times > 1 => Err(Refused::OneForParallel(times)),
        (Joined::Parallel, Resistors::One) if lamps > 1 => Err(Refused::OneForParallel(lamps)),
        (Joined::Series, Resistors::One) => Ok((lamps, 1)),
        (Joined::Parallel, _) => Ok((1, lamps.saturating_mul(times))),
    }
}

/// What the lamps of a branch need; a measured voltage keeps the spread of its
/// kind.
fn forward(said: &LampString, lamp: &Lamp, in_series: u32) -> Forward {
    let take = said.forward.unwrap_or(lamp.take);
    let all = |volts: Voltage| volts * f64::from(in_series);
    let off = take - lamp.take;
    Forward { least: all(lamp.least + off), take: all(take), most: all(lamp.most + off) }
}

/// What must hold before anything is worked out.
fn sound(
    said: &LampString,
    lamp: &Lamp,
    range: Range,
    needs: Voltage,
    in_series: u32,
    data: &Lamps,
) -> Result<(), Refused> {
    if said.current.in_amperes() <= 0.0 {
        return Err(Refused::NotAboveZero("the current"));
    }
    if said.forward.is_some_and(|volts| volts.in_volts() <= 0.0) {
        return Err(Refused::NotAboveZero("the forward voltage"));
    }
    if let Some(volts) = said.forward.filter(|volts| !is_of_its_kind(*volts, lamp, data)) {
        return Err(Refused::NotItsKind { volts, least: lamp.least, most: lamp.most });
    }
    if said.reversed {
        return Err(Refused::Reversed(range.named, Voltage::volts(data.rule("reverse"))));
    }
    if needs >= range.named {
        return Err(Refused::TooFewVolts { lamps: in_series, needs, gives: range.named });
    }
    Ok(())
}

/// Whether a measured voltage can be that of such a lamp: a figure far off it
/// would make every check after it worthless.
fn is_of_its_kind(volts: Voltage, lamp: &Lamp, data: &Lamps) -> bool {
    let off = Voltage::volts(data.rule("measured-off"));
    volts >= lamp.least - off && volts <= lamp.most + off
}

/// Everything at its worst for a string.
fn worst(lamp: &Lamp, forward: Forward, range: Range, around: Around<'_>, in_series: u32) -> Worst {
    let (data, degrees) = (around.data, around.degrees);
    let lamps = f64::from(in_series);
    // One lamp that was measured says nothing of the next.
    let kind = lamp.least * lamps;
    let least = if kind < forward.least { kind } else { forward.least };
    let hotter = (degrees - ROOM).max(0.0);
    let fall = Voltage::volts(data.rule("fall")) * (hotter * lamps);
    let (full_to, none_at) = (data.rule("lamp-full-to"), data.rule("lamp-none-at"));
    let left = ((none_at - degrees) / (none_at - full_to)).clamp(0.0, 1.0);
    Worst {
        across: range.high - least + fall,
        tolerance: around.series.tolerance / 100.0,
        limit: lamp.limit * left,
    }
}

/// The resistor picked, or the next of the series that gives no more than is
/// wanted and keeps within what a lamp stands at the worst.
fn resistor(
    said: &LampString,
    exact: Resistance,
    worst: Worst,
    series: &Series,
) -> Result<Resistance, Refused> {
    let wanted = if worst.safe() > exact { worst.safe() } else { exact };
    match said.resistor {
        Some(Picked::None) => Err(Refused::NoResistor),
        Some(Picked::Of(ohms)) if ohms.in_ohms() <= 0.0 => Err(Refused::ZeroOhm),
        Some(Picked::Of(ohms)) => Ok(ohms),
        None => next_up(series, wanted).ok_or(Refused::NoResistor),
    }
}

fn wire_of(said: &LampString, data: &Lamps) -> Result<Resistance, Refused> {
    let (Some(gauge), Some(run)) = (said.gauge, &said.run) else {
        return Ok(Resistance::default());
    };
    if !wire::GAUGES.contains(&gauge) {
        return Err(Refused::Gauge(gauge));
    }
    Ok(wire::resistance(&data.wires, gauge, run.length() * 2.0))
}
