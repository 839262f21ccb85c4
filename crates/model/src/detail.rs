//! One chosen design in full: hours, mirrors and parts, for tables and charts.

use drive::Mechanism;
use field::{Plan, Stance};
use geometry::{LANES, Vec3};
use optics::MirrorLight;
use plant::{HourOut, PlantParts, YearTotals};
use rayon::prelude::*;
use scenario::Design;
use structure::TowerParts;

use crate::case::Case;
use crate::evaluate::{Scratch, Year, live, size_plant};
use crate::fidelity::Fidelity;
use crate::flux_map::FluxMap;
use crate::infeasible::Infeasible;
use crate::lay::lay;
use crate::light::{Field, Hoods};
use crate::margins::Margins;
use crate::motion::{beam_miss_rad2, vector};

/// A design in full.
pub struct Detail {
    /// Where every mirror stands.
    pub plan: Plan,
    /// The year of each mirror, in plan order.
    pub mirrors: Vec<MirrorRow>,
    /// Every hour of the year.
    pub hours: Vec<HourOut>,
    /// Sums over the year.
    pub year: YearTotals,
    /// How its drives turn the mirrors.
    pub mechanism: Mechanism,
    /// Unit vector to the sun under which each string is set.
    pub alignment_suns: Vec<Vec3>,
    /// The tower.
    pub tower: TowerParts,
    /// Receiver, pipes, store and generator.
    pub plant: PlantParts,
    /// Where on the aperture the light falls.
    pub flux: FluxMap,
}

/// The year of one mirror; shares are weighted by DNI and what is left at that step.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct MirrorRow {
    /// Share of the year's light on the panel that no other panel shades.
    pub lit_share: f64,
    /// Share of its lit part whose light no other panel blocks.
    pub unblocked_share: f64,
    /// Share of the light towards the aperture that enters it.
    pub intercept: f64,
    /// Beam error of the shared drive, rms over the year's sun while the drive follows it [rad].
    pub residual_rad: f64,
    /// Light through the aperture in the year [J].
    pub aperture_j: f64,
}

/// Looks at one design in full, at fidelity `Every`.
///
/// # Errors
/// [`Infeasible`] as [`crate::evaluate`] has it.
pub fn detail(case: &Case, design: &Design) -> Result<Detail, Infeasible> {
    let mut scratch = Scratch::default();
    let mut margins = Margins::unknown();
    let site = lay(case, design, &mut margins, &mut scratch)?.site;
    let mut hours = Vec::with_capacity(case.weather.dni_w_m2.len());
    let Year { light, plant, heat } =
        live(case, design, &site, Fidelity::Every, &mut scratch, |hour| {
            hours.push(*hour);
        });
    let (parts, tower) = size_plant(case, design, &plant)?;
    let mirrors = mirror_rows(case, &site.field());
    let flux = FluxMap::of(case, &site.field(), &site.mechanism, &light);
    Ok(Detail {
        flux,
        mirrors,
        hours,
        year: heat.totals,
        mechanism: site.mechanism,
        alignment_suns: site.alignment.suns(&site.plan),
        tower,
        plant: parts,
        plan: site.plan,
    })
}

fn mirror_rows(case: &Case, field: &Field) -> Vec<MirrorRow> {
    let around = field.surroundings(case.sun.min_elevation_rad);
    let hoods = Hoods::new(field, &around);
    (0..field.plan.strings.len())
        .into_par_iter()
        .map(|string| string_rows(case, field, &hoods, string))
        .collect::<Vec<_>>()
        .concat()
}

/// Sums over the year's sun of one mirror.
#[derive(Clone, Copy, Default)]
struct MirrorYear {
    cosine: f64,
    lit: f64,
    unblocked: f64,
    arriving: f64,
    inside: f64,
    followed_j_m2: f64,
    miss: f64,
}

fn string_rows(case: &Case, field: &Field, hoods: &Hoods, string: usize) -> Vec<MirrorRow> {
    let row = &field.plan.strings[string];
    let mut years = vec![MirrorYear::default(); row.mirror_count];
    let targets: Vec<Vec3> = row
        .mirrors()
        .map(|mirror| field.plan.target(mirror))
        .collect();
    let mut stance = Stance::default();
    for (block, suns) in case.sun.direction.iter().enumerate() {
        field.drives.stand(field.plan, string, suns, &mut stance);
        let follows: [bool; LANES] = std::array::from_fn(|lane| {
            let sun = vector(suns, lane);
            field.drives.follows(field.plan, string, sun)
        });
        let weights = &case.sun.dni_j_m2[block * LANES..(block + 1) * LANES];
        let all = 0..row.mirror_count;
        field.scene(hoods.of(string)).under(suns).each_mirror(
            string,
            all,
            &stance,
            |place, light| {
                for (lane, &dni_j_m2) in weights.iter().enumerate() {
                    let normal = vector(&stance.normals[place], lane);
                    let miss = beam_miss_rad2(vector(suns, lane), normal, targets[place]);
                    years[place].add(dni_j_m2, light, lane);
                    if follows[lane] {
                        years[place].add_miss(dni_j_m2, miss);
                    }
                }
            },
        );
    }
    let mirrors = row.mirrors();
    mirrors
        .zip(&years)
        .map(|(mirror, year)| year.row(field, mirror))
        .collect()
}

impl MirrorYear {
    /// Adds one sun, `dni_j_m2` of whose light falls on a square metre facing it.
    fn add(&mut self, dni_j_m2: f64, light: &MirrorLight, lane: usize) {
        let cosine = dni_j_m2 * light.cosine[lane];
        let lit = cosine * light.lit[lane];
        let unblocked = lit * light.unblocked[lane];
        let arriving = unblocked * light.reflectance[lane] * light.transmittance;
        self.cosine += cosine;
        self.lit += lit;
        self.unblocked += unblocked;
        self.arriving += arriving;
        self.inside += arriving * light.intercept[lane];
    }

    /// Adds what the beam misses by under a sun that the drive follows.
    fn add_miss(&mut self, dni_j_m2: f64, miss_rad2: f64) {
        self.followed_j_m2 += dni_j_m2;
        self.miss += dni_j_m2 * miss_rad2;
    }

    fn row(&self, field: &Field, mirror: usize) -> MirrorRow {
        MirrorRow {
            lit_share: self.lit / self.cosine,
            unblocked_share: self.unblocked / self.lit,
            intercept: self.inside / self.arriving,
            residual_rad: (self.miss / self.followed_j_m2.max(f64::MIN_POSITIVE))
                .max(0.0)
                .sqrt(),
            aperture_j: self.inside * field.plan.area_m2(mirror),
        }
    }
}
