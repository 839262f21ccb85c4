//! The algebra against rotation matrices written out from sines and cosines.

use geometry::{LANES, Vec3, lane};
use proptest::prelude::*;

use super::{AXES, Place, exact_mechanism, lanes_of, one_string, sun_at};
use crate::Drives;
use crate::frame::Frame;
use crate::reflection::normal_between;

pub(super) type Matrix = [[f64; 3]; 3];

/// Rotation by `angle_rad` about the unit vector `axis`, element by element (Rodrigues).
pub(super) fn rotation(axis: Vec3, angle_rad: f64) -> Matrix {
    let (sin, cos) = (libm::sin(angle_rad), libm::cos(angle_rad));
    let [x, y, z] = axis.to_array();
    let rest = 1.0 - cos;
    [
        [
            cos + x * x * rest,
            x * y * rest - z * sin,
            x * z * rest + y * sin,
        ],
        [
            y * x * rest + z * sin,
            cos + y * y * rest,
            y * z * rest - x * sin,
        ],
        [
            z * x * rest - y * sin,
            z * y * rest + x * sin,
            cos + z * z * rest,
        ],
    ]
}

pub(super) fn apply(matrix: &Matrix, vector: Vec3) -> Vec3 {
    let row = |index: usize| Vec3::from_array(matrix[index]).dot(vector);
    Vec3::new(row(0), row(1), row(2))
}

pub(super) fn undo(matrix: &Matrix, vector: Vec3) -> Vec3 {
    let column = |index: usize| matrix.map(|row| row[index]);
    let dot = |index: usize| Vec3::from_array(column(index)).dot(vector);
    Vec3::new(dot(0), dot(1), dot(2))
}

/// The angles α and β that bring the resting normal onto `normal`.
pub(super) fn angles_rad(rest: &Frame, normal: Vec3) -> [f64; 2] {
    let alpha_rad = libm::atan2(-normal.dot(rest.second), normal.dot(rest.normal));
    [alpha_rad, libm::asin(normal.dot(rest.first))]
}

/// α and β from their angles, then both rotations written out.
fn both_turns(rest: &Frame, normal: Vec3) -> [Matrix; 2] {
    let [alpha_rad, beta_rad] = angles_rad(rest, normal);
    [
        rotation(rest.first, alpha_rad),
        rotation(rest.second, beta_rad),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn stand_follows_the_two_rotations(
        azimuth_deg in -80.0..80.0f64,
        distance_m in 30.0..200.0f64,
        bearing_deg in 0.0..180.0f64,
        mirrors in 1usize..20,
        axis in 0usize..4,
        sun_azimuth_deg in 90.0..270.0f64,
        sun_elevation_deg in 10.0..80.0f64,
    ) {
        let place = Place {
            azimuth_deg, distance_m, bearing_deg, mirrors, pitch_m: 1.1, height_m: 1.3, aim_m: 35.0,
        };
        let plan = one_string(&place, AXES[axis]);
        let alignment_sun = sun_at(170.0, 50.0);
        let sun = sun_at(sun_azimuth_deg, sun_elevation_deg);
        let drives = Drives::prepare(&plan, &exact_mechanism(30.0, alignment_sun));
        let mut stance = field::Stance::default();
        drives.stand(&plan, 0, &lanes_of(sun), &mut stance);

        let target = |mirror: usize| (plan.aim_m - plan.centre_m(mirror)).normalize();
        let reference = plan.strings[0].reference_mirror();
        let rest = Frame::at_rest(AXES[axis], bearing_deg.to_radians(), 30f64.to_radians()).unwrap();
        let [then_first, then_second] =
            both_turns(&rest, normal_between(alignment_sun, target(reference)));
        let [now_first, now_second] = both_turns(&rest, normal_between(sun, target(reference)));
        for mirror in 0..mirrors {
            let aligned = normal_between(alignment_sun, target(mirror));
            let shim = undo(&then_second, undo(&then_first, aligned));
            let expected = apply(&now_first, apply(&now_second, shim));
            for column in 0..LANES {
                let got = lane::vector(&stance.normals[mirror], column);
                prop_assert!((got - expected).length() < 1e-13);
            }
            prop_assert!((drives.normal(&plan, mirror, sun) - expected).length() < 1e-13);
        }
        let edge = lane::vector(&stance.width_edge, 0);
        prop_assert!((edge - apply(&now_first, rest.second)).length() < 1e-13);
    }
}
