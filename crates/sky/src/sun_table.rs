//! Sixty suns that stand for a year.

use std::ops::Range;

use geometry::{LANES, LaneVec3, Vec3, abreast};

use crate::calendar::HOUR_S;
use crate::site::Site;
use crate::stencil::{self, DECLINATIONS, Equatorial, HOUR_ANGLES, HOUR_ANGLES_USED, Horizon};
use crate::weather::WeatherYear;

mod few;
mod guests;
mod hourly;
mod instants;

pub use few::FewSuns;
pub use guests::{GUESTS, Guests};
pub use hourly::{HourlySuns, Lean};
pub use instants::{INSTANTS, Instant};

/// Suns in a table: its nodes, and four copies without weight that fill the lanes and leave room for [`Guests`].
pub const NODES: usize = 64;

/// Narrowest range of declinations over which nodes are spread, radians.
const MIN_DECLINATION_RANGE_RAD: f64 = 1e-3;

/// How one hour's value follows from node values: Σ weight · value of node.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HourStencil {
    /// Weight of each node; they add up to the share of the hour's beam that comes while the sun
    /// is high enough to operate.
    pub weight: [f64; NODES],
}

/// Node suns of a year with the weather folded in.
///
/// Anything smooth in the sun's direction is evaluated at the nodes only. Its value in an hour is
/// [`SunTable::at_hour`]; its yearly sum weighted with DNI is the dot product of the node values
/// with `dni_j_m2`.
///
/// Nodes are 5 declinations × 12 hour angles: the quartic through all declinations (Chebyshev
/// points of the year's range) times the cubic through the four nearest of evenly spaced hour
/// angles.
///
/// Chosen by trial on four latitudes from 28° S to 55° N, suns above 10°, 21 places around the
/// tower and broken weather; this module's tests repeat it on every fifth hour. `smooth` is the
/// cosine of a tracking mirror, `kinked` that cosine times the share of it which its neighbours in
/// a row leave open. Given are the largest error of the DNI-weighted yearly mean, relative, and the
/// DNI-weighted rms error of the hours:
///
/// | declination × hour angle | smooth, year | hours | kinked, year | hours |
/// |---|---|---|---|---|
/// | linear × linear, even nodes | 2.4e-3 | 2.0e-3 | 1.3e-2 | 1.1e-2 |
/// | quartic × linear | 1.3e-3 | 1.0e-3 | 5.8e-3 | 9.4e-3 |
/// | **quartic × cubic** | 3.2e-5 | 2.0e-4 | 4.8e-3 | 8.5e-3 |
/// | quartic × degree 11, Chebyshev nodes | 1.9e-5 | 1.9e-4 | 4.2e-3 | 8.9e-3 |
/// | 4 × 16 nodes, cubic × cubic | 1.9e-5 | 4.4e-4 | 7.6e-3 | 9.4e-3 |
///
/// The rms error of the kinked year over the 504 rows is 1.2e-3. One row whose mirrors all shade
/// alike is the hardest kink there is; a field adds many that lie apart and comes closer to the
/// smooth error. Single weights may be negative: next to a kink an interpolated hour can leave the
/// range of the node values by a few hundredths. Where the winter sun hardly rises above
/// `min_elevation_rad`, hours are met less closely (directions to 5 mrad at 52° latitude and 10°).
///
/// An hour is seen from the two places of Gauss's quadrature in that part of it in which the sun is above
/// `min_elevation_rad`, each weighted with the beam that a clear sky would give it. Against every minute, on the
/// mirrors above (`tests/hours.rs` repeats it on every seventh hour):
///
/// | | smooth: mirror's year, most, rms | hours of all, most, rms | kinked: year | hours |
/// |---|---|---|---|---|
/// | **two instants** | 2.7e-4, 1.5e-4 | 2.0e-2, 1.9e-3 | 7.9e-4, 2.0e-4 | 1.2e-2, 1.3e-3 |
/// | these, read off a cubic through [a sun an hour](HourlySuns) | 2.6e-4, 1.5e-4 | 2.0e-2, 1.9e-3 | 2.9e-3, 4.0e-4 | 1.2e-2, 1.5e-3 |
/// | middles of four quarters | 3.1e-3, 1.4e-3 | 2.2e-1, 2.8e-2 | 3.1e-3, 1.2e-3 | 1.4e-1, 1.8e-2 |
///
/// Quarters lose or gain parts of the hours in which the sun passes that elevation. One sun for the whole hour gives
/// 0.2 % too much over a year at 37° N from 8° up, 0.7 % from 12° up; quarters with an even beam 0.8 % too little, for
/// then the beam of the first hour comes too early.
#[derive(Debug, Clone, PartialEq)]
pub struct SunTable {
    /// Unit vectors (east, north, up) to the node suns, eight to a block.
    pub direction: [LaneVec3; NODES / LANES],
    /// Weight of each node, J/m²: Σ over hours of DNI × 3,600 s × stencil weight.
    pub dni_j_m2: [f64; NODES],
    /// One stencil per hour.
    pub hours: Vec<HourStencil>,
    /// The instants that stand for every hour.
    pub instants: Vec<[Instant; INSTANTS]>,
    /// Fewer suns, on three days, for comparing the places of heliostats.
    pub three_days: FewSuns,
    /// Fewer still, on two, for comparing those of strings, which speak for many mirrors each.
    pub two_days: FewSuns,
    /// A sun for each hour, for looking at all of them.
    pub hourly: HourlySuns,
    /// Lowest apparent elevation of the sun at which light is counted, radians.
    pub min_elevation_rad: f64,
    operating_j_m2: f64,
    grid: NodeGrid,
    /// Square of the distance from each instant to the nearest node, as unit vectors.
    to_node: Vec<[f64; INSTANTS]>,
}

