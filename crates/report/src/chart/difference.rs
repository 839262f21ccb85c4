//! What drives the difference between one rival's cost and the others', term by term.

use super::canvas::{BORDER, Canvas, Chart, Lettering, SMALL, TEXT, draw, headline_height};
use super::palette::{INK, LAKE, MIST, OCHRE, SLATE};
use super::scale::Scale;
use crate::error::ReportError;
use crate::figures;

/// Costs of rivals, each led from the first one's by the terms that differ.
#[derive(Debug, Clone, PartialEq)]
pub struct Difference {
    /// Currency code.
    pub currency: String,
    /// What is delivered, such as `heat`.
    pub product: String,
    /// The one that the others are held against.
    pub first: String,
    /// Its cost, currency per kWh.
    pub first_per_kwh: f64,
    /// The others.
    pub rivals: Vec<DifferenceRival>,
}

/// One of the others.
#[derive(Debug, Clone, PartialEq)]
pub struct DifferenceRival {
    /// Its name.
    pub name: String,
    /// Its cost, currency per kWh.
    pub cost_per_kwh: f64,
    /// What each term adds to the first one's cost, currency per kWh; together they are the difference.
    pub terms_per_kwh: Vec<(String, f64)>,
}

const WIDTH: f64 = 960.0;
const LEFT: f64 = BORDER + 190.0;
const RIGHT: f64 = WIDTH - BORDER;
/// Room beside the axis for figures.
const ASIDE: f64 = 64.0;
const ROW: f64 = 24.0;
const KEY: f64 = 34.0;
/// Half the height of a bar.
const HALF: f64 = 7.0;
/// Room for a rival's name above its rows.
const HEADING: f64 = 30.0;
/// Room for an axis below the rows of all.
const AXIS: f64 = 60.0;
/// Milli-units of currency in one.
const PER_MWH: f64 = 1e3;

impl Difference {
    /// Draws the chart.
    ///
    /// # Errors
    /// If the drawing library fails.
    pub fn draw(&self) -> Result<Chart, ReportError> {
        let (finding, shown) = (self.finding(), self.shown());
        let head = headline_height(WIDTH, &finding, &shown);
        let rows: f64 = self.rivals.iter().map(DifferenceRival::height).sum();
        let height = head + KEY + rows + AXIS + BORDER;
        draw(WIDTH, height.max(300.0), |canvas| {
            let top = canvas.headline(&finding, &shown);
            if self.rivals.is_empty() {
                canvas.empty("There is no rival to hold it against.");
            } else {
                self.paint(canvas, top);
            }
        })
    }

    fn finding(&self) -> String {
        let Some(best) = self
            .rivals
            .iter()
            .min_by(|a, b| a.cost_per_kwh.total_cmp(&b.cost_per_kwh))
        else {
            return format!("Nothing to hold {} against", self.first);
        };
        let less = best.cost_per_kwh < self.first_per_kwh;
        let wanted = |term: &&(String, f64)| (term.1 < 0.0) == less;
        let strongest = best.terms_per_kwh.iter().filter(wanted);
        let strongest = strongest.max_by(|a, b| a.1.abs().total_cmp(&b.1.abs()));
        let why = strongest.map_or_else(String::new, |(name, _)| {
            format!(", most of all by {}", name.to_lowercase())
        });
        format!(
            "{}: {} {} than {}{why}",
            figures::capitalised(&best.name),
            figures::percent((best.cost_per_kwh / self.first_per_kwh - 1.0).abs(), 1),
            if less { "less" } else { "more" },
            self.first,
        )
    }

    fn shown(&self) -> String {
        format!(
            "Cost of {}, from {} to each rival, term by term; the terms add up to the difference",
            self.product, self.first
        )
    }

