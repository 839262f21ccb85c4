//! The cheapest design made cheaper: its names held, its quantities adapted.

use std::borrow::Borrow;
use std::cell::RefCell;
use std::collections::BTreeSet;

use argmin::core::{CostFunction, Error, Executor, SyncAlias};

use crate::adaptation::Adaptation;
use crate::inquiry::{Halt, Inquiry};
use crate::merit::{merit, worth};
use crate::outcome::{Evaluator, Key, Pricing};
use crate::random::Random;
use crate::space::{AxisKind, Space};

/// First throws reach about so far along an axis of length 1.
const REACH: f64 = 0.1;
/// Generations after which it ends even if it asks for nothing new.
const GENERATIONS: u64 = 500;

/// Adapts the quantities of the cheapest design until only `kept` of the room is left or nothing moves
/// any more.
pub(crate) fn polish<E: Evaluator, P: Pricing>(
    inquiry: &mut Inquiry<'_, E, P>,
    kept: usize,
    space: &Space,
    random: Random,
) -> Result<(), Halt> {
    let best = inquiry
        .rows()
        .iter()
        .min_by(|a, b| merit(a.verdict).total_cmp(&merit(b.verdict)));
    let Some(best) = best.map(|row| row.key.clone()) else {
        return Ok(());
    };
    let bench = Bench::new(inquiry, kept, space, best);
    if bench.axes.is_empty() {
        return Ok(());
    }
    let solver = Adaptation::new(bench.start(), REACH, bench.cells(), random);
    // How the solver ends says nothing: what it found is among the rows.
    let _ = Executor::new(&bench, solver)
        .configure(|state| state.max_iters(GENERATIONS))
        .timer(false)
        .run();
    bench.halt.into_inner().map_or(Ok(()), Err)
}

/// The quantities of one design as a unit cube, constant over each design's cell.
struct Bench<'q, 'i, E, P> {
    inquiry: RefCell<&'q mut Inquiry<'i, E, P>>,
    halt: RefCell<Option<Halt>>,
    kept: usize,
    space: &'q Space,
    best: Key,
    axes: Vec<usize>,
}

impl<'q, 'i, E: Evaluator, P: Pricing> Bench<'q, 'i, E, P> {
    fn new(inquiry: &'q mut Inquiry<'i, E, P>, kept: usize, space: &'q Space, best: Key) -> Self {
        let is_quantity = |axis: &&usize| space.axes()[**axis].kind == AxisKind::Steps;
        Self {
            inquiry: RefCell::new(inquiry),
            halt: RefCell::new(None),
            kept,
            space,
            best,
            axes: space
                .movable()
                .iter()
                .filter(is_quantity)
                .copied()
                .collect(),
        }
    }

    fn count(&self, axis: usize) -> u32 {
        self.space.axes()[axis].count
    }

    /// The middle of the best design's cell.
    fn start(&self) -> Vec<f64> {
        let middle =
            |axis: &usize| (f64::from(self.best[*axis]) + 0.5) / f64::from(self.count(*axis));
        self.axes.iter().map(middle).collect()
    }

    /// Lengths of a cell's edges.
    fn cells(&self) -> Vec<f64> {
        let length = |axis: &usize| 1.0 / f64::from(self.count(*axis));
        self.axes.iter().map(length).collect()
    }

    fn key(&self, point: &[f64]) -> Key {
        let mut key = self.best.clone();
        for (&axis, share) in self.axes.iter().zip(point) {
            let count = self.count(axis);
            // A float-to-integer cast saturates, so below 0 gives 0.
            key[axis] = ((share * f64::from(count)) as u32).min(count - 1);
        }
        key
    }

    fn merits(&self, keys: &[Key]) -> Result<Vec<f64>, Ended> {
        let mut inquiry = self.inquiry.borrow_mut();
        let fresh: BTreeSet<&Key> = keys.iter().filter(|key| !inquiry.has_asked(key)).collect();
        if fresh.len() + self.kept > inquiry.room() {
            return Err(Ended);
        }
        let verdicts = inquiry.ask(keys).map_err(|halt| {
            *self.halt.borrow_mut() = Some(halt);
            Ended
        })?;
        Ok(verdicts.into_iter().map(worth).collect())
    }
}

/// No further design may be asked for: the room is spent, or the search is to end.
#[derive(Debug, Clone, Copy, thiserror::Error)]
#[error("no further design may be asked for")]
struct Ended;

impl<E: Evaluator, P: Pricing> CostFunction for &Bench<'_, '_, E, P> {
    type Param = Vec<f64>;
    type Output = f64;

    fn cost(&self, point: &Vec<f64>) -> Result<f64, Error> {
        let merits = self.merits(&[self.key(point)])?;
        merits.first().copied().ok_or(Ended.into())
    }

    fn bulk_cost<Q: Borrow<Vec<f64>> + SyncAlias>(&self, points: &[Q]) -> Result<Vec<f64>, Error> {
        let keys: Vec<Key> = points
            .iter()
            .map(|point| self.key(point.borrow()))
            .collect();
        Ok(self.merits(&keys)?)
    }
}
