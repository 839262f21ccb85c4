//! What the fast model says.

use drive::Drives;
use field::{Plan, Stance};
use geometry::{LANES, Lane, Vec3, lane};
use optics::{FluxSums, LightSums, Mirrors, Scene, Spots, Surroundings, Watched, part_means};

use crate::compare::{Losses, PARTS};
use crate::fields::Trial;

/// A neighbour that shades only a lower sun is left out [rad].
const LOWEST_SUN_RAD: f64 = 0.08;

/// Spots each way within a part of the flux map: rays tell a part's mean, which in small images is several per
/// cent less than what its middle has.
const WITHIN: usize = 3;

/// The losses, and flux ÷ DNI.
pub struct Computed {
    pub losses: Losses,
    /// In each part of the aperture, in the mean.
    pub flux_suns: Vec<f64>,
    /// The largest at any spot.
    pub peak_suns: f64,
    /// The largest that the spots watched while light is summed tell.
    pub watched_suns: f64,
}

/// How every string stands under all suns.
pub fn stands(trial: &Trial, plan: &Plan, suns: &[Vec3; LANES]) -> Vec<Stance> {
    let drives = Drives::prepare(plan, &trial.mechanism());
    let suns = lane::columns(suns);
    (0..plan.strings.len())
        .map(|string| {
            let mut stance = Stance::default();
            drives.stand(plan, string, &suns, &mut stance);
            stance
        })
        .collect()
}

/// The losses of the whole field under each sun.
pub fn losses(
    trial: &Trial,
    plan: &Plan,
    mirrors: &Mirrors,
    suns: &[Vec3; LANES],
    stands: &[Stance],
) -> [Computed; LANES] {
    let spots = Spots::middles(PARTS * WITHIN);
    let (sums, flux_suns) = summed(trial, plan, mirrors, suns, stands, &spots);
    let means = part_means(&flux_suns, PARTS, WITHIN);
    std::array::from_fn(|lane| computed(&sums, &flux_suns, &means, lane))
}

/// Light of the whole field, and flux ÷ DNI at these spots.
pub fn summed(
    trial: &Trial,
    plan: &Plan,
    mirrors: &Mirrors,
    suns: &[Vec3; LANES],
    stands: &[Stance],
    spots: &Spots,
) -> (LightSums, Vec<Lane>) {
    let around = Surroundings::new(plan, LOWEST_SUN_RAD).with_tower(trial.tower);
    let hood = around.of_all();
    let (aperture, suns) = (trial.aperture(), lane::columns(suns));
    let mut sums = LightSums::watching(Watched::new(plan, mirrors, &aperture));
    let mut flux_suns = FluxSums::none(spots);
    let scene = Scene {
        plan,
        hood: &hood,
        mirrors,
        aperture: &aperture,
    };
    let mut sunlit = scene.under(&suns);
    for (string, stance) in stands.iter().enumerate() {
        let all = 0..plan.strings[string].mirror_count;
        sunlit.add_light(string, all, stance, &mut sums);
        sunlit.add_flux(string, stance, spots, &mut flux_suns);
    }
    (sums, flux_suns.lanes().collect())
}

fn computed(sums: &LightSums, flux_suns: &[Lane], means: &[Lane], lane: usize) -> Computed {
    let steps_m2 = sums.steps_m2.map(|step| step[lane]);
    let factor = |step: usize| steps_m2[step] / steps_m2[step - 1];
    let product = steps_m2[6] / steps_m2[0];
    Computed {
        losses: [
            factor(1),
            factor(2),
            factor(3),
            factor(4),
            factor(5),
            factor(6),
            product,
        ],
        flux_suns: means.iter().map(|mean| mean[lane]).collect(),
        peak_suns: flux_suns.iter().map(|flux| flux[lane]).fold(0.0, f64::max),
        watched_suns: sums.peak_suns()[lane],
    }
}
