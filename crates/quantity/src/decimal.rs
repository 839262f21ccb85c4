//! Decimal numbers kept as written: digits and a power of ten.

use std::fmt;

use crate::QuantityError;

/// Digits that are kept; more are refused rather than rounded.
pub const MAX_DIGITS: usize = 18;

/// A decimal number, exactly as written: `digits · 10^tens`, without trailing zeros.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Decimal {
    digits: i128,
    tens: i32,
}

impl Decimal {
    /// The number `digits · 10^tens`.
    #[must_use]
    pub const fn new(mut digits: i128, mut tens: i32) -> Self {
        if digits == 0 {
            return Self { digits: 0, tens: 0 };
        }
        while digits % 10 == 0 {
            digits /= 10;
            tens += 1;
        }
        Self { digits, tens }
    }

    /// Reads "0.95", "-3", "1e5", "2_500".
    ///
    /// # Errors
    /// [`QuantityError::NotANumber`] and [`QuantityError::TooManyDigits`].
    pub fn parse(text: &str) -> Result<Self, QuantityError> {
        let not_a_number = || QuantityError::NotANumber {
            text: text.to_owned(),
        };
        let (mantissa, exponent) = match text.split_once(['e', 'E']) {
            Some((mantissa, exponent)) => (
                mantissa,
                exponent.parse::<i32>().map_err(|_| not_a_number())?,
            ),
            None => (text, 0),
        };
        if exponent.abs() > 99 {
            return Err(not_a_number());
        }
        let (negative, unsigned) = match mantissa.strip_prefix('-') {
            Some(rest) => (true, rest),
            None => (false, mantissa.strip_prefix('+').unwrap_or(mantissa)),
        };
        let (whole, part) = unsigned.split_once('.').unwrap_or((unsigned, ""));
        let digits_text: String = [whole, part].concat().replace('_', "");
        if digits_text.is_empty() || !digits_text.bytes().all(|byte| byte.is_ascii_digit()) {
            return Err(not_a_number());
        }
        let significant = digits_text.trim_start_matches('0');
        if significant.trim_end_matches('0').len() > MAX_DIGITS || significant.len() > 36 {
            return Err(QuantityError::TooManyDigits {
                text: text.to_owned(),
                max: MAX_DIGITS,
            });
        }
        let digits: i128 = if significant.is_empty() {
            0
        } else {
            significant.parse().map_err(|_| not_a_number())?
        };
        let places = part.bytes().filter(u8::is_ascii_digit).count();
        let places = i32::try_from(places).map_err(|_| not_a_number())?;
        Ok(Self::new(
            if negative { -digits } else { digits },
            exponent - places,
        ))
    }

    /// The nearest double.
    #[must_use]
    pub fn to_f64(self) -> f64 {
        format!("{}e{}", self.digits, self.tens)
            .parse()
            .unwrap_or(f64::NAN)
    }

    /// The sum, unless it needs more digits than can be held.
    #[must_use]
    pub fn plus(self, other: Self) -> Option<Self> {
        let tens = self.tens.min(other.tens);
        let left = self.digits_at(tens)?;
        let right = other.digits_at(tens)?;
        Some(Self::new(left.checked_add(right)?, tens))
    }

    /// The difference, unless it needs more digits than can be held.
    #[must_use]
    pub fn minus(self, other: Self) -> Option<Self> {
        self.plus(Self {
            digits: -other.digits,
            tens: other.tens,
        })
    }

    /// The product with a whole number, unless it needs more digits than can be held.
    #[must_use]
    pub fn times(self, factor: i128) -> Option<Self> {
        Some(Self::new(self.digits.checked_mul(factor)?, self.tens))
    }

    /// The number `10^places` times as large.
    #[must_use]
    pub const fn shifted(self, places: i32) -> Self {
        Self::new(self.digits, self.tens.saturating_add(places))
    }

    /// How often `step` goes into this number: whole quotient and whether nothing is left.
    /// `None` if `step` is zero or the digits do not fit.
    #[must_use]
    pub fn divided_by(self, step: Self) -> Option<(i128, bool)> {
        let tens = self.tens.min(step.tens);
        let whole = self.digits_at(tens)?;
        let part = step.digits_at(tens)?;
        let quotient = whole.checked_div_euclid(part)?;
        Some((quotient, whole.checked_rem_euclid(part)? == 0))
    }

    fn digits_at(self, tens: i32) -> Option<i128> {
        let places = u32::try_from(self.tens.checked_sub(tens)?).ok()?;
        self.digits.checked_mul(10_i128.checked_pow(places)?)
    }

    /// Whether the number is below zero.
    #[must_use]
    pub const fn is_negative(self) -> bool {
        self.digits < 0
    }

    /// Whether the number is zero.
    #[must_use]
    pub const fn is_zero(self) -> bool {
        self.digits == 0
    }
}

/// Plain digits where they stay short, otherwise "1.5e-9".
impl fmt::Display for Decimal {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let sign = if self.digits < 0 { "-" } else { "" };
        let digits = self.digits.unsigned_abs().to_string();
        let Ok(count) = i32::try_from(digits.len()) else {
            return Err(fmt::Error);
        };
        let point = count + self.tens;
        if self.digits == 0 {
            write!(out, "0")
        } else if (count..=16).contains(&point) {
            write!(
                out,
                "{sign}{digits}{}",
                "0".repeat(usize::try_from(self.tens).unwrap_or(0))
            )
        } else if (1..count).contains(&point) {
            let (whole, part) = digits.split_at(usize::try_from(point).unwrap_or(0));
            write!(out, "{sign}{whole}.{part}")
        } else if (-6..=0).contains(&point) {
            write!(
                out,
                "{sign}0.{}{digits}",
                "0".repeat(usize::try_from(-point).unwrap_or(0))
            )
        } else {
            let (whole, part) = digits.split_at(1);
            let dot = if part.is_empty() { "" } else { "." };
            write!(out, "{sign}{whole}{dot}{part}e{}", point - 1)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn decimal(text: &str) -> Decimal {
        Decimal::parse(text).unwrap()
    }

    #[test]
    fn text_comes_back_in_shortest_form() {
        for (given, shown) in [
            ("0.95", "0.95"),
            ("+007.500", "7.5"),
            ("-3", "-3"),
            ("1e5", "100000"),
            ("2_500", "2500"),
            (".5", "0.5"),
            ("0", "0"),
            ("-0.0", "0"),
            ("1.5e-9", "1.5e-9"),
            ("5e30", "5e30"),
            ("123456.789", "123456.789"),
        ] {
            assert_eq!(decimal(given).to_string(), shown);
        }
    }

    #[test]
    fn what_is_no_number_is_refused() {
        for text in [
            "", "-", ".", "1.2.3", "0x10", "1e", "1e999", "nan", "inf", "1,5", "--1",
        ] {
            assert!(
                matches!(Decimal::parse(text), Err(QuantityError::NotANumber { .. })),
                "{text}"
            );
        }
        let long = "0.1234567890123456789";
        assert!(matches!(
            Decimal::parse(long),
            Err(QuantityError::TooManyDigits { .. })
        ));
    }

    #[test]
    fn sums_are_exact_where_doubles_are_not() {
        let sum = decimal("0.1").plus(decimal("0.2")).unwrap();
        assert_eq!(sum, decimal("0.3"));
        assert_eq!(sum.to_f64(), 0.3);
        assert_eq!(decimal("0.3").divided_by(decimal("0.1")), Some((3, true)));
        assert_eq!(decimal("0.35").divided_by(decimal("0.1")), Some((3, false)));
        assert_eq!(decimal("1").divided_by(decimal("0")), None);
    }
}
