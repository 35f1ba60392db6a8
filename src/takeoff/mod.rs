//! The building -> its parts.