impl SunTable {
    /// Table of a site and its weather.
    ///
    /// A site or year that has no sun position (see [`crate::SunError`]) yields a table in which
    /// the sun never rises: all weights are 0. So do hours that `weather` lacks.
    #[must_use]
    pub fn new(site: &Site, weather: &WeatherYear, min_elevation_rad: f64) -> Self {
        let year = instants::SunnyYear::new(site, weather);
        let instants = year.instants(min_elevation_rad);
        let nodes = NodeGrid::new(site, &instants, min_elevation_rad);
        let hours: Vec<HourStencil> = instants.iter().map(|hour| nodes.stencil(hour)).collect();
        let (direction, dni_j_m2) = (nodes.directions(), node_weights(&hours, weather));
        Self {
            three_days: FewSuns::of_days::<3>(&nodes, &direction, &dni_j_m2),
            two_days: FewSuns::of_days::<2>(&nodes, &direction, &dni_j_m2),
            hourly: HourlySuns::new(&year, &instants),
            direction,
            dni_j_m2,
            operating_j_m2: operating_sum(&instants, weather),
            hours,
            to_node: { instants.iter() }
                .map(|hour| hour.map(|instant| nodes.to_nearest(instant.sun)))
                .collect(),
            instants,
            min_elevation_rad,
            grid: nodes,
        }
    }

    /// Value in an hour of what has these values at the nodes; 0 when the sun is too low or the
    /// hour does not exist.
    #[must_use]
    pub fn at_hour(&self, hour: usize, node_values: &[f64; NODES]) -> f64 {
        let Some(HourStencil { weight }) = self.hours.get(hour) else {
            return 0.0;
        };
        let sums = abreast(
            #[inline(always)]
            || {
                let mut sums = [0.0; LANES];
                for (weights, values) in weight
                    .chunks_exact(LANES)
                    .zip(node_values.chunks_exact(LANES))
                {
                    for (lane, sum) in sums.iter_mut().enumerate() {
                        *sum += weights[lane] * values[lane];
                    }
                }
                sums
            },
        );
        sums.iter().sum()
    }

    /// DNI of the year while the sun is high enough to operate [J/m²].
    #[must_use]
    pub fn year_j_m2(&self) -> f64 {
        self.operating_j_m2
    }
}

/// Nodes of a site and year, and where each stands in the table: the morning's nodes fill the first
/// half from the lowest sun up, the afternoon's the second. So the eight suns of a block stand close
/// together, and who may shade whom is a short question for most blocks.
#[derive(Debug, Clone, PartialEq)]
struct NodeGrid {
    horizon: Horizon,
    declination_range_rad: Range<f64>,
    declinations: [f64; DECLINATIONS],
    shares: [f64; HOUR_ANGLES],
    suns: [Vec3; DECLINATIONS * HOUR_ANGLES],
    /// Place in the table of each node.
    place: [usize; DECLINATIONS * HOUR_ANGLES],
}

impl NodeGrid {
    fn new(site: &Site, instants: &[[Instant; INSTANTS]], min_elevation_rad: f64) -> Self {
        let horizon = Horizon::new(site.latitude_rad, min_elevation_rad);
        let declination_range_rad = declination_range_rad(&horizon, instants);
        let declinations = stencil::declination_nodes(&declination_range_rad);
        let shares = stencil::hour_share_nodes();
        let suns: [Vec3; DECLINATIONS * HOUR_ANGLES] = std::array::from_fn(|node| {
            let declination_rad = declinations[node / HOUR_ANGLES];
            let hour_angle_rad = shares[node % HOUR_ANGLES] * horizon.half_day_rad(declination_rad);
            horizon.direction(Equatorial {
                declination_rad,
                hour_angle_rad,
            })
        });
        let mut place = [0; DECLINATIONS * HOUR_ANGLES];
        for half in 0..2 {
            let in_half = |node: &usize| usize::from(shares[node % HOUR_ANGLES] > 0.0) == half;
            let mut nodes: Vec<usize> = (0..suns.len()).filter(in_half).collect();
            nodes.sort_by(|&one, &other| {
                let height = |node: usize| suns[node].z;
                height(one).total_cmp(&height(other)).then(one.cmp(&other))
            });
            for (index, node) in nodes.into_iter().enumerate() {
                place[node] = half * (NODES / 2) + index;
            }
        }
        Self {
            horizon,
            declination_range_rad,
            declinations,
            shares,
            suns,
            place,
        }
    }

