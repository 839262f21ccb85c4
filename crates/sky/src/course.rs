//! The sun's course through the days of a year, cheap to ask at any minute.

use std::f64::consts::PI;

use crate::calendar::{DAYS, HOURS};
use crate::site::Site;
use crate::stencil::Horizon;
use crate::sun::{Air, Moment, SunError, sun_direction};

const RAD_PER_H: f64 = PI / 12.0;

/// Declination and solar time of each day, taken at its noon of universal time.
///
/// Holding both through a day moves sunrise by about a minute at middle latitudes, which is enough
/// to judge clocks by.
pub struct Course {
    sin_latitude: f64,
    cos_latitude: f64,
    days: Vec<Day>,
}

struct Day {
    sin_declination: f64,
    cos_declination: f64,
    /// Solar time less universal time, hours.
    solar_offset_h: f64,
    /// Hours from sunrise to solar noon.
    half_day_h: f64,
}

impl Course {
    /// The course over a site in a year.
    ///
    /// # Errors
    /// [`SunError`] when the site or year has no sun position.
    pub fn new(site: &Site, year: i32) -> Result<Self, SunError> {
        let horizon = Horizon::new(site.latitude_rad, 0.0);
        let air = Air::at_altitude(site.altitude_m, 288.15);
        let (sin_latitude, cos_latitude) = libm::sincos(site.latitude_rad);
        let day = |day: usize| {
            let noon = Moment::in_year(year, day as f64 * 24.0 + 12.0, 0.0)?;
            let sun = horizon.equatorial(sun_direction(site, &noon, &air)?);
            let (sin_declination, cos_declination) = libm::sincos(sun.declination_rad);
            Ok(Day {
                sin_declination,
                cos_declination,
                solar_offset_h: sun.hour_angle_rad / RAD_PER_H,
                half_day_h: horizon.half_day_rad(sun.declination_rad) / RAD_PER_H,
            })
        };
        Ok(Self {
            sin_latitude,
            cos_latitude,
            days: (0..DAYS).map(day).collect::<Result<_, SunError>>()?,
        })
    }

    fn day(&self, utc_h: f64) -> &Day {
        let day = (utc_h.rem_euclid(HOURS as f64) / 24.0).floor() as usize;
        &self.days[day.min(DAYS - 1)]
    }

    /// Solar time less noon, -12 … 12 h, at hours of universal time after new year.
    pub fn solar_time_h(&self, utc_h: f64) -> f64 {
        let solar = utc_h + self.day(utc_h).solar_offset_h;
        solar.rem_euclid(24.0) - 12.0
    }

    /// Sine of the sun's elevation, without refraction.
    pub fn sin_elevation(&self, utc_h: f64) -> f64 {
        let day = self.day(utc_h);
        let cos_hour = libm::cos(self.solar_time_h(utc_h) * RAD_PER_H);
        self.sin_latitude * day.sin_declination + self.cos_latitude * day.cos_declination * cos_hour
    }

    /// Hours from sunrise to solar noon, 0 … 12.
    pub fn half_day_h(&self, utc_h: f64) -> f64 {
        self.day(utc_h).half_day_h
    }

    /// Highest sine of the sun's elevation during an interval no longer than an hour.
    pub fn highest_sin_elevation(&self, start_utc_h: f64, length_h: f64) -> f64 {
        let ends = self
            .sin_elevation(start_utc_h)
            .max(self.sin_elevation(start_utc_h + length_h));
        ends.max(self.sin_elevation(start_utc_h + 0.5 * length_h))
    }

    /// Share of an interval no longer than an hour during which the sun is up [-].
    pub fn share_up(&self, start_utc_h: f64, length_h: f64) -> f64 {
        let first = self.sin_elevation(start_utc_h);
        let last = self.sin_elevation(start_utc_h + length_h);
        match (first > 0.0, last > 0.0) {
            (true, true) => 1.0,
            (false, false) => 0.0,
            _ => first.max(last) / (first - last).abs(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const DEG: f64 = PI / 180.0;

    fn site() -> Site {
        Site {
            latitude_rad: 37.0 * DEG,
            longitude_rad: -4.0 * DEG,
            altitude_m: 400.0,
        }
    }

    /// Against the sun's exact position at every hour: within half a degree of elevation, the
    /// refraction at the horizon included.
    #[test]
    fn elevations_follow_the_exact_sun() {
        let course = Course::new(&site(), 2023).unwrap();
        let air = Air::at_altitude(400.0, 288.15);
        for hour in 0..HOURS {
            let moment = Moment::in_year(2023, hour as f64, 0.0).unwrap();
            let exact = libm::asin(sun_direction(&site(), &moment, &air).unwrap().z);
            let found = libm::asin(course.sin_elevation(hour as f64));
            assert!(exact < 0.0 || (found - exact).abs() < 0.6 * DEG, "{hour}");
        }
    }

    #[test]
    fn half_days_and_shares_belong_together() {
        let course = Course::new(&site(), 2023).unwrap();
        for day in 0..DAYS {
            let noon_utc_h = day as f64 * 24.0 + 12.0;
            let noon_utc_h = noon_utc_h - course.solar_time_h(noon_utc_h);
            let sunset_utc_h = noon_utc_h + course.half_day_h(noon_utc_h);
            let share = course.share_up(sunset_utc_h - 0.25, 1.0);
            assert!((share - 0.25).abs() < 0.02, "{day}: {share}");
            assert!(course.sin_elevation(noon_utc_h) > libm::sin(29.0 * DEG));
        }
        assert!(course.half_day_h(171.0 * 24.0) > 7.0);
    }

    #[test]
    fn polar_days_and_nights_have_whole_and_no_days() {
        let site = Site {
            latitude_rad: 78.0 * DEG,
            ..site()
        };
        let course = Course::new(&site, 2023).unwrap();
        assert!(course.half_day_h(171.0 * 24.0) > 11.99);
        assert!(course.half_day_h(10.0 * 24.0) < 0.01);
    }
}
