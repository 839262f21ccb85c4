//! How late the beam of a year is against the sun.

use crate::course::Course;

/// Rounds of measuring and shifting; the first starts from the beam's middle.
const ROUNDS: usize = 4;

/// Bins of a morning: from this many hours before sunrise, this wide, so many.
const FIRST_BIN_H: f64 = -1.5;
const BIN_H: f64 = 0.25;
const BINS: usize = 16;

/// Share of the days whose beam a bin's level exceeds: the clear ones make the edge.
const QUANTILE: f64 = 0.9;

/// Levels at which the edges are compared, as shares of the highest bin.
const LEVELS: [f64; 4] = [0.15, 0.3, 0.45, 0.6];

/// Days used have their sunrise within these hours of noon, so that both edges are sharp.
const HALF_DAYS_H: std::ops::RangeInclusive<f64> = 3.0..=9.5;

/// How much later the beam comes than the sun, hours; nothing if the beam shows no two edges.
///
/// `samples` hold the middle of an interval in universal time, hours after new year, and its
/// beam. On clear days the beam rises after sunrise as it falls before sunset; by how much the one
/// edge lies nearer than the other is twice the lag. Unlike the middle of the beam, the edges do
/// not move when afternoons are cloudier than mornings.
pub fn lag_h(course: &Course, samples: &[(f64, f64)]) -> Option<f64> {
    let mut lag_h = centre_h(course, samples)?;
    for _ in 0..ROUNDS {
        lag_h += edges_apart_h(course, samples, lag_h)?;
    }
    Some(lag_h)
}

/// Beam-weighted mean of the solar time less noon, hours.
pub fn centre_h(course: &Course, samples: &[(f64, f64)]) -> Option<f64> {
    let beam: f64 = samples.iter().map(|(_, beam)| beam).sum();
    let moment: f64 = samples
        .iter()
        .map(|(utc_h, beam)| beam * course.solar_time_h(*utc_h))
        .sum();
    (beam > 0.0).then(|| moment / beam)
}

/// Lag that is left when all samples are taken `lag_h` earlier.
fn edges_apart_h(course: &Course, samples: &[(f64, f64)], lag_h: f64) -> Option<f64> {
    let mut mornings: [Vec<f64>; BINS] = Default::default();
    let mut evenings: [Vec<f64>; BINS] = Default::default();
    for (utc_h, beam) in samples {
        let utc_h = utc_h - lag_h;
        let half_day_h = course.half_day_h(utc_h);
        if !HALF_DAYS_H.contains(&half_day_h) {
            continue;
        }
        let solar_h = course.solar_time_h(utc_h);
        if let Some(bin) = bin(half_day_h + solar_h) {
            mornings[bin].push(*beam);
        }
        if let Some(bin) = bin(half_day_h - solar_h) {
            evenings[bin].push(*beam);
        }
    }
    let (morning, evening) = (mornings.map(level), evenings.map(level));
    let highest = morning.iter().chain(&evening).copied().fold(0.0, f64::max);
    let apart = LEVELS.iter().filter_map(|share| {
        let level = share * highest;
        Some(0.5 * (crossing_h(&morning, level)? - crossing_h(&evening, level)?))
    });
    let apart: Vec<f64> = apart.collect();
    (!apart.is_empty()).then(|| apart.iter().sum::<f64>() / apart.len() as f64)
}

/// Bin of a time after sunrise or before sunset.
fn bin(after_h: f64) -> Option<usize> {
    let place = ((after_h - FIRST_BIN_H) / BIN_H).floor();
    (place >= 0.0 && place < BINS as f64).then_some(place as usize)
}

/// Beam that is exceeded on few days only.
fn level(mut beam: Vec<f64>) -> f64 {
    beam.sort_by(f64::total_cmp);
    let place = (QUANTILE * beam.len() as f64) as usize;
    beam.get(place).copied().unwrap_or(0.0)
}

/// First time after sunrise at which the bins reach a level above 0.
fn crossing_h(bins: &[f64; BINS], level: f64) -> Option<f64> {
    let reaches = |pair: &&[f64]| pair[0] < level && level <= pair[1];
    let (place, pair) = (0..).zip(bins.windows(2)).find(|(_, pair)| reaches(pair))?;
    let share = (level - pair[0]) / (pair[1] - pair[0]);
    Some(FIRST_BIN_H + BIN_H * (f64::from(place) + 0.5 + share))
}
