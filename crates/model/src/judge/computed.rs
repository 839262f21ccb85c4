//! What the fast model says.

use geometry::{LANES, Lane};
use optics::{FluxSums, LightSums, STEPS, Spots, part_means};
use rayon::prelude::*;

use super::Block;
use crate::light::{Hoods, STRINGS_PER_CHUNK};

/// Spots each way within a part of the flux map: rays tell the mean of a part.
const WITHIN: usize = 3;

/// The fast model's light under one sun.
pub(super) struct Computed {
    /// Effective area after each step of the loss chain [m²].
    pub steps_m2: [f64; STEPS],
    /// Flux ÷ DNI in every part of the flux map, in the mean, row by row from its lower left.
    pub flux_suns: Vec<f64>,
}

/// Sums of some strings.
struct Sums {
    steps_m2: [Lane; STEPS],
    flux_suns: FluxSums,
}

/// Light of the whole field under each sun of a block.
pub(super) fn under(block: &Block, hoods: &Hoods, parts: usize) -> Vec<Computed> {
    let spots = Spots::middles(parts * WITHIN);
    let strings: Vec<usize> = (0..block.stances.len()).collect();
    let chunks: Vec<Sums> = strings
        .par_chunks(STRINGS_PER_CHUNK)
        .map(|strings| of_strings(block, hoods, &spots, strings))
        .collect();
    let mut whole = Sums::empty(&spots);
    chunks.iter().for_each(|chunk| whole.add(chunk));
    let flux_suns: Vec<Lane> = whole.flux_suns.lanes().collect();
    let means = part_means(&flux_suns, parts, WITHIN);
    (0..block.suns.len())
        .map(|lane| Computed {
            steps_m2: whole.steps_m2.map(|step| step[lane]),
            flux_suns: means.iter().map(|mean| mean[lane]).collect(),
        })
        .collect()
}

fn of_strings(block: &Block, hoods: &Hoods, spots: &Spots, strings: &[usize]) -> Sums {
    let field = &block.field;
    let mut light = LightSums::default();
    let mut sums = Sums::empty(spots);
    let Some(&first) = strings.first() else {
        return sums;
    };
    let mut sunlit = field.scene(hoods.of(first)).under(&block.lanes);
    for &string in strings {
        let stance = &block.stances[string];
        let all = 0..field.plan.strings[string].mirror_count;
        sunlit.add_light(string, all, stance, &mut light);
        // A map of one part is not asked for.
        if spots.count() > WITHIN * WITHIN {
            sunlit.add_flux(string, stance, spots, &mut sums.flux_suns);
        }
    }
    sums.steps_m2 = light.steps_m2;
    sums
}

impl Sums {
    fn empty(spots: &Spots) -> Self {
        Self {
            steps_m2: [[0.0; LANES]; STEPS],
            flux_suns: FluxSums::none(spots),
        }
    }

    fn add(&mut self, other: &Self) {
        self.flux_suns.add(&other.flux_suns);
        for (sums, more) in self.steps_m2.iter_mut().zip(&other.steps_m2) {
            for (sum, value) in sums.iter_mut().zip(more) {
                *sum += value;
            }
        }
    }
}
