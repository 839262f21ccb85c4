//! Designs of the demo and of a smaller field, as a search judges them.

use ledger::J_PER_KWH;
use model::{Case, Fidelity, Scratch, Summary};
use scenario::{DesignKey, Scenario};
use study::{
    Axis, AxisKind, Evaluator, Objectives, Outcome, Pricing, SEARCH, Space, Status, Verdict,
};
use tautfield_tests::Works;

/// Violation of a design that keeps its limits but delivers nothing: worse than most broken limits.
const NOTHING: f64 = 20.0;

/// The designs that a scenario opens.
pub struct Designs {
    scenario: Scenario,
    case: Case,
}

impl Designs {
    /// Those of the demo, with other values for some keys.
    pub fn of_demo(settings: &[(&str, &str)]) -> Self {
        Self {
            scenario: tautfield_tests::scenario("process-steam", settings),
            case: Works::new(settings).case,
        }
    }

    /// Those of a fifth of the demo: few strings for little steam.
    pub fn of_small_field() -> Self {
        Self::of_demo(&[
            (
                "strings.count",
                "{ from = 30, to = 80, step = 5, start = 50 }",
            ),
            ("heat.demand.power", "600 kW"),
        ])
    }

    pub fn space(&self) -> Space {
        let axes = self.scenario.space.variables().iter().map(|variable| Axis {
            count: variable.count(),
            kind: if variable.is_range() {
                AxisKind::Steps
            } else {
                AxisKind::Choice
            },
        });
        let DesignKey(start) = self.scenario.space.start();
        Space::new(axes.collect(), start).expect("the start is inside")
    }

    /// Twice the cost, capital and carbon of the start: small and large, cheap and lasting fields beat it.
    pub fn reference(&self) -> Objectives {
        let DesignKey(start) = self.scenario.space.start();
        let outcome = self.evaluate(&start, SEARCH, &mut Scratch::default());
        let values = Verdict::of(&outcome, self).objectives();
        values
            .expect("the start keeps every limit")
            .map(|value| 2.0 * value)
    }
}

impl Evaluator for Designs {
    type Scratch = Scratch;

    fn evaluate(&self, key: &[u32], _: u8, scratch: &mut Scratch) -> Outcome {
        let design = self.scenario.space.design(&DesignKey(key.to_vec()));
        let summary = model::evaluate(&self.case, &design, Fidelity::Search, scratch);
        let (status, numbers) = match summary {
            Ok(summary) if summary.delivered_j > 0.0 => (Status::Feasible, summary.to_numbers()),
            Ok(_) => (Status::Infeasible, vec![NOTHING]),
            Err(broken) => (Status::Infeasible, vec![broken.violation()]),
        };
        Outcome {
            status,
            numbers,
            reason: String::new(),
        }
    }
}

impl Pricing for Designs {
    /// Cost of a kilowatt-hour, capital, carbon of a kilowatt-hour.
    fn objectives(&self, outcome: &Outcome) -> Option<Objectives> {
        let summary = Summary::from_numbers(&outcome.numbers)?;
        let Scenario { rates, finance, .. } = &self.scenario;
        let money = ledger::price(&summary.quantities, summary.delivered_j, rates, finance);
        Some([
            money.levelised_per_kwh(),
            money.capital.total,
            money.carbon_kg_per_j * J_PER_KWH,
        ])
    }

    fn violation(&self, outcome: &Outcome) -> f64 {
        outcome.numbers[0]
    }

    fn shortfall(&self, outcome: &Outcome) -> f64 {
        let summary = match outcome.status {
            Status::Feasible => Summary::from_numbers(&outcome.numbers),
            _ => None,
        };
        summary.map_or(0.0, |summary| (-summary.margins.served()).max(0.0))
    }
}
