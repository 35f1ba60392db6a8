//! Forms: what a reading or a tie says of the named dimensions.

use std::fmt;

use serde::{Serialize, Serializer};

/// One term of a linear form: `15 bay` or `-1/2 depth`.
#[derive(Clone, Debug, PartialEq)]
pub struct Term {
    /// The number in front; 1 when none is written.
    pub factor: f64,
    /// The dimension's name.
    pub name: String,
}

/// A sum of terms: `left + 2 end - bay`.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Linear {
    /// The terms in the order written.
    pub terms: Vec<Term>,
}

impl Linear {
    /// The form that is one dimension alone.
    #[must_use]
    pub fn of(name: &str) -> Self {
        Self { terms: vec![Term { factor: 1.0, name: name.to_owned() }] }
    }

    /// The dimension's name, when the form is one dimension and nothing else.
    #[must_use]
    pub fn single(&self) -> Option<&str> {
        match self.terms.as_slice() {
            [only] if (only.factor - 1.0).abs() < 1e-12 => Some(&only.name),
            _ => None,
        }
    }

    /// The value of the form, given the value of each name; nothing when a
    /// name is unknown.
    pub fn value(&self, mut of: impl FnMut(&str) -> Option<f64>) -> Option<f64> {
        self.terms.iter().map(|term| of(&term.name).map(|v| v * term.factor)).sum()
    }
}

/// What a reading measures.
#[derive(Clone, Debug, PartialEq)]
pub enum Form {
    /// A length: a sum of dimensions.
    Linear(Linear),
    /// A plain number: one sum over another, `bay / door`.
    Ratio(Linear, Linear),
    /// An area: one sum by another, `length * eave`.
    Product(Linear, Linear),
    /// A length across a right angle: `diagonal of length and depth`.
    Diagonal(Linear, Linear),
}

impl Form {
    /// Every name the form speaks of, in order, doubles kept.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        let (first, second) = match self {
            Self::Linear(only) => (only, None),
            Self::Ratio(a, b) | Self::Product(a, b) | Self::Diagonal(a, b) => (a, Some(b)),
        };
        first
            .terms
            .iter()
            .chain(second.into_iter().flat_map(|linear| &linear.terms))
            .map(|term| term.name.as_str())
    }
}

/// An exact tie between dimensions: `length = 15 bay + 2 end`.
#[derive(Clone, Debug, PartialEq)]
pub struct Equation {
    /// Left of the sign.
    pub left: Linear,
    /// Right of the sign.
    pub right: Linear,
}

impl Equation {
    /// Left minus right: the form that the tie holds at zero.
    #[must_use]
    pub fn difference(&self) -> Linear {
        let moved = self
            .right
            .terms
            .iter()
            .map(|term| Term { factor: -term.factor, name: term.name.clone() });
        Linear { terms: self.left.terms.iter().cloned().chain(moved).collect() }
    }
}

/// Why a form could not be read.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("cannot read the form \"{text}\": {trouble}")]
pub struct FormError {
    /// The text as written.
    pub text: String,
    /// What is wrong with it.
    pub trouble: String,
}

impl std::str::FromStr for Form {
    type Err = FormError;

    fn from_str(text: &str) -> Result<Self, FormError> {
        // A fraction such as `1/2 depth` also has a slash: only a slash with
        // spaces around it divides two sums.
        if let Some((over, under)) = text.split_once(" / ") {
            return Ok(Self::Ratio(linear(over, text)?, linear(under, text)?));
        }
        if let Some((one, other)) = text.split_once(" * ") {
            return Ok(Self::Product(linear(one, text)?, linear(other, text)?));
        }
        if let Some(sides) = text.trim().strip_prefix("diagonal of ") {
            let (one, other) = sides
                .split_once(" and ")
                .ok_or_else(|| trouble(text, "a diagonal is `of` one length `and` another"))?;
            return Ok(Self::Diagonal(linear(one, text)?, linear(other, text)?));
        }
        linear(text, text).map(Self::Linear)
    }
}

impl std::str::FromStr for Linear {
    type Err = FormError;

    fn from_str(text: &str) -> Result<Self, FormError> {
        linear(text, text)
    }
}

impl std::str::FromStr for Equation {
    type Err = FormError;

    fn from_str(text: &str) -> Result<Self, FormError> {
        let (left, right) = text
            .split_once('=')
            .ok_or_else(|| trouble(text, "a tie needs one `=`, as in `length = 15 bay + 2 end`"))?;
        Ok(Self { left: linear(left, text)?, right: linear(right, text)? })
    }
}

fn trouble(text: &str, what: impl Into<String>) -> FormError {
    FormError { text: text.to_owned(), trouble: what.into() }
}

