//! Values as colours, and the bar that explains them.

use super::canvas::{Canvas, Lettering, Place, SMALL};
use super::palette::{Colour, SLATE, ramp};
use super::scale::Scale;

/// A range of values laid on the ramp from dark to bright.
#[derive(Debug, Clone, Copy)]
pub(super) struct Shade {
    low: f64,
    high: f64,
}

const BAR_WIDTH: f64 = 14.0;
const SLICES: usize = 64;

impl Shade {
    /// Range of the finite values.
    pub fn of(values: impl Iterator<Item = f64>) -> Self {
        let start = (f64::INFINITY, f64::NEG_INFINITY);
        let (low, high) = values
            .filter(|value| value.is_finite())
            .fold(start, |(low, high), v| (low.min(v), high.max(v)));
        Shade { low, high }
    }

    /// Lowest and highest value.
    pub fn range(&self) -> (f64, f64) {
        (self.low, self.high)
    }

    /// Where a value lies from the lowest (0) to the highest (1); 1 if all values are equal.
    pub fn share(&self, value: f64) -> f64 {
        let width = self.high - self.low;
        if width > 0.0 {
            (value - self.low) / width
        } else {
            1.0
        }
    }

    /// Colour of a value; bright throughout if all values are equal.
    pub fn colour(&self, value: f64) -> Colour {
        ramp(self.share(value))
    }

    /// Draws the bar with its top left corner at `corner`, `height` high, under its name.
    pub fn draw_bar(&self, canvas: &mut Canvas<'_>, corner: Place, height: f64, name: [&str; 2]) {
        let (left, top) = corner;
        for (line, text) in name.into_iter().enumerate() {
            let y = top + line as f64 * SMALL * 1.35 + SMALL / 2.0;
            canvas.text((left, y), text, Lettering::new(SMALL, SLATE));
        }
        let top = top + 2.0 * SMALL * 1.35 + 12.0;
        let scale = Scale::exact(self.low, self.high, 5.0, (top + height, top));
        let slice = height / SLICES as f64;
        for place in 0..SLICES {
            let share = 1.0 - (place as f64 + 0.5) / SLICES as f64;
            let y = top + place as f64 * slice;
            // Each slice reaches to the end and is covered by the next: no seam shows.
            let value = self.low + share * (self.high - self.low);
            canvas.fill_box(
                (left, y),
                (left + BAR_WIDTH, top + height),
                self.colour(value),
            );
        }
        scale.draw_beside(canvas, left + BAR_WIDTH);
    }
}
