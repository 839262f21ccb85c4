//! Every command that README.md shows in a console block works, with a smaller search.

use std::fs;
use std::process::Command;

use crate::support::{SMALL, folder, json, run, top};

/// How README runs the program.
const THROUGH_CARGO: &str = "cargo run --release --";

/// Commands after `$ ` in blocks of kind `console`.
fn commands(readme: &str) -> Vec<String> {
    let mut found = Vec::new();
    let mut is_console = false;
    for line in readme.lines() {
        if line.starts_with("```") {
            is_console = line == "```console";
        } else if let Some(command) = line.strip_prefix("$ ").filter(|_| is_console) {
            found.push(command.to_owned());
        }
    }
    found
}

/// The same command with the program that is being tested and a short search; nothing for
/// commands of cargo itself, which the CI runs.
fn shortened(command: &str) -> Option<String> {
    let program = env!("CARGO_BIN_EXE_tautfield");
    let command = command.replace(THROUGH_CARGO, program);
    if command.starts_with("cargo ") {
        return None;
    }
    let is_search = command.contains(" search ");
    Some(if is_search {
        command + " --total 40"
    } else {
        command
    })
}

#[test]
fn every_command_shown_works() {
    let readme = fs::read_to_string(top().join("README.md")).unwrap();
    let folder = folder();
    let scenarios = top().join("scenarios").canonicalize().unwrap();
    fs::create_dir(folder.path().join("scenarios")).unwrap();
    for file in fs::read_dir(scenarios).unwrap() {
        let file = file.unwrap();
        fs::copy(
            file.path(),
            folder.path().join("scenarios").join(file.file_name()),
        )
        .unwrap();
    }
    let all = commands(&readme);
    assert!(
        all.iter().any(|command| command.contains(" search ")),
        "{all:?}"
    );
    for command in all.iter().filter_map(|command| shortened(command)) {
        let done = Command::new("sh")
            .args(["-c", &command])
            .current_dir(folder.path())
            .output()
            .unwrap();
        let err = String::from_utf8_lossy(&done.stderr);
        assert!(done.status.success(), "{command}\n{err}");
    }
}

/// Every danger that results are printed with is named in README too.
#[test]
fn every_caution_is_told() {
    let readme = fs::read_to_string(top().join("README.md")).unwrap();
    let (_, told) = readme.split_once("## Cautions").unwrap();
    let points = told.lines().filter(|line| line.starts_with("- ")).count();
    let priced = json(&run(&["price", SMALL, "--fidelity", "search", "--json"]));
    assert_eq!(points, priced["cautions"].as_array().unwrap().len());
    for danger in [
        "salt",
        "Turbine",
        "light",
        "steam",
        "Wind",
        "electrician",
        "codes",
    ] {
        assert!(told.contains(danger), "{danger}");
    }
}

#[test]
fn commands_are_found_in_console_blocks_only() {
    let readme = "$ no\n```console\n$ one --two\nout\n$ three\n```\n```toml\n$ no\n```\n";
    assert_eq!(commands(readme), ["one --two", "three"]);
    assert_eq!(shortened("cargo test --release"), None);
    let search = shortened("cargo run --release -- search a.toml --out b").unwrap();
    assert!(
        search.ends_with("tautfield search a.toml --out b --total 40"),
        "{search}"
    );
}
