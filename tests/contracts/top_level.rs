//! The top level holds exactly what a newcomer expects, plus dotfiles and the build folder.

use std::fs;

const ALLOWED: &[&str] = &[
    "Cargo.toml",
    "Cargo.lock",
    "README.md",
    "DEVELOPERS.md",
    "crates",
    "scenarios",
    "tests",
    "benches",
];

#[test]
fn top_level_holds_only_what_it_should() {
    let root = super::root();
    for entry in fs::read_dir(&root).expect("the workspace can be read") {
        let name = entry.expect("entry can be read").file_name();
        let name = name.to_string_lossy();
        let known = ALLOWED.contains(&&*name) || name.starts_with('.') || name == "target";
        assert!(known, "{name} does not belong at the top level");
    }
    for name in ALLOWED {
        assert!(
            root.join(name).exists(),
            "{name} is missing at the top level"
        );
    }
}

#[test]
fn every_member_takes_the_workspace_lints() {
    let root = super::root();
    for package in super::metadata().packages {
        let manifest = fs::read_to_string(&package.manifest_path).expect("manifest can be read");
        assert!(
            manifest.contains("[lints]\nworkspace = true"),
            "{} does not take the workspace lints",
            package
                .manifest_path
                .as_std_path()
                .strip_prefix(&root)
                .unwrap_or(package.manifest_path.as_std_path())
                .display()
        );
    }
}

#[test]
fn readme_opens_with_the_job_in_one_paragraph() {
    let readme = fs::read_to_string(super::root().join("README.md")).expect("README can be read");
    let opening = readme.split("\n\n").nth(1).unwrap_or_default();
    assert!(
        opening.contains("cheapest delivered kilowatt-hour"),
        "opening: {opening}"
    );
}
