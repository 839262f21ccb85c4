//! Heat demand of the customer, hour by hour.

/// Hours in a year without leap day.
pub const HOURS_PER_YEAR: usize = 8760;

const HOURS_PER_DAY: usize = 24;
const DAYS_PER_WEEK: usize = 7;
const MONTH_DAYS: [usize; 12] = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

/// When the customer works: a daily window, some days of the week, a factor for each month.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shifts {
    /// Start of the daily window, hours of local standard time, 0 … 24.
    pub start_h: f64,
    /// End of the daily window, hours; not after the start means on the next day.
    pub end_h: f64,
    /// Which days are worked, Monday first; a window past midnight belongs to the day it starts.
    pub worked: [bool; DAYS_PER_WEEK],
    /// Weekday of 1 January, 0 for Monday.
    pub first_weekday: usize,
    /// Factor on the demand for each month.
    pub monthly_factor: [f64; 12],
}

impl Shifts {
    /// Every hour of the year.
    #[must_use]
    pub fn always() -> Self {
        Self {
            start_h: 0.0,
            end_h: 24.0,
            worked: [true; DAYS_PER_WEEK],
            first_weekday: 0,
            monthly_factor: [1.0; 12],
        }
    }

    /// Share of hour `hour` (of the year) that is worked, 0 … 1.
    fn share(&self, hour: usize) -> f64 {
        let day = hour / HOURS_PER_DAY;
        let from_h = (hour % HOURS_PER_DAY) as f64;
        let past_midnight = self.end_h <= self.start_h;
        let end_h = if past_midnight {
            self.end_h + 24.0
        } else {
            self.end_h
        };
        let today = self.is_worked(day) * overlap(from_h, self.start_h, end_h);
        let yesterday_end =
            self.is_worked(day + DAYS_PER_WEEK - 1) * overlap(from_h + 24.0, self.start_h, end_h);
        today + yesterday_end
    }

    fn is_worked(&self, day: usize) -> f64 {
        f64::from(u8::from(
            self.worked[(self.first_weekday + day) % DAYS_PER_WEEK],
        ))
    }
}

/// Heat that the customer takes if it is there.
#[derive(Debug, Clone, PartialEq)]
pub struct Demand {
    /// Mean power of each hour of the year [W]; 8,760 values.
    pub power_w: Vec<f64>,
    /// Least power that the process can use [W]; less than this is not taken at all.
    pub min_power_w: f64,
}

impl Demand {
    /// Demand of `power_w` in working hours, times the month's factor.
    #[must_use]
    pub fn from_shifts(power_w: f64, min_power_w: f64, shifts: &Shifts) -> Self {
        let mut hours = Vec::with_capacity(HOURS_PER_YEAR);
        for (days, factor) in MONTH_DAYS.iter().zip(shifts.monthly_factor) {
            for _ in 0..days * HOURS_PER_DAY {
                hours.push(power_w * factor * shifts.share(hours.len()));
            }
        }
        Self {
            power_w: hours,
            min_power_w,
        }
    }

    /// The largest hourly demand [W].
    #[must_use]
    pub fn largest_w(&self) -> f64 {
        self.power_w
            .iter()
            .fold(0.0, |largest: f64, power_w| largest.max(*power_w))
    }
}

/// Length of the common part of `[from, from + 1)` and `[start, end)`.
fn overlap(from: f64, start: f64, end: f64) -> f64 {
    ((from + 1.0).min(end) - from.max(start)).max(0.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn always_is_constant() {
        let demand = Demand::from_shifts(2e6, 0.0, &Shifts::always());
        assert_eq!(demand.power_w.len(), HOURS_PER_YEAR);
        assert!(
            demand
                .power_w
                .iter()
                .all(|power_w| (power_w - 2e6).abs() < 1e-9)
        );
    }

    #[test]
    fn five_days_a_week_and_half_hours() {
        let shifts = Shifts {
            start_h: 6.5,
            end_h: 22.0,
            worked: [true, true, true, true, true, false, false],
            ..Shifts::always()
        };
        let demand = Demand::from_shifts(1.0, 0.0, &shifts);
        // 1 January is a Monday: 261 working days of 15.5 hours in 365 days.
        let hours: f64 = demand.power_w.iter().sum();
        assert!((hours - 261.0 * 15.5).abs() < 1e-9);
        assert!((demand.power_w[6] - 0.5).abs() < 1e-12);
        assert!(
            demand.power_w[5 * 24..7 * 24]
                .iter()
                .all(|power_w| power_w.abs() < 1e-12)
        );
    }

    #[test]
    fn night_shift_runs_into_the_next_day() {
        let mut worked = [false; 7];
        worked[4] = true;
        let shifts = Shifts {
            start_h: 22.0,
            end_h: 6.0,
            worked,
            ..Shifts::always()
        };
        let demand = Demand::from_shifts(1.0, 0.0, &shifts);
        let first_week: Vec<usize> = (0..7 * 24)
            .filter(|hour| demand.power_w[*hour] > 0.5)
            .collect();
        let friday_night: Vec<usize> = (4 * 24 + 22..5 * 24 + 6).collect();
        assert_eq!(first_week, friday_night);
    }

    #[test]
    fn a_closed_month_takes_nothing() {
        let mut monthly_factor = [1.0; 12];
        monthly_factor[1] = 0.0;
        let shifts = Shifts {
            monthly_factor,
            ..Shifts::always()
        };
        let demand = Demand::from_shifts(1.0, 0.0, &shifts);
        let february = 31 * 24..59 * 24;
        for (hour, power_w) in demand.power_w.iter().enumerate() {
            assert_eq!(february.contains(&hour), *power_w < 0.5, "hour {hour}");
        }
    }
}
