//! Lengths as a job file says them: text with its unit.

use std::fmt;

use serde::{Serialize, Serializer};

use super::form::Linear;
use crate::quantity::{self, Exact, Length, Prototype, Reading, Space, Written};

/// A length as written in the job file, with the value it stands for.
#[derive(Clone, Debug, PartialEq)]
pub struct Said<S: Space>(Written<S>);

impl<S: Space> Said<S> {
    /// The length, as a number.
    #[must_use]
    pub fn length(&self) -> Length<S> {
        self.0.length()
    }

    /// The length exactly as written.
    #[must_use]
    pub fn exact(&self) -> Exact<S> {
        self.0.exact()
    }

    /// The text as written.
    #[must_use]
    pub fn text(&self) -> &str {
        self.0.text()
    }
}

impl<S: Space> std::str::FromStr for Said<S> {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        quantity::parse(text, &Reading::default())
            .map(Self)
            .map_err(|error| with_hint(&error.message, &error.hint))
    }
}

impl<S: Space> fmt::Display for Said<S> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.text())
    }
}

impl<S: Space> From<Written<S>> for Said<S> {
    fn from(written: Written<S>) -> Self {
        Self(written)
    }
}

impl<S: Space> Serialize for Said<S> {
    fn serialize<Z: Serializer>(&self, to: Z) -> Result<Z::Ok, Z::Error> {
        to.serialize_str(self.text())
    }
}

/// A message and its hint as one text.
fn with_hint(message: &str, hint: &str) -> String {
    if hint.is_empty() { message.to_owned() } else { format!("{message}{HINT}{hint}") }
}

/// What stands between a message and its hint.
const HINT: &str = "\nhint: ";

/// A full-size size of the building: written, measured, or both.
///
/// In the file it is a length (`"9 ft"`), a form of the surveyed dimensions
/// (`"w1_left - d1_right"`), or `{ take = "9 ft", measured = "w1_left - d1_right" }`
/// where the person took a round figure for what was measured.
#[derive(Clone, Debug, PartialEq)]
pub struct Size {
    /// The figure the person took, if any.
    pub take: Option<Said<Prototype>>,
    /// The surveyed dimensions it rests on, if any.
    pub measured: Option<Linear>,
}

impl Size {
    /// A size that is only written down.
    #[must_use]
    pub fn taken(said: Said<Prototype>) -> Self {
        Self { take: Some(said), measured: None }
    }
}
