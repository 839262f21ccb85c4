//! The instants that stand for an hour, and how much of its beam comes around each.

use geometry::Vec3;

use crate::calendar::HOURS;
use crate::clear_sky::clear_sky_dni_w_m2;
use crate::course::Course;
use crate::site::Site;
use crate::sun::{Air, Refraction};
use crate::weather::WeatherYear;

/// Instants of an hour: the two places of Gauss's quadrature in the part of it in which the sun is high enough.
pub const INSTANTS: usize = 2;

/// Where in that part they lie: ½ ∓ 1 ÷ √12 (Abramowitz & Stegun, Handbook of Mathematical Functions, table 25.4,
/// from memory). Both stand for half of it.
const PLACES: [f64; INSTANTS] = [0.211_324_865_405_187_1, 0.788_675_134_594_812_9];

/// Linke turbidity of the clear sky that shapes the beam within an hour (common practice, no
/// source); only the ratio of its values matters. Half a unit more or less in the real air moves the beam found above 10° by 0.1 %.
const TURBIDITY: f64 = 3.5;

/// Hours whose sun stays lower than this sine of elevation (-3°) are not looked at closely.
const NIGHT_SIN_ELEVATION: f64 = -0.052;

/// The moment at which the sun passes a height is found by so many halvings of an hour: to a tenth of a second.
const HALVINGS: usize = 15;

const NIGHT: Instant = Instant {
    sun: Vec3::NEG_Z,
    share: 0.0,
    after_h: 0.0,
    lasts_h: 0.0,
};

/// An instant that stands for a part of an hour.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Instant {
    /// Unit vector (east, north, up) to the apparent sun; straight down in an hour without a high enough sun and
    /// where it is not defined.
    pub sun: Vec3,
    /// Share of the hour's beam for which it stands; 0 in an hour without a high enough sun. The shares of an hour
    /// add up to 1 when the sun is high enough throughout.
    pub share: f64,
    /// Time since the hour began [h].
    pub after_h: f64,
    /// How much time it stands for [h].
    pub lasts_h: f64,
}

/// The hours of a year and their sun.
pub(super) struct SunnyYear<'a> {
    site: &'a Site,
    weather: &'a WeatherYear,
    /// None where the sun has no position.
    course: Option<Course>,
}

impl<'a> SunnyYear<'a> {
    pub fn new(site: &'a Site, weather: &'a WeatherYear) -> Self {
        Self {
            site,
            weather,
            course: Course::new(site, weather.year, weather.utc_offset_h).ok(),
        }
    }

    /// The instants of every hour. The beam of an hour is spread over it as that of a clear sky would be.
    pub fn instants(&self, min_elevation_rad: f64) -> Vec<[Instant; INSTANTS]> {
        let sin_lowest = libm::sin(min_elevation_rad);
        let of_hour = |hour: usize| self.hour(hour)?.instants(sin_lowest);
        (0..HOURS)
            .map(|hour| of_hour(hour).unwrap_or([NIGHT; INSTANTS]))
            .collect()
    }

    /// None in the night.
    fn hour(&self, hour: usize) -> Option<Hour<'_>> {
        let (course, start_h) = (self.course.as_ref()?, hour as f64);
        if course.highest_sin_elevation(start_h, 1.0) < NIGHT_SIN_ELEVATION {
            return None;
        }
        let altitude_m = self.site.altitude_m;
        let air = Air::at_altitude(altitude_m, *self.weather.air_temperature_k.get(hour)?);
        Some(Hour {
            course,
            start_h,
            refraction: Refraction::new(&air).ok()?,
            altitude_m,
        })
    }

    /// The apparent sun so long after the year began [h]; straight down in the night.
    pub fn sun(&self, time_h: f64) -> Vec3 {
        let hour = (time_h as usize).min(HOURS - 1);
        let sun = self.hour(hour).map(|found| found.sun(time_h - hour as f64));
        sun.unwrap_or(NIGHT.sun)
    }
}

/// An hour and the sun in it.
struct Hour<'a> {
    course: &'a Course,
    start_h: f64,
    refraction: Refraction,
    altitude_m: f64,
}

impl Instant {
    /// From when to when, since the hour began, the instants of an hour stand for it [h]; None if for nothing.
    pub(super) fn span_h([first, last]: &[Self; INSTANTS]) -> Option<[f64; 2]> {
        let lasts_h = first.lasts_h + last.lasts_h;
        let from_h = first.after_h - PLACES[0] * lasts_h;
        (first.share > 0.0).then_some([from_h, from_h + lasts_h])
    }
}

impl Hour<'_> {
    /// None if the sun is too low.
    fn instants(&self, sin_lowest: f64) -> Option<[Instant; INSTANTS]> {
        let span_h = self.above(sin_lowest)?;
        let instants = self.stand_for(span_h);
        let beams = instants.map(|instant| self.beam(&instant));
        let lower = self.lower(span_h).map(|span_h| {
            let instants = self.stand_for(span_h);
            instants.iter().map(|instant| self.beam(instant)).sum()
        });
        let whole = beams.iter().sum::<f64>() + lower.unwrap_or(0.0);
        Some(std::array::from_fn(|at| Instant {
            share: if whole > 0.0 { beams[at] / whole } else { 0.0 },
            ..instants[at]
        }))
    }

    /// From when to when the sun is higher than this [h]: from its rise or to its set if it passes there within
    /// the hour. Around a polar midnight it may dip by a tenth of a degree in between.
    fn above(&self, sin_elevation: f64) -> Option<[f64; 2]> {
        let is_above = |after_h: f64| self.sun(after_h).z >= sin_elevation;
        let (at_first, at_last) = (is_above(0.0), is_above(1.0));
        let passes_h = || {
            let (mut from_h, mut to_h) = (0.0, 1.0);
            for _ in 0..HALVINGS {
                let middle_h = 0.5 * (from_h + to_h);
                if is_above(middle_h) == at_first {
                    from_h = middle_h;
                } else {
                    to_h = middle_h;
                }
            }
            0.5 * (from_h + to_h)
        };
        match (at_first, at_last) {
            (true, true) => Some([0.0, 1.0]),
            (false, false) => None,
            (false, true) => Some([passes_h(), 1.0]),
            (true, false) => Some([0.0, passes_h()]),
        }
    }

    /// The part of the hour in which the sun has risen but is lower than in `span_h` [h].
    fn lower(&self, [from_h, to_h]: [f64; 2]) -> Option<[f64; 2]> {
        if to_h - from_h >= 1.0 {
            return None;
        }
        let [rise_h, set_h] = self.above(0.0)?;
        Some(if from_h > 0.0 {
            [rise_h, from_h]
        } else {
            [to_h, set_h]
        })
    }

    /// The instants that stand for a part of the hour.
    fn stand_for(&self, [from_h, to_h]: [f64; 2]) -> [Instant; INSTANTS] {
        let lasts_h = to_h - from_h;
        PLACES.map(|place| Instant {
            sun: self.sun(from_h + place * lasts_h),
            share: 0.0,
            after_h: from_h + place * lasts_h,
            lasts_h: lasts_h / INSTANTS as f64,
        })
    }

    /// Beam of a clear sky for which an instant stands, up to a factor.
    fn beam(&self, instant: &Instant) -> f64 {
        let elevation_rad = libm::asin(instant.sun.z);
        instant.lasts_h * clear_sky_dni_w_m2(self.altitude_m, elevation_rad, TURBIDITY, 1.0)
    }

    fn sun(&self, after_h: f64) -> Vec3 {
        self.refraction
            .apparent(self.course.sun(self.start_h + after_h))
    }
}
