//! The sun's course through the days of a year, cheap to ask at any minute.

use std::f64::consts::PI;

use geometry::Vec3;

use crate::calendar::DAYS;
use crate::site::Site;
use crate::stencil::{Equatorial, Horizon};
use crate::sun::{Moment, SunError, true_direction};

const RAD_PER_H: f64 = PI / 12.0;
const DAY_H: f64 = 24.0;

/// Declination and solar time of each day of a clock, on straight lines from its start to its end.
///
/// Over a day both bend so little that the sun stands within 0.003° of where it is at any minute, most of which is
/// its parallax, which changes with the place's own turn.
pub struct Course {
    horizon: Horizon,
    /// From the last day of the year before to the first of the year after.
    days: Vec<Day>,
}

/// A day of the clock.
struct Day {
    /// Declination at its start, and what an hour adds [rad].
    declination_rad: [f64; 2],
    /// Solar time less the clock's at its start, and what an hour adds [h].
    solar_offset_h: [f64; 2],
    /// Hours from sunrise to solar noon.
    half_day_h: f64,
}

impl Day {
    fn new(site: &Site, horizon: &Horizon, start: Moment) -> Result<Self, SunError> {
        let end = Moment {
            julian_date: start.julian_date + 1.0,
            ..start
        };
        let [first, last] = [true_direction(site, &start)?, true_direction(site, &end)?]
            .map(|sun| horizon.equatorial(sun));
        let declination_rad = last.declination_rad - first.declination_rad;
        let turn_rad = wrapped(last.hour_angle_rad - first.hour_angle_rad, PI);
        let middle_rad = first.declination_rad + 0.5 * declination_rad;
        Ok(Self {
            declination_rad: [first.declination_rad, declination_rad / DAY_H],
            solar_offset_h: [
                first.hour_angle_rad / RAD_PER_H,
                turn_rad / RAD_PER_H / DAY_H,
            ],
            half_day_h: horizon.half_day_rad(middle_rad) / RAD_PER_H,
        })
    }
}

impl Course {
    /// The course over a site in a year, by a clock that is `utc_offset_h` ahead of universal time.
    ///
    /// # Errors
    /// [`SunError`] when the site or year has no sun position.
    pub fn new(site: &Site, year: i32, utc_offset_h: f64) -> Result<Self, SunError> {
        let horizon = Horizon::new(site.latitude_rad, 0.0);
        let day = |day: usize| {
            let first_h = (day as f64 - 1.0) * DAY_H;
            Day::new(
                site,
                &horizon,
                Moment::in_year(year, first_h, utc_offset_h)?,
            )
        };
        let days = (0..DAYS + 2).map(day).collect::<Result<_, SunError>>()?;
        Ok(Self { horizon, days })
    }

    /// The day that an hour of the clock falls into, and how long it has lasted by then [h].
    fn day(&self, clock_h: f64) -> (&Day, f64) {
        let day = (clock_h / DAY_H).floor().clamp(-1.0, DAYS as f64);
        (&self.days[(day + 1.0) as usize], clock_h - day * DAY_H)
    }

    /// Solar time less noon, -12 … 12 h, at hours of the clock after new year.
    pub fn solar_time_h(&self, clock_h: f64) -> f64 {
        let (day, lasted_h) = self.day(clock_h);
        let [first_h, hourly_h] = day.solar_offset_h;
        wrapped(lasted_h + first_h + hourly_h * lasted_h, 12.0)
    }

    /// Unit vector (east, north, up) to the sun, without refraction.
    pub fn sun(&self, clock_h: f64) -> Vec3 {
        let (day, lasted_h) = self.day(clock_h);
        let [first_rad, hourly_rad] = day.declination_rad;
        self.horizon.direction(Equatorial {
            declination_rad: first_rad + hourly_rad * lasted_h,
            hour_angle_rad: self.solar_time_h(clock_h) * RAD_PER_H,
        })
    }

    /// Sine of the sun's elevation, without refraction.
    pub fn sin_elevation(&self, clock_h: f64) -> f64 {
        self.sun(clock_h).z
    }

    /// Hours from sunrise to solar noon, 0 … 12.
    pub fn half_day_h(&self, clock_h: f64) -> f64 {
        self.day(clock_h).0.half_day_h
    }

    /// Highest sine of the sun's elevation during an interval no longer than an hour.
    pub fn highest_sin_elevation(&self, start_h: f64, length_h: f64) -> f64 {
        let ends = self
            .sin_elevation(start_h)
            .max(self.sin_elevation(start_h + length_h));
        ends.max(self.sin_elevation(start_h + 0.5 * length_h))
    }

    /// Share of an interval no longer than an hour during which the sun is up [-].
    pub fn share_up(&self, start_h: f64, length_h: f64) -> f64 {
        let first = self.sin_elevation(start_h);
        let last = self.sin_elevation(start_h + length_h);
        match (first > 0.0, last > 0.0) {
            (true, true) => 1.0,
            (false, false) => 0.0,
            _ => first.max(last) / (first - last).abs(),
        }
    }
}

/// An angle or a time of day within ± `half` of a whole turn.
fn wrapped(turned: f64, half: f64) -> f64 {
    (turned + half).rem_euclid(2.0 * half) - half
}

#[cfg(test)]
mod tests {
    use geometry::Vec3;

    use super::*;
    use crate::calendar::HOURS;

    const DEG: f64 = PI / 180.0;

    fn site() -> Site {
        Site {
            latitude_rad: 37.0 * DEG,
            longitude_rad: -4.0 * DEG,
            altitude_m: 400.0,
        }
    }

    /// Against the sun's own position at every third hour of years with and without a leap day, on both sides of
    /// the date line too.
    #[test]
    fn suns_follow_the_exact_sun() {
        for (year, longitude_rad) in [
            (2023, -4.0 * DEG),
            (2024, 175.0 * DEG),
            (2025, -175.0 * DEG),
        ] {
            let site = Site {
                longitude_rad,
                ..site()
            };
            let offset_h = longitude_rad / RAD_PER_H;
            let course = Course::new(&site, year, offset_h).unwrap();
            let mut worst_rad: f64 = 0.0;
            for hour in (0..HOURS).step_by(3) {
                let moment = Moment::in_year(year, hour as f64, offset_h).unwrap();
                let exact: Vec3 = true_direction(&site, &moment).unwrap();
                worst_rad = worst_rad.max((course.sun(hour as f64) - exact).length());
            }
            println!("{year}: {:.5} deg", worst_rad / DEG);
            assert!(worst_rad < 0.003 * DEG, "{year}: {worst_rad}");
        }
    }

    #[test]
    fn half_days_and_shares_belong_together() {
        let course = Course::new(&site(), 2023, 0.0).unwrap();
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
        let course = Course::new(&site, 2023, 0.0).unwrap();
        assert!(course.half_day_h(171.0 * 24.0) > 11.99);
        assert!(course.half_day_h(10.0 * 24.0) < 0.01);
    }
}
