//! One file may hold several concepts of field; a scenario stands for one.

use super::{DEMO, load_text, load_with};
use crate::*;

const BOTH: &str = "
[pedestals]
count = { from = 20, to = 200, step = 10, start = 100 }
area = { from = \"2 m2\", to = \"80 m2\", step = \"1 m2\", start = \"30 m2\" }

[singles]
count = 1500
side = \"1.5 m\"
";

fn with_concept(word: &str) -> Scenario {
    let overrides = [("concept".to_owned(), word.to_owned())];
    let text = format!("{DEMO}{BOTH}");
    load("a.toml", &text, &super::no_base, &overrides).unwrap_or_else(|errors| panic!("{errors}"))
}

#[test]
fn a_scenario_stands_for_one_concept_of_its_file() {
    for (word, concept) in Concept::ALL {
        let scenario = with_concept(word);
        assert_eq!(scenario.concept(), concept);
        let others = Concept::ALL.iter().filter(|(other, _)| *other != word);
        for (other, _) in others {
            let prefix = format!("{other}.");
            assert!(!scenario.hash_text().contains(&prefix), "{word} {other}");
            assert!(
                scenario
                    .resolved()
                    .iter()
                    .all(|one| !one.key.starts_with(&prefix))
            );
            assert!(
                scenario
                    .space
                    .variables()
                    .iter()
                    .all(|one| !one.path().starts_with(&prefix))
            );
        }
        assert_eq!(scenario.field.sector_half_rad, 60f64.to_radians());
    }
}

#[test]
fn heliostats_are_read_in_si() {
    let pedestals = with_concept("pedestals");
    let design = pedestals.space.design(&pedestals.space.start());
    let FieldDesign::Pedestals(field) = &design.field else {
        panic!("{design:?}");
    };
    assert_eq!((field.count, field.area_m2), (100, 30.0));
    assert_eq!((field.largest_panel_m, field.width_over_height), (1.0, 1.2));
    assert_eq!(field.footing, Footing::Drilled);
    assert_eq!(pedestals.heliostats.panel_setting_rad, 0.7e-3);
    let singles = with_concept("singles");
    let design = singles.space.design(&singles.space.start());
    let FieldDesign::Singles(field) = &design.field else {
        panic!("{design:?}");
    };
    assert_eq!((field.count, field.area_m2), (1500, 2.25));
    assert_eq!((field.largest_panel_m, field.width_over_height), (1.5, 1.0));
    assert_eq!(singles.heliostats.panel_setting_rad, 0.0);
}

/// What another concept holds changes neither hash nor space, whatever it is, but must be sound.
#[test]
fn other_concepts_are_checked_and_left_aside() {
    let plain = load_text(DEMO).unwrap();
    let both = load_text(&format!("{DEMO}{BOTH}")).unwrap();
    assert_eq!(plain.hash_text(), both.hash_text());
    assert_eq!(plain.space, both.space);
    let wrong = format!("{DEMO}{}", BOTH.replace("\"1.5 m\"", "\"1.5\""));
    let told = load_text(&wrong).expect_err("no unit").to_string();
    assert!(told.contains("singles.side: 1.5 has no unit"), "{told}");
    let wrong = format!("{DEMO}{}", BOTH.replace("step = 10", "step = 500"));
    let told = load_text(&wrong).expect_err("a step too long").to_string();
    assert!(told.contains("pedestals.count"), "{told}");
}

#[test]
fn what_the_chosen_concept_needs_must_be_there() {
    let told = load_with(&[("concept", "pedestals")]).expect_err("no pedestals");
    let told = told.to_string();
    assert!(
        told.contains("pedestals.count") && told.contains("pedestals.area"),
        "{told}"
    );
    assert!(!told.contains("singles"), "{told}");
    let told = load_with(&[("concept", "dishes")]).expect_err("no such concept");
    assert!(told.to_string().contains("pedestals"), "{told}");
}

#[test]
fn moved_keys_are_told_where_they_went() {
    let told = load_with(&[("strings.sector", "50 deg")]).expect_err("moved");
    assert!(told.to_string().contains("[field]"), "{told}");
    let told = load_with(&[("glass.edge", "polished")]).expect_err("gone");
    assert!(told.to_string().contains("edges are seamed"), "{told}");
}
