//! New designs from old ones: from the cheapest, and from those on the front.

use std::collections::BTreeSet;

use rand::Rng;

use crate::cohort::Cohort;
use crate::front::{Front, View, square_distance};
use crate::inquiry::{Halt, Inquiry, Row};
use crate::outcome::{Evaluator, Key, Objectives, Pricing, Verdict};
use crate::random::Random;
use crate::space::{AxisKind, Space};

/// Designs of one generation, and those among them that come from the cohort of the cheapest.
const GENERATION: usize = 32;
const OF_COHORT: usize = 16;
/// The same where the cohort made nothing better the last time.
const OF_COHORT_AT_REST: usize = 2;
/// Tries for one new design before a generation is given up as complete.
const TRIES: usize = 40;
/// Parents as long as nothing is feasible.
const INFEASIBLE_PARENTS: usize = 16;

/// Breeds until only `kept` of the room is left (gives true), or until no new
/// design can be bred (gives false).
pub(crate) fn breed<E: Evaluator, P: Pricing>(
    inquiry: &mut Inquiry<'_, E, P>,
    kept: usize,
    space: &Space,
    random: &mut Random,
) -> Result<bool, Halt> {
    let mut front = Front::new(View::All);
    let mut seen = 0;
    let mut cohort = Cohort::of(space, inquiry.rows());
    while inquiry.room() > kept {
        for (row, design) in inquiry.rows().iter().enumerate().skip(seen) {
            if let Some(values) = design.verdict.objectives() {
                front.insert(row, values);
            }
        }
        seen = inquiry.rows().len();
        let size = GENERATION.min(inquiry.room() - kept);
        let mut met = BTreeSet::new();
        let mut of_cohort = Vec::new();
        if !space.movable().is_empty() {
            let part = if cohort.is_at_rest() {
                OF_COHORT_AT_REST
            } else {
                OF_COHORT
            };
            of_cohort = cohort.children(part.min(size), space, random);
        }
        of_cohort.retain(|child| !inquiry.has_asked(&child.key) && met.insert(child.key.clone()));
        let parents = Parents::of(inquiry.rows(), &front);
        let of_front = children(inquiry, &parents, &mut met, size, space, random);
        if of_cohort.is_empty() && of_front.is_empty() {
            return Ok(false);
        }
        let mut keys: Vec<Key> = of_cohort.iter().map(|child| child.key.clone()).collect();
        keys.extend(of_front);
        let verdicts = inquiry.ask(&keys)?;
        cohort.select(of_cohort, &verdicts);
    }
    Ok(true)
}

/// Designs to breed from, with their places on the front if they have one.
struct Parents {
    keys: Vec<Key>,
    units: Vec<Objectives>,
}

impl Parents {
    /// The members of the front; as long as nothing is feasible, the designs
    /// that are nearest to it.
    fn of(rows: &[Row], front: &Front) -> Self {
        let key = |row: &usize| rows[*row].key.clone();
        let members = front.members();
        if members.is_empty() {
            let nearest = nearest_to_feasible(rows);
            return Self {
                keys: nearest.iter().map(key).collect(),
                units: Vec::new(),
            };
        }
        Self {
            keys: members.iter().map(|(row, _)| key(row)).collect(),
            units: front.unit_values(),
        }
    }

    /// Room around a member: square of the distance to its nearest neighbour.
    fn gap(&self, member: usize) -> f64 {
        let others = self
            .units
            .iter()
            .enumerate()
            .filter(|(other, _)| *other != member);
        others
            .map(|(_, other)| square_distance(View::All, &self.units[member], other))
            .fold(f64::INFINITY, f64::min)
    }

    fn any(&self, random: &mut Random) -> usize {
        random.random_range(0..self.keys.len() as u64) as usize
    }

    /// Of two the one with more room.
    fn chosen(&self, random: &mut Random) -> &Key {
        let (a, b) = (self.any(random), self.any(random));
        &self.keys[if self.gap(b) > self.gap(a) { b } else { a }]
    }
}

/// Some infeasible rows by rising violation, or failed ones if there are none.
fn nearest_to_feasible(rows: &[Row]) -> Vec<usize> {
    let violation = |row: usize| match rows[row].verdict {
        Verdict::Infeasible(violation) => violation,
        _ => f64::INFINITY,
    };
    let mut nearest: Vec<usize> = (0..rows.len()).collect();
    nearest.sort_by(|a, b| violation(*a).total_cmp(&violation(*b)));
    nearest.truncate(INFEASIBLE_PARENTS);
    nearest
}

/// New designs from the front, as many as bring those met to `size`.
fn children<E: Evaluator, P: Pricing>(
    inquiry: &Inquiry<'_, E, P>,
    parents: &Parents,
    met: &mut BTreeSet<Key>,
    size: usize,
    space: &Space,
    random: &mut Random,
) -> Vec<Key> {
    let mut children = Vec::new();
    for _ in met.len()..size {
        let child = (0..TRIES)
            .map(|_| child(parents, space, random))
            .find(|child| !inquiry.has_asked(child) && !met.contains(child));
        if let Some(child) = child {
            met.insert(child.clone());
            children.push(child);
        }
    }
    children
}

/// A parent moved along the difference of two others (Storn and Price 1997), on
/// about half of the axes, and by a step of any size on about one.
fn child(parents: &Parents, space: &Space, random: &mut Random) -> Key {
    let mut key = parents.chosen(random).clone();
    let from = &parents.keys[parents.any(random)];
    let to = &parents.keys[parents.any(random)];
    let stretch = random.random_range(0.3..0.9);
    let step_chance = 1.0 / space.movable().len().max(1) as f64;
    for &axis in space.movable() {
        let crosses = random.random_bool(0.5);
        let steps = random.random_bool(step_chance);
        let count = space.axes()[axis].count;
        match space.axes()[axis].kind {
            AxisKind::Choice => {
                if crosses {
                    key[axis] = to[axis];
                }
                if steps {
                    key[axis] = random.random_range(0..count);
                }
            }
            AxisKind::Steps => {
                let mut change = 0.0;
                if crosses {
                    change += stretch * (f64::from(to[axis]) - f64::from(from[axis]));
                }
                if steps {
                    change += any_step(count, random);
                }
                let index = (f64::from(key[axis]) + change).round();
                key[axis] = index.clamp(0.0, f64::from(count - 1)) as u32;
            }
        }
    }
    key
}

/// A step of 1, 2, 4, … indices, up to about a quarter of the axis.
fn any_step(count: u32, random: &mut Random) -> f64 {
    let doublings = (count / 4).max(1).ilog2();
    let step = f64::from(1_u32 << random.random_range(0..=doublings));
    if random.random_bool(0.5) { step } else { -step }
}
