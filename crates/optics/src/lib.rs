//! Light from the mirrors to the aperture: the loss chain, image, intercept and flux.
//!
//! The kernel takes one string and eight suns. Lanes are in single precision, which is good to a tenth
//! of a millimetre over a kilometre; sums over mirrors are in double. All is free of branches where it
//! matters, so that plain loops over a lane become vector code; nothing is allocated from mirror to
//! mirror.
//!
//! Against 4,000 rays from every mirror of eleven fields of all kinds under eight suns down to 10°
//! (`cargo run --release -p tautfield-tests --example light_record`) the light through the aperture is off by this
//! many percentage points of the light on the glass, and the flux around its peak by this factor:
//!
//! | what | mean weighted with DNI | worst instant | flux |
//! |---|---|---|---|
//! | seven fields before square apertures, even disc | −0.04 … +0.01 | −0.08 | 0.996 … 1.040 |
//! | aims spread all over the aperture | −0.01 | −0.03 | 1.005 … 1.018 |
//! | round opening | −0.02 | −0.09 | 1.002 … 1.009 |
//! | cylinder in the middle of its field | −0.01 | −0.03 | 1.006 … 1.027 |
//! | shadow of a broad tower | −0.01 | −0.07 | 1.016 … 1.032 |
//! | darker limb, two fields | −0.02 … 0.00 | −0.05 | 0.996 … 1.022 |
//! | 5 % circumsolar light, two fields | 0.00 … +0.03 | +0.09 | 0.998 … 1.026 |
//! | 20 % circumsolar light, usual aperture | +0.03 | +0.05 | 1.029 … 1.045 |
//! | the same before one so small that it spills a half | +0.19 | +0.56 | 1.005 … 1.034 |

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
