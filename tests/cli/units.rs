//! `--units us` changes what people read and nothing that programs do.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use crate::support::{SMALL, folder, json, number, ran, results, run, search, tautfield};

/// A line's words after its name.
fn told<'a>(out: &'a str, name: &str) -> &'a str {
    let line = out.lines().find_map(|line| line.strip_prefix(name));
    line.unwrap_or_else(|| panic!("{name} is not told in {out}"))
        .trim()
}

/// The number that a text begins with.
fn leading(text: &str) -> f64 {
    let first = text.split(' ').next().unwrap().replace(',', "");
    first
        .parse()
        .unwrap_or_else(|_| panic!("{text} begins with no number"))
}

/// Pound, foot and acre as NIST SP 811 (2008) has them (from memory), to the three digits that are told.
#[test]
fn a_price_is_told_in_feet_and_pounds_first() {
    let us = run(&["price", SMALL, "--units", "us"]);
    let si = json(&run(&["price", SMALL, "--json"]));
    let side = told(&us.out, "mirror side");
    let (feet, metres) = side.split_once(" (").unwrap();
    assert!(feet.ends_with(" in") && metres.ends_with(" m)"), "{side}");
    for (name, pointer, si_of_one) in [
        ("steel  ", "/year/steel_kg", 0.453_592_37),
        ("glass  ", "/year/glass_kg", 0.453_592_37),
        ("mirror area", "/year/mirror_area_m2", 0.3048 * 0.3048),
        ("land  ", "/year/land_m2", 4_046.856),
    ] {
        let found = leading(told(&us.out, name));
        let wanted = number(&si, pointer) / si_of_one;
        assert!(
            (found / wanted - 1.0).abs() < 6e-3,
            "{name}: {found} for {wanted}"
        );
    }
    for unit in [" t\n", "kg/m2", "N m", " kN", " m3"] {
        assert!(!us.out.contains(unit), "{unit:?} in {}", us.out);
    }
    assert!(us.out.lines().all(|line| line.chars().count() <= 80));
}

#[test]
fn json_is_the_same_in_any_units() {
    for verb in ["check", "price"] {
        let [si, us] =
            ["si", "us"].map(|units| run(&[verb, SMALL, "--json", "--units", units]).out);
        assert!(si == us, "{verb}");
    }
}

#[test]
fn tables_of_a_field_set_out_are_the_same_and_what_is_told_is_not() {
    let [si, us] = ["si", "us"].map(|units| {
        let folder = folder();
        let done = ran(tautfield()
            .args(["setout", SMALL, "--units", units, "--out"])
            .arg(folder.path()));
        assert_eq!(done.code, Some(0), "{}", done.err);
        (done.out, files(folder.path()))
    });
    assert_eq!(si.1, us.1);
    assert!(
        told(&us.0, "overturning moment").ends_with(" ft lbf"),
        "{}",
        us.0
    );
    assert!(told(&us.0, "pull at each corner").ends_with(" lbf"));
    assert!(told(&si.0, "overturning moment").ends_with(" kN m"));
}

fn files(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let entries = fs::read_dir(folder).unwrap().map(Result::unwrap);
    let read = |entry: fs::DirEntry| {
        let name = entry.file_name().to_string_lossy().into_owned();
        (name, fs::read(entry.path()).unwrap())
    };
    entries
        .filter(|entry| entry.path().is_file() && entry.file_name() != "lock")
        .map(read)
        .collect()
}

#[test]
fn the_page_takes_the_units_it_is_drawn_in_and_charts_do_not() {
    let folder = folder();
    let searched = ran(search(folder.path()).args(["--total", "12"]));
    assert_eq!(searched.code, Some(0), "{}", searched.err);
    let mut si = results(folder.path());
    let at = folder.path().display().to_string();
    assert_eq!(run(&["draw", &at, "--units", "us"]).code, Some(0));
    let mut us = results(folder.path());
    let [si_page, us_page] = [&mut si, &mut us]
        .map(|of| String::from_utf8(of.remove("report.html").expect("a page")).unwrap());
    assert!(si == us, "a chart or a table has changed");
    let cell = |page: &str| {
        let (_, after) = page.split_once("mirror side</th><td>").unwrap();
        after.split_once("</td>").unwrap().0.to_owned()
    };
    assert!(cell(&si_page).ends_with(" in)"), "{}", cell(&si_page));
    assert!(cell(&us_page).ends_with(" m)"), "{}", cell(&us_page));
}
