//! The scenario file: read, checked, in SI; the space of designs.

mod calendar;
mod design;
mod sections;

pub use calendar::{Demand, WorkDays};
pub use design::{BearingRule, Design, DrivenFrom, FieldDesign, FirstAxis, StringsDesign};
pub use sections::{
    Alignment, Finance, Heat, Mirror, MonthlyWeather, RateOverride, Receiver, ReceiverKind, Search,
    Site, Storage, Strings, Structure, Tolerances, Visibility, Weather, WeatherFile, WeatherFormat,
    WeatherSource,
};
