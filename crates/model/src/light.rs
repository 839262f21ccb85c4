//! Light of a field over the sun table and over the year: scored, sampled, whole or hour by hour.

mod places;
mod sample;
mod watch;

use std::ops::Range;

use drive::Drives;
use field::{Plan, Stance};
use geometry::{LANES, LaneVec3, Vec3, lane};
use optics::{
    Aperture, LightSums, Mirrors, Neighbourhood, Pillar, STEPS, Scene, Surroundings, Watched,
};
use rayon::prelude::*;
use sky::{GUESTS, Guests, Lean, NODES, SunTable};

pub use places::{Earning, earnings, first_glance};
pub use sample::{even_sample, sampled};
use watch::Watch;

/// Strings handed to one thread at a time: a constant, so that results never depend on threads.
pub(crate) const STRINGS_PER_CHUNK: usize = 16;
/// Light of so many chunks is held before it is summed: all at once would take more memory the more strings there are.
const CHUNKS_HELD: usize = 64;

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

impl<'a> Field<'a> {
    /// What neighbours see of one another, under suns no lower than `lowest_sun_rad`.
    #[must_use]
    pub fn surroundings(&self, lowest_sun_rad: f64) -> Surroundings {
        Surroundings::new(self.plan, lowest_sun_rad).with_tower(self.tower)
    }

    /// The field as light sees it.
    #[must_use]
    pub const fn scene<'b>(&self, hood: &'b Neighbourhood<'b>) -> Scene<'b>
    where
        'a: 'b,
    {
        Scene {
            plan: self.plan,
            hood,
            mirrors: self.mirrors,
            aperture: self.aperture,
        }
    }

    /// Where flux is asked for: where this field's light falls.
    #[must_use]
    pub fn watched(&self) -> Watched {
        Watched::new(self.plan, self.mirrors, self.aperture)
    }

    /// Sums that ask for flux there.
    #[must_use]
    pub fn watching(&self) -> LightSums {
        LightSums::watching(self.watched())
    }

    /// Suns about which its flux is sharpest: those under which strings were set, whose mirrors then all meet their
    /// targets.
    fn guests(&self, table: &SunTable) -> Guests {
        let strings = 0..self.plan.strings.len();
        let linked = strings.filter(|string| self.plan.strings[*string].mirror_count > 1);
        let mut suns: Vec<Vec3> = Vec::new();
        for sun in linked.map(|string| self.drives.alignment_sun(string)) {
            if !suns.contains(&sun) {
                suns.push(sun);
            }
        }
        Guests::of(table, suns.into_iter())
    }

    /// Mirrors of some successive strings.
    fn mirrors_of(&self, strings: &Range<usize>) -> Range<usize> {
        let rows = &self.plan.strings[strings.clone()];
        let first = rows.first().map_or(0, |row| row.first_mirror);
        first..rows.last().map_or(first, |row| row.mirrors().end)
    }

    /// The strings in chunks.
    pub(crate) fn chunks(&self) -> impl IndexedParallelIterator<Item = Range<usize>> {
        let strings = self.plan.strings.len();
        (0..strings.div_ceil(STRINGS_PER_CHUNK))
            .into_par_iter()
            .map(move |chunk| {
                let first = chunk * STRINGS_PER_CHUNK;
                first..(first + STRINGS_PER_CHUNK).min(strings)
            })
    }
}

/// Who may shade or block whom in a whole field, in chunks of strings.
pub struct Hoods<'a> {
    chunks: Vec<Neighbourhood<'a>>,
}

impl<'a> Hoods<'a> {
    /// Lists for all mirrors of a field.
    #[must_use]
    pub fn new(field: &Field, around: &'a Surroundings) -> Self {
        Self {
            chunks: field
                .chunks()
                .map(|strings| around.of_mirrors(field.mirrors_of(&strings)))
                .collect(),
        }
    }

    /// The lists that string `string` is in.
    #[must_use]
    pub fn of(&self, string: usize) -> &Neighbourhood<'a> {
        &self.chunks[string / STRINGS_PER_CHUNK]
    }
}

/// Some mirrors of a string, which speak for it and for others like it.
struct Look {
    string: usize,
    /// Their places, rising.
    places: Vec<usize>,
    /// From its aim to those of other strings for which they speak [m].
    others_m: Vec<Vec3>,
    /// For how many mirrors each of them speaks at each aim.
    times: f64,
}

impl Look {
    /// All of them.
    fn all(plan: &Plan, string: usize) -> Self {
        Self {
            string,
            places: (0..plan.strings[string].mirror_count).collect(),
            others_m: Vec::new(),
            times: 1.0,
        }
    }
}

