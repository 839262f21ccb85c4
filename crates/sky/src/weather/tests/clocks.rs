//! Steps shorter than an hour, and what times mean by the sun's word.

use super::*;
use crate::weather::*;

const UNSAID: fn() -> ReadOptions = || ReadOptions {
    label: None,
    ..options()
};

/// A plain file whose row `n` is stamped `first_min + n · step` and holds one of the beams.
fn stamped(beam: &[f64], first_min: usize, step_min: usize, zone: &str) -> Vec<u8> {
    let mut text = "time,dni_w_m2,air_temperature_c,wind_speed_m_s\n".to_owned();
    for (row, beam) in beam.iter().enumerate() {
        let minute = (first_min + row * step_min) % (HOURS * 60);
        let year = 1999 + (first_min + row * step_min) / (HOURS * 60);
        let (month, day) = month_and_day(minute / 1440);
        let (hour, minute) = (minute / 60 % 24, minute % 60);
        let temperature = row % 30;
        text.push_str(&format!(
            "{year}-{month:02}-{day:02}T{hour:02}:{minute:02}{zone},{beam:.3},{temperature},2\n"
        ));
    }
    text.into_bytes()
}

fn sum(values: &[f64]) -> f64 {
    values.iter().sum()
}

#[test]
fn short_steps_are_averaged_by_energy() {
    for step_min in [5, 10, 15, 30] {
        let beam = clear_beam(0.0, step_min);
        let year = read_csv(&stamped(&beam, 0, step_min, ""), &UNSAID()).unwrap();
        let per_hour = 60 / step_min;
        for hour in [12, 4000, 8750] {
            let rows = &beam[hour * per_hour..(hour + 1) * per_hour];
            let mean = sum(rows) / per_hour as f64;
            assert!(
                (year.dni_w_m2[hour] - mean).abs() < 1e-3,
                "{step_min} {hour}"
            );
        }
        assert!((sum(&year.dni_w_m2) * per_hour as f64 / sum(&beam) - 1.0).abs() < 1e-6);
        let note = format!("values every {step_min} min averaged to hours");
        assert_eq!(other_notes(&year), [note]);
    }
}

#[test]
fn labels_are_found_by_the_sun() {
    let beam = clear_beam(0.0, 60);
    let at_start = read_csv(&stamped(&beam, 0, 60, ""), &UNSAID()).unwrap();
    let at_end = read_csv(&stamped(&beam, 60, 60, ""), &UNSAID()).unwrap();
    let in_middle = read_csv(&stamped(&beam, 30, 60, ""), &UNSAID()).unwrap();
    assert_eq!(at_start.dni_w_m2, at_end.dni_w_m2);
    assert_eq!(at_start.dni_w_m2, in_middle.dni_w_m2);
    assert_eq!(at_start.notes[0], "times start their 60 min in UTC");
    assert_eq!(
        at_end.notes[0],
        "times end their 60 min in UTC, as the beam asks for"
    );
    assert_eq!(
        in_middle.notes[0],
        "times are in the middle of their 60 min in UTC"
    );
}

/// A site on the meridian that keeps the time of another zone, its file that of Greenwich.
#[test]
fn universal_time_is_found_by_the_sun_and_moved() {
    let options = ReadOptions {
        utc_offset_h: 3.0,
        ..UNSAID()
    };
    let beam = clear_beam(0.0, 60);
    let year = read_csv(&stamped(&beam, 0, 60, ""), &options).unwrap();
    assert_eq!(
        year.notes[0],
        "times start their 60 min in UTC, moved to UTC+3, as the beam asks for"
    );
    assert!((year.dni_w_m2[15] - beam[12]).abs() < 1e-3);
    assert!((year.dni_w_m2[2 + 24 * 200] - beam[24 * 200 - 1]).abs() < 1e-3);
    for zone in ["Z", "+00:00"] {
        let stated = read_csv(&stamped(&beam, 0, 60, zone), &options).unwrap();
        assert_eq!(stated.dni_w_m2, year.dni_w_m2);
        assert_eq!(stated.notes[0], "times start their 60 min in UTC+3");
    }
}

