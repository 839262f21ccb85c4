//! Sun position, clear sky, weather years and the sun table.
//!
//! Hours: every series has 8,760 entries of a 365-day year; entry `h` covers local standard time
//! from `h` to `h + 1` hours after midnight of 1 January.

pub mod atmosphere;
pub mod calendar;
pub mod clear_sky;
mod course;
pub mod site;
mod stencil;
pub mod sun;
pub mod sun_table;
pub mod synthetic;
pub mod weather;

pub use atmosphere::{air_density_kg_m3, air_pressure_pa};
pub use clear_sky::{clear_sky_dni_w_m2, extraterrestrial_w_m2};
pub use site::Site;
pub use sun::{Air, Moment, SunError, sun_direction};
pub use sun_table::{
    FewSuns, GUESTS, Guests, HourStencil, HourlySuns, INSTANTS, Instant, Lean, NODES, SunTable,
};
pub use synthetic::{MonthlyClimate, SyntheticError, synthetic_year};
pub use weather::{
    ColumnValues, Gaps, ReadOptions, WeatherError, WeatherFormat, WeatherRead, WeatherYear,
    read_columns, read_csv, read_epw, read_nsrdb, read_pvgis, read_tmy3, read_weather,
};
