//! Which of many children is worth asking for, told from what is known already.

use std::sync::Arc;

use crate::inquiry::Row;
use crate::likeness::{Guess, Likeness, Process};
use crate::merit::soft_merit;
use crate::outcome::{Key, Verdict};
use crate::random::Random;
use crate::space::Space;

/// Known designs that guesses are made from: so many of the best, and the newest besides.
const BEST: usize = 90;
const KNOWN: usize = 150;
/// Fewer tell nothing.
const LEAST: usize = 20;
/// Costs count as at most so many times as far above the least as the middle one of the best is.
const FARTHEST: f64 = 5.0;
/// What stands for a design within its limits, one just beyond them, and one far beyond.
const WITHIN: f64 = -0.5;
const BEYOND: f64 = 0.1;
const FAR_BEYOND: f64 = 1.0;

/// What costs and limits have been found to depend on.
pub(crate) struct Foresight {
    cost: Likeness,
    limit: Likeness,
}

/// What one generation is told.
pub(crate) struct Guesses {
    cost: Option<Costs>,
    limit: Option<Process>,
}

/// Costs to guess from, none above `most`.
struct Costs {
    process: Process,
    most: f64,
}

impl Foresight {
    /// Before anything is known.
    pub(crate) fn new(space: &Space) -> Self {
        Self {
            cost: Likeness::new(space),
            limit: Likeness::new(space),
        }
    }

    /// Guesses from what is known by now, once it has been looked what costs and limits depend on.
    pub(crate) fn learn(&mut self, rows: &[Row], random: &mut Random) -> Guesses {
        let rows: Vec<&Row> = rows.iter().collect();
        let costs = Known::costs(&rows, &rows);
        let limits = Known::limits(&rows);
        Guesses::of(
            costs.map(|costs| {
                (
                    self.cost.learn(&costs.keys, &costs.values, random),
                    costs.most,
                )
            }),
            limits.map(|limits| self.limit.learn(&limits.keys, &limits.values, random)),
        )
    }

    /// Guesses from some rows, for designs like a part of them.
    pub(crate) fn guesses(&self, rows: &[&Row], like: &[&Row]) -> Guesses {
        let costs = Known::costs(rows, like);
        let limits = Known::limits(rows);
        Guesses::of(
            costs.map(|costs| (self.cost.process(&costs.keys, &costs.values), costs.most)),
            limits.map(|limits| self.limit.process(&limits.keys, &limits.values)),
        )
    }
}

/// Designs, and a value of each, none above `most`.
struct Known {
    keys: Arc<[Key]>,
    values: Vec<f64>,
    most: f64,
}

impl Known {
    /// The costs that tell most of designs like some; nothing if they tell too little.
    fn costs(rows: &[&Row], like: &[&Row]) -> Option<Self> {
        let (keys, mut values) = telling(rows);
        if values.len() < LEAST {
            return None;
        }
        let (_, of_like) = telling(like);
        let middle_of = |costs: &[f64]| costs.get(costs.len().min(BEST) / 2).copied();
        let (least, middle) = (values[0], middle_of(&values)?);
        let middle = middle_of(&of_like).map_or(middle, |own| own.max(middle));
        let most = least + FARTHEST * (middle - least);
        for value in &mut values {
            *value = value.min(most);
        }
        (most > least).then(|| Self {
            keys: keys.into(),
            values,
            most,
        })
    }

    /// How far the newest are beyond their limits; nothing if all are on one side.
    fn limits(rows: &[&Row]) -> Option<Self> {
        let newest = rows.iter().rev();
        let (keys, values): (Vec<Key>, Vec<f64>) = newest
            .filter_map(|row| Some((row.key.clone(), excess(row.verdict)?)))
            .take(KNOWN)
            .unzip();
        let broken = values.iter().filter(|excess| **excess > 0.0).count();
        let is_telling = broken > 0 && broken < values.len() && values.len() >= LEAST;
        is_telling.then(|| Self {
            keys: keys.into(),
            values,
            most: FAR_BEYOND,
        })
    }
}

impl Guesses {
    /// Nothing is known: all children promise the same.
    pub(crate) const NONE: Self = Self {
        cost: None,
        limit: None,
    };

    fn of(cost: Option<(Option<Process>, f64)>, limit: Option<Option<Process>>) -> Self {
        let cost = cost.and_then(|(process, most)| Some((process?, most)));
        Self {
            cost: cost.map(|(process, most)| Costs { process, most }),
            limit: limit.flatten(),
        }
    }

    /// By how much a child is expected to undercut a design of some merit.
    pub(crate) fn gain(&self, key: &Key, merit: f64) -> f64 {
        let limit = self.limit.as_ref();
        let chance = limit.map_or(1.0, |limit| chance_below(limit.at(key), 0.0));
        let cost = self.cost.as_ref();
        chance
            * cost.map_or(1.0, |cost| {
                undercut(cost.process.at(key), merit.min(cost.most))
            })
    }
}

