//! The search with time: every count, proven, or the best when it was stopped.

use std::hash::{DefaultHasher, Hash, Hasher};

use super::case::Case;
use super::{Compression, settle};
use crate::building::Scheme;
use crate::catalog::look::Look;
use crate::elevation::Faces;
use crate::finding::Staged;
use crate::job::Job;
use crate::quantity::Scale;
use crate::solve::watch::{Standing, Watch};

/// Boxes between two words to the watcher.
const TELL: usize = 25;

/// What the search works from.
#[derive(Clone, Debug)]
pub struct Asked {
    /// The job.
    pub job: Job,
    /// The shipped features of the look.
    pub look: std::sync::Arc<Look>,
    /// The prototype's faces.
    pub faces: Faces,
    /// Where everything stands.
    pub scheme: std::sync::Arc<Scheme>,
    /// The scale.
    pub scale: Scale,
}

impl Asked {
    /// A hash of all that the answer depends on.
    #[must_use]
    pub fn input(&self) -> u64 {
        let mut hash = DefaultHasher::new();
        format!("{self:?}").hash(&mut hash);
        hash.finish()
    }
}

/// Searches until it is proven or the watcher stops it.
///
/// # Errors
///
/// As [`super::run`].
pub fn prove(asked: &Asked, watch: &mut Watch<'_>) -> Staged<Compression> {
    let Asked { job, look, faces, scheme, scale } = asked;
    let case = Case::new(job, look, (faces, scheme), scale, usize::MAX)?;
    let (stop, tell) = (watch.stop, &mut *watch.tell);
    settle(&case, &mut |boxes| {
        if boxes % TELL == 0 {
            tell(&standing(boxes));
        }
        !stop()
    })
}

fn standing(boxes: usize) -> Standing {
    Standing {
        phase: "searching the counts",
        best: String::new(),
        bound: format!("{boxes} ranges of counts looked at"),
    }
}

impl Compression {
    /// Where the search stood when it ended.
    #[must_use]
    pub fn standing(&self) -> Standing {
        Standing {
            best: self.alternatives.first().map_or_else(String::new, |it| it.words.clone()),
            ..standing(self.steps)
        }
    }
}
