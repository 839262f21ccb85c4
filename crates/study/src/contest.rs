//! Other names for the cheapest design, each with quantities of its own.
//!
//! A name is judged fairly only once the quantities suit it. So each set of names that differs from the
//! cheapest design's on one choice or on two is bred by itself, and in heat after heat the best third go on.

use rayon::prelude::*;

use crate::cohort::{Child, Cohort};
use crate::foresight::{Foresight, Guesses};
use crate::inquiry::{Halt, Inquiry, Row};
use crate::merit::merit;
use crate::outcome::{Evaluator, Key, Pricing, Verdict};
use crate::random::Random;
use crate::space::{AxisKind, Space};

/// Heats, and how many of those who started in one go on to the next: one of so many.
const HEATS: usize = 4;
const GO_ON: usize = 3;
/// Designs that are asked for at once, where that leaves each contender some and not too many.
const AT_ONCE: usize = 32;
const FEWEST: usize = 2;
const MOST: usize = 16;
/// Known designs that guesses are made from: those of the same names, and the cheapest besides.
const KNOWN: usize = 150;
const FEWEST_OTHERS: usize = 50;

/// A set of names, and the designs of it.
struct Contender {
    held: Space,
    cohort: Cohort,
}

/// Lets other names contend with those of the cheapest design until only `kept` of the room is left.
pub(crate) fn contest<E: Evaluator, P: Pricing>(
    inquiry: &mut Inquiry<'_, E, P>,
    kept: usize,
    space: &Space,
    foresight: &mut Foresight,
    random: &mut Random,
) -> Result<(), Halt> {
    let part = |inquiry: &Inquiry<'_, E, P>, heats: usize| {
        let room = inquiry.room().saturating_sub(kept);
        room / heats
    };
    let mut contenders = contenders(inquiry.rows(), space, part(inquiry, HEATS));
    for heats_left in (1..=HEATS).rev() {
        if contenders.is_empty() {
            break;
        }
        let part = part(inquiry, heats_left);
        heat(inquiry, part, &mut contenders, foresight, random)?;
        contenders.sort_by(|a, b| a.cohort.least().total_cmp(&b.cohort.least()));
        contenders.truncate(contenders.len().div_ceil(GO_ON));
    }
    Ok(())
}

/// The names of the cheapest design, then those that differ on one choice, then on two; as many as `most`.
fn contenders(rows: &[Row], space: &Space, most: usize) -> Vec<Contender> {
    let ranked = ranked(rows);
    let sets = ranked.first().map(|best| sets(space, &best.key));
    let sets = sets.into_iter().flatten().take(most);
    let held = sets.map(|key| space.holding_names(&key));
    held.map(|held| Contender {
        cohort: Cohort::with_names(&held, &ranked),
        held,
    })
    .collect()
}

/// The names of one design, then those of one other name, then those of two.
fn sets(space: &Space, best: &Key) -> Vec<Key> {
    let names = |&axis: &usize| {
        let is_choice = space.axes()[axis].kind == AxisKind::Choice;
        let count = if is_choice {
            space.axes()[axis].count
        } else {
            0
        };
        (0..count).map(move |name| (axis, name))
    };
    let other = |(axis, name): &(usize, u32)| best[*axis] != *name;
    let single = || space.movable().iter().flat_map(names).filter(other);
    let with = |changes: &[(usize, u32)]| {
        let mut key = best.clone();
        for (axis, name) in changes {
            key[*axis] = *name;
        }
        key
    };
    let ones = single().map(|one| with(&[one]));
    let pairs = single().flat_map(|one| {
        let second = single().filter(move |other| other.0 > one.0);
        second.map(move |other| with(&[one, other]))
    });
    std::iter::once(best.clone())
        .chain(ones)
        .chain(pairs)
        .collect()
}

/// Asks for `part` designs, as many of each contender.
fn heat<E: Evaluator, P: Pricing>(
    inquiry: &mut Inquiry<'_, E, P>,
    part: usize,
    contenders: &mut [Contender],
    foresight: &mut Foresight,
    random: &mut Random,
) -> Result<(), Halt> {
    let mut left = part / contenders.len();
    while left > 0 {
        let count = (AT_ONCE / contenders.len()).clamp(FEWEST, MOST).min(left);
        left -= count;
        foresight.learn(inquiry.rows(), random);
        let guesses = guesses(inquiry.rows(), contenders, foresight);
        let is_new = |key: &Key| !inquiry.has_asked(key);
        let broods = contenders.iter_mut().zip(&guesses);
        let broods: Vec<Vec<Child>> = broods
            .map(|(Contender { held, cohort }, guesses)| {
                cohort.children(count, guesses, &is_new, held, random)
            })
            .collect();
        let keys = broods.iter().flatten().map(|child| child.key.clone());
        let keys: Vec<Key> = keys.collect();
        let mut verdicts = inquiry.ask(&keys)?.into_iter();
        for (contender, brood) in contenders.iter_mut().zip(broods) {
            let own: Vec<Verdict> = verdicts.by_ref().take(brood.len()).collect();
            contender.cohort.select(brood, &own);
        }
    }
    Ok(())
}

