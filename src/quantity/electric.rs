//! Volts, amperes, ohms and watts. Electricity belongs to no space: a lamp in a
//! model is no scaled lamp.

use std::fmt;
use std::iter::Sum;
use std::ops::{Add, Div, Mul, Sub};

use serde::{Deserialize, Deserializer, Serialize, Serializer, de};
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::electrical_resistance::ohm;
use uom::si::f64 as si;
use uom::si::power::watt;

use super::scan::Cursor;
use super::{NotationError, Rational};

/// A word for a multiple of a unit and what it counts: `("mA", 1, 1000)`.
type Word = (&'static str, i64, i64);

macro_rules! electric {
    ($($(#[$doc:meta])* $name:ident, $quantity:ident, $make:ident, $read:ident, $unit:ident, $example:literal, $words:expr;)*) => {$(
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
        pub struct $name(si::$quantity);

        impl $name {
            #[doc = concat!("A value from ", stringify!($unit), "s.")]
            #[must_use]
            pub fn $make(value: f64) -> Self {
                Self(si::$quantity::new::<$unit>(value))
            }

            #[doc = concat!("The value in ", stringify!($unit), "s.")]
            #[must_use]
            pub fn $read(self) -> f64 {
                self.0.get::<$unit>()
            }
        }

        impl Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self(self.0 + other.0)
            }
        }

        impl Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self(self.0 - other.0)
            }
        }

        impl Mul<f64> for $name {
            type Output = Self;
            fn mul(self, factor: f64) -> Self {
                Self(self.0 * factor)
            }
        }

        impl Div for $name {
            type Output = f64;
            fn div(self, other: Self) -> f64 {
                self.$read() / other.$read()
            }
        }

        impl Sum for $name {
            fn sum<I: Iterator<Item = Self>>(values: I) -> Self {
                values.fold(Self::default(), Add::add)
            }
        }

        impl std::str::FromStr for $name {
            type Err = NotationError;
            fn from_str(text: &str) -> Result<Self, NotationError> {
                read(text, &$words, $example).map(Self::$make)
            }
        }

        impl<'de> Deserialize<'de> for $name {
            #[doc = concat!("From text with its unit, such as ", $example, ".")]
            fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
                let text = String::deserialize(from)?;
                text.parse().map_err(|error: NotationError| {
                    de::Error::custom(format!("{}\nhint: {}", error.message, error.hint))
                })
            }
        }

        impl Serialize for $name {
            #[doc = concat!("A number, in ", stringify!($unit), "s.")]
            fn serialize<Z: Serializer>(&self, to: Z) -> Result<Z::Ok, Z::Error> {
                to.serialize_f64(self.$read())
            }
        }
    )*};
}

electric! {
    /// Voltage.
    Voltage, ElectricPotential, volts, in_volts, volt, "12 V", [("V", 1, 1), ("volts", 1, 1)];
    /// Current.
    Current, ElectricCurrent, amperes, in_amperes, ampere, "5 mA",
        [("mA", 1, 1000), ("A", 1, 1)];
    /// Resistance.
    Resistance, ElectricalResistance, ohms, in_ohms, ohm, "560 ohm",
        [("kohm", 1000, 1), ("Mohm", 1_000_000, 1), ("ohms", 1, 1), ("ohm", 1, 1),
         ("k\u{2126}", 1000, 1), ("k\u{3a9}", 1000, 1), ("\u{2126}", 1, 1), ("\u{3a9}", 1, 1)];
    /// Power.
    Power, Power, watts, in_watts, watt, "1/4 W", [("mW", 1, 1000), ("W", 1, 1)];
}

impl Current {
    /// A current from milliamperes.
    #[must_use]
    pub fn milliamperes(value: f64) -> Self {
        Self::amperes(value / 1000.0)
    }

    /// The current in milliamperes.
    #[must_use]
    pub fn in_milliamperes(self) -> f64 {
        self.in_amperes() * 1000.0
    }
}

impl Div<Current> for Voltage {
    type Output = Resistance;
    fn div(self, current: Current) -> Resistance {
        Resistance(self.0 / current.0)
    }
}

impl Div<Resistance> for Voltage {
    type Output = Current;
    fn div(self, resistance: Resistance) -> Current {
        Current(self.0 / resistance.0)
    }
}

