//! The fast model of light against rays, on a design or a given plan, for instants or the year.

mod computed;
mod moments;
mod pair;
mod traced;
mod weighted;

use field::{Plan, Stance};
use geometry::{LANES, LaneVec3, Vec3, lane};
use rayon::prelude::*;
use rays::{RaysError, Tally};
use scenario::Design;

use crate::case::Case;
use crate::evaluate::Scratch;
use crate::infeasible::Infeasible;
use crate::inputs;
use crate::lay::lay;
use crate::light::{Field, Hoods};
use crate::margins::Margins;
use crate::site::Sited;
use crate::stand::stand;

use computed::Computed;
pub use moments::MirrorMoment;
pub use pair::{Judgement, LOSSES, Losses, Pair, YearJudgement};
use weighted::Weighted;

/// Parts of the aperture's flux map, each way.
const FLUX_PARTS: usize = 15;

/// A moment to be judged.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Moment {
    /// Unit vector to the sun, which is up.
    pub sun: Vec3,
    /// Direct normal irradiance [W/m²].
    pub dni_w_m2: f64,
}

/// How many rays, and which.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Care {
    /// Rays from each mirror under each sun; two or more, so that errors can be told.
    pub rounds: u64,
    /// Chooses the random numbers.
    pub seed: u32,
}

/// A field ready to be judged.
pub struct Trial {
    site: Sited,
    sun_shape: rays::SunShape,
    margins: Margins,
}

/// Up to eight suns with how every string stands under them; a short block repeats its last sun.
struct Block<'a> {
    field: Field<'a>,
    suns: Vec<Vec3>,
    lanes: LaneVec3,
    stances: Vec<Stance>,
}

/// What both models say of one sun.
struct Judged {
    fast: Computed,
    rays: Tally,
}

impl Trial {
    /// The field that a design makes of itself.
    ///
    /// # Errors
    /// [`Infeasible`] when it breaks a limit before it stands.
    pub fn of_design(case: &Case, design: &Design) -> Result<Self, Infeasible> {
        let mut margins = Margins::unknown();
        let scratch = &mut Scratch::default();
        let site = lay(case, design, &mut margins, scratch)?.site;
        Ok(Self::new(case, site, margins))
    }

    /// A given plan, with all else as a design has it; it may break limits.
    ///
    /// # Errors
    /// [`Infeasible`] when a string's inputs make no sense together.
    pub fn of_plan(case: &Case, design: &Design, plan: Plan) -> Result<Self, Infeasible> {
        let mut margins = Margins::unknown();
        let scratch = &mut Scratch::default();
        let stood = stand(case, design, plan, &mut margins, scratch)?;
        Ok(Self::new(case, stood.site, margins))
    }

    fn new(case: &Case, site: Sited, margins: Margins) -> Self {
        Self {
            site,
            sun_shape: inputs::traced_sun_shape(&case.scenario.weather),
            margins,
        }
    }

    /// Where the mirrors stand.
    #[must_use]
    pub const fn plan(&self) -> &Plan {
        &self.site.plan
    }

    /// How far the field keeps from its limits, as far as it was looked at.
    #[must_use]
    pub const fn margins(&self) -> &Margins {
        &self.margins
    }

    /// Judges every moment. The same bytes on any number of threads.
    ///
    /// # Errors
    /// [`RaysError`] when a sun is down or the field cannot be traced.
    pub fn judge(&self, moments: &[Moment], care: Care) -> Result<Vec<Judgement>, RaysError> {
        let suns: Vec<Vec3> = moments.iter().map(|moment| moment.sun).collect();
        let judged = self.under(&suns, FLUX_PARTS, care)?;
        let judgements = judged.iter().zip(moments).map(|(judged, moment)| {
            Judgement::new(&judged.fast, &judged.rays, FLUX_PARTS, moment.dni_w_m2)
        });
        Ok(judgements.collect())
    }

    /// Judges the year by the node suns, each weighted by its share of the year's direct sun.
    ///
    /// # Errors
    /// [`RaysError`] when the field cannot be traced.
    pub fn judge_year(&self, case: &Case, care: Care) -> Result<YearJudgement, RaysError> {
        let nodes = (0..case.sun.dni_j_m2.len()).map(|node| {
            let sun = lane::vector(&case.sun.direction[node / LANES], node % LANES);
            (sun, case.sun.dni_j_m2[node])
        });
        let (suns, weights_j_m2): (Vec<Vec3>, Vec<f64>) =
            nodes.filter(|(_, weight)| *weight != 0.0).unzip();
        let judged = self.under(&suns, 1, care)?;
        let mut sums = Weighted::default();
        for (judged, &weight_j_m2) in judged.iter().zip(&weights_j_m2) {
            sums.add(&judged.fast, &judged.rays.verdict(), weight_j_m2);
        }
        Ok(sums.judgement())
    }

    /// Every mirror at every moment, by the fast model; mirrors in the plan's order.
    #[must_use]
    pub fn mirror_moments(&self, moments: &[Moment]) -> Vec<Vec<MirrorMoment>> {
        let suns: Vec<Vec3> = moments.iter().map(|moment| moment.sun).collect();
        let field = self.site.field();
        let around = field.surroundings(lowest_rad(&suns));
        let hoods = Hoods::new(&field, &around);
        let blocks = suns.chunks(LANES).map(|suns| self.block(suns));
        blocks
            .flat_map(|block| moments::mirror_moments(&block, &hoods))
            .collect()
    }

    /// Both models under every sun, with a flux map of so many parts each way.
    fn under(&self, suns: &[Vec3], parts: usize, care: Care) -> Result<Vec<Judged>, RaysError> {
        let field = self.site.field();
        let around = field.surroundings(lowest_rad(suns));
        let hoods = Hoods::new(&field, &around);
        let mut judged = Vec::with_capacity(suns.len());
        for (index, suns) in suns.chunks(LANES).enumerate() {
            let block = self.block(suns);
            let fast = computed::under(&block, &hoods, parts);
            let rays = traced::under(&block, &self.sun_shape, parts, care, index * LANES)?;
            let both = fast.into_iter().zip(rays);
            judged.extend(both.map(|(fast, rays)| Judged { fast, rays }));
        }
        Ok(judged)
    }

    fn block(&self, suns: &[Vec3]) -> Block<'_> {
        let field = self.site.field();
        let last = suns.len().saturating_sub(1);
        let lanes = lane::columns(&std::array::from_fn(|lane| suns[lane.min(last)]));
        let strings: Vec<usize> = (0..field.plan.strings.len()).collect();
        let stances = strings
            .par_iter()
            .map(|&string| {
                let mut stance = Stance::default();
                field.drives.stand(field.plan, string, &lanes, &mut stance);
                stance
            })
            .collect();
        Block {
            field,
            suns: suns.to_vec(),
            lanes,
            stances,
        }
    }
}

/// Lowest sun that neighbours are looked for; a sun below it throws shadows without end [rad].
const LOWEST_SUN_RAD: f64 = 0.02;

/// Elevation of the lowest sun, a little less so that none of its shaders is left out [rad].
fn lowest_rad(suns: &[Vec3]) -> f64 {
    let lowest = suns.iter().map(|sun| sun.z).fold(1.0, f64::min);
    (0.99 * libm::asin(lowest)).max(LOWEST_SUN_RAD)
}

#[cfg(test)]
mod tests;
