//! From scenario and design to what each physics crate asks for: the one place that maps them.

mod heliostats;
mod light;
mod mechanism;
mod norms;
mod plant;
mod strength;

pub use heliostats::{
    facets, heliostat_field, heliostat_mechanism, heliostat_panels, pedestal_inputs,
};
pub use light::{
    Panels, aim_spread, aperture, first_axes_alike, mirrors, plan_axis, plan_linkage, site,
    string_field, string_panels, sun_shape, traced_sun_shape,
};
pub use mechanism::{mechanism, offset};
pub use norms::norms;
pub use plant::{demand, heat_process, plant_inputs};
pub use strength::{Lee, housing_area_m2, pillars, sheet, string_inputs, tower_inputs};

#[cfg(test)]
pub mod tests;