impl Mul<Current> for Voltage {
    type Output = Power;
    fn mul(self, current: Current) -> Power {
        Power(self.0 * current.0)
    }
}

impl Mul<Resistance> for Current {
    type Output = Voltage;
    fn mul(self, resistance: Resistance) -> Voltage {
        Voltage(self.0 * resistance.0)
    }
}

/// Reads a number with one of the units.
fn read(text: &str, words: &[Word], example: &str) -> Result<f64, NotationError> {
    let hint = format!("write it with its unit: {example}");
    let mut cursor = Cursor::new(text);
    cursor.skip_spaces();
    let number = cursor.number()?.value;
    cursor.skip_spaces();
    let unit = words.iter().find(|(word, ..)| cursor.take(&[word]));
    let Some((_, times, over)) = unit else {
        return Err(cursor.error(cursor.at..cursor.end, "there is no unit known here", &hint));
    };
    cursor.finish(&hint)?;
    let factor = Rational::new((*times).into(), (*over).into());
    let value = factor.and_then(|factor| number.times(factor));
    value
        .map(Rational::value)
        .ok_or_else(|| cursor.error(0..text.len(), "the number is too long", ""))
}

impl fmt::Display for Resistance {
    /// `560 ohm`, `2.2 kohm`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let ohms = self.in_ohms();
        if ohms >= 999.5 {
            write!(f, "{} kohm", plain(ohms / 1000.0))
        } else {
            write!(f, "{} ohm", plain(ohms))
        }
    }
}

impl fmt::Display for Voltage {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} V", plain(self.in_volts()))
    }
}

impl fmt::Display for Current {
    /// `4.89 mA`, `1.5 A`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.in_amperes().abs() >= 0.9995 {
            write!(f, "{} A", plain(self.in_amperes()))
        } else {
            write!(f, "{} mA", plain(self.in_milliamperes()))
        }
    }
}

impl fmt::Display for Power {
    /// `43 mW`, `1 W`; the ratings of the trade as fractions: `1/4 W`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let watts = self.in_watts();
        match [8.0, 4.0, 2.0].into_iter().find(|parts| (watts * parts - 1.0).abs() < 1e-9) {
            Some(parts) => write!(f, "1/{parts} W"),
            None if watts >= 0.9995 => write!(f, "{} W", plain(watts)),
            None => write!(f, "{} mW", plain(watts * 1000.0)),
        }
    }
}

/// Three digits, without the zeros nobody needs.
fn plain(value: f64) -> String {
    let places = match value.abs() {
        size if size >= 99.95 => 0,
        size if size >= 9.995 => 1,
        _ => 2,
    };
    let text = format!("{value:.places$}");
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn units_are_read_and_written() {
        assert!(("5 mA".parse::<Current>().unwrap().in_amperes() - 0.005).abs() < 1e-18);
        assert!(("2.2 kohm".parse::<Resistance>().unwrap().in_ohms() - 2200.0).abs() < 1e-12);
        assert!(("1/4 W".parse::<Power>().unwrap().in_watts() - 0.25).abs() < 1e-15);
        assert_eq!(Resistance::ohms(560.0).to_string(), "560 ohm");
        assert_eq!(Resistance::ohms(2200.0).to_string(), "2.2 kohm");
        assert_eq!(Resistance::ohms(0.5).to_string(), "0.5 ohm");
        assert_eq!(Voltage::volts(13.8).to_string(), "13.8 V");
        assert_eq!(Current::milliamperes(4.888_9).to_string(), "4.89 mA");
        assert_eq!(Current::amperes(1.5).to_string(), "1.5 A");
        assert_eq!(Power::watts(0.25).to_string(), "1/4 W");
        assert_eq!(Power::watts(0.043).to_string(), "43 mW");
    }

    #[test]
    fn a_number_without_its_unit_is_refused_with_a_hint() {
        for text in ["12", "12 mA", "V", "12 V 3", "12 Volt"] {
            let error = text.parse::<Voltage>().unwrap_err();
            assert!(!error.message.is_empty(), "{text}");
        }
        assert!("12".parse::<Voltage>().unwrap_err().hint.contains("12 V"));
    }
}
