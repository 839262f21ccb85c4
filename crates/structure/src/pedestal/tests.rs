//! Heliostats of 2 to 150 m²: masses against published ones, and what rises with what.

use proptest::prelude::*;

use super::*;
use crate::{Footing, Glass, Terrain, TubeUse, Tubes, WindCode};

/// Kept on target up to 12 m/s; gusts of 22 m/s in any position and of 40 m/s in stow (Stine & Geyer,
/// second-hand), which EN's peaks have at means of 14.5 and 27 m/s.
const WIND: Wind = Wind {
    code: WindCode::En1991,
    terrain: Terrain::OPEN,
    air_density_kg_m3: 1.2,
    operate_m_s: 12.0,
    drive_to_stow_m_s: 14.5,
    survive_m_s: 27.0,
    rms_operating_m_s: 5.0,
};

fn heliostat(area_m2: f64, largest_m: f64) -> PedestalInputs {
    let facets = Facets::filling(area_m2, 1.2, largest_m, 0.02);
    PedestalInputs {
        facets,
        panel: Panel {
            glass: Glass::ANNEALED,
            side_m: facets.side_m,
            thickness_m: 0.004,
            shortest_focal_length_m: 60.0,
        },
        clearance_m: 0.3,
        wind: WIND,
        rules: Rules {
            stow_misfit_rad: 0.01,
            sway_limit_rad: 1.5e-3,
            twist_limit_rad: 1.5e-3,
            star_droop_limit_rad: 1.5e-3,
            footing: Footing::Augered {
                hole_diameter_m: 0.25,
            },
            ..Rules::customary()
        },
    }
}

fn sized(area_m2: f64) -> PedestalParts {
    size_pedestal(&heliostat(area_m2, 0.95)).unwrap()
}

#[test]
fn facets_fill_their_area() {
    for (area_m2, columns, rows) in [(0.5, 1, 1), (4.0, 3, 2), (148.0, 14, 12)] {
        let facets = Facets::filling(area_m2, 1.2, 0.95, 0.02);
        assert_eq!((facets.columns, facets.rows), (columns, rows), "{area_m2}");
        assert!((facets.area_m2() / area_m2 - 1.0).abs() < 1e-12);
        assert!(facets.side_m <= 0.95);
    }
}

/// Published masses of steel and glass: 30–40 kg/m² for large heliostats, 20–25 for light small ones,
/// band 18–45 (from memory). Ours weigh 42 at 148 m², a twentieth above the published large ones, and
/// 24–28 up to 8 m², a fifth above the light ones: every part is sized for the peak in any position.
#[test]
fn masses_lie_in_the_published_band() {
    for (area_m2, from, to) in [
        (2.0, 20.0, 30.0),
        (8.0, 20.0, 30.0),
        (30.0, 22.0, 32.0),
        (50.0, 25.0, 36.0),
        (148.0, 30.0, 45.0),
    ] {
        let parts = sized(area_m2);
        let kg_m2 = parts.masses.total_kg() / area_m2;
        assert!((from..to).contains(&kg_m2), "{area_m2} {kg_m2}");
        assert!(parts.holds(), "{area_m2} {:?}", parts.worst());
    }
}

