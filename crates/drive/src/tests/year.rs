//! Figures over a year, for strings of known size on a field at 35° north.

use field::{FirstAxis, Stance};
use geometry::Vec3;

use super::{Place, exact_mechanism, lanes_of, one_string, sun_at};
use crate::{Drives, Mechanism, Tolerances, any_common_rotation_rms_rad};

const LATITUDE_DEG: f64 = 35.0;

/// Suns of eight days of the year, each hour that they stand more than 10° high, from declination
/// and hour angle on a sphere.
fn suns() -> Vec<Vec3> {
    let latitude_rad = LATITUDE_DEG.to_radians();
    let (sin_latitude, cos_latitude) = libm::sincos(latitude_rad);
    let mut suns = Vec::new();
    for day in 0..8 {
        let declination_rad =
            23.45f64.to_radians() * libm::sin(f64::from(2 * day + 1) / 16.0 * std::f64::consts::TAU);
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

fn east_west(azimuth_deg: f64) -> Place {
    Place {
        azimuth_deg,
        distance_m: 45.0,
        bearing_deg: 90.0,
        mirrors: 9,
        pitch_m: 1.17,
        height_m: 1.2,
        aim_m: 32.0,
    }
}
fn rms(values: impl Iterator<Item = f64>) -> f64 {
    let (mut sum, mut count) = (0.0, 0.0);
    for value in values {
        sum += value * value;
        count += 1.0;
    }
    f64::sqrt(sum / count)
}
fn mean(values: impl Iterator<Item = f64>) -> f64 {
    let (mut sum, mut count) = (0.0, 0.0);
    for value in values {
        sum += value;
        count += 1.0;
    }
    sum / count
}

#[test]
fn explore() {
    for el in [40.0, 50.0, 55.0, 65.0] {
    for az in [0.0, 30.0, 55.0] {
        let aligned = sun_at(180.0, el);
        print!("el {el} az {az}: bound {:.2} {:.2} ", 1e3 * rms(suns().into_iter().map(|sun| any_common_rotation_rms_rad(&one_string(&east_west(az), FirstAxis::Along), 0, aligned, sun))), 1e3 * mean(suns().into_iter().map(|sun| any_common_rotation_rms_rad(&one_string(&east_west(az), FirstAxis::Along), 0, aligned, sun))));
        for axis in super::AXES {
            let plan = one_string(&east_west(az), axis);
            let drives = Drives::prepare(&plan, &exact_mechanism(35.0, aligned));
            print!("{axis:?} {:.2} {:.2} ", 1e3 * rms(suns().into_iter().map(|sun| drives.rms_residual_rad(&plan, 0, sun))),  1e3 * mean(suns().into_iter().map(|sun| drives.rms_residual_rad(&plan, 0, sun))));
        }
        println!();
    }
    }
    for axis in super::AXES {
        for az in [0.0, 30.0, 55.0] {
            let plan = one_string(&east_west(az), axis);
            let m = Mechanism { tolerances: Tolerances { post_tilt_rad: 1e-3, ..Tolerances::default() }, ..exact_mechanism(35.0, sun_at(180.0, 55.0)) };
            let drives = Drives::prepare(&plan, &m);
            let mut stance = Stance::default();
            let (mut a, mut b, mut n) = (0.0, 0.0, 0.0);
            for sun in suns() {
                drives.stand(&plan, 0, &lanes_of(sun), &mut stance);
                a += stance.blur_in_plane_rad2[0][0];
                b += stance.blur_across_rad2[0][0];
                n += 1.0;
            }
            println!("{axis:?} {az} in {:.3} across {:.3} total {:.3} per axis {:.3}", f64::sqrt(a / n) * 1e3, f64::sqrt(b / n) * 1e3, f64::sqrt((a + b) / n) * 1e3, f64::sqrt((a + b) / n / 2.0) * 1e3);
        }
    }
    let sun = suns();
    let plan = one_string(&east_west(30.0), FirstAxis::Along);
    let m = Mechanism { tolerances: Tolerances { post_tilt_rad: 1e-3, ..Tolerances::default() }, ..exact_mechanism(35.0, sun_at(180.0, 55.0)) };
    let drives = Drives::prepare(&plan, &m);
    let mut stance = Stance::default();
    #[allow(clippy::disallowed_methods)]
    let t = std::time::Instant::now();
    let mut acc = 0.0;
    for r in 0..20000 {
        drives.stand(&plan, 0, &lanes_of(sun[r % sun.len()]), &mut stance);
        acc += stance.normals[r % 9][0][0];
    }
    println!("{acc} ns per mirror-sun {:.2}", t.elapsed().as_secs_f64() * 1e9 / 20000.0 / 72.0);
}
