//! When power comes: hours of the day against weeks of the year.

use super::canvas::{BORDER, Canvas, Chart, Lettering, PIXELS_PER_POINT, SMALL, TEXT, draw};
use super::palette::{INK, SLATE};
use super::shade::Shade;
use crate::error::ReportError;
use crate::figures;

/// The hours of a year of some power, averaged by week.
#[derive(Debug, Clone, PartialEq)]
pub struct Calendar {
    /// What the power is, such as `delivered heat`.
    pub what: String,
    /// Mean power of each hour in local standard time from the first of January, watts.
    pub power_w: Vec<f64>,
}

const WIDTH: f64 = 960.0;
const HEIGHT: f64 = 520.0;
const LEFT: f64 = BORDER + 44.0;
const RIGHT: f64 = WIDTH - BORDER - 196.0;
const HOURS: usize = 24;
const DAYS: usize = 365;
const DAYS_PER_WEEK: usize = 7;
/// First day of each month in a year of 365 days.
const MONTHS: [(&str, usize); 12] = [
    ("January", 0),
    ("February", 31),
    ("March", 59),
    ("April", 90),
    ("May", 120),
    ("June", 151),
    ("July", 181),
    ("August", 212),
    ("September", 243),
    ("October", 273),
    ("November", 304),
    ("December", 334),
];

impl Calendar {
    /// Draws the chart.
    ///
    /// # Errors
    /// If the drawing library fails.
    pub fn draw(&self) -> Result<Chart, ReportError> {
        draw(WIDTH, HEIGHT, |canvas| self.paint(canvas))
    }

    fn paint(&self, canvas: &mut Canvas<'_>) {
        let shown = format!(
            "{}, mean of each week by hour of the day",
            figures::capitalised(&self.what)
        );
        let full_year = self.power_w.len() == DAYS * HOURS;
        if !full_year || self.power_w.iter().any(|power| !power.is_finite()) {
            canvas.headline(&format!("No full year of {}", self.what), &shown);
            canvas.empty("The chart needs 8,760 hours.");
            return;
        }
        let bottom = HEIGHT - BORDER - 44.0;
        let head = canvas.headline(&self.finding(), &shown) + 24.0;
        let cell_height = whole_pixels((bottom - head) / HOURS as f64);
        let top = bottom - HOURS as f64 * cell_height;
        let cells = self.weekly_mw();
        let shade = Shade::of(cells.iter().flatten().copied());
        for (week, hours) in cells.iter().enumerate() {
            let (left, right) = (day_place(week * DAYS_PER_WEEK), day_place(last_day(week)));
            for (hour, power) in hours.iter().enumerate() {
                let lower = bottom - hour as f64 * cell_height;
                // A little more to the right and up, for the next cells to cover: no seam.
                let far = (
                    (right + 1.0).min(RIGHT),
                    (lower - cell_height - 1.0).max(top),
                );
                canvas.fill_box((left, far.1), (far.0, lower), shade.colour(*power));
            }
        }
        draw_hours(canvas, top, bottom);
        draw_months(canvas, bottom);
        let bar = (RIGHT + 34.0, top);
        shade.draw_bar(canvas, bar, 200.0, [&self.what, "[MW]"]);
    }

    fn finding(&self) -> String {
        let energy_j = |first: usize, end: usize| -> f64 {
            self.power_w[first * HOURS..end * HOURS].iter().sum::<f64>() * 3600.0
        };
        let mut months: Vec<(&str, f64)> = MONTHS
            .iter()
            .enumerate()
            .map(|(place, (name, first))| {
                let end = MONTHS.get(place + 1).map_or(DAYS, |next| next.1);
                (*name, energy_j(*first, end))
            })
            .collect();
        months.sort_by(|a, b| a.1.total_cmp(&b.1));
        let (low, high) = (months[0], months[months.len() - 1]);
        format!(
            "{} in the year: most in {} ({}), least in {} ({})",
            figures::energy(energy_j(0, DAYS)),
            high.0,
            figures::energy(high.1),
            low.0,
            figures::energy(low.1),
        )
    }

    /// Mean power of each hour of the day for each week, MW; the last week has eight days.
    fn weekly_mw(&self) -> Vec<[f64; HOURS]> {
        (0..DAYS / DAYS_PER_WEEK)
            .map(|week| {
                let days = week * DAYS_PER_WEEK..last_day(week);
                std::array::from_fn(|hour| {
                    let sum: f64 = days
                        .clone()
                        .map(|day| self.power_w[day * HOURS + hour])
                        .sum();
                    sum / days.len() as f64 / 1e6
                })
            })
            .collect()
    }
}

fn last_day(week: usize) -> usize {
    if (week + 2) * DAYS_PER_WEEK > DAYS {
        DAYS
    } else {
        (week + 1) * DAYS_PER_WEEK
    }
}

fn day_place(day: usize) -> f64 {
    whole_pixels(LEFT + (RIGHT - LEFT) * day as f64 / DAYS as f64)
}

/// Largest length up to `points` that is a whole number of pixels of the picture.
fn whole_pixels(points: f64) -> f64 {
    let pixels_per_point = f64::from(PIXELS_PER_POINT);
    (points * pixels_per_point).floor() / pixels_per_point
}

fn draw_hours(canvas: &mut Canvas<'_>, top: f64, bottom: f64) {
    let figure = Lettering::new(SMALL, SLATE).ending();
    for hour in [0, 6, 12, 18, 24] {
        let y = bottom - (bottom - top) * f64::from(hour) / 24.0;
        canvas.line(&[(LEFT - 5.0, y), (LEFT, y)], SLATE, 1.0);
        canvas.text((LEFT - 9.0, y), &hour.to_string(), figure);
    }
    let name = "hour of the day, local standard time [h]";
    canvas.text((BORDER, top - 20.0), name, Lettering::new(TEXT, INK));
}

fn draw_months(canvas: &mut Canvas<'_>, bottom: f64) {
    let figure = Lettering::new(SMALL, SLATE).centred();
    for (place, (name, first)) in MONTHS.iter().enumerate() {
        let end = MONTHS.get(place + 1).map_or(DAYS, |next| next.1);
        let (left, right) = (day_place(*first), day_place(end));
        canvas.line(&[(left, bottom), (left, bottom + 6.0)], SLATE, 1.0);
        canvas.text(((left + right) / 2.0, bottom + 14.0), &name[..3], figure);
    }
    canvas.line(&[(RIGHT, bottom), (RIGHT, bottom + 6.0)], SLATE, 1.0);
    let middle = ((LEFT + RIGHT) / 2.0, bottom + 40.0);
    canvas.text(
        middle,
        "week of the year",
        Lettering::new(TEXT, INK).centred(),
    );
}
