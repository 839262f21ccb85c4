//! Designs drawn from the spaces of scenarios, which no constant of the light was chosen on: what a sample of
//! strings says of each, and what the whole field does.

use model::Fidelity::{Every, Search};
use model::Summary;
use scenario::{DesignKey, Space};
use tautfield_tests::Works;

/// A design is drawn so far around the scenario's start, as a share of each range.
const AROUND: f64 = 0.4;

/// Scenarios by name, with the concept of field.
pub const SPACES: [(&str, &str); 5] = [
    ("process-steam", "strings"),
    ("process-steam", "pedestals"),
    ("process-steam", "singles"),
    ("hot-air", "strings"),
    ("hot-air", "pedestals"),
];

/// How far a sample is off the whole field, relative.
#[derive(Clone, Copy, Debug)]
pub struct Off {
    /// Light on the aperture over the year.
    pub light: f64,
    /// Highest flux in the year.
    pub flux: f64,
}

impl Off {
    fn new(sample: &Summary, whole: &Summary) -> Self {
        let off = |of: fn(&Summary) -> f64| of(sample) / of(whole) - 1.0;
        Self {
            light: off(Summary::optical_efficiency),
            flux: off(|summary| summary.peak_flux_w_m2),
        }
    }
}

/// What a sample is off in `count` sound designs of a scenario's space, drawn from `seed`.
pub fn drawn(space: (&str, &str), seed: u64, count: usize) -> Vec<Off> {
    each_drawn(space, seed, count, |works| {
        let whole = works.evaluate(Every).expect("what a sample bears, all do");
        Off::new(&works.evaluate(Search).expect("it was sound"), &whole)
    })
}

/// How much higher the highest flux that watched spots tell is than that of a map of 25 × 25, relative, in designs
/// drawn alike.
pub fn watched(space: (&str, &str), seed: u64, count: usize) -> Vec<f64> {
    each_drawn(space, seed, count, |works| {
        let detail = model::detail(&works.case, &works.design).expect("it was sound");
        let told = works.evaluate(Every).expect("it was sound");
        told.peak_flux_w_m2 / detail.flux.peak_w_m2() - 1.0
    })
}

/// What `look` finds in each of `count` sound designs of a scenario's space.
fn each_drawn<T>(
    (name, concept): (&str, &str),
    seed: u64,
    count: usize,
    look: impl Fn(&Works) -> T,
) -> Vec<T> {
    let mut works = Works::of(name, &[("concept", concept)]);
    let (space, mut draws) = (works.case.scenario.space.clone(), Draws(seed));
    let mut found = Vec::new();
    while found.len() < count {
        works.design = space.design(&draws.design(&space));
        if works.evaluate(Search).is_ok() {
            found.push(look(&works));
        }
    }
    found
}

/// Numbers without end, by the mixer of Steele, Lea and Flood, "Fast splittable pseudorandom number
/// generators", OOPSLA (2014).
struct Draws(u64);

impl Draws {
    fn share(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut bits = self.0;
        bits = (bits ^ (bits >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        bits = (bits ^ (bits >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((bits ^ (bits >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn design(&mut self, space: &Space) -> DesignKey {
        let index = space.variables().iter().map(|variable| {
            let (count, share) = (f64::from(variable.count()), self.share());
            if variable.is_range() {
                let step = AROUND * count * (2.0 * share - 1.0);
                (f64::from(variable.start()) + step).clamp(0.0, count - 1.0) as u32
            } else {
                (count * share) as u32
            }
        });
        DesignKey(index.collect())
    }
}
