//! Weather from files: read beside the scenario, and refused with line and column where it has
//! gaps.

use std::fs;
use std::path::{Path, PathBuf};

use crate::support::{Ran, folder, ran, scenario_over_small, tautfield};

/// Local standard time between which the invented sun shines; it is up all year by then.
const SUNNY: std::ops::Range<usize> = 10..17;

/// What `check` says of the demo with this weather file.
pub fn check(folder: &Path, file: &str, format: &str) -> Ran {
    let path = scenario_with(folder, file, format);
    ran(tautfield().arg("check").arg(path))
}

/// A scenario without the monthly sums, so that a weather file can stand in for them.
fn scenario_with(folder: &Path, file: &str, format: &str) -> PathBuf {
    let demo = fs::read_to_string(crate::support::top().join("scenarios/process-steam.toml"));
    let mut text = String::new();
    let mut skips = false;
    for line in demo.unwrap().lines() {
        skips |= line.starts_with("monthly_");
        if !skips {
            text += &format!("{line}\n");
        }
        if skips && line.ends_with(']') && !line.ends_with("[") {
            skips = false;
        }
        if line == "[weather]" {
            text += &format!("file = \"{file}\"\nformat = \"{format}\"\n");
        }
    }
    let path = folder.join("scenario.toml");
    fs::write(&path, text).unwrap();
    path
}

fn dni_w_m2(hour: usize) -> u32 {
    if SUNNY.contains(&(hour % 24)) { 700 } else { 0 }
}

/// Plain columns of a year, with the beam of one hour replaced.
pub fn columns(hour: usize, beam: &str) -> String {
    let mut text = "dni_w_m2,air_temperature_c,wind_speed_m_s\n".to_owned();
    for at in 0..8760 {
        let value = dni_w_m2(at).to_string();
        let value = if at == hour { beam } else { &value };
        text += &format!("{value},18.5,3.0\n");
    }
    text
}

/// The same year as TMY3, each row named by the end of its hour.
fn tmy3(hour: usize, beam: &str) -> String {
    let mut text = "0,\"Larrow\",XX,1,37.1,-4.4,420\n".to_owned();
    text += "Date (MM/DD/YYYY),Time (HH:MM),DNI (W/m^2),Dry-bulb (C),Wspd (m/s)\n";
    let days = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
    let dates = days
        .iter()
        .enumerate()
        .flat_map(|(month, days)| (1..=*days).map(move |day| (month + 1, day)));
    for (day_of_year, (month, day)) in dates.enumerate() {
        for end in 1..=24 {
            let at = day_of_year * 24 + end - 1;
            let value = dni_w_m2(at).to_string();
            let value = if at == hour { beam } else { &value };
            text += &format!("{month:02}/{day:02}/2022,{end:02}:00,{value},18.5,3.0\n");
        }
    }
    text
}

#[test]
fn whole_files_are_read_from_beside_the_scenario() {
    let folder = folder();
    for (name, format, text) in [
        ("year.csv", "csv", columns(0, "0")),
        ("year.tmy3", "tmy3", tmy3(0, "0")),
    ] {
        fs::write(folder.path().join(name), text).unwrap();
        let done = check(folder.path(), name, format);
        assert_eq!(done.code, Some(0), "{}", done.err);
        // 365 days × 7 h × 0.7 kW/m².
        assert!(done.out.contains("1,788 kWh/m2"), "{}", done.out);
    }
}

/// A published file that travels with the readers' tests.
fn published(name: &str) -> String {
    let path = crate::support::top()
        .join("crates/sky/tests/data")
        .join(name);
    path.display().to_string()
}

#[test]
fn a_published_file_is_recognised_and_its_place_told() {
    let folder = folder();
    let file = published("northern_italy_pvgis.csv");
    let done = check(folder.path(), &file, "auto");
    assert_eq!(done.code, Some(0), "{}", done.err);
    let out: Vec<&str> = done.out.split_whitespace().collect();
    let out = out.join(" ");
    for told in ["1,592 kWh/m2", "moved to UTC+1", "latitude 45.00 deg"] {
        assert!(out.contains(told), "{told}: {out}");
    }
}

#[test]
fn a_file_from_the_other_side_of_the_world_is_refused() {
    let folder = folder();
    let file = published("northwest_colorado_nsrdb.csv");
    let done = check(folder.path(), &file, "nsrdb");
    assert_eq!(done.code, Some(2), "{done:?}");
    assert!(
        done.err.contains("falls into hours without sun"),
        "{}",
        done.err
    );
}

