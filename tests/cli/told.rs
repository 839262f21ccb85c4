//! What the verbs print when all is well.

use crate::support::{SMALL, folder, json, number, ran, reference, run, search, tautfield};
use std::process::Stdio;

#[test]
fn new_prints_a_scenario_that_checks() {
    let starter = run(&["new"]);
    assert_eq!(starter.code, Some(0));
    let folder = folder();
    let path = folder.path().join("scenario.toml");
    std::fs::write(&path, &starter.out).unwrap();
    let checked = ran(tautfield().arg("check").arg(&path));
    assert_eq!(checked.code, Some(0), "{}", checked.err);
}

/// Every column that a search writes is explained.
#[test]
fn glossary_explains_every_column_that_is_written() {
    let told = run(&["glossary"]);
    assert_eq!(told.code, Some(0), "{}", told.err);
    assert!(told.out.lines().all(|line| line.chars().count() <= 80));
    let all = format!("\n{}", told.out);
    for (name, bytes) in &reference().results {
        if !name.ends_with(".parquet") {
            continue;
        }
        let Some((_, rest)) = all.split_once(&format!("\n{name}\n")) else {
            panic!("{name} is not explained");
        };
        let section = rest.split(".parquet\n=").next().unwrap();
        let explained: Vec<&str> = section
            .lines()
            .filter_map(|line| line.split_whitespace().next())
            .collect();
        let known = |column: &str| {
            explained.iter().any(|name| match name.strip_suffix('*') {
                Some(family) => column.starts_with(family),
                None => *name == column,
            })
        };
        let (table, _) = report::read_parquet(bytes).unwrap();
        for (column, _) in &table.columns {
            assert!(known(column), "{name}: {column}");
        }
    }
}

/// Verbs that tell what is known beforehand tell programs the same.
#[test]
fn what_is_known_beforehand_is_told_as_json_too() {
    let told = |verb: &str| {
        let document = json(&run(&[verb, "--json"]));
        assert_eq!(document["format_version"], 5, "{verb}");
        document
    };
    let rates = told("rates");
    let steel = rates["rates"].as_array().unwrap().iter();
    let steel = steel.clone().find(|rate| rate["item"] == "steel").unwrap();
    let file = run(&["rates"]).out;
    let (_, lines) = file.split_once("\n[steel]\n").unwrap();
    let line = format!("rate = \"{} USD/{}\"\n", steel["rate"], "kg");
    assert!(lines.starts_with(&line), "{line}");
    let tables = &told("glossary")["tables"];
    for (name, bytes) in &reference().results {
        let Some(table) = name.strip_suffix(".parquet") else {
            continue;
        };
        let columns = tables[table].as_array().unwrap();
        let (written, _) = report::read_parquet(bytes).unwrap();
        assert_eq!(columns[0]["column"], written.columns[0].0, "{name}");
    }
    let method = told("method");
    let models = method["models"].as_array().unwrap();
    let book = run(&["method"]);
    assert!(book.out.lines().all(|line| line.chars().count() <= 80));
    assert!(models.len() > 25);
    for model in models {
        for words in [
            "model", "equation", "source", "validity", "held_to", "off", "allowed",
        ] {
            assert_ne!(model[words].as_str(), Some(""), "{model}");
        }
        assert!(book.out.contains(model["model"].as_str().unwrap()));
    }
}

#[test]
fn draw_tells_its_files_as_json() {
    let run_folder = folder();
    let done = ran(search(run_folder.path()).args(["--total", "8"]));
    assert_eq!(done.code, Some(0), "{}", done.err);
    let drawn = json(&ran(tautfield()
        .arg("draw")
        .arg(run_folder.path())
        .arg("--json")));
    assert_eq!(drawn["format_version"], 5);
    let files: Vec<&str> = drawn["files"]
        .as_array()
        .unwrap()
        .iter()
        .filter_map(|file| file.as_str())
        .collect();
    assert!(files.iter().any(|file| file.ends_with("report.html")));
    assert!(
        files
            .iter()
            .all(|file| std::path::Path::new(file).is_file())
    );
}

