//! Laws that hold for every string and every mechanism, whatever their numbers.

use field::FirstAxis::{self, Along, Fixed, Polar};
use field::Linkage::{self, EqualAngle, EqualTravel, Graded, SlidingLever};
use field::{Plan, Stance};
use geometry::{LANES, Vec3, lane};
use proptest::prelude::*;

use super::mechanisms::{KINDS, aligned, built, kinds, kinds_where, place, rms_rad};
use super::{Place, lanes_of, sun_at};
use crate::OffsetPlace::{self, Lever, Shim};
use crate::reflection::{normal_between, reflected};
use crate::{Control, Drives, Mechanism, any_common_rotation_rms_rad};

/// Axes that see a string in a vertical plane of incidence symmetrically, and levers that all turn
/// alike or not at all.
fn keeps_the_plane((axis, linkage, _): (FirstAxis, Linkage, OffsetPlace)) -> bool {
    !matches!(axis, Fixed { .. } | Polar) && !matches!(linkage, EqualTravel | Graded)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(128))]

    #[test]
    fn all_mirrors_are_exact_at_alignment_and_the_reference_always(
        kind in kinds(), azimuth_deg in -80.0..80.0f64, bearing_deg in 0.0..180.0f64,
        mirrors in 1usize..16, sun_azimuth_deg in 90.0..270.0f64, sun_elevation_deg in 10.0..80.0f64,
    ) {
        let (plan, mechanism) = built(&place(azimuth_deg, bearing_deg, mirrors), kind);
        let drives = Drives::prepare(&plan, &mechanism);
        prop_assert!(drives.rms_residual_rad(&plan, 0, aligned()) < 1e-13);
        let sun = sun_at(sun_azimuth_deg, sun_elevation_deg);
        let reference = plan.strings[0].reference_mirror();
        // A lever near its dead point loses half the digits.
        prop_assert!(drives.residual_rad(&plan, reference, sun) < 1e-7);
    }

    #[test]
    fn some_mirrors_stand_as_all_do(
        kind in kinds(), azimuth_deg in -80.0..80.0f64, bearing_deg in 0.0..180.0f64,
        sun_azimuth_deg in 90.0..270.0f64, sun_elevation_deg in 10.0..80.0f64,
    ) {
        let (plan, mechanism) = built(&place(azimuth_deg, bearing_deg, 9), kind);
        let drives = Drives::prepare(&plan, &mechanism);
        let suns = lanes_of(sun_at(sun_azimuth_deg, sun_elevation_deg));
        let (mut all, mut some) = (Stance::default(), Stance::default());
        drives.stand(&plan, 0, &suns, &mut all);
        drives.stand_some(&plan, 0, [1, 7], &suns, &mut some);
        prop_assert_eq!(all.width_edge, some.width_edge);
        for place in [1, 7] {
            prop_assert_eq!(all.normals[place], some.normals[place]);
            prop_assert_eq!(all.blur_in_plane_rad2[place], some.blur_in_plane_rad2[place]);
            prop_assert_eq!(all.blur_across_rad2[place], some.blur_across_rad2[place]);
        }
    }

    #[test]
    fn a_string_in_the_plane_of_incidence_has_no_residual(
        kind in kinds_where(keeps_the_plane), azimuth_deg in -180.0..180.0f64, mirrors in 2usize..16,
        aligned_deg in 30.0..80.0f64, elevation_deg in 10.0..80.0f64,
    ) {
        let (plan, mechanism) = built(&place(azimuth_deg, azimuth_deg, mirrors), kind);
        let behind_tower_deg = azimuth_deg + 180.0;
        let alignment_sun = sun_at(behind_tower_deg, aligned_deg);
        let mechanism = Mechanism { alignment_sun, ..mechanism };
        prop_assert!(rms_rad(&plan, &mechanism, sun_at(behind_tower_deg, elevation_deg)) < 1e-12);
    }

    #[test]
    fn a_mirrored_field_has_the_mirrored_residual(
        kind in kinds(), azimuth_deg in -80.0..80.0f64, bearing_deg in -90.0..90.0f64,
        half in 0usize..8, sun_azimuth_deg in 100.0..260.0f64,
    ) {
        let (axis, linkage, offset) = kind;
        let mirrored_axis = match axis {
            Fixed { azimuth_rad, elevation_rad } => Fixed { azimuth_rad: -azimuth_rad, elevation_rad },
            axis => axis,
        };
        let mirrors = 2 * half + 1;
        let (east, mechanism) = built(&place(azimuth_deg, bearing_deg, mirrors), kind);
        let mirrored = (mirrored_axis, linkage, offset);
        let (west, _) = built(&place(-azimuth_deg, -bearing_deg, mirrors), mirrored);
        let one = Drives::prepare(&east, &mechanism);
        let other = Drives::prepare(&west, &mechanism);
        for mirror in 0..mirrors {
            let one_rad = one.residual_rad(&east, mirror, sun_at(sun_azimuth_deg, 30.0));
            let other_rad = other.residual_rad(&west, mirror, sun_at(-sun_azimuth_deg, 30.0));
            prop_assert!((one_rad - other_rad).abs() < 1e-7, "{one_rad} {other_rad}");
        }
    }

    /// The bar moves all tips alike, which is all that is asked of them.
    #[test]
    fn sliding_levers_are_exact(
        azimuth_deg in -80.0..80.0f64, bearing_deg in 0.0..180.0f64, mirrors in 1usize..40,
        sun_azimuth_deg in 60.0..300.0f64, sun_elevation_deg in 5.0..85.0f64,
    ) {
        let kind = (Along, SlidingLever, Lever);
        let (plan, mechanism) = built(&place(azimuth_deg, bearing_deg, mirrors), kind);
        let sun = sun_at(sun_azimuth_deg, sun_elevation_deg);
        prop_assert!(rms_rad(&plan, &mechanism, sun) < 1e-9);
    }

    /// Panels shimmed on mounts that turn alike have all turned by one rotation since alignment.
    #[test]
    fn shims_never_beat_the_best_common_rotation(
        kind in kinds_where(|kind| kind.2 == Shim), least_squares: bool, azimuth_deg in -80.0..80.0f64,
        bearing_deg in 0.0..180.0f64, mirrors in 2usize..16,
        sun_azimuth_deg in 90.0..270.0f64, sun_elevation_deg in 10.0..70.0f64,
    ) {
        let (plan, mechanism) = built(&place(azimuth_deg, bearing_deg, mirrors), kind);
        let control = if least_squares { Control::LeastSquares } else { Control::Reference };
        let sun = sun_at(sun_azimuth_deg, sun_elevation_deg);
        let bound_rad = any_common_rotation_rms_rad(&plan, 0, aligned(), sun);
        let mechanism = Mechanism { control, ..mechanism };
        prop_assert!(bound_rad <= rms_rad(&plan, &mechanism, sun) + 1e-12);
    }

    /// A few mirrors speak for the string, so its sum may be a hair above the least.
    #[test]
    fn least_squares_do_no_harm(
        kind in kinds(), azimuth_deg in -80.0..80.0f64, bearing_deg in 0.0..180.0f64,
        mirrors in 2usize..12, sun_azimuth_deg in 100.0..260.0f64, sun_elevation_deg in 15.0..70.0f64,
    ) {
        let (plan, mechanism) = built(&place(azimuth_deg, bearing_deg, mirrors), kind);
        let sun = sun_at(sun_azimuth_deg, sun_elevation_deg);
        let fitted = Mechanism { control: Control::LeastSquares, ..mechanism };
        let [exact_m2, fitted_m2] = [mechanism, fitted].map(|it| misses_m2(&plan, &it, sun));
        prop_assert!(fitted_m2 <= 1.04 * exact_m2 + 1e-9, "{fitted_m2} {exact_m2}");
    }
}

