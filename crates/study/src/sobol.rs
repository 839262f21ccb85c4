//! Sobol' points: even draws from a unit cube, scrambled by a seed.

mod directions;

use rand::RngCore;

use crate::random::{Random, stream};
use directions::DIRECTIONS;

/// Bits of a coordinate.
const BITS: usize = 32;

/// Most dimensions that there are direction numbers for.
pub const MOST_DIMENSIONS: usize = DIRECTIONS.len() + 1;

/// A scrambled Sobol' sequence.
pub struct Sobol {
    /// Direction numbers of each dimension, scrambled.
    directions: Vec<[u32; BITS]>,
    shifts: Vec<u32>,
}

impl Sobol {
    /// The sequence of up to [`MOST_DIMENSIONS`] dimensions, scrambled by random lower triangular
    /// matrices and a shift (Matoušek 1998); fewer dimensions than asked for if there are no more.
    #[must_use]
    pub fn new(dimensions: usize, seed: u64) -> Self {
        let mut random = stream(seed, 0);
        let dimensions = dimensions.min(MOST_DIMENSIONS);
        let mut scrambled = |dimension| scramble(&plain(dimension), &mut random);
        let directions = (0..dimensions).map(&mut scrambled).collect();
        let shifts = (0..dimensions).map(|_| random.next_u32()).collect();
        Self { directions, shifts }
    }

    /// Coordinates of a point.
    #[must_use]
    pub fn dimensions(&self) -> usize {
        self.directions.len()
    }

    /// The point of this number, each coordinate above 0 and below 1.
    #[must_use]
    pub fn point(&self, number: u32) -> Vec<f64> {
        let dimensions = self.directions.iter().zip(&self.shifts);
        dimensions
            .map(|(directions, shift)| {
                let bits = sum(directions, number) ^ shift;
                (f64::from(bits) + 0.5) / 4_294_967_296.0
            })
            .collect()
    }
}

/// The direction numbers that the set bits of `number` choose, added bit by bit.
fn sum(directions: &[u32; BITS], number: u32) -> u32 {
    let chosen = (0..BITS).filter(|bit| number >> bit & 1 == 1);
    chosen.fold(0, |sum, bit| sum ^ directions[bit])
}

/// Direction numbers before scrambling (Bratley and Fox 1988 give the recurrence).
fn plain(dimension: usize) -> [u32; BITS] {
    let Some((middle, first)) = dimension.checked_sub(1).map(|at| DIRECTIONS[at]) else {
        return std::array::from_fn(|bit| 1 << (BITS - 1 - bit));
    };
    let degree = first.len();
    let mut directions = [0; BITS];
    for bit in 0..BITS {
        directions[bit] = if bit < degree {
            first[bit] << (BITS - 1 - bit)
        } else {
            let back = directions[bit - degree];
            let terms = (1..degree).filter(|term| middle >> (degree - 1 - term) & 1 == 1);
            terms.fold(back ^ back >> degree, |sum, term| {
                sum ^ directions[bit - term]
            })
        };
    }
    directions
}

/// Each bit of a direction number becomes itself plus a random choice of the bits above it.
fn scramble(directions: &[u32; BITS], random: &mut Random) -> [u32; BITS] {
    let rows: Vec<u32> = (0..BITS)
        .map(|place| {
            let own = 1 << (BITS - 1 - place);
            let above = !(own | (own - 1));
            own | random.next_u32() & above
        })
        .collect();
    directions.map(|direction| {
        let bits = rows.iter().map(|row| (row & direction).count_ones() & 1);
        bits.fold(0, |sum, bit| sum << 1 | bit)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// First points of the plain sequence in five dimensions, computed with scipy 1.17
    /// (`scipy.stats.qmc.Sobol(5, scramble=False)`, which walks them in Gray order; sorted).
    #[test]
    fn plain_points_are_those_of_a_general_library() {
        let wanted = [
            [0.5; 5],
            [0.25, 0.75, 0.75, 0.75, 0.25],
            [0.75, 0.25, 0.25, 0.25, 0.75],
            [0.125, 0.625, 0.375, 0.125, 0.125],
        ];
        for (place, number) in [1_u32, 2, 3, 4].into_iter().enumerate() {
            for (dimension, wanted) in wanted[place].into_iter().enumerate() {
                let found = f64::from(sum(&plain(dimension), number)) / 4_294_967_296.0;
                assert_eq!(found, wanted, "point {number}, dimension {dimension}");
            }
        }
    }

    /// Of 2^m points every one of 2^m equal parts of every axis holds one, scrambled or not.
    #[test]
    fn every_axis_is_filled_evenly() {
        let sobol = Sobol::new(MOST_DIMENSIONS, 7);
        let points: Vec<Vec<f64>> = (0..256).map(|number| sobol.point(number)).collect();
        for dimension in 0..MOST_DIMENSIONS {
            let mut parts: Vec<u32> = points
                .iter()
                .map(|point| (point[dimension] * 256.0) as u32)
                .collect();
            parts.sort_unstable();
            assert!(parts.into_iter().eq(0..256), "dimension {dimension}");
        }
    }
}
