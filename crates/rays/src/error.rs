//! What a judge refuses.

use thiserror::Error;

/// A posture, aperture or sun that cannot be traced.
#[derive(Clone, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum RaysError {
    /// No mirrors.
    #[error("the plan has no mirrors; nothing can be traced")]
    NoMirrors,
    /// A column of the posture does not fit the plan.
    #[error("the posture's {column} has {length} values; the plan has {mirrors} mirrors")]
    ColumnLength {
        /// Which column.
        column: &'static str,
        /// Its length.
        length: usize,
        /// How many mirrors stand in the plan.
        mirrors: usize,
    },
    /// A vector that should have length 1 has not.
    #[error("the {what} has length {length}; it must be 1")]
    NotUnit {
        /// Which vector.
        what: &'static str,
        /// Its length.
        length: f64,
    },
    /// A table of the sun's brightness that no point can be drawn from.
    #[error(
        "the table of the sun has {angles} angles and {values} values; give as many of both, at \
         least two, angles rising from 0, no brightness below 0 and not all of it 0"
    )]
    SunTable {
        /// How many angles.
        angles: usize,
        /// How many values of brightness.
        values: usize,
    },
    /// The sun is down.
    #[error("the sun's direction has an upward part of {up}; it must be above the horizon")]
    SunDown {
        /// Upward part of the unit vector.
        up: f64,
    },
    /// A panel's edge runs along its normal.
    #[error("the width edge of mirror {mirror} runs along its normal; it must lie across it")]
    EdgeAlongNormal {
        /// Which mirror, from 0.
        mirror: usize,
    },
    /// An aperture without area or flux map.
    #[error(
        "the aperture is {width_m} m by {height_m} m in {columns} by {rows} parts; all must be positive"
    )]
    EmptyAperture {
        /// Width [m].
        width_m: f64,
        /// Height [m].
        height_m: f64,
        /// Parts along the width.
        columns: usize,
        /// Parts along the height.
        rows: usize,
    },
}
