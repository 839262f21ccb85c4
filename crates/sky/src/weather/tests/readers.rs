//! Formats, hour conventions, leap days and heads.

use super::*;
use crate::weather::*;

fn timed(label: impl Fn(usize) -> String) -> Vec<u8> {
    let mut lines = vec!["wind_speed_m_s,note,time,dni_w_m2,air_temperature_c".to_owned()];
    lines.extend((0..HOURS).map(|hour| {
        let [beam, temperature, wind] = values(hour);
        format!("{wind},any,{},{beam},{temperature}", label(hour))
    }));
    bytes(&lines)
}

fn clock(hour: usize, minutes: usize) -> String {
    let (month, day) = month_and_day(hour / 24);
    format!("1999-{month:02}-{day:02} {:02}:{minutes:02}", hour % 24)
}

#[test]
fn all_formats_give_the_same_year() {
    let plain = read_csv(&bytes(&plain_lines()), &options()).unwrap();
    let (site, tmy3) = read_tmy3(&bytes(&tmy3_lines())).unwrap();
    let (epw_site, epw) = read_epw(&bytes(&epw_lines())).unwrap();
    for year in [&tmy3, &epw] {
        assert_eq!(plain.dni_w_m2, year.dni_w_m2);
        assert_eq!(plain.air_temperature_k, year.air_temperature_k);
        assert_eq!(plain.wind_speed_m_s, year.wind_speed_m_s);
        assert_eq!(
            (plain.year, plain.utc_offset_h),
            (year.year, year.utc_offset_h)
        );
    }
    assert_eq!(site, epw_site);
    assert!((site.latitude_rad - 40f64.to_radians()).abs() < 1e-15);
    assert!(site.longitude_rad == 0.0);
    assert!((site.altitude_m - 600.0).abs() < 1e-12);
    assert_eq!(plain.dni_w_m2.len(), HOURS);
    assert!((plain.dni_w_m2[9] - 709.0).abs() < 1e-12 && plain.dni_w_m2[8] == 0.0);
    assert!((plain.air_temperature_k[3] - 286.15).abs() < 1e-12);
    assert_eq!(plain.notes[0], "times start their 60 min in UTC");
    assert_eq!(tmy3.notes[0], "times end their 60 min in UTC");
    assert!(plain.notes[1].starts_with("the beam keeps step with the sun"));
    assert_eq!(plain.notes.len(), 2);
}

#[test]
fn labels_at_the_start_the_middle_and_the_end_mean_the_same_hours() {
    let start = read_csv(&timed(|hour| clock(hour, 0)), &options()).unwrap();
    let middle = ReadOptions {
        label: Some(HourLabel::Middle),
        ..options()
    };
    let end = ReadOptions {
        label: Some(HourLabel::End),
        ..options()
    };
    let plain = read_csv(&bytes(&plain_lines()), &options()).unwrap();
    assert_eq!(start, plain);
    let halved = read_csv(&timed(|hour| clock(hour, 30)), &middle).unwrap();
    assert_eq!(start.dni_w_m2, halved.dni_w_m2);
    for new_year in ["1999-12-31T24:00:00", "2000-01-01 00:00"] {
        let next = |hour| {
            if hour + 1 < HOURS {
                clock(hour + 1, 0)
            } else {
                new_year.to_owned()
            }
        };
        let ended = read_csv(&timed(next), &end).unwrap();
        assert_eq!(start.dni_w_m2, ended.dni_w_m2);
        assert_eq!((ended.year, other_notes(&ended)), (1999, vec![]));
    }
}

#[test]
fn times_between_the_steps_are_refused() {
    let odd = |hour| clock(hour, if hour == 77 { 20 } else { 0 });
    let error = read_csv(&timed(odd), &options()).unwrap_err();
    let WeatherError::Hours { problems, .. } = error else {
        panic!("{error}")
    };
    let between = Problem {
        line: 79,
        fault: Fault::BetweenSteps { step_min: 60 },
    };
    assert!(problems.contains(&between), "{problems:?}");
    let far = read_csv(&timed(|hour| clock(hour / 2 * 2, 0)), &options()).unwrap_err();
    assert_eq!(far, WeatherError::Step { minutes: 120 });
}

