//! Where the light goes: from direct sunlight on the glass to what is delivered.

use super::canvas::{BORDER, Canvas, Chart, Lettering, SMALL, TEXT, draw, headline_height};
use super::palette::{BRICK, Colour, INK, LAKE, MIST, OCHRE, SLATE};
use super::scale::Scale;
use crate::error::ReportError;
use crate::figures;

/// What one cause of loss leaves.
#[derive(Debug, Clone, PartialEq)]
pub struct ChainStep {
    /// Cause of the loss, such as `shading`.
    pub label: String,
    /// Energy left after it in a year, joules.
    pub left_j: f64,
    /// Whether what is left is heat or electricity, no longer light.
    pub is_heat: bool,
}

/// The losses of a year, one after the other.
#[derive(Debug, Clone, PartialEq)]
pub struct LightChain {
    /// What the last loss leaves, such as `delivered heat`.
    pub delivered: String,
    /// Direct normal sunlight times mirror area in a year, joules.
    pub incoming_j: f64,
    /// Losses in the order in which light meets them; the last leaves what is delivered.
    pub steps: Vec<ChainStep>,
}

const WIDTH: f64 = 960.0;
const ROW: f64 = 32.0;
const BAR: f64 = 20.0;
const LEFT: f64 = BORDER + 206.0;
const RIGHT: f64 = WIDTH - BORDER - 234.0;
/// Right end of the column of energies.
const ENERGY: f64 = WIDTH - BORDER - 82.0;
const SHOWN: &str = "Energy of a year; each bar is what the loss beside it leaves";

/// A bar to be drawn.
struct Row<'a> {
    label: &'a str,
    before_j: f64,
    left_j: f64,
    colour: Colour,
    is_end: bool,
}

impl LightChain {
    /// Draws the chart.
    ///
    /// # Errors
    /// If the drawing library fails.
    pub fn draw(&self) -> Result<Chart, ReportError> {
        let head = headline_height(WIDTH, &self.finding(), SHOWN);
        let rows = self.steps.len() as f64 + 2.0;
        let height = (head + 24.0 + rows * ROW + 50.0 + BORDER).max(360.0);
        draw(WIDTH, height, |canvas| self.paint(canvas))
    }

    /// Energy left at the end, if there is any to follow.
    fn delivered_j(&self) -> Option<f64> {
        let usable = self.incoming_j > 0.0 && self.steps.iter().all(|s| s.left_j.is_finite());
        let last = self.steps.last().filter(|_| usable);
        last.map(|step| step.left_j)
    }

    fn paint(&self, canvas: &mut Canvas<'_>) {
        let top = canvas.headline(&self.finding(), SHOWN) + 24.0;
        let Some(delivered_j) = self.delivered_j() else {
            canvas.empty("There is no energy to follow.");
            return;
        };
        let rows = self.steps.len() + 2;
        let bottom = top + rows as f64 * ROW;
        let scale = Scale::exact(0.0, 100.0, 5.0, (LEFT, RIGHT));
        let name = "share of the direct sunlight on the glass [%]";
        scale.draw_level(canvas, top, bottom, name);
        name_columns(canvas, top - 14.0);
        let rows = self.rows(delivered_j);
        for (place, row) in rows.iter().enumerate() {
            let y = top + (place as f64 + 0.5) * ROW;
            self.draw_row(canvas, scale, y, row);
            if place + 1 < rows.len() {
                let x = scale.at(self.percent(row.left_j));
                canvas.line(&[(x, y + BAR / 2.0), (x, y + ROW - BAR / 2.0)], MIST, 1.0);
            }
        }
    }

    fn rows(&self, delivered_j: f64) -> Vec<Row<'_>> {
        let end = |label, energy_j, colour| Row {
            label,
            before_j: energy_j,
            left_j: energy_j,
            colour,
            is_end: true,
        };
        let mut rows = vec![end("direct sunlight on glass", self.incoming_j, OCHRE)];
        let mut before_j = self.incoming_j;
        for step in &self.steps {
            rows.push(Row {
                label: &step.label,
                before_j,
                left_j: step.left_j,
                colour: if step.is_heat { LAKE } else { OCHRE },
                is_end: false,
            });
            before_j = step.left_j;
        }
        rows.push(end(&self.delivered, delivered_j, LAKE));
        rows
    }

    fn finding(&self) -> String {
        let Some(delivered_j) = self.delivered_j() else {
            return "No light reaches the field".to_owned();
        };
        let mut worst = ("", 0.0);
        let mut before = self.incoming_j;
        for step in &self.steps {
            if before - step.left_j > worst.1 {
                worst = (&step.label, before - step.left_j);
            }
            before = step.left_j;
        }
        let share = |energy_j: f64| figures::percent(energy_j / self.incoming_j, 0);
        let lead = format!(
            "{} of the sunlight on the glass is left as {}",
            share(delivered_j),
            self.delivered
        );
        if worst.0.is_empty() {
            return lead;
        }
        format!(
            "{lead}; the largest loss, {}, takes {}",
            worst.0,
            share(worst.1)
        )
    }

    fn percent(&self, energy_j: f64) -> f64 {
        100.0 * energy_j / self.incoming_j
    }

    fn draw_row(&self, canvas: &mut Canvas<'_>, scale: Scale, y: f64, row: &Row) {
        let place = |energy_j: f64| scale.at(self.percent(energy_j).clamp(0.0, 100.0));
        let (left, before) = (place(row.left_j), place(row.before_j));
        let (upper, lower) = (y - BAR / 2.0, y + BAR / 2.0);
        canvas.fill_box((LEFT, upper), (left, lower), row.colour);
        if before > left {
            canvas.fill_box((left, upper), (before, lower), BRICK);
        }
        let plain = Lettering::new(TEXT, INK);
        let letters = if row.is_end { plain.bold() } else { plain };
        let label = letters.fitting(row.label, LEFT - BORDER - 10.0);
        canvas.text((BORDER, y), &label, letters);
        if !row.is_end {
            let change = self.percent(row.left_j) - self.percent(row.before_j);
            let text = format!("{} %", figures::grouped(change, 1)).replace('-', "−");
            let x = before.max(left) + 8.0;
            canvas.text((x, y), &text, Lettering::new(SMALL, BRICK));
        }
        let share = figures::percent(row.left_j / self.incoming_j, 1);
        canvas.text((ENERGY, y), &figures::energy(row.left_j), letters.ending());
        canvas.text((WIDTH - BORDER, y), &share, letters.ending());
    }
}

fn name_columns(canvas: &mut Canvas<'_>, y: f64) {
    let small = Lettering::new(SMALL, SLATE);
    canvas.text((BORDER, y), "what is lost by", small);
    canvas.text((ENERGY, y), "energy left", small.ending());
    canvas.text((WIDTH - BORDER, y), "share", small.ending());
}
