//! A plausible hourly year from twelve monthly sums.
//!
//! Days are drawn as clear, broken or dull, in runs; each hour lets through a share of the
//! clear-sky beam. One exponent per month then bends all shares until the month's sum is met, so
//! no hour ever exceeds the clear sky. Temperature follows the month's mean and the day's clearness;
//! wind is drawn from a Weibull distribution and blows harder in the afternoon.

mod air;
mod beam;

use thiserror::Error;

use crate::calendar::HOURS;
use crate::site::Site;
use crate::sun::SunError;
use crate::weather::WeatherYear;

/// Year whose sun a synthetic year follows: without leap day, midway between two leap years.
pub const SYNTHETIC_YEAR: i32 = 2022;

/// Climate by months (January first), as a solar atlas gives it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MonthlyClimate {
    /// Direct normal irradiation of each month [J/m²].
    pub dni_j_m2: [f64; 12],
    /// Mean air temperature of each month, kelvin.
    pub air_temperature_k: [f64; 12],
    /// Mean difference between the warmest and the coolest hour of a day, kelvin.
    pub daily_temperature_swing_k: f64,
    /// Yearly mean wind speed 10 m above ground [m/s].
    pub wind_speed_m_s: f64,
}

/// Why no synthetic year can be made.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum SyntheticError {
    /// A month asks for more beam than a cloudless sky gives.
    #[error(
        "month {month}: {} kWh/m2 of DNI asked, a cloudless sky of turbidity {linke_turbidity} \
         gives {}; check the sum and its unit, or lower the turbidity",
        kwh(*asked_j_m2), kwh(*clear_j_m2)
    )]
    AboveClearSky {
        /// Month, 1 … 12.
        month: usize,
        /// Sum asked for [J/m²].
        asked_j_m2: f64,
        /// Sum under a cloudless sky [J/m²].
        clear_j_m2: f64,
        /// Turbidity of that sky [-].
        linke_turbidity: f64,
    },
    /// An input is not a number or outside its range.
    #[error("{quantity} is {value}, outside {low} to {high}")]
    OutOfRange {
        /// What it is, with its unit.
        quantity: &'static str,
        /// Value given.
        value: f64,
        /// Lowest value allowed.
        low: f64,
        /// Highest value allowed.
        high: f64,
    },
    /// The sun's position is not defined for the site.
    #[error(transparent)]
    Sun(#[from] SunError),
}

fn kwh(energy_j_m2: f64) -> f64 {
    (energy_j_m2 / 3.6e4).round() / 100.0
}

/// Hourly year whose DNI adds up to the climate's monthly sums (relative error below 1e-9), whose
/// air temperature has its monthly means and whose wind has its yearly mean.
///
/// `linke_turbidity` [-] sets the clear sky (2 clean … 7 hazy); the same `seed` gives the same
/// year. Only hours whose middle has the sun above the horizon hold beam.
///
/// # Errors
/// [`SyntheticError`] when a month asks for more than the clear sky gives, an input is outside its
/// range, or the site has no sun position.
pub fn synthetic_year(
    site: &Site,
    utc_offset_h: f64,
    climate: &MonthlyClimate,
    linke_turbidity: f64,
    seed: u64,
) -> Result<WeatherYear, SyntheticError> {
    check(climate, utc_offset_h, linke_turbidity)?;
    let clear_w_m2 = beam::clear_year(site, utc_offset_h, climate, linke_turbidity)?;
    let shares = beam::let_through(&clear_w_m2, &climate.dni_j_m2, seed);
    let dni_w_m2 = beam::meet_sums(&clear_w_m2, &shares, &climate.dni_j_m2, linke_turbidity)?;
    let air_temperature_k = air::temperatures(climate, &clear_w_m2, &dni_w_m2);
    let wind_speed_m_s = air::wind_speeds(climate.wind_speed_m_s, seed);
    let notes = vec![format!(
        "synthetic year from monthly sums: {HOURS} hours, turbidity {linke_turbidity}, seed {seed}"
    )];
    Ok(WeatherYear {
        utc_offset_h,
        year: SYNTHETIC_YEAR,
        dni_w_m2,
        air_temperature_k,
        wind_speed_m_s,
        notes,
    })
}

fn check(
    climate: &MonthlyClimate,
    utc_offset_h: f64,
    linke_turbidity: f64,
) -> Result<(), SyntheticError> {
    for sum_j_m2 in climate.dni_j_m2 {
        within("monthly DNI (J/m2)", sum_j_m2, 0.0, 2e9)?;
    }
    for temperature_k in climate.air_temperature_k {
        within("monthly air temperature (K)", temperature_k, 200.0, 330.0)?;
    }
    within(
        "daily temperature swing (K)",
        climate.daily_temperature_swing_k,
        0.0,
        40.0,
    )?;
    within("mean wind speed (m/s)", climate.wind_speed_m_s, 0.0, 20.0)?;
    within("UTC offset (h)", utc_offset_h, -14.0, 14.0)?;
    within("Linke turbidity (-)", linke_turbidity, 1.0, 10.0)
}

fn within(quantity: &'static str, value: f64, low: f64, high: f64) -> Result<(), SyntheticError> {
    if (low..=high).contains(&value) {
        Ok(())
    } else {
        Err(SyntheticError::OutOfRange {
            quantity,
            value,
            low,
            high,
        })
    }
}

#[cfg(test)]
mod tests;
