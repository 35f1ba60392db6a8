//! Photographs and the marks made on them.

use serde::Deserialize;

/// One photograph with its marks.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Photo {
    /// Short name.
    pub id: String,
    /// File beside the job, by relative path.
    pub file: String,
    /// The source it belongs to.
    pub source: Option<String>,
    /// What it shows.
    #[serde(default)]
    pub title: String,
}
