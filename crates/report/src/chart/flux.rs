//! Where on the aperture light falls in the brightest hour, seen from the field, to scale.

use super::canvas::{BORDER, Canvas, Chart, Lettering, SMALL, draw};
use super::palette::{INK, SLATE};
use super::scale::Scale;
use super::shade::Shade;
use crate::error::ReportError;
use crate::figures;

/// Flux on an aperture.
#[derive(Debug, Clone, PartialEq)]
pub struct FluxChart {
    /// When, such as `20 June, 12 h`.
    pub when: String,
    /// Width of what is mapped, metres.
    pub width_m: f64,
    /// Its height, metres.
    pub height_m: f64,
    /// Parts along the width.
    pub columns: usize,
    /// Flux in the middle of every part, row by row from the lower left, W/m².
    pub flux_w_m2: Vec<f64>,
    /// The highest flux that the receiver bears, W/m².
    pub limit_w_m2: f64,
    /// Share of the year's light that spreading the aim points loses, and the highest flux without
    /// it, W/m².
    pub spreading: Option<(f64, f64)>,
}

const WIDTH: f64 = 960.0;
const HEIGHT: f64 = 640.0;
const LEFT: f64 = BORDER + 64.0;
const RIGHT: f64 = WIDTH - BORDER - 150.0;
const KW: f64 = 1e-3;

/// The drawn aperture on the sheet.
struct Frame {
    left: f64,
    top: f64,
    right: f64,
    bottom: f64,
}

impl FluxChart {
    /// Draws the chart.
    ///
    /// # Errors
    /// If the drawing library fails.
    pub fn draw(&self) -> Result<Chart, ReportError> {
        draw(WIDTH, HEIGHT, |canvas| self.paint(canvas))
    }

    fn paint(&self, canvas: &mut Canvas<'_>) {
        let shown = "Flux on the aperture in its brightest hour, seen from the field";
        let rows = self.flux_w_m2.len() / self.columns.max(1);
        let is_whole = rows > 0 && rows * self.columns == self.flux_w_m2.len();
        if !is_whole || self.flux_w_m2.iter().any(|flux| !flux.is_finite()) {
            canvas.headline("No flux to show", shown);
            canvas.empty("The chart needs a feasible design.");
            return;
        }
        let top = canvas.headline(&self.finding(), shown) + 36.0;
        let bottom = self
            .cost()
            .map_or(HEIGHT - BORDER, |cost| canvas.foot(&cost))
            - 52.0;
        let frame = self.frame(top, bottom);
        let shade = self.paint_parts(canvas, &frame, rows);
        self.draw_sides(canvas, &frame);
        let bar = (RIGHT + 40.0, frame.top);
        shade.draw_bar(canvas, bar, 200.0, ["flux", "[kW/m²]"]);
    }

    fn finding(&self) -> String {
        let peak = self.flux_w_m2.iter().copied().fold(0.0, f64::max);
        let all = if peak > self.limit_w_m2 {
            ", were no mirror turned away"
        } else {
            ""
        };
        format!(
            "{}: up to {} kW/m²{all}, {} of what the receiver bears",
            self.when,
            figures::grouped(peak * KW, 0),
            figures::percent(peak / self.limit_w_m2, 0)
        )
    }

    fn cost(&self) -> Option<String> {
        let (lost_share, middle_w_m2) = self.spreading?;
        Some(format!(
            "Aimed at its middle, all mirrors together would reach {} kW/m² there in their brightest hour; \
             spreading their aim points costs {} of the year's light.",
            figures::grouped(middle_w_m2 * KW, 0),
            figures::percent(lost_share, 1)
        ))
    }

    /// As large as fits, to scale, in the middle between left and right.
    fn frame(&self, top: f64, bottom: f64) -> Frame {
        let per_m = ((RIGHT - LEFT) / self.width_m).min((bottom - top) / self.height_m);
        let (width, height) = (self.width_m * per_m, self.height_m * per_m);
        let left = LEFT + 0.5 * (RIGHT - LEFT - width);
        Frame {
            left,
            top,
            right: left + width,
            bottom: top + height,
        }
    }

    fn paint_parts(&self, canvas: &mut Canvas<'_>, frame: &Frame, rows: usize) -> Shade {
        let shade = Shade::of(self.flux_w_m2.iter().map(|flux| flux * KW));
        let across = (frame.right - frame.left) / self.columns as f64;
        let up = (frame.bottom - frame.top) / rows as f64;
        for (row, parts) in self.flux_w_m2.chunks(self.columns).enumerate().rev() {
            for (column, flux) in parts.iter().enumerate() {
                let left = frame.left + column as f64 * across;
                let top = frame.bottom - (row + 1) as f64 * up;
                // A little more to the right and down, for the next parts to cover: no seam.
                let far = (
                    (left + across + 1.0).min(frame.right),
                    (top + up + 1.0).min(frame.bottom),
                );
                canvas.fill_box((left, top), far, shade.colour(flux * KW));
            }
        }
        shade
    }

    fn draw_sides(&self, canvas: &mut Canvas<'_>, frame: &Frame) {
        let (half_width, half_height) = (0.5 * self.width_m, 0.5 * self.height_m);
        let level = Scale::exact(-half_width, half_width, 6.0, (frame.left, frame.right));
        let name = "right of its middle [m]";
        level.draw_level(canvas, frame.bottom, frame.bottom, name);
        let upright = Scale::exact(-half_height, half_height, 6.0, (frame.bottom, frame.top));
        upright.draw_upright(canvas, frame.left, frame.left, "above its middle [m]");
        let corners = [
            (frame.left, frame.top),
            (frame.right, frame.top),
            (frame.right, frame.bottom),
            (frame.left, frame.bottom),
            (frame.left, frame.top),
        ];
        canvas.line(&corners, SLATE, 1.0);
        let peak = self.peak_place(frame);
        canvas.ring(peak, 7.0, INK, 1.5);
        let label = Lettering::new(SMALL, INK);
        canvas.label((peak.0 + 12.0, peak.1), "highest", label);
    }

    /// Middle of the brightest part on the sheet.
    fn peak_place(&self, frame: &Frame) -> (f64, f64) {
        let rows = self.flux_w_m2.len() / self.columns;
        let brightest = (0..self.flux_w_m2.len())
            .max_by(|&one, &other| self.flux_w_m2[one].total_cmp(&self.flux_w_m2[other]))
            .unwrap_or(0);
        let share = |place: usize, count: usize| (place as f64 + 0.5) / count as f64;
        let across = share(brightest % self.columns, self.columns);
        let up = share(brightest / self.columns, rows);
        (
            frame.left + across * (frame.right - frame.left),
            frame.bottom - up * (frame.bottom - frame.top),
        )
    }
}
