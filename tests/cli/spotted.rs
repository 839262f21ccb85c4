//! Surveyed strings: signed spots at the hours of days, what is on target and what is refused.

use std::fs;
use std::path::{Path, PathBuf};

use report::{Data, read_parquet};
use serde_json::Value;

use crate::support::{Ran, SMALL, folder, json, number, ran, tautfield};

const HEAD: &str = "string_id,mirror_id,dx_m,dy_m,dz_m,tilt_east_mrad,tilt_north_mrad,\
                    first_turn_error_mrad,second_turn_error_mrad\n";

/// The small field's plan and settings in a folder.
fn built(folder: &Path) -> PathBuf {
    let mut command = tautfield();
    let done = ran(command.args(["setout", SMALL, "--out"]).arg(folder));
    assert_eq!(done.code, Some(0), "{}", done.err);
    folder.join("plan.csv")
}

fn spot(folder: &Path, survey: &str, more: &[&str]) -> Ran {
    let plan = built(folder);
    let path = folder.join("survey.csv");
    fs::write(&path, survey).unwrap();
    let mut command = tautfield();
    command.args(["spot", SMALL, "--plan"]).arg(plan);
    ran(command.arg("--survey").arg(path).args(more))
}

fn mirror<'a>(told: &'a Value, string: &str, mirror: &str) -> &'a Value {
    let mirrors = told["mirrors"].as_array().unwrap();
    let is_it = |one: &&Value| one["string_id"] == string && one["mirror_id"] == mirror;
    mirrors.iter().find(is_it).unwrap()
}

/// A survey that finds nothing wrong: on target at alignment, the reference mirror always, and nothing
/// off plan at any hour.
#[test]
fn what_is_built_as_planned_is_on_target() {
    let folder = folder();
    let survey = format!("{HEAD}1,1,,,,,,,\n");
    let told = json(&spot(
        folder.path(),
        &survey,
        &["--json", "--days", "06-21"],
    ));
    assert_eq!(told["mirrors"].as_array().unwrap().len(), 120);
    let hours = told["moments"].as_array().unwrap().len();
    assert!((10..=14).contains(&hours), "{hours}");
    for one in told["mirrors"].as_array().unwrap() {
        assert!(number(one, "/aligned/right_mm").abs() < 1e-6);
        assert!(number(one, "/aligned/up_mm").abs() < 1e-6);
        for hour in 0..hours {
            assert!(number(one, &format!("/off_plan_mm/{hour}")) < 1e-6);
        }
    }
    let reference = mirror(&told, "7", "3");
    assert!(number(reference, "/farthest_mm") < 1e-6);
    assert!(number(mirror(&told, "7", "1"), "/farthest_mm") > 1.0);
}

/// A post that leans 2 mrad throws its own mirror's beam by about 4 mrad of its way and no other's;
/// the leaning post of a reference mirror throws all others of its string.
#[test]
fn leaning_posts_throw_beams() {
    let folder = folder();
    let survey = format!("{HEAD}2,1,,,,,2,,\n5,3,,,,,2,,\n");
    let more = ["--json", "--days", "06-21", "--within", "40 mm"];
    let told = json(&spot(folder.path(), &survey, &more));
    let thrown = |string: &str, place: &str| {
        let one = mirror(&told, string, place);
        number(one, "/aligned/up_mm").hypot(number(one, "/aligned/right_mm"))
    };
    assert!(
        (60.0..400.0).contains(&thrown("2", "1")),
        "{}",
        thrown("2", "1")
    );
    assert!(thrown("2", "2") < 1e-6 && thrown("5", "3") < 1e-6);
    for place in ["1", "2", "4", "5"] {
        assert!((60.0..400.0).contains(&thrown("5", place)));
    }
    assert_eq!(mirror(&told, "2", "1")["within"], false);
    assert_eq!(mirror(&told, "5", "3")["within"], true);
}

