//! An island's desk: what it knows, and how many new designs it may ask for.

use std::borrow::Borrow;
use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};

use argmin::core::{CostFunction, Error, SyncAlias};

use crate::goal::Goal;
use crate::lockstep::Line;
use crate::outcome::{Key, Verdict};
use crate::space::{Space, with};

/// An axis held at one index.
pub(crate) type Pin = Option<(usize, u32)>;

/// An island's view of the space, with a merit for every design it has seen.
pub(crate) struct Desk<'a> {
    pub(crate) space: &'a Space,
    goal: Goal,
    pin: Pin,
    line: Line,
    notes: RefCell<Notes>,
}

struct Notes {
    merits: BTreeMap<Key, f64>,
    best: Option<(f64, Key)>,
    fresh_left: usize,
}

/// No further design may be asked for: the allowance is spent, or the search is
/// to end.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("no further design may be asked for")]
pub(crate) struct Ended;

impl<'a> Desk<'a> {
    /// A desk that knows the verdicts of `known` from the first.
    pub(crate) fn new(
        space: &'a Space,
        goal: Goal,
        pin: Pin,
        line: Line,
        known: &[(Key, Verdict)],
    ) -> Self {
        let desk = Self {
            space,
            goal,
            pin,
            line,
            notes: RefCell::new(Notes {
                merits: BTreeMap::new(),
                best: None,
                fresh_left: 0,
            }),
        };
        for (key, verdict) in known {
            desk.note(key.clone(), *verdict);
        }
        desk
    }

    /// Allows `fresh` more designs that this island has not seen.
    pub(crate) fn allow(&self, fresh: usize) {
        self.notes.borrow_mut().fresh_left += fresh;
    }

    /// The best design on this island, with its merit.
    pub(crate) fn best(&self) -> Option<(f64, Key)> {
        self.notes.borrow().best.clone()
    }

    /// The design at a point of the unit cube, with the pin set.
    pub(crate) fn key(&self, point: &[f64]) -> Key {
        self.pinned(&self.space.key(point))
    }

    fn pinned(&self, key: &[u32]) -> Key {
        match self.pin {
            Some((axis, index)) => with(key, axis, index),
            None => key.to_vec(),
        }
    }

    /// The neighbours that keep the pin; see [`Space::neighbours`].
    pub(crate) fn neighbours(&self, key: &[u32], step: impl Fn(usize) -> u32) -> Vec<Key> {
        let mut found = self.space.neighbours(key, step);
        found.retain(|neighbour| self.keeps_pin(neighbour));
        found
    }

    /// Known designs, best first, with the pin set.
    pub(crate) fn ranked(&self) -> Vec<Key> {
        let notes = self.notes.borrow();
        let mut ranked: Vec<_> = notes
            .merits
            .iter()
            .map(|(key, merit)| (merit, key))
            .collect();
        ranked.sort_by(|a, b| a.0.total_cmp(b.0));
        let mut met = BTreeSet::new();
        ranked
            .into_iter()
            .map(|(_, key)| self.pinned(key))
            .filter(|key| met.insert(key.clone()))
            .collect()
    }

    /// The merits of `keys`; only those not seen before count and are asked for.
    pub(crate) fn ask(&self, keys: &[Key]) -> Result<Vec<f64>, Ended> {
        let fresh = self.fresh(keys);
        if !fresh.is_empty() {
            self.spend(fresh.len())?;
            let verdicts = self.line.ask(fresh.clone()).map_err(|_| Ended)?;
            for (key, verdict) in fresh.into_iter().zip(verdicts) {
                self.note(key, verdict);
            }
        }
        let notes = self.notes.borrow();
        keys.iter()
            .map(|key| notes.merits.get(key).copied().ok_or(Ended))
            .collect()
    }

    fn fresh(&self, keys: &[Key]) -> Vec<Key> {
        let notes = self.notes.borrow();
        let mut met = BTreeSet::new();
        keys.iter()
            .filter(|key| !notes.merits.contains_key(*key) && met.insert(*key))
            .cloned()
            .collect()
    }

    fn spend(&self, fresh: usize) -> Result<(), Ended> {
        let mut notes = self.notes.borrow_mut();
        notes.fresh_left = notes.fresh_left.checked_sub(fresh).ok_or(Ended)?;
        Ok(())
    }

    fn note(&self, key: Key, verdict: Verdict) {
        let merit = self.goal.merit(verdict);
        let mut notes = self.notes.borrow_mut();
        let is_better = notes.best.as_ref().is_none_or(|(best, _)| merit < *best);
        if is_better && self.keeps_pin(&key) {
            notes.best = Some((merit, key.clone()));
        }
        notes.merits.insert(key, merit);
    }

    fn keeps_pin(&self, key: &[u32]) -> bool {
        self.pin.is_none_or(|(axis, index)| key[axis] == index)
    }

    fn merits_at<P: Borrow<Vec<f64>>>(&self, points: &[P]) -> Result<Vec<f64>, Ended> {
        let keys: Vec<Key> = points
            .iter()
            .map(|point| self.key(point.borrow()))
            .collect();
        let merits = self.ask(&keys)?;
        Ok(merits
            .into_iter()
            .zip(points)
            .map(|(merit, point)| merit + outside(point.borrow()))
            .collect())
    }
}

/// How far a point is outside the unit cube, summed over the axes.
fn outside(point: &[f64]) -> f64 {
    point
        .iter()
        .map(|share| (share - share.clamp(0.0, 1.0)).abs())
        .sum()
}

/// The desk as a cost over the unit cube, constant over each design's cell.
/// Outside the cube the cost grows with the distance.
impl CostFunction for &Desk<'_> {
    type Param = Vec<f64>;
    type Output = f64;

    fn cost(&self, point: &Vec<f64>) -> Result<f64, Error> {
        let merits = self.merits_at(&[point])?;
        merits.first().copied().ok_or(Ended.into())
    }

    fn bulk_cost<P: Borrow<Vec<f64>> + SyncAlias>(&self, points: &[P]) -> Result<Vec<f64>, Error> {
        Ok(self.merits_at(points)?)
    }
}
