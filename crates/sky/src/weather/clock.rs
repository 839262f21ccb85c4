//! What the times of a file mean: which part of an interval they mark, and on whose clock.

use super::lag::lag_h;
use super::rows::{Raster, Row};
use super::stamp::YearMinute;
use crate::course::Course;

/// How close to the sun a reading of the times must bring the beam to be taken, hours: our own
/// choice, no source; twice the largest lag (0.11) of nine real files whose times are known to be
/// read rightly, and less than half of the smallest step between two readings of hourly times.
const CLOSE_H: f64 = 0.2;

/// What a time in a file marks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum HourLabel {
    /// The start of the interval that the values belong to.
    #[default]
    Start,
    /// Its middle; also values of an instant.
    Middle,
    /// Its end.
    End,
}

impl HourLabel {
    /// From the time to the middle of its interval, in intervals.
    fn middle_steps(self) -> f64 {
        match self {
            Self::Start => 0.5,
            Self::Middle => 0.0,
            Self::End => -0.5,
        }
    }

    fn words(self) -> &'static str {
        match self {
            Self::Start => "start",
            Self::Middle => "are in the middle of",
            Self::End => "end",
        }
    }
}

/// How the times of a file are read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Clock {
    /// What a time marks.
    pub label: HourLabel,
    /// Time shown less universal time, hours.
    pub shown_offset_h: f64,
    /// How much later than shown it is meant, hours.
    pub delay_h: f64,
    /// Local standard time less universal time, hours.
    pub utc_offset_h: f64,
}

impl Clock {
    /// From the time shown to universal time in the middle of the interval, hours.
    pub fn middle_utc_h(&self, raster: Raster) -> f64 {
        self.label.middle_steps() * raster.step_h() + self.delay_h - self.shown_offset_h
    }

    /// How the times are read, as a sentence without its end.
    pub fn words(&self, raster: Raster) -> String {
        let delay = if self.delay_h.abs() > 0.0 {
            format!(" shifted by {:+.3} h", self.delay_h)
        } else {
            String::new()
        };
        let shown = utc_words(self.shown_offset_h);
        let label = self.label.words();
        let minutes = raster.step_min;
        let moved = if (self.shown_offset_h - self.utc_offset_h).abs() > 0.0 {
            format!(", moved to {}", utc_words(self.utc_offset_h))
        } else {
            String::new()
        };
        format!("times{delay} {label} their {minutes} min in {shown}{moved}")
    }
}

/// Name of an offset: `UTC`, `UTC+1`, `UTC-3.5`.
pub fn utc_words(offset_h: f64) -> String {
    if offset_h.abs() > 0.0 {
        format!("UTC{offset_h:+}")
    } else {
        "UTC".to_owned()
    }
}

/// What is known about the clock of a file before looking at its beam.
pub struct Candidates {
    /// The label, if it is known.
    pub label: Option<HourLabel>,
    /// Time shown less universal time if the file says it, hours.
    pub shown_offset_h: Option<f64>,
    /// How much later than shown times are meant, hours.
    pub delay_h: f64,
    /// Local standard time less universal time, hours.
    pub utc_offset_h: f64,
}

impl Candidates {
    /// Nothing to choose: times of local standard time with a known label.
    pub fn stated(label: HourLabel, utc_offset_h: f64) -> Self {
        Self {
            label: Some(label),
            shown_offset_h: Some(utc_offset_h),
            delay_h: 0.0,
            utc_offset_h,
        }
    }

    /// The likeliest reading first.
    fn clocks(&self, raster: Raster) -> Vec<Clock> {
        let by_phase = if raster.step_min > 1 && 2 * raster.phase_min == raster.step_min {
            [HourLabel::Middle, HourLabel::Start, HourLabel::End]
        } else {
            [HourLabel::Start, HourLabel::End, HourLabel::Middle]
        };
        let labels = self.label.map_or(by_phase.to_vec(), |label| vec![label]);
        let offsets = match self.shown_offset_h {
            Some(shown_h) => vec![shown_h],
            None if self.utc_offset_h.abs() > 0.0 => vec![self.utc_offset_h, 0.0],
            None => vec![0.0],
        };
        let clock = |shown_offset_h: f64, label: HourLabel| Clock {
            label,
            shown_offset_h,
            delay_h: self.delay_h,
            utc_offset_h: self.utc_offset_h,
        };
        let pairs = offsets
            .into_iter()
            .flat_map(|offset_h| labels.iter().map(move |label| clock(offset_h, *label)));
        pairs.collect()
    }

    /// The first reading that brings the beam close to the sun, or the likeliest one if none does
    /// or the beam says nothing; and whether the sun spoke against a likelier reading.
    pub fn choose(&self, rows: &[Row], raster: Raster, course: &Course) -> (Clock, bool) {
        let clocks = self.clocks(raster);
        let likeliest = clocks[0];
        if clocks.len() == 1 {
            return (likeliest, false);
        }
        let Some(lag_h) = lag_h(course, &beam_samples(rows, raster, &likeliest)) else {
            return (likeliest, false);
        };
        let middle_h = likeliest.middle_utc_h(raster);
        let close = clocks.into_iter().find(|clock| {
            let moved_h = clock.middle_utc_h(raster) - middle_h;
            (lag_h + moved_h).abs() < CLOSE_H
        });
        let chosen = close.unwrap_or(likeliest);
        (chosen, chosen != likeliest)
    }
}

/// Middle in universal time, hours after new year, and beam of every row that has both.
fn beam_samples(rows: &[Row], raster: Raster, clock: &Clock) -> Vec<(f64, f64)> {
    let middle_h = clock.middle_utc_h(raster);
    let sample = |row: &Row| match row.beam() {
        Some((stamp, beam)) => match stamp.year_minute() {
            YearMinute::At(minute) => Some((minute as f64 / 60.0 + middle_h, beam)),
            YearMinute::LeapDay => None,
        },
        None => None,
    };
    rows.iter().filter_map(sample).collect()
}
