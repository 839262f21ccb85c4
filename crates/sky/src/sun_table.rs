//! Sixty suns that stand for a year.

use geometry::{LANES, LaneVec3, Vec3};

use crate::calendar::{HOUR_S, HOURS};
use crate::site::Site;
use crate::stencil::{self, DECLINATIONS, Equatorial, HOUR_ANGLES, HOUR_ANGLES_USED, Horizon};
use crate::sun::{Air, Moment, sun_direction};
use crate::weather::WeatherYear;

/// Node suns in a table, four of them copies without weight that fill the lanes.
pub const NODES: usize = 64;

/// Nodes that one hour leans on.
pub const STENCIL: usize = DECLINATIONS * HOUR_ANGLES_USED;

/// Narrowest range of declinations over which nodes are spread, radians.
const MIN_DECLINATION_RANGE_RAD: f64 = 1e-3;

/// How one hour's value follows from node values: Σ weight · value of node.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HourStencil {
    /// Nodes leaned on.
    pub node: [u8; STENCIL],
    /// Weight of each; they add up to 1, or are all 0 when the sun is too low.
    pub weight: [f64; STENCIL],
}

impl HourStencil {
    const DARK: Self = Self {
        node: [0; STENCIL],
        weight: [0.0; STENCIL],
    };
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
/// | linear × linear, even nodes | 2.5e-3 | 2.1e-3 | 1.2e-2 | 1.1e-2 |
/// | quartic × linear | 1.4e-3 | 1.1e-3 | 6.9e-3 | 9.4e-3 |
/// | **quartic × cubic** | 2.9e-5 | 2.1e-4 | 4.7e-3 | 8.5e-3 |
/// | quartic × degree 11, Chebyshev nodes | 1.7e-5 | 2.0e-4 | 4.5e-3 | 9.1e-3 |
/// | 4 × 16 nodes, cubic × cubic | 2.7e-5 | 4.6e-4 | 8.4e-3 | 9.6e-3 |
///
/// The rms error of the kinked year over the 504 rows is 1.2e-3. One row whose mirrors all shade
/// alike is the hardest kink there is; a field adds many that lie apart and comes closer to the
/// smooth error. Single weights may be negative: next to a kink an interpolated hour can leave the
/// range of the node values by a few hundredths. Where the winter sun hardly rises above
/// `min_elevation_rad`, hours are met less closely (directions to 5 mrad at 52° latitude and 10°).
///
/// The sun of an hour is that of its middle; an hour operates when that sun is at or above
/// `min_elevation_rad`.
#[derive(Debug, Clone, PartialEq)]
pub struct SunTable {
    /// Unit vectors (east, north, up) to the node suns, eight to a block.
    pub direction: [LaneVec3; NODES / LANES],
    /// Weight of each node, J/m²: Σ over hours of DNI × 3,600 s × stencil weight.
    pub dni_j_m2: [f64; NODES],
    /// One stencil per hour.
    pub hours: Vec<HourStencil>,
    /// Unit vector to the sun in the middle of each hour, also at night.
    pub sun_direction: Vec<Vec3>,
    /// Lowest apparent elevation of the sun at which light is counted, radians.
    pub min_elevation_rad: f64,
    operating_j_m2: f64,
}

impl SunTable {
    /// Table of a site and its weather.
    ///
    /// A site or year that has no sun position (see [`crate::SunError`]) yields a table in which
    /// the sun never rises: all weights are 0. So do hours that `weather` lacks.
    #[must_use]
    pub fn new(site: &Site, weather: &WeatherYear, min_elevation_rad: f64) -> Self {
        let horizon = Horizon::new(site.latitude_rad, min_elevation_rad);
        let sun_direction = sun_directions(site, weather);
        let sin_lowest = libm::sin(min_elevation_rad);
        let operating: Vec<Option<Equatorial>> = sun_direction
            .iter()
            .map(|&sun| (sun.z >= sin_lowest).then(|| horizon.equatorial(sun)))
            .collect();
        let declinations = declination_nodes(&operating);
        let order = NodeOrder::new(&horizon, &declinations);
        let hours: Vec<HourStencil> = operating
            .iter()
            .map(|sun| {
                sun.map_or(HourStencil::DARK, |sun| {
                    hour_stencil(&horizon, &declinations, &order, sun)
                })
            })
            .collect();
        let operates: Vec<bool> = operating.iter().map(Option::is_some).collect();
        Self {
            direction: order.directions(),
            dni_j_m2: node_weights(&hours, weather),
            operating_j_m2: operating_sum(&operates, weather),
            hours,
            sun_direction,
            min_elevation_rad,
        }
    }

