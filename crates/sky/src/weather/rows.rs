//! Rows of a file: when they are and what they say, and how far apart they stand.

use std::collections::BTreeMap;

use csv::ByteRecord;

use super::columns::{COLUMNS, Column, Layout, field, shortened};
use super::problem::{Fault, WeatherError};
use super::stamp::Stamp;

/// Minutes in an hour.
pub const HOUR_MIN: usize = 60;

/// One row of a file.
pub struct Row {
    /// Line of the file, from 1.
    pub line: u64,
    /// Its date and time, or the text that names none.
    pub stamp: Result<Stamp, String>,
    /// Beam, temperature and wind in SI, or what is wrong with the row or with each of them.
    pub values: Result<[Result<f64, Fault>; COLUMNS], Fault>,
}

impl Row {
    /// A row as it stands in the file; `stamp` is its time, or the text that names none.
    pub fn new(
        line: u64,
        record: &ByteRecord,
        columns: &[Column; COLUMNS],
        layout: &Layout,
        stamp: Result<Stamp, String>,
    ) -> Self {
        let values = if record.len() < layout.needed {
            Err(Fault::TooFewColumns {
                found: record.len(),
                needed: layout.needed,
            })
        } else {
            let value =
                |column: usize| columns[column].value(&field(record, layout.positions[column]));
            Ok(std::array::from_fn(value))
        };
        Self {
            line,
            stamp: stamp.map_err(|text| shortened(&text)),
            values,
        }
    }

    /// Its time and beam, where both are there.
    pub fn beam(&self) -> Option<(Stamp, f64)> {
        match (&self.stamp, &self.values) {
            (Ok(stamp), Ok([Ok(beam), ..])) => Some((*stamp, *beam)),
            _ => None,
        }
    }
}

/// The raster on which the rows of a file lie.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Raster {
    /// Minutes from row to row, a divisor of 60.
    pub step_min: usize,
    /// Minutes from a full hour to the first stamp after it, less than a step.
    pub phase_min: usize,
}

impl Raster {
    /// The commonest step and phase of rows; hours when there are no two rows.
    ///
    /// # Errors
    /// [`WeatherError::Step`] when the rows are further apart than an hour or do not divide it.
    pub fn of(rows: &[Row]) -> Result<Self, WeatherError> {
        let minutes = || {
            let stamps = rows.iter().filter_map(|row| row.stamp.as_ref().ok());
            stamps.map(|stamp| stamp.minute)
        };
        let steps = minutes()
            .zip(minutes().skip(1))
            .map(|(one, next)| (next - one).unsigned_abs() as usize)
            .filter(|step| *step > 0);
        let step_min = commonest(steps).unwrap_or(HOUR_MIN);
        if !HOUR_MIN.is_multiple_of(step_min) {
            return Err(WeatherError::Step { minutes: step_min });
        }
        let phases = minutes().map(|minute| minute.unsigned_abs() as usize % step_min);
        Ok(Self {
            step_min,
            phase_min: commonest(phases).unwrap_or(0),
        })
    }

    /// A step in hours.
    pub fn step_h(self) -> f64 {
        self.step_min as f64 / HOUR_MIN as f64
    }

    /// Rows of a 365-day year.
    pub fn rows_in_year(self) -> usize {
        crate::calendar::HOURS * HOUR_MIN / self.step_min
    }
}

/// What occurs most often; of equals the smallest.
pub fn commonest<T: Ord + Copy>(found: impl Iterator<Item = T>) -> Option<T> {
    let mut counts: BTreeMap<T, usize> = BTreeMap::new();
    for one in found {
        *counts.entry(one).or_default() += 1;
    }
    let most = counts.values().copied().max()?;
    let mut most_often = counts.into_iter().filter(|(_, count)| *count == most);
    most_often.next().map(|(one, _)| one)
}
