//! Values of the file as types.

use std::collections::BTreeMap;
use std::ops::Range;

use toml_edit::Value as Plain;

use super::{Kind, Node, Reader, Rule, Text, Wrong};
use crate::finding::short;
use crate::job::form::{Equation, Form, FormError, Linear, is_name};
use crate::job::said::{Said, Size};
use crate::job::unseen;
use crate::quantity::{
    Current, NotationError, Reading, Resistance, Space, Voltage, Written, parse, parse_angle,
    parse_pitch,
};

/// What can stand behind a key.
pub trait Value: Sized {
    /// What it is.
    fn kind() -> Kind;

    /// From what stands in the file.
    ///
    /// # Errors
    /// What is wrong with it.
    fn read(node: Node<'_>, reader: &Reader<'_>, rule: &Rule) -> Result<Self, Wrong>;

    /// What an absent key says, where it says something by itself.
    fn absent(_: &Reader<'_>) -> Option<Self> {
        None
    }
}

impl<T: Value> Value for Option<T> {
    fn kind() -> Kind {
        T::kind()
    }

    fn read(node: Node<'_>, reader: &Reader<'_>, rule: &Rule) -> Result<Self, Wrong> {
        T::read(node, reader, rule).map(Some)
    }

    fn absent(_: &Reader<'_>) -> Option<Self> {
        Some(None)
    }
}

impl<T: Value> Value for Vec<T> {
    fn kind() -> Kind {
        Kind::List(T::kind)
    }

    fn read(node: Node<'_>, reader: &Reader<'_>, rule: &Rule) -> Result<Self, Wrong> {
        match node {
            Node::Rows(rows) => {
                rows.iter().map(|row| T::read(Node::row(row), reader, rule)).collect()
            }
            Node::Plain(Plain::Array(list)) => {
                list.iter().map(|value| T::read(value.into(), reader, rule)).collect()
            }
            Node::Table(..) if matches!(T::kind(), Kind::Table(_)) => {
                let message = "there may be several of these: `{key}` is a list of tables";
                Err(Wrong::new(node.at(), message, "write the name in double brackets: [[{key}]]"))
            }
            _ => Err(node.not("a list")),
        }
    }

    fn absent(_: &Reader<'_>) -> Option<Self> {
        Some(Self::new())
    }
}

impl<T: Value, const N: usize> Value for [T; N] {
    fn kind() -> Kind {
        Kind::Row(N, T::kind)
    }

    fn read(node: Node<'_>, reader: &Reader<'_>, rule: &Rule) -> Result<Self, Wrong> {
        let found = Vec::<T>::read(node, reader, rule)?;
        let many = found.len();
        found.try_into().map_err(|_| {
            Wrong::new(node.at(), format!("`{{key}}` has {N} values, and here are {many}"), "")
        })
    }
}

impl<T: Value> Value for BTreeMap<String, T> {
    fn kind() -> Kind {
        Kind::Map(T::kind)
    }

    fn read(node: Node<'_>, reader: &Reader<'_>, rule: &Rule) -> Result<Self, Wrong> {
        let Node::Table(table, _) = node else { return Err(node.not("a table of names")) };
        let entry = |(name, item): (&str, &toml_edit::Item)| {
            let at = table.key(name).and_then(toml_edit::Key::span).unwrap_or_else(|| node.at());
            fits(name, Text::Line, &at)?;
            Ok((name.to_owned(), T::read(item.into(), reader, rule)?))
        };
        table.iter().map(entry).collect()
    }

    fn absent(_: &Reader<'_>) -> Option<Self> {
        Some(Self::new())
    }
}

impl Value for bool {
    fn kind() -> Kind {
        Kind::Flag
    }

    fn read(node: Node<'_>, _: &Reader<'_>, _: &Rule) -> Result<Self, Wrong> {
        match node {
            Node::Plain(Plain::Boolean(flag)) => Ok(*flag.value()),
            _ => Err(node.not("true or false, without quotes")),
        }
    }

    fn absent(_: &Reader<'_>) -> Option<Self> {
        Some(false)
    }
}

impl Value for f64 {
    fn kind() -> Kind {
        Kind::Number
    }

    fn read(node: Node<'_>, _: &Reader<'_>, rule: &Rule) -> Result<Self, Wrong> {
        let number = match node {
            Node::Plain(Plain::Float(number)) => *number.value(),
            #[allow(clippy::cast_precision_loss, reason = "a count of the job is small")]
            Node::Plain(Plain::Integer(number)) => *number.value() as f64,
            _ => return Err(node.not("a number, without quotes")),
        };
        if rule.allows(number) {
            return Ok(number);
        }
        Err(rule.outside(node.at(), &number.to_string(), |end| end.to_string()))
    }
}

