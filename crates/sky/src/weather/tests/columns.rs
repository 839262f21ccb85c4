//! Plain weather handed over as columns.

use proptest::collection::vec;
use proptest::prelude::*;

use super::*;
use crate::weather::*;

const NAMES: [&str; 4] = ["time", "dni_w_m2", "air_temperature_c", "wind_speed_m_s"];

/// Seconds from 1970 to 1999.
const YEAR_1999_S: i64 = 915_148_800;

fn numbers(column: usize) -> ColumnValues {
    let number = |hour| values(hour)[column].parse().ok();
    ColumnValues::Numbers((0..HOURS).map(number).collect())
}

fn times(is_universal: bool) -> ColumnValues {
    let start_s = |hour| Some(YEAR_1999_S + 3600 * hour as i64);
    ColumnValues::Times {
        epoch_s: (0..HOURS).map(start_s).collect(),
        is_universal,
    }
}

fn named(columns: Vec<ColumnValues>) -> Vec<(String, ColumnValues)> {
    let names = NAMES[NAMES.len() - columns.len()..].iter();
    let names = names.map(|name| (*name).to_owned());
    names.zip(columns).collect()
}

fn whole() -> Vec<ColumnValues> {
    vec![numbers(0), numbers(1), numbers(2)]
}

fn timed(time: ColumnValues) -> Vec<(String, ColumnValues)> {
    let mut columns = whole();
    columns.insert(0, time);
    named(columns)
}

fn message(columns: &[(String, ColumnValues)]) -> String {
    read_columns(columns, &options()).unwrap_err().to_string()
}

#[test]
fn columns_and_text_mean_the_same_year() {
    let text = read_csv(&bytes(&plain_lines()), &options()).unwrap();
    let texts = |hour: usize| {
        let (month, day) = month_and_day(hour / 24);
        Some(format!("1999-{month:02}-{day:02} {:02}:00", hour % 24))
    };
    let texts = ColumnValues::Texts((0..HOURS).map(texts).collect());
    for columns in [
        named(whole()),
        timed(times(false)),
        timed(times(true)),
        timed(texts),
    ] {
        let years = read_columns(&columns, &options()).unwrap();
        assert_eq!(years.len(), 1);
        assert_eq!(years[0].dni_w_m2, text.dni_w_m2);
        assert_eq!(years[0].air_temperature_k, text.air_temperature_k);
        assert_eq!(years[0].wind_speed_m_s, text.wind_speed_m_s);
    }
}

#[test]
fn faults_are_told_by_their_rows() {
    let mut columns = timed(times(true));
    if let ColumnValues::Numbers(beam) = &mut columns[1].1 {
        beam[700] = None;
        beam[701] = Some(-50.0);
    }
    if let ColumnValues::Times { epoch_s, .. } = &mut columns[0].1 {
        epoch_s[800] = epoch_s[799];
        epoch_s[900] = Some(i64::MAX);
    }
    let told = message(&columns);
    for line in [
        "row 701: dni_w_m2 is missing",
        "row 702: dni_w_m2 is -50, outside -10 to 1420",
        "row 801: this hour was given on row 800",
        "row 901: no such hour: 9223372036854775807 s",
        "after row 800: 1 h absent",
    ] {
        assert!(told.contains(line), "{line}: {told}");
    }
}

#[test]
fn columns_that_do_not_fit_are_refused() {
    let lacking = named(whole())[..2].to_vec();
    assert_eq!(message(&lacking), "column \"wind_speed_m_s\" is missing");
    let mut short = named(whole());
    short[2].1 = ColumnValues::Numbers(vec![Some(1.0); 8759]);
    assert_eq!(message(&short), "columns differ in length");
    assert_eq!(
        message(&timed(numbers(0))),
        "column \"time\" holds numbers; dates or texts are wanted"
    );
    let mut dates = named(whole());
    dates[0].1 = times(false);
    assert!(message(&dates).contains("row 1: dni_w_m2 is \"a date\", not a number"));
}

/// Any column of `rows` values, most of them senseless.
fn any_column(rows: usize) -> impl Strategy<Value = ColumnValues> {
    let texts = prop::sample::select(vec!["", "nan", "700", "1999-01-01 00:00", "x", "1e999"]);
    let texts = texts.prop_map(|text| (!text.is_empty()).then(|| text.to_owned()));
    prop_oneof![
        vec(any::<Option<f64>>(), rows).prop_map(ColumnValues::Numbers),
        vec(texts, rows).prop_map(ColumnValues::Texts),
        (vec(any::<Option<i64>>(), rows), any::<bool>()).prop_map(|(epoch_s, is_universal)| {
            ColumnValues::Times {
                epoch_s,
                is_universal,
            }
        }),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 100, ..ProptestConfig::default() })]

    #[test]
    fn any_columns_are_survived(columns in (0_usize..60).prop_flat_map(|rows| vec(any_column(rows), 4))) {
        let columns = named(columns);
        prop_assert!(read_columns(&columns, &options()).is_err());
    }

    /// A column of a whole year with some values replaced by any others.
    #[test]
    fn damaged_columns_are_never_silently_wrong(
        damages in vec((0..HOURS, any::<Option<f64>>()), 1..4),
        is_bridged in any::<bool>(),
    ) {
        let sound = read_columns(&named(whole()), &options()).unwrap();
        let mut columns = named(whole());
        let mut changed = false;
        if let ColumnValues::Numbers(beam) = &mut columns[0].1 {
            for (hour, value) in damages {
                // a possible value in place of another is the one damage that no reader can see
                let is_possible = value.is_some_and(|value| (-10.0..=1420.0).contains(&value));
                if !is_possible {
                    beam[hour] = value;
                    changed = true;
                }
            }
        }
        let gaps = if is_bridged { Gaps::Bridge { max_hours: 5.0 } } else { Gaps::Refuse };
        match read_columns(&columns, &ReadOptions { gaps, ..options() }) {
            Ok(years) => prop_assert!(!changed || years[0].notes != sound[0].notes),
            Err(error) => prop_assert!(changed && !is_bridged, "{error}"),
        }
    }
}
