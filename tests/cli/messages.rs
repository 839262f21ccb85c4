//! What is said when something is wrong, word for word, a message for each class: what, where, what
//! would do, and what to try.

use std::fs;
use std::path::Path;

use crate::support::{SMALL, folder, ran, run, scenario_over_small, search, tautfield};
use crate::weather_files::{check, columns};

/// What `check` says of lines laid over the small scenario.
fn said_of(lines: &str) -> String {
    let folder = folder();
    let path = scenario_over_small(folder.path(), lines);
    let done = ran(tautfield().arg("check").arg(path));
    without_folder(&done.err, folder.path())
}

/// Errors and hints, with the temporary folder by another name.
fn without_folder(said: &str, folder: &Path) -> String {
    let said = said.replace(&folder.display().to_string(), "FOLDER");
    let is_note = |line: &&str| line.starts_with("note: ");
    let lines = said.lines().filter(|line| !is_note(line));
    lines.map(|line| format!("{line}\n")).collect()
}

const KEYS_HINT: &str = "hint: `tautfield new` prints every key with its unit, range and default\n";

#[test]
fn a_wrong_scenario_says_where_and_what_would_do() {
    for (lines, problem) in [
        (
            "[strings]\nsied = \"1 m\"\n",
            "scenario.toml:3:1: strings.sied: unknown key; did you mean strings.side?",
        ),
        (
            "[strings]\nside = 0.95\n",
            "scenario.toml:3:8: strings.side: 0.95 has no unit; write one of m, mm, cm, km, in, ft",
        ),
        (
            "[tower]\naim_height = \"1500 m\"\n",
            "scenario.toml:3:14: tower.aim_height: 1500 m is outside 10 m … 250 m; did you mean 1500 cm?",
        ),
    ] {
        let wanted = format!("error: 1 problem in the scenario\n  FOLDER/{problem}\n{KEYS_HINT}");
        let said = said_of(lines).replace("  scenario.toml", "  FOLDER/scenario.toml");
        assert_eq!(said, wanted);
    }
}

#[test]
fn an_absent_file_says_where_it_was_looked_for() {
    let said = run(&["price", "scenarios/nowhere.toml"]).err;
    let wanted = "error: cannot read scenarios/nowhere.toml: No such file or directory (os error 2)\n\
                  hint: paths are taken from where you stand, weather files from where the scenario \
                  stands; `tautfield new > FILE` writes a scenario to start from\n";
    assert_eq!(said, wanted);
}

#[test]
fn a_gap_in_the_weather_says_which_line_and_what_may_bridge_it() {
    let folder = folder();
    fs::write(folder.path().join("year.csv"), columns(36, "")).unwrap();
    let done = check(folder.path(), "year.csv", "csv");
    assert_eq!(done.code, Some(2), "{done:?}");
    assert_eq!(
        without_folder(&done.err, folder.path()),
        "error: FOLDER/year.csv: 1 problem in the hours\n  \
         line 38: dni_w_m2 is missing\n  \
         missing and impossible values are bridged only when that is asked for\n\
         hint: mend the file, or let weather.bridged_gap, such as \"3 h\", bridge what is missing or \
         impossible with straight lines\n"
    );
}

/// Printing to a disk without room; what a search says of one stands in `faults`.
#[test]
fn a_full_disk_says_what_could_not_be_written() {
    let full = fs::File::options().write(true).open("/dev/full").unwrap();
    let output = tautfield().arg("glossary").stdout(full).output().unwrap();
    assert_eq!(output.status.code(), Some(4));
    assert_eq!(
        String::from_utf8(output.stderr).unwrap(),
        "error: cannot write the result: No space left on device (os error 28)\n"
    );
}

#[test]
fn a_run_folder_says_what_keeps_it_from_use() {
    let run_folder = folder();
    let path = run_folder.path();
    let said = |arguments: &[&str]| without_folder(&run(arguments).err, path);
    let at = path.display().to_string();
    assert_eq!(
        said(&["draw", &at]),
        "error: FOLDER: is no run folder\n\
         hint: run the search with this --out again; what it has evaluated is kept\n"
    );
    assert_eq!(ran(search(path).args(["--total", "8"])).code, Some(0));
    assert_eq!(
        said(&["price", "--design", &format!("{at}#8")]),
        "error: FOLDER has no design 8; its rows go from 0 to 7\n"
    );
    let other = ran(search(path).args(["--set", "mirror.washed=90 %"])).err;
    assert_eq!(
        without_folder(&other, path),
        "error: FOLDER holds a search of other inputs\n  mirror.washed: was 98 %, now 90 %\n\
         hint: choose another --out, or bring the old values back; prices may change freely\n"
    );
    fs::write(path.join("manifest.json"), "{ \"format_version\": 1").unwrap();
    assert_eq!(
        said(&["draw", &at]),
        "error: FOLDER/manifest.json: EOF while parsing an object at line 1 column 21\n\
         hint: take the manifest away and run the search with this --out again; what it has evaluated \
         is kept in the journal\n"
    );
    fs::write(path.join("manifest.json"), "{ \"format_version\": 1 }").unwrap();
    assert_eq!(
        said(&["draw", &at]),
        "error: FOLDER has format 1, this program reads and writes format 5\n\
         hint: search again into a new folder, or use the program that wrote this one\n"
    );
}

/// Steel lattice is sized and priced at any height; above the usual ones the reader is told so, also where only
/// the search may come there.
#[test]
fn a_tower_too_tall_for_a_lattice_is_noted() {
    let said = |aim_height: &str| {
        let setting = format!("tower.aim_height={aim_height}");
        run(&[
            "price",
            SMALL,
            "--set",
            &setting,
            "--set",
            "field.outer_radius=1",
        ])
    };
    let note = "note: tower: aim heights go up to 140 m (459 ft); above 120 m (394 ft) towers are mostly slip-formed";
    assert!(said("140 m").err.contains(note), "{}", said("140 m").err);
    let opened = r#"{ from = "20 m", to = "140 m", step = "5 m", start = "20 m" }"#;
    assert!(said(opened).err.contains(note));
    assert!(!said("120 m").err.contains("note: tower"));
    let checked = run(&["check", SMALL, "--set", "tower.aim_height=140 m"]);
    assert!(
        checked.out.contains("slip-formed concrete"),
        "{}",
        checked.out
    );
}

/// A design that breaks a limit is a result, not an error: it is told on stdout.
#[test]
fn what_cannot_be_built_says_by_which_limit() {
    let priced = run(&["price", SMALL, "--set", "strings.count=50000"]);
    let first = priced.out.lines().next().unwrap();
    assert!(
        first.starts_with("This design cannot be built: the site has ")
            && first.ends_with(" % fewer places than are asked for."),
        "{first}"
    );
    assert!(
        priced.out.contains("\nDistance to each limit\n"),
        "{}",
        priced.out
    );
    assert!(!priced.err.contains("error"), "{}", priced.err);
}
