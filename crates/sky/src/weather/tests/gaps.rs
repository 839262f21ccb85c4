//! Missing, repeated and impossible hours.

use super::*;
use crate::weather::*;

const BRIDGE: Gaps = Gaps::Bridge { max_hours: 3.0 };

/// Line of a TMY3 file that holds an hour.
fn line_of(hour: usize) -> u64 {
    hour as u64 + 3
}

fn set(lines: &mut [String], hour: usize, columns: &str) {
    let line = &mut lines[line_of(hour) as usize - 1];
    let date: Vec<&str> = line.splitn(3, ',').take(2).collect();
    *line = format!("{},{columns}", date.join(","));
}

fn problems(lines: &[String], gaps: Gaps) -> Vec<Problem> {
    match read_tmy3_with(&bytes(lines), gaps).unwrap_err() {
        WeatherError::Hours { problems, .. } => problems,
        other => panic!("{other}"),
    }
}

#[test]
fn every_problem_is_listed_with_its_line() {
    let mut lines = tmy3_lines();
    set(&mut lines, 10, "-9900,10,2");
    set(&mut lines, 20, "0,abc,2");
    set(&mut lines, 30, "0,10,-3");
    set(&mut lines, 40, "1500,99,2");
    set(&mut lines, 50, "0,10");
    lines[60 + 2] = lines[59 + 2].clone();
    let found = problems(&lines, Gaps::Refuse);
    let expected = [
        (
            line_of(10),
            Fault::Missing {
                column: "DNI (W/m^2)",
            },
        ),
        (
            line_of(20),
            Fault::NotANumber {
                column: "Dry-bulb (C)",
                text: "abc".to_owned(),
            },
        ),
        (
            line_of(30),
            Fault::Impossible {
                column: "Wspd (m/s)",
                value: -3.0,
                low: 0.0,
                high: 60.0,
            },
        ),
        (
            line_of(40),
            Fault::Impossible {
                column: "DNI (W/m^2)",
                value: 1500.0,
                low: -10.0,
                high: 1420.0,
            },
        ),
        (
            line_of(40),
            Fault::Impossible {
                column: "Dry-bulb (C)",
                value: 99.0,
                low: -70.0,
                high: 70.0,
            },
        ),
        (
            line_of(49),
            Fault::Absent {
                month: 1,
                day: 3,
                hour: 2,
                minute: 0,
                hours: 1.0,
            },
        ),
        (
            line_of(50),
            Fault::TooFewColumns {
                found: 4,
                needed: 5,
            },
        ),
        (
            line_of(59),
            Fault::Absent {
                month: 1,
                day: 3,
                hour: 12,
                minute: 0,
                hours: 1.0,
            },
        ),
        (
            line_of(60),
            Fault::Repeated {
                first_line: line_of(59),
            },
        ),
    ];
    let found: Vec<(u64, Fault)> = found
        .into_iter()
        .map(|problem| (problem.line, problem.fault))
        .collect();
    assert_eq!(found, expected);
}

#[test]
fn short_gaps_are_bridged_only_when_asked_and_counted() {
    let mut lines = tmy3_lines();
    set(&mut lines, 100, "0,,2.5");
    set(&mut lines, 101, "0,-9900,2.5");
    lines.remove(line_of(300) as usize - 1);
    assert_eq!(problems(&lines, Gaps::Refuse).len(), 3);
    let (_, year) = read_tmy3_with(&bytes(&lines), BRIDGE).unwrap();
    assert_eq!(
        other_notes(&year),
        [
            "DNI (W/m^2): 1 missing values bridged by straight lines",
            "Dry-bulb (C): 3 missing values bridged by straight lines",
            "Wspd (m/s): 1 missing values bridged by straight lines"
        ]
    );
    let before = year.air_temperature_k[99];
    let step = (year.air_temperature_k[102] - before) / 3.0;
    assert!((year.air_temperature_k[100] - before - step).abs() < 1e-9);
    assert!((year.air_temperature_k[101] - before - 2.0 * step).abs() < 1e-9);
}

#[test]
fn a_gap_over_new_year_is_one_run() {
    let mut lines = tmy3_lines();
    for hour in [HOURS - 2, HOURS - 1, 0, 1] {
        set(&mut lines, hour, "0,10,-9900");
    }
    let found = problems(&lines, BRIDGE);
    let fault = Fault::LongGap {
        column: "Wspd (m/s)",
        hours: 4.0,
        max_hours: 3.0,
    };
    assert_eq!(
        found,
        [Problem {
            line: line_of(HOURS - 3),
            fault
        }]
    );
    set(&mut lines, 1, "0,10,6.5");
    let (_, year) = read_tmy3_with(&bytes(&lines), BRIDGE).unwrap();
    for (hour, expected) in [(HOURS - 2, 3.5), (HOURS - 1, 4.5), (0, 5.5)] {
        assert!((year.wind_speed_m_s[hour] - expected).abs() < 1e-12);
    }
}

