//! What the fast model says.

use drive::Drives;
use field::{Plan, Stance};
use geometry::{LANES, Vec3, lane};
use optics::{LightSums, Mirrors, Neighbourhood, light_of_string};

use crate::Losses;
use crate::fields::Trial;

/// A neighbour that shades only a lower sun is left out [rad].
const LOWEST_SUN_RAD: f64 = 0.08;

/// The losses, and the flux in the middle of the aperture ÷ DNI.
pub struct Computed {
    pub losses: Losses,
    pub middle_suns: f64,
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
    let hood = Neighbourhood::new(plan, LOWEST_SUN_RAD);
    let (aperture, suns) = (trial.aperture(), lane::columns(suns));
    let mut sums = LightSums::default();
    for (string, stance) in stands.iter().enumerate() {
        let all = 0..plan.strings[string].mirror_count;
        light_of_string(
            plan, &hood, mirrors, &aperture, string, all, &suns, stance, &mut sums,
        );
    }
    std::array::from_fn(|lane| computed(&sums, lane))
}

fn computed(sums: &LightSums, lane: usize) -> Computed {
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
        middle_suns: sums.peak_suns[lane],
    }
}
