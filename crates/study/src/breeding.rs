//! After the islands: new designs from those on the front, all together.

use std::collections::BTreeSet;

use rand::Rng;

use crate::front::{Front, View, square_distance};
use crate::inquiry::{Halt, Inquiry};
use crate::outcome::{Evaluator, Key, Objectives, Pricing, Verdict};
use crate::random::Random;
use crate::space::{AxisKind, Space};

/// Designs of one generation.
const GENERATION: usize = 32;
/// Tries for one new design before a generation is given up as complete.
const TRIES: usize = 40;
/// Parents as long as nothing is feasible.
const INFEASIBLE_PARENTS: usize = 16;

/// Breeds until the budget is spent (gives true), or until no new design can be
/// bred (gives false).
pub(crate) fn breed<E: Evaluator, P: Pricing>(
    inquiry: &mut Inquiry<'_, E, P>,
    space: &Space,
    random: &mut Random,
) -> Result<bool, Halt> {
    let mut front = Front::new(View::All);
    let mut seen = 0;
    while inquiry.room() > 0 {
        for (row, design) in inquiry.rows().iter().enumerate().skip(seen) {
            if let Some(values) = design.verdict.objectives() {
                front.insert(row, values);
            }
        }
        seen = inquiry.rows().len();
        let parents = Parents::of(inquiry, &front);
        let children = generation(inquiry, &parents, space, random);
        if children.is_empty() {
            return Ok(false);
        }
        inquiry.ask(&children)?;
    }
    Ok(true)
}

/// Designs to breed from, with the room each has around it on the front.
struct Parents {
    keys: Vec<Key>,
    gaps: Vec<f64>,
    cheapest: usize,
}

impl Parents {
    fn of<E: Evaluator, P: Pricing>(inquiry: &Inquiry<'_, E, P>, front: &Front) -> Self {
        let rows = inquiry.rows();
        let members = front.members();
        if members.is_empty() {
            return Self::nearest_to_feasible(inquiry);
        }
        let cheapest = (0..members.len())
            .min_by(|a, b| members[*a].1[0].total_cmp(&members[*b].1[0]))
            .unwrap_or(0);
        Self {
            keys: members
                .iter()
                .map(|(row, _)| rows[*row].key.clone())
                .collect(),
            gaps: gaps(&front.unit_values()),
            cheapest,
        }
    }

    fn nearest_to_feasible<E: Evaluator, P: Pricing>(inquiry: &Inquiry<'_, E, P>) -> Self {
        let mut rows: Vec<(f64, &Key)> = inquiry
            .rows()
            .iter()
            .map(|row| match row.verdict {
                Verdict::Infeasible(violation) => (violation, &row.key),
                _ => (f64::INFINITY, &row.key),
            })
            .collect();
        rows.sort_by(|a, b| a.0.total_cmp(&b.0));
        rows.truncate(INFEASIBLE_PARENTS);
        Self {
            keys: rows.iter().map(|(_, key)| (*key).clone()).collect(),
            gaps: vec![0.0; rows.len()],
            cheapest: 0,
        }
    }

    fn any(&self, random: &mut Random) -> usize {
        random.random_range(0..self.keys.len() as u64) as usize
    }

    /// Of two the one with more room; at times the cheapest.
    fn chosen(&self, random: &mut Random) -> &Key {
        if random.random_bool(0.25) {
            return &self.keys[self.cheapest];
        }
        let (a, b) = (self.any(random), self.any(random));
        &self.keys[if self.gaps[b] > self.gaps[a] { b } else { a }]
    }
}

/// Distance of each member to its nearest neighbour.
fn gaps(units: &[Objectives]) -> Vec<f64> {
    (0..units.len())
        .map(|member| {
            (0..units.len())
                .filter(|other| *other != member)
                .map(|other| square_distance(View::All, &units[member], &units[other]))
                .fold(f64::INFINITY, f64::min)
        })
        .collect()
}

fn generation<E: Evaluator, P: Pricing>(
    inquiry: &Inquiry<'_, E, P>,
    parents: &Parents,
    space: &Space,
    random: &mut Random,
) -> Vec<Key> {
    let mut met = BTreeSet::new();
    let mut children = Vec::new();
    for _ in 0..GENERATION.min(inquiry.room()) {
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
