//! The whole search, from the first design to the confirmed front.

use std::sync::atomic::AtomicBool;

use store::StoreError;

use crate::breeding::breed;
use crate::front::{Front, NearBest, View, knee, near_best, spread};
use crate::inquiry::{Event, Halt, Inquiry, Row, Stage};
use crate::merit::merit;
use crate::oracle::Oracle;
use crate::outcome::{Evaluator, Objectives, Pricing};
use crate::polish::polish;
use crate::random::stream;
use crate::scatter::scatter;
use crate::settle::settle;
use crate::space::Space;

/// Part of the total for the first designs, and their largest number.
const SCATTER_PART: f64 = 0.1;
const SCATTER_LIMIT: usize = 256;
/// Part of the total for the polish of the cheapest, and for letting it settle after that.
const POLISH_PART: f64 = 0.07;
const SETTLE_PART: f64 = 0.03;
/// Cheapest designs that are confirmed beside the front, since a quick look may have ranked them
/// wrongly.
const CHEAPEST: usize = 24;
/// How much dearer than the best a design may be to count as nearly as good.
const NEAR_BEST: f64 = 0.01;

/// What a search is told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Settings {
    /// Seed of every stream of random numbers.
    pub seed: u64,
    /// Different designs to ask for in all.
    pub total: u32,
    /// Members of each front that are confirmed at full fidelity, at most.
    pub front_size: u32,
}

/// Why a search ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StopReason {
    /// The total was asked for.
    BudgetSpent,
    /// No new design could be found to ask for.
    Exhausted,
    /// It was interrupted; run again, it goes on.
    Interrupted,
    /// It ended, but no design keeps every limit.
    NoFeasible,
}

/// What a search found. Rows are numbered from 0 in the order asked for.
#[derive(Debug, Clone)]
pub struct Findings {
    /// Every design asked for.
    pub rows: Vec<Row>,
    /// Front of all three objectives by rising cost, confirmed rows only.
    pub front: Vec<usize>,
    /// Front of cost against capital by rising cost, confirmed rows only.
    pub cost_capital: Vec<usize>,
    /// Front of cost against carbon by rising cost, confirmed rows only.
    pub cost_carbon: Vec<usize>,
    /// The cheapest confirmed row.
    pub best: Option<usize>,
    /// The knee of cost against capital.
    pub knee: Option<usize>,
    /// The region of designs nearly as cheap as the cheapest.
    pub near_best: Option<NearBest>,
    /// Why the search ended.
    pub stop: StopReason,
}

/// Searches `space` for cheap designs.
///
/// # Errors
/// When the journal cannot be written.
pub fn search<E: Evaluator, P: Pricing>(
    space: &Space,
    settings: &Settings,
    oracle: Oracle<'_, E>,
    pricing: &P,
    interrupt: &AtomicBool,
    tell: &mut dyn FnMut(Event),
) -> Result<Findings, StoreError> {
    let total = settings.total as usize;
    let mut inquiry = Inquiry::new(oracle, pricing, total, interrupt, tell);
    let stop = match run_stages(&mut inquiry, space, settings) {
        Ok(stop) => stop,
        Err(Halt::Interrupted) => StopReason::Interrupted,
        Err(Halt::Store(error)) => return Err(error),
    };
    Ok(findings(inquiry.into_rows(), stop))
}

fn run_stages<E: Evaluator, P: Pricing>(
    inquiry: &mut Inquiry<'_, E, P>,
    space: &Space,
    settings: &Settings,
) -> Result<StopReason, Halt> {
    let first = (SCATTER_PART * f64::from(settings.total)).ceil() as usize;
    let mut random = stream(settings.seed, 0);
    inquiry.stage = Stage::Scatter;
    inquiry.ask(&scatter(space, first.min(SCATTER_LIMIT), &mut random))?;
    inquiry.stage = Stage::Breeding;
    let part = |share: f64| (share * f64::from(settings.total)) as usize;
    let settling = part(SETTLE_PART);
    breed(inquiry, part(POLISH_PART) + settling, space, &mut random)?;
    inquiry.stage = Stage::Polish;
    polish(inquiry, settling, space, stream(settings.seed, 1))?;
    settle(inquiry, 0, space)?;
    inquiry.stage = Stage::Breeding;
    let is_spent = breed(inquiry, 0, space, &mut random)?;
    inquiry.stage = Stage::Confirmation;
    confirm(inquiry, settings.front_size as usize)?;
    let is_feasible = inquiry
        .rows()
        .iter()
        .any(|row| row.verdict.objectives().is_some());
    Ok(match (is_feasible, is_spent) {
        (false, _) => StopReason::NoFeasible,
        (true, true) => StopReason::BudgetSpent,
        (true, false) => StopReason::Exhausted,
    })
}

fn feasible(rows: &[Row]) -> impl Iterator<Item = (usize, Objectives)> {
    rows.iter()
        .enumerate()
        .filter_map(|(row, design)| Some((row, design.verdict.objectives()?)))
}

/// Evaluates candidates for the fronts, and the cheapest, at full fidelity, until every one is.
fn confirm<E: Evaluator, P: Pricing>(
    inquiry: &mut Inquiry<'_, E, P>,
    front_size: usize,
) -> Result<(), Halt> {
    loop {
        let mut rows: Vec<usize> = View::EACH
            .into_iter()
            .flat_map(|view| spread(&Front::of(view, feasible(inquiry.rows())), front_size))
            .chain(cheapest(inquiry.rows()))
            .filter(|row| inquiry.rows()[*row].every.is_none())
            .collect();
        rows.sort_unstable();
        rows.dedup();
        if rows.is_empty() {
            return Ok(());
        }
        inquiry.confirm(&rows)?;
    }
}

/// The cheapest feasible rows.
fn cheapest(rows: &[Row]) -> Vec<usize> {
    let mut ranked: Vec<usize> = feasible(rows).map(|(row, _)| row).collect();
    ranked.sort_by(|a, b| merit(rows[*a].verdict).total_cmp(&merit(rows[*b].verdict)));
    ranked.truncate(CHEAPEST);
    ranked
}

fn findings(rows: Vec<Row>, stop: StopReason) -> Findings {
    let is_confirmed = |row: usize| rows[row].every.is_some();
    let confirmed = |view| Front::of(view, feasible(&rows)).among(is_confirmed);
    let cost_capital = confirmed(View::CostCapital);
    let by_cost = cost_capital.rows_by_cost();
    let costs = feasible(&rows).map(|(row, values)| (&rows[row].key, values[0]));
    Findings {
        front: confirmed(View::All).rows_by_cost(),
        cost_carbon: confirmed(View::CostCarbon).rows_by_cost(),
        best: by_cost.first().copied(),
        knee: knee(&cost_capital),
        near_best: near_best(costs.collect::<Vec<_>>().into_iter(), NEAR_BEST),
        cost_capital: by_cost,
        rows,
        stop,
    }
}

#[cfg(test)]
mod tests;
