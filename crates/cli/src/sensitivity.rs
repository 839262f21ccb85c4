//! What the cost of the best design rests on: prices, finance and yield, without new light.

pub mod charts;
mod inputs;

use ledger::Item;
use model::Summary;
use study::{Drawn, Span};

use crate::inputs::Inputs;

pub use inputs::{Input, Setting, price_inputs};

/// Prices of a grid along each side.
const GRID: usize = 5;

/// What is varied, and how often.
#[derive(Clone, Copy)]
pub struct Asked {
    /// Two prices to lay against one another.
    pub grid: [Item; 2],
    /// Draws of all inputs together.
    pub draws: u32,
    /// Chooses the draws.
    pub seed: u32,
}

impl Asked {
    /// What a search asks: steel against glass.
    pub const BY_SEARCH: Self = Self {
        grid: [Item::Steel, Item::Glass],
        draws: 1024,
        seed: 1,
    };
}

/// What was found.
pub struct Sensitivity {
    /// Cost of a kilowatt-hour as things are.
    pub cost: f64,
    /// Cost at both ends of every input, the widest first.
    pub ends: Vec<Ends>,
    /// Two prices against one another.
    pub grid: Grid,
    /// Inputs drawn all together.
    pub drawn: Drawn,
    /// Names of the inputs drawn.
    pub names: Vec<String>,
}

/// An input at its ends.
pub struct Ends {
    pub name: String,
    pub span: Span,
    pub at_low: f64,
    pub at_high: f64,
}

/// Costs over two prices: of the design as it is, and of the cheapest confirmed one.
pub struct Grid {
    pub items: [Item; 2],
    pub prices: [Vec<f64>; 2],
    /// By rows of the first price.
    pub held: Vec<Vec<f64>>,
    pub found_again: Vec<Vec<f64>>,
}

impl Sensitivity {
    /// Varies what a design rests on; `confirmed` are the designs that others may be chosen from.
    pub fn of(inputs: &Inputs, held: &Summary, confirmed: &[Summary], asked: Asked) -> Self {
        let as_is = Setting::of(inputs);
        let mut all = price_inputs(inputs, held);
        all.push(Input::heat());
        let drawn = study::draw(all.len(), asked.draws, asked.seed.into(), |shares| {
            let mut setting = as_is.clone();
            for (input, share) in all.iter().zip(shares) {
                input.set(&mut setting, input.span.at(*share));
            }
            setting.cost(held)
        });
        Self {
            cost: as_is.cost(held),
            ends: ends(&as_is, &all, held),
            grid: grid(asked.grid, &as_is, held, confirmed),
            drawn,
            names: all.into_iter().map(|input| input.name).collect(),
        }
    }
}

/// The cost at both ends of every input, the widest first.
fn ends(as_is: &Setting, all: &[Input], summary: &Summary) -> Vec<Ends> {
    let cost = |input: &Input, value: f64| {
        let mut setting = as_is.clone();
        input.set(&mut setting, value);
        setting.cost(summary)
    };
    let mut ends: Vec<Ends> = all
        .iter()
        .map(|input| Ends {
            name: input.name.clone(),
            span: input.span,
            at_low: cost(input, input.span.low),
            at_high: cost(input, input.span.high),
        })
        .collect();
    let width = |ends: &Ends| (ends.at_high - ends.at_low).abs();
    ends.sort_by(|a, b| width(b).total_cmp(&width(a)));
    ends
}

fn grid(items: [Item; 2], as_is: &Setting, held: &Summary, confirmed: &[Summary]) -> Grid {
    let prices = items.map(|item| {
        let rate = as_is.rates.get(item);
        let part = |place: usize| place as f64 / (GRID - 1) as f64;
        (0..GRID)
            .map(|place| rate.low + part(place) * (rate.high - rate.low))
            .collect::<Vec<f64>>()
    });
    let over = |cost: &dyn Fn(&Setting) -> f64| -> Vec<Vec<f64>> {
        let row = |first: &f64| {
            let at = |second: &f64| {
                let mut setting = as_is.clone();
                setting.set_rate(items[0], *first);
                setting.set_rate(items[1], *second);
                cost(&setting)
            };
            prices[1].iter().map(at).collect()
        };
        prices[0].iter().map(row).collect()
    };
    let cheapest = |setting: &Setting| {
        let costs = confirmed.iter().map(|summary| setting.cost(summary));
        costs.fold(setting.cost(held), f64::min)
    };
    Grid {
        items,
        held: over(&|setting| setting.cost(held)),
        found_again: over(&cheapest),
        prices,
    }
}
