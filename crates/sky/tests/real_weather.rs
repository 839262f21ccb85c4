//! Real weather files, from bytes to a year's beam.
//!
//! Three files travel with the crate; others are read when the variable `SKY_WEATHER_FILES` names
//! the unpacked source archive of pvlib 0.16.1, which carries them. Beam sums were computed from all
//! of them apart from this crate.

use std::path::PathBuf;

use sky::calendar::hours_of_month;
use sky::weather::timing;
use sky::{
    Gaps, MonthlyClimate, ReadOptions, Site, SunTable, WeatherError, WeatherFormat, WeatherRead,
    WeatherYear, read_tmy3, read_weather, synthetic_year,
};

const GREENSBORO: &[u8] = include_bytes!("data/greensboro_tmy3.csv");
const ITALY: &[u8] = include_bytes!("data/northern_italy_pvgis.csv");
const COLORADO: &[u8] = include_bytes!("data/northwest_colorado_nsrdb.csv");

/// Reads a file without saying its format, for a site that keeps Central European Time.
fn read(bytes: &[u8]) -> Result<WeatherRead, WeatherError> {
    let options = ReadOptions {
        site: Site {
            latitude_rad: 0.0,
            longitude_rad: 0.0,
            altitude_m: 0.0,
        },
        utc_offset_h: 1.0,
        year: 2023,
        label: None,
        gaps: Gaps::Refuse,
    };
    read_weather(bytes, None, &options)
}

fn degrees(site: &Site) -> [f64; 2] {
    [site.latitude_rad, site.longitude_rad].map(f64::to_degrees)
}

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
    let notes = [
        "hours of the years 1980 to 2003; the sun is that of 1980",
        "times end their 60 min in UTC-5",
        "the beam keeps step with the sun (lag -0.02 h)",
    ];
    assert_eq!(year.notes, notes);
}

/// Sums of the columns, taken from the file with a spreadsheet-like script. Rows are instants of
/// universal time, 0.1761 h later than shown; the hours are those of Central European Time.
#[test]
fn a_typical_year_of_northern_italy_is_read() {
    let WeatherRead {
        format,
        site,
        years,
    } = read(ITALY).unwrap();
    let [year] = &years[..] else {
        panic!("{}", years.len())
    };
    assert_eq!(format, WeatherFormat::Pvgis);
    assert!((degrees(&site)[0] - 45.0).abs() < 1e-9 && (degrees(&site)[1] - 8.0).abs() < 1e-9);
    assert!((beam_kwh_m2(year) - 1_591.565_16).abs() < 1e-6);
    assert!((mean(&year.air_temperature_k) - 273.15 - 13.564_100_5).abs() < 1e-6);
    assert!((mean(&year.wind_speed_m_s) - 1.209_449_8).abs() < 1e-6);
    let found = timing(&site, year).unwrap();
    assert!(
        found.lag_h.unwrap().abs() < 0.05 && found.dark_share < 1e-6,
        "{found:?}"
    );
    assert_eq!(
        year.notes[1],
        "times shifted by +0.176 h are in the middle of their 60 min in UTC, moved to UTC+1"
    );
}

/// Sums of the columns, taken from the file with a spreadsheet-like script; half-hours.
#[test]
fn a_year_of_northwest_colorado_is_read() {
    let WeatherRead {
        format,
        site,
        years,
    } = read(COLORADO).unwrap();
    let [year] = &years[..] else {
        panic!("{}", years.len())
    };
    assert_eq!(format, WeatherFormat::Nsrdb);
    assert!((degrees(&site)[0] - 40.53).abs() < 1e-9 && (degrees(&site)[1] + 108.54).abs() < 1e-9);
    assert!((site.altitude_m - 2168.0).abs() < 1e-9);
    assert!((beam_kwh_m2(year) - 2268.347).abs() < 1e-6);
    assert!((mean(&year.air_temperature_k) - 273.15 - 7.3670719).abs() < 1e-6);
    assert!((mean(&year.wind_speed_m_s) - 2.4384132).abs() < 1e-6);
    let found = timing(&site, year).unwrap();
    assert!(
        found.lag_h.unwrap().abs() < 0.05 && found.dark_share < 1e-6,
        "{found:?}"
    );
}