/// The file's own months (its beam summed by a spreadsheet-like script) beside a cloudless sky, and
/// its charts.
#[test]
fn check_tells_and_draws_the_weather_year() {
    let folder = folder();
    let file = published("northern_italy_pvgis.csv");
    let path = scenario_with(folder.path(), &file, "auto");
    let out = folder.path().join("drawn");
    let done = ran(tautfield()
        .args(["check", "--json", "--out"])
        .args([&out, &path]));
    assert_eq!(done.code, Some(0), "{}", done.err);
    let document: serde_json::Value = serde_json::from_str(&done.out).unwrap();
    let year = &document["weather"]["year"];
    let months = year["monthly_dni_kwh_m2"].as_array().unwrap();
    let sum: f64 = months.iter().map(|month| month.as_f64().unwrap()).sum();
    assert!((sum - 1591.565).abs() < 1e-3, "{sum}");
    let share = year["share_of_cloudless"].as_f64().unwrap();
    assert!((0.3..0.8).contains(&share), "{share}");
    for name in ["weather_months", "weather_hours", "sun_path"] {
        for end in ["svg", "png"] {
            let bytes = fs::read(out.join(format!("{name}.{end}"))).unwrap();
            assert!(bytes.len() > 1000, "{name}.{end}");
        }
    }
    let told = check(folder.path(), &file, "auto").out;
    for words in ["Months of the weather year", "700 W/m2", "sunny hours"] {
        assert!(told.contains(words), "{words}: {told}");
    }
}

/// Parquet files written by pyarrow 22 (`tests/cli/weather`): times of universal time in
/// microseconds, 16-bit beam, single-precision temperatures; local 10 to 17 h of 700 W/m², in the
/// second year 630.
fn parquet(name: &str) -> String {
    let path = crate::support::top().join("tests/cli/weather").join(name);
    path.display().to_string()
}

#[test]
fn a_parquet_file_of_two_years_is_recognised() {
    let folder = folder();
    let done = check(folder.path(), &parquet("two_years.parquet"), "auto");
    assert_eq!(done.code, Some(0), "{}", done.err);
    // 365 days × 7 h × 0.7 kW/m²; the first of two years equally far from their median.
    for told in ["1,788 kWh/m2", "2021 stands for all 2 years"] {
        assert!(done.out.contains(told), "{told}: {}", done.out);
    }
}

/// Cover of the loan in a lean year.
fn cover(priced: &serde_json::Value) -> f64 {
    priced["money"]["debt_cover_p90"].as_f64().unwrap()
}

/// The second year has 0.9 of the first one's beam: mean 1,699.1 kWh/m², sample deviation 126.4 (half
/// the difference × √2), and no P90 between two years.
#[test]
fn several_years_give_the_spread_of_a_design() {
    let folder = folder();
    let path = scenario_with(folder.path(), &parquet("two_years.parquet"), "auto");
    let few = "strings.count=24";
    let any = "heat.demand.serve_at_least=0 %";
    let done = ran(tautfield()
        .args(["price", "--json", "--set", few, "--set", any])
        .arg(&path));
    assert_eq!(done.code, Some(0), "{}", done.err);
    let document: serde_json::Value = serde_json::from_str(&done.out).unwrap();
    let years = &document["years"];
    let dni = &years["dni_kwh_m2"];
    assert_eq!(dni["years"], 2);
    assert!(
        (dni["mean"].as_f64().unwrap() - 1699.075).abs() < 0.1,
        "{dni}"
    );
    assert!(
        (dni["deviation"].as_f64().unwrap() - 126.46).abs() < 0.1,
        "{dni}"
    );
    assert!(dni["p90_empirical"].is_null());
    let each = |year: usize| years["each"][year]["delivered_kwh"].as_f64().unwrap();
    let own = document["year"]["delivered_kwh"].as_f64().unwrap();
    assert!((each(0) / own - 1.0).abs() < 1e-9);
    assert!(each(1) < 0.9 * each(0), "{years}");
    let share = years["p90_share"].as_f64().unwrap();
    assert!(share < 0.9);

    // The lender's lean year is the one found, unless the scenario states its own.
    let stated = |share: f64| {
        let set = format!("finance.p90_share={} %", 100.0 * share);
        let mut command = tautfield();
        command.args(["price", "--json", "--set", few, "--set", any]);
        let done = ran(command.args(["--set", &set]).arg(&path));
        let document: serde_json::Value = serde_json::from_str(&done.out).unwrap();
        cover(&document)
    };
    let found = cover(&document);
    assert!((stated(share) - found).abs() < 1e-9 * found.abs());
    assert!(stated(0.95) > found + 1e-3, "{found}");
}

