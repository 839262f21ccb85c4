//! Text with a unit to SI and back.
//!
//! Numbers are kept as the decimal digits written, so "0.95 m" is the double 0.95 and a value
//! printed with [`format`] reads back as the same double.

mod atoms;
mod decimal;
mod dimension;
mod error;
mod measure;
mod reading;
mod scale;
mod shape;
mod unit;

pub use decimal::{Decimal, MAX_DIGITS};
pub use dimension::{Dimension, accepted_units};
pub use error::QuantityError;
pub use measure::{Measure, Units};
pub use reading::{Converted, Reading, format, parse, read, read_like};
pub use unit::Unit;

#[cfg(test)]
mod tests;
