//! What is known near a design.

use crate::inquiry::Row;
use crate::outcome::Key;
use crate::space::{Axis, AxisKind, Space};

/// So many of the latest designs are looked through: earlier ones lie farther apart.
const LATEST: usize = 1500;
/// Another name is as far away as this share of an axis.
const NAME_APART: f64 = 0.3;

/// The nearest to `key` of the latest rows: least sum of distances along the axes, each a share of its
/// axis.
pub(crate) fn nearest<'r>(rows: &'r [Row], space: &Space, key: &Key) -> Option<&'r Row> {
    let latest = &rows[rows.len().saturating_sub(LATEST)..];
    let mut least = f64::INFINITY;
    let mut found = None;
    for row in latest {
        let away = distance(space, key, &row.key, least);
        if away < least {
            least = away;
            found = Some(row);
        }
    }
    found
}

/// The distance between two designs, or some part of it that is no less than `most`.
fn distance(space: &Space, one: &Key, other: &Key, most: f64) -> f64 {
    let mut sum = 0.0;
    for &axis in space.movable() {
        let Axis { count, kind } = space.axes()[axis];
        sum += match kind {
            AxisKind::Choice if one[axis] == other[axis] => 0.0,
            AxisKind::Choice => NAME_APART,
            AxisKind::Steps => f64::from(one[axis].abs_diff(other[axis])) / f64::from(count - 1),
        };
        if sum >= most {
            break;
        }
    }
    sum
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::outcome::Verdict;
    use crate::toys::{broken, choice, steps};

    /// By hand: 0.2 and 0.15 of two axes, another name and 0.1, and 0.5 of one; and nothing of what came
    /// too long ago.
    #[test]
    fn the_nearest_is_found_over_quantities_and_names() {
        let axes = vec![steps(11), steps(101), choice(3), steps(1)];
        let space = Space::new(axes, vec![0; 4]).unwrap();
        let row = |key: [u32; 4]| Row {
            key: key.to_vec(),
            search: broken(1.0),
            every: None,
            verdict: Verdict::Infeasible(1.0),
        };
        let own = vec![5, 50, 1, 0];
        let found = |rows: &[Row]| nearest(rows, &space, &own).map(|row| row.key.clone());
        assert_eq!(found(&[]), None);
        let mut rows = vec![row([5, 60, 2, 0]), row([7, 65, 1, 0]), row([10, 50, 1, 0])];
        assert_eq!(found(&rows), Some(vec![7, 65, 1, 0]));
        rows.extend((0..LATEST - 1).map(|_| row([0, 0, 0, 0])));
        assert_eq!(found(&rows), Some(vec![10, 50, 1, 0]));
    }
}