/// The list of changes opens with this program's version and with the format that it writes.
#[test]
fn the_list_of_changes_is_of_this_program() {
    let changes = include_str!("../../crates/cli/CHANGELOG.md");
    let newest = changes.split("\n## ").nth(1).unwrap();
    assert!(newest.starts_with(env!("CARGO_PKG_VERSION")), "{newest}");
    let format = json(&run(&["check", SMALL, "--json"]))["format_version"].clone();
    assert!(
        newest.contains(&format!("\nFormat {format}.\n")),
        "{format}"
    );
}

#[test]
fn schema_prints_the_committed_schema() {
    let printed = run(&["schema"]);
    let committed = include_str!("../../scenarios/scenario.schema.json");
    let remedy = "print it again: tautfield schema > scenarios/scenario.schema.json";
    assert!(printed.out == committed, "{remedy}");
}

/// The printed file of rates, taken by a scenario, changes nothing; one line of it changed does, and a
/// wrong one is told by its line.
#[test]
fn rates_print_a_file_to_change_line_by_line() {
    let folder = folder();
    let path = folder.path().join("rates.toml");
    let file = format!("rates.file={}", path.display());
    let printed = run(&["rates"]).out;
    let priced = |rates: &str| {
        std::fs::write(&path, rates).unwrap();
        run(&["price", SMALL, "--json", "--set", &file])
    };
    let cost = |ran| number(&json(&ran), "/money/cost_per_kwh");
    let before = cost(run(&["price", SMALL, "--json"]));
    assert_eq!(cost(priced(&printed)), before);
    let dearer = printed.replace("rate = \"1.1 USD/kg\"", "rate = \"1.3 USD/kg\"");
    assert!(cost(priced(&dearer)) > before);
    let wrong = printed.replace("rate = \"1.1 USD/kg\"", "rate = \"1.3 USD/m\"");
    let refused = priced(&wrong);
    assert_eq!(refused.code, Some(2));
    assert!(
        refused.err.contains("rates.toml:9:8: rates.glass.rate"),
        "{}",
        refused.err
    );
}

/// Every line of the bill has its mass, range, price year, and words for where price and carbon are from.
#[test]
fn no_line_of_the_bill_lacks_its_source() {
    let priced = json(&run(&["price", SMALL, "--json"]));
    let lines = priced["bill"].as_array().unwrap();
    assert!(lines.len() > 40);
    for line in lines {
        for words in ["source", "carbon_source"] {
            let said = line[words].as_str().unwrap();
            assert!(said.split_whitespace().count() >= 2, "{line}");
        }
        let value = |key: &str| line[key].as_f64().unwrap();
        assert!(value("rate_low") <= value("rate") && value("rate") <= value("rate_high"));
        assert!(
            value("mass_kg") >= 0.0 && value("price_year") >= 2000.0,
            "{line}"
        );
    }
}

/// Every value stands with its unit and where it came from: this file, the one under it, the
/// command line, or nowhere.
#[test]
fn check_tells_values_origins_and_the_weather() {
    let checked = run(&["check", SMALL, "--set", "tower.aim_height=130 ft"]);
    assert_eq!(checked.code, Some(0), "{}", checked.err);
    let line = |key: &str| {
        let found = checked.out.lines().find(|line| line.starts_with(key));
        found
            .unwrap_or_else(|| panic!("{key} is not told"))
            .to_owned()
    };
    assert!(line("tower.aim_height").contains("130 ft"));
    assert!(line("tower.aim_height").contains("--set"));
    assert!(line("strings.count").contains("24, open 12 …"));
    assert!(line("strings.end_gap").contains("default"));
    assert!(checked.out.contains("process-steam.toml:"));
    // The demo's monthly sums add up to this.
    assert!(line("direct sun").contains("2,182 kWh/m2"));
    assert!(line("hours too windy").ends_with(|last: char| last.is_ascii_digit()));
}

