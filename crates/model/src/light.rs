//! Light of a field over the sun table and over the year: scored, sampled, whole or hour by hour.

use std::ops::Range;

use drive::Drives;
use field::{Plan, Stance};
use geometry::{LANES, LaneVec3, Vec3};
use optics::{
    Aperture, LightSums, Mirrors, Neighbourhood, Pillar, STEPS, WATCHED, light_of_string,
};
use rayon::prelude::*;
use sky::{Instant, NODES, SunTable};

/// Strings handed to one thread at a time: a constant, so that results never depend on threads.
const STRINGS_PER_CHUNK: usize = 16;

/// Whole strings looked at by the sampled pass, at least so many and at least with so many mirrors:
/// in a field of radial strings on steep rails, blocking varies from string to string.
const SAMPLE_STRINGS: usize = 40;
const SAMPLE_MIRRORS: usize = 900;

/// When only some strings are looked at, neighbours that could shade only under suns lower than this
/// are left out: it changes a year's light by less than 0.01 % and halves the time [rad].
const LOWEST_SHADING_SUN_RAD: f64 = 12.0 * std::f64::consts::PI / 180.0;

/// Where, in half-lengths from the middle, the two mirrors stand that speak for a string when
/// places are compared: the root mean square of an even spread, so that the residual is seen.
const SPOKESMAN_SHARE: f64 = 0.577;

/// Energy after each step of the loss chain over the year [J].
pub type Chain = [f64; STEPS];

/// A plan with everything that its light depends on.
#[derive(Clone, Copy)]
pub struct Field<'a> {
    /// Where the mirrors stand.
    pub plan: &'a Plan,
    /// How their drives turn them.
    pub drives: &'a Drives,
    /// The panels.
    pub mirrors: &'a Mirrors,
    /// Where the light goes.
    pub aperture: &'a Aperture,
    /// What of the tower shades the field.
    pub tower: &'a [Pillar],
}

impl Field<'_> {
    /// Who shades or blocks whom, under suns no lower than `lowest_sun_rad`.
    #[must_use]
    pub fn hood(&self, lowest_sun_rad: f64) -> Neighbourhood {
        Neighbourhood::new(self.plan, lowest_sun_rad).with_tower(self.plan, self.tower)
    }

    /// The same for some mirrors only, without neighbours that matter under the lowest suns alone.
    fn hood_of(&self, mirrors: impl IntoIterator<Item = usize>) -> Neighbourhood {
        Neighbourhood::of_mirrors(self.plan, LOWEST_SHADING_SUN_RAD, mirrors)
            .with_tower(self.plan, self.tower)
    }

    /// Adds the light of some mirrors of one string (by their places in it) under eight suns; flux
    /// too, if `sums` asks for it.
    #[allow(clippy::too_many_arguments)]
    fn add_light(
        &self,
        hood: &Neighbourhood,
        string: usize,
        places: impl IntoIterator<Item = usize>,
        suns: &LaneVec3,
        stance: &mut Stance,
        sums: &mut LightSums,
    ) {
        self.drives.stand(self.plan, string, suns, stance);
        light_of_string(
            self.plan,
            hood,
            self.mirrors,
            self.aperture,
            string,
            places,
            suns,
            stance,
            sums,
        );
    }

    /// All mirrors of a string, as places in it.
    fn all_places(&self, string: usize) -> Range<usize> {
        0..self.plan.strings[string].mirror_count
    }
}

/// Successive sums over a field at every node of the sun table.
#[derive(Clone, Debug, PartialEq)]
pub struct NodeLight {
    /// Effective area after each step of the loss chain [m²].
    pub steps_m2: [[f64; NODES]; STEPS],
    /// Flux at the watched spots of the aperture per unit of DNI.
    flux_suns: [[f64; NODES]; WATCHED],
}

impl Default for NodeLight {
    fn default() -> Self {
        Self {
            steps_m2: [[0.0; NODES]; STEPS],
            flux_suns: [[0.0; NODES]; WATCHED],
        }
    }
}

impl NodeLight {
    fn add_block(&mut self, block: usize, sums: &LightSums) {
        let lanes = block * LANES..(block + 1) * LANES;
        for (step, lane) in self.steps_m2.iter_mut().zip(&sums.steps_m2) {
            add_each(&mut step[lanes.clone()], lane);
        }
        for (spot, lane) in self
            .flux_suns
            .iter_mut()
            .zip(sums.flux_suns.iter().flatten())
        {
            add_each(&mut spot[lanes.clone()], lane);
        }
    }

    fn add(&mut self, other: &Self) {
        for (step, more) in self.steps_m2.iter_mut().zip(&other.steps_m2) {
            add_each(step, more);
        }
        for (spot, more) in self.flux_suns.iter_mut().zip(&other.flux_suns) {
            add_each(spot, more);
        }
    }

