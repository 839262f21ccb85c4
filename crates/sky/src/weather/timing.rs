//! Whether the beam of a year keeps step with the sun.

use super::{WeatherError, WeatherYear};
use crate::calendar::HOURS;
use crate::site::Site;
use crate::stencil::Horizon;
use crate::sun::{Air, Moment, SunError, sun_direction};

/// Share of the beam without sun above which a year is refused, and above which it is noted.
const REFUSED_DARK_SHARE: f64 = 0.02;
const NOTED_DARK_SHARE: f64 = 0.001;

/// Distance of the beam's middle from solar noon above which it is noted, hours. Cloudier
/// afternoons than mornings move it by some tenths of an hour (four real files: up to 0.15).
const NOTED_CENTRE_H: f64 = 0.5;

/// How the beam of a year lies relative to the sun.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Timing {
    /// Share of the yearly beam in hours that have the sun below the horizon throughout [-].
    pub dark_share: f64,
    /// Beam-weighted mean of the solar time less noon, hours; positive is afternoon.
    pub beam_centre_h: f64,
}

/// Compares the beam of a year with the sun's course; a wrong UTC offset, longitude or hour label
/// shows in both numbers. Both are 0 for a year without beam.
///
/// # Errors
/// [`SunError`] when the site or year has no sun position.
pub fn timing(site: &Site, weather: &WeatherYear) -> Result<Timing, SunError> {
    let horizon = Horizon::new(site.latitude_rad, 0.0);
    let air = Air::at_altitude(site.altitude_m, 288.15);
    let (mut beam, mut dark, mut turned_rad) = (0.0, 0.0, 0.0);
    let mut up_at_start = false;
    for hour in 0..=HOURS {
        let moment = Moment::in_year(weather.year, hour as f64, weather.utc_offset_h)?;
        let sun = sun_direction(site, &moment, &air)?;
        let up_at_end = sun.z > 0.0;
        let dni = if hour > 0 {
            weather.dni_w_m2.get(hour - 1).copied().unwrap_or(0.0)
        } else {
            0.0
        };
        beam += dni;
        if !up_at_start && !up_at_end {
            dark += dni;
        }
        let half_hour_rad = std::f64::consts::PI / 24.0;
        turned_rad += dni * (horizon.equatorial(sun).hour_angle_rad - half_hour_rad);
        up_at_start = up_at_end;
    }
    let per_beam = if beam > 0.0 { 1.0 / beam } else { 0.0 };
    let beam_centre_h = turned_rad * per_beam * 12.0 / std::f64::consts::PI;
    Ok(Timing {
        dark_share: dark * per_beam,
        beam_centre_h,
    })
}

/// Refuses a year that is out of step with the sun and notes one that looks like it.
pub fn keep_step(site: &Site, weather: &mut WeatherYear) -> Result<(), WeatherError> {
    let Timing {
        dark_share,
        beam_centre_h,
    } = timing(site, weather)?;
    if dark_share > REFUSED_DARK_SHARE {
        return Err(WeatherError::OutOfStep {
            dark_share,
            beam_centre_h,
        });
    }
    if dark_share > NOTED_DARK_SHARE || beam_centre_h.abs() > NOTED_CENTRE_H {
        weather.notes.push(format!(
            "{:.2} % of the beam falls into hours without sun, its middle lies {beam_centre_h:+.1} h \
             from solar noon: times may be shifted",
            100.0 * dark_share
        ));
    }
    Ok(())
}
