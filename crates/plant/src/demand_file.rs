//! An hourly demand from the text of a file.

use std::num::ParseFloatError;

use thiserror::Error;

use crate::demand::HOURS_PER_YEAR;

/// What an hourly demand's first line may name, with watts in its unit.
const UNITS: [(&str, f64); 3] = [("power_w", 1.0), ("power_kw", 1e3), ("power_mw", 1e6)];

/// Largest power accepted, W: what is more is a slip of units.
const LARGEST_W: f64 = 1e10;

/// What is wrong with an hourly demand.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum DemandFault {
    /// No column of power.
    #[error("line 1: no column is called power_w, power_kw or power_mw; name one so")]
    NoColumn,
    /// A line without a value in the column.
    #[error("line {line}: it has no value in the column of power; give one for every hour")]
    Missing {
        /// Line, from 1.
        line: usize,
    },
    /// A value that is no number.
    #[error("line {line}: {text:?} is no number ({source})")]
    NotANumber {
        /// Line, from 1.
        line: usize,
        /// What stands there.
        text: String,
        /// Why.
        source: ParseFloatError,
    },
    /// A power that can't be.
    #[error("line {line}: {power_w} W is outside 0 … 1e10 W")]
    OutOfRange {
        /// Line, from 1.
        line: usize,
        /// The power [W].
        power_w: f64,
    },
    /// Not a year of hours.
    #[error(
        "it has {hours} hours; give 8760, one for each hour of a year of 365 days from 1 January, local standard time"
    )]
    NotAYear {
        /// Hours found.
        hours: usize,
    },
}

/// Reads hourly powers [W] from comma-separated text with one line of names: a column `power_w`, `power_kw`
/// or `power_mw`, others are passed over; empty lines and those that begin with # too.
///
/// # Errors
/// [`DemandFault`] with the line of the first fault.
pub fn read_demand(text: &str) -> Result<Vec<f64>, DemandFault> {
    let mut lines = text
        .trim_start_matches('\u{feff}')
        .lines()
        .enumerate()
        .map(|(index, line)| (index + 1, line.trim()))
        .filter(|(_, line)| !line.is_empty() && !line.starts_with('#'));
    let (_, names) = lines.next().ok_or(DemandFault::NoColumn)?;
    let (column, watts) = column_of(names).ok_or(DemandFault::NoColumn)?;
    let hours: Vec<f64> = lines
        .map(|(line, cells)| power_w(line, cells, column, watts))
        .collect::<Result<_, _>>()?;
    if hours.len() == HOURS_PER_YEAR {
        Ok(hours)
    } else {
        Err(DemandFault::NotAYear { hours: hours.len() })
    }
}

/// Which column holds power, and watts in its unit.
fn column_of(names: &str) -> Option<(usize, f64)> {
    names.split(',').enumerate().find_map(|(column, name)| {
        let name = name.trim().to_ascii_lowercase();
        let unit = UNITS.iter().find(|(known, _)| *known == name);
        unit.map(|(_, watts)| (column, *watts))
    })
}

fn power_w(line: usize, cells: &str, column: usize, watts: f64) -> Result<f64, DemandFault> {
    let text = cells.split(',').nth(column).map_or("", str::trim);
    if text.is_empty() {
        return Err(DemandFault::Missing { line });
    }
    let number: f64 = text.parse().map_err(|source| DemandFault::NotANumber {
        line,
        text: text.to_owned(),
        source,
    })?;
    let power_w = number * watts;
    if (0.0..=LARGEST_W).contains(&power_w) {
        Ok(power_w)
    } else {
        Err(DemandFault::OutOfRange { line, power_w })
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn year(names: &str, value: &str) -> String {
        let mut text = format!("# an invented works\n{names}\n");
        for hour in 0..HOURS_PER_YEAR {
            text += &format!("{hour},{value}\r\n");
        }
        text
    }

    #[test]
    fn any_of_three_units_and_other_columns() {
        for (names, value) in [
            ("hour,power_w", "2500"),
            ("hour, Power_kW", "2.5"),
            ("hour,power_mw", "0.0025"),
        ] {
            let hours = read_demand(&year(names, value)).unwrap();
            assert_eq!(hours.len(), HOURS_PER_YEAR);
            assert!((hours[8759] - 2500.0).abs() < 1e-9, "{names}");
        }
    }

    #[test]
    fn faults_are_told_by_line() {
        let fault = |text: &str| read_demand(text).unwrap_err().to_string();
        assert!(fault("").starts_with("line 1: no column"));
        assert!(fault("hour,load\n0,1\n").starts_with("line 1: no column"));
        assert!(fault("power_kw\n1\ntwo\n").starts_with("line 3: \"two\" is no number"));
        assert!(fault("power_kw\n1\n-2\n").starts_with("line 3: -2000 W is outside"));
        assert!(fault("power_kw\n1\nNaN\n").starts_with("line 3: NaN W is outside"));
        assert!(fault("hour,power_kw\n0,1\n1\n").starts_with("line 3: it has no value"));
        assert!(fault("power_kw\n1\n2\n").starts_with("it has 2 hours"));
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, rng_seed: proptest::test_runner::RngSeed::Fixed(7), ..ProptestConfig::default() })]

        #[test]
        fn garbage_never_passes_for_a_year(text in "(power_kw\n)?[0-9a-z,.\n# -]{0,400}") {
            prop_assert!(read_demand(&text).is_err());
        }
    }
}
