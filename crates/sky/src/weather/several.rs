//! Rows of several years taken apart.

use std::collections::BTreeMap;

use super::clock::{Clock, HourLabel};
use super::rows::{HOUR_MIN, Raster, Row};
use super::stamp::Stamp;

/// Rows of each year, the earliest first; all of them together where no two years are given for
/// more than half, as in a typical year whose months come from many.
///
/// An edge of up to a day, which the time zone moves into a year of its own, closes the circle: what
/// lies before the first year ends the last one, what lies after the last year begins the first. A
/// row whose time cannot be read stays with the first year, where it is reported.
pub fn by_years(rows: Vec<Row>, raster: Raster, clock: &Clock) -> Vec<Vec<Row>> {
    let year_of = |row: &Row| Some(interval_start(*row.stamp.as_ref().ok()?, raster, clock).year);
    let mut counts: BTreeMap<i32, usize> = BTreeMap::new();
    for year in rows.iter().filter_map(year_of) {
        *counts.entry(year).or_default() += 1;
    }
    let half = |count: usize| 2 * count > raster.rows_in_year();
    if counts.values().filter(|count| half(**count)).count() < 2 {
        return vec![rows];
    }
    let rows_in_day = 24 * HOUR_MIN / raster.step_min;
    let kept: Vec<i32> = counts
        .into_iter()
        .filter(|(_, count)| *count > rows_in_day)
        .map(|(year, _)| year)
        .collect();
    let mut groups: Vec<Vec<Row>> = kept.iter().map(|_| Vec::new()).collect();
    let last = kept.len() - 1;
    for row in rows {
        let group = match year_of(&row) {
            Some(year) if year < kept[0] => last,
            Some(year) => kept.binary_search(&year).unwrap_or(0),
            None => 0,
        };
        groups[group].push(row);
    }
    groups
}

/// Where the interval of a time at its start or end starts; of a time in its middle, the time.
pub fn interval_start(stamp: Stamp, raster: Raster, clock: &Clock) -> Stamp {
    match clock.label {
        HourLabel::End => stamp.later(-(raster.step_min as i32)),
        HourLabel::Start | HourLabel::Middle => stamp.later(0),
    }
}
