//! Which uncertain inputs cause the spread of the cost, alone and together with others.

use super::canvas::{BORDER, Canvas, Chart, Lettering, SMALL, TEXT, draw, headline_height};
use super::palette::{Colour, INK, LAKE, SKY, SLATE};
use super::scale::Scale;
use crate::error::ReportError;
use crate::figures;

/// What every input causes of the spread.
#[derive(Debug, Clone, PartialEq)]
pub struct Influences {
    /// What is delivered, such as `heat`.
    pub product: String,
    /// The inputs in any order.
    pub inputs: Vec<InputInfluence>,
}

/// What one input causes.
#[derive(Debug, Clone, PartialEq)]
pub struct InputInfluence {
    /// Name of the input.
    pub label: String,
    /// Share of the variance that it causes alone (first-order Sobol' index).
    pub alone_share: f64,
    /// Share that it causes alone and together with others (total Sobol' index).
    pub with_others_share: f64,
}

const WIDTH: f64 = 960.0;
const LEFT: f64 = BORDER + 250.0;
const RIGHT: f64 = WIDTH - BORDER - 120.0;
const ROW: f64 = 26.0;
const KEY: f64 = 34.0;
/// Half the height of a bar.
const HALF: f64 = 8.0;
/// Inputs that are drawn, at most.
const DRAWN: usize = 12;
/// Inputs with less than this share are not drawn.
const LEAST_SHARE: f64 = 0.001;
const KINDS: [(&str, Colour); 2] = [("alone", LAKE), ("and together with others", SKY)];

impl Influences {
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

    /// The inputs that matter, the strongest first.
    fn drawn(&self) -> Vec<&InputInfluence> {
        let matters = |input: &&InputInfluence| {
            input.alone_share.is_finite() && input.with_others_share >= LEAST_SHARE
        };
        let mut inputs: Vec<&InputInfluence> = self.inputs.iter().filter(matters).collect();
        inputs.sort_by(|one, other| other.with_others_share.total_cmp(&one.with_others_share));
        inputs.truncate(DRAWN);
        inputs
    }

    fn finding(&self, inputs: &[&InputInfluence]) -> String {
        let Some(strongest) = inputs.first() else {
            return format!("Nothing spreads the cost of {}", self.product);
        };
        let share = |share: f64| figures::percent(share, 0);
        let alone = format!(
            "{} alone causes {} of the spread in the cost of {}",
            strongest.label,
            share(strongest.alone_share),
            self.product
        );
        if inputs.len() < 3 {
            return alone;
        }
        let three = inputs.iter().take(3).map(|input| input.alone_share).sum();
        format!("{alone}, the first three {}", share(three))
    }

    fn shown(&self, inputs: &[&InputInfluence]) -> String {
        let rest = match self.inputs.len() - inputs.len() {
            0 => String::new(),
            left => format!("; {} with less not drawn", figures::counted(left, "input")),
        };
        format!(
            "Share of the cost's variance that each input causes when all are drawn from their ranges{rest}"
        )
    }

    fn paint(&self, canvas: &mut Canvas<'_>, top: f64, inputs: &[&InputInfluence]) {
        draw_key(canvas, top + KEY / 2.0);
        let (top, bottom) = (top + KEY, top + KEY + inputs.len() as f64 * ROW);
        let most = inputs[0].with_others_share.max(inputs[0].alone_share);
        let axis = Scale::round(0.0, 100.0 * most, 6.0, (LEFT, RIGHT));
        axis.draw_level(canvas, top, bottom, "share of the cost's variance [%]");
        for (place, input) in inputs.iter().enumerate() {
            draw_input(canvas, input, axis, top + (place as f64 + 0.5) * ROW);
        }
        canvas.line(&[(LEFT, top), (LEFT, bottom)], INK, 1.5);
    }
}

fn draw_key(canvas: &mut Canvas<'_>, y: f64) {
    let lettering = Lettering::new(SMALL, SLATE);
    let mut x = LEFT;
    for (words, colour) in KINDS {
        canvas.fill_box((x, y - 6.0), (x + 12.0, y + 6.0), colour);
        canvas.text((x + 18.0, y), words, lettering);
        x += lettering.width(words) + 46.0;
    }
}

fn draw_input(canvas: &mut Canvas<'_>, input: &InputInfluence, axis: Scale, y: f64) {
    let label = Lettering::new(TEXT, INK);
    let name = label.fitting(&input.label, LEFT - BORDER - 10.0);
    canvas.text((BORDER, y), &name, label);
    // Estimates scatter: less than nothing is nothing, and no input causes less with others.
    let alone_share = input.alone_share.max(0.0);
    let with_others_share = input.with_others_share.max(alone_share);
    let [alone, all] = [alone_share, with_others_share].map(|share| axis.at(100.0 * share));
    canvas.fill_box((LEFT, y - HALF), (all, y + HALF), KINDS[1].1);
    canvas.fill_box((LEFT, y - HALF), (alone, y + HALF), KINDS[0].1);
    let figure = Lettering::new(SMALL, SLATE);
    let [alone, all_told] =
        [alone_share, with_others_share].map(|share| figures::percent(share, 0));
    let words = format!("{alone} / {all_told}");
    canvas.text((all + 6.0, y), &words, figure);
}
