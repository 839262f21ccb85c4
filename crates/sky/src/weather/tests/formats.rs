//! PVGIS and NSRDB in small, EPW with short steps, and recognition.

use super::*;
use crate::weather::*;

/// A typical year of PVGIS at the same place: instants of universal time, 12 minutes late.
pub fn pvgis_lines() -> Vec<String> {
    let mut lines: Vec<String> = [
        "Latitude (decimal degrees): 40.000",
        "Longitude (decimal degrees): 0.000",
        "Elevation (m): 600.0",
        "Irradiance Time Offset (h): 0.2",
        "month,year",
        "1,1999",
        "time(UTC),T2m,Gb(n),WS10m",
    ]
    .map(str::to_owned)
    .into();
    let beam = clear_beam(-0.3, 60);
    lines.extend(beam.iter().enumerate().map(|(hour, beam)| {
        let (month, day) = month_and_day(hour / 24);
        format!(
            "1999{month:02}{day:02}:{:02}00,{:.1},{beam:.2},2.5",
            hour % 24,
            10.0 + (hour % 24) as f64
        )
    }));
    lines.extend(["", "Gb(n): Beam", "PVGIS (c) European Union"].map(str::to_owned));
    lines
}

/// A half-hourly file of the NSRDB at the same place: instants.
pub fn nsrdb_lines() -> Vec<String> {
    let mut lines: Vec<String> = [
        "Source,Location ID,Latitude,Longitude,Time Zone,Elevation,Local Time Zone",
        "NSRDB,1,40.0,0.0,0,600,0",
        "Year,Month,Day,Hour,Minute,DNI,Temperature,Wind Speed,,",
    ]
    .map(str::to_owned)
    .into();
    let beam = clear_beam(-0.25, 30);
    lines.extend(beam.iter().enumerate().map(|(row, beam)| {
        let (month, day) = month_and_day(row / 48);
        let (hour, minute) = (row / 2 % 24, row % 2 * 30);
        format!("1999,{month},{day},{hour},{minute},{beam:.2},10.5,2.5,,")
    }));
    lines
}

fn year_sum(year: &WeatherYear) -> f64 {
    year.dni_w_m2.iter().sum()
}

fn head_error(read: Result<(Site, WeatherYear), WeatherError>) -> String {
    match read.unwrap_err() {
        error @ WeatherError::Head { .. } => error.to_string(),
        other => panic!("{other}"),
    }
}

#[test]
fn instants_of_pvgis_are_moved_to_standard_time() {
    let lines = pvgis_lines();
    let beam = clear_beam(-0.3, 60);
    for utc_offset_h in [0.0, 1.0, -8.0, 5.5] {
        let options = ReadOptions {
            utc_offset_h,
            ..options()
        };
        let (found_site, year) = read_pvgis(&bytes(&lines), &options).unwrap();
        assert_eq!(found_site, site());
        assert!((year.utc_offset_h - utc_offset_h).abs() < 1e-12);
        assert!((year_sum(&year) / beam.iter().sum::<f64>() - 1.0).abs() < 1e-5);
        let found = timing(&site(), &year).unwrap();
        assert!(
            found.lag_h.unwrap().abs() < 0.05,
            "{utc_offset_h}: {found:?}"
        );
        assert!(found.dark_share < 1e-12, "{utc_offset_h}: {found:?}");
    }
}

#[test]
fn a_pvgis_file_without_a_place_takes_that_of_the_options() {
    let lines = pvgis_lines();
    let (found, year) = read_pvgis(&bytes(&lines[6..]), &options()).unwrap();
    assert_eq!(found, site());
    assert!(
        year.notes[1].contains("comes 0.20 h before"),
        "{:?}",
        year.notes
    );
}

#[test]
fn beam_on_an_inclined_plane_is_no_direct_normal_irradiance() {
    let mut lines = pvgis_lines();
    lines[6] = lines[6].replace("Gb(n)", "Gb(i)");
    lines[5] = "Slope: 30 deg.".to_owned();
    let message = head_error(read_pvgis(&bytes(&lines), &options()));
    assert!(
        message.starts_with("line 7: Gb(i) is beam on a plane"),
        "{message}"
    );
    lines[5] = "Two-axis tracking".to_owned();
    assert!(read_pvgis(&bytes(&lines), &options()).is_ok());
}

