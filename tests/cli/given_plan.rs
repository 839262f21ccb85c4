//! Plans that people write, mirror by mirror: what they are judged and priced at, and what is refused.

use std::fs;
use std::path::{Path, PathBuf};

use crate::support::{Ran, SMALL, folder, json, number, ran, tautfield};

const HEAD: &str = "string_id,mirror_id,x_m,y_m,z_m,width_m,height_m,focal_length_m,\
                    first_axis,bearing_deg,linkage\n";

fn written(folder: &Path, name: &str, text: &str) -> PathBuf {
    let path = folder.join(name);
    fs::write(&path, text).unwrap();
    path
}

/// A run of a verb on the small scenario with a plan.
fn with_plan(verb: &str, plan: &str, more: &[&str]) -> Ran {
    let folder = folder();
    let path = written(folder.path(), "plan.csv", plan);
    let mut command = tautfield();
    command.args([verb, SMALL, "--plan"]).arg(path);
    ran(command.args(more))
}

fn judge(plan: &str, more: &[&str]) -> Ran {
    with_plan("judge", plan, &[&["--rays", "2000"], more].concat())
}

/// One string of an independent calculation of drives: where it stands, how it turns, and the beam
/// errors of its first and last mirror.
struct Row {
    latitude: &'static str,
    /// Azimuth [deg], distance [m] and bearing [deg].
    place: [f64; 3],
    mirrors: usize,
    /// Pitch, mirror height, aim height.
    lengths_m: [f64; 3],
    first_axis: &'static str,
    alignment: &'static str,
    sun: &'static str,
    errors_mrad: [f64; 2],
}

// Independent calculation, to five decimals.
#[rustfmt::skip]
const ROWS: [Row; 4] = [
    Row { latitude: "35 deg", place: [0.0, 60.0, 0.0], mirrors: 9, lengths_m: [0.9, 1.2, 30.0], first_axis: "across", alignment: "180 deg", sun: "110,25", errors_mrad: [3.77487, 3.5597] },
    Row { latitude: "35 deg", place: [0.0, 60.0, 0.0], mirrors: 9, lengths_m: [0.9, 1.2, 30.0], first_axis: "polar", alignment: "180 deg", sun: "110,25", errors_mrad: [7.12277, 6.66686] },
    Row { latitude: "35 deg", place: [45.0, 90.0, 135.0], mirrors: 15, lengths_m: [0.9, 1.5, 40.0], first_axis: "along", alignment: "180 deg", sun: "245,20", errors_mrad: [3.83571, 3.94756] },
    Row { latitude: "35 deg", place: [0.0, 60.0, 0.0], mirrors: 9, lengths_m: [0.9, 1.2, 30.0], first_axis: "vertical", alignment: "180 deg", sun: "110,25", errors_mrad: [7.71027, 6.77446] },
];

/// The plan of one row; the reference mirror stands in its place.
fn plan_of(row: &Row) -> String {
    let [azimuth_deg, distance_m, bearing_deg] = row.place;
    let [pitch_m, height_m, aim_m] = row.lengths_m;
    let (east, north) = azimuth_deg.to_radians().sin_cos();
    let (along_east, along_north) = bearing_deg.to_radians().sin_cos();
    let mut text = HEAD.to_owned();
    for mirror in 0..row.mirrors {
        let off_m = (mirror as f64 - (row.mirrors / 2) as f64) * pitch_m;
        let (x_m, y_m) = (
            distance_m * east + off_m * along_east,
            distance_m * north + off_m * along_north,
        );
        let slant_m = (x_m * x_m + y_m * y_m + (aim_m - height_m).powi(2)).sqrt();
        text += &format!(
            "s,{mirror},{x_m},{y_m},{height_m},0.8,0.8,{slant_m},{},{bearing_deg},equal-angle\n",
            row.first_axis
        );
    }
    text
}

