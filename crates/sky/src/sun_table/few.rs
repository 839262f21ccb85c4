//! Twenty-four suns that stand for the sixty of a table where places are only compared.

use geometry::{LANES, LaneVec3, Vec3, lane};

use super::{NODES, NodeGrid};
use crate::stencil::{self, DECLINATIONS, Equatorial, HOUR_ANGLES_USED};

/// Few suns, of which as many stand in the morning as in the afternoon.
pub const FEW: usize = DAYS * HOURS;
const DAYS: usize = 3;
const HOURS: usize = 8;

/// The outer declinations of a table and the middle one, with eight hour angles each.
///
/// Between them a parabola through the declinations counts times the cubic through the four nearest hour angles: the
/// year of a cosine comes out within 0.1 %, enough where the same suns look at all that is compared. Flux, whose peaks
/// wander with the sun, wants all nodes: by these few alone it was up to 15 % off.
#[derive(Debug, Clone, PartialEq)]
pub struct FewSuns {
    /// Unit vectors (east, north, up) to the suns, eight to a block: low in the morning, high, low in the afternoon.
    pub direction: [LaneVec3; FEW / LANES],
    /// Weight of each sun in the year, J/m².
    pub dni_j_m2: [f64; FEW],
}

impl FewSuns {
    pub(super) fn new(grid: &NodeGrid, nodes: &[LaneVec3], node_dni_j_m2: &[f64; NODES]) -> Self {
        let days = [0, DECLINATIONS / 2, DECLINATIONS - 1].map(|day| grid.declinations[day]);
        let hours: [f64; HOURS] = stencil::hour_share_nodes();
        let mut suns: Vec<(usize, Vec3)> = (0..FEW)
            .map(|sun| {
                let declination_rad = days[sun / HOURS];
                let half_day_rad = grid.horizon.half_day_rad(declination_rad);
                let hour_angle_rad = hours[sun % HOURS] * half_day_rad;
                let place = Equatorial {
                    declination_rad,
                    hour_angle_rad,
                };
                (sun, grid.horizon.direction(place))
            })
            .collect();
        suns.sort_by(|(one, a), (other, b)| along_day(*one, a).total_cmp(&along_day(*other, b)));
        let mut dni_j_m2 = [0.0; FEW];
        for (node, node_j_m2) in node_dni_j_m2.iter().enumerate() {
            let sun = lane::vector(&nodes[node / LANES], node % LANES);
            let weights = weights(grid, &days, &hours, sun);
            for (sum_j_m2, (sun, _)) in dni_j_m2.iter_mut().zip(&suns) {
                *sum_j_m2 += weights[*sun] * node_j_m2;
            }
        }
        Self {
            direction: std::array::from_fn(|block| {
                lane::columns(&std::array::from_fn(|lane| suns[block * LANES + lane].1))
            }),
            dni_j_m2,
        }
    }

    /// Eight suns and their weights, block by block.
    pub fn blocks(&self) -> impl Iterator<Item = (&LaneVec3, &[f64])> {
        self.direction.iter().zip(self.dni_j_m2.chunks(LANES))
    }
}

/// Rises from the lowest sun of the morning over the highest ones to the lowest of the afternoon.
fn along_day(sun: usize, direction: &Vec3) -> f64 {
    let height = 1.0 - direction.z;
    if sun % HOURS < HOURS / 2 {
        -height
    } else {
        height
    }
}

/// Weight of each of the few suns, day by day, in what the year shows under a sun.
fn weights(grid: &NodeGrid, days: &[f64; DAYS], hours: &[f64; HOURS], sun: Vec3) -> [f64; FEW] {
    let sun = grid.horizon.equatorial(sun);
    let share = grid.horizon.hour_share(sun);
    let first = stencil::first_hour_node(share, HOURS);
    let near: [f64; HOUR_ANGLES_USED] = std::array::from_fn(|hour| hours[first + hour]);
    let along_day = stencil::lagrange(&near, share);
    let mut weights = [0.0; FEW];
    for (day, along_year) in stencil::lagrange(days, sun.declination_rad)
        .into_iter()
        .enumerate()
    {
        for (hour, along_day) in along_day.into_iter().enumerate() {
            weights[day * HOURS + first + hour] = along_year * along_day;
        }
    }
    weights
}
