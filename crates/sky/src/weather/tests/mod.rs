//! The readers against small made-up files.

mod clocks;
mod columns;
mod formats;
mod gaps;
mod garbage;
mod readers;

use super::{Gaps, HourLabel, ReadOptions, WeatherYear};
use crate::calendar::{HOURS, month_and_day};
use crate::clear_sky::clear_sky_dni_w_m2;
use crate::course::Course;
use crate::site::Site;

/// The place of all made-up files.
pub fn site() -> Site {
    Site {
        latitude_rad: 40f64.to_radians(),
        longitude_rad: 0.0,
        altitude_m: 600.0,
    }
}

pub fn options() -> ReadOptions {
    ReadOptions {
        site: site(),
        utc_offset_h: 0.0,
        year: 1999,
        label: Some(HourLabel::Start),
        gaps: Gaps::Refuse,
    }
}

/// Notes of a year beside how its times were read and how they suit the sun.
pub fn other_notes(year: &WeatherYear) -> Vec<&str> {
    let notes = year.notes.iter().map(String::as_str);
    notes
        .filter(|note| !note.starts_with("times ") && !note.starts_with("the beam "))
        .collect()
}

/// Clear-sky beam in the middle of every interval of a 365-day year, W/m², the first interval
/// starting at hours of universal time after new year.
pub fn clear_beam(first_start_h: f64, step_min: usize) -> Vec<f64> {
    let course = Course::new(&site(), 1999, 0.0).unwrap();
    let step_h = step_min as f64 / 60.0;
    let middles = (0..HOURS * 60 / step_min).map(|slot| (slot as f64 + 0.5) * step_h);
    let beam = |middle_h: f64| {
        let sin_elevation = course.sin_elevation(first_start_h + middle_h);
        clear_sky_dni_w_m2(600.0, libm::asin(sin_elevation), 3.0, 1361.0)
    };
    middles.map(beam).collect()
}

/// Value columns of an hour: beam by daylight in the middle of the day, temperature, wind.
pub fn values(hour: usize) -> [String; 3] {
    let hour_of_day = hour % 24;
    let beam = if (9..15).contains(&hour_of_day) {
        700 + hour % 11
    } else {
        0
    };
    [
        beam.to_string(),
        format!("{:.1}", 10.0 + hour_of_day as f64),
        "2.5".to_owned(),
    ]
}

/// Lines of a plain file without times.
pub fn plain_lines() -> Vec<String> {
    let mut lines = vec!["dni_w_m2,air_temperature_c,wind_speed_m_s".to_owned()];
    lines.extend((0..HOURS).map(|hour| values(hour).join(",")));
    lines
}

/// Lines of a TMY3 file at 40° N, 0° E, in the time zone of universal time.
pub fn tmy3_lines() -> Vec<String> {
    let mut lines = vec![
        "1,\"INVENTED\",XX,0.0,40.000,0.000,600".to_owned(),
        "Date (MM/DD/YYYY),Time (HH:MM),DNI (W/m^2),Dry-bulb (C),Wspd (m/s)".to_owned(),
    ];
    lines.extend((0..HOURS).map(|hour| {
        let (month, day) = month_and_day(hour / 24);
        let end = hour % 24 + 1;
        format!(
            "{month:02}/{day:02}/1999,{end:02}:00,{}",
            values(hour).join(",")
        )
    }));
    lines
}

/// Lines of an EPW file at the same place.
pub fn epw_lines() -> Vec<String> {
    let mut lines = vec![
        "LOCATION,Invented,-,-,none,1,40.0,0.0,0.0,600.0".to_owned(),
        "DESIGN CONDITIONS,0".to_owned(),
        "COMMENTS 1,\"quoted, with comma\"".to_owned(),
        "DATA PERIODS,1,1,Data,Friday, 1/ 1,12/31".to_owned(),
    ];
    lines.extend((0..HOURS).map(|hour| {
        let (month, day) = month_and_day(hour / 24);
        let end = hour % 24 + 1;
        let [beam, temperature, wind] = values(hour);
        format!(
            "1999,{month},{day},{end},60,flags,{temperature},5,50,95000,0,0,300,0,{beam},0,0,0,0,0,180,{wind}"
        )
    }));
    lines
}

/// Bytes of lines.
pub fn bytes(lines: &[String]) -> Vec<u8> {
    lines.join("\n").into_bytes()
}
