//! Second stage of an island: a downhill simplex from its best design.

use argmin::core::Executor;
use argmin::solver::neldermead::NelderMead;

use crate::desk::{Desk, Ended};

/// Length of the first simplex along an axis of the unit cube.
const FIRST_EDGE: f64 = 0.1;

/// Iterations after which a simplex ends even if it asks for nothing new.
const ITERATIONS: u64 = 500;

/// Runs a simplex until the allowance is spent or all corners are alike.
pub(crate) fn simplex(desk: &Desk<'_>) -> Result<(), Ended> {
    let Some((_, best)) = desk.best() else {
        return Ok(());
    };
    let corners = corners(desk, &desk.space.point(&best));
    let keys: Vec<_> = corners.iter().map(|point| desk.key(point)).collect();
    // All corners at once; the solver then meets only what is known.
    desk.ask(&keys)?;
    // How the solver ends says nothing: what it found is on the desk.
    let _ = Executor::new(desk, NelderMead::new(corners))
        .configure(|state| state.max_iters(ITERATIONS))
        .timer(false)
        .run();
    Ok(())
}

/// A point, and one more along each axis, on the side with more room; at least
/// one index away.
fn corners(desk: &Desk<'_>, point: &[f64]) -> Vec<Vec<f64>> {
    let mut corners = vec![point.to_vec()];
    for (edge, axis) in desk.space.movable().iter().enumerate() {
        let index = 1.0 / f64::from(desk.space.axes()[*axis].count);
        let length = FIRST_EDGE.max(index);
        let mut corner = point.to_vec();
        corner[edge] += if corner[edge] < 0.5 { length } else { -length };
        corners.push(corner);
    }
    corners
}
