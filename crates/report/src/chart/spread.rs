//! How the cost of the best design spreads when every uncertain input is drawn from its range.

use super::canvas::{BORDER, Canvas, Chart, Lettering, SMALL, draw};
use super::other_heat::OtherHeat;
use super::palette::{BRICK, INK, LAKE, SKY};
use super::scale::Scale;
use crate::error::ReportError;
use crate::figures;

/// A distribution of costs.
#[derive(Debug, Clone, PartialEq)]
pub struct CostSpread {
    /// Currency code.
    pub currency: String,
    /// What is delivered, such as `heat`.
    pub product: String,
    /// Costs that equal shares of all draws stay below, from the lowest to the highest, currency per
    /// kWh.
    pub quantiles_per_kwh: Vec<f64>,
    /// What others cost.
    pub others: Vec<OtherHeat>,
}

const WIDTH: f64 = 960.0;
const HEIGHT: f64 = 520.0;
const LEFT: f64 = BORDER + 44.0;
const RIGHT: f64 = WIDTH - BORDER - 20.0;
/// Left of the lowest cost, so that no line crosses the name of the upright axis.
const ASIDE: f64 = 96.0;
const BARS: usize = 24;
/// Shares of draws that are named.
const NAMED: [(f64, &str); 3] = [(0.1, "P10"), (0.5, "P50"), (0.9, "P90")];
/// Above the bars, for names of quantiles, and more for each of the others.
const ABOVE: f64 = 58.0;
const ABOVE_EACH: f64 = 18.0;

impl CostSpread {
    /// Draws the chart.
    ///
    /// # Errors
    /// If the drawing library fails.
    pub fn draw(&self) -> Result<Chart, ReportError> {
        draw(WIDTH, HEIGHT, |canvas| {
            let shown = "How the cost spreads when prices, finance and yearly yield are drawn from their \
                         ranges together, the design held";
            if !self.is_whole() {
                canvas.headline("No cost to spread", shown);
                return canvas.empty("The chart needs a feasible design.");
            }
            let top = canvas.headline(&self.finding(), shown);
            self.paint(canvas, top);
        })
    }

    fn is_whole(&self) -> bool {
        self.quantiles_per_kwh.len() > 1
            && self.quantiles_per_kwh.iter().all(|cost| cost.is_finite())
    }

    /// The cost that a share of all draws stays below.
    fn quantile(&self, share: f64) -> f64 {
        let last = self.quantiles_per_kwh.len() - 1;
        let place = share.clamp(0.0, 1.0) * last as f64;
        let low = (place.floor() as usize).min(last - 1);
        let (one, other) = (self.quantiles_per_kwh[low], self.quantiles_per_kwh[low + 1]);
        one + (other - one) * (place - low as f64)
    }

    /// The share of all draws that stays below a cost.
    fn share_below(&self, cost: f64) -> f64 {
        let last = self.quantiles_per_kwh.len() - 1;
        let above = self
            .quantiles_per_kwh
            .partition_point(|quantile| *quantile <= cost);
        if above == 0 || above > last {
            return if above == 0 { 0.0 } else { 1.0 };
        }
        let (one, other) = (
            self.quantiles_per_kwh[above - 1],
            self.quantiles_per_kwh[above],
        );
        ((above - 1) as f64 + (cost - one) / (other - one)) / last as f64
    }

    fn finding(&self) -> String {
        let cost = |share: f64| figures::significant(self.quantile(share), 3);
        let range = format!(
            "Eight draws in ten cost from {} to {} {}/kWh",
            cost(0.1),
            cost(0.9),
            self.currency
        );
        match self.others.first() {
            Some(other) => format!(
                "{range}; {} of all cost less than the {}'s {}",
                figures::percent(self.share_below(other.cost_per_kwh), 0),
                other.name,
                figures::significant(other.cost_per_kwh, 3)
            ),
            None => range,
        }
    }

    fn paint(&self, canvas: &mut Canvas<'_>, top: f64) {
        let (low, high) = (self.quantile(0.0), self.quantile(1.0));
        let level = Scale::round(low, high, 8.0, (LEFT + ASIDE, RIGHT));
        let reached = |other: &&OtherHeat| level.reaches(other.cost_per_kwh);
        let others: Vec<&OtherHeat> = self.others.iter().filter(reached).collect();
        let top = top + ABOVE + ABOVE_EACH * others.len() as f64;
        let bottom = HEIGHT - BORDER - 52.0;
        let width = (high - low) / BARS as f64;
        let edge = |bar: usize| low + bar as f64 * width;
        let share = |bar: usize| self.share_below(edge(bar + 1)) - self.share_below(edge(bar));
        let most = (0..BARS).map(share).fold(0.0, f64::max);
        let upright = Scale::round(0.0, 100.0 * most, 5.0, (bottom, top));
        upright.draw_upright(canvas, LEFT, RIGHT, "share of draws [%]");
        let name = format!("cost of {} [{}/kWh]", self.product, self.currency);
        level.draw_level(canvas, bottom, bottom, &name);
        let likely = self.quantile(0.1)..self.quantile(0.9);
        for bar in 0..BARS {
            let middle = edge(bar) + 0.5 * width;
            let colour = if likely.contains(&middle) { LAKE } else { SKY };
            let corner = (level.at(edge(bar)) + 1.0, upright.at(100.0 * share(bar)));
            canvas.fill_box(corner, (level.at(edge(bar + 1)) - 1.0, bottom), colour);
        }
        draw_others(canvas, &others, &level, (top, bottom));
        self.name_quantiles(canvas, &level, (top, bottom));
    }

    fn name_quantiles(&self, canvas: &mut Canvas<'_>, level: &Scale, (top, bottom): (f64, f64)) {
        for (share, name) in NAMED {
            let cost = self.quantile(share);
            let x = level.at(cost);
            canvas.line(&[(x, top - 8.0), (x, bottom)], INK, 1.5);
            let lettering = Lettering::new(SMALL, INK).centred();
            canvas.label((x, top - 32.0), name, lettering.bold());
            canvas.label((x, top - 16.0), &figures::significant(cost, 3), lettering);
        }
    }
}

/// Lines for others, named above one another.
fn draw_others(
    canvas: &mut Canvas<'_>,
    others: &[&OtherHeat],
    level: &Scale,
    (top, bottom): (f64, f64),
) {
    for (place, other) in others.iter().enumerate() {
        let x = level.at(other.cost_per_kwh);
        let y = top - 54.0 - ABOVE_EACH * place as f64;
        canvas.line(&[(x, y), (x, bottom)], BRICK, 2.0);
        let words = format!(
            "{} {}",
            other.name,
            figures::significant(other.cost_per_kwh, 3)
        );
        let lettering = Lettering::new(SMALL, BRICK).bold();
        let is_right = x + 8.0 + lettering.width(&words) < RIGHT;
        let (at, lettering) = match is_right {
            true => (x + 8.0, lettering),
            false => (x - 8.0, lettering.ending()),
        };
        canvas.text((at, y + 4.0), &words, lettering);
    }
}
