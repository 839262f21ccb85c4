//! Traces rays and counts what becomes of them.

mod bundle;

use std::ops::Range;

use field::Plan;
use geometry::{LANES, Vec3, abreast};

use crate::aperture::Aperture;

use crate::draw::Draws;
use crate::error::RaysError;
use crate::grid::{Cone, Grid};
use crate::mirror::Mirror;
use crate::obstacles::Obstacles;
use crate::panel::{Panel, square_to};
use crate::pillar::Pillar;
use crate::scene::{Posture, Surface};
use crate::sun_shape::{SunPoints, SunShape};
use crate::table::Table;
use crate::tally::{STEPS, Tally};

use bundle::{Hits, Ways, Whole};

/// Rays farther than this from the middle of their bundle are looked for among the panels of this one [rad].
const WIDEST_RAD: f64 = 1.5;
/// Ways through the air are tabled to so many times the way to the aperture's centre.
const LONGEST_WAYS: f64 = 2.0;

/// A field under one sun, ready to be traced.
pub struct Judge<'a> {
    plan: &'a Plan,
    posture: &'a Posture,
    surface: Surface<'a>,
    sun_points: SunPoints,
    /// Two axes square to the sun's direction.
    sun_axes: [Vec3; 2],
    aperture: Aperture,
    panels: Vec<Panel>,
    /// What may shade and what may block each mirror.
    shaders: Obstacles,
    blockers: Obstacles,
    /// What else shades the field.
    pillars: Vec<Pillar>,
    /// Share of light reflected, by the cosine of incidence.
    reflectance: Table,
    /// Share of light left, by the way through the air [m].
    transmittance: Table,
}

impl<'a> Judge<'a> {
    /// Makes a field ready.
    ///
    /// # Errors
    /// [`RaysError`] when posture, sun or aperture cannot be traced.
    pub fn new(
        plan: &'a Plan,
        posture: &'a Posture,
        surface: Surface<'a>,
        sun_shape: SunShape,
        aperture: Aperture,
    ) -> Result<Self, RaysError> {
        posture.check(plan)?;
        aperture.check()?;
        sun_shape.check()?;
        let panels: Vec<Panel> = (0..plan.mirror_count())
            .map(|mirror| panel_of(plan, posture, mirror))
            .collect();
        let farthest_m = panels
            .iter()
            .map(|panel| panel.centre_m.distance(aperture.centre_m))
            .fold(aperture.width_m, f64::max);
        let mut judge = Self {
            plan,
            posture,
            surface,
            sun_points: SunPoints::new(&sun_shape),
            sun_axes: square_to(posture.sun),
            aperture,
            panels,
            shaders: Obstacles::default(),
            blockers: Obstacles::default(),
            pillars: Vec::new(),
            reflectance: Table::new(1.0, surface.reflectance),
            transmittance: Table::new(LONGEST_WAYS * farthest_m, surface.transmittance),
        };
        judge.list_obstacles();
        Ok(judge)
    }

    /// Lets a tower shade the field. It does not stand in the way of reflected light.
    #[must_use]
    pub fn with_tower(mut self, pillars: &[Pillar]) -> Self {
        self.pillars = pillars.to_vec();
        self
    }

    /// Traces some rounds, each one ray from every mirror. The same round of the same seed always
    /// gives the same rays, however rounds are split into calls; about 64 rounds a call make good
    /// use of the machine.
    #[must_use]
    pub fn trace(&self, rounds: Range<u64>, seed: u64) -> Tally {
        self.trace_mirrors(0..self.panels.len(), rounds, seed)
    }

    /// As [`Judge::trace`], for some mirrors only, in the midst of all others. Tallies of the same
    /// mirrors may be added.
    #[must_use]
    pub fn trace_mirrors(&self, mirrors: Range<usize>, rounds: Range<u64>, seed: u64) -> Tally {
        let Aperture { columns, rows, .. } = self.aperture;
        let mut tally = Tally::new(columns, rows, self.aperture.part_m2());
        if rounds.is_empty() {
            return tally;
        }
        let mut sums = vec![[[0; LANES]; STEPS]; rounds.clone().count().div_ceil(LANES)];
        for index in mirrors {
            let (mirror, ways) = (self.mirror(index), self.ways(index));
            let draws = Draws::new(seed, index);
            for (first_round, steps) in rounds.clone().step_by(LANES).zip(&mut sums) {
                let hits = abreast(
                    #[inline(always)]
                    || self.trace_bundle(&mirror, &ways, &draws, first_round, steps),
                );
                let traced = (rounds.end - first_round).min(LANES as u64) as usize;
                for lane in 0..traced {
                    tally.hit(hits.part[lane], hits.light[lane]);
                }
            }
        }
        close_rounds(&sums, rounds.count(), &mut tally);
        tally
    }

    /// Follows eight rays of a mirror and adds them to the sums of their rounds.
    #[inline(always)]
    fn trace_bundle(
        &self,
        mirror: &Mirror,
        ways: &Ways,
        draws: &Draws,
        first_round: u64,
        steps: &mut [Whole; STEPS],
    ) -> Hits {
        let shares = draws.points(first_round);
        let fates = self.follow(mirror, ways, &shares, draws, first_round);
        let parts = self.aperture.parts(&fates.meets_m);
        fates.count(mirror.area_m2, &parts, steps)
    }

    fn ways(&self, index: usize) -> Ways {
        Ways {
            shaders: self.shaders.of(index, &self.panels),
            blockers: self.blockers.of(index, &self.panels),
        }
    }

    fn mirror(&self, index: usize) -> Mirror {
        Mirror::new(
            self.plan,
            self.posture,
            &self.surface,
            self.panels[index],
            index,
        )
    }

    /// Lists what may stand in the way of light from the sun and of light sent back.
    fn list_obstacles(&mut self) {
        let grid = Grid::new(&self.panels);
        let mirrors = || (0..self.panels.len()).map(|index| self.mirror(index));
        let from_sun = |mirror: Mirror| Cone {
            axis: self.posture.sun,
            spread: self.sun_points.most_rad(),
            sag_m: mirror.most_sag_m(),
        };
        let sent_back = |mirror: Mirror| {
            let (sun, normal) = (self.posture.sun, mirror.panel.normal);
            let widest_rad = self.sun_points.most_rad() + 2.0 * mirror.most_turn_rad();
            Cone {
                axis: 2.0 * sun.dot(normal) * normal - sun,
                spread: libm::tan(widest_rad.min(WIDEST_RAD)),
                sag_m: mirror.most_sag_m(),
            }
        };
        let shaders = Obstacles::new(&grid, &self.panels, mirrors().map(from_sun));
        let blockers = Obstacles::new(&grid, &self.panels, mirrors().map(sent_back));
        (self.shaders, self.blockers) = (shaders, blockers);
    }
}

/// Takes the first `count` rounds into the tally.
fn close_rounds(sums: &[[Whole; STEPS]], count: usize, tally: &mut Tally) {
    for round in 0..count {
        let steps = sums[round / LANES].map(|step| step[round % LANES]);
        tally.close_round(&steps);
    }
}

fn panel_of(plan: &Plan, posture: &Posture, mirror: usize) -> Panel {
    let half_m = [0.5 * plan.width_m[mirror], 0.5 * plan.height_m[mirror]];
    let normal = posture.normals[mirror].normalize();
    Panel::new(
        plan.centre_m(mirror),
        normal,
        posture.width_edges[mirror],
        half_m,
    )
}

#[cfg(test)]
mod tests;
