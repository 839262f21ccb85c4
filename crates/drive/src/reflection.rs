//! Reflection of the central ray and the two directions in which a beam can miss.

use geometry::Vec3;

use crate::frame::Frame;

/// Below this the sun stands in the normal and the plane of incidence is undetermined.
const LEAST_SINE_SQUARED: f64 = 1e-24;

/// Unit normal that sends light from the sun along `target`; both are unit vectors that point away
/// from the mirror, and not opposite to each other.
#[inline(always)]
pub(crate) fn normal_between(sun: Vec3, target: Vec3) -> Vec3 {
    let sum = sun + target;
    sum * (1.0 / sum.dot(sum).sqrt())
}

/// Direction of the central ray after a mirror with unit normal `normal`.
#[inline(always)]
pub(crate) fn reflected(sun: Vec3, normal: Vec3) -> Vec3 {
    normal * (2.0 * normal.dot(sun)) - sun
}

/// Angle between two directions [rad], exact for small ones too.
pub(crate) fn angle_between_rad(one: Vec3, other: Vec3) -> f64 {
    libm::atan2(one.cross(other).length(), one.dot(other))
}

/// The plane of incidence on a mount, and how much of an error across it the beam sees.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Incidence {
    /// Unit vector in the plane of incidence, square to the normal: its parts along the mount's first and second
    /// direction.
    pub in_plane: [f64; 2],
    /// Cosine of the angle of incidence.
    pub cosine: f64,
}

impl Incidence {
    /// When the sun stands in the normal, the second direction is taken.
    #[inline(always)]
    pub fn new(sun: Vec3, frame: &Frame) -> Self {
        let seen = frame.components(sun);
        let sine2 = seen.x * seen.x + seen.y * seen.y;
        let known = f64::from(u8::from(sine2 > LEAST_SINE_SQUARED));
        let scale = known / sine2.max(LEAST_SINE_SQUARED).sqrt();
        Self {
            in_plane: [scale * seen.x, scale * seen.y + (1.0 - known)],
            cosine: seen.z,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_bisector_reflects_onto_the_target() {
        let sun = Vec3::new(0.1, -0.6, 0.7).normalize();
        let target = Vec3::new(0.3, -0.9, 0.2).normalize();
        let ray = reflected(sun, normal_between(sun, target));
        assert!(angle_between_rad(ray, target) < 1e-15);
    }

    #[test]
    fn a_normal_error_moves_the_beam_twice_in_plane_and_less_across() {
        let frame = Frame::GROUND;
        let sun = Vec3::new(0.6, 0.0, 0.8);
        let incidence = Incidence::new(sun, &frame);
        let delta_rad = 1e-5;
        let moved = |by: Vec3| {
            let tilted = (frame.normal + by * delta_rad).normalize();
            angle_between_rad(reflected(sun, tilted), reflected(sun, frame.normal)) / delta_rad
        };
        let [first, second] = incidence.in_plane;
        let in_plane = frame.first * first + frame.second * second;
        assert!((moved(in_plane) - 2.0).abs() < 1e-6);
        let across = frame.normal.cross(in_plane);
        assert!((moved(across) - 2.0 * incidence.cosine).abs() < 1e-4);
    }

    #[test]
    fn the_sun_in_the_normal_leaves_a_sound_direction() {
        let incidence = Incidence::new(Vec3::Z, &Frame::GROUND);
        assert_eq!(incidence.in_plane, [0.0, 1.0]);
        assert_eq!(incidence.cosine, 1.0);
    }
}
