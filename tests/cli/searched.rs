//! A whole search: what the run folder holds, and that it holds the same bytes whatever the
//! threads.

use std::path::Path;

use report::{Data, Table, read_parquet};
use serde_json::Value;

use crate::support::{assert_same_results, folder, json, number, ran, reference, run, search};

fn table(name: &str) -> Table {
    read_parquet(&reference().results[name]).unwrap().0
}

fn numbers(table: &Table, name: &str) -> Vec<Option<f64>> {
    match table.column(name) {
        Some(Data::Number(values)) => values.clone(),
        other => panic!("{name} is {other:?}"),
    }
}

fn texts(table: &Table, name: &str) -> Vec<String> {
    match table.column(name) {
        Some(Data::Text(values)) => values.iter().flatten().cloned().collect(),
        other => panic!("{name} is {other:?}"),
    }
}

fn rows(table: &Table) -> Vec<u32> {
    match table.column("row") {
        Some(Data::Count(values)) => values.iter().flatten().copied().collect(),
        other => panic!("row is {other:?}"),
    }
}

#[test]
fn any_number_of_threads_gives_the_same_bytes() {
    for threads in ["1", "2", "7"] {
        let run = folder();
        let done = ran(search(run.path()).args(["--threads", threads]));
        assert_eq!(done.code, Some(0), "{}", done.err);
        assert_same_results(run.path(), &format!("{threads} threads"));
    }
}

#[test]
fn another_seed_gives_other_designs() {
    let run = folder();
    let done = ran(search(run.path()).args(["--seed", "2"]));
    assert_eq!(done.code, Some(0), "{}", done.err);
    let designs = std::fs::read(run.path().join("designs.parquet")).unwrap();
    assert_ne!(designs, reference().results["designs.parquet"]);
}

/// What a lender asks of the cheapest stands in the plain summary too.
#[test]
fn a_search_tells_how_years_differ() {
    let run = folder();
    let done = ran(search(run.path()).args(["--total", "8"]));
    assert_eq!(done.code, Some(0), "{}", done.err);
    for told in ["From year to year", "P90 by the normal fit"] {
        assert!(done.out.contains(told), "{told}: {}", done.out);
    }
}

/// The knee and the region of designs about as cheap are told in words too, and the knee is that of the document: on
/// the front, dearer than the cheapest and for less capital.
#[test]
fn the_knee_and_the_flat_region_are_told() {
    let run = folder();
    let told = ran(&mut search(run.path()));
    let found = json(&ran(search(run.path()).arg("--json")));
    let knee = found["knee_row"].as_u64().unwrap();
    assert!(
        told.out.contains(&format!("cost much: design {knee}, ")),
        "{}",
        told.out
    );
    let front = table("front.parquet");
    let place = rows(&front)
        .iter()
        .position(|row| u64::from(*row) == knee)
        .unwrap();
    for (name, is_more) in [("cost_per_kwh", true), ("capital", false)] {
        let of_front = numbers(&front, name);
        assert_eq!(
            of_front[place] > of_front[0],
            is_more,
            "{name}: {of_front:?}"
        );
    }
    assert!(
        told.out.contains("at most 1 % more than the best"),
        "{}",
        told.out
    );
    let aim = told
        .out
        .lines()
        .find(|line| line.starts_with("tower.aim_height  "))
        .unwrap();
    let heights: Vec<f64> = aim
        .split_whitespace()
        .filter_map(|word| word.parse().ok())
        .collect();
    let [low, high, best] = heights[..] else {
        panic!("{aim}")
    };
    assert!(low <= best && best <= high, "{aim}");
}

/// Every design asked for is a row; what is feasible keeps every limit and has a price; the front
/// is confirmed, and nothing feasible beats the cheapest on it.
#[test]
fn designs_and_front_hold_together() {
    let (designs, front) = (table("designs.parquet"), table("front.parquet"));
    assert_eq!(rows(&designs), (0..60).collect::<Vec<u32>>());
    let status = texts(&designs, "status");
    let costs = numbers(&designs, "cost_per_kwh");
    let places = numbers(&designs, "margin_places");
    for (row, status) in status.iter().enumerate() {
        assert_eq!(status == "feasible", costs[row].is_some(), "row {row}");
        if status == "feasible" {
            assert!(places[row].unwrap() >= 0.0, "row {row}");
        }
    }
    assert!(
        texts(&front, "fidelity")
            .iter()
            .all(|fidelity| fidelity == "every")
    );
    let cheapest = costs
        .iter()
        .flatten()
        .copied()
        .fold(f64::INFINITY, f64::min);
    assert_eq!(numbers(&front, "cost_per_kwh")[0], Some(cheapest));
    let members: Vec<[f64; 3]> = ["cost_per_kwh", "capital", "carbon_g_kwh"]
        .map(|name| numbers(&front, name))
        .map(|column| column.into_iter().map(Option::unwrap).collect::<Vec<f64>>())
        .iter()
        .fold(vec![[0.0; 3]; rows(&front).len()], |mut members, column| {
            for (member, value) in members.iter_mut().zip(column) {
                member.rotate_left(1);
                member[2] = *value;
            }
            members
        });
    for one in &members {
        let is_beaten = |other: &&[f64; 3]| (0..3).all(|at| other[at] <= one[at]) && *other != one;
        assert!(!members.iter().any(|other| is_beaten(&other)), "{one:?}");
    }
}

