//! Outside checks: cutting.
