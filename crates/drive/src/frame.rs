//! The two axes of a mount, at rest and turned.

use field::FirstAxis;
use geometry::{Vec3, direction};

/// Below this the normal points along the first axis and the first turn is undetermined.
const LEAST_PLANAR: f64 = 1e-12;

/// Three orthonormal directions of a mount: its first axis, its second axis and its normal,
/// right-handed in this order. Turned by the drive, `first` leaves the fixed axis.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Frame {
    pub first: Vec3,
    pub second: Vec3,
    pub normal: Vec3,
}

/// Cosines and sines of the two turns: α about the fixed first axis, β about the carried second.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Turn {
    pub cos_first: f64,
    pub sin_first: f64,
    pub cos_second: f64,
    pub sin_second: f64,
}

impl Frame {
    /// The mount before any turn.
    ///
    /// `across` and `along` rest with the normal up, `vertical` with the second axis along the
    /// string, `polar` with the second axis east–west. Where the second axis rests about the first
    /// is free: it shifts α by a constant and moves no mirror.
    pub fn at_rest(axis: FirstAxis, bearing_rad: f64, latitude_rad: f64) -> Self {
        let along = direction::along_bearing(bearing_rad);
        let across = Vec3::Z.cross(along);
        match axis {
            FirstAxis::Across => Self::from_axes(across, -along),
            FirstAxis::Along => Self::from_axes(along, across),
            FirstAxis::Vertical => Self::from_axes(Vec3::Z, along),
            FirstAxis::Polar => Self::from_axes(towards_pole(latitude_rad), Vec3::X),
        }
    }

    fn from_axes(first: Vec3, second: Vec3) -> Self {
        Self {
            first,
            second,
            normal: first.cross(second),
        }
    }

    /// The turn, with |β| ≤ 90°, that brings the resting normal onto the unit vector `normal`.
    /// Along the first axis itself every α serves and the one closest at hand is returned.
    #[inline(always)]
    pub fn turn_onto(&self, normal: Vec3) -> Turn {
        let sin_second = normal.dot(self.first);
        let up = normal.dot(self.normal);
        let side = -normal.dot(self.second);
        let cos_second = (up * up + side * side).sqrt();
        let scale = 1.0 / cos_second.max(LEAST_PLANAR);
        Turn {
            cos_first: up * scale,
            sin_first: side * scale,
            cos_second,
            sin_second,
        }
    }

    /// The resting normal after the first turn only: the arm that carries the second axis.
    #[inline(always)]
    pub fn arm(&self, turn: Turn) -> Vec3 {
        self.normal * turn.cos_first - self.second * turn.sin_first
    }

    /// The frame after both turns, R(first, α)·R(second, β).
    #[inline(always)]
    pub fn turned(&self, turn: Turn) -> Self {
        let arm = self.arm(turn);
        Self {
            first: self.first * turn.cos_second - arm * turn.sin_second,
            second: self.second * turn.cos_first + self.normal * turn.sin_first,
            normal: self.first * turn.sin_second + arm * turn.cos_second,
        }
    }

    /// Components of a direction in this frame.
    #[inline(always)]
    pub fn components(&self, direction: Vec3) -> Vec3 {
        Vec3::new(
            self.first.dot(direction),
            self.second.dot(direction),
            self.normal.dot(direction),
        )
    }

    /// The direction with the given components in this frame.
    #[inline(always)]
    pub fn direction(&self, components: Vec3) -> Vec3 {
        self.first * components.x + self.second * components.y + self.normal * components.z
    }
}

/// Unit vector to the elevated celestial pole.
fn towards_pole(latitude_rad: f64) -> Vec3 {
    let (sin, cos) = libm::sincos(latitude_rad.abs());
    Vec3::new(0.0, cos.copysign(latitude_rad), sin)
}

#[cfg(test)]
mod tests {
    use super::*;

    const AXES: [FirstAxis; 4] = [
        FirstAxis::Across,
        FirstAxis::Along,
        FirstAxis::Vertical,
        FirstAxis::Polar,
    ];

    #[test]
    fn frames_stay_orthonormal_and_reach_the_wanted_normal() {
        for axis in AXES {
            let rest = Frame::at_rest(axis, 0.7, -0.4);
            let wanted = Vec3::new(0.3, -0.5, 0.6).normalize();
            let turned = rest.turned(rest.turn_onto(wanted));
            assert!((turned.normal - wanted).length() < 1e-15);
            assert!((turned.first.cross(turned.second) - turned.normal).length() < 1e-15);
            assert!((turned.second.length() - 1.0).abs() < 1e-15);
        }
    }

    #[test]
    fn the_pole_is_raised_in_both_hemispheres() {
        let north = towards_pole(35f64.to_radians());
        let south = towards_pole(-35f64.to_radians());
        assert!(north.y > 0.0 && north.z > 0.0);
        assert!(south.y < 0.0 && (south.z - north.z).abs() < 1e-15);
    }

    #[test]
    fn components_and_direction_undo_each_other() {
        let frame = Frame::at_rest(FirstAxis::Polar, 1.0, 0.5);
        let direction = Vec3::new(0.2, 0.4, 0.9);
        let back = frame.direction(frame.components(direction));
        assert!((back - direction).length() < 1e-15);
    }
}
