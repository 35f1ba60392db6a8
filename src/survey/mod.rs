//! Readings -> one set of prototype dimensions.