    /// Flux at the brightest watched spot of the aperture per unit of DNI.
    #[must_use]
    pub fn peak_suns(&self) -> [f64; NODES] {
        std::array::from_fn(|node| {
            let spots = self.flux_suns.iter().map(|spot| spot[node]);
            spots.fold(0.0, f64::max)
        })
    }

    /// Multiplies each step by its own factor.
    fn scale(&mut self, factors: &Chain) {
        for (step, factor) in self.steps_m2.iter_mut().zip(factors) {
            step.iter_mut().for_each(|value| *value *= factor);
        }
    }

    /// Effective area of light through the aperture [m²].
    #[must_use]
    pub const fn last_step_m2(&self) -> &[f64; NODES] {
        &self.steps_m2[STEPS - 1]
    }

    /// The year's energy after each step.
    #[must_use]
    pub fn chain_j(&self, table: &SunTable) -> Chain {
        self.steps_m2.map(|step_m2| {
            let nodes = step_m2.iter().zip(&table.dni_j_m2);
            nodes.map(|(area_m2, dni_j_m2)| area_m2 * dni_j_m2).sum()
        })
    }
}

fn add_each(sums: &mut [f64], values: &[f64]) {
    for (sum, value) in sums.iter_mut().zip(values) {
        *sum += value;
    }
}

/// What every string of a field could earn if it stood alone, by its middle mirror under eight suns
/// of the table: enough to leave hopeless places out.
#[must_use]
pub fn first_glance(field: &Field, table: &SunTable, stance: &mut Stance) -> Vec<Earning> {
    let alone = field.hood_of([]);
    let (suns, weights) = eight_suns(table);
    let strings = field.plan.strings.iter().enumerate();
    strings
        .map(|(string, row)| {
            let middle = row.reference_mirror() - row.first_mirror;
            let mut sums = LightSums::default();
            field.add_light(&alone, string, [middle], &suns, stance, &mut sums);
            Earning::of(sums.steps_m2.map(|step_m2| {
                let suns = step_m2.iter().zip(&weights);
                suns.map(|(area_m2, weight)| area_m2 * weight).sum()
            }))
        })
        .collect()
}

/// Light of a place that comes to the aperture, and what of it enters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Earning {
    arriving: f64,
    inside: f64,
}

/// Strings on each side, in place order, whose intercept counts for a place.
const NEXT_PLACES: usize = 8;

impl Earning {
    fn of(chain: Chain) -> Self {
        Self {
            arriving: chain[STEPS - 2],
            inside: chain[STEPS - 1],
        }
    }

    /// What each place earns whatever aim point it happens to get: its own light on the way, times
    /// the intercept of the places around it. Otherwise places with an aim near the aperture's
    /// middle would be preferred, and the middle would be too bright.
    #[must_use]
    pub fn without_luck(earnings: &[Self]) -> Vec<f64> {
        (0..earnings.len())
            .map(|place| {
                let first = place.saturating_sub(NEXT_PLACES);
                let last = (place + NEXT_PLACES + 1).min(earnings.len());
                let around = &earnings[first..last];
                let arriving: f64 = around.iter().map(|earning| earning.arriving).sum();
                let inside: f64 = around.iter().map(|earning| earning.inside).sum();
                earnings[place].arriving * inside / arriving.max(f64::MIN_POSITIVE)
            })
            .collect()
    }
}

/// One sun of each block of the table, with the block's DNI.
fn eight_suns(table: &SunTable) -> (LaneVec3, [f64; LANES]) {
    let mut suns = [[0.0; LANES]; 3];
    let mut weights = [0.0; LANES];
    for (lane, block) in table.direction.iter().enumerate() {
        for (axis, values) in block.iter().enumerate() {
            suns[axis][lane] = values[LANES / 2];
        }
        weights[lane] = table.dni_j_m2[lane * LANES..(lane + 1) * LANES]
            .iter()
            .sum();
    }
    (suns, weights)
}

/// What two of its mirrors say of a string.
#[derive(Clone, Copy, Debug)]
pub struct Spoken {
    /// Year's energy after each step of the chain, for the two mirrors [J].
    pub chain_j: Chain,
    /// Flux of the two mirrors at the watched spots of the aperture per unit of DNI, at the node
    /// suns.
    flux_suns: [[f64; NODES]; WATCHED],
}

impl Spoken {
    /// What the two mirrors earn in the year.
    #[must_use]
    pub fn earning(&self) -> Earning {
        Earning::of(self.chain_j)
    }
}

