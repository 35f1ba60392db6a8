//! Compressed dimensions -> model sizes.
