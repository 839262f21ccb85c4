//! An island: one goal, one stream of random numbers, one allowance.

use crate::compass::compass;
use crate::desk::{Desk, Pin};
use crate::goal::Goal;
use crate::lockstep::Line;
use crate::outcome::{Key, Verdict};
use crate::random::Random;
use crate::simplex::simplex;
use crate::space::Space;
use crate::swarm::swarm;

/// Parts of the allowance for the swarm and the simplex; the compass has the
/// rest. Chosen by trial on the problems of the tests: all three together are
/// more even over totals from 500 to 5000 than any one or two of them.
const SWARM_PART: f64 = 0.3;
const SIMPLEX_PART: f64 = 0.3;

pub(crate) struct Island<'a> {
    pub(crate) space: &'a Space,
    pub(crate) goal: Goal,
    pub(crate) pin: Pin,
    pub(crate) allowance: usize,
    pub(crate) known: &'a [(Key, Verdict)],
    pub(crate) random: Random,
}

impl Island<'_> {
    /// Searches until the allowance is spent; gives the best merit found.
    pub(crate) fn run(self, line: Line) -> Option<f64> {
        let desk = Desk::new(self.space, self.goal, self.pin, line, self.known);
        let part = |share: f64| (share * self.allowance as f64) as usize;
        let (for_swarm, for_simplex) = (part(SWARM_PART), part(SIMPLEX_PART));
        // A stage that has spent its part is followed by the next one; when the
        // search is to end, the next one ends at its first question.
        desk.allow(for_swarm);
        let _ = swarm(&desk, self.random);
        desk.allow(for_simplex);
        let _ = simplex(&desk);
        desk.allow(self.allowance - for_swarm - for_simplex);
        let _ = compass(&desk);
        desk.best().map(|(merit, _)| merit)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::goal::Scale;
    use crate::lockstep::{HungUp, in_lockstep};
    use crate::outcome::Pricing;
    use crate::random::stream;
    use crate::toys::{AsIs, small_field};

    fn island(space: &Space, number: u64, pin: Pin) -> Island<'_> {
        Island {
            space,
            goal: Goal {
                weights: [1.0, 0.0, 0.0],
                scale: Scale::of(&[]),
            },
            pin,
            allowance: 150,
            known: &[],
            random: stream(1, number),
        }
    }

    /// What the islands asked for, all together.
    fn asked(space: &Space, numbers: &[u64], pin: Pin) -> Vec<Key> {
        let (_, cost) = small_field();
        let runs = numbers
            .iter()
            .map(|number| {
                let island = island(space, *number, pin);
                move |line| island.run(line)
            })
            .collect();
        let mut asked = Vec::new();
        let _ = in_lockstep(runs, |keys| {
            asked.extend_from_slice(keys);
            let verdict = |key: &Key| match AsIs.objectives(&cost(key)) {
                Some(values) => Verdict::Feasible(values),
                None => Verdict::Infeasible(1.0),
            };
            Ok::<_, HungUp>(keys.iter().map(verdict).collect())
        });
        asked
    }

    /// Islands may be searched on different machines: one that runs beside
    /// others asks for what it would ask for alone.
    #[test]
    fn islands_do_not_read_one_another() {
        let (space, _) = small_field();
        let mut apart = asked(&space, &[1], None);
        apart.extend(asked(&space, &[2], None));
        let mut beside = asked(&space, &[1, 2], None);
        apart.sort();
        beside.sort();
        assert_eq!(apart, beside);
    }

    #[test]
    fn an_island_keeps_to_its_allowance_and_pin() {
        let (space, _) = small_field();
        let asked = asked(&space, &[1], Some((6, 3)));
        assert!(asked.len() <= 150 && asked.len() > 100, "{}", asked.len());
        assert!(asked.iter().all(|key| key[6] == 3));
    }
}
