//! Charts of what the cost rests on, from the run folder's tables.

use ledger::Item;
use report::chart::{
    Chart, CostSpread, GridSide, Influences, InputInfluence, PriceGrid, Tornado, TornadoInput,
};
use report::{Data, ReportError, Table, figures};
use scenario::Scenario;

use crate::cost_parts::other_heat;
use crate::product::Product;

/// Tables of what was varied.
pub struct Varied<'a> {
    /// Inputs one at a time, and what each causes.
    pub inputs: &'a Table,
    /// Two prices against one another.
    pub price_grid: &'a Table,
    /// All inputs drawn together.
    pub draws: &'a Table,
}

/// Names of the charts.
pub const NAMES: [&str; 4] = ["cost_spread", "tornado", "influences", "price_grid"];

impl Varied<'_> {
    /// The cost that a share of all draws stays below, if a design was varied [currency/kWh].
    pub fn quantile(&self, share: f64) -> Option<f64> {
        let shares = self.draws.numbers("below_share").into_iter();
        let mut rows = shares.zip(self.draws.numbers("cost_per_kwh"));
        rows.find(|(below, _)| (below - share).abs() < 1e-9)
            .map(|(_, cost)| cost)
    }
}

/// Every chart, named and ordered as [`NAMES`]; `cost_per_kwh` is the cost as things are.
pub fn draw(
    of: &Varied<'_>,
    scenario: &Scenario,
    cost_per_kwh: f64,
) -> Result<Vec<(&'static str, Chart)>, ReportError> {
    let charts = [
        spread(of, scenario).draw()?,
        tornado(of, scenario, cost_per_kwh).draw()?,
        influences(of, scenario).draw()?,
        price_grid(of, scenario).draw()?,
    ];
    Ok(NAMES.into_iter().zip(charts).collect())
}

fn tornado(of: &Varied<'_>, scenario: &Scenario, cost_per_kwh: f64) -> Tornado {
    let numbers = |name: &str| of.inputs.numbers(name);
    let [lows, highs] = ["lowest", "highest"].map(numbers);
    let [at_lows, at_highs] = ["at_lowest_per_kwh", "at_highest_per_kwh"].map(numbers);
    let input = |(row, label): (usize, String)| TornadoInput {
        label,
        ends: [lows[row], highs[row]].map(|value| figures::significant(value, 3)),
        costs_per_kwh: [at_lows[row], at_highs[row]],
    };
    Tornado {
        currency: scenario.currency.clone(),
        product: Product::of(scenario).name.to_owned(),
        cost_per_kwh,
        inputs: names(of.inputs)
            .into_iter()
            .enumerate()
            .map(input)
            .collect(),
    }
}

fn influences(of: &Varied<'_>, scenario: &Scenario) -> Influences {
    let shares = ["alone_share", "with_others_share"].map(|name| of.inputs.numbers(name));
    let [alone, with_others] = shares;
    let input = |(row, label): (usize, String)| InputInfluence {
        label,
        alone_share: alone[row],
        with_others_share: with_others[row],
    };
    Influences {
        product: Product::of(scenario).name.to_owned(),
        inputs: names(of.inputs)
            .into_iter()
            .enumerate()
            .map(input)
            .collect(),
    }
}

fn names(inputs: &Table) -> Vec<String> {
    match inputs.column("input") {
        Some(Data::Text(names)) => names.iter().flatten().cloned().collect(),
        _ => Vec::new(),
    }
}

fn price_grid(of: &Varied<'_>, scenario: &Scenario) -> PriceGrid {
    let numbers = |name: &str| of.price_grid.numbers(name);
    let side = |rate: &str, price: &str| {
        let item = match of.price_grid.column(rate) {
            Some(Data::Text(keys)) => keys.first().and_then(|key| Item::from_key(key.as_deref()?)),
            _ => None,
        };
        let mut prices = numbers(price);
        prices.sort_by(f64::total_cmp);
        prices.dedup();
        GridSide {
            name: item.map_or_else(String::new, |item| {
                let (name, currency) = (item.key().replace('_', " "), &scenario.currency);
                format!("{name} [{currency}/{}]", item.unit())
            }),
            now: item.map(|item| scenario.rates.get(item).value),
            prices,
        }
    };
    PriceGrid {
        currency: scenario.currency.clone(),
        product: Product::of(scenario).name.to_owned(),
        sides: [
            side("first_rate", "first_price"),
            side("second_rate", "second_price"),
        ],
        held_per_kwh: numbers("held_per_kwh"),
        found_again_per_kwh: numbers("found_again_per_kwh"),
    }
}

fn spread(of: &Varied<'_>, scenario: &Scenario) -> CostSpread {
    CostSpread {
        currency: scenario.currency.clone(),
        product: Product::of(scenario).name.to_owned(),
        quantiles_per_kwh: of.draws.numbers("cost_per_kwh"),
        others: other_heat(scenario),
    }
}