macro_rules! whole {
    ($($type:ty),*) => {$(
        impl Value for $type {
            fn kind() -> Kind {
                Kind::Count
            }

            fn read(node: Node<'_>, _: &Reader<'_>, rule: &Rule) -> Result<Self, Wrong> {
                let Node::Plain(Plain::Integer(number)) = node else {
                    return Err(node.not("a whole number, without quotes"));
                };
                let number = *number.value();
                #[allow(clippy::cast_precision_loss, reason = "only held against the range")]
                let within = rule.allows(number as f64);
                Self::try_from(number).ok().filter(|_| within).ok_or_else(|| {
                    rule.outside(node.at(), &number.to_string(), |end| end.to_string())
                })
            }
        }
    )*};
}
whole!(u32, i32);

impl Value for String {
    fn kind() -> Kind {
        Kind::Text
    }

    fn read(node: Node<'_>, reader: &Reader<'_>, rule: &Rule) -> Result<Self, Wrong> {
        let text = node.text("a text in quotes")?;
        let at = node.at();
        fits(text, rule.text, &at)?;
        match rule.text {
            Text::Pitch => pitch(text, reader, &at, rule)?,
            Text::Angle => angle(text, reader, &at, rule)?,
            Text::Letters if !is_name(text) => {
                let message = format!("\"{}\" cannot name a dimension", short::word(text));
                let hint = "use letters, digits and underscores, a letter first";
                return Err(Wrong::new(at, message, hint));
            }
            _ => {}
        }
        if let Some(of) = rule.names {
            reader.uses(of, text, at.clone());
        }
        if let Some(of) = rule.declares {
            reader.declares(of, text, at);
        }
        Ok(text.to_owned())
    }

    fn absent(_: &Reader<'_>) -> Option<Self> {
        Some(Self::new())
    }
}

/// Refuses a text that is too long, or has line ends where one line is meant.
fn fits(text: &str, kind: Text, at: &Range<usize>) -> Result<(), Wrong> {
    let many = text.chars().count();
    if many > kind.most() {
        let message = format!(
            "\"{}\" has {many} characters, and {} are the most here",
            short::word(text),
            kind.most()
        );
        return Err(Wrong::new(at.clone(), message, "write it shorter"));
    }
    if matches!(kind, Text::Name | Text::Letters) && text.contains(unseen::breaks_a_line) {
        let message = "a name stands on one line".to_owned();
        return Err(Wrong::new(at.clone(), message, "take the line end out"));
    }
    Ok(())
}

fn pitch(text: &str, reader: &Reader<'_>, at: &Range<usize>, rule: &Rule) -> Result<(), Wrong> {
    let wrong = |error: NotationError| notation(error, reader, at, text);
    let pitch = parse_pitch(text).map_err(wrong)?.value.value();
    if rule.allows(pitch) {
        return Ok(());
    }
    let mut wrong = rule.outside(at.clone(), text, |end| format!("{:.0}:12", 12.0 * end));
    if !text.contains([':', '/']) {
        wrong.message = format!("{} alone rises {0} ft for each foot along", short::word(text));
        wrong.hint = format!("write {}:12 if that is meant", short::word(text.trim()));
    }
    Err(wrong)
}

fn angle(text: &str, reader: &Reader<'_>, at: &Range<usize>, rule: &Rule) -> Result<(), Wrong> {
    let wrong = |error: NotationError| notation(error, reader, at, text);
    let angle = parse_angle(text).map_err(wrong)?.value.in_degrees();
    if rule.allows(angle) {
        return Ok(());
    }
    Err(rule.outside(at.clone(), text, |end| format!("{end} deg")))
}

/// What is wrong with a notation, at its letters.
fn notation(error: NotationError, reader: &Reader<'_>, at: &Range<usize>, text: &str) -> Wrong {
    let part = if error.span.is_empty() { 0..text.len() } else { error.span };
    Wrong::new(reader.inside(at, text, &part), error.message, error.hint)
}

/// A length of the limits as it is written: feet, inches or thou.
#[must_use]
pub fn inches(value: f64) -> String {
    let whole_feet = (value / 12.0).fract().abs() < 1e-9;
    if whole_feet && value.abs() >= 24.0 {
        format!("{} ft", value / 12.0)
    } else if value != 0.0 && value.abs() < 0.1 {
        format!("{} thou", (value * 1e5).round() / 100.0)
    } else {
        format!("{} in", (value * 1e4).round() / 1e4)
    }
}

fn length<S: Space>(node: Node<'_>, reader: &Reader<'_>, rule: &Rule) -> Result<Written<S>, Wrong> {
    let text = node.text("a length with its unit, in quotes")?;
    fits(text, Text::Name, &node.at())?;
    let written = parse::<S>(text, &Reading::default())
        .map_err(|error| notation(error, reader, &node.at(), text))?;
    in_range(written.length().in_inches(), text, node, rule)?;
    Ok(written)
}

