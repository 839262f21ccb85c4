//! One design with its year and its money.

use std::path::PathBuf;

use field::Plan;
use ledger::{Money, Worth};
use model::{Fidelity, Infeasible, Makes, Scratch, Summary};
use scenario::{Design, Scenario};

use crate::facts::{Fact, facts, plan_facts};
use crate::inputs::Inputs;
use crate::plan_file::Given;
use crate::problem::Prices;

/// A plan that was given instead of laid.
pub struct GivenPlan {
    /// Its file.
    pub path: PathBuf,
    /// How many mirrors.
    pub mirrors: usize,
    /// Its driven units, make by make.
    pub makes: Makes,
}

/// One design with its year and its money.
pub struct Evaluated {
    /// The design.
    pub design: Design,
    /// The plan that stands instead of the one the design would lay.
    pub plan: Option<GivenPlan>,
    /// How closely its light was looked at.
    pub fidelity: Fidelity,
    /// Its year, without prices.
    pub summary: Summary,
    /// What it costs.
    pub money: Money,
}

impl Evaluated {
    /// Evaluates and prices a design.
    pub fn new(inputs: &Inputs, design: Design, fidelity: Fidelity) -> Result<Self, Infeasible> {
        let summary = model::evaluate(&inputs.case, &design, fidelity, &mut Scratch::default())?;
        Ok(Self::priced(inputs, design, fidelity, summary))
    }

    /// Evaluates and prices a given plan, with all but the mirrors as a design has it.
    pub fn of_plan(
        inputs: &Inputs,
        design: Design,
        given: &Given,
        fidelity: Fidelity,
    ) -> Result<Self, Infeasible> {
        let plan: Plan = given.plan.clone();
        let scratch = &mut Scratch::default();
        let (summary, makes) =
            model::evaluate_plan(&inputs.case, &design, plan, fidelity, scratch)?;
        let plan = GivenPlan {
            path: given.path.clone(),
            mirrors: given.plan.mirror_count(),
            makes,
        };
        Ok(Self {
            plan: Some(plan),
            ..Self::priced(inputs, design, fidelity, summary)
        })
    }

    /// What it is worth to its owner and its lender.
    pub fn worth(&self, scenario: &Scenario) -> Worth {
        let Scenario { rates, finance, .. } = scenario;
        ledger::worth(&self.money, rates, finance)
    }

    /// Every fact of what was evaluated.
    pub fn facts(&self, scenario: &Scenario) -> Vec<Fact> {
        let receiver = scenario.receiver.kind;
        match &self.plan {
            Some(plan) => plan_facts(&self.design, receiver, plan),
            None => facts(&self.design, receiver),
        }
    }

    /// How many driven units: strings or heliostats.
    pub fn units(&self) -> f64 {
        match &self.plan {
            Some(plan) => plan.makes.count(),
            None => f64::from(self.design.field.units()),
        }
    }

    /// How many mirrors.
    pub fn mirrors(&self) -> f64 {
        match &self.plan {
            Some(plan) => plan.mirrors as f64,
            None => self.design.field.mirrors(),
        }
    }

    /// Whether it keeps every limit, in the word of the tables.
    pub fn status(&self) -> &'static str {
        match self.summary.margins.most_broken() {
            None => "feasible",
            Some(_) => "infeasible",
        }
    }

    /// Prices a design whose year is known.
    pub fn priced(inputs: &Inputs, design: Design, fidelity: Fidelity, summary: Summary) -> Self {
        Self {
            money: Prices::of(&inputs.scenario).money(&summary),
            design,
            plan: None,
            fidelity,
            summary,
        }
    }
}
