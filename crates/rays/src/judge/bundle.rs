//! Eight rays of one mirror, one of each of eight rounds, and what becomes of them.

use geometry::lane::{set_vector, vector};
use geometry::{LANES, Lane, LaneVec3, Vec3};

use crate::aperture::Parts;
use crate::draw::{Draws, bell};
use crate::mirror::Mirror;
use crate::panel::{Barrier, Rays, Sights, single};
use crate::tally::{STEPS, shares};

use super::Judge;

/// A whole number for each lane.
pub(super) type Whole = [u64; LANES];

const NONE: Lane = [0.0; LANES];

/// Other panels that rays of one mirror may meet.
pub(super) struct Ways {
    /// On the way from the sun.
    pub shaders: Vec<Barrier>,
    /// On the way to the aperture.
    pub blockers: Vec<Barrier>,
}

/// What becomes of eight rays: the factors of the loss chain and where they end.
#[derive(Clone, Copy, Debug)]
pub(super) struct Fates {
    /// Share of the light on the spot, square to the sun, that it catches.
    caught: Lane,
    lit: Lane,
    /// Share that meets no panel on its way from the mirror.
    unblocked: Lane,
    reflectance: Lane,
    transmittance: Lane,
    /// Where they meet the aperture's plane or mantle, from its centre; not finite where they do not.
    pub meets_m: LaneVec3,
}

/// What eight rays bring to the flux map.
pub(super) struct Hits {
    pub part: [usize; LANES],
    /// Light [shares]; nothing of rays that miss.
    pub light: Whole,
}

impl Judge<'_> {
    /// Follows rays from points of the panel, given as shares of its width and height.
    #[inline(always)]
    pub(super) fn follow(
        &self,
        mirror: &Mirror,
        ways: &Ways,
        share: &[Lane; 2],
        draws: &Draws,
        first_round: u64,
    ) -> Fates {
        let words = draws.words(first_round);
        let (origin_m, leaning) = mirror.spots(&self.surface, share);
        let mut rays = Rays {
            origin_m,
            direction: self.to_sun(&self.sun_points.draw(&words[0], &words[1])),
        };
        let mut fates = Fates::of_light_caught(&rays.direction, &leaning);
        fates.lit = open(&ways.shaders, &rays, &[f64::INFINITY; LANES]);
        for pillar in &self.pillars {
            pillar.close(mirror.panel.centre_m, &rays, &mut fates.lit);
        }
        let errors = bells(&words[2], &words[3]);
        let cosine = reflect(mirror, &leaning, &errors, &mut rays.direction);
        let from_m = mirror.panel.centre_m - self.aperture.centre_m;
        let distance_m = self.aperture.distances_m(from_m, &rays);
        fates.unblocked = open(&ways.blockers, &rays, &distance_m);
        fates.reflectance = self.reflectance.at(&cosine);
        fates.transmittance = self.transmittance.at(&ways_m(&distance_m, from_m));
        for lane in 0..LANES {
            let way_m = distance_m[lane] * vector(&rays.direction, lane);
            let meets_m = from_m + vector(&rays.origin_m, lane) + way_m;
            set_vector(&mut fates.meets_m, lane, meets_m);
        }
        fates
    }

    /// Towards points of the sun.
    #[inline(always)]
    fn to_sun(&self, off_rad: &[Lane; 2]) -> LaneVec3 {
        let mut direction = [NONE; 3];
        for lane in 0..LANES {
            let off = off_rad[0][lane] * self.sun_axes[0] + off_rad[1][lane] * self.sun_axes[1];
            set_vector(&mut direction, lane, (self.posture.sun + off).normalize());
        }
        direction
    }
}

/// Which ways are open within their reach: 1 where no panel stands in them, else 0.
#[inline(always)]
fn open(barriers: &[Barrier], rays: &Rays, reach_m: &Lane) -> Lane {
    let (sights, reach_m) = (Sights::along(rays), single(reach_m));
    let mut open = [1.0; LANES];
    for barrier in barriers {
        barrier.close(&sights, &reach_m, &mut open);
    }
    let mut open_lane = NONE;
    for lane in 0..LANES {
        open_lane[lane] = f64::from(open[lane]);
    }
    open_lane
}

#[inline(always)]
fn bells(radii: &Whole, turns: &Whole) -> [Lane; 2] {
    let mut numbers = [NONE; 2];
    for lane in 0..LANES {
        let [a, b] = bell([radii[lane], turns[lane]]);
        numbers[0][lane] = a;
        numbers[1][lane] = b;
    }
    numbers
}

/// Turns directions to the sun into those of the reflected rays; the cosines of their incidence.
#[inline(always)]
fn reflect(
    mirror: &Mirror,
    leaning: &LaneVec3,
    errors: &[Lane; 2],
    direction: &mut LaneVec3,
) -> Lane {
    let mut cosines = NONE;
    for lane in 0..LANES {
        let to_sun = vector(direction, lane);
        let normal = mirror.turned(vector(leaning, lane), [errors[0][lane], errors[1][lane]]);
        let cosine = to_sun.dot(normal);
        set_vector(direction, lane, 2.0 * cosine * normal - to_sun);
        cosines[lane] = cosine;
    }
    cosines
}

/// Ways through the air: to the aperture's plane, or as far as its centre where rays do not come to it.
#[inline(always)]
fn ways_m(distance_m: &Lane, from_m: Vec3) -> Lane {
    let to_centre_m = from_m.length();
    let mut ways_m = *distance_m;
    for way_m in &mut ways_m {
        if *way_m == f64::INFINITY {
            *way_m = to_centre_m;
        }
    }
    ways_m
}

impl Fates {
    #[inline(always)]
    fn of_light_caught(to_sun: &LaneVec3, leaning: &LaneVec3) -> Self {
        let mut fates = Self {
            caught: NONE,
            lit: NONE,
            unblocked: NONE,
            reflectance: NONE,
            transmittance: NONE,
            meets_m: [NONE; 3],
        };
        for lane in 0..LANES {
            fates.caught[lane] = vector(to_sun, lane).dot(vector(leaning, lane)).max(0.0);
        }
        fates
    }

    /// Adds the rays, each of a round of its own, to the sums of these rounds.
    #[inline(always)]
    pub fn count(&self, area_m2: f64, parts: &Parts, steps: &mut [Whole; STEPS]) -> Hits {
        let mut light = [0; LANES];
        for lane in 0..LANES {
            let caught_m2 = area_m2 * self.caught[lane];
            let lit_m2 = caught_m2 * self.lit[lane];
            let unblocked_m2 = lit_m2 * self.unblocked[lane];
            let reflected_m2 = unblocked_m2 * self.reflectance[lane];
            let sent_m2 = reflected_m2 * self.transmittance[lane];
            light[lane] = shares(sent_m2 * parts.within[lane]);
            steps[0][lane] += shares(area_m2);
            steps[1][lane] += shares(caught_m2);
            steps[2][lane] += shares(lit_m2);
            steps[3][lane] += shares(unblocked_m2);
            steps[4][lane] += shares(reflected_m2);
            steps[5][lane] += shares(sent_m2);
            steps[6][lane] += light[lane];
        }
        Hits {
            part: parts.index,
            light,
        }
    }
}