/// Judges every string of a field by two of its mirrors, with all their neighbours.
#[must_use]
pub fn spokesmen(field: &Field, table: &SunTable, stance: &mut Stance) -> Vec<Spoken> {
    let speaking =
        field.plan.strings.iter().flat_map(|row| {
            spokesman_places(row.mirror_count).map(|place| row.first_mirror + place)
        });
    let hood = field.hood_of(speaking);
    (0..field.plan.strings.len())
        .map(|string| {
            let places = spokesman_places(field.plan.strings[string].mirror_count);
            let light = at_nodes(
                field,
                &hood,
                table,
                string,
                places,
                stance,
                LightSums::with_flux(),
            );
            Spoken {
                chain_j: light.chain_j(table),
                flux_suns: light.flux_suns,
            }
        })
        .collect()
}

/// Places in a string of the two mirrors that speak for it.
fn spokesman_places(count: usize) -> [usize; 2] {
    let half = 0.5 * (count as f64 - 1.0);
    let off = SPOKESMAN_SHARE * half;
    [half - off, half + off].map(|place| place.round() as usize)
}

/// Light of some mirrors of one string at the node suns; each block of suns starts from `empty`.
fn at_nodes(
    field: &Field,
    hood: &Neighbourhood,
    table: &SunTable,
    string: usize,
    places: impl IntoIterator<Item = usize> + Clone,
    stance: &mut Stance,
    empty: LightSums,
) -> NodeLight {
    let mut light = NodeLight::default();
    for (block, suns) in table.direction.iter().enumerate() {
        let mut sums = empty;
        field.add_light(hood, string, places.clone(), suns, stance, &mut sums);
        light.add_block(block, &sums);
    }
    light
}

/// Light of the field at the node suns from some of its strings, spread evenly over the plan and
/// raised to the whole by what `spoken`, one for every string of the plan, says of all strings
/// against the sample. The peak is that of all strings' spokesmen: aims are spread string by
/// string, so a sample would not show how they add up.
#[must_use]
pub fn sampled(
    field: &Field,
    table: &SunTable,
    spoken: &[Spoken],
    stance: &mut Stance,
) -> NodeLight {
    let mirrors = field.plan.strings.first().map_or(1, |row| row.mirror_count);
    let wanted = SAMPLE_STRINGS.max(SAMPLE_MIRRORS.div_ceil(mirrors));
    let sample = even_sample(field.plan.strings.len(), wanted);
    let seen = sample
        .iter()
        .flat_map(|&string| field.plan.strings[string].mirrors());
    let hood = field.hood_of(seen);
    let mut light = NodeLight::default();
    for &string in &sample {
        let places = field.all_places(string);
        light.add(&at_nodes(
            field,
            &hood,
            table,
            string,
            places,
            stance,
            LightSums::default(),
        ));
    }
    let all = total(spoken);
    let part = total(sample.iter().map(|&string| &spoken[string]));
    let factors: Chain = std::array::from_fn(|step| all[step] / part[step].max(f64::MIN_POSITIVE));
    light.scale(&factors);
    light.flux_suns = flux_of_all(field.plan, spoken);
    light
}

/// Flux at the watched spots from what the two spokesmen of every string say of it.
fn flux_of_all(plan: &Plan, spoken: &[Spoken]) -> [[f64; NODES]; WATCHED] {
    let mut flux_suns = [[0.0; NODES]; WATCHED];
    for (one, row) in spoken.iter().zip(&plan.strings) {
        let mirrors_each = 0.5 * row.mirror_count as f64;
        for (sums, spot) in flux_suns.iter_mut().zip(&one.flux_suns) {
            for (sum, flux) in sums.iter_mut().zip(spot) {
                *sum += mirrors_each * flux;
            }
        }
    }
    flux_suns
}

/// Up to `wanted` of `strings` strings, one from each of as many equal stretches: at places in them
/// that never fall into step with rows or rings (multiples of the golden ratio).
#[must_use]
pub fn even_sample(strings: usize, wanted: usize) -> Vec<usize> {
    const GOLDEN: f64 = 0.618_033_988_749_895;
    let wanted = wanted.min(strings);
    let stretch = strings as f64 / wanted as f64;
    (0..wanted)
        .map(|index| {
            let place = (0.5 + GOLDEN * index as f64).fract();
            (((index as f64 + place) * stretch) as usize).min(strings - 1)
        })
        .collect()
}

fn total<'a>(spoken: impl IntoIterator<Item = &'a Spoken>) -> Chain {
    spoken.into_iter().fold(Chain::default(), |mut sum, one| {
        add_each(&mut sum, &one.chain_j);
        sum
    })
}