/// Sum over a string of the squares of how far its beams pass from their aim points.
fn misses_m2(plan: &Plan, mechanism: &Mechanism, sun: Vec3) -> f64 {
    let drives = Drives::prepare(plan, mechanism);
    let miss_m = |mirror: usize| {
        let distance_m = (plan.aim_of_m(mirror) - plan.centre_m(mirror)).length();
        drives.residual_rad(plan, mirror, sun) * distance_m
    };
    plan.strings[0]
        .mirrors()
        .map(|mirror| miss_m(mirror) * miss_m(mirror))
        .sum()
}

/// Two mirrors at different distances share a miss so that the sum of their squared misses on the aperture is
/// least: half a milliradian off in any direction it is larger, while that of their angles is not.
#[test]
fn least_squares_weigh_a_miss_by_its_distance() {
    const OFF_RAD: f64 = 5e-4;
    let radial = Place {
        pitch_m: 20.0,
        ..place(0.0, 0.0, 2)
    };
    let (plan, mechanism) = built(&radial, (Along, EqualAngle, Shim));
    let fitted = Mechanism {
        control: Control::LeastSquares,
        ..mechanism
    };
    let drives = Drives::prepare(&plan, &fitted);
    let sun = sun_at(240.0, 25.0);
    let mut stance = Stance::default();
    let mut squares = |facing: Vec3, weight: &dyn Fn(usize) -> f64| -> f64 {
        drives.stand_facing(
            &plan,
            0,
            0..plan.strings[0].mirror_count,
            &[facing; LANES],
            &mut stance,
        );
        let miss = |mirror: usize| {
            let beam = reflected(sun, lane::vector(&stance.normals[mirror], 0));
            (beam - plan.target(mirror)).length() * weight(mirror)
        };
        [0, 1]
            .map(|mirror| miss(mirror) * miss(mirror))
            .iter()
            .sum()
    };
    let distance_m = |mirror: usize| (plan.aim_of_m(mirror) - plan.centre_m(mirror)).length();
    let facing = drives.facing(&plan, 0, sun);
    let sideways = facing.cross(Vec3::Z).normalize();
    let upward = facing.cross(sideways);
    let around = [sideways, upward, sideways * -1.0, upward * -1.0]
        .map(|way| (facing + way * OFF_RAD).normalize());
    let here_m2 = squares(facing, &distance_m);
    for off in around {
        assert!(squares(off, &distance_m) > here_m2);
    }
    let here_rad2 = squares(facing, &|_| 1.0);
    assert!(around.iter().any(|off| squares(*off, &|_| 1.0) < here_rad2));
}

