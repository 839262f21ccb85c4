//! Whether the beam of a year keeps step with the sun.

use super::lag::{centre_h, lag_h};
use super::{WeatherError, WeatherYear};
use crate::course::Course;
use crate::site::Site;
use crate::sun::SunError;

/// Share of the beam without sun above which a year is refused, and above which it is noted: our
/// own choice, no source. Real files whose clock is known stay below 0.0001; a clock wrong by one hour
/// makes 0.007 to 0.016 of them, by two hours 0.05 to 0.07 (`tests/real_weather.rs`).
const REFUSED_DARK_SHARE: f64 = 0.02;
const NOTED_DARK_SHARE: f64 = 0.001;

/// Lag above which times are called shifted, hours: our own choice, no source, about twice the
/// largest lag (0.11) of nine real files whose times are known to be read rightly.
const SHIFTED_H: f64 = 0.2;

/// How the beam of a year lies relative to the sun.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Timing {
    /// Share of the yearly beam in intervals that have the sun below the horizon throughout [-].
    pub dark_share: f64,
    /// Beam-weighted mean of the solar time less noon, hours; positive is afternoon. Cloudier
    /// afternoons than mornings move it by up to some tenths.
    pub beam_centre_h: f64,
    /// How much later the beam rises and falls than the sun, hours; none if it shows no edges.
    pub lag_h: Option<f64>,
}

/// Beam in equal intervals.
pub struct BeamSeries {
    /// Middle of each interval in universal time, hours after new year, and its beam [W/m²].
    pub samples: Vec<(f64, f64)>,
    /// Length of an interval, hours.
    pub step_h: f64,
}

/// Compares the beam of a year with the sun's course; a wrong UTC offset, longitude or hour label
/// shows in all numbers. They are 0 or none for a year without beam.
///
/// # Errors
/// [`SunError`] when the site or year has no sun position.
pub fn timing(site: &Site, weather: &WeatherYear) -> Result<Timing, SunError> {
    let middle_h = |hour: usize| hour as f64 + 0.5 - weather.utc_offset_h;
    let hours = weather.dni_w_m2.iter().enumerate();
    let series = BeamSeries {
        samples: hours.map(|(hour, dni)| (middle_h(hour), *dni)).collect(),
        step_h: 1.0,
    };
    Ok(Timing::of(&Course::new(site, weather.year, 0.0)?, &series))
}

impl Timing {
    /// Timing of a beam.
    pub fn of(course: &Course, series: &BeamSeries) -> Self {
        let BeamSeries { samples, step_h } = series;
        let is_dark =
            |utc_h: f64| course.highest_sin_elevation(utc_h - 0.5 * step_h, *step_h) <= 0.0;
        let lit = samples.iter().filter(|(_, dni)| *dni > 0.0);
        let beam: f64 = lit.clone().map(|(_, dni)| dni).sum();
        let dark: f64 = lit
            .filter(|(utc_h, _)| is_dark(*utc_h))
            .map(|(_, dni)| dni)
            .sum();
        Self {
            dark_share: if beam > 0.0 { dark / beam } else { 0.0 },
            beam_centre_h: centre_h(course, samples).unwrap_or(0.0),
            lag_h: lag_h(course, samples),
        }
    }

    /// Whether the beam is noticeably early or late.
    pub fn is_shifted(&self) -> bool {
        self.lag_h.is_some_and(|lag_h| lag_h.abs() > SHIFTED_H)
    }

    /// Refuses a beam that is out of step with the sun.
    ///
    /// # Errors
    /// [`WeatherError::OutOfStep`] when more than 2 % of it falls into the night.
    pub fn refuse_out_of_step(&self) -> Result<(), WeatherError> {
        if self.dark_share > REFUSED_DARK_SHARE {
            return Err(WeatherError::OutOfStep {
                dark_share: self.dark_share,
                beam_centre_h: self.beam_centre_h,
            });
        }
        Ok(())
    }

    /// What there is to say about the clock of a file.
    pub fn words(&self) -> String {
        let mut text = match self.lag_h {
            Some(lag_h) if self.is_shifted() => {
                let side = if lag_h > 0.0 { "after" } else { "before" };
                format!(
                    "the beam comes {:.2} h {side} the sun: times may be shifted",
                    lag_h.abs()
                )
            }
            Some(lag_h) => format!("the beam keeps step with the sun (lag {lag_h:+.2} h)"),
            None => "the beam shows no mornings and evenings to compare with the sun".to_owned(),
        };
        if self.dark_share > NOTED_DARK_SHARE {
            let percent = 100.0 * self.dark_share;
            text.push_str(&format!("; {percent:.2} % of it falls into the night"));
        }
        text
    }
}
