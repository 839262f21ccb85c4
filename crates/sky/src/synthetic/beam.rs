//! Beam of a synthetic year: clear sky, runs of days, monthly sums.

use rand::{Rng, SeedableRng};
use rand_xoshiro::Xoshiro256PlusPlus;

use super::{MonthlyClimate, SYNTHETIC_YEAR, SyntheticError};
use crate::calendar::{HOUR_S, HOURS, days_of_month, hours_of_month};
use crate::clear_sky::{clear_sky_dni_w_m2, extraterrestrial_w_m2};
use crate::course::Course;
use crate::site::Site;
use crate::sun::{Air, Refraction, SunError};

/// Chance that a day simply repeats the class of the day before: the lag-one correlation of daily
/// clearness (V. A. Graham, K. G. T. Hollands, T. E. Unny, Solar Energy 40(2) 83-92, 1988, find
/// about 0.29; from memory).
const DAY_PERSISTENCE: f64 = 0.3;

/// Chance that an hour of a broken day keeps the cloud or the sun of the hour before (common
/// practice, no source).
const HOUR_PERSISTENCE: f64 = 0.5;

/// Largest share of days of a month that are broken, reached where half the beam gets through
/// (common practice, no source).
const MOST_BROKEN_DAYS: f64 = 0.4;

/// Share of the clear-sky beam that the clearest day lets through, and what haze takes from the
/// haziest clear day (set so that spread and quartiles of days resemble a real year's).
const CLEAREST_SHARE: f64 = 0.99;
const CLEAR_HAZE: f64 = 0.3;

/// Share of the clear-sky beam that an average day of each class lets through (broken and dull:
/// common practice, no source).
const CLEAR_SHARE: f64 = CLEAREST_SHARE - CLEAR_HAZE / 3.0;
const BROKEN_SHARE: f64 = 0.5;
const DULL_SHARE: f64 = 0.03;

/// Least share drawn, so that every sum up to the clear sky's can be met.
const LEAST_SHARE: f64 = 0.005;

#[derive(Debug, Clone, Copy, PartialEq)]
enum DayClass {
    Clear,
    Broken,
    Dull,
}

/// Clear-sky DNI in the middle of every hour [W/m²].
pub fn clear_year(
    site: &Site,
    utc_offset_h: f64,
    climate: &MonthlyClimate,
    linke_turbidity: f64,
) -> Result<Vec<f64>, SunError> {
    let course = Course::new(site, SYNTHETIC_YEAR, utc_offset_h)?;
    let mut dni_w_m2 = Vec::with_capacity(HOURS);
    for (month, temperature_k) in climate.air_temperature_k.into_iter().enumerate() {
        let refraction = Refraction::new(&Air::at_altitude(site.altitude_m, temperature_k))?;
        for hour in hours_of_month(month) {
            let sun = refraction.apparent(course.sun(hour as f64 + 0.5));
            let outside_w_m2 = extraterrestrial_w_m2(hour / 24);
            let elevation_rad = libm::asin(sun.z.clamp(-1.0, 1.0));
            let clear = clear_sky_dni_w_m2(
                site.altitude_m,
                elevation_rad,
                linke_turbidity,
                outside_w_m2,
            );
            dni_w_m2.push(clear);
        }
    }
    Ok(dni_w_m2)
}

/// Share of the clear-sky beam let through in every hour, within (0, 1), before the monthly sums
/// are met.
pub fn let_through(clear_w_m2: &[f64], sums_j_m2: &[f64; 12], seed: u64) -> Vec<f64> {
    let mut draw = Xoshiro256PlusPlus::seed_from_u64(seed);
    let mut class = DayClass::Clear;
    let mut shares = Vec::with_capacity(HOURS);
    for (month, &sum_j_m2) in sums_j_m2.iter().enumerate() {
        let clearness = sum_j_m2 / clear_sum_j_m2(clear_w_m2, month).max(1.0);
        for _day in days_of_month(month) {
            let redraw = draw.random::<f64>() >= DAY_PERSISTENCE;
            let drawn = day_class(clearness, draw.random());
            if redraw {
                class = drawn;
            }
            push_day(&mut shares, class, &mut draw);
        }
    }
    shares
}

