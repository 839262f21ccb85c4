//! Figures over a year, for strings of known size on a field at 35° north.

use field::{FirstAxis, Plan, Stance};
use geometry::Vec3;

use super::{AXES, Place, exact_mechanism, lanes_of, one_string, sun_at};
use crate::{Drives, Mechanism, Tolerances, any_common_rotation_rms_rad};

const LATITUDE_DEG: f64 = 35.0;

/// Suns of eight days of the year, each hour that they stand more than 10° high, from declination
/// and hour angle on a sphere.
fn suns() -> Vec<Vec3> {
    let latitude_rad = LATITUDE_DEG.to_radians();
    let (sin_latitude, cos_latitude) = libm::sincos(latitude_rad);
    let mut suns = Vec::new();
    for day in 0..8 {
        let declination_rad = 23.45f64.to_radians()
            * libm::sin(f64::from(2 * day + 1) / 16.0 * std::f64::consts::TAU);
        let (sin_declination, cos_declination) = libm::sincos(declination_rad);
        for hour in 5..20 {
            let (sin_hour, cos_hour) = libm::sincos((f64::from(hour) - 12.0) * 15f64.to_radians());
            let sun = Vec3::new(
                -cos_declination * sin_hour,
                sin_declination * cos_latitude - cos_declination * cos_hour * sin_latitude,
                sin_declination * sin_latitude + cos_declination * cos_hour * cos_latitude,
            );
            if sun.z > libm::sin(10f64.to_radians()) {
                suns.push(sun);
            }
        }
    }
    suns
}

/// Nine mirrors east–west, 45 m from the tower's foot.
fn east_west(azimuth_deg: f64, axis: FirstAxis) -> Plan {
    let place = Place {
        azimuth_deg,
        distance_m: 45.0,
        bearing_deg: 90.0,
        mirrors: 9,
        pitch_m: 1.17,
        height_m: 1.2,
        aim_m: 32.0,
    };
    one_string(&place, axis)
}

fn mean(values: impl Iterator<Item = f64>) -> f64 {
    let (sum, count) = values.fold((0.0, 0.0), |(sum, count), value| (sum + value, count + 1.0));
    sum / count
}

fn yearly_residual_mrad(azimuth_deg: f64, axis: FirstAxis) -> f64 {
    let plan = east_west(azimuth_deg, axis);
    let drives = Drives::prepare(&plan, &exact_mechanism(LATITUDE_DEG, sun_at(180.0, 55.0)));
    1e3 * mean(
        suns()
            .into_iter()
            .map(|sun| drives.rms_residual_rad(&plan, 0, sun)),
    )
}

fn yearly_bound_mrad(azimuth_deg: f64) -> f64 {
    let plan = east_west(azimuth_deg, FirstAxis::Along);
    let aligned = sun_at(180.0, 55.0);
    1e3 * mean(
        suns()
            .into_iter()
            .map(|sun| any_common_rotation_rms_rad(&plan, 0, aligned, sun)),
    )
}

/// Rms over the suns of the beam spread, in plane and across together, from post tilt alone.
fn yearly_tilt_spread_rad(azimuth_deg: f64, axis: FirstAxis, post_tilt_rad: f64) -> f64 {
    let plan = east_west(azimuth_deg, axis);
    let mechanism = Mechanism {
        tolerances: Tolerances {
            post_tilt_rad,
            ..Tolerances::default()
        },
        ..exact_mechanism(LATITUDE_DEG, sun_at(180.0, 55.0))
    };
    let drives = Drives::prepare(&plan, &mechanism);
    let mut stance = Stance::default();
    let variance_rad2 = mean(suns().into_iter().map(|sun| {
        drives.stand(&plan, 0, &lanes_of(sun), &mut stance);
        stance.blur_in_plane_rad2[4][0] + stance.blur_across_rad2[4][0]
    }));
    variance_rad2.sqrt()
}

/// Independent calculation of the same strings for another latitude, alignment and choice of suns:
/// 1.5, 3.3 and 4.7 mrad with the first axis along the string at azimuths 0, 30 and 55°, 15, 14
/// and 12 mrad with a vertical one. Sun weights alone move such means by a tenth.
#[test]
fn residuals_over_the_year_are_of_the_known_size() {
    let known = [
        (FirstAxis::Along, [1.5, 3.3, 4.7]),
        (FirstAxis::Vertical, [15.0, 14.0, 12.0]),
    ];
    for (axis, wanted_mrad) in known {
        for (azimuth_deg, wanted_mrad) in [0.0, 30.0, 55.0].into_iter().zip(wanted_mrad) {
            let got_mrad = yearly_residual_mrad(azimuth_deg, axis);
            assert!(
                (got_mrad / wanted_mrad - 1.0).abs() < 0.15,
                "{axis:?}: {got_mrad}"
            );
        }
    }
}

/// Independent calculation: 1.5, 1.6 and 1.6 mrad at azimuths 0, 30 and 55°; ours lies at or a
/// little below it because the fit is taken anew under every sun.
#[test]
fn the_bound_over_the_year_is_of_the_known_size() {
    for (azimuth_deg, wanted_mrad) in [(0.0, 1.5), (30.0, 1.6), (55.0, 1.6)] {
        let got_mrad = yearly_bound_mrad(azimuth_deg);
        assert!(
            got_mrad < 1.05 * wanted_mrad && got_mrad > 0.7 * wanted_mrad,
            "{got_mrad}"
        );
    }
}

/// Independent calculation: a post tilt of 1 mrad per component costs about 0.7 mrad of beam over
/// a year, 5 mrad about 3.5. Taken as the mean over four first axes and three azimuths; a vertical
/// axis alone costs about 1.2 mrad, a polar one 0.5.
#[test]
fn a_milliradian_of_post_tilt_costs_seven_tenths_of_beam() {
    let spread_mrad = |tilt_mrad: f64| {
        let places = AXES
            .into_iter()
            .flat_map(|axis| [0.0, 30.0, 55.0].map(|place| (axis, place)));
        1e3 * mean(
            places.map(|(axis, place)| yearly_tilt_spread_rad(place, axis, tilt_mrad * 1e-3)),
        )
    };
    assert!(
        (spread_mrad(1.0) - 0.7).abs() < 0.07,
        "{}",
        spread_mrad(1.0)
    );
    assert!((spread_mrad(5.0) - 3.5).abs() < 0.35);
}