/// Steel and drives without glass. Published: 30–40 kg/m² in all for large heliostats, 20–25 for light small
/// ones (from memory), less 10 and 7.5 of glass of 4 and 3 mm: 20–30 and 12.5–17.5. Ours, at a best area of
/// some 30 m², take 18.5 between the two, and 31.9 at 148 m², a sixteenth above the large ones. Per square
/// metre, what the wind sets (tube, pedestal, drives: 24.2 of it, 11.1 at 30 m²) falls as the root of the area,
/// as the parts set by loads do in Blackmon's cost law (Solar Energy 97, 2013, 342; exponent from memory);
/// stars and trusses (7.8 and 7.4) hardly fall, since panels and sags ask for them whatever the area.
#[test]
fn steel_at_the_best_area_lies_between_published_light_and_large_ones() {
    let steel_kg_m2 = |parts: &PedestalParts| {
        let masses = &parts.masses;
        (masses.total_kg() - masses.glass_kg) / parts.glass_area_m2
    };
    let loaded_kg_m2 = |parts: &PedestalParts| {
        let masses = &parts.masses;
        (masses.tube_kg + masses.pedestal_kg + masses.drives_kg) / parts.glass_area_m2
    };
    let (best, large) = (sized(30.0), sized(148.0));
    let [best_kg_m2, large_kg_m2] = [&best, &large].map(steel_kg_m2);
    assert!((17.5..20.0).contains(&best_kg_m2), "{best_kg_m2}");
    assert!((20.0..1.07 * 30.0).contains(&large_kg_m2), "{large_kg_m2}");
    let by_root = loaded_kg_m2(&large) * (30.0f64 / 148.0).sqrt();
    assert!(
        (loaded_kg_m2(&best) / by_root - 1.0).abs() < 0.05,
        "{by_root}"
    );
    let unloaded = |parts: &PedestalParts| steel_kg_m2(parts) - loaded_kg_m2(parts);
    assert!((unloaded(&best) / unloaded(&large) - 1.0).abs() < 0.1);
}

/// Moments grow as area^1.5 at an even pressure (Peterka & Derickson), and pressure with height.
#[test]
fn torques_outgrow_the_area() {
    let (small, large) = (sized(16.0), sized(64.0));
    let ratio = large.azimuth_torque_n_m / small.azimuth_torque_n_m;
    assert!((8.0..14.0).contains(&ratio), "{ratio}");
    // By hand: 0.7·q·A·H at 14.5 m/s, with the gust at 18 % carried over by (1 + 7I).
    let inputs = heliostat(16.0, 0.95);
    let gust_pa = WIND.gust_pressure_pa(14.5, inputs.axis_height_m());
    let by_hand = 0.7 * gust_pa / 2.26 * 16.0 * inputs.facets.height_m();
    assert!((small.azimuth_torque_n_m / by_hand - 1.0).abs() < 1e-9);
}

/// One mirror needs neither truss nor tube; many small facets on the same area do.
#[test]
fn a_single_mirror_has_no_frame() {
    let single = size_pedestal(&heliostat(0.9, 1.0)).unwrap();
    assert_eq!(
        (single.masses.trusses_kg, single.masses.tube_kg),
        (0.0, 0.0)
    );
    assert!(single.masses.mount_kg > 0.0 && single.errors.frame_droop_rad == 0.0);
    let many = size_pedestal(&heliostat(0.9, 0.5)).unwrap();
    assert!(many.masses.trusses_kg > 0.0 && many.masses.mount_kg == 0.0);
}

/// The pieces and the brackets weigh what the parts do, be the frame of plain tubes or of trusses: webs of
/// 8 diagonals, 0.15 of a truss long, are 0.6 of two chords. Ten columns of 0.95 m and nine gaps of 20 mm
/// are 9.68 m.
#[test]
fn pieces_weigh_what_the_parts_do() {
    let mut webbed = 0;
    for (area_m2, largest_m) in [
        (0.9, 1.0),
        (2.0, 0.95),
        (16.0, 0.95),
        (60.0, 0.95),
        (148.0, 1.2),
    ] {
        let inputs = heliostat(area_m2, largest_m);
        let (parts, cut) = (
            size_pedestal(&inputs).unwrap(),
            heliostat_cut_list(&inputs).unwrap(),
        );
        let metres = |tubes: &Tubes| tubes.pieces.length_m * tubes.pieces.count as f64;
        let pieces_kg: f64 = cut
            .iter()
            .map(|tubes| metres(tubes) * tubes.section.kg_m())
            .sum();
        let wanted_kg = parts.masses.sections_kg() - parts.masses.brackets_kg();
        assert!(
            (pieces_kg / wanted_kg - 1.0).abs() < 1e-9,
            "{area_m2}: {pieces_kg} {wanted_kg}"
        );
        let of = |wanted: TubeUse| cut.iter().find(|tubes| tubes.used_for == wanted);
        let columns = inputs.facets.columns;
        match parts.sizes.truss {
            None => assert_eq!(cut.len(), 2, "a single mirror's star and pedestal"),
            Some(Truss { depth_m: None, .. }) => {
                assert_eq!(of(TubeUse::Truss).unwrap().pieces.count, columns);
                assert_eq!(of(TubeUse::Web), None);
            }
            Some(_) => {
                webbed += 1;
                let (chords, webs) = (of(TubeUse::Truss).unwrap(), of(TubeUse::Web).unwrap());
                assert_eq!(
                    [chords, webs].map(|one| one.pieces.count),
                    [2 * columns, 8 * columns]
                );
                assert!((metres(webs) / metres(chords) - 0.6).abs() < 1e-12);
            }
        }
    }
    assert!(
        (1..4).contains(&webbed),
        "both kinds of frame are looked at: {webbed}"
    );
    let wide = Facets {
        columns: 10,
        rows: 8,
        side_m: 0.95,
        gap_m: 0.02,
    };
    let mut inputs = heliostat(72.2, 0.95);
    inputs.facets = wide;
    let cut = heliostat_cut_list(&inputs).unwrap();
    let tube = cut
        .iter()
        .find(|tubes| tubes.used_for == TubeUse::TorqueTube)
        .unwrap();
    assert!((tube.pieces.length_m - 9.68).abs() < 1e-9 && tube.pieces.count == 1);
}

