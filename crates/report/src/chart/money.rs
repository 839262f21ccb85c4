//! Where the money goes: groups of the bill and its largest items.

use super::canvas::{BORDER, Canvas, Chart, Lettering, SMALL, TEXT, draw, headline_height};
use super::palette::{Colour, INK, PARTS, SLATE};
use super::scale::Scale;
use crate::error::ReportError;
use crate::figures::{self, MoneyScale};

/// One item of the bill.
#[derive(Debug, Clone, PartialEq)]
pub struct MoneyItem {
    /// Part of the plant it belongs to.
    pub group: String,
    /// What is bought or done.
    pub label: String,
    /// What it costs, currency.
    pub amount: f64,
}

/// A bill as bars.
#[derive(Debug, Clone, PartialEq)]
pub struct MoneyChart {
    /// Three-letter currency code.
    pub currency: String,
    /// What the bill adds up to, such as `capital`.
    pub what: String,
    /// Items.
    pub items: Vec<MoneyItem>,
}

const WIDTH: f64 = 960.0;
const ROW: f64 = 25.0;
const BAR: f64 = 16.0;
const HEADING: f64 = 34.0;
const LARGEST: usize = 10;
const LEFT: f64 = BORDER + 236.0;
const RIGHT: f64 = WIDTH - BORDER - 186.0;
/// Right end of the column of amounts.
const AMOUNT: f64 = WIDTH - BORDER - 74.0;

/// A bar to be drawn.
struct Bar<'a> {
    label: &'a str,
    amount: f64,
    colour: Colour,
}

impl MoneyChart {
    /// Draws the chart.
    ///
    /// # Errors
    /// If the drawing library fails.
    pub fn draw(&self) -> Result<Chart, ReportError> {
        let (finding, shown) = (self.finding(), self.shown());
        let head = headline_height(WIDTH, &finding, &shown);
        let rows = self.groups().len() + self.items.len().min(LARGEST);
        let height = head + 10.0 + 2.0 * HEADING + rows as f64 * ROW + 50.0 + BORDER;
        draw(WIDTH, height.max(360.0), |canvas| {
            let top = canvas.headline(&finding, &shown) + 10.0;
            self.paint(canvas, top);
        })
    }

    fn paint(&self, canvas: &mut Canvas<'_>, top: f64) {
        let groups = self.groups();
        let Some(largest) = groups.first() else {
            canvas.empty("There is nothing to add up.");
            return;
        };
        let items = self.item_bars(&groups);
        let rows = (groups.len() + items.len()) as f64;
        let bottom = top + 2.0 * HEADING + rows * ROW;
        let scale = MoneyScale::of(largest.1);
        let unit = scale.unit(&self.currency);
        let axis = Scale::round(0.0, largest.1 / scale.parts().0, 5.0, (LEFT, RIGHT));
        axis.draw_level(canvas, top, bottom, &format!("{} [{unit}]", self.what));
        let small = Lettering::new(SMALL, SLATE).ending();
        canvas.text((AMOUNT, top + HEADING / 2.0), &unit, small);
        canvas.text((WIDTH - BORDER, top + HEADING / 2.0), "share", small);
        let bars = self.group_bars(&groups);
        let below = self.draw_bars(canvas, (axis, scale), top, "by group", &bars);
        self.draw_bars(canvas, (axis, scale), below, "largest items", &items);
    }

    fn finding(&self) -> String {
        let (groups, items) = (self.groups(), self.largest_items());
        let (Some(group), Some(item)) = (groups.first(), items.first()) else {
            return "The bill is empty".to_owned();
        };
        let share = |amount: f64| figures::percent(amount / self.total(), 0);
        format!(
            "{} of the {} goes to {}; the largest item, {}, takes {}",
            share(group.1),
            self.what,
            group.0,
            item.label,
            share(item.amount),
        )
    }

    fn shown(&self) -> String {
        format!(
            "{} of {} by group, and its largest items in the colour of their group",
            figures::capitalised(&self.what),
            figures::money(self.total(), &self.currency)
        )
    }

    fn total(&self) -> f64 {
        self.paid().map(|item| item.amount).sum()
    }

    fn paid(&self) -> impl Iterator<Item = &MoneyItem> {
        self.items
            .iter()
            .filter(|item| item.amount.is_finite() && item.amount > 0.0)
    }

    /// Groups with their sums, largest first.
    fn groups(&self) -> Vec<(&str, f64)> {
        let mut groups: Vec<(&str, f64)> = Vec::new();
        for item in self.paid() {
            match groups.iter_mut().find(|(name, _)| *name == item.group) {
                Some((_, sum)) => *sum += item.amount,
                None => groups.push((&item.group, item.amount)),
            }
        }
        groups.sort_by(|a, b| b.1.total_cmp(&a.1));
        groups
    }

    fn largest_items(&self) -> Vec<&MoneyItem> {
        let mut items: Vec<&MoneyItem> = self.paid().collect();
        items.sort_by(|a, b| b.amount.total_cmp(&a.amount));
        items.truncate(LARGEST);
        items
    }

    /// Decimals that show three digits of the largest group.
    fn decimals(&self, divisor: f64) -> usize {
        let largest = self.groups().first().map_or(0.0, |group| group.1);
        match largest / divisor {
            amount if amount < 10.0 => 2,
            amount if amount < 100.0 => 1,
            _ => 0,
        }
    }

    fn group_bars<'a>(&self, groups: &[(&'a str, f64)]) -> Vec<Bar<'a>> {
        groups
            .iter()
            .enumerate()
            .map(|(place, (label, amount))| Bar {
                label,
                amount: *amount,
                colour: group_colour(place),
            })
            .collect()
    }

    fn item_bars(&self, groups: &[(&str, f64)]) -> Vec<Bar<'_>> {
        let place = |item: &MoneyItem| groups.iter().position(|(name, _)| *name == item.group);
        self.largest_items()
            .into_iter()
            .map(|item| Bar {
                label: &item.label,
                amount: item.amount,
                colour: group_colour(place(item).unwrap_or(usize::MAX)),
            })
            .collect()
    }

    fn draw_bars(
        &self,
        canvas: &mut Canvas<'_>,
        (axis, scale): (Scale, MoneyScale),
        top: f64,
        heading: &str,
        bars: &[Bar],
    ) -> f64 {
        let total = self.total();
        let (divisor, _) = scale.parts();
        let decimals = self.decimals(divisor);
        let bold = Lettering::new(SMALL, SLATE).bold();
        canvas.text((BORDER, top + HEADING / 2.0), heading, bold);
        let text = Lettering::new(TEXT, INK);
        for (row, bar) in bars.iter().enumerate() {
            let y = top + HEADING + (row as f64 + 0.5) * ROW;
            canvas.text(
                (BORDER, y),
                &text.fitting(bar.label, LEFT - BORDER - 12.0),
                text,
            );
            let end = axis.at(bar.amount / divisor);
            canvas.fill_box((LEFT, y - BAR / 2.0), (end, y + BAR / 2.0), bar.colour);
            let amount = figures::grouped(bar.amount / divisor, decimals);
            canvas.text((AMOUNT, y), &amount, text.ending());
            let share = figures::percent(bar.amount / total, 1);
            canvas.text((WIDTH - BORDER, y), &share, text.ending());
        }
        top + HEADING + bars.len() as f64 * ROW
    }
}

/// Colour of a group by its rank; groups of low rank share the last one.
fn group_colour(rank: usize) -> Colour {
    PARTS.get(rank).copied().unwrap_or(SLATE)
}
