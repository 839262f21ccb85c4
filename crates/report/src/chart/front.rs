//! What the cheapest heat asks for: cost per kWh against capital and against carbon.

use std::collections::BTreeSet;

use super::callout::{Crowd, Frame, name_point};
use super::canvas::{BORDER, Canvas, Chart, Place, draw};
use super::other_heat::{self, OtherHeat};
use super::palette::{INK, LAKE, MIST, OCHRE};
use super::scale::Scale;
use crate::error::ReportError;
use crate::figures::{self, MoneyScale};

/// One feasible design.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DesignPoint {
    /// Levelised cost of what is delivered, currency per kWh.
    pub cost_per_kwh: f64,
    /// Capital, currency.
    pub capital: f64,
    /// Embodied carbon per delivered energy, g/kWh.
    pub carbon_g_kwh: f64,
    /// Whether no other design beats it in every aim.
    pub on_front: bool,
}

/// Cost per kWh of every design against capital and, beside it, against carbon.
#[derive(Debug, Clone, PartialEq)]
pub struct FrontChart {
    /// What is delivered: heat or electricity.
    pub product: String,
    /// Three-letter currency code.
    pub currency: String,
    /// Feasible designs.
    pub designs: Vec<DesignPoint>,
    /// Number of designs that were not feasible.
    pub not_feasible: usize,
    /// Heat from elsewhere, as lines across.
    pub others: Vec<OtherHeat>,
}

const WIDTH: f64 = 960.0;
const HEIGHT: f64 = 600.0;
/// Designs dearer than this times the cheapest are left out, so that a tiny field with dear heat
/// does not flatten all others …
const DEAREST_SHOWN: f64 = 2.0;
/// … and so are those farther above the cheapest than this times the rest of the front.
const ABOVE_FRONT: f64 = 2.0;

impl FrontChart {
    /// Draws the chart.
    ///
    /// # Errors
    /// If the drawing library fails.
    pub fn draw(&self) -> Result<Chart, ReportError> {
        draw(WIDTH, HEIGHT, |canvas| self.paint(canvas))
    }

    fn paint(&self, canvas: &mut Canvas<'_>) {
        let asked = self.designs.len() + self.not_feasible;
        let Some(best) = self.best() else {
            canvas.headline("No feasible design yet", &self.asked_for(asked));
            canvas.empty("There is nothing to compare.");
            return;
        };
        let top = canvas.headline(&self.finding(&best), &self.asked_for(asked)) + 24.0;
        let shown = self.shown(&best);
        let (low, high) = range(shown.iter().map(|d| d.cost_per_kwh));
        let cost_between = |places| Scale::round(low, high, 6.0, places);
        let foot = self.foot(canvas, &best, cost_between((1.0, 0.0)));
        let bottom = foot - 52.0;
        let (left, right) = (BORDER + 58.0, WIDTH - BORDER - 8.0);
        let half = (right - left - 60.0) / 2.0;
        let cost = cost_between((bottom, top));
        let cost_name = format!("cost of {} [{}/kWh]", self.product, self.currency);
        cost.draw_upright(canvas, left, left + half, &cost_name);
        cost.draw_grid(canvas, right - half, right);

        let scale = MoneyScale::of(range(shown.iter().map(|d| d.capital)).1);
        let divisor = scale.parts().0;
        let capital = Panel {
            value: &|d| d.capital / divisor,
            name: format!("capital [{}]", scale.unit(&self.currency)),
            least: "least capital",
            places: (left, left + half),
            cost,
        };
        capital.paint(canvas, &shown, &best, (top, bottom), self);
        let carbon = Panel {
            value: &|d| d.carbon_g_kwh,
            name: "embodied carbon [g CO₂e/kWh]".to_owned(),
            least: "least carbon",
            places: (right - half, right),
            cost,
        };
        carbon.paint(canvas, &shown, &best, (top, bottom), self);
    }

    fn best(&self) -> Option<DesignPoint> {
        self.designs
            .iter()
            .copied()
            .filter(|d| d.cost_per_kwh.is_finite())
            .min_by(|a, b| a.cost_per_kwh.total_cmp(&b.cost_per_kwh))
    }

    /// The dearest heat shown, currency per kWh.
    fn limit(&self, best: &DesignPoint) -> f64 {
        let (cheapest, dearest) = (best.cost_per_kwh, best.cost_per_kwh * DEAREST_SHOWN);
        let front = self.designs.iter().filter(|d| d.on_front);
        let costs = front.map(|d| d.cost_per_kwh);
        let highest = costs
            .filter(|cost| *cost <= dearest)
            .fold(cheapest, f64::max);
        if highest > cheapest {
            dearest.min(cheapest + ABOVE_FRONT * (highest - cheapest))
        } else {
            dearest
        }
    }

    fn shown(&self, best: &DesignPoint) -> Vec<DesignPoint> {
        let limit = self.limit(best);
        let finite = |d: &DesignPoint| (d.cost_per_kwh + d.capital + d.carbon_g_kwh).is_finite();
        self.designs
            .iter()
            .copied()
            .filter(|d| finite(d) && d.cost_per_kwh <= limit)
            .collect()
    }

    fn finding(&self, best: &DesignPoint) -> String {
        format!(
            "The cheapest {} costs {} {}/kWh and {} of capital",
            self.product,
            figures::significant(best.cost_per_kwh, 3),
            self.currency,
            figures::money(best.capital, &self.currency),
        )
    }

    fn asked_for(&self, asked: usize) -> String {
        let on_front = self.designs.iter().filter(|d| d.on_front).count();
        format!(
            "{} computed, {} not feasible, {} on the front",
            figures::counted(asked, "design"),
            figures::grouped(self.not_feasible as f64, 0),
            figures::grouped(on_front as f64, 0),
        )
    }

