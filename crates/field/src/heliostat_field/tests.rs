//! Checks of rings: nothing outside, nothing touching, spacing by the rule, alike on both sides.

use std::f64::consts::{PI, TAU};

use geometry::Vec3;
use proptest::prelude::*;

use super::*;
use crate::plan::{FirstAxis, Linkage};
use crate::site::wrapped_rad;

/// Mirrors of 40 m² north of a tower of middling height.
fn pedestals() -> HeliostatField {
    HeliostatField {
        width_m: 7.0,
        height_m: 5.7,
        turning_circle_m: 9.1,
        axis_height_m: 3.6,
        ring_spacing_ratio: 1.0,
        side_spacing_ratio: 1.6,
        lane_every_rows: 0,
        lane_width_m: 0.0,
        inner_radius_m: 40.0,
        outer_radius_m: 250.0,
        sector_half_rad: 65f64.to_radians(),
        sector_centre_azimuth_rad: 0.0,
        ground_slope_east: 0.0,
        ground_slope_north: 0.0,
        aim_height_m: 60.0,
    }
}

fn laid(field: &HeliostatField) -> Plan {
    heliostat_candidates(field).unwrap().plan.checked().unwrap()
}

prop_compose! {
    fn any_field()(
        size in (1.0..12.0f64, 0.5..2.0f64, 1.0..1.1f64),
        ring_spacing_ratio in 0.4..1.5f64,
        side_spacing_ratio in 1.0..2.2f64,
        lanes in (0usize..5, 0.0..6.0f64),
        inner_radius_m in 10.0..60.0f64,
        sector in (0.3..1.2 * PI, 0.0..TAU),
        ground in (-0.08..0.08f64, -0.08..0.08f64),
        aim_height_m in 30.0..120.0f64,
    ) -> HeliostatField {
        HeliostatField {
            width_m: size.0,
            height_m: size.0 / size.1,
            turning_circle_m: size.2 * libm::hypot(size.0, size.0 / size.1),
            axis_height_m: 0.7 * size.0 / size.1 + 0.05 * size.0,
            ring_spacing_ratio,
            side_spacing_ratio,
            lane_every_rows: lanes.0,
            lane_width_m: lanes.1,
            inner_radius_m,
            outer_radius_m: inner_radius_m + 15.0 * size.0,
            sector_half_rad: sector.0.min(PI),
            sector_centre_azimuth_rad: sector.1,
            ground_slope_east: ground.0,
            ground_slope_north: ground.1,
            aim_height_m,
        }
    }
}

fn flat(plan: &Plan, mirror: usize) -> Vec3 {
    plan.centre_m(mirror).with_z(0.0)
}

fn least_distance_m(plan: &Plan) -> f64 {
    let mirrors = 0..plan.mirror_count();
    mirrors
        .clone()
        .flat_map(|one| mirrors.clone().skip(one + 1).map(move |other| (one, other)))
        .map(|(one, other)| flat(plan, one).distance(flat(plan, other)))
        .fold(f64::INFINITY, f64::min)
}

fn azimuth_rad(plan: &Plan, mirror: usize) -> f64 {
    libm::atan2(plan.x_m[mirror], plan.y_m[mirror])
}

