//! Air temperature and wind of a synthetic year.

use rand::{Rng, SeedableRng};
use rand_xoshiro::Xoshiro256PlusPlus;

use super::MonthlyClimate;
use crate::calendar::{DAYS, HOURS, MONTH_DAYS, days_of_month};

/// Hour of the day, local standard time, at which air is warmest and wind strongest (common
/// practice, no source).
const WARMEST_HOUR: f64 = 15.0;

/// Swing of a sunless day and of a cloudless day, as a multiple of the mean swing before levelling
/// (common practice, no source).
const SWING_RANGE: [f64; 2] = [0.5, 1.2];

/// Shape of the Weibull distribution of hourly wind; 2 is Rayleigh's, the usual assumption where
/// no record exists (IEC 61400-1, from memory).
const WIND_SHAPE: f64 = 2.0;

/// Correlation of the wind with that of the hour before (common practice, no source).
const WIND_PERSISTENCE: f64 = 0.9;

/// Daily wave of the wind, as a share of its mean (common practice, no source).
const WIND_DAILY_SHARE: f64 = 0.25;

/// Hourly air temperature, kelvin: monthly means joined without steps, with a daily wave that is
/// wider on sunny days.
pub fn temperatures(climate: &MonthlyClimate, clear_w_m2: &[f64], dni_w_m2: &[f64]) -> Vec<f64> {
    let levels = daily_levels(&climate.air_temperature_k);
    let swings = daily_swings(climate.daily_temperature_swing_k, clear_w_m2, dni_w_m2);
    (0..HOURS)
        .map(|hour| levels[hour / 24] + 0.5 * swings[hour / 24] * daily_wave(hour))
        .collect()
}

/// Cosine over the middle of an hour of the day; its mean over a day is zero.
fn daily_wave(hour: usize) -> f64 {
    let hour_of_day = (hour % 24) as f64 + 0.5;
    libm::cos(std::f64::consts::TAU * (hour_of_day - WARMEST_HOUR) / 24.0)
}

/// Daily mean temperatures on straight lines between mid-months, the anchors moved until every
/// month has its mean.
fn daily_levels(means_k: &[f64; 12]) -> Vec<f64> {
    let mut anchors = *means_k;
    let mut levels = interpolate_months(&anchors);
    for _ in 0..60 {
        for (month, anchor) in anchors.iter_mut().enumerate() {
            let days = &levels[days_of_month(month)];
            *anchor += means_k[month] - days.iter().sum::<f64>() / days.len() as f64;
        }
        levels = interpolate_months(&anchors);
    }
    levels
}

fn interpolate_months(anchors: &[f64; 12]) -> Vec<f64> {
    let middle = |month: usize| days_of_month(month).start as f64 + 0.5 * MONTH_DAYS[month] as f64;
    let mut levels = Vec::with_capacity(DAYS);
    for (month, &length) in MONTH_DAYS.iter().enumerate() {
        let (before, after) = ((month + 11) % 12, (month + 1) % 12);
        for day in 0..length {
            let offset = day as f64 + 0.5 - 0.5 * length as f64;
            let other = if offset < 0.0 { before } else { after };
            let gap = (middle(other) - middle(month)).abs();
            let span = gap.min(DAYS as f64 - gap);
            let share = offset.abs() / span;
            levels.push(anchors[month] * (1.0 - share) + anchors[other] * share);
        }
    }
    levels
}

/// Swing of every day, with the given yearly mean.
fn daily_swings(mean_k: f64, clear_w_m2: &[f64], dni_w_m2: &[f64]) -> Vec<f64> {
    let days = clear_w_m2.chunks(24).zip(dni_w_m2.chunks(24));
    let mut swings: Vec<f64> = days
        .map(|(clear, dni)| {
            let sunny = dni.iter().sum::<f64>() / clear.iter().sum::<f64>().max(1.0);
            SWING_RANGE[0] + (SWING_RANGE[1] - SWING_RANGE[0]) * sunny
        })
        .collect();
    scale_to_mean(&mut swings, mean_k);
    swings
}

/// Hourly wind speed 10 m above ground, m/s, with the given yearly mean.
pub fn wind_speeds(mean_m_s: f64, seed: u64) -> Vec<f64> {
    let mut draw = Xoshiro256PlusPlus::seed_from_u64(seed);
    draw.jump(); // apart from the numbers that the beam draws
    let fresh = (1.0 - WIND_PERSISTENCE * WIND_PERSISTENCE).sqrt();
    let mut level = normal(&mut draw);
    let mut speeds: Vec<f64> = (0..HOURS)
        .map(|hour| {
            level = WIND_PERSISTENCE * level + fresh * normal(&mut draw);
            weibull(level) * (1.0 + WIND_DAILY_SHARE * daily_wave(hour))
        })
        .collect();
    scale_to_mean(&mut speeds, mean_m_s);
    speeds
}

/// Standard normal number (Box and Muller, Annals of Mathematical Statistics 29, 1958).
fn normal(draw: &mut Xoshiro256PlusPlus) -> f64 {
    let radius = (-2.0 * libm::log(1.0 - draw.random::<f64>())).sqrt();
    radius * libm::cos(std::f64::consts::TAU * draw.random::<f64>())
}

/// Weibull number of scale 1 at the same rank as a standard normal number.
fn weibull(level: f64) -> f64 {
    let above = 0.5 * libm::erfc(level / std::f64::consts::SQRT_2);
    libm::pow(-libm::log(above), 1.0 / WIND_SHAPE)
}

fn scale_to_mean(values: &mut [f64], mean: f64) {
    let factor = mean * values.len() as f64 / values.iter().sum::<f64>();
    values.iter_mut().for_each(|value| *value *= factor);
}