/// The drive errors that a per-mirror table tells, in its order.
fn drive_errors_mrad(table: &str) -> Vec<f64> {
    let mut lines = table.lines();
    assert!(lines.next().unwrap().ends_with(",drive_error_mrad"));
    lines
        .map(|line| line.rsplit(',').next().unwrap().parse().unwrap())
        .collect()
}

#[test]
fn drive_errors_agree_with_the_independent_calculation() {
    for row in &ROWS {
        let folder = folder();
        let instants = format!(
            "sun_azimuth_deg,sun_elevation_deg,dni_w_m2\n{},800\n",
            row.sun
        );
        let instants = written(folder.path(), "instants.csv", &instants);
        let table = folder.path().join("mirrors.csv");
        let [instants, table] = [&instants, &table].map(|path| path.to_str().unwrap());
        let latitude = format!("site.latitude={}", row.latitude);
        let aim = format!("tower.aim_height={} m", row.lengths_m[2]);
        let alignment = format!(
            "strings.alignment={{ azimuth = \"{}\", elevation = \"55 deg\" }}",
            row.alignment
        );
        let done = judge(
            &plan_of(row),
            &[
                "--instants",
                instants,
                "--per-mirror",
                table,
                "--set",
                &latitude,
                "--set",
                &aim,
                "--set",
                &alignment,
            ],
        );
        assert_eq!(done.code, Some(0), "{}", done.err);
        let errors_mrad = drive_errors_mrad(&fs::read_to_string(table).unwrap());
        assert_eq!(errors_mrad.len(), row.mirrors);
        for (found, wanted) in [errors_mrad[0], errors_mrad[row.mirrors - 1]]
            .into_iter()
            .zip(row.errors_mrad)
        {
            assert!((found - wanted).abs() < 1e-5, "{}: {found}", row.first_axis);
        }
        assert!(errors_mrad[row.mirrors / 2] < 1e-6);
    }
}

/// Mirrors that stand alone; neither axis nor bearing nor linkage.
fn alone(count: usize) -> String {
    let mut text = HEAD.to_owned();
    for mirror in 0..count {
        let x_m = 1.2 * mirror as f64 - 6.0;
        text += &format!(",m{mirror},{x_m},25,1.1,0.6,0.6,30,,,\n");
    }
    text
}

#[test]
fn mirrors_that_stand_alone_never_miss() {
    let folder = folder();
    let instants = "sun_azimuth_deg,sun_elevation_deg,dni_w_m2\n120,30,800\n200,60,900\n";
    let instants = written(folder.path(), "instants.csv", instants);
    let table = folder.path().join("mirrors.csv");
    let [instants, table] = [&instants, &table].map(|path| path.to_str().unwrap());
    let done = judge(&alone(5), &["--instants", instants, "--per-mirror", table]);
    assert_eq!(done.code, Some(0), "{}", done.err);
    let table = fs::read_to_string(table).unwrap();
    assert_eq!(table.lines().count(), 1 + 2 * 5);
    assert!(drive_errors_mrad(&table).iter().all(|error| *error < 1e-6));
    assert!(
        table.lines().nth(3).unwrap().starts_with("120,30,,m2,"),
        "{table}"
    );
}

/// The plan that the start design lays, written and read back, is the same field.
#[test]
fn a_plan_comes_back_as_it_went_out() {
    let folder = folder();
    let plan = folder.path().join("plan.csv");
    let laid = ran(tautfield()
        .args(["price", SMALL, "--json", "--plan-out"])
        .arg(&plan));
    assert_eq!(laid.code, Some(0), "{}", laid.err);
    let given = with_plan("price", &fs::read_to_string(&plan).unwrap(), &["--json"]);
    assert_eq!(given.code, Some(0), "{}", given.err);
    let (laid, given) = (json(&laid), json(&given));
    for (pointer, allowed) in [
        ("/energy_kwh/after_intercept", 1e-9),
        ("/year/mirror_area_m2", 1e-9),
        ("/year/land_m2", 1e-9),
        ("/year/steel_kg", 1e-3),
        ("/money/cost_per_kwh", 1e-3),
    ] {
        let ratio = number(&given, pointer) / number(&laid, pointer);
        assert!((ratio - 1.0).abs() < allowed, "{pointer}: {ratio}");
    }
    // Sheltered strings and open ones.
    let makes = given["design"]["makes"].as_array().unwrap();
    let strings: u64 = makes.iter().filter_map(|make| make["count"].as_u64()).sum();
    assert_eq!(strings, 24);
    assert!(makes.iter().all(|make| make["mirrors"] == 5));
}