/// Designs with their costs: the best by rising cost, then the newest of the others.
fn telling(rows: &[&Row]) -> (Vec<Key>, Vec<f64>) {
    let priced = rows.iter().enumerate();
    let mut priced: Vec<(usize, f64)> = priced
        .filter_map(|(row, known)| Some((row, soft_merit(known.verdict)?)))
        .collect();
    priced.sort_by(|a, b| a.1.total_cmp(&b.1));
    let mut others = priced.split_off(priced.len().min(BEST));
    others.sort_by_key(|(row, _)| core::cmp::Reverse(*row));
    others.truncate(KNOWN - BEST);
    priced.extend(others);
    let known = priced.into_iter();
    known
        .map(|(row, cost)| (rows[row].key.clone(), cost))
        .unzip()
}

/// How far beyond its limits a design is, on a scale of its own; nothing if nobody knows.
fn excess(verdict: Verdict) -> Option<f64> {
    match verdict {
        Verdict::Feasible(_) | Verdict::Short(..) => Some(WITHIN),
        Verdict::Infeasible(violation) => Some((BEYOND + violation).min(FAR_BEYOND)),
        Verdict::Failed => None,
    }
}

/// Chance that the value is less than `limit`.
fn chance_below(guess: Guess, limit: f64) -> f64 {
    normal_share((limit - guess.value) / guess.deviation.max(f64::MIN_POSITIVE))
}

/// How far below `limit` the value is expected to be, counting nothing where it is above (Jones, Schonlau and
/// Welch 1998, eq. 15).
fn undercut(guess: Guess, limit: f64) -> f64 {
    let deviation = guess.deviation.max(f64::MIN_POSITIVE);
    let away = (limit - guess.value) / deviation;
    let density = libm::exp(-0.5 * away * away) / core::f64::consts::TAU.sqrt();
    deviation * (away * normal_share(away) + density)
}

/// Share of the standard normal distribution below a value.
fn normal_share(value: f64) -> f64 {
    0.5 * libm::erfc(-value * core::f64::consts::FRAC_1_SQRT_2)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::random::{normal, stream};
    use crate::toys::{broken, priced, steps};

    /// Against the mean over many even parts of the distribution.
    #[test]
    fn what_is_expected_is_the_mean_over_the_distribution() {
        for (value, deviation, limit) in [(1.0, 0.5, 1.2), (1.0, 0.5, 0.1), (-2.0, 3.0, 4.0)] {
            let guess = Guess { value, deviation };
            let (mut weight, mut below, mut kept) = (0.0, 0.0, 0.0);
            for part in -80_000..80_000 {
                let away = (f64::from(part) + 0.5) * 1e-4;
                let density = libm::exp(-0.5 * away * away);
                let short = limit - (value + deviation * away);
                weight += density;
                below += density * short.max(0.0);
                kept += if short > 0.0 { density } else { 0.0 };
            }
            let (gain, chance) = (undercut(guess, limit), chance_below(guess, limit));
            assert!((gain - below / weight).abs() < 1e-4 * deviation, "{gain}");
            assert!((chance - kept / weight).abs() < 1e-4, "{chance}");
        }
    }

    /// A bowl with a limit through its bottom, known by 150 designs: of children the better one within the limit
    /// promises more than one uphill, and than one beyond the limit.
    #[test]
    fn the_way_down_within_limits_promises_most() {
        let space = Space::new(vec![steps(101); 4], vec![50; 4]).unwrap();
        let mut random = stream(3, 0);
        let rows: Vec<Row> = (0..150)
            .map(|_| {
                let throw = |centre: f64| (centre + 12.0 * normal(&mut random)).clamp(0.0, 100.0);
                let key: Key = [40.0; 4].map(throw).map(|index| index as u32).to_vec();
                let away = key.iter().map(|index| f64::from(*index) - 50.0);
                let squares = away.map(|away| away * away);
                let cost = 1.0 + 1e-4 * squares.sum::<f64>();
                let (search, verdict) = if key[0] > 50 {
                    (broken(0.1), Verdict::Infeasible(0.1))
                } else {
                    let values = [cost, 1.0, 1.0];
                    (priced(values), Verdict::Feasible(values))
                };
                Row {
                    key,
                    search,
                    every: None,
                    verdict,
                }
            })
            .collect();
        let mut foresight = Foresight::new(&space);
        let guesses = (0..20)
            .map(|_| foresight.learn(&rows, &mut random))
            .last()
            .unwrap();
        let gain = |key: [u32; 4]| guesses.gain(&key.to_vec(), 1.05);
        let down = gain([46, 49, 51, 50]);
        assert!(down > 2.0 * gain([30, 30, 35, 30]), "{down}");
        assert!(down > 2.0 * gain([60, 49, 51, 50]), "{down}");
    }

    #[test]
    fn without_differences_nothing_is_guessed() {
        let space = Space::new(vec![steps(101)], vec![50]).unwrap();
        let flat = |at: u32| Row {
            key: vec![at],
            search: priced([2.0, 1.0, 1.0]),
            every: None,
            verdict: Verdict::Feasible([2.0, 1.0, 1.0]),
        };
        let rows: Vec<Row> = (0..60).map(flat).collect();
        let guesses = Foresight::new(&space).learn(&rows, &mut stream(1, 0));
        assert_eq!(guesses.gain(&vec![70], 2.0), 1.0);
        assert_eq!(Guesses::NONE.gain(&vec![70], 2.0), 1.0);
    }
}
