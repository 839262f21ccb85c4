//! One design with its year and its money.

use ledger::Money;
use model::{Fidelity, Infeasible, Scratch, Summary};
use scenario::Design;

use crate::inputs::Inputs;
use crate::problem::Prices;

/// One design with its year and its money.
pub struct Evaluated {
    /// The design.
    pub design: Design,
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

    /// Prices a design whose year is known.
    pub fn priced(inputs: &Inputs, design: Design, fidelity: Fidelity, summary: Summary) -> Self {
        Self {
            money: Prices::of(&inputs.scenario).money(&summary),
            design,
            fidelity,
            summary,
        }
    }
}
