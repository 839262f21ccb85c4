//! Which strings stand in the lee of others, and which take the open wind.

use geometry::Cells;

use crate::plan::Plan;

/// Heights over which mirrors upwind give lee (windbreaks, from memory).
const LEE_HEIGHTS: f64 = 10.0;

/// Share of that reach which is looked through first: whoever has lee near by need not be looked around for far off.
const NEAR: f64 = 0.5;

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
    let reaches_m = [NEAR * reach_m, reach_m];
    let cells = Cells::new(&plan.x_m, &plan.y_m, reaches_m[0]);
    let is_open = |mirror: usize| {
        let mut reaches_m = reaches_m.into_iter();
        reaches_m.all(|reach_m| sees_open_land(plan, &cells, mirror, reach_m, lee_mirrors))
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

fn sees_open_land(
    plan: &Plan,
    cells: &Cells,
    mirror: usize,
    reach_m: f64,
    lee_mirrors: usize,
) -> bool {
    let (x_m, y_m) = (plan.x_m[mirror], plan.y_m[mirror]);
    let mut seen = [0; EIGHTHS];
    let mut open_eighths = if lee_mirrors == 0 { 0 } else { EIGHTHS };
    for other in cells.near(x_m, y_m, reach_m) {
        let (east_m, north_m) = (plan.x_m[other] - x_m, plan.y_m[other] - y_m);
        if other != mirror && east_m * east_m + north_m * north_m <= reach_m * reach_m {
            let seen = &mut seen[eighth(east_m, north_m)];
            *seen += 1;
            open_eighths -= usize::from(*seen == lee_mirrors);
            if open_eighths == 0 {
                return false;
            }
        }
    }
    open_eighths > 0
}

/// The eighth of the horizon that a direction lies in.
fn eighth(east: f64, north: f64) -> usize {
    let half = usize::from(north < 0.0) << 2;
    let quarter = usize::from((east < 0.0) != (north < 0.0)) << 1;
    let steep = (north.abs() > east.abs()) != ((east < 0.0) != (north < 0.0));
    half | quarter | usize::from(steep)
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
        let found: std::collections::BTreeSet<usize> = (0..8)
            .map(|step| {
                let angle = (f64::from(step) + 0.5) * std::f64::consts::FRAC_PI_4;
                eighth(libm::cos(angle), libm::sin(angle))
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
