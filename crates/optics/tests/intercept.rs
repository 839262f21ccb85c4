//! Intercept against traced rays: an evenly bright sun, a true paraboloid with normally
//! distributed slope errors, a rectangular tilted aperture; no bell curve, no first order.

mod support;

use std::f64::consts::TAU;

use field::{Plan, Stance};
use geometry::{LANES, LaneVec3, Vec3, lane};
use optics::{Aperture, Mirrors, Scene, Surroundings};

const RAYS: usize = 20_000;
const SLOPE_ERROR_RAD: f64 = 1.5e-3;
const SUN_RADIUS_RAD: f64 = 4.65e-3;

/// Point `index` of an even sequence in the six-dimensional unit cube: additive recurrence with
/// the powers of the root of x⁷ = x + 1.
fn even_point(index: usize) -> [f64; 6] {
    let root: f64 = 1.112_775_684_278_706;
    let mut step = 1.0;
    std::array::from_fn(|_| {
        step /= root;
        (0.5 + step * index as f64).fract()
    })
}

/// Two normally distributed numbers of spread 1.
fn normal_pair(a: f64, b: f64) -> [f64; 2] {
    let size = (-2.0 * libm::log(a.max(1e-12))).sqrt();
    [size * libm::cos(TAU * b), size * libm::sin(TAU * b)]
}

/// A unit vector near `about`, moved by two small angles square to it.
fn nudged(about: Vec3, by_rad: [f64; 2]) -> Vec3 {
    let first = about.any_orthonormal_vector();
    (about + by_rad[0] * first + by_rad[1] * about.cross(first)).normalize()
}

/// Share of a mirror's light that meets the aperture.
fn traced_share(
    plan: &Plan,
    mirror: usize,
    sun: Vec3,
    turn_rad: [f64; 2],
    edge: Vec3,
    aperture: &Aperture,
) -> f64 {
    let normal = nudged(support::ideal_normal(plan, mirror, sun), turn_rad);
    let across = (edge - edge.dot(normal) * normal).normalize();
    let along = normal.cross(across);
    let bend = 0.5 / plan.focal_length_m[mirror];
    let mut inside = 0;
    for index in 0..RAYS {
        let [a, b, c, d, e, f] = even_point(index);
        let [x_m, y_m] = [a, b].map(|share| plan.width_m[mirror] * (share - 0.5));
        let spot = plan.centre_m(mirror)
            + x_m * across
            + y_m * along
            + 0.5 * bend * (x_m * x_m + y_m * y_m) * normal;
        let right_normal = (normal - bend * (x_m * across + y_m * along)).normalize();
        let slope = normal_pair(c, d).map(|error| SLOPE_ERROR_RAD * error);
        let true_normal = nudged(right_normal, slope);
        let off_rad = SUN_RADIUS_RAD * e.sqrt();
        let source = nudged(
            sun,
            [off_rad * libm::cos(TAU * f), off_rad * libm::sin(TAU * f)],
        );
        let ray = 2.0 * true_normal.dot(source) * true_normal - source;
        let distance_m = (aperture.centre_m - spot).dot(aperture.normal) / ray.dot(aperture.normal);
        let met = spot + distance_m * ray - aperture.centre_m;
        inside += i32::from(
            ray.dot(aperture.normal) < 0.0
                && met.dot(aperture.right).abs() < 0.5 * aperture.width_m()
                && met.dot(aperture.up).abs() < 0.5 * aperture.height_m(),
        );
    }
    f64::from(inside) / RAYS as f64
}

/// A few single mirrors over a sector of ±60°, 0.7 to 3.4 tower heights away.
fn spread_out(side_m: f64, flat: bool) -> Plan {
    let mut plan = Plan {
        aim_m: Vec3::new(0.0, 0.0, 40.0),
        ..Plan::default()
    };
    for (azimuth_deg, range_m) in [
        (0.0_f64, 28.0),
        (0.0, 130.0),
        (30.0, 60.0),
        (-60.0, 40.0),
        (60.0, 110.0),
        (-45.0, 90.0),
    ] {
        let place = range_m * geometry::direction::along_bearing(azimuth_deg.to_radians());
        plan.strings.push(field::StringRow {
            first_mirror: plan.mirror_count(),
            mirror_count: 1,
            bearing_rad: 1.57,
            first_axis: field::FirstAxis::Along,
            linkage: field::Linkage::EqualAngle,
            row: 0,
        });
        support::push_mirror(&mut plan, place + Vec3::Z, side_m);
    }
    if flat {
        plan.focal_length_m.fill(f64::INFINITY);
    }
    plan
}

