//! Outside checks: lamps.
