//! The Monte-Carlo judge of light.
//!
//! Rays are traced one by one from points on the mirrors: to a point of the sun and past all other
//! panels, then off the bent glass, past all other panels again and through the aperture's plane.
//! Nothing is smoothed and no image is assumed; what the fast light model computes can be judged
//! by it, for it shares nothing with that model but the plan and how the mirrors stand.
//!
//! Eight rays of a mirror go abreast, and what may stand in their way is listed once for each mirror.
//!
//! A *round* sends one ray from every mirror. Random numbers are counted by (mirror, round),
//! and all sums are whole numbers, so any split of the rounds among threads gives the same bytes.

// Lanes run through many arrays at once: an index says that best.
#![allow(clippy::needless_range_loop)]

mod aperture;
mod corner_pulled;
mod draw;
mod error;
mod grid;
mod judge;
mod mirror;
mod obstacles;
mod panel;
mod philox;
mod pillar;
mod scene;
mod shape;
mod sun_shape;
mod table;
mod tally;
mod whole;

pub use aperture::{Aperture, Outline};
pub use error::RaysError;
pub use judge::Judge;
pub use pillar::Pillar;
pub use scene::{Posture, Surface};
pub use shape::Shape;
pub use sun_shape::SunShape;
pub use tally::{Estimate, STEPS, Tally, Verdict};
