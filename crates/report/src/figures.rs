//! Numbers as people read them: sensible digits, grouped thousands, scaled units.

use quantity::{Measure, Units};

/// `value` to `digits` significant digits, without exponent, thousands grouped by commas.
///
/// A value of 10^`digits` or more is rounded to whole units, not to tens.
pub fn significant(value: f64, digits: usize) -> String {
    if value == 0.0 || !value.is_finite() {
        return grouped(value, 0);
    }
    grouped(value, decimals_for(value, digits))
}

/// `value` with a fixed number of decimals, thousands grouped by commas; a dash where there is no
/// finite value to tell, as for a share of nothing.
pub fn grouped(value: f64, decimals: usize) -> String {
    if !value.is_finite() {
        return "–".to_owned();
    }
    let plain = format!("{value:.decimals$}");
    let (sign, unsigned) = match plain.strip_prefix('-') {
        Some(rest) => ("-", rest),
        None => ("", plain.as_str()),
    };
    let (whole, fraction) = unsigned.split_once('.').unwrap_or((unsigned, ""));
    let point = if fraction.is_empty() { "" } else { "." };
    let is_zero = unsigned.chars().all(|c| c == '0' || c == '.');
    let sign = if is_zero { "" } else { sign };
    format!("{sign}{}{point}{fraction}", group_thousands(whole))
}

/// Share as a percentage: `0.1234` gives `12.3 %`.
pub fn percent(share: f64, decimals: usize) -> String {
    if !share.is_finite() {
        return grouped(share, decimals);
    }
    format!("{} %", grouped(share * 100.0, decimals))
}

/// Money to three significant digits in thousands, millions or billions: `12.4 million USD`.
pub fn money(amount: f64, currency: &str) -> String {
    let (divisor, word) = MoneyScale::of(amount).parts();
    let figure = significant(amount / divisor, 3);
    if word.is_empty() {
        format!("{figure} {currency}")
    } else {
        format!("{figure} {word} {currency}")
    }
}

/// Size class of an amount of money, so that an axis or column shares one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct MoneyScale {
    step: usize,
}

