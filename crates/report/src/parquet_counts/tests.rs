//! Files that tell of absurd counts: refused before room is made for them.

use polars::prelude::{DataFrame, IntoColumn, NamedFrom, Series};
use polars_io::parquet::write::ParquetWriter;

use super::*;
use crate::plain_columns;

fn file() -> Vec<u8> {
    let whole: Vec<i64> = (0..48).map(|hour| hour * hour).collect();
    let texts: Vec<String> = (0..48).map(|hour| format!("hour {hour}")).collect();
    let columns = [
        Series::new("whole".into(), &whole),
        Series::new("texts".into(), &texts),
    ];
    let columns = columns.map(IntoColumn::into_column).to_vec();
    let mut frame = DataFrame::new(48, columns).unwrap();
    let mut bytes = Vec::new();
    ParquetWriter::new(&mut bytes).finish(&mut frame).unwrap();
    bytes
}

/// The fields that are judged are where the files of the library have their counts.
#[test]
fn rows_values_and_pages_are_found_in_files_of_the_library() {
    let bytes = file();
    let seen = std::cell::RefCell::new(Vec::new());
    let note = |path: &[i16], value: i64| {
        seen.borrow_mut().push((path.to_vec(), value));
        true
    };
    let length = bytes[bytes.len() - 8..].first_chunk::<4>().unwrap();
    let length = u32::from_le_bytes(*length) as usize;
    let footer = &bytes[bytes.len() - 8 - length..bytes.len() - 8];
    assert_eq!(Walk::through(footer, &note), Some(length));
    for path in [vec![3], vec![4, 3], vec![4, 1, 3, 5]] {
        let found = seen.borrow().iter().any(|pair| *pair == (path.clone(), 48));
        assert!(found, "{path:?} in {:?}", seen.borrow());
    }
    seen.borrow_mut().clear();
    assert!(Walk::through(&bytes[4..], &note).is_some());
    assert!(seen.borrow().iter().any(|(path, _)| path == &[2]));
    assert!(guarded(&bytes, |_| Ok(())).is_ok());
}

/// Each byte in turn is laid to one of several values. An unsound count that got through would ask
/// for more memory than there is and end the whole run of tests.
#[test]
fn no_single_damaged_byte_ends_the_program() {
    let sound = file();
    for place in 0..sound.len() {
        for value in [0xff, 0x7f, 0x80, 0x10, sound[place] ^ 0x40] {
            let mut bytes = sound.clone();
            bytes[place] = value;
            let _ = plain_columns(&bytes, &["whole", "texts"]);
        }
    }
}

#[test]
fn absurd_rows_are_refused_in_words() {
    // A structure with one field, rows (3, whole number of eight bytes), 2^60.
    let rows = [
        0x36, 0x80, 0x80, 0x80, 0x80, 0x80, 0x80, 0x80, 0x80, 0x20, 0,
    ];
    let mut bytes = [MAGIC, &rows].concat();
    bytes.extend((rows.len() as u32).to_le_bytes());
    bytes.extend(MAGIC);
    let error = guarded(&bytes, |_| Ok(())).unwrap_err();
    assert!(error.to_string().contains("20000000 rows"), "{error}");
}
