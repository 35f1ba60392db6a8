//! Sizes measured on the card mock-up or on the finished model.

use serde::Deserialize;

use super::said::Said;
use crate::quantity::Model;

/// One size measured on the table.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Measured {
    /// Which size, by its name on the mock-up view: `depth`, `main/front: bay`.
    pub of: String,
    /// What it was measured on.
    #[serde(default)]
    pub on: On,
    /// What it measures there.
    pub reads: Said<Model>,
    /// Free note: what was seen.
    #[serde(default)]
    pub note: String,
    /// What was planned when it was taken back; absent where it was not.
    pub was: Option<Said<Model>>,
    /// Why it was taken back.
    #[serde(default)]
    pub reason: String,
}

/// What a size was measured on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Deserialize, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum On {
    /// The trial body in card.
    #[default]
    MockUp,
    /// The finished model.
    Model,
}

impl On {
    /// Both, the mock-up first.
    pub const ALL: [Self; 2] = [Self::MockUp, Self::Model];

    /// The word for it in a job file.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::MockUp => "mock-up",
            Self::Model => "model",
        }
    }

    /// From its word.
    #[must_use]
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|on| on.word() == word.trim())
    }
}