fn smooth_mirrors() -> Mirrors {
    Mirrors {
        slope_error_rad: SLOPE_ERROR_RAD,
        scatter_rad: 0.0,
        bending_residual: 0.0,
        gravity_slope_rad: 0.0,
        ..support::fair_mirrors()
    }
}

/// Differences of the kernel from traced rays: largest for one mirror and sun, mean of all.
fn differences(plan: &Plan, aperture_m: f64, turn_rad: [f64; 2]) -> (f64, f64) {
    let aperture = support::aperture_of(plan, aperture_m);
    let around = Surroundings::new(plan, 0.1);
    let hood = around.of_all();
    let mirrors = smooth_mirrors();
    let (mut worst, mut sum, mut count) = (0.0_f64, 0.0, 0.0);
    for suns in support::year_suns(0.65, 0.15).iter().step_by(3) {
        for string in 0..plan.strings.len() {
            let stance = turned_stance(plan, string, suns, turn_rad);
            Scene {
                plan,
                hood: &hood,
                mirrors: &mirrors,
                aperture: &aperture,
            }
            .under(suns)
            .each_mirror(string, 0..1, &stance, |_, light| {
                for index in (0..LANES).step_by(3) {
                    let (sun, edge) = (
                        lane::vector(suns, index),
                        lane::vector(&stance.width_edge, index),
                    );
                    let traced = traced_share(plan, string, sun, turn_rad, edge, &aperture);
                    worst = worst.max((light.intercept[index] - traced).abs());
                    sum += light.intercept[index] - traced;
                    count += 1.0;
                }
            });
        }
    }
    (worst, sum / count)
}

fn turned_stance(plan: &Plan, string: usize, suns: &LaneVec3, turn_rad: [f64; 2]) -> Stance {
    let mut stance = Stance::default();
    support::ideal_stance(plan, string, suns, &mut stance);
    for index in 0..LANES {
        let normal = nudged(
            support::ideal_normal(plan, string, lane::vector(suns, index)),
            turn_rad,
        );
        lane::set_vector(&mut stance.normals[0], index, normal);
    }
    stance
}

#[test]
fn focused_panels() {
    let plan = spread_out(0.95, false);
    for aperture_m in [0.8, 1.4, 2.0, 3.4] {
        let (worst, mean) = differences(&plan, aperture_m, [0.0; 2]);
        println!("focused, aperture {aperture_m} m: at worst {worst:.4}, mean {mean:.5}");
        assert!(worst < 0.012 && mean.abs() < 0.002);
    }
}

#[test]
fn panels_off_their_target() {
    let plan = spread_out(0.95, false);
    for turn_rad in [[4e-3, 0.0], [-3e-3, 6e-3]] {
        let (worst, mean) = differences(&plan, 1.4, turn_rad);
        println!("turned by {turn_rad:?}: at worst {worst:.4}, mean {mean:.5}");
        assert!(worst < 0.01 && mean.abs() < 0.002);
    }
}

#[test]
fn flat_and_large_panels() {
    for (side_m, flat, aperture_m) in [
        (2.0, true, 2.0),
        (2.0, true, 3.0),
        (3.0, false, 2.0),
        (0.95, true, 1.4),
    ] {
        let (worst, mean) = differences(&spread_out(side_m, flat), aperture_m, [0.0; 2]);
        println!(
            "side {side_m} m, flat {flat}, aperture {aperture_m} m: at worst {worst:.4}, mean {mean:.5}"
        );
        assert!(worst < 0.04 && mean.abs() < 0.005);
    }
}
