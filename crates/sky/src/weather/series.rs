//! Rows laid on the raster of a year, with everything that is wrong with them.

use super::Gaps;
use super::clock::{Clock, HourLabel};
use super::columns::{COLUMNS, Column};
use super::gaps::{bridge_run, circular_runs, runs};
use super::problem::{Fault, Problem};
use super::rows::{Raster, Row};
use super::several::interval_start;
use super::stamp::YearMinute;
use super::timing::BeamSeries;
use crate::calendar;
use crate::clear_sky::extraterrestrial_w_m2;
use crate::course::Course;

/// Share by which beam may exceed the sun outside the air: the series for its distance is good to
/// 0.15 %, instruments to about 1 %.
const ABOVE_SUN: f64 = 1.01;

/// Beam in the night is reported above this, W/m², where the sun's centre stays lower than this
/// sine of elevation (-1.5°: refraction and the sun's radius are 0.8° together).
const NIGHT_W_M2: f64 = 10.0;
const NIGHT_SIN_ELEVATION: f64 = -0.026;

/// A year of values at the file's own step.
pub struct Series {
    columns: [Column; COLUMNS],
    raster: Raster,
    clock: Clock,
    values: [Vec<Option<f64>>; COLUMNS],
    line_of_slot: Vec<Option<u64>>,
    leap_rows: usize,
    problems: Vec<Problem>,
}

impl Series {
    /// Lays rows on their raster.
    pub fn of(rows: Vec<Row>, columns: [Column; COLUMNS], raster: Raster, clock: Clock) -> Self {
        let count = raster.rows_in_year();
        let mut series = Self {
            columns,
            raster,
            clock,
            values: std::array::from_fn(|_| vec![None; count]),
            line_of_slot: vec![None; count],
            leap_rows: 0,
            problems: Vec::new(),
        };
        for row in rows {
            series.add(row);
        }
        series
    }

    fn report(&mut self, line: u64, fault: Fault) {
        self.problems.push(Problem { line, fault });
    }

    fn add(&mut self, row: Row) {
        let line = row.line;
        let values = match row.values {
            Ok(values) => values,
            Err(fault) => return self.report(line, fault),
        };
        let minute = match row.stamp {
            Ok(stamp) => interval_start(stamp, self.raster, &self.clock).year_minute(),
            Err(text) => return self.report(line, Fault::NoSuchHour { text }),
        };
        let YearMinute::At(minute) = minute else {
            self.leap_rows += 1;
            return;
        };
        let Raster {
            step_min,
            phase_min,
        } = self.raster;
        if minute % step_min != phase_min {
            return self.report(line, Fault::BetweenSteps { step_min });
        }
        let slot = minute / step_min;
        if let Some(first_line) = self.line_of_slot[slot] {
            return self.report(line, Fault::Repeated { first_line });
        }
        self.line_of_slot[slot] = Some(line);
        for (column, value) in values.into_iter().enumerate() {
            match value {
                Ok(value) => self.values[column][slot] = Some(value),
                Err(fault) => self.report(line, fault),
            }
        }
    }

    /// Rows that stood on 29 February and were left out.
    pub fn leap_rows(&self) -> usize {
        self.leap_rows
    }

    /// Start of the first interval in local standard time, hours after new year.
    pub fn first_start_h(&self) -> f64 {
        let to_start_h = match self.clock.label {
            HourLabel::Middle => -0.5 * self.raster.step_h(),
            HourLabel::Start | HourLabel::End => 0.0,
        };
        let zones_h = self.clock.utc_offset_h - self.clock.shown_offset_h;
        self.raster.phase_min as f64 / 60.0 + to_start_h + self.clock.delay_h + zones_h
    }

    fn start_utc_h(&self, slot: usize) -> f64 {
        let step_h = self.raster.step_h();
        self.first_start_h() + slot as f64 * step_h - self.clock.utc_offset_h
    }

    /// The beam that is there.
    pub fn beam(&self) -> BeamSeries {
        let step_h = self.raster.step_h();
        let middle_h = |slot| self.start_utc_h(slot) + 0.5 * step_h;
        let slots = self.values[0].iter().enumerate();
        BeamSeries {
            samples: slots
                .filter_map(|(slot, beam)| beam.map(|beam| (middle_h(slot), beam)))
                .collect(),
            step_h,
        }
    }

    /// Reports and takes out beam that is stronger than the sun outside the air.
    pub fn refuse_beam_above_sun(&mut self) {
        let slots_in_day = self.raster.rows_in_year() / calendar::DAYS;
        for slot in 0..self.line_of_slot.len() {
            let high = ABOVE_SUN * extraterrestrial_w_m2(slot / slots_in_day);
            if let Some(value) = self.values[0][slot].filter(|beam| *beam > high) {
                let [low, _] = self.columns[0].possible;
                let fault = Fault::Impossible {
                    column: self.columns[0].name,
                    value,
                    low,
                    high: high.round(),
                };
                self.report(self.line_of_slot[slot].unwrap_or(0), fault);
                self.values[0][slot] = None;
            }
        }
    }

