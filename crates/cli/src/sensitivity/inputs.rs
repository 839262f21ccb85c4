//! What is uncertain beside the design: prices, finance, and how much heat comes.

use ledger::{Finance, Item, Rates};
use model::Summary;
use scenario::Duty;
use study::Span;

use crate::inputs::Inputs;
use crate::problem::Prices;

/// Heat of a year against what the model says: soiling, outages, weather and light all together
/// (common practice, no source).
const HEAT: Span = Span {
    low: 0.9,
    likely: 1.0,
    high: 1.05,
};

/// Prices, finance and heat, as one draw has them.
#[derive(Clone)]
pub struct Setting {
    pub rates: Rates,
    pub finance: Finance,
    duty: Option<Duty>,
    /// Heat of a year against what the model says.
    pub heat: f64,
}

impl Setting {
    /// As the scenario says.
    pub fn of(inputs: &Inputs) -> Self {
        Self {
            rates: inputs.scenario.rates.clone(),
            finance: inputs.scenario.finance,
            duty: inputs.scenario.search.duty,
            heat: 1.0,
        }
    }

    /// What a kilowatt-hour of a design costs.
    pub fn cost(&self, summary: &Summary) -> f64 {
        let prices = Prices {
            rates: &self.rates,
            finance: &self.finance,
            duty: self.duty,
        };
        let summary = Summary {
            delivered_j: summary.delivered_j * self.heat,
            ..*summary
        };
        prices.cost_per_kwh(&summary, &prices.money(&summary))
    }

    pub fn set_rate(&mut self, item: Item, value: f64) {
        let mut rate = self.rates.get(item).clone();
        rate.value = value;
        self.rates.replace(item, rate);
    }
}

/// An uncertain input.
pub struct Input {
    pub name: String,
    pub span: Span,
    what: What,
}

#[derive(Clone, Copy)]
enum What {
    Rate(Item),
    RealRate,
    Life,
    Contingency,
    ContingencyUnproven,
    Heat,
}

impl Input {
    /// Heat against the model, as a whole.
    pub fn heat() -> Self {
        Self {
            name: "heat against the model".to_owned(),
            span: HEAT,
            what: What::Heat,
        }
    }

    /// Whether it is about parts that nobody has yet built in number.
    pub fn is_unproven(&self) -> bool {
        matches!(self.what, What::ContingencyUnproven)
    }

    pub fn set(&self, setting: &mut Setting, value: f64) {
        match self.what {
            What::Rate(item) => setting.set_rate(item, value),
            What::RealRate => setting.finance.real_rate = value,
            What::Life => setting.finance.life_years = value,
            What::Contingency => setting.finance.contingency = value,
            What::ContingencyUnproven => setting.finance.contingency_unproven = value,
            What::Heat => setting.heat = value,
        }
    }
}

/// Every rate that the design pays and that has a range, then finance. Ranges of finance: common
/// practice, no source.
pub fn price_inputs(inputs: &Inputs, summary: &Summary) -> Vec<Input> {
    let (rates, finance) = (&inputs.scenario.rates, &inputs.scenario.finance);
    let paid = Item::ALL
        .iter()
        .filter(|item| rates.amount_under(**item, &summary.quantities) > 0.0);
    let mut all: Vec<Input> = paid
        .map(|&item| {
            let rate = rates.get(item);
            let span = Span {
                low: rate.low.min(rate.value),
                likely: rate.value,
                high: rate.high.max(rate.value),
            };
            (format!("rates.{}", item.key()), span, What::Rate(item))
        })
        .filter(|(_, span, _)| span.low < span.high)
        .map(|(name, span, what)| Input { name, span, what })
        .collect();
    let around = |likely: f64, low: f64, high: f64| Span { low, likely, high };
    let (rate, life) = (finance.real_rate, finance.life_years);
    let (known, unproven) = (finance.contingency, finance.contingency_unproven);
    for (name, span, what) in [
        (
            "finance.real_rate",
            around(rate, (rate - 0.02).max(0.0), rate + 0.03),
            What::RealRate,
        ),
        (
            "finance.life",
            around(life, 0.8 * life, 1.2 * life),
            What::Life,
        ),
        (
            "finance.contingency",
            around(known, 0.5 * known, 2.0 * known),
            What::Contingency,
        ),
        (
            "finance.contingency_unproven",
            around(unproven, 0.25 * unproven, 3.0 * unproven),
            What::ContingencyUnproven,
        ),
    ] {
        let name = name.to_owned();
        all.push(Input { name, span, what });
    }
    all.retain(|input| !(finance.is_proven && input.is_unproven()));
    all
}
