//! Loading as a whole: the demo, its space, layers, origins, and that nothing makes it panic.

mod concepts;
mod faults;
mod rates;

use std::f64::consts::PI;

use proptest::prelude::*;

use crate::*;

/// A scenario of the tests' own, so that tuning the demo breaks none of them.
pub(crate) const DEMO: &str = include_str!("tests/steam.toml");
const SHIPPED: &str = include_str!("../../../scenarios/process-steam.toml");
const SCHEMA: &str = include_str!("../../../scenarios/scenario.schema.json");

pub(crate) fn no_base(path: &str) -> Result<String, String> {
    Err(format!("{path} is not there"))
}

pub(crate) fn load_text(text: &str) -> Result<Scenario, ScenarioErrors> {
    load("a.toml", text, &no_base, &[])
}

fn load_with(overrides: &[(&str, &str)]) -> Result<Scenario, ScenarioErrors> {
    let overrides: Vec<_> = overrides
        .iter()
        .map(|(key, value)| ((*key).to_owned(), (*value).to_owned()))
        .collect();
    load("demo.toml", DEMO, &no_base, &overrides)
}

fn demo() -> Scenario {
    load_with(&[]).unwrap_or_else(|errors| panic!("{errors}"))
}

fn strings(design: &Design) -> &StringsDesign {
    design.field.strings().unwrap()
}

#[test]
fn the_demo_is_in_si() {
    let scenario = demo();
    assert_eq!(scenario.site.latitude_rad, 37.1 * PI / 180.0);
    assert_eq!(scenario.site.utc_offset_h, 1.0);
    assert_eq!(scenario.heat.delivery_pressure_pa, 1.6e6);
    assert_eq!(scenario.heat.condensate_temperature_k, 358.15);
    assert_eq!(scenario.heat.demand.power_w, 3e6);
    assert_eq!(scenario.heat.demand.to_s, 22.0 * 3600.0);
    assert_eq!(scenario.finance.life_years, 25.0);
    let WeatherSource::Monthly(months) = &scenario.weather.source else {
        panic!("monthly")
    };
    let year_kwh_m2 = months.dni_j_m2.iter().sum::<f64>() / 3.6e6;
    assert!((2150.0..=2250.0).contains(&year_kwh_m2), "{year_kwh_m2}");
}

#[test]
fn the_start_is_a_design() {
    let scenario = demo();
    let design = scenario.space.design(&scenario.space.start());
    let strings = strings(&design);
    assert_eq!((strings.count, strings.mirrors), (250, 15));
    assert_eq!((strings.side_m, strings.glass_thickness_m), (0.95, 0.005));
    assert_eq!((strings.pitch_ratio, strings.row_growth), (1.28, 0.01));
    assert_eq!(strings.bearing, BearingRule::Fan { share: 0.33 });
    assert_eq!(strings.first_axis, FirstAxis::Along);
    assert_eq!((design.aim_height_m, design.aperture_width_m), (40.0, 3.4));
    assert_eq!(design.storage_j, 3.6e9);
}

#[test]
fn the_shipped_demo_holds_together() {
    let demo =
        load("demo.toml", SHIPPED, &no_base, &[]).unwrap_or_else(|errors| panic!("{errors}"));
    assert!(
        demo.space.variables().len() >= 11,
        "search opens what a search is for"
    );
}

/// The contract of exact steps: at every index of every range the text reads back to the same
/// double as the design holds, and the text leads back to the index.
#[test]
fn every_step_goes_to_text_and_back() {
    // Mounts high enough for every panel side of the range.
    let scenario = load_with(&[("strings.mount_height", "1.3 m")]).unwrap();
    let space = &scenario.space;
    for (at, variable) in space.variables().iter().enumerate() {
        for index in 0..variable.count() {
            let mut key = space.start();
            key.0[at] = index;
            let texts = space.text(&key);
            let borrowed: Vec<_> = texts
                .iter()
                .map(|(path, text)| (*path, text.as_str()))
                .collect();
            assert_eq!(
                space.key_of(&borrowed),
                Some(key.clone()),
                "{variable:?} {index}"
            );
            let mut set = borrowed;
            set.push(("strings.mount_height", "1.3 m"));
            let fixed = load_with(&set).unwrap_or_else(|errors| panic!("{errors}"));
            assert_eq!(fixed.space.design(&fixed.space.start()), space.design(&key));
        }
    }
}

