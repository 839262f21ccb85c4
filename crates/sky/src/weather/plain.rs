//! Plain comma-separated weather in columns of our own naming.

use super::builder::{Slot, YearBuilder, slot};
use super::columns::{COLUMNS, Column, Layout, columns, field, fields, records};
use super::problem::WeatherError;
use super::{Gaps, WeatherYear};
use crate::calendar::{self, HOURS};

/// Numbers that stand for "missing" in many loggers' files.
fn is_missing(value: f64) -> bool {
    value <= -9999.0 || value >= 9999.0
}

const WEATHER: [Column; COLUMNS] = columns(
    ["dni_w_m2", "air_temperature_c", "wind_speed_m_s"],
    [is_missing, is_missing, is_missing],
);

const TIME: &str = "time";

/// What a time in the file marks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum HourLabel {
    /// The start of the hour that the values belong to.
    #[default]
    Start,
    /// Its middle.
    Middle,
    /// Its end.
    End,
}

impl HourLabel {
    /// From the start of the hour to the label, minutes.
    fn minutes(self) -> i32 {
        match self {
            Self::Start => 0,
            Self::Middle => 30,
            Self::End => 60,
        }
    }
}

/// What a plain file does not say itself.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CsvOptions {
    /// Local standard time less universal time, hours.
    pub utc_offset_h: f64,
    /// Year of a file without times.
    pub year: i32,
    /// What the times mark.
    pub label: HourLabel,
    /// What to do about missing values.
    pub gaps: Gaps,
}

/// Reads plain weather: a line of column names, then one line an hour.
///
/// Columns, in any order, others being left alone: `dni_w_m2`; `air_temperature_c`;
/// `wind_speed_m_s` 10 m above ground; optionally `time` as `2023-01-31 13:00` or
/// `2023-01-31T13:00` in local standard time without any shift for summer. Without `time`, lines
/// are the hours of the year in order, 8,760 of them, or 8,784 of a leap year. Empty fields, `nan`
/// and numbers of at least ±9999 count as missing.
///
/// The site is not in the file; compare with the sun by [`super::timing()`].
///
/// # Errors
/// [`WeatherError`] with every problem of the hours and its line.
pub fn read_csv(bytes: &[u8], options: &CsvOptions) -> Result<WeatherYear, WeatherError> {
    let records = records(bytes);
    let names = fields(&records, 0);
    let time = names.iter().position(|name| name == TIME);
    let layout = Layout::find(1, &names, &WEATHER)?;
    let rows = records.get(1..).unwrap_or_default();
    let mut builder = YearBuilder::new(WEATHER);
    if let Some(time) = time {
        for (line, record) in rows {
            let text = field(record, time);
            let hour = labelled_hour(&text, options.label).ok_or(text);
            builder.add_line(*line, record, &layout.reaching(time), hour);
        }
    } else {
        let slots = hours_in_order(rows.len(), options.year)?;
        for ((line, record), slot) in rows.iter().zip(slots) {
            builder.add_line(*line, record, &layout, Ok((options.year, slot)));
        }
    }
    builder.finish(options.utc_offset_h, options.year, options.gaps, Vec::new())
}

/// Hours of a file without times, in its order.
fn hours_in_order(found: usize, year: i32) -> Result<Vec<Slot>, WeatherError> {
    let leap_day = calendar::hours_of_month(2).start;
    match found {
        HOURS => Ok((0..HOURS).map(Slot::Hour).collect()),
        _ if found == HOURS + 24 && calendar::is_leap_year(year) => {
            let before = (0..leap_day).map(Slot::Hour);
            let after = (leap_day..HOURS).map(Slot::Hour);
            Ok(before.chain([Slot::LeapDay; 24]).chain(after).collect())
        }
        _ => Err(WeatherError::NotAYear { found }),
    }
}

/// Year and hour that a time `YYYY-MM-DD HH:MM` labels.
fn labelled_hour(text: &str, label: HourLabel) -> Option<(i32, Slot)> {
    let (date, clock) = text.split_once(['T', ' '])?;
    let mut date = date.splitn(3, '-').map(str::parse::<u32>);
    let (year, month, day) = (date.next()?.ok()?, date.next()?.ok()?, date.next()?.ok()?);
    let year = i32::try_from(year).ok()?;
    let minutes = minutes_of_clock(clock)? - label.minutes();
    if minutes % 60 != 0 {
        return None;
    }
    if minutes < 0 {
        let noon = slot(year, month, day, 12)?;
        return Some(last_hour_before(noon, year));
    }
    let hour = u32::try_from(minutes / 60).ok()?;
    Some((year, slot(year, month, day, hour)?))
}

/// Minutes after midnight of `HH:MM` or `HH:MM:00`, up to 24:00.
fn minutes_of_clock(clock: &str) -> Option<i32> {
    let mut parts = clock.split(':');
    let hours: i32 = parts.next()?.parse().ok()?;
    let minutes: i32 = parts.next()?.parse().ok()?;
    let seconds = parts.next().unwrap_or("00");
    let valid = (0..=24).contains(&hours)
        && (0..60).contains(&minutes)
        && hours * 60 + minutes <= 1440
        && seconds.parse() == Ok(0)
        && parts.next().is_none();
    valid.then_some(hours * 60 + minutes)
}

/// Year and last hour of the day before the one that holds `noon`.
fn last_hour_before(noon: Slot, year: i32) -> (i32, Slot) {
    let first_of_march = calendar::hours_of_month(2).start;
    let midnight = match noon {
        Slot::LeapDay => return (year, Slot::Hour(first_of_march - 1)),
        Slot::Hour(hour) => hour / 24 * 24,
    };
    match midnight {
        0 => (year - 1, Slot::Hour(HOURS - 1)),
        _ if midnight == first_of_march && calendar::is_leap_year(year) => (year, Slot::LeapDay),
        _ => (year, Slot::Hour(midnight - 1)),
    }
}
