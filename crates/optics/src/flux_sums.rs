//! Flux at spots, summed over many images.

use geometry::{LANES, Lane};

use crate::coarse::{Coarse, fine};

/// So many images are added in single precision before they go to the sums in double: to seven digits no less exact,
/// and vector code of half the length.
const TOGETHER: usize = 32;

/// Flux ÷ DNI under eight suns at each of some spots of an aperture.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct FluxSums {
    settled: Vec<Lane>,
    /// Of the latest images.
    recent: Vec<Coarse>,
    images: usize,
}

impl FluxSums {
    /// No light yet at so many spots.
    #[must_use]
    pub fn none(spots: usize) -> Self {
        Self {
            settled: vec![[0.0; LANES]; spots],
            recent: vec![[0.0; LANES]; spots],
            images: 0,
        }
    }

    /// Puts all light out again.
    pub fn clear(&mut self) {
        self.settled.fill([0.0; LANES]);
        self.recent.fill([0.0; LANES]);
        self.images = 0;
    }

    /// Whether there are no spots at all.
    #[must_use]
    pub const fn is_empty(&self) -> bool {
        self.recent.is_empty()
    }

    /// At one spot.
    #[must_use]
    pub fn at(&self, spot: usize) -> Lane {
        let recent = fine(&self.recent[spot]);
        std::array::from_fn(|lane| self.settled[spot][lane] + recent[lane])
    }

    /// At every spot, in their order.
    pub fn lanes(&self) -> impl Iterator<Item = Lane> {
        (0..self.recent.len()).map(|spot| self.at(spot))
    }

    /// Adds the light of others at the same spots.
    pub fn add(&mut self, other: &Self) {
        for (sum, more) in self.settled.iter_mut().zip(other.lanes()) {
            for lane in 0..LANES {
                sum[lane] += more[lane];
            }
        }
    }

    /// Where the next image is to be added.
    #[inline(always)]
    pub(crate) fn next_image(&mut self) -> &mut [Coarse] {
        if self.images == TOGETHER {
            self.settle();
        }
        self.images += 1;
        &mut self.recent
    }

    fn settle(&mut self) {
        for (sum, recent) in self.settled.iter_mut().zip(&mut self.recent) {
            for lane in 0..LANES {
                sum[lane] += f64::from(recent[lane]);
            }
            *recent = [0.0; LANES];
        }
        self.images = 0;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A hundred thousand images of like flux come to what they are together.
    #[test]
    fn many_images_add_up() {
        let mut sums = FluxSums::none(2);
        for _ in 0..100_000 {
            sums.next_image()[1][3] += 0.1;
        }
        assert!((sums.at(1)[3] / 10_000.0 - 1.0).abs() < 1e-6);
        assert_eq!(sums.at(0), [0.0; LANES]);
        let twice = sums.clone();
        sums.add(&twice);
        assert!((sums.at(1)[3] / 20_000.0 - 1.0).abs() < 1e-6);
        assert_eq!(sums.lanes().count(), 2);
        sums.clear();
        assert_eq!(sums, FluxSums::none(2));
    }
}
