//! Fronts: designs that no other design beats in everything.

use crate::outcome::{Key, Objectives};

/// Which objectives count.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum View {
    /// Cost against capital.
    CostCapital,
    /// Cost against carbon.
    CostCarbon,
    /// All three.
    All,
}

impl View {
    /// Every view.
    pub const EACH: [Self; 3] = [Self::CostCapital, Self::CostCarbon, Self::All];

    /// Positions of its objectives.
    #[must_use]
    pub fn objectives(self) -> &'static [usize] {
        match self {
            Self::CostCapital => &[0, 1],
            Self::CostCarbon => &[0, 2],
            Self::All => &[0, 1, 2],
        }
    }

    /// Whether `a` is nowhere worse than `b`.
    fn covers(self, a: &Objectives, b: &Objectives) -> bool {
        self.objectives().iter().all(|at| a[*at] <= b[*at])
    }
}

/// The non-dominated rows of one view, in the order they came.
#[derive(Debug, Clone)]
pub struct Front {
    view: View,
    members: Vec<(usize, Objectives)>,
}

impl Front {
    /// An empty front.
    #[must_use]
    pub fn new(view: View) -> Self {
        Self {
            view,
            members: Vec::new(),
        }
    }

    /// The front of many rows.
    #[must_use]
    pub fn of(view: View, rows: impl IntoIterator<Item = (usize, Objectives)>) -> Self {
        let mut front = Self::new(view);
        for (row, values) in rows {
            front.insert(row, values);
        }
        front
    }

    /// Takes a row in, unless a member is as good in everything, and drops the
    /// members that it beats.
    pub fn insert(&mut self, row: usize, values: Objectives) -> bool {
        let view = self.view;
        let is_covered = self
            .members
            .iter()
            .any(|(_, member)| view.covers(member, &values));
        if !is_covered {
            self.members
                .retain(|(_, member)| !view.covers(&values, member));
            self.members.push((row, values));
        }
        !is_covered
    }

    /// The members among some rows.
    #[must_use]
    pub fn among(mut self, is_one: impl Fn(usize) -> bool) -> Self {
        self.members.retain(|(row, _)| is_one(*row));
        self
    }

    /// Rows and objectives of the members.
    #[must_use]
    pub fn members(&self) -> &[(usize, Objectives)] {
        &self.members
    }

    /// Rows of the members by rising cost.
    #[must_use]
    pub fn rows_by_cost(&self) -> Vec<usize> {
        let mut members = self.members.clone();
        members.sort_by(|a, b| a.1[0].total_cmp(&b.1[0]).then(a.0.cmp(&b.0)));
        members.into_iter().map(|(row, _)| row).collect()
    }

    /// The members' objectives, each from 0 at its least to 1 at its largest.
    #[must_use]
    pub fn unit_values(&self) -> Vec<Objectives> {
        let extent = self.extent();
        let members = self.members.iter();
        members.map(|(_, values)| extent.unit(values)).collect()
    }

    /// From the best to the worst of each objective.
    pub(crate) fn extent(&self) -> Extent {
        let mut low = [f64::INFINITY; 3];
        let mut high = [f64::NEG_INFINITY; 3];
        for (_, values) in &self.members {
            for at in 0..3 {
                low[at] = low[at].min(values[at]);
                high[at] = high[at].max(values[at]);
            }
        }
        Extent {
            low,
            range: std::array::from_fn(|at| high[at] - low[at]),
        }
    }
}

/// How far a front reaches.
pub(crate) struct Extent {
    low: Objectives,
    range: Objectives,
}

impl Extent {
    /// Whether members differ in an objective.
    pub(crate) fn differs(&self, at: usize) -> bool {
        self.range[at] > 0.0
    }

    /// Objectives from 0 at the front's best to 1 at its worst; 0 where members do not differ.
    pub(crate) fn unit(&self, values: &Objectives) -> Objectives {
        std::array::from_fn(|at| {
            if self.differs(at) {
                (values[at] - self.low[at]) / self.range[at]
            } else {
                0.0
            }
        })
    }
}

/// Rows of at most `count` members, spread evenly: the best of each objective,
/// then always the member farthest from those taken (Gonzalez 1985).
#[must_use]
pub fn spread(front: &Front, count: usize) -> Vec<usize> {
    let units = front.unit_values();
    let mut gaps = vec![f64::INFINITY; units.len()];
    let mut taken = Vec::new();
    let ends =
        front.view.objectives().iter().filter_map(|at| {
            (0..units.len()).min_by(|a, b| units[*a][*at].total_cmp(&units[*b][*at]))
        });
    for end in ends.take(count) {
        take(end, &units, front.view, &mut gaps, &mut taken);
    }
    while taken.len() < count.min(units.len()) {
        // Of equal gaps the earliest member.
        let farthest = (0..units.len())
            .rev()
            .max_by(|a, b| gaps[*a].total_cmp(&gaps[*b]));
        let Some(farthest) = farthest else { break };
        take(farthest, &units, front.view, &mut gaps, &mut taken);
    }
    taken
        .into_iter()
        .map(|member| front.members[member].0)
        .collect()
}

fn take(member: usize, units: &[Objectives], view: View, gaps: &mut [f64], taken: &mut Vec<usize>) {
    if taken.contains(&member) {
        return;
    }
    taken.push(member);
    for (gap, other) in gaps.iter_mut().zip(units) {
        *gap = gap.min(square_distance(view, &units[member], other));
    }
    // Equal values elsewhere have gap 0 too, but are still to be taken.
    gaps[member] = -1.0;
}

