//! Outside checks: lumber.