#[test]
fn instants_of_the_nsrdb_become_hours() {
    let lines = nsrdb_lines();
    let (found, year) = read_nsrdb(&bytes(&lines)).unwrap();
    assert_eq!(found, site());
    let expected: f64 = clear_beam(-0.25, 30).iter().sum();
    assert!((2.0 * year_sum(&year) / expected - 1.0).abs() < 1e-5);
    assert_eq!(
        year.notes[..2],
        [
            "values every 30 min averaged to hours",
            "times are in the middle of their 30 min in UTC"
        ]
    );
}

/// The clock of the rows may be universal time while the place keeps another.
#[test]
fn rows_of_the_nsrdb_in_universal_time_are_moved() {
    let mut lines = nsrdb_lines();
    lines[1] = lines[1].replace("0,600,0", "0,600,-7");
    let (_, year) = read_nsrdb(&bytes(&lines)).unwrap();
    assert!((year.utc_offset_h + 7.0).abs() < 1e-12);
    let (_, unmoved) = read_nsrdb(&bytes(&nsrdb_lines())).unwrap();
    for hour in [1000, 4000, 8000] {
        assert!((year.dni_w_m2[hour] - unmoved.dni_w_m2[hour + 7]).abs() < 1e-9);
    }
}

#[test]
fn quarter_hours_of_an_epw_file_end_at_their_minute() {
    let mut lines = epw_lines();
    lines[3] = lines[3].replace("1,1,Data", "1,4,Data");
    let quarters = |line: &String| {
        let parts: Vec<String> = ["15", "30", "45", "60"]
            .map(|minute| line.replacen(",60,", &format!(",{minute},"), 1))
            .into();
        parts
    };
    let mut short: Vec<String> = lines[..4].to_vec();
    short.extend(lines[4..].iter().flat_map(quarters));
    let (_, found) = read_epw(&bytes(&short)).unwrap();
    let (_, hourly) = read_epw(&bytes(&epw_lines())).unwrap();
    for (found, expected) in found.dni_w_m2.iter().zip(&hourly.dni_w_m2) {
        assert!((found - expected).abs() < 1e-9);
    }
    assert_eq!(
        other_notes(&found),
        ["values every 15 min averaged to hours"]
    );
}

#[test]
fn formats_are_recognised_by_their_first_lines() {
    let files = [
        epw_lines(),
        tmy3_lines(),
        pvgis_lines(),
        nsrdb_lines(),
        plain_lines(),
    ];
    for (lines, (name, format)) in files.into_iter().zip(WeatherFormat::NAMED) {
        let read = read_weather(&bytes(&lines), None, &options()).unwrap();
        assert_eq!(read.format, format, "{name}");
        assert_eq!(read.site, site(), "{name}");
    }
    for stranger in [&b""[..], b"\xff\xfe", b"a,b,c\n1,2,3\n"] {
        let told = read_weather(stranger, None, &options())
            .unwrap_err()
            .to_string();
        assert!(told.contains("no Parquet"), "{told}");
        assert!(told.contains("epw, tmy3, pvgis, nsrdb, csv;"), "{told}");
    }
}

#[test]
fn heads_of_both_formats_say_what_they_lack() {
    let mut lines = nsrdb_lines();
    lines[0] = lines[0].replace("Local Time Zone", "Zone");
    let message = head_error(read_nsrdb(&bytes(&lines)));
    assert_eq!(message, "line 1: column \"Local Time Zone\" is missing");
    let mut lines = pvgis_lines();
    lines.remove(1);
    let message = head_error(read_pvgis(&bytes(&lines), &options()));
    assert!(
        message.ends_with("belong together, one is missing"),
        "{message}"
    );
    assert!(head_error(read_nsrdb(b"")).contains("starts with a line of names"));
    assert!(head_error(read_pvgis(b"", &options())).contains("no line of column names"));
}