#[test]
fn errors_keep_their_limits() {
    for area_m2 in [4.0, 30.0, 100.0] {
        let errors = sized(area_m2).errors;
        assert!(errors.frame_droop_rad <= 1.5e-3 * 2f64.sqrt());
        assert!(errors.sway_rad <= 1.5e-3 && errors.star_droop_rad <= 1.5e-3);
    }
}

/// A driven pedestal needs no concrete and reaches deeper than a pier.
#[test]
fn a_pedestal_is_driven_or_stands_in_a_pier() {
    let mut inputs = heliostat(4.0, 0.95);
    let pier = size_pedestal(&inputs).unwrap();
    inputs.rules.footing = Footing::Driven;
    let driven = size_pedestal(&inputs).unwrap();
    assert!(pier.concrete_m3 > 0.0 && driven.concrete_m3 == 0.0);
    assert!(driven.embedded_m > pier.embedded_m && driven.pier_m.is_none());
}

#[test]
fn inputs_that_cannot_be_are_refused_by_name() {
    let mut inputs = heliostat(4.0, 0.95);
    inputs.clearance_m = 0.0;
    let error = size_pedestal(&inputs).unwrap_err().to_string();
    assert!(error.starts_with("clearance_m is 0"), "{error}");
    inputs.facets.columns = 0;
    let error = size_pedestal(&inputs).unwrap_err();
    assert_eq!(error, StructureError::NoMirrors);
}

proptest! {
    /// No part gets lighter, and no foundation smaller, as any of the four winds rises or as the
    /// facets grow with the mirror.
    #[test]
    fn no_mass_falls_as_the_wind_rises(
        which in 0..4_usize,
        from_m_s in 3.0..30.0_f64,
        rise_m_s in 0.0..15.0_f64,
        area_m2 in 0.5..150.0_f64,
    ) {
        let at = |speed_m_s: f64| {
            let mut inputs = heliostat(area_m2, 0.95);
            let wind = &mut inputs.wind;
            *[
                &mut wind.operate_m_s,
                &mut wind.drive_to_stow_m_s,
                &mut wind.survive_m_s,
                &mut wind.rms_operating_m_s,
            ][which] = speed_m_s;
            size_pedestal(&inputs).unwrap()
        };
        let (calm, windy) = (at(from_m_s), at(from_m_s + rise_m_s));
        let amounts = |parts: &PedestalParts| {
            let masses = &parts.masses;
            [
                masses.stars_kg,
                masses.trusses_kg,
                masses.tube_kg,
                masses.mount_kg,
                masses.pedestal_kg,
                parts.concrete_m3,
                parts.azimuth_torque_n_m,
            ]
        };
        for (before, after) in amounts(&calm).iter().zip(amounts(&windy)) {
            prop_assert!(after >= before - 1e-9, "{before} {after}");
        }
    }
}