/// What the limits of [`timing`] rest on: in three real files a clock that is wrong by an hour shows in
/// the lag, and one wrong by two hours puts enough beam into the night to be refused.
#[test]
fn wrong_clocks_show_on_real_files() {
    for bytes in [GREENSBORO, ITALY, COLORADO] {
        let WeatherRead { site, years, .. } = read(bytes).unwrap();
        assert!(timing(&site, &years[0]).unwrap().dark_share < 1e-4);
        for wrong_h in [-2.0, -1.0, 1.0, 2.0_f64] {
            let year = WeatherYear {
                utc_offset_h: years[0].utc_offset_h + wrong_h,
                ..years[0].clone()
            };
            let found = timing(&site, &year).unwrap();
            assert!((found.lag_h.unwrap() + wrong_h).abs() < 0.15, "{found:?}");
            assert!(found.is_shifted() && found.dark_share > 1e-3, "{found:?}");
            let is_refused = found.refuse_out_of_step().is_err();
            assert_eq!(is_refused, wrong_h.abs() > 1.5, "{found:?}");
        }
    }
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

/// Name, format, yearly beam in kWh/m².
const OTHERS: [(&str, WeatherFormat, f64); 7] = [
    ("pvlib/data/723170TYA.CSV", WeatherFormat::Tmy3, 1477.0),
    ("pvlib/data/703165TY.csv", WeatherFormat::Tmy3, 819.0),
    (
        "tests/data/tmy_45.000_8.000_2005_2023.epw",
        WeatherFormat::Epw,
        1592.0,
    ),
    (
        "tests/data/tmy_45.000_8.000_2005_2023.csv",
        WeatherFormat::Pvgis,
        1592.0,
    ),
    (
        "tests/data/test_read_psm4.csv",
        WeatherFormat::Nsrdb,
        2268.0,
    ),
    (
        "tests/data/test_read_psm3.csv",
        WeatherFormat::Nsrdb,
        2173.0,
    ),
    (
        "tests/data/NLD_Amsterdam062400_IWEC.epw",
        WeatherFormat::Epw,
        699.0,
    ),
];

#[test]
fn further_files_are_read_where_they_exist() {
    let Some(folder) = std::env::var_os("SKY_WEATHER_FILES").map(PathBuf::from) else {
        let required =
            std::env::var_os("TAUTFIELD_OUTSIDE").is_some_and(|value| value == "required");
        assert!(
            !required,
            "SKY_WEATHER_FILES must name pvlib's source archive, unpacked"
        );
        eprintln!("skipped: SKY_WEATHER_FILES names no source archive of pvlib, unpacked");
        return;
    };
    for (name, expected, expected_kwh_m2) in OTHERS {
        let bytes =
            std::fs::read(folder.join(name)).unwrap_or_else(|error| panic!("{name}: {error}"));
        let WeatherRead {
            format,
            site,
            years,
        } = read(&bytes).unwrap_or_else(|error| panic!("{name}: {error}"));
        let [year] = &years[..] else {
            panic!("{name}: {}", years.len())
        };
        let found = timing(&site, year).unwrap();
        let sum_kwh_m2 = beam_kwh_m2(year);
        eprintln!(
            "{name}: {sum_kwh_m2:.1} kWh/m2, {found:?}, {:?}",
            year.notes
        );
        assert_eq!(format, expected, "{name}");
        assert!((sum_kwh_m2 - expected_kwh_m2).abs() < 0.5, "{name}");
        assert!(found.lag_h.unwrap().abs() < 0.15, "{name}");
        assert!(found.dark_share < 1e-3, "{name}");
    }
}
