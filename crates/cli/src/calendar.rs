//! Moments of the 365-day year, for people.

const MONTHS: [(&str, u32); 12] = [
    ("January", 31),
    ("February", 28),
    ("March", 31),
    ("April", 30),
    ("May", 31),
    ("June", 30),
    ("July", 31),
    ("August", 31),
    ("September", 30),
    ("October", 31),
    ("November", 30),
    ("December", 31),
];

/// Day, month and time of an hour of the year, local standard time: "21 March, 12:30".
pub fn moment(hour_of_year: f64) -> String {
    let minutes = (60.0 * hour_of_year).round() as u32;
    let (mut day, minutes) = (minutes / 1440, minutes % 1440);
    let mut name = "";
    for (month, days) in MONTHS {
        name = month;
        if day < days {
            break;
        }
        day -= days;
    }
    format!(
        "{} {name}, {:02}:{:02}",
        day + 1,
        minutes / 60,
        minutes % 60
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hours_become_moments() {
        assert_eq!(moment(0.0), "1 January, 00:00");
        assert_eq!(moment(24.0 * 79.0 + 12.5), "21 March, 12:30");
        assert_eq!(moment(24.0 * 354.0 + 13.0), "21 December, 13:00");
    }
}