#[test]
fn steps_land_on_the_decimal_written() {
    let scenario = demo();
    let side = scenario
        .space
        .variables()
        .iter()
        .find(|one| one.path() == "strings.side")
        .unwrap();
    assert_eq!(side.count(), 91);
    assert_eq!(
        (side.text(0).as_str(), side.text(90).as_str()),
        ("0.6 m", "1.5 m")
    );
    assert_eq!((side.text(7).as_str(), side.si(7)), ("0.67 m", Some(0.67)));
}

#[test]
fn every_opened_quantity_has_a_unit_of_si() {
    let scenario = demo();
    let variables = scenario.space.variables();
    for variable in variables.iter().filter(|one| one.si(0).is_some()) {
        let is_whole = ["strings.count", "strings.mirrors"].contains(&variable.path());
        assert_eq!(variable.si_unit().is_none(), is_whole, "{variable:?}");
    }
    let unit_of = |path: &str| {
        let found = variables.iter().find(|one| one.path() == path).unwrap();
        found.si_unit()
    };
    assert_eq!(unit_of("strings.side"), Some("m"));
    assert_eq!(unit_of("strings.pitch_ratio"), Some("1"));
    assert_eq!(unit_of("strings.aim_spread"), Some("1"));
    assert_eq!(unit_of("storage.capacity"), Some("J"));
    assert_eq!(unit_of("strings.mirrors"), None);
}

#[test]
fn a_range_keeps_the_unit_it_is_written_in() {
    let side = r#"{ from = "24 in", to = "60 in", step = "0.5 in", start = "37.5 in" }"#;
    let scenario = load_with(&[("strings.side", side)]).unwrap();
    let texts = scenario.space.text(&scenario.space.start());
    assert!(
        texts.contains(&("strings.side", "37.5 in".to_owned())),
        "{texts:?}"
    );
    let design = scenario.space.design(&scenario.space.start());
    assert_eq!(strings(&design).side_m, 0.9525);
}

#[test]
fn a_range_without_a_step_has_a_thousand() {
    let scenario = load_with(&[
        (
            "strings.side",
            r#"{ from = "0.75 m", to = "1.25 m", start = "0.95 m" }"#,
        ),
        ("strings.count", "{ from = 100, to = 1600 }"),
        ("strings.mirrors", "{ from = 5, to = 31 }"),
    ])
    .unwrap();
    let counts: Vec<_> = scenario
        .space
        .variables()
        .iter()
        .map(|one| (one.path(), one.count()))
        .collect();
    assert_eq!(counts[0], ("strings.count", 1501));
    assert_eq!(counts[1], ("strings.mirrors", 27));
    assert_eq!(counts[2], ("strings.side", 1001));
    let texts = scenario.space.text(&scenario.space.start());
    assert_eq!(texts[2].1, "0.95 m");
    assert_eq!(texts[1].1, "18", "the middle, where no start is given");
}

#[test]
fn overrides_lie_over_the_file() {
    let scenario = load_with(&[
        ("strings.side", "0.8 m"),
        ("strings.side", "30 in"),
        ("strings.mirrors", "9"),
        ("heat.demand.days", "monday to friday"),
        (
            "strings.alignment",
            r#"{ azimuth = "170 deg", elevation = "45 deg" }"#,
        ),
    ])
    .unwrap();
    let design = scenario.space.design(&scenario.space.start());
    assert_eq!(
        (strings(&design).side_m, strings(&design).mirrors),
        (0.762, 9)
    );
    assert_eq!(scenario.heat.demand.days, WorkDays::MondayToFriday);
    assert_eq!(scenario.strings.alignment.elevation_rad, PI / 4.0);
    let side = scenario
        .resolved()
        .into_iter()
        .find(|one| one.key == "strings.side")
        .unwrap();
    assert_eq!((side.text.as_str(), side.unit.as_str()), ("30 in", "in"));
    assert_eq!(side.origin, Origin::Override);
}