#[test]
fn a_gap_in_parquet_is_told_by_its_row() {
    let folder = folder();
    let done = check(folder.path(), &parquet("gap.parquet"), "parquet");
    assert_eq!(done.code, Some(2), "{done:?}");
    for told in ["gap.parquet", "row 2001: dni_w_m2 is missing"] {
        assert!(done.err.contains(told), "{told}: {}", done.err);
    }
    let torn = fs::read(parquet("gap.parquet")).unwrap();
    fs::write(folder.path().join("torn.parquet"), &torn[..1500]).unwrap();
    let done = check(folder.path(), "torn.parquet", "parquet");
    assert_eq!(done.code, Some(2), "{done:?}");
    assert!(done.err.contains("no sound Parquet file"), "{}", done.err);
}

#[test]
fn a_gap_is_bridged_where_the_scenario_allows_it() {
    let folder = folder();
    fs::write(folder.path().join("year.csv"), columns(2000, "")).unwrap();
    let done = check(folder.path(), "year.csv", "auto\"\nbridged_gap = \"2 h");
    assert_eq!(done.code, Some(0), "{}", done.err);
    assert!(
        done.out.contains("1 missing values bridged"),
        "{}",
        done.out
    );
}

#[test]
fn a_gap_in_plain_columns_is_told_by_its_line() {
    let folder = folder();
    fs::write(folder.path().join("year.csv"), columns(2000, "")).unwrap();
    let done = check(folder.path(), "year.csv", "csv");
    assert_eq!(done.code, Some(2), "{done:?}");
    // One line of names, then hour 0 on line 2.
    for told in ["year.csv", "line 2002", "dni_w_m2 is missing"] {
        assert!(done.err.contains(told), "{told}: {}", done.err);
    }
}

#[test]
fn a_gap_in_tmy3_is_told_by_its_line() {
    let folder = folder();
    fs::write(folder.path().join("year.tmy3"), tmy3(2000, "-9900")).unwrap();
    let done = check(folder.path(), "year.tmy3", "tmy3");
    assert_eq!(done.code, Some(2), "{done:?}");
    for told in ["year.tmy3", "line 2003", "is missing"] {
        assert!(done.err.contains(told), "{told}: {}", done.err);
    }
}

#[test]
fn an_absent_weather_file_is_named() {
    let folder = folder();
    let done = check(folder.path(), "nowhere.epw", "epw");
    assert_eq!(done.code, Some(2), "{done:?}");
    assert!(done.err.contains("nowhere.epw"), "{}", done.err);
    assert!(
        done.err
            .contains("weather files from where the scenario stands")
    );
}

#[test]
fn a_file_beside_monthly_sums_is_refused() {
    let folder = folder();
    let path = scenario_over_small(folder.path(), "[weather]\nfile = \"year.csv\"\n");
    let done = ran(tautfield().arg("check").arg(path));
    assert_eq!(done.code, Some(2));
    assert!(done.err.contains("not both"), "{}", done.err);
}

/// Written by DuckDB with `parquet_version v2`, which packs times by differences.
#[test]
fn a_parquet_file_packed_by_differences_is_told_with_what_to_do() {
    let folder = folder();
    let done = check(folder.path(), &parquet("by_differences.parquet"), "auto");
    assert_eq!(done.code, Some(2), "{done:?}");
    for told in [
        "by_differences.parquet: Parquet: column `time` is packed by differences",
        "write the file again",
        "parquet_version v1",
    ] {
        assert!(done.err.contains(told), "{told}: {}", done.err);
    }
}

#[test]
fn a_file_of_no_format_is_told_with_all_that_there_are() {
    let folder = folder();
    fs::write(folder.path().join("letter.txt"), "dear reader").unwrap();
    let done = check(folder.path(), "letter.txt", "auto");
    assert_eq!(done.code, Some(2), "{done:?}");
    for told in ["letter.txt", "Parquet", "epw, tmy3, pvgis, nsrdb, csv"] {
        assert!(done.err.contains(told), "{told}: {}", done.err);
    }
}
