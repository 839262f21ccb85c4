//! From rows of a file to a checked year: places, problems and gaps.

use std::collections::BTreeSet;
use std::ops::RangeInclusive;

use csv::ByteRecord;

use super::columns::{COLUMNS, Column, Layout, field, shortened};
use super::problem::{Fault, Problem, WeatherError};
use super::{Gaps, WeatherYear};
use crate::calendar::{self, HOURS};

/// Years a weather file may carry.
const YEARS: RangeInclusive<i32> = 1800..=2200;

/// An hour of the calendar.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Slot {
    /// Hour of the 365-day year.
    Hour(usize),
    /// An hour of 29 February, which the 365-day year leaves out.
    LeapDay,
}

/// The hour that starts `hour` (0 … 23) hours after midnight of a date, if it exists.
pub fn slot(year: i32, month: u32, day: u32, hour: u32) -> Option<Slot> {
    if hour > 23 || !YEARS.contains(&year) {
        return None;
    }
    if month == 2 && day == 29 && calendar::is_leap_year(year) {
        return Some(Slot::LeapDay);
    }
    calendar::day_of_year(month, day).map(|day| Slot::Hour(day * 24 + hour as usize))
}

/// Collects the rows of a file.
pub struct YearBuilder {
    columns: [Column; COLUMNS],
    values: [Vec<Option<f64>>; COLUMNS],
    line_of_hour: Vec<Option<u64>>,
    years: BTreeSet<i32>,
    first_year: Option<i32>,
    leap_hours: usize,
    problems: Vec<Problem>,
}

impl YearBuilder {
    /// A year without any hour yet.
    pub fn new(columns: [Column; COLUMNS]) -> Self {
        Self {
            columns,
            values: std::array::from_fn(|_| vec![None; HOURS]),
            line_of_hour: vec![None; HOURS],
            years: BTreeSet::new(),
            first_year: None,
            leap_hours: 0,
            problems: Vec::new(),
        }
    }

    /// Adds a line: the hour that its date gives, or the text of a date that gives none.
    pub fn add_line(
        &mut self,
        line: u64,
        record: &ByteRecord,
        layout: &Layout,
        hour: Result<(i32, Slot), String>,
    ) {
        if record.len() < layout.needed {
            let fault = Fault::TooFewColumns {
                found: record.len(),
                needed: layout.needed,
            };
            return self.report(line, fault);
        }
        match hour {
            Ok((year, slot)) => {
                let texts = layout.positions.map(|position| field(record, position));
                self.add_hour(line, year, slot, &texts);
            }
            Err(text) => self.report(
                line,
                Fault::NoSuchHour {
                    text: shortened(&text),
                },
            ),
        }
    }

    fn report(&mut self, line: u64, fault: Fault) {
        self.problems.push(Problem { line, fault });
    }

    fn add_hour(&mut self, line: u64, year: i32, slot: Slot, texts: &[String; COLUMNS]) {
        self.first_year.get_or_insert(year);
        self.years.insert(year);
        let Slot::Hour(hour) = slot else {
            self.leap_hours += 1;
            return;
        };
        if let Some(first_line) = self.line_of_hour[hour] {
            return self.report(line, Fault::Repeated { first_line });
        }
        self.line_of_hour[hour] = Some(line);
        for (column, text) in texts.iter().enumerate() {
            match self.columns[column].value(text) {
                Ok(value) => self.values[column][hour] = Some(value),
                Err(fault) => self.report(line, fault),
            }
        }
    }

    /// The year, if every hour is there or may be bridged.
    pub fn finish(
        mut self,
        utc_offset_h: f64,
        fallback_year: i32,
        gaps: Gaps,
        mut notes: Vec<String>,
    ) -> Result<WeatherYear, WeatherError> {
        self.note_years(&mut notes);
        match gaps {
            Gaps::Refuse => self.report_absent(),
            Gaps::Bridge { max_hours } => self.bridge(max_hours, &mut notes),
        }
        if !self.problems.is_empty() {
            self.problems.sort_by_key(|problem| problem.line);
            return Err(WeatherError::Hours {
                problems: self.problems,
            });
        }
        let year = self.first_year.unwrap_or(fallback_year);
        let [beam, temperature, wind] = self.values.map(|values| values.into_iter().flatten());
        let dni_w_m2 = without_night_offset(beam, &mut notes);
        let air_temperature_k = temperature.collect();
        let wind_speed_m_s = wind.collect();
        Ok(WeatherYear {
            utc_offset_h,
            year,
            dni_w_m2,
            air_temperature_k,
            wind_speed_m_s,
            notes,
        })
    }

