//! Traces rays and counts what becomes of them.

use std::ops::Range;

use field::Plan;
use geometry::Vec3;

use crate::aperture::Aperture;
use crate::draw::{Draws, bell};
use crate::error::RaysError;
use crate::grid::Grid;
use crate::panel::{Panel, square_to};
use crate::pillar::Pillar;
use crate::scene::{Posture, Surface};
use crate::sun_shape::{SunPoints, SunShape};
use crate::tally::{STEPS, Tally, shares};

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
    grid: Grid,
    /// What else shades the field.
    pillars: Vec<Pillar>,
}

/// What is the same for all rays of one mirror.
struct Mirror {
    index: usize,
    panel: Panel,
    area_m2: f64,
    curvature_per_m: f64,
    half_facet_m: f64,
    /// Directions in the panel's plane, in and across the plane of incidence, each as long as the
    /// standard deviation of the normal that way [rad].
    errors: [Vec3; 2],
    draws: Draws,
}

/// What becomes of one ray: the factors of the loss chain and where it ends.
#[derive(Clone, Copy, Debug, Default)]
struct Fate {
    /// Share of the light on the spot, square to the sun, that it catches.
    caught: f64,
    lit: bool,
    unblocked: bool,
    reflectance: f64,
    transmittance: f64,
    /// Where it meets the aperture's plane.
    meets_m: Option<Vec3>,
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
        Ok(Self {
            plan,
            posture,
            surface,
            sun_points: SunPoints::new(&sun_shape),
            sun_axes: square_to(posture.sun),
            aperture,
            grid: Grid::new(&panels),
            panels,
            pillars: Vec::new(),
        })
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
        let mut sums = vec![[0_u64; STEPS]; rounds.clone().count()];
        for index in mirrors {
            let mirror = self.mirror(index, seed);
            for (round, steps) in rounds.clone().zip(&mut sums) {
                let fate = self.trace_ray(&mirror, round);
                self.count(&fate, mirror.area_m2, steps, &mut tally);
            }
        }
        for steps in &sums {
            tally.close_round(steps);
        }
        tally
    }

    fn mirror(&self, index: usize, seed: u64) -> Mirror {
        let panel = self.panels[index];
        let posture = self.posture;
        let cosine = posture.sun.dot(panel.normal).max(0.01);
        let aside = posture.sun - posture.sun.dot(panel.normal) * panel.normal;
        let in_plane = aside.try_normalize().unwrap_or(panel.across);
        let across = panel.normal.cross(in_plane);
        let slope_rad2 = self.surface.slope_error_rad * self.surface.slope_error_rad;
        // A turn of the normal moves the beam twice as far in the plane of incidence and
        // 2·cosine as far across it.
        let in_plane_rad2 = slope_rad2 + posture.blur_in_plane_rad2[index] / 4.0;
        let across_rad2 = slope_rad2 + posture.blur_across_rad2[index] / (4.0 * cosine * cosine);
        let area_m2 = self.plan.area_m2(index);
        let [columns, rows] = self.surface.facets;
        let facet_m2 = area_m2 / (columns * rows) as f64;
        Mirror {
            index,
            panel,
            area_m2,
            curvature_per_m: 0.5 / self.plan.focal_length_m[index],
            half_facet_m: 0.5 * facet_m2.sqrt(),
            errors: [in_plane_rad2.sqrt() * in_plane, across_rad2.sqrt() * across],
            draws: Draws::new(seed, index),
        }
    }

    /// Follows the mirror's ray of one round.
    #[inline]
    fn trace_ray(&self, mirror: &Mirror, round: u64) -> Fate {
        self.trace_from(mirror, mirror.draws.point(round), round)
    }

    /// Follows a ray from a point of the panel, given as shares of its width and height.
    #[inline]
    fn trace_from(&self, mirror: &Mirror, share: [f64; 2], round: u64) -> Fate {
        let mut fate = Fate::default();
        let words = mirror.draws.block(round, 0);
        let (origin_m, leaning) = mirror.spot(&self.surface, share);
        let to_sun = self.to_sun([words[0], words[1]]);
        fate.caught = to_sun.dot(leaning);
        if fate.caught <= 0.0 {
            fate.caught = 0.0;
            return fate;
        }
        fate.lit = !self.is_met(mirror, origin_m, to_sun, f64::INFINITY)
            && !self
                .pillars
                .iter()
                .any(|pillar| pillar.is_met(origin_m, to_sun));
        if !fate.lit {
            return fate;
        }
        let errors = bell([words[2], words[3]]);
        let normal =
            (leaning + errors[0] * mirror.errors[0] + errors[1] * mirror.errors[1]).normalize();
        let cosine = to_sun.dot(normal);
        let reflected = self.scatter(mirror, round, 2.0 * cosine * normal - to_sun);
        let distance_m = self.aperture.distance_m(origin_m, reflected);
        fate.unblocked = !self.is_met(
            mirror,
            origin_m,
            reflected,
            distance_m.unwrap_or(f64::INFINITY),
        );
        if fate.unblocked {
            let way_m = distance_m.unwrap_or_else(|| origin_m.distance(self.aperture.centre_m));
            fate.reflectance = (self.surface.reflectance)(cosine.clamp(0.0, 1.0));
            fate.transmittance = (self.surface.transmittance)(way_m);
            fate.meets_m = distance_m.map(|distance_m| origin_m + distance_m * reflected);
        }
        fate
    }

    #[inline]
    fn is_met(&self, mirror: &Mirror, origin_m: Vec3, direction: Vec3, reach_m: f64) -> bool {
        self.grid
            .is_met(&self.panels, mirror.index, origin_m, direction, reach_m)
    }

    /// Towards a point of the sun.
    #[inline]
    fn to_sun(&self, words: [u32; 2]) -> Vec3 {
        let [a, b] = self.sun_points.draw(words);
        (self.posture.sun + a * self.sun_axes[0] + b * self.sun_axes[1]).normalize()
    }

    /// A reflected ray after the layer has spread it.
    #[inline]
    fn scatter(&self, mirror: &Mirror, round: u64, reflected: Vec3) -> Vec3 {
        let scatter_rad = self.surface.scatter_rad;
        if scatter_rad == 0.0 {
            return reflected;
        }
        let [a, b, ..] = mirror.draws.block(round, 1);
        let [x, y] = bell([a, b]).map(|share| scatter_rad * share);
        let [right, up] = square_to(reflected);
        (reflected + x * right + y * up).normalize()
    }

    /// Adds one ray to the sums of its round.
    #[inline]
    fn count(&self, fate: &Fate, area_m2: f64, steps: &mut [u64; STEPS], tally: &mut Tally) {
        let caught_m2 = area_m2 * fate.caught;
        steps[0] += shares(area_m2);
        steps[1] += shares(caught_m2);
        if !fate.lit {
            return;
        }
        steps[2] += shares(caught_m2);
        if !fate.unblocked {
            return;
        }
        steps[3] += shares(caught_m2);
        steps[4] += shares(caught_m2 * fate.reflectance);
        let light = shares(caught_m2 * fate.reflectance * fate.transmittance);
        steps[5] += light;
        let part = fate.meets_m.and_then(|meets_m| self.aperture.part(meets_m));
        if let Some(part) = part {
            steps[6] += light;
            tally.hit(part, light);
        }
    }
}

