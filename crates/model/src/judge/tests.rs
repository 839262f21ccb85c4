//! Both models on the demo's field, and on plans written down.

use field::{Coupling, FirstAxis, Linkage, PlanRow};
use geometry::direction;

use super::*;
use crate::inputs::tests::{demo, design};

/// Some strings of the demo before a small aperture.
const SMALL: [(&str, &str); 5] = [
    ("strings.count", "24"),
    ("strings.mirrors", "9"),
    ("tower.aim_height", "30 m"),
    ("receiver.aperture_width", "1.6 m"),
    ("receiver.aperture_height", "1.6 m"),
];

const CARE: Care = Care {
    rounds: 400,
    seed: 1,
};

fn moment(azimuth_deg: f64, elevation_deg: f64) -> Moment {
    Moment {
        sun: direction::from_azimuth_elevation(
            azimuth_deg.to_radians(),
            elevation_deg.to_radians(),
        ),
        dni_w_m2: 900.0,
    }
}

fn moments() -> [Moment; 3] {
    [
        moment(180.0, 60.0),
        moment(110.0, 25.0),
        moment(250.0, 12.0),
    ]
}

fn trial(case: &Case) -> Trial {
    Trial::of_design(case, &design(case)).unwrap()
}

/// Apart by no more than `allowed` and four standard errors.
fn assert_close(pair: &Pair, allowed: f64, what: &str) {
    let error = pair.rays.standard_error;
    assert!(
        pair.difference().abs() < allowed + 4.0 * error,
        "{what}: {pair:?}"
    );
}

/// The fast model's own aims: 1 percentage point at an instant, 5 % of the flux at its peak.
#[test]
fn both_models_agree_at_every_moment() {
    let case = demo(&SMALL);
    for judgement in trial(&case).judge(&moments(), CARE).unwrap() {
        for (pair, name) in judgement.losses.iter().zip(LOSSES) {
            assert_close(pair, 0.01, name);
            assert!(pair.rays.standard_error < 0.003, "{name}: {pair:?}");
        }
        let product: f64 = judgement.losses[..6].iter().map(|pair| pair.fast).product();
        assert!((product / judgement.losses[6].fast - 1.0).abs() < 1e-12);
        let area_m2 = 24.0 * 9.0 * 0.95 * 0.95;
        let power_w = 900.0 * area_m2 * judgement.losses[6].rays.value;
        assert!((judgement.power_w.rays.value / power_w - 1.0).abs() < 1e-6);
        let flux = &judgement.peak_flux_w_m2;
        assert_close(flux, 0.05 * flux.rays.value, "peak flux");
    }
}

/// The fast model's year is that of an evaluation at fidelity `Every`, but for single precision in
/// suns that stand in other company.
#[test]
fn the_year_is_that_of_an_evaluation() {
    let case = demo(&SMALL);
    let year = trial(&case)
        .judge_year(&case, Care { rounds: 64, ..CARE })
        .unwrap();
    let scratch = &mut Scratch::default();
    let summary = crate::evaluate(&case, &design(&case), crate::Fidelity::Every, scratch).unwrap();
    for (pair, factor) in year.losses.iter().zip(summary.factors()) {
        assert!((pair.fast / factor - 1.0).abs() < 1e-6, "{pair:?} {factor}");
    }
    let aperture_j = summary.chain_j[summary.chain_j.len() - 1];
    assert!((year.aperture_j.fast / aperture_j - 1.0).abs() < 1e-6);
    for (pair, name) in year.losses.iter().zip(LOSSES) {
        assert_close(pair, 0.003, name);
    }
}

#[test]
fn any_number_of_threads_gives_the_same_bytes() {
    let case = demo(&SMALL);
    let trial = trial(&case);
    let care = Care {
        rounds: 70,
        seed: 5,
    };
    let judge = || trial.judge(&moments(), care).unwrap();
    let with = |threads| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build();
        pool.unwrap().install(judge)
    };
    assert_eq!(with(1), with(3));
    let other = Care { seed: 6, ..care };
    assert_ne!(with(1), trial.judge(&moments(), other).unwrap());
}

/// Mirrors 2 m apart along a line to the east, 60 m north of the tower.
fn row(string_id: &str, mirror: usize) -> PlanRow {
    let x_m = 2.0 * mirror as f64 - 8.0;
    PlanRow {
        string_id: string_id.to_owned(),
        mirror_id: mirror.to_string(),
        centre_m: Vec3::new(x_m, 60.0, 1.0),
        width_m: 1.0,
        height_m: 1.0,
        focal_length_m: 70.0,
        aim_m: None,
        coupling: (!string_id.is_empty()).then_some(Coupling {
            first_axis: FirstAxis::Along,
            bearing_rad: std::f64::consts::FRAC_PI_2,
            linkage: Linkage::EqualAngle,
        }),
    }
}

fn plan(rows: &[PlanRow], aim_height_m: f64) -> Plan {
    Plan::from_rows(rows, Vec3::new(0.0, 0.0, aim_height_m)).unwrap()
}

#[test]
fn a_mirror_with_a_drive_of_its_own_never_misses() {
    let case = demo(&SMALL);
    let together: Vec<PlanRow> = (0..9).map(|mirror| row("a", mirror)).collect();
    let alone: Vec<PlanRow> = (0..9).map(|mirror| row("", mirror)).collect();
    let worst = |rows: &[PlanRow]| {
        let trial = Trial::of_plan(&case, &design(&case), plan(rows, 30.0)).unwrap();
        let mirrors = trial.mirror_moments(&moments());
        mirrors
            .iter()
            .flatten()
            .fold(0.0, |worst: f64, mirror| worst.max(mirror.drive_error_rad))
    };
    assert!(worst(&alone) < 1e-12, "{}", worst(&alone));
    assert!(worst(&together) > 1e-3);
}

/// What bending leaves may also be drawn at random: then a paraboloid is traced, and the light is
/// nearly that of the corner-pulled square.
#[test]
fn panels_of_any_bending_are_traced() {
    let judged = |residual: &str| {
        let case = demo(&[&SMALL[..], &[("mirror.bending_residual", residual)]].concat());
        let judgement = trial(&case).judge(&moments()[..1], CARE).unwrap().remove(0);
        assert_close(&judgement.losses[6], 0.01, residual);
        judgement.losses[5].rays.value
    };
    let (square, other) = (judged("22.3 %"), judged("23 %"));
    assert!((square - other).abs() < 0.01, "{square} {other}");
    assert!(judged("0 %") >= square);
}

#[test]
fn a_sun_that_is_down_is_refused() {
    let case = demo(&SMALL);
    let down = [moment(180.0, -3.0)];
    let refused = trial(&case).judge(&down, CARE);
    assert!(matches!(refused, Err(RaysError::SunDown { .. })));
}
