//! Light from the mirrors to the aperture: the loss chain, image, intercept and flux.
//!
//! The kernel takes one string and eight suns. Lanes are in single precision, which is good to a tenth
//! of a millimetre over a kilometre; sums over mirrors are in double. All is free of branches where it
//! matters, so that plain loops over a lane become vector code; nothing is allocated from mirror to
//! mirror.
//!
//! Against 4,000 rays from every mirror of seventeen fields of all kinds under eight suns down to 10°
//! (`cargo run --release -p tautfield-tests --example light_record`) the light through the aperture is off by this
//! many percentage points of the light on the glass, the flux around its peak by this factor, and the brightest
//! watched spot from the flux map's own peak by this one:
//!
//! | what | mean weighted with DNI | worst instant | flux | watched |
//! |---|---|---|---|---|
//! | seven fields of strings before square apertures, even disc | −0.02 … 0.00 | −0.06 | 0.996 … 1.041 | 0.995 … 1.000 |
//! | south of the tower | −0.01 | −0.05 | 1.002 … 1.047 | 1.000 |
//! | single mirrors | 0.00 | −0.01 | 1.021 … 1.028 | 1.000 |
//! | pedestals of 36 m² around a cylinder | −0.10 | −0.54 | 1.010 … 1.037 | 0.989 … 1.006 |
//! | rings of heliostats of 30 m², aims spread | 0.00 | −0.08 | 0.989 … 1.060 | 0.968 … 1.005 |
//! | the same with one aim | +0.03 | +0.07 | 1.007 … 1.058 | 1.000 |
//! | rings of 36 m² close around a cylinder | −0.38 | −1.42 | 1.001 … 1.046 | 0.990 … 1.054 |
//! | aims spread all over the aperture | −0.01 | −0.03 | 1.005 … 1.018 | 0.980 … 1.005 |
//! | round opening | −0.03 | −0.06 | 1.002 … 1.009 | 1.000 |
//! | cylinder in the middle of its field | −0.01 | −0.03 | 1.006 … 1.028 | 0.955 … 1.022 |
//! | shadow of a broad tower | −0.01 | −0.07 | 1.016 … 1.032 | 1.000 |
//! | darker limb, two fields | −0.02 … 0.00 | −0.05 | 0.996 … 1.022 | 0.996 … 1.000 |
//! | tabled sun with a soft edge, two fields | +0.02 … +0.05 | +0.08 | 0.998 … 1.028 | 0.996 … 1.000 |
//! | 2 to 10 % circumsolar light, usual aperture | −0.01 … +0.01 | −0.04 | 1.015 … 1.032 | 1.000 |
//! | 20 % circumsolar light, usual aperture | +0.03 | +0.05 | 1.029 … 1.045 | 1.000 |
//! | the same before one so small that it spills a half | +0.19 | +0.56 | 1.005 … 1.034 | 0.996 … 1.000 |
//!
//! Large mirrors near a cylinder under a low sun are the worst case, and miss what the others keep to (0.3 points in
//! the mean, 1.0 at any instant); why has not been tested (their images are long and lie aslant to the strip that
//! a cylinder shows them). Flux in rings of large mirrors is told up to 6 % too high.

// Lanes run through many arrays at once: an index says that best.
#![allow(clippy::needless_range_loop)]

pub mod aperture;
mod aureole;
mod coarse;
mod convex;
mod cover;
mod flux;
mod image;
mod intercept;
pub mod light;
pub mod mirrors;
pub mod neighbours;
mod panel;
mod shading;
pub mod spots;
pub mod sun_shape;
pub mod tower;
mod windows;

pub use aperture::{Aperture, Outline};
pub use light::{LightSums, MirrorLight, STEPS, Scene, Sunlit};
pub use mirrors::{Attenuation, CORNER_PULLED_SQUARE, Facets, Mirrors, Reflectance};
pub use neighbours::{Neighbourhood, Surroundings};
pub use spots::{Spots, WATCHED, Watched, middles};
pub use sun_shape::{DISC_RAD, SunBlur, SunShape, SunShapeError};
pub use tower::Pillar;
