//! Lengths as a job file says them: text with its unit.

use std::fmt;

use serde::{Deserialize, Deserializer, Serialize, Serializer, de::Error as _};

use super::form::{Form, Linear};
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

impl<'de, S: Space> Deserialize<'de> for Said<S> {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        String::deserialize(from)?.parse().map_err(D::Error::custom)
    }
}

impl<S: Space> Serialize for Said<S> {
    fn serialize<Z: Serializer>(&self, to: Z) -> Result<Z::Ok, Z::Error> {
        to.serialize_str(self.text())
    }
}

/// A message and its hint as one text; the reader of the file parts them.
fn with_hint(message: &str, hint: &str) -> String {
    if hint.is_empty() { message.to_owned() } else { format!("{message}{HINT}{hint}") }
}

/// What stands between a message and its hint on their way through the
/// deserializer.
pub(super) const HINT: &str = "\nhint: ";

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

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Both {
    take: Said<Prototype>,
    measured: Linear,
}

struct SizeVisitor;

impl<'de> serde::de::Visitor<'de> for SizeVisitor {
    type Value = Size;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a length such as \"9 ft\", dimensions such as \"right - left\", or { take = \"9 ft\", measured = \"right - left\" }")
    }

    fn visit_str<E: serde::de::Error>(self, text: &str) -> Result<Size, E> {
        if text.trim_start().starts_with(|c: char| c.is_alphabetic()) {
            match text.parse::<Form>().map_err(E::custom)? {
                Form::Linear(form) => Ok(Size { take: None, measured: Some(form) }),
                _ => Err(E::custom(format!(
                    "\"{text}\" is not a length: a size is a sum of dimensions"
                ))),
            }
        } else {
            text.parse().map(Size::taken).map_err(E::custom)
        }
    }

    fn visit_map<A: serde::de::MapAccess<'de>>(self, map: A) -> Result<Size, A::Error> {
        let both = Both::deserialize(serde::de::value::MapAccessDeserializer::new(map))?;
        Ok(Size { take: Some(both.take), measured: Some(both.measured) })
    }
}

impl<'de> Deserialize<'de> for Size {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        from.deserialize_any(SizeVisitor)
    }
}
