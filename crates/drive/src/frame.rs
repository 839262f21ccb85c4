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

impl Turn {
    /// No turn.
    pub const NONE: Self = Self {
        cos_first: 1.0,
        sin_first: 0.0,
        cos_second: 1.0,
        sin_second: 0.0,
    };

    /// The turns by two angles [rad].
    pub fn by(angles_rad: [f64; 2]) -> Self {
        let [(sin_first, cos_first), (sin_second, cos_second)] = angles_rad.map(libm::sincos);
        Self {
            cos_first,
            sin_first,
            cos_second,
            sin_second,
        }
    }

    /// Both angles [rad].
    pub fn angles_rad(&self) -> [f64; 2] {
        [
            libm::atan2(self.sin_first, self.cos_first),
            libm::atan2(self.sin_second, self.cos_second),
        ]
    }

    /// Both angles of `other` added.
    #[inline(always)]
    pub const fn plus(&self, other: &Self) -> Self {
        Self {
            cos_first: self.cos_first * other.cos_first - self.sin_first * other.sin_first,
            sin_first: self.sin_first * other.cos_first + self.cos_first * other.sin_first,
            cos_second: self.cos_second * other.cos_second - self.sin_second * other.sin_second,
            sin_second: self.sin_second * other.cos_second + self.cos_second * other.sin_second,
        }
    }

    /// Both angles of `other` taken away.
    #[inline(always)]
    pub const fn less(&self, other: &Self) -> Self {
        self.plus(&Self {
            sin_first: -other.sin_first,
            sin_second: -other.sin_second,
            ..*other
        })
    }
}

impl Frame {
    /// East, north and up.
    pub const GROUND: Self = Self {
        first: Vec3::X,
        second: Vec3::Y,
        normal: Vec3::Z,
    };

    /// A mount with its first axis fixed to the ground, before any turn; `None` for a ball, which
    /// has no such axis.
    ///
    /// `across` and `along` rest with the normal up, `vertical` with the second axis along the
    /// string, `polar` with the second axis east–west, a free direction with a level second axis.
    /// Where the second axis rests about the first is free: it shifts α by a constant and moves no
    /// mirror.
    pub fn at_rest(axis: FirstAxis, bearing_rad: f64, latitude_rad: f64) -> Option<Self> {
        let along = direction::along_bearing(bearing_rad);
        let across = Vec3::Z.cross(along);
        match axis {
            FirstAxis::Across => Some(Self::from_axes(across, -along)),
            FirstAxis::Along => Some(Self::from_axes(along, across)),
            FirstAxis::Vertical => Some(Self::from_axes(Vec3::Z, along)),
            FirstAxis::Polar => Some(Self::from_axes(towards_pole(latitude_rad), Vec3::X)),
            FirstAxis::Fixed {
                azimuth_rad,
                elevation_rad,
            } => {
                let first = direction::from_azimuth_elevation(azimuth_rad, elevation_rad);
                let level = Vec3::Z.cross(direction::along_bearing(azimuth_rad));
                Some(Self::from_axes(first, level))
            }
            FirstAxis::RollFree => None,
        }
    }

    fn from_axes(first: Vec3, second: Vec3) -> Self {
        Self {
            first,
            second,
            normal: first.cross(second),
        }
    }

    /// A ball under its alignment sun: the second direction as near along the string as the normal
    /// lets it.
    pub fn on_ball(normal: Vec3, bearing_rad: f64) -> Self {
        let along = direction::along_bearing(bearing_rad);
        let flat = along - normal * normal.dot(along);
        let second = flat.try_normalize().unwrap_or_else(|| Vec3::Z.cross(along));
        Self {
            first: second.cross(normal),
            second,
            normal,
        }
    }

    /// Turned by the smallest rotation that takes the unit vector `from` onto `onto`, not its
    /// opposite.
    #[inline(always)]
    pub fn turned_onto(&self, from: Vec3, onto: Vec3) -> Self {
        self.turned_about(from.cross(onto) * (1.0 / (1.0 + from.dot(onto))))
    }

    /// Turned about `half_tangent`, whose length is the tangent of half the angle: Rodrigues'
    /// formula without a sine.
    #[inline(always)]
    pub fn turned_about(&self, half_tangent: Vec3) -> Self {
        let scale = 2.0 / (1.0 + half_tangent.dot(half_tangent));
        let rotate = |direction: Vec3| {
            let sideways = half_tangent.cross(direction);
            direction + (sideways + half_tangent.cross(sideways)) * scale
        };
        Self {
            first: rotate(self.first),
            second: rotate(self.second),
            normal: rotate(self.normal),
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
    fn arm(&self, turn: Turn) -> Vec3 {
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

    /// Each direction by its image.
    pub fn map(&self, image: impl Fn(Vec3) -> Vec3) -> Self {
        Self {
            first: image(self.first),
            second: image(self.second),
            normal: image(self.normal),
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

    const AXES: [FirstAxis; 5] = [
        FirstAxis::Across,
        FirstAxis::Along,
        FirstAxis::Vertical,
        FirstAxis::Polar,
        FirstAxis::Fixed {
            azimuth_rad: 2.6,
            elevation_rad: 0.5,
        },
    ];

    #[test]
    fn frames_stay_orthonormal_and_reach_the_wanted_normal() {
        for axis in AXES {
            let rest = Frame::at_rest(axis, 0.7, -0.4).unwrap();
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
        let frame = Frame::at_rest(FirstAxis::Polar, 1.0, 0.5).unwrap();
        let direction = Vec3::new(0.2, 0.4, 0.9);
        let back = frame.direction(frame.components(direction));
        assert!((back - direction).length() < 1e-15);
    }

    #[test]
    fn the_smallest_turn_goes_where_it_should_and_does_not_roll() {
        let (from, onto) = (Vec3::new(0.1, -0.5, 0.8), Vec3::new(0.6, -0.2, 0.7));
        let (from, onto) = (from.normalize(), onto.normalize());
        let turned = Frame::GROUND.turned_onto(from, onto);
        let axis = from.cross(onto).normalize();
        assert!((turned.direction(from) - onto).length() < 1e-15);
        assert!((turned.direction(axis) - axis).length() < 1e-15);
    }

    #[test]
    fn turns_add_and_take_away_angles() {
        let turn = |alpha_rad: f64, beta_rad: f64| Turn {
            cos_first: libm::cos(alpha_rad),
            sin_first: libm::sin(alpha_rad),
            cos_second: libm::cos(beta_rad),
            sin_second: libm::sin(beta_rad),
        };
        let sum = turn(0.4, -0.3).plus(&turn(0.7, 0.9));
        assert!((sum.sin_first - libm::sin(1.1)).abs() < 1e-15);
        assert!((sum.cos_second - libm::cos(0.6)).abs() < 1e-15);
        let back = sum.less(&turn(0.7, 0.9));
        assert!((back.sin_first - libm::sin(0.4)).abs() < 1e-15);
        assert!((back.sin_second - libm::sin(-0.3)).abs() < 1e-15);
    }
}