/// Horizontal places in millimetres, in order.
fn places_mm(plan: &Plan, mirrored: bool) -> Vec<[i64; 2]> {
    let sign = if mirrored { -1.0 } else { 1.0 };
    let mut places: Vec<[i64; 2]> = (0..plan.mirror_count())
        .map(|mirror| [sign * plan.x_m[mirror], plan.y_m[mirror]].map(|m| (1e3 * m).round() as i64))
        .collect();
    places.sort_unstable();
    places
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// Turning circles never cross, whatever sizes, spacings, sectors and slopes.
    #[test]
    fn no_panel_reaches_another(field in any_field()) {
        let places = heliostat_candidates(&field);
        prop_assume!(places.is_ok());
        let places = places.unwrap();
        let least_m = least_distance_m(&places.plan);
        prop_assert!(least_m >= field.turning_circle_m - 1e-6, "{least_m} {}", field.turning_circle_m);
    }

    #[test]
    fn all_stand_in_the_sector_on_the_ground(field in any_field()) {
        let places = heliostat_candidates(&field);
        prop_assume!(places.is_ok());
        let places = places.unwrap();
        let plan = places.plan;
        for mirror in 0..plan.mirror_count() {
            let place_m = flat(&plan, mirror);
            let off_rad = wrapped_rad(azimuth_rad(&plan, mirror) - field.sector_centre_azimuth_rad);
            prop_assert!(off_rad.abs() <= field.sector_half_rad + 1e-9);
            prop_assert!(place_m.length() >= field.inner_radius_m - 1e-6);
            prop_assert!(place_m.length() <= field.outer_radius_m + 1e-6);
            let ground_m = field.ground_slope_east * place_m.x + field.ground_slope_north * place_m.y;
            prop_assert!((plan.z_m[mirror] - ground_m - field.axis_height_m).abs() < 1e-9);
            prop_assert_eq!(plan.area_m2(mirror), field.width_m * field.height_m);
        }
    }

    /// A sector and slope mirrored east to west give the same places mirrored.
    #[test]
    fn a_mirrored_sector_is_laid_mirrored(field in any_field()) {
        let places = heliostat_candidates(&field);
        prop_assume!(places.is_ok());
        let places = places.unwrap();
        let mirrored = HeliostatField {
            sector_centre_azimuth_rad: -field.sector_centre_azimuth_rad,
            ground_slope_east: -field.ground_slope_east,
            ..field
        };
        let other = heliostat_candidates(&mirrored).unwrap();
        let (one, other) = (places_mm(&places.plan, false), places_mm(&other.plan, true));
        prop_assert_eq!(one.len(), other.len());
        let near = |(a, b): (&[i64; 2], &[i64; 2])| (a[0] - b[0]).abs() <= 1 && (a[1] - b[1]).abs() <= 1;
        let alike = one.iter().zip(&other).filter(|&pair| near(pair)).count();
        // Places that round to the same millimetre may change their order.
        prop_assert!(alike as f64 > 0.99 * one.len() as f64 - 2.0, "{alike} of {}", one.len());
    }

    /// The clear distance by its own words: from the outer centre the line to the aim passes over the
    /// inner centre by a panel's height, measured square to that line.
    #[test]
    fn lines_of_sight_clear_by_a_panel(field in any_field(), radius_m in 20.0..300.0f64) {
        prop_assume!(field.check().is_ok());
        let rise = field.site().least_rise();
        let at = |x_m: f64| Vec3::new(x_m, 0.0, rise * x_m + field.axis_height_m);
        let (inner_m, outer_m) = (at(radius_m), at(field.clear_radius_m(radius_m)));
        let sight = (Vec3::Z * field.aim_height_m - outer_m).normalize();
        let apart_m = sight.cross(inner_m - outer_m).length();
        prop_assert!((apart_m / field.height_m - 1.0).abs() < 1e-9, "{apart_m}");
    }
}

/// Each is a string of one that turns about the vertical first: its width stays level.
#[test]
fn every_mirror_has_a_drive_of_its_own() {
    let plan = laid(&pedestals());
    assert!(plan.strings.len() > 100);
    for row in &plan.strings {
        assert_eq!(row.mirror_count, 1);
        assert_eq!(row.first_axis, FirstAxis::Vertical);
        assert_eq!(row.linkage, Linkage::EqualAngle);
    }
    for pair in plan.strings.windows(2) {
        assert!(pair[1].row == pair[0].row || pair[1].row == pair[0].row + 1);
    }
}

/// A mirror of a group's ring stands in the gap of the ring before, and behind a mirror two rings in.
#[test]
fn rings_of_a_group_are_staggered() {
    let field = pedestals();
    let rings = field.rings();
    let mut pairs = 0;
    for pair in rings.windows(2) {
        if pair[0].slot_rad == pair[1].slot_rad {
            assert_ne!(pair[0].is_shifted, pair[1].is_shifted);
            pairs += 1;
        }
    }
    assert!(pairs > rings.len() / 2, "{pairs} of {}", rings.len());
}

/// Wider slots than two panels halve the distance of rings; narrower ones don't.
#[test]
fn only_gaps_wide_enough_are_looked_through() {
    let field = pedestals();
    let gap_ratio = 2.0 * field.width_m / field.turning_circle_m;
    let step_m = |side_spacing_ratio| {
        let field = HeliostatField {
            side_spacing_ratio,
            ..field
        };
        let rings = field.rings();
        let far = rings.len() - 2;
        rings[far].radius_m - rings[far - 1].radius_m
    };
    assert!(step_m(gap_ratio + 0.01) < 0.6 * step_m(gap_ratio - 0.01));
}