#[test]
fn a_file_lies_over_its_base() {
    let top = "base = \"deep/demo.toml\"\ntitle = \"Lower\"\n\n[tower]\naim_height = \"35 m\"\n";
    let read = |path: &str| match path {
        "sites/deep/demo.toml" => Ok(DEMO.to_owned()),
        other => Err(format!("asked for {other}")),
    };
    let scenario =
        load("sites/top.toml", top, &read, &[]).unwrap_or_else(|errors| panic!("{errors}"));
    assert_eq!(scenario.title, "Lower");
    assert_eq!(
        scenario.space.design(&scenario.space.start()).aim_height_m,
        35.0
    );
    assert_eq!(
        scenario.space.variables().len(),
        demo().space.variables().len() - 1
    );
    let origin = |key: &str| {
        let found = scenario
            .resolved()
            .into_iter()
            .find(|one| one.key == key)
            .unwrap();
        found.origin.to_string()
    };
    assert_eq!(origin("tower.aim_height"), "sites/top.toml:5");
    assert_eq!(origin("site.latitude"), "sites/deep/demo.toml:9");
    assert_eq!(origin("mirror.reflectance"), "default");
}

#[test]
fn every_key_is_told_once() {
    let resolved = demo().resolved();
    let mut keys: Vec<_> = resolved.iter().map(|one| one.key.clone()).collect();
    keys.sort();
    keys.dedup();
    assert_eq!(keys.len(), resolved.len());
    let optional = [
        "base",
        "weather.file",
        "weather.files",
        "weather.sun_angles",
        "weather.sun_brightness",
        "mirror.cleanliness",
        "rates.file",
        "heat.cold_temperature",
        "heat.hot_temperature",
        "heat.demand.file",
        "search.duty",
    ];
    let own = table::keys().filter(|key| key.concept().is_none_or(|one| one == Concept::Strings));
    let missing: Vec<_> = own
        .map(|key| key.path)
        .filter(|path| !optional.contains(path) && !keys.iter().any(|key| key == path))
        .collect();
    assert_eq!(missing, Vec::<&str>::new());
    assert!(keys.iter().any(|key| key == "rates.steel"));
}

#[test]
fn the_ledger_keeps_its_own_starting_point() {
    let untouched = load_text(&starter()).unwrap_or_else(|errors| panic!("{errors}"));
    assert_eq!(untouched.rates, ledger::Rates::default_usd());
    let (ours, theirs) = (untouched.finance, ledger::Finance::starting_point());
    assert_eq!(ours.contingency_unproven, theirs.contingency_unproven);
    assert!((ours.gas.energy_price_per_j / theirs.gas.energy_price_per_j - 1.0).abs() < 1e-12);
}

#[test]
fn rates_are_set_in_the_bills_own_unit() {
    let scenario = load_with(&[
        ("rates.steel", "2600 USD/t"),
        ("rates.assembly", "31 USD/h"),
    ])
    .unwrap();
    assert_eq!(scenario.rates.get(ledger::Item::Steel).value, 2.6);
    assert_eq!(scenario.rates.get(ledger::Item::Assembly).value, 31.0);
    let steel = scenario
        .resolved()
        .into_iter()
        .find(|one| one.key == "rates.steel")
        .unwrap();
    assert_eq!(
        (steel.text.as_str(), steel.origin),
        ("2.6 USD/kg", Origin::Override)
    );
}

#[test]
fn a_sun_is_tabled_in_any_unit_of_angle() {
    let scenario = load_with(&[
        ("weather.sun_shape", "table"),
        ("weather.sun_angles", "[\"0 deg\", \"4.65 mrad\"]"),
        ("weather.sun_brightness", "[1200, 400.5]"),
    ]);
    let weather = scenario.unwrap().weather;
    assert_eq!(weather.sun_shape, SunShape::Table);
    assert_eq!(weather.sun_angles_rad, [0.0, 0.00465]);
    assert_eq!(weather.sun_brightness, [1200.0, 400.5]);
}

#[test]
fn the_south_looks_the_other_way() {
    let south = load_with(&[("site.latitude", "-30 deg")]).unwrap();
    assert_eq!(south.field.sector_centre_rad, PI);
    assert_eq!(south.strings.alignment.azimuth_rad, 0.0);
    assert_eq!(demo().field.sector_centre_rad, 0.0);
}

