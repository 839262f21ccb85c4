//! Run folders that cannot be used: exit code 4, and the file at fault is named.

use std::fs;

use crate::support::{assert_same_results, folder, ran, search, tautfield};

#[test]
fn a_file_in_the_place_of_the_folder_is_told() {
    let parent = folder();
    let taken = parent.path().join("taken");
    fs::write(&taken, "a letter").unwrap();
    let done = ran(&mut search(&taken));
    assert_eq!(done.code, Some(4), "{done:?}");
    assert!(done.err.contains("taken"), "{}", done.err);
}

#[test]
fn a_journal_that_is_none_is_told_and_left_alone() {
    let run = folder();
    let diary = "dear diary, this is no journal of evaluations";
    fs::write(run.path().join("journal"), diary).unwrap();
    let done = ran(&mut search(run.path()));
    assert_eq!(done.code, Some(4), "{done:?}");
    assert!(
        done.err.contains("does not start like a journal"),
        "{}",
        done.err
    );
    assert_eq!(
        fs::read_to_string(run.path().join("journal")).unwrap(),
        diary
    );
}

#[test]
fn a_damaged_older_or_newer_manifest_is_told() {
    for (text, told) in [
        (
            "{ \"format_version\": 1 }",
            "has format 1, this program reads and writes format 5",
        ),
        ("{ \"format_version\": 1", "manifest.json"),
        ("{ \"format_version\": 999 }", "has format 999"),
    ] {
        let run = folder();
        fs::write(run.path().join("manifest.json"), text).unwrap();
        let done = ran(&mut search(run.path()));
        assert_eq!(done.code, Some(4), "{done:?}");
        assert!(done.err.contains(told), "{}", done.err);
    }
}

/// What the hint says to do with a damaged manifest works, and nothing is evaluated again.
#[test]
fn a_folder_without_its_manifest_is_made_whole_again() {
    let run = folder();
    assert_eq!(ran(&mut search(run.path())).code, Some(0));
    let journal = fs::read(run.path().join("journal")).unwrap();
    fs::remove_file(run.path().join("manifest.json")).unwrap();
    let again = ran(&mut search(run.path()));
    assert_eq!(again.code, Some(0), "{}", again.err);
    assert_eq!(fs::read(run.path().join("journal")).unwrap(), journal);
    assert_same_results(run.path(), "without a manifest");
}

#[test]
fn a_folder_without_a_run_has_nothing_to_draw_or_price() {
    let run = folder();
    let design = format!("{}#0", run.path().display());
    for arguments in [
        ["draw", run.path().to_str().unwrap(), ""],
        ["price", "--design", &design],
    ] {
        let arguments = arguments.iter().filter(|argument| !argument.is_empty());
        let done = ran(tautfield().args(arguments));
        assert_eq!(done.code, Some(4), "{done:?}");
        assert!(done.err.contains("is no run folder"), "{}", done.err);
    }
}

#[test]
fn a_wrong_crash_point_is_told() {
    let run = folder();
    let done = ran(search(run.path()).env("TAUTFIELD_CRASH_AT", "lunch:1"));
    assert_eq!(done.code, Some(2), "{done:?}");
    assert!(done.err.contains("lunch:1"), "{}", done.err);
}
