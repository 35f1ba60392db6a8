//! A supply: what hangs on it, what it gives, what the wire takes.

use super::refused::Refused;
use super::string::{Range, Strung};
use super::wire;
use crate::catalog::lamps::Lamps;
use crate::job::lamps::{Supply, SupplyKind};
use crate::quantity::{Current, Resistance, Voltage};

/// How far over its name the highest low-voltage supply may rise, with the dust
/// of the arithmetic.
const RISE: f64 = 1.15 + 1e-9;

/// What a supply carries.
#[derive(Clone, Debug, PartialEq)]
pub struct Budget {
    /// The supply's name.
    pub name: String,
    /// Its voltage.
    pub range: Range,
    /// What it is made for.
    pub made_for: Current,
    /// What is drawn at the voltage it is named for, no wire counted.
    pub drawn: Current,
    /// What is drawn at its highest.
    pub highest: Current,
    /// What is drawn with everything at its worst.
    pub worst: Current,
    /// What it should be made for: the draw with its reserve.
    pub wanted: Current,
    /// The voltage where the building begins, with the wire from the supply
    /// counted.
    pub arrives: Voltage,
    /// Resistance of that wire, there and back.
    pub feeder: Resistance,
    /// What the fixed loads draw.
    pub fixed: Current,
}

impl Budget {
    /// Whether the supply is enough, with its reserve and at its highest.
    #[must_use]
    pub fn holds(&self) -> bool {
        self.made_for >= self.wanted && self.made_for >= self.highest && !self.is_overdrawn()
    }

    /// Whether the worst is more than it is made for.
    #[must_use]
    pub fn is_overdrawn(&self) -> bool {
        self.worst > self.made_for
    }
}

/// The voltage of a supply with its real range.
///
/// # Errors
///
/// Supplies that have no place in a model, or say nothing.
pub(super) fn range(supply: &Supply, data: &Lamps) -> Result<Range, Refused> {
    match supply.kind {
        SupplyKind::Mains => return Err(Refused::Mains),
        SupplyKind::Track => return Err(Refused::Track),
        SupplyKind::Ac => return Err(Refused::Alternates),
        SupplyKind::Dc => {}
    }
    let named = supply.volts;
    let low = supply.low.unwrap_or(named * data.rule("supply-low"));
    let high = supply.high.unwrap_or(named * data.rule("supply-high"));
    if named.in_volts() <= 0.0 || low.in_volts() <= 0.0 {
        return Err(Refused::NotAboveZero("the voltage of the supply"));
    }
    if supply.amperes.in_amperes() <= 0.0 {
        return Err(Refused::NotAboveZero("the current the supply is made for"));
    }
    let most = Voltage::volts(data.rule("most-volts"));
    if let Some(volts) = [named, low, high].into_iter().find(|volts| *volts > most * RISE) {
        return Err(Refused::NotLow(volts, most));
    }
    if named > most {
        return Err(Refused::NotLow(named, most));
    }
    if supply.fuse.is_some_and(|fuse| fuse.in_amperes() <= 0.0) {
        return Err(Refused::NotAboveZero("the fuse"));
    }
    if low > named || high < named {
        return Err(Refused::OutOfOrder { low, named, high });
    }
    Ok(Range { low, named, high })
}

/// What can flow into a fault behind a supply: what it limits itself to, what
/// its fuse holds without blowing, or what it is made for.
#[must_use]
pub(super) fn fault(supply: &Supply, data: &Lamps) -> Current {
    let held = supply.fuse.map(|fuse| fuse * data.rule("fuse-holds"));
    match held {
        Some(held) if supply.limited && supply.amperes < held => supply.amperes,
        Some(held) => held,
        None => supply.amperes,
    }
}

/// Refuses wire that a fault melts, whether the supply limits itself or a fuse
/// does.
///
/// # Errors
///
/// With the gauge.
pub(super) fn stands_fault(
    supply: &Supply,
    gauge: Option<u32>,
    data: &Lamps,
) -> Result<(), Refused> {
    let Some(gauge) = gauge else { return Ok(()) };
    if !wire::GAUGES.contains(&gauge) {
        return Err(Refused::Gauge(gauge));
    }
    let fault = fault(supply, data);
    let stands = wire::carries(gauge, data.rule("mils-at-fault"));
    if fault > stands { Err(Refused::Fault { fault, gauge, stands }) } else { Ok(()) }
}

/// Resistance of the wire from a supply, there and back.
///
/// # Errors
///
/// A gauge that is none.
pub(super) fn feeder(supply: &Supply, data: &Lamps) -> Result<Resistance, Refused> {
    let (Some(gauge), Some(run)) = (supply.gauge, &supply.run) else {
        return Ok(Resistance::default());
    };
    if !wire::GAUGES.contains(&gauge) {
        return Err(Refused::Gauge(gauge));
    }
    Ok(wire::resistance(&data.wires, gauge, run.length() * 2.0))
}

/// Adds up a supply.
#[must_use]
pub(super) fn budget(
    supply: &Supply,
    range: Range,
    feeder: Resistance,
    strings: &[Strung],
    fixed: Current,
    data: &Lamps,
) -> Budget {
    let branches = |of: fn(&Strung) -> Current| {
        strings.iter().map(|it| of(it) * f64::from(it.branches)).sum::<Current>() + fixed
    };
    let drawn = branches(|it| it.current);
    Budget {
        name: supply.name.clone(),
        range,
        made_for: supply.amperes,
        drawn,
        highest: branches(|it| it.high[0]),
        worst: branches(|it| it.worst),
        wanted: drawn * data.rule("budget"),
        arrives: arrives(range.named, feeder, strings, fixed),
        feeder,
        fixed,
    }
}

/// The voltage behind a wire whose load draws less the lower it is: halved
/// intervals, for what hangs there goes dark one by one.
fn arrives(named: Voltage, feeder: Resistance, strings: &[Strung], fixed: Current) -> Voltage {
    let drawn = |at: Voltage| strings.iter().map(|it| it.drawn(at)).sum::<Current>() + fixed;
    let (mut low, mut high) = (Voltage::default(), named);
    for _ in 0..60 {
        let middle = (low + high) * 0.5;
        if named - drawn(middle) * feeder > middle {
            low = middle;
        } else {
            high = middle;
        }
    }
    high
}
