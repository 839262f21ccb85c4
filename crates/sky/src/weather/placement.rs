//! From values at the file's own intervals to hours of local standard time.

use super::columns::COLUMNS;
use crate::calendar::HOURS;
use crate::course::Course;

/// Values of a whole year in equal intervals; the year is a circle.
pub struct Intervals {
    /// Beam, temperature and wind of each interval.
    pub values: [Vec<f64>; COLUMNS],
    /// Start of the first interval, hours of local standard time after new year.
    pub first_start_h: f64,
    /// Length of an interval, at most an hour.
    pub step_h: f64,
}

impl Intervals {
    /// Means of the 8,760 hours.
    ///
    /// The sum of each column over the year is kept. An interval that straddles two hours is
    /// shared between them: temperature and wind by time, beam by the time with the sun up, so
    /// that none is moved into the night.
    pub fn hourly(&self, course: &Course, utc_offset_h: f64) -> [Vec<f64>; COLUMNS] {
        let mut hours: [Vec<f64>; COLUMNS] = std::array::from_fn(|_| vec![0.0; HOURS]);
        for (column, values) in self.values.iter().enumerate() {
            for (interval, value) in values.iter().enumerate() {
                let start_h = self.first_start_h + interval as f64 * self.step_h;
                let (hour, parts_h) = split(start_h, self.step_h);
                let is_shared_beam = column == 0 && *value > 0.0 && parts_h[1] > 0.0;
                let parts_h = if is_shared_beam {
                    lit_parts_h(course, start_h - utc_offset_h, parts_h)
                } else {
                    parts_h
                };
                hours[column][hour] += value * parts_h[0];
                hours[column][(hour + 1) % HOURS] += value * parts_h[1];
            }
        }
        hours
    }
}

/// The parts of an interval changed in proportion to the time with the sun up, their sum kept;
/// unchanged at night.
fn lit_parts_h(course: &Course, start_utc_h: f64, parts_h: [f64; 2]) -> [f64; 2] {
    let [first_h, second_h] = parts_h;
    let lit_h = [
        first_h * course.share_up(start_utc_h, first_h),
        second_h * course.share_up(start_utc_h + first_h, second_h),
    ];
    let sum_h = lit_h[0] + lit_h[1];
    if sum_h > 0.0 {
        lit_h.map(|part_h| part_h * (first_h + second_h) / sum_h)
    } else {
        parts_h
    }
}

/// The hour in which an interval starts, and how long it lasts in that hour and in the next.
fn split(start_h: f64, step_h: f64) -> (usize, [f64; 2]) {
    /// Less than a hundredth of a second is rounding.
    const ROUNDING_H: f64 = 1e-6;
    let hour = (start_h + ROUNDING_H).floor();
    let left_h = hour + 1.0 - start_h;
    let parts_h = if left_h + ROUNDING_H >= step_h {
        [step_h, 0.0]
    } else {
        [left_h, step_h - left_h]
    };
    (hour.rem_euclid(HOURS as f64) as usize, parts_h)
}
