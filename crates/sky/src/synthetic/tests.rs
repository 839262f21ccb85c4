//! What a synthetic year must keep to.

use super::*;
use crate::calendar::{HOUR_S, hours_of_month};

fn site() -> Site {
    Site {
        latitude_rad: 37f64.to_radians(),
        longitude_rad: -0.1,
        altitude_m: 300.0,
    }
}

/// A sunny climate of about 2,000 kWh/m² a year (invented).
fn climate() -> MonthlyClimate {
    let dni_kwh_m2 = [
        110.0, 120.0, 160.0, 170.0, 205.0, 235.0, 255.0, 230.0, 180.0, 145.0, 115.0, 100.0,
    ];
    let temperature_c = [
        8.0, 9.0, 12.0, 15.0, 19.0, 24.0, 28.0, 27.0, 23.0, 18.0, 12.0, 9.0,
    ];
    MonthlyClimate {
        dni_j_m2: dni_kwh_m2.map(|sum| sum * 3.6e6),
        air_temperature_k: temperature_c.map(|temperature| temperature + 273.15),
        daily_temperature_swing_k: 12.0,
        wind_speed_m_s: 3.0,
    }
}

fn year(seed: u64) -> WeatherYear {
    synthetic_year(&site(), 0.0, &climate(), 3.0, seed).unwrap()
}

fn clear() -> Vec<f64> {
    beam::clear_year(&site(), 0.0, &climate(), 3.0).unwrap()
}

#[test]
fn monthly_sums_and_means_are_met() {
    let year = year(7);
    for month in 0..12 {
        let hours = hours_of_month(month);
        let sum_j_m2 = year.dni_w_m2[hours.clone()].iter().sum::<f64>() * HOUR_S;
        assert!(
            (sum_j_m2 / climate().dni_j_m2[month] - 1.0).abs() < 1e-9,
            "{month}"
        );
        let mean_k = year.air_temperature_k[hours.clone()].iter().sum::<f64>() / hours.len() as f64;
        assert!(
            (mean_k - climate().air_temperature_k[month]).abs() < 1e-9,
            "{month}: {mean_k}"
        );
    }
    let mean_m_s = year.wind_speed_m_s.iter().sum::<f64>() / HOURS as f64;
    assert!((mean_m_s - 3.0).abs() < 1e-9);
}

#[test]
fn no_hour_is_brighter_than_the_clear_sky() {
    for (hour, (dni, clear)) in year(7).dni_w_m2.iter().zip(clear()).enumerate() {
        assert!(
            *dni >= 0.0 && *dni <= clear * (1.0 + 1e-9),
            "{hour}: {dni} of {clear}"
        );
    }
}

#[test]
fn the_seed_decides() {
    assert_eq!(year(1), year(1));
    assert_ne!(year(1).dni_w_m2, year(2).dni_w_m2);
    assert_ne!(year(1).wind_speed_m_s, year(2).wind_speed_m_s);
}

fn daily_clearness(year: &WeatherYear, clear: &[f64]) -> Vec<f64> {
    year.dni_w_m2
        .chunks(24)
        .zip(clear.chunks(24))
        .map(|(dni, clear)| dni.iter().sum::<f64>() / clear.iter().sum::<f64>())
        .collect()
}

fn lag_one_correlation(values: &[f64]) -> f64 {
    let mean = values.iter().sum::<f64>() / values.len() as f64;
    let spread: f64 = values
        .iter()
        .map(|value| (value - mean) * (value - mean))
        .sum();
    let joint: f64 = values
        .windows(2)
        .map(|pair| (pair[0] - mean) * (pair[1] - mean))
        .sum();
    joint / spread
}

/// Graham, Hollands & Unny (1988) find about 0.29 (from memory); one year of 365 days scatters by
/// ±0.05, so six years are averaged.
#[test]
fn clear_and_dull_days_come_in_runs() {
    let clear = clear();
    let correlation = |seed| lag_one_correlation(&daily_clearness(&year(seed), &clear));
    let mean = (0..6).map(correlation).sum::<f64>() / 6.0;
    assert!((0.2..0.45).contains(&mean), "{mean}");
}