#[test]
fn a_leap_day_is_dropped_and_noted() {
    let leap = ReadOptions {
        year: 2024,
        ..options()
    };
    let mut lines = plain_lines();
    let first_of_march = 1 + 59 * 24;
    for _ in 0..24 {
        lines.insert(first_of_march, "999,9,9".to_owned());
    }
    let year = read_csv(&bytes(&lines), &leap).unwrap();
    assert_eq!(
        year.dni_w_m2,
        read_csv(&bytes(&plain_lines()), &options())
            .unwrap()
            .dni_w_m2
    );
    assert_eq!(other_notes(&year), ["24 values of 29 February dropped"]);
    let error = read_csv(&bytes(&lines), &options()).unwrap_err();
    assert_eq!(error, WeatherError::NotAYear { found: 8784 });
}

#[test]
fn an_end_label_after_a_leap_day_belongs_to_it() {
    let mut lines = vec!["time,dni_w_m2,air_temperature_c,wind_speed_m_s".to_owned()];
    for hour in 0..HOURS + 24 {
        // midnight ends the day before, in a leap year counted day by day
        let day_of_leap_year = (hour + 1) / 24 % 366;
        let (month, day) = match day_of_leap_year {
            day if day < 59 => month_and_day(day),
            59 => (2, 29),
            day => month_and_day(day - 1),
        };
        let year = if hour + 1 == HOURS + 24 { 2025 } else { 2024 };
        lines.push(format!(
            "{year}-{month}-{day} {}:00,0,10,1",
            (hour + 1) % 24
        ));
    }
    let end = ReadOptions {
        label: Some(HourLabel::End),
        ..options()
    };
    let year = read_csv(&bytes(&lines), &end).unwrap();
    assert_eq!(other_notes(&year), ["24 values of 29 February dropped"]);
    assert_eq!(year.year, 2024);
}

#[test]
fn mixed_years_are_noted() {
    let mut lines = tmy3_lines();
    for line in &mut lines[2..2 + 31 * 24] {
        *line = line.replace("1999", "1988");
    }
    let (_, year) = read_tmy3(&bytes(&lines)).unwrap();
    assert_eq!(
        other_notes(&year),
        ["hours of the years 1988 to 1999; the sun is that of 1999"]
    );
}

#[test]
fn heads_that_lack_something_say_what() {
    let message = |error: WeatherError| error.to_string();
    let mut lines = epw_lines();
    lines[0] = lines[0].replace("40.0", "140.0");
    assert_eq!(
        message(read_epw(&bytes(&lines)).unwrap_err()),
        "line 1: latitude (deg) is \"140.0\", expected a number from -90 to 90"
    );
    let mut lines = epw_lines();
    lines[3] = lines[3].replace("1,1,Data", "1,7,Data");
    assert!(message(read_epw(&bytes(&lines)).unwrap_err()).starts_with("line 4: \"7\" records"));
    let mut lines = tmy3_lines();
    lines[1] = lines[1].replace("Wspd", "Wind");
    assert_eq!(
        message(read_tmy3(&bytes(&lines)).unwrap_err()),
        "line 2: column \"Wspd (m/s)\" is missing"
    );
    assert!(read_csv(b"", &options()).is_err());
    assert!(read_epw(b"").is_err());
    assert!(read_tmy3(b"").is_err());
}

#[test]
fn beam_out_of_step_with_the_sun_is_refused() {
    let mut lines = tmy3_lines();
    lines[0] = lines[0].replace("0.0,40.000", "-8.0,40.000");
    let error = read_tmy3(&bytes(&lines)).unwrap_err();
    assert!(matches!(error, WeatherError::OutOfStep { beam_centre_h, .. } if beam_centre_h > 7.0));
    let mut lines = tmy3_lines();
    lines[0] = lines[0].replace("0.0,40.000", "1.0,40.000");
    let (_, year) = read_tmy3(&bytes(&lines)).unwrap();
    let said = "h before the sun: times may be shifted";
    assert!(year.notes[1].ends_with(said), "{:?}", year.notes);
}

/// Six hours around 12:00 of the clock; the sun culminates 20 minutes later at 5° W.
#[test]
fn the_middle_of_the_beam_is_measured() {
    let (site, year) = read_epw(&bytes(&epw_lines())).unwrap();
    let west = Site {
        longitude_rad: -5f64.to_radians(),
        ..site
    };
    let found = timing(&west, &year).unwrap();
    for measured_h in [found.beam_centre_h, found.lag_h.unwrap()] {
        assert!((measured_h + 1.0 / 3.0).abs() < 0.05, "{found:?}");
    }
    assert!(found.dark_share == 0.0);
}