impl MoneyScale {
    const STEPS: [(f64, &'static str); 4] = [
        (1.0, ""),
        (1e3, "thousand"),
        (1e6, "million"),
        (1e9, "billion"),
    ];

    /// Class of the largest amount to be shown.
    pub fn of(amount: f64) -> Self {
        let above = |step: &(f64, &str)| amount.abs() >= step.0 * 0.9995;
        let step = Self::STEPS.iter().rposition(above).unwrap_or(0);
        MoneyScale { step }
    }

    /// Divisor, and the word for it (empty for 1).
    pub fn parts(self) -> (f64, &'static str) {
        Self::STEPS[self.step]
    }

    /// Unit of an axis or column, such as `million USD`.
    pub fn unit(self, currency: &str) -> String {
        let (_, word) = self.parts();
        format!("{word} {currency}").trim_start().to_owned()
    }
}

/// Energy to three significant digits in kWh, MWh, GWh or TWh; `energy_j` in joules.
pub fn energy(energy_j: f64) -> String {
    scaled(energy_j / 3.6e6, &["kWh", "MWh", "GWh", "TWh"])
}

/// Power to three significant digits in W, kW, MW or GW; `power_w` in watts.
pub fn power(power_w: f64) -> String {
    scaled(power_w, &["W", "kW", "MW", "GW"])
}

/// `si` to `digits` significant digits in the units asked for: `12.3 kN`.
pub fn measured(si: f64, measure: Measure, units: Units, digits: usize) -> String {
    let number = measure.number(si, units);
    format!("{} {}", significant(number, digits), measure.unit(units))
}

/// `si` in the units asked for with the other ones beside it: `1,204 m2 (12,960 ft2)`.
pub fn in_both(si: f64, measure: Measure, units: Units, digits: usize) -> String {
    let other = measured(si, measure, units.other(), digits);
    format!("{} ({other})", measured(si, measure, units, digits))
}

/// From `low` to `high`, both SI, to a fixed number of decimals: `0.80 to 1.25 m`.
pub fn span([low, high]: [f64; 2], measure: Measure, units: Units, decimals: usize) -> String {
    let [low, high] = [low, high].map(|si| grouped(measure.number(si, units), decimals));
    format!("{low} to {high} {}", measure.unit(units))
}

/// Length in metres with feet and inches beside it, or the other way round: `24.5 m (80 ft 5 in)`.
pub fn length(length_m: f64, units: Units) -> String {
    let metres = measured(length_m, Measure::Length, Units::Si, 3);
    let feet = feet_and_inches(length_m);
    match units {
        Units::Si => format!("{metres} ({feet})"),
        Units::Us => format!("{feet} ({metres})"),
    }
}

/// Below five feet inches only, from a hundred feet on feet only.
fn feet_and_inches(length_m: f64) -> String {
    const FIVE_FEET_INCHES: f64 = 60.0;
    const HUNDRED_FEET_INCHES: f64 = 1200.0;
    let exact = Measure::Thickness.number(length_m.abs(), Units::Us);
    let inches = exact.round();
    let feet = (inches / 12.0).floor();
    let sign = if length_m < 0.0 && inches > 0.0 {
        "-"
    } else {
        ""
    };
    if inches < FIVE_FEET_INCHES {
        format!("{sign}{inches:.0} in")
    } else if inches < HUNDRED_FEET_INCHES {
        format!("{sign}{feet:.0} ft {:.0} in", inches - 12.0 * feet)
    } else {
        format!("{sign}{} ft", grouped(exact / 12.0, 0))
    }
}

/// A number of things with its noun, which takes an s for all numbers but one.
pub fn counted(number: usize, noun: &str) -> String {
    let plural = if number == 1 { "" } else { "s" };
    format!("{} {noun}{plural}", grouped(number as f64, 0))
}

/// The text with its first letter as a capital.
pub fn capitalised(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

/// The smallest of 1, 2 or 5 times a power of ten that is at or above `value`; 1 where
/// `value` is not above 0.
pub fn round_at_least(value: f64) -> f64 {
    let (factor, exponent) = round_parts(value);
    factor * libm::pow(10.0, f64::from(exponent))
}

/// [`round_at_least`] as factor and exponent of ten.
pub(crate) fn round_parts(value: f64) -> (f64, i32) {
    if !(value.is_finite() && value > 0.0) {
        return (1.0, 0);
    }
    let exponent = libm::floor(libm::log10(value));
    let leading = value / libm::pow(10.0, exponent);
    let factor = [1.0, 2.0, 5.0]
        .into_iter()
        .find(|factor| *factor >= leading * (1.0 - 1e-9));
    match factor {
        Some(factor) => (factor, exponent as i32),
        None => (1.0, exponent as i32 + 1),
    }
}

/// Decimals after the point that show `digits` significant digits of `value`.
fn decimals_for(value: f64, digits: usize) -> usize {
    let after_first = digits.max(1) - 1;
    // The exponent after rounding, so that 9.996 to three digits is 10.0.
    let exponent = format!("{value:.after_first$e}")
        .split_once('e')
        .and_then(|(_, exponent)| exponent.parse::<i32>().ok())
        .unwrap_or(0);
    let decimals = i32::try_from(after_first).unwrap_or(0) - exponent;
    usize::try_from(decimals).unwrap_or(0)
}

fn group_thousands(whole: &str) -> String {
    let mut grouped = String::with_capacity(whole.len() + whole.len() / 3);
    for (place, digit) in whole.chars().enumerate() {
        if place > 0 && (whole.len() - place).is_multiple_of(3) {
            grouped.push(',');
        }
        grouped.push(digit);
    }
    grouped
}

fn scaled(value: f64, units: &[&str]) -> String {
    let mut shown = value;
    let mut place = 0;
    while shown.abs() >= 999.5 && place + 1 < units.len() {
        shown /= 1000.0;
        place += 1;
    }
    format!("{} {}", significant(shown, 3), units[place])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn digits_are_sensible() {
        for (value, wanted) in [
            (0.0, "0"),
            (0.031249, "0.0312"),
            (9.996, "10.0"),
            (999.96, "1,000"),
            (12_345_678.0, "12,345,678"),
            (-1234.5, "-1,234"),
            (1e-7, "0.000000100"),
        ] {
            assert_eq!(significant(value, 3), wanted, "{value}");
        }
        assert_eq!(grouped(-0.001, 1), "0.0");
        assert_eq!(counted(1, "string"), "1 string");
        assert_eq!(counted(1200, "string"), "1,200 strings");
        assert_eq!(percent(0.1234, 1), "12.3 %");
    }

    #[test]
    fn money_and_energy_take_a_fitting_scale() {
        assert_eq!(money(12_400_000.0, "USD"), "12.4 million USD");
        assert_eq!(money(999_600.0, "EUR"), "1.00 million EUR");
        assert_eq!(money(85.0, "USD"), "85.0 USD");
        assert_eq!(MoneyScale::of(2.5e4).unit("USD"), "thousand USD");
        assert_eq!(MoneyScale::of(25.0).unit("USD"), "USD");
        assert_eq!(energy(3.6e12), "1.00 GWh");
        assert_eq!(energy(-3.6e9), "-1.00 MWh");
        assert_eq!(power(999_700.0), "1.00 MW");
    }

    /// One inch is 25.4 mm exactly (international yard and pound agreement, 1959; from memory).
    #[test]
    fn feet_and_inches_carry_over() {
        assert_eq!(length(0.3048 * 80.0, Units::Si), "24.4 m (80 ft 0 in)");
        assert_eq!(length(0.762, Units::Si), "0.762 m (30 in)");
        assert_eq!(length(1.8287, Units::Si), "1.83 m (6 ft 0 in)");
        assert_eq!(length(-0.3048, Units::Si), "-0.305 m (-12 in)");
        assert_eq!(length(1609.344, Units::Si), "1,609 m (5,280 ft)");
        assert_eq!(length(0.3048 * 80.0, Units::Us), "80 ft 0 in (24.4 m)");
        let acre = in_both(4_046.856_422_4, Measure::Land, Units::Us, 4);
        assert_eq!(acre, "1.000 acre (4,047 m2)");
        let load = span([1000.0, 2500.0], Measure::Load, Units::Si, 2);
        assert_eq!(load, "1.00 to 2.50 kN");
    }
}
