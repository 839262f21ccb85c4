//! Prices touch only money: the light stays, nothing is evaluated again, and the cost moves by
//! what the masses say.

use std::fs;
use std::path::Path;

use ledger::{Finance, Item, Rates};
use serde_json::Value;

use crate::support::{Ran, SMALL, folder, json, number, ran, run, search};

/// Twice the built-in rates of steel and of glass.
const DOUBLED: [(Item, f64); 2] = [(Item::Steel, 5.2), (Item::Glass, 2.2)];

fn set(item: Item, rate: f64) -> String {
    format!("rates.{}={rate} USD/{}", item.key(), item.unit())
}

/// Amount of all that goes by an item's rate.
fn quantity(priced: &Value, item: Item) -> f64 {
    let rates = Rates::default_usd();
    let lines = priced["bill"].as_array().unwrap().iter();
    let under = lines.filter(|line| {
        let billed = Item::from_key(line["item"].as_str().unwrap()).unwrap();
        rates.goes_by(billed) == item
    });
    under.map(|line| line["quantity"].as_f64().unwrap()).sum()
}

/// What a change of one rate by `change` adds to a kilowatt-hour: capital with all that is laid on
/// it, charged each year, and the yearly cost that follows from it.
fn added_per_kwh(priced: &Value, item: Item, change: f64, finance: &Finance) -> f64 {
    let multiplier = finance.multiplier(item.group());
    let each_year = finance.fixed_charge_rate() * multiplier.capital
        + finance.running_charge() * multiplier.yearly;
    let levelled_kwh = number(priced, "/year/delivered_kwh") * finance.levelised_yield();
    quantity(priced, item) * change * each_year / levelled_kwh
}

#[test]
fn a_doubled_rate_costs_what_the_masses_say_and_leaves_the_light() {
    let before = json(&run(&["price", SMALL, "--json"]));
    // The scenario's own money terms are gas and carbon prices only, which no cost depends on.
    let finance = Finance::starting_point();
    for (item, rate) in DOUBLED {
        let after = json(&run(&["price", SMALL, "--json", "--set", &set(item, rate)]));
        for same in ["energy_kwh", "year", "design", "margins", "hash"] {
            assert_eq!(before[same], after[same], "{same}");
        }
        let cost = |priced: &Value| number(priced, "/money/cost_per_kwh");
        let found = cost(&after) - cost(&before);
        let wanted = added_per_kwh(&before, item, rate / 2.0, &finance);
        assert!(
            (found / wanted - 1.0).abs() < 1e-9,
            "{item:?}: {found} {wanted}"
        );
    }
}

/// A search over three designs asks for all of them under any prices.
fn search_three(out: &Path, doubled: bool) -> Ran {
    let mut command = search(out);
    command.args(["--total", "3", "--set", "strings.count=24"]);
    command.args(["--set", "strings.side=0.6 m"]);
    for fixed in FIXED {
        command.args(["--set", fixed]);
    }
    if doubled {
        for (item, rate) in DOUBLED {
            command.args(["--set", &set(item, rate)]);
        }
    }
    ran(&mut command)
}

/// All that the demo opens beside mirrors per string, fixed.
const FIXED: [&str; 15] = [
    r#"strings.mirrors={ any = [3, 5, 7], start = 5 }"#,
    "strings.glass=3 mm",
    "strings.pitch_ratio=1.28",
    "strings.bearing=fan 0.33",
    "strings.first_axis=along",
    "strings.rail_slope=0 deg",
    "strings.row_spacing=2",
    "strings.row_growth=0.01",
    "strings.mount_height=0.9 m",
    "strings.aim_spread=80 %",
    "strings.lever=0.4 m",
    "strings.give=0.7 mrad",
    "tower.aim_height=18 m",
    "receiver.aperture_width=1 m",
    "receiver.aperture_height=1 m",
];

#[test]
fn other_prices_in_a_run_folder_need_no_new_evaluation() {
    let run = folder();
    let first = search_three(run.path(), false);
    assert_eq!(first.code, Some(0), "{}", first.err);
    let journal = fs::read(run.path().join("journal")).unwrap();
    let designs = fs::read(run.path().join("designs.parquet")).unwrap();
    let second = search_three(run.path(), true);
    assert_eq!(second.code, Some(0), "{}", second.err);
    assert!(second.err.contains("note: prices differ"), "{}", second.err);
    assert!(second.err.contains("\n0 evaluations"), "{}", second.err);
    assert_eq!(fs::read(run.path().join("journal")).unwrap(), journal);
    assert_ne!(
        fs::read(run.path().join("designs.parquet")).unwrap(),
        designs
    );
    let manifest = fs::read(run.path().join("manifest.json")).unwrap();
    let manifest: Value = serde_json::from_slice(&manifest).unwrap();
    assert_eq!(manifest["prices"]["rates.steel"], "5.2");
    assert_eq!(manifest["prices"]["rates.glass"], "2.2");
}
