//! What cannot be sized at all.

use thiserror::Error;

/// An input with which nothing can be sized.
#[derive(Clone, Debug, Error, PartialEq)]
#[non_exhaustive]
pub enum StructureError {
    /// A dimension, speed or property that must be above zero and finite is not.
    #[error("{name} is {value}; give a finite number above zero")]
    NotPositive {
        /// Which input, with its unit.
        name: &'static str,
        /// The value given.
        value: f64,
    },
    /// An angle or height that must be zero or more and finite is not.
    #[error("{name} is {value}; give zero or a finite number above it")]
    Negative {
        /// Which input, with its unit.
        name: &'static str,
        /// The value given.
        value: f64,
    },
    /// A string without mirrors.
    #[error("a string needs at least one mirror")]
    NoMirrors,
    /// The bar of sliding levers would run in the ground.
    #[error(
        "the bar of sliding levers swings {reach_m} m below mirrors at {mount_height_m} m; shorten the \
         levers or raise the mirrors"
    )]
    BarInGround {
        /// How far below the mirrors' centres it comes [m].
        reach_m: f64,
        /// Height of the lowest mirror's centre [m].
        mount_height_m: f64,
    },
}

/// Refuses the first of the named values that is not a finite number above zero.
pub fn require_positive(inputs: &[(&'static str, f64)]) -> Result<(), StructureError> {
    match inputs
        .iter()
        .find(|(_, value)| !(value.is_finite() && *value > 0.0))
    {
        Some(&(name, value)) => Err(StructureError::NotPositive { name, value }),
        None => Ok(()),
    }
}

/// Refuses the first of the named values that is neither zero nor a finite number above it.
pub fn require_not_negative(inputs: &[(&'static str, f64)]) -> Result<(), StructureError> {
    match inputs
        .iter()
        .find(|(_, value)| !(value.is_finite() && *value >= 0.0))
    {
        Some(&(name, value)) => Err(StructureError::Negative { name, value }),
        None => Ok(()),
    }
}
