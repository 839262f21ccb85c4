//! Whole quantities: a number and its unit.

use crate::decimal::Decimal;
use crate::unit::{Unit, owned};
use crate::{Dimension, QuantityError, accepted_units};

/// Significant digits that survive a conversion through doubles.
const CONVERTED_DIGITS: usize = 15;

/// A quantity as written and in SI.
#[derive(Clone, Debug, PartialEq)]
pub struct Reading {
    /// The number, in `unit`.
    pub number: Decimal,
    /// The unit as written; the last one of a compound such as "5 ft 6 in".
    pub unit: Unit,
    /// The value in SI.
    pub si: f64,
}

/// Reads a quantity into SI: "30 in", "24in", "5 ft 6 in", "180 degC", "12 USD/m2", "6 %".
///
/// Money keeps its own currency: "12 USD/t" is 0.012 dollars per kilogram.
///
/// # Errors
/// Any [`QuantityError`].
pub fn parse(text: &str, dimension: Dimension) -> Result<f64, QuantityError> {
    read(text, dimension).map(|reading| reading.si)
}

/// Reads a quantity and keeps its number and unit as written.
///
/// # Errors
/// Any [`QuantityError`].
pub fn read(text: &str, dimension: Dimension) -> Result<Reading, QuantityError> {
    let pieces = pieces(text);
    let Some((last, others)) = pieces.split_last() else {
        let example = accepted_units(dimension).first().copied().unwrap_or("1");
        return Err(QuantityError::Empty {
            example: example.to_owned(),
        });
    };
    if !others.is_empty() && pieces.iter().any(|(_, unit)| unit.is_empty()) {
        return Err(QuantityError::NotANumber {
            text: text.to_owned(),
        });
    }
    let mut reading = read_piece(last.0, last.1, dimension)?;
    for (number, unit) in others {
        let part = read_piece(number, unit, dimension)?;
        add(&mut reading, &part)?;
    }
    Ok(reading)
}

/// A number turned into a given unit, with the currency it was written in.
#[derive(Clone, Debug, PartialEq)]
pub struct Converted {
    /// The number in the given unit.
    pub number: Decimal,
    /// Three letters, if it is money.
    pub currency: Option<String>,
}

/// Reads a number with a unit that measures the same as the unit `model`, and gives it in `model`:
/// "2600 EUR/t" in "EUR/kg" is 2.6. Currencies are told, not exchanged.
///
/// # Errors
/// Any [`QuantityError`].
pub fn read_like(text: &str, model: &str) -> Result<Converted, QuantityError> {
    let accepted = vec![model.to_owned()];
    let model = Unit::parse_any(model).map_err(|flaw| flaw.with_list(model, accepted.clone()))?;
    let (number, unit) = match pieces(text).as_slice() {
        [(number, "")] => {
            let number = (*number).to_owned();
            return Err(QuantityError::BareNumber { number, accepted });
        }
        [(number, unit)] => (Decimal::parse(number)?, Unit::parse_like(unit, &model)?),
        [] => {
            return Err(QuantityError::Empty {
                example: model.text().to_owned(),
            });
        }
        _ => {
            return Err(QuantityError::NotANumber {
                text: text.to_owned(),
            });
        }
    };
    let currency = unit.currency().map(str::to_owned);
    let number = if unit == model {
        number
    } else {
        model.from_si_rounded(unit.to_si(number), CONVERTED_DIGITS)
    };
    Ok(Converted { number, currency })
}

/// Writes an SI value in `unit`: the shortest number that reads back as the same double.
///
/// # Errors
/// [`QuantityError::UnknownUnit`] and [`QuantityError::WrongDimension`].
pub fn format(si: f64, dimension: Dimension, unit: &str) -> Result<String, QuantityError> {
    let unit = Unit::parse(unit, dimension)?;
    Ok(unit.show(unit.from_si(si)))
}

fn read_piece(number: &str, unit: &str, dimension: Dimension) -> Result<Reading, QuantityError> {
    let number_text = number;
    let number = Decimal::parse(number)?;
    let unit = match unit {
        "" if dimension.is_plain() => Unit::parse("1", dimension)?,
        "" => {
            let accepted = owned(accepted_units(dimension));
            return Err(QuantityError::BareNumber {
                number: number_text.to_owned(),
                accepted,
            });
        }
        unit => Unit::parse(unit, dimension)?,
    };
    let si = unit.to_si(number);
    Ok(Reading { number, unit, si })
}

/// Adds a part in another unit, as the feet of "5 ft 6 in".
fn add(reading: &mut Reading, part: &Reading) -> Result<(), QuantityError> {
    for unit in [&reading.unit, &part.unit] {
        if unit.has_own_zero() {
            return Err(QuantityError::ScaleInside {
                unit: unit.text().to_owned(),
            });
        }
    }
    let sum = reading.number.plus(reading.unit.from_si(part.si));
    reading.number = sum.ok_or_else(|| QuantityError::TooManyDigits {
        text: part.unit.show(part.number),
        max: crate::MAX_DIGITS,
    })?;
    reading.si = reading.unit.to_si(reading.number);
    Ok(())
}

/// Splits "5 ft 6 in" into number and unit texts; a new number starts after a blank, but the one of
/// "4 1/m" belongs to the unit.
fn pieces(text: &str) -> Vec<(&str, &str)> {
    let text = text.trim();
    let mut starts = vec![];
    let mut after_blank = true;
    for (at, letter) in text.char_indices() {
        let number = letter.is_ascii_digit() && !text[at + 1..].starts_with('/');
        if at == 0 || after_blank && number {
            starts.push(at);
        }
        after_blank = letter.is_whitespace();
    }
    starts.push(text.len());
    starts
        .windows(2)
        .map(|ends| split_number(text[ends[0]..ends[1]].trim()))
        .collect()
}

/// Splits "24in" after its number; the "e" of a power of ten belongs to the number.
fn split_number(piece: &str) -> (&str, &str) {
    let bytes = piece.as_bytes();
    let mut end = 0;
    while end < bytes.len() {
        let sign_allowed = end == 0 || matches!(bytes[end - 1], b'e' | b'E');
        let exponent = matches!(bytes[end], b'e' | b'E')
            && bytes
                .get(end + 1)
                .is_some_and(|next| next.is_ascii_digit() || matches!(next, b'-' | b'+'));
        match bytes[end] {
            b'0'..=b'9' | b'.' | b'_' | b',' => end += 1,
            b'-' | b'+' if sign_allowed => end += 1,
            _ if exponent && end > 0 => end += 1,
            _ => break,
        }
    }
    if end == 0 {
        return (piece, "");
    }
    (&piece[..end], piece[end..].trim())
}
