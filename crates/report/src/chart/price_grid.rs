//! Two prices against one another: what the best design costs over both, held and chosen anew.

use super::canvas::{BORDER, Canvas, Chart, Lettering, SMALL, TEXT, draw, headline_height};
use super::palette::{INK, OCHRE, PAPER, SLATE};
use super::shade::Shade;
use crate::error::ReportError;
use crate::figures;

/// Costs over two prices.
#[derive(Debug, Clone, PartialEq)]
pub struct PriceGrid {
    /// Currency code.
    pub currency: String,
    /// What is delivered, such as `heat`.
    pub product: String,
    /// The price that grows upwards, then the one that grows to the right.
    pub sides: [GridSide; 2],
    /// Cost of the best design, held, row by row of the first price, currency per kWh.
    pub held_per_kwh: Vec<f64>,
    /// Cost of the design that is cheapest at both prices, currency per kWh.
    pub found_again_per_kwh: Vec<f64>,
}

/// One price.
#[derive(Debug, Clone, PartialEq)]
pub struct GridSide {
    /// Name with unit, such as `steel [USD/kg]`.
    pub name: String,
    /// Prices, rising by equal steps.
    pub prices: Vec<f64>,
    /// The price as it is, if known.
    pub now: Option<f64>,
}

const WIDTH: f64 = 960.0;
const LEFT: f64 = BORDER + 60.0;
/// Width of one map.
const MAP: f64 = 330.0;
/// Between both maps.
const BETWEEN: f64 = 26.0;
const CELL_HEIGHT: f64 = 50.0;
/// Above a map, for its name.
const ABOVE: f64 = 46.0;
/// Below a map, for prices and their name.
const BELOW: f64 = 56.0;
/// A range narrower than this share of its high end takes one digit more.
const NARROW: f64 = 0.1;
/// Values darker than this share of the ramp bear light letters.
const DARK: f64 = 0.55;

impl GridSide {
    /// Where the price as it is lies, in cells from the first edge.
    fn now_in_cells(&self) -> Option<f64> {
        let (first, last) = (*self.prices.first()?, *self.prices.last()?);
        let step = (last - first) / (self.prices.len() - 1) as f64;
        let place = (self.now? - first) / step;
        (step > 0.0 && place.is_finite()).then_some(place + 0.5)
    }

    fn ends(&self) -> String {
        let price = |price: Option<&f64>| figures::significant(price.copied().unwrap_or(0.0), 3);
        let (first, last) = (self.prices.first(), self.prices.last());
        format!("{} to {}", price(first), price(last))
    }
}

impl PriceGrid {
    /// Draws the chart.
    ///
    /// # Errors
    /// If the drawing library fails.
    pub fn draw(&self) -> Result<Chart, ReportError> {
        let [finding, shown] = match self.is_whole() {
            true => [self.finding(), self.shown()],
            false => [
                "No prices to lay against one another".to_owned(),
                self.shown(),
            ],
        };
        let rows = self.sides[0].prices.len() as f64;
        let height =
            headline_height(WIDTH, &finding, &shown) + ABOVE + rows * CELL_HEIGHT + BELOW + BORDER;
        draw(WIDTH, height.max(300.0), |canvas| {
            let top = canvas.headline(&finding, &shown) + ABOVE;
            if self.is_whole() {
                self.paint(canvas, top);
            } else {
                canvas.empty("The chart needs a feasible design.");
            }
        })
    }

    fn is_whole(&self) -> bool {
        let cells = self.sides[0].prices.len() * self.sides[1].prices.len();
        let is_whole = |costs: &[f64]| costs.len() == cells && costs.iter().all(|c| c.is_finite());
        self.sides.iter().all(|side| side.prices.len() > 1)
            && is_whole(&self.held_per_kwh)
            && is_whole(&self.found_again_per_kwh)
    }

    fn finding(&self) -> String {
        let (low, high) = Shade::of(self.held_per_kwh.iter().copied()).range();
        let pairs = self.held_per_kwh.iter().zip(&self.found_again_per_kwh);
        let saved = pairs.map(|(held, again)| 1.0 - again / held);
        let saved = saved.fold(0.0, f64::max);
        let cost = |value: f64| figures::significant(value, digits(low, high));
        format!(
            "Both prices move the cost of {} from {} to {} {}/kWh; choosing the design anew saves {}",
            self.product,
            cost(low),
            cost(high),
            self.currency,
            match figures::percent(saved, 1) {
                none if none == figures::percent(0.0, 1) => "nothing".to_owned(),
                most => format!("up to {most}"),
            }
        )
    }

    fn shown(&self) -> String {
        let [up, right] = &self.sides;
        format!(
            "Cost of {} [{}/kWh] with {} from {} and {} from {}; triangles mark prices as they are",
            self.product,
            self.currency,
            up.name,
            up.ends(),
            right.name,
            right.ends()
        )
    }

