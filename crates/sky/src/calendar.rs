//! The 365-day year in which all hourly series are kept.

use std::ops::Range;

/// Days in a year without a leap day.
pub const DAYS: usize = 365;

/// Hours in a year without a leap day.
pub const HOURS: usize = 8760;

/// Seconds in an hour.
pub const HOUR_S: f64 = 3600.0;

/// Days in each month of a year without a leap day.
pub const MONTH_DAYS: [usize; 12] = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

/// Whether a year of the Gregorian calendar has a 29 February.
#[must_use]
pub fn is_leap_year(year: i32) -> bool {
    year % 4 == 0 && (year % 100 != 0 || year % 400 == 0)
}

/// Days of the 365-day year that a month (0 = January … 11) covers.
#[must_use]
pub fn days_of_month(month: usize) -> Range<usize> {
    let first: usize = MONTH_DAYS.iter().take(month).sum();
    let length = MONTH_DAYS.get(month).copied().unwrap_or(0);
    first..first + length
}

/// Hours of the 365-day year that a month (0 = January … 11) covers.
#[must_use]
pub fn hours_of_month(month: usize) -> Range<usize> {
    let days = days_of_month(month);
    days.start * 24..days.end * 24
}

/// Day of the 365-day year (0 … 364) of a month (1 … 12) and day of the month (1 …), or `None`
/// when there is no such day; 29 February has none.
#[must_use]
pub fn day_of_year(month: u32, day_of_month: u32) -> Option<usize> {
    let month_index = (month as usize).checked_sub(1)?;
    let length = *MONTH_DAYS.get(month_index)?;
    let day_index = (day_of_month as usize).checked_sub(1)?;
    (day_index < length).then(|| days_of_month(month_index).start + day_index)
}

/// Month (1 … 12) and day of the month (1 …) of a day of the 365-day year.
#[must_use]
pub fn month_and_day(day_of_year: usize) -> (u32, u32) {
    let mut day = day_of_year % DAYS;
    for (month, length) in (1..).zip(MONTH_DAYS) {
        if day < length {
            return (month, day as u32 + 1);
        }
        day -= length;
    }
    (12, 31)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_day_comes_back() {
        for day in 0..DAYS {
            let (month, day_of_month) = month_and_day(day);
            assert_eq!(day_of_year(month, day_of_month), Some(day));
        }
    }

    #[test]
    fn months_fill_the_year() {
        assert_eq!(hours_of_month(0).start, 0);
        assert_eq!(hours_of_month(11).end, HOURS);
        assert!((0..11).all(|month| hours_of_month(month).end == hours_of_month(month + 1).start));
    }

    #[test]
    fn days_that_do_not_exist_have_no_number() {
        for (month, day) in [(0, 1), (13, 1), (1, 0), (1, 32), (2, 29), (4, 31)] {
            assert_eq!(day_of_year(month, day), None, "{month}/{day}");
        }
    }

    /// Gregorian rule (Inter gravissimas, 1582): centuries only when divisible by 400.
    #[test]
    fn leap_years() {
        assert!(is_leap_year(2024) && is_leap_year(2000));
        assert!(!is_leap_year(2023) && !is_leap_year(1900));
    }
}
