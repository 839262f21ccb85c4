//! PVGIS: hourly and typical years of the European Commission's photovoltaic geographical
//! information system as comma-separated text (PVGIS user manual, "TMY" and "hourly data"; layout
//! of typical years checked against a real file, that of two-axis hourly data from memory).

use csv::ByteRecord;

use super::assemble::{Around, Parsed};
use super::clock::{Candidates, HourLabel};
use super::columns::{COLUMNS, Column, Layout, columns, field, fields, is_nines, records};
use super::problem::{Counted, WeatherError};
use super::rows::Row;
use super::stamp::Stamp;
use super::{ReadOptions, WeatherYear};
use crate::site::Site;

/// Columns of a typical year.
const TYPICAL: [Column; COLUMNS] =
    columns(["Gb(n)", "T2m", "WS10m"], [is_nines, is_nines, is_nines]);

/// Columns of hourly data; on a plane that follows the sun in two axes, the beam on the plane is
/// the direct normal irradiance.
const TRACKED: [Column; COLUMNS] =
    columns(["Gb(i)", "T2m", "WS10m"], [is_nines, is_nines, is_nines]);

/// Name of the time column, with or without `(UTC)` behind it.
const TIME: &str = "time";
const TIME_UTC: &str = "time(UTC)";

/// What the head may state, by the beginning of the line.
const LATITUDE: &str = "Latitude (decimal degrees):";
const LONGITUDE: &str = "Longitude (decimal degrees):";
const ELEVATION: &str = "Elevation (m):";
/// The offset of the irradiance, which files in EPW layout state too.
pub const TIME_OFFSET: &str = "Irradiance Time Offset (h):";

/// Reads a typical year (`Gb(n)`), or hourly data of one year on a plane that follows the sun in
/// two axes (`Gb(i)`).
///
/// Times are universal time and mark an instant; irradiance belongs to an instant that is later by
/// the offset which the head of a typical year states. Each value is given the time from half a
/// step before to half a step after its instant, and so moved into the hours of the standard time
/// in `options`; the yearly sum is kept. A head without a place leaves that to `options` too.
///
/// # Errors
/// [`WeatherError`] with every problem of the rows and its line.
pub fn read_pvgis(
    bytes: &[u8],
    options: &ReadOptions,
) -> Result<(Site, WeatherYear), WeatherError> {
    let parsed = parse(bytes, options)?;
    Ok((parsed.around.site, parsed.year()?))
}

/// Takes a file apart.
pub fn parse(bytes: &[u8], options: &ReadOptions) -> Result<Parsed, WeatherError> {
    let records = records(bytes);
    let names_at = names_index(&records)?;
    let (head, rest) = records.split_at(names_at);
    let names = fields(rest, 0);
    let line = rest.first().map_or(1, |(line, _)| *line);
    let columns = beam_columns(line, head, &names)?;
    let layout = Layout::find(line, &names, &columns)?;
    let rows = rest
        .iter()
        .skip(1)
        .take_while(|(_, record)| !is_legend(record))
        .map(|(line, record)| {
            let text = field(record, 0);
            Row::new(*line, record, &columns, &layout, stamp(&text).ok_or(text))
        });
    let site = place(head, options.site)?;
    let clock = Candidates {
        label: Some(HourLabel::Middle),
        shown_offset_h: Some(0.0),
        delay_h: stated(head, TIME_OFFSET, [-1.0, 1.0])?.unwrap_or(0.0),
        utc_offset_h: options.utc_offset_h,
    };
    let around = Around {
        counted: Counted::Lines,
        columns,
        site,
        clock,
        fallback_year: options.year,
        gaps: options.gaps,
    };
    Ok(Parsed {
        rows: rows.collect(),
        around,
    })
}

type Lines = [(u64, ByteRecord)];

/// Whether a record names the columns.
pub fn is_names(record: &ByteRecord) -> bool {
    [TIME, TIME_UTC].contains(&field(record, 0).as_str())
}

fn names_index(records: &Lines) -> Result<usize, WeatherError> {
    let index = records.iter().position(|(_, record)| is_names(record));
    index.ok_or_else(|| WeatherError::Head {
        line: 1,
        what: format!("no line of column names that starts with {TIME} or {TIME_UTC}"),
    })
}

/// Beam normal to the sun, from whichever column holds it.
fn beam_columns(
    line: u64,
    head: &Lines,
    names: &[String],
) -> Result<[Column; COLUMNS], WeatherError> {
    let has = |column: &Column| names.iter().any(|name| name == column.name);
    let follows_sun = head.iter().any(|(_, record)| {
        let text = field(record, 0).to_lowercase();
        text.contains("two") && text.contains("axis") || text.contains("2-axis")
    });
    if has(&TYPICAL[0]) || !has(&TRACKED[0]) {
        return Ok(TYPICAL);
    }
    if follows_sun {
        return Ok(TRACKED);
    }
    let what = "Gb(i) is beam on a plane that does not follow the sun in two axes; ask for hourly \
                data with two-axis tracking or for a typical year"
        .to_owned();
    Err(WeatherError::Head { line, what })
}

/// Lines after the data explain the columns.
fn is_legend(record: &ByteRecord) -> bool {
    let text = field(record, 0);
    text.contains(": ") || text.starts_with("PVGIS")
}

/// Place of the head; without any, that of the options.
fn place(head: &Lines, otherwise: Site) -> Result<Site, WeatherError> {
    let latitude_deg = stated(head, LATITUDE, [-90.0, 90.0])?;
    let longitude_deg = stated(head, LONGITUDE, [-180.0, 180.0])?;
    let altitude_m = stated(head, ELEVATION, [-500.0, 9000.0])?;
    match (latitude_deg, longitude_deg) {
        (Some(latitude_deg), Some(longitude_deg)) => Ok(Site {
            latitude_rad: latitude_deg.to_radians(),
            longitude_rad: longitude_deg.to_radians(),
            altitude_m: altitude_m.unwrap_or(otherwise.altitude_m),
        }),
        (None, None) => Ok(otherwise),
        _ => Err(WeatherError::Head {
            line: 1,
            what: format!("\"{LATITUDE}\" and \"{LONGITUDE}\" belong together, one is missing"),
        }),
    }
}

/// Number that a line of the head states after its name; none without such a line.
pub fn stated(
    head: &Lines,
    name: &str,
    [low, high]: [f64; 2],
) -> Result<Option<f64>, WeatherError> {
    let find = |(line, record): &(u64, ByteRecord)| {
        let texts = (0..record.len()).map(|index| field(record, index));
        let mut after = texts.filter_map(|text| Some(text.split_once(name)?.1.trim().to_owned()));
        after.next().map(|text| (*line, text))
    };
    let Some((line, text)) = head.iter().find_map(find) else {
        return Ok(None);
    };
    let number = text
        .parse()
        .ok()
        .filter(|value| (low..=high).contains(value));
    let what = || format!("{name} \"{text}\", expected a number from {low} to {high}");
    let number = number.ok_or_else(|| WeatherError::Head { line, what: what() })?;
    Ok(Some(number))
}

/// Time `YYYYMMDD:HHMM`.
fn stamp(text: &str) -> Option<Stamp> {
    let (date, time) = text.split_once(':')?;
    if date.len() != 8 || time.len() != 4 {
        return None;
    }
    let number = |text: Option<&str>| text?.parse::<u32>().ok();
    let year = i32::try_from(number(date.get(..4))?).ok()?;
    let (month, day) = (number(date.get(4..6))?, number(date.get(6..))?);
    Stamp::new(
        year,
        month,
        day,
        number(time.get(..2))?,
        number(time.get(2..))?,
    )
}
