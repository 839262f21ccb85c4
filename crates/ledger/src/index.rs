//! A price index, and what it makes of prices of another year.

use std::borrow::Cow;
use std::collections::BTreeMap;

use crate::LedgerError;

/// Yearly levels of a published price index.
#[derive(Clone, Debug, PartialEq)]
pub struct Index {
    /// Which index, and where it is published.
    pub source: Cow<'static, str>,
    /// Level of each year; only ratios matter.
    pub level: BTreeMap<u16, f64>,
}

/// Yearly means from 2000 on.
const UNITED_STATES_CONSUMERS: [f64; 25] = [
    172.2, 177.1, 179.9, 184.0, 188.9, 195.3, 201.6, 207.342, 215.303, 214.537, 218.056, 224.939,
    229.594, 232.957, 236.736, 237.017, 240.007, 245.120, 251.107, 255.657, 258.811, 270.970,
    292.655, 304.702, 313.689,
];

impl Index {
    /// Consumer prices of the United States, all urban consumers, all items (U.S. Bureau of Labor
    /// Statistics, series CUUR0000SA0, yearly means 2000–2024; public domain, levels from memory).
    #[must_use]
    pub fn united_states_consumers() -> Self {
        Self {
            source: Cow::Borrowed(
                "consumer prices of the United States, CUUR0000SA0, U.S. Bureau of Labor Statistics, levels from memory",
            ),
            level: (2000..).zip(UNITED_STATES_CONSUMERS).collect(),
        }
    }

    /// Prices of one year over those of another; 1 within a year, whatever the index covers.
    ///
    /// # Errors
    /// [`LedgerError::YearOffIndex`] when the index does not cover both years.
    pub fn ratio(&self, from_year: u16, to_year: u16) -> Result<f64, LedgerError> {
        if from_year == to_year {
            return Ok(1.0);
        }
        Ok(self.of(to_year)? / self.of(from_year)?)
    }

    fn of(&self, year: u16) -> Result<f64, LedgerError> {
        let covered = || {
            let years: Option<(u16, u16)> = self
                .level
                .first_key_value()
                .zip(self.level.last_key_value())
                .map(|((first, _), (last, _))| (*first, *last));
            years.unwrap_or_default()
        };
        self.level.get(&year).copied().ok_or_else(|| {
            let (first, last) = covered();
            LedgerError::YearOffIndex { year, first, last }
        })
    }
}

#[cfg(test)]
mod tests {
    use book::Check;

    use super::*;

    #[test]
    fn the_built_in_index_rises_as_published() {
        let index = Index::united_states_consumers();
        let table = [(2009, -0.4), (2021, 4.7), (2022, 8.0)];
        Check {
            id: "ledger.price_index",
            model: "Rise of prices over a year",
            equation: "level of a year ÷ level of the year before",
            source: "U.S. Bureau of Labor Statistics, consumer prices of all urban consumers (from memory)",
            validity: "2000 to 2024; general prices, not those of steel or glass",
            against: "the published changes of three years (from memory, to a tenth of a per cent)",
            unit: "%",
        }
        .within(
            0.05,
            table.map(|(year, percent)| {
                let rise = index.ratio(year - 1, year).unwrap() - 1.0;
                (percent, 100.0 * rise)
            }),
        );
    }

    #[test]
    fn ratios_chain_and_missing_years_are_told() {
        let index = Index::united_states_consumers();
        let (one, two) = (index.ratio(2007, 2015), index.ratio(2015, 2024));
        let both = index.ratio(2007, 2024).unwrap();
        assert!((one.unwrap() * two.unwrap() / both - 1.0).abs() < 1e-14);
        assert_eq!(index.ratio(1987, 1987), Ok(1.0));
        let told = index.ratio(1987, 2024).unwrap_err().to_string();
        assert!(
            told.contains("1987") && told.contains("2000 to 2024"),
            "{told}"
        );
    }
}
