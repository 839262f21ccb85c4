//! Rings of mirrors with drives of their own: laid at the spacing at which none should block another,
//! next to none does; nearer together they do.

#![allow(clippy::expect_used)]

mod support;

use std::f64::consts::PI;

use field::{HeliostatField, Plan, Stance, heliostat_candidates};
use geometry::{LANES, LaneVec3, Vec3, lane};
use optics::{LightSums, Scene, Surroundings};

const LATITUDE_RAD: f64 = 0.65;
const LOWEST_SUN_RAD: f64 = 0.15;

/// Mirrors of 40 m² north of a tower.
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
        inner_radius_m: 50.0,
        outer_radius_m: 280.0,
        sector_half_rad: 65f64.to_radians(),
        sector_centre_azimuth_rad: 0.0,
        ground_slope_east: 0.0,
        ground_slope_north: 0.0,
        aim_height_m: 60.0,
    }
}

/// All on target, their widths level.
fn stand(plan: &Plan, mirror: usize, suns: &LaneVec3, stance: &mut Stance) {
    stance.resize(1);
    for index in 0..LANES {
        let normal = support::ideal_normal(plan, mirror, lane::vector(suns, index));
        lane::set_vector(&mut stance.normals[0], index, normal);
        let level = Vec3::Z.cross(normal).normalize();
        lane::set_vector(&mut stance.width_edge, index, level);
    }
}

/// Share of the light on lit glass that other mirrors block on its way to the aim.
fn blocked_share(field: &HeliostatField, suns: &[LaneVec3]) -> f64 {
    let plan = heliostat_candidates(field)
        .expect("the field can be laid")
        .plan;
    let around = Surroundings::new(&plan, LOWEST_SUN_RAD);
    let hood = around.of_all();
    let (mirrors, aperture) = (support::fair_mirrors(), support::aperture_of(&plan, 8.0));
    let scene = Scene {
        plan: &plan,
        hood: &hood,
        mirrors: &mirrors,
        aperture: &aperture,
    };
    let mut sums = LightSums::default();
    let mut stance = Stance::default();
    for suns in suns {
        let mut sunlit = scene.under(suns);
        for mirror in 0..plan.mirror_count() {
            stand(&plan, mirror, suns, &mut stance);
            sunlit.add_light(mirror, 0..1, &stance, &mut sums);
        }
    }
    let total = |step: usize| sums.steps_m2[step].iter().sum::<f64>();
    1.0 - total(3) / total(2)
}

/// Fields of every make, each of which keeps its mirrors out of each other's way.
fn fields() -> [(&'static str, HeliostatField); 6] {
    let north = pedestals();
    let narrow = HeliostatField {
        side_spacing_ratio: 1.1,
        ..north
    };
    let surround = HeliostatField {
        sector_half_rad: PI,
        inner_radius_m: 60.0,
        aim_height_m: 80.0,
        ..north
    };
    let uphill = HeliostatField {
        ground_slope_north: 0.08,
        ground_slope_east: 0.03,
        ..north
    };
    let downhill = HeliostatField {
        ground_slope_north: -0.08,
        ..north
    };
    let small = HeliostatField {
        width_m: 1.4,
        height_m: 1.4,
        turning_circle_m: 2.0,
        axis_height_m: 0.9,
        inner_radius_m: 20.0,
        outer_radius_m: 90.0,
        aim_height_m: 25.0,
        ..north
    };
    [
        ("north", north),
        ("narrow slots", narrow),
        ("surround", surround),
        ("uphill", uphill),
        ("downhill", downhill),
        ("small", small),
    ]
}

/// Of panels that face the aim none covers a bit of another, with the low sun behind the tower and in a
/// narrow sector opposite; a little nearer they do.
#[test]
fn no_mirror_that_faces_the_aim_blocks_another() {
    for (name, field) in fields() {
        let narrow = HeliostatField {
            sector_half_rad: 0.15,
            ..field
        };
        let suns = lane::columns(&std::array::from_fn(|index| {
            let (sine, cosine) = libm::sincos(0.16 + 0.06 * index as f64);
            Vec3::new(0.0, -cosine, sine)
        }));
        let nearer = HeliostatField {
            ring_spacing_ratio: 0.9,
            ..narrow
        };
        let blocked = [narrow, nearer].map(|field| blocked_share(&field, &[suns]));
        println!("{name}: {blocked:.6?}");
        assert!(
            blocked[0] < 1e-6 && blocked[1] > 1e-4,
            "{name}: {blocked:?}"
        );
    }
}

/// Over the year the corners of panels turned aside take a little.
#[test]
fn over_the_year_hardly_any_light_is_blocked() {
    let year = support::year_suns(LATITUDE_RAD, LOWEST_SUN_RAD);
    for (name, field) in fields() {
        let blocked = blocked_share(&field, &year);
        println!("{name}: {blocked:.5}");
        assert!(blocked < 3e-3, "{name}: {blocked}");
    }
}

/// Nearer rings block each other, and more so the nearer they are.
#[test]
fn nearer_rings_block() {
    let year = support::year_suns(LATITUDE_RAD, LOWEST_SUN_RAD);
    for (name, field) in fields() {
        let blocked = [1.0, 0.8, 0.6].map(|ring_spacing_ratio| {
            let field = HeliostatField {
                ring_spacing_ratio,
                ..field
            };
            blocked_share(&field, &year)
        });
        println!("{name}: {blocked:.4?}");
        assert!(blocked[0] < blocked[1] && blocked[1] < blocked[2], "{name}");
        assert!(blocked[2] > 0.01, "{name}: {blocked:?}");
    }
}
