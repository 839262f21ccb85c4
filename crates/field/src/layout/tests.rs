//! Checks of the layout: nothing outside, nothing touching, every bearing by its rule.

use std::f64::consts::{PI, SQRT_2, TAU};

use proptest::prelude::*;

use super::*;
use crate::plan::{FirstAxis, Linkage};
use crate::site::wrapped_rad;

/// A field of the size of a small steam plant.
pub(crate) fn steam_field() -> StringField {
    StringField {
        mirrors_per_string: 15,
        side_m: 0.95,
        pitch_m: 1.2,
        bearing: BearingRule::Fan { share: 1.0 / 3.0 },
        first_axis: FirstAxis::Along,
        linkage: Linkage::EqualAngle,
        rail_slope_rad: 0.0,
        mount_height_m: 1.1,
        stagger_m: 0.0,
        row_spacing_m: 1.9,
        row_growth: 0.005,
        end_gap_m: 0.3,
        lane_every_rows: 10,
        lane_width_m: 3.0,
        inner_radius_m: 28.0,
        outer_radius_m: 136.0,
        sector_half_rad: 60f64.to_radians(),
        sector_centre_azimuth_rad: 0.0,
        ground_slope_east: 0.0,
        ground_slope_north: 0.0,
        aim_height_m: 40.0,
    }
}

fn any_bearing() -> impl Strategy<Value = BearingRule> {
    prop_oneof![
        Just(BearingRule::Radial),
        Just(BearingRule::Cross),
        (0.0..PI).prop_map(|azimuth_rad| BearingRule::Fixed { azimuth_rad }),
        (0.0..=1.0f64).prop_map(|share| BearingRule::Fan { share }),
    ]
}

prop_compose! {
    /// Fields whose ring is wider than their longest string is: any of them has room for one.
    fn any_field()(
        mirrors_per_string in 1usize..20,
        pitch_ratio in 1.05..2.0f64,
        bearing in any_bearing(),
        rail_slope_rad in 0.0..0.35f64,
        stagger_m in 0.0..0.3f64,
        spacing_ratio in 1.42..4.0f64,
        row_growth in 0.0..0.02f64,
        lane_every_rows in 0usize..6,
        inner_radius_m in 12.0..25.0f64,
        sector_half_rad in 0.5..PI,
        sector_centre_azimuth_rad in 0.0..TAU,
        ground in (-0.05..0.05f64, -0.05..0.05f64),
    ) -> StringField {
        StringField {
            mirrors_per_string,
            pitch_m: 0.95 * pitch_ratio,
            bearing,
            rail_slope_rad,
            stagger_m,
            row_spacing_m: 0.95 * spacing_ratio,
            row_growth,
            lane_every_rows,
            inner_radius_m,
            outer_radius_m: 60.0,
            sector_half_rad,
            sector_centre_azimuth_rad,
            ground_slope_east: ground.0,
            ground_slope_north: ground.1,
            ..steam_field()
        }
    }
}

/// Smallest horizontal distance of mirrors that belong to different strings of one row, and of
/// different rows [m].
fn least_distances_m(plan: &Plan) -> (f64, f64) {
    let (mut in_row_m, mut between_rows_m) = (f64::INFINITY, f64::INFINITY);
    for (index, one) in plan.strings.iter().enumerate() {
        for other in &plan.strings[index + 1..] {
            let middle_m =
                flat(plan, one.reference_mirror()).distance(flat(plan, other.reference_mirror()));
            if middle_m > 45.0 {
                continue;
            }
            let least_m = one
                .mirrors()
                .flat_map(|mirror| other.mirrors().map(move |rival| (mirror, rival)))
                .map(|(mirror, rival)| flat(plan, mirror).distance_squared(flat(plan, rival)))
                .fold(f64::INFINITY, f64::min)
                .sqrt();
            let slot = if one.row == other.row {
                &mut in_row_m
            } else {
                &mut between_rows_m
            };
            *slot = slot.min(least_m);
        }
    }
    (in_row_m, between_rows_m)
}

fn flat(plan: &Plan, mirror: usize) -> Vec3 {
    plan.centre_m(mirror).with_z(0.0)
}