#[test]
fn impossible_values_are_bridged_only_when_asked_and_counted() {
    let mut lines = tmy3_lines();
    set(&mut lines, 100, "0,,2.5");
    set(&mut lines, 180, "5000,10,2.5");
    set(&mut lines, 203, "0,10,-1");
    assert_eq!(problems(&lines, Gaps::Refuse).len(), 3);
    let (_, year) = read_tmy3_with(&bytes(&lines), BRIDGE).unwrap();
    let notes = other_notes(&year);
    assert_eq!(notes[0], "2 impossible values taken as missing");
    assert_eq!(notes.len(), 4, "{notes:?}");
    assert!((year.dni_w_m2[180] - 0.5 * (year.dni_w_m2[179] + year.dni_w_m2[181])).abs() < 1e-9);
}

/// 1,361 W/m² at the mean distance is 1,316 W/m² in early July, when the sun is farthest (1.0167
/// astronomical units), and 1,408 W/m² in January (0.9833).
#[test]
fn beam_above_the_sun_outside_the_air_is_impossible() {
    let mut lines = tmy3_lines();
    set(&mut lines, 4 * 24 + 12, "1400,10,2.5");
    assert!(read_tmy3(&bytes(&lines)).is_ok());
    set(&mut lines, 184 * 24 + 12, "1400,10,2.5");
    let found = problems(&lines, Gaps::Refuse);
    assert_eq!(found.len(), 1, "{found:?}");
    assert_eq!(found[0].line, line_of(184 * 24 + 12));
    assert!(
        matches!(found[0].fault, Fault::Impossible { high, .. } if (1316.0..1340.0).contains(&high))
    );
}

#[test]
fn beam_at_night_is_refused_or_taken_as_nothing() {
    let mut lines = tmy3_lines();
    set(&mut lines, 2, "300,10,2.5");
    let fault = Fault::BeamAtNight {
        column: "DNI (W/m^2)",
        value: 300.0,
    };
    let line = line_of(2);
    assert_eq!(problems(&lines, Gaps::Refuse), [Problem { line, fault }]);
    let (_, year) = read_tmy3_with(&bytes(&lines), BRIDGE).unwrap();
    assert!(year.dni_w_m2[2] == 0.0);
    assert_eq!(other_notes(&year), ["1 values of beam at night taken as 0"]);
}

#[test]
fn damaged_text_is_never_bridged() {
    let mut lines = tmy3_lines();
    set(&mut lines, 100, "0,,2.5");
    set(&mut lines, 200, "7x0,10,2.5");
    let found = problems(&lines, BRIDGE);
    assert_eq!(found.len(), 1);
    assert!(matches!(found[0].fault, Fault::NotANumber { .. }));
}

#[test]
fn a_column_without_any_value_is_refused() {
    let mut lines = tmy3_lines();
    for hour in 0..HOURS {
        set(&mut lines, hour, "-9900,10,2");
    }
    let found = problems(
        &lines,
        Gaps::Bridge {
            max_hours: f64::INFINITY,
        },
    );
    assert_eq!(found.len(), 1);
    assert_eq!(found[0].line, 0);
}

#[test]
fn night_offsets_become_zero_and_are_noted() {
    let mut lines = tmy3_lines();
    set(&mut lines, 2, "-3,10,2");
    let (_, year) = read_tmy3(&bytes(&lines)).unwrap();
    assert!(year.dni_w_m2[2] == 0.0);
    assert_eq!(
        other_notes(&year),
        ["1 values of slightly negative beam taken as 0"]
    );
}

#[test]
fn missing_flags_of_each_format_are_known() {
    let mut lines = epw_lines();
    let hour = 4 + 500;
    lines[hour] = lines[hour].replace(",0,0,300,0,0,", ",0,0,300,0,9999,");
    lines[hour + 1] = lines[hour + 1]
        .replace("flags,31.0", "flags,99.9")
        .replace("flags,3", "flags,99.9,");
    let error = read_epw(&bytes(&lines)).unwrap_err();
    assert!(
        error
            .to_string()
            .contains("direct normal radiation (Wh/m2) is missing"),
        "{error}"
    );
    for flag in ["", "nan", "-9999", "9999"] {
        let mut lines = plain_lines();
        lines[700] = format!("0,10,{flag}");
        let error = read_csv(&bytes(&lines), &options()).unwrap_err();
        let fault = Fault::Missing {
            column: "wind_speed_m_s",
        };
        assert_eq!(
            error,
            WeatherError::Hours {
                problems: vec![Problem { line: 701, fault }],
                counted: Counted::Lines,
            }
        );
    }
}

#[test]
fn messages_spell_out_twenty_problems_and_count_the_rest() {
    let mut lines = tmy3_lines();
    for hour in 0..25 {
        set(&mut lines, hour, "x,10,2");
    }
    let message = read_tmy3(&bytes(&lines)).unwrap_err().to_string();
    assert!(message.starts_with("25 problems in the hours\n  line 3: DNI (W/m^2) is \"x\""));
    assert!(message.ends_with("and 5 more"), "{message}");
}
