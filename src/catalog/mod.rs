//! What `data/` holds, typed.

/// The data shipped with the program, with the person's own read over it.
#[derive(Clone, Debug, Default)]
pub struct Catalog {}

impl Catalog {
    /// The data shipped with the program.
    ///
    /// # Errors
    /// When a shipped file is broken; a test proves it is not.
    pub fn built_in() -> Result<Self, String> {
        Ok(Self {})
    }
}
