//! Rivals searched for the same duty and held against one another.

use std::fs;
use std::path::Path;
use std::process::Command;

use report::{Data, Table};
use serde_json::Value;

use crate::support::{SMALL, folder, json, number, ran, results, run, tautfield};

/// A comparison of two rivals into a folder, with so many designs each.
fn versus(out: &Path, total: u32) -> Command {
    let mut command = tautfield();
    command
        .args(["versus", SMALL, "--draws", "64", "--total"])
        .arg(total.to_string())
        .args(["--rival", "short:strings.mirrors=3"])
        .args(["--rival", r#"across:strings.first_axis="across""#])
        .arg("--out")
        .arg(out);
    command
}

fn numbers(table: &Table, name: &str) -> Vec<f64> {
    match table.column(name) {
        Some(Data::Number(values)) => values.iter().map(|value| value.unwrap()).collect(),
        _ => panic!("{name} is no column of numbers"),
    }
}

fn rivals(document: &Value) -> &[Value] {
    document["rivals"].as_array().unwrap()
}

#[test]
fn rivals_serve_one_duty_and_terms_add_up_to_their_difference() {
    let folder = folder();
    let out = folder.path();
    let done = ran(versus(out, 60).args(["--json", "--duty", "25 MWh"]));
    assert_eq!(done.code, Some(0), "{}", done.err);
    let told = json(&done);
    let [short, across] = rivals(&told) else {
        panic!("{told}");
    };
    for rival in [short, across] {
        assert!(number(rival, "/best/year/delivered_kwh") >= 25e3);
        // The same design priced the ordinary way, under the duty.
        let design = design_of(out, rival);
        let priced = json(&run(&["price", "--design", &design, "--json"]));
        let (cost, wanted) = (
            number(rival, "/cost_per_kwh"),
            number(&priced, "/money/cost_per_kwh"),
        );
        assert!((cost / wanted - 1.0).abs() < 1e-12, "{cost} {wanted}");
        let free = ["price", "--design", &design, "--json", "--set"];
        let bare = json(&run(&[&free[..], &["search.duty=1 kWh"]].concat()));
        assert!(number(&bare, "/money/cost_per_kwh") > 1e3 * cost);
        let terms = rival["terms_per_kwh"].as_object().unwrap().values();
        let sum: f64 = terms.map(|term| term.as_f64().unwrap()).sum();
        assert!((sum / cost - 1.0).abs() < 1e-12, "{sum} {cost}");
    }
    let difference = number(across, "/cost_per_kwh") - number(short, "/cost_per_kwh");
    let terms = across["against_first_per_kwh"].as_object().unwrap();
    let sum: f64 = terms.values().map(|term| term.as_f64().unwrap()).sum();
    assert!((sum - difference).abs() < 1e-12, "{sum} {difference}");
    for rival in rivals(&told) {
        assert!((0.0..1.0).contains(&number(rival, "/search_may_gain")));
    }
    let shares = rivals(&told).iter();
    let shares: f64 = shares.map(|one| number(one, "/cheapest_share")).sum();
    assert!((shares - 1.0).abs() < 1e-12);
    for matter in across["heat_uncertainty"].as_array().unwrap() {
        let (low, high) = (number(matter, "/heat_low"), number(matter, "/heat_high"));
        assert!(low < 1.0 && high >= 1.0, "{matter}");
        assert!(!matter["source"].as_str().unwrap().is_empty());
    }

    let bytes = fs::read(out.join("versus.parquet")).unwrap();
    let (table, _) = report::read_parquet(&bytes).unwrap();
    for (place, rival) in rivals(&told).iter().enumerate() {
        let cost = numbers(&table, "cost_per_kwh")[place];
        assert!((cost / number(rival, "/cost_per_kwh") - 1.0).abs() < 1e-12);
        let drives = numbers(&table, "term_drives_per_kwh")[place];
        assert!((drives / number(rival, "/terms_per_kwh/Drives") - 1.0).abs() < 1e-12);
    }
    for file in ["charts/difference.svg", "across/front.parquet"] {
        assert!(out.join(file).exists(), "{file}");
    }
    tells_side_by_side(
        &fs::read_to_string(out.join("report.html")).unwrap(),
        &table,
    );
}

/// All that a bid compares stands on the page, and as a column in the table.
fn tells_side_by_side(page: &str, table: &Table) {
    for (told, column) in [
        ("cost of a kilowatt-hour", "cost_per_kwh"),
        ("whole demand, the rest bought", "demand_kwh"),
        ("capital, million", "capital"),
        ("delivered in a year", "delivered_kwh"),
        ("steel", "steel_kg"),
        ("glass", "glass_kg"),
        ("concrete", "concrete_m3"),
        ("drives", "drives"),
        ("controllers", "controllers"),
        ("land", "land_m2"),
        ("aim height", "aim_height_m"),
        ("aperture width", "aperture_width_m"),
        ("aperture height", "aperture_height_m"),
        ("carbon, g/kWh", "carbon_g_kwh"),
        ("cosine", "cosine"),
        ("shading", "shading"),
        ("blocking", "blocking"),
        ("past the aperture", "intercept"),
        ("What the cost is made of", "term_drives_per_kwh"),
        ("cost the same", "equal_below_steel"),
        ("cost the same", "equal_above_steel"),
    ] {
        assert!(page.contains(told), "{told} is not on the page");
        assert!(table.column(column).is_some(), "{column} is no column");
    }
}

/// Two rivals of one design: what strikes all alike decides nothing between them, so if nothing were drawn for each by
/// itself, the first of equals would win every draw. It wins half of them, as either's mechanism turns out better as
/// often; 4,096 draws leave some 0.01 to chance.
#[test]
fn rivals_of_one_design_are_cheapest_in_half_of_the_draws_each() {
    let folder = folder();
    let mut command = tautfield();
    command
        .args(["versus", SMALL, "--json", "--draws", "4096"])
        .args(["--total", "40", "--duty", "25 MWh", "--out"])
        .arg(folder.path());
    for rival in ["one:strings.mirrors=3", "other:strings.mirrors=3"] {
        command.args(["--rival", rival]);
    }
    let told = json(&ran(&mut command));
    let [one, other] = rivals(&told) else {
        panic!("{told}");
    };
    assert_eq!(one["cost_per_kwh"], other["cost_per_kwh"]);
    let shares = [one, other].map(|rival| number(rival, "/cheapest_share"));
    assert!((shares[0] - 0.5).abs() < 0.03, "{shares:?}");
    assert!((shares[0] + shares[1] - 1.0).abs() < 1e-12, "{shares:?}");
}

/// The price of controls at which two rivals cost the same, put into the scenario, makes the designs cost
/// the same; each may have changed to another one that it confirmed, so nearly.
#[test]
fn a_crossing_put_back_makes_rivals_equal() {
    let folder = folder();
    let out = folder.path();
    let mut command = tautfield();
    command
        .args(["versus", SMALL, "--json", "--draws", "16", "--total", "40"])
        .args(["--duty", "whole demand", "--out"])
        .arg(out);
    // One with many drives, and one with few that wastes light into too wide an aperture.
    for rival in [
        "many:strings.count=40",
        "many:strings.mirrors=3",
        "few:strings.count=18",
        "few:strings.mirrors=9",
        r#"few:receiver.aperture_width="2 m""#,
    ] {
        command.args(["--rival", rival]);
    }
    let told = json(&ran(&mut command));
    let crossings = told["crossings"].as_array().unwrap().iter();
    let mut crossings = crossings.filter(|one| one["price"] == "controls");
    let price = number(crossings.next().unwrap(), "/equal_above");
    let [many, few] = rivals(&told) else {
        panic!("{told}");
    };
    let ratio = number(few, "/cost_per_kwh") / number(many, "/cost_per_kwh");
    assert!(ratio > 1.001, "{ratio}");
    let set = format!("rates.controller={price} USD/each");
    let [many, few] = [many, few].map(|rival| {
        let design = design_of(out, rival);
        let priced = json(&run(&[
            "price", "--design", &design, "--json", "--set", &set,
        ]));
        number(&priced, "/money/whole_demand_per_kwh")
    });
    assert!((many / few - 1.0).abs() < 5e-4, "{many} {few}");
}

/// The best design of a rival, as `price` takes it.
fn design_of(out: &Path, rival: &Value) -> String {
    let run = out.join(rival["rival"].as_str().unwrap());
    format!("{}#{}", run.display(), rival["design"])
}

#[test]
fn threads_and_kills_leave_the_same_bytes() {
    let (whole, single, killed) = (folder(), folder(), folder());
    let all = |out: &Path| {
        let parts = [out.to_path_buf(), out.join("short"), out.join("across")];
        parts.map(|part| results(&part))
    };
    assert_eq!(ran(&mut versus(whole.path(), 40)).code, Some(0));
    let alone = ran(versus(single.path(), 40).args(["--threads", "1"]));
    assert_eq!(alone.code, Some(0), "{}", alone.err);
    assert!(all(whole.path()) == all(single.path()));
    // Ended at the second batch of each run, until there is nothing left to evaluate.
    let crash = || ran(versus(killed.path(), 40).env("TAUTFIELD_CRASH_AT", "after_sync:2"));
    let ended = (0..20)
        .map(|_| crash())
        .take_while(|done| done.code.is_none());
    let crashes = ended.count();
    assert!(crashes > 1 && crashes < 20, "{crashes}");
    let resumed = ran(&mut versus(killed.path(), 40));
    assert_eq!(resumed.code, Some(0), "{}", resumed.err);
    assert!(resumed.err.contains("kept from before"), "{}", resumed.err);
    assert!(all(whole.path()) == all(killed.path()));
}

#[test]
fn a_fault_in_any_rival_ends_it_before_anything_is_searched() {
    let folder = folder();
    let out = folder.path().join("out");
    let done = ran(versus(&out, 40).args(["--rival", "wrong:strings.mirorrs=3"]));
    assert_eq!(done.code, Some(2), "{}", done.err);
    assert!(done.err.contains("strings.mirrors"), "{}", done.err);
    assert!(!out.exists());
}

#[test]
fn a_duty_that_none_can_serve_is_told_with_what_comes_nearest() {
    let folder = folder();
    let done = ran(versus(folder.path(), 40).args(["--duty", "5 GWh"]));
    assert_eq!(done.code, Some(1), "{}", done.err);
    assert!(
        done.out.contains("No rival serves the duty"),
        "{}",
        done.out
    );
    let designs = fs::read(folder.path().join("short/designs.parquet")).unwrap();
    let (designs, _) = report::read_parquet(&designs).unwrap();
    let Some(Data::Number(served)) = designs.column("margin_served") else {
        panic!("no margins");
    };
    let mut served = served.iter().flatten();
    assert!(served.clone().count() > 0 && served.all(|margin| *margin < 0.0));
}
