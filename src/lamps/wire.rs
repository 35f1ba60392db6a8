//! Wire by its gauge.

use crate::catalog::lamps::Wire;
use crate::quantity::{Current, ModelLength, Resistance, Voltage};

/// Resistivity of annealed copper at 20 degrees Celsius, ohm metres: 1/58 ohm
/// square millimetre a metre (IEC 60028, from memory).
const COPPER: f64 = 1.0 / 58.0 * 1e-6;

/// The gauges this program speaks of: the thick ones do not go into a model, the
/// thin ones break.
pub const GAUGES: std::ops::RangeInclusive<u32> = 10..=44;

/// Diameter of a gauge: 0.005 in x 92^((36 - n) / 39) (ASTM B258; formula from
/// memory, its diameters READ).
#[must_use]
pub fn diameter(gauge: u32) -> ModelLength {
    ModelLength::inches(0.005 * 92_f64.powf((36.0 - f64::from(gauge)) / 39.0))
}

/// Resistance of a length of one solid wire: of the table where it has the
/// gauge, else of copper of that diameter.
#[must_use]
pub fn resistance(table: &[Wire], gauge: u32, length: ModelLength) -> Resistance {
    if let Some(row) = table.iter().find(|row| row.gauge == gauge) {
        return row.per_thousand_feet * (length.in_feet() / 1000.0);
    }
    solid(gauge, length)
}

/// Resistance of a length of solid copper by diameter and resistivity.
#[must_use]
pub fn solid(gauge: u32, length: ModelLength) -> Resistance {
    let radius = diameter(gauge).in_metres() / 2.0;
    Resistance::ohms(COPPER * length.in_metres() / (std::f64::consts::PI * radius * radius))
}

/// Voltage lost there and back along a run.
#[must_use]
pub fn loop_drop(table: &[Wire], gauge: u32, run: ModelLength, current: Current) -> Voltage {
    current * resistance(table, gauge, run * 2.0)
}

/// The current a gauge carries, at so many circular mils an ampere.
#[must_use]
pub fn carries(gauge: u32, mils_per_ampere: f64) -> Current {
    let mils = diameter(gauge).in_thou();
    Current::amperes(mils * mils / mils_per_ampere)
}
