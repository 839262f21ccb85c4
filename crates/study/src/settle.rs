//! The cheapest design moved to where no single step makes it cheaper.

use crate::inquiry::{Halt, Inquiry, Row};
use crate::merit::merit;
use crate::outcome::{Evaluator, Key, Pricing};
use crate::space::{AxisKind, Space};

/// Asks for every neighbour of the cheapest design: one index on, or another name, on one axis. Then
/// for all that were better joined, best first, one after another. So on, until no neighbour is
/// better or only `kept` of the room is left.
pub(crate) fn settle<E: Evaluator, P: Pricing>(
    inquiry: &mut Inquiry<'_, E, P>,
    kept: usize,
    space: &Space,
) -> Result<(), Halt> {
    let mut settled = None;
    while let Some((best, least)) = cheapest(inquiry.rows()) {
        if settled.as_ref() == Some(&best) {
            break;
        }
        let around = neighbours(space, &best);
        let Some(merits) = ask(inquiry, kept, &around)? else {
            break;
        };
        let mut better: Vec<(&Key, f64)> = around.iter().zip(merits).collect();
        better.retain(|(_, merit)| *merit < least);
        better.sort_by(|a, b| a.1.total_cmp(&b.1));
        ask(inquiry, kept, &joined(&best, &better))?;
        settled = Some(best);
    }
    Ok(())
}

fn cheapest(rows: &[Row]) -> Option<(Key, f64)> {
    let ranked = rows.iter().map(|row| (&row.key, merit(row.verdict)));
    let best = ranked.min_by(|a, b| a.1.total_cmp(&b.1));
    best.map(|(key, merit)| (key.clone(), merit))
}

/// The merits of some designs; nothing if too little room is left to ask for all.
fn ask<E: Evaluator, P: Pricing>(
    inquiry: &mut Inquiry<'_, E, P>,
    kept: usize,
    keys: &[Key],
) -> Result<Option<Vec<f64>>, Halt> {
    let fresh = keys.iter().filter(|key| !inquiry.has_asked(key)).count();
    if fresh + kept > inquiry.room() {
        return Ok(None);
    }
    let verdicts = inquiry.ask(keys)?;
    Ok(Some(verdicts.into_iter().map(merit).collect()))
}

/// Designs that differ on one axis: by one index, or by any name.
fn neighbours(space: &Space, key: &Key) -> Vec<Key> {
    let on_axis = |axis: usize| {
        let own = key[axis];
        (0..space.axes()[axis].count).filter(move |index| match space.axes()[axis].kind {
            AxisKind::Steps => index.abs_diff(own) == 1,
            AxisKind::Choice => *index != own,
        })
    };
    let moves = space.movable().iter();
    moves
        .flat_map(|&axis| on_axis(axis).map(move |index| (axis, index)))
        .map(|(axis, index)| {
            let mut neighbour = key.clone();
            neighbour[axis] = index;
            neighbour
        })
        .collect()
}

/// The best neighbours' steps taken together: the first two, the first three, and so on; on each axis
/// the best one's.
fn joined(from: &Key, better: &[(&Key, f64)]) -> Vec<Key> {
    let mut key = from.clone();
    let mut all = Vec::new();
    for (neighbour, _) in better {
        for (axis, index) in neighbour.iter().enumerate() {
            if *index != from[axis] && key[axis] == from[axis] {
                key[axis] = *index;
                all.push(key.clone());
            }
        }
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::oracle::Oracle;
    use crate::toys::{AsIs, Toy, choice, priced, steps};
    use std::sync::atomic::AtomicBool;

    /// From a corner of a bowl with a name to choose, step by step to the bottom and no farther than
    /// the room; what is asked is what was needed.
    #[test]
    fn a_bowl_is_walked_down_as_far_as_the_room_goes() {
        let space = Space::new(vec![steps(9), steps(9), choice(3)], vec![0, 7, 0]).unwrap();
        let bowl = Toy(|key: &[u32]| {
            let away = |axis: usize| f64::from(key[axis]) - 4.0;
            let taste = [0.5, 0.0, 0.2][key[2] as usize];
            priced([
                1.0 + away(0) * away(0) + away(1) * away(1) + taste,
                1.0,
                1.0,
            ])
        });
        for (total, bottom) in [(200, true), (12, false)] {
            let (never, mut quiet) = (AtomicBool::new(false), |_| {});
            let oracle = Oracle::new(&bowl);
            let mut inquiry = Inquiry::new(oracle, &AsIs, total, &never, &mut quiet);
            inquiry.ask(&[space.start().clone()]).unwrap();
            settle(&mut inquiry, 0, &space).unwrap();
            let (best, _) = cheapest(inquiry.rows()).unwrap();
            assert_eq!(best == [4, 4, 1], bottom, "{best:?}");
            assert!(inquiry.rows().len() <= total.min(60));
        }
    }
}
