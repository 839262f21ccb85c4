//! `price`: one design, its energy, bill and money.

use std::path::Path;

use model::Trial;
use report::{Section, TableKind};
use scenario::{Design, DesignKey};
use store::{NoHooks, write_atomic};

use crate::args::PriceArgs;
use crate::evaluated::Evaluated;
use crate::exit::Exit;
use crate::failure::Failure;
use crate::inputs::Inputs;
use crate::plan_file::{self, Given};
use crate::tables::designs::key_of_row;
use crate::text::{bill, cautions, design, energy, limits, money, page};
use crate::{json, output, run};

/// What is priced.
struct Subject {
    inputs: Inputs,
    key: DesignKey,
    /// The plan given instead of the one that the design lays.
    given: Option<Given>,
    /// Where the design comes from, for people.
    origin: String,
}

/// Prices one design and prints it.
pub fn price(asked: &PriceArgs) -> Result<Exit, Failure> {
    let Subject {
        inputs,
        key,
        given,
        origin,
    } = subject(asked)?;
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
    match priced {
        Ok(priced) if asked.json => json::print(&json::design(&priced, &inputs)),
        Ok(priced) => output::data(&told(&priced, &inputs, &origin, asked.items)),
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

fn subject(asked: &PriceArgs) -> Result<Subject, Failure> {
    let overrides = &asked.settings.set;
    if let Some((run, row)) = &asked.design {
        return of_run(run, *row, overrides);
    }
    // One of the two is required by the command line.
    let file = asked.file.as_deref().unwrap_or_else(|| Path::new(""));
    let inputs = Inputs::read(file, overrides)?;
    if let Some(path) = &asked.plan {
        return of_plan(path, inputs);
    }
    let opened = inputs.scenario.space.variables().len();
    let origin = if opened == 0 {
        "The scenario's one design".to_owned()
    } else {
        format!("The scenario's start design ({opened} opened values at their start)")
    };
    Ok(Subject {
        key: inputs.scenario.space.start(),
        inputs,
        given: None,
        origin,
    })
}

fn of_plan(path: &Path, inputs: Inputs) -> Result<Subject, Failure> {
    let key = inputs.scenario.space.start();
    let given = plan_file::read(path, &inputs.scenario.space.design(&key))?;
    let origin = format!(
        "The plan {}, all but the mirrors as in the scenario's start design",
        path.display()
    );
    Ok(Subject {
        inputs,
        key,
        given: Some(given),
        origin,
    })
}

/// Writes the plan that a design lays, if it can be laid.
fn write_plan(path: &Path, inputs: &Inputs, design: &Design) -> Result<(), Failure> {
    let Ok(trial) = Trial::of_design(&inputs.case, design) else {
        return Ok(());
    };
    let text = plan_file::written(trial.plan());
    Ok(write_atomic(path, text.as_bytes(), &NoHooks)?)
}

fn of_run(path: &Path, row: u32, overrides: &[(String, String)]) -> Result<Subject, Failure> {
    let mut source = run::finished(path)?.scenario;
    source.overrides.extend_from_slice(overrides);
    let inputs = Inputs::again(source)?;
    let designs = run::read_table(path, TableKind::Designs)?;
    Ok(Subject {
        key: key_of_row(path, &designs, row, &inputs.scenario)?,
        inputs,
        given: None,
        origin: format!("Design {row} of {}", path.display()),
    })
}

fn told(priced: &Evaluated, inputs: &Inputs, origin: &str, with_items: bool) -> String {
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
        energy::heat(priced, inputs),
        design::built(priced),
        bill::bill(priced, scenario),
        money::capital(priced, scenario),
        money::yearly(priced, scenario),
        money::cost_of_heat(priced, scenario),
        money::carbon(priced, scenario),
        limits::margins(&priced.summary.margins),
        cautions(),
    ];
    if with_items {
        sections.insert(6, bill::items(priced, scenario));
    }
    page(&sections)
}
