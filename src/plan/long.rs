//! Long answers: worked out beside the plan, attached by a hash of their input.
//!
//! A plan lists the [`Question`]s that time could answer better. A question
//! holds all it needs, so any thread may work on it; the [`Answer`] goes into
//! [`Known`] under the question's [`InputHash`], and the next plan picks up the
//! answers whose input is still its own. An answer to yesterday's question is
//! never attached, and an edit undone finds its answer again.
//!
//! A new kind of long work is a variant of [`Kind`], [`Ask`] and [`Answer`],
//! a question pushed where its stage runs in [`super::plan_with`], and the
//! look into [`Known`] there. Threads, progress, Esc and the screen need no
//! change.

use std::sync::Arc;

use crate::compress::compared::{Compared, Comparing};
use crate::compress::long::Asked;
use crate::compress::{self, Compression};
use crate::cutting::long;
use crate::cutting::parts::Layout;
use crate::cutting::wanted::Wanted;
use crate::finding::{Outcome, Stage};
use crate::job::photo::Photo;
use crate::photo::from_job::{self, Shot};
use crate::solve::watch::{Standing, Watch};

/// What long work is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Kind {
    /// Length against cost, and the building at other scales.
    Compared,
    /// Every count of the compression searched.
    Compress,
    /// Sticks and sheets laid out better, or proven.
    Layout,
    /// Intervals of the lengths on photographs by drawing.
    Photographs,
}

impl Kind {
    /// The stage it works for.
    #[must_use]
    pub fn stage(self) -> Stage {
        match self {
            Self::Compared | Self::Compress => Stage::Compress,
            Self::Layout => Stage::Cutting,
            Self::Photographs => Stage::Photo,
        }
    }

    /// Whether it begins by itself when its view is seen; else the person asks.
    #[must_use]
    pub fn begins_alone(self) -> bool {
        match self {
            Self::Compared | Self::Compress | Self::Layout | Self::Photographs => true,
        }
    }
}

/// A hash of everything that an answer depends on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct InputHash(pub u64);

/// A question that needs time.
#[derive(Clone, Debug)]
pub struct Question {
    /// What it is about.
    pub kind: Kind,
    /// The hash of all it depends on.
    pub input: InputHash,
    /// The question with all it needs.
    pub ask: Ask,
}

/// A question with all it needs.
#[derive(Clone, Debug)]
pub enum Ask {
    /// What is compared.
    Compared(Arc<Comparing>),
    /// What the search works from, and what it found so far.
    Compress(Arc<Asked>, Arc<Outcome<Compression>>),
    /// What is wanted, and the layout so far.
    Layout(Arc<Wanted>, Arc<Outcome<Layout>>),
    /// The photographs with their marks.
    Photographs(Arc<Vec<Photo>>),
}

/// What came of long work: the final answer, or the best when it was stopped.
#[derive(Clone, Debug)]
pub enum Answer {
    /// What came of comparing.
    Compared(Arc<Compared>),
    /// The alternatives, with what was noticed.
    Compress(Arc<Outcome<Compression>>),
    /// Sticks and sheets, with what was noticed.
    Layout(Arc<Outcome<Layout>>),
    /// The photographs measured, and whether every one was drawn for.
    Photographs(Arc<Outcome<Vec<Shot>>>, bool),
}

impl Question {
    /// Works on it until there is no better answer or the watcher stops it.
    #[must_use]
    pub fn work(&self, watch: &mut Watch<'_>) -> Answer {
        match &self.ask {
            Ask::Compared(comparing) => Answer::Compared(Arc::new(comparing.compare())),
            Ask::Compress(asked, quick) => {
                // What stands in the way of the search stood in the way before.
                let found = compress::long::prove(asked, watch).map(Arc::new);
                Answer::Compress(found.unwrap_or_else(|_| quick.clone()))
            }
            Ask::Layout(wanted, quick) => {
                let value = long::prove(wanted, &quick.value, watch);
                let findings = quick.findings.clone();
                Answer::Layout(Arc::new(Outcome { value, findings }))
            }
            Ask::Photographs(photos) => {
                let (shots, all) = from_job::draw(photos, watch);
                Answer::Photographs(Arc::new(shots), all)
            }
        }
    }
}

impl Answer {
    /// Whether time can add nothing.
    #[must_use]
    pub fn is_final(&self) -> bool {
        match self {
            Self::Compared(_) => true,
            Self::Compress(found) => found.value.complete,
            Self::Layout(laid) => long::is_final(&laid.value),
            Self::Photographs(_, all) => *all,
        }
    }

    /// Where the work stood when it ended.
    #[must_use]
    pub fn standing(&self) -> Standing {
        match self {
            Self::Compared(compared) => compared.standing(),
            Self::Compress(found) => found.value.standing(),
            Self::Layout(laid) => long::standing(&laid.value),
            Self::Photographs(shots, _) => from_job::standing(shots.value.len()),
        }
    }
}

/// Long answers by their input; the oldest go first. Copies are cheap.
#[derive(Clone, Debug, Default)]
pub struct Known {
    answers: Vec<(InputHash, Answer)>,
}

/// Answers kept.
const MOST: usize = 24;

impl Known {
    /// Takes an answer; a later one to the same question replaces it.
    pub fn learn(&mut self, input: InputHash, answer: Answer) {
        self.answers.retain(|(known, _)| *known != input);
        if self.answers.len() >= MOST {
            self.answers.remove(0);
        }
        self.answers.push((input, answer));
    }

    /// The answer to a question with that input.
    #[must_use]
    pub fn find(&self, input: InputHash) -> Option<&Answer> {
        self.answers.iter().find(|(known, _)| *known == input).map(|(_, answer)| answer)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn answer() -> Answer {
        Answer::Layout(Arc::new(Outcome { value: Layout::default(), findings: Vec::new() }))
    }

    #[test]
    fn an_answer_is_found_by_its_input_and_the_oldest_go_first() {
        let mut known = Known::default();
        for n in 0..=MOST as u64 {
            known.learn(InputHash(n), answer());
        }
        assert!(known.find(InputHash(0)).is_none());
        assert!(known.find(InputHash(1)).is_some());
        known.learn(InputHash(1), answer());
        known.learn(InputHash(99), answer());
        assert!(known.find(InputHash(1)).is_some(), "learnt again, it is young");
        assert!(known.find(InputHash(2)).is_none());
    }
}
