//! Where on the aperture flux is asked for.

use field::Plan;
use geometry::{LANES, Lane};

use crate::aperture::{Aperture, Outline};
use crate::coarse::Coarse;
use crate::flux::Density;
use crate::image::Optic;
use crate::mirrors::Mirrors;
use crate::sun_shape::DISC_RAD;

/// Where watched spots lie along each side of a flat aperture, as shares of it from its middle.
const CLOSE: [f64; 11] = [
    -0.3, -0.24, -0.18, -0.12, -0.06, 0.0, 0.06, 0.12, 0.18, 0.24, 0.3,
];
/// Where they lie if images are wide.
const APART: [f64; 7] = [-0.3, -0.2, -0.1, 0.0, 0.1, 0.2, 0.3];
/// How far apart these are.
const STEP: f64 = 0.1;
/// Images are wide if their standard deviation is more than so many steps: peaks of 60 drawn fields, of which 19 had wide
/// images, then moved by less than 0.06 %. From 0.4 steps on they moved by up to 1.8 %.
const LEAST_SPREAD_STEPS: f64 = 0.55;
/// Where they lie round a cylinder, as shares of the whole turn from its middle.
const ROUND_CYLINDER: [f64; 24] = {
    let mut shares = [0.0; 24];
    let mut spot = 0;
    while spot < shares.len() {
        shares[spot] = (spot as f64 - 12.0) / 24.0;
        spot += 1;
    }
    shares
};
/// So many rings of them lie about a cylinder.
const RINGS: usize = 7;
/// Strings whose light falls lowest and highest, of which rings take no notice, as a share of all.
const STRAY: f64 = 0.05;
/// A spot beside the brightest is taken to have this share of its flux at least.
const LEAST_SHARE: f64 = 0.1;

/// The spots that are watched while light is summed: a square of 121 about a flat aperture's middle, or of 49 where images
/// are wide, or seven rings of 24 about a cylinder, where light falls. [`Watched::peak`] tells the peak between them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Watched {
    /// About the middle of a flat aperture.
    Flat {
        /// Where they lie along each side, as shares of it from its middle.
        shares: &'static [f64],
    },
    /// Round a cylinder.
    Mantle {
        /// Heights of the rings, as shares of the cylinder's from its middle.
        ups: [f64; RINGS],
    },
}

impl Default for Watched {
    fn default() -> Self {
        Self::CLOSE
    }
}

impl Watched {
    /// A square of spots that is close enough for any images.
    pub const CLOSE: Self = Self::Flat { shares: &CLOSE };

    /// Those for the light of a plan.
    #[must_use]
    pub fn new(plan: &Plan, mirrors: &Mirrors, aperture: &Aperture) -> Self {
        let Outline::Cylinder {
            diameter_m,
            height_m,
        } = aperture.outline
        else {
            let side_m = aperture.width_m().max(aperture.height_m());
            let is_wide = least_spread_m(plan, mirrors) > LEAST_SPREAD_STEPS * STEP * side_m;
            return Self::Flat {
                shares: if is_wide { &APART } else { &CLOSE },
            };
        };
        Self::rings(plan, aperture, [diameter_m, height_m])
    }

    /// Rays that climb to a cylinder's axis meet its mantle below where they
    /// aim, those from near mirrors lowest: rings lie evenly from where the lowest light falls to where the highest
    /// does, and beyond by the sun's disc, so that none coincide and a bell curve through them can be told.
    fn rings(plan: &Plan, aperture: &Aperture, [diameter_m, height_m]: [f64; 2]) -> Self {
        let (mut ups, mut discs_m) = (Vec::with_capacity(plan.strings.len()), 0.0);
        for row in &plan.strings {
            let mirror = row.reference_mirror();
            let (aim_m, way_m) = (plan.aim_of_m(mirror), plan.centre_m(mirror));
            let level_m = (way_m - aim_m).with_z(0.0).length().max(0.5 * diameter_m);
            let below_m = 0.5 * diameter_m * (aim_m.z - way_m.z) / level_m;
            ups.push(((aim_m.z - below_m - aperture.centre_m.z) / height_m).clamp(-0.5, 0.5));
            discs_m += DISC_RAD * (way_m - aim_m).length();
        }
        ups.sort_by(f64::total_cmp);
        let stray = (STRAY * ups.len() as f64) as usize;
        let (lowest, highest) = match ups.get(stray..ups.len() - stray) {
            Some([lowest, .., highest]) => (*lowest, *highest),
            Some([only]) => (*only, *only),
            _ => (0.0, 0.0),
        };
        let disc = discs_m / (ups.len().max(1) as f64 * height_m);
        let (from, to) = ((lowest - disc).max(-0.5), (highest + disc).min(0.5));
        Self::Mantle {
            ups: std::array::from_fn(|ring| from + (to - from) * ring as f64 / (RINGS - 1) as f64),
        }
    }

