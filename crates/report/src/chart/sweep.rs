//! What one design variable does to the cost of what is delivered, split into the parts of the cost.

use super::callout::{Crowd, Frame, name_point};
use super::canvas::{BORDER, Canvas, Chart, Lettering, Place, SMALL, draw};
use super::other_heat::{self, OtherHeat};
use super::palette::{Colour, INK, LAKE, OCHRE, PARTS};
use super::scale::Scale;
use crate::error::ReportError;
use crate::figures;

/// The cost at one value of the variable.
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

/// Cost of what is delivered against one design variable.
#[derive(Debug, Clone, PartialEq)]
pub struct Sweep {
    /// What is delivered: heat or electricity.
    pub product: String,
    /// Three-letter currency code.
    pub currency: String,
    /// Name of the variable, such as `mirrors per string`.
    pub variable: String,
    /// Unit of the variable; empty for a number of things.
    pub unit: String,
    /// What is held while the variable changes, such as `all else held`.
    pub held: String,
    /// Names of the parts, the lowest of the stack first.
    pub parts: Vec<String>,
    /// How many of the first parts count in the cost but are left out of the stack, so that the others
    /// can be seen.
    pub left_out: usize,
    /// Points, in any order.
    pub points: Vec<SweepPoint>,
    /// Heat from elsewhere, as lines across.
    pub others: Vec<OtherHeat>,
}

