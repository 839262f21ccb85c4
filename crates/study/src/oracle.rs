//! The oracle: every outcome is asked for here, and remembered.

use std::collections::{BTreeMap, BTreeSet};

use rayon::prelude::*;
use store::{Entry, Journal, Opened, StoreError};

use crate::outcome::{Evaluator, Key, Outcome};

/// What an oracle has done so far.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Counts {
    /// Evaluations computed.
    pub evaluated: u64,
    /// Evaluations found in the journal and used.
    pub remembered: u64,
}

/// Answers keys with outcomes; computes each at most once.
pub struct Oracle<'a, E> {
    evaluator: &'a E,
    memo: BTreeMap<(u8, Key), Outcome>,
    used: BTreeSet<(u8, Key)>,
    journal: Option<Journal>,
    counts: Counts,
}

impl<'a, E: Evaluator> Oracle<'a, E> {
    /// An oracle that remembers as long as it lives.
    pub fn new(evaluator: &'a E) -> Self {
        Self {
            evaluator,
            memo: BTreeMap::new(),
            used: BTreeSet::new(),
            journal: None,
            counts: Counts::default(),
        }
    }

    /// An oracle that remembers in a journal, with what was found in it. Entries
    /// that cannot be read are evaluated again.
    pub fn with_journal(evaluator: &'a E, journal: Journal, opened: Opened) -> Self {
        let mut oracle = Self::new(evaluator);
        oracle.journal = Some(journal);
        for Entry {
            key,
            fidelity,
            payload,
        } in opened.entries
        {
            if let Some(outcome) = Outcome::from_bytes(&payload) {
                oracle.memo.insert((fidelity, key), outcome);
            }
        }
        oracle
    }

    /// The outcomes of `keys`, in their order. Missing ones are evaluated in
    /// parallel, each once, and appended to the journal with one sync.
    ///
    /// # Errors
    /// When the journal cannot be written.
    pub fn ask(&mut self, keys: &[Key], fidelity: u8) -> Result<Vec<Outcome>, StoreError> {
        let missing = self.mark_used(keys, fidelity);
        let outcomes = evaluate_all(self.evaluator, &missing, fidelity);
        self.counts.evaluated += missing.len() as u64;
        if let Some(journal) = &mut self.journal {
            journal.append(&entries(&missing, fidelity, &outcomes))?;
        }
        for (key, outcome) in missing.into_iter().zip(outcomes) {
            self.memo.insert((fidelity, key), outcome);
        }
        Ok(keys
            .iter()
            .filter_map(|key| self.memo.get(&(fidelity, key.clone())).cloned())
            .collect())
    }

    /// What is remembered at a fidelity, by rising key.
    pub fn remembered(&self, fidelity: u8) -> impl Iterator<Item = (&Key, &Outcome)> {
        let of_fidelity = self.memo.range((fidelity, Key::new())..);
        let of_fidelity = of_fidelity.take_while(move |((found, _), _)| *found == fidelity);
        of_fidelity.map(|((_, key), outcome)| (key, outcome))
    }

    /// What has been done so far.
    #[must_use]
    pub fn counts(&self) -> Counts {
        self.counts
    }

    /// Notes the keys as used; gives those without an outcome, each once, in
    /// the order of their first occurrence.
    fn mark_used(&mut self, keys: &[Key], fidelity: u8) -> Vec<Key> {
        let mut missing = Vec::new();
        for key in keys {
            let place = (fidelity, key.clone());
            let is_known = self.memo.contains_key(&place);
            if self.used.insert(place) {
                if is_known {
                    self.counts.remembered += 1;
                } else {
                    missing.push(key.clone());
                }
            }
        }
        missing
    }
}

/// One by one, so that no thread waits for a pair of slow designs while others have nothing left to do.
fn evaluate_all<E: Evaluator>(evaluator: &E, keys: &[Key], fidelity: u8) -> Vec<Outcome> {
    keys.par_iter()
        .with_max_len(1)
        .map_init(E::Scratch::default, |scratch, key| {
            evaluator.evaluate(key, fidelity, scratch)
        })
        .collect()
}

fn entries(keys: &[Key], fidelity: u8, outcomes: &[Outcome]) -> Vec<Entry> {
    keys.iter()
        .zip(outcomes)
        .map(|(key, outcome)| Entry {
            key: key.clone(),
            fidelity,
            payload: outcome.to_bytes(),
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::outcome::{EVERY, SEARCH, Status};
    use std::sync::Arc;
    use std::sync::atomic::{AtomicU32, Ordering};
    use store::{NoHooks, RunFolder};

    /// Counts its calls; gives the key's sum and the fidelity.
    #[derive(Default)]
    struct Sums {
        calls: AtomicU32,
    }

    impl Evaluator for Sums {
        type Scratch = Vec<f64>;

        fn evaluate(&self, key: &[u32], fidelity: u8, scratch: &mut Vec<f64>) -> Outcome {
            self.calls.fetch_add(1, Ordering::SeqCst);
            scratch.clear();
            scratch.extend(key.iter().map(|index| f64::from(*index)));
            Outcome {
                status: Status::Feasible,
                numbers: vec![scratch.iter().sum(), f64::from(fidelity)],
                reason: String::new(),
            }
        }
    }

    fn first_numbers(outcomes: &[Outcome]) -> Vec<f64> {
        outcomes.iter().map(|outcome| outcome.numbers[0]).collect()
    }

    #[test]
    fn doubles_and_known_keys_are_evaluated_once() {
        let sums = Sums::default();
        let mut oracle = Oracle::new(&sums);
        let keys: Vec<Key> = [[1, 2], [3, 4], [1, 2], [5, 6]].map(Vec::from).to_vec();
        let outcomes = oracle.ask(&keys, SEARCH).unwrap();
        assert_eq!(first_numbers(&outcomes), [3.0, 7.0, 3.0, 11.0]);
        oracle.ask(&keys[1..], SEARCH).unwrap();
        assert_eq!(sums.calls.load(Ordering::SeqCst), 3);
    }

    #[test]
    fn fidelities_are_told_apart() {
        let sums = Sums::default();
        let mut oracle = Oracle::new(&sums);
        let keys = vec![vec![1]];
        assert_eq!(oracle.ask(&keys, SEARCH).unwrap()[0].numbers[1], 0.0);
        assert_eq!(oracle.ask(&keys, EVERY).unwrap()[0].numbers[1], 1.0);
    }

    #[test]
    fn what_a_journal_holds_is_not_evaluated_again() {
        let parent = tempfile::tempdir().unwrap();
        let folder = RunFolder::open(parent.path(), Arc::new(NoHooks)).unwrap();
        let keys: Vec<Key> = (0..9).map(|index| vec![index, 1]).collect();
        let sums = Sums::default();
        let mut answers = Vec::new();
        for part in [4, 9, 9] {
            let (journal, opened) = folder.journal(&[1; 32]).unwrap();
            let mut oracle = Oracle::with_journal(&sums, journal, opened);
            answers = oracle.ask(&keys[..part], SEARCH).unwrap();
        }
        assert_eq!(sums.calls.load(Ordering::SeqCst), 9);
        assert_eq!(answers, Oracle::new(&sums).ask(&keys, SEARCH).unwrap());
    }
}
