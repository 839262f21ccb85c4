//! Lines of what heat from elsewhere costs, on charts of the cost of heat.

use super::canvas::{Canvas, Lettering, Place, SMALL};
use super::palette::{INK, SLATE};
use super::scale::Scale;
use crate::figures;

/// Heat from elsewhere.
#[derive(Debug, Clone, PartialEq)]
pub struct OtherHeat {
    /// Where it is from, such as `gas boiler`.
    pub name: String,
    /// What it costs, currency per kWh.
    pub cost_per_kwh: f64,
}

/// How far above its line and inside the chart a name stands, points.
const ABOVE: f64 = 9.0;
const INSIDE: f64 = 6.0;
/// Places along a name.
const MARKS: u32 = 12;

/// Draws a line across for each that the scale reaches, named at its right end; gives places along the
/// names, that labels should not hide.
pub(super) fn draw(
    canvas: &mut Canvas<'_>,
    others: &[OtherHeat],
    cost: Scale,
    (left, right): (f64, f64),
) -> Vec<Place> {
    let lettering = Lettering::new(SMALL, INK);
    let mut taken = Vec::new();
    for other in others
        .iter()
        .filter(|other| cost.reaches(other.cost_per_kwh))
    {
        let y = cost.at(other.cost_per_kwh);
        canvas.line(&[(left, y), (right, y)], SLATE, 1.5);
        let figure = figures::significant(other.cost_per_kwh, 3);
        let words = format!("{} {figure}", other.name);
        let width = lettering.width(&words);
        let from = right - INSIDE - width;
        canvas.label((from, y - ABOVE), &words, lettering);
        taken.extend((0..=MARKS).map(|mark| {
            let share = f64::from(mark) / f64::from(MARKS);
            (from + share * width, y - ABOVE)
        }));
    }
    taken
}

/// Says what those cost that the scale doesn't reach; empty if it reaches all.
pub(super) fn beyond(others: &[OtherHeat], cost: Scale, currency: &str) -> String {
    let told: Vec<String> = others
        .iter()
        .filter(|other| other.cost_per_kwh.is_finite() && !cost.reaches(other.cost_per_kwh))
        .map(|other| {
            let cost = figures::significant(other.cost_per_kwh, 3);
            format!("{}, {cost} {currency}/kWh", other.name)
        })
        .collect();
    if told.is_empty() {
        return String::new();
    }
    format!("Off the scale: {}.", told.join("; "))
}
