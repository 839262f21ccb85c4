//! An island: one goal, one stream of random numbers, one allowance.

use crate::compass::compass;
use crate::desk::{Desk, Ended, Pin};
use crate::goal::Goal;
use crate::lockstep::Line;
use crate::outcome::{Key, Verdict};
use crate::random::Random;
use crate::simplex::simplex;
use crate::space::Space;
use crate::swarm::swarm;

/// Parts of the allowance for the swarm and the simplex; the compass has the rest.
const SWARM_PART: f64 = 0.5;
const SIMPLEX_PART: f64 = 0.25;

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
        let ended: [Result<(), Ended>; 3] = [
            {
                desk.allow(for_swarm);
                swarm(&desk, self.random)
            },
            {
                desk.allow(for_simplex);
                simplex(&desk)
            },
            {
                desk.allow(self.allowance - for_swarm - for_simplex);
                compass(&desk)
            },
        ];
        let _ = ended;
        desk.best().map(|(merit, _)| merit)
    }
}
