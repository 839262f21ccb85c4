//! What a weather year holds, and how it compares with a cloudless one.

use super::WeatherYear;
use crate::calendar::{self, HOUR_S, HOURS};
use crate::clear_sky::{clear_sky_dni_w_m2, extraterrestrial_w_m2};
use crate::course::Course;
use crate::site::Site;
use crate::sun::SunError;

/// Beam for which hours are counted, W/m².
pub const THRESHOLDS_W_M2: [f64; 5] = [100.0, 300.0, 500.0, 700.0, 900.0];

/// By how much an hour's beam may exceed the clear sky before it counts as above it: a share and an
/// amount, W/m². Our own choice, no source: a mean turbidity leaves single clear days as far out.
pub const ABOVE_CLEAR: f64 = 0.10;
const ABOVE_CLEAR_W_M2: f64 = 50.0;

/// Share of sunny hours above the clear sky that is told as a warning: our own choice, no source.
const WARNED_SHARE: f64 = 0.01;

/// Parts of an hour in which the clear sky is looked at.
const PARTS: usize = 4;

/// What a weather year holds.
#[derive(Debug, Clone, PartialEq)]
pub struct WeatherFacts {
    /// Beam of each month [J/m²].
    pub dni_j_m2: [f64; 12],
    /// Beam of each month under a cloudless sky [J/m²].
    pub clear_j_m2: [f64; 12],
    /// Beam of every hour under a cloudless sky [W/m²].
    pub clear_w_m2: Vec<f64>,
    /// Hours with more beam than each of [`THRESHOLDS_W_M2`].
    pub hours_above: [usize; 5],
    /// Hours with beam.
    pub sunny_hours: usize,
    /// Hours whose beam exceeds the clear sky by more than [`ABOVE_CLEAR`] and 50 W/m².
    pub hours_above_clear: usize,
}

impl WeatherFacts {
    /// Facts of a year at a site, held against a sky of a Linke turbidity.
    ///
    /// # Errors
    /// [`SunError`] when the site or year has no sun position.
    pub fn of(site: &Site, year: &WeatherYear, linke_turbidity: f64) -> Result<Self, SunError> {
        let clear_w_m2 = clear_hours(site, year, linke_turbidity)?;
        let above = |least: f64| year.dni_w_m2.iter().filter(|dni| **dni > least).count();
        let exceeds = |(dni, clear): &(&f64, &f64)| {
            **dni > (1.0 + ABOVE_CLEAR) * **clear && **dni > **clear + ABOVE_CLEAR_W_M2
        };
        let pairs = year.dni_w_m2.iter().zip(&clear_w_m2);
        Ok(Self {
            dni_j_m2: monthly(&year.dni_w_m2),
            clear_j_m2: monthly(&clear_w_m2),
            hours_above: THRESHOLDS_W_M2.map(above),
            sunny_hours: above(0.0),
            hours_above_clear: pairs.filter(exceeds).count(),
            clear_w_m2,
        })
    }

    /// Beam of the year ÷ that of a cloudless one; 0 where the sun never rises.
    #[must_use]
    pub fn clear_ratio(&self) -> f64 {
        let clear: f64 = self.clear_j_m2.iter().sum();
        if clear > 0.0 {
            self.dni_j_m2.iter().sum::<f64>() / clear
        } else {
            0.0
        }
    }

    /// Whether more than a hundredth of the sunny hours exceed the clear sky.
    #[must_use]
    pub fn is_above_clear(&self) -> bool {
        self.hours_above_clear as f64 > WARNED_SHARE * self.sunny_hours as f64
    }
}

/// Sums of each month [J/m²].
fn monthly(hours_w_m2: &[f64]) -> [f64; 12] {
    std::array::from_fn(|month| {
        let hours = hours_w_m2.get(calendar::hours_of_month(month));
        HOUR_S * hours.unwrap_or_default().iter().sum::<f64>()
    })
}

/// Mean beam of every hour under a cloudless sky, W/m².
fn clear_hours(
    site: &Site,
    year: &WeatherYear,
    linke_turbidity: f64,
) -> Result<Vec<f64>, SunError> {
    let course = Course::new(site, year.year, 0.0)?;
    let hour = |hour: usize| {
        let outside_w_m2 = extraterrestrial_w_m2(hour / 24);
        let part = |part: usize| {
            let local_h = hour as f64 + (part as f64 + 0.5) / PARTS as f64;
            let sin_elevation = course.sin_elevation(local_h - year.utc_offset_h);
            let elevation_rad = libm::asin(sin_elevation.clamp(-1.0, 1.0));
            clear_sky_dni_w_m2(
                site.altitude_m,
                elevation_rad,
                linke_turbidity,
                outside_w_m2,
            )
        };
        (0..PARTS).map(part).sum::<f64>() / PARTS as f64
    };
    Ok((0..HOURS).map(hour).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn site() -> Site {
        Site {
            latitude_rad: 37.44_f64.to_radians(),
            longitude_rad: -6.25_f64.to_radians(),
            altitude_m: 20.0,
        }
    }

    fn year(dni_w_m2: Vec<f64>) -> WeatherYear {
        WeatherYear {
            utc_offset_h: 0.0,
            year: 2023,
            air_temperature_k: vec![290.0; HOURS],
            wind_speed_m_s: vec![2.0; HOURS],
            dni_w_m2,
            notes: Vec::new(),
        }
    }

    /// Monthly sums of pvlib 0.16.1 for the same place, year and turbidity 3 (`clearsky.ineichen` without
    /// Perez enhancement, `spa_python`, every quarter hour), kWh/m². Refraction is left out here.
    #[test]
    fn a_clear_year_is_its_own_measure() {
        let clear = WeatherFacts::of(&site(), &year(vec![0.0; HOURS]), 3.0).unwrap();
        let sum_kwh_m2 = clear.clear_w_m2.iter().sum::<f64>() / 1000.0;
        assert!((sum_kwh_m2 / 3041.64 - 1.0).abs() < 5e-3, "{sum_kwh_m2}");
        let months_kwh_m2 = [
            188.45, 200.57, 259.95, 283.46, 315.64, 314.64, 318.92, 298.81, 260.67, 233.18, 190.52,
            176.81,
        ];
        for (found, expected) in clear.clear_j_m2.iter().zip(months_kwh_m2) {
            assert!(
                (found / 3.6e6 / expected - 1.0).abs() < 1e-2,
                "{found} {expected}"
            );
        }
        let same = WeatherFacts::of(&site(), &year(clear.clear_w_m2.clone()), 3.0).unwrap();
        assert!((same.clear_ratio() - 1.0).abs() < 1e-12);
        assert_eq!((same.hours_above_clear, same.is_above_clear()), (0, false));
        let months: f64 = same.dni_j_m2.iter().sum();
        assert!((months / 3.6e6 / sum_kwh_m2 - 1.0).abs() < 1e-12);
        assert!(same.hours_above.windows(2).all(|pair| pair[0] >= pair[1]));
    }

    #[test]
    fn beam_above_the_clear_sky_is_told() {
        let clear = WeatherFacts::of(&site(), &year(vec![0.0; HOURS]), 3.0).unwrap();
        let bright = clear.clear_w_m2.iter().map(|dni| 1.2 * dni).collect();
        let found = WeatherFacts::of(&site(), &year(bright), 3.0).unwrap();
        assert!(found.is_above_clear(), "{}", found.hours_above_clear);
        assert!((found.clear_ratio() - 1.2).abs() < 1e-9);
    }
}
