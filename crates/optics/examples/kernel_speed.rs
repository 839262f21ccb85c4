//! Nanoseconds for each mirror and sun on a dense field of 6,000 mirrors, or of as many strings of
//! 15 as the first argument says; only tasks whose name begins with the second, if given.
#![allow(clippy::disallowed_methods, clippy::expect_used, clippy::print_stdout)]

#[path = "../tests/support/mod.rs"]
mod support;

use std::time::Instant;

use field::{Plan, Stance};
use geometry::{LANES, LaneVec3};
use optics::{
    Aperture, LightSums, Mirrors, Neighbourhood, STEPS, Scene, SunShape, Surroundings, Watched,
};

/// Short slices, each timed several times and the least kept: other work on the machine is left out.
const STRINGS_PER_SLICE: usize = 10;
const REPEATS: usize = 9;
/// The sun stands higher than this [rad].
const LOWEST_SUN_RAD: f64 = 0.14;

/// What is asked of the kernel.
struct Task {
    name: &'static str,
    mirrors: Mirrors,
    aperture: Aperture,
    places: &'static [usize],
    fresh: LightSums,
}

const ALL: &[usize] = &[0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14];

fn main() {
    let strings = std::env::args()
        .nth(1)
        .and_then(|text| text.parse().ok())
        .unwrap_or(400);
    let plan = support::Layout::dense(strings).plan();
    let start = Instant::now();
    let around = Surroundings::new(&plan, LOWEST_SUN_RAD);
    let hood = around.of_all();
    let (shaders, blockers) = hood.entries();
    println!(
        "{:.1} shaders and {:.1} blockers a mirror, listed in {:.1} ms",
        shaders as f64 / plan.mirror_count() as f64,
        blockers as f64 / plan.mirror_count() as f64,
        1e3 * start.elapsed().as_secs_f64(),
    );
    let suns = support::year_suns(0.653, LOWEST_SUN_RAD);
    let wanted = std::env::args().nth(2).unwrap_or_default();
    let is_wanted = |task: &Task| task.name.starts_with(&wanted);
    for task in tasks(&plan).into_iter().filter(is_wanted) {
        report(&plan, &hood, &suns, &task);
    }
}

fn tasks(plan: &Plan) -> Vec<Task> {
    let plain = |name| Task {
        name,
        mirrors: support::fair_mirrors(),
        aperture: support::aperture_of(plan, 3.4),
        places: ALL,
        fresh: LightSums::default(),
    };
    let hazy = SunShape::Buie {
        circumsolar_ratio: 0.05,
    };
    let mut mirrors = support::fair_mirrors();
    mirrors.sun = hazy.blur().expect("5 % is in range");
    let watched = Watched::new(plan, &mirrors, &support::aperture_of(plan, 3.4));
    let watching = LightSums::watching(watched);
    vec![
        plain("plain"),
        Task {
            aperture: support::aperture_of(plan, 2.0),
            ..plain("smaller aperture")
        },
        Task {
            mirrors,
            ..plain("with aureole")
        },
        Task {
            fresh: watching.clone(),
            ..plain("with flux")
        },
        Task {
            mirrors,
            places: &[3, 11],
            fresh: watching,
            ..plain("two mirrors of each string, aureole and flux")
        },
        Task {
            aperture: Aperture::round(0.0, 0.5, plan.aim_m, 3.4),
            ..plain("round aperture")
        },
        Task {
            aperture: Aperture::cylinder(0.0, plan.aim_m, 3.4, 3.4),
            ..plain("cylinder")
        },
    ]
}

fn report(plan: &Plan, hood: &Neighbourhood, suns: &[LaneVec3], task: &Task) {
    let mut light_m2 = [0.0; STEPS];
    let mut spent_s = 0.0;
    for block in suns {
        let mut stances = vec![Stance::default(); plan.strings.len()];
        for (string, stance) in stances.iter_mut().enumerate() {
            support::ideal_stance(plan, string, block, stance);
        }
        for first in (0..plan.strings.len()).step_by(STRINGS_PER_SLICE) {
            let last = (first + STRINGS_PER_SLICE).min(plan.strings.len());
            let (sums, least_s) = timed(plan, hood, block, &stances, first..last, task);
            spent_s += least_s;
            for (total, step) in light_m2.iter_mut().zip(&sums.steps_m2) {
                *total += step.iter().sum::<f64>();
            }
        }
    }
    let mirrors = plan.strings.len() * task.places.len();
    let ratios: Vec<String> = light_m2
        .windows(2)
        .map(|pair| format!("{:.4}", pair[1] / pair[0]))
        .collect();
    println!(
        "{}: {:.1} ns for each mirror and sun; {}",
        task.name,
        1e9 * spent_s / (mirrors * suns.len() * LANES) as f64,
        ratios.join(" ")
    );
}

fn timed(
    plan: &Plan,
    hood: &Neighbourhood,
    suns: &LaneVec3,
    stances: &[Stance],
    strings: std::ops::Range<usize>,
    task: &Task,
) -> (LightSums, f64) {
    let mut least_s = f64::INFINITY;
    let mut sums = task.fresh.clone();
    for _ in 0..REPEATS {
        sums.clear();
        let start = Instant::now();
        for string in strings.clone() {
            Scene {
                plan,
                hood,
                mirrors: &task.mirrors,
                aperture: &task.aperture,
            }
            .under(suns)
            .add_light(
                string,
                task.places.iter().copied(),
                &stances[string],
                &mut sums,
            );
        }
        least_s = least_s.min(start.elapsed().as_secs_f64());
    }
    (sums, least_s)
}
