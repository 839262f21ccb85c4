//! Rays a second on one core, on a dense field of 10,000 mirrors, under a high and a low sun.
#![allow(clippy::disallowed_methods, clippy::print_stdout)]

use std::time::Instant;

use field::Plan;
use geometry::{Vec3, direction};
use rays::{Aperture, Judge, Outline, Posture, RaysError, Shape, SunShape, Surface};

const ACROSS: usize = 125;
const DEEP: usize = 80;
const ROUNDS_A_CALL: u64 = 64;

fn main() -> Result<(), RaysError> {
    let plan = plan();
    for elevation_deg in [60.0_f64, 30.0, 15.0, 8.0] {
        for shape in [Shape::Paraboloid, Shape::CornerPulled] {
            report(&plan, elevation_deg, shape)?;
        }
    }
    Ok(())
}

fn report(plan: &Plan, elevation_deg: f64, shape: Shape) -> Result<(), RaysError> {
    let posture = posture(plan, elevation_deg.to_radians());
    let surface = Surface {
        facets: [1, 1],
        shape,
        slope_error_rad: 1e-3,
        scatter_rad: 0.0,
        reflectance: &|_| 0.93,
        transmittance: &|way_m| 0.99 - 1e-4 * way_m,
    };
    let sun = SunShape::Disc {
        radius_rad: 4.65e-3,
    };
    let judge = Judge::new(plan, &posture, surface, sun, aperture())?;
    let start = Instant::now();
    let tally = judge.trace(0..ROUNDS_A_CALL, 1);
    let rays = tally.rounds() as f64 * plan.mirror_count() as f64;
    let verdict = tally.verdict();
    println!(
        "sun at {elevation_deg:>2}°, {shape:?}: {:.1} million rays a second; shading {:.4} ± {:.4}, blocking {:.4} ± {:.4}, product {:.4} ± {:.4}",
        1e-6 * rays / start.elapsed().as_secs_f64(),
        verdict.shading.value,
        verdict.shading.standard_error,
        verdict.blocking.value,
        verdict.blocking.standard_error,
        verdict.product.value,
        verdict.product.standard_error,
    );
    Ok(())
}

/// Rows across the line of sight north of the tower, 1.2 m by 2.2 m for panels of 0.95 m.
fn plan() -> Plan {
    let mut plan = Plan {
        aim_m: Vec3::new(0.0, 0.0, 40.0),
        ..Plan::default()
    };
    for row in 0..DEEP {
        for place in 0..ACROSS {
            let x_m = (place as f64 - 0.5 * ACROSS as f64) * 1.2;
            let centre_m = Vec3::new(x_m, 28.0 + row as f64 * 2.2, 1.1);
            plan.x_m.push(centre_m.x);
            plan.y_m.push(centre_m.y);
            plan.z_m.push(centre_m.z);
            plan.width_m.push(0.95);
            plan.height_m.push(0.95);
            plan.focal_length_m.push(centre_m.distance(plan.aim_m));
        }
    }
    plan
}

/// Every mirror on target, its width level.
fn posture(plan: &Plan, elevation_rad: f64) -> Posture {
    let sun = direction::from_azimuth_elevation(2.6, elevation_rad);
    let count = plan.mirror_count();
    let normals: Vec<Vec3> = (0..count)
        .map(|mirror| (plan.aim_m - plan.centre_m(mirror)).normalize())
        .map(|target| (sun + target).normalize())
        .collect();
    Posture {
        sun,
        width_edges: normals
            .iter()
            .map(|&normal| Vec3::Z.cross(normal).normalize())
            .collect(),
        normals,
        blur_in_plane_rad2: vec![1e-6; count],
        blur_across_rad2: vec![1e-6; count],
    }
}

fn aperture() -> Aperture {
    Aperture {
        centre_m: Vec3::new(0.0, 0.0, 40.0),
        normal: Vec3::Y,
        right: -Vec3::X,
        up: Vec3::Z,
        outline: Outline::Rectangle,
        width_m: 3.0,
        height_m: 3.0,
        columns: 15,
        rows: 15,
    }
}