/// For each contender from what is known of its names, and of the cheapest besides.
fn guesses(rows: &[Row], contenders: &[Contender], foresight: &Foresight) -> Vec<Guesses> {
    let ranked = ranked(rows);
    let of_one = |contender: &Contender| {
        let is_own = |row: &&Row| contender.held.has_names_of(&row.key);
        let own: Vec<&Row> = rows.iter().filter(is_own).collect();
        let others = ranked.iter().filter(|row| !is_own(row));
        let room = KNOWN.saturating_sub(own.len()).max(FEWEST_OTHERS);
        let known: Vec<&Row> = others.take(room).chain(&own).copied().collect();
        foresight.guesses(&known, &own)
    };
    contenders.par_iter().map(of_one).collect()
}

/// All by rising merit.
fn ranked(rows: &[Row]) -> Vec<&Row> {
    let mut ranked: Vec<&Row> = rows.iter().collect();
    ranked.sort_by(|a, b| merit(a.verdict).total_cmp(&merit(b.verdict)));
    ranked
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::oracle::Oracle;
    use crate::outcome::Outcome;
    use crate::random::{normal, stream};
    use crate::settle::settle;
    use crate::toys::{AsIs, Toy, choice, priced, steps};
    use std::sync::atomic::AtomicBool;

    /// By hand: one as it is, 2 + 1 + 1 with one other name, 2·1 + 2·1 + 1·1 with two.
    #[test]
    fn sets_of_one_and_of_two_other_names_contend() {
        let axes = vec![choice(3), steps(9), choice(2), choice(2), choice(1)];
        let space = Space::new(axes, vec![1, 4, 0, 1, 0]).unwrap();
        let sets = sets(&space, &vec![2, 7, 0, 1, 0]);
        assert_eq!(sets.len(), 10);
        assert_eq!(sets[0], [2, 7, 0, 1, 0]);
        let others = |set: &Key| (0..5).filter(|axis| set[*axis] != sets[0][*axis]).count();
        assert!(sets[1..5].iter().all(|set| others(set) == 1));
        assert!(sets[5..].iter().all(|set| others(set) == 2 && set[1] == 7));
        let different: std::collections::BTreeSet<&Key> = sets.iter().collect();
        assert_eq!(different.len(), 10);
    }

    /// Bowls of nine sets of names; the deepest needs two other names at once, and other quantities with them.
    fn bowls(key: &[u32]) -> Outcome {
        let set = key[5] * 3 + key[6];
        let (depth, place) = match set {
            0 => (1.0, 20.0),
            5 => (0.0, 24.0),
            _ => (7.0, 20.0),
        };
        let away = key[..5].iter().map(|index| f64::from(*index) - place);
        let squares: f64 = away.map(|away| away * away).sum();
        priced([100.0 + depth + 0.05 * squares, 1.0, 1.0])
    }

    #[test]
    fn names_win_that_pay_only_with_other_quantities() {
        let mut axes = vec![steps(41); 5];
        axes.extend([choice(3); 2]);
        let space = Space::new(axes, vec![20, 20, 20, 20, 20, 0, 0]).unwrap();
        let (toy, never) = (Toy(bowls), AtomicBool::new(false));
        let best = |contests: bool| {
            let (mut random, mut quiet) = (stream(1, 0), |_| {});
            let mut inquiry = Inquiry::new(Oracle::new(&toy), &AsIs, 700, &never, &mut quiet);
            let around: Vec<Key> = (0..60)
                .map(|_| {
                    let mut throw = || (20.0 + 3.0 * normal(&mut random)).clamp(0.0, 40.0) as u32;
                    let mut key: Key = (0..5).map(|_| throw()).collect();
                    key.extend([0, 0]);
                    key
                })
                .collect();
            inquiry.ask(&around).unwrap();
            if contests {
                let mut foresight = Foresight::new(&space);
                contest(&mut inquiry, 200, &space, &mut foresight, &mut random).unwrap();
                assert!(inquiry.room() >= 200, "{}", inquiry.room());
            }
            settle(&mut inquiry, 0, &space).unwrap();
            ranked(inquiry.rows())[0].key.clone()
        };
        assert_eq!(best(false), [20, 20, 20, 20, 20, 0, 0]);
        assert_eq!(best(true), [24, 24, 24, 24, 24, 1, 2]);
    }
}