#[test]
fn a_weather_file_stands_in_for_months() {
    let text = DEMO
        .lines()
        .filter(|line| !line.contains("kWh/m2\"") && !line.contains("degC\","))
        .collect::<Vec<_>>()
        .join("\n");
    let text = text
        .replace("monthly_dni = [\n]", "file = \"year.epw\"")
        .replace("monthly_temperature = [\n]\n", "");
    let scenario = load_text(&text).unwrap_or_else(|errors| panic!("{errors}"));
    let file = WeatherFile {
        paths: vec!["year.epw".to_owned()],
        format: WeatherFormat::Auto,
        bridged_gap_s: 0.0,
    };
    assert_eq!(scenario.weather.source, WeatherSource::File(file));
}

#[test]
fn the_hash_text_follows_values_only() {
    let base = demo();
    let same =
        |overrides: &[(&str, &str)]| load_with(overrides).unwrap().hash_text() == base.hash_text();
    assert!(same(&[
        ("heat.pipe_run", "0.12 km"),
        ("heat.delivery_pressure", "1.6 MPa")
    ]));
    assert!(same(&[
        ("title", "Other"),
        ("search.total", "10"),
        ("search.seed", "9")
    ]));
    assert!(same(&[
        ("finance.real_rate", "8 %"),
        ("rates.steel", "3 USD/kg")
    ]));
    assert!(!same(&[("strings.lever", "401 mm")]));
    assert!(!same(&[(
        "strings.mirrors",
        "{ from = 5, to = 31, step = 2, start = 17 }"
    )]));
    assert!(!same(&[("strings.mirrors", "15")]));
    let dearer = load_with(&[("rates.steel", "3 USD/kg")]).unwrap();
    assert_ne!(dearer.price_text(), base.price_text());
    assert!(base.price_text().contains("finance.real_rate = 0.06\n"));
    assert!(base.hash_text().contains("receiver.rating = 1.3\n"));
}

#[test]
fn the_schema_file_is_current() {
    let current = format!("{:#}\n", schema());
    assert!(
        current == SCHEMA,
        "run: cargo run -p scenario --example schema > scenarios/scenario.schema.json"
    );
}

/// Every place in the schema that takes text or a number says what for.
#[test]
fn the_schema_explains_every_value() {
    fn walk(schema: &serde_json::Value, path: &str) {
        let is_value = schema
            .get("type")
            .is_some_and(|kind| kind != "object" && kind != "array");
        assert!(!is_value || schema.get("description").is_some(), "{path}");
        if let Some(members) = schema.as_object() {
            members
                .iter()
                .for_each(|(name, member)| walk(member, &format!("{path}/{name}")));
        }
        if let Some(items) = schema.as_array() {
            items.iter().for_each(|item| walk(item, path));
        }
    }
    walk(&schema(), "");
}

fn mutated(text: &str, at: usize, remove: usize, insert: &str) -> String {
    let letters: Vec<char> = text.chars().collect();
    let at = at % letters.len();
    let rest = letters.iter().skip(at + remove);
    letters[..at]
        .iter()
        .copied()
        .chain(insert.chars())
        .chain(rest.copied())
        .collect()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, ..ProptestConfig::default() })]

    /// However a file is damaged, loading tells problems with a place or succeeds with every key; it never panics.
    #[test]
    fn damage_never_panics(
        cuts in prop::collection::vec((0_usize..10_000, 0_usize..12, "[ -~\n\"=\\[\\]{}0-9.é]{0,4}"), 1..4),
    ) {
        let text = cuts.iter().fold(DEMO.to_owned(), |text, (at, remove, insert)| mutated(&text, *at, *remove, insert));
        let loaded = load_text(&text);
        if let Ok(scenario) = &loaded {
            prop_assert!(scenario.resolved().len() >= demo().resolved().len(), "no key is dropped");
        }
        if let Err(errors) = loaded {
            prop_assert!(!errors.problems.is_empty());
            let lines = text.matches('\n').count() + 1;
            for problem in &errors.problems {
                prop_assert!((1..=lines).contains(&problem.place.line) && problem.place.column >= 1, "{}", problem);
            }
            prop_assert!(!errors.to_string().is_empty());
        }
    }

    #[test]
    fn no_override_panics(key in prop::sample::select(table::keys().map(|key| key.path).collect::<Vec<_>>()), value in "[ -~]{0,20}") {
        let _ = load_with(&[(key, &value)]);
    }

    /// Any point of the space is a design, whatever its indices.
    #[test]
    fn any_key_is_a_design(indices in prop::collection::vec(any::<u32>(), 0..20)) {
        let scenario = demo();
        let design = scenario.space.design(&DesignKey(indices));
        prop_assert!((0.6..=1.5).contains(&strings(&design).side_m));
        prop_assert!(strings(&design).mirrors % 2 == 1);
    }
}

