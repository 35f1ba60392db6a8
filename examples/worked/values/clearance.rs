//! The building against the track.

use super::Work;
use super::out::Out;

pub(crate) fn say(_work: &Work<'_>, _out: &mut Out) {}
