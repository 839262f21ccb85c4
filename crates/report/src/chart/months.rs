//! What months bring beside what a cloudless sky would.

use super::canvas::{BORDER, Canvas, Chart, Lettering, SMALL, TEXT, draw};
use super::palette::{GRID, INK, LAKE, OCHRE, SLATE};
use super::scale::Scale;
use crate::error::ReportError;
use crate::figures;

/// Names of months, as short as charts need them.
pub(super) const MONTHS: [&str; 12] = [
    "Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec",
];

const J_PER_KWH: f64 = 3.6e6;
const WIDTH: f64 = 960.0;
const HEIGHT: f64 = 520.0;
const LEFT: f64 = BORDER + 44.0;
const RIGHT: f64 = WIDTH - BORDER - 150.0;
/// Share of a month's width that its bar takes.
const BAR: f64 = 0.62;

/// Monthly sums of beam, as weather has them and under a cloudless sky.
#[derive(Debug, Clone, PartialEq)]
pub struct MonthsChart {
    /// Beam of each month [J/m²].
    pub dni_j_m2: [f64; 12],
    /// Beam of each month under a cloudless sky [J/m²].
    pub clear_j_m2: [f64; 12],
    /// What the cloudless sky is, such as `Linke turbidity 3`.
    pub sky: String,
}

impl MonthsChart {
    /// Draws the chart.
    ///
    /// # Errors
    /// If the drawing library fails.
    pub fn draw(&self) -> Result<Chart, ReportError> {
        draw(WIDTH, HEIGHT, |canvas| self.paint(canvas))
    }

    fn paint(&self, canvas: &mut Canvas<'_>) {
        let sum = |months: &[f64; 12]| months.iter().sum::<f64>() / J_PER_KWH;
        let (all, clear) = (sum(&self.dni_j_m2), sum(&self.clear_j_m2));
        let finding = format!(
            "{} kWh/m² of direct sun in the year, {} of a cloudless one",
            figures::grouped(all, 0),
            figures::percent(if clear > 0.0 { all / clear } else { 0.0 }, 0)
        );
        let top = canvas.headline(&finding, "Direct normal irradiation of each month") + 32.0;
        let bottom = HEIGHT - BORDER - 30.0;
        let months = self.dni_j_m2.iter().chain(&self.clear_j_m2);
        let most = months.copied().fold(0.0, f64::max) / J_PER_KWH;
        let scale = Scale::round(0.0, most, 6.0, (bottom, top));
        scale.draw_upright(canvas, LEFT, RIGHT, "irradiation [kWh/m²]");
        let step = (RIGHT - LEFT) / 12.0;
        for (month, name) in MONTHS.iter().enumerate() {
            let middle = LEFT + (month as f64 + 0.5) * step;
            let half = 0.5 * BAR * step;
            let dni = self.dni_j_m2[month] / J_PER_KWH;
            canvas.fill_box(
                (middle - half, scale.at(dni)),
                (middle + half, bottom),
                OCHRE,
            );
            let figure = Lettering::new(SMALL, INK).centred();
            canvas.text((middle, bottom - 10.0), &figures::grouped(dni, 0), figure);
            let clear = scale.at(self.clear_j_m2[month] / J_PER_KWH);
            let reach = 0.5 * step - 3.0;
            canvas.line(
                &[(middle - reach, clear), (middle + reach, clear)],
                LAKE,
                2.5,
            );
            let month = Lettering::new(SMALL, SLATE).centred();
            canvas.text((middle, bottom + 16.0), name, month);
        }
        canvas.line(&[(LEFT, bottom), (RIGHT, bottom)], GRID, 1.0);
        self.name_both(canvas, &scale);
    }

    /// Names beside December, away from each other.
    fn name_both(&self, canvas: &mut Canvas<'_>, scale: &Scale) {
        let x = RIGHT + 10.0;
        let clear = scale.at(self.clear_j_m2[11] / J_PER_KWH);
        let dni = scale
            .at(0.5 * self.dni_j_m2[11] / J_PER_KWH)
            .max(clear + 54.0);
        canvas.text(
            (x, clear),
            "cloudless sky",
            Lettering::new(TEXT, LAKE).bold(),
        );
        let sky = Lettering::new(SMALL, SLATE).fitting(&self.sky, WIDTH - x - 8.0);
        canvas.text((x, clear + 18.0), &sky, Lettering::new(SMALL, SLATE));
        canvas.text((x, dni), "weather year", Lettering::new(TEXT, INK).bold());
    }
}
