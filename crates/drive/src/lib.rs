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
mod eye;
mod frame;
mod gains;
mod laser;
mod line;
mod mechanism;
mod mount;
mod offsets;
mod reflection;
mod tolerances;
mod walk_off;
mod year;

#[cfg(test)]
mod tests;

pub use bound::{any_common_rotation_rms_rad, bound_rms_rad};
pub use drives::{AsBuilt, Drives, Found, MountAxes, Setting};
pub use eye::{Glint, after_image_limit_w_m2, burn_limit_w_m2, retinal_w_m2};
pub use laser::{laser_return, parallax_rad, survey_error_rad};
pub use line::{Line, loop_warmth_rad_m, rod_warmth_rad_m};
pub use mechanism::{Control, Mechanism, MechanismError, OffsetPlace, Sensing, Travel};
pub use tolerances::Tolerances;
pub use walk_off::{Screen, WalkOff, sun_after};
pub use year::{YearBeams, YearSuns};
