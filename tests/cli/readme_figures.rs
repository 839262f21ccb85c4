//! What README says of costs, flags and files is what the program finds, has and writes.

use std::collections::BTreeSet;
use std::fs;

use crate::readme_designs::laid;
use crate::support::{json, number, reference, run, top};

fn readme() -> String {
    fs::read_to_string(top().join("README.md")).unwrap()
}

/// The design of the demo that README tells of.
const CHEAPEST: &str = "crates/cli/readme/steam-strings-1.toml";

/// Sections of the first block of text, apart from its opening sentence.
fn sections(readme: &str) -> Vec<&str> {
    let (_, block) = readme.split_once("```text\n").unwrap();
    let (block, _) = block.split_once("```").unwrap();
    block.split("\n\n").skip(1).map(str::trim_end).collect()
}

/// Words on one line, as often as they are broken in a text.
fn unbroken(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn the_answer_shown_is_that_of_its_design() {
    let readme = readme();
    let priced = run(&["price", CHEAPEST]);
    assert_eq!(priced.code, Some(0), "{}", priced.err);
    let sections = sections(&readme);
    assert_eq!(sections.len(), 3);
    for section in sections {
        assert!(
            priced.out.contains(section),
            "{}\nhas not\n{section}",
            priced.out
        );
    }
    let told = unbroken(&readme);
    let found = json(&run(&["price", CHEAPEST, "--json"]));
    let at = |pointer: &str| number(&found, pointer);
    for words in [
        format!(
            "The cheapest heat costs {:.4} USD/kWh",
            at("/money/cost_per_kwh")
        ),
        format!(
            "and {:.2} million USD of capital",
            at("/money/capital/total") / 1e6
        ),
        format!(
            "it breaks even at {:.0} USD/t",
            at("/money/break_even_carbon_per_t")
        ),
        format!(
            "A shared drive misses by {:.1} mrad rms where the best common turn there is would miss by {:.1}",
            at("/year/residual_mrad"),
            at("/year/common_turn_bound_mrad")
        ),
        format!(
            "Drives are {:.0} % of the cost of heat",
            100.0 * at("/money/cost_parts_per_kwh/drives") / at("/money/cost_per_kwh")
        ),
        format!(
            "that takes {:.1} % of the light, and mounts stand at their stops for {:.0} sunny hours",
            100.0 * at("/drives/light_lost/residual"),
            at("/drives/travel/lost_hours"),
        ),
    ] {
        assert!(told.contains(&words), "README does not say: {words}");
    }
}

/// From 15 to 25 mirrors a string, as many in all, heat costs little more than at its cheapest.
#[test]
fn the_optimum_is_as_flat_in_length_as_told() {
    let values = laid("steam-strings-1");
    let own = |key: &str| -> u32 {
        let found = values.iter().find(|(of, _)| of == key);
        found.unwrap().1.parse().unwrap()
    };
    let (strings, of_each) = (own("strings.count"), own("strings.mirrors"));
    let cost = |mirrors: u32| {
        let count = f64::from(strings * of_each) / f64::from(mirrors);
        let count = format!("strings.count={count:.0}");
        let mirrors = format!("strings.mirrors={mirrors}");
        let priced = run(&[
            "price", CHEAPEST, "--json", "--set", &mirrors, "--set", &count,
        ]);
        number(&json(&priced), "/money/cost_per_kwh")
    };
    let dearer = |mirrors: u32| cost(mirrors) / cost(of_each) - 1.0;
    let worst = dearer(15).max(dearer(25));
    let words = format!("15 to 25 mirrors cost at most {:.0} % more", 100.0 * worst);
    assert!(
        unbroken(&readme()).contains(&words),
        "README does not say: {words}"
    );
}

/// How each row of the tables of lengths is asked for.
const MECHANISMS: [(&str, &[&str]); 4] = [
    ("axis along, parallel levers", &[]),
    (
        "axis along, graded levers",
        &["strings.linkage=graded", "strings.offset=lever"],
    ),
    ("roll-free joints", &["strings.first_axis=roll-free"]),
    (
        "sliding levers",
        &["strings.linkage=sliding-lever", "strings.offset=lever"],
    ),
];

/// Mirrors of each scenario, however long its strings.
const STEAM: (&str, u32) = ("scenarios/string-length.toml", 3375);
const AIR: (&str, u32) = ("scenarios/string-length-hot.toml", 1350);

/// The cost of heat with so many mirrors per string [USD/kWh].
fn cost((scenario, all): (&str, u32), mechanism: &[&str], mirrors: u32) -> f64 {
    let length = format!("strings.mirrors={mirrors}");
    let count = format!("strings.count={}", all / mirrors);
    let laid = [length.as_str(), count.as_str()].into_iter();
    let laid = laid.chain(mechanism.iter().copied());
    let mut arguments = vec!["price", scenario, "--json"];
    arguments.extend(laid.flat_map(|value| ["--set", value]));
    number(&json(&run(&arguments)), "/money/cost_per_kwh")
}

/// Every cost of the table of lengths, priced anew; steam is the first half of the table.
#[test]
fn every_cost_of_the_table_of_lengths_is_found() {
    let readme = readme();
    let rows: Vec<Vec<&str>> = readme
        .lines()
        .filter(|line| {
            MECHANISMS
                .iter()
                .any(|(name, _)| line.contains(&format!("| {name} |")))
        })
        .map(|line| line.trim_matches('|').split('|').map(str::trim).collect())
        .collect();
    assert_eq!(rows.len(), 2 * MECHANISMS.len());
    for (place, row) in rows.iter().enumerate() {
        let scenario = if place < MECHANISMS.len() { STEAM } else { AIR };
        let (name, mechanism) = MECHANISMS[place % MECHANISMS.len()];
        assert_eq!(row[1], name);
        for (mirrors, told) in [3, 5, 9, 15, 25].into_iter().zip(&row[2..]) {
            let told = told.trim_matches('*');
            let digits = told.split_once('.').unwrap().1.len();
            let found = format!("{:.digits$}", cost(scenario, mechanism, mirrors));
            assert_eq!(found, told, "{} with {name} of {mirrors}", scenario.0);
        }
    }
}

/// Flags of cargo that README shows.
const OF_CARGO: [&str; 2] = ["--release", "--workspace"];

/// Words of a text that look like flags.
fn flags(text: &str) -> BTreeSet<&str> {
    let words = text.split(|letter: char| !(letter.is_ascii_alphanumeric() || letter == '-'));
    let is_flag = |word: &&str| {
        word.strip_prefix("--")
            .is_some_and(|name| name.starts_with(|letter: char| letter.is_ascii_lowercase()))
    };
    words.filter(is_flag).collect()
}

#[test]
fn every_flag_named_exists() {
    let help = run(&["--help"]).out;
    let (_, listed) = help.split_once("Commands:\n").unwrap();
    let (listed, _) = listed.split_once("\n\n").unwrap();
    let verbs = listed
        .lines()
        .filter_map(|line| line.split_whitespace().next());
    let helps: String = verbs.map(|verb| run(&[verb, "--help"]).out).collect();
    let known: BTreeSet<&str> = flags(&helps).into_iter().chain(OF_CARGO).collect();
    for document in ["README.md", "crates/cli/CHANGELOG.md"] {
        let text = fs::read_to_string(top().join(document)).unwrap();
        let unknown: Vec<&str> = flags(&text).difference(&known).copied().collect();
        assert!(unknown.is_empty(), "{document} names {unknown:?}");
    }
}

/// The table of a run folder names every file that a search writes, and no other; charts stand together.
#[test]
fn every_file_of_a_run_folder_is_named() {
    let readme = readme();
    let (_, table) = readme.split_once("## What a run folder holds").unwrap();
    let (table, _) = table.split_once("\n\n`glossary`").unwrap();
    let firsts = table.lines().filter_map(|line| line.strip_prefix("| `"));
    let named: BTreeSet<&str> = firsts
        .filter_map(|line| line.split_once('|'))
        .flat_map(|(names, _)| names.split('`').step_by(2))
        .filter(|name| !name.is_empty())
        .collect();
    let charts = reference()
        .results
        .keys()
        .map(|name| match name.split_once('/') {
            Some((folder, _)) => format!("{folder}/"),
            None => name.clone(),
        });
    let written: BTreeSet<String> = charts
        .chain(["manifest.json", "journal", "lock"].map(str::to_owned))
        .collect();
    let written: BTreeSet<&str> = written.iter().map(String::as_str).collect();
    assert_eq!(named, written);
}
