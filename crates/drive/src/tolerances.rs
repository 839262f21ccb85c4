//! What small errors of posts, axes, joints, levers and encoders do to a string's beams.

use field::Linkage;

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
    /// As in [`Posture`].
    pub arm: f64,
    pub frame: Frame,
}

/// A mount of the string under one sun, with what it takes to judge small turns of it. Of a turn only what lies along
/// the mount's first and second direction moves the normal.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Posture {
    /// Part along the first direction of the axis of the first motion; that of the second is the second direction.
    pub axis: f64,
    /// Turns about them since alignment.
    pub turned_rad: [f64; 2],
    /// Part along the first direction of what carries the second axis, square to both; zero where there is none.
    pub arm: f64,
    pub frame: Frame,
    pub incidence: Incidence,
}

/// Variances of small turns about a mount's first and second direction, and what they have in common [rad²].
struct Wobble {
    first_rad2: f64,
    second_rad2: f64,
    common_rad2: f64,
}

impl Posture {
    /// Beam variance of small turns. A turn about a direction in the plane of incidence moves the normal across it and
    /// the other way round; the beam sees 2 in plane and 2·cosθ across.
    #[inline(always)]
    fn beam_variance(&self, turns: &Wobble) -> BeamVariance {
        let Incidence {
            in_plane: [first, second],
            cosine,
        } = self.incidence;
        let (first2, second2) = (first * first, second * second);
        let common_rad2 = 2.0 * first * second * turns.common_rad2;
        let about_plane_rad2 =
            first2 * turns.first_rad2 + second2 * turns.second_rad2 + common_rad2;
        let across_it_rad2 = second2 * turns.first_rad2 + first2 * turns.second_rad2 - common_rad2;
        BeamVariance {
            in_plane_rad2: 4.0 * across_it_rad2,
            across_rad2: 4.0 * cosine * cosine * about_plane_rad2,
        }
    }

    /// Beam variance for one radian of twist about both axes, as a line's stretch causes it.
    #[inline(always)]
    pub fn per_twist(&self) -> BeamVariance {
        self.beam_variance(&Wobble {
            first_rad2: squared(self.axis),
            second_rad2: 1.0,
            common_rad2: 0.0,
        })
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
    /// Alignment is exact under its sun, so an error w fixed to the ground costs only what has changed since:
    /// (w − Q·w) × n with Q the turn from then to now, whose parts are those of w now less those then; an error that
    /// rides on the first axis costs in the same way by its own two positions.
    #[inline(always)]
    pub(crate) fn beam_variance(&self, then: &Alignment, now: &Posture) -> BeamVariance {
        let (first, second) = (
            now.frame.first - then.frame.first,
            now.frame.second - then.frame.second,
        );
        let tilt_rad2 = squared(self.post_tilt_rad);
        let free_rad2 = squared(self.joint_play_rad) + squared(self.offset_setting_rad);
        let [about_first_rad2, about_second_rad2] = now
            .turned_rad
            .map(|turned_rad| self.drive_variance_rad2(turned_rad));
        let skewed_rad2 = squared(self.axis_squareness_rad * (now.arm - then.arm));
        let driven_rad2 = squared(now.axis) * about_first_rad2;
        let tilted_rad2 = tilt_rad2 * (squared(first.x) + squared(first.y));
        now.beam_variance(&Wobble {
            first_rad2: free_rad2 + tilted_rad2 + skewed_rad2 + driven_rad2,
            second_rad2: free_rad2
                + tilt_rad2 * (squared(second.x) + squared(second.y))
                + about_second_rad2,
            common_rad2: tilt_rad2 * (first.x * second.x + first.y * second.y),
        })
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
