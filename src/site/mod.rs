//! Site outline, track and cars.
