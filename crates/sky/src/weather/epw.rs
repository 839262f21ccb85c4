//! EPW: the weather format of building simulation (EnergyPlus Auxiliary Programs, "EnergyPlus
//! Weather File (EPW) Data Dictionary"; column order and missing flags from memory, checked
//! against real files).

use csv::ByteRecord;

use super::assemble::{Around, Parsed};
use super::clock::{Candidates, HourLabel};
use super::columns::{COLUMNS, Column, Layout, columns, field, records, shortened};
use super::place::PlaceColumns;
use super::problem::{Counted, WeatherError};
use super::pvgis;
use super::rows::{HOUR_MIN, Row};
use super::stamp::Stamp;
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

/// Positions of year, month, day, hour and minute.
const DATE: [usize; 5] = [0, 1, 2, 3, 4];

/// Name that starts the first line.
pub const FIRST: &str = "LOCATION";

/// Reads an EPW file; any gap is refused.
///
/// Hour `n` (1 … 24) of a day covers local standard time `n - 1` to `n`; with several rows an hour,
/// minutes end their intervals. The wind is measured 10 m above ground. Files written by PVGIS
/// state an offset of the irradiance in a comment; their rows are instants, read as
/// [`super::read_pvgis`] does, of universal time if the beam asks for it.
///
/// # Errors
/// [`WeatherError`] with every problem of the rows and its line.
pub fn read_epw(bytes: &[u8]) -> Result<(Site, WeatherYear), WeatherError> {
    read_epw_with(bytes, Gaps::Refuse)
}

/// Reads an EPW file as [`read_epw`] does, with a choice about gaps.
///
/// # Errors
/// [`WeatherError`] with every problem of the rows and its line.
pub fn read_epw_with(bytes: &[u8], gaps: Gaps) -> Result<(Site, WeatherYear), WeatherError> {
    let parsed = parse(bytes, gaps)?;
    Ok((parsed.around.site, parsed.year()?))
}

/// Takes a file apart.
pub fn parse(bytes: &[u8], gaps: Gaps) -> Result<Parsed, WeatherError> {
    let records = records(bytes);
    let (site, utc_offset_h) = location(&records)?;
    let Head { length, step_min } = head(&records)?;
    let (head, lines) = records.split_at(length);
    let instants_h = pvgis::stated(head, pvgis::TIME_OFFSET, [-1.0, 1.0])?;
    let rows = lines.iter().map(|(line, record)| {
        let stamp = start(record, step_min).ok_or_else(|| date_text(record));
        let stamp = match instants_h {
            Some(_) => stamp,
            None => stamp.map(|stamp| stamp.later(step_min)),
        };
        Row::new(*line, record, &WEATHER, &LAYOUT, stamp)
    });
    let interval = Candidates::stated(HourLabel::End, utc_offset_h);
    let clock = instants_h.map_or(interval, |after_end_h| Candidates {
        label: Some(HourLabel::Middle),
        shown_offset_h: None,
        delay_h: 1.0 + after_end_h,
        utc_offset_h,
    });
    let around = Around {
        counted: Counted::Lines,
        columns: WEATHER,
        site,
        clock,
        fallback_year: 0,
        gaps,
    };
    Ok(Parsed {
        rows: rows.collect(),
        around,
    })
}

fn location(records: &[(u64, ByteRecord)]) -> Result<(Site, f64), WeatherError> {
    match records
        .first()
        .filter(|(_, record)| field(record, 0) == FIRST)
    {
        Some((line, record)) => PLACE.read(*line, record),
        None => {
            let what = "an EPW file starts with LOCATION".to_owned();
            Err(WeatherError::Head { line: 1, what })
        }
    }
}

/// What the head of a file says about the rest.
struct Head {
    /// Number of records up to and including DATA PERIODS.
    length: usize,
    /// Minutes from row to row.
    step_min: i32,
}

fn head(records: &[(u64, ByteRecord)]) -> Result<Head, WeatherError> {
    let is_last = |(_, record): &(u64, ByteRecord)| field(record, 0) == "DATA PERIODS";
    let Some(index) = records.iter().position(is_last) else {
        let what = "the head of an EPW file ends with DATA PERIODS, which is missing".to_owned();
        return Err(WeatherError::Head { line: 1, what });
    };
    let (line, record) = &records[index];
    let per_hour = field(record, 2);
    let divides = |rows: &usize| *rows > 0 && HOUR_MIN.is_multiple_of(*rows);
    let Some(rows) = per_hour.parse().ok().filter(divides) else {
        let per_hour = shortened(&per_hour);
        let what = format!("\"{per_hour}\" records per hour do not divide it");
        return Err(WeatherError::Head { line: *line, what });
    };
    Ok(Head {
        length: index + 1,
        step_min: (HOUR_MIN / rows) as i32,
    })
}

/// Start of a row's interval. Hourly rows may give any minute, since 0 and 60 are both in use.
fn start(record: &ByteRecord, step_min: i32) -> Option<Stamp> {
    let date = DATE.map(|index| field(record, index).parse::<u32>().ok());
    let [year, month, day, hour, minute] = date;
    let year = i32::try_from(year?).ok()?;
    let step_min = u32::try_from(step_min).ok()?;
    let end = if step_min == 60 { 60 } else { minute? };
    let start = end.checked_sub(step_min)?;
    Stamp::new(year, month?, day?, hour?.checked_sub(1)?, start)
}

fn date_text(record: &ByteRecord) -> String {
    let [year, month, day, hour, minute] = DATE.map(|index| field(record, index));
    format!("{year}-{month}-{day} hour {hour} minute {minute}")
}