/// Square of the distance between two members in unit values.
pub(crate) fn square_distance(view: View, a: &Objectives, b: &Objectives) -> f64 {
    view.objectives()
        .iter()
        .map(|at| (a[*at] - b[*at]) * (a[*at] - b[*at]))
        .sum()
}

/// The row of the knee of a two-objective front: the member farthest below the
/// straight line between the ends, in unit values (Das 1999). Nothing if no
/// member lies below the line.
#[must_use]
pub fn knee(front: &Front) -> Option<usize> {
    let &[_, second] = front.view.objectives() else {
        return None;
    };
    let units = front.unit_values();
    let depth = |member: &usize| 1.0 - units[*member][0] - units[*member][second];
    (0..units.len())
        .filter(|member| depth(member) > 0.0)
        .max_by(|a, b| depth(a).total_cmp(&depth(b)).then(b.cmp(a)))
        .map(|member| front.members[member].0)
}

/// The region of designs nearly as cheap as the best.
#[derive(Debug, Clone, PartialEq)]
pub struct NearBest {
    /// How much dearer they may be, as a part of the best cost.
    pub tolerance: f64,
    /// How many designs were found in it.
    pub designs: usize,
    /// Least index on each axis.
    pub low: Key,
    /// Largest index on each axis.
    pub high: Key,
}

/// The region that holds every given design with a cost up to `1 + tolerance`
/// of the least. Nothing if there is no design.
pub fn near_best<'a>(
    designs: impl Iterator<Item = (&'a Key, f64)> + Clone,
    tolerance: f64,
) -> Option<NearBest> {
    let best = designs
        .clone()
        .map(|(_, cost)| cost)
        .min_by(f64::total_cmp)?;
    let limit = best + tolerance * best.abs();
    let mut near = designs
        .filter(|(_, cost)| *cost <= limit)
        .map(|(key, _)| key);
    let first = near.next()?;
    let mut region = NearBest {
        tolerance,
        designs: 1,
        low: first.clone(),
        high: first.clone(),
    };
    for key in near {
        region.designs += 1;
        for (axis, index) in key.iter().enumerate() {
            region.low[axis] = region.low[axis].min(*index);
            region.high[axis] = region.high[axis].max(*index);
        }
    }
    Some(region)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn numbered(values: &[Objectives]) -> Vec<(usize, Objectives)> {
        values.iter().copied().enumerate().collect()
    }

    fn beats(view: View, a: &Objectives, b: &Objectives) -> bool {
        view.covers(a, b) && !view.covers(b, a)
    }

    proptest! {
        #[test]
        fn a_front_is_what_nothing_beats(
            grid in prop::collection::vec(prop::array::uniform3(0_u8..6), 1..40),
        ) {
            let values: Vec<Objectives> = grid.iter().map(|point| point.map(f64::from)).collect();
            for view in View::EACH {
                let front = Front::of(view, numbered(&values));
                for (row, point) in numbered(&values) {
                    let is_beaten = values.iter().any(|other| beats(view, other, &point));
                    let is_member = front.members().iter().any(|(member, _)| *member == row);
                    let is_double = values[..row]
                        .iter()
                        .any(|other| view.covers(other, &point) && view.covers(&point, other));
                    prop_assert_eq!(is_member, !is_beaten && !is_double);
                }
            }
        }

        #[test]
        fn a_spread_holds_the_ends_and_no_more_than_asked(
            grid in prop::collection::vec(prop::array::uniform3(0_u8..30), 1..60),
            count in 0_usize..20,
        ) {
            let values: Vec<Objectives> = grid.iter().map(|point| point.map(f64::from)).collect();
            let front = Front::of(View::All, numbered(&values));
            let chosen = spread(&front, count);
            prop_assert!(chosen.len() <= count);
            let mut once = chosen.clone();
            once.sort_unstable();
            once.dedup();
            prop_assert_eq!(once.len(), chosen.len());
            if count >= 3 {
                prop_assert_eq!(chosen.len(), count.min(front.members().len()));
                for at in 0..3 {
                    let least = values.iter().map(|point| point[at]).fold(f64::MAX, f64::min);
                    prop_assert!(chosen.iter().any(|row| values[*row][at] == least));
                }
            }
        }
    }

    #[test]
    fn the_knee_is_the_deepest_bend() {
        let values = [
            [0.0, 10.0, 0.0],
            [1.0, 3.0, 0.0],
            [3.0, 2.0, 0.0],
            [10.0, 0.0, 0.0],
        ];
        let front = Front::of(View::CostCapital, numbered(&values));
        assert_eq!(knee(&front), Some(1));
        let straight = [[0.0, 2.0, 0.0], [1.0, 1.0, 0.0], [2.0, 0.0, 0.0]];
        assert_eq!(
            knee(&Front::of(View::CostCapital, numbered(&straight))),
            None
        );
        assert_eq!(knee(&Front::of(View::All, numbered(&values))), None);
    }

    #[test]
    fn the_near_best_region_holds_what_is_cheap_enough() {
        let designs = [
            (vec![3, 9], 100.0),
            (vec![5, 2], 101.0),
            (vec![0, 0], 101.1),
        ];
        let region = near_best(designs.iter().map(|(key, cost)| (key, *cost)), 0.01);
        let wanted = NearBest {
            tolerance: 0.01,
            designs: 2,
            low: vec![3, 2],
            high: vec![5, 9],
        };
        assert_eq!(region, Some(wanted));
        assert_eq!(near_best(std::iter::empty(), 0.01), None);
    }
}
