//! When power comes: the hours of a day from left to right, the weeks of the year from top to bottom.

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
const HEIGHT: f64 = 600.0;
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
        let top = canvas.headline(&self.finding(), &shown) + 36.0;
        let year = Year {
            top,
            bottom: HEIGHT - BORDER - 44.0,
        };
        let shade = self.paint_cells(canvas, &year);
        draw_hours(canvas, &year);
        draw_months(canvas, &year);
        shade.draw_bar(canvas, (RIGHT + 34.0, top), 200.0, [&self.what, "[MW]"]);
    }

    fn paint_cells(&self, canvas: &mut Canvas<'_>, year: &Year) -> Shade {
        let cells = self.weekly_mw();
        let shade = Shade::of(cells.iter().flatten().copied());
        for (week, hours) in cells.iter().enumerate() {
            let (upper, lower) = (year.place(week * DAYS_PER_WEEK), year.place(last_day(week)));
            for (hour, power) in hours.iter().enumerate() {
                // A little more to the right and down, for the next cells to cover: no seam.
                let far = (
                    (hour_place(hour + 1) + 1.0).min(RIGHT),
                    (lower + 1.0).min(year.bottom),
                );
                canvas.fill_box((hour_place(hour), upper), far, shade.colour(*power));
            }
        }
        shade
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

/// Where the year starts and ends on the sheet.
struct Year {
    top: f64,
    bottom: f64,
}

impl Year {
    fn place(&self, day: usize) -> f64 {
        whole_pixels(self.top + (self.bottom - self.top) * day as f64 / DAYS as f64)
    }
}

fn hour_place(hour: usize) -> f64 {
    whole_pixels(LEFT + (RIGHT - LEFT) * hour as f64 / HOURS as f64)
}

/// Largest length up to `points` that is a whole number of pixels of the picture.
fn whole_pixels(points: f64) -> f64 {
    let pixels_per_point = f64::from(PIXELS_PER_POINT);
    (points * pixels_per_point).floor() / pixels_per_point
}

fn draw_hours(canvas: &mut Canvas<'_>, year: &Year) {
    let figure = Lettering::new(SMALL, SLATE).centred();
    for hour in (0..=HOURS).step_by(3) {
        let x = hour_place(hour);
        canvas.line(&[(x, year.bottom), (x, year.bottom + 6.0)], SLATE, 1.0);
        canvas.text((x, year.bottom + 14.0), &hour.to_string(), figure);
    }
    let middle = ((LEFT + RIGHT) / 2.0, year.bottom + 40.0);
    let name = "hour of the day, local standard time [h]";
    canvas.text(middle, name, Lettering::new(TEXT, INK).centred());
}

fn draw_months(canvas: &mut Canvas<'_>, year: &Year) {
    let figure = Lettering::new(SMALL, SLATE).ending();
    for (place, (name, first)) in MONTHS.iter().enumerate() {
        let end = MONTHS.get(place + 1).map_or(DAYS, |next| next.1);
        let (upper, lower) = (year.place(*first), year.place(end));
        canvas.line(&[(LEFT - 6.0, upper), (LEFT, upper)], SLATE, 1.0);
        canvas.text((LEFT - 9.0, (upper + lower) / 2.0), &name[..3], figure);
    }
    let bottom = year.place(DAYS);
    canvas.line(&[(LEFT - 6.0, bottom), (LEFT, bottom)], SLATE, 1.0);
    let name = Lettering::new(TEXT, INK);
    canvas.text((BORDER, year.top - 20.0), "week of the year", name);
}
