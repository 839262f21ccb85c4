//! What one design variable does to the cost of heat, split into the parts of the cost.

use super::callout::{Crowd, Frame, name_point};
use super::canvas::{BORDER, Canvas, Chart, Lettering, Place, SMALL, draw};
use super::palette::{INK, LAKE, OCHRE, PARTS};
use super::scale::Scale;
use crate::error::ReportError;
use crate::figures;

/// The cost of heat at one value of the variable.
#[derive(Debug, Clone, PartialEq)]
pub struct SweepPoint {
    /// Value of the variable.
    pub value: f64,
    /// Parts of the cost, currency per kWh, in the order of [`Sweep::parts`].
    pub parts_per_kwh: Vec<f64>,
}

impl SweepPoint {
    fn total(&self) -> f64 {
        self.parts_per_kwh.iter().sum()
    }
}

/// Cost of heat against one design variable.
#[derive(Debug, Clone, PartialEq)]
pub struct Sweep {
    /// Three-letter currency code.
    pub currency: String,
    /// Name of the variable, such as `mirrors per string`.
    pub variable: String,
    /// Unit of the variable; empty for a number of things.
    pub unit: String,
    /// Names of the parts, the lowest of the stack first.
    pub parts: Vec<String>,
    /// Points, in any order.
    pub points: Vec<SweepPoint>,
}

const WIDTH: f64 = 960.0;
const HEIGHT: f64 = 680.0;
const LEFT: f64 = BORDER + 58.0;
const RIGHT: f64 = WIDTH - BORDER - 190.0;
/// The close-up shows costs up to this share above the lowest.
const CLOSE_UP: f64 = 0.15;
/// Costs this share above the lowest count as nearly as good.
const NEARLY: f64 = 0.02;
const LABEL_GAP: f64 = 18.0;
/// Width of the bar that stands for a single point.
const BAR: f64 = 64.0;

impl Sweep {
    /// Draws the chart.
    ///
    /// # Errors
    /// If the drawing library fails.
    pub fn draw(&self) -> Result<Chart, ReportError> {
        draw(WIDTH, HEIGHT, |canvas| self.paint(canvas))
    }

    fn paint(&self, canvas: &mut Canvas<'_>) {
        let points = self.usable();
        let lowest = points.iter().min_by(|a, b| a.total().total_cmp(&b.total()));
        let shown = format!("Cost of heat against {}, all else held", self.variable);
        let (Some(best), Some(first), Some(last)) = (lowest, points.first(), points.last()) else {
            canvas.headline(&format!("No feasible value of {}", self.variable), &shown);
            canvas.empty("There is no cost to show.");
            return;
        };
        let top = canvas.headline(&self.finding(&points, best), &shown) + 24.0;
        let close_up_bottom = top + 120.0;
        let stack_top = close_up_bottom + 56.0;
        let bottom = HEIGHT - BORDER - 52.0;
        let across = Scale::exact(first.value, last.value, 8.0, (LEFT, RIGHT));

        let highest = points.iter().map(|p| p.total()).fold(0.0, f64::max);
        let cost = Scale::round(0.0, highest, 5.0, (bottom, stack_top));
        let unit = format!("{}/kWh", self.currency);
        cost.draw_upright(
            canvas,
            LEFT,
            RIGHT,
            &format!("parts of the cost of heat [{unit}]"),
        );
        self.draw_stack(canvas, &points, across, cost);
        across.draw_level(canvas, bottom, bottom, &self.axis_name());

        let least = best.total();
        let ceiling = highest.min(least * (1.0 + CLOSE_UP));
        let close = Scale::round(least, ceiling, 3.0, (close_up_bottom, top));
        close.draw_upright(
            canvas,
            LEFT,
            RIGHT,
            &format!("cost of heat, close up [{unit}]"),
        );
        self.draw_close_up(canvas, &points, across, close);
        let x = across.at(best.value);
        canvas.line(&[(x, close.at(least)), (x, bottom)], INK, 1.0);
        self.name_best(
            canvas,
            best,
            &points,
            (across, close),
            (top, close_up_bottom),
        );
    }

    /// Points with finite costs for every part, by rising value.
    fn usable(&self) -> Vec<&SweepPoint> {
        let mut points: Vec<&SweepPoint> = self
            .points
            .iter()
            .filter(|p| p.parts_per_kwh.len() == self.parts.len())
            .filter(|p| p.value.is_finite() && p.total().is_finite())
            .collect();
        points.sort_by(|a, b| a.value.total_cmp(&b.value));
        points
    }

    fn finding(&self, points: &[&SweepPoint], best: &SweepPoint) -> String {
        let limit = best.total() * (1.0 + NEARLY);
        let at = points
            .iter()
            .position(|p| p.value == best.value)
            .unwrap_or(0);
        let good = |p: &&&SweepPoint| p.total() <= limit;
        let low = points[..=at].iter().rev().take_while(good).last();
        let high = points[at..].iter().take_while(good).last();
        let (low, high) = (
            low.map_or(best.value, |p| p.value),
            high.map_or(best.value, |p| p.value),
        );
        let lead = format!("Heat is cheapest at {}", self.named(best.value));
        if points.len() == 1 {
            return lead;
        }
        if low == high {
            return format!(
                "{lead}; its neighbours cost over {} more",
                figures::percent(NEARLY, 0)
            );
        }
        format!(
            "{lead}; {} to {} cost at most {} more",
            self.value(low),
            self.value(high),
            figures::percent(NEARLY, 0),
        )
    }

