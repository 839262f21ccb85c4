//! The cheapest designs, bred among themselves: differential evolution on a lattice.
//!
//! Each member is moved part of the way to one of the best and along the difference of two others
//! ("current to best"); how far, and on how many axes, is learnt from what succeeded (Zhang and
//! Sanderson 2009). A child can only take its own parent's place, so no name is lost early.

use std::collections::BTreeSet;

use rand::Rng;

use crate::guess::Outlook;
use crate::inquiry::Row;
use crate::merit::worth;
use crate::outcome::{Key, Verdict};
use crate::random::Random;
use crate::space::{AxisKind, Space};

/// Members of a cohort.
const SIZE: usize = 30;
/// Children of which the one that promises most is asked for.
const SIBLINGS: usize = 2;
/// Of so many members one is among the best.
const BEST_OF: usize = 8;
/// A gain of less than this share of what costs spanned at first keeps nobody from resting.
const GAIN: f64 = 1e-9;
/// Share of what has just succeeded in what is learnt.
const LEARNING: f64 = 0.1;

/// The members, and what they have learnt.
pub(crate) struct Cohort {
    members: Vec<Member>,
    stretch: f64,
    crossing: f64,
    turn: usize,
    least_gain: f64,
    is_at_rest: bool,
}

struct Member {
    key: Key,
    worth: f64,
}

/// A child, the place of its parent, and how it was made.
pub(crate) struct Child {
    pub(crate) key: Key,
    place: usize,
    stretch: f64,
    crossing: f64,
}

impl Cohort {
    /// The best design of every name of every choice, and the best of all.
    pub(crate) fn of(space: &Space, rows: &[Row]) -> Self {
        let costs = || {
            rows.iter()
                .filter_map(|row| Some(row.verdict.objectives()?[0]))
        };
        let span = costs().fold(0.0, f64::max) - costs().fold(f64::INFINITY, f64::min);
        let mut ranked: Vec<Member> = rows.iter().map(Member::of).collect();
        ranked.sort_by(|a, b| a.worth.total_cmp(&b.worth));
        let mut places: BTreeSet<usize> = names(space)
            .filter_map(|(axis, name)| ranked.iter().position(|member| member.key[axis] == name))
            .collect();
        let best = (0..ranked.len()).filter(|place| !places.contains(place));
        let best: Vec<usize> = best.take(SIZE.saturating_sub(places.len())).collect();
        places.extend(best);
        let mut members = Vec::new();
        for (place, member) in ranked.into_iter().enumerate() {
            if places.contains(&place) {
                members.push(member);
            }
        }
        Self {
            members,
            stretch: 0.5,
            crossing: 0.5,
            turn: 0,
            least_gain: GAIN * span.max(0.0),
            is_at_rest: false,
        }
    }

    /// Children of the next `count` members in turn: of a few each the one that may cost the least.
    pub(crate) fn children(
        &mut self,
        count: usize,
        space: &Space,
        outlook: Option<&Outlook>,
        random: &mut Random,
    ) -> Vec<Child> {
        let best = self.best();
        let places = (self.turn..self.turn + count).map(|turn| turn % self.members.len());
        let children = places
            .map(|place| {
                let mut bred = || {
                    let best = best[below(best.len(), random)];
                    self.child(place, best, space, random)
                };
                let Some(outlook) = outlook else {
                    return bred();
                };
                let told = |child: Child| (outlook.cost(&child.key), child);
                let mut least = told(bred());
                for _ in 1..SIBLINGS {
                    let next = told(bred());
                    if next.0 < least.0 {
                        least = next;
                    }
                }
                least.1
            })
            .collect();
        self.turn += count;
        children
    }

    /// Places of the best members.
    fn best(&self) -> Vec<usize> {
        let mut order: Vec<usize> = (0..self.members.len()).collect();
        order.sort_by(|a, b| self.members[*a].worth.total_cmp(&self.members[*b].worth));
        order.truncate((self.members.len() / BEST_OF).max(2));
        order
    }

    fn child(&self, place: usize, best: usize, space: &Space, random: &mut Random) -> Child {
        let mut any = || &self.members[below(self.members.len(), random)].key;
        let kin = Kin {
            own: &self.members[place].key,
            best: &self.members[best].key,
            from: any(),
            to: any(),
        };
        let stretch = (self.stretch + random.random_range(-0.3..0.3)).clamp(0.1, 1.0);
        let crossing = (self.crossing + random.random_range(-0.25..0.25)).clamp(0.05, 1.0);
        let movable = space.movable();
        let sure = movable[below(movable.len(), random)];
        let slip = 0.5 / movable.len() as f64;
        let mut key = kin.own.clone();
        for &axis in movable {
            let count = space.axes()[axis].count;
            let crosses = axis == sure || random.random_bool(crossing);
            let slips = random.random_bool(slip);
            key[axis] = match space.axes()[axis].kind {
                AxisKind::Choice if slips => below(count as usize, random) as u32,
                AxisKind::Choice if crosses => kin.name(axis, stretch, random),
                AxisKind::Choice => key[axis],
                AxisKind::Steps => {
                    let moved = if crosses {
                        kin.moved(axis, stretch)
                    } else {
                        kin.at(kin.own, axis)
                    };
                    let step = if random.random_bool(0.5) { 1.0 } else { -1.0 };
                    let slipped = moved + if slips { step } else { 0.0 };
                    kin.inside(axis, count, by_lot(slipped, random))
                }
            };
        }
        Child {
            key,
            place,
            stretch,
            crossing,
        }
    }

