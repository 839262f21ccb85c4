//! The instants into which an hour is cut, and how much of its beam comes around each.

use geometry::Vec3;

use crate::calendar::HOURS;
use crate::clear_sky::clear_sky_dni_w_m2;
use crate::course::Course;
use crate::site::Site;
use crate::sun::{Air, Moment, sun_direction};
use crate::weather::WeatherYear;

/// Instants of an hour, in the middle of its quarters.
pub const INSTANTS: usize = 4;

/// Linke turbidity of the clear sky that shapes the beam within an hour (common practice, no
/// source); only the ratio of its values matters. Half a unit more or less in the real air moves the beam found above 10° by 0.1 %.
const TURBIDITY: f64 = 3.5;

/// Hours whose sun stays lower than this sine of elevation (-3°) are not looked at closely.
const NIGHT_SIN_ELEVATION: f64 = -0.052;

const NIGHT: Instant = Instant {
    sun: Vec3::NEG_Z,
    share: 0.0,
};

/// An instant that stands for a part of an hour.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Instant {
    /// Unit vector (east, north, up) to the apparent sun; straight down at night and where it is
    /// not defined.
    pub sun: Vec3,
    /// Share of the hour's beam that comes around it while the sun is high enough to operate; 0
    /// when it is too low. The shares of an hour add up to 1 when it operates throughout.
    pub share: f64,
}

/// The instants of every hour. The beam of an hour is spread over its instants as that of a clear
/// sky would be.
pub fn instants(
    site: &Site,
    weather: &WeatherYear,
    min_elevation_rad: f64,
) -> Vec<[Instant; INSTANTS]> {
    let sin_lowest = libm::sin(min_elevation_rad);
    let course = Course::new(site, weather.year).ok();
    let is_night = |hour: usize| {
        course.as_ref().is_none_or(|course| {
            let start_utc_h = hour as f64 - weather.utc_offset_h;
            course.highest_sin_elevation(start_utc_h, 1.0) < NIGHT_SIN_ELEVATION
        })
    };
    (0..HOURS)
        .map(|hour| {
            if is_night(hour) {
                return [NIGHT; INSTANTS];
            }
            let suns = suns(site, weather, hour);
            let clear = suns
                .map(|sun| clear_sky_dni_w_m2(site.altitude_m, libm::asin(sun.z), TURBIDITY, 1.0));
            let whole: f64 = clear.iter().sum();
            std::array::from_fn(|index| Instant {
                sun: suns[index],
                share: if suns[index].z >= sin_lowest && whole > 0.0 {
                    clear[index] / whole
                } else {
                    0.0
                },
            })
        })
        .collect()
}

fn suns(site: &Site, weather: &WeatherYear, hour: usize) -> [Vec3; INSTANTS] {
    let temperature_k = weather.air_temperature_k.get(hour);
    let air = Air::at_altitude(site.altitude_m, temperature_k.copied().unwrap_or(f64::NAN));
    std::array::from_fn(|index| {
        let after_h = (index as f64 + 0.5) / INSTANTS as f64;
        Moment::in_year(weather.year, hour as f64 + after_h, weather.utc_offset_h)
            .and_then(|moment| sun_direction(site, &moment, &air))
            .unwrap_or(Vec3::NEG_Z)
    })
}
