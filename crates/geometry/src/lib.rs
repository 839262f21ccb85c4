//! Vectors, angles, eight-wide lanes, rectangle unions, neighbour cells, the error function, exponential and
//! logarithm.
//!
//! Frame everywhere: x east, y north, z up, metres, origin at the tower's foot.
//! Azimuths and bearings run clockwise from north, in radians.

pub mod cells;
pub mod direction;
pub mod erf;
pub mod exp;
pub mod lane;
pub mod log;
pub mod rectangles;

pub use cells::Cells;
pub use glam::DVec3 as Vec3;
pub use lane::{LANES, Lane, LaneVec3, abreast};
