//! A file dropped into `tests/` or `benches/` of a virtual workspace is silently never compiled.
//! Every one must be reachable from a declared target. And every file says what it is in its
//! first line.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

pub fn rust_files(folder: &Path, found: &mut BTreeSet<PathBuf>) {
    for entry in fs::read_dir(folder).expect("folder can be read") {
        let path = entry.expect("entry can be read").path();
        if path.is_dir() && path.file_name().is_some_and(|name| name != "target") {
            rust_files(&path, found);
        } else if path.extension().is_some_and(|extension| extension == "rs") {
            found.insert(path);
        }
    }
}

/// The name in a line such as `mod name;` or `pub mod name;`.
fn declared_module(line: &str) -> Option<&str> {
    let rest = line
        .trim()
        .trim_start_matches("pub ")
        .trim_start_matches("pub(crate) ");
    rest.strip_prefix("mod ")?.strip_suffix(';')
}

fn reach_from(file: &Path, is_root: bool, reached: &mut BTreeSet<PathBuf>) {
    let Ok(text) = fs::read_to_string(file) else {
        return;
    };
    reached.insert(file.to_path_buf());
    let stem = file
        .file_stem()
        .and_then(|stem| stem.to_str())
        .unwrap_or_default();
    let parent = file.parent().unwrap_or(Path::new(""));
    let folder = if is_root || stem == "mod" {
        parent.to_path_buf()
    } else {
        parent.join(stem)
    };
    for name in text.lines().filter_map(declared_module) {
        for candidate in [
            folder.join(format!("{name}.rs")),
            folder.join(name).join("mod.rs"),
        ] {
            if candidate.exists() {
                reach_from(&candidate, false, reached);
            }
        }
    }
}

#[test]
fn every_rust_file_belongs_to_a_target() {
    let root = super::root();
    let mut all = BTreeSet::new();
    for folder in ["crates", "tests", "benches"] {
        rust_files(&root.join(folder), &mut all);
    }
    let mut reached = BTreeSet::new();
    for package in super::metadata().packages {
        for target in package.targets {
            let path = PathBuf::from(target.src_path);
            let path = path.canonicalize().unwrap_or(path);
            reach_from(&path, true, &mut reached);
        }
    }
    let stray: Vec<_> = all.difference(&reached).collect();
    assert!(stray.is_empty(), "no target compiles {stray:?}");
}

#[test]
fn every_rust_file_says_what_it_is() {
    let root = super::root();
    let mut all = BTreeSet::new();
    for folder in ["crates", "tests", "benches"] {
        rust_files(&root.join(folder), &mut all);
    }
    for file in all {
        let text = fs::read_to_string(&file).expect("file can be read");
        assert!(
            text.starts_with("//! "),
            "{} has no opening line",
            file.display()
        );
    }
}
