//! Round trips, the file's description and sameness of bytes.

use super::*;
use crate::columns::{COLUMNS, Kind};
use proptest::prelude::*;

fn meta() -> FileMeta {
    FileMeta {
        scenario_hash: "5f2c".into(),
        seed: 7,
        format_version: 1,
        currency: "USD".into(),
    }
}

fn filled(kind: TableKind, rows: u32) -> Table {
    let mut table = Table::new(kind);
    for column in kind.columns() {
        let data = match column.kind {
            Kind::Number => Data::numbers((0..rows).map(|row| f64::from(row) * 0.1)),
            Kind::Count => Data::counts(0..rows),
            Kind::Text => Data::texts((0..rows).map(|row| format!("text {row}"))),
            Kind::Flag => Data::Flag((0..rows).map(|row| Some(row % 2 == 0)).collect()),
        };
        match column.family_prefix() {
            Some(prefix) => {
                table.push_family(&format!("{prefix}side_m"), "m", "Mirror side.", data);
            }
            None => table.push(column.name, data),
        }
    }
    table
}

#[test]
fn every_table_comes_back_as_it_went() {
    for kind in TableKind::ALL {
        for rows in [0, 1, 400] {
            let table = filled(kind, rows);
            let (back, key) = read_parquet(&parquet_bytes(&table, &meta()).unwrap()).unwrap();
            assert_eq!(back, table, "{}", kind.name());
            assert_eq!((key.seed, key.format_version), (7, 1));
            assert_eq!(key.scenario_hash, "5f2c");
        }
    }
}

#[test]
fn missing_values_stay_missing_and_are_not_nan() {
    let mut table = filled(TableKind::Designs, 2);
    for (_, data) in &mut table.columns {
        match data {
            Data::Number(values) => values[1] = None,
            Data::Text(values) => values[1] = None,
            Data::Count(values) => values[1] = None,
            Data::Flag(values) => values[1] = None,
        }
    }
    let (back, _) = read_parquet(&parquet_bytes(&table, &meta()).unwrap()).unwrap();
    assert_eq!(back, table);
}

#[test]
fn the_key_names_each_column_with_unit_type_and_currency() {
    let bytes = parquet_bytes(&filled(TableKind::Designs, 3), &meta()).unwrap();
    let (_, key) = read_parquet(&bytes).unwrap();
    let find = |name: &str| key.columns.iter().find(|c| c.name == name).unwrap().clone();
    assert_eq!(find("cost_per_kwh").unit, "USD/kWh");
    assert_eq!(find("design_side_m").unit, "m");
    assert_eq!(find("status").kind, "text");
    assert_eq!(find("row").kind, "u32");
    assert!(!find("peak_flux_w_m2").description.is_empty());
}

/// Readers of old run folders rely on these names, units and types: a change here is a
/// change of the format version.
#[test]
fn the_schema_is_the_agreed_one() {
    let mut lines = String::new();
    for kind in TableKind::ALL {
        for c in kind.columns() {
            lines += &format!(
                "{} {} [{}] {}\n",
                kind.name(),
                c.name,
                c.unit,
                c.kind.name()
            );
        }
    }
    let agreed = include_str!("schema.txt");
    assert_eq!(
        lines, agreed,
        "declared columns on the left, agreed ones on the right"
    );
    assert!(COLUMNS.iter().all(|c| c.description.ends_with('.')));
}

#[test]
fn a_table_is_one_row_group() {
    let bytes = parquet_bytes(&filled(TableKind::Bill, 300_000), &meta()).unwrap();
    let mut reader = ParquetReader::new(Cursor::new(bytes.as_slice()));
    assert_eq!(reader.get_metadata().unwrap().row_groups.len(), 1);
    assert_eq!(reader.num_rows().unwrap(), 300_000);
}

#[test]
fn same_table_same_bytes() {
    let table = filled(TableKind::Hours, 8760);
    let first = parquet_bytes(&table, &meta()).unwrap();
    assert_eq!(first, parquet_bytes(&table, &meta()).unwrap());
    let other_thread = std::thread::spawn(move || parquet_bytes(&table, &meta()).unwrap());
    assert_eq!(first, other_thread.join().unwrap());
}

#[test]
fn foreign_bytes_are_refused() {
    assert!(matches!(
        read_parquet(b"no such thing"),
        Err(ReportError::Parquet(_))
    ));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(32))]
    #[test]
    fn any_finite_numbers_and_texts_come_back(
        rows in proptest::collection::vec(
            (proptest::option::of(-1e300..1e300f64), proptest::option::of(".{0,12}")), 0..40)
    ) {
        let mut table = filled(TableKind::Bill, rows.len() as u32);
        table.columns[0].1 = Data::Text(rows.iter().map(|row| row.1.clone()).collect());
        table.columns[3].1 = Data::Number(rows.iter().map(|row| row.0).collect());
        let (back, _) = read_parquet(&parquet_bytes(&table, &meta()).unwrap()).unwrap();
        prop_assert_eq!(back, table);
    }
}
