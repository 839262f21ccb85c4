//! The three columns every reader needs: names, possible values and missing flags.

use csv::ByteRecord;

use super::problem::{Fault, WeatherError};

/// Number of weather columns: beam, temperature, wind.
pub const COLUMNS: usize = 3;

/// Negative beam down to this [W/m²] is the night offset of an instrument, taken as 0.
const NIGHT_OFFSET_W_M2: f64 = -10.0;

/// One weather column of a file format.
#[derive(Debug, Clone, Copy)]
pub struct Column {
    /// Name with unit, as reported.
    pub name: &'static str,
    /// Lowest and highest possible value in the unit of the file.
    pub possible: [f64; 2],
    /// Whether a number stands for "missing".
    pub is_missing: fn(f64) -> bool,
    /// What to add to reach SI.
    pub si_offset: f64,
}

/// Numbers that stand for "missing" in many files.
pub fn is_nines(value: f64) -> bool {
    value <= -9999.0 || value >= 9999.0
}

/// Beam, temperature and wind of a format, in this order.
///
/// Beam cannot exceed the sun outside the air at its nearest (1,361 W/m² / 0.9833² and a margin);
/// temperature and wind stay within what the EPW format allows.
pub const fn columns(
    names: [&'static str; COLUMNS],
    is_missing: [fn(f64) -> bool; COLUMNS],
) -> [Column; COLUMNS] {
    let [beam, temperature, wind] = names;
    let [beam_missing, temperature_missing, wind_missing] = is_missing;
    [
        Column {
            name: beam,
            possible: [NIGHT_OFFSET_W_M2, 1420.0],
            is_missing: beam_missing,
            si_offset: 0.0,
        },
        Column {
            name: temperature,
            possible: [-70.0, 70.0],
            is_missing: temperature_missing,
            si_offset: 273.15,
        },
        Column {
            name: wind,
            possible: [0.0, 60.0],
            is_missing: wind_missing,
            si_offset: 0.0,
        },
    ]
}

impl Column {
    /// Value in SI of a field, or what is wrong with it.
    pub fn value(&self, text: &str) -> Result<f64, Fault> {
        let column = self.name;
        if text.is_empty() {
            return Err(Fault::Missing { column });
        }
        let not_a_number = || Fault::NotANumber {
            column,
            text: shortened(text),
        };
        self.number(text.parse().map_err(|_| not_a_number())?)
    }

    /// Value in SI of a number, or what is wrong with it.
    pub fn number(&self, value: f64) -> Result<f64, Fault> {
        let column = self.name;
        if value.is_nan() || (self.is_missing)(value) {
            return Err(Fault::Missing { column });
        }
        let [low, high] = self.possible;
        if !(low..=high).contains(&value) {
            return Err(Fault::Impossible {
                column,
                value,
                low,
                high,
            });
        }
        Ok(value + self.si_offset)
    }
}

/// Where the weather columns stand in a record.
#[derive(Debug, Clone, Copy)]
pub struct Layout {
    /// Position of beam, temperature and wind.
    pub positions: [usize; COLUMNS],
    /// Columns that a line must have at least.
    pub needed: usize,
}

impl Layout {
    /// Finds the weather columns by their names in the line that holds the names.
    pub fn find(
        line: u64,
        names: &[String],
        columns: &[Column; COLUMNS],
    ) -> Result<Self, WeatherError> {
        let [beam, temperature, wind] = columns.map(|column| position(line, names, column.name));
        let positions = [beam?, temperature?, wind?];
        Ok(Self {
            positions,
            needed: 1 + positions.into_iter().fold(0, usize::max),
        })
    }

    /// The same layout for lines that must also hold another column.
    pub fn reaching(self, position: usize) -> Self {
        Self {
            needed: self.needed.max(position + 1),
            ..self
        }
    }
}

/// Position of a named column.
pub fn position(line: u64, names: &[String], name: &str) -> Result<usize, WeatherError> {
    let found = names.iter().position(|found| found == name);
    found.ok_or_else(|| WeatherError::Head {
        line,
        what: format!("column \"{name}\" is missing"),
    })
}

/// All fields of the record at an index, none if it does not exist.
pub fn fields(records: &[(u64, ByteRecord)], index: usize) -> Vec<String> {
    let record = records.get(index).map(|(_, record)| record);
    let count = record.map_or(0, ByteRecord::len);
    record
        .into_iter()
        .flat_map(|record| (0..count).map(|index| field(record, index)))
        .collect()
}

/// Field of a record as trimmed text; bytes that are no UTF-8 are replaced.
pub fn field(record: &ByteRecord, index: usize) -> String {
    let bytes = record.get(index).unwrap_or_default();
    String::from_utf8_lossy(bytes).trim().to_owned()
}

/// Text short enough for a message.
pub fn shortened(text: &str) -> String {
    text.chars().take(40).collect()
}

/// Records of comma-separated bytes with the line each starts on. Lines may differ in length.
pub fn records(bytes: &[u8]) -> Vec<(u64, ByteRecord)> {
    csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .from_reader(bytes)
        .into_byte_records()
        .filter_map(Result::ok) // a reader of bytes in memory has no other errors
        .map(|record| (record.position().map_or(0, csv::Position::line), record))
        .collect()
}