/// What is looked at in a block of suns, and how.
struct Turn<'a> {
    looks: Vec<Look>,
    /// The lists that the mirrors are in.
    hood: Neighbourhood<'a>,
    /// Whose flux is asked for.
    watch: Watch,
    /// Whether sides of neighbours that lean a little are taken as straight.
    is_quick: bool,
}

/// The mirrors that are looked at, rising.
fn mirrors_of(looks: &[Look], plan: &Plan) -> impl Iterator<Item = usize> {
    looks.iter().flat_map(|look| {
        let first = plan.strings[look.string].first_mirror;
        look.places.iter().map(move |place| first + place)
    })
}

/// Successive sums over a field at every node of the sun table.
#[derive(Clone, Debug, PartialEq)]
pub struct NodeLight {
    /// Effective area after each step of the loss chain [m²].
    pub steps_m2: [[f64; NODES]; STEPS],
    /// Flux at the watched spots of the aperture per unit of DNI; empty if none is watched.
    flux_suns: Vec<[f64; NODES]>,
    watched: Watched,
    /// Suns that were looked at beside the nodes, in the lanes that these leave over.
    guests: Guests,
}

/// The largest flux on the aperture per unit of DNI, at the node suns and at guests beside them.
#[derive(Clone, Debug, PartialEq)]
pub struct Peaks {
    at_nodes_suns: [f64; NODES],
    guests: Guests,
    missed_suns: [f64; GUESTS],
}

impl Peaks {
    /// That of an hour of the year.
    #[must_use]
    pub fn at_hour_suns(&self, table: &SunTable, hour: usize) -> f64 {
        let by_nodes_suns = table.at_hour(hour, &self.at_nodes_suns);
        by_nodes_suns + table.by_guests(hour, &self.guests, &self.missed_suns)
    }
}

impl NodeLight {
    /// No light yet, on the aperture and on the spots watched.
    fn watching(watched: Watched, guests: Guests) -> Self {
        Self {
            steps_m2: [[0.0; NODES]; STEPS],
            flux_suns: vec![[0.0; NODES]; watched.spots.count()],
            watched,
            guests,
        }
    }

