//! Hourly weather of a year, and readers that make it from the bytes of a file.
//!
//! Nothing is filled in silently. Every hour of the 365-day year must be given once and be
//! possible; whatever is not is reported with its line, all at once. [`Gaps::Bridge`] lets short
//! runs of *missing* values be bridged by a straight line and counts them in the notes; impossible
//! values are refused in any case. A 29 February is dropped and noted.

mod builder;
mod columns;
mod epw;
mod place;
mod plain;
mod problem;
mod timing;
mod tmy3;

pub use epw::{read_epw, read_epw_with};
pub use plain::{CsvOptions, HourLabel, read_csv};
pub use problem::{Fault, Problem, WeatherError};
pub use timing::{Timing, timing};
pub use tmy3::{read_tmy3, read_tmy3_with};

/// Weather of a year in 8,760 hourly means; entry `h` covers local standard time `h` to `h + 1`.
#[derive(Debug, Clone, PartialEq)]
pub struct WeatherYear {
    /// Local standard time less universal time, hours.
    pub utc_offset_h: f64,
    /// Year for which the sun's position is computed.
    pub year: i32,
    /// Direct normal irradiance, W/m².
    pub dni_w_m2: Vec<f64>,
    /// Air temperature, kelvin.
    pub air_temperature_k: Vec<f64>,
    /// Wind speed 10 m above ground, m/s.
    pub wind_speed_m_s: Vec<f64>,
    /// What was detected, dropped or bridged, one sentence each.
    pub notes: Vec<String>,
}

/// What to do about hours without a value.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Gaps {
    /// Report every one and refuse the file.
    #[default]
    Refuse,
    /// Bridge runs of at most this many hours by a straight line between the neighbouring values
    /// (December joins January) and count them in the notes; refuse the file for longer runs.
    Bridge {
        /// Longest run bridged, hours.
        max_hours: usize,
    },
}

#[cfg(test)]
mod tests;
