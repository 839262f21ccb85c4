//! NSRDB: the national solar radiation data base of the United States as comma-separated text
//! (M. Sengupta et al., "The National Solar Radiation Data Base (NSRDB)", Renewable and Sustainable
//! Energy Reviews 89, 51-60, 2018; layout checked against real files).

use csv::ByteRecord;

use super::WeatherYear;
use super::assemble::{Around, Parsed};
use super::clock::{Candidates, HourLabel};
use super::columns::{
    COLUMNS, Column, Layout, columns, field, fields, is_nines, position, records,
};
use super::gaps::Gaps;
use super::place::PlaceColumns;
use super::problem::{Counted, WeatherError};
use super::rows::Row;
use super::stamp::Stamp;
use crate::site::Site;

const WEATHER: [Column; COLUMNS] = columns(
    ["DNI", "Temperature", "Wind Speed"],
    [is_nines, is_nines, is_nines],
);

/// Names of the date and time columns.
const TIMES: [&str; 5] = ["Year", "Month", "Day", "Hour", "Minute"];

/// Name that starts the first line.
pub const FIRST: &str = "Source";

/// Reads a file of the NSRDB: a line of names and a line of values about the place, then a line of
/// column names and one row an hour, half-hour or shorter step; any gap is refused.
///
/// Values belong to the instant of their row (the file's own solar zenith angles and the course of
/// the beam agree with that); each is given the time from half a step before to half a step after,
/// and the yearly sum is kept. `Time Zone` says the clock of the rows, `Local Time Zone` that of
/// the place. The height of the wind is not stated; it is taken as 10 m.
///
/// # Errors
/// [`WeatherError`] with every problem of the rows and its line.
pub fn read_nsrdb(bytes: &[u8]) -> Result<(Site, WeatherYear), WeatherError> {
    read_nsrdb_with(bytes, Gaps::Refuse)
}

/// Reads a file of the NSRDB as [`read_nsrdb`] does, with a choice about gaps.
///
/// # Errors
/// [`WeatherError`] with every problem of the rows and its line.
pub fn read_nsrdb_with(bytes: &[u8], gaps: Gaps) -> Result<(Site, WeatherYear), WeatherError> {
    let parsed = parse(bytes, gaps)?;
    Ok((parsed.around.site, parsed.year()?))
}

/// Takes a file apart.
pub fn parse(bytes: &[u8], gaps: Gaps) -> Result<Parsed, WeatherError> {
    let records = records(bytes);
    let (site, utc_offset_h, shown_offset_h) = place(&records)?;
    let names = fields(&records, 2);
    let mut times = [0; TIMES.len()];
    for (time, name) in times.iter_mut().zip(TIMES) {
        *time = position(3, &names, name)?;
    }
    let layout = times
        .into_iter()
        .fold(Layout::find(3, &names, &WEATHER)?, Layout::reaching);
    let row = |(line, record): &(u64, ByteRecord)| {
        Row::new(*line, record, &WEATHER, &layout, stamp(record, times))
    };
    let around = Around {
        counted: Counted::Lines,
        columns: WEATHER,
        site,
        clock: Candidates {
            label: Some(HourLabel::Middle),
            shown_offset_h: Some(shown_offset_h),
            delay_h: 0.0,
            utc_offset_h,
        },
        fallback_year: 0,
        gaps,
    };
    let rows = records.iter().skip(3).map(row).collect();
    Ok(Parsed { rows, around })
}

/// Site, offset of its standard time and offset of the rows' clock, hours.
fn place(records: &[(u64, ByteRecord)]) -> Result<(Site, f64, f64), WeatherError> {
    let names = fields(records, 0);
    let Some((line, values)) = records.get(1).filter(|_| names[0] == FIRST) else {
        let what = format!("a file of the NSRDB starts with a line of names, \"{FIRST}\" first");
        return Err(WeatherError::Head { line: 1, what });
    };
    let columns = |time_zone: &str| -> Result<PlaceColumns, WeatherError> {
        Ok(PlaceColumns {
            latitude: position(1, &names, "Latitude")?,
            longitude: position(1, &names, "Longitude")?,
            time_zone: position(1, &names, time_zone)?,
            elevation: position(1, &names, "Elevation")?,
        })
    };
    let (site, utc_offset_h) = columns("Local Time Zone")?.read(*line, values)?;
    let (_, shown_offset_h) = columns("Time Zone")?.read(*line, values)?;
    Ok((site, utc_offset_h, shown_offset_h))
}

fn stamp(record: &ByteRecord, times: [usize; TIMES.len()]) -> Result<Stamp, String> {
    let texts = times.map(|time| field(record, time));
    let [year, month, day, hour, minute] = texts.each_ref().map(|text| text.parse::<u32>().ok());
    let stamp = || {
        let year = i32::try_from(year?).ok()?;
        Stamp::new(year, month?, day?, hour?, minute?)
    };
    stamp().ok_or_else(|| texts.join("-"))
}
