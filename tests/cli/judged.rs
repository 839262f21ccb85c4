//! The fast model of light against rays, as people and scripts meet it.

use std::path::{Path, PathBuf};

use crate::support::{Ran, SMALL, folder, json, number, ran, run, tautfield};

const INSTANTS: &str = "sun_azimuth_deg,sun_elevation_deg,dni_w_m2\n180,60,900\n110,25,750\n";

/// Enough rays for an error of a third of a point.
const RAYS: [&str; 2] = ["--rays", "30000"];

fn written(folder: &Path, name: &str, text: &str) -> PathBuf {
    let path = folder.join(name);
    std::fs::write(&path, text).unwrap();
    path
}

/// Judges the small field at these instants.
fn judge(instants: &str, more: &[&str]) -> Ran {
    let folder = folder();
    let path = written(folder.path(), "instants.csv", instants);
    let mut command = tautfield();
    command.args(["judge", SMALL, "--instants"]).arg(path);
    ran(command.args(RAYS).args(more))
}

#[test]
fn instants_are_judged_loss_by_loss() {
    let done = judge(INSTANTS, &["--json"]);
    assert_eq!(done.code, Some(0), "{}", done.err);
    let judged = json(&done);
    assert_eq!(judged["format_version"], 5);
    assert_eq!(judged["instants"].as_array().unwrap().len(), 2);
    assert!(judged["year"].is_null() && judged["plan"].is_null());
    assert!(number(&judged, "/rays_per_sun") >= 30_000.0);
    for instant in 0..2 {
        let at = |pointer: &str| number(&judged, &format!("/instants/{instant}{pointer}"));
        for loss in [
            "cosine",
            "shading",
            "blocking",
            "reflectance",
            "attenuation",
            "intercept",
            "product",
        ] {
            let of = |key: &str| at(&format!("/losses/{loss}/{key}"));
            let difference = of("difference");
            assert!((difference - (of("fast") - of("rays"))).abs() < 1e-12);
            // The fast model's own aim: 1 percentage point at any instant.
            assert!(difference.abs() < 0.01 + 4.0 * of("standard_error"));
        }
        let power_w =
            at("/dni_w_m2") * number(&judged, "/mirror_area_m2") * at("/losses/product/rays");
        assert!((at("/power_w/rays") / power_w - 1.0).abs() < 1e-6);
        let flux = at("/peak_flux_w_m2/rays");
        assert!(
            at("/peak_flux_w_m2/difference").abs()
                < 0.05 * flux + 4.0 * at("/peak_flux_w_m2/standard_error")
        );
    }
}

#[test]
fn the_year_is_judged_when_no_instants_are_given() {
    let year = run(&["judge", SMALL, "--rays", "2000", "--json"]);
    assert_eq!(year.code, Some(0), "{}", year.err);
    let year = json(&year);
    let priced = json(&run(&["price", SMALL, "--json"]));
    let ratio =
        number(&year, "/year/aperture_kwh/fast") / number(&priced, "/energy_kwh/after_intercept");
    assert!((ratio - 1.0).abs() < 1e-6, "{ratio}");
    let product = |key: &str| number(&year, &format!("/year/losses/product/{key}"));
    assert!(product("difference").abs() < 0.003 + 4.0 * product("standard_error"));
}

#[test]
fn tables_fit_the_terminal_and_tell_both_models() {
    let done = judge(INSTANTS, &["--year"]);
    assert_eq!(done.code, Some(0), "{}", done.err);
    for told in [
        "Sun at 180 deg, 60 deg high, 900 W/m2",
        "The year",
        "fast model",
        "rays",
        "difference",
        "std. error",
        "peak flux",
        "light on the aperture",
    ] {
        assert!(done.out.contains(told), "{told}");
    }
    for line in done.out.lines() {
        assert!(line.chars().count() <= 80, "{line}");
    }
}

#[test]
fn same_seed_same_bytes_on_any_number_of_threads() {
    let with = |more: &[&str]| judge(INSTANTS, more).out;
    let one = with(&["--json", "--threads", "1"]);
    assert_eq!(one, with(&["--json", "--threads", "3"]));
    assert_ne!(one, with(&["--json", "--seed", "2"]));
}

#[test]
fn wrong_instants_are_told_by_line() {
    let head = "sun_azimuth_deg,sun_elevation_deg,dni_w_m2\n";
    for (lines, told) in [
        (
            "180,-5,900\n",
            "line 2: sun_elevation_deg is -5; it must be 1 … 90",
        ),
        ("180,50,900\n180,95,-1\n", "line 3: sun_elevation_deg is 95"),
        (
            "180,50,900\n180,95,-1\n",
            "line 3: dni_w_m2 is -1; it must be 0 … 1500",
        ),
        (
            "180,noon,900\n",
            "line 2: sun_elevation_deg is \"noon\"; write a number",
        ),
        (
            "180,50\n",
            "line 2: 2 cells; write one for each of the 3 columns",
        ),
        ("", "no line below the column names"),
    ] {
        let done = judge(&format!("{head}{lines}"), &[]);
        assert_eq!(done.code, Some(2), "{done:?}");
        assert!(done.out.is_empty());
        assert!(done.err.contains(told), "{told} in {}", done.err);
    }
    let done = judge("azimuth,sun_elevation_deg,dni_w_m2\n180,50,900\n", &[]);
    assert_eq!(done.code, Some(2));
    assert!(
        done.err.contains("column \"azimuth\" is not known"),
        "{}",
        done.err
    );
}

#[test]
fn wrong_command_lines_and_absent_files_end_with_two() {
    for arguments in [
        &["judge"][..],
        &["judge", SMALL, "--rays", "0"],
        &["judge", SMALL, "--per-mirror", "mirrors.csv"],
        &["judge", SMALL, "--instants", "tests/cli/nowhere.csv"],
        &["judge", SMALL, "--plan", "tests/cli/nowhere.csv"],
    ] {
        let done = run(arguments);
        assert_eq!(done.code, Some(2), "{arguments:?}: {done:?}");
        assert!(done.out.is_empty(), "{arguments:?}");
    }
}

#[test]
fn a_start_design_that_cannot_stand_ends_with_one() {
    let done = run(&["judge", SMALL, "--set", "strings.count=50000"]);
    assert_eq!(done.code, Some(1), "{}", done.err);
    assert!(
        done.out.contains("cannot be built: the site has"),
        "{}",
        done.out
    );
}
