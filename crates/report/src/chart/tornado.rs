//! What the cost of the best design rests on: one input at a time from its low to its high end.

use super::canvas::{BORDER, Canvas, Chart, Lettering, SMALL, TEXT, draw, headline_height};
use super::palette::{Colour, INK, LAKE, OCHRE, SLATE};
use super::scale::Scale;
use crate::error::ReportError;
use crate::figures;

/// Costs at both ends of every uncertain input.
#[derive(Debug, Clone, PartialEq)]
pub struct Tornado {
    /// Currency code.
    pub currency: String,
    /// What is delivered, such as `heat`.
    pub product: String,
    /// Cost with every input as it is, currency per kWh.
    pub cost_per_kwh: f64,
    /// The inputs, the widest first.
    pub inputs: Vec<TornadoInput>,
}

/// An input at its ends.
#[derive(Debug, Clone, PartialEq)]
pub struct TornadoInput {
    /// Name of the input.
    pub label: String,
    /// Low and high end, as text.
    pub ends: [String; 2],
    /// Cost at the low and at the high end, currency per kWh.
    pub costs_per_kwh: [f64; 2],
}

const WIDTH: f64 = 960.0;
const LEFT: f64 = BORDER + 250.0;
const RIGHT: f64 = WIDTH - BORDER;
/// Room beside the axis for the values at the ends.
const ASIDE: f64 = 64.0;
const ROW: f64 = 26.0;
const KEY: f64 = 34.0;
/// Half the height of a bar.
const HALF: f64 = 8.0;
/// Inputs that are drawn, at most.
const DRAWN: usize = 15;
/// Ends with their colours.
const ENDS: [(&str, Colour); 2] = [("input at its low end", LAKE), ("at its high end", OCHRE)];

impl Tornado {
    /// Draws the chart.
    ///
    /// # Errors
    /// If the drawing library fails.
    pub fn draw(&self) -> Result<Chart, ReportError> {
        let inputs = self.drawn();
        let (finding, shown) = (self.finding(&inputs), self.shown(&inputs));
        let head = headline_height(WIDTH, &finding, &shown);
        let height = head + KEY + inputs.len() as f64 * ROW + 60.0 + BORDER;
        draw(WIDTH, height.max(300.0), |canvas| {
            let top = canvas.headline(&finding, &shown);
            if inputs.is_empty() {
                canvas.empty("There is no input to vary.");
            } else {
                self.paint(canvas, top, &inputs);
            }
        })
    }

    /// The widest inputs whose costs are finite.
    fn drawn(&self) -> Vec<&TornadoInput> {
        let known = |input: &&TornadoInput| input.costs_per_kwh.iter().all(|cost| cost.is_finite());
        let inputs = self.inputs.iter().filter(known).take(DRAWN);
        inputs.filter(|_| self.cost_per_kwh.is_finite()).collect()
    }

    fn finding(&self, inputs: &[&TornadoInput]) -> String {
        let Some(widest) = inputs.first() else {
            return format!("Nothing moves the cost of {}", self.product);
        };
        let [low, high] = widest.costs_per_kwh;
        let cost = |value: f64| figures::significant(value, 3);
        format!(
            "The cost of {} turns most on {}: from {} to {} {}/kWh",
            self.product,
            widest.label,
            cost(low.min(high)),
            cost(low.max(high)),
            self.currency
        )
    }

    fn shown(&self, inputs: &[&TornadoInput]) -> String {
        let left = self.inputs.len() - inputs.len();
        let rest = match left {
            0 => String::new(),
            _ => format!(
                "; {} with less effect not drawn",
                figures::counted(left, "input")
            ),
        };
        format!(
            "Cost of the best design, the design held and one input at a time set to the ends of its \
             range{rest}"
        )
    }

    fn paint(&self, canvas: &mut Canvas<'_>, top: f64, inputs: &[&TornadoInput]) {
        draw_key(canvas, top + KEY / 2.0);
        let (top, bottom) = (top + KEY, top + KEY + inputs.len() as f64 * ROW);
        let costs = || inputs.iter().flat_map(|input| input.costs_per_kwh);
        let low = costs().fold(self.cost_per_kwh, f64::min);
        let high = costs().fold(self.cost_per_kwh, f64::max);
        let axis = Scale::round(low, high, 6.0, (LEFT + ASIDE, RIGHT - ASIDE));
        let name = format!("cost of {} [{}/kWh]", self.product, self.currency);
        axis.draw_level(canvas, top, bottom, &name);
        let middle = axis.at(self.cost_per_kwh);
        for (place, input) in inputs.iter().enumerate() {
            let y = top + (place as f64 + 0.5) * ROW;
            draw_input(canvas, input, (axis, middle), y);
        }
        canvas.line(&[(middle, top), (middle, bottom)], INK, 1.5);
    }
}

fn draw_key(canvas: &mut Canvas<'_>, y: f64) {
    let lettering = Lettering::new(SMALL, SLATE);
    let mut x = LEFT + ASIDE;
    for (words, colour) in ENDS {
        canvas.fill_box((x, y - 6.0), (x + 12.0, y + 6.0), colour);
        canvas.text((x + 18.0, y), words, lettering);
        x += lettering.width(words) + 46.0;
    }
}

fn draw_input(canvas: &mut Canvas<'_>, input: &TornadoInput, (axis, middle): (Scale, f64), y: f64) {
    let label = Lettering::new(TEXT, INK);
    let name = label.fitting(&input.label, LEFT - BORDER);
    canvas.text((BORDER, y), &name, label);
    let places = input.costs_per_kwh.map(|cost| axis.at(cost));
    for (place, (_, colour)) in places.iter().zip(ENDS) {
        let (from, to) = (place.min(middle), place.max(middle));
        canvas.fill_box((from, y - HALF), (to, y + HALF), colour);
    }
    let low_is_left = places[0] <= places[1];
    let [left, right] = if low_is_left { [0, 1] } else { [1, 0] };
    let figure = Lettering::new(SMALL, SLATE);
    let (from, to) = (places[left].min(middle), places[right].max(middle));
    canvas.text((from - 6.0, y), &input.ends[left], figure.ending());
    canvas.text((to + 6.0, y), &input.ends[right], figure);
}
