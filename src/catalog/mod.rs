//! What `data/` holds, typed.
