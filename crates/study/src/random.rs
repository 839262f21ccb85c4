//! Streams of random numbers, one per unit of work.

use rand::{Rng, SeedableRng};
use rand_xoshiro::Xoshiro256PlusPlus;

/// Generator of every stream (Blackman and Vigna 2021, xoshiro256++). Another
/// generator would change every result.
pub(crate) type Random = Xoshiro256PlusPlus;

/// Stream `number` of `seed`: streams start 2^128 numbers apart.
pub(crate) fn stream(seed: u64, number: u64) -> Random {
    let mut random = Random::seed_from_u64(seed);
    for _ in 0..number {
        random.jump();
    }
    random
}

/// A number of the standard normal distribution (Box and Muller 1958).
pub(crate) fn normal(random: &mut Random) -> f64 {
    let length = (-2.0 * libm::log(1.0 - random.random::<f64>())).sqrt();
    length * libm::cos(core::f64::consts::TAU * random.random::<f64>())
}

#[cfg(test)]
mod tests {
    use super::*;
    use rand::RngCore;

    #[test]
    fn streams_differ_and_repeat() {
        let first: Vec<u64> = (0..4).map(|number| stream(7, number).next_u64()).collect();
        let again: Vec<u64> = (0..4).map(|number| stream(7, number).next_u64()).collect();
        assert_eq!(first, again);
        assert!((1..4).all(|number| first[number] != first[0]));
    }
}