fn linear(part: &str, whole: &str) -> Result<Linear, FormError> {
    let spaced = part.replace('+', " + ").replace(['-', '−'], " - ");
    let mut terms = Vec::new();
    let mut factor: Option<f64> = None;
    let mut sign = 1.0;
    let mut expects_term = true;
    for word in spaced.split_whitespace() {
        match word {
            "+" | "-" => {
                if factor.is_some() {
                    return Err(trouble(whole, "a number stands without a dimension after it"));
                }
                if word == "-" {
                    sign = -sign;
                }
                expects_term = true;
            }
            _ if !expects_term => {
                return Err(trouble(whole, format!("a sign is missing before \"{word}\"")));
            }
            _ if word.starts_with(|c: char| c.is_ascii_digit() || c == '.') => {
                factor = Some(number(word).ok_or_else(|| {
                    trouble(whole, format!("\"{word}\" is not a plain number or fraction"))
                })?);
            }
            _ => {
                terms.push(Term { factor: sign * factor.unwrap_or(1.0), name: name(word, whole)? });
                (factor, sign, expects_term) = (None, 1.0, false);
            }
        }
    }
    if terms.is_empty() || expects_term {
        return Err(trouble(whole, "it names no dimension where one is wanted"));
    }
    Ok(Linear { terms })
}

fn number(word: &str) -> Option<f64> {
    let value = match word.split_once('/') {
        Some((over, under)) => over.parse::<f64>().ok()? / under.parse::<f64>().ok()?,
        None => word.parse().ok()?,
    };
    value.is_finite().then_some(value)
}

fn name(word: &str, whole: &str) -> Result<String, FormError> {
    if is_name(word) {
        Ok(word.to_owned())
    } else {
        Err(trouble(
            whole,
            format!("\"{word}\" is no name: use letters, digits and underscores, a letter first"),
        ))
    }
}

/// Whether a word may name a dimension: a letter, then letters, digits and
/// underscores.
#[must_use]
pub fn is_name(word: &str) -> bool {
    let mut letters = word.chars();
    letters.next().is_some_and(char::is_alphabetic)
        && letters.all(|c| c.is_alphanumeric() || c == '_')
}

impl fmt::Display for Linear {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (index, term) in self.terms.iter().enumerate() {
            match (index, term.factor < 0.0) {
                (0, false) => {}
                (0, true) => f.write_str("-")?,
                (_, false) => f.write_str(" + ")?,
                (_, true) => f.write_str(" - ")?,
            }
            if (term.factor.abs() - 1.0).abs() > 1e-12 {
                write!(f, "{} ", term.factor.abs())?;
            }
            f.write_str(&term.name)?;
        }
        Ok(())
    }
}

impl fmt::Display for Form {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Linear(only) => only.fmt(f),
            Self::Ratio(over, under) => write!(f, "{over} / {under}"),
            Self::Product(one, other) => write!(f, "{one} * {other}"),
            Self::Diagonal(one, other) => write!(f, "diagonal of {one} and {other}"),
        }
    }
}

impl fmt::Display for Equation {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} = {}", self.left, self.right)
    }
}

macro_rules! as_text {
    ($($form:ty),*) => {$(
        impl Serialize for $form {
            fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
                to.collect_str(self)
            }
        }
    )*};
}

as_text!(Linear, Form, Equation);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_sums_ratios_and_ties() {
        let form: Form = "d3_right - d3_left".parse().expect("a difference");
        assert_eq!(form.to_string(), "d3_right - d3_left");
        let ratio: Form = "bay / door".parse().expect("a ratio");
        assert!(matches!(ratio, Form::Ratio(..)));
        let diagonal: Form = "diagonal of front - 2 pier and depth".parse().expect("a diagonal");
        assert_eq!(diagonal.to_string(), "diagonal of front - 2 pier and depth");
        assert_eq!(diagonal.names().collect::<Vec<_>>(), ["front", "pier", "depth"]);
        let half: Linear = "ridge - 1/2 depth".parse().expect("a fraction in front");
        assert!((half.terms[1].factor + 0.5).abs() < 1e-12);
        let tie: Equation = "length = 15 bay + 2 end".parse().expect("a tie");
        assert_eq!(tie.difference().to_string(), "length - 15 bay - 2 end");
    }

    #[test]
    fn names_what_is_wrong() {
        for (text, says) in [
            ("", "names no dimension"),
            ("3", "names no dimension"),
            ("a b", "sign is missing"),
            ("3 + a", "without a dimension"),
            ("a +", "names no dimension"),
            ("1x bay", "not a plain number"),
            ("a.b", "is no name"),
            ("diagonal of a", "and"),
        ] {
            let error = text.parse::<Form>().expect_err(text);
            assert!(error.to_string().contains(says), "{text}: {error}");
        }
        assert!("length".parse::<Equation>().is_err());
    }
}