fn middle(plan: &Plan, row: &StringRow) -> Vec3 {
    (flat(plan, row.first_mirror) + flat(plan, row.mirrors().end - 1)) * 0.5
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn every_mirror_stands_in_the_ring_and_the_sector(field in any_field()) {
        let plan = candidates(&field).unwrap().plan.checked().unwrap();
        for mirror in 0..plan.mirror_count() {
            let place = flat(&plan, mirror);
            prop_assert!(place.length() >= field.inner_radius_m - 1e-6);
            prop_assert!(place.length() <= field.outer_radius_m + 1e-6);
            let (azimuth_rad, _) = direction::azimuth_elevation(place.normalize());
            let off_rad = wrapped_rad(azimuth_rad - field.sector_centre_azimuth_rad);
            prop_assert!(off_rad.abs() <= field.sector_half_rad + 1e-6);
        }
    }

    #[test]
    fn strings_never_touch(field in any_field()) {
        let plan = candidates(&field).unwrap().plan;
        let (in_row_m, between_rows_m) = least_distances_m(&plan);
        let end_to_end_m = field.pitch_m + field.end_gap_m;
        prop_assert!(in_row_m >= 0.98 * end_to_end_m.min(field.row_spacing_m), "in row {in_row_m}");
        let clear_m = match field.bearing {
            BearingRule::Radial => end_to_end_m.min(field.row_spacing_m),
            _ => field.row_spacing_m,
        };
        prop_assert!(between_rows_m >= 0.98 * clear_m, "between rows {between_rows_m} {clear_m}");
    }

    #[test]
    fn strings_bear_by_the_rule(field in any_field()) {
        let plan = candidates(&field).unwrap().plan;
        for row in &plan.strings {
            let (azimuth_rad, _) = direction::azimuth_elevation(middle(&plan, row).normalize());
            let off_rad = wrapped_rad(azimuth_rad - field.sector_centre_azimuth_rad);
            let folded_rad = off_rad - PI * (off_rad / PI).round();
            let expected_rad = match field.bearing {
                BearingRule::Radial => azimuth_rad,
                BearingRule::Cross => azimuth_rad + 0.5 * PI,
                BearingRule::Fixed { azimuth_rad } => azimuth_rad,
                BearingRule::Fan { share } => {
                    field.sector_centre_azimuth_rad + 0.5 * PI + share * folded_rad
                }
            };
            let wrong = libm::sin(row.bearing_rad - expected_rad).abs();
            prop_assert!(wrong < 1e-9, "{wrong}");
        }
    }

    #[test]
    fn mirrors_follow_one_another_along_the_bearing_at_the_pitch(field in any_field()) {
        let plan = candidates(&field).unwrap().plan;
        for row in plan.strings.iter().filter(|row| row.mirror_count > 2) {
            let step = plan.centre_m(row.first_mirror + 2) - plan.centre_m(row.first_mirror);
            prop_assert!((step.length() - 2.0 * field.pitch_m).abs() < 1e-9);
            prop_assert!(step.dot(direction::along_bearing(row.bearing_rad)) > 0.0);
        }
    }

    #[test]
    fn the_low_end_stands_at_the_mount_height(field in any_field()) {
        let plan = candidates(&field).unwrap().plan;
        for row in &plan.strings {
            let over_ground_m = |mirror: usize| {
                plan.z_m[mirror] - field.site().ground_m(plan.x_m[mirror], plan.y_m[mirror])
            };
            let lowest_m = row.mirrors().map(over_ground_m).fold(f64::INFINITY, f64::min);
            prop_assert!(lowest_m >= field.mount_height_m - 1e-9);
            prop_assert!(lowest_m <= field.mount_height_m + field.stagger_m + 1e-9);
        }
    }
}

#[test]
fn a_sloping_rail_rises_away_from_the_tower() {
    let field = StringField {
        bearing: BearingRule::Radial,
        rail_slope_rad: 0.26,
        ..steam_field()
    };
    let plan = candidates(&field).unwrap().plan;
    let row = &plan.strings[0];
    let run = plan.centre_m(row.mirrors().end - 1) - plan.centre_m(row.first_mirror);
    assert!((libm::atan2(run.z, run.with_z(0.0).length()) - 0.26).abs() < 1e-12);
    let tangential = StringField {
        bearing: BearingRule::Cross,
        ..field
    };
    let level = candidates(&tangential).unwrap().plan;
    assert!(
        level
            .z_m
            .iter()
            .all(|z_m| (z_m - field.mount_height_m).abs() < 1e-9)
    );
}