    /// Adds to the `light` of no string yet that of whole strings of a field under blocks of suns, by the mirrors that are
    /// looked at of each in each block.
    fn of<'a>(
        field: &Field,
        mut light: Self,
        blocks: &[LaneVec3],
        turn_of: impl Fn(usize) -> &'a Turn<'a>,
        stance: &mut Stance,
    ) -> Self {
        let Field { plan, drives, .. } = field;
        let mut sums = LightSums::watching(light.watched);
        for (block, suns) in blocks.iter().enumerate() {
            let turn = turn_of(block);
            let mut sunlit = field.scene(&turn.hood).under(suns);
            if turn.is_quick {
                sunlit = sunlit.quickly();
            }
            sums.clear();
            for look in &turn.looks {
                let places = || look.places.iter().copied();
                drives.stand_some(plan, look.string, places(), suns, stance);
                turn.watch.add_light(look, stance, &mut sunlit, &mut sums);
            }
            light.set_block(block, &sums);
        }
        light
    }

    fn set_block(&mut self, block: usize, sums: &LightSums) {
        let lanes = block * LANES..(block + 1) * LANES;
        for (step, lane) in self.steps_m2.iter_mut().zip(&sums.steps_m2) {
            step[lanes.clone()].copy_from_slice(lane);
        }
        for (spot, lane) in self.flux_suns.iter_mut().zip(sums.flux_suns.lanes()) {
            spot[lanes.clone()].copy_from_slice(&lane);
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

    /// The largest flux on the aperture per unit of DNI, as the watched spots tell it.
    #[must_use]
    pub fn peaks(&self) -> Peaks {
        let peak = |node| self.watched.peak(|spot: usize| self.flux_suns[spot][node]);
        let at_nodes_suns = std::array::from_fn(peak);
        Peaks {
            missed_suns: self.guests.misses(&at_nodes_suns),
            at_nodes_suns,
            guests: self.guests.clone(),
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

/// Light of every string of the field at the node suns, summed over chunks of strings and these in their
/// order. Neighbours are listed chunk by chunk, so that memory hardly grows with their number.
#[must_use]
pub fn every_string(field: &Field, table: &SunTable) -> NodeLight {
    let around = field.surroundings(table.min_elevation_rad);
    let (watch, guests) = (Watch::enough(field.plan), field.guests(table));
    let blocks = table.direction_with(&guests);
    let dark = NodeLight::watching(field.watched(), guests);
    let of_chunk = |strings: Range<usize>| {
        let all = Turn {
            hood: around.of_mirrors(field.mirrors_of(&strings)),
            looks: strings
                .map(|string| Look::all(field.plan, string))
                .collect(),
            watch,
            is_quick: false,
        };
        NodeLight::of(
            field,
            dark.clone(),
            &blocks,
            |_| &all,
            &mut Stance::default(),
        )
    };
    let mut light = dark.clone();
    for first in (0..field.chunks().len()).step_by(CHUNKS_HELD) {
        let held = field.chunks().skip(first).take(CHUNKS_HELD);
        let chunks: Vec<NodeLight> = held.map(of_chunk).collect();
        chunks.iter().for_each(|chunk| light.add(chunk));
    }
    light
}

/// Light of the field under one sun, or in one hour.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct HourLight {
    /// Effective area after each step of the chain, over the hour's beam [m²]; zero while the sun is
    /// too low or gives no beam.
    pub steps_m2: [f64; STEPS],
    /// Flux at the brightest watched spot of the aperture per unit of DNI.
    pub peak_suns: f64,
}

impl HourLight {
    fn under_each(sums: &LightSums) -> [Self; LANES] {
        let peaks_suns = sums.peak_suns();
        std::array::from_fn(|lane| Self {
            steps_m2: sums.steps_m2.map(|step| step[lane]),
            peak_suns: peaks_suns[lane],
        })
    }

    fn add(&mut self, weight: f64, other: &Self) {
        for (sum, step_m2) in self.steps_m2.iter_mut().zip(other.steps_m2) {
            *sum += weight * step_m2;
        }
        self.peak_suns += weight * other.peak_suns;
    }

    /// Effective area of light through the aperture [m²].
    #[must_use]
    pub const fn last_step_m2(&self) -> f64 {
        self.steps_m2[STEPS - 1]
    }
}

/// Light of every string in every hour whose direct sun, `dni_w_m2`, is not nothing, by a sun an hour: the
/// reference that the node suns stand for.
#[must_use]
pub fn every_hour(field: &Field, table: &SunTable, dni_w_m2: &[f64]) -> Vec<HourLight> {
    let (hourly, lowest_sun_rad) = (&table.hourly, table.min_elevation_rad);
    let lights = under_each(field, lowest_sun_rad, &hourly.suns, hourly.wanted(dni_w_m2));
    let hour = |lean: Option<&Lean>| {
        let mut light = HourLight::default();
        for (sun, weight) in lean.into_iter().flat_map(Lean::terms) {
            light.add(weight, &lights[sun]);
        }
        light
    };
    hourly.sunny(dni_w_m2).map(hour).collect()
}

/// Light of every string under those of the suns that are wanted, and none under the others.
fn under_each(
    field: &Field,
    lowest_sun_rad: f64,
    suns: &[Vec3],
    mut wanted: Vec<usize>,
) -> Vec<HourLight> {
    let around = field.surroundings(lowest_sun_rad);
    let (hoods, watched) = (Hoods::new(field, &around), field.watched());
    let watch = Watch::enough(field.plan);
    wanted.sort_by_cached_key(|sun| neighbourhood_of(suns[*sun]));
    let blocks: Vec<[HourLight; LANES]> = wanted
        .par_chunks(LANES)
        .map(|block| {
            // A short block repeats its last sun.
            let sun = |lane: usize| suns[block[lane.min(block.len() - 1)]];
            let suns = lane::columns(&std::array::from_fn(sun));
            HourLight::under_each(&whole_field(field, &hoods, &suns, watched, watch))
        })
        .collect();
    let mut lights = vec![HourLight::default(); suns.len()];
    for (sun, light) in wanted.iter().zip(blocks.iter().flatten()) {
        lights[*sun] = *light;
    }
    lights
}

/// Sorts suns so that those of a block stand close together: by the height first, then the side.
fn neighbourhood_of(sun: Vec3) -> (i64, i64) {
    let height = (16.0 * sun.z).floor() as i64;
    let along = (1e6 * sun.x).floor() as i64;
    (height, if height % 2 == 0 { along } else { -along })
}

fn whole_field(
    field: &Field,
    hoods: &Hoods,
    suns: &LaneVec3,
    watched: Watched,
    watch: Watch,
) -> LightSums {
    let mut stance = Stance::default();
    let mut sums = LightSums::watching(watched);
    for (chunk, hood) in hoods.chunks.iter().enumerate() {
        let mut sunlit = field.scene(hood).under(suns);
        let first = chunk * STRINGS_PER_CHUNK;
        for string in first..(first + STRINGS_PER_CHUNK).min(field.plan.strings.len()) {
            field.drives.stand(field.plan, string, suns, &mut stance);
            let all = Look::all(field.plan, string);
            watch.add_light(&all, &stance, &mut sunlit, &mut sums);
        }
    }
    sums
}
