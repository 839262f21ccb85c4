//! Nanoseconds for each mirror and sun on a dense field of 6,000 mirrors, or of as many strings of 15 as the
//! first argument says.
#![allow(clippy::disallowed_methods, clippy::print_stdout)]

#[path = "../tests/support/mod.rs"]
mod support;

use std::time::Instant;

use field::Stance;
use geometry::{LANES, LaneVec3};
use optics::{LightSums, Neighbourhood, STEPS, light_of_string};

/// Short slices, each timed several times and the least kept: other work on the machine is left out.
const STRINGS_PER_SLICE: usize = 10;

fn main() {
    let strings = std::env::args()
        .nth(1)
        .and_then(|text| text.parse().ok())
        .unwrap_or(400);
    let plan = support::Layout::dense(strings).plan();
    for lowest_deg in [12.0_f64, 6.0] {
        let start = Instant::now();
        let hood = Neighbourhood::new(&plan, lowest_deg.to_radians());
        let (shaders, blockers) = hood.entries();
        println!(
            "reach for suns above {lowest_deg}°: {:.1} shaders and {:.1} blockers a mirror, listed in {:.1} ms",
            shaders as f64 / plan.mirror_count() as f64,
            blockers as f64 / plan.mirror_count() as f64,
            1e3 * start.elapsed().as_secs_f64(),
        );
        for hour_angles_first in [false, true] {
            let suns = support::year_suns(0.653, 8f64.to_radians(), hour_angles_first);
            report(&plan, &hood, &suns, hour_angles_first);
        }
    }
}

fn report(plan: &field::Plan, hood: &Neighbourhood, suns: &[LaneVec3], hour_angles_first: bool) {
    let mirrors = support::fair_mirrors();
    let aperture = support::aperture_of(plan, 3.4);
    let stances: Vec<Vec<Stance>> = suns
        .iter()
        .map(|block| {
            let mut stances = vec![Stance::default(); plan.strings.len()];
            for (string, stance) in stances.iter_mut().enumerate() {
                support::ideal_stance(plan, string, block, stance);
            }
            stances
        })
        .collect();
    let mut light_m2 = [0.0; STEPS];
    let mut spent_s = 0.0;
    for (block, stances) in suns.iter().zip(&stances) {
        for first in (0..plan.strings.len()).step_by(STRINGS_PER_SLICE) {
            let strings = first..(first + STRINGS_PER_SLICE).min(plan.strings.len());
            let mut least_s = f64::INFINITY;
            let mut sums = LightSums::default();
            for _ in 0..9 {
                sums = LightSums::default();
                let start = Instant::now();
                for string in strings.clone() {
                    let (which, stance) = (0..plan.strings[string].mirror_count, &stances[string]);
                    light_of_string(
                        plan, hood, &mirrors, &aperture, string, which, block, stance, &mut sums,
                    );
                }
                least_s = least_s.min(start.elapsed().as_secs_f64());
            }
            spent_s += least_s;
            for (total, step) in light_m2.iter_mut().zip(&sums.steps_m2) {
                *total += step.iter().sum::<f64>();
            }
        }
    }
    let pairs = (plan.mirror_count() * suns.len() * LANES) as f64;
    let ratios: Vec<String> = light_m2
        .windows(2)
        .map(|pair| format!("{:.4}", pair[1] / pair[0]))
        .collect();
    println!(
        "  hour angles first {hour_angles_first}: {:.1} ns for each mirror and sun; {}",
        1e9 * spent_s / pairs,
        ratios.join(" ")
    );
}
