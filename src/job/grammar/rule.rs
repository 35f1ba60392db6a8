//! The rule of one key: example, range, default, what it names.

use super::Named;

/// An inch, the unit of the limits of lengths.
pub const INCH: f64 = 1.0;
/// A foot in inches.
pub const FOOT: f64 = 12.0;

/// One end of a range: lengths in inches, volts, amperes, ohms, degrees, rise
/// over run, or plain numbers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Bound {
    /// The value itself is allowed.
    At(f64),
    /// Only what lies beyond it.
    Past(f64),
}

/// What a text must be beside short enough.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Text {
    /// A name: one line, at most 600 characters.
    Name,
    /// Letters, digits and underscores, a letter first.
    Letters,
    /// At most 2,000 characters.
    Line,
    /// At most 10,000 characters, in as many lines as wanted.
    Free,
    /// The path of a file.
    File,
    /// Rise over run: `6:12`, `0.5`, `26.5 deg`.
    Pitch,
    /// An angle: `20 deg`.
    Angle,
}

impl Text {
    /// Most characters.
    #[must_use]
    pub fn most(self) -> usize {
        match self {
            Self::Pitch | Self::Angle => 80,
            Self::Name | Self::Letters => 600,
            Self::Line | Self::File => 2_000,
            Self::Free => 10_000,
        }
    }
}

/// What holds where a key is not written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Unless {
    /// The value, as it would be written, or in words.
    pub value: &'static str,
    /// Where the value comes from.
    pub source: &'static str,
    /// Whether the views tell that it was taken and not given.
    pub told: bool,
    /// The kinds of its table for which it is told; all that the key counts
    /// for when empty.
    pub kinds: &'static [&'static str],
}

/// The rule of a key.
#[derive(Clone, Copy, Debug)]
pub struct Rule {
    /// A value to copy, without the quotes a text gets in the file.
    pub example: &'static str,
    /// Whether the key must be there.
    pub required: bool,
    /// The least allowed.
    pub least: Option<Bound>,
    /// The most allowed.
    pub most: Option<Bound>,
    /// What holds without it.
    pub unless: Option<Unless>,
    /// What a text must be.
    pub text: Text,
    /// What it is the name of.
    pub names: Option<Named>,
    /// What it gives a name to.
    pub declares: Option<Named>,
    /// The kinds of its table that it counts for; all when empty.
    pub only: &'static [&'static str],
    /// The kinds of its table for which it must be there.
    pub needed: &'static [&'static str],
    /// What it must agree with, in words.
    pub agrees: &'static str,
}

/// A key that may be left out, with an example.
#[must_use]
pub const fn eg(example: &'static str) -> Rule {
    Rule { example, ..Rule::NONE }
}

/// A key that must be there, with an example.
#[must_use]
pub const fn must(example: &'static str) -> Rule {
    Rule { example, required: true, ..Rule::NONE }
}

impl Rule {
    /// No rule at all.
    pub const NONE: Self = Self {
        example: "",
        required: false,
        least: None,
        most: None,
        unless: None,
        text: Text::Line,
        names: None,
        declares: None,
        only: &[],
        needed: &[],
        agrees: "",
    };

    /// From `least` to `most`, both allowed.
    #[must_use]
    pub const fn within(self, least: f64, most: f64) -> Self {
        Self { least: Some(Bound::At(least)), most: Some(Bound::At(most)), ..self }
    }

    /// More than nothing, up to `most`.
    #[must_use]
    pub const fn upto(self, most: f64) -> Self {
        Self { least: Some(Bound::Past(0.0)), most: Some(Bound::At(most)), ..self }
    }

    /// `value` holds without it, and need not be told: it is what leaving the
    /// key out says.
    #[must_use]
    pub const fn unless(self, value: &'static str, source: &'static str) -> Self {
        Self { unless: Some(Unless { value, source, told: false, kinds: &[] }), ..self }
    }

    /// `value` is taken where it is not given, and the views say so.
    #[must_use]
    pub const fn taken(self, value: &'static str, source: &'static str) -> Self {
        Self { unless: Some(Unless { value, source, told: true, kinds: &[] }), ..self }
    }

    /// The same for some kinds of its table only.
    #[must_use]
    pub const fn taken_for(
        self,
        kinds: &'static [&'static str],
        value: &'static str,
        source: &'static str,
    ) -> Self {
        Self { unless: Some(Unless { value, source, told: true, kinds }), ..self }
    }

    /// The text is of that kind.
    #[must_use]
    pub const fn text(self, text: Text) -> Self {
        Self { text, ..self }
    }

    /// It is the name of such a thing.
    #[must_use]
    pub const fn of(self, names: Named) -> Self {
        Self { names: Some(names), text: Text::Name, ..self }
    }

    /// It gives such a thing its name.
    #[must_use]
    pub const fn names(self, declares: Named) -> Self {
        Self { declares: Some(declares), text: Text::Name, ..self }
    }

    /// It counts only for these kinds of its table.
    #[must_use]
    pub const fn only(self, kinds: &'static [&'static str]) -> Self {
        Self { only: kinds, ..self }
    }

    /// It must be there for these kinds of its table.
    #[must_use]
    pub const fn needed(self, kinds: &'static [&'static str]) -> Self {
        Self { needed: kinds, ..self }
    }

    /// It must agree with something.
    #[must_use]
    pub const fn agrees(self, with: &'static str) -> Self {
        Self { agrees: with, ..self }
    }

    /// Whether a number lies within the range.
    #[must_use]
    pub fn allows(&self, value: f64) -> bool {
        let above = match self.least {
            Some(Bound::At(least)) => value >= least,
            Some(Bound::Past(least)) => value > least,
            None => true,
        };
        let below = match self.most {
            Some(Bound::At(most)) => value <= most,
            Some(Bound::Past(most)) => value < most,
            None => true,
        };
        value.is_finite() && above && below
    }

    /// The range in words, each end written by `show`; empty without one.
    #[must_use]
    pub fn range(&self, show: impl Fn(f64) -> String) -> String {
        let least = match self.least {
            Some(Bound::At(least)) => format!("{} or more", show(least)),
            Some(Bound::Past(least)) => format!("more than {}", show(least)),
            None => String::new(),
        };
        match (self.least, self.most) {
            (_, None) => least,
            (None, Some(Bound::At(most))) => format!("at most {}", show(most)),
            (None, Some(Bound::Past(most))) => format!("less than {}", show(most)),
            (Some(Bound::At(from)), Some(Bound::At(most))) => {
                format!("from {} to {}", show(from), show(most))
            }
            (Some(_), Some(Bound::At(most))) => format!("{least}, at most {}", show(most)),
            (Some(_), Some(Bound::Past(most))) => format!("{least}, less than {}", show(most)),
        }
    }
}
