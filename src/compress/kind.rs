//! What an alternative does: to the length, and to depth, roof and plan.

use std::convert::Infallible;
use std::fmt;
use std::str::FromStr;

/// The kind of an alternative, as the job writes it: `drop-and-trim/half-relief`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AlternativeKind {
    /// What is done to the length.
    pub along: Along,
    /// What is done to the rest; nothing where it stays.
    pub beside: Option<Beside>,
}

/// What is done to the length.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Along {
    /// Nothing.
    Full,
    /// All repeats kept, walls trimmed.
    Trim,
    /// The same, all walls by one factor.
    TrimAlike,
    /// The same, the walls of one group alone.
    TrimOnly(String),
    /// Repeats dropped, widths kept.
    Drop,
    /// Repeats dropped and walls trimmed.
    DropAndTrim,
    /// The first choice on whole boards.
    WholeBoards,
    /// The first choice on whole sheets.
    WholeSheets,
    /// Everything reduced evenly.
    Uniform,
    /// What the person calls it.
    Own(String),
}

/// What is done to depth, roof or plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Beside {
    /// Shallower at the same pitch.
    KeepPitch,
    /// Shallower under the same ridge.
    KeepRidge,
    /// Cut at the ridge.
    HalfRelief,
    /// The front alone.
    Flat,
    /// Storeys left out.
    FewerStoreys,
    /// Run off the edge of the scene.
    SceneEdge,
    /// A smaller ratio behind the front.
    SmallerBehind,
    /// One end slanted to the edge of the ground.
    Wedge,
}

const ALONG: [(Along, &str); 8] = [
    (Along::Full, "full"),
    (Along::Trim, "trim"),
    (Along::TrimAlike, "trim-alike"),
    (Along::Drop, "drop"),
    (Along::DropAndTrim, "drop-and-trim"),
    (Along::WholeBoards, "whole-boards"),
    (Along::WholeSheets, "whole-sheets"),
    (Along::Uniform, "uniform"),
];
/// Before the group that alone is trimmed.
const ONLY: &str = "trim-only-";

const BESIDE: [(Beside, &str); 8] = [
    (Beside::KeepPitch, "keep-pitch"),
    (Beside::KeepRidge, "keep-ridge"),
    (Beside::HalfRelief, "half-relief"),
    (Beside::Flat, "flat"),
    (Beside::FewerStoreys, "fewer-storeys"),
    (Beside::SceneEdge, "scene-edge"),
    (Beside::SmallerBehind, "smaller-behind"),
    (Beside::Wedge, "wedge"),
];

impl AlternativeKind {
    /// A kind that leaves depth, roof and plan as they are.
    #[must_use]
    pub fn of(along: Along) -> Self {
        Self { along, beside: None }
    }

    /// Whether everything is reduced evenly.
    #[must_use]
    pub fn is_uniform(&self) -> bool {
        self.along == Along::Uniform
    }
}

impl Beside {
    /// The word for it.
    #[must_use]
    pub fn word(self) -> &'static str {
        BESIDE.iter().find(|(kind, _)| *kind == self).map_or("", |(_, word)| word)
    }
}

impl fmt::Display for Along {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TrimOnly(group) => write!(f, "{ONLY}{group}"),
            Self::Own(text) => f.write_str(text),
            known => {
                let word = ALONG.iter().find(|(along, _)| along == known);
                f.write_str(word.map_or("", |(_, word)| word))
            }
        }
    }
}

impl fmt::Display for AlternativeKind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match (&self.along, self.beside) {
            (Along::Own(text), Some(beside)) if text.is_empty() => f.write_str(beside.word()),
            (along, Some(beside)) => write!(f, "{along}/{}", beside.word()),
            (along, None) => write!(f, "{along}"),
        }
    }
}

impl FromStr for Along {
    type Err = Infallible;

    fn from_str(text: &str) -> Result<Self, Infallible> {
        let known = ALONG.iter().find(|(_, word)| *word == text).map(|(along, _)| along.clone());
        let only = || text.strip_prefix(ONLY).map(|group| Self::TrimOnly(group.to_owned()));
        Ok(known.or_else(only).unwrap_or_else(|| Self::Own(text.to_owned())))
    }
}

impl FromStr for AlternativeKind {
    type Err = Infallible;

    /// Every text is a kind: what is not known is the person's own.
    fn from_str(text: &str) -> Result<Self, Infallible> {
        let beside = |word: &str| BESIDE.iter().find(|(_, known)| *known == word).map(|it| it.0);
        if let Some((along, rest)) = text.rsplit_once('/')
            && let Some(beside) = beside(rest)
        {
            return Ok(Self { along: along.parse()?, beside: Some(beside) });
        }
        // The plan's own word, alone.
        match beside(text).filter(|kind| *kind == Beside::Wedge) {
            Some(wedge) => Ok(Self { along: Along::Own(String::new()), beside: Some(wedge) }),
            None => Ok(Self::of(text.parse()?)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn kinds_come_back_as_they_are_written() {
        for text in [
            "full",
            "drop-and-trim/half-relief",
            "trim-only-main/back/plain/keep-pitch",
            "wedge",
            "trim/wedge",
            "what I like",
            "two/thirds",
        ] {
            let Ok(kind) = text.parse::<AlternativeKind>();
            assert_eq!(kind.to_string(), text);
        }
        let Ok(kind) = "trim-only-plain/flat".parse::<AlternativeKind>();
        assert_eq!(kind.along, Along::TrimOnly("plain".to_owned()));
        assert_eq!(kind.beside, Some(Beside::Flat));
    }
}