    /// The node suns in their places; a place that is left over repeats the highest sun of its
    /// half, without weight.
    fn directions(&self) -> [LaneVec3; NODES / LANES] {
        let mut suns = [Vec3::Z; NODES];
        for (node, &place) in self.place.iter().enumerate() {
            suns[place] = self.suns[node];
        }
        let used = self.place.len() / 2;
        for half in 0..2 {
            let half = half * (NODES / 2);
            let highest = suns[half + used - 1];
            suns[half + used..half + NODES / 2].fill(highest);
        }
        let mut blocks = [[[0.0; LANES]; 3]; NODES / LANES];
        for (place, sun) in suns.iter().enumerate() {
            for (axis, value) in sun.to_array().into_iter().enumerate() {
                blocks[place / LANES][axis][place % LANES] = value;
            }
        }
        blocks
    }

    /// Places without a node, by turns in the morning's half and in the afternoon's.
    fn left_over() -> impl Iterator<Item = usize> {
        let half = NODES / 2;
        let used = DECLINATIONS * HOUR_ANGLES / 2;
        (used..half).flat_map(move |place| [place, half + place])
    }

    /// Square of the distance to the nearest node, as unit vectors.
    fn to_nearest(&self, sun: Vec3) -> f64 {
        let distances = self.suns.iter().map(|node| (*node - sun).length_squared());
        distances.fold(f64::INFINITY, f64::min)
    }

    fn stencil(&self, hour: &[Instant; INSTANTS]) -> HourStencil {
        let mut weight = [0.0; NODES];
        for instant in hour.iter().filter(|instant| instant.share > 0.0) {
            self.lean(instant.sun, instant.share, &mut weight);
        }
        HourStencil { weight }
    }

    /// Adds to the nodes that a sun leans on, `share` in all.
    fn lean(&self, sun: Vec3, share: f64, weight: &mut [f64; NODES]) {
        let sun = self.horizon.equatorial(sun);
        let hour_share = self.horizon.hour_share(sun);
        let first = stencil::first_hour_node(hour_share, HOUR_ANGLES);
        let near: [f64; HOUR_ANGLES_USED] = std::array::from_fn(|hour| self.shares[first + hour]);
        let along_day = stencil::lagrange(&near, hour_share);
        let along_year = stencil::lagrange(&self.declinations, sun.declination_rad);
        for (day, along_year) in along_year.into_iter().enumerate() {
            for (hour, along_day) in along_day.into_iter().enumerate() {
                let place = self.place[day * HOUR_ANGLES + first + hour];
                weight[place] += share * along_year * along_day;
            }
        }
    }
}

/// Declinations of the sun while light is counted, as far apart as nodes need.
fn declination_range_rad(horizon: &Horizon, instants: &[[Instant; INSTANTS]]) -> Range<f64> {
    let operating = || {
        instants
            .iter()
            .flatten()
            .filter(|instant| instant.share > 0.0)
    };
    let declinations =
        || operating().map(|instant| horizon.equatorial(instant.sun).declination_rad);
    let low = declinations().reduce(f64::min).unwrap_or(0.0);
    let high = declinations().reduce(f64::max).unwrap_or(0.0);
    let widening = (0.5 * (MIN_DECLINATION_RANGE_RAD - (high - low))).max(0.0);
    low - widening..high + widening
}

fn node_weights(hours: &[HourStencil], weather: &WeatherYear) -> [f64; NODES] {
    let mut weights = [0.0; NODES];
    for (stencil, dni_w_m2) in hours.iter().zip(&weather.dni_w_m2) {
        for (sum, weight) in weights.iter_mut().zip(stencil.weight) {
            *sum += dni_w_m2 * HOUR_S * weight;
        }
    }
    weights
}

fn operating_sum(instants: &[[Instant; INSTANTS]], weather: &WeatherYear) -> f64 {
    let hours = instants.iter().zip(&weather.dni_w_m2);
    hours
        .map(|(hour, dni_w_m2)| {
            let share: f64 = hour.iter().map(|instant| instant.share).sum();
            dni_w_m2 * HOUR_S * share
        })
        .sum()
}

#[cfg(test)]
mod tests;
