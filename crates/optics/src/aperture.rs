//! The opening that all mirrors send their light to.

use geometry::{Vec3, direction};

/// A flat rectangular aperture. `right` and `up` are as seen by someone in the field who looks at
/// it; `normal`, `right` and `up` are unit vectors, square to one another.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Aperture {
    /// Centre of the rectangle.
    pub centre_m: Vec3,
    /// Outward, towards the field.
    pub normal: Vec3,
    /// Along the width, level.
    pub right: Vec3,
    /// Along the height.
    pub up: Vec3,
    /// Extent along `right`.
    pub width_m: f64,
    /// Extent along `up`.
    pub height_m: f64,
}

impl Aperture {
    /// An aperture that looks towards `azimuth_rad` (clockwise from north), bent down by
    /// `tilt_down_rad` from the horizontal (less than π/2).
    #[must_use]
    pub fn facing(
        azimuth_rad: f64,
        tilt_down_rad: f64,
        centre_m: Vec3,
        width_m: f64,
        height_m: f64,
    ) -> Self {
        let normal = direction::from_azimuth_elevation(azimuth_rad, -tilt_down_rad);
        let right = Vec3::Z.cross(direction::along_bearing(azimuth_rad));
        let up = normal.cross(right);
        Self {
            centre_m,
            normal,
            right,
            up,
            width_m,
            height_m,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn right_and_up_as_seen_from_the_field() {
        let aperture = Aperture::facing(0.0, 0.0, Vec3::Z, 2.0, 3.0);
        assert!((aperture.normal - Vec3::Y).length() < 1e-15);
        assert!(
            (aperture.right + Vec3::X).length() < 1e-15,
            "looking south, right is west"
        );
        assert!((aperture.up - Vec3::Z).length() < 1e-15);
    }

    #[test]
    fn tilting_keeps_the_frame_square() {
        let aperture = Aperture::facing(2.0, 0.4, Vec3::Z, 2.0, 3.0);
        assert!(aperture.normal.z < 0.0 && aperture.up.z > 0.0 && aperture.right.z == 0.0);
        for (a, b) in [
            (aperture.normal, aperture.right),
            (aperture.right, aperture.up),
            (aperture.up, aperture.normal),
        ] {
            assert!(a.dot(b).abs() < 1e-15 && (a.length() - 1.0).abs() < 1e-15);
        }
    }
}
