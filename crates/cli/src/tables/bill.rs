//! The bill of one design.

use ledger::BillLine;
use report::{Data, Table, TableKind};
use scenario::Scenario;

use crate::evaluated::Evaluated;

/// Every line of a design's bill; no row without one.
pub fn bill(best: Option<&Evaluated>, scenario: &Scenario) -> Table {
    let lines: Vec<BillLine<'_>> = best.map_or_else(Vec::new, |best| {
        ledger::bill(&best.summary.quantities, &scenario.rates).collect()
    });
    let mut table = Table::new(TableKind::Bill);
    let texts = |text: &dyn Fn(&BillLine<'_>) -> String| Data::texts(lines.iter().map(text));
    let numbers = |value: &dyn Fn(&BillLine<'_>) -> f64| Data::numbers(lines.iter().map(value));
    table.push("item", texts(&|line| line.item.key().to_owned()));
    table.push("group", texts(&|line| line.item.group().key().to_owned()));
    table.push(
        "chapter",
        texts(&|line| line.item.group().chapter().key().to_owned()),
    );
    table.push("quantity", numbers(&|line| line.amount));
    table.push("unit", texts(&|line| line.item.unit().to_owned()));
    table.push("mass_kg", numbers(&|line| line.mass_kg));
    table.push("rate", numbers(&|line| line.rate.value));
    table.push("low", numbers(&|line| line.rate.low));
    table.push("high", numbers(&|line| line.rate.high));
    table.push("amount", numbers(&|line| line.cost));
    table.push("carbon_kg", numbers(&|line| line.carbon_kg));
    let years = lines.iter().map(|line| u32::from(line.rate.price_year));
    table.push("price_year", Data::counts(years));
    table.push("rate_over_quoted", numbers(&|line| line.rate.raised));
    table.push("source", texts(&|line| line.rate.source.to_string()));
    table.push(
        "carbon_source",
        texts(&|line| line.rate.carbon_source.to_string()),
    );
    table
}
