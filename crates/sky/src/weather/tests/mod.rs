//! The readers against small made-up files.

mod gaps;
mod garbage;
mod readers;

use crate::calendar::{HOURS, month_and_day};

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

/// Lines of a TMY3 file at 40° N, 5° W, in the time zone of universal time.
pub fn tmy3_lines() -> Vec<String> {
    let mut lines = vec![
        "1,\"INVENTED\",XX,0.0,40.000,-5.000,600".to_owned(),
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
        "LOCATION,Invented,-,-,none,1,40.0,-5.0,0.0,600.0".to_owned(),
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
