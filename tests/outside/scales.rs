//! Outside checks: scales.
