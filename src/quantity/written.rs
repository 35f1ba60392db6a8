//! Lengths that stay exactly what was written.

use std::fmt;
use std::marker::PhantomData;

use serde::{Deserialize, Deserializer, Serialize, Serializer, de};

use super::{FullSize, Length, Model, Rational, Reading, Scale, Space, Unit, parse};

/// A length in space `S` as an exact number of inches.
#[derive(Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Exact<S> {
    inches: Rational,
    space: PhantomData<S>,
}

impl<S: Space> Exact<S> {
    /// That many inches.
    #[must_use]
    pub const fn inches(inches: Rational) -> Self {
        Self { inches, space: PhantomData }
    }

    /// That many of a unit; nothing where the numbers outgrow the type.
    #[must_use]
    pub fn of(amount: Rational, unit: Unit) -> Option<Self> {
        unit.to_inches(amount).map(Self::inches)
    }

    /// The exact number of inches.
    #[must_use]
    pub const fn in_inches(self) -> Rational {
        self.inches
    }

    /// The exact amount in a unit; nothing where the numbers outgrow the type.
    #[must_use]
    pub fn in_unit(self, unit: Unit) -> Option<Rational> {
        unit.from_inches(self.inches)
    }

    /// The nearest floating point length, rounded once.
    #[must_use]
    pub fn length(self) -> Length<S> {
        match Unit::Metre.from_inches(self.inches) {
            Some(metres) => Length::metres(metres.value()),
            None => Length::inches(self.inches.value()),
        }
    }
}

impl<S> fmt::Debug for Exact<S> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "exactly {} in", self.inches)
    }
}

impl Scale {
    /// [`Scale::reduce`], exactly; nothing where the numbers outgrow the type.
    #[must_use]
    pub fn reduce_exact<S: FullSize>(&self, full: Exact<S>) -> Option<Exact<Model>> {
        full.in_inches().over(self.ratio.into()).map(Exact::inches)
    }

    /// [`Scale::enlarge`], exactly; nothing where the numbers outgrow the type.
    #[must_use]
    pub fn enlarge_exact<S: FullSize>(&self, model: Exact<Model>) -> Option<Exact<S>> {
        model.in_inches().times(self.ratio.into()).map(Exact::inches)
    }
}

/// The mark behind a length that says it is a little more or a little less.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Remainder {
    /// `+`: a little over what is written.
    Over,
    /// `-`: a little under.
    Under,
}

/// A length as a person wrote it: the text, and exactly what it says.
#[derive(Clone, PartialEq, Eq, Hash)]
pub struct Written<S> {
    exact: Exact<S>,
    text: String,
    unit: Unit,
    remainder: Option<Remainder>,
}

impl<S: Space> Written<S> {
    pub(super) fn new(
        exact: Exact<S>,
        text: &str,
        unit: Unit,
        remainder: Option<Remainder>,
    ) -> Self {
        Self { exact, text: text.to_owned(), unit, remainder }
    }

    /// The exact length.
    #[must_use]
    pub fn exact(&self) -> Exact<S> {
        self.exact
    }

    /// The nearest floating point length.
    #[must_use]
    pub fn length(&self) -> Length<S> {
        self.exact.length()
    }

    /// The text, as it was written.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The last unit it was written in: inches for `12' 6"`.
    #[must_use]
    pub fn unit(&self) -> Unit {
        self.unit
    }

    /// What the person should be told about how it was read.
    #[must_use]
    pub fn notice(&self) -> Option<String> {
        let mark = match self.remainder? {
            Remainder::Over => '+',
            Remainder::Under => '-',
        };
        Some(format!("the mark {mark} behind {} was read over: it adds no size", self.text))
    }
}

impl<S> fmt::Debug for Written<S> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:?} ({:?})", self.text, self.exact)
    }
}

impl<S> fmt::Display for Written<S> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.text)
    }
}

impl<S> Serialize for Written<S> {
    /// The text, as it was written.
    fn serialize<Z: Serializer>(&self, to: Z) -> Result<Z::Ok, Z::Error> {
        to.serialize_str(&self.text)
    }
}

impl<'de, S: Space> Deserialize<'de> for Written<S> {
    /// From text with its unit: in files no unit is assumed.
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        let text = String::deserialize(from)?;
        parse(&text, &Reading::default()).map_err(de::Error::custom)
    }
}

/// A value and, where it was given, its standard uncertainty.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stated<T> {
    /// The value.
    pub value: T,
    /// Its standard uncertainty (1 sigma), never negative.
    pub sigma: Option<T>,
}