const WIDTH: f64 = 960.0;
const HEIGHT: f64 = 680.0;
const LEFT: f64 = BORDER + 58.0;
const RIGHT: f64 = WIDTH - BORDER - 190.0;
/// The close-up shows costs up to this share above the lowest.
const CLOSE_UP: f64 = 0.15;
/// Costs this share above the lowest count as nearly as good.
const NEARLY: f64 = 0.02;
/// Others are shown up to this times the lowest cost.
const DEAREST_OTHER: f64 = 2.0;
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
        let shown = format!(
            "Cost of {} against {}, {}",
            self.product, self.variable, self.held
        );
        let Some(curve) = Curve::of(self) else {
            canvas.headline(&format!("No feasible value of {}", self.variable), &shown);
            canvas.empty("There is no cost to show.");
            return;
        };
        let cost = self.cost_scale(&curve, (1.0, 0.0));
        let beyond = other_heat::beyond(&self.others, cost, &self.currency);
        let shown = format!("{shown}. {beyond}");
        let shown = shown.trim_end_matches([' ', '.']);
        let top = canvas.headline(&self.finding(&curve), shown) + 24.0;
        let close_up = (top, top + 120.0);
        let stack = (close_up.1 + 56.0, HEIGHT - BORDER - 52.0);
        let across = Scale::exact(curve.first(), curve.last(), 8.0, (LEFT, RIGHT));
        self.paint_stack(canvas, &curve, across, stack);
        let close = self.paint_close_up(canvas, &curve, across, close_up);
        let at = (across.at(curve.best.value), close.at(curve.best.total()));
        canvas.line(&[at, (at.0, stack.1)], INK, 1.0);
        self.name_best(canvas, &curve, (across, close), close_up);
    }

    fn paint_stack(
        &self,
        canvas: &mut Canvas<'_>,
        curve: &Curve,
        across: Scale,
        (top, bottom): (f64, f64),
    ) {
        let cost = self.cost_scale(curve, (bottom, top));
        let name = format!("{} [{}/kWh]", self.stack_name(), self.currency);
        cost.draw_upright(canvas, LEFT, RIGHT, &name);
        self.draw_stack(canvas, &curve.points, across, cost);
        other_heat::draw(canvas, &self.others, cost, (LEFT, RIGHT));
        across.draw_level(canvas, bottom, bottom, &self.axis_name());
    }

    fn cost_scale(&self, curve: &Curve, places: (f64, f64)) -> Scale {
        let drawn = |point: &&SweepPoint| point.parts_per_kwh[self.left_out..].iter().sum();
        let highest = curve.points.iter().map(drawn).fold(0.0, f64::max);
        Scale::round(0.0, highest.max(self.highest_other(curve)), 5.0, places)
    }

    /// The dearest of the others that doesn't flatten the stack.
    fn highest_other(&self, curve: &Curve) -> f64 {
        let most = curve.best.total() * DEAREST_OTHER;
        let costs = self.others.iter().map(|other| other.cost_per_kwh);
        costs.filter(|cost| *cost <= most).fold(0.0, f64::max)
    }

    fn paint_close_up(
        &self,
        canvas: &mut Canvas<'_>,
        curve: &Curve,
        across: Scale,
        (top, bottom): (f64, f64),
    ) -> Scale {
        let least = curve.best.total();
        let ceiling = curve.highest().min(least * (1.0 + CLOSE_UP));
        let close = Scale::round(least, ceiling, 3.0, (bottom, top));
        let name = format!("cost of {}, close up [{}/kWh]", self.product, self.currency);
        close.draw_upright(canvas, LEFT, RIGHT, &name);
        let inside: Vec<Place> = curve
            .points
            .iter()
            .filter(|p| close.reaches(p.total()))
            .map(|p| (across.at(p.value), close.at(p.total())))
            .collect();
        canvas.line(&inside, LAKE, 2.0);
        for place in inside {
            canvas.disc(place, 3.5, LAKE, 1.0);
        }
        close
    }

    fn finding(&self, curve: &Curve) -> String {
        let lead = format!("Cost is lowest at {}", self.named(curve.best.value));
        let more = figures::percent(NEARLY, 0);
        let (low, high) = curve.nearly_as_good();
        if curve.points.len() == 1 {
            lead
        } else if low == high {
            format!("{lead}; its neighbours cost over {more} more")
        } else {
            let range = format!("{} to {} {}", self.value(low), self.value(high), self.unit);
            format!("{lead}; {} cost at most {more} more", range.trim_end())
        }
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
            format!("a {} of {} {}", self.variable, self.value(value), self.unit)
        }
    }

    fn axis_name(&self) -> String {
        if self.unit.is_empty() {
            format!("{} [number]", self.variable)
        } else {
            format!("{} [{}]", self.variable, self.unit)
        }
    }

    fn stack_name(&self) -> String {
        match self.parts.get(..self.left_out) {
            Some(left_out) if !left_out.is_empty() => {
                format!(
                    "parts of the cost of {} beside {}",
                    self.product,
                    left_out.join(", ")
                )
            }
            _ => format!("parts of the cost of {}", self.product),
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
        for part in self.left_out..self.parts.len() {
            let height = |p: &SweepPoint, parts: usize| {
                p.parts_per_kwh[self.left_out..parts].iter().sum::<f64>()
            };
            let edge = |parts: usize| {
                let at = |p: &&SweepPoint| (across.at(p.value), cost.at(height(p, parts)));
                at_least_a_bar(points.iter().map(at).collect())
            };
            let (mut outline, upper) = (edge(part), edge(part + 1));
            let lower_end = outline.last().map_or(0.0, |place| place.1);
            let upper_end = upper.last().map_or(0.0, |place| place.1);
            names.push((lower_end + upper_end) / 2.0);
            outline.extend(upper.iter().rev());
            canvas.fill(&outline, self.colour(part));
        }
        let last = points.last().map_or(RIGHT, |p| across.at(p.value));
        self.name_parts(canvas, last, &spread(&names, LABEL_GAP), &names);
    }

    fn colour(&self, part: usize) -> Colour {
        PARTS[(part - self.left_out) % PARTS.len()]
    }

    fn name_parts(&self, canvas: &mut Canvas<'_>, from: f64, at: &[f64], middle: &[f64]) {
        let lettering = Lettering::new(SMALL, INK);
        for (part, name) in self.parts[self.left_out..].iter().enumerate() {
            let colour = self.colour(part + self.left_out);
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

    fn name_best(
        &self,
        canvas: &mut Canvas<'_>,
        curve: &Curve,
        (across, close): (Scale, Scale),
        (top, bottom): (f64, f64),
    ) {
        let place = |p: &SweepPoint| (across.at(p.value), close.at(p.total()));
        let at = place(curve.best);
        canvas.disc(at, 6.5, OCHRE, 1.0);
        canvas.ring(at, 6.5, INK, 1.5);
        let mut crowd = Crowd::default();
        let line: Vec<Place> = curve.points.iter().map(|p| place(p)).collect();
        crowd.add_line(&line);
        let cost = figures::significant(curve.best.total(), 3);
        let lines = [
            self.named(curve.best.value),
            format!("{cost} {}/kWh", self.currency),
        ];
        let frame = Frame {
            from: (LEFT, top - 10.0),
            to: (WIDTH - BORDER, bottom + 10.0),
        };
        name_point(canvas, at, &lines, frame, &mut crowd);
    }
}

/// The usable points of a sweep by rising value, and the cheapest of them.
struct Curve<'a> {
    points: Vec<&'a SweepPoint>,
    best: &'a SweepPoint,
}

impl<'a> Curve<'a> {
    /// Points with a finite cost for every part; nothing if there is none.
    fn of(sweep: &'a Sweep) -> Option<Self> {
        let mut points: Vec<&SweepPoint> = sweep
            .points
            .iter()
            .filter(|p| p.parts_per_kwh.len() == sweep.parts.len())
            .filter(|p| p.value.is_finite() && p.total().is_finite())
            .collect();
        points.sort_by(|a, b| a.value.total_cmp(&b.value));
        let by_cost = |a: &&&SweepPoint, b: &&&SweepPoint| a.total().total_cmp(&b.total());
        let best = points.iter().min_by(by_cost).copied()?;
        Some(Curve { points, best })
    }

    fn first(&self) -> f64 {
        self.points.first().map_or(self.best.value, |p| p.value)
    }

    fn last(&self) -> f64 {
        self.points.last().map_or(self.best.value, |p| p.value)
    }

    fn highest(&self) -> f64 {
        self.points.iter().map(|p| p.total()).fold(0.0, f64::max)
    }

    /// Lowest and highest value of the unbroken range around the cheapest that costs
    /// at most [`NEARLY`] more.
    fn nearly_as_good(&self) -> (f64, f64) {
        let limit = self.best.total() * (1.0 + NEARLY);
        let good = |p: &&SweepPoint| p.total() <= limit;
        let points = || self.points.iter().copied();
        let below = points().filter(|p| p.value <= self.best.value);
        let above = points().filter(|p| p.value >= self.best.value);
        let low = below.rev().take_while(good).last();
        let high = above.take_while(good).last();
        let value = |p: Option<&SweepPoint>| p.map_or(self.best.value, |p| p.value);
        (value(low), value(high))
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
pub(super) fn spread(heights: &[f64], gap: f64) -> Vec<f64> {
    let mut moved = heights.to_vec();
    for place in 1..moved.len() {
        moved[place] = moved[place].min(moved[place - 1] - gap);
    }
    moved
}

#[cfg(test)]
mod tests {
    use super::*;

    fn side_sweep(costs: &[(f64, f64)]) -> Sweep {
        let point = |(value, cost): &(f64, f64)| SweepPoint {
            value: *value,
            parts_per_kwh: vec![*cost],
        };
        Sweep {
            product: "heat".into(),
            currency: "USD".into(),
            variable: "mirror side".into(),
            unit: "m".into(),
            held: "all else held".into(),
            parts: vec!["all".into()],
            left_out: 0,
            points: costs.iter().map(point).collect(),
            others: vec![],
        }
    }

    #[test]
    fn the_finding_names_the_cheapest_and_its_unbroken_surroundings() {
        let costs = [
            (0.7, 1.01),
            (0.8, 1.5),
            (0.9, 1.02),
            (1.05, 1.0),
            (1.2, 1.019),
            (1.3, 1.03),
        ];
        let sweep = side_sweep(&costs);
        let finding = sweep.finding(&Curve::of(&sweep).unwrap());
        let wanted = "Cost is lowest at a mirror side of 1.05 m; \
                      0.900 to 1.20 m cost at most 2 % more";
        assert_eq!(finding, wanted);
        assert!(Curve::of(&side_sweep(&[(1.0, f64::NAN)])).is_none());
    }

    #[test]
    fn crowded_names_move_apart() {
        assert_eq!(spread(&[100.0, 95.0, 40.0], 18.0), [100.0, 82.0, 40.0]);
        assert!(spread(&[], 18.0).is_empty());
    }
}
