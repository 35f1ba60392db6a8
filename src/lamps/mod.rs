//! Lamp circuits.
