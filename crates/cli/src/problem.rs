//! The search's view of the model: designs to outcomes, outcomes to objectives.

use ledger::{Finance, J_PER_KWH, Money, Rates};
use model::{Case, Fidelity, Infeasible, MARGINS, Margins, Scratch, Summary};
use scenario::{DesignKey, Duty, Scenario};
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
fn margins_of(outcome: &Outcome) -> Margins {
    if let Some(summary) = summary_of(outcome) {
        return summary.margins;
    }
    let values: Option<[f64; MARGINS]> = outcome
        .numbers
        .get(1..)
        .and_then(|values| values.try_into().ok());
    values.map_or_else(Margins::unknown, Margins::from_values)
}

/// What things and money cost, and what must be delivered for it.
#[derive(Clone, Copy)]
pub struct Prices<'a> {
    pub rates: &'a Rates,
    pub finance: &'a Finance,
    pub duty: Option<Duty>,
}

impl<'a> Prices<'a> {
    /// The prices of a scenario.
    pub const fn of(scenario: &'a Scenario) -> Self {
        Self {
            rates: &scenario.rates,
            finance: &scenario.finance,
            duty: scenario.search.duty,
        }
    }

    /// What a design costs, over what it delivers that counts.
    pub fn money(&self, summary: &Summary) -> Money {
        let delivered_j = self.counted_j(summary);
        ledger::price(&summary.quantities, delivered_j, self.rates, self.finance)
    }

    /// Cost of a kilowatt-hour: of what counts of the delivered ones, or of the whole demand.
    pub fn cost_per_kwh(&self, summary: &Summary, money: &Money) -> f64 {
        match self.duty {
            Some(Duty::WholeDemand) => money.whole_demand_per_j(summary.demand_j) * J_PER_KWH,
            _ => money.levelised_per_kwh(),
        }
    }

    /// What a design delivers in a year, up to its duty [J].
    pub fn counted_j(&self, summary: &Summary) -> f64 {
        let duty_j = self.duty_j(summary).unwrap_or(f64::INFINITY);
        summary.delivered_j.min(duty_j)
    }

    /// The margins of an outcome, held against the duty too.
    pub fn margins(&self, outcome: &Outcome) -> Margins {
        let mut margins = margins_of(outcome);
        if let Some(served) = self.served(outcome) {
            margins.set_served(served);
        }
        margins
    }

    /// What must be delivered in a year [J].
    fn duty_j(&self, summary: &Summary) -> Option<f64> {
        match self.duty? {
            Duty::Energy { year_j } => Some(year_j),
            Duty::Share { of_demand } => Some(of_demand * summary.demand_j),
            Duty::WholeDemand => None,
        }
    }

    /// What a design delivers beyond the least that its demand and its duty ask, as a share of that;
    /// negative if it falls short.
    fn served(&self, outcome: &Outcome) -> Option<f64> {
        let summary = summary_of(outcome)?;
        let of_demand = summary.margins.served();
        let duty_j = self.duty_j(&summary);
        Some(duty_j.map_or(of_demand, |duty_j| {
            of_demand.min(summary.delivered_j / duty_j - 1.0)
        }))
    }
}

impl Pricing for Prices<'_> {
    fn objectives(&self, outcome: &Outcome) -> Option<Objectives> {
        let summary = summary_of(outcome)?;
        let money = self.money(&summary);
        let carbon_kg_per_kwh = money.carbon_kg_per_j * J_PER_KWH;
        Some([
            self.cost_per_kwh(&summary, &money),
            money.capital.total,
            carbon_kg_per_kwh,
        ])
    }

    fn violation(&self, outcome: &Outcome) -> f64 {
        outcome.numbers.first().copied().unwrap_or(f64::NAN)
    }

    fn shortfall(&self, outcome: &Outcome) -> f64 {
        self.served(outcome)
            .map_or(0.0, |served| (-served).max(0.0))
    }

    fn is_lack_bought(&self) -> bool {
        matches!(self.duty, Some(Duty::Energy { .. } | Duty::Share { .. }))
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

    /// A bill of one item and so much heat against a demand of 4 GWh.
    fn delivering(gwh: f64) -> (Summary, Outcome) {
        const GWH: f64 = 1e6 * J_PER_KWH;
        let mut summary = Summary::from_numbers(&[1.0; Summary::WIDTH]).unwrap();
        summary.quantities = ledger::Quantities::default();
        summary.quantities.add(ledger::Item::Steel, 1e5);
        summary.delivered_j = gwh * GWH;
        summary.demand_j = 4.0 * GWH;
        let outcome = feasible(&summary);
        (summary, outcome)
    }

    #[test]
    fn under_a_duty_less_is_infeasible_and_more_earns_nothing() {
        let duty = [("search.duty".to_owned(), "75 %".to_owned())];
        let scenario = scenario::load("starter", &scenario::starter(), &no_base, &duty).unwrap();
        let (held, free) = (
            Prices::of(&scenario),
            Prices {
                duty: None,
                ..Prices::of(&scenario)
            },
        );
        let cost = |prices: &Prices<'_>, gwh| {
            let (summary, outcome) = delivering(gwh);
            assert!(prices.shortfall(&outcome) <= 0.0);
            prices.cost_per_kwh(&summary, &prices.money(&summary))
        };
        assert_eq!(cost(&held, 3.0), cost(&free, 3.0));
        assert_eq!(cost(&held, 3.5), cost(&free, 3.0));
        let (_, short) = delivering(2.4);
        assert!((held.shortfall(&short) - 0.2).abs() < 1e-12);
        let served = Margins::keys()
            .into_iter()
            .position(|key| key == "served")
            .unwrap();
        assert!((held.margins(&short).values()[served] + 0.2).abs() < 1e-12);
        assert_eq!(free.shortfall(&short), 0.0);
        assert!(held.is_lack_bought() && !free.is_lack_bought());
    }

    /// By hand: 3 of 4 at their own cost, 1 at that of what is replaced.
    #[test]
    fn the_whole_demand_is_served_with_what_is_bought() {
        let duty = [("search.duty".to_owned(), "whole demand".to_owned())];
        let scenario = scenario::load("starter", &scenario::starter(), &no_base, &duty).unwrap();
        let prices = Prices::of(&scenario);
        let (summary, outcome) = delivering(3.0);
        let money = prices.money(&summary);
        let replaced = money.replaced_per_j * J_PER_KWH;
        let by_hand = 0.75 * money.levelised_per_kwh() + 0.25 * replaced;
        let [cost, ..] = prices.objectives(&outcome).unwrap();
        assert!((cost / by_hand - 1.0).abs() < 1e-12);
        assert_eq!(prices.shortfall(&outcome), 0.0);
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
