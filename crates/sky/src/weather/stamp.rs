//! Dates and times of rows, and the minute of the 365-day year that they name.

use std::ops::RangeInclusive;

use crate::calendar::{self, MONTH_DAYS};

/// Minutes in a day.
pub const DAY_MIN: i32 = 1440;

/// Years a weather file may carry.
const YEARS: RangeInclusive<i32> = 1800..=2200;

/// Date and time of a row as the file's clock shows it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stamp {
    /// Year of the calendar.
    pub year: i32,
    month: u32,
    day: u32,
    /// Minutes after midnight, 0 … 1440: the midnight that ends a day may be called 24:00.
    pub minute: i32,
}

/// Where a stamp lies in the 365-day year.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum YearMinute {
    /// Minutes after midnight of 1 January.
    At(usize),
    /// On the 29 February, which the 365-day year leaves out.
    LeapDay,
}

impl Stamp {
    /// The time `hour`:`minute` of a date, if the calendar has it.
    pub fn new(year: i32, month: u32, day: u32, hour: u32, minute: u32) -> Option<Self> {
        let exists = YEARS.contains(&year)
            && (1..=12).contains(&month)
            && (1..=month_days(year, month)).contains(&day);
        let minute_of_day = i32::try_from(hour.checked_mul(60)?.checked_add(minute)?).ok()?;
        (exists && minute < 60 && minute_of_day <= DAY_MIN).then_some(Self {
            year,
            month,
            day,
            minute: minute_of_day,
        })
    }

    /// The time so many seconds after 1970 began, if it falls on a whole minute.
    pub fn of_epoch(epoch_s: i64) -> Option<Self> {
        const DAY_S: i64 = 86_400;
        let (mut day, second) = (epoch_s.div_euclid(DAY_S), epoch_s.rem_euclid(DAY_S));
        // No later than its year, whatever leap days lie between.
        let most_days = if day < 0 { 365 } else { 366 };
        let mut year = 1970 + i32::try_from(day.div_euclid(most_days)).ok()?;
        if !YEARS.contains(&year) || second % 60 != 0 {
            return None;
        }
        day -= days_before(year);
        while day >= year_days(year) {
            day -= year_days(year);
            year += 1;
        }
        let mut month = 1;
        while day >= i64::from(month_days(year, month)) {
            day -= i64::from(month_days(year, month));
            month += 1;
        }
        let minute = u32::try_from(second / 60).ok()?;
        let day = u32::try_from(day).ok()? + 1;
        Self::new(year, month, day, minute / 60, minute % 60)
    }

    /// The stamp this many minutes later (earlier if negative), less than a day away.
    pub fn later(self, minutes: i32) -> Self {
        let minute = self.minute + minutes;
        let moved = if minute < 0 {
            self.day_before()
        } else if minute >= DAY_MIN {
            self.day_after()
        } else {
            self
        };
        Self {
            minute: minute.rem_euclid(DAY_MIN),
            ..moved
        }
    }

    fn day_before(self) -> Self {
        let (year, month, day) = match (self.month, self.day) {
            (1, 1) => (self.year - 1, 12, 31),
            (month, 1) => (self.year, month - 1, month_days(self.year, month - 1)),
            (month, day) => (self.year, month, day - 1),
        };
        Self {
            year,
            month,
            day,
            ..self
        }
    }

    fn day_after(self) -> Self {
        let is_last = self.day == month_days(self.year, self.month);
        let (year, month, day) = match self.month {
            12 if is_last => (self.year + 1, 1, 1),
            month if is_last => (self.year, month + 1, 1),
            month => (self.year, month, self.day + 1),
        };
        Self {
            year,
            month,
            day,
            ..self
        }
    }

    /// Its minute of the 365-day year.
    pub fn year_minute(self) -> YearMinute {
        let named = self.later(0);
        let minute = named.minute.unsigned_abs() as usize;
        match calendar::day_of_year(named.month, named.day) {
            Some(day) => YearMinute::At(day * DAY_MIN as usize + minute),
            None => YearMinute::LeapDay,
        }
    }
}

