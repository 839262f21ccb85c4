//! Rivals at their best for the same duty, with what makes them differ.

use ledger::J_PER_KWH;
use model::Summary;
use report::chart::{Difference, DifferenceRival};
use scenario::Duty;
use study::Verdict;

use super::budget::{self, Line};
use super::crossing::{self, Crossing};
use super::odds;
use crate::cost_parts;
use crate::evaluated::Evaluated;
use crate::failure::Failure;
use crate::inputs::Inputs;
use crate::problem::{Prices, summary_of};
use crate::product::Product;
use crate::search::Searched;

/// What is bought to serve the rest of the demand, as a term of the cost.
const BOUGHT: &str = "bought for the rest";

/// Rivals at their best for the same duty.
pub struct Contest {
    /// What each must deliver.
    pub duty: Option<Duty>,
    /// The rivals that can, in the order asked for.
    pub standings: Vec<Standing>,
    /// Names of the rivals that cannot.
    pub lost: Vec<String>,
    /// Share of the draws in which each is cheapest, in the order of the standings.
    pub chances: Vec<f64>,
    /// How many draws.
    pub draws: u32,
    /// Where the first is overtaken, or overtakes.
    pub crossings: Vec<Crossing>,
}

/// One rival at its best.
pub struct Standing {
    /// Its name, also that of its run folder.
    pub name: String,
    /// Scenario and weather.
    pub inputs: Inputs,
    /// Row of its best design.
    pub row: usize,
    /// The best design, priced under the duty.
    pub priced: Evaluated,
    /// Cost of a kilowatt-hour under the duty.
    pub cost_per_kwh: f64,
    /// What the cost is made of; the terms add up to it.
    pub terms: Vec<Term>,
    /// What heat hangs on.
    pub budget: Vec<Line>,
    /// What its search may still gain, as a share of the cost.
    pub late_gain: f64,
    /// Every design that was looked at closely and serves the duty.
    pub confirmed: Vec<Summary>,
}

/// A part of the cost.
pub struct Term {
    /// What it pays for.
    pub name: &'static str,
    /// Part of the cost [currency/kWh].
    pub per_kwh: f64,
}

impl Contest {
    /// Holds the rivals' best designs against one another.
    pub fn of(searched: Vec<(String, Searched)>, draws: u32) -> Result<Self, Failure> {
        let duties = searched.iter().rev();
        let duty = duties
            .filter_map(|(_, one)| one.inputs.scenario.search.duty)
            .next();
        let (mut standings, mut lost) = (Vec::new(), Vec::new());
        for (name, one) in searched {
            match Standing::of(&name, one, duty)? {
                Some(standing) => standings.push(standing),
                None => lost.push(name),
            }
        }
        Ok(Self {
            duty,
            chances: odds::chances(&standings, draws),
            crossings: crossing::crossings(&standings),
            standings,
            lost,
            draws,
        })
    }

    /// Names of all rivals.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        let able = self.standings.iter().map(|standing| standing.name.as_str());
        able.chain(self.lost.iter().map(String::as_str))
    }

    /// The cheapest rival and its place.
    pub fn winner(&self) -> Option<(usize, &Standing)> {
        let places = self.standings.iter().enumerate();
        places.min_by(|(_, a), (_, b)| a.cost_per_kwh.total_cmp(&b.cost_per_kwh))
    }

    /// Each term of a rival's cost less that of the first, then the whole difference.
    pub fn differences(&self, rival: &Standing) -> Vec<(&'static str, f64)> {
        let first = self.standings.first().map_or(&[][..], |first| &first.terms);
        let terms = first.iter().zip(&rival.terms);
        terms
            .map(|(first, term)| (term.name, term.per_kwh - first.per_kwh))
            .collect()
    }

    /// The chart of what drives the differences.
    pub fn difference(&self) -> Difference {
        let first = self.standings.first();
        let rivals = self.standings.iter().skip(1).map(|rival| DifferenceRival {
            name: rival.name.clone(),
            cost_per_kwh: rival.cost_per_kwh,
            terms_per_kwh: self
                .differences(rival)
                .into_iter()
                .map(|(name, per_kwh)| (name.to_owned(), per_kwh))
                .collect(),
        });
        Difference {
            currency: first
                .map_or_else(String::new, |first| first.inputs.scenario.currency.clone()),
            product: first
                .map_or("heat", |first| Product::of(&first.inputs.scenario).name)
                .to_owned(),
            first: first.map_or_else(String::new, |first| first.name.clone()),
            first_per_kwh: first.map_or(f64::NAN, |first| first.cost_per_kwh),
            rivals: rivals.collect(),
        }
    }
}

impl Standing {
    /// The best of a search, held to the duty; nothing if none of its designs serves it.
    fn of(name: &str, searched: Searched, duty: Option<Duty>) -> Result<Option<Self>, Failure> {
        let Searched {
            mut inputs,
            findings,
            best,
            ..
        } = searched;
        let Some(best) = best else {
            return Ok(None);
        };
        inputs.scenario.search.duty = duty;
        let is_feasible = |verdict: &Verdict| matches!(verdict, Verdict::Feasible(_));
        let prices = Prices::of(&inputs.scenario);
        let costs = findings.rows.iter();
        let costs = costs.map(|row| cost_found(&Verdict::of(&row.search, &prices)));
        let late_gain = study::late_gain(&costs.collect::<Vec<_>>());
        let confirmed = findings.rows.iter().filter(|row| is_feasible(&row.verdict));
        let confirmed = confirmed
            .filter_map(|row| row.every.as_ref())
            .filter(|outcome| is_feasible(&Verdict::of(outcome, &prices)))
            .filter_map(summary_of)
            .collect();
        let Evaluated {
            design,
            fidelity,
            summary,
            ..
        } = best.priced;
        let priced = Evaluated::priced(&inputs, design, fidelity, summary);
        Ok(Some(Self {
            name: name.to_owned(),
            row: best.row,
            cost_per_kwh: Prices::of(&inputs.scenario).cost_per_kwh(&priced.summary, &priced.money),
            terms: terms(&priced, &inputs),
            budget: budget::lines(&priced, &inputs)?,
            late_gain,
            confirmed,
            priced,
            inputs,
        }))
    }

    /// Direct cost of mirrors that stand and are set on target, as a share of the direct capital.
    pub fn mirrors_share(&self) -> f64 {
        let money = &self.priced.money;
        money.mirrors_on_target() / money.capital.direct
    }
}

/// Cost of a design that keeps every limit.
const fn cost_found(verdict: &Verdict) -> Option<f64> {
    match verdict {
        Verdict::Feasible([cost, ..]) => Some(*cost),
        _ => None,
    }
}

/// What the cost under the duty is made of.
fn terms(of: &Evaluated, inputs: &Inputs) -> Vec<Term> {
    let (scenario, money) = (&inputs.scenario, &of.money);
    let own = cost_parts::by_group(money, &scenario.finance).into_iter();
    if scenario.search.duty != Some(Duty::WholeDemand) {
        return own.map(|(name, per_kwh)| Term { name, per_kwh }).collect();
    }
    let lacking_j = (of.summary.demand_j - money.delivered_j).max(0.0);
    let bought = lacking_j / (money.delivered_j + lacking_j);
    let per_kwh = money.replaced_per_j * J_PER_KWH * bought;
    let own = own.map(|(name, per_kwh)| Term {
        name,
        per_kwh: per_kwh * (1.0 - bought),
    });
    own.chain([Term {
        name: BOUGHT,
        per_kwh,
    }])
    .collect()
}