    /// The largest flux, of `flux` at every spot: that of the brightest one, raised by what a bell curve through it
    /// and its neighbours tells of the places between them.
    pub fn peak(&self, flux: impl Fn(usize) -> f64) -> f64 {
        let Spots { rights, ups } = self.spots();
        let columns = rights.len();
        let brighter = |one: usize, other: usize| if flux(other) > flux(one) { other } else { one };
        let brightest = (0..columns * ups.len()).fold(0, brighter);
        let (row, column) = (brightest / columns, brightest % columns);
        let across = |column: usize| (rights[column], flux(row * columns + column));
        let upwards = |row: usize| (ups[row], flux(row * columns + column));
        let middle = flux(brightest);
        if middle <= 0.0 {
            return 0.0;
        }
        let sides = match self {
            Self::Flat { .. } => inner(column, columns).map(|sides| sides.map(across)),
            Self::Mantle { .. } => Some(round(column, columns, across)),
        };
        let rise_across = sides.map_or(0.0, |sides| rise((rights[column], middle), sides));
        let sides = inner(row, ups.len()).map(|sides| sides.map(upwards));
        let rise_upwards = sides.map_or(0.0, |sides| rise((ups[row], middle), sides));
        middle * libm::exp(rise_across + rise_upwards)
    }

    /// The spots themselves.
    #[must_use]
    pub const fn spots(&self) -> Spots<'_> {
        match self {
            Self::Flat { shares } => Spots {
                rights: shares,
                ups: shares,
            },
            Self::Mantle { ups } => Spots {
                rights: &ROUND_CYLINDER,
                ups,
            },
        }
    }
}

/// Standard deviation of a bell curve as high in its middle as images are in the mean at the least that spreads
/// them: the sun's core, the reflecting layer and slopes seen at 60° of incidence.
fn least_spread_m(plan: &Plan, mirrors: &Mirrors) -> f64 {
    let [slope_rad, scatter_rad] = [mirrors.slope_error_rad, mirrors.scatter_rad];
    let spread_rad2 =
        f64::from(mirrors.sun.core_rad2) + scatter_rad * scatter_rad + slope_rad * slope_rad;
    let per_m2 = plan.strings.iter().map(|row| {
        let mirror = row.reference_mirror();
        1.0 / (plan.aim_of_m(mirror) - plan.centre_m(mirror)).length_squared()
    });
    let mean_per_m2 = per_m2.sum::<f64>() / plan.strings.len().max(1) as f64;
    (spread_rad2 / mean_per_m2.max(f64::MIN_POSITIVE)).sqrt()
}

/// The neighbours of a place that is not at an end.
fn inner(place: usize, count: usize) -> Option<[usize; 2]> {
    (1..count.saturating_sub(1))
        .contains(&place)
        .then(|| [place - 1, place + 1])
}

/// The neighbours of a place on a ring, where they stand and what they have.
fn round(place: usize, count: usize, at: impl Fn(usize) -> (f64, f64)) -> [(f64, f64); 2] {
    let (before, after) = (at((place + count - 1) % count), at((place + 1) % count));
    let turn = |share: f64| share - share.round();
    let here = at(place).0;
    [before, after].map(|(share, flux)| (here + turn(share - here), flux))
}

/// How much higher than at `middle` the logarithm of a bell curve through three places rises; `middle` is the highest.
fn rise((place, middle): (f64, f64), [before, after]: [(f64, f64); 2]) -> f64 {
    let (back, ahead) = (place - before.0, after.0 - place);
    if back <= 0.0 || ahead <= 0.0 {
        return 0.0;
    }
    let fall = |flux: f64| libm::log(middle / flux.max(LEAST_SHARE * middle));
    let (fall_back, fall_ahead) = (fall(before.1), fall(after.1));
    let bend = (fall_back / back + fall_ahead / ahead) / (back + ahead);
    let slope = (fall_back * ahead / back - fall_ahead * back / ahead) / (back + ahead);
    if bend > 0.0 {
        0.25 * slope * slope / bend
    } else {
        0.0
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
        flux: &mut [Coarse],
    ) {
        if let Outline::Cylinder { .. } = aperture.outline {
            let shares = self
                .ups
                .iter()
                .flat_map(|&up| self.rights.iter().map(move |&right| (right, up)));
            for ((right, up), flux) in shares.zip(flux) {
                density.add_spot(&aperture.spot(right, up), optic, flux);
            }
        } else {
            density.add_grid(self, [aperture.width_m(), aperture.height_m()], flux);
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

    /// A bell curve whose middle lies between spots, on a plane and round a cylinder, is met exactly.
    #[test]
    fn the_peak_of_a_bell_curve_lies_between_spots() {
        let watched = [
            (Watched::CLOSE, [0.012, -0.137], [0.07, 0.09]),
            (
                Watched::Flat { shares: &APART },
                [0.012, -0.137],
                [0.07, 0.09],
            ),
            (
                Watched::Mantle {
                    ups: [-0.45, -0.3, -0.15, 0.0, 0.15, 0.3, 0.45],
                },
                [-0.47, 0.04],
                [0.1, 0.2],
            ),
        ];
        for (watched, middle, spread) in watched {
            let Spots { rights, ups } = watched.spots();
            let bell = |spot: usize| {
                let (right, up) = (rights[spot % rights.len()], ups[spot / rights.len()]);
                let turned = right - middle[0];
                let off = [turned - turned.round(), up - middle[1]];
                let far = |axis: usize| off[axis] / spread[axis];
                800.0 * libm::exp(-0.5 * (far(0) * far(0) + far(1) * far(1)))
            };
            let peak = watched.peak(bell);
            assert!((peak - 800.0).abs() < 1e-6, "{watched:?}: {peak}");
        }
        assert_eq!(Watched::CLOSE.peak(|_| 0.0), 0.0);
        assert_eq!(
            Watched::CLOSE.peak(|spot| f64::from(u8::from(spot == 0))),
            1.0
        );
    }

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
