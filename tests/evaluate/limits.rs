//! Designs that break a limit say which, by how much, and what they were found to keep before.

use model::Fidelity::Search;
use model::{Infeasible, Margins};
use scenario::{FieldDesign, StringsDesign};
use tautfield_tests::Works;

use crate::fields::{self, Settings};

fn refused(settings: Settings, more: &[(&'static str, &str)]) -> Infeasible {
    match fields::with(settings, more).evaluate(Search) {
        Ok(_) => panic!("{more:?} should not be possible"),
        Err(infeasible) => {
            println!("{infeasible}");
            infeasible
        }
    }
}

fn margin(margins: &Margins, key: &str) -> f64 {
    let place = Margins::keys().iter().position(|known| *known == key);
    margins.values()[place.expect("a known key")]
}

#[test]
fn glass_too_thin_for_the_storm() {
    let large = [
        ("strings.glass", "3 mm"),
        ("strings.side", "1.4 m"),
        ("strings.mount_height", "1.3 m"),
    ];
    let infeasible = refused(fields::CROSS_AND_UPRIGHT, &large);
    assert!(infeasible.reason.starts_with("glass "));
    assert!(margin(&infeasible.margins, "glass_survival") < -0.5);
    assert!(margin(&infeasible.margins, "post") > 0.0);
    assert!(margin(&infeasible.margins, "places").is_nan());
    assert!(infeasible.violation() > 0.5);
}

#[test]
fn more_strings_than_the_sector_holds() {
    let infeasible = refused(fields::DEMO, &[("strings.count", "2000")]);
    assert!(infeasible.reason.contains("places"));
    let places = margin(&infeasible.margins, "places");
    assert!(places > -1.0 && places < -0.5);
    assert!((infeasible.violation() + places).abs() < 1e-12);
    assert!(margin(&infeasible.margins, "glass_survival") > 0.0);
}

/// All round a tower near the equator panels lie nearly flat at noon: turned about upright axes by
/// an eighth of a turn they need √2 of their side.
#[test]
fn panels_that_would_touch() {
    let near_the_equator = |pitch_ratio: &'static str| {
        [
            ("site.latitude", "10 deg"),
            ("field.sector", "180 deg"),
            ("strings.pitch_ratio", pitch_ratio),
        ]
    };
    let infeasible = refused(fields::CROSS_AND_UPRIGHT, &near_the_equator("1.05"));
    assert!(infeasible.reason.contains("neighbouring panels"));
    let clash = margin(&infeasible.margins, "panel_clash");
    let worst = 1.05 / std::f64::consts::SQRT_2 - 1.0;
    assert!((worst..-0.05).contains(&clash), "{clash}");
    let wide = fields::with(fields::CROSS_AND_UPRIGHT, &near_the_equator("1.42"));
    assert!(wide.evaluate(Search).is_ok());
}

/// Mirrors that reach the ground can't be laid at all: no limit has a number for that.
#[test]
fn sizes_that_make_no_sense_together() {
    let mut works = Works::new(fields::DEMO);
    works.design.field = FieldDesign::Strings(StringsDesign {
        mount_height_m: 0.4,
        ..works.strings().clone()
    });
    let Err(infeasible) = works.evaluate(Search) else {
        panic!("mirrors of 0.95 m can't turn 0.4 m above ground");
    };
    println!("{infeasible}");
    assert!(infeasible.reason.contains("0.4"));
    assert!(infeasible.violation() > 1.0);
}
