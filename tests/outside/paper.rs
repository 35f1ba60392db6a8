//! Outside checks: paper.
