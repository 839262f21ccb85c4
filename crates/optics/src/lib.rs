//! Light from the mirrors to the aperture: the loss chain, image, intercept and flux.
//!
//! The kernel takes one string and eight suns. Everything is f64 and free of branches where it
//! matters, so that plain loops over a lane become vector code; nothing is allocated.

// Lanes run through many arrays at once: an index says that best.
#![allow(clippy::needless_range_loop)]

pub mod aperture;
mod aureole;
mod coarse;
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
pub use light::{
    LightSums, MirrorLight, STEP_NAMES, STEPS, each_mirror, flux_of_string, light_of_string,
};
pub use mirrors::{Attenuation, CORNER_PULLED_SQUARE, Mirrors, Reflectance};
pub use neighbours::Neighbourhood;
pub use spots::{Spots, WATCHED, middles};
pub use sun_shape::{DISC_RAD, SunBlur, SunShape, SunShapeError};
pub use tower::Pillar;