#[test]
fn rows_spread_with_distance_and_make_way_for_lanes() {
    let field = StringField {
        bearing: BearingRule::Cross,
        mirrors_per_string: 1,
        ..steam_field()
    };
    let plan = candidates(&field).unwrap().plan;
    let mut radii_m: Vec<f64> = Vec::new();
    for row in &plan.strings {
        if row.row == radii_m.len() {
            radii_m.push(flat(&plan, row.first_mirror).length());
        }
    }
    for (row, pair) in radii_m.windows(2).enumerate() {
        let lane_m = if (row + 1) % 10 == 0 { 3.0 } else { 0.0 };
        let expected_m = 1.9 + 0.005 * (pair[0] - 28.0) + lane_m;
        assert!(
            (pair[1] - pair[0] - expected_m).abs() < 2e-3,
            "{row}: {pair:?}"
        );
    }
}

/// Glass over ground of the whole sector: not far below side ÷ pitch × side ÷ mean row spacing.
#[test]
fn the_sector_is_filled() {
    for bearing in [
        BearingRule::Fan { share: 0.0 },
        BearingRule::Fan { share: 1.0 / 3.0 },
        BearingRule::Cross,
        BearingRule::Fixed { azimuth_rad: 0.0 },
    ] {
        let field = StringField {
            bearing,
            row_growth: 0.0,
            lane_every_rows: 0,
            ..steam_field()
        };
        let plan = candidates(&field).unwrap().plan;
        let ring_m2 = field.outer_radius_m * field.outer_radius_m
            - field.inner_radius_m * field.inner_radius_m;
        let filled = plan.total_area_m2() / (field.sector_half_rad * ring_m2);
        let densest = 0.95 * 0.95 / (1.2 * 1.9);
        assert!(
            filled > 0.7 * densest && filled < densest,
            "{bearing:?}: {filled} of {densest}"
        );
    }
}

#[test]
fn focal_lengths_are_slant_ranges() {
    let plan = candidates(&steam_field()).unwrap().plan;
    let slant_m = (Vec3::new(0.0, 0.0, 40.0) - plan.centre_m(11)).length();
    assert_eq!(plan.focal_length_m[11], slant_m);
}

#[test]
fn what_cannot_be_built_is_refused_with_its_numbers() {
    let field = steam_field();
    let refused = |field: StringField| candidates(&field).unwrap_err();
    let diagonal_m = SQRT_2 * 0.95;
    assert_eq!(
        refused(StringField {
            row_spacing_m: 1.2,
            ..field
        }),
        FieldError::RowsTooClose {
            spacing_m: 1.2,
            needed_m: diagonal_m
        }
    );
    assert_eq!(
        refused(StringField {
            mount_height_m: 0.5,
            ..field
        }),
        FieldError::MountTooLow {
            mount_height_m: 0.5,
            needed_m: 0.5 * diagonal_m
        }
    );
    assert_eq!(
        refused(StringField {
            pitch_m: 0.9,
            ..field
        }),
        FieldError::PitchBelowSide {
            pitch_m: 0.9,
            side_m: 0.95
        }
    );
    assert_eq!(
        refused(StringField {
            outer_radius_m: 20.0,
            ..field
        }),
        FieldError::NoRing {
            inner_m: 28.0,
            outer_m: 20.0
        }
    );
    let fan = BearingRule::Fan { share: 1.5 };
    assert_eq!(
        refused(StringField {
            bearing: fan,
            ..field
        }),
        FieldError::ShareOutOfRange { share: 1.5 }
    );
    let nan = refused(StringField {
        ground_slope_east: f64::NAN,
        ..field
    });
    assert!(matches!(nan, FieldError::NotFinite { .. }));
    let none = refused(StringField {
        mirrors_per_string: 0,
        ..field
    });
    assert!(matches!(none, FieldError::NotPositive { .. }));
}
