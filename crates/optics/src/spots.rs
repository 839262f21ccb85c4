//! Where on the aperture flux is asked for.

use std::f64::consts::PI;
use std::ops::Range;

use field::Plan;
use geometry::{LANES, Lane};

use crate::aperture::{Aperture, Outline};
use crate::mirrors::Mirrors;
use crate::sun_shape::DISC_RAD;

/// Watched spots of a flat aperture lie at least so far on all sides of its middle, as a share of it: aimed there, images
/// still fall aside.
const LEAST_REACH: f64 = 0.25;
/// They lie no farther apart than about this share of the aperture, round a cylinder of its turn.
const MOST_STEP: f64 = 0.1;
const MOST_TURN: f64 = 1.0 / 24.0;
/// So many along a side at least, and at most.
const LEAST_SPOTS: usize = 3;
const MOST_SPOTS: usize = 80;
/// Nor are they farther apart than about so many standard deviations of the narrowest images, or so many where images lie
/// thick and light is smoother than each of them.
const STEP_SPREADS: f64 = 1.0;
const THICK_STEP_SPREADS: f64 = 1.4;
/// Images lie thick if so many strings aim at each square of that standard deviation, over so many of them each way.
const THICK: f64 = 4.0;
const THICK_SPREADS: f64 = 4.0;
/// Strings whose light falls lowest and highest, of which rings about a cylinder take no notice, and where images lie
/// thick a flat aperture's spots, as a share of all.
const STRAY: f64 = 0.05;
/// Spots that have this share of the brightest one's flux may lie beside the peak.
const BRIGHT: f64 = 0.7;
/// A spot beside such a one is taken to have this share of its flux at least.
const LEAST_SHARE: f64 = 0.1;

/// Places along a side of an aperture, evenly apart, as shares of it from its middle.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Evenly {
    /// The first of them.
    pub first: f64,
    /// How far they are apart.
    pub step: f64,
    /// How many there are.
    pub count: usize,
}

impl Evenly {
    /// Middles of `count` equal parts of the side.
    #[must_use]
    pub fn middles(count: usize) -> Self {
        let step = 1.0 / count as f64;
        Self {
            first: 0.5 * step - 0.5,
            step,
            count,
        }
    }

    /// From one end to the other, about so far apart.
    fn between([from, to]: [f64; 2], step: f64) -> Self {
        let steps = ((to - from) / step).round() as usize;
        let count = (steps + 1).clamp(LEAST_SPOTS, MOST_SPOTS);
        Self {
            first: from,
            step: (to - from) / (count - 1) as f64,
            count,
        }
    }

    /// All round a cylinder, about so far apart.
    fn round(step: f64) -> Self {
        let count = ((1.0 / step).round() as usize).min(MOST_SPOTS);
        Self {
            first: -0.5,
            step: 1.0 / count as f64,
            count,
        }
    }

    /// One of them.
    #[must_use]
    pub const fn at(&self, place: usize) -> f64 {
        self.first + self.step * place as f64
    }

    /// Those that lie between these shares of the side.
    #[inline(always)]
    pub(crate) fn within(&self, [from, to]: [f64; 2]) -> Range<usize> {
        let per_step = 1.0 / self.step;
        let start = ((from - self.first) * per_step).ceil().max(0.0) as usize;
        let end = ((to - self.first) * per_step + 1.0).max(0.0) as usize;
        let end = end.min(self.count);
        start.min(end)..end
    }
}

/// A grid of spots on an aperture, as shares of its width (or of the turn round a cylinder) and of
/// its height, from its middle: row by row from the first of `ups`, each from the first of `rights`.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Spots {
    /// Along `right`.
    pub rights: Evenly,
    /// Along `up`.
    pub ups: Evenly,
}

impl Spots {
    /// The middles of so many parts each way.
    #[must_use]
    pub fn middles(parts: usize) -> Self {
        Self {
            rights: Evenly::middles(parts),
            ups: Evenly::middles(parts),
        }
    }

    /// How many spots.
    #[must_use]
    pub const fn count(&self) -> usize {
        self.rights.count * self.ups.count
    }

    /// Where one of them lies, right and up.
    #[must_use]
    pub const fn place(&self, spot: usize) -> [f64; 2] {
        let columns = self.rights.count;
        [self.rights.at(spot % columns), self.ups.at(spot / columns)]
    }
}

/// The spots that are watched while light is summed, where it falls: so close that no image lies unseen between them.
/// [`Watched::peak`] tells the peak between them.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Watched {
    /// The spots.
    pub spots: Spots,
    /// Whether the last of a row lies beside the first.
    is_round: bool,
}

