//! Damaged files are refused or read, never worse.

use proptest::collection::vec;
use proptest::prelude::*;

use super::*;
use crate::weather::*;

fn read_all(bytes: &[u8]) {
    for gaps in [Gaps::Refuse, Gaps::Bridge { max_hours: 5 }] {
        let options = CsvOptions {
            utc_offset_h: 1.0,
            year: 2024,
            label: HourLabel::End,
            gaps,
        };
        check(read_epw_with(bytes, gaps).map(|(_, year)| year));
        check(read_tmy3_with(bytes, gaps).map(|(_, year)| year));
        check(read_csv(bytes, &options));
    }
}

/// What is read is whole and possible; what is refused says why.
fn check(read: Result<WeatherYear, WeatherError>) {
    match read {
        Ok(year) => {
            for column in [
                &year.dni_w_m2,
                &year.air_temperature_k,
                &year.wind_speed_m_s,
            ] {
                assert_eq!(column.len(), HOURS);
                assert!(
                    column
                        .iter()
                        .all(|value| value.is_finite() && *value >= 0.0)
                );
            }
        }
        Err(error) => assert!(!error.to_string().is_empty()),
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 12, ..ProptestConfig::default() })]

    #[test]
    fn any_bytes_are_survived(bytes in vec(any::<u8>(), 0..400)) {
        read_all(&bytes);
    }

    #[test]
    fn mutated_files_are_survived(
        format in 0_usize..3,
        mutations in vec((any::<prop::sample::Index>(), any::<u8>()), 1..30),
        kept in 0.0_f64..1.5,
    ) {
        let lines = [epw_lines, tmy3_lines, plain_lines][format]();
        let mut bytes = bytes(&lines);
        for (place, byte) in mutations {
            let place = place.index(bytes.len());
            bytes[place] = byte;
        }
        let length = (kept * bytes.len() as f64) as usize;
        bytes.truncate(length);
        read_all(&bytes);
    }

    /// Damage to the head alone, where most of the structure is.
    #[test]
    fn mutated_heads_are_survived(
        format in 0_usize..3,
        mutations in vec((0_usize..200, any::<u8>()), 1..6),
    ) {
        let mut bytes = bytes(&[epw_lines, tmy3_lines, plain_lines][format]());
        for (place, byte) in mutations {
            bytes[place] = byte;
        }
        read_all(&bytes);
    }
}
