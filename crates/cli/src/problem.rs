//! The search's view of the model: designs to outcomes, outcomes to objectives.

use ledger::{Finance, Money, Rates};
use model::{Case, Fidelity, Infeasible, MARGINS, Margins, Scratch, Summary};
use scenario::{DesignKey, Scenario};
use study::{Axis, AxisKind, EVERY, Evaluator, Objectives, Outcome, Pricing, SpaceError, Status};

/// Violation of a design that keeps its limits but delivers nothing: worse than a broken limit.
const NOTHING: f64 = 20.0;

/// The designs of a scenario, evaluated by the model.
pub struct Problem<'a> {
    pub scenario: &'a Scenario,
    pub case: &'a Case,
}

impl Evaluator for Problem<'_> {
    type Scratch = Scratch;

    fn evaluate(&self, key: &[u32], fidelity: u8, scratch: &mut Scratch) -> Outcome {
        let design = self.scenario.space.design(&DesignKey(key.to_vec()));
        match model::evaluate(self.case, &design, fidelity_of(fidelity), scratch) {
            Ok(summary) if summary.delivered_j > 0.0 => feasible(&summary),
            Ok(summary) => infeasible("delivers nothing", NOTHING, &summary.margins),
            Err(broken) => broken_outcome(&broken),
        }
    }
}

/// The fidelity of a tag of the search.
pub const fn fidelity_of(tag: u8) -> Fidelity {
    if tag == EVERY {
        Fidelity::Every
    } else {
        Fidelity::Search
    }
}

fn feasible(summary: &Summary) -> Outcome {
    Outcome {
        status: Status::Feasible,
        numbers: summary.to_numbers(),
        reason: String::new(),
    }
}

fn broken_outcome(broken: &Infeasible) -> Outcome {
    infeasible(&broken.reason, broken.violation(), &broken.margins)
}

/// Numbers of an infeasible outcome: the violation, then the margins known.
fn infeasible(reason: &str, violation: f64, margins: &Margins) -> Outcome {
    let mut numbers = vec![violation];
    numbers.extend(margins.values());
    Outcome {
        status: Status::Infeasible,
        numbers,
        reason: reason.to_owned(),
    }
}

/// The summary kept in an outcome, if it is feasible.
pub fn summary_of(outcome: &Outcome) -> Option<Summary> {
    match outcome.status {
        Status::Feasible => Summary::from_numbers(&outcome.numbers),
        _ => None,
    }
}

/// The margins kept in an outcome, as far as they are known.
pub fn margins_of(outcome: &Outcome) -> Margins {
    if let Some(summary) = summary_of(outcome) {
        return summary.margins;
    }
    let values: Option<[f64; MARGINS]> = outcome
        .numbers
        .get(1..)
        .and_then(|values| values.try_into().ok());
    values.map_or_else(Margins::unknown, Margins::from_values)
}

/// What things and money cost.
#[derive(Clone, Copy)]
pub struct Prices<'a> {
    pub rates: &'a Rates,
    pub finance: &'a Finance,
}

impl<'a> Prices<'a> {
    /// The prices of a scenario.
    pub const fn of(scenario: &'a Scenario) -> Self {
        Self {
            rates: &scenario.rates,
            finance: &scenario.finance,
        }
    }

    /// What a design costs.
    pub fn money(&self, summary: &Summary) -> Money {
        let Self { rates, finance } = self;
        ledger::price(&summary.quantities, summary.delivered_j, rates, finance)
    }
}

impl Pricing for Prices<'_> {
    fn objectives(&self, outcome: &Outcome) -> Option<Objectives> {
        let money = self.money(&summary_of(outcome)?);
        let carbon_kg_per_kwh = money.carbon_kg_per_j * ledger::J_PER_KWH;
        Some([
            money.levelised_per_kwh(),
            money.capital.total,
            carbon_kg_per_kwh,
        ])
    }

    fn violation(&self, outcome: &Outcome) -> f64 {
        outcome.numbers.first().copied().unwrap_or(f64::NAN)
    }
}

/// The opened values as axes.
pub fn study_space(scenario: &Scenario) -> Result<study::Space, SpaceError> {
    let axes = scenario.space.variables().iter().map(|variable| Axis {
        count: variable.count(),
        kind: if variable.is_range() {
            AxisKind::Steps
        } else {
            AxisKind::Choice
        },
    });
    study::Space::new(axes.collect(), scenario.space.start().0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_infeasible_outcome_keeps_its_violation_and_margins() {
        let mut margins = Margins::unknown();
        margins.set_places(-0.25);
        let broken = Infeasible::check(&margins).unwrap_err();
        let outcome = broken_outcome(&broken);
        let kept = margins_of(&outcome);
        assert_eq!(kept.most_broken(), Some(("places", -0.25)));
        let scenario = scenario::load("starter", &scenario::starter(), &no_base, &[]).unwrap();
        assert_eq!(Prices::of(&scenario).violation(&outcome), 0.25);
        assert_eq!(Prices::of(&scenario).objectives(&outcome), None);
    }

    fn no_base(_: &str) -> Result<String, String> {
        Err("there is none".to_owned())
    }

    #[test]
    fn every_opened_value_is_an_axis() {
        let opened = [(
            "strings.side",
            r#"{ from = "1 m", to = "1.2 m", step = "10 mm" }"#,
        )]
        .map(|(key, value)| (key.to_owned(), value.to_owned()));
        let text = scenario::starter();
        let scenario = scenario::load("starter", &text, &no_base, &opened).unwrap();
        let space = study_space(&scenario).unwrap();
        assert_eq!(space.axes().len(), scenario.space.variables().len());
        assert!(space.axes().iter().any(|axis| axis.count == 21));
    }
}
