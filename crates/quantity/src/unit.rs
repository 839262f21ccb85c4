//! Units read from text: products and quotients of named units.

use crate::atoms::{self, Atom};
use crate::decimal::Decimal;
use crate::scale::Scale;
use crate::shape::Shape;
use crate::{Dimension, QuantityError, accepted_units};

/// A unit such as "m", "kWh/m2" or "EUR/t", with what it measures and its factor to SI.
#[derive(Clone, Debug, PartialEq)]
pub struct Unit {
    text: String,
    shape: Shape,
    scale: Scale,
    zero: Decimal,
    currency: Option<String>,
}

impl Unit {
    /// Reads a unit of `dimension`. Everything after the first slash divides.
    ///
    /// # Errors
    /// [`QuantityError::UnknownUnit`], [`QuantityError::WrongDimension`] and
    /// [`QuantityError::ScaleInside`].
    pub fn parse(text: &str, dimension: Dimension) -> Result<Self, QuantityError> {
        let text = text.trim();
        let unit = Self::parse_any(text).map_err(|flaw| flaw.with_accepted(text, dimension))?;
        let scale_has_zero = !unit.zero.is_zero();
        if unit.shape != dimension.shape()
            || (scale_has_zero && dimension == Dimension::TemperatureDifference)
        {
            return Err(QuantityError::WrongDimension {
                unit: text.to_owned(),
                wanted: dimension.name().to_owned(),
                accepted: owned(accepted_units(dimension)),
            });
        }
        Ok(unit)
    }

    /// Reads a unit that measures the same as `model`, such as "EUR/t" for "USD/kg".
    ///
    /// # Errors
    /// As [`Unit::parse`]; the only accepted unit named is `model`.
    pub fn parse_like(text: &str, model: &Self) -> Result<Self, QuantityError> {
        let text = text.trim();
        let accepted = vec![model.text.clone()];
        let unit = Self::parse_any(text).map_err(|flaw| flaw.with_list(text, accepted.clone()))?;
        if unit.shape == model.shape {
            return Ok(unit);
        }
        let wanted = format!("what {} does", model.text);
        Err(QuantityError::WrongDimension {
            unit: text.to_owned(),
            wanted,
            accepted,
        })
    }

    /// Reads any unit.
    pub(crate) fn parse_any(text: &str) -> Result<Self, Flaw> {
        let mut unit = Self {
            text: text.to_owned(),
            shape: Shape::NUMBER,
            scale: Scale::ONE,
            zero: Decimal::default(),
            currency: None,
        };
        let (top, bottom) = text.split_once('/').unwrap_or((text, ""));
        let top = if top.trim().is_empty() && !bottom.is_empty() {
            "1"
        } else {
            top
        };
        for (side, sign) in [(top, 1), (bottom, -1)] {
            let parts = side
                .split(['/', '.', '*', '·', ' '])
                .filter(|part| !part.is_empty());
            for part in parts {
                unit.take(part, sign)?;
            }
        }
        let alone = atoms::find(text).is_some();
        if unit.zero.is_zero() || alone {
            Ok(unit)
        } else {
            Err(Flaw::ScaleInside)
        }
    }

    fn take(&mut self, part: &str, sign: i8) -> Result<(), Flaw> {
        let (name, exponent) = split_power(part);
        let exponent = exponent * sign;
        let (shape, scale) = if is_currency(name) {
            self.currency = Some(name.to_owned());
            (Shape::MONEY, Scale::ONE)
        } else {
            let Atom {
                shape,
                scale,
                zero_hundredths,
                ..
            } = *atoms::find(name).ok_or_else(|| Flaw::Unknown(name.to_owned()))?;
            if zero_hundredths != 0 {
                self.zero = Decimal::new(i128::from(zero_hundredths), -2);
            }
            (shape, scale)
        };
        self.shape = self.shape.times(shape.power(exponent));
        let scaled = self.scale.times_power(scale, exponent);
        self.scale = scaled.ok_or_else(|| Flaw::Unknown(part.to_owned()))?;
        Ok(())
    }

