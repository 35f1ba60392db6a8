//! Marks on one picture -> lengths with intervals.
