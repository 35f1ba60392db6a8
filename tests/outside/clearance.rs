//! Outside checks: clearance.
