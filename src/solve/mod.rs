//! Mathematics without trade words.
