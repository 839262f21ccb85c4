//! Capital recovery and other factors that turn sums of money over years into one another.
//!
//! Rates are fractions per year, lives are in years and above zero; a rate of zero is allowed.

/// Capital recovery factor r/(1 − (1 + r)^−n): the equal yearly payment at each year's end that
/// repays 1 with interest (Short, Packey & Holt 1995, NREL/TP-462-5173).
#[must_use]
pub fn capital_recovery(rate: f64, life_years: f64) -> f64 {
    if rate == 0.0 {
        return life_years.recip();
    }
    rate / -libm::expm1(-life_years * libm::log1p(rate))
}

/// Present worth of a yearly 1, paid at each year's end, that shrinks by the fraction `decline`
/// from the second year on.
#[must_use]
pub fn declining_worth(rate: f64, life_years: f64, decline: f64) -> f64 {
    let step = (1.0 - decline) / (1.0 + rate);
    if step == 1.0 {
        return life_years / (1.0 + rate);
    }
    (1.0 - libm::pow(step, life_years)) / (1.0 - step) / (1.0 + rate)
}

/// Present worth of sums at the ends of the years 1, 2, …
#[must_use]
pub fn present_worth(rate: f64, sums: &[f64]) -> f64 {
    sums.iter()
        .rev()
        .fold(0.0, |later, sum| (later + sum) / (1.0 + rate))
}

/// Rates between which [`internal_rate`] looks.
const RATES: (f64, f64) = (-0.99, 10.0);

/// Halvings of that range: to the last digits of a double.
const HALVINGS: usize = 60;