    /// What is left out, below the chart; gives the height at which the chart must end.
    fn foot(&self, canvas: &mut Canvas<'_>, best: &DesignPoint, cost: Scale) -> f64 {
        let beyond = other_heat::beyond(&self.others, cost, &self.currency);
        canvas.foot(format!("{} {beyond}", self.hidden(best)).trim())
    }

    /// Designs that are too dear to be shown.
    fn hidden(&self, best: &DesignPoint) -> String {
        let limit = self.limit(best);
        let dear = self.designs.iter().filter(|d| d.cost_per_kwh > limit);
        let hidden = dear.clone().count();
        if hidden == 0 {
            return String::new();
        }
        format!(
            "Not shown: {} ({} on the front) whose {} costs more than {} {}/kWh.",
            figures::counted(hidden, "design"),
            figures::grouped(dear.filter(|d| d.on_front).count() as f64, 0),
            self.product,
            figures::significant(limit, 3),
            self.currency,
        )
    }

    fn label(&self, what: &str, design: &DesignPoint, x: &str) -> Vec<String> {
        let cost = figures::significant(design.cost_per_kwh, 3);
        vec![
            what.to_owned(),
            format!("{cost} {}/kWh", self.currency),
            x.to_owned(),
        ]
    }
}

/// One of the two panels: cost against some value.
struct Panel<'a> {
    value: &'a dyn Fn(&DesignPoint) -> f64,
    name: String,
    least: &'a str,
    places: (f64, f64),
    cost: Scale,
}

impl Panel<'_> {
    fn paint(
        &self,
        canvas: &mut Canvas<'_>,
        shown: &[DesignPoint],
        best: &DesignPoint,
        (top, bottom): (f64, f64),
        chart: &FrontChart,
    ) {
        let (low, high) = range(shown.iter().map(self.value));
        let scale = Scale::round(low, high, 6.0, self.places);
        scale.draw_level(canvas, top, bottom, &self.name);
        let place = |d: &DesignPoint| (scale.at((self.value)(d)), self.cost.at(d.cost_per_kwh));

        let faint = distinct(shown.iter().filter(|d| !d.on_front).map(place));
        for spot in &faint {
            canvas.disc(*spot, 2.5, MIST, 0.7);
        }
        let front: Vec<&DesignPoint> = shown.iter().filter(|d| d.on_front).collect();
        let places: Vec<Place> = front.iter().map(|d| place(d)).collect();
        let steps = staircase(&places);
        canvas.line(&steps, LAKE, 2.0);
        for spot in &places {
            canvas.disc(*spot, 3.0, LAKE, 1.0);
        }
        canvas.disc(place(best), 6.5, OCHRE, 1.0);
        canvas.ring(place(best), 6.5, INK, 1.5);
        let others = other_heat::draw(canvas, &chart.others, self.cost, self.places);
        let mut crowd = Crowd {
            faint,
            bold: [places, others].concat(),
        };
        crowd.add_line(&steps);
        self.name_points(canvas, (best, &front), place, crowd, (top, bottom), chart);
    }

    fn name_points(
        &self,
        canvas: &mut Canvas<'_>,
        (best, front): (&DesignPoint, &[&DesignPoint]),
        place: impl Fn(&DesignPoint) -> Place,
        mut crowd: Crowd,
        (top, bottom): (f64, f64),
        chart: &FrontChart,
    ) {
        let frame = Frame {
            from: (self.places.0 + 2.0, top),
            to: (self.places.1 + 8.0, bottom),
        };
        let unit = self.name.split(['[', ']']).nth(1).unwrap_or("");
        let x = |d: &DesignPoint| format!("{} {unit}", figures::significant((self.value)(d), 3));
        let lines = chart.label(&format!("cheapest {}", chart.product), best, &x(best));
        name_point(canvas, place(best), &lines, frame, &mut crowd);
        let least = front
            .iter()
            .min_by(|a, b| (self.value)(a).total_cmp(&(self.value)(b)));
        if let Some(least) = least.filter(|least| **least != best) {
            let lines = chart.label(self.least, least, &x(least));
            name_point(canvas, place(least), &lines, frame, &mut crowd);
        }
    }
}

/// Steps through the places that no other place beats in both directions; small is good
/// to the left and at the bottom of the sheet.
fn staircase(places: &[Place]) -> Vec<Place> {
    let mut sorted = places.to_vec();
    sorted.sort_by(|a, b| a.0.total_cmp(&b.0).then(b.1.total_cmp(&a.1)));
    let mut steps: Vec<Place> = Vec::new();
    for (x, y) in sorted {
        match steps.last().copied() {
            None => steps.push((x, y)),
            Some((_, before)) if y > before => steps.extend([(x, before), (x, y)]),
            Some(_) => {}
        }
    }
    steps
}

/// Places without those that fall on the same half point of the sheet.
fn distinct(places: impl Iterator<Item = Place>) -> Vec<Place> {
    let halves: BTreeSet<(i64, i64)> = places
        .map(|(x, y)| ((x * 2.0).round() as i64, (y * 2.0).round() as i64))
        .collect();
    halves
        .into_iter()
        .map(|(x, y)| (x as f64 / 2.0, y as f64 / 2.0))
        .collect()
}

fn range(values: impl Iterator<Item = f64>) -> (f64, f64) {
    values.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| {
        (low.min(value), high.max(value))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_staircase_keeps_only_unbeaten_places() {
        let places = [(3.0, 9.0), (1.0, 2.0), (2.0, 1.0), (4.0, 5.0)];
        assert_eq!(staircase(&places), [(1.0, 2.0), (3.0, 2.0), (3.0, 9.0)]);
        assert!(staircase(&[]).is_empty());
    }
}
