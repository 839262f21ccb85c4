//! Last stage of an island: steps along the axes, halved until nothing is better.

use crate::desk::{Desk, Ended};
use crate::outcome::Key;
use crate::space::{AxisKind, Space};

/// First step of an axis as a part of its length.
const FIRST_PART: u32 = 16;

/// Steps along every axis at once, until the allowance is spent or the best
/// design has no better neighbour.
pub(crate) fn compass(desk: &Desk<'_>) -> Result<(), Ended> {
    let Some((mut merit, mut key)) = desk.best() else {
        return Ok(());
    };
    let mut part = FIRST_PART;
    loop {
        let step = |axis: usize| (desk.space.axes()[axis].count / part).max(1);
        let neighbours = desk.neighbours(&key, step);
        let merits = desk.ask(&neighbours)?;
        let better: Vec<&Key> = neighbours
            .iter()
            .zip(merits)
            .filter(|(_, found)| *found < merit)
            .map(|(neighbour, _)| neighbour)
            .collect();
        if better.is_empty() {
            if is_finest(desk.space, part) {
                return Ok(());
            }
            part *= 2;
            continue;
        }
        desk.ask(&[together(desk.space, &key, &better)])?;
        if let Some(best) = desk.best() {
            (merit, key) = best;
        }
    }
}

/// All better steps taken at once; of two on one axis the later holds.
fn together(space: &Space, key: &[u32], better: &[&Key]) -> Key {
    let mut all = key.to_vec();
    for axis in space.movable() {
        for neighbour in better
            .iter()
            .filter(|neighbour| neighbour[*axis] != key[*axis])
        {
            all[*axis] = neighbour[*axis];
        }
    }
    all
}

fn is_finest(space: &Space, part: u32) -> bool {
    space
        .axes()
        .iter()
        .all(|axis| axis.kind == AxisKind::Choice || axis.count / part <= 1)
}
