//! Few suns that stand for the sixty of a table where places are only compared.

use geometry::{LANES, LaneVec3, Vec3, lane};

use super::{NODES, NodeGrid};
use crate::stencil::{self, Equatorial, HOUR_ANGLES_USED};

const HOURS: usize = 8;

/// Eight hour angles each of a few days, as many in the morning as in the afternoon.
///
/// Between them a polynomial through the declinations counts times the cubic through the four nearest hour angles. Enough
/// where the same suns look at all that is compared. Flux, whose peaks wander with the sun, wants all nodes: by three days
/// alone it was up to 15 % off.
#[derive(Debug, Clone, PartialEq)]
pub struct FewSuns {
    /// Unit vectors (east, north, up) to the suns, eight to a block: low in the morning, high, low in the afternoon.
    pub direction: Vec<LaneVec3>,
    /// Weight of each sun in the year, J/m².
    pub dni_j_m2: Vec<f64>,
}

impl FewSuns {
    /// Those of so many days: the declinations of Gauss's rule for a year that stays longest near its solstices.
    pub(super) fn of_days<const DAYS: usize>(
        grid: &NodeGrid,
        nodes: &[LaneVec3],
        node_dni_j_m2: &[f64; NODES],
    ) -> Self {
        let days: [f64; DAYS] = stencil::declination_nodes(&grid.declination_range_rad);
        let hours: [f64; HOURS] = stencil::hour_share_nodes();
        let mut suns: Vec<(usize, Vec3)> = (0..DAYS * HOURS)
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
        let mut dni_j_m2 = vec![0.0; DAYS * HOURS];
        for (node, node_j_m2) in node_dni_j_m2.iter().enumerate() {
            let sun = lane::vector(&nodes[node / LANES], node % LANES);
            let weights = weights(grid, &days, &hours, sun);
            for (sum_j_m2, (sun, _)) in dni_j_m2.iter_mut().zip(&suns) {
                *sum_j_m2 += weights[*sun] * node_j_m2;
            }
        }
        let blocks = suns.chunks_exact(LANES);
        Self {
            direction: blocks
                .map(|block| lane::columns(&std::array::from_fn(|lane| block[lane].1)))
                .collect(),
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
fn weights<const DAYS: usize>(
    grid: &NodeGrid,
    days: &[f64; DAYS],
    hours: &[f64; HOURS],
    sun: Vec3,
) -> Vec<f64> {
    let sun = grid.horizon.equatorial(sun);
    let share = grid.horizon.hour_share(sun);
    let first = stencil::first_hour_node(share, HOURS);
    let near: [f64; HOUR_ANGLES_USED] = std::array::from_fn(|hour| hours[first + hour]);
    let along_day = stencil::lagrange(&near, share);
    let along_year = stencil::lagrange(days, sun.declination_rad);
    let mut weights = vec![0.0; DAYS * HOURS];
    for (day, along_year) in along_year.into_iter().enumerate() {
        for (hour, along_day) in along_day.into_iter().enumerate() {
            weights[day * HOURS + first + hour] = along_year * along_day;
        }
    }
    weights
}
