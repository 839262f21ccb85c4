//! Heat demand over a year: a constant power, with shifts, free days and months.

const HOURS_IN_DAY: usize = 24;
const DAYS_IN_MONTH: [usize; 12] = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

/// Heat wanted by the works (`[heat.demand]`), in local standard time.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Demand {
    /// Power during shifts [W].
    pub power_w: f64,
    /// Days with shifts.
    pub days: WorkDays,
    /// Hour of the day at which the first shift starts [h].
    pub from_h: f64,
    /// Hour of the day at which the last shift ends; before `from_h` it is on the next day [h].
    pub to_h: f64,
    /// Power outside shifts ÷ power during shifts.
    pub rest: f64,
    /// Power of each month ÷ `power_w`.
    pub monthly_share: [f64; 12],
}

/// Days on which the works runs.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum WorkDays {
    /// Seven days.
    #[default]
    All,
    /// Monday to Saturday.
    MondayToSaturday,
    /// Monday to Friday.
    MondayToFriday,
}

impl WorkDays {
    /// Days with shifts in a week that starts on Monday.
    const fn in_week(self) -> usize {
        match self {
            Self::All => 7,
            Self::MondayToSaturday => 6,
            Self::MondayToFriday => 5,
        }
    }
}

impl Demand {
    /// Mean power wanted in each of the 8,760 hours of `year` [W]; 29 February is left out.
    #[must_use]
    pub fn hourly_power_w(&self, year: i32) -> Vec<f64> {
        let mut hours = Vec::with_capacity(365 * HOURS_IN_DAY);
        let mut weekday = weekday_of_new_year(year);
        for (month, days) in DAYS_IN_MONTH.iter().enumerate() {
            for _ in 0..*days {
                self.push_day(&mut hours, weekday, self.monthly_share[month]);
                weekday = (weekday + 1) % 7;
            }
        }
        hours
    }

    fn push_day(&self, hours: &mut Vec<f64>, weekday: usize, share: f64) {
        let today = weekday < self.days.in_week();
        let yesterday = (weekday + 6) % 7 < self.days.in_week();
        for hour in 0..HOURS_IN_DAY {
            let shift = self.shift_share(hour as f64, today, yesterday);
            hours.push(self.power_w * share * (shift + self.rest * (1.0 - shift)));
        }
    }

    /// Share of the hour from `hour` on that lies in a shift begun today or yesterday.
    fn shift_share(&self, hour: f64, today: bool, yesterday: bool) -> f64 {
        let overlap = |from: f64, to: f64| (to.min(hour + 1.0) - from.max(hour)).max(0.0);
        let end_h = if self.to_h > self.from_h {
            self.to_h
        } else {
            self.to_h + 24.0
        };
        let mut share = 0.0;
        if today {
            share += overlap(self.from_h, end_h);
        }
        if yesterday {
            share += overlap(self.from_h - 24.0, end_h - 24.0);
        }
        share
    }
}

/// Day of the week of 1 January, Monday 0 (Gregorian calendar; 1 January 2001 was a Monday).
fn weekday_of_new_year(year: i32) -> usize {
    let past = i64::from(year) - 1;
    let days = past * 365 + past.div_euclid(4) - past.div_euclid(100) + past.div_euclid(400);
    usize::try_from(days.rem_euclid(7)).unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn two_shifts() -> Demand {
        Demand {
            power_w: 3e6,
            days: WorkDays::MondayToSaturday,
            from_h: 6.0,
            to_h: 22.0,
            rest: 0.2,
            monthly_share: [1.0; 12],
        }
    }

    /// From memory: New Year's days of 2000 (Saturday), 2001 (Monday), 2024 (Monday), 2025
    /// (Wednesday).
    #[test]
    fn new_year_falls_on_the_right_day() {
        for (year, day) in [(2000, 5), (2001, 0), (2024, 0), (2025, 2)] {
            assert_eq!(weekday_of_new_year(year), day, "{year}");
        }
    }

    #[test]
    fn a_year_holds_its_shifts() {
        let hours = two_shifts().hourly_power_w(2025);
        assert_eq!(hours.len(), 8760);
        let shift_hours = hours.iter().filter(|power| **power > 2.9e6).count();
        let sundays = 52;
        assert_eq!(shift_hours, (365 - sundays) * 16);
        assert!(hours.iter().all(|power| *power >= 0.6e6 - 1e-6));
    }

    #[test]
    fn a_night_shift_runs_into_the_next_day() {
        let demand = Demand {
            from_h: 22.0,
            to_h: 6.0,
            ..two_shifts()
        };
        let hours = demand.hourly_power_w(2001);
        let sunday = 6 * 24;
        assert!(hours[sunday + 5] > 2.9e6, "begun on Saturday");
        assert!(hours[sunday + 23] < 0.7e6, "no shift begins on Sunday");
        assert!(hours[sunday + 24 + 5] < 0.7e6, "nor ends on Monday morning");
    }

    #[test]
    fn equal_ends_are_a_full_day_and_part_hours_count_in_part() {
        let all_day = Demand {
            from_h: 0.0,
            to_h: 24.0,
            days: WorkDays::All,
            ..two_shifts()
        };
        assert!(
            all_day
                .hourly_power_w(2025)
                .iter()
                .all(|power| (power - 3e6).abs() < 1e-6)
        );
        let half_past = Demand {
            from_h: 6.5,
            days: WorkDays::All,
            ..two_shifts()
        };
        let power = half_past.hourly_power_w(2025)[6];
        assert!((power - 3e6 * 0.6).abs() < 1e-6, "{power}");
    }
}