    /// Value in an hour of what has these values at the nodes; 0 when the sun is too low or the
    /// hour does not exist.
    #[must_use]
    pub fn at_hour(&self, hour: usize, node_values: &[f64; NODES]) -> f64 {
        self.hours.get(hour).map_or(0.0, |stencil| {
            let terms = stencil.node.iter().zip(&stencil.weight);
            terms
                .map(|(&node, &weight)| weight * node_values[usize::from(node)])
                .sum()
        })
    }

    /// DNI of the year while the sun is high enough to operate, J/m².
    #[must_use]
    pub fn year_j_m2(&self) -> f64 {
        self.operating_j_m2
    }
}

/// Apparent sun in the middle of every hour; straight down where it is not defined.
fn sun_directions(site: &Site, weather: &WeatherYear) -> Vec<Vec3> {
    (0..HOURS)
        .map(|hour| {
            let temperature_k = weather
                .air_temperature_k
                .get(hour)
                .copied()
                .unwrap_or(f64::NAN);
            let air = Air::at_altitude(site.altitude_m, temperature_k);
            Moment::in_year(weather.year, hour as f64 + 0.5, weather.utc_offset_h)
                .and_then(|moment| sun_direction(site, &moment, &air))
                .unwrap_or(Vec3::NEG_Z)
        })
        .collect()
}

fn declination_nodes(operating: &[Option<Equatorial>]) -> [f64; DECLINATIONS] {
    let declinations = || operating.iter().flatten().map(|sun| sun.declination_rad);
    let low = declinations().reduce(f64::min).unwrap_or(0.0);
    let high = declinations().reduce(f64::max).unwrap_or(0.0);
    let widening = (0.5 * (MIN_DECLINATION_RANGE_RAD - (high - low))).max(0.0);
    stencil::declination_nodes(low - widening..high + widening)
}

/// Which node stands in which place of the table: the morning's nodes fill the first half from the
/// lowest sun up, the afternoon's the second. So the eight suns of a block stand close together,
/// and who may shade whom is a short question for most blocks.
struct NodeOrder {
    suns: [Vec3; DECLINATIONS * HOUR_ANGLES],
    /// Place in the table of each node.
    place: [usize; DECLINATIONS * HOUR_ANGLES],
}

impl NodeOrder {
    fn new(horizon: &Horizon, declinations: &[f64; DECLINATIONS]) -> Self {
        let shares = stencil::hour_share_nodes();
        let suns = std::array::from_fn(|node| {
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
        Self { suns, place }
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
}

fn hour_stencil(
    horizon: &Horizon,
    declinations: &[f64; DECLINATIONS],
    order: &NodeOrder,
    sun: Equatorial,
) -> HourStencil {
    let share = horizon.hour_share(sun);
    let first = stencil::first_hour_node(share);
    let shares = stencil::hour_share_nodes();
    let near: [f64; HOUR_ANGLES_USED] = std::array::from_fn(|hour| shares[first + hour]);
    let along_day = stencil::lagrange(&near, share);
    let along_year = stencil::lagrange(declinations, sun.declination_rad);
    HourStencil {
        node: std::array::from_fn(|entry| {
            let (day, hour) = (entry / HOUR_ANGLES_USED, entry % HOUR_ANGLES_USED);
            order.place[day * HOUR_ANGLES + first + hour] as u8
        }),
        weight: std::array::from_fn(|entry| {
            along_year[entry / HOUR_ANGLES_USED] * along_day[entry % HOUR_ANGLES_USED]
        }),
    }
}

fn node_weights(hours: &[HourStencil], weather: &WeatherYear) -> [f64; NODES] {
    let mut weights = [0.0; NODES];
    for (stencil, dni_w_m2) in hours.iter().zip(&weather.dni_w_m2) {
        for (&node, weight) in stencil.node.iter().zip(stencil.weight) {
            weights[usize::from(node)] += dni_w_m2 * HOUR_S * weight;
        }
    }
    weights
}

fn operating_sum(operates: &[bool], weather: &WeatherYear) -> f64 {
    let hours = operates.iter().zip(&weather.dni_w_m2);
    hours
        .filter(|(operates, _)| **operates)
        .map(|(_, dni_w_m2)| dni_w_m2 * HOUR_S)
        .sum()
}

#[cfg(test)]
mod tests;
