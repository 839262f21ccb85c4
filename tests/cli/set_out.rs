//! Fields set out for crew and purchaser: the tables hold together, and a plan comes back alike.

use std::fs;
use std::path::Path;

use report::{Data, Table, read_parquet};
use serde_json::Value;

use crate::support::{Ran, SMALL, folder, json, number, ran, tautfield};

const TABLES: [&str; 5] = ["posts", "panels", "strings", "purchases", "alignment"];

fn set_out(out: &Path, more: &[&str]) -> Ran {
    let mut command = tautfield();
    command.args(["setout", SMALL, "--out"]).arg(out).args(more);
    let done = ran(&mut command);
    assert_eq!(done.code, Some(0), "{}", done.err);
    done
}

fn table(folder: &Path, name: &str) -> Table {
    let bytes = fs::read(folder.join(format!("{name}.parquet"))).unwrap();
    read_parquet(&bytes).unwrap().0
}

fn numbers(table: &Table, name: &str) -> Vec<f64> {
    match table.column(name) {
        Some(Data::Number(values)) => values.iter().map(|value| value.unwrap()).collect(),
        other => panic!("{name} is {other:?}"),
    }
}

/// 24 strings of five mirrors: 120 posts and panels, a frame a string; CSV and Parquet have as
/// many rows, and the summary fits a terminal.
#[test]
fn tables_have_a_row_for_all_that_stands() {
    let out = folder();
    let told = set_out(out.path(), &[]);
    assert!(
        told.out
            .lines()
            .all(|line| line.chars().count() <= 80 || line.starts_with('/'))
    );
    for words in [
        "posts",
        "120",
        "Loads at the ground",
        "To buy for the strings",
        "Cautions",
    ] {
        assert!(told.out.contains(words), "{words} in\n{}", told.out);
    }
    for (name, rows) in TABLES.into_iter().zip([24 * (5 + 1), 120, 24]) {
        let csv = fs::read_to_string(out.path().join(format!("{name}.csv"))).unwrap();
        assert_eq!(csv.lines().count(), rows + 1, "{name}");
        let first = table(out.path(), name).columns[0].1.len();
        assert_eq!(first, rows, "{name}");
    }
}

#[test]
fn settings_loads_and_places_make_sense() {
    let out = folder();
    set_out(out.path(), &[]);
    let (posts, panels) = (table(out.path(), "posts"), table(out.path(), "panels"));
    let turns = numbers(&panels, "first_turn_mrad");
    let raises = numbers(&panels, "second_edge_raise_mm");
    for string in 0..24 {
        // The middle of five is the reference.
        assert!(turns[5 * string + 2].abs() < 1e-9);
        assert!(turns[5 * string].abs() > 0.0);
    }
    for (turn, raise) in turns.iter().zip(&raises) {
        assert!(turn * raise >= 0.0);
    }
    assert!(numbers(&posts, "head_m").iter().all(|head_m| *head_m > 0.5));
    let Some(Data::Number(moments)) = posts.column("overturning_n_m") else {
        panic!("moments are numbers");
    };
    assert_eq!(moments.iter().flatten().count(), 120);
}

/// Posts that stand by themselves have no rail to be cut, but a line to stand on: half a pitch longer at either
/// end than from the first post to the last.
#[test]
fn without_a_rail_strings_still_have_ends() {
    let out = folder();
    set_out(out.path(), &["--set", "strings.rail=none"]);
    let strings = table(out.path(), "strings");
    for name in ["rail_length_m", "rail_diameter_mm", "rail_wall_mm"] {
        let Some(Data::Number(values)) = strings.column(name) else {
            panic!("{name} holds numbers");
        };
        assert!(values.iter().all(Option::is_none), "{name}");
    }
    let along = |end: &str, axis: &str| numbers(&strings, &format!("string_{end}_{axis}_m"))[0];
    let panels = table(out.path(), "panels");
    let between_m = |from: usize, to: usize| {
        let off = |axis: &str| numbers(&panels, axis)[to] - numbers(&panels, axis)[from];
        off("x_m").hypot(off("y_m"))
    };
    let off = |axis: &str| along("end", axis) - along("start", axis);
    let whole_m = off("x").hypot(off("y"));
    assert!((whole_m / (between_m(0, 4) * 5.0 / 4.0) - 1.0).abs() < 1e-9);
}