impl Watched {
    /// Those for the light of a plan.
    #[must_use]
    pub fn new(plan: &Plan, mirrors: &Mirrors, aperture: &Aperture) -> Self {
        let spread_m = least_spread_m(plan, mirrors);
        if let Outline::Cylinder {
            diameter_m,
            height_m,
        } = aperture.outline
        {
            Self::on_mantle(plan, aperture, [diameter_m, height_m], spread_m)
        } else {
            Self::on_plane(plan, aperture, spread_m)
        }
    }

    /// They lie where aims do, and a step beyond, since some images lie alone there unless all lie thick.
    fn on_plane(plan: &Plan, aperture: &Aperture, spread_m: f64) -> Self {
        let aims_m =
            [aperture.right, aperture.up].map(|axis| {
                sorted(plan.strings.iter().map(|row| {
                    (plan.aim_of_m(row.reference_mirror()) - aperture.centre_m).dot(axis)
                }))
            });
        let wide = aims_m.each_ref().map(|aims_m| {
            let [lowest_m, highest_m] = ends(aims_m, STRAY);
            (highest_m - lowest_m) / spread_m
        });
        let lie_thick = wide.iter().all(|wide| *wide > THICK_SPREADS)
            && plan.strings.len() as f64 > THICK * wide[0] * wide[1];
        let (stray, step_m, beyond_m) = if lie_thick {
            (STRAY, THICK_STEP_SPREADS * spread_m, 0.0)
        } else {
            (0.0, STEP_SPREADS * spread_m, STEP_SPREADS * spread_m)
        };
        let along = |aims_m: &[f64], side_m: f64| {
            let [lowest_m, highest_m] = ends(aims_m, stray);
            let from = ((lowest_m - beyond_m) / side_m).clamp(-0.5, -LEAST_REACH);
            let to = ((highest_m + beyond_m) / side_m).clamp(LEAST_REACH, 0.5);
            Evenly::between([from, to], (step_m / side_m).min(MOST_STEP))
        };
        Self {
            spots: Spots {
                rights: along(&aims_m[0], aperture.width_m()),
                ups: along(&aims_m[1], aperture.height_m()),
            },
            is_round: false,
        }
    }

    /// Rays that climb to a cylinder's axis meet its mantle below where they
    /// aim, those from near mirrors lowest: rings lie evenly from where the lowest light falls to where the highest
    /// does, and beyond by the sun's disc, so that none coincide and a bell curve through them can be told.
    fn on_mantle(
        plan: &Plan,
        aperture: &Aperture,
        [diameter_m, height_m]: [f64; 2],
        spread_m: f64,
    ) -> Self {
        let (mut ups, mut discs_m) = (Vec::with_capacity(plan.strings.len()), 0.0);
        for row in &plan.strings {
            let mirror = row.reference_mirror();
            let (aim_m, way_m) = (plan.aim_of_m(mirror), plan.centre_m(mirror));
            let level_m = (way_m - aim_m).with_z(0.0).length().max(0.5 * diameter_m);
            let below_m = 0.5 * diameter_m * (aim_m.z - way_m.z) / level_m;
            ups.push(((aim_m.z - below_m - aperture.centre_m.z) / height_m).clamp(-0.5, 0.5));
            discs_m += DISC_RAD * (way_m - aim_m).length();
        }
        let disc = discs_m / (ups.len().max(1) as f64 * height_m);
        let [lowest, highest] = ends(&sorted(ups), STRAY);
        let [from, to] = [(lowest - disc).max(-0.5), (highest + disc).min(0.5)];
        let (step_m, round_m) = (STEP_SPREADS * spread_m, PI * diameter_m);
        Self {
            spots: Spots {
                rights: Evenly::round((step_m / round_m).min(MOST_TURN)),
                ups: Evenly::between([from, to], step_m / height_m),
            },
            is_round: true,
        }
    }

    /// The largest flux, of `flux` at every spot: the highest of the bell curves through bright spots and their
    /// neighbours.
    pub fn peak(&self, flux: impl Fn(usize) -> f64) -> f64 {
        let spots = 0..self.spots.count();
        let brightest = spots.clone().map(&flux).fold(0.0, f64::max);
        spots
            .filter(|&spot| flux(spot) > BRIGHT * brightest)
            .map(|spot| self.bell(spot, &flux))
            .fold(0.0, f64::max)
    }

    /// The top of a bell curve through a spot and its neighbours; nothing if one of them is brighter.
    fn bell(&self, spot: usize, flux: &impl Fn(usize) -> f64) -> f64 {
        let Spots { rights, ups } = self.spots;
        let (row, column) = (spot / rights.count, spot % rights.count);
        let beside = |place: usize, count: usize, is_round: bool| {
            let is_inner = is_round || (1..count - 1).contains(&place);
            is_inner.then_some([(place + count - 1) % count, (place + 1) % count])
        };
        let columns = beside(column, rights.count, self.is_round);
        let rows = beside(row, ups.count, false);
        let middle = flux(spot);
        let fall = |row: usize, column: usize| {
            let flux = flux(row * rights.count + column);
            libm::log(middle / flux.max(LEAST_SHARE * middle))
        };
        let across = columns.map_or([0.0; 2], |columns| columns.map(|column| fall(row, column)));
        let upwards = rows.map_or([0.0; 2], |rows| rows.map(|row| fall(row, column)));
        if across.into_iter().chain(upwards).any(|fall| fall < 0.0) {
            return 0.0;
        }
        let rises = [across, upwards].map(rise);
        middle * libm::exp(rises[0] + rises[1])
    }
}

