//! Why a field can't be laid.

use thiserror::Error;

/// A field that can't be laid as asked for.
#[derive(Clone, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum FieldError {
    /// A size that must be a positive number isn't.
    #[error("{name} is {value}; it must be a positive number")]
    NotPositive {
        /// Which size.
        name: &'static str,
        /// What was given.
        value: f64,
    },
    /// A size that must not be negative is, or isn't a number.
    #[error("{name} is {value}; it must be zero or more")]
    Negative {
        /// Which size.
        name: &'static str,
        /// What was given.
        value: f64,
    },
    /// A direction or slope isn't a number.
    #[error("{name} is {value}; it must be a number")]
    NotFinite {
        /// Which direction or slope.
        name: &'static str,
        /// What was given.
        value: f64,
    },
    /// The fan's share lies outside 0 to 1.
    #[error("the fan turns by {share} of the place azimuth; take 0 (straight rows) to 1 (circles)")]
    ShareOutOfRange {
        /// What was given.
        share: f64,
    },
    /// Neighbours in a string touch even when they lie flat.
    #[error("pitch {pitch_m:.3} m is less than the panel side {side_m:.3} m; widen the pitch")]
    PitchBelowSide {
        /// Pitch [m].
        pitch_m: f64,
        /// Panel side [m].
        side_m: f64,
    },
    /// Panels of neighbouring rows could touch.
    #[error("rows {spacing_m:.3} m apart let panels touch; {needed_m:.3} m or more is clear")]
    RowsTooClose {
        /// Row spacing at the inner radius [m].
        spacing_m: f64,
        /// Diagonal of a panel [m].
        needed_m: f64,
    },
    /// Neighbours in a ring could touch.
    #[error(
        "a turning circle of {ratio:.3} diagonals, or neighbours so many circles apart, let panels touch; take 1 or more"
    )]
    SideBySide {
        /// Turning circle ÷ diagonal of a panel, or distance of centres ÷ turning circle [-].
        ratio: f64,
    },
    /// No distance keeps panels out of each other's light.
    #[error(
        "an aim {aim_height_m:.1} m high is too low for mirrors this tall to see it over one another; raise it above {needed_m:.1} m"
    )]
    AimTooLow {
        /// Height of the aim point [m].
        aim_height_m: f64,
        /// What it must exceed [m].
        needed_m: f64,
    },
    /// A panel could touch the ground.
    #[error(
        "mirror centres {mount_height_m:.3} m high let panels touch the ground; {needed_m:.3} m or more is clear"
    )]
    MountTooLow {
        /// Height of the mirror centres at the low end of a string [m].
        mount_height_m: f64,
        /// Least height [m].
        needed_m: f64,
    },
    /// The rail is too steep to be called a rail.
    #[error("the rail rises by {slope_rad:.3} rad; take less than {limit_rad:.3} rad")]
    RailTooSteep {
        /// What was given [rad].
        slope_rad: f64,
        /// Limit [rad].
        limit_rad: f64,
    },
    /// There is nothing between the two radii.
    #[error("outer radius {outer_m:.1} m must exceed inner radius {inner_m:.1} m")]
    NoRing {
        /// Inner radius [m].
        inner_m: f64,
        /// Outer radius [m].
        outer_m: f64,
    },
    /// The sector holds fewer strings than wanted.
    #[error(
        "{wanted} strings wanted, but only {found} fit; widen the sector or the outer radius, or shorten the strings"
    )]
    TooFewPlaces {
        /// Strings wanted.
        wanted: usize,
        /// Strings that fit.
        found: usize,
    },
    /// Not one score for each place.
    #[error("{scores} scores were given for {places} places; give one for each")]
    ScoreCount {
        /// Scores given.
        scores: usize,
        /// Places laid.
        places: usize,
    },
}