#[test]
fn check_prints_json_with_a_version() {
    let checked = json(&run(&["check", SMALL, "--json"]));
    assert_eq!(checked["format_version"], 5);
    let values = checked["values"].as_array().unwrap();
    let side = values.iter().find(|value| value["key"] == "strings.side");
    assert_eq!(side.unwrap()["unit"], "m");
    assert!((number(&checked, "/weather/dni_kwh_m2") - 2182.0).abs() < 0.5);
}

/// Energy only ever gets less on its way, the bill adds up to the capital's first line, and the
/// parts of the cost add up to it.
#[test]
fn price_adds_up() {
    let priced = json(&run(&["price", SMALL, "--json"]));
    let at = |pointer: &str| number(&priced, pointer);
    let chain: Vec<f64> = [
        "sun",
        "after_cosine",
        "after_shading",
        "after_blocking",
        "after_reflectance",
        "after_attenuation",
        "after_intercept",
        "after_defocused",
        "after_receiver",
        "after_pipes_and_store",
        "after_dumped",
    ]
    .iter()
    .map(|key| at(&format!("/energy_kwh/{key}")))
    .collect();
    assert!(chain.windows(2).all(|pair| pair[1] <= pair[0]), "{chain:?}");
    assert!((chain[10] / at("/year/delivered_kwh") - 1.0).abs() < 1e-12);
    let direct: f64 = priced["bill"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|line| line["is_yearly"] == false)
        .map(|line| line["cost"].as_f64().unwrap())
        .sum();
    assert!((direct / at("/money/capital/direct") - 1.0).abs() < 1e-12);
    let parts = priced["money"]["cost_parts_per_kwh"].as_object().unwrap();
    let sum: f64 = parts.values().map(|part| part.as_f64().unwrap()).sum();
    assert!((sum / at("/money/cost_per_kwh") - 1.0).abs() < 1e-12);
    let area_m2 = at("/design/count") * at("/design/mirrors") * at("/design/side_m").powi(2);
    assert!((at("/year/mirror_area_m2") / area_m2 - 1.0).abs() < 1e-9);
}

#[test]
fn price_tells_feet_and_inches_every_item_and_the_cautions() {
    let priced = run(&["price", SMALL, "--items", "--fidelity", "search"]);
    assert_eq!(priced.code, Some(0), "{}", priced.err);
    for told in [
        "0.600 m (24 in)",
        "start design",
        "fidelity \"search\"",
        "Every line of the bill",
        "money of 2024",
        "net present value against gas",
        "Steel of a string open to the wind",
        "star arms",
        "licensed",
        "early-study estimate",
    ] {
        assert!(priced.out.contains(told), "{told}");
    }
    for line in priced.out.lines() {
        assert!(line.chars().count() <= 80, "{line}");
    }
}

/// In light storms the arms of a string's ends are sized for the way to stow, in strong ones for the storm.
#[test]
fn price_tells_the_case_that_sets_a_part() {
    let arms = |wind: &str| {
        let wind = format!("structure.survival_wind={wind} m/s");
        let priced = run(&["price", SMALL, "--fidelity", "search", "--set", &wind]);
        assert_eq!(priced.code, Some(0), "{}", priced.err);
        let (_, steel) = priced
            .out
            .split_once("Steel of a string open to the wind")
            .unwrap();
        let row = steel
            .lines()
            .find(|line| line.starts_with("frames and arms"));
        row.unwrap().to_owned()
    };
    let (calm, storm) = (arms("20"), arms("36"));
    assert!(calm.ends_with("strength, driving to stow"), "{calm}");
    assert!(storm.ends_with("strength, stowed in the storm"), "{storm}");
}

/// The reference in every hour agrees with the 64 suns to 0.2 % of the delivered heat.
#[test]
fn every_sun_agrees_with_every_hour() {
    let delivered = |fidelity: &str| {
        let priced = run(&["price", SMALL, "--json", "--fidelity", fidelity]);
        number(&json(&priced), "/year/delivered_kwh")
    };
    let ratio = delivered("every") / delivered("hours");
    assert!((ratio - 1.0).abs() < 2e-3, "{ratio}");
}

