//! `vary`: what the cheapest design of a finished search rests on.
//!
//! Prices re-price what the search has computed; only a step of a design value is evaluated anew,
//! and remembered in the run's journal.

mod inputs;
mod tornado;

use ledger::Item;
use model::Summary;
use report::TableKind;
use scenario::DesignKey;
use study::{Drawn, EVERY, Key, Oracle, Span};

use crate::args::VaryArgs;
use crate::exit::Exit;
use crate::failure::Failure;
use crate::inputs::Inputs;
use crate::problem::{Problem, summary_of};
use crate::run::{self, Run, file_meta};
use crate::tables::designs::key_of_row;
use crate::{json, output, tables, text};

pub use inputs::Input;
use inputs::{Setting, price_inputs};

/// Prices of a grid along each side.
const GRID: usize = 5;

/// What was found.
pub struct Varied {
    /// Cost of a kilowatt-hour as things are.
    pub cost: f64,
    /// Cost at both ends of every input, the widest first.
    pub ends: Vec<Ends>,
    /// Cost one step below and above every opened quantity; nothing where a limit breaks or the
    /// range ends.
    pub steps: Vec<Steps>,
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

/// An opened quantity, a step to each side.
pub struct Steps {
    pub key: &'static str,
    pub texts: [Option<String>; 2],
    pub costs: [Option<f64>; 2],
}

/// Costs over two prices: of the design as it is, and of the cheapest confirmed one.
pub struct Grid {
    pub items: [Item; 2],
    pub prices: [Vec<f64>; 2],
    /// By rows of the first price.
    pub held: Vec<Vec<f64>>,
    pub found_again: Vec<Vec<f64>>,
}

/// Varies what the cheapest design of a run rests on.
pub fn vary(asked: &VaryArgs) -> Result<Exit, Failure> {
    let (mut run, inputs) = Run::again(&asked.run)?;
    let designs = run::read_table(&asked.run, TableKind::Designs)?;
    let row = run.best_row().ok_or_else(|| Failure::Folder {
        path: asked.run.clone(),
        problem: "its search found no design that keeps every limit".to_owned(),
    })?;
    let DesignKey(best) = key_of_row(&asked.run, &designs, row, &inputs.scenario)?;
    let varied = varied(asked, &run, &inputs, &best)?;
    write(&mut run, &varied, &inputs)?;
    if asked.json {
        return json::print(&json::varied(&varied, &inputs, row));
    }
    output::data(&text::varied::page(&varied, &inputs, row))
}

/// Writes tables and chart into the run folder.
fn write(run: &mut Run, varied: &Varied, inputs: &Inputs) -> Result<(), Failure> {
    let meta = file_meta(inputs);
    for table in &tables::varied::tables(varied) {
        run.write_table(table, &meta)?;
    }
    let chart = tornado::tornado(varied, inputs).draw()?;
    run.write_chart("tornado", &chart)
}

fn varied(asked: &VaryArgs, run: &Run, inputs: &Inputs, best: &Key) -> Result<Varied, Failure> {
    let problem = Problem {
        scenario: &inputs.scenario,
        case: &inputs.case,
    };
    let (journal, opened) = run.journal(inputs)?;
    let mut oracle = Oracle::with_journal(&problem, journal, opened);
    let confirmed: Vec<Summary> = oracle
        .remembered(EVERY)
        .filter_map(|(_, outcome)| summary_of(outcome))
        .collect();
    let found = oracle.ask(std::slice::from_ref(best), EVERY)?;
    let summary = found
        .first()
        .and_then(summary_of)
        .ok_or_else(|| Failure::Folder {
            path: run.path().to_path_buf(),
            problem: "its cheapest design can no longer be evaluated".to_owned(),
        })?;
    let as_is = Setting::of(inputs);
    let all = price_inputs(inputs, &summary);
    let drawn = study::draw(all.len(), asked.draws, asked.seed.into(), |shares| {
        let mut setting = as_is.clone();
        for (input, share) in all.iter().zip(shares) {
            input.set(&mut setting, input.span.at(*share));
        }
        setting.cost(&summary)
    });
    Ok(Varied {
        cost: as_is.cost(&summary),
        ends: ends(&as_is, &all, &summary),
        steps: steps(&mut oracle, inputs, best)?,
        grid: grid(asked.grid(), &as_is, &summary, &confirmed),
        drawn,
        names: all.into_iter().map(|input| input.name).collect(),
    })
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

/// The cost one step to each side of every opened quantity.
fn steps(
    oracle: &mut Oracle<'_, Problem<'_>>,
    inputs: &Inputs,
    best: &Key,
) -> Result<Vec<Steps>, Failure> {
    let as_is = Setting::of(inputs);
    let mut steps = Vec::new();
    for (at, variable) in inputs.scenario.space.variables().iter().enumerate() {
        if !variable.is_range() || variable.count() < 2 {
            continue;
        }
        let sides = [best[at].checked_sub(1), best[at].checked_add(1)]
            .map(|index| index.filter(|index| *index < variable.count()));
        let mut costs = [None; 2];
        for (cost, index) in costs.iter_mut().zip(sides) {
            let Some(index) = index else { continue };
            let mut key = best.clone();
            key[at] = index;
            let outcomes = oracle.ask(&[key], EVERY)?;
            *cost = outcomes
                .first()
                .and_then(summary_of)
                .map(|summary| as_is.cost(&summary));
        }
        steps.push(Steps {
            key: variable.path(),
            texts: sides.map(|index| index.map(|index| variable.text(index))),
            costs,
        });
    }
    Ok(steps)
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
