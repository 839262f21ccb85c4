//! Flux at spots, summed over many images.

use geometry::{LANES, Lane};

use crate::coarse::{Coarse, fine};
use crate::flux::Along;
use crate::spots::Spots;

/// So many images are added in single precision before they go to the sums in double: to seven digits no less exact,
/// and vector code of half the length.
const TOGETHER: usize = 32;

/// Flux ÷ DNI under eight suns at each of some spots of an aperture.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct FluxSums {
    /// How many columns the spots stand in.
    columns: usize,
    /// At every spot, and then what is even over each column.
    settled: Vec<Lane>,
    /// Of the latest images.
    recent: Vec<Coarse>,
    images: usize,
    /// Room for what an image has along the columns.
    rights: Vec<Along>,
}

/// Where the light of an image is to be added.
pub(crate) struct NextImage<'a> {
    /// At every spot.
    pub spots: &'a mut [Coarse],
    /// All along every column.
    pub columns: &'a mut [Coarse],
    /// Room for what the image has along the columns.
    pub rights: &'a mut [Along],
}

impl FluxSums {
    /// No light yet at these spots.
    #[must_use]
    pub fn none(spots: &Spots) -> Self {
        let columns = spots.rights.count;
        let all = spots.count() + columns;
        Self {
            columns,
            settled: vec![[0.0; LANES]; all],
            recent: vec![[0.0; LANES]; all],
            images: 0,
            rights: vec![Along::NONE; columns],
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
        let [here, column] = [spot, self.spots() + spot % self.columns].map(|at| {
            let recent = fine(&self.recent[at]);
            std::array::from_fn::<f64, LANES, _>(|lane| self.settled[at][lane] + recent[lane])
        });
        std::array::from_fn(|lane| here[lane] + column[lane])
    }

    const fn spots(&self) -> usize {
        self.recent.len() - self.columns
    }

    /// At every spot, in their order.
    pub fn lanes(&self) -> impl Iterator<Item = Lane> {
        (0..self.spots()).map(|spot| self.at(spot))
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
    pub(crate) fn next_image(&mut self) -> NextImage<'_> {
        if self.images == TOGETHER {
            self.settle();
        }
        self.images += 1;
        let all = self.spots();
        let (spots, columns) = self.recent.split_at_mut(all);
        NextImage {
            spots,
            columns,
            rights: &mut self.rights,
        }
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
        let spots = &Spots::middles(2);
        let mut sums = FluxSums::none(spots);
        for _ in 0..100_000 {
            let NextImage { spots, columns, .. } = sums.next_image();
            spots[1][3] += 0.1;
            columns[0][5] += 0.1;
        }
        assert!((sums.at(1)[3] / 10_000.0 - 1.0).abs() < 1e-6);
        assert!((sums.at(2)[5] / 10_000.0 - 1.0).abs() < 1e-6);
        assert_eq!(sums.at(3), [0.0; LANES]);
        let twice = sums.clone();
        sums.add(&twice);
        assert!((sums.at(1)[3] / 20_000.0 - 1.0).abs() < 1e-6);
        assert_eq!(sums.lanes().count(), 4);
        sums.clear();
        assert_eq!(sums, FluxSums::none(spots));
    }
}
