//! When the sun stands in a direction, or nearest to it.

use geometry::Vec3;
use sky::calendar::{DAYS, day_of_year, month_and_day};
use sky::{Air, Moment, SunError, sun_direction};

use crate::case::Case;
use crate::inputs;

/// Temperature of the air that bends the light, where the hour is not yet known [K].
const AIR_K: f64 = 288.15;
/// Steps of the last search for the nearest moment of a day [h].
const FINE_H: [f64; 2] = [1.0, 1.0 / 30.0];

/// A moment of the year.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SunTime {
    /// Month (1 … 12) and day of the month.
    pub month_and_day: (u32, u32),
    /// Local standard time [h].
    pub hour: f64,
    /// Unit vector to the sun.
    pub sun: Vec3,
}

impl SunTime {
    /// Angle between the sun and a direction [rad].
    #[must_use]
    pub fn off_rad(&self, direction: Vec3) -> f64 {
        libm::atan2(self.sun.cross(direction).length(), self.sun.dot(direction))
    }
}

/// The days on which the sun comes nearer to a direction than on the days around them, nearest first:
/// two a year as the sun climbs and sinks, or one at a solstice.
///
/// # Errors
/// [`SunError`] when the site has no sun position in the year of the weather.
pub fn sun_times(case: &Case, direction: Vec3) -> Result<Vec<SunTime>, SunError> {
    let days = (0..DAYS)
        .map(|day| nearest_on(case, day, direction))
        .collect::<Result<Vec<_>, _>>()?;
    let off_rad = |day: usize| days[day % DAYS].off_rad(direction);
    let is_nearest =
        |day: &usize| off_rad(*day) < off_rad(day + DAYS - 1) && off_rad(*day) <= off_rad(day + 1);
    let mut times: Vec<SunTime> = (0..DAYS).filter(is_nearest).map(|day| days[day]).collect();
    times.sort_by(|one, other| one.off_rad(direction).total_cmp(&other.off_rad(direction)));
    Ok(times)
}

/// Where the sun stands at every full hour of a day in local standard time, while it is higher than the
/// field needs it.
///
/// # Errors
/// [`SunError`] as [`sun_times`] has it.
pub fn suns_of_day(case: &Case, month: u32, day: u32) -> Result<Vec<SunTime>, SunError> {
    let Some(of_year) = day_of_year(month, day) else {
        return Ok(Vec::new());
    };
    let lowest = libm::sin(case.scenario.weather.min_sun_elevation_rad);
    let mut times = Vec::new();
    for hour in 0..24 {
        let hour = f64::from(hour);
        let sun = sun_at(case, of_year as f64 * 24.0 + hour)?;
        if sun.z > lowest {
            times.push(SunTime {
                month_and_day: (month, day),
                hour,
                sun,
            });
        }
    }
    Ok(times)
}

/// The nearest moment of a day: the best hour, then twice the top of a parabola through three moments.
/// In the course of a day the cosine of the angle is a cosine of the hour.
fn nearest_on(case: &Case, day: usize, direction: Vec3) -> Result<SunTime, SunError> {
    let start_h = day as f64 * 24.0;
    let cosine = |hour: f64| Ok::<f64, SunError>(sun_at(case, start_h + hour)?.dot(direction));
    let mut best = (12.0, f64::NEG_INFINITY);
    for hour in 0..24 {
        let hour = f64::from(hour);
        let found = cosine(hour)?;
        if found > best.1 {
            best = (hour, found);
        }
    }
    let mut hour = best.0;
    for step_h in FINE_H {
        let [before, at, after] = [
            cosine(hour - step_h)?,
            cosine(hour)?,
            cosine(hour + step_h)?,
        ];
        let curve = before - 2.0 * at + after;
        if curve < 0.0 {
            hour += step_h * (0.5 * (before - after) / curve).clamp(-1.0, 1.0);
        }
    }
    Ok(SunTime {
        month_and_day: month_and_day(day),
        hour,
        sun: sun_at(case, start_h + hour)?,
    })
}

/// Where the sun stands, hours after new year in local standard time.
fn sun_at(case: &Case, hour: f64) -> Result<Vec3, SunError> {
    let site = &case.scenario.site;
    let moment = Moment::in_year(case.weather.year, hour, site.utc_offset_h)?;
    let air = Air::at_altitude(site.altitude_m, AIR_K);
    sun_direction(&inputs::site(site), &moment, &air)
}
