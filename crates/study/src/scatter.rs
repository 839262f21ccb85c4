//! The first designs: the start and a Latin hypercube.

use rand::Rng;

use crate::outcome::Key;
use crate::random::Random;
use crate::space::Space;

/// The start and `count − 1` designs in a Latin hypercube: on every axis one
/// design in each of `count − 1` equal parts (McKay, Beckman and Conover 1979).
pub(crate) fn scatter(space: &Space, count: usize, random: &mut Random) -> Vec<Key> {
    let rest = count.saturating_sub(1);
    let columns: Vec<Vec<f64>> = space
        .movable()
        .iter()
        .map(|_| stratified(rest, random))
        .collect();
    let points = (0..rest).map(|row| columns.iter().map(|column| column[row]).collect());
    std::iter::once(space.start().clone())
        .chain(points.map(|point: Vec<f64>| space.key(&point)))
        .take(count)
        .collect()
}

/// One number in each of `count` equal parts of 0..1, in random order.
fn stratified(count: usize, random: &mut Random) -> Vec<f64> {
    let mut values: Vec<f64> = (0..count)
        .map(|part| (part as f64 + random.random::<f64>()) / count as f64)
        .collect();
    for last in (1..count).rev() {
        values.swap(last, random.random_range(0..=last as u64) as usize);
    }
    values
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::random::stream;
    use crate::space::{Axis, AxisKind};

    #[test]
    fn every_index_of_every_axis_is_met_once() {
        let axis = Axis {
            count: 20,
            kind: AxisKind::Steps,
        };
        let space = Space::new(vec![axis; 3], vec![4; 3]).unwrap();
        let keys = scatter(&space, 21, &mut stream(1, 0));
        assert_eq!(keys[0], [4, 4, 4]);
        for axis in 0..3 {
            let mut met: Vec<u32> = keys[1..].iter().map(|key| key[axis]).collect();
            met.sort_unstable();
            assert!(met.into_iter().eq(0..20));
        }
    }
}
