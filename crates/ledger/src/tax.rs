//! Income tax and what it lets be written off.

use crate::annuity::{declining_worth, present_worth};

/// How the tax office lets capital be written off.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum WriteOff {
    /// The same share every year.
    #[default]
    StraightLine,
    /// The United States' five-year accelerated schedule: 20, 32, 19.2, 11.52, 11.52 and 5.76 %
    /// (from memory).
    FiveYearAccelerated,
}

const FIVE_YEAR_SHARES: [f64; 6] = [0.20, 0.32, 0.192, 0.1152, 0.1152, 0.0576];

/// Whose tax is meant.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum TaxedParty {
    /// The heat replaces the maker's own fuel: costs are counted after tax.
    #[default]
    User,
    /// The heat is sold: its price must also earn the tax on it.
    Seller,
}

/// Income tax.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tax {
    /// Share of income taken.
    pub rate: f64,
    /// How capital is written off.
    pub write_off: WriteOff,
    /// Years until nothing is left, where the same share is written off every year.
    pub write_off_years: f64,
    /// Whose tax.
    pub party: TaxedParty,
}

impl Tax {
    /// No tax; capital would be written off over twenty years.
    pub const NONE: Self = Self {
        rate: 0.0,
        write_off: WriteOff::StraightLine,
        write_off_years: 20.0,
        party: TaxedParty::User,
    };

    /// Present worth at a rate per year of writing off 1, at each year's end.
    #[must_use]
    pub fn present_worth(&self, rate: f64) -> f64 {
        match self.write_off {
            WriteOff::StraightLine => {
                declining_worth(rate, self.write_off_years, 0.0) / self.write_off_years
            }
            WriteOff::FiveYearAccelerated => present_worth(rate, &FIVE_YEAR_SHARES),
        }
    }

    /// Share of the capital that is written off at the end of a year, from 1.
    #[must_use]
    pub fn written_off(&self, year: u32) -> f64 {
        match self.write_off {
            WriteOff::StraightLine => {
                let left_years = self.write_off_years - (f64::from(year) - 1.0);
                left_years.clamp(0.0, 1.0) / self.write_off_years
            }
            WriteOff::FiveYearAccelerated => {
                let place = (year as usize).saturating_sub(1);
                FIVE_YEAR_SHARES.get(place).copied().unwrap_or(0.0)
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use book::Check;

    use super::*;

    #[test]
    fn write_offs_are_worth_what_was_computed() {
        let fast = Tax {
            write_off: WriteOff::FiveYearAccelerated,
            ..Tax::NONE
        };
        let even = Tax {
            write_off_years: 10.0,
            ..Tax::NONE
        };
        Check {
            id: "ledger.write_off",
            model: "Worth of writing capital off",
            equation: "Σ share written off ÷ (1 + i)^year",
            source: "Short, Packey & Holt 1995, NREL/TP-462-5173",
            validity: "straight lines, or the five-year accelerated schedule",
            against: "five years accelerated at 8 % and ten years straight at 7 %, computed after the same manual",
            unit: "",
        }
        .within(
            5e-6,
            [
                (0.811_33, fast.present_worth(0.08)),
                (0.702_36, even.present_worth(0.07)),
            ],
        );
    }

    #[test]
    fn the_whole_capital_is_written_off_year_by_year() {
        for (write_off, write_off_years) in [
            (WriteOff::StraightLine, 20.0),
            (WriteOff::StraightLine, 7.5),
            (WriteOff::FiveYearAccelerated, 20.0),
        ] {
            let tax = Tax {
                write_off,
                write_off_years,
                ..Tax::NONE
            };
            let sum: f64 = (1..=30).map(|year| tax.written_off(year)).sum();
            assert!((sum - 1.0).abs() < 1e-12, "{write_off:?}");
        }
    }
}
