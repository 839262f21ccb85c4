//! What the cheapest design rests on.

use report::text::{Align, TextTable};
use report::{Section, figures};
use study::quantile;

use crate::inputs::Inputs;
use crate::product::Product;
use crate::sensitivity::{Grid, Sensitivity};
use crate::text::money::cost;
use crate::vary::Varied;

/// Inputs that are told, at most.
const TOLD: usize = 15;

/// All of it.
pub fn page(of: &Varied, inputs: &Inputs, row: u32) -> String {
    let (currency, product) = (&inputs.scenario.currency, Product::of(&inputs.scenario));
    let prices = &of.sensitivity;
    let quantiles = [0.1, 0.5, 0.9].map(|share| cost(quantile(&prices.drawn.results, share)));
    let [low, middle, high] = &quantiles;
    let answer = format!(
        "{} of design {row} costs {} {currency}/kWh as the scenario has it. With every input drawn \
         from its range it costs {low} (P10), {middle} (P50) or {high} (P90) {currency}/kWh.",
        product.heading,
        cost(prices.cost)
    );
    super::page(&[
        Section::opening(answer),
        ends(prices),
        steps(of),
        causes(prices),
        grid("design held", &prices.grid, &prices.grid.held),
        grid(
            "cheapest confirmed design",
            &prices.grid,
            &prices.grid.found_again,
        ),
        super::cautions(),
    ])
}

fn ends(of: &Sensitivity) -> Section {
    let mut table = TextTable::new(&[
        ("input", Align::Left),
        ("low", Align::Right),
        ("high", Align::Right),
        ("cost at low", Align::Right),
        ("cost at high", Align::Right),
    ]);
    for ends in of.ends.iter().take(TOLD) {
        table.row([
            ends.name.clone(),
            figures::significant(ends.span.low, 3),
            figures::significant(ends.span.high, 3),
            cost(ends.at_low),
            cost(ends.at_high),
        ]);
    }
    Section::new("One input at a time, the widest first", table)
}

fn steps(of: &Varied) -> Section {
    let mut table = TextTable::new(&[
        ("opened value", Align::Left),
        ("a step down", Align::Right),
        ("a step up", Align::Right),
        ("cost down", Align::Right),
        ("cost up", Align::Right),
    ]);
    for step in &of.steps {
        let [down, up] = step
            .texts
            .clone()
            .map(|text| text.unwrap_or_else(|| "-".to_owned()));
        let [below, above] = step
            .costs
            .map(|found| found.map_or_else(|| "-".to_owned(), cost));
        table.row([step.key.to_owned(), down, up, below, above]);
    }
    Section::new("One design value at a time", table)
}

fn causes(of: &Sensitivity) -> Section {
    let mut table = TextTable::new(&[
        ("input", Align::Left),
        ("alone", Align::Right),
        ("with others", Align::Right),
    ]);
    let mut causes: Vec<_> = of.names.iter().zip(&of.drawn.influences).collect();
    causes.sort_by(|a, b| b.1.total.total_cmp(&a.1.total));
    for (name, influence) in causes.into_iter().take(TOLD) {
        let share = |part: f64| figures::percent(part.max(0.0), 1);
        table.row([name.clone(), share(influence.first), share(influence.total)]);
    }
    Section::new("What causes the spread", table)
}

fn grid(what: &str, grid: &Grid, costs: &[Vec<f64>]) -> Section {
    let [down, along] = grid
        .items
        .map(|item| format!("{} per {}", item.key(), item.unit()));
    let heads: Vec<String> = std::iter::once(format!("{down} \\ {along}"))
        .chain(
            grid.prices[1]
                .iter()
                .map(|price| figures::significant(*price, 3)),
        )
        .collect();
    let columns: Vec<(&str, Align)> = heads
        .iter()
        .map(|head| (head.as_str(), Align::Right))
        .collect();
    let mut table = TextTable::new(&columns);
    for (price, row) in grid.prices[0].iter().zip(costs) {
        let cells = row.iter().map(|found| cost(*found));
        table.row(std::iter::once(figures::significant(*price, 3)).chain(cells));
    }
    Section::new(&format!("Two prices against one another, {what}"), table)
}
