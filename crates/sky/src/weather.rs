//! Hourly weather of a year, and readers that make it from the bytes of a file.
//!
//! Nothing is filled in silently. Every interval of the 365-day year must be given once and be
//! possible; whatever is not is reported with its line, all at once: missing, repeated, unreadable,
//! outside what is possible, beam stronger than the sun outside the air, beam at night.
//! [`Gaps::Bridge`] lets short runs of missing or impossible values be bridged by a straight line
//! and counts them in the notes. A 29 February is dropped and noted.
//!
//! A file may hold several years; each is checked and kept for itself.
//!
//! Shorter intervals than hours are averaged. How times are read is compared with the sun
//! ([`timing()`]): a file whose beam falls into the night is refused, one whose beam is early or
//! late is noted, and where a format leaves open what its times mean, the reading that brings the
//! beam in step with the sun is taken and noted.

mod assemble;
mod clock;
mod columns;
mod epw;
mod facts;
mod format;
mod gaps;
mod lag;
mod middle;
mod nsrdb;
mod place;
mod placement;
mod plain;
mod problem;
mod pvgis;
mod rows;
mod series;
mod several;
mod stamp;
mod timing;
mod tmy3;

pub use clock::HourLabel;
pub use epw::{read_epw, read_epw_with};
pub use facts::{ABOVE_CLEAR, THRESHOLDS_W_M2, WeatherFacts};
pub use format::{ReadOptions, WeatherFormat, WeatherRead, read_weather};
pub use gaps::Gaps;
pub use middle::middle_year;
pub use nsrdb::{read_nsrdb, read_nsrdb_with};
pub use plain::{ColumnValues, read_columns, read_csv};
pub use problem::{Counted, Fault, Problem, WeatherError};
pub use pvgis::read_pvgis;
pub use timing::{Timing, timing};
pub use tmy3::{read_tmy3, read_tmy3_with};

/// Weather of a year in 8,760 hourly means; entry `h` covers local standard time `h` to `h + 1`.
#[derive(Debug, Clone, PartialEq)]
pub struct WeatherYear {
    /// Local standard time less universal time, hours.
    pub utc_offset_h: f64,
    /// Year for which the sun's position is computed.
    pub year: i32,
    /// Direct normal irradiance [W/m²].
    pub dni_w_m2: Vec<f64>,
    /// Air temperature, kelvin.
    pub air_temperature_k: Vec<f64>,
    /// Wind speed 10 m above ground [m/s].
    pub wind_speed_m_s: Vec<f64>,
    /// What was detected, dropped or bridged, one sentence each.
    pub notes: Vec<String>,
}

#[cfg(test)]
mod tests;
