//! Every verb with each concept of field of one scenario file.

use serde_json::Value;

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
    assert!(told["drives"].get("gear").is_none(), "nothing is shared");
    assert!(number(&told, "/drives/grid_failure/halved_s") > 0.0);
    let wrong = run(&["price", STEAM, "--concept", "dishes"]);
    assert_eq!(wrong.code, Some(2));
    assert!(wrong.err.contains("pedestals"), "{}", wrong.err);
}

#[test]
fn heliostats_are_told_without_a_word_of_shared_drives() {
    for concept in ["pedestals", "singles"] {
        let told = run(&["price", STEAM, "--fidelity", "search", "--concept", concept]);
        assert_eq!(told.code, Some(0), "{}", told.err);
        for words in ["calibrated", "a heliostat stalls", "by springs"] {
            assert!(told.out.contains(words), "{words} in\n{}", told.out);
        }
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
    for chart in ["string_lengths", "shared_drive", "sun_misses"] {
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

/// A plan that another concept must build is refused with what to do.
#[test]
fn a_plan_of_another_concept_is_refused_with_what_to_do() {
    let folder = folder();
    let plan = |concept: &str| {
        let path = folder.path().join(concept).display().to_string();
        let by = ["--fidelity", "search", "--concept", concept];
        let laid = run(&[&["price", STEAM, "--plan-out", &path][..], &by].concat());
        assert_eq!(laid.code, Some(0), "{}", laid.err);
        path
    };
    let priced_as =
        |concept: &str, plan: &str| run(&["price", STEAM, "--plan", plan, "--concept", concept]);
    let (pedestals, strings) = (plan("pedestals"), plan("strings"));
    for concept in ["strings", "singles"] {
        let wrong = priced_as(concept, &pedestals);
        assert_eq!(wrong.code, Some(2), "{}", wrong.err);
        for told in ["line 2", "6.00 x 5.00 m", "--concept pedestals"] {
            assert!(wrong.err.contains(told), "{}", wrong.err);
        }
    }
    let wrong = priced_as("pedestals", &strings);
    assert_eq!(wrong.code, Some(2), "{}", wrong.err);
    assert!(wrong.err.contains("concept = \"strings\""), "{}", wrong.err);
}

/// The scenarios for hot air and power with few mirrors, and with what these deliver.
const SMALLER: [(&str, &[&str]); 2] = [
    (
        "scenarios/hot-air.toml",
        &[
            "strings.count=40",
            "pedestals.count=25",
            "singles.count=200",
            "heat.demand.power=80 kW",
        ],
    ),
    (
        "scenarios/power.toml",
        &[
            "strings.count=90",
            "pedestals.count=80",
            "singles.count=1400",
            "heat.demand.power=200 kW",
            "tower.aim_height=40 m",
            "receiver.aperture_width=3 m",
            "receiver.aperture_height=3 m",
        ],
    ),
];

/// Every verb that takes a design goes through for every concept, before a cavity and around a cylinder.
#[test]
fn every_verb_goes_through_with_every_concept_for_hot_air_and_power() {
    for (scenario, fewer) in SMALLER {
        for concept in ["strings", "pedestals", "singles"] {
            goes_through(scenario, fewer, concept);
        }
    }
}

fn goes_through(scenario: &str, fewer: &[&str], concept: &str) {
    let folder = folder();
    let place = |name: &str| folder.path().join(name).display().to_string();
    let (found, set, survey) = (place("run"), place("set"), place("survey.csv"));
    std::fs::write(&survey, "string_id,mirror_id\n1,1\n").unwrap();
    let by = [
        "--concept",
        concept,
        "--set",
        "heat.demand.serve_at_least=0 %",
    ];
    let fewer: Vec<&str> = fewer.iter().flat_map(|set| ["--set", set]).collect();
    let over = [&by[..], &fewer].concat();
    let ok = |arguments: &[&str]| {
        let done = run(arguments);
        let what = format!("{scenario} {concept} {arguments:?}");
        assert_eq!(done.code, Some(0), "{what}: {}{}", done.out, done.err);
        done.out
    };
    let of = |verb: &'static str, more: &[&str]| ok(&[&[verb, scenario], more, &over].concat());
    assert!(of("price", &[]).contains("Distance to each limit"));
    of("judge", &["--year", "--rays", "2000"]);
    of("setout", &["--out", &set]);
    let plan = format!("{set}/plan.csv");
    let spot = ["spot", scenario, "--plan", &plan, "--survey", &survey];
    if concept == "strings" {
        ok(&[&spot[..], &over].concat());
    } else {
        let refused = run(&[&spot[..], &over].concat());
        assert_eq!(refused.code, Some(1), "{}", refused.err);
        assert!(refused.out.contains("calibrated away"), "{}", refused.out);
    }
    of("search", &["--total", "24", "--out", &found]);
    ok(&["draw", &found]);
    ok(&["vary", &found, "--draws", "16"]);
}

/// How far the heat of a rival spreads by its own mechanism.
fn mechanism_span(rival: &Value) -> f64 {
    let matters = rival["heat_uncertainty"].as_array().unwrap();
    let is_it = |matter: &&Value| matter["matter"] == "mechanism";
    let mechanism = matters.iter().find(is_it).unwrap();
    number(mechanism, "/heat_high") - number(mechanism, "/heat_low")
}

/// The three concepts as rivals: one duty, terms that add up to the difference, tables that say the same.
#[test]
fn concepts_are_held_against_one_another_for_one_duty() {
    let folder = folder();
    let out = folder.path().display().to_string();
    let asked = [
        "versus",
        STEAM,
        "--json",
        "--draws",
        "64",
        "--total",
        "48",
        "--out",
        &out,
        "--set",
        "heat.demand.power=600 kW",
        "--set",
        "strings.count=60",
        "--set",
        "pedestals.count=40",
        "--set",
        "singles.count=480",
        "--duty",
        "400 MWh",
    ];
    let done = run(&asked);
    assert_eq!(done.code, Some(0), "{}", done.err);
    let told = json(&done);
    let rivals = told["rivals"].as_array().unwrap();
    let names: Vec<&str> = rivals
        .iter()
        .map(|rival| rival["rival"].as_str().unwrap())
        .collect();
    assert_eq!(names, ["strings", "pedestals", "singles"], "{told}");
    let first = number(&rivals[0], "/cost_per_kwh");
    for rival in rivals {
        assert_eq!(rival["best"]["design"]["concept"], rival["rival"]);
        assert!(number(rival, "/best/year/delivered_kwh") >= 400e3);
        let sum = |terms: &str| -> f64 {
            let terms = rival[terms].as_object().unwrap().values();
            terms.map(|term| term.as_f64().unwrap()).sum()
        };
        let cost = number(rival, "/cost_per_kwh");
        assert!((sum("terms_per_kwh") / cost - 1.0).abs() < 1e-12);
        assert!((sum("against_first_per_kwh") - (cost - first)).abs() < 1e-12);
        assert!((0.0..1.0).contains(&number(rival, "/search_may_gain")));
        assert!((0.0..1.0).contains(&number(rival, "/mirrors_share")));
    }
    // A shared drive keeps what heliostats calibrate away, so what its mechanism turns out to be is drawn wider.
    let [strings, pedestals, singles] = [0, 1, 2].map(|of| mechanism_span(&rivals[of]));
    assert!(strings > 2.0 * pedestals, "{strings} {pedestals}");
    assert!(strings > 2.0 * singles, "{strings} {singles}");
    let bytes = std::fs::read(folder.path().join("versus.parquet")).unwrap();
    let (table, _) = report::read_parquet(&bytes).unwrap();
    for name in [
        "concrete_m3",
        "controllers",
        "land_m2",
        "glass_kg",
        "aim_height_m",
        "search_may_gain",
        "cheapest_share",
        "equal_below_steel",
        "equal_above_drives",
    ] {
        assert!(table.column(name).is_some(), "{name}");
    }
    let more = run(&[&asked[..asked.len() - 1], &["9 GWh"]].concat());
    assert_eq!(more.code, Some(1), "{}", more.err);
}
