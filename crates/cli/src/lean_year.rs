//! How a design's year differs from others, and the lean year that a lender asks for.

use model::YearsSpread;
use scenario::Origin;

use crate::evaluated::Evaluated;
use crate::inputs::Inputs;
use crate::plan_file::Given;

/// Key of the share of a mean year's heat that nine years in ten exceed.
const P90_SHARE: &str = "finance.p90_share";

/// How the design's year differs from others; none if another year breaks it.
pub fn spread(priced: &Evaluated, inputs: &Inputs, given: Option<&Given>) -> Option<YearsSpread> {
    let plan = given.map(|given| &given.plan);
    let spread = inputs.scenario.weather.yearly_spread;
    let years = &inputs.weather.years;
    let (design, fidelity) = (&priced.design, priced.fidelity);
    model::years_spread(&inputs.case, design, plan, years, spread, fidelity).ok()
}

/// Lets the lender's lean year be the one found, unless the scenario states its own.
pub fn cover(years: Option<&YearsSpread>, inputs: &mut Inputs) {
    let values = inputs.scenario.resolved();
    let mut values = values.iter();
    let is_stated = values.any(|value| value.key == P90_SHARE && value.origin != Origin::Default);
    if let (Some(years), false) = (years, is_stated) {
        inputs.scenario.finance.p90_share = years.p90_share;
    }
}
