//! Who may stand in the way of each mirror's rays.

use crate::grid::{Cone, Grid};
use crate::panel::{Barrier, Panel};

/// Other panels that rays of each mirror may meet on one way, listed once for all rays.
#[derive(Clone, Debug, Default)]
pub(crate) struct Obstacles {
    /// Where each mirror's begin in `members`; one more than there are mirrors.
    first: Vec<u32>,
    members: Vec<u32>,
}

impl Obstacles {
    /// Lists them, for cones of rays in the order of the panels.
    pub fn new(grid: &Grid, panels: &[Panel], cones: impl Iterator<Item = Cone>) -> Self {
        let mut obstacles = Self {
            first: vec![0],
            members: Vec::new(),
        };
        let mut found = Vec::new();
        for (own, cone) in cones.enumerate() {
            grid.in_the_way(panels, own, &cone, &mut found);
            obstacles.members.extend_from_slice(&found);
            obstacles.first.push(obstacles.members.len() as u32);
        }
        obstacles
    }

    /// Those of one mirror, as its rays see them.
    pub fn of(&self, mirror: usize, panels: &[Panel]) -> Vec<Barrier> {
        let (from, to) = (self.first[mirror] as usize, self.first[mirror + 1] as usize);
        let others = self.members[from..to]
            .iter()
            .map(|&member| &panels[member as usize]);
        let centre_m = panels[mirror].centre_m;
        others
            .map(|other| Barrier::new(other, other.centre_m - centre_m))
            .collect()
    }
}
