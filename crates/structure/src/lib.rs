//! Wind, members, glass plates and masses.
//!
//! [`size_string`] turns one string's dimensions and the wind into parts that hold: glass, stars,
//! mounts, levers, posts, rail, drive lines, frames and footings, with their masses, the slope
//! errors they leave and a signed margin for every check. [`size_tower`] does the same for the
//! tower. A part that the stock cannot carry is no error: the heaviest is taken and the margin goes
//! below zero, so that a search sees how far off it is.
//!
//! Sizes come in stock steps; no mass falls as the wind rises. SI throughout.

mod cutting;
mod demand;
mod error;
mod gear;
mod glass;
mod ground;
mod line;
mod loads;
mod margins;
mod members;
mod parts;
mod pedestal;
mod plate;
mod posts;
mod schedule;
mod section;
mod string;
mod tower;
mod transmission;
mod wind;

pub use cutting::{Cut, Pieces, Sheet, cut};
pub use demand::{Demand, Governing};
pub use error::StructureError;
pub use gear::{Gear, Handing, Joint, Setting, USUAL_TIP};
pub use glass::{Glass, Panel};
pub use ground::{Footing, Ground};
pub use line::{LineKind, Loop};
pub use loads::{Coefficients, Exposed, Face, LoadCase, MirrorLoad, gust_share};
pub use margins::{Check, Margins};
pub use parts::{Masses, Sizes, SlopeErrors, StringParts, TubeUse, Tubes, cut_list, size_string};
pub use pedestal::{
    Facets, PedestalCheck, PedestalErrors, PedestalInputs, PedestalMasses, PedestalParts,
    PedestalSizes, Truss, heliostat_cut_list, size_pedestal,
};
pub use plate::{bending_stiffness_n_m, corner_deflection_m, focusing_force_n, gravity_slope_rad};
pub use schedule::{PostDuty, post_schedule};
pub use section::{Chs, STEEL_DENSITY_KG_M3, STEEL_MODULUS_PA, Stock};
pub use string::{Rules, StringInputs};
pub use tower::{
    TALLEST_USUAL_LATTICE_M, TowerInputs, TowerParts, head_mass_kg, shadow_width_m, size_tower,
};
pub use transmission::Mover;
pub use wind::{Terrain, Wind, WindCode};
