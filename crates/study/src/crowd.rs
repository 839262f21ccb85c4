//! The few designs that the front is bred from: front behind front, each spread out.

use std::ops::Range;

use rand::Rng;

use crate::front::{Front, View, spread, square_distance};
use crate::inquiry::Row;
use crate::merit::merit;
use crate::outcome::{Key, Objectives};
use crate::random::Random;

/// Members of a crowd. Smaller ones lose the way past dips, larger ones come to the front late.
const SIZE: usize = 50;

/// Members by falling rank.
#[derive(Default)]
pub(crate) struct Crowd {
    members: Vec<Member>,
}

struct Member {
    row: usize,
    key: Key,
    /// How many fronts lie before its own (Deb et al. 2002).
    behind: usize,
    /// Square of the distance to its nearest neighbour on its front.
    gap: f64,
}

impl Crowd {
    /// Takes in fresh rows and keeps the best: of the last front that has room those that lie
    /// farthest apart; infeasible ones behind all fronts, by merit.
    pub(crate) fn take_in(&mut self, rows: &[Row], fresh: Range<usize>) {
        let kept = self.members.iter().map(|member| member.row);
        let (feasible, mut broken): (Vec<usize>, Vec<usize>) = kept
            .chain(fresh)
            .partition(|row| rows[*row].verdict.objectives().is_some());
        self.members = fronts(rows, feasible);
        let merit = |row: &usize| merit(rows[*row].verdict);
        broken.sort_by(|a, b| merit(a).total_cmp(&merit(b)));
        let behind = self.members.len();
        let room = SIZE - self.members.len();
        let broken = broken.into_iter().take(room).enumerate();
        self.members.extend(broken.map(|(place, row)| Member {
            row,
            key: rows[row].key.clone(),
            behind: behind + place,
            gap: 0.0,
        }));
    }

    /// Rows of the first front.
    pub(crate) fn front(&self) -> Vec<usize> {
        let first = self.members.iter().filter(|member| member.behind == 0);
        first.map(|member| member.row).collect()
    }

    /// Any member.
    pub(crate) fn any(&self, random: &mut Random) -> &Key {
        &self.lot(random).key
    }

    /// Of two the one on the better front, or with more room on the same.
    pub(crate) fn chosen(&self, random: &mut Random) -> &Key {
        let (a, b) = (self.lot(random), self.lot(random));
        let is_second = (b.behind, -b.gap) < (a.behind, -a.gap);
        if is_second { &b.key } else { &a.key }
    }

    fn lot(&self, random: &mut Random) -> &Member {
        &self.members[random.random_range(0..self.members.len() as u64) as usize]
    }
}

/// Feasible rows, front behind front, up to the size of a crowd.
fn fronts(rows: &[Row], feasible: Vec<usize>) -> Vec<Member> {
    let values = |row: usize| Some((row, rows[row].verdict.objectives()?));
    let mut left: Vec<(usize, Objectives)> = feasible.into_iter().filter_map(values).collect();
    let mut members = Vec::new();
    let mut behind = 0;
    while !left.is_empty() && members.len() < SIZE {
        let front = Front::of(View::All, left.iter().copied());
        let on_front: Vec<usize> = front.members().iter().map(|(row, _)| *row).collect();
        left.retain(|(row, _)| !on_front.contains(row));
        let taken = spread(&front, SIZE - members.len());
        let taken = front.among(|row| taken.contains(&row));
        let gaps = gaps(&taken);
        members.extend(
            taken
                .members()
                .iter()
                .zip(gaps)
                .map(|((row, _), gap)| Member {
                    row: *row,
                    key: rows[*row].key.clone(),
                    behind,
                    gap,
                }),
        );
        behind += 1;
    }
    members
}

/// Of each member the square of the distance to its nearest neighbour.
fn gaps(front: &Front) -> Vec<f64> {
    let units = front.unit_values();
    let gap = |member: usize| {
        let others = (0..units.len()).filter(|other| *other != member);
        others
            .map(|other| square_distance(View::All, &units[member], &units[other]))
            .fold(f64::INFINITY, f64::min)
    };
    (0..units.len()).map(gap).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::outcome::Verdict;
    use crate::toys::{broken, priced};

    fn row(at: u32, verdict: Verdict) -> Row {
        let search = match verdict {
            Verdict::Feasible(values) => priced(values),
            _ => broken(1.0),
        };
        Row {
            key: vec![at],
            search,
            every: None,
            verdict,
        }
    }

    /// A line of thirty, another behind it, and infeasible ones: of the second front the ends and an
    /// even choice between them, no infeasible one.
    #[test]
    fn fronts_come_first_and_the_last_is_thinned_evenly() {
        let line = |at: u32, away: f64| {
            let place = f64::from(at) / 29.0;
            Verdict::Feasible([place + away, 1.0 - place + away, 0.0])
        };
        let mut rows: Vec<Row> = (0..5).map(|at| row(at, Verdict::Infeasible(0.1))).collect();
        rows.extend((0..30).map(|at| row(100 + at, line(at, 0.5))));
        rows.extend((0..30).map(|at| row(200 + at, line(at, 0.0))));
        let mut crowd = Crowd::default();
        crowd.take_in(&rows, 0..40);
        crowd.take_in(&rows, 40..65);
        let keys: Vec<u32> = crowd.members.iter().map(|member| member.key[0]).collect();
        assert_eq!(keys.len(), SIZE);
        assert!((0..30).all(|at| keys.contains(&(200 + at))), "{keys:?}");
        assert!(keys.contains(&100) && keys.contains(&129), "{keys:?}");
        let mut second: Vec<u32> = keys.into_iter().filter(|key| *key < 200).collect();
        second.sort_unstable();
        assert!(
            second.windows(2).all(|pair| pair[1] - pair[0] <= 3),
            "{second:?}"
        );
    }

    #[test]
    fn infeasible_ones_fill_up_by_merit() {
        let rows: Vec<Row> = (0..80)
            .map(|at| row(at, Verdict::Infeasible(f64::from((at * 7) % 80))))
            .collect();
        let mut crowd = Crowd::default();
        crowd.take_in(&rows, 0..80);
        let violations: Vec<u32> = crowd
            .members
            .iter()
            .map(|member| member.key[0] * 7 % 80)
            .collect();
        assert_eq!(violations, (0..SIZE as u32).collect::<Vec<_>>());
    }
}
