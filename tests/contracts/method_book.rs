//! The method book has a record for every check that is declared, and none that nothing declares. What the
//! records say is held by the checks themselves.

use std::collections::BTreeSet;
use std::fs;

/// Texts in quotes that are the id of a check of this crate: its name, a dot, and a name.
fn ids(text: &str, owner: &str) -> Vec<String> {
    let is_plain = |letter: char| letter == '_' || letter.is_ascii_lowercase();
    let is_id = |word: &&str| {
        word.strip_prefix(owner)
            .and_then(|rest| rest.strip_prefix('.'))
            .is_some_and(|name| !name.is_empty() && name.chars().all(is_plain))
    };
    text.split('"').filter(is_id).map(str::to_owned).collect()
}

/// The sources in a folder.
fn sources(folder: &str) -> impl Iterator<Item = String> + use<> {
    let mut files = BTreeSet::new();
    super::reach::rust_files(&super::root().join(folder), &mut files);
    let texts = files.into_iter().map(fs::read_to_string);
    texts.map(|text| text.expect("file can be read"))
}

/// Every id in the sources of a crate, and in tests of several, where keys of scenarios look the same but for
/// what stands before them.
fn declared(owner: &str) -> Vec<String> {
    let own = sources(&format!("crates/{owner}"));
    let shared = sources("tests").flat_map(|text| {
        let named = text.split("id: ").skip(1);
        let lines = named.filter_map(|rest| rest.lines().next());
        lines.map(str::to_owned).collect::<Vec<_>>()
    });
    own.chain(shared)
        .flat_map(|text| ids(&text, owner))
        .collect()
}

#[test]
fn every_check_has_its_record_and_every_record_its_check() {
    let path = super::root().join("crates/book/checks.toml");
    let text = fs::read_to_string(path).expect("the records can be read");
    let chapters = book::read(&text).expect("the records are sound");
    let owners = [
        "drive", "geometry", "ledger", "optics", "plant", "rays", "sky",
    ];
    let owners = owners.into_iter().chain(["structure", "study"]);
    for owner in owners.clone() {
        let records = chapters.get(owner).into_iter().flatten();
        let recorded: Vec<String> = records.map(|(name, _)| format!("{owner}.{name}")).collect();
        let mut declared = declared(owner);
        declared.sort_unstable();
        assert_eq!(declared, recorded, "declared checks against records");
    }
    let unknown: Vec<&String> = chapters
        .keys()
        .filter(|owner| !owners.clone().any(|known| known == *owner))
        .collect();
    assert!(
        unknown.is_empty(),
        "no crate of checks is called {unknown:?}"
    );
}