/// Settings measured to be those that were set out leave nothing off plan.
#[test]
fn measured_settings_are_held_against_the_set_out_ones() {
    let folder = folder();
    built(folder.path());
    let panels = fs::read_to_string(folder.path().join("panels.csv")).unwrap();
    let mut lines = panels.lines();
    let names: Vec<&str> = lines.next().unwrap().split(',').collect();
    let place = |name: &str| names.iter().position(|known| *known == name).unwrap();
    let (first, second) = (place("first_turn_mrad"), place("second_turn_mrad"));
    let mut survey = "string_id,mirror_id,first_turn_mrad,second_turn_mrad\n".to_owned();
    for line in lines {
        let cells: Vec<&str> = line.split(',').collect();
        survey += &format!(
            "{},{},{},{}\n",
            cells[0], cells[1], cells[first], cells[second]
        );
    }
    let told = json(&spot(folder.path(), &survey, &["--json"]));
    for one in told["mirrors"].as_array().unwrap() {
        assert!(number(one, "/aligned/right_mm").abs() < 1e-3);
    }
}

/// Table and chart hold every mirror at every moment, here at instants from a file.
#[test]
fn tables_and_charts_are_written() {
    let folder = folder();
    let instants = folder.path().join("instants.csv");
    let suns = "sun_azimuth_deg,sun_elevation_deg,dni_w_m2\n180,50,900\n120,30,700\n";
    fs::write(&instants, suns).unwrap();
    let out = folder.path().join("spots");
    let more = [
        "--instants",
        instants.to_str().unwrap(),
        "--within",
        "6 in",
        "--out",
        out.to_str().unwrap(),
    ];
    let done = spot(
        folder.path(),
        &format!("{HEAD}1,1,0.01,0,0,1,0,0,2\n"),
        &more,
    );
    assert_eq!(done.code, Some(0), "{}", done.err);
    let is_path = |line: &str| line.starts_with('/');
    assert!(
        done.out
            .lines()
            .all(|line| is_path(line) || line.chars().count() <= 80)
    );
    for words in [
        "Acceptance",
        "of 120 mirrors stay within 152.4 mm",
        "Cautions",
    ] {
        assert!(done.out.contains(words), "{words} in\n{}", done.out);
    }
    let csv = fs::read_to_string(out.join("spots.csv")).unwrap();
    assert_eq!(csv.lines().count(), 1 + 2 * 120);
    let (table, _) = read_parquet(&fs::read(out.join("spots.parquet")).unwrap()).unwrap();
    let Some(Data::Flag(within)) = table.column("within") else {
        panic!("within is a flag");
    };
    assert_eq!(within.iter().flatten().count(), 240);
    assert!(
        fs::read(out.join("spots.png"))
            .unwrap()
            .starts_with(b"\x89PNG")
    );
}

#[test]
fn wrong_surveys_are_refused_with_their_lines() {
    for (survey, told) in [
        (
            format!("{HEAD}1,99,,,,,,,\n"),
            "line 2: string 1 mirror 99 is not in the plan",
        ),
        (
            format!("{HEAD}1,1,,,,,,,\n1,1,,,,,,,\n"),
            "line 3: string 1 mirror 1",
        ),
        (
            format!("{HEAD}1,1,50,,,,,,\n"),
            "line 2: dx_m is 50; it must be -5 … 5",
        ),
        (
            format!("{HEAD}1,1,,,,x,,,\n"),
            "line 2: tilt_east_mrad is \"x\"",
        ),
        (
            "string_id,mirror_id,first_turn_mrad,first_turn_error_mrad\n1,1,2,3\n".to_owned(),
            "line 2: give first_turn_mrad or first_turn_error_mrad, not both",
        ),
    ] {
        let done = spot(folder().path(), &survey, &[]);
        assert_eq!(done.code, Some(2), "{done:?}");
        assert!(done.err.contains(told), "{told} in\n{}", done.err);
    }
    for more in [
        ["--days", "02-30"],
        ["--within", "150"],
        ["--within", "-1 m"],
    ] {
        let done = spot(folder().path(), &format!("{HEAD}1,1,,,,,,,\n"), &more);
        assert_eq!(done.code, Some(2), "{more:?}");
    }
}
