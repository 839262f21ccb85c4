//! Laws that hold for every string, whatever its numbers.

use geometry::Vec3;
use proptest::prelude::*;

use super::{AXES, Place, exact_mechanism, one_string, sun_at};
use crate::reflection::{Incidence, normal_between};
use crate::{Drives, any_common_rotation_rms_rad};

fn place(azimuth_deg: f64, bearing_deg: f64, mirrors: usize) -> Place {
    Place {
        azimuth_deg,
        distance_m: 70.0,
        bearing_deg,
        mirrors,
        pitch_m: 1.1,
        height_m: 1.2,
        aim_m: 35.0,
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn the_reference_mirror_is_exact_and_so_is_a_string_of_one(
        azimuth_deg in -80.0..80.0f64, bearing_deg in 0.0..180.0f64, mirrors in 1usize..16,
        axis in 0usize..4, sun_azimuth_deg in 80.0..280.0f64, sun_elevation_deg in 8.0..85.0f64,
    ) {
        let plan = one_string(&place(azimuth_deg, bearing_deg, mirrors), AXES[axis]);
        let drives = Drives::prepare(&plan, &exact_mechanism(-28.0, sun_at(180.0, 50.0)));
        let sun = sun_at(sun_azimuth_deg, sun_elevation_deg);
        let reference = plan.strings[0].reference_mirror();
        prop_assert!(drives.residual_rad(&plan, reference, sun) < 1e-14);
    }

    #[test]
    fn every_mirror_is_exact_under_the_alignment_sun(
        azimuth_deg in -80.0..80.0f64, bearing_deg in 0.0..180.0f64, mirrors in 1usize..16,
        axis in 0usize..4, sun_azimuth_deg in 80.0..280.0f64, sun_elevation_deg in 8.0..85.0f64,
    ) {
        let plan = one_string(&place(azimuth_deg, bearing_deg, mirrors), AXES[axis]);
        let sun = sun_at(sun_azimuth_deg, sun_elevation_deg);
        let drives = Drives::prepare(&plan, &exact_mechanism(28.0, sun));
        prop_assert!(drives.rms_residual_rad(&plan, 0, sun) < 1e-14);
    }

    #[test]
    fn a_string_in_the_plane_of_incidence_has_no_residual(
        azimuth_deg in -180.0..180.0f64, mirrors in 2usize..16, axis in 0usize..3,
        aligned_deg in 20.0..80.0f64, elevation_deg in 8.0..80.0f64,
    ) {
        let plan = one_string(&place(azimuth_deg, azimuth_deg, mirrors), AXES[axis]);
        let behind_tower_deg = azimuth_deg + 180.0;
        let alignment_sun = sun_at(behind_tower_deg, aligned_deg);
        let drives = Drives::prepare(&plan, &exact_mechanism(35.0, alignment_sun));
        let sun = sun_at(behind_tower_deg, elevation_deg);
        prop_assert!(drives.rms_residual_rad(&plan, 0, sun) < 1e-13);
    }

    #[test]
    fn a_mirrored_field_has_the_mirrored_residual(
        azimuth_deg in -80.0..80.0f64, bearing_deg in -90.0..90.0f64,
        half in 0usize..8, axis in 0usize..4, sun_azimuth_deg in 80.0..280.0f64,
    ) {
        let mirrors = 2 * half + 1;
        let aligned = exact_mechanism(35.0, sun_at(180.0, 55.0));
        let east = one_string(&place(azimuth_deg, bearing_deg, mirrors), AXES[axis]);
        let west = one_string(&place(-azimuth_deg, -bearing_deg, mirrors), AXES[axis]);
        let east_drives = Drives::prepare(&east, &aligned);
        let west_drives = Drives::prepare(&west, &aligned);
        for mirror in 0..mirrors {
            let one_rad = east_drives.residual_rad(&east, mirror, sun_at(sun_azimuth_deg, 30.0));
            let other_rad = west_drives.residual_rad(&west, mirror, sun_at(-sun_azimuth_deg, 30.0));
            prop_assert!((one_rad - other_rad).abs() < 1e-13);
        }
    }

    #[test]
    fn no_mechanism_beats_the_best_common_rotation(
        azimuth_deg in -80.0..80.0f64, bearing_deg in 0.0..180.0f64, mirrors in 2usize..16,
        axis in 0usize..4, sun_azimuth_deg in 90.0..270.0f64, sun_elevation_deg in 10.0..70.0f64,
    ) {
        let plan = one_string(&place(azimuth_deg, bearing_deg, mirrors), AXES[axis]);
        let alignment_sun = sun_at(180.0, 55.0);
        let drives = Drives::prepare(&plan, &exact_mechanism(35.0, alignment_sun));
        let sun = sun_at(sun_azimuth_deg, sun_elevation_deg);
        let bound_rad = any_common_rotation_rms_rad(&plan, 0, alignment_sun, sun);
        prop_assert!(bound_rad <= drives.rms_residual_rad(&plan, 0, sun) + 1e-12);
    }
}

#[test]
fn the_residual_is_linear_in_length_to_first_order() {
    let alignment_sun = sun_at(180.0, 55.0);
    let sun = sun_at(240.0, 25.0);
    for axis in AXES {
        let rms_rad = |pitch_m: f64| {
            let plan = one_string(
                &Place {
                    pitch_m,
                    ..place(20.0, 90.0, 9)
                },
                axis,
            );
            Drives::prepare(&plan, &exact_mechanism(35.0, alignment_sun))
                .rms_residual_rad(&plan, 0, sun)
        };
        assert!((rms_rad(0.02) / rms_rad(0.01) - 2.0).abs() < 1e-4);
        assert!((rms_rad(1.0) / rms_rad(0.5) - 2.0).abs() < 0.05);
    }
}

/// Why there is a residual at all: the bisector follows half of a small change of target in the
/// plane of incidence and 1/(2·cosθ) of it across.
#[test]
fn the_bisector_follows_unequally_in_and_across_the_plane_of_incidence() {
    let sun = sun_at(230.0, 30.0);
    let target = Vec3::new(0.1, -0.9, 0.4).normalize();
    let normal = normal_between(sun, target);
    let incidence = Incidence::new(sun, normal, Vec3::X);
    let small_rad = 1e-6;
    let moved = |step: Vec3| {
        (normal_between(sun, (target + step * small_rad).normalize()) - normal) / small_rad
    };
    let in_plane = moved(incidence.across.cross(target));
    let across = moved(incidence.across);
    assert!((in_plane.length() - 0.5).abs() < 1e-6);
    assert!((across.length() - 0.5 / incidence.cosine).abs() < 1e-6);
}

#[test]
fn one_mirror_needs_no_better_rotation() {
    let plan = one_string(&place(30.0, 90.0, 1), AXES[1]);
    let bound_rad = any_common_rotation_rms_rad(&plan, 0, sun_at(180.0, 55.0), sun_at(120.0, 20.0));
    assert!(bound_rad < 1e-14);
}