/// Most days are nearly clear or dull, as in a sunny climate; both kinds occur.
#[test]
fn days_differ() {
    let days = daily_clearness(&year(3), &clear());
    let share = |low: f64, high: f64| {
        days.iter().filter(|day| (low..high).contains(*day)).count() as f64 / days.len() as f64
    };
    assert!(share(0.8, 1.1) > 0.35, "{}", share(0.8, 1.1));
    assert!(share(0.0, 0.2) > 0.08, "{}", share(0.0, 0.2));
    assert!(share(0.2, 0.8) > 0.15, "{}", share(0.2, 0.8));
}

/// Rayleigh's distribution has a spread of 0.523 of its mean; the daily wave widens it a little.
/// Its 99th percentile is 2.42 times the mean.
#[test]
fn wind_is_spread_as_rayleigh_says_and_rises_in_the_afternoon() {
    let speeds = year(5).wind_speed_m_s;
    let mean = 3.0;
    let variance = speeds
        .iter()
        .map(|speed| (speed - mean) * (speed - mean))
        .sum::<f64>()
        / HOURS as f64;
    assert!(
        (variance.sqrt() / mean - 0.55).abs() < 0.05,
        "{}",
        variance.sqrt() / mean
    );
    let mut sorted = speeds.clone();
    sorted.sort_by(f64::total_cmp);
    assert!((sorted[HOURS * 99 / 100] / mean - 2.5).abs() < 0.25);
    let at = |hour: usize| speeds.iter().skip(hour).step_by(24).sum::<f64>();
    assert!(at(15) > 1.2 * at(3));
}

#[test]
fn days_swing_as_asked() {
    let temperatures = year(5).air_temperature_k;
    let swing = |day: &[f64]| {
        day.iter().copied().fold(f64::MIN, f64::max) - day.iter().copied().fold(f64::MAX, f64::min)
    };
    let mean = temperatures.chunks(24).map(swing).sum::<f64>() / 365.0;
    assert!((mean - 12.0).abs() < 0.2, "{mean}");
}

#[test]
fn more_than_the_clear_sky_is_refused_with_both_numbers() {
    let mut greedy = climate();
    greedy.dni_j_m2[5] = 400.0 * 3.6e6;
    let error = synthetic_year(&site(), 0.0, &greedy, 3.0, 1).unwrap_err();
    assert!(matches!(
        error,
        SyntheticError::AboveClearSky { month: 6, .. }
    ));
    assert!(error.to_string().contains("400 kWh/m2"), "{error}");
}

#[test]
fn the_whole_clear_sky_and_darkness_can_both_be_asked_for() {
    let clear = clear();
    let mut extreme = climate();
    for (month, sum) in extreme.dni_j_m2.iter_mut().enumerate() {
        let all = clear[hours_of_month(month)].iter().sum::<f64>() * HOUR_S;
        *sum = if month % 2 == 0 { all } else { 0.0 };
    }
    let year = synthetic_year(&site(), 0.0, &extreme, 3.0, 1).unwrap();
    for month in 0..12 {
        let sum = year.dni_w_m2[hours_of_month(month)].iter().sum::<f64>() * HOUR_S;
        assert!((sum - extreme.dni_j_m2[month]).abs() <= 1e-9 * extreme.dni_j_m2[month]);
    }
    assert!(year.dni_w_m2.iter().all(|dni| dni.is_finite()));
}

#[test]
fn impossible_inputs_are_refused() {
    let refused = |climate: &MonthlyClimate, turbidity: f64| {
        synthetic_year(&site(), 0.0, climate, turbidity, 1).is_err()
    };
    assert!(refused(&climate(), f64::NAN));
    assert!(refused(
        &MonthlyClimate {
            wind_speed_m_s: -1.0,
            ..climate()
        },
        3.0
    ));
    assert!(refused(
        &MonthlyClimate {
            air_temperature_k: [20.0; 12],
            ..climate()
        },
        3.0
    ));
    assert!(refused(
        &MonthlyClimate {
            dni_j_m2: [f64::INFINITY; 12],
            ..climate()
        },
        3.0
    ));
}
