//! `price`: one design, its energy, bill and money.

use std::path::Path;

use model::{Infeasible, Trial, Workings};
use report::Section;
use scenario::Design;
use serde_json::Value;
use store::{NoHooks, write_atomic};

use crate::args::PriceArgs;
use crate::evaluated::Evaluated;
use crate::exit::Exit;
use crate::failure::Failure;
use crate::inputs::Inputs;
use crate::plan_file::{self, Given};
use crate::subject::Subject;
use crate::text::{
    bill, cautions, design, drives, energy, heliostats, limits, money, page, steel, years,
};
use crate::{json, lean_year, output};

/// Prices one design and prints it.
pub fn price(asked: &PriceArgs) -> Result<Exit, Failure> {
    let Subject {
        mut inputs,
        key,
        given,
        origin,
    } = Subject::of(&asked.subject)?;
    inputs.say_notes();
    let chosen = inputs.scenario.space.design(&key);
    if let Some(path) = &asked.plan_out {
        write_plan(path, &inputs, &chosen)?;
    }
    let fidelity = asked.fidelity.into();
    let priced = match &given {
        Some(given) => Evaluated::of_plan(&inputs, chosen, given, fidelity),
        None => Evaluated::new(&inputs, chosen, fidelity),
    };
    let looked_into = priced.and_then(|priced| {
        let workings = workings(&inputs, &priced.design, given.as_ref())?;
        Ok((priced, workings))
    });
    match looked_into {
        Ok((priced, workings)) => {
            let years = lean_year::spread(&priced, &inputs, given.as_ref());
            lean_year::cover(years.as_ref(), &mut inputs);
            if asked.json {
                let mut document = json::priced(&priced, &workings, &inputs);
                document["years"] = years.as_ref().map_or(Value::Null, json::years);
                json::print(&document)?;
                return Ok(exit(&priced));
            }
            let mut sections = told(&priced, &workings, &inputs, &origin, asked.items);
            sections.extend(years.as_ref().map(years::years));
            sections.push(cautions());
            output::data(&page(&sections))?;
            Ok(exit(&priced))
        }
        Err(broken) => {
            if asked.json {
                json::print(&json::infeasible(&broken, &inputs))?;
            } else {
                output::data(&limits::infeasible(&broken))?;
            }
            Ok(Exit::NothingFeasible)
        }
    }
}

/// A design that serves too little is priced like any other, but does not keep every limit.
fn exit(priced: &Evaluated) -> Exit {
    match priced.summary.margins.most_broken() {
        None => Exit::Done,
        Some(_) => Exit::NothingFeasible,
    }
}

fn workings(
    inputs: &Inputs,
    design: &Design,
    given: Option<&Given>,
) -> Result<Workings, Infeasible> {
    match given {
        Some(given) => Workings::of_plan(&inputs.case, design, given.plan.clone()),
        None => Workings::of_design(&inputs.case, design),
    }
}

/// Writes the plan that a design lays, if it can be laid.
fn write_plan(path: &Path, inputs: &Inputs, design: &Design) -> Result<(), Failure> {
    let Ok(trial) = Trial::of_design(&inputs.case, design) else {
        return Ok(());
    };
    let text = plan_file::written(&trial.plan().to_rows());
    Ok(write_atomic(path, text.as_bytes(), &NoHooks)?)
}

fn told(
    priced: &Evaluated,
    workings: &Workings,
    inputs: &Inputs,
    origin: &str,
    with_items: bool,
) -> Vec<Section> {
    let scenario = &inputs.scenario;
    let mut head = format!(
        "{}. {origin}; light at fidelity \"{}\".",
        scenario.title,
        priced.fidelity.word()
    );
    if let Some(broken) = priced.summary.margins.what_breaks() {
        head += &format!(" It does not keep every limit: {broken}.");
    }
    let mut sections = vec![
        Section::opening(head),
        design::design(priced, &inputs.scenario),
        energy::energy(priced),
        energy::delivered(priced, inputs),
        design::built(priced),
        bill::bill(priced, scenario),
        money::capital(priced, scenario),
        money::yearly(priced, scenario),
        money::cost_of_product(priced, scenario),
        money::value(priced, scenario),
        money::carbon(priced, scenario),
        limits::margins(&priced.summary.margins),
    ];
    if with_items {
        sections.insert(6, bill::items(priced, scenario));
    }
    let drives = workings.shared.as_ref().map_or_else(
        || vec![heliostats::drives(priced, inputs)],
        |shared| {
            vec![
                drives::drives(shared, workings.motor_power_w),
                drives::alignment(shared),
            ]
        },
    );
    sections.splice(4..4, drives);
    sections.push(drives::escape(workings, priced.units(), scenario));
    sections.extend(steel::units(priced, inputs).unwrap_or_default());
    sections
}
