//! What holds whatever the numbers: energy is kept, a larger aperture catches no less, a wider pitch
//! shades and blocks no more.

use model::Fidelity::{Every, Search};
use model::{Detail, Margins, Summary, detail};
use tautfield_tests::Works;

use crate::fields::{self, Settings};
use crate::{apart, summary};

#[test]
fn energy_is_kept() {
    for settings in fields::ALL {
        let works = Works::new(settings);
        let summary = summary(&works, Every);
        let detail = detail(&works.case, &works.design).expect("a sound design");
        check_light(&works, &summary, &detail);
        check_heat(&summary, &detail);
    }
}

/// From the sun on the glass (DNI in operation × glass area) to the aperture. Of interpolated hours
/// a few may fall below nothing and are set to it: but for them hours bring what the chain says.
fn check_light(works: &Works, summary: &Summary, detail: &Detail) {
    let sun_j = works.case.sun.year_j_m2() * summary.mirror_area_m2;
    assert!(apart(summary.chain_j[0], sun_j) < 1e-9);
    let inside_j = summary.chain_j[6];
    let mirrors_j: f64 = detail.mirrors.iter().map(|mirror| mirror.aperture_j).sum();
    assert!(apart(mirrors_j, inside_j) < 1e-9, "mirror by mirror");
    assert!(apart(detail.year.aperture_j, inside_j) < 1e-3);
}

/// From the aperture to the fence.
fn check_heat(summary: &Summary, detail: &Detail) {
    let chain = detail.year.loss_chain();
    let lost_j: f64 = chain[1..].iter().map(|(_, energy_j)| energy_j).sum();
    assert!(apart(lost_j, chain[0].1) < 1e-9, "the year's energy");
    assert_eq!(detail.year.delivered_j, summary.delivered_j);
    let hours_j = detail.hours.iter().map(|hour| hour.delivered_w * 3600.0);
    assert!(
        apart(hours_j.sum(), summary.delivered_j) < 1e-9,
        "hour by hour"
    );
    assert!(summary.delivered_j < summary.receiver_out_j);
    assert!(summary.receiver_out_j < summary.chain_j[6]);
}

/// The summary of a field that fills all its places, so that no choice of places interferes.
fn full(settings: Settings, more: &[(&'static str, &str)]) -> Summary {
    let few: Vec<_> = more
        .iter()
        .copied()
        .chain([("strings.count", "10")])
        .collect();
    let margins = summary(&fields::with(settings, &few), Search).margins;
    let places = Margins::keys().iter().position(|key| *key == "places");
    let found = 10.0 * (margins.values()[places.expect("a known key")] + 1.0);
    let count = format!("{found:.0}");
    let all: Vec<_> = more
        .iter()
        .copied()
        .chain([("strings.count", count.as_str())])
        .collect();
    summary(&fields::with(settings, &all), Every)
}

#[test]
fn a_larger_aperture_catches_no_less() {
    let mut before = 0.0;
    for side in ["1.5 m", "2 m", "2.5 m", "3 m", "4 m", "5 m"] {
        let summary = full(
            fields::SOUTHERN,
            &[
                ("receiver.aperture_width", side),
                ("receiver.aperture_height", side),
                ("strings.aim_spread", "0 %"),
                ("field.outer_radius", "2.5"),
            ],
        );
        let intercept = summary.factors()[5];
        println!("{side}: {intercept:.5}");
        assert!(intercept >= before);
        before = intercept;
    }
    assert!(before > 0.99);
}

#[test]
fn a_wider_pitch_shades_and_blocks_no_more() {
    for settings in [fields::RADIAL_ON_RAILS, fields::SOUTHERN] {
        let mut before = 0.0;
        for pitch_ratio in ["1.1", "1.3", "1.6", "2"] {
            let summary = full(
                settings,
                &[
                    ("strings.pitch_ratio", pitch_ratio),
                    ("field.outer_radius", "2"),
                ],
            );
            let factors = summary.factors();
            let lit = factors[1] * factors[2];
            println!("{pitch_ratio}: {lit:.5}");
            assert!(lit > before);
            before = lit;
        }
    }
}
