//! Documents that name a file name one that exists.

use std::fs;

/// Words in backticks that look like paths of the workspace.
fn named_paths(text: &str) -> Vec<&str> {
    let is_path = |word: &&str| {
        ["crates/", "tests/", "benches/", "scenarios/"]
            .iter()
            .any(|folder| word.starts_with(folder))
            && !word.contains(' ')
    };
    text.split('`').skip(1).step_by(2).filter(is_path).collect()
}

#[test]
fn every_path_that_a_document_names_exists() {
    let root = super::root();
    let mut seen = 0;
    for document in ["README.md", "DEVELOPERS.md"] {
        let text = fs::read_to_string(root.join(document)).expect("document can be read");
        for path in named_paths(&text) {
            assert!(
                root.join(path).exists(),
                "{document} names {path}, which is not there"
            );
            seen += 1;
        }
    }
    assert!(seen > 10, "paths are no longer written in backticks");
}

#[test]
fn every_crate_stands_in_the_code_map() {
    let map = fs::read_to_string(super::root().join("DEVELOPERS.md")).expect("it can be read");
    for entry in fs::read_dir(super::root().join("crates")).expect("crates can be listed") {
        let name = entry.expect("entry can be read").file_name();
        let row = format!("| `{}` |", name.to_string_lossy());
        assert!(map.contains(&row), "DEVELOPERS.md has no row {row}");
    }
}
