//! Plain weather in columns of our own naming, comma-separated or handed over as columns.

use csv::ByteRecord;

use super::assemble::{Around, Parsed};
use super::clock::Candidates;
use super::columns::{COLUMNS, Column, Layout, columns, field, fields, is_nines, records};
use super::problem::{Counted, Fault, WeatherError};
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
    parse_csv(bytes, options)?.year()
}

/// Takes a file apart.
pub fn parse_csv(bytes: &[u8], options: &ReadOptions) -> Result<Parsed, WeatherError> {
    let records = records(bytes);
    let names = fields(&records, 0);
    let mut layout = Layout::find(1, &names, &WEATHER)?;
    let lines = records.get(1..).unwrap_or_default();
    let time = names.iter().position(|name| name == TIME);
    let stamps = match time {
        Some(time) => {
            layout = layout.reaching(time);
            let texts = lines.iter().map(|(_, record)| field(record, time));
            Stamps::of_texts(texts, options.utc_offset_h)
        }
        None => Stamps::in_order(lines.len(), options.year)?,
    };
    let rows = lines.iter().zip(stamps.each);
    let row = |((line, record), stamp): (&(u64, ByteRecord), Result<Stamp, String>)| {
        Row::new(*line, record, &WEATHER, &layout, stamp)
    };
    Ok(Parsed {
        rows: rows.map(row).collect(),
        around: around(stamps.clock, Counted::Lines, options),
    })
}

/// Values of a column that is handed over instead of read from text; none where one is missing.
#[derive(Debug, Clone, PartialEq)]
pub enum ColumnValues {
    /// Numbers.
    Numbers(Vec<Option<f64>>),
    /// Texts.
    Texts(Vec<Option<String>>),
    /// Dates and times.
    Times {
        /// Seconds after 1970 began.
        epoch_s: Vec<Option<i64>>,
        /// Whether they are of universal time; otherwise of a clock that is not said.
        is_universal: bool,
    },
}

impl ColumnValues {
    fn len(&self) -> usize {
        match self {
            Self::Numbers(values) => values.len(),
            Self::Texts(values) => values.len(),
            Self::Times { epoch_s, .. } => epoch_s.len(),
        }
    }

    fn weather(&self, column: &Column, row: usize) -> Result<f64, Fault> {
        let missing = Err(Fault::Missing {
            column: column.name,
        });
        match self {
            Self::Numbers(values) => values[row].map_or(missing, |value| column.number(value)),
            Self::Texts(values) => match &values[row] {
                Some(text) => column.value(text.trim()),
                None => missing,
            },
            Self::Times { epoch_s, .. } => epoch_s[row].map_or(missing, |_| {
                Err(Fault::NotANumber {
                    column: column.name,
                    text: "a date".to_owned(),
                })
            }),
        }
    }

    fn stamps(&self, options: &ReadOptions) -> Result<Stamps, WeatherError> {
        match self {
            Self::Texts(texts) => {
                let texts = texts.iter().map(|text| text.clone().unwrap_or_default());
                Ok(Stamps::of_texts(texts, options.utc_offset_h))
            }
            Self::Times {
                epoch_s,
                is_universal,
            } => Ok(Stamps::of_epochs(
                epoch_s,
                *is_universal,
                options.utc_offset_h,
            )),
            Self::Numbers(_) => Err(WeatherError::Columns {
                what: format!("column \"{TIME}\" holds numbers; dates or texts are wanted"),
            }),
        }
    }
}

