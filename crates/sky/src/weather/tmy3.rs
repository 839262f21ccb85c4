//! TMY3: typical years of the United States as comma-separated text (S. Wilcox, W. Marion,
//! "Users Manual for TMY3 Data Sets", NREL/TP-581-43156, 2008).

use csv::ByteRecord;

use super::assemble::{Around, Parsed};
use super::clock::{Candidates, HourLabel};
use super::columns::{COLUMNS, Column, Layout, columns, field, fields, position, records};
use super::place::PlaceColumns;
use super::problem::{Counted, WeatherError};
use super::rows::Row;
use super::stamp::{Stamp, clock};
use super::{Gaps, WeatherYear};
use crate::site::Site;

/// The number that stands for "missing".
fn is_missing(value: f64) -> bool {
    value <= -9900.0
}

const WEATHER: [Column; COLUMNS] = columns(
    ["DNI (W/m^2)", "Dry-bulb (C)", "Wspd (m/s)"],
    [is_missing, is_missing, is_missing],
);

const PLACE: PlaceColumns = PlaceColumns {
    latitude: 4,
    longitude: 5,
    time_zone: 3,
    elevation: 6,
};

/// Name of the date column.
pub const DATE: &str = "Date (MM/DD/YYYY)";
const TIME: &str = "Time (HH:MM)";

/// Reads a TMY3 file; any gap is refused.
///
/// The time of a row is the end of its hour in local standard time, 01:00 … 24:00. Columns are
/// found by their names, so a file reduced to the date, the time and the three weather columns is
/// read too.
///
/// # Errors
/// [`WeatherError`] with every problem of the hours and its line.
pub fn read_tmy3(bytes: &[u8]) -> Result<(Site, WeatherYear), WeatherError> {
    read_tmy3_with(bytes, Gaps::Refuse)
}

/// Reads a TMY3 file as [`read_tmy3`] does, with a choice about gaps.
///
/// # Errors
/// [`WeatherError`] with every problem of the hours and its line.
pub fn read_tmy3_with(bytes: &[u8], gaps: Gaps) -> Result<(Site, WeatherYear), WeatherError> {
    let parsed = parse(bytes, gaps)?;
    Ok((parsed.around.site, parsed.year()?))
}

/// Takes a file apart.
pub fn parse(bytes: &[u8], gaps: Gaps) -> Result<Parsed, WeatherError> {
    let records = records(bytes);
    let (site, utc_offset_h) = station(&records)?;
    let names = fields(&records, 1);
    let (date, time) = (position(2, &names, DATE)?, position(2, &names, TIME)?);
    let layout = Layout::find(2, &names, &WEATHER)?
        .reaching(date)
        .reaching(time);
    let rows = records.iter().skip(2).map(|(line, record)| {
        let (date, time) = (field(record, date), field(record, time));
        let stamp = stamp(&date, &time).ok_or_else(|| format!("{date} {time}"));
        Row::new(*line, record, &WEATHER, &layout, stamp)
    });
    let around = Around {
        counted: Counted::Lines,
        columns: WEATHER,
        site,
        clock: Candidates::stated(HourLabel::End, utc_offset_h),
        fallback_year: 0,
        gaps,
    };
    Ok(Parsed {
        rows: rows.collect(),
        around,
    })
}

fn station(records: &[(u64, ByteRecord)]) -> Result<(Site, f64), WeatherError> {
    match records.first().filter(|(_, record)| record.len() >= 7) {
        Some((line, record)) => PLACE.read(*line, record),
        None => {
            let what = "a TMY3 file starts with code, name, state, time zone, latitude, longitude \
                        and elevation";
            Err(WeatherError::Head {
                line: 1,
                what: what.to_owned(),
            })
        }
    }
}

/// Date MM/DD/YYYY and time HH:MM.
fn stamp(date: &str, time: &str) -> Option<Stamp> {
    let mut parts = date.split('/');
    let (month, day) = (parts.next()?.parse().ok()?, parts.next()?.parse().ok()?);
    let year = parts.next()?.parse().ok()?;
    let (hour, minute) = clock(time)?;
    if parts.next().is_some() {
        return None;
    }
    Stamp::new(year, month, day, hour, minute)
}
