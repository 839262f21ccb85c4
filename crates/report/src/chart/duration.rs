//! For how many hours of the year the direct sun is how strong.

use super::canvas::{BORDER, Canvas, Chart, Lettering, TEXT, draw};
use super::palette::{INK, LAKE, OCHRE};
use super::scale::Scale;
use crate::error::ReportError;
use crate::figures;

const WIDTH: f64 = 960.0;
const HEIGHT: f64 = 520.0;
const LEFT: f64 = BORDER + 50.0;
const RIGHT: f64 = WIDTH - BORDER - 20.0;
/// Beam that the headline counts hours of, W/m².
const STRONG_W_M2: f64 = 500.0;

/// Hours of a year sorted by their beam.
#[derive(Debug, Clone, PartialEq)]
pub struct DurationChart {
    /// Beam of each hour, in any order [W/m²].
    pub dni_w_m2: Vec<f64>,
    /// Beam of each hour under a cloudless sky, in any order [W/m²].
    pub clear_w_m2: Vec<f64>,
}

impl DurationChart {
    /// Draws the chart.
    ///
    /// # Errors
    /// If the drawing library fails.
    pub fn draw(&self) -> Result<Chart, ReportError> {
        draw(WIDTH, HEIGHT, |canvas| self.paint(canvas))
    }

    fn paint(&self, canvas: &mut Canvas<'_>) {
        let strong = |hours: &[f64]| hours.iter().filter(|dni| **dni > STRONG_W_M2).count();
        let finding = format!(
            "{} hours with more than {STRONG_W_M2:.0} W/m²; a cloudless sky would give {}",
            figures::grouped(strong(&self.dni_w_m2) as f64, 0),
            figures::grouped(strong(&self.clear_w_m2) as f64, 0)
        );
        let top = canvas.headline(
            &finding,
            "Direct normal irradiance of hours, the strongest first",
        );
        let (dni, clear) = (sorted(&self.dni_w_m2), sorted(&self.clear_w_m2));
        if dni.is_empty() && clear.is_empty() {
            return canvas.empty("The year has no direct sun.");
        }
        let (top, bottom) = (top + 32.0, HEIGHT - BORDER - 52.0);
        let most = dni.iter().chain(&clear).copied().fold(0.0, f64::max);
        let height = Scale::round(0.0, most, 6.0, (bottom, top));
        let count = dni.len().max(clear.len()) as f64;
        let width = Scale::round(0.0, count, 9.0, (LEFT, RIGHT));
        height.draw_upright(canvas, LEFT, RIGHT, "irradiance [W/m²]");
        width.draw_level(
            canvas,
            top,
            bottom,
            "hours of the year with at least as much [h]",
        );
        let curve = |hours: &[f64]| -> Vec<(f64, f64)> {
            let places = hours.iter().enumerate().step_by(8);
            places
                .map(|(place, dni)| (width.at(place as f64), height.at(*dni)))
                .collect()
        };
        // Each name stands where its falling curve leaves room: above to the right, below to the left.
        for (hours, colour, name, at, (right, down)) in [
            (&clear, LAKE, "cloudless sky", 0.55, (8.0, -16.0)),
            (&dni, OCHRE, "weather year", 0.3, (-116.0, 26.0)),
        ] {
            canvas.line(&curve(hours), colour, 3.0);
            let place = (at * hours.len() as f64) as usize;
            if let Some(dni) = hours.get(place) {
                let (x, y) = (width.at(place as f64), height.at(*dni));
                let name_at = (x + right, y + down);
                canvas.label(name_at, name, Lettering::new(TEXT, INK).bold());
                canvas.disc((x, y), 4.5, colour, 1.0);
            }
        }
    }
}

/// Hours with beam, the strongest first.
fn sorted(hours: &[f64]) -> Vec<f64> {
    let mut lit: Vec<f64> = hours.iter().copied().filter(|dni| *dni > 0.0).collect();
    lit.sort_by(|one, other| other.total_cmp(one));
    lit
}
