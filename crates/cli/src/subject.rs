//! Which design a command works on: a scenario's start, a row of a finished search, or a given plan.

use std::path::Path;

use report::TableKind;
use scenario::DesignKey;

use crate::args::SubjectArgs;
use crate::failure::Failure;
use crate::inputs::Inputs;
use crate::plan_file::{self, Given};
use crate::run;
use crate::tables::designs::key_of_row;

/// Which design is meant.
pub struct Subject {
    /// Scenario and weather.
    pub inputs: Inputs,
    /// The design.
    pub key: DesignKey,
    /// The plan given instead of the one that the design lays.
    pub given: Option<Given>,
    /// Where the design comes from, for people.
    pub origin: String,
}

impl Subject {
    /// Reads what the command line names.
    pub fn of(asked: &SubjectArgs) -> Result<Self, Failure> {
        let overrides = &asked.settings.overrides();
        if let Some((run, row)) = &asked.design {
            return Self::of_run(run, *row, overrides);
        }
        // One of the two is required by the command line.
        let file = asked.file.as_deref().unwrap_or_else(|| Path::new(""));
        let inputs = Inputs::read(file, overrides)?;
        if let Some(path) = &asked.plan {
            return Self::of_plan(path, inputs);
        }
        let opened = inputs.scenario.space.variables().len();
        let origin = if opened == 0 {
            "The scenario's one design".to_owned()
        } else {
            format!("The scenario's start design ({opened} opened values at their start)")
        };
        Ok(Self {
            key: inputs.scenario.space.start(),
            inputs,
            given: None,
            origin,
        })
    }

    fn of_plan(path: &Path, inputs: Inputs) -> Result<Self, Failure> {
        let key = inputs.scenario.space.start();
        let given = plan_file::read(path, &inputs.scenario.space.design(&key))?;
        let origin = format!(
            "The plan {}, all but the mirrors as in the scenario's start design",
            path.display()
        );
        Ok(Self {
            inputs,
            key,
            given: Some(given),
            origin,
        })
    }

    fn of_run(path: &Path, row: u32, overrides: &[(String, String)]) -> Result<Self, Failure> {
        let mut source = run::finished(path)?.scenario;
        source.overrides.extend_from_slice(overrides);
        let inputs = Inputs::again(source)?;
        let designs = run::read_table(path, TableKind::Designs)?;
        Ok(Self {
            key: key_of_row(path, &designs, row, &inputs.scenario)?,
            inputs,
            given: None,
            origin: format!("Design {row} of {}", path.display()),
        })
    }
}
