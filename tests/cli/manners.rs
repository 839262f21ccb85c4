//! Manners that every verb keeps: 80 columns, no colour where none is wanted, one version of JSON, and the same
//! JSON in any units. A verb that is added must be told here how it is run.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use crate::support::{Ran, SMALL, folder, json, ran, run, search, tautfield};

/// A scenario whose heliostats can be built.
const STEAM: &str = "scenarios/process-steam.toml";

/// Columns of a terminal.
const COLUMNS: usize = 80;
/// What turns a terminal's colours on and off.
const ESCAPE: char = '\u{1b}';
/// Verbs that print files for other programs: scenarios, schemas, scripts, manuals.
const PRINT_FILES: [&str; 5] = ["new", "schema", "completions", "man", "help"];
/// Verbs of which only JSON is told: as text `rates` is a file to change.
const TOLD_AS_FILE: &str = "rates";

/// The verbs that help lists.
fn verbs() -> BTreeSet<String> {
    let help = run(&["--help"]).out;
    let (_, listed) = help.split_once("Commands:\n").unwrap();
    let (listed, _) = listed.split_once("\n\n").unwrap();
    // A verb stands two spaces from the edge, what else is said of it farther in.
    let verbs = listed.lines().filter(|line| !line.starts_with("   "));
    let first = |line: &str| line.split_whitespace().next().unwrap().to_owned();
    verbs.map(first).collect()
}

/// How every verb that tells something is run; `at` holds a finished search, a plan and a survey of it.
fn told(at: &Path) -> Vec<(&'static str, Vec<String>)> {
    let path = |name: &str| at.join(name).display().to_string();
    let with = |words: &[&str]| words.iter().map(|&word| word.to_owned()).collect();
    let plan = path("set_out/plan.csv");
    vec![
        ("check", with(&[SMALL])),
        ("price", with(&[SMALL, "--items"])),
        ("price", with(&[STEAM, "--items", "--concept", "pedestals"])),
        (
            "search",
            with(&[SMALL, "--total", "8", "--out", &path("run")]),
        ),
        (
            "versus",
            with(&[
                SMALL,
                "--rival=short:strings.mirrors=5",
                "--rival=thin:strings.glass=3 mm",
                "--duty=30 MWh",
                "--total=6",
                "--draws=16",
                "--out",
                &path("rivals"),
            ]),
        ),
        ("judge", with(&[SMALL, "--year", "--rays", "2000"])),
        ("setout", with(&[SMALL, "--out", &path("set_out")])),
        ("vary", with(&[&path("run"), "--draws", "16"])),
        (
            "spot",
            with(&[SMALL, "--plan", &plan, "--survey", &path("survey.csv")]),
        ),
        ("draw", with(&[&path("run")])),
        ("rates", Vec::new()),
        ("glossary", Vec::new()),
        ("method", Vec::new()),
    ]
}

/// What the verbs work on.
fn prepare(at: &Path) {
    let searched = ran(search(&at.join("run")).args(["--total", "8"]));
    assert_eq!(searched.code, Some(0), "{}", searched.err);
    let set_out = at.join("set_out");
    let set_out = ran(tautfield().args(["setout", SMALL, "--out"]).arg(set_out));
    assert_eq!(set_out.code, Some(0), "{}", set_out.err);
    fs::write(
        at.join("survey.csv"),
        "string_id,mirror_id,dx_m\n1,1,0.01\n",
    )
    .unwrap();
}

/// A verb as it is run where colours are asked for and, by whoever has the last word, refused.
fn uncoloured(verb: &str, arguments: &[String], more: &[&str]) -> Ran {
    let mut command = tautfield();
    command.env("CLICOLOR_FORCE", "1").env("NO_COLOR", "1");
    ran(command.arg(verb).args(arguments).args(more))
}

/// Lines wider than a terminal, but for paths, which cannot be broken.
fn wide(text: &str) -> Vec<&str> {
    let is_path = |line: &str| line.trim_start_matches("- ").starts_with('/');
    let lines = text.lines().filter(|line| !is_path(line));
    lines
        .filter(|line| line.chars().count() > COLUMNS)
        .collect()
}

#[test]
fn every_verb_is_looked_at() {
    let told = told(Path::new("")).into_iter().map(|(verb, _)| verb);
    let known: BTreeSet<String> = told.chain(PRINT_FILES).map(str::to_owned).collect();
    assert_eq!(verbs(), known);
}

/// Help of every verb is coloured where colours are asked for, and nowhere else.
#[test]
fn help_keeps_to_the_width_and_to_no_colour() {
    for verb in verbs().into_iter().filter(|verb| verb != "help") {
        let coloured = ran(tautfield()
            .env("CLICOLOR_FORCE", "1")
            .args([&verb, "--help"]));
        assert!(coloured.out.contains(ESCAPE), "{verb}");
        let plain = uncoloured(&verb, &[], &["--help"]).out;
        assert!(!plain.contains(ESCAPE), "{verb}");
        assert_eq!(wide(&plain), [""; 0], "{verb}");
        let refused = uncoloured(&verb, &[], &["--no-such-flag"]).err;
        assert!(
            !refused.is_empty() && !refused.contains(ESCAPE),
            "{verb}: {refused}"
        );
    }
}

#[test]
fn every_verb_tells_in_either_units_within_the_width_and_as_json() {
    let folder = folder();
    prepare(folder.path());
    let version = json(&run(&["check", SMALL, "--json"]))["format_version"].clone();
    assert!(version.is_u64());
    for (verb, arguments) in told(folder.path()) {
        for units in ["si", "us"] {
            let done = uncoloured(verb, &arguments, &["--units", units]);
            assert_eq!(done.code, Some(0), "{verb}: {}", done.err);
            assert!(
                !done.out.contains(ESCAPE) && !done.err.contains(ESCAPE),
                "{verb}"
            );
            if verb != TOLD_AS_FILE {
                assert_eq!(wide(&done.out), [""; 0], "{verb} in {units}");
            }
        }
        let [si, us] = ["si", "us"].map(|units| {
            let done = uncoloured(verb, &arguments, &["--json", "--units", units]);
            assert_eq!(done.code, Some(0), "{verb}: {}", done.err);
            assert_eq!(json(&done)["format_version"], version, "{verb}");
            done.out
        });
        assert!(si == us, "{verb}: JSON differs between units");
    }
}
