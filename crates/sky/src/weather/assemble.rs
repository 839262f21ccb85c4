//! From the rows of a file to checked years.

use super::WeatherYear;
use super::clock::{Candidates, Clock};
use super::columns::{COLUMNS, Column};
use super::gaps::Gaps;
use super::placement::Intervals;
use super::problem::{Counted, Problem, WeatherError};
use super::rows::{HOUR_MIN, Raster, Row, commonest};
use super::series::Series;
use super::several::by_years;
use super::timing::Timing;
use crate::calendar::DAYS;
use crate::course::Course;
use crate::site::Site;

/// What belongs to a file beside its rows.
pub struct Around {
    /// The columns of its format.
    pub columns: [Column; COLUMNS],
    /// What its rows are counted by.
    pub counted: Counted,
    /// Where it was measured.
    pub site: Site,
    /// What its clock may be.
    pub clock: Candidates,
    /// The year, if the rows name none.
    pub fallback_year: i32,
    /// What to do about missing values.
    pub gaps: Gaps,
}

/// A file taken apart.
pub struct Parsed {
    /// Its rows.
    pub rows: Vec<Row>,
    /// What belongs to them.
    pub around: Around,
}

impl Parsed {
    /// The one year that the rows hold, checked and put into hours.
    pub fn year(self) -> Result<WeatherYear, WeatherError> {
        let span = span(&self.rows);
        let mut years = self.years()?;
        match (years.pop(), years.is_empty(), span) {
            (Some(year), true, _) => Ok(year),
            (_, _, Some([first, last])) => Err(WeatherError::SeveralYears { first, last }),
            _ => Err(WeatherError::NotAYear { found: 0 }),
        }
    }

    /// Every year that the rows hold, each checked and put into hours.
    pub fn years(self) -> Result<Vec<WeatherYear>, WeatherError> {
        let Self { rows, around } = self;
        let raster = Raster::of(&rows)?;
        let year = commonest_year(&rows).unwrap_or(around.fallback_year);
        let course = Course::new(&around.site, year, 0.0)?;
        let reading = around.clock.choose(&rows, raster, &course);
        let mut years = Vec::new();
        let mut problems = Vec::new();
        for rows in by_years(rows, raster, &reading.0) {
            match assemble(rows, &around, raster, reading) {
                Ok(year) => years.push(year),
                Err(WeatherError::Hours { problems: more, .. }) => problems.extend(more),
                Err(other) => return Err(other),
            }
        }
        in_order_of_lines(problems, around.counted).map_or(Ok(years), Err)
    }
}

/// All problems of the rows as one error, if there are any.
fn in_order_of_lines(mut problems: Vec<Problem>, counted: Counted) -> Option<WeatherError> {
    problems.sort_by_key(|problem| problem.line);
    (!problems.is_empty()).then_some(WeatherError::Hours { problems, counted })
}

/// Checks the rows of one year, whose clock was read so (by the sun?), and puts them into hours.
fn assemble(
    rows: Vec<Row>,
    around: &Around,
    raster: Raster,
    (clock, by_sun): (Clock, bool),
) -> Result<WeatherYear, WeatherError> {
    let mut notes = Vec::new();
    let year = year_of(&rows, around.fallback_year, &mut notes);
    let course = Course::new(&around.site, year, 0.0)?;
    let mut series = Series::of(rows, around.columns, raster, clock);
    series.refuse_beam_above_sun();
    let timing = Timing::of(&course, &series.beam());
    timing.refuse_out_of_step()?;
    if !timing.is_shifted() {
        series.refuse_beam_at_night(&course);
    }
    note_reading(&mut notes, &series, raster, &clock, by_sun);
    notes.push(timing.words());
    let first_start_h = series.first_start_h();
    let values = series.finish(around.gaps, &mut notes);
    let intervals = Intervals {
        values: values.map_err(|problems| WeatherError::Hours {
            problems,
            counted: around.counted,
        })?,
        first_start_h,
        step_h: raster.step_h(),
    };
    let [dni_w_m2, air_temperature_k, wind_speed_m_s] =
        intervals.hourly(&course, clock.utc_offset_h);
    Ok(WeatherYear {
        utc_offset_h: clock.utc_offset_h,
        year,
        dni_w_m2,
        air_temperature_k,
        wind_speed_m_s,
        notes,
    })
}

/// First and last year that rows name.
fn span(rows: &[Row]) -> Option<[i32; 2]> {
    Some([named_years(rows).min()?, named_years(rows).max()?])
}

/// Years that rows name.
fn named_years(rows: &[Row]) -> impl Iterator<Item = i32> {
    rows.iter()
        .filter_map(|row| Some(row.stamp.as_ref().ok()?.year))
}

fn commonest_year(rows: &[Row]) -> Option<i32> {
    commonest(named_years(rows))
}

/// The commonest year of the rows, for the sun's position.
fn year_of(rows: &[Row], fallback_year: i32, notes: &mut Vec<String>) -> i32 {
    let used = commonest_year(rows).unwrap_or(fallback_year);
    let others = named_years(rows).filter(|year| *year != used).count();
    // A day's rows may belong to the next year: its first midnight, or the time zone's share.
    let is_mixed = others * DAYS > rows.len();
    if let (true, Some([first, last])) = (is_mixed, span(rows)) {
        notes.push(format!(
            "hours of the years {first} to {last}; the sun is that of {used}"
        ));
    }
    used
}

fn note_reading(
    notes: &mut Vec<String>,
    series: &Series,
    raster: Raster,
    clock: &Clock,
    by_sun: bool,
) {
    if series.leap_rows() > 0 {
        notes.push(format!(
            "{} values of 29 February dropped",
            series.leap_rows()
        ));
    }
    if raster.step_min < HOUR_MIN {
        notes.push(format!(
            "values every {} min averaged to hours",
            raster.step_min
        ));
    }
    let why = if by_sun { ", as the beam asks for" } else { "" };
    notes.push(format!("{}{why}", clock.words(raster)));
}
