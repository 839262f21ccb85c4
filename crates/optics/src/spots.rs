//! Where on the aperture flux is asked for.

use field::Plan;
use geometry::{LANES, Lane};

use crate::aperture::{Aperture, Outline};
use crate::flux::Density;
use crate::image::Optic;

/// Where watched spots lie along each side of a flat aperture, as shares of it from its middle.
const ON_FLAT: [f64; 5] = [-0.25, -0.125, 0.0, 0.125, 0.25];
/// Where they lie round a cylinder, as shares of the whole turn from its middle.
const ROUND_CYLINDER: [f64; 12] = [
    -6.0 / 12.0,
    -5.0 / 12.0,
    -4.0 / 12.0,
    -3.0 / 12.0,
    -2.0 / 12.0,
    -1.0 / 12.0,
    0.0,
    1.0 / 12.0,
    2.0 / 12.0,
    3.0 / 12.0,
    4.0 / 12.0,
    5.0 / 12.0,
];
/// So many rings of them lie about a cylinder.
const RINGS: usize = 3;
/// Most spots whose flux is watched while light is summed.
pub const WATCHED: usize = ROUND_CYLINDER.len() * RINGS;

/// The spots that are watched while light is summed, so many and where light falls so that none of a
/// field's flux is more than 7 % above the brightest of them (`tests/light`): a square of 25 about a flat aperture's middle;
/// three rings of twelve about a cylinder.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Watched {
    /// About the middle of a flat aperture.
    #[default]
    Flat,
    /// Round a cylinder.
    Mantle {
        /// Heights of the rings, as shares of the cylinder's from its middle.
        ups: [f64; RINGS],
    },
}

impl Watched {
    /// Those for the light of a plan. Rays that climb to a cylinder's axis meet its mantle below where they
    /// aim, those from near mirrors lowest: rings lie where the light of the middle of each third of the
    /// strings falls.
    #[must_use]
    pub fn new(plan: &Plan, aperture: &Aperture) -> Self {
        let Outline::Cylinder {
            diameter_m,
            height_m,
        } = aperture.outline
        else {
            return Self::Flat;
        };
        let meets = plan.strings.iter().map(|row| {
            let mirror = row.reference_mirror();
            let (aim_m, way_m) = (plan.aim_of_m(mirror), plan.centre_m(mirror));
            let level_m = (way_m - aim_m).with_z(0.0).length().max(0.5 * diameter_m);
            let below_m = 0.5 * diameter_m * (aim_m.z - way_m.z) / level_m;
            ((aim_m.z - below_m - aperture.centre_m.z) / height_m).clamp(-0.5, 0.5)
        });
        let mut ups: Vec<f64> = meets.collect();
        ups.sort_by(f64::total_cmp);
        Self::Mantle {
            ups: std::array::from_fn(|ring| {
                let at = (2 * ring + 1) * ups.len() / (2 * RINGS);
                ups.get(at).copied().unwrap_or_default()
            }),
        }
    }

    /// The spots themselves.
    #[must_use]
    pub const fn spots(&self) -> Spots<'_> {
        match self {
            Self::Flat => Spots {
                rights: &ON_FLAT,
                ups: &ON_FLAT,
            },
            Self::Mantle { ups } => Spots {
                rights: &ROUND_CYLINDER,
                ups,
            },
        }
    }
}

/// A grid of spots on an aperture, as shares of its width (or of the turn round a cylinder) and of
/// its height, from its middle: row by row from the first of `ups`, each from the first of `rights`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spots<'a> {
    /// Along `right`.
    pub rights: &'a [f64],
    /// Along `up`.
    pub ups: &'a [f64],
}

impl Spots<'_> {
    /// How many spots.
    #[must_use]
    pub const fn count(&self) -> usize {
        self.rights.len() * self.ups.len()
    }

    /// Adds the flux of one image to every spot.
    #[inline(always)]
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

/// Means over the parts of a flux map, `parts` each way, of the flux at `within` × `within` spots of each: of a
/// grid of [`middles`] of `parts · within`. In small images a part's mean is several per cent less than its middle has.
#[must_use]
pub fn part_means(flux_suns: &[Lane], parts: usize, within: usize) -> Vec<Lane> {
    let share = 1.0 / (within * within) as f64;
    let mut means = vec![[0.0; LANES]; parts * parts];
    for (spot, flux) in flux_suns.iter().enumerate() {
        let (row, column) = (spot / (parts * within), spot % (parts * within));
        let mean = &mut means[row / within * parts + column / within];
        for lane in 0..LANES {
            mean[lane] += share * flux[lane];
        }
    }
    means
}

/// Middles of `count` equal parts of a side, as shares of it from its middle.
#[must_use]
pub fn middles(count: usize) -> Vec<f64> {
    (0..count)
        .map(|index| (index as f64 + 0.5) / count as f64 - 0.5)
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Two by two parts of two by two spots, numbered row by row.
    #[test]
    fn parts_have_the_mean_of_their_spots() {
        let flux_suns: Vec<Lane> = (0..16).map(|spot| [f64::from(spot); LANES]).collect();
        let means = part_means(&flux_suns, 2, 2);
        let of_first_sun: Vec<f64> = means.iter().map(|mean| mean[0]).collect();
        assert_eq!(of_first_sun, [2.5, 4.5, 10.5, 12.5]);
        assert_eq!(part_means(&flux_suns, 4, 1), flux_suns);
    }
}