/// Class of a day in a month that lets `clearness` of the clear-sky beam through; `chance` is
/// uniform in [0, 1). The classes' shares of days give that mean.
fn day_class(clearness: f64, chance: f64) -> DayClass {
    let clearness = clearness.clamp(0.0, 1.0);
    let broken = MOST_BROKEN_DAYS * 4.0 * clearness * (1.0 - clearness);
    let clear = (clearness - DULL_SHARE - (BROKEN_SHARE - DULL_SHARE) * broken)
        / (CLEAR_SHARE - DULL_SHARE);
    if chance < clear {
        DayClass::Clear
    } else if chance < clear.max(0.0) + broken {
        DayClass::Broken
    } else {
        DayClass::Dull
    }
}

/// Shares of the 24 hours of a day. Every class draws the same number of random numbers.
fn push_day(shares: &mut Vec<f64>, class: DayClass, draw: &mut Xoshiro256PlusPlus) {
    let haze: f64 = draw.random();
    let mut sunny = haze < BROKEN_SHARE;
    for _hour in 0..24 {
        let change: f64 = draw.random();
        let level: f64 = draw.random();
        if change >= HOUR_PERSISTENCE {
            sunny = level < BROKEN_SHARE;
        }
        let share = match class {
            DayClass::Clear => CLEAREST_SHARE - CLEAR_HAZE * haze * haze,
            DayClass::Broken if sunny => 0.8 + 0.18 * change,
            DayClass::Broken => 0.2 * change,
            DayClass::Dull => 4.0 * DULL_SHARE * level * level * level,
        };
        shares.push(share.max(LEAST_SHARE));
    }
}

fn clear_sum_j_m2(clear_w_m2: &[f64], month: usize) -> f64 {
    clear_w_m2[hours_of_month(month)].iter().sum::<f64>() * HOUR_S
}

/// Beam whose monthly sums are the given ones: clear sky × share^e, one exponent `e` a month.
pub fn meet_sums(
    clear_w_m2: &[f64],
    shares: &[f64],
    sums_j_m2: &[f64; 12],
    linke_turbidity: f64,
) -> Result<Vec<f64>, SyntheticError> {
    let mut dni_w_m2 = vec![0.0; HOURS];
    for (month, &asked_j_m2) in sums_j_m2.iter().enumerate() {
        let clear_j_m2 = clear_sum_j_m2(clear_w_m2, month);
        if asked_j_m2 > clear_j_m2 {
            let month = month + 1;
            return Err(SyntheticError::AboveClearSky {
                month,
                asked_j_m2,
                clear_j_m2,
                linke_turbidity,
            });
        }
        let hours = hours_of_month(month);
        let bent = bend(
            &clear_w_m2[hours.clone()],
            &shares[hours.clone()],
            asked_j_m2,
        );
        dni_w_m2[hours].copy_from_slice(&bent);
    }
    Ok(dni_w_m2)
}

/// Hours of one month, bent to the sum by bisection of the exponent's logarithm; the last rounding
/// is taken up by a common factor.
fn bend(clear_w_m2: &[f64], shares: &[f64], asked_j_m2: f64) -> Vec<f64> {
    let hours = |exponent: f64| -> Vec<f64> {
        let pairs = clear_w_m2.iter().zip(shares);
        pairs
            .map(|(clear, &share)| clear * libm::pow(share, exponent))
            .collect()
    };
    let sum_j_m2 = |dni_w_m2: &[f64]| dni_w_m2.iter().sum::<f64>() * HOUR_S;
    if asked_j_m2 <= 0.0 {
        return vec![0.0; clear_w_m2.len()];
    }
    let (mut low, mut high) = (-40.0, 10.0);
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if sum_j_m2(&hours(libm::exp(middle))) > asked_j_m2 {
            low = middle;
        } else {
            high = middle;
        }
    }
    let mut dni_w_m2 = hours(libm::exp(0.5 * (low + high)));
    let factor = asked_j_m2 / sum_j_m2(&dni_w_m2).max(f64::MIN_POSITIVE);
    dni_w_m2.iter_mut().for_each(|hour| *hour *= factor);
    dni_w_m2
}