    /// The unit as written.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The three letters of the currency in it, if it measures money.
    #[must_use]
    pub fn currency(&self) -> Option<&str> {
        self.currency.as_deref()
    }

    /// Whether the unit's zero is not SI's (degrees Celsius and Fahrenheit).
    #[must_use]
    pub const fn has_own_zero(&self) -> bool {
        !self.zero.is_zero()
    }

    /// A number in this unit, in SI: rounded once where the factor is decimal.
    #[must_use]
    pub fn to_si(&self, number: Decimal) -> f64 {
        let Scale {
            top, bottom, tens, ..
        } = self.scale;
        let exact = number.plus(self.zero).and_then(|sum| sum.times(top));
        let scaled = exact.map_or_else(
            || (number.to_f64() + self.zero.to_f64()) * top as f64 * Decimal::new(1, tens).to_f64(),
            |product| product.shifted(tens).to_f64(),
        );
        let turned = if self.scale.half_turns == 0 {
            scaled
        } else {
            scaled * self.scale.pi_factor()
        };
        if bottom == 1 {
            turned
        } else {
            turned / bottom as f64
        }
    }

    /// `si` in this unit, as a double.
    pub(crate) fn number(&self, si: f64) -> f64 {
        let Scale {
            top, bottom, tens, ..
        } = self.scale;
        let factor = top as f64 * Decimal::new(1, tens).to_f64() * self.scale.pi_factor();
        si * bottom as f64 / factor - self.zero.to_f64()
    }

    /// The shortest number in this unit that reads back as `si`; where none does (a value that no
    /// number in this unit reaches), the nearest with 17 digits.
    #[must_use]
    pub fn from_si(&self, si: f64) -> Decimal {
        self.from_si_rounded(si, 17)
    }

    /// As [`Unit::from_si`], but with no more than `most_digits` significant digits.
    #[must_use]
    pub fn from_si_rounded(&self, si: f64, most_digits: usize) -> Decimal {
        let number = self.number(si);
        let mut nearest = Decimal::default();
        for places in 0..most_digits {
            let text = format!("{number:.places$e}");
            nearest = Decimal::parse(&text).unwrap_or(nearest);
            if self.to_si(nearest) == si {
                break;
            }
        }
        nearest
    }

    /// The number with the unit after it; a plain number stands alone.
    #[must_use]
    pub fn show(&self, number: Decimal) -> String {
        match self.text.as_str() {
            "1" | "" => number.to_string(),
            unit => format!("{number} {unit}"),
        }
    }
}

/// What is wrong with a unit, before it is known what was wanted.
pub(crate) enum Flaw {
    Unknown(String),
    ScaleInside,
}

impl Flaw {
    pub fn with_accepted(self, text: &str, dimension: Dimension) -> QuantityError {
        self.with_list(text, owned(accepted_units(dimension)))
    }

    pub fn with_list(self, text: &str, accepted: Vec<String>) -> QuantityError {
        match self {
            Self::Unknown(unit) => {
                let nearest = atoms::nearest(&unit).map(str::to_owned);
                QuantityError::UnknownUnit {
                    unit,
                    nearest,
                    accepted,
                }
            }
            Self::ScaleInside => QuantityError::ScaleInside {
                unit: text.to_owned(),
            },
        }
    }
}

pub(crate) fn owned(units: &[&str]) -> Vec<String> {
    units.iter().map(|unit| (*unit).to_owned()).collect()
}

fn is_currency(name: &str) -> bool {
    name.len() == 3 && name.bytes().all(|byte| byte.is_ascii_uppercase())
}

/// Splits "m2", "m^2" or "m²" into name and power.
fn split_power(part: &str) -> (&str, i8) {
    for (mark, power) in [("2", 2), ("3", 3), ("4", 4), ("²", 2), ("³", 3)] {
        if let Some(name) = part.strip_suffix(mark) {
            return (name.strip_suffix('^').unwrap_or(name), power);
        }
    }
    (part, 1)
}