    fn value(&self, value: f64) -> String {
        if value.fract() == 0.0 {
            figures::grouped(value, 0)
        } else {
            figures::significant(value, 3)
        }
    }

    /// A value with its unit, or with the variable's name if that counts things.
    fn named(&self, value: f64) -> String {
        if self.unit.is_empty() {
            format!("{} {}", self.value(value), self.variable)
        } else {
            format!("{} of {} {}", self.variable, self.value(value), self.unit)
        }
    }

    fn axis_name(&self) -> String {
        if self.unit.is_empty() {
            format!("{} [number]", self.variable)
        } else {
            format!("{} [{}]", self.variable, self.unit)
        }
    }

    fn draw_stack(
        &self,
        canvas: &mut Canvas<'_>,
        points: &[&SweepPoint],
        across: Scale,
        cost: Scale,
    ) {
        let mut names = Vec::new();
        for part in 0..self.parts.len() {
            let height =
                |p: &SweepPoint, parts: usize| p.parts_per_kwh[..parts].iter().sum::<f64>();
            let edge = |parts: usize| {
                let at = |p: &&SweepPoint| (across.at(p.value), cost.at(height(p, parts)));
                at_least_a_bar(points.iter().map(at).collect())
            };
            let (mut outline, upper) = (edge(part), edge(part + 1));
            let lower_end = outline.last().map_or(0.0, |place| place.1);
            let upper_end = upper.last().map_or(0.0, |place| place.1);
            names.push((lower_end + upper_end) / 2.0);
            outline.extend(upper.iter().rev());
            canvas.fill(&outline, PARTS[part % PARTS.len()]);
        }
        let last = points.last().map_or(RIGHT, |p| across.at(p.value));
        self.name_parts(canvas, last, &spread(&names, LABEL_GAP), &names);
    }

    fn name_parts(&self, canvas: &mut Canvas<'_>, from: f64, at: &[f64], middle: &[f64]) {
        let lettering = Lettering::new(SMALL, INK);
        for (part, name) in self.parts.iter().enumerate() {
            let colour = PARTS[part % PARTS.len()];
            canvas.line(
                &[(from, middle[part]), (RIGHT + 14.0, at[part])],
                colour,
                1.5,
            );
            canvas.fill_box(
                (RIGHT + 14.0, at[part] - 5.0),
                (RIGHT + 24.0, at[part] + 5.0),
                colour,
            );
            let text = lettering.fitting(name, WIDTH - BORDER - RIGHT - 32.0);
            canvas.text((RIGHT + 31.0, at[part]), &text, lettering);
        }
    }

    fn draw_close_up(
        &self,
        canvas: &mut Canvas<'_>,
        points: &[&SweepPoint],
        across: Scale,
        close: Scale,
    ) {
        let inside: Vec<Place> = points
            .iter()
            .filter(|p| close.reaches(p.total()))
            .map(|p| (across.at(p.value), close.at(p.total())))
            .collect();
        canvas.line(&inside, LAKE, 2.0);
        for place in inside {
            canvas.disc(place, 3.5, LAKE, 1.0);
        }
    }

    fn name_best(
        &self,
        canvas: &mut Canvas<'_>,
        best: &SweepPoint,
        points: &[&SweepPoint],
        (across, close): (Scale, Scale),
        (top, bottom): (f64, f64),
    ) {
        let at = (across.at(best.value), close.at(best.total()));
        canvas.disc(at, 6.5, OCHRE, 1.0);
        canvas.ring(at, 6.5, INK, 1.5);
        let place = |p: &&SweepPoint| (across.at(p.value), close.at(p.total()));
        let mut crowd = Crowd::default();
        crowd.add_line(&points.iter().map(place).collect::<Vec<_>>());
        let lines = [
            self.named(best.value),
            format!(
                "{} {}/kWh",
                figures::significant(best.total(), 3),
                self.currency
            ),
        ];
        let frame = Frame {
            from: (LEFT, top - 10.0),
            to: (WIDTH - BORDER, bottom + 10.0),
        };
        name_point(canvas, at, &lines, frame, &mut crowd);
    }
}

/// The edge of a part, or the edge of a bar if there is only one place.
fn at_least_a_bar(edge: Vec<Place>) -> Vec<Place> {
    match edge.as_slice() {
        [(x, y)] => vec![(x - BAR / 2.0, *y), (x + BAR / 2.0, *y)],
        _ => edge,
    }
}

/// Heights from low to high on the sheet (falling numbers) moved apart to at least `gap`.
fn spread(heights: &[f64], gap: f64) -> Vec<f64> {
    let mut moved = heights.to_vec();
    for place in 1..moved.len() {
        moved[place] = moved[place].min(moved[place - 1] - gap);
    }
    moved
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn crowded_names_move_apart() {
        assert_eq!(spread(&[100.0, 95.0, 40.0], 18.0), [100.0, 82.0, 40.0]);
        assert!(spread(&[], 18.0).is_empty());
    }
}
