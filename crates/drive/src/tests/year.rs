//! Figures over a year, for strings of known size on a field at 35° north.

use field::FirstAxis::{Along, RollFree, Vertical};
use field::Linkage::{EqualAngle, EqualTravel, Graded};
use field::{FirstAxis, Linkage, Plan, Stance};
use geometry::{LANES, LaneVec3, Vec3, lane};

use super::{AXES, Place, exact_mechanism, lanes_of, one_string, sun_at};
use crate::OffsetPlace::{Lever, Post, Shim};
use crate::{
    Drives, Mechanism, OffsetPlace, Tolerances, Travel, YearSuns, any_common_rotation_rms_rad,
    bound_rms_rad,
};

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
    east_west_of(9, azimuth_deg, axis)
}

fn east_west_of(mirrors: usize, azimuth_deg: f64, axis: FirstAxis) -> Plan {
    let place = Place {
        azimuth_deg,
        distance_m: 45.0,
        bearing_deg: 90.0,
        mirrors,
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
    let plan = east_west(azimuth_deg, Along);
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
    let known = [(Along, [1.5, 3.3, 4.7]), (Vertical, [15.0, 14.0, 12.0])];
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

/// Rms residuals over the year of a mechanism, mean over the suns [mrad].
fn yearly_mrad(azimuth_deg: f64, parts: (FirstAxis, Linkage, OffsetPlace), mirrors: usize) -> f64 {
    let (axis, linkage, offset) = parts;
    let mut plan = east_west_of(mirrors, azimuth_deg, axis);
    plan.strings[0].linkage = linkage;
    let mechanism = Mechanism {
        offset,
        ..exact_mechanism(LATITUDE_DEG, sun_at(180.0, 55.0))
    };
    let drives = Drives::prepare(&plan, &mechanism);
    1e3 * mean(
        suns()
            .into_iter()
            .map(|sun| drives.rms_residual_rad(&plan, 0, sun)),
    )
}

/// Independent calculation of the same strings with a joint that does not roll: 1.9, 2.0 and
/// 1.9 mrad at azimuths 0, 30 and 55°, when each string is aligned with the sun behind the tower as
/// seen from it. Aligned with the sun in the south, a string at 55° misses by 2.7 mrad.
#[test]
fn a_roll_free_joint_is_of_the_known_size() {
    for (azimuth_deg, wanted_mrad) in [(0.0, 1.9), (30.0, 2.0), (55.0, 1.9)] {
        let plan = east_west(azimuth_deg, RollFree);
        let behind_tower = sun_at(180.0 + azimuth_deg, 55.0);
        let drives = Drives::prepare(&plan, &exact_mechanism(LATITUDE_DEG, behind_tower));
        let got_mrad = 1e3
            * mean(
                suns()
                    .into_iter()
                    .map(|sun| drives.rms_residual_rad(&plan, 0, sun)),
            );
        assert!(
            (got_mrad / wanted_mrad - 1.0).abs() < 0.1,
            "{azimuth_deg}: {got_mrad}"
        );
    }
}

/// Rotation matrices multiplied out in another language for the same strings and suns: yearly
/// residuals at azimuths 0, 30 and 55° [mrad], for 9 mirrors and for 25. Gains were fitted there to
/// every mirror by itself and to other suns.
#[test]
fn other_mechanisms_agree_with_matrices_multiplied_out() {
    let known = [
        (
            (Along, EqualAngle, Shim),
            [1.49, 3.59, 5.30],
            [4.71, 9.75, 14.64],
        ),
        (
            (RollFree, EqualAngle, Shim),
            [1.90, 2.25, 2.73],
            [5.65, 6.35, 7.46],
        ),
        (
            (Along, EqualAngle, Lever),
            [1.50, 3.71, 5.36],
            [4.76, 10.07, 14.79],
        ),
        (
            (Along, EqualTravel, Lever),
            [4.94, 6.02, 6.76],
            [14.98, 17.10, 18.95],
        ),
        (
            (Along, Graded, Lever),
            [1.46, 1.74, 1.68],
            [4.16, 4.83, 4.65],
        ),
        (
            (Along, EqualAngle, Post),
            [2.81, 3.03, 3.27],
            [7.87, 8.44, 9.20],
        ),
        (
            (Vertical, EqualAngle, Post),
            [2.81, 3.03, 3.27],
            [7.87, 8.44, 9.20],
        ),
    ];
    for (parts, nine_mrad, many_mrad) in known {
        for (place, azimuth_deg) in [0.0, 30.0, 55.0].into_iter().enumerate() {
            for (mirrors, wanted_mrad) in [(9, nine_mrad[place]), (25, many_mrad[place])] {
                let got_mrad = yearly_mrad(azimuth_deg, parts, mirrors);
                let share = if parts.1 == Graded { 0.25 } else { 1e-3 };
                let allowed_mrad = 0.005 + share * wanted_mrad;
                assert!(
                    (got_mrad - wanted_mrad).abs() < allowed_mrad,
                    "{parts:?} {azimuth_deg} {mirrors}: {got_mrad}"
                );
            }
        }
    }
}

/// The fit of a few steps for many strings and suns against the one that settles.
#[test]
fn the_quick_bound_is_the_bound() {
    let plan = east_west(40.0, Along);
    let aligned = sun_at(180.0, 55.0);
    let columns = [
        sun_at(110.0, 15.0),
        sun_at(140.0, 40.0),
        sun_at(180.0, 31.0),
        sun_at(180.0, 75.0),
        sun_at(200.0, 60.0),
        sun_at(230.0, 35.0),
        sun_at(250.0, 20.0),
        sun_at(265.0, 12.0),
    ];
    let weights = [1.0, 2.0, 3.0, 0.0, 2.0, 1.0, 0.5, 0.5];
    let drives = Drives::prepare(&plan, &exact_mechanism(LATITUDE_DEG, aligned));
    let year = YearSuns {
        directions: &[lane::columns(&columns)],
        weights: &weights,
    };
    let quick_rad = bound_rms_rad(&plan, &drives, &[0], &year);
    let squares = columns.iter().zip(weights).map(|(&sun, weight)| {
        let bound_rad = any_common_rotation_rms_rad(&plan, 0, aligned, sun);
        weight * bound_rad * bound_rad
    });
    let settled_rad = (squares.sum::<f64>() / weights.iter().sum::<f64>()).sqrt();
    assert!((quick_rad / settled_rad - 1.0).abs() < 1e-3);
}

/// Three mirrors on ball joints that bend by 25° at most meet their stop under some of the year's suns: those
/// whose normal, half way to the target, lies farther than that from where it was set. Under the others they
/// turn as if there were no stop, and no worse than the bound; one stop in the sum of squares would hide that.
#[test]
fn stops_cost_hours_and_not_precision() {
    let plan = east_west_of(3, 55.0, RollFree);
    let aligned = sun_at(180.0, 55.0);
    let suns = suns();
    let blocks: Vec<[Vec3; LANES]> = suns
        .chunks(LANES)
        .map(|block| std::array::from_fn(|at| *block.get(at).unwrap_or(&aligned)))
        .collect();
    let directions: Vec<LaneVec3> = blocks.iter().map(lane::columns).collect();
    let mut weights = vec![1.0; suns.len()];
    weights.resize(LANES * directions.len(), 0.0);
    let year = YearSuns {
        directions: &directions,
        weights: &weights,
    };
    let bent_to = |ball_rad: f64| {
        let travel = Travel {
            ball_rad,
            ..Travel::FREE
        };
        let mechanism = Mechanism {
            travel,
            ..exact_mechanism(LATITUDE_DEG, aligned)
        };
        let drives = Drives::prepare(&plan, &mechanism);
        let bound_rad = bound_rms_rad(&plan, &drives, &[0], &year);
        (year.beams(&plan, &drives, &[0]), bound_rad)
    };
    let stop_rad = 25f64.to_radians();
    let ((free, _), (stopped, bound_rad)) = (bent_to(Travel::FREE.ball_rad), bent_to(stop_rad));
    assert_eq!(
        (free.stopped_share, free.missed_rad),
        (0.0, free.residual_rad)
    );

    let target = plan.target(1);
    let half_way = |sun: Vec3| (sun + target).normalize();
    let beyond = suns
        .iter()
        .filter(|&&sun| half_way(sun).dot(half_way(aligned)) < libm::cos(stop_rad));
    let share = beyond.count() as f64 / suns.len() as f64;
    assert!((0.05..0.5).contains(&share), "{share}");
    assert!((stopped.stopped_share - share).abs() < 1e-12);
    assert!(stopped.residual_rad <= free.residual_rad && stopped.residual_rad >= bound_rad);
    assert!(
        stopped.missed_rad > 20.0 * stopped.residual_rad,
        "{stopped:?}"
    );
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
