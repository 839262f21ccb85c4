//! The method book: what the checks of every model found, chapter by chapter.

use book::{Chapters, Record};

/// The records as the checks left them.
const RECORDS: &str = include_str!("../../book/checks.toml");

/// Crates that own models, in the order in which light and money go through them, and what their
/// chapters are called.
const HEADINGS: [(&str, &str); 9] = [
    ("sky", "Sun and sky"),
    ("drive", "Shared drives"),
    ("geometry", "Shapes"),
    ("optics", "Light"),
    ("rays", "Rays that judge the light"),
    ("plant", "Receiver, store and plant"),
    ("structure", "Wind, steel and glass"),
    ("ledger", "Money and carbon"),
    ("study", "Search and uncertainty"),
];

/// What the chapter of a crate is called.
pub fn heading(owner: &str) -> &str {
    let named = HEADINGS.iter().find(|(name, _)| *name == owner);
    named.map_or(owner, |(_, heading)| heading)
}

/// Every chapter's owner with its records by name.
pub fn chapters() -> Vec<(&'static str, Vec<(String, Record)>)> {
    let mut all: Chapters = book::read(RECORDS).unwrap_or_default();
    let with_records = HEADINGS.iter().filter_map(|(owner, _)| {
        let records = all.remove(*owner)?;
        Some((*owner, records.into_iter().collect()))
    });
    with_records.collect()
}

/// Every record with its owner and its name.
pub fn records() -> impl Iterator<Item = (&'static str, String, Record)> {
    let chapters = chapters().into_iter();
    chapters.flat_map(|(owner, records)| {
        let records = records.into_iter();
        records.map(move |(name, record)| (owner, name, record))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_record_stands_in_a_chapter() {
        let all = book::read(RECORDS).unwrap();
        let wanted: usize = all.values().map(std::collections::BTreeMap::len).sum();
        assert_eq!(records().count(), wanted);
    }
}