/// Closer rings hold more mirrors, until panels would touch.
#[test]
fn closer_rings_hold_more() {
    let count = |ring_spacing_ratio| {
        laid(&HeliostatField {
            ring_spacing_ratio,
            ..pedestals()
        })
        .mirror_count()
    };
    let counts = [1.4, 1.2, 1.0, 0.8, 0.6, 0.01].map(count);
    assert!(
        counts.windows(2).all(|pair| pair[0] < pair[1]),
        "{counts:?}"
    );
    assert_eq!(count(0.01), count(0.001));
}

#[test]
fn lanes_take_room() {
    let with_lanes = HeliostatField {
        lane_every_rows: 2,
        lane_width_m: 5.0,
        ..pedestals()
    };
    let (none, lanes) = (pedestals().rings(), with_lanes.rings());
    assert!(laid(&with_lanes).mirror_count() < laid(&pedestals()).mirror_count());
    let gap_m = |rings: &[Ring], ring: usize| rings[ring + 1].radius_m - rings[ring].radius_m;
    assert!((gap_m(&lanes, 0) - gap_m(&none, 0)).abs() < 1e-9);
    assert!(gap_m(&lanes, 1) > gap_m(&none, 1) + 4.9);
}

/// All round the tower the gap between first and last of a ring is the gap between any two.
#[test]
fn a_surround_field_closes_without_a_seam() {
    let field = HeliostatField {
        sector_half_rad: PI,
        ..pedestals()
    };
    let plan = laid(&field);
    let rings = plan.strings.last().unwrap().row + 1;
    for ring in 0..rings {
        let mut azimuths: Vec<f64> = plan
            .strings
            .iter()
            .filter(|row| row.row == ring)
            .map(|row| azimuth_rad(&plan, row.first_mirror))
            .collect();
        azimuths.sort_by(f64::total_cmp);
        let slot_rad = TAU / azimuths.len() as f64;
        azimuths.push(azimuths[0] + TAU);
        for pair in azimuths.windows(2) {
            assert!((pair[1] - pair[0] - slot_rad).abs() < 1e-9);
        }
    }
}

/// On ground that rises away from the aim mirrors see it from higher up, and rings stand closer.
#[test]
fn rising_ground_brings_rings_together() {
    let rings = |ground_slope_north| {
        HeliostatField {
            ground_slope_north,
            ..pedestals()
        }
        .rings()
        .len()
    };
    assert!(rings(0.1) >= rings(0.0) && rings(0.0) >= rings(-0.1) && rings(0.1) > rings(-0.1));
}

#[test]
fn what_cannot_be_built_is_refused_with_its_numbers() {
    let refused = |field: HeliostatField| heliostat_candidates(&field).unwrap_err();
    let good = pedestals();
    let crowded = HeliostatField {
        side_spacing_ratio: 0.9,
        ..good
    };
    assert_eq!(refused(crowded), FieldError::SideBySide { ratio: 0.9 });
    let reaching_over = HeliostatField {
        turning_circle_m: 8.9,
        ..good
    };
    assert!(matches!(
        refused(reaching_over),
        FieldError::SideBySide { .. }
    ));
    let low = HeliostatField {
        aim_height_m: 9.0,
        ..good
    };
    assert!(matches!(refused(low), FieldError::AimTooLow { .. }));
    let buried = HeliostatField {
        axis_height_m: 2.8,
        ..good
    };
    assert!(matches!(refused(buried), FieldError::MountTooLow { .. }));
    let thin = HeliostatField {
        width_m: 0.0,
        ..good
    };
    assert!(matches!(refused(thin), FieldError::NotPositive { .. }));
    let inside_out = HeliostatField {
        outer_radius_m: 30.0,
        ..good
    };
    assert!(matches!(refused(inside_out), FieldError::NoRing { .. }));
}

/// Every heliostat has a name of its own in the rows of its plan and names no string; the plan comes back
/// alike from them.
#[test]
fn heliostats_are_named_one_by_one() {
    let laid = heliostat_candidates(&pedestals()).unwrap().plan;
    let rows = laid.to_rows();
    for (place, row) in rows.iter().enumerate() {
        assert_eq!(row.mirror_id, (place + 1).to_string());
        assert!(row.string_id.is_empty() && row.coupling.is_none());
    }
    let back = Plan::from_rows(&rows, laid.aim_m).unwrap();
    assert_eq!((back.x_m, back.z_m), (laid.x_m, laid.z_m));
    for (one, other) in back.strings.iter().zip(&laid.strings) {
        assert_eq!(
            (one.first_axis, one.linkage),
            (other.first_axis, other.linkage)
        );
        assert_eq!(
            (one.mirrors(), one.bearing_rad),
            (other.mirrors(), other.bearing_rad)
        );
    }
}
