//! The tornado of what was varied.

use report::chart::{Tornado, TornadoInput};
use report::figures;

use super::{Ends, Varied};
use crate::inputs::Inputs;
use crate::product::Product;

/// The chart of one input at a time.
pub fn tornado(of: &Varied, inputs: &Inputs) -> Tornado {
    let input = |ends: &Ends| TornadoInput {
        label: ends.name.clone(),
        ends: [ends.span.low, ends.span.high].map(|value| figures::significant(value, 3)),
        costs_per_kwh: [ends.at_low, ends.at_high],
    };
    Tornado {
        currency: inputs.scenario.currency.clone(),
        product: Product::of(&inputs.scenario).name.to_owned(),
        cost_per_kwh: of.cost,
        inputs: of.ends.iter().map(input).collect(),
    }
}
