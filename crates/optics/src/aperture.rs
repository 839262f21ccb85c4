//! The opening, or the body, that all mirrors send their light to.

use std::f64::consts::{PI, TAU};

use geometry::{Vec3, direction};

use crate::coarse::array;

/// What bounds an aperture.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Outline {
    /// A flat rectangle.
    Rectangle {
        /// Extent along `right`.
        width_m: f64,
        /// Extent along `up`.
        height_m: f64,
    },
    /// A flat round opening.
    Circle {
        /// Its diameter.
        diameter_m: f64,
    },
    /// An upright round body that takes light on all sides, not through its ends.
    Cylinder {
        /// Its diameter.
        diameter_m: f64,
        /// Its height.
        height_m: f64,
    },
}

/// What takes the light. `right` and `up` are as seen by someone in the field who looks at it;
/// `normal`, `right` and `up` are unit vectors, square to one another. On a cylinder they only tell
/// where the middle of its flux map lies.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Aperture {
    /// Its centre; a cylinder's lies on its axis.
    pub centre_m: Vec3,
    /// Outward, towards the field.
    pub normal: Vec3,
    /// Along the width, level.
    pub right: Vec3,
    /// Along the height.
    pub up: Vec3,
    /// What bounds it.
    pub outline: Outline,
}

impl Aperture {
    /// A flat rectangle that looks towards `azimuth_rad` (clockwise from north), bent down by
    /// `tilt_down_rad` from the horizontal (less than π/2).
    #[must_use]
    pub fn facing(
        azimuth_rad: f64,
        tilt_down_rad: f64,
        centre_m: Vec3,
        width_m: f64,
        height_m: f64,
    ) -> Self {
        let outline = Outline::Rectangle { width_m, height_m };
        Self::with_outline(azimuth_rad, tilt_down_rad, centre_m, outline)
    }

    /// A round opening that looks where [`Aperture::facing`] does.
    #[must_use]
    pub fn round(azimuth_rad: f64, tilt_down_rad: f64, centre_m: Vec3, diameter_m: f64) -> Self {
        let outline = Outline::Circle { diameter_m };
        Self::with_outline(azimuth_rad, tilt_down_rad, centre_m, outline)
    }

    /// An upright cylinder; `azimuth_rad` is where the middle of its flux map lies.
    #[must_use]
    pub fn cylinder(azimuth_rad: f64, centre_m: Vec3, diameter_m: f64, height_m: f64) -> Self {
        let outline = Outline::Cylinder {
            diameter_m,
            height_m,
        };
        Self::with_outline(azimuth_rad, 0.0, centre_m, outline)
    }

    fn with_outline(
        azimuth_rad: f64,
        tilt_down_rad: f64,
        centre_m: Vec3,
        outline: Outline,
    ) -> Self {
        let normal = direction::from_azimuth_elevation(azimuth_rad, -tilt_down_rad);
        let right = Vec3::Z.cross(direction::along_bearing(azimuth_rad));
        let up = normal.cross(right);
        Self {
            centre_m,
            normal,
            right,
            up,
            outline,
        }
    }

    /// Extent from left to right as seen from the field [m].
    #[must_use]
    pub fn width_m(&self) -> f64 {
        match self.outline {
            Outline::Rectangle { width_m, .. } => width_m,
            Outline::Circle { diameter_m } | Outline::Cylinder { diameter_m, .. } => diameter_m,
        }
    }

    /// Extent along `up` [m].
    #[must_use]
    pub fn height_m(&self) -> f64 {
        match self.outline {
            Outline::Rectangle { height_m, .. } | Outline::Cylinder { height_m, .. } => height_m,
            Outline::Circle { diameter_m } => diameter_m,
        }
    }

    /// Surface that takes light [m²].
    #[must_use]
    pub fn area_m2(&self) -> f64 {
        match self.outline {
            Outline::Rectangle { width_m, height_m } => width_m * height_m,
            Outline::Circle { diameter_m } => 0.25 * PI * diameter_m * diameter_m,
            Outline::Cylinder {
                diameter_m,
                height_m,
            } => PI * diameter_m * height_m,
        }
    }

    /// Unit normal of a cylinder's mantle at this share of the turn from its middle.
    pub(crate) fn mantle_normal(&self, turn: f64) -> Vec3 {
        let (sine, cosine) = libm::sincos(TAU * turn);
        sine * self.right + cosine * self.normal
    }

    /// How far before the aperture's centre images are taken: as far as a cylinder's visible side
    /// lies in the mean [m].
    pub(crate) fn depth_m(&self) -> f64 {
        match self.outline {
            Outline::Cylinder { diameter_m, .. } => 0.125 * PI * diameter_m,
            _ => 0.0,
        }
    }

    /// Right, up and outward of the plane on which a mirror's image is taken: the aperture's own,
    /// or for a cylinder an upright plane that faces the mirror.
    pub(crate) fn axes_for(&self, mirror_m: Vec3) -> [[f32; 3]; 3] {
        let level = Vec3::new(
            mirror_m.x - self.centre_m.x,
            mirror_m.y - self.centre_m.y,
            0.0,
        );
        match self.outline {
            Outline::Cylinder { .. } => {
                let out = level.try_normalize().unwrap_or(self.normal);
                [array(Vec3::Z.cross(out)), [0.0, 0.0, 1.0], array(out)]
            }
            _ => [array(self.right), array(self.up), array(self.normal)],
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

    #[test]
    fn a_cylinder_is_turned_from_its_middle_to_the_right() {
        let body = Aperture::cylinder(0.0, Vec3::Z, 2.0, 3.0);
        for (turn, normal) in [(0.0, Vec3::Y), (0.25, body.right), (-0.5, -Vec3::Y)] {
            assert!((body.mantle_normal(turn) - normal).length() < 1e-15);
        }
    }
}
