//! One string on level ground, made by hand: no layout rule stands between the table and the
//! mirrors.

use field::{FirstAxis, Linkage, Plan, StringRow};
use geometry::{Vec3, direction};

/// Height of the aim point.
pub const AIM_M: f64 = 32.0;
/// Side of the square panels.
pub const SIDE_M: f64 = 0.9;
/// Height of the mirror centres on a level rail.
const MOUNT_M: f64 = 1.2;

/// Bearing of a string as the table names it.
#[derive(Clone, Copy, Debug)]
pub enum Bearing {
    /// Towards the tower's foot.
    Radial,
    /// A quarter turn from north, plus this share of the place's azimuth: 0 is east–west, 1 is
    /// square to the line of sight.
    Fan(f64),
}

/// What a row of the table fixes of a string.
#[derive(Clone, Copy, Debug)]
pub struct Build {
    pub bearing: Bearing,
    pub first_axis: FirstAxis,
    /// Pitch ÷ side.
    pub pitch_ratio: f64,
    /// Slope of the rail, rising away from the tower.
    pub rail_deg: f64,
}

/// Middle of a string, seen from the tower's foot.
#[derive(Clone, Copy, Debug)]
pub struct Place {
    pub azimuth_deg: f64,
    pub distance_m: f64,
}

/// A field of one string; its lowest mirror stands at mount height.
pub fn plan(build: &Build, place: Place, mirrors: usize) -> Plan {
    let azimuth_rad = place.azimuth_deg.to_radians();
    let bearing_rad = match build.bearing {
        Bearing::Radial => azimuth_rad,
        Bearing::Fan(share) => 90f64.to_radians() + share * azimuth_rad,
    };
    let row = StringRow {
        first_mirror: 0,
        mirror_count: mirrors,
        bearing_rad,
        first_axis: build.first_axis,
        linkage: Linkage::EqualAngle,
        row: 0,
    };
    let (rise, run) = libm::sincos(build.rail_deg.to_radians());
    let along = direction::along_bearing(bearing_rad) * run + Vec3::Z * rise;
    let half_m = 0.5 * (mirrors as f64 - 1.0) * build.pitch_ratio * SIDE_M;
    let middle = direction::along_bearing(azimuth_rad) * place.distance_m
        + Vec3::Z * (MOUNT_M + rise * half_m);
    let mut plan = Plan {
        aim_m: Vec3::Z * AIM_M,
        ..Plan::default()
    };
    for mirror in row.mirrors() {
        let off_m = mirror as f64 * build.pitch_ratio * SIDE_M - half_m;
        push_square(&mut plan, middle + along * off_m);
    }
    plan.strings.push(row);
    plan
}

fn push_square(plan: &mut Plan, centre_m: Vec3) {
    plan.x_m.push(centre_m.x);
    plan.y_m.push(centre_m.y);
    plan.z_m.push(centre_m.z);
    plan.width_m.push(SIDE_M);
    plan.height_m.push(SIDE_M);
    plan.focal_length_m.push(plan.aim_m.distance(centre_m));
}
