//! `vary`: what the cheapest design of a finished search rests on.
//!
//! Prices re-price what the search has computed; only a step of a design value is evaluated anew,
//! and remembered in the run's journal.

use model::Summary;
use report::TableKind;
use scenario::DesignKey;
use study::{EVERY, Key, Oracle, Verdict};

use crate::args::VaryArgs;
use crate::exit::Exit;
use crate::failure::Failure;
use crate::inputs::Inputs;
use crate::problem::{Prices, Problem, summary_of};
use crate::run::{self, Run, file_meta};
use crate::sensitivity::{Sensitivity, Setting};
use crate::tables::designs::key_of_row;
use crate::{draw, json, output, tables, text};

/// What was found.
pub struct Varied {
    /// What prices, finance and yield do.
    pub sensitivity: Sensitivity,
    /// Cost one step below and above every opened quantity; nothing where a limit breaks or the
    /// range ends.
    pub steps: Vec<Steps>,
}

/// An opened quantity, a step to each side.
pub struct Steps {
    pub key: &'static str,
    pub texts: [Option<String>; 2],
    pub costs: [Option<f64>; 2],
}

/// Varies what the cheapest design of a run rests on, and draws the run's charts and page again.
pub fn vary(asked: &VaryArgs) -> Result<Exit, Failure> {
    let (mut run, mut inputs) = Run::again(&asked.run)?;
    let designs = run::read_table(&asked.run, TableKind::Designs)?;
    let row = run.best_row().ok_or_else(|| Failure::Folder {
        path: asked.run.clone(),
        problem: "its search found no design that keeps every limit".to_owned(),
    })?;
    let DesignKey(best) = key_of_row(&asked.run, &designs, row, &inputs.scenario)?;
    let varied = varied(asked, &run, &inputs, &best)?;
    let meta = file_meta(&inputs);
    for table in &tables::sensitivity::tables(Some(&varied.sensitivity)) {
        run.write_table(table, &meta)?;
    }
    draw::again(&mut run, &mut inputs)?;
    if asked.json {
        return json::print(&json::varied(&varied, &inputs, row));
    }
    output::data(&text::varied::page(&varied, &inputs, row))
}

fn varied(asked: &VaryArgs, run: &Run, inputs: &Inputs, best: &Key) -> Result<Varied, Failure> {
    let problem = Problem {
        scenario: &inputs.scenario,
        case: &inputs.case,
    };
    let (journal, opened) = run.journal(inputs)?;
    let mut oracle = Oracle::with_journal(&problem, journal, opened);
    let prices = Prices::of(&inputs.scenario);
    let confirmed: Vec<Summary> = oracle
        .remembered(EVERY)
        .filter(|(_, outcome)| Verdict::of(outcome, &prices).objectives().is_some())
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
    Ok(Varied {
        sensitivity: Sensitivity::of(inputs, &summary, &confirmed, asked.prices()),
        steps: steps(&mut oracle, inputs, best)?,
    })
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
