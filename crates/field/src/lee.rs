//! Which strings stand in the lee of others, and which take the open wind.

use geometry::{Cells, LANES, abreast};

use crate::plan::Plan;

/// Heights over which mirrors upwind give lee (windbreaks, from memory).
const LEE_HEIGHTS: f64 = 10.0;

/// Share of that reach which is looked through first: whoever has lee near by need not be looked around for far off.
const NEAR: f64 = 0.5;

/// Side of the cells that mirrors are looked for in, as a share of it.
const CELL: f64 = 0.25;

/// The horizon in eighths, as a row of mirrors has neighbours along it and across it.
const EIGHTHS: usize = 8;

/// For every string whether it takes the open wind: whether two of its first, middle and last mirror
/// see, in some eighth of the horizon and within ten times the height of their upper edges, fewer than
/// `lee_mirrors` others.
///
/// The last mirror of a string that ends at a flank of the field does so alone; its string then counts
/// as sheltered.
#[must_use]
pub fn exposed_strings(plan: &Plan, lee_mirrors: usize) -> Vec<bool> {
    let tallest_m = (0..plan.mirror_count())
        .map(|mirror| plan.z_m[mirror] + 0.5 * plan.height_m[mirror])
        .fold(0.0, f64::max);
    let reach_m = LEE_HEIGHTS * tallest_m;
    let around = Around::new(plan, CELL * reach_m);
    let is_open = |mirror: usize| {
        let mut reaches_m = [NEAR * reach_m, reach_m].into_iter();
        reaches_m.all(|reach_m| around.sees_open_land(plan, mirror, reach_m, lee_mirrors as u64))
    };
    let strings = plan.strings.iter().map(|row| {
        let mirrors = row.mirrors();
        let (first, last) = (is_open(mirrors.start), is_open(mirrors.end - 1));
        // Where the ends agree, the middle has no say.
        if first == last {
            first
        } else {
            is_open(row.reference_mirror())
        }
    });
    strings.collect()
}

/// Mirrors of a plan, cell by cell.
struct Around {
    cells: Cells,
    east_m: Vec<f64>,
    north_m: Vec<f64>,
}

/// How many stand in the eighths of either half of the horizon, north and south: four counts of sixteen bits to a
/// number, which no field fills, in lanes.
type Seen = [[u64; LANES]; 2];
const BITS: usize = 16;

impl Around {
    fn new(plan: &Plan, cell_m: f64) -> Self {
        let cells = Cells::new(&plan.x_m, &plan.y_m, cell_m);
        let in_cells = |of_mirrors: &[f64]| {
            let members = cells.members().iter();
            let each = members.map(|mirror| of_mirrors[*mirror as usize]);
            // Eight are looked at from any one on.
            each.chain([0.0; LANES]).collect()
        };
        Self {
            east_m: in_cells(&plan.x_m),
            north_m: in_cells(&plan.y_m),
            cells,
        }
    }

    fn sees_open_land(&self, plan: &Plan, mirror: usize, reach_m: f64, lee_mirrors: u64) -> bool {
        let place_m = [plan.x_m[mirror], plan.y_m[mirror]];
        let seen = abreast(
            #[inline(always)]
            || {
                let mut seen = Seen::default();
                for run in self.cells.near(place_m[0], place_m[1], reach_m) {
                    for first in run.clone().step_by(LANES) {
                        self.count(first, run.end - first, place_m, reach_m, &mut seen);
                    }
                }
                seen
            },
        );
        let of_eighth = |eighth: usize| {
            let (half, shift) = (eighth / 4, BITS * (eighth % 4));
            let counts = seen[half].iter().map(|count| count >> shift & 0xffff);
            counts.sum::<u64>()
        };
        (0..EIGHTHS).any(|eighth| of_eighth(eighth) < lee_mirrors)
    }

    /// Counts those of `left`, of eight at most, that stand within reach, not in the very place.
    #[inline(always)]
    fn count(&self, first: usize, left: usize, place_m: [f64; 2], reach_m: f64, seen: &mut Seen) {
        let east_m = &self.east_m[first..first + LANES];
        let north_m = &self.north_m[first..first + LANES];
        let [north, south] = seen;
        for lane in 0..LANES {
            let (east_m, north_m) = (east_m[lane] - place_m[0], north_m[lane] - place_m[1]);
            let distance2_m2 = east_m * east_m + north_m * north_m;
            let is_near = (distance2_m2 > 0.0) & (distance2_m2 <= reach_m * reach_m);
            let one = one_seen(east_m, north_m);
            let one = if is_near & (lane < left) { one } else { [0; 2] };
            north[lane] += one[0];
            south[lane] += one[1];
        }
    }
}

/// One mirror seen in a direction, as it is counted.
#[inline(always)]
fn one_seen(east: f64, north: f64) -> [u64; 2] {
    let is_south = north < 0.0;
    let is_turned = (east < 0.0) != is_south;
    let is_steep = (north.abs() > east.abs()) != is_turned;
    let near_level = if is_steep { 1 << BITS } else { 1 };
    let beyond = if is_steep {
        1 << (3 * BITS)
    } else {
        1 << (2 * BITS)
    };
    let one = if is_turned { beyond } else { near_level };
    if is_south { [0, one] } else { [one, 0] }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{FirstAxis, Linkage, StringRow};

    /// Rows of single mirrors on a square grid.
    fn grid(rows: usize, pitch_m: f64) -> Plan {
        let mut plan = Plan::default();
        for row in 0..rows {
            for column in 0..rows {
                plan.strings.push(StringRow {
                    first_mirror: plan.mirror_count(),
                    mirror_count: 1,
                    bearing_rad: 0.0,
                    first_axis: FirstAxis::Along,
                    linkage: Linkage::EqualAngle,
                    row,
                });
                plan.x_m.push(column as f64 * pitch_m);
                plan.y_m.push(row as f64 * pitch_m);
                plan.z_m.push(1.0);
                plan.width_m.push(1.0);
                plan.height_m.push(1.0);
                plan.focal_length_m.push(50.0);
            }
        }
        plan
    }

    #[test]
    fn eight_directions_fall_into_eight_eighths() {
        let found: std::collections::BTreeSet<[u64; 2]> = (0..8)
            .map(|step| {
                let angle = (f64::from(step) + 0.5) * std::f64::consts::FRAC_PI_4;
                one_seen(libm::cos(angle), libm::sin(angle))
            })
            .collect();
        assert_eq!(found.len(), 8);
    }

    /// On a grid of 12 × 12 the outermost ring has nobody outwards; the second ring sees one mirror in
    /// a corner's eighths at least.
    #[test]
    fn the_rim_of_a_dense_field_is_open_and_its_middle_is_not() {
        let plan = grid(12, 2.0);
        let exposed = exposed_strings(&plan, 2);
        let at = |row: usize, column: usize| exposed[row * 12 + column];
        assert!((0..12).all(|place| at(0, place) && at(place, 11)));
        assert!((3..9).all(|row| (3..9).all(|column| !at(row, column))));
        let open = |lee| {
            exposed_strings(&plan, lee)
                .iter()
                .filter(|one| **one)
                .count()
        };
        assert_eq!(open(0), 0);
        assert!(open(1) <= open(2) && open(2) <= open(6));
    }

    #[test]
    fn mirrors_far_apart_give_no_lee() {
        assert!(exposed_strings(&grid(6, 40.0), 1).iter().all(|open| *open));
    }
}