    /// Whether nothing became better the last time.
    pub(crate) fn is_at_rest(&self) -> bool {
        self.is_at_rest
    }

    /// Lets children that are no worse take their parents' places.
    pub(crate) fn select(&mut self, children: Vec<Child>, verdicts: &[Verdict]) {
        let mut better = Vec::new();
        for (child, verdict) in children.into_iter().zip(verdicts) {
            let (worth, parent) = (worth(*verdict), &mut self.members[child.place]);
            if worth < parent.worth - self.least_gain {
                better.push((child.stretch, child.crossing));
            }
            if worth <= parent.worth {
                *parent = Member {
                    key: child.key,
                    worth,
                };
            }
        }
        self.is_at_rest = better.is_empty();
        self.learn(&better);
    }

    /// Moves towards the stretches (mean by their own size, so that long ones count) and crossings
    /// that made something better.
    fn learn(&mut self, better: &[(f64, f64)]) {
        if better.is_empty() {
            return;
        }
        let sum = |value: fn(&(f64, f64)) -> f64| better.iter().map(value).sum::<f64>();
        let stretch = sum(|(stretch, _)| stretch * stretch) / sum(|(stretch, _)| *stretch);
        let crossing = sum(|(_, crossing)| *crossing) / better.len() as f64;
        self.stretch += LEARNING * (stretch - self.stretch);
        self.crossing += LEARNING * (crossing - self.crossing);
    }
}

impl Member {
    fn of(row: &Row) -> Self {
        Self {
            key: row.key.clone(),
            worth: worth(row.verdict),
        }
    }
}

/// Those that a child is made from.
struct Kin<'a> {
    own: &'a Key,
    best: &'a Key,
    from: &'a Key,
    to: &'a Key,
}

impl Kin<'_> {
    fn at(&self, key: &Key, axis: usize) -> f64 {
        f64::from(key[axis])
    }

    fn moved(&self, axis: usize, stretch: f64) -> f64 {
        let [own, best, from, to] =
            [self.own, self.best, self.from, self.to].map(|key| self.at(key, axis));
        own + stretch * (best - own + to - from)
    }

    /// Its own name, the best one's or another's.
    fn name(&self, axis: usize, stretch: f64, random: &mut Random) -> u32 {
        if random.random_bool(0.5 * stretch) {
            self.best[axis]
        } else if random.random_bool(0.3 * stretch) {
            self.to[axis]
        } else {
            self.own[axis]
        }
    }

    /// Beyond an end of the axis: half-way between its own place and the end.
    fn inside(&self, axis: usize, count: u32, index: f64) -> u32 {
        let (own, last) = (self.at(self.own, axis), f64::from(count - 1));
        if index < 0.0 {
            (own / 2.0).floor() as u32
        } else if index > last {
            f64::midpoint(own, last).ceil() as u32
        } else {
            index as u32
        }
    }
}

/// Up or down to a whole number, more likely to the nearer one, so that small moves are not lost
/// on coarse axes.
fn by_lot(value: f64, random: &mut Random) -> f64 {
    let floor = value.floor();
    floor
        + f64::from(u8::from(
            random.random_bool((value - floor).clamp(0.0, 1.0)),
        ))
}

/// Each name of each choice: its axis and index.
fn names(space: &Space) -> impl Iterator<Item = (usize, u32)> {
    let is_choice = |axis: &&usize| space.axes()[**axis].kind == AxisKind::Choice;
    let choices = space.movable().iter().filter(is_choice);
    choices.flat_map(|axis| (0..space.axes()[*axis].count).map(|name| (*axis, name)))
}

fn below(count: usize, random: &mut Random) -> usize {
    random.random_range(0..count as u64) as usize
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::random::stream;
    use crate::toys::{choice, priced, steps};

    fn row(key: Key, cost: f64) -> Row {
        let search = priced([cost, 1.0, 1.0]);
        Row {
            key,
            search,
            every: None,
            verdict: Verdict::Feasible([cost, 1.0, 1.0]),
        }
    }

    /// Names are held by the dearest of a hundred designs only, and are still there.
    #[test]
    fn every_name_has_a_member_at_first() {
        let space = Space::new(vec![steps(200), choice(4)], vec![0, 0]).unwrap();
        let mut rows: Vec<Row> = (0..100).map(|at| row(vec![at, 0], f64::from(at))).collect();
        rows.extend((1..4).map(|name| row(vec![150, name], 500.0 + f64::from(name))));
        let cohort = Cohort::of(&space, &rows);
        assert_eq!(cohort.members.len(), SIZE);
        for name in 0..4 {
            assert!(cohort.members.iter().any(|member| member.key[1] == name));
        }
    }

    #[test]
    fn children_stay_inside_and_take_no_better_ones_place() {
        let space = Space::new(vec![steps(5), choice(3), steps(1)], vec![0, 0, 0]).unwrap();
        let rows: Vec<Row> = (0..15)
            .map(|at| row(vec![at % 5, at % 3, 0], f64::from(at)))
            .collect();
        let mut cohort = Cohort::of(&space, &rows);
        let mut random = stream(1, 0);
        for _ in 0..50 {
            let children = cohort.children(15, &space, None, &mut random);
            for child in &children {
                assert!(child.key[0] < 5 && child.key[1] < 3 && child.key[2] == 0);
            }
            let before: Vec<f64> = cohort.members.iter().map(|member| member.worth).collect();
            let verdicts = vec![Verdict::Infeasible(1.0); children.len()];
            cohort.select(children, &verdicts);
            let after: Vec<f64> = cohort.members.iter().map(|member| member.worth).collect();
            assert_eq!(before, after);
        }
    }
}
