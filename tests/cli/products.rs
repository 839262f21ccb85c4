//! Plants that deliver something else than steam: hot air, electricity; and demand told hour by hour.

use std::fmt::Write;
use std::path::{Path, PathBuf};

use serde_json::Value;

use crate::support::{folder, json, number, ran, run, tautfield, top};

/// A few strings, low towers, little demand.
const HOT_AIR: &str = "
[strings]
count = { from = 40, to = 100, step = 5, start = 80 }
mirrors = { from = 3, to = 7, step = 2, start = 5 }
side = { from = '0.5 m', to = '0.9 m', step = '50 mm', start = '0.6 m' }
glass = '3 mm'
[tower]
aim_height = { from = '16 m', to = '24 m', step = '1 m', start = '20 m' }
[receiver]
aperture_width = { from = '0.6 m', to = '1.4 m', step = '50 mm', start = '0.9 m' }
aperture_height = '0.9 m'
[heat.demand]
power = '50 kW'
serve_at_least = '0 %'
[storage]
capacity = { from = '0 MWh', to = '1 MWh', step = '0.1 MWh', start = '0.3 MWh' }
[search]
total = 24
";

const POWER: &str = "
[strings]
count = { from = 100, to = 200, step = 5, start = 160 }
mirrors = { from = 7, to = 13, step = 2, start = 11 }
side = { from = '0.6 m', to = '1 m', step = '50 mm', start = '0.7 m' }
glass = '3 mm'
[tower]
aim_height = { from = '20 m', to = '40 m', step = '1 m', start = '30 m' }
[receiver]
aperture_width = { from = '0.8 m', to = '1.6 m', step = '100 mm', start = '1.1 m' }
aperture_height = { from = '0.8 m', to = '2 m', step = '100 mm', start = '1.3 m' }
[heat]
standby_power = '1 kW'
[heat.demand]
power = '60 kW'
serve_at_least = '0 %'
[storage]
capacity = { from = '0 MWh', to = '4 MWh', step = '0.5 MWh', start = '2 MWh' }
[search]
total = 24
";

/// A small plant laid over one of the shipped scenarios.
fn small(folder: &Path, scenario: &str, text: &str) -> PathBuf {
    let base = top().join("scenarios").join(scenario);
    let base = base.canonicalize().unwrap();
    let path = folder.join(scenario);
    std::fs::write(&path, format!("base = {base:?}\n{text}")).unwrap();
    path
}

fn priced(scenario: &Path, more: &[&str]) -> Value {
    let mut command = tautfield();
    command.args(["price", "--json"]).arg(scenario).args(more);
    json(&ran(&mut command))
}

/// Every verb runs, and says what is delivered: never a word of heat that costs where electricity does.
fn through_every_verb(scenario: &Path, product: &str, others: &[&str]) {
    let with = |verb: &str, more: &[&str]| {
        let done = ran(tautfield().arg(verb).arg(scenario).args(more));
        assert_eq!(done.code, Some(0), "{verb}: {}", done.err);
        done.out
    };
    with("check", &[]);
    let told = with("price", &["--items"]);
    for words in [
        &format!("delivered {product}"),
        &format!("Cost of {product}"),
        "whole demand, the rest from",
    ] {
        assert!(told.contains(words), "{words}");
    }
    for other in others {
        assert!(!told.contains(other), "{other}");
    }
    with("judge", &["--year", "--rays", "20000"]);
    let out = folder();
    let out_path = out.path().to_str().unwrap();
    let found = with("search", &["--out", out_path]);
    assert!(
        found.contains(&format!("The cheapest {product} costs")),
        "{found}"
    );
    let drawn = run(&["draw", out_path]);
    assert_eq!(drawn.code, Some(0), "{}", drawn.err);
    let chart = |name: &str| std::fs::read_to_string(out.path().join("charts").join(name)).unwrap();
    assert!(!chart("front.svg").is_empty());
    assert!(!chart(&format!("delivered_{product}.svg")).is_empty());
}

#[test]
fn hot_air_goes_through_every_verb() {
    let place = folder();
    let scenario = small(place.path(), "hot-air.toml", HOT_AIR);
    through_every_verb(&scenario, "heat", &["steam  ", "gas boiler"]);
    let year = priced(&scenario, &[]);
    assert_eq!(year["delivers"], "hot air");
    // 180 to 750 degC: 0.6176 MJ/kg (CoolProp 8.0.0, a general-purpose library).
    let kwh_kg = number(&year, "/year/delivered_kwh") / number(&year, "/year/hot_air_kg");
    assert!((kwh_kg * 3.6 / 0.6176 - 1.0).abs() < 5e-3, "{kwh_kg}");
    assert_eq!(number(&year, "/year/steam_kg"), 0.0);
}