#[test]
fn a_priced_plan_is_told_by_its_makes() {
    let priced = with_plan("price", &alone(4), &[]);
    assert_eq!(priced.code, Some(0), "{priced:?}");
    for told in ["4 of 1 mirror of 0.600 m (24 in)", "1.44 m2 (15.5 ft2)"] {
        assert!(priced.out.contains(told), "{told} in\n{}", priced.out);
    }
    // Lines break where the length of the path says.
    let words: Vec<&str> = priced.out.split_whitespace().collect();
    assert!(words.join(" ").contains("The plan /"), "{}", priced.out);
    // No heat is delivered by so few mirrors: shares of nothing are dashes.
    assert!(
        !priced.out.contains("NaN") && !priced.out.contains("inf "),
        "{}",
        priced.out
    );
    assert!(!priced.out.contains("strings lie"));
}

fn assert_refused(plan: &str, told: &str) {
    for verb in ["judge", "price"] {
        let done = with_plan(verb, plan, &[]);
        assert_eq!(done.code, Some(2), "{told}: {done:?}");
        assert!(done.out.is_empty(), "{told}");
        assert!(done.err.contains(told), "{told} in\n{}", done.err);
    }
}

/// A string of two mirrors on an east-west line, then its second line changed.
fn two(second: &str) -> String {
    format!("{HEAD}s,1,-2,30,1,0.8,0.8,40,along,90,equal-angle\n{second}\n")
}

#[test]
fn wrong_lines_are_told_with_what_to_change() {
    for (second, told) in [
        (
            "s,2,-3,30,1,0.8,0.8,40,along,90,equal-angle",
            "line 3: it stands 1.000 m behind",
        ),
        (
            "s,2,0,30,1,0.8,0.8,40,across,90,equal-angle",
            "line 3: it turns otherwise than the first mirror of string \"s\"; take the same first_axis",
        ),
        (
            "s,2,0,30,1,0.8,0.8,40,,,",
            "line 3: first_axis, bearing_deg and linkage are needed",
        ),
        (
            ",2,0,30,1,0.8,0.8,40,along,90,equal-angle",
            "line 3: a mirror without string_id has a drive of its own",
        ),
        (
            "s,2,0,30,1,0.8,0.8,40,sideways,90,equal-angle",
            "line 3: first_axis is \"sideways\"; write across, along, vertical, polar, roll-free",
        ),
        (
            "s,2,0,30,1,0.8,0.8,40,along,90,rope",
            "line 3: linkage is \"rope\"; write equal-angle",
        ),
        (
            "s,2,0,30,1,-0.8,0.8,40,along,90,equal-angle",
            "line 3: mirror 1 has a width of -0.8 m",
        ),
        (
            "s,2,0,30,1,0.8,wide,40,along,90,equal-angle",
            "line 3: height_m is \"wide\"; write a number",
        ),
        (
            "s,1,0,30,1,0.8,0.8,40,along,90,equal-angle",
            "line 3: mirror_id \"1\" is taken",
        ),
        (
            "s,2,-2,30,1,0.8,0.8,40,along,90,equal-angle",
            "line 3: it stands where mirror \"1\" stands",
        ),
        (
            "t,1,0,30,1,0.8,0.8,40,along,90,graded",
            "line 3: graded and sliding levers are set on target where they are clamped",
        ),
    ] {
        assert_refused(&two(second), told);
    }
    assert_refused("mirror_id,x_m\n1,2\n", "line 1: column y_m is missing");
    assert_refused(HEAD, "no line below the column names");
}
