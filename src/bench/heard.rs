//! Words that made no difference to an answer, so that nobody takes it for the
//! answer to another question.

use super::said::Line;

/// Words that carry nothing: an answer need not speak of them.
const FILLERS: [&str; 76] = [
    "a", "an", "the", "of", "for", "in", "at", "on", "to", "by", "with", "and", "or", "from",
    "into", "over", "up", "per", "out", "off", "as", "than", "then", "is", "are", "be", "was",
    "do", "does", "will", "would", "should", "can", "could", "have", "has", "there", "it", "its",
    "this", "that", "i", "we", "you", "my", "our", "one", "what", "which", "how", "many", "much",
    "big", "large", "long", "wide", "high", "tall", "deep", "thick", "small", "so", "me", "give",
    "need", "needs", "take", "takes", "get", "want", "make", "made", "use", "please", "about",
    "real",
];
/// Words a length or a scale knows by itself.
const ALWAYS: [&str; 8] =
    ["model", "full", "size", "scale", "prototype", "nearest", "stock", "each"];

impl Line<'_> {
    /// Forgets what was heard while the sum was looked for.
    pub(super) fn forget(&self) {
        self.heard.iter().for_each(|heard| heard.set(false));
    }

    /// Words that nothing knew.
    pub(super) fn unheard(&self) -> Vec<String> {
        let unknown = |at: &usize| {
            let word = self.word(*at).unwrap_or_default();
            let letters = word.chars().count() > 1 && word.chars().all(char::is_alphabetic);
            letters
                && !self.is_used(*at)
                && !self.heard[*at].get()
                && !FILLERS.contains(&word)
                && !ALWAYS.contains(&word)
        };
        (0..self.tokens.len()).filter(unknown).map(|at| self.written(at).to_owned()).collect()
    }

    /// What to say of them; nothing where all were known.
    pub(super) fn read_over(&self) -> Option<String> {
        let unheard = self.unheard();
        (!unheard.is_empty()).then(|| format!("read over: {}", unheard.join(", ")))
    }
}

/// Whether a word says nothing of what is asked.
pub(super) fn is_filler(word: &str) -> bool {
    FILLERS.contains(&word)
}
