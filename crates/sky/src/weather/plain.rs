//! Plain comma-separated weather in columns of our own naming.

use csv::ByteRecord;

use super::assemble::{Around, assemble};
use super::clock::Candidates;
use super::columns::{COLUMNS, Column, Layout, columns, field, fields, is_nines, records};
use super::problem::WeatherError;
use super::rows::Row;
use super::stamp::{Stamp, clock};
use super::{ReadOptions, WeatherYear};
use crate::calendar::{self, DAYS, HOURS};

const WEATHER: [Column; COLUMNS] = columns(
    ["dni_w_m2", "air_temperature_c", "wind_speed_m_s"],
    [is_nines, is_nines, is_nines],
);

const TIME: &str = "time";

/// Reads plain weather: a line of column names, then one line an hour or shorter step.
///
/// Columns, in any order, others being left alone: `dni_w_m2`; `air_temperature_c`;
/// `wind_speed_m_s` 10 m above ground; optionally `time` as `2023-01-31 13:00` or
/// `2023-01-31T13:00`, followed by `Z` or an offset like `+01:00` where the clock is not that of
/// local standard time. Without `time`, lines are the hours of the year in order, 8,760 of them, or
/// 8,784 of a leap year. Empty fields, `nan` and numbers of at least ±9999 count as missing.
///
/// What the file does not say is taken from `options`; what neither says, whether times start,
/// halve or end their interval and whether they are universal time, is chosen so that the beam
/// keeps step with the sun, and noted.
///
/// # Errors
/// [`WeatherError`] with every problem of the rows and its line.
pub fn read_csv(bytes: &[u8], options: &ReadOptions) -> Result<WeatherYear, WeatherError> {
    let records = records(bytes);
    let names = fields(&records, 0);
    let layout = Layout::find(1, &names, &WEATHER)?;
    let lines = records.get(1..).unwrap_or_default();
    let time = names.iter().position(|name| name == TIME);
    let (rows, has_zone) = match time {
        Some(time) => timed_rows(lines, &layout.reaching(time), time, options.utc_offset_h),
        None => (rows_in_order(lines, &layout, options.year)?, true),
    };
    let clock = Candidates {
        label: options
            .label
            .or(time.is_none().then_some(Default::default())),
        shown_offset_h: has_zone.then_some(options.utc_offset_h),
        delay_h: 0.0,
        utc_offset_h: options.utc_offset_h,
    };
    assemble(
        rows,
        &Around {
            columns: WEATHER,
            site: options.site,
            clock,
            fallback_year: options.year,
            gaps: options.gaps,
        },
    )
}

type Lines = [(u64, ByteRecord)];

/// Rows with times, and whether any says its own offset; such rows are moved to local time.
fn timed_rows(lines: &Lines, layout: &Layout, time: usize, utc_offset_h: f64) -> (Vec<Row>, bool) {
    let mut has_zone = false;
    let row = |(line, record): &(u64, ByteRecord)| {
        let text = field(record, time);
        let stamp = local_stamp(&text, utc_offset_h);
        has_zone |= stamp.is_some_and(|(_, says_zone)| says_zone);
        let stamp = stamp.map(|(stamp, _)| stamp).ok_or(text);
        Row::new(*line, record, &WEATHER, layout, stamp)
    };
    let rows = lines.iter().map(row).collect();
    (rows, has_zone)
}

/// A time moved to local standard time if it says its offset, and whether it does.
fn local_stamp(text: &str, utc_offset_h: f64) -> Option<(Stamp, bool)> {
    let (date, time) = text.split_once(['T', ' '])?;
    let mut date = date.splitn(3, '-').map(str::parse::<u32>);
    let (year, month, day) = (date.next()?.ok()?, date.next()?.ok()?, date.next()?.ok()?);
    let sign_at = time.find(['+', '-', 'Z']).unwrap_or(time.len());
    let (time, zone) = time.split_at(sign_at);
    let (hour, minute) = clock(time.trim_end())?;
    let stamp = Stamp::new(i32::try_from(year).ok()?, month, day, hour, minute)?;
    if zone.is_empty() {
        return Some((stamp, false));
    }
    let to_local_min = (utc_offset_h * 60.0).round() as i32 - zone_min(zone)?;
    (to_local_min.abs() < 1440).then(|| (stamp.later(to_local_min), true))
}

/// Minutes ahead of universal time of `Z`, `+01:00` or `-0730`.
fn zone_min(zone: &str) -> Option<i32> {
    if zone == "Z" {
        return Some(0);
    }
    let sign = if zone.starts_with('-') { -1 } else { 1 };
    let digits: String = zone.get(1..)?.split(':').collect();
    let number: i32 = digits.parse().ok()?;
    let (hours, minutes) = (number / 100, number % 100);
    (digits.len() == 4 && number >= 0 && hours <= 14 && minutes < 60)
        .then_some(sign * (hours * 60 + minutes))
}

/// Rows without times: the hours of a year in their order.
fn rows_in_order(lines: &Lines, layout: &Layout, year: i32) -> Result<Vec<Row>, WeatherError> {
    let has_leap_day = lines.len() == HOURS + 24 && calendar::is_leap_year(year);
    if lines.len() != HOURS && !has_leap_day {
        return Err(WeatherError::NotAYear { found: lines.len() });
    }
    let first_of_march = calendar::hours_of_month(2).start / 24;
    let stamp = |hour: usize| {
        let (day, hour) = (hour / 24, (hour % 24) as u32);
        let (month, day) = match day {
            day if has_leap_day && day == first_of_march => (2, 29),
            day if has_leap_day && day > first_of_march => calendar::month_and_day(day - 1),
            day => calendar::month_and_day(day % DAYS),
        };
        Stamp::new(year, month, day, hour, 0).ok_or_else(|| format!("year {year}"))
    };
    let rows = lines.iter().enumerate();
    let row = |(hour, (line, record)): (usize, &(u64, ByteRecord))| {
        Row::new(*line, record, &WEATHER, layout, stamp(hour))
    };
    Ok(rows.map(row).collect())
}
