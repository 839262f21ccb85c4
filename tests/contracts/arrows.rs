//! Arrows between crates are one-way and few. An arrow that is not listed here is a design
//! decision: take it here first. `rays` never sees `optics`, which it judges; that and "only report
//! sees polars" rest on this list.

use std::collections::{BTreeMap, BTreeSet};

/// Each crate of ours with the crates of ours it may see.
const ARROWS: &[(&str, &[&str])] = &[
    ("book", &[]),
    ("quantity", &[]),
    ("geometry", &[]),
    ("ledger", &[]),
    ("store", &[]),
    ("report", &["quantity"]),
    ("scenario", &["quantity", "ledger"]),
    ("sky", &["geometry"]),
    ("field", &["geometry"]),
    ("drive", &["geometry", "field"]),
    ("optics", &["geometry", "field"]),
    ("rays", &["geometry", "field"]),
    ("plant", &[]),
    ("structure", &[]),
    (
        "model",
        &[
            "geometry",
            "scenario",
            "sky",
            "field",
            "drive",
            "optics",
            "rays",
            "plant",
            "structure",
            "ledger",
        ],
    ),
    ("study", &["store"]),
];

/// The only crates that may start threads.
const MAY_USE_RAYON: &[&str] = &["model", "study"];

/// Crates that must stay pure: no threads, no files, no tables, no terminal.
const FENCED: &[&str] = &[
    "polars",
    "polars-core",
    "polars-io",
    "rayon",
    "indicatif",
    "clap",
    "tempfile",
];

fn normal_dependencies() -> BTreeMap<String, BTreeSet<String>> {
    super::metadata()
        .packages
        .iter()
        .map(|package| {
            let names = package
                .dependencies
                .iter()
                .filter(|dependency| dependency.kind == cargo_metadata::DependencyKind::Normal)
                .map(|dependency| dependency.name.clone())
                .collect();
            (package.name.to_string(), names)
        })
        .collect()
}

#[test]
fn crates_see_only_what_they_may() {
    let found = normal_dependencies();
    let ours: BTreeSet<&str> = ARROWS.iter().map(|(name, _)| *name).collect();
    for (name, allowed) in ARROWS {
        let seen = found
            .get(*name)
            .unwrap_or_else(|| panic!("crate {name} is gone"));
        for dependency in seen.iter().filter(|d| ours.contains(d.as_str())) {
            assert!(
                allowed.contains(&dependency.as_str()),
                "{name} sees {dependency}, which is not among its arrows {allowed:?}"
            );
        }
    }
}

#[test]
fn every_crate_has_its_arrows_listed() {
    let listed: BTreeSet<&str> = ARROWS.iter().map(|(name, _)| *name).collect();
    for name in normal_dependencies().keys() {
        let is_outermost = name.starts_with("tautfield");
        assert!(
            is_outermost || listed.contains(name.as_str()),
            "crate {name} has no line in ARROWS"
        );
    }
}

#[test]
fn threads_tables_and_terminals_stay_where_they_belong() {
    for (name, dependencies) in normal_dependencies() {
        if name.starts_with("tautfield") {
            continue;
        }
        for fenced in FENCED {
            let allowed = match *fenced {
                "rayon" => MAY_USE_RAYON.contains(&name.as_str()),
                "polars" | "polars-core" | "polars-io" => name == "report",
                "tempfile" => name == "store",
                _ => false,
            };
            assert!(
                allowed || !dependencies.contains(*fenced),
                "{name} must not depend on {fenced}"
            );
        }
    }
}
