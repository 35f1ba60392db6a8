//! What is still open in a branch and bound, the greatest bound first.

use std::cmp::Ordering;

/// Something that holds nothing above a bound.
pub(super) struct Bounded<T> {
    pub(super) bound: f64,
    pub(super) it: T,
}

impl<T> PartialEq for Bounded<T> {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}

impl<T> Eq for Bounded<T> {}

impl<T> PartialOrd for Bounded<T> {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl<T> Ord for Bounded<T> {
    fn cmp(&self, other: &Self) -> Ordering {
        self.bound.total_cmp(&other.bound)
    }
}
