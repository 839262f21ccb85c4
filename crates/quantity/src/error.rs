//! What can be wrong with a quantity's text.

use thiserror::Error;

/// Why a text is not the quantity wanted.
#[derive(Clone, Debug, Error, PartialEq)]
#[non_exhaustive]
pub enum QuantityError {
    /// Nothing but blanks.
    #[error("no value; write a number with a unit such as {example}")]
    Empty {
        /// A unit that would do.
        example: String,
    },
    /// The text does not start with a number.
    #[error("\"{text}\" is not a number; write digits with a point, such as 0.95")]
    NotANumber {
        /// What stands where the number should.
        text: String,
    },
    /// More significant digits than are kept.
    #[error("\"{text}\" has more than {max} significant digits")]
    TooManyDigits {
        /// The number as written.
        text: String,
        /// How many are kept.
        max: usize,
    },
    /// A number without its unit.
    #[error("{number} has no unit; write one of {}", .accepted.join(", "))]
    BareNumber {
        /// The number as written.
        number: String,
        /// Units that would do.
        accepted: Vec<String>,
    },
    /// A unit that is not known.
    #[error("unknown unit \"{unit}\"{}; write one of {}", did_you_mean(.nearest), .accepted.join(", "))]
    UnknownUnit {
        /// The part of the unit that is not known.
        unit: String,
        /// A known one that looks like it.
        nearest: Option<String>,
        /// Units that would do.
        accepted: Vec<String>,
    },
    /// A known unit of something else.
    #[error("\"{unit}\" does not measure {wanted}; write one of {}", .accepted.join(", "))]
    WrongDimension {
        /// The unit as written.
        unit: String,
        /// What was to be measured.
        wanted: String,
        /// Units that would do.
        accepted: Vec<String>,
    },
    /// A temperature scale with its own zero inside a product, quotient or sum.
    #[error("\"{unit}\" has its own zero and cannot be combined; write K")]
    ScaleInside {
        /// The unit as written.
        unit: String,
    },
}

fn did_you_mean(nearest: &Option<String>) -> String {
    nearest
        .as_ref()
        .map_or_else(String::new, |unit| format!(", did you mean \"{unit}\"?"))
}
