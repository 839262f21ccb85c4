//! Where on the aperture flux is asked for.

use geometry::Lane;

use crate::aperture::{Aperture, Outline};
use crate::flux::Density;
use crate::image::Optic;

/// Spots whose flux is watched while light is summed.
pub const WATCHED: usize = 9;
/// Where they lie along each side of a flat aperture, as shares of it from its middle.
const ON_FLAT: [f64; 3] = [-0.25, 0.0, 0.25];
/// Where they lie round a cylinder, as shares of the whole turn from its middle.
const ROUND_CYLINDER: [f64; WATCHED] = [
    -4.0 / 9.0,
    -3.0 / 9.0,
    -2.0 / 9.0,
    -1.0 / 9.0,
    0.0,
    1.0 / 9.0,
    2.0 / 9.0,
    3.0 / 9.0,
    4.0 / 9.0,
];
/// How high they lie there: rays that climb to the middle of the axis meet the mantle below it.
const BELOW_MIDDLE: [f64; 1] = [-0.2];

/// A grid of spots on an aperture, as shares of its width (or of the turn round a cylinder) and of
/// its height, from its middle: row by row from the first of `ups`, each from the first of `rights`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spots<'a> {
    /// Along `right`.
    pub rights: &'a [f64],
    /// Along `up`.
    pub ups: &'a [f64],
}

impl Spots<'static> {
    /// The spots that are watched while light is summed: a square of nine about a flat aperture's
    /// middle; nine round a cylinder a little below half its height.
    #[must_use]
    pub fn watched(aperture: &Aperture) -> Self {
        match aperture.outline {
            Outline::Cylinder { .. } => Self {
                rights: &ROUND_CYLINDER,
                ups: &BELOW_MIDDLE,
            },
            _ => Self {
                rights: &ON_FLAT,
                ups: &ON_FLAT,
            },
        }
    }
}

impl Spots<'_> {
    /// How many spots.
    #[must_use]
    pub fn count(&self) -> usize {
        self.rights.len() * self.ups.len()
    }

    /// Adds the flux of one image to every spot.
    pub(crate) fn add(
        &self,
        aperture: &Aperture,
        density: &Density,
        optic: &Optic,
        sent_m2: &Lane,
        flux: &mut [Lane],
    ) {
        if let Outline::Cylinder { .. } = aperture.outline {
            let shares = self
                .ups
                .iter()
                .flat_map(|&up| self.rights.iter().map(move |&right| (right, up)));
            for ((right, up), flux) in shares.zip(flux) {
                density.add_spot(&aperture.spot(right, up), optic, sent_m2, flux);
            }
        } else {
            density.add_grid(
                self,
                [aperture.width_m(), aperture.height_m()],
                sent_m2,
                flux,
            );
        }
    }
}

/// Middles of `count` equal parts of a side, as shares of it from its middle.
#[must_use]
pub fn middles(count: usize) -> Vec<f64> {
    (0..count)
        .map(|index| (index as f64 + 0.5) / count as f64 - 0.5)
        .collect()
}