impl Mirror {
    /// The spot of the panel's facets at `share` (−½ … ½) of its width and height, and its normal, so
    /// long that its product with a ray's direction is the light caught by each m² of the panel's
    /// plane.
    #[inline]
    fn spot(&self, surface: &Surface, share: [f64; 2]) -> (Vec3, Vec3) {
        let panel = &self.panel;
        let at_m = [
            2.0 * share[0] * panel.half_m[0],
            2.0 * share[1] * panel.half_m[1],
        ];
        let middle_m = [0, 1].map(|axis| {
            let facets = surface.facets[axis] as f64;
            let from_edge = ((share[axis] + 0.5) * facets).floor().min(facets - 1.0);
            2.0 * ((from_edge + 0.5) / facets - 0.5) * panel.half_m[axis]
        });
        let off_m = [at_m[0] - middle_m[0], at_m[1] - middle_m[1]];
        let canted = middle_m.map(|along_m| self.curvature_per_m * along_m);
        let facet = surface
            .shape
            .at(off_m, self.curvature_per_m, self.half_facet_m);
        let height_m = facet.height_m + canted[0] * off_m[0] + canted[1] * off_m[1];
        let slope = [facet.slope[0] + canted[0], facet.slope[1] + canted[1]];
        let origin_m = panel.centre_m
            + at_m[0] * panel.across
            + at_m[1] * panel.along
            + height_m * panel.normal;
        let leaning = panel.normal - slope[0] * panel.across - slope[1] * panel.along;
        (origin_m, leaning)
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