#[test]
fn a_design_that_breaks_a_limit_ends_with_one() {
    let priced = run(&["price", SMALL, "--set", "strings.count=50000"]);
    assert_eq!(priced.code, Some(1), "{}", priced.err);
    assert!(
        priced.out.contains("cannot be built: the site has"),
        "{}",
        priced.out
    );
    let searched = folder();
    // Thinner or thicker glass may break its own limit first.
    let many = [
        "--set",
        "strings.count=50000",
        "--set",
        "strings.glass=3 mm",
    ];
    let done = ran(search(searched.path()).args(many).args(["--total", "6"]));
    assert_eq!(done.code, Some(1), "{}", done.err);
    let words = done.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains("No design keeps every limit"), "{words}");
    assert!(
        words.contains("Most often broken worst: places (6)."),
        "{words}"
    );
    let relaxed = words
        .split_once("if what it breaks were relaxed, places by ")
        .unwrap()
        .1;
    let percent: f64 = relaxed.split_once(" %").unwrap().0.parse().unwrap();
    let designs = std::fs::read(searched.path().join("designs.parquet")).unwrap();
    let (designs, _) = report::read_parquet(&designs).unwrap();
    let Some(report::Data::Number(margins)) = designs.column("margin_places") else {
        panic!("no margins");
    };
    let nearest = margins
        .iter()
        .flatten()
        .copied()
        .fold(f64::NEG_INFINITY, f64::max);
    assert!(
        (percent + 100.0 * nearest).abs() < 0.051,
        "{percent} {nearest}"
    );
    assert!(searched.path().join("charts/front.svg").exists());
}

/// What serves too little can be built: it has its year, bill and cost, and ends as not feasible.
#[test]
fn a_design_that_serves_too_little_is_priced_and_says_so() {
    let all = ["--set", "heat.demand.serve_at_least=100 %"];
    let priced = run(&[&["price", SMALL], &all[..]].concat());
    assert_eq!(priced.code, Some(1), "{}", priced.err);
    let words = priced.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        words.contains("It does not keep every limit: it serves "),
        "{words}"
    );
    assert!(priced.out.contains("\nCost of heat\n"), "{words}");
    let told = run(&[&["price", SMALL, "--json"], &all[..]].concat());
    assert_eq!(told.code, Some(1), "{}", told.err);
    let document = json(&told);
    assert_eq!(document["status"], "infeasible");
    assert!(number(&document, "/margins/served") < 0.0);
}

/// Whoever reads only the first lines has what they wanted.
#[test]
fn a_reader_that_leaves_early_is_no_failure() {
    let mut child = tautfield()
        .args(["check", SMALL])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    drop(child.stdout.take());
    let done = child.wait_with_output().unwrap();
    assert_eq!(done.status.code(), Some(0));
    assert!(!String::from_utf8_lossy(&done.stderr).contains("error"));
}

#[test]
fn help_tells_every_exit_code() {
    let help = run(&["--help"]);
    assert_eq!(help.code, Some(0));
    for code in ["0 ", "1 ", "2 ", "3 ", "4 ", "130", "143"] {
        assert!(help.out.contains(&format!("\n  {code}")), "{code}");
    }
}

#[test]
fn shells_learn_every_verb_and_the_manual_tells_it() {
    let script = run(&["completions", "bash"]);
    let page = run(&["man"]);
    for verb in [
        "check", "price", "search", "judge", "draw", "new", "schema", "glossary",
    ] {
        assert!(
            script.out.contains(verb) && page.out.contains(verb),
            "{verb}"
        );
        let one = run(&["man", verb]);
        assert_eq!(one.code, Some(0), "{}", one.err);
        assert!(
            one.out.contains(&format!("tautfield\\-{verb}")),
            "{}",
            one.out
        );
    }
    let none = run(&["man", "prize"]);
    assert_eq!(none.code, Some(2));
    assert!(
        none.err
            .contains("there is no verb \"prize\"; there are new, check, price"),
        "{}",
        none.err
    );
}