fn year_days(year: i32) -> i64 {
    if calendar::is_leap_year(year) {
        366
    } else {
        365
    }
}

/// Days from 1 January 1970 to 1 January of a year, negative before.
fn days_before(year: i32) -> i64 {
    let after: i64 = (1970..year).map(year_days).sum();
    let before: i64 = (year..1970).map(year_days).sum();
    after - before
}

/// Days of a month (1 … 12) of a year.
fn month_days(year: i32, month: u32) -> u32 {
    match month {
        2 if calendar::is_leap_year(year) => 29,
        _ => MONTH_DAYS[(month as usize - 1).min(11)] as u32,
    }
}

/// Hours and minutes of `HH:MM` or `HH:MM:00`.
pub fn clock(text: &str) -> Option<(u32, u32)> {
    let mut parts = text.split(':');
    let (hour, minute) = (parts.next()?.parse().ok()?, parts.next()?.parse().ok()?);
    let whole = parts.next().is_none_or(|seconds| seconds.parse() == Ok(0));
    (whole && parts.next().is_none()).then_some((hour, minute))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn midnight_has_two_names() {
        let evening = Stamp::new(2024, 2, 28, 24, 0).unwrap();
        assert_eq!(evening.year_minute(), YearMinute::LeapDay);
        let evening = Stamp::new(2023, 2, 28, 24, 0).unwrap();
        let morning = Stamp::new(2023, 3, 1, 0, 0).unwrap();
        assert_eq!(evening.year_minute(), morning.year_minute());
        assert_eq!(morning.later(-30), Stamp::new(2023, 2, 28, 23, 30).unwrap());
    }

    #[test]
    fn years_months_and_leap_days_are_crossed_both_ways() {
        let pairs = [
            ((2023, 12, 31), (2024, 1, 1)),
            ((2024, 2, 29), (2024, 3, 1)),
            ((2024, 4, 30), (2024, 5, 1)),
        ];
        for ((year, month, day), (next_year, next_month, next_day)) in pairs {
            let before = Stamp::new(year, month, day, 23, 0).unwrap();
            let after = Stamp::new(next_year, next_month, next_day, 1, 0).unwrap();
            assert_eq!(before.later(120), after);
            assert_eq!(after.later(-120), before);
        }
    }

    /// Known moments: the epoch itself, 1,000,000,000 s (9 September 2001, 01:46:40, so 40 s before
    /// it is a whole minute), 29 February 2024, the last minute of 1969.
    #[test]
    fn seconds_since_the_epoch_become_dates() {
        for (epoch_s, date) in [
            (0, (1970, 1, 1, 0, 0)),
            (999_999_960, (2001, 9, 9, 1, 46)),
            (1_709_211_600, (2024, 2, 29, 13, 0)),
            (-60, (1969, 12, 31, 23, 59)),
            (-662_688_000, (1949, 1, 1, 0, 0)),
        ] {
            let (year, month, day, hour, minute) = date;
            let stamp = Stamp::new(year, month, day, hour, minute);
            assert_eq!(Stamp::of_epoch(epoch_s), stamp, "{epoch_s}");
        }
        for epoch_s in [30, i64::MAX, i64::MIN, 1 << 40] {
            assert_eq!(Stamp::of_epoch(epoch_s), None);
        }
    }

    #[test]
    fn days_and_times_that_do_not_exist_are_none() {
        assert_eq!(Stamp::new(2023, 2, 29, 0, 0), None);
        assert_eq!(Stamp::new(2023, 13, 1, 0, 0), None);
        assert_eq!(Stamp::new(2023, 1, 1, 24, 1), None);
        assert_eq!(Stamp::new(2023, 1, 1, 3, 60), None);
        assert_eq!(Stamp::new(1, 1, 1, 3, 0), None);
        assert_eq!(clock("13:30:00"), Some((13, 30)));
        assert_eq!(clock("13"), None);
        assert_eq!(clock("13:30:15"), None);
    }
}
