//! Axes: round steps, the way from values to places, and figures with equal decimals.

use super::canvas::{BORDER, Canvas, Lettering, SMALL, TEXT};
use super::palette::{GRID, INK, SLATE};
use crate::figures;

/// A linear axis between two places of the sheet.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Scale {
    from: f64,
    to: f64,
    step: f64,
    decimals: usize,
    place_from: f64,
    place_to: f64,
}

impl Scale {
    /// Axis from a round value at or below `low` to one at or above `high`, with about
    /// `wanted` steps, laid between two places.
    pub fn round(low: f64, high: f64, wanted: f64, places: (f64, f64)) -> Self {
        let scale = Scale::exact(low, high, wanted, places);
        Scale {
            from: (scale.from / scale.step + 1e-9).floor() * scale.step,
            to: (scale.to / scale.step - 1e-9).ceil() * scale.step,
            ..scale
        }
    }

    /// Axis from `low` to `high` exactly; figures stand at round values between.
    pub fn exact(low: f64, high: f64, wanted: f64, places: (f64, f64)) -> Self {
        let (low, high) = opened(low, high);
        let (step, decimals) = round_step((high - low) / wanted);
        Scale {
            from: low,
            to: high,
            step,
            decimals,
            place_from: places.0,
            place_to: places.1,
        }
    }

    /// Place of a value.
    pub fn at(&self, value: f64) -> f64 {
        let share = (value - self.from) / (self.to - self.from);
        self.place_from + share * (self.place_to - self.place_from)
    }

    /// Whether the axis reaches the value.
    pub fn reaches(&self, value: f64) -> bool {
        value >= self.from && value <= self.to
    }

    /// Round values on the axis.
    fn ticks(&self) -> Vec<f64> {
        let first = (self.from / self.step - 1e-9).ceil();
        let last = (self.to / self.step + 1e-9).floor();
        let count = (last - first).max(0.0) as usize;
        (0..=count)
            .map(|i| (first + i as f64) * self.step)
            .collect()
    }

    /// Round values on the axis, each with its figure.
    pub fn marks(&self) -> Vec<(f64, String)> {
        let figure = |value| (value, self.figure(value));
        self.ticks().into_iter().map(figure).collect()
    }

    fn figure(&self, value: f64) -> String {
        figures::grouped(value, self.decimals)
    }

    /// Draws an upright axis: grid lines from `left` to `right`, figures left of them, and
    /// the name with its unit above.
    pub(super) fn draw_upright(&self, canvas: &mut Canvas<'_>, left: f64, right: f64, name: &str) {
        let figures = Lettering::new(SMALL, SLATE).ending();
        for value in self.ticks() {
            let y = self.at(value);
            canvas.text((left - 8.0, y), &self.figure(value), figures);
        }
        self.draw_grid(canvas, left, right);
        let top = self.place_from.min(self.place_to) - 20.0;
        canvas.text((BORDER, top), name, Lettering::new(TEXT, INK));
    }

    /// Draws the grid lines of an upright axis from `left` to `right`.
    pub(super) fn draw_grid(&self, canvas: &mut Canvas<'_>, left: f64, right: f64) {
        for value in self.ticks() {
            let y = self.at(value);
            canvas.line(&[(left, y), (right, y)], GRID, 1.0);
        }
    }

    /// Draws a level axis: grid lines from `top` to `bottom`, figures below them, and the
    /// name with its unit below those.
    pub(super) fn draw_level(&self, canvas: &mut Canvas<'_>, top: f64, bottom: f64, name: &str) {
        let figures = Lettering::new(SMALL, SLATE).centred();
        for value in self.ticks() {
            let x = self.at(value);
            canvas.line(&[(x, top), (x, bottom)], GRID, 1.0);
            canvas.text((x, bottom + 18.0), &self.figure(value), figures);
        }
        let middle = (self.place_from + self.place_to) / 2.0;
        canvas.text(
            (middle, bottom + 40.0),
            name,
            Lettering::new(TEXT, INK).centred(),
        );
    }

    /// Draws short marks and figures to the right of a bar that ends at `x`.
    pub(super) fn draw_beside(&self, canvas: &mut Canvas<'_>, x: f64) {
        for value in self.ticks() {
            let y = self.at(value);
            canvas.line(&[(x, y), (x + 5.0, y)], SLATE, 1.0);
            let lettering = Lettering::new(SMALL, SLATE);
            canvas.text((x + 9.0, y), &self.figure(value), lettering);
        }
    }
}

/// The range itself, or a range around its only value.
fn opened(low: f64, high: f64) -> (f64, f64) {
    if high > low {
        (low, high)
    } else if low == 0.0 {
        (0.0, 1.0)
    } else {
        (low - 0.05 * low.abs(), low + 0.05 * low.abs())
    }
}

/// The round step at or above `width`, and the decimals that its multiples need.
fn round_step(width: f64) -> (f64, usize) {
    let (_, exponent) = figures::round_parts(width);
    (
        figures::round_at_least(width),
        usize::try_from(-exponent).unwrap_or(0),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn steps_are_round() {
        for (width, wanted) in [
            (0.00031, (0.0005, 4)),
            (0.2, (0.2, 1)),
            (0.6, (1.0, 0)),
            (13.0, (20.0, 0)),
            (7e6, (1e7, 0)),
        ] {
            let (step, decimals) = round_step(width);
            assert!((step / wanted.0 - 1.0).abs() < 1e-12, "{width}: {step}");
            assert_eq!(decimals, wanted.1);
        }
    }

    proptest! {
        #[test]
        fn a_round_axis_holds_its_values(low in -1e6..1e6f64, width in 0.0..1e6f64) {
            let scale = Scale::round(low, low + width, 5.0, (100.0, 900.0));
            for value in [low, low + width] {
                let place = scale.at(value);
                prop_assert!((99.99..=900.01).contains(&place), "{place}");
            }
            let ticks = scale.ticks();
            prop_assert!(ticks.len() >= 2 && ticks.len() <= 13, "{ticks:?}");
        }
    }
}
