//! First stage of an island: a particle swarm over the unit cube.

use argmin::core::Executor;
use argmin::solver::particleswarm::{Particle, ParticleSwarm};
use rand::Rng;

use crate::desk::{Desk, Ended};
use crate::random::Random;

/// Particles of a swarm: one batch per generation and island.
pub(crate) const PARTICLES: usize = 16;

// Factors of the standard swarm (Zambrano-Bigiarini et al. 2013): 1 / (2 ln 2)
// and 1/2 + ln 2, written out so that no machine's logarithm comes in.
const INERTIA: f64 = 0.721_347_520_444_481_7;
const PULL: f64 = 1.193_147_180_559_945_3;

/// Generations after which a swarm ends even if it asks for nothing new.
const GENERATIONS: u64 = 200;

/// Runs a swarm until the allowance is spent. Half of it starts from the best
/// designs known, half anywhere.
pub(crate) fn swarm(desk: &Desk<'_>, mut random: Random) -> Result<(), Ended> {
    let points = first_points(desk, &mut random);
    let keys: Vec<_> = points.iter().map(|point| desk.key(point)).collect();
    let merits = desk.ask(&keys)?;
    let particles = points
        .into_iter()
        .zip(merits)
        .map(|(point, merit)| {
            let velocity = point
                .iter()
                .map(|_| random.random_range(-0.25..0.25))
                .collect();
            Particle::new(point, merit, velocity)
        })
        .collect();
    let dimensions = desk.space.movable().len();
    let solver = ParticleSwarm::new((vec![0.0; dimensions], vec![1.0; dimensions]), PARTICLES)
        .with_rng_generator(random)
        .with_inertia_factor(INERTIA)
        .and_then(|solver| solver.with_cognitive_factor(PULL))
        .and_then(|solver| solver.with_social_factor(PULL))
        .map_err(|_| Ended)?;
    // How the solver ends says nothing: what it found is on the desk.
    let _ = Executor::new(desk, solver)
        .configure(|state| state.population(particles).max_iters(GENERATIONS))
        .timer(false)
        .run();
    Ok(())
}

fn first_points(desk: &Desk<'_>, random: &mut Random) -> Vec<Vec<f64>> {
    let mut points: Vec<Vec<f64>> = desk
        .ranked()
        .iter()
        .take(PARTICLES / 2)
        .map(|key| desk.space.point(key))
        .collect();
    let dimensions = desk.space.movable().len();
    points.resize_with(PARTICLES, || {
        (0..dimensions).map(|_| random.random::<f64>()).collect()
    });
    points
}
