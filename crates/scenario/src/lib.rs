//! The scenario file: read, checked, in SI; the space of designs.
//!
//! [`load`] turns TOML text into a [`Scenario`]. Everything that is known of a key (what it
//! measures, its range, default, help, where it goes) is told once, in the table of keys; reading,
//! hints, [`Scenario::resolved`], [`schema()`] and [`starter()`] follow from it.

mod checks;
mod choices;
mod design;
mod drive_design;
mod heliostats;
mod key;
mod likeness;
mod load;
mod norms;
mod opening;
mod phrases;
mod price_index;
mod prices;
mod problem;
mod quoted;
mod range;
mod rates_file;
mod raw;
mod scenario;
mod schema;
mod sections;
mod space;
mod starter;
mod strength;
mod table;
mod value;

pub use choices::LINKAGES;
pub use design::{
    BearingRule, Control, Design, DrivenFrom, FieldDesign, FirstAxis, Linkage, OffsetPlace,
    StringsDesign,
};
pub use drive_design::{Class, Defocus, DriveDesign, Line, Rail, Sensing, SetBy, Workmanship};
pub use heliostats::{Concept, FieldArea, Heliostats, HeliostatsDesign, PanelShape};
pub use load::load;
pub use norms::{Labour, Upkeep};
pub use phrases::FIRST_AXES;
pub use problem::{Place, Problem, ProblemKind, ScenarioErrors};
pub use rates_file::rates_file;
pub use scenario::{Origin, Resolved, Scenario};
pub use schema::schema;
pub use sections::{
    Alignment, Carrier, Cooling, Delivers, Demand, Door, Duty, Heat, Mirror, MonthlyWeather,
    NightPosture, Outline, PowerSet, Receiver, ReceiverKind, Search, Site, Stock, Storage, Strings,
    SunShape, Tolerances, Travel, Visibility, Weather, WeatherFile, WeatherFormat, WeatherSource,
    WorkDays,
};
pub use space::{DesignKey, Space, Variable};
pub use starter::starter;
pub use strength::{Footing, GlassStrength, Soil, Structure, WindCode};

#[cfg(test)]
mod tests;
