//! One alternative, with everything a person compares.

use super::case::Case;
use super::kind::AlternativeKind;
use super::kinds::Draft;
use super::needs::{Needs, needs};
use super::roof::{self, slack};
use super::score::score;
use super::tally::Item;
use super::words;
use super::{Decision, Lines, Shape};
use crate::elevation::Body;
use crate::quantity::{Compressed, CompressedLength, ModelLength};

/// A way to make the building fit.
#[derive(Clone, Debug, PartialEq)]
pub struct Alternative {
    /// Unique key, stable from run to run: the kind, and the counts where it is
    /// not the best of its kind.
    pub key: String,
    /// Its kind: what is done to the length, and what is done to depth and roof.
    pub kind: AlternativeKind,
    /// The kind in words.
    pub kind_words: String,
    /// The alternative in words: `9 bays of 12'-6", half relief`.
    pub words: String,
    /// What is lost, in words.
    pub lost: Vec<String>,
    /// What is decided; nothing for an even reduction of everything, which no
    /// building here can be.
    pub decision: Option<Decision>,
    /// The body it makes.
    pub body: Body<Compressed>,
    /// Length on the model.
    pub model_length: ModelLength,
    /// The look cost, line by line; none for an even reduction.
    pub lines: Lines,
    /// The dimensions before they were put on whole inches or boards.
    pub exact: Option<Exact>,
    /// Whether it can be built.
    pub standing: Standing,
    /// What it needs, to be ordered; nothing for an even reduction.
    pub needs: Needs,
    /// Whether it is the best of its kind; the rest are other counts.
    pub best_of_kind: bool,
}

/// The dimensions of least cost, before rounding.
#[derive(Clone, Debug, PartialEq)]
pub struct Exact {
    /// What would be decided.
    pub decision: Decision,
    /// What it would cost.
    pub cost: f64,
}

/// Whether an alternative can be built.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Standing {
    /// It fits and keeps every rule.
    Offered,
    /// It goes beyond a bound of the job: which way, and where.
    OutOfBounds(Beyond, String),
    /// It is too large for the space: how.
    DoesNotFit(String),
    /// It fits, but its parts cannot be laid out here: why.
    ShownOnly(String),
    /// It breaks a rule that is never traded: which.
    Forbidden(String),
}

/// How a bound is passed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Beyond {
    /// A width under its `least`.
    Squeezed,
    /// A width over its `most`.
    Stretched,
    /// A number outside `at-least` to `at-most`.
    Miscounted,
}

impl Beyond {
    /// The words for it.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Squeezed => "squeezed too far",
            Self::Stretched => "stretched too far",
            Self::Miscounted => "too few or too many",
        }
    }
}

impl Standing {
    /// The word for it: `offered`, `squeezed too far`, `stretched too far`, `too few
    /// or too many`, `does not fit`, `shown only`, `forbidden`.
    #[must_use]
    pub fn word(&self) -> &'static str {
        match self {
            Self::Offered => "offered",
            Self::OutOfBounds(beyond, _) => beyond.words(),
            Self::DoesNotFit(_) => "does not fit",
            Self::ShownOnly(_) => "shown only",
            Self::Forbidden(_) => "forbidden",
        }
    }

    /// Why it is not offered.
    #[must_use]
    pub fn why(&self) -> &str {
        match self {
            Self::Offered => "",
            Self::OutOfBounds(_, why)
            | Self::DoesNotFit(why)
            | Self::ShownOnly(why)
            | Self::Forbidden(why) => why,
        }
    }
}

impl Alternative {
    /// Whether it can be built as it is.
    #[must_use]
    pub fn is_offered(&self) -> bool {
        self.standing == Standing::Offered
    }

    /// The look cost; nothing for an even reduction.
    #[must_use]
    pub fn cost(&self) -> Option<f64> {
        self.decision.as_ref().map(|_| self.lines.total())
    }
}

/// The key of an alternative: its kind, and the counts and the depth where it is
/// not the best of it.
pub(crate) fn key(it: &Alternative) -> String {
    match &it.decision {
        Some(decision) if !it.best_of_kind => {
            let counts = decision.counts.iter().map(|(name, count)| format!("{name} {count}"));
            format!("{} {}", it.kind, counts.collect::<Vec<_>>().join(" "))
        }
        _ => it.kind.to_string(),
    }
}

/// An alternative from what is decided.
pub(crate) fn of(case: &Case<'_>, draft: Draft) -> Alternative {
    let Draft { kind, kind_words, decision, exact, best_of_kind } = draft;
    let body = case.body(&decision);
    let exact = exact.map(|decision| {
        let cost = score(case, &decision).total();
        Exact { decision, cost }
    });
    Alternative {
        key: kind.to_string(),
        kind,
        kind_words,
        words: words::words(case, &decision, &body),
        lost: words::lost(case, &decision, &body),
        model_length: case.scale.reduce(body.length),
        lines: score(case, &decision),
        standing: standing(case, &decision, &body),
        needs: needs(case, &decision),
        decision: Some(decision),
        body,
        exact,
        best_of_kind,
    }
}

/// The first bound a decision passes.
fn beyond(case: &Case<'_>, decision: &Decision) -> Option<(Beyond, String)> {
    for (key, times) in case.slots() {
        let count = decision.counts.get(&key).copied().unwrap_or(times.count);
        // As many as there were is never wrong.
        if count != times.count && !(times.at_least..=times.at_most).contains(&count) {
            return Some((Beyond::Miscounted, words::miscounted(&key, count, &times)));
        }
    }
    let items = case.items(&decision.counts);
    let width = |item: &&Item| decision.width(item);
    let slack = roof::slack().in_inches();
    if let Some(item) = items.iter().find(|item| width(item) < item.least - slack) {
        return Some((Beyond::Squeezed, words::under_bound(case, decision, item)));
    }
    let over = items.iter().find(|item| width(item) > item.most + slack);
    over.map(|item| (Beyond::Stretched, words::over_bound(case, decision, item)))
}

/// Whether a decision keeps the rules.
pub(crate) fn standing(case: &Case<'_>, decision: &Decision, body: &Body<Compressed>) -> Standing {
    let show = |length| case.job.about.full_notation().show(&length);
    if let Some((beyond, why)) = beyond(case, decision) {
        return Standing::OutOfBounds(beyond, why);
    }
    if let Some(why) = words::off_its_pin(case, decision) {
        return Standing::Forbidden(why);
    }
    let front = CompressedLength::inches(case.longest_at(decision.roofed(), decision.is_wedge()));
    let inches = CompressedLength::inches;
    let deep = inches(case.reach(body.length, decision.roofed()).depth());
    let over = [
        ("long", body.length, Some(front)),
        ("deep", deep, case.limits.depth.filter(|_| decision.shape != Shape::SmallerBehind)),
        ("high", body.ridge.max(inches(case.scheme.top())), case.limits.height),
    ];
    for (word, size, limit) in over {
        if let Some(limit) = limit.filter(|limit| size > *limit + slack()) {
            let why = format!("{} {word}, the space takes {}", show(size), show(limit));
            return Standing::DoesNotFit(why);
        }
    }
    if decision.is_wedge() {
        return Standing::ShownOnly(words::wedge(case, decision, body));
    }
    match decision.shape {
        Shape::SceneEdge(_) => Standing::ShownOnly(
            "it ends at the edge of the scene: parts are laid out for a whole building".to_owned(),
        ),
        Shape::SmallerBehind => Standing::ShownOnly(words::behind(case)),
        Shape::Square | Shape::Wedge => Standing::Offered,
    }
}
