//! Real weather files, from bytes to a year's beam.
//!
//! One file travels with the crate; others may be read too when the variable `SKY_WEATHER_FILES`
//! names a folder that holds them. Those come with pvlib 0.16.1 (folders `pvlib/data` and
//! `tests/data` of its source archive) and are not copied here; beam sums were computed from them
//! apart from this crate.

use std::path::PathBuf;

use sky::calendar::hours_of_month;
use sky::{
    MonthlyClimate, Site, SunTable, WeatherError, WeatherYear, read_epw, read_tmy3, synthetic_year,
};

const GREENSBORO: &[u8] = include_bytes!("data/greensboro_tmy3.csv");

fn beam_kwh_m2(year: &WeatherYear) -> f64 {
    year.dni_w_m2.iter().sum::<f64>() / 1000.0
}

fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / values.len() as f64
}

/// Sums of the columns, taken from the file with a spreadsheet-like script.
#[test]
fn a_typical_year_of_north_carolina_is_read() {
    let (site, year) = read_tmy3(GREENSBORO).unwrap();
    assert!((site.latitude_rad.to_degrees() - 36.1).abs() < 1e-9);
    assert!((site.longitude_rad.to_degrees() + 79.95).abs() < 1e-9);
    assert!((site.altitude_m - 273.0).abs() < 1e-9);
    assert!((year.utc_offset_h + 5.0).abs() < 1e-9);
    assert!(
        (beam_kwh_m2(&year) - 1476.549).abs() < 1e-6,
        "{}",
        beam_kwh_m2(&year)
    );
    assert!((mean(&year.air_temperature_k) - 273.15 - 14.421_849_3).abs() < 1e-6);
    assert!((mean(&year.wind_speed_m_s) - 3.054_440_6).abs() < 1e-6);
    assert_eq!(year.notes.len(), 1, "{:?}", year.notes);
    assert!(
        year.notes[0].starts_with("hours of the years 1980 to"),
        "{:?}",
        year.notes
    );
}

/// Nearly all beam comes while the sun is high enough to work with, and the table keeps it.
#[test]
fn its_sun_table_holds_the_beam_in_operation() {
    let (site, year) = read_tmy3(GREENSBORO).unwrap();
    let table = SunTable::new(&site, &year, 8f64.to_radians());
    let share = table.year_j_m2() / (beam_kwh_m2(&year) * 3.6e6);
    assert!((0.93..1.0).contains(&share), "{share}");
    let dot: f64 = table.dni_j_m2.iter().sum();
    assert!((dot / table.year_j_m2() - 1.0).abs() < 1e-12);
}

/// A year made from the file's own monthly sums resembles the file: hours with beam, the share of
/// it that is strong, and the quartiles of the days, in ten seeds' mean.
#[test]
fn a_synthetic_year_from_its_months_resembles_it() {
    let (site, real) = read_tmy3(GREENSBORO).unwrap();
    let climate = climate_of(&real);
    let years: Vec<Likeness> = (0..10)
        .map(|seed| {
            let year = synthetic_year(&site, real.utc_offset_h, &climate, 3.3, seed).unwrap();
            Likeness::of(&year)
        })
        .collect();
    let made = |pick: fn(&Likeness) -> f64| years.iter().map(pick).sum::<f64>() / 10.0;
    let real = Likeness::of(&real);
    assert!((made(|year| year.bright_hours) / real.bright_hours - 1.0).abs() < 0.1);
    assert!((made(|year| year.strong_share) - real.strong_share).abs() < 0.1);
    for quartile in 0..3 {
        let made = years
            .iter()
            .map(|year| year.day_quartiles[quartile])
            .sum::<f64>()
            / 10.0;
        assert!(
            (made - real.day_quartiles[quartile]).abs() < 0.8,
            "{quartile}: {made}"
        );
    }
}

/// Monthly sums and means of a year.
fn climate_of(year: &WeatherYear) -> MonthlyClimate {
    let month = |values: &[f64], month: usize| mean(&values[hours_of_month(month)]);
    MonthlyClimate {
        dni_j_m2: std::array::from_fn(|index| {
            month(&year.dni_w_m2, index) * hours_of_month(index).len() as f64 * 3600.0
        }),
        air_temperature_k: std::array::from_fn(|index| month(&year.air_temperature_k, index)),
        daily_temperature_swing_k: 10.7,
        wind_speed_m_s: mean(&year.wind_speed_m_s),
    }
}

/// Figures by which two years are compared.
struct Likeness {
    /// Hours with more than 100 W/m².
    bright_hours: f64,
    /// Share of the beam that comes in hours with more than 500 W/m².
    strong_share: f64,
    /// Daily beam that a quarter, half and three quarters of the days do not reach, kWh/m².
    day_quartiles: [f64; 3],
}

impl Likeness {
    fn of(year: &WeatherYear) -> Self {
        let above = |least: f64| year.dni_w_m2.iter().filter(move |beam| **beam > least);
        let mut days: Vec<f64> = year
            .dni_w_m2
            .chunks(24)
            .map(|day| day.iter().sum::<f64>() / 1000.0)
            .collect();
        days.sort_by(f64::total_cmp);
        Self {
            bright_hours: above(100.0).count() as f64,
            strong_share: above(500.0).sum::<f64>() / above(0.0).sum::<f64>(),
            day_quartiles: [days[91], days[182], days[273]],
        }
    }
}

type Reader = fn(&[u8]) -> Result<(Site, WeatherYear), WeatherError>;

/// Name, reader, yearly beam in kWh/m².
const OTHERS: [(&str, Reader, f64); 4] = [
    ("723170TYA.CSV", read_tmy3, 1477.0),
    ("703165TY.csv", read_tmy3, 819.0),
    ("tmy_45.000_8.000_2005_2023.epw", read_epw, 1592.0),
    ("NLD_Amsterdam062400_IWEC.epw", read_epw, 699.0),
];

#[test]
fn further_files_are_read_where_they_exist() {
    let Some(folder) = std::env::var_os("SKY_WEATHER_FILES").map(PathBuf::from) else {
        eprintln!("skipped: SKY_WEATHER_FILES names no folder with further weather files");
        return;
    };
    for (name, read, expected_kwh_m2) in OTHERS {
        let Ok(bytes) = std::fs::read(folder.join(name)) else {
            eprintln!("skipped: {name} is not in {}", folder.display());
            continue;
        };
        let (site, year) = read(&bytes).unwrap_or_else(|error| panic!("{name}: {error}"));
        let timing = sky::weather::timing(&site, &year).unwrap();
        eprintln!(
            "{name}: {:.1} kWh/m2, {timing:?}, {:?}",
            beam_kwh_m2(&year),
            year.notes
        );
        assert!((beam_kwh_m2(&year) - expected_kwh_m2).abs() < 0.5, "{name}");
    }
}
