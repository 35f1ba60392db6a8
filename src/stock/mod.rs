//! Wanted sizes -> stock choices and the error each makes.