    fn note_years(&self, notes: &mut Vec<String>) {
        if let (Some(first), Some(last), Some(used)) =
            (self.years.first(), self.years.last(), self.first_year)
            && first != last
        {
            notes.push(format!(
                "hours of the years {first} to {last}; the sun is that of {used}"
            ));
        }
        if self.leap_hours > 0 {
            notes.push(format!("{} hours of 29 February dropped", self.leap_hours));
        }
    }

    /// Last line at or before an hour, 0 if there is none.
    fn line_before(&self, hour: usize) -> u64 {
        self.line_of_hour[..hour]
            .iter()
            .rev()
            .flatten()
            .next()
            .copied()
            .unwrap_or(0)
    }

    fn report_absent(&mut self) {
        let absent: Vec<bool> = self.line_of_hour.iter().map(Option::is_none).collect();
        for (start, hours) in runs(&absent) {
            let (month, day) = calendar::month_and_day(start / 24);
            let hour = (start % 24) as u32;
            let line = self.line_before(start);
            self.report(
                line,
                Fault::Absent {
                    month,
                    day,
                    hour,
                    hours,
                },
            );
        }
    }

    /// Bridges short runs without values and leaves only problems that are no mere gaps.
    fn bridge(&mut self, max_hours: usize, notes: &mut Vec<String>) {
        self.problems
            .retain(|problem| !matches!(problem.fault, Fault::Missing { .. }));
        if !self.problems.is_empty() {
            return self.report_absent();
        }
        for column in 0..COLUMNS {
            let name = self.columns[column].name;
            let missing: Vec<bool> = self.values[column].iter().map(Option::is_none).collect();
            let mut bridged = 0;
            for (start, hours) in circular_runs(&missing) {
                if hours > max_hours || hours == HOURS {
                    let line = self.line_before(start);
                    self.report(
                        line,
                        Fault::LongGap {
                            column: name,
                            hours,
                            max_hours,
                        },
                    );
                } else {
                    bridge_run(&mut self.values[column], start, hours);
                    bridged += hours;
                }
            }
            if bridged > 0 {
                notes.push(format!(
                    "{name}: {bridged} missing hours bridged by straight lines"
                ));
            }
        }
    }
}

/// Start and length of every run of `true`.
fn runs(flags: &[bool]) -> Vec<(usize, usize)> {
    let mut found: Vec<(usize, usize)> = Vec::new();
    for (index, _) in flags.iter().enumerate().filter(|(_, flag)| **flag) {
        match found.last_mut() {
            Some((start, length)) if *start + *length == index => *length += 1,
            _ => found.push((index, 1)),
        }
    }
    found
}

/// As [`runs`], a run at the end of the year joining one at its beginning.
fn circular_runs(flags: &[bool]) -> Vec<(usize, usize)> {
    let mut found = runs(flags);
    if let (Some(&(0, head)), Some(&(start, tail))) = (found.first(), found.last())
        && found.len() > 1
        && start + tail == flags.len()
    {
        found.pop();
        found[0] = (start, tail + head);
    }
    found
}

/// Fills a run of a circular year with a straight line between its neighbours.
fn bridge_run(values: &mut [Option<f64>], start: usize, hours: usize) {
    let count = values.len();
    let before = values[(start + count - 1) % count];
    let after = values[(start + hours) % count];
    if let (Some(before), Some(after)) = (before, after) {
        for step in 1..=hours {
            let share = step as f64 / (hours + 1) as f64;
            values[(start + step - 1) % count] = Some(before + share * (after - before));
        }
    }
}

/// Beam with small negative readings set to 0, which is noted.
fn without_night_offset(beam: impl Iterator<Item = f64>, notes: &mut Vec<String>) -> Vec<f64> {
    let beam: Vec<f64> = beam.collect();
    let negative = beam.iter().filter(|beam| **beam < 0.0).count();
    if negative > 0 {
        notes.push(format!(
            "{negative} hours with slightly negative beam taken as 0"
        ));
    }
    beam.into_iter().map(|beam| beam.max(0.0)).collect()
}