/// Light of every string of the field at the node suns: one [`NodeLight`] per string, in order.
#[must_use]
pub fn each_string(field: &Field, table: &SunTable) -> Vec<NodeLight> {
    let hood = field.hood(table.min_elevation_rad);
    let strings: Vec<usize> = (0..field.plan.strings.len()).collect();
    strings
        .par_chunks(STRINGS_PER_CHUNK)
        .flat_map_iter(|chunk| {
            let mut stance = Stance::default();
            let light = chunk.iter().map(|&string| {
                let places = field.all_places(string);
                at_nodes(
                    field,
                    &hood,
                    table,
                    string,
                    places,
                    &mut stance,
                    LightSums::with_flux(),
                )
            });
            light.collect::<Vec<_>>()
        })
        .collect()
}

/// Sum over strings, in their order.
#[must_use]
pub fn whole(each: &[NodeLight]) -> NodeLight {
    let mut light = NodeLight::default();
    each.iter().for_each(|string| light.add(string));
    light
}

/// Light of the field in one hour.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct HourLight {
    /// Effective area after each step of the chain, over the hour's beam [m²]; zero while the sun is
    /// too low.
    pub steps_m2: [f64; STEPS],
    /// Flux at the brightest watched spot of the aperture per unit of DNI.
    pub peak_suns: f64,
}

impl HourLight {
    /// Effective area of light through the aperture [m²].
    #[must_use]
    pub const fn last_step_m2(&self) -> f64 {
        self.steps_m2[STEPS - 1]
    }
}

/// Light of every string in every quarter of an hour with sun, added up to hours: the reference
/// that the node suns stand for.
#[must_use]
pub fn every_hour(field: &Field, table: &SunTable) -> Vec<HourLight> {
    let hood = field.hood(table.min_elevation_rad);
    let hours = table.instants.iter().enumerate();
    let mut sunny: Vec<(usize, Instant)> = hours
        .flat_map(|(hour, instants)| instants.map(|instant| (hour, instant)))
        .filter(|(_, instant)| instant.share > 0.0)
        .collect();
    sunny.sort_by_key(|(_, instant)| neighbourhood_of(instant.sun));
    let blocks: Vec<LightSums> = sunny
        .par_chunks(LANES)
        .map(|instants| whole_field(field, &hood, &suns_of(instants)))
        .collect();
    let mut year = vec![HourLight::default(); table.instants.len()];
    for (instants, sums) in sunny.chunks(LANES).zip(&blocks) {
        let peak_suns = sums.peak_suns();
        for (lane, (hour, Instant { share, .. })) in instants.iter().enumerate() {
            let light = &mut year[*hour];
            for (sum, step) in light.steps_m2.iter_mut().zip(&sums.steps_m2) {
                *sum += share * step[lane];
            }
            light.peak_suns += share * peak_suns[lane];
        }
    }
    year
}

/// Sorts suns so that those of a block stand close together: by the height first, then the side.
fn neighbourhood_of(sun: Vec3) -> (i64, i64) {
    let height = (16.0 * sun.z).floor() as i64;
    let along = (1e6 * sun.x).floor() as i64;
    (height, if height % 2 == 0 { along } else { -along })
}

fn whole_field(field: &Field, hood: &Neighbourhood, suns: &LaneVec3) -> LightSums {
    let mut stance = Stance::default();
    let mut sums = LightSums::with_flux();
    for string in 0..field.plan.strings.len() {
        let places = field.all_places(string);
        field.add_light(hood, string, places, suns, &mut stance, &mut sums);
    }
    sums
}

/// The suns of up to eight instants; a short block repeats its last one.
fn suns_of(instants: &[(usize, Instant)]) -> LaneVec3 {
    let mut suns = [[0.0; LANES]; 3];
    for lane in 0..LANES {
        let (_, instant) = instants[lane.min(instants.len() - 1)];
        for (axis, value) in instant.sun.to_array().into_iter().enumerate() {
            suns[axis][lane] = value;
        }
    }
    suns
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_sample_is_even_and_whole_when_small() {
        assert_eq!(even_sample(3, 40), vec![0, 1, 2]);
        let sample = even_sample(400, 40);
        assert_eq!(sample.len(), 40);
        for (stretch, string) in sample.iter().enumerate() {
            assert!((10 * stretch..10 * stretch + 10).contains(string));
        }
    }

    #[test]
    fn a_lucky_aim_earns_no_place() {
        let earning = |inside| Earning {
            arriving: 1.0,
            inside,
        };
        let mut earnings = vec![earning(0.9); 40];
        earnings[20] = earning(0.99);
        let earned = Earning::without_luck(&earnings);
        assert_eq!(earned[20], earned[19]);
        assert!((earned[0] - 0.9).abs() < 1e-12 && earned[20] > 0.9);
    }

    #[test]
    fn spokesmen_stand_at_the_root_mean_square() {
        assert_eq!(spokesman_places(1), [0, 0]);
        assert_eq!(spokesman_places(15), [3, 11]);
    }
}
