//! What the person wrote: load, save, edit.
