//! Input that once broke something, kept so that it cannot again.
