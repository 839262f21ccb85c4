//! What the cost rests on: its inputs, two prices against one another, and its spread.

use report::{Data, Table, TableKind};
use study::quantile;

use crate::sensitivity::{Ends, Sensitivity};

/// Steps of the spread.
const STEPS: u32 = 100;

/// The three tables; they have no rows if no design is feasible.
pub fn tables(of: Option<&Sensitivity>) -> [Table; 3] {
    of.map_or_else(
        || [TableKind::Inputs, TableKind::PriceGrid, TableKind::Draws].map(Table::without_rows),
        |of| [inputs(of), price_grid(of), draws(of)],
    )
}

fn inputs(of: &Sensitivity) -> Table {
    let numbers = |value: &dyn Fn(&Ends) -> f64| Data::numbers(of.ends.iter().map(value));
    let shares = |share: &dyn Fn(&study::Influence) -> f64| {
        let of_input = |ends: &Ends| {
            let place = of.names.iter().position(|name| *name == ends.name)?;
            of.drawn.influences.get(place).map(share)
        };
        Data::Number(of.ends.iter().map(of_input).collect())
    };
    let mut table = Table::new(TableKind::Inputs);
    let names = of.ends.iter().map(|ends| ends.name.as_str());
    table.push("input", Data::texts(names));
    table.push("lowest", numbers(&|ends| ends.span.low));
    table.push("likely", numbers(&|ends| ends.span.likely));
    table.push("highest", numbers(&|ends| ends.span.high));
    table.push("at_lowest_per_kwh", numbers(&|ends| ends.at_low));
    table.push("at_highest_per_kwh", numbers(&|ends| ends.at_high));
    table.push("alone_share", shares(&|influence| influence.first));
    table.push("with_others_share", shares(&|influence| influence.total));
    table
}

fn price_grid(of: &Sensitivity) -> Table {
    let grid = &of.grid;
    let [first, second] = &grid.prices;
    let pairs = || {
        first
            .iter()
            .flat_map(|a| second.iter().map(move |b| (*a, *b)))
    };
    let [first_key, second_key] = grid.items.map(|item| item.key());
    let costs = |rows: &[Vec<f64>]| Data::numbers(rows.iter().flatten().copied());
    let mut table = Table::new(TableKind::PriceGrid);
    table.push("first_rate", Data::texts(pairs().map(|_| first_key)));
    table.push("second_rate", Data::texts(pairs().map(|_| second_key)));
    table.push("first_price", Data::numbers(pairs().map(|pair| pair.0)));
    table.push("second_price", Data::numbers(pairs().map(|pair| pair.1)));
    table.push("held_per_kwh", costs(&grid.held));
    table.push("found_again_per_kwh", costs(&grid.found_again));
    table
}

fn draws(of: &Sensitivity) -> Table {
    let shares = || (0..=STEPS).map(|step| f64::from(step) / f64::from(STEPS));
    let costs = shares().map(|share| quantile(&of.drawn.results, share));
    let mut table = Table::new(TableKind::Draws);
    table.push("below_share", Data::numbers(shares()));
    table.push("cost_per_kwh", Data::numbers(costs));
    table
}
