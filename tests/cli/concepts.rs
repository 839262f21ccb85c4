//! Every verb with each concept of field of one scenario file.

use crate::support::{folder, json, number, run};

const STEAM: &str = "scenarios/process-steam.toml";

#[test]
fn the_flag_is_the_key() {
    let flag = run(&[
        "price",
        STEAM,
        "--fidelity",
        "search",
        "--json",
        "--concept",
        "pedestals",
    ]);
    let key = run(&[
        "price",
        STEAM,
        "--fidelity",
        "search",
        "--json",
        "--set",
        "concept=pedestals",
    ]);
    assert_eq!(flag.code, Some(0), "{}", flag.err);
    assert_eq!(flag.out, key.out);
    let told = json(&flag);
    assert_eq!(told["design"]["concept"], "pedestals");
    assert_eq!(told["design"]["area_m2"], 30.0);
    assert!(told.get("drives").is_none(), "nothing is shared");
    let wrong = run(&["price", STEAM, "--concept", "dishes"]);
    assert_eq!(wrong.code, Some(2));
    assert!(wrong.err.contains("pedestals"), "{}", wrong.err);
}

#[test]
fn heliostats_are_told_without_a_word_of_shared_drives() {
    for concept in ["pedestals", "singles"] {
        let told = run(&["price", STEAM, "--fidelity", "search", "--concept", concept]);
        assert_eq!(told.code, Some(0), "{}", told.err);
        assert!(told.out.contains("calibrated"), "{}", told.out);
        for word in ["Shared drives", "line slack", "frame arm", "common turn"] {
            assert!(!told.out.contains(word), "{concept}: {word}");
        }
    }
}

#[test]
fn heliostats_are_searched_varied_drawn_and_set_out() {
    let folder = folder();
    let path = folder.path().join("run");
    let out = path.display().to_string();
    let found = run(&[
        "search",
        STEAM,
        "--concept",
        "pedestals",
        "--total",
        "40",
        "--out",
        &out,
        "--json",
    ]);
    assert_eq!(found.code, Some(0), "{}", found.err);
    assert!(number(&json(&found), "/best/money/cost_per_kwh") > 0.0);
    for chart in ["string_lengths", "shared_drive", "sun_paths"] {
        assert!(
            !path.join(format!("charts/{chart}.svg")).exists(),
            "{chart}"
        );
    }
    let page = std::fs::read(path.join("report.html")).unwrap();
    assert_eq!(run(&["draw", &out]).code, Some(0));
    assert_eq!(std::fs::read(path.join("report.html")).unwrap(), page);
    let varied = run(&["vary", &out, "--draws", "16"]);
    assert_eq!(varied.code, Some(0), "{}", varied.err);
}

/// A plan that was laid and written is priced and set out as if it had been laid.
#[test]
fn a_plan_of_heliostats_comes_back() {
    let folder = folder();
    let plan = folder.path().join("plan.csv").display().to_string();
    let by = ["--fidelity", "search", "--json", "--concept", "pedestals"];
    let laid = run(&[&["price", STEAM, "--plan-out", &plan][..], &by].concat());
    let given = run(&[&["price", STEAM, "--plan", &plan][..], &by].concat());
    assert_eq!(given.code, Some(0), "{}", given.err);
    let cost = |ran| number(&json(ran), "/money/cost_per_kwh");
    assert!((cost(&given) / cost(&laid) - 1.0).abs() < 5e-3);
    let out = folder.path().join("set");
    let told = out.display().to_string();
    let set = run(&[
        "setout",
        STEAM,
        "--plan",
        &plan,
        "--concept",
        "pedestals",
        "--out",
        &told,
    ]);
    assert_eq!(set.code, Some(0), "{}", set.err);
    let lines = |name: &str| {
        let text = std::fs::read_to_string(out.join(name)).unwrap();
        text.lines().count() - 1
    };
    assert_eq!(lines("heliostats.csv"), 115);
    assert_eq!(lines("canted_panels.csv"), 115 * 30);
    assert_eq!(lines("plan.csv"), 115);
    let survey = folder.path().join("survey.csv");
    std::fs::write(&survey, "string_id,mirror_id\n").unwrap();
    let survey = survey.display().to_string();
    let spot = run(&[
        "spot",
        STEAM,
        "--plan",
        &plan,
        "--survey",
        &survey,
        "--concept",
        "pedestals",
    ]);
    assert_ne!(spot.code, Some(0));
    assert!(!(spot.out + &spot.err).is_empty());
}
