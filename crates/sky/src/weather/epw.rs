//! EPW: the weather format of building simulation (EnergyPlus Auxiliary Programs, "EnergyPlus
//! Weather File (EPW) Data Dictionary"; column order and missing flags from memory, checked
//! against real files).

use csv::ByteRecord;

use super::builder::{Slot, YearBuilder, slot};
use super::columns::{COLUMNS, Column, Layout, columns, field, records, shortened};
use super::place::PlaceColumns;
use super::problem::WeatherError;
use super::timing::keep_step;
use super::{Gaps, WeatherYear};
use crate::site::Site;

const WEATHER: [Column; COLUMNS] = columns(
    [
        "direct normal radiation (Wh/m2)",
        "dry bulb temperature (degC)",
        "wind speed (m/s)",
    ],
    [
        |value| value >= 9999.0,
        |value| value >= 99.9,
        |value| value >= 999.0,
    ],
);

const LAYOUT: Layout = Layout {
    positions: [14, 6, 21],
    needed: 22,
};

const PLACE: PlaceColumns = PlaceColumns {
    latitude: 6,
    longitude: 7,
    time_zone: 8,
    elevation: 9,
};

/// Positions of year, month, day and hour.
const DATE: [usize; 4] = [0, 1, 2, 3];

/// Reads an EPW file; any gap is refused.
///
/// Hour `n` (1 … 24) of a day covers local standard time `n - 1` to `n`; the wind is measured
/// 10 m above ground.
///
/// # Errors
/// [`WeatherError`] with every problem of the hours and its line.
pub fn read_epw(bytes: &[u8]) -> Result<(Site, WeatherYear), WeatherError> {
    read_epw_with(bytes, Gaps::Refuse)
}

/// Reads an EPW file as [`read_epw`] does, with a choice about gaps.
///
/// # Errors
/// [`WeatherError`] with every problem of the hours and its line.
pub fn read_epw_with(bytes: &[u8], gaps: Gaps) -> Result<(Site, WeatherYear), WeatherError> {
    let records = records(bytes);
    let (site, utc_offset_h) = location(&records)?;
    let head = head_length(&records)?;
    let mut builder = YearBuilder::new(WEATHER);
    for (line, record) in &records[head..] {
        builder.add_line(
            *line,
            record,
            &LAYOUT,
            hour(record).ok_or_else(|| date_text(record)),
        );
    }
    let mut weather = builder.finish(utc_offset_h, 0, gaps, Vec::new())?;
    keep_step(&site, &mut weather)?;
    Ok((site, weather))
}

fn location(records: &[(u64, ByteRecord)]) -> Result<(Site, f64), WeatherError> {
    match records
        .first()
        .filter(|(_, record)| field(record, 0) == "LOCATION")
    {
        Some((_, record)) => PLACE.read(record),
        None => {
            let what = "an EPW file starts with LOCATION".to_owned();
            Err(WeatherError::Head { line: 1, what })
        }
    }
}

/// Number of lines up to and including the DATA PERIODS line, which must promise hourly values.
fn head_length(records: &[(u64, ByteRecord)]) -> Result<usize, WeatherError> {
    let is_last = |(_, record): &(u64, ByteRecord)| field(record, 0) == "DATA PERIODS";
    let Some(index) = records.iter().position(is_last) else {
        let what = "the head of an EPW file ends with DATA PERIODS, which is missing".to_owned();
        return Err(WeatherError::Head { line: 1, what });
    };
    let (line, record) = &records[index];
    let per_hour = field(record, 2);
    if per_hour.parse() != Ok(1) {
        let per_hour = shortened(&per_hour);
        let what = format!("\"{per_hour}\" records per hour; only hourly files are read");
        return Err(WeatherError::Head { line: *line, what });
    }
    Ok(index + 1)
}

fn hour(record: &ByteRecord) -> Option<(i32, Slot)> {
    let [year, month, day, end] = DATE.map(|index| field(record, index).parse::<u32>().ok());
    let year = i32::try_from(year?).ok()?;
    Some((year, slot(year, month?, day?, end?.checked_sub(1)?)?))
}

fn date_text(record: &ByteRecord) -> String {
    let [year, month, day, hour] = DATE.map(|index| field(record, index));
    format!("{year}-{month}-{day} hour {hour}")
}