    fn paint(&self, canvas: &mut Canvas<'_>, top: f64) {
        let shade = Shade::of(
            self.held_per_kwh
                .iter()
                .chain(&self.found_again_per_kwh)
                .copied(),
        );
        let maps = [
            ("the best design, held", &self.held_per_kwh),
            (
                "the cheapest design at each pair of prices",
                &self.found_again_per_kwh,
            ),
        ];
        for (place, (name, costs)) in maps.into_iter().enumerate() {
            let left = LEFT + place as f64 * (MAP + BETWEEN);
            let heading = Lettering::new(TEXT, INK).bold();
            canvas.text((left, top - 22.0), name, heading);
            self.paint_map(canvas, (left, top), costs, shade);
            self.paint_level(canvas, left, top);
        }
        self.paint_upright(canvas, top);
        let bar = (LEFT + 2.0 * MAP + BETWEEN + 30.0, top - 10.0);
        let unit = format!("[{}/kWh]", self.currency);
        shade.draw_bar(canvas, bar, self.bottom(top) - top - 50.0, ["cost", &unit]);
    }

    fn bottom(&self, top: f64) -> f64 {
        top + self.sides[0].prices.len() as f64 * CELL_HEIGHT
    }

    fn cell_width(&self) -> f64 {
        MAP / self.sides[1].prices.len() as f64
    }

    fn paint_map(
        &self,
        canvas: &mut Canvas<'_>,
        (left, top): (f64, f64),
        costs: &[f64],
        shade: Shade,
    ) {
        let (width, bottom) = (self.cell_width(), self.bottom(top));
        let (low, high) = shade.range();
        let digits = digits(low, high);
        for (row, cells) in costs.chunks(self.sides[1].prices.len()).enumerate() {
            for (column, cost) in cells.iter().enumerate() {
                let corner = (
                    left + column as f64 * width,
                    bottom - (row + 1) as f64 * CELL_HEIGHT,
                );
                let opposite = (corner.0 + width, corner.1 + CELL_HEIGHT);
                canvas.fill_box(corner, opposite, shade.colour(*cost));
                let letters = if shade.share(*cost) < DARK {
                    PAPER
                } else {
                    INK
                };
                let middle = (corner.0 + width / 2.0, corner.1 + CELL_HEIGHT / 2.0);
                let lettering = Lettering::new(SMALL, letters).centred();
                canvas.text(middle, &figures::significant(*cost, digits), lettering);
            }
        }
    }

    /// Prices below a map, their name, and a mark for the price as it is.
    fn paint_level(&self, canvas: &mut Canvas<'_>, left: f64, top: f64) {
        let (side, width, bottom) = (&self.sides[1], self.cell_width(), self.bottom(top));
        let figure = Lettering::new(SMALL, SLATE).centred();
        for (column, price) in side.prices.iter().enumerate() {
            let x = left + (column as f64 + 0.5) * width;
            canvas.text((x, bottom + 20.0), &figures::significant(*price, 3), figure);
        }
        let name = Lettering::new(TEXT, INK).centred();
        canvas.text((left + MAP / 2.0, bottom + 42.0), &side.name, name);
        if let Some(cells) = side.now_in_cells() {
            let x = left + cells * width;
            canvas.fill(
                &[(x, top - 1.0), (x - 6.0, top - 11.0), (x + 6.0, top - 11.0)],
                OCHRE,
            );
        }
    }

    /// Prices left of the first map, their name above, and a mark beside every map.
    fn paint_upright(&self, canvas: &mut Canvas<'_>, top: f64) {
        let (side, bottom) = (&self.sides[0], self.bottom(top));
        let figure = Lettering::new(SMALL, SLATE).ending();
        for (row, price) in side.prices.iter().enumerate() {
            let y = bottom - (row as f64 + 0.5) * CELL_HEIGHT;
            canvas.text((LEFT - 14.0, y), &figures::significant(*price, 3), figure);
        }
        canvas.text((BORDER, top - 44.0), &side.name, Lettering::new(TEXT, INK));
        let Some(cells) = side.now_in_cells() else {
            return;
        };
        let y = bottom - cells * CELL_HEIGHT;
        for left in [LEFT, LEFT + MAP + BETWEEN] {
            canvas.fill(
                &[
                    (left - 1.0, y),
                    (left - 11.0, y - 6.0),
                    (left - 11.0, y + 6.0),
                ],
                OCHRE,
            );
        }
    }
}

/// Significant digits by which costs of this range differ.
fn digits(low: f64, high: f64) -> usize {
    if high - low < NARROW * high { 4 } else { 3 }
}