#[test]
fn parts_of_a_mechanism_that_do_not_go_together_are_refused_where_they_stand() {
    for (linkage, offset, axis) in [
        ("equal-travel", "shim", "along"),
        ("graded", "post", "along"),
        ("sliding-lever", "shim", "vertical"),
        ("equal-angle", "lever", "roll-free"),
        ("graded", "lever", "roll-free"),
    ] {
        let errors = load_with(&[
            ("strings.linkage", linkage),
            ("strings.offset", offset),
            ("strings.first_axis", axis),
        ])
        .unwrap_err()
        .to_string();
        assert!(
            errors.contains("strings.linkage") && errors.contains("take"),
            "{errors}"
        );
    }
    for (linkage, offset, axis) in [
        ("equal-travel", "lever", "along"),
        ("sliding-lever", "lever", "roll-free"),
        ("equal-angle", "post", "roll-free"),
    ] {
        let sound = load_with(&[
            ("strings.linkage", linkage),
            ("strings.offset", offset),
            ("strings.first_axis", axis),
        ]);
        assert!(sound.is_ok(), "{linkage} {offset} {axis}");
    }
}

/// The study of string length lies over the demo, and its hot half over that.
#[test]
fn the_study_of_string_length_holds_together() {
    let length = include_str!("../../../scenarios/string-length.toml");
    let hot = include_str!("../../../scenarios/string-length-hot.toml");
    let beneath = |path: &str| match path {
        "process-steam.toml" => Ok(SHIPPED.to_owned()),
        "string-length.toml" => Ok(length.to_owned()),
        _ => Err(format!("{path} is not there")),
    };
    for (text, mirrors) in [(length, 3375), (hot, 1350)] {
        let scenario =
            load("study.toml", text, &beneath, &[]).unwrap_or_else(|errors| panic!("{errors}"));
        let design = scenario.space.design(&scenario.space.start());
        let strings = strings(&design);
        assert_eq!(strings.count * strings.mirrors, mirrors);
        assert_eq!(strings.drive.alignment_instants, 1);
    }
}

/// Salt has no steam pressure to tell, but two temperatures; what does not go together is told by line.
#[test]
fn carriers_and_duties_ask_for_what_they_need() {
    let told = |changes: &[(&str, &str)]| {
        let changes: Vec<(String, String)> = changes
            .iter()
            .map(|(key, value)| ((*key).to_owned(), (*value).to_owned()))
            .collect();
        load("a.toml", DEMO, &no_base, &changes)
    };
    let electricity = ("heat.delivers", "electricity");
    let salt = ("heat.carrier", "salt");
    let errors = told(&[electricity, salt]).unwrap_err().to_string();
    assert!(
        errors.contains("heat.cold_temperature: missing"),
        "{errors}"
    );
    assert!(errors.contains("heat.hot_temperature: missing"), "{errors}");
    let temperatures = [
        ("heat.cold_temperature", "290 degC"),
        ("heat.hot_temperature", "565 degC"),
    ];
    let scenario = told(&[electricity, salt, temperatures[0], temperatures[1]]).unwrap();
    assert_eq!(scenario.heat.carrier, Carrier::Salt);
    assert!((scenario.heat.hot_temperature_k - 838.15).abs() < 1e-9);
    for (key, value, wanted) in [
        ("heat.delivers", "electricity", "too cool for a turbine set"),
        ("heat.delivers", "hot air", "let the carrier be air"),
        ("receiver.door", "closed at rest", "only a cavity"),
    ] {
        let errors = told(&[(key, value)]).unwrap_err().to_string();
        assert!(errors.contains(wanted), "{errors}");
    }
    let swapped = [
        ("heat.carrier", "salt"),
        ("heat.cold_temperature", "565 degC"),
        ("heat.hot_temperature", "290 degC"),
    ];
    let errors = told(&swapped).unwrap_err().to_string();
    assert!(errors.contains("must be hotter"), "{errors}");
}
