//! Where the sun stands, as seen through the air.
//!
//! # References
//! 1. I. Reda, A. Andreas, "Solar position algorithm for solar radiation applications",
//!    Solar Energy 76(5) 577-589, 2004: ±0.0003° from the year -2000 to 6000.

use geometry::{Vec3, direction};
use solar_positioning::time::JulianDate;
use solar_positioning::{Location, RefractionCorrection, SolarPositions, delta_t};
use thiserror::Error;

use crate::atmosphere;
use crate::calendar::{self, HOURS};
use crate::site::Site;

/// Elevation of the true sun below which its light is not bent \[1\]: the rim of the apparent one is then at the horizon.
const LOWEST_BENT_DEG: f64 = -0.833_37;

/// Why no sun position exists.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum SunError {
    /// Place, time or air lies outside what the algorithm is defined for.
    #[error(
        "no sun position: {reason}; check latitude (-90 to 90 deg), longitude (-180 to 180 deg), \
         year (-500 to 3000), air pressure and temperature"
    )]
    OutsideAlgorithm {
        /// What the algorithm refused.
        reason: String,
    },
}

impl From<solar_positioning::Error> for SunError {
    fn from(error: solar_positioning::Error) -> Self {
        Self::OutsideAlgorithm {
            reason: error.to_string(),
        }
    }
}

/// A moment in time.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Moment {
    /// Julian date, days of universal time.
    pub julian_date: f64,
    /// Terrestrial time less universal time, seconds.
    pub delta_t_s: f64,
}

impl Moment {
    /// The moment `hour` hours after midnight of 1 January in local standard time, counted in a
    /// 365-day year: the 29 February of a leap year is stepped over.
    ///
    /// # Errors
    /// [`SunError`] when the year is outside -500 … 3000 or a number is not finite.
    pub fn in_year(year: i32, hour: f64, utc_offset_h: f64) -> Result<Self, SunError> {
        let first_of_march_h = calendar::hours_of_month(2).start as f64;
        let leap_day_h = if calendar::is_leap_year(year) && hour >= first_of_march_h {
            24.0
        } else {
            0.0
        };
        let delta_t_s = delta_t::estimate(f64::from(year) + hour / HOURS as f64)?;
        let new_year = JulianDate::from_utc(year, 1, 1, 0, 0, 0.0, delta_t_s)?;
        let julian_date = new_year.julian_date() + (hour + leap_day_h - utc_offset_h) / 24.0;
        Ok(Self {
            julian_date,
            delta_t_s,
        })
    }
}

/// Air that bends the sun's light.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Air {
    /// Station pressure in pascal.
    pub pressure_pa: f64,
    /// Temperature in kelvin.
    pub temperature_k: f64,
}

impl Air {
    /// Air at the standard pressure of an altitude in metres, at a temperature in kelvin.
    #[must_use]
    pub fn at_altitude(altitude_m: f64, temperature_k: f64) -> Self {
        Self {
            pressure_pa: atmosphere::air_pressure_pa(altitude_m),
            temperature_k,
        }
    }
}

/// What bent light adds to the elevation of suns \[1\], in one state of the air.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Refraction {
    /// The bend where the law's tangent is one, degrees.
    scale_deg: f64,
}

impl Refraction {
    /// # Errors
    /// [`SunError`] when pressure or temperature is outside the algorithm's range.
    pub fn new(air: &Air) -> Result<Self, SunError> {
        let air = RefractionCorrection::new(air.pressure_pa / 100.0, air.temperature_k - 273.15)?;
        let density = air.pressure() / 1010.0 * 283.0 / (273.0 + air.temperature());
        Ok(Self {
            scale_deg: density * 1.02 / 60.0,
        })
    }

    /// The apparent sun of a true one. A sun whose rim is below the horizon stays where it is.
    pub fn apparent(&self, sun: Vec3) -> Vec3 {
        let true_rad = libm::asin(sun.z.clamp(-1.0, 1.0));
        let true_deg = true_rad.to_degrees();
        let level = libm::hypot(sun.x, sun.y);
        if true_deg <= LOWEST_BENT_DEG || level <= 0.0 {
            return sun;
        }
        let bend = libm::tan((true_deg + 10.3 / (true_deg + 5.11)).to_radians());
        let (up, along) = libm::sincos(true_rad + (self.scale_deg / bend).to_radians());
        let scale = along / level;
        Vec3::new(scale * sun.x, scale * sun.y, up)
    }
}

/// Unit vector (east, north, up) to the sun's apparent centre: topocentric and refracted \[1\].
///
/// # Errors
/// [`SunError`] when place, time or air is outside the algorithm's range.
pub fn sun_direction(site: &Site, moment: &Moment, air: &Air) -> Result<Vec3, SunError> {
    Ok(Refraction::new(air)?.apparent(true_direction(site, moment)?))
}

/// The same where no air bends the light.
///
/// # Errors
/// [`SunError`] when place or time is outside the algorithm's range.
pub(crate) fn true_direction(site: &Site, moment: &Moment) -> Result<Vec3, SunError> {
    let place = Location {
        latitude: site.latitude_rad.to_degrees(),
        longitude: site.longitude_rad.to_degrees(),
    };
    let time = JulianDate::new(moment.julian_date, moment.delta_t_s)?;
    let sun = SolarPositions::new().at_from_julian(time, place, site.altitude_m, None)?;
    Ok(direction::from_azimuth_elevation(
        sun.azimuth().to_radians(),
        sun.elevation_angle().to_radians(),
    ))
}

#[cfg(test)]
mod tests;
