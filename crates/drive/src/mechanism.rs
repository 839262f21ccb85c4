//! What all strings of a field share in their mechanism, and which parts go together.

use field::{FirstAxis, Linkage};
use geometry::Vec3;

use crate::line::Line;
use crate::tolerances::Tolerances;

/// What all strings of a field share in their mechanism.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mechanism {
    /// Latitude of the field, north positive [rad]; it points the polar axis and tells the year's
    /// suns that lever lengths are graded for.
    pub latitude_rad: f64,
    /// Unit vector to the sun under which every mirror was set exactly on its target.
    pub alignment_sun: Vec3,
    /// Where mirrors are set on their targets.
    pub offset: OffsetPlace,
    /// What the drive keeps on target.
    pub control: Control,
    /// Errors of mounts and drives.
    pub tolerances: Tolerances,
    /// The lines along each string.
    pub line: Line,
    /// How far the mounts can turn.
    pub travel: Travel,
    /// How the drive knows where its mirrors point.
    pub sensing: Sensing,
}

/// How far mounts can turn from where they stood when their mirrors were set. A drive that is asked
/// for more stays at its stop, and its beams leave the aperture. What sliding levers can reach is
/// theirs to see ([`crate::Drives::tip_reach`]).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Travel {
    /// Turn about each of two axes, either way [rad]; π for no stop.
    pub axes_rad: f64,
    /// Bend of a ball or constant-velocity joint [rad]; π for no stop.
    pub ball_rad: f64,
}

impl Travel {
    /// No stops.
    pub const FREE: Self = Self {
        axes_rad: std::f64::consts::PI,
        ball_rad: std::f64::consts::PI,
    };
}

/// How the drive of a string knows where its mirrors point. What is left is common to a string.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Sensing {
    /// It does not: it counts turns, and its encoders err as the tolerances say.
    #[default]
    OpenLoop,
    /// A sensor at the reference mirror sees sun and target; it errs by this much [rad of normal] in
    /// each direction, whatever the encoders do.
    AtReference {
        /// Error of the sensor and its setting.
        error_rad: f64,
    },
    /// A camera sees the string's light on the target and takes the mean of its mirrors' random errors
    /// out, but for its own error [rad of normal] in each direction.
    OnTarget {
        /// Error of what the camera makes of the image.
        error_rad: f64,
    },
}

/// Where the offset of each mirror from its neighbours sits: what is adjusted when it is set on its
/// target. With turns α about the first axis a1 and β about the carried second axis a2, and the
/// resting normal a3:
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum OffsetPlace {
    /// Between mount and panel: n = R(a1, α)·R(a2, β)·m with a shimmed normal m.
    #[default]
    Shim,
    /// Where levers are clamped to mounts and lines: n = R(a1, α + α0)·R(a2, β + β0)·a3.
    Lever,
    /// Under the mount, in a head that tilts on its post: n = T·R(a1, α)·R(a2, β)·a3, with T the
    /// smallest rotation that serves.
    Post,
}

/// What the shared drive keeps on target.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Control {
    /// The reference mirror, exactly.
    #[default]
    Reference,
    /// All mirrors as well as two motions can: the least sum of squared beam errors.
    LeastSquares,
}

/// Parts of a mechanism that do not go together.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum MechanismError {
    /// Equal travel only differs from equal angles when levers are clamped at different angles.
    #[error(
        "with offsets outside the levers all levers stand parallel, and equal travel is equal angles; \
         take the linkage equal-angle, or offsets in the levers"
    )]
    TravelOfParallelLevers,
    /// Graded levers and sliding levers are set where they are clamped.
    #[error(
        "graded and sliding levers are set on target where they are clamped; put offsets in the levers"
    )]
    OffsetOutsideLevers,
    /// A ball has no axes for levers to turn.
    #[error(
        "a roll-free joint has no axes for levers to be clamped to; set mirrors by shims or in the \
         post head, or take a sliding lever"
    )]
    BallWithLevers,
}

impl Mechanism {
    /// [`OffsetPlace::check`] for this mechanism's place of offsets.
    ///
    /// # Errors
    /// [`MechanismError`] says which parts do not go together, and what to take instead.
    pub const fn check(
        &self,
        first_axis: FirstAxis,
        linkage: Linkage,
    ) -> Result<(), MechanismError> {
        self.offset.check(first_axis, linkage)
    }
}

impl OffsetPlace {
    /// Whether a first axis and a linkage go together with offsets in this place.
    ///
    /// # Errors
    /// [`MechanismError`] says which parts do not, and what to take instead.
    pub const fn check(
        self,
        first_axis: FirstAxis,
        linkage: Linkage,
    ) -> Result<(), MechanismError> {
        match (linkage, self) {
            (Linkage::SlidingLever, Self::Lever)
            | (Linkage::EqualAngle, Self::Shim | Self::Post) => Ok(()),
            (Linkage::EqualTravel, Self::Shim | Self::Post) => {
                Err(MechanismError::TravelOfParallelLevers)
            }
            (Linkage::Graded | Linkage::SlidingLever, Self::Shim | Self::Post) => {
                Err(MechanismError::OffsetOutsideLevers)
            }
            (_, Self::Lever) if matches!(first_axis, FirstAxis::RollFree) => {
                Err(MechanismError::BallWithLevers)
            }
            (_, Self::Lever) => Ok(()),
        }
    }
}
