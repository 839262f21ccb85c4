//! How a shared drive turns a string: normals, residuals, stretch and tolerances.
//!
//! All mounts of a string take part in two motions: turns α about a first axis fixed to the ground
//! and β about a second axis that the first one carries, or the two ways in which a ball tilts. The
//! drive keeps a reference mirror on its target, or the whole string as near as it can; the mirrors
//! were set on their targets by offsets under one sun, the alignment sun, and miss by a little under
//! every other. That miss is the residual. How large it is depends on the first axis, on where the
//! offsets sit and on how the linkage hands the motion to each mirror.
//!
//! Residuals are *beam* errors: the angle by which the reflected central ray misses the aim point.
//! A normal that is off by δ moves the beam by 2δ in the plane of incidence and by 2δ·cosθ across
//! it.

mod bound;
mod control;
mod drives;
mod frame;
mod gains;
mod line;
mod mechanism;
mod mount;
mod offsets;
mod reflection;
mod tolerances;

#[cfg(test)]
mod tests;

pub use bound::{any_common_rotation_rms_rad, bound_rms_rad};
pub use drives::{AsBuilt, Drives, Found, MountAxes, Setting};
pub use line::Line;
pub use mechanism::{Control, Mechanism, MechanismError, OffsetPlace};
pub use tolerances::Tolerances;