/// Reads weather from columns, named and meant as those of [`read_csv`], with every year that they
/// hold.
///
/// # Errors
/// [`WeatherError`] with every problem and its row.
pub fn read_columns(
    columns: &[(String, ColumnValues)],
    options: &ReadOptions,
) -> Result<Vec<WeatherYear>, WeatherError> {
    let find = |name: &str| {
        let found = columns.iter().find(|(found, _)| found == name);
        found.map(|(_, values)| values)
    };
    let wanted = |column: &Column| {
        find(column.name).ok_or_else(|| WeatherError::Columns {
            what: format!("column \"{}\" is missing", column.name),
        })
    };
    let [beam, temperature, wind] = &WEATHER;
    let weather = [wanted(beam)?, wanted(temperature)?, wanted(wind)?];
    let count = weather[0].len();
    let time = find(TIME);
    if weather
        .iter()
        .copied()
        .chain(time)
        .any(|column| column.len() != count)
    {
        return Err(WeatherError::Columns {
            what: "columns differ in length".to_owned(),
        });
    }
    let stamps = match time {
        Some(time) => time.stamps(options)?,
        None => Stamps::in_order(count, options.year)?,
    };
    let value = |row: usize, column: usize| weather[column].weather(&WEATHER[column], row);
    let rows = stamps.each.into_iter().enumerate().map(|(row, stamp)| Row {
        line: row as u64 + 1,
        stamp,
        values: Ok(std::array::from_fn(|column| value(row, column))),
    });
    let rows = rows.collect();
    let around = around(stamps.clock, Counted::Rows, options);
    Parsed { rows, around }.years()
}

fn around(clock: ToldClock, counted: Counted, options: &ReadOptions) -> Around {
    let clock = Candidates {
        label: options
            .label
            .or((clock == ToldClock::InOrder).then_some(Default::default())),
        shown_offset_h: (clock != ToldClock::Unsaid).then_some(options.utc_offset_h),
        delay_h: 0.0,
        utc_offset_h: options.utc_offset_h,
    };
    Around {
        columns: WEATHER,
        counted,
        site: options.site,
        clock,
        fallback_year: options.year,
        gaps: options.gaps,
    }
}

/// When rows are, in local standard time where that is known.
struct Stamps {
    /// The time of each row, or the text that names none.
    each: Vec<Result<Stamp, String>>,
    clock: ToldClock,
}

/// What rows tell about their clock.
#[derive(PartialEq, Eq)]
enum ToldClock {
    /// Nothing: the rows are the hours of a year in their order.
    InOrder,
    /// Times without an offset.
    Unsaid,
    /// Times with an offset, moved to local standard time.
    Said,
}

impl Stamps {
    /// Times as texts, with or without an offset.
    fn of_texts(texts: impl Iterator<Item = String>, utc_offset_h: f64) -> Self {
        let mut clock = ToldClock::Unsaid;
        let stamp = |text: String| {
            let (stamp, says_zone) = local_stamp(&text, utc_offset_h).ok_or(text)?;
            if says_zone {
                clock = ToldClock::Said;
            }
            Ok(stamp)
        };
        let each = texts.map(stamp).collect();
        Self { each, clock }
    }

    /// Times counted in seconds after 1970 began.
    fn of_epochs(epoch_s: &[Option<i64>], is_universal: bool, utc_offset_h: f64) -> Self {
        let to_local_min = (utc_offset_h * 60.0).round() as i32;
        let stamp = |epoch_s: &Option<i64>| {
            let epoch_s = epoch_s.ok_or_else(String::new)?;
            let stamp = Stamp::of_epoch(epoch_s).ok_or_else(|| format!("{epoch_s} s"))?;
            Ok(if is_universal {
                stamp.later(to_local_min)
            } else {
                stamp
            })
        };
        Self {
            each: epoch_s.iter().map(stamp).collect(),
            clock: if is_universal {
                ToldClock::Said
            } else {
                ToldClock::Unsaid
            },
        }
    }

    /// The hours of a year in their order.
    fn in_order(count: usize, year: i32) -> Result<Self, WeatherError> {
        let has_leap_day = count == HOURS + 24 && calendar::is_leap_year(year);
        if count != HOURS && !has_leap_day {
            return Err(WeatherError::NotAYear { found: count });
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
        Ok(Self {
            each: (0..count).map(stamp).collect(),
            clock: ToldClock::InOrder,
        })
    }
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
