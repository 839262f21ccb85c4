//! The designs that README tells of: `crates/cli/readme/HEAT-CONCEPT-SEED.toml`, each lying over its scenario
//! as a search found it; `SEED` is `duty` where rivals were searched for one duty.

use std::fs;
use std::path::Path;

use report::Data;
use scenario::{Scenario, Variable};
use serde_json::Value;

use crate::support::{json, run, top};

/// Where they stand.
const FOLDER: &str = "crates/cli/readme";
/// Names the folder whose run folders, called as the designs, give them anew.
const RUNS: &str = "README_RUNS";
/// Opened values among a run's columns.
const OPENED: &str = "design_";

/// Names of all designs, as `steam-strings-1`.
pub fn names() -> Vec<String> {
    let files = fs::read_dir(top().join(FOLDER)).unwrap();
    let names = files.map(|file| file.unwrap().file_name().into_string().unwrap());
    let designs = names.filter_map(|name| name.strip_suffix(".toml").map(str::to_owned));
    designs.collect()
}

/// The file of a design.
pub fn file(name: &str) -> String {
    format!("{FOLDER}/{name}.toml")
}

/// What a design lays over its scenario, keys and texts.
pub fn laid(name: &str) -> Vec<(String, String)> {
    let file = file(name);
    let checked = json(&run(&["check", &file, "--json"]));
    let values = checked["values"].as_array().unwrap().iter();
    let text = |value: &Value, of: &str| value[of].as_str().unwrap().to_owned();
    values
        .filter(|value| text(value, "origin").starts_with(&file))
        .map(|value| (text(value, "key"), text(value, "value")))
        .collect()
}

/// What a run folder was searched from, read again.
fn searched(source: &Value) -> Scenario {
    let text = |key: &str| source[key].as_str().unwrap();
    let base = |path: &str| {
        let kept = source["base_files"][path].as_str();
        kept.map(str::to_owned).ok_or_else(|| "not kept".to_owned())
    };
    scenario::load(text("file"), text("text"), &base, &overrides(source)).unwrap()
}

/// What the command line laid over it.
fn overrides(source: &Value) -> Vec<(String, String)> {
    serde_json::from_value(source["overrides"].clone()).unwrap()
}

/// The text of an opened value in one row of a run's designs.
fn text_in(variable: &Variable, data: &Data, row: usize) -> String {
    let is_it = |index: &u32| match data {
        Data::Number(values) => variable.si(*index) == values[row],
        Data::Count(values) => variable.si(*index) == values[row].map(f64::from),
        Data::Text(values) => values[row].as_deref() == Some(variable.text(*index).as_str()),
        Data::Flag(_) => false,
    };
    let index = (0..variable.count()).find(is_it);
    variable.text(index.expect("a value of its range"))
}

/// Keys with their texts as a scenario file: plain numbers bare, all else quoted.
fn as_file(values: &[(String, String)]) -> String {
    let mut text = String::new();
    let mut section = "";
    for (path, value) in values {
        let (of, key) = path.split_once('.').unwrap_or(("", path));
        if of != section {
            section = of;
            text += &format!("\n[{of}]\n");
        }
        text += &match value.parse::<f64>() {
            Ok(_) => format!("{key} = {value}\n"),
            Err(_) => format!("{key} = {value:?}\n"),
        };
    }
    text
}

/// The cheapest design of a run folder, as it lies over what was searched.
fn design_of(run: &Path) -> String {
    let manifest = fs::read_to_string(run.join("manifest.json")).unwrap();
    let manifest: Value = serde_json::from_str(&manifest).unwrap();
    let source = &manifest["scenario"];
    let row = manifest["run"]["best_row"].as_u64();
    let row = usize::try_from(row.expect("a finished search")).unwrap();
    let designs = fs::read(run.join("designs.parquet")).unwrap();
    let (designs, _) = report::read_parquet(&designs).unwrap();
    let columns = designs.columns.iter();
    let opened = columns.filter(|(name, _)| name.starts_with(OPENED));
    let scenario = searched(source);
    let found = scenario.space.variables().iter().zip(opened);
    let found = found.map(|(variable, (name, data))| {
        let path = variable.path();
        assert!(name[OPENED.len()..].starts_with(&path.replace('.', "_")));
        (path.to_owned(), text_in(variable, data, row))
    });
    let is_asked = |(key, _): &(String, String)| key == "concept" || key == "search.duty";
    let (concept, duty): (Vec<_>, Vec<_>) = overrides(source)
        .into_iter()
        .filter(is_asked)
        .partition(|(key, _)| key == "concept");
    let values: Vec<_> = concept.into_iter().chain(found).chain(duty).collect();
    let base = Path::new(source["file"].as_str().unwrap()).file_name();
    format!(
        "# As a search of {} designs with seed {} found it.\n\nbase = \"../../../scenarios/{}\"\n{}",
        manifest["total"],
        manifest["seed"],
        base.unwrap().display(),
        as_file(&values)
    )
}

/// Writes designs anew; DEVELOPERS.md says how.
#[test]
#[ignore = "changes committed files"]
fn renew() {
    let runs = std::env::var(RUNS).expect("README_RUNS names the folder of run folders");
    for run in fs::read_dir(runs).unwrap() {
        let run = run.unwrap();
        let name = run.file_name().into_string().unwrap();
        fs::write(top().join(file(&name)), design_of(&run.path())).unwrap();
    }
}
