//! How a shared drive turns a string: normals, residuals, stretch and tolerances.
//!
//! Every mount of a string turns by the same two angles: α about a first axis fixed to the ground,
//! β about a second axis that the first one carries. One reference mirror of the string is kept
//! exactly on its target; the others were set to their targets by shims under one sun, the
//! alignment sun, and miss by a little under every other. That miss is the residual.
//!
//! Residuals are *beam* errors: the angle by which the reflected central ray misses the aim point.
//! A normal that is off by δ moves the beam by 2δ in the plane of incidence and by 2δ·cosθ across
//! it.

mod bound;
mod drives;
mod frame;
mod line;
mod reflection;
mod tolerances;

#[cfg(test)]
mod tests;

pub use bound::any_common_rotation_rms_rad;
pub use drives::{Drives, Mechanism};
pub use line::Line;
pub use tolerances::Tolerances;
