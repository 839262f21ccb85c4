//! Light from the mirrors to the aperture: the loss chain, image, intercept and flux.
//!
//! The kernel takes one string and eight suns. Lanes are in single precision, which is good to a tenth
//! of a millimetre over a kilometre; sums over mirrors are in double. All is free of branches where it
//! matters, so that plain loops over a lane become vector code; nothing is allocated from mirror to
//! mirror.
//!
//! Against 4,000 rays from every mirror of eighteen fields of all kinds under eight suns down to 10°
//! (`cargo run --release -p tautfield-tests --example light_record`) the light through the aperture is off by this
//! many percentage points of the light on the glass, and the flux around its peak by this factor:
//!
//! | what | mean weighted with DNI | worst instant | flux |
//! |---|---|---|---|
//! | seven fields of strings before square apertures, even disc | −0.02 … +0.01 | −0.06 | 0.990 … 1.013 |
//! | south of the tower | 0.00 | −0.04 | 1.001 … 1.017 |
//! | single mirrors | 0.00 | −0.01 | 1.006 … 1.012 |
//! | pedestals of 36 m² around a cylinder | −0.02 | −0.06 | 0.998 … 1.004 |
//! | rings of heliostats of 30 m², aims spread | +0.01 | +0.09 | 0.992 … 1.009 |
//! | the same with one aim | +0.02 | +0.05 | 1.019 … 1.032 |
//! | rings of 36 m² close around a cylinder | −0.03 | −0.11 | 0.994 … 1.003 |
//! | aims spread all over the aperture | −0.01 | −0.03 | 1.001 … 1.006 |
//! | round opening | −0.03 | −0.05 | 0.996 … 1.002 |
//! | cylinder in the middle of its field | 0.00 | −0.01 | 0.996 … 1.004 |
//! | one as broad as it is high there | −0.03 | −0.05 | 0.996 … 1.003 |
//! | shadow of a broad tower | −0.01 | −0.07 | 0.998 … 1.010 |
//! | darker limb, two fields | −0.01 | −0.03 | 0.993 … 1.008 |
//! | tabled sun with a soft edge, two fields | +0.04 … +0.06 | +0.09 | 0.998 … 1.014 |
//! | 2 to 10 % circumsolar light, usual aperture | −0.01 … +0.01 | −0.03 | 1.000 … 1.012 |
//! | 20 % circumsolar light, usual aperture | +0.04 | +0.06 | 1.015 … 1.025 |
//! | the same before one so small that it spills a half | +0.20 | +0.57 | 1.009 … 1.027 |
//!
//! The peak that is told between watched spots keeps within 2.5 % of that of a map of 135 × 135 spots, before flat apertures
//! and round cylinders, with one aim and with aims all over them (`tests/light/peaks.rs`, which holds it to 5 %).
//!
//! The image is that of the part of a mirror that is lit and not blocked, as an even rectangle of the same middle and
//! spread. Taken as that of the whole mirror it lost 1.4 points under low suns where 36 m² stand close around a cylinder,
//! half of them in shadow. Flux is compared part by part of a map of 15 × 15, in the mean of nine spots of each: in the
//! middle of a part a small image is up to 4 % brighter than in its mean.

// Lanes run through many arrays at once: an index says that best.
#![allow(clippy::needless_range_loop)]

pub mod aperture;
mod aureole;
mod coarse;
mod convex;
mod cover;
mod flux;
mod flux_sums;
mod image;
mod intercept;
pub mod light;
pub mod mirrors;
mod near;
pub mod neighbours;
mod panel;
mod shading;
pub mod spots;
pub mod sun_shape;
pub mod tower;
mod windows;

pub use aperture::{Aperture, Outline};
pub use flux_sums::FluxSums;
pub use light::{LightSums, MirrorLight, STEPS, Scene, Speaking, Sunlit};
pub use mirrors::{Attenuation, CORNER_PULLED_SQUARE, Facets, Mirrors, Reflectance};
pub use neighbours::{Neighbourhood, Surroundings};
pub use spots::{Evenly, Spots, Watched, part_means};
pub use sun_shape::{DISC_RAD, SunBlur, SunShape, SunShapeError};
pub use tower::Pillar;