/// In every hour what comes in goes somewhere: light on the aperture and heat from the store are
/// losses, heat into the store, dumped and delivered heat.
#[test]
fn every_hour_closes() {
    let hours = table("hours.parquet");
    let column = |name: &str| numbers(&hours, name);
    let comes = [column("aperture_power_w"), column("from_store_w")];
    let goes = [
        "unavailable_w",
        "defocused_w",
        "idle_w",
        "reflected_w",
        "radiated_w",
        "convected_w",
        "conducted_w",
        "start_w",
        "pipe_loss_w",
        "to_store_w",
        "dumped_w",
        "delivered_w",
    ]
    .map(column);
    assert_eq!(comes[0].len(), 8760);
    let sum = |columns: &[Vec<Option<f64>>], hour: usize| -> f64 {
        columns.iter().map(|column| column[hour].unwrap()).sum()
    };
    for hour in 0..8760 {
        let (comes_w, goes_w) = (sum(&comes, hour), sum(&goes, hour));
        let tolerance_w = 1e-6 * comes_w.abs().max(1.0);
        assert!(
            (comes_w - goes_w).abs() < tolerance_w,
            "hour {hour}: {comes_w} {goes_w}"
        );
    }
}

/// Mirrors, bill and headline tell of one and the same design.
#[test]
fn the_best_design_is_the_same_in_every_file() {
    let run_folder = folder();
    let done = ran(search(run_folder.path()).arg("--json"));
    let found = json(&done);
    let best = found["best_row"].as_u64().unwrap();
    let at = |pointer: &str| number(&found, pointer);
    let mirrors = table("mirrors.parquet");
    let strings = at("/best/design/count") * at("/best/design/mirrors");
    assert_eq!(numbers(&mirrors, "x_m").len() as f64, strings);
    let light_kwh: f64 = numbers(&mirrors, "yearly_kwh").iter().flatten().sum();
    let ratio = light_kwh / at("/best/energy_kwh/after_intercept");
    assert!((ratio - 1.0).abs() < 1e-6, "{ratio}");
    let bill: f64 = numbers(&table("bill.parquet"), "amount")
        .iter()
        .flatten()
        .sum();
    let lines = found["best"]["bill"].as_array().unwrap();
    let told: f64 = lines
        .iter()
        .map(|line| line["cost"].as_f64().unwrap())
        .sum();
    assert!((bill / told - 1.0).abs() < 1e-12);
    assert_row_prices_alike(run_folder.path(), best, &found);
}

fn assert_row_prices_alike(run_folder: &Path, row: u64, found: &Value) {
    let design = format!("{}#{row}", run_folder.display());
    let priced = json(&run(&["price", "--json", "--design", &design]));
    assert_eq!(priced["design"], found["best"]["design"]);
    assert_eq!(priced["money"], found["best"]["money"]);
    let beyond = run(&["price", "--design", &format!("{}#60", run_folder.display())]);
    assert_eq!(beyond.code, Some(2));
    assert!(
        beyond.err.contains("rows go from 0 to 59"),
        "{}",
        beyond.err
    );
}

#[test]
fn drawing_again_gives_the_same_charts() {
    let run = folder();
    assert_eq!(ran(&mut search(run.path())).code, Some(0));
    std::fs::remove_dir_all(run.path().join("charts")).unwrap();
    let drawn = ran(crate::support::tautfield().arg("draw").arg(run.path()));
    assert_eq!(drawn.code, Some(0), "{}", drawn.err);
    assert_same_results(run.path(), "drawn again");
}

/// No clock, path or thread count may reach a chart's text, and every chart has its words.
#[test]
fn charts_tell_only_what_the_scenario_says() {
    let charts: Vec<_> = reference()
        .results
        .iter()
        .filter(|(name, _)| name.ends_with(".svg"))
        .collect();
    assert_eq!(charts.len(), 15);
    for (name, bytes) in charts {
        let text = String::from_utf8(bytes.clone()).unwrap();
        assert!(text.contains("<text"), "{name}");
        for foreign in ["NaN", "inf", "/tmp", "thread"] {
            assert!(!text.contains(foreign), "{name}: {foreign}");
        }
    }
}