#[test]
fn the_residual_is_linear_in_length_to_first_order() {
    for kind in KINDS {
        let rms_rad = |pitch_m: f64| {
            let small = Place {
                pitch_m,
                ..place(20.0, 90.0, 9)
            };
            let (plan, mechanism) = built(&small, kind);
            rms_rad(&plan, &mechanism, sun_at(225.0, 30.0))
        };
        if kind.1 != SlidingLever {
            let ratio = rms_rad(0.02) / rms_rad(0.01);
            assert!((ratio - 2.0).abs() < 2e-3, "{kind:?}: {ratio}");
        }
    }
}

/// Why there is a residual at all: the bisector follows half of a small change of target in the
/// plane of incidence and 1/(2·cosθ) of it across.
#[test]
fn the_bisector_follows_unequally_in_and_across_the_plane_of_incidence() {
    let sun = sun_at(230.0, 30.0);
    let target = Vec3::new(0.1, -0.9, 0.4).normalize();
    let normal = normal_between(sun, target);
    let beyond = normal.cross(sun).normalize();
    let small_rad = 1e-6;
    let moved = |step: Vec3| {
        (normal_between(sun, (target + step * small_rad).normalize()) - normal) / small_rad
    };
    let in_plane = moved(beyond.cross(target));
    let across = moved(beyond);
    assert!((in_plane.length() - 0.5).abs() < 1e-6);
    assert!((across.length() - 0.5 / normal.dot(sun)).abs() < 1e-6);
}

/// That mismatch carried through: shims give each mirror, by the turn Q of the mounts, what its
/// target asked for at alignment, B then·Δt, but it needs B now·Δt, with B the half of a change across
/// the normal over cosθ. The beam misses by what that leaves; the rest is of second order.
#[test]
fn the_first_order_formula_keeps_within_its_remainder() {
    for kind in KINDS.into_iter().filter(|kind| kind.2 == Shim) {
        let remainder = |pitch_m: f64| {
            let short = Place {
                pitch_m,
                ..place(30.0, 75.0, 5)
            };
            let (plan, mechanism) = built(&short, kind);
            let sun = sun_at(220.0, 30.0);
            let drives = Drives::prepare(&plan, &mechanism);
            let led = plan.target(plan.strings[0].reference_mirror());
            let bend = |sun: Vec3, change: Vec3| {
                let normal = normal_between(sun, led);
                (change - normal * normal.dot(change)) / (2.0 * normal.dot(sun))
            };
            let carried = turn_of(&drives, &plan, sun);
            let change = plan.target(0) - led;
            let error = carried(bend(aligned(), change)) - bend(sun, change);
            let normal = normal_between(sun, led);
            let formula = (error * normal.dot(sun) + normal * error.dot(sun)) * 2.0;
            let exact = reflected(sun, drives.normal(&plan, 0, sun)) - plan.target(0);
            ((formula - exact).length(), change.length_squared())
        };
        let (off, second_order) = remainder(0.5);
        let (off_half, _) = remainder(0.25);
        assert!(
            off < 2.0 * second_order,
            "{kind:?}: {off} of {second_order}"
        );
        assert!(
            (off / off_half - 4.0).abs() < 0.5,
            "{kind:?}: {off} {off_half}"
        );
    }
}

/// The turn of the mounts from alignment to a sun.
fn turn_of(drives: &Drives, plan: &Plan, sun: Vec3) -> impl Fn(Vec3) -> Vec3 {
    let frame = |sun: Vec3| {
        let mut stance = Stance::default();
        drives.stand(plan, 0, &lanes_of(sun), &mut stance);
        let reference = plan.strings[0].reference_mirror();
        let normal = lane::vector(&stance.normals[reference], 0);
        let second = lane::vector(&stance.width_edge, 0);
        [second.cross(normal), second, normal]
    };
    let (then, now) = (frame(aligned()), frame(sun));
    move |vector| (0..3).map(|axis| now[axis] * then[axis].dot(vector)).sum()
}

#[test]
fn one_mirror_needs_no_better_rotation() {
    let (plan, _) = built(&place(30.0, 90.0, 1), (Along, EqualAngle, Shim));
    let bound_rad = any_common_rotation_rms_rad(&plan, 0, aligned(), sun_at(120.0, 20.0));
    assert!(bound_rad < 1e-14);
}
