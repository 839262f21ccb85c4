//! Days and hours of the year as people write them.

const MINUTES_PER_HOUR: u32 = 60;
const HOURS_PER_DAY: usize = 24;

/// Hour and minute, such as `13:07`; the nearest minute of the day.
pub fn hour_and_minute(hour: f64) -> String {
    let last = 24 * MINUTES_PER_HOUR - 1;
    let minutes = ((hour * f64::from(MINUTES_PER_HOUR)).round().max(0.0) as u32).min(last);
    format!(
        "{:02}:{:02}",
        minutes / MINUTES_PER_HOUR,
        minutes % MINUTES_PER_HOUR
    )
}

/// Month and day, such as `03-21`.
pub fn month_and_day((month, day): (u32, u32)) -> String {
    format!("{month:02}-{day:02}")
}

/// Day and middle of an hour of the year, counted from 0, such as `06-20 12:30`.
pub fn day_and_hour(hour: usize) -> String {
    let day = hour / HOURS_PER_DAY;
    let time = hour_and_minute((hour % HOURS_PER_DAY) as f64 + 0.5);
    format!(
        "{} {time}",
        month_and_day(sky::calendar::month_and_day(day))
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hours_are_told_to_the_minute() {
        assert_eq!(hour_and_minute(13.124), "13:07");
        assert_eq!(hour_and_minute(9.9999), "10:00");
        assert_eq!(hour_and_minute(23.9999), "23:59");
        assert_eq!(month_and_day((3, 21)), "03-21");
        assert_eq!(day_and_hour(24 * 31 + 12), "02-01 12:30");
    }
}
