//! `price`: one design, its energy, bill and money.

use std::path::Path;

use model::{Infeasible, Trial, Workings, YearsSpread};
use report::Section;
use scenario::{Design, Origin, Scenario};
use serde_json::Value;
use store::{NoHooks, write_atomic};

use crate::args::PriceArgs;
use crate::evaluated::Evaluated;
use crate::exit::Exit;
use crate::failure::Failure;
use crate::inputs::Inputs;
use crate::plan_file::{self, Given};
use crate::subject::Subject;
use crate::text::{bill, cautions, design, drives, energy, limits, money, page, steel, years};
use crate::{json, output};

/// Key of the share of a mean year's heat that nine years in ten exceed.
const P90_SHARE: &str = "finance.p90_share";

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
            let years = years_of(&priced, &inputs, given.as_ref());
            if let Some(years) = &years {
                cover_by(years, &mut inputs.scenario);
            }
            if asked.json {
                let mut document = json::priced(&priced, &workings, &inputs);
                document["years"] = years.as_ref().map_or(Value::Null, json::years);
                return json::print(&document);
            }
            let mut sections = told(&priced, &workings, &inputs, &origin, asked.items);
            sections.extend(years.as_ref().map(years::years));
            sections.push(cautions());
            output::data(&page(&sections))
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

/// How the design's year differs from others; none if another year breaks it.
pub fn years_of(priced: &Evaluated, inputs: &Inputs, given: Option<&Given>) -> Option<YearsSpread> {
    let plan = given.map(|given| &given.plan);
    let spread = inputs.scenario.weather.yearly_spread;
    let years = &inputs.weather.years;
    let (design, fidelity) = (&priced.design, priced.fidelity);
    model::years_spread(&inputs.case, design, plan, years, spread, fidelity).ok()
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

/// Lets the lender's lean year be the one found, unless the scenario states its own.
fn cover_by(years: &YearsSpread, scenario: &mut Scenario) {
    let values = scenario.resolved();
    let mut values = values.iter();
    let is_stated = values.any(|value| value.key == P90_SHARE && value.origin != Origin::Default);
    if !is_stated {
        scenario.finance.p90_share = years.p90_share;
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
    let head = format!(
        "{}. {origin}; light at fidelity \"{}\".",
        scenario.title,
        priced.fidelity.word()
    );
    let mut sections = vec![
        Section::opening(head),
        design::design(priced),
        energy::energy(priced),
        energy::delivered(priced, inputs),
        drives::drives(workings),
        drives::alignment(workings),
        design::built(priced),
        bill::bill(priced, scenario),
        money::capital(priced, scenario),
        money::yearly(priced, scenario),
        money::cost_of_product(priced, scenario),
        money::value(priced, scenario),
        money::carbon(priced, scenario),
        limits::margins(&priced.summary.margins),
        drives::escape(
            workings,
            priced.strings(),
            &scenario.rates,
            &scenario.currency,
        ),
    ];
    sections.extend(steel::strings(priced, inputs).unwrap_or_default());
    if with_items {
        sections.insert(8, bill::items(priced, scenario));
    }
    sections
}
