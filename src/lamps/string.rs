//! One string: its resistor, and what it makes of a supply that moves.

use super::refused::Refused;
use super::resistor::{next_up, rating};
use super::wire;
use crate::catalog::lamps::{Lamp, Lamps, Series};
use crate::job::lamps::{Joined, LampString, Picked, Resistors};
use crate::quantity::{Current, Power, Resistance, Voltage};

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
    /// The current a lamp stands for long.
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
    sound(said, lamp, range, forward.take, in_series, data)?;
    let exact = (range.named - forward.take) / said.current;
    let resistor = resistor(said, exact, around.series)?;
    let current = through(range.named, forward.take, resistor);
    let of = |volts, forward| through(volts, forward, resistor);
    let high = [of(range.high, forward.take), of(range.high, forward.least)];
    let heat = |current: Current| current * resistor * current;
    let twice = heat(current) * data.rule("times-heat");
    let stands = if heat(high[1]) > twice { heat(high[1]) } else { twice };
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
        limit: lamp.limit,
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
    if said.current > lamp.limit {
        return Err(Refused::OverLimit(said.current, lamp.limit));
    }
    if said.reversed {
        return Err(Refused::Reversed(range.named, Voltage::volts(data.rule("reverse"))));
    }
    if needs >= range.named {
        return Err(Refused::TooFewVolts { lamps: in_series, needs, gives: range.named });
    }
    Ok(())
}

fn resistor(said: &LampString, exact: Resistance, series: &Series) -> Result<Resistance, Refused> {
    match said.resistor {
        Some(Picked::None) => Err(Refused::NoResistor),
        Some(Picked::Of(ohms)) if ohms.in_ohms() <= 0.0 => Err(Refused::ZeroOhm),
        Some(Picked::Of(ohms)) => Ok(ohms),
        None => next_up(series, exact).ok_or(Refused::NoResistor),
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
