//! Outside checks: photo.
