//! Parts of the take-off, in sets alike and as groups.

use super::Work;
use super::out::Out;

pub(crate) fn say(_work: &Work<'_>, _out: &mut Out) {}