/// The rate at which a sum paid at once is worth the sums at the ends of the years that follow; `None`
/// if there is none between −99 % and 1,000 %, as when they never repay it. Where the sums change sign
/// more than once, one of several such rates.
#[must_use]
pub fn internal_rate(paid: f64, sums: &[f64]) -> Option<f64> {
    let gain = |rate| present_worth(rate, sums) - paid;
    let (mut low, mut high) = RATES;
    let finds_none = gain(low) < 0.0 || gain(high) > 0.0;
    if finds_none || paid <= 0.0 {
        return None;
    }
    for _ in 0..HALVINGS {
        let middle = 0.5 * (low + high);
        if gain(middle) > 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    Some(0.5 * (low + high))
}

/// Nominal rate of a real rate under inflation: 1 + nominal = (1 + real)(1 + inflation).
#[must_use]
pub fn nominal_rate(real_rate: f64, inflation: f64) -> f64 {
    real_rate + inflation + real_rate * inflation
}

/// What 1 spent evenly over the construction time has grown to at its end.
#[must_use]
pub fn construction_growth(rate: f64, construction_years: f64) -> f64 {
    let exponent = construction_years * libm::log1p(rate);
    if exponent == 0.0 {
        1.0
    } else {
        libm::expm1(exponent) / exponent
    }
}

#[cfg(test)]
mod tests {
    use book::Check;

    use super::*;

    #[test]
    fn capital_recovery_matches_annuity_tables() {
        let table = [
            (3.0, 30.0, 0.051_019),
            (5.0, 20.0, 0.080_243),
            (6.0, 25.0, 0.078_227),
            (7.0, 25.0, 0.085_811),
            (7.0, 30.0, 0.080_586),
            (8.0, 30.0, 0.088_827),
            (10.0, 20.0, 0.117_460),
            (10.0, 30.0, 0.106_079),
            (12.0, 25.0, 0.127_500),
        ];
        Check {
            id: "ledger.capital_recovery",
            model: "Yearly charge on capital",
            equation: "i ÷ (1 − (1 + i)^−n)",
            source: "annuity",
            validity: "steady real rates",
            against: "annuity tables and the general-purpose library numpy-financial 1.0.0, nine pairs of rate and \
                      years",
            unit: "per year",
        }
        .within(
            1e-6,
            table.map(|(percent, years, factor)| (factor, capital_recovery(percent / 100.0, years))),
        );
    }

    /// 200,000 at 7.5 % over 15 years of months: 1,854.0247 (NumPy documentation).
    #[test]
    fn published_loans_come_out() {
        Check {
            id: "ledger.loan",
            model: "Yearly payment of a loan",
            equation: "P i ÷ (1 − (1 + i)^−n)",
            source: "annuity",
            validity: "steady rates",
            against: "200,000 at 8 % over 30 years (documentation of the package EngrEcon, after Newnan 2020)",
            unit: "per year",
        }
        .within(
            0.005,
            [(17_765.49, 200_000.0 * capital_recovery(0.08, 30.0))],
        );
        assert!((200_000.0 * capital_recovery(0.075 / 12.0, 180.0) - 1854.0247).abs() < 5e-5);
    }

    #[test]
    fn a_zero_rate_spreads_evenly() {
        assert_eq!(capital_recovery(0.0, 25.0), 0.04);
        assert!((capital_recovery(1e-12, 25.0) - 0.04).abs() < 1e-9);
        assert_eq!(declining_worth(0.0, 25.0, 0.0), 25.0);
    }

    #[test]
    fn recovery_is_the_inverse_of_steady_worth() {
        let product = capital_recovery(0.06, 25.0) * declining_worth(0.06, 25.0, 0.0);
        assert!((product - 1.0).abs() < 1e-14);
    }

    /// Year by year, added up by hand in the test.
    #[test]
    fn declining_worth_is_the_sum_of_its_years() {
        let (mut sum, mut paid, mut discount) = (0.0, 1.0, 1.0);
        for _ in 0..25 {
            discount /= 1.06;
            sum += paid * discount;
            paid *= 0.995;
        }
        assert!((declining_worth(0.06, 25.0, 0.005) / sum - 1.0).abs() < 1e-13);
    }

    /// 6 % real under 2.5 % inflation is 8.65 % nominal; the ratio of recovery factors over 25
    /// years is 1.26470 (computed).
    #[test]
    fn real_and_nominal_agree() {
        let nominal = nominal_rate(0.06, 0.025);
        assert!((nominal - 0.0865).abs() < 1e-12);
        let ratio = capital_recovery(nominal, 25.0) / capital_recovery(0.06, 25.0);
        assert!((ratio - 1.264_70).abs() < 5e-6);
    }

    #[test]
    fn published_cash_flows_come_out() {
        let worth = present_worth(0.08, &[5e3, 8e3, 12e3, 30e3]) - 40e3;
        Check {
            id: "ledger.present_worth",
            model: "Net present value",
            equation: "Σ cash ÷ (1 + i)^year",
            source: "discounting",
            validity: "cash at the ends of years",
            against: "−40,000 then 5,000, 8,000, 12,000 and 30,000 at 8 % (documentation of numpy-financial, from \
                      memory)",
            unit: "",
        }
        .within(5e-5, [(3_065.222_67, worth)]);
        let rate = internal_rate(100.0, &[39.0, 59.0, 55.0, 20.0]).unwrap();
        Check {
            id: "ledger.internal_rate",
            model: "Internal rate of return",
            equation: "the rate at which Σ cash ÷ (1 + i)^year is nothing",
            source: "discounting",
            validity: "one outlay, then gains",
            against: "−100 then 39, 59, 55 and 20 (documentation of numpy-financial, from memory)",
            unit: "",
        }
        .within(5e-7, [(0.280_948, rate)]);
        assert_eq!(internal_rate(100.0, &[-1.0, -1.0]), None);
        assert_eq!(internal_rate(0.0, &[1.0]), None);
    }

    #[test]
    fn construction_growth_lies_between_none_and_full_interest() {
        assert_eq!(construction_growth(0.06, 0.0), 1.0);
        assert_eq!(construction_growth(0.0, 2.0), 1.0);
        let growth = construction_growth(0.06, 2.0);
        assert!(growth > 1.06 - 0.002 && growth < 1.06 + 0.002, "{growth}");
    }
}
