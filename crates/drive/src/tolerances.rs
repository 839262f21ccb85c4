//! What small errors of posts, axes, joints, levers and encoders do to a string's beams.

use field::Linkage;
use geometry::Vec3;

use crate::frame::{Frame, Turn};
use crate::mechanism::Sensing;
use crate::reflection::Incidence;

/// Standard deviations of the errors of one mount and its drive.
///
/// A single mirror with its own drive could be calibrated; mounts that share a drive cannot, so
/// these stay. All act to first order, independent of one another, and spread the beam around the
/// residual; means are zero.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Tolerances {
    /// Tilt of a post about each of two horizontal directions [rad].
    pub post_tilt_rad: f64,
    /// Departure of the second axis from square to the first [rad].
    pub axis_squareness_rad: f64,
    /// Play in the joints, as a turn of the normal in each of two directions [rad].
    pub joint_play_rad: f64,
    /// Error left by setting the shims, as a turn of the normal in each of two directions [rad].
    pub offset_setting_rad: f64,
    /// Relative error of the lever lengths [-]; it grows with the turn since alignment.
    pub lever_ratio: f64,
    /// Error of each of the two encoders, common to the string [rad].
    pub encoder_rad: f64,
}

/// Variance of the beam error [rad²], in the plane of incidence and across it. What correlates
/// the two is dropped.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct BeamVariance {
    pub in_plane_rad2: f64,
    pub across_rad2: f64,
}

/// Where a mount of the string stood under the alignment sun.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Alignment {
    pub turn: Turn,
    pub arm: Vec3,
    pub frame: Frame,
}

/// A mount of the string under one sun, with what it takes to judge small turns of it.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Posture {
    /// The directions about which the two motions turn the mount.
    pub axes: [Vec3; 2],
    /// Turns about them since alignment.
    pub turned_rad: [f64; 2],
    /// What carries the second axis, square to both; zero where there is none.
    pub arm: Vec3,
    pub frame: Frame,
    pub incidence: Incidence,
}

impl Posture {
    /// Beam variance when the mount is turned about each of the given axes by independent small
    /// angles with the given variances [rad²].
    ///
    /// A turn w moves the normal by w × n: what lies across the plane of incidence moves it in
    /// that plane and the other way round. The beam sees 2 in plane and 2·cosθ across.
    #[inline(always)]
    fn beam_variance<const N: usize>(&self, turns: [(Vec3, f64); N]) -> BeamVariance {
        let mut in_plane_rad2 = 0.0;
        let mut across_rad2 = 0.0;
        for (axis, variance_rad2) in turns {
            let turns_in_plane = axis.dot(self.incidence.across);
            let turns_across = axis.dot(self.incidence.in_plane);
            in_plane_rad2 += turns_in_plane * turns_in_plane * variance_rad2;
            across_rad2 += turns_across * turns_across * variance_rad2;
        }
        self.seen_by_beam(in_plane_rad2, across_rad2)
    }

    /// Beam variance from variances of the normal [rad²].
    #[inline(always)]
    fn seen_by_beam(&self, in_plane_rad2: f64, across_rad2: f64) -> BeamVariance {
        let cosine = self.incidence.cosine;
        BeamVariance {
            in_plane_rad2: 4.0 * in_plane_rad2,
            across_rad2: 4.0 * cosine * cosine * across_rad2,
        }
    }

    /// Beam variance for one radian of twist about both axes, as a line's stretch causes it.
    #[inline(always)]
    pub fn per_twist(&self) -> BeamVariance {
        self.beam_variance(self.axes.map(|axis| (axis, 1.0)))
    }
}

impl Tolerances {
    /// What of the errors reaches the mirrors through a linkage. A sliding lever points from its
    /// pivot to a tip that the bar holds: how its post and axes stand does not matter.
    pub(crate) const fn through(self, linkage: Linkage) -> Self {
        match linkage {
            Linkage::SlidingLever => Self {
                post_tilt_rad: 0.0,
                axis_squareness_rad: 0.0,
                ..self
            },
            Linkage::EqualAngle | Linkage::EqualTravel | Linkage::Graded => self,
        }
    }

