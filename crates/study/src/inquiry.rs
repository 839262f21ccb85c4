//! The course of one search: designs in the order asked for, and news of it.

use std::collections::BTreeMap;
use std::sync::atomic::{AtomicBool, Ordering};

use store::StoreError;

use crate::oracle::{Counts, Oracle};
use crate::outcome::{EVERY, Evaluator, Key, Outcome, Pricing, SEARCH, Verdict};

/// Designs asked for between two looks at the interrupt, and per journal sync.
const BATCH: usize = 64;

/// A design that was asked for.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// The design.
    pub key: Key,
    /// Outcome at fidelity [`SEARCH`].
    pub search: Outcome,
    /// Outcome at fidelity [`EVERY`], if it was a candidate for the front.
    pub every: Option<Outcome>,
    /// Judgement of the better of the two outcomes.
    pub verdict: Verdict,
}

/// The part of a search that is running.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stage {
    /// First designs all over the space.
    Scatter,
    /// New designs from the cheapest and from those on the front.
    Breeding,
    /// The cheapest design made cheaper.
    Polish,
    /// Candidates for the front at full fidelity.
    Confirmation,
}

/// News of a running search.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum Event {
    /// A batch has been answered.
    Batch {
        /// The part of the search that asked.
        stage: Stage,
        /// Different designs asked for so far.
        asked: u64,
        /// Different designs to ask for in all.
        total: u64,
        /// Evaluations so far, computed or remembered.
        counts: Counts,
        /// Designs so far whose evaluation failed.
        failed: u64,
        /// Least cost so far of a feasible design.
        best_cost: Option<f64>,
    },
}

/// Why a search cannot go on.
#[derive(Debug)]
pub(crate) enum Halt {
    Interrupted,
    Store(StoreError),
}

pub(crate) struct Inquiry<'a, E, P> {
    oracle: Oracle<'a, E>,
    pricing: &'a P,
    interrupt: &'a AtomicBool,
    tell: &'a mut dyn FnMut(Event),
    total: usize,
    rows: Vec<Row>,
    places: BTreeMap<Key, usize>,
    pub(crate) stage: Stage,
}

impl<'a, E: Evaluator, P: Pricing> Inquiry<'a, E, P> {
    pub(crate) fn new(
        oracle: Oracle<'a, E>,
        pricing: &'a P,
        total: usize,
        interrupt: &'a AtomicBool,
        tell: &'a mut dyn FnMut(Event),
    ) -> Self {
        Self {
            oracle,
            pricing,
            interrupt,
            tell,
            total,
            rows: Vec::new(),
            places: BTreeMap::new(),
            stage: Stage::Scatter,
        }
    }

    pub(crate) fn rows(&self) -> &[Row] {
        &self.rows
    }

    pub(crate) fn into_rows(self) -> Vec<Row> {
        self.rows
    }

    /// How many more designs may be asked for.
    pub(crate) fn room(&self) -> usize {
        self.total.saturating_sub(self.rows.len())
    }

    pub(crate) fn has_asked(&self, key: &Key) -> bool {
        self.places.contains_key(key)
    }

    /// The verdicts of `keys` at search fidelity.
    pub(crate) fn ask(&mut self, keys: &[Key]) -> Result<Vec<Verdict>, Halt> {
        let mut verdicts = Vec::with_capacity(keys.len());
        for batch in keys.chunks(BATCH) {
            for (key, outcome) in batch.iter().zip(self.answers(batch, SEARCH)?) {
                let verdict = Verdict::of(&outcome, self.pricing);
                self.note(key, outcome, verdict);
                verdicts.push(verdict);
            }
            self.tell_batch();
        }
        Ok(verdicts)
    }

    /// Evaluates rows at full fidelity; from then on they are judged by that.
    pub(crate) fn confirm(&mut self, rows: &[usize]) -> Result<(), Halt> {
        for batch in rows.chunks(BATCH) {
            let keys: Vec<Key> = batch
                .iter()
                .map(|row| self.rows[*row].key.clone())
                .collect();
            for (row, outcome) in batch.iter().zip(self.answers(&keys, EVERY)?) {
                self.rows[*row].verdict = Verdict::of(&outcome, self.pricing);
                self.rows[*row].every = Some(outcome);
            }
            self.tell_batch();
        }
        Ok(())
    }

    fn answers(&mut self, keys: &[Key], fidelity: u8) -> Result<Vec<Outcome>, Halt> {
        if self.interrupt.load(Ordering::SeqCst) {
            return Err(Halt::Interrupted);
        }
        self.oracle.ask(keys, fidelity).map_err(Halt::Store)
    }

    fn note(&mut self, key: &Key, search: Outcome, verdict: Verdict) {
        if !self.places.contains_key(key) {
            self.places.insert(key.clone(), self.rows.len());
            self.rows.push(Row {
                key: key.clone(),
                search,
                every: None,
                verdict,
            });
        }
    }

    fn tell_batch(&mut self) {
        let verdicts = || self.rows.iter().map(|row| row.verdict);
        let failed = verdicts()
            .filter(|verdict| *verdict == Verdict::Failed)
            .count();
        let best_cost = verdicts()
            .filter_map(|verdict| Some(verdict.objectives()?[0]))
            .min_by(f64::total_cmp);
        (self.tell)(Event::Batch {
            stage: self.stage,
            asked: self.rows.len() as u64,
            total: self.total as u64,
            counts: self.oracle.counts(),
            failed: failed as u64,
            best_cost,
        });
    }
}