    fn paint(&self, canvas: &mut Canvas<'_>, top: f64) {
        draw_key(canvas, top + KEY / 2.0, &self.first);
        let top = top + KEY;
        let bottom = top + self.rivals.iter().map(DifferenceRival::height).sum::<f64>();
        let axis = self.axis();
        let name = format!("cost of {} [{}/MWh]", self.product, self.currency);
        axis.draw_level(canvas, top, bottom, &name);
        let start = axis.at(self.first_per_kwh * PER_MWH);
        canvas.line(&[(start, top), (start, bottom)], INK, 1.0);
        let mut y = top;
        for rival in &self.rivals {
            self.paint_rival(canvas, rival, axis, y);
            y += rival.height();
        }
    }

    /// The axis that holds every step on the way.
    fn axis(&self) -> Scale {
        let steps = self.rivals.iter().flat_map(|rival| self.steps(rival));
        let ends = steps.flat_map(|(_, from, to)| [from, to]);
        let (low, high) = ends.fold(
            (self.first_per_kwh, self.first_per_kwh),
            |(low, high), at| (low.min(at), high.max(at)),
        );
        Scale::round(
            low * PER_MWH,
            high * PER_MWH,
            6.0,
            (LEFT + ASIDE, RIGHT - ASIDE),
        )
    }

    /// Each term with the cost before and after it.
    fn steps<'a>(&self, rival: &'a DifferenceRival) -> Vec<(&'a str, f64, f64)> {
        let mut reached = self.first_per_kwh;
        let terms = rival.terms_per_kwh.iter();
        terms
            .map(|(name, per_kwh)| {
                let from = reached;
                reached += per_kwh;
                (name.as_str(), from, reached)
            })
            .collect()
    }

    fn paint_rival(&self, canvas: &mut Canvas<'_>, rival: &DifferenceRival, axis: Scale, top: f64) {
        let heading = Lettering::new(TEXT, INK).bold();
        canvas.text((BORDER, top + HEADING / 2.0), &rival.name, heading);
        let label = Lettering::new(TEXT, INK);
        let at = |per_kwh: f64| axis.at(per_kwh * PER_MWH);
        let mut y = top + HEADING + ROW / 2.0;
        for (name, from, to) in self.steps(rival) {
            let name = label.fitting(&name.to_lowercase(), LEFT - BORDER);
            canvas.text((BORDER, y), &name, label);
            let colour = if to < from { LAKE } else { OCHRE };
            let (left, right) = (at(from.min(to)), at(from.max(to)));
            canvas.fill_box((left, y - HALF), (right.max(left + 1.0), y + HALF), colour);
            canvas.line(&[(at(to), y), (at(to), y + ROW)], MIST, 1.0);
            let figure = Lettering::new(SMALL, SLATE);
            canvas.text((right + 6.0, y), &signed((to - from) * PER_MWH), figure);
            y += ROW;
        }
        canvas.text((BORDER, y), &format!("cost of {}", rival.name), label);
        let end = at(rival.cost_per_kwh);
        canvas.disc((end, y), 5.0, INK, 1.0);
        let figure = Lettering::new(SMALL, INK).bold();
        let cost = figures::grouped(rival.cost_per_kwh * PER_MWH, 2);
        canvas.text((end + 10.0, y), &cost, figure);
    }
}

impl DifferenceRival {
    fn height(&self) -> f64 {
        HEADING + (self.terms_per_kwh.len() + 1) as f64 * ROW + 10.0
    }
}

fn signed(value: f64) -> String {
    let sign = if value < 0.0 { "−" } else { "+" };
    format!("{sign}{}", figures::grouped(value.abs(), 2))
}

fn draw_key(canvas: &mut Canvas<'_>, y: f64, first: &str) {
    let lettering = Lettering::new(SMALL, SLATE);
    let mut x = LEFT + ASIDE;
    for (words, colour) in [
        (format!("costs less than for {first}"), LAKE),
        ("costs more".to_owned(), OCHRE),
    ] {
        canvas.fill_box((x, y - 6.0), (x + 12.0, y + 6.0), colour);
        canvas.text((x + 18.0, y), &words, lettering);
        x += lettering.width(&words) + 46.0;
    }
    canvas.line(&[(x, y - 8.0), (x, y + 8.0)], INK, 1.0);
    canvas.text((x + 8.0, y), &format!("cost of {first}"), lettering);
}