    /// What is left of the errors when the drive senses where a string of `count` mirrors points. A
    /// camera takes the mean over the mirrors out of what is random from mirror to mirror: a share
    /// 1/n of its variance.
    pub(crate) fn sensed(self, sensing: Sensing, count: usize) -> Self {
        match sensing {
            Sensing::OpenLoop => self,
            Sensing::AtReference { error_rad } => Self {
                encoder_rad: error_rad,
                ..self
            },
            Sensing::OnTarget { error_rad } => {
                let kept = (1.0 - 1.0 / count as f64).sqrt();
                Self {
                    post_tilt_rad: kept * self.post_tilt_rad,
                    axis_squareness_rad: kept * self.axis_squareness_rad,
                    joint_play_rad: kept * self.joint_play_rad,
                    offset_setting_rad: kept * self.offset_setting_rad,
                    lever_ratio: kept * self.lever_ratio,
                    encoder_rad: error_rad,
                }
            }
        }
    }

    /// Beam variance from everything that all mirrors of a string have alike under one sun.
    ///
    /// Alignment is exact under its sun, so an error w fixed to the ground costs only what has
    /// changed since: (w − Q·w) × n with Q the turn from then to now; an error that rides on the
    /// first axis costs in the same way by its own two positions.
    #[inline(always)]
    pub(crate) fn beam_variance(&self, then: &Alignment, now: &Posture) -> BeamVariance {
        let since = |fixed_now: Vec3, fixed_then: Vec3| {
            fixed_now - now.frame.direction(then.frame.components(fixed_then))
        };
        let tilt_rad2 = squared(self.post_tilt_rad);
        let [first_rad2, second_rad2] = now
            .turned_rad
            .map(|turned_rad| self.drive_variance_rad2(turned_rad));
        let turned = now.beam_variance([
            (since(Vec3::X, Vec3::X), tilt_rad2),
            (since(Vec3::Y, Vec3::Y), tilt_rad2),
            (since(now.arm, then.arm), squared(self.axis_squareness_rad)),
            (now.axes[0], first_rad2),
            (now.axes[1], second_rad2),
        ]);
        let free_rad2 = squared(self.joint_play_rad) + squared(self.offset_setting_rad);
        let free = now.seen_by_beam(free_rad2, free_rad2);
        BeamVariance {
            in_plane_rad2: turned.in_plane_rad2 + free.in_plane_rad2,
            across_rad2: turned.across_rad2 + free.across_rad2,
        }
    }

    /// Variance [rad²] of the turn about one axis from encoder and lever, given the turn since
    /// alignment.
    #[inline(always)]
    fn drive_variance_rad2(&self, turned_rad: f64) -> f64 {
        squared(self.encoder_rad) + squared(self.lever_ratio * turned_rad)
    }
}

#[inline(always)]
fn squared(value: f64) -> f64 {
    value * value
}

/// Angle in [0, π] from its cosine, within 7e-5 rad and without a branch: Abramowitz and Stegun,
/// *Handbook of Mathematical Functions* (1964), 4.4.45 (from memory).
#[inline(always)]
pub(crate) fn arc_cosine_rad(cosine: f64) -> f64 {
    let size = cosine.abs().min(1.0);
    let series = 1.570_728_8 + size * (-0.212_114_4 + size * (0.074_261_0 - size * 0.018_729_3));
    let acute_rad = (1.0 - size).sqrt() * series;
    if cosine < 0.0 {
        std::f64::consts::PI - acute_rad
    } else {
        acute_rad
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_arc_cosine_keeps_its_promise() {
        for step in 0..=2000 {
            let cosine = f64::from(step) / 1000.0 - 1.0;
            assert!(
                (arc_cosine_rad(cosine) - libm::acos(cosine)).abs() < 7e-5,
                "{cosine}"
            );
        }
        assert_eq!(arc_cosine_rad(1.0 + 1e-15), 0.0);
    }
}