#[test]
fn a_beam_that_suits_no_reading_is_kept_as_labelled_and_noted() {
    let late = clear_beam(-0.75, 60);
    let year = read_csv(&stamped(&late, 0, 60, ""), &UNSAID()).unwrap();
    assert_eq!(year.notes[0], "times start their 60 min in UTC");
    let said = "the beam comes 0.7";
    assert!(year.notes[1].starts_with(said), "{:?}", year.notes);
}

/// Half-hourly instants lie astride the hours: sums stay, and no beam is moved into the night.
#[test]
fn instants_are_shared_between_hours() {
    let options = ReadOptions {
        label: Some(HourLabel::Middle),
        ..options()
    };
    let beam = clear_beam(-0.25, 30);
    let year = read_csv(&stamped(&beam, 0, 30, ""), &options).unwrap();
    assert!((sum(&year.dni_w_m2) / (0.5 * sum(&beam)) - 1.0).abs() < 1e-6);
    let found = timing(&site(), &year).unwrap();
    assert!(found.lag_h.unwrap().abs() < 0.05, "{found:?}");
    assert!(found.dark_share == 0.0, "{found:?}");
}

#[test]
fn lag_is_measured_to_a_twentieth_of_an_hour_at_any_step() {
    for (step_min, late_h) in [(60, 0.0), (60, 0.9), (60, -0.75), (30, 0.7), (5, -0.4)] {
        let hours = read_csv(
            &stamped(&clear_beam(-late_h, step_min), 0, step_min, ""),
            &options(),
        );
        let lag_h = timing(&site(), &hours.unwrap()).unwrap().lag_h.unwrap();
        assert!(
            (lag_h - late_h).abs() < 0.05,
            "{step_min} {late_h}: {lag_h}"
        );
    }
}

/// Two years in a row, the second with half the beam, told apart however their times are read: in
/// universal time an hour of each end belongs to another year, which closes the circle.
#[test]
fn several_years_are_kept_apart() {
    let beam = clear_beam(0.0, 60);
    let halved = beam.iter().map(|beam| 0.5 * beam);
    let both: Vec<f64> = beam.iter().copied().chain(halved).collect();
    for zone in ["", "Z", "+01:00", "-01:00"] {
        let text = String::from_utf8(stamped(&both, 0, 60, zone)).unwrap();
        // no year with a leap day among them
        let text = text.replace("1999-", "1997-").replace("2000-", "1998-");
        let options = ReadOptions {
            utc_offset_h: 0.0,
            ..UNSAID()
        };
        let years = read_weather(text.as_bytes(), None, &options);
        let years = years
            .unwrap_or_else(|error| panic!("{zone}: {error}"))
            .years;
        assert_eq!(years.len(), 2, "{zone}");
        assert_eq!([years[0].year, years[1].year], [1997, 1998]);
        let all = sum(&years[0].dni_w_m2) + sum(&years[1].dni_w_m2);
        assert!((all / sum(&both) - 1.0).abs() < 1e-6, "{zone}");
        let share = sum(&years[1].dni_w_m2) / sum(&years[0].dni_w_m2);
        assert!((share - 0.5).abs() < 1e-6, "{zone}: {share}");
    }
}

/// Every problem of every year is told, by its line.
#[test]
fn problems_of_all_years_are_told_together() {
    let beam = clear_beam(0.0, 60);
    let twice: Vec<f64> = beam.iter().chain(&beam).copied().collect();
    let text = String::from_utf8(stamped(&twice, 0, 60, "")).unwrap();
    let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
    let first_value = lines.len() - 2 * HOURS;
    for hour in [100, HOURS + 100] {
        lines[first_value + hour] += "x";
    }
    let error = read_weather(&bytes(&lines), None, &UNSAID()).unwrap_err();
    let WeatherError::Hours { problems, .. } = error else {
        panic!("{error}")
    };
    let lines: Vec<u64> = problems.iter().map(|problem| problem.line).collect();
    let line = (first_value + 101) as u64;
    assert_eq!(lines, [line, line + HOURS as u64]);
}

#[test]
fn files_of_several_years_are_refused_by_name() {
    let beam = clear_beam(0.0, 60);
    let twice: Vec<f64> = beam.iter().chain(&beam).copied().collect();
    let error = read_csv(&stamped(&twice, 0, 60, ""), &UNSAID()).unwrap_err();
    assert_eq!(
        error,
        WeatherError::SeveralYears {
            first: 1999,
            last: 2000
        }
    );
}