    /// Reports beam in intervals that have the sun well below the horizon throughout, and takes it
    /// as 0.
    pub fn refuse_beam_at_night(&mut self, course: &Course) {
        let step_h = self.raster.step_h();
        for slot in 0..self.line_of_slot.len() {
            let Some(value) = self.values[0][slot].filter(|beam| *beam > NIGHT_W_M2) else {
                continue;
            };
            let start_utc_h = self.start_utc_h(slot);
            if course.highest_sin_elevation(start_utc_h, step_h) < NIGHT_SIN_ELEVATION {
                let column = self.columns[0].name;
                let line = self.line_of_slot[slot].unwrap_or(0);
                self.report(line, Fault::BeamAtNight { column, value });
                self.values[0][slot] = Some(0.0);
            }
        }
    }

    /// The values, if every one is there or may be bridged.
    ///
    /// # Errors
    /// All problems, in the order of lines.
    pub fn finish(
        mut self,
        gaps: Gaps,
        notes: &mut Vec<String>,
    ) -> Result<[Vec<f64>; COLUMNS], Vec<Problem>> {
        match gaps {
            Gaps::Refuse => self.report_absent(),
            Gaps::Bridge { max_hours } => self.bridge(max_hours, notes),
        }
        if !self.problems.is_empty() {
            self.problems.sort_by_key(|problem| problem.line);
            return Err(self.problems);
        }
        let [beam, temperature, wind] = self.values.map(|values| values.into_iter().flatten());
        Ok([
            without_night_offset(beam, notes),
            temperature.collect(),
            wind.collect(),
        ])
    }

    /// Last line at or before a slot, 0 if there is none.
    fn line_before(&self, slot: usize) -> u64 {
        let lines = self.line_of_slot[..slot].iter().rev();
        lines.flatten().next().copied().unwrap_or(0)
    }

    fn hours(&self, slots: usize) -> f64 {
        slots as f64 * self.raster.step_h()
    }

    fn report_absent(&mut self) {
        let absent: Vec<bool> = self.line_of_slot.iter().map(Option::is_none).collect();
        for (start, slots) in runs(&absent) {
            let start_min = start * self.raster.step_min + self.raster.phase_min;
            let (month, day) = calendar::month_and_day(start_min / 1440);
            let fault = Fault::Absent {
                month,
                day,
                hour: (start_min / 60 % 24) as u32,
                minute: (start_min % 60) as u32,
                hours: self.hours(slots),
            };
            self.report(self.line_before(start), fault);
        }
    }

    /// Bridges short runs without values and leaves only problems that cannot be bridged.
    fn bridge(&mut self, max_hours: f64, notes: &mut Vec<String>) {
        self.note_bridged_faults(notes);
        self.problems.retain(|problem| !problem.fault.is_bridged());
        if !self.problems.is_empty() {
            return self.report_absent();
        }
        for column in 0..COLUMNS {
            let name = self.columns[column].name;
            let missing: Vec<bool> = self.values[column].iter().map(Option::is_none).collect();
            let mut bridged = 0;
            for (start, slots) in circular_runs(&missing) {
                let hours = self.hours(slots);
                if hours > max_hours || slots == missing.len() {
                    let fault = Fault::LongGap {
                        column: name,
                        hours,
                        max_hours,
                    };
                    self.report(self.line_before(start), fault);
                } else {
                    bridge_run(&mut self.values[column], start, slots);
                    bridged += slots;
                }
            }
            if bridged > 0 {
                notes.push(format!(
                    "{name}: {bridged} missing values bridged by straight lines"
                ));
            }
        }
    }

    fn note_bridged_faults(&self, notes: &mut Vec<String>) {
        let count =
            |is: fn(&Fault) -> bool| self.problems.iter().filter(|one| is(&one.fault)).count();
        let impossible = count(|fault| matches!(fault, Fault::Impossible { .. }));
        if impossible > 0 {
            notes.push(format!("{impossible} impossible values taken as missing"));
        }
        let at_night = count(|fault| matches!(fault, Fault::BeamAtNight { .. }));
        if at_night > 0 {
            notes.push(format!("{at_night} values of beam at night taken as 0"));
        }
    }
}

/// Beam with small negative readings set to 0, which is noted.
fn without_night_offset(beam: impl Iterator<Item = f64>, notes: &mut Vec<String>) -> Vec<f64> {
    let beam: Vec<f64> = beam.collect();
    let negative = beam.iter().filter(|beam| **beam < 0.0).count();
    if negative > 0 {
        notes.push(format!(
            "{negative} values of slightly negative beam taken as 0"
        ));
    }
    beam.into_iter().map(|beam| beam.max(0.0)).collect()
}
