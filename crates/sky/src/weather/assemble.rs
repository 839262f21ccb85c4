//! From the rows of a file to a checked year.

use super::WeatherYear;
use super::clock::{Candidates, Clock};
use super::columns::{COLUMNS, Column};
use super::gaps::Gaps;
use super::placement::Intervals;
use super::problem::WeatherError;
use super::rows::{HOUR_MIN, Raster, Row, commonest};
use super::series::Series;
use super::timing::Timing;
use crate::calendar::DAYS;
use crate::course::Course;
use crate::site::Site;

/// What belongs to a file beside its rows.
pub struct Around {
    /// The columns of its format.
    pub columns: [Column; COLUMNS],
    /// Where it was measured.
    pub site: Site,
    /// What its clock may be.
    pub clock: Candidates,
    /// The year, if the rows name none.
    pub fallback_year: i32,
    /// What to do about missing values.
    pub gaps: Gaps,
}

/// Checks rows and puts them into hours.
pub fn assemble(rows: Vec<Row>, around: &Around) -> Result<WeatherYear, WeatherError> {
    let mut notes = Vec::new();
    let raster = Raster::of(&rows)?;
    let year = year_of(&rows, around.fallback_year, &mut notes);
    let course = Course::new(&around.site, year)?;
    let (clock, by_sun) = around.clock.choose(&rows, raster, &course);
    let span = span(&rows);
    let mut series = Series::of(rows, around.columns, raster, clock);
    if let (true, Some([first, last])) = (series.is_of_several_years(), span) {
        return Err(WeatherError::SeveralYears { first, last });
    }
    series.refuse_beam_above_sun();
    let timing = Timing::of(&course, &series.beam());
    timing.refuse_out_of_step()?;
    if !timing.is_shifted() {
        series.refuse_beam_at_night(&course);
    }
    note_reading(&mut notes, &series, raster, &clock, by_sun);
    notes.push(timing.words());
    let first_start_h = series.first_start_h();
    let intervals = Intervals {
        values: series.finish(around.gaps, &mut notes)?,
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
    let years = || {
        rows.iter()
            .filter_map(|row| Some(row.stamp.as_ref().ok()?.year))
    };
    Some([years().min()?, years().max()?])
}

/// The commonest year of the rows, for the sun's position.
fn year_of(rows: &[Row], fallback_year: i32, notes: &mut Vec<String>) -> i32 {
    let years = rows
        .iter()
        .filter_map(|row| Some(row.stamp.as_ref().ok()?.year));
    let used = commonest(years.clone()).unwrap_or(fallback_year);
    let others = years.filter(|year| *year != used).count();
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