#[test]
fn power_goes_through_every_verb() {
    let place = folder();
    let scenario = small(place.path(), "power.toml", POWER);
    through_every_verb(
        &scenario,
        "electricity",
        &[
            "delivered heat",
            "Cost of heat",
            "gas boiler",
            "electric boiler",
        ],
    );
    let year = priced(&scenario, &[]);
    let at = |pointer: &str| number(&year, pointer);
    assert_eq!(year["delivers"], "electricity");
    let efficiency = at("/energy_kwh/after_turbine") / at("/year/turbine_heat_kwh");
    assert!((0.2..0.345).contains(&efficiency), "{efficiency}");
    let delivered_kwh = at("/year/delivered_kwh");
    assert!((at("/energy_kwh/after_own_use") / delivered_kwh - 1.0).abs() < 1e-12);
    // The grid sells what is lacking, at its price with 40 USD/t on 0.30 kg/kWh.
    let grid = at("/money/replaced_per_kwh");
    assert!((grid - (0.190 + 0.04 * 0.30)).abs() < 1e-9, "{grid}");
    let lacking_kwh = at("/year/demand_kwh") - delivered_kwh;
    let whole =
        (at("/money/cost_per_kwh") * delivered_kwh + grid * lacking_kwh) / at("/year/demand_kwh");
    assert!((at("/money/whole_demand_per_kwh") / whole - 1.0).abs() < 1e-9);
}

/// Evaporating water condenses steam cooler than dry air does: more electricity, more water.
#[test]
fn wet_cooling_gives_more_and_drinks_more() {
    let place = folder();
    let scenario = small(place.path(), "power.toml", POWER);
    let with = |cooling: &str| {
        let setting = format!("power.cooling={cooling}");
        let year = priced(&scenario, &["--fidelity", "search", "--set", &setting]);
        let water = year["bill"]
            .as_array()
            .unwrap()
            .iter()
            .find(|line| line["item"] == "water");
        let water_m3 = water.unwrap()["quantity"].as_f64().unwrap();
        (number(&year, "/year/delivered_kwh"), water_m3)
    };
    let ((dry_kwh, dry_m3), (wet_kwh, wet_m3)) = (with("dry"), with("wet"));
    assert!(wet_kwh > 1.02 * dry_kwh, "{dry_kwh} {wet_kwh}");
    assert!(wet_m3 > 1.5 * dry_m3, "{dry_m3} {wet_m3}");
}

fn demand_file(place: &Path, hour: impl Fn(usize) -> String) {
    let mut text = String::from("hour,power_kw\n");
    for index in 0..8760 {
        writeln!(text, "{index},{}", hour(index)).unwrap();
    }
    std::fs::write(place.join("demand.csv"), text).unwrap();
}

/// A file with 50 kW in every hour is the same as a demand of 50 kW; another file is another demand, and
/// a fault in it is told by its line.
#[test]
fn demand_is_read_hour_by_hour() {
    let place = folder();
    let scenario = small(place.path(), "hot-air.toml", HOT_AIR);
    let search = ["--fidelity", "search"];
    let by_file = [
        "--fidelity",
        "search",
        "--set",
        "heat.demand.file=demand.csv",
    ];
    let constant = priced(&scenario, &search);
    demand_file(place.path(), |_| "50".to_owned());
    let same = priced(&scenario, &by_file);
    assert_eq!(same["year"], constant["year"]);
    assert_ne!(same["hash"], constant["hash"]);
    demand_file(place.path(), |hour| {
        if hour % 2 == 0 { "50" } else { "0" }.to_owned()
    });
    let half = priced(&scenario, &by_file);
    let ratio = number(&half, "/year/demand_kwh") / number(&same, "/year/demand_kwh");
    assert!((ratio - 0.5).abs() < 1e-12);
    demand_file(place.path(), |hour| {
        if hour == 99 { "fifty" } else { "50" }.to_owned()
    });
    let broken = ran(tautfield().arg("price").arg(&scenario).args(by_file));
    assert_eq!(broken.code, Some(2));
    assert!(
        broken
            .err
            .contains("demand.csv: line 101: \"fifty\" is no number"),
        "{}",
        broken.err
    );
}
