//! Plain columns of files that others wrote, sound and damaged.

use polars::prelude::{DataFrame, IntoColumn, NamedFrom, Series};
use polars_io::parquet::write::ParquetWriter;
use proptest::collection::vec;
use proptest::prelude::*;

use super::*;

const MAGIC: &[u8] = b"PAR1";

/// A file of numbers of several widths, texts and times.
fn file() -> Vec<u8> {
    let hours: Vec<i64> = (0..48).map(|hour| 3_600_000 * hour).collect();
    let times = Series::new("time".into(), &hours);
    let local = times
        .cast(&DataType::Datetime(TimeUnit::Milliseconds, None))
        .unwrap();
    let whole: Vec<i64> = (0..48).collect();
    let single: Vec<f32> = (0..48).map(|hour| hour as f32 / 4.0).collect();
    let gaps: Vec<Option<f64>> = (0..48).map(|hour| (hour != 7).then_some(0.5)).collect();
    let texts: Vec<String> = (0..48).map(|hour| format!("hour {hour}")).collect();
    let columns = [
        local,
        Series::new("whole".into(), &whole),
        Series::new("single".into(), &single),
        Series::new("gaps".into(), &gaps),
        Series::new("texts".into(), &texts),
    ];
    let columns = columns.map(IntoColumn::into_column).to_vec();
    let mut frame = DataFrame::new(48, columns).unwrap();
    let mut bytes = Vec::new();
    ParquetWriter::new(&mut bytes).finish(&mut frame).unwrap();
    bytes
}

#[test]
fn every_kind_of_column_is_read_by_name() {
    let wanted = ["whole", "nowhere", "time", "single", "gaps", "texts"];
    let found = plain_columns(&file(), &wanted).unwrap();
    let names: Vec<&str> = found.iter().map(|(name, _)| name.as_str()).collect();
    assert_eq!(names, ["whole", "time", "single", "gaps", "texts"]);
    let numbers = |place: usize| match &found[place].1 {
        PlainValues::Numbers(values) => values.clone(),
        other => panic!("{other:?}"),
    };
    assert_eq!(numbers(0)[47], Some(47.0));
    assert_eq!(numbers(2)[1], Some(0.25));
    assert_eq!(numbers(3)[6..9], [Some(0.5), None, Some(0.5)]);
    let hours = PlainValues::Times {
        epoch_s: (0..48).map(|hour| Some(3600 * hour)).collect(),
        is_universal: false,
    };
    assert_eq!(found[1].1, hours);
    assert!(
        matches!(&found[4].1, PlainValues::Texts(texts) if texts[3].as_deref() == Some("hour 3"))
    );
    assert_eq!(plain_columns(&file(), &["nowhere"]).unwrap(), []);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, ..ProptestConfig::default() })]

    #[test]
    fn any_bytes_between_the_marks_are_survived(inside in vec(any::<u8>(), 0..400)) {
        let bytes = [MAGIC, &inside, MAGIC].concat();
        prop_assert!(plain_columns(&bytes, &["time"]).is_err());
        prop_assert!(plain_columns(&inside, &["time"]).is_err());
    }

    #[test]
    fn damaged_files_are_survived(
        damages in vec((any::<prop::sample::Index>(), any::<u8>()), 1..4),
        end in any::<prop::sample::Index>(),
    ) {
        let mut bytes = file();
        for (place, byte) in damages {
            let place = place.index(bytes.len());
            bytes[place] = byte;
        }
        let _ = plain_columns(&bytes, &["time", "whole", "gaps", "texts"]);
        let _ = plain_columns(&bytes[..end.index(bytes.len())], &["time"]);
    }
}
