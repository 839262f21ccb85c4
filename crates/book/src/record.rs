//! What a check found, and the file that keeps it.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

/// A check with the value that was farthest from what was expected.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Record {
    /// What is modelled.
    pub model: String,
    /// The law, in words of mathematics.
    pub equation: String,
    /// Where the law is from.
    pub source: String,
    /// Where the law holds.
    pub validity: String,
    /// What it is held to.
    pub against: String,
    /// How many values were compared.
    pub values: usize,
    /// The value expected where the model is farthest off, with its unit.
    pub expected: String,
    /// What the model gives there.
    pub found: String,
    /// How far off that is.
    pub off: String,
    /// How far off it may be.
    pub allowed: String,
}

/// Records by the crate that owns the model and by name.
pub type Chapters = BTreeMap<String, BTreeMap<String, Record>>;

/// Reads the file of records.
///
/// # Errors
/// When the text is no such file, with the place.
pub fn read(text: &str) -> Result<Chapters, toml::de::Error> {
    toml::from_str(text)
}

/// The file of records as text.
pub(crate) fn written(chapters: &Chapters) -> String {
    let records = toml::to_string_pretty(chapters).expect("records are plain text");
    format!(
        "# What each check of a model found. Written by the checks themselves: see `crates/book`.\n\n{records}"
    )
}
