//! The size of what a front beats: a measure to compare searches by.

use crate::outcome::Objectives;

/// The volume between the points and a `reference` that is worse than all of
/// them; points beyond the reference count nothing. Sliced along the third
/// objective (Zitzler and Thiele 1999 define the measure).
#[must_use]
pub fn hypervolume(points: &[Objectives], reference: &Objectives) -> f64 {
    let mut inside: Vec<Objectives> = points
        .iter()
        .filter(|point| (0..3).all(|at| point[at] < reference[at]))
        .copied()
        .collect();
    inside.sort_by(|a, b| a[2].total_cmp(&b[2]));
    let mut volume = 0.0;
    let mut stairs: Vec<[f64; 2]> = Vec::new();
    for (number, point) in inside.iter().enumerate() {
        add_step(&mut stairs, [point[0], point[1]]);
        let above = inside.get(number + 1).map_or(reference[2], |next| next[2]);
        if above > point[2] {
            volume += (above - point[2]) * area(&stairs, reference);
        }
    }
    volume
}

/// Keeps the stairs non-dominated and rising in the first objective.
fn add_step(stairs: &mut Vec<[f64; 2]>, step: [f64; 2]) {
    if stairs
        .iter()
        .any(|old| old[0] <= step[0] && old[1] <= step[1])
    {
        return;
    }
    stairs.retain(|old| old[0] < step[0] || old[1] < step[1]);
    let place = stairs.partition_point(|old| old[0] < step[0]);
    stairs.insert(place, step);
}

fn area(stairs: &[[f64; 2]], reference: &Objectives) -> f64 {
    let mut area = 0.0;
    for (number, step) in stairs.iter().enumerate() {
        let right = stairs.get(number + 1).map_or(reference[0], |next| next[0]);
        area += (right - step[0]) * (reference[1] - step[1]);
    }
    area
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn boxes_add_up() {
        let reference = [4.0, 4.0, 4.0];
        assert_eq!(hypervolume(&[], &reference), 0.0);
        assert_eq!(hypervolume(&[[1.0, 1.0, 1.0]], &reference), 27.0);
        // Two boxes of 3·1·2 and 1·3·2 share 1·1·2.
        let two = [[1.0, 3.0, 2.0], [3.0, 1.0, 2.0]];
        assert_eq!(hypervolume(&two, &reference), 10.0);
        // A box of 1·1·3 that sticks out of the first by 1·1·1.
        let three = [[1.0, 3.0, 2.0], [3.0, 1.0, 2.0], [3.0, 3.0, 1.0]];
        assert_eq!(hypervolume(&three, &reference), 11.0);
    }

    #[test]
    fn beaten_and_outside_points_add_nothing() {
        let reference = [4.0, 4.0, 4.0];
        let points = [[1.0, 1.0, 1.0], [2.0, 2.0, 2.0], [0.0, 0.0, 5.0]];
        assert_eq!(hypervolume(&points, &reference), 27.0);
    }
}