fn in_range(length: f64, text: &str, node: Node<'_>, rule: &Rule) -> Result<(), Wrong> {
    // A length comes through metres: the ends of the range have their slack.
    let slack = |end: f64| (length - end).abs() < 1e-9;
    let ends = [rule.least, rule.most];
    let at_end = ends.iter().any(|end| matches!(end, Some(super::Bound::At(end)) if slack(*end)));
    if at_end || rule.allows(length) {
        return Ok(());
    }
    Err(rule.outside(node.at(), text, inches))
}

impl<S: Space> Value for Written<S> {
    fn kind() -> Kind {
        Kind::Length(S::NAME)
    }

    fn read(node: Node<'_>, reader: &Reader<'_>, rule: &Rule) -> Result<Self, Wrong> {
        length(node, reader, rule)
    }
}

impl<S: Space> Value for Said<S> {
    fn kind() -> Kind {
        Kind::Length(S::NAME)
    }

    fn read(node: Node<'_>, reader: &Reader<'_>, rule: &Rule) -> Result<Self, Wrong> {
        length(node, reader, rule).map(Self::from)
    }
}

super::keys! {
    /// A figure taken for what was measured.
    #[derive(Clone, Debug)]
    struct Both [super::table("size")] {
        /// The round figure that is built.
        "take": take: Said<crate::quantity::Prototype> = super::must("9 ft").within(-12_000.0, 12_000.0),
        /// The dimensions it rests on.
        "measured": measured: Linear = super::must("right - left"),
    }
}

impl Value for Size {
    fn kind() -> Kind {
        Kind::Size
    }

    fn read(node: Node<'_>, reader: &Reader<'_>, rule: &Rule) -> Result<Self, Wrong> {
        if let Node::Table(..) = node {
            let both = Both::read(node, reader, rule)?;
            in_range(both.take.length().in_inches(), both.take.text(), node, rule)?;
            return Ok(Self { take: Some(both.take), measured: Some(both.measured) });
        }
        let text = node.text("a length (\"9 ft\") or dimensions (\"right - left\")")?;
        if !text.trim_start().starts_with(char::is_alphabetic) {
            return length(node, reader, rule).map(|taken| Self::taken(Said::from(taken)));
        }
        match form(node, reader)? {
            Form::Linear(sum) => Ok(Self { take: None, measured: Some(sum) }),
            _ => Err(Wrong::new(
                node.at(),
                format!("\"{}\" is not a length", short::word(text)),
                "a size is a length, or a sum of dimensions",
            )),
        }
    }
}

/// A text with a grammar of dimensions of its own, whose names count as used.
fn form<F: std::str::FromStr<Err = FormError> + Speaks>(
    node: Node<'_>,
    reader: &Reader<'_>,
) -> Result<F, Wrong> {
    let text = node.text("names of dimensions, in quotes")?;
    fits(text, Text::Line, &node.at())?;
    let form: F = text.parse().map_err(|error: FormError| {
        let message = format!(
            "cannot read the form \"{}\": {}",
            short::word(text),
            short::message(&error.trouble)
        );
        Wrong::new(node.at(), message, "")
    })?;
    form.names(&mut |name| reader.uses(super::Named::Dimension, name, node.at()));
    Ok(form)
}

/// What speaks of dimensions.
trait Speaks {
    fn names(&self, told: &mut dyn FnMut(&str));
}

impl Speaks for Linear {
    fn names(&self, told: &mut dyn FnMut(&str)) {
        self.terms.iter().for_each(|term| told(&term.name));
    }
}

impl Speaks for Form {
    fn names(&self, told: &mut dyn FnMut(&str)) {
        Form::names(self).for_each(told);
    }
}

impl Speaks for Equation {
    fn names(&self, told: &mut dyn FnMut(&str)) {
        Speaks::names(&self.left, told);
        Speaks::names(&self.right, told);
    }
}

macro_rules! forms {
    ($($form:ty => $kind:ident),*) => {$(
        impl Value for $form {
            fn kind() -> Kind {
                Kind::$kind
            }

            fn read(node: Node<'_>, reader: &Reader<'_>, _: &Rule) -> Result<Self, Wrong> {
                form(node, reader)
            }
        }
    )*};
}
forms!(Linear => Sum, Form => Form, Equation => Equation);

macro_rules! electric {
    ($($type:ty, $word:literal, $unit:literal, $in_unit:ident;)*) => {$(
        impl Value for $type {
            fn kind() -> Kind {
                Kind::Electric($word)
            }

            fn read(node: Node<'_>, reader: &Reader<'_>, rule: &Rule) -> Result<Self, Wrong> {
                let text = node.text(concat!("a ", $word, " with its unit, in quotes"))?;
                let value: Self = text
                    .parse()
                    .map_err(|error: NotationError| notation(error, reader, &node.at(), text))?;
                if rule.allows(value.$in_unit()) {
                    return Ok(value);
                }
                Err(rule.outside(node.at(), text, |end| format!("{end} {}", $unit)))
            }
        }
    )*};
}
electric! {
    Voltage, "voltage", "V", in_volts;
    Current, "current", "A", in_amperes;
    Resistance, "resistance", "ohm", in_ohms;
}
