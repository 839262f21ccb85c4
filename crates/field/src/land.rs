//! The land that a field takes.

use std::f64::consts::PI;

use crate::plan::Plan;

/// Width of the strip around the outermost mirrors for road and fence (common practice, no
/// source).
const MARGIN_M: f64 = 8.0;

/// Land of the field [m²]: the smallest convex area that holds all strings and the tower's foot,
/// and a strip of 8 m around it.
#[must_use]
pub fn land_area_m2(plan: &Plan) -> f64 {
    let mut points = vec![[0.0, 0.0]];
    for row in &plan.strings {
        let mirrors = row.mirrors();
        for mirror in [mirrors.start, mirrors.end - 1] {
            points.push([plan.x_m[mirror], plan.y_m[mirror]]);
        }
    }
    let hull = convex_hull(points);
    let (mut twice_area_m2, mut perimeter_m) = (0.0, 0.0);
    for (index, from) in hull.iter().enumerate() {
        let to = hull[(index + 1) % hull.len()];
        let (east_m, north_m) = (to[0] - from[0], to[1] - from[1]);
        twice_area_m2 += from[0] * to[1] - from[1] * to[0];
        perimeter_m += (east_m * east_m + north_m * north_m).sqrt();
    }
    0.5 * twice_area_m2 + perimeter_m * MARGIN_M + PI * MARGIN_M * MARGIN_M
}

/// Corners of the convex hull, counter-clockwise: Andrew, *Information Processing Letters* 9
/// (1979) 216–219 (from memory).
fn convex_hull(mut points: Vec<[f64; 2]>) -> Vec<[f64; 2]> {
    points.sort_unstable_by(|one, other| {
        one[0]
            .total_cmp(&other[0])
            .then(one[1].total_cmp(&other[1]))
    });
    let mut hull = half_hull(points.iter());
    hull.extend(half_hull(points.iter().rev()));
    hull
}

/// One side of the hull without its last corner.
fn half_hull<'a>(points: impl Iterator<Item = &'a [f64; 2]>) -> Vec<[f64; 2]> {
    let mut side: Vec<[f64; 2]> = Vec::new();
    for point in points {
        while let [.., before, last] = side[..]
            && turn(before, last, *point) <= 0.0
        {
            side.pop();
        }
        side.push(*point);
    }
    side.pop();
    side
}

/// Positive for a turn to the left at `at`.
fn turn(from: [f64; 2], at: [f64; 2], to: [f64; 2]) -> f64 {
    (at[0] - from[0]) * (to[1] - from[1]) - (at[1] - from[1]) * (to[0] - from[0])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::layout::{candidates, tests::steam_field};

    #[test]
    fn a_square_with_points_inside_and_on_edges_has_four_corners() {
        let points = vec![
            [0.0, 0.0],
            [2.0, 0.0],
            [2.0, 2.0],
            [0.0, 2.0],
            [1.0, 1.0],
            [1.0, 0.0],
        ];
        assert_eq!(convex_hull(points).len(), 4);
    }

    #[test]
    fn no_field_is_the_strip_around_the_tower() {
        assert!((land_area_m2(&Plan::default()) - PI * MARGIN_M * MARGIN_M).abs() < 1e-9);
    }

    /// A sector of ±60° out to 136 m is a third of a circle; its hull is the sector itself.
    #[test]
    fn a_full_sector_takes_a_sector() {
        let field = steam_field();
        let plan = candidates(&field).unwrap().plan;
        let radius_m = field.outer_radius_m + MARGIN_M;
        let sector_m2 = field.sector_half_rad * radius_m * radius_m + 2.0 * radius_m * MARGIN_M;
        let ratio = land_area_m2(&plan) / sector_m2;
        assert!(ratio > 0.85 && ratio < 1.02, "{ratio}");
    }
}