/// What `setout` writes as a plan is read back by `--plan` and set out in the same way.
#[test]
fn a_plan_that_was_written_is_set_out_alike() {
    let (laid, given) = (folder(), folder());
    set_out(laid.path(), &[]);
    let plan = laid.path().join("plan.csv");
    set_out(given.path(), &["--plan", plan.to_str().unwrap()]);
    let (one, other) = (table(laid.path(), "panels"), table(given.path(), "panels"));
    for name in [
        "x_m",
        "first_turn_mrad",
        "second_turn_mrad",
        "corner_pull_n",
    ] {
        for (one, other) in numbers(&one, name).iter().zip(numbers(&other, name)) {
            assert!((one - other).abs() < 1e-9 * one.abs().max(1.0), "{name}");
        }
    }
}

#[test]
fn json_tells_what_is_bought_and_when_to_align() {
    let out = folder();
    let told = json(&set_out(
        out.path(),
        &["--json", "--set", "stock.spare_panels=10 %"],
    ));
    assert_eq!(told["format_version"], 5);
    assert_eq!(number(&told, "/posts"), 120.0);
    assert_eq!(number(&told, "/frames"), 24.0);
    assert_eq!(number(&told, "/purchases/0/quantity"), 120.0);
    assert_eq!(number(&told, "/purchases/0/spares"), 12.0);
    let sheets = number(&told, "/purchases/0/stock_count");
    assert!((1.0..=132.0).contains(&sheets));
    let alignments = told["alignments"].as_array().unwrap();
    assert_eq!(alignments.len(), 1);
    assert_eq!(alignments[0]["times"].as_array().unwrap().len(), 2);
    let files = told["files"].as_array().unwrap();
    assert_eq!(files.len(), 2 * TABLES.len() + 2);
    assert!(
        files
            .iter()
            .all(|file| Path::new(file.as_str().unwrap()).exists())
    );
}

/// RFC 7946: a collection of features, longitude before latitude, within a kilometre of the site.
#[test]
fn the_map_is_geojson() {
    let out = folder();
    set_out(out.path(), &[]);
    let text = fs::read_to_string(out.path().join("plan.geojson")).unwrap();
    let map: Value = serde_json::from_str(&text).unwrap();
    assert_eq!(map["type"], "FeatureCollection");
    let features = map["features"].as_array().unwrap();
    assert_eq!(features.len(), 1 + 24 + 120);
    for feature in features {
        assert_eq!(feature["type"], "Feature");
        let geometry = &feature["geometry"];
        let at = match geometry["type"].as_str().unwrap() {
            "LineString" => &geometry["coordinates"][0],
            _ => &geometry["coordinates"],
        };
        let [longitude, latitude] = [0, 1].map(|axis: usize| at[axis].as_f64().unwrap());
        assert!(
            (longitude + 4.4).abs() < 0.01 && (latitude - 37.1).abs() < 0.01,
            "{at}"
        );
    }
}

/// Heliostats are points of the map, each on its pedestal, and come with the steel to buy: tubes from bars, and
/// what goes by mass.
#[test]
fn heliostats_are_mapped_and_bought() {
    let out = folder();
    let told = set_out(
        out.path(),
        &[
            "--concept",
            "pedestals",
            "--set",
            "pedestals.count=20",
            "--set",
            "tower.aim_height=40 m",
        ],
    );
    for words in ["pedestals", "brackets and bracing", "reinforcing bars"] {
        let bought = fs::read_to_string(out.path().join("purchases.csv")).unwrap();
        assert!(bought.contains(words), "{words} in\n{bought}");
    }
    assert!(told.out.contains("steel tube"), "{}", told.out);
    let text = fs::read_to_string(out.path().join("plan.geojson")).unwrap();
    let map: Value = serde_json::from_str(&text).unwrap();
    let features = map["features"].as_array().unwrap();
    assert_eq!(features.len(), 1 + 20);
    for (place, feature) in features[1..].iter().enumerate() {
        let properties = &feature["properties"];
        assert_eq!(properties["part"], "pedestal");
        assert_eq!(properties["mirror_id"], (place + 1).to_string());
        assert!(number(properties, "/depth_m") > 0.5 && number(properties, "/width_m") > 1.0);
        assert_eq!(feature["geometry"]["type"], "Point");
    }
    let purchases = table(out.path(), "purchases");
    let masses = match purchases.column("mass_kg") {
        Some(Data::Number(masses)) => masses.iter().flatten().sum::<f64>(),
        other => panic!("mass_kg is {other:?}"),
    };
    let heliostats = table(out.path(), "heliostats");
    let steel_kg: f64 = numbers(&heliostats, "steel_kg").iter().sum();
    assert!(masses > steel_kg, "{masses} {steel_kg}");
}

#[test]
fn a_folder_is_asked_for() {
    let done = ran(tautfield().args(["setout", SMALL]));
    assert_eq!(done.code, Some(2));
    assert!(done.err.contains("--out"), "{}", done.err);
}
