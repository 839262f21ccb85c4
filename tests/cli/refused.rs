//! Wrong input: nothing is run, the exit code is 2, and the message says what, where, what would
//! do, and what to try.

use crate::support::{Ran, SMALL, folder, ran, run, scenario_over_small, search, tautfield};

fn check_with(lines: &str) -> Ran {
    let folder = folder();
    let path = scenario_over_small(folder.path(), lines);
    ran(tautfield().arg("check").arg(path))
}

fn assert_refused(done: &Ran, told: &[&str]) {
    assert_eq!(done.code, Some(2), "{done:?}");
    assert!(done.out.is_empty(), "{}", done.out);
    let is_error = |line: &str| line.starts_with("error: ");
    assert!(done.err.lines().any(is_error), "{}", done.err);
    for text in told {
        assert!(done.err.contains(text), "{text} in\n{}", done.err);
    }
}

#[test]
fn an_unknown_key_is_told_with_the_nearest_known() {
    let done = check_with("[strings]\nsied = \"1 m\"\n");
    assert_refused(
        &done,
        &[
            "scenario.toml:3:1: strings.sied",
            "did you mean strings.side?",
            "hint: ",
        ],
    );
}

#[test]
fn a_missing_unit_is_told_with_the_units_that_would_do() {
    let done = check_with("[strings]\nside = 0.95\n");
    assert_refused(
        &done,
        &["scenario.toml:3:8: strings.side", "0.95", "mm", "ft"],
    );
}

#[test]
fn a_negative_size_is_told_with_its_range() {
    let done = check_with("[strings]\nside = \"-1 m\"\n");
    assert_refused(&done, &["strings.side: -1 m is outside 0.2 m … 2.5 m"]);
}

#[test]
fn no_mirrors_are_refused() {
    let done = check_with("[strings]\nmirrors = 0\n");
    assert_refused(&done, &["strings.mirrors: 0 is outside 1 … 200"]);
}

#[test]
fn an_aperture_larger_than_the_tower_is_refused() {
    let done =
        check_with("[receiver]\naperture_height = \"29 m\"\n[tower]\naim_height = \"20 m\"\n");
    assert_refused(
        &done,
        &["an aperture 29 m high does not fit an aim height of 20 m"],
    );
}

#[test]
fn every_problem_is_told_at_once() {
    let done =
        check_with("[strings]\nside = \"1 kg\"\nmirrors = 0\n[mirror]\nscater = \"1 mrad\"\n");
    assert_refused(
        &done,
        &[
            "3 problems",
            "strings.side",
            "strings.mirrors",
            "mirror.scatter?",
        ],
    );
}

#[test]
fn an_absent_file_is_named_with_what_to_do() {
    let done = run(&["price", "scenarios/nowhere.toml"]);
    assert_refused(&done, &["scenarios/nowhere.toml", "tautfield new"]);
}

#[test]
fn an_override_is_named_as_one() {
    let done = run(&["check", SMALL, "--set", "tower.aim_height=1500 m"]);
    assert_refused(
        &done,
        &["--set: tower.aim_height: 1500 m is outside 10 m … 250 m"],
    );
}

#[test]
fn a_wrong_command_line_ends_with_two() {
    for arguments in [
        &["price"][..],
        &["price", SMALL, "--design", "run#1"],
        &["price", "--design", "run"],
        &["search", SMALL],
        &["check", SMALL, "--set", "strings.side"],
        &["check", SMALL, "--threads", "0"],
        &["fly"],
    ] {
        let done = run(arguments);
        assert_eq!(done.code, Some(2), "{arguments:?}: {done:?}");
        assert!(done.out.is_empty(), "{arguments:?}");
    }
}

/// A folder that holds a search of other inputs is left alone, and the difference is named as
/// people wrote it.
#[test]
fn another_scenario_in_the_folder_is_refused_with_the_difference() {
    let run = folder();
    let first = ran(search(run.path()).args(["--total", "8"]));
    assert_eq!(first.code, Some(0), "{}", first.err);
    let journal = std::fs::read(run.path().join("journal")).unwrap();
    let second = ran(search(run.path()).args(["--set", "mirror.washed=90 %"]));
    assert_refused(
        &second,
        &[
            "mirror.washed: was 98 %, now 90 %",
            "hint: choose another --out",
        ],
    );
    assert_eq!(std::fs::read(run.path().join("journal")).unwrap(), journal);
}
