//! Outside checks: notation.
