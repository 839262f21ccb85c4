//! Search over designs: the oracle, the front, and the cheapest of all.
//!
//! Nothing here knows what a design is. A [`Space`] names its open variables as
//! integer axes, an [`Evaluator`] turns a key of that space into an [`Outcome`],
//! and a [`Pricing`] turns an outcome into the three objectives: cost per unit
//! delivered, capital, carbon.
//!
//! ```text
//! scatter → breeding, of the cheapest and on the front → polish of the cheapest, which settles → confirmation
//! ```
//!
//! Every design is asked for through one [`Oracle`], which remembers: a search
//! that was stopped is run again from its start, and what is remembered is free.
//! With the same space, seed and total the same designs are asked for in the
//! same order, whatever the number of threads.

mod adaptation;
mod breeding;
mod cholesky;
mod cohort;
mod contest;
mod crowd;
mod draws;
mod front;
mod guess;
mod hypervolume;
mod inquiry;
mod merit;
mod nearest;
mod oracle;
mod outcome;
mod polish;
mod random;
mod rivals;
mod scatter;
mod search;
mod settle;
mod sobol;
mod space;
#[cfg(test)]
mod toys;

pub use draws::{Drawn, Influence, Span, draw, quantile};
pub use front::{Front, NearBest, View, knee, near_best, spread};
pub use hypervolume::hypervolume;
pub use inquiry::{Event, Row, Stage};
pub use oracle::{Counts, Oracle};
pub use outcome::{EVERY, Evaluator, Key, Objectives, Outcome, Pricing, SEARCH, Status, Verdict};
pub use rivals::{cheapest_shares, crossover, late_gain};
pub use search::{Findings, Settings, StopReason, search};
pub use sobol::{MOST_DIMENSIONS, Sobol};
pub use space::{Axis, AxisKind, Space, SpaceError};