fn sorted(places: impl IntoIterator<Item = f64>) -> Vec<f64> {
    let mut places: Vec<f64> = places.into_iter().collect();
    places.sort_by(f64::total_cmp);
    places
}

/// The lowest and the highest of sorted places but for this share of them at each end; the middle of none.
fn ends(sorted: &[f64], stray: f64) -> [f64; 2] {
    let stray = (stray * sorted.len() as f64) as usize;
    match sorted.get(stray..sorted.len() - stray) {
        Some([lowest, .., highest]) => [*lowest, *highest],
        Some([only]) => [*only; 2],
        _ => [0.0; 2],
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

/// How much higher than in its middle one the logarithm of a bell curve through three places, evenly apart, rises; from
/// there it falls so to the others.
fn rise([back, ahead]: [f64; 2]) -> f64 {
    let (bend, slope) = (back + ahead, 0.5 * (back - ahead));
    if bend > 0.0 {
        0.5 * slope * slope / bend
    } else {
        0.0
    }
}

/// Means over the parts of a flux map, `parts` each way, of the flux at `within` × `within` spots of each: of
/// [`Spots::middles`] of `parts · within`. In small images a part's mean is several per cent less than its middle has.
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

#[cfg(test)]
mod tests {
    use super::*;

    fn watched(rights: Evenly, ups: Evenly, is_round: bool) -> Watched {
        Watched {
            spots: Spots { rights, ups },
            is_round,
        }
    }

    /// A bell curve whose middle lies between spots, on a plane and round a cylinder, is met exactly.
    #[test]
    fn the_peak_of_a_bell_curve_lies_between_spots() {
        let side = Evenly::between([-0.3, 0.3], 0.06);
        let mantle = (
            Evenly::round(1.0 / 24.0),
            Evenly::between([-0.45, 0.45], 0.15),
        );
        let bells = [
            (watched(side, side, false), [0.012, -0.137], [0.07, 0.09]),
            (watched(mantle.0, mantle.1, true), [-0.47, 0.04], [0.1, 0.2]),
        ];
        for (watched, middle, spread) in bells {
            let bell = |spot: usize| {
                let [right, up] = watched.spots.place(spot);
                let turned = right - middle[0];
                let off = [turned - turned.round(), up - middle[1]];
                let far = |axis: usize| off[axis] / spread[axis];
                800.0 * libm::exp(-0.5 * (far(0) * far(0) + far(1) * far(1)))
            };
            let peak = watched.peak(bell);
            assert!((peak - 800.0).abs() < 1e-6, "{watched:?}: {peak}");
        }
        let square = watched(side, side, false);
        assert_eq!(square.peak(|_| 0.0), 0.0);
        assert_eq!(square.peak(|spot| f64::from(u8::from(spot == 0))), 1.0);
        assert_eq!(Watched::default().peak(|_| 1.0), 0.0);
    }

    /// The lesser of two spots lies nearer to a peak that stands apart from the other's.
    #[test]
    fn the_peak_need_not_lie_beside_the_brightest_spot() {
        let row = watched(
            Evenly::between([-0.5, 0.5], 0.1),
            Evenly::between([-0.1, 0.1], 0.1),
            false,
        );
        let bell = |off: f64| libm::exp(-0.5 * off * off / 0.01);
        let light = |spot: usize| {
            let [right, up] = row.spots.place(spot);
            bell(up) * (0.92 * bell(right + 0.3) + bell(right - 0.25))
        };
        let peak = row.peak(light);
        assert!((peak - 1.0).abs() < 0.01, "{peak}");
    }

    /// Spots between two shares of a side, and none beyond its ends.
    #[test]
    fn places_within_a_stretch() {
        let side = Evenly::between([-0.3, 0.3], 0.1);
        assert_eq!((side.count, side.at(6)), (7, 0.3));
        for (stretch, places) in [
            ([-0.31, -0.09], 0..3),
            ([0.01, 0.09], 4..4),
            ([0.25, 2.0], 6..7),
            ([-9.0, 9.0], 0..7),
            ([0.4, 2.0], 7..7),
            ([f64::INFINITY, f64::NEG_INFINITY], 0..0),
        ] {
            assert_eq!(side.within(stretch), places, "{stretch:?}");
        }
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
