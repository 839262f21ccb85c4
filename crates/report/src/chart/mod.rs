//! Charts of a run: one visual language, SVG and PNG, the finding as headline.
//!
//! Texts are set in the embedded DejaVu Sans, so that a chart looks the same everywhere.

mod calendar;
mod callout;
mod canvas;
mod chain;
mod difference;
mod duration;
mod flux;
mod fonts;
mod front;
mod influences;
mod lengths;
mod money;
mod months;
mod other_heat;
pub(crate) mod palette;
mod plan;
mod price_grid;
mod scale;
mod shade;
mod spots;
mod spread;
mod sun_misses;
mod sun_path;
mod sweep;
mod tornado;
mod walk_off;

pub use calendar::Calendar;
pub use canvas::Chart;
pub use chain::{ChainStep, LightChain};
pub use difference::{Difference, DifferenceRival};
pub use duration::DurationChart;
pub use flux::FluxChart;
pub use front::{DesignPoint, FrontChart};
pub use influences::{Influences, InputInfluence};
pub use lengths::{LengthChart, LengthGroup, LengthLine};
pub use money::{MoneyChart, MoneyItem};
pub use months::MonthsChart;
pub use other_heat::OtherHeat;
pub use plan::{FieldPlan, PlanString, Sector};
pub use price_grid::{GridSide, PriceGrid};
pub(crate) use scale::Scale;
pub use spots::{SpotChart, SpotTrack};
pub use spread::CostSpread;
pub use sun_misses::{SunMiss, SunMisses};
pub use sun_path::{SunPath, SunSpot};
pub use sweep::{Sweep, SweepPoint};
pub use tornado::{Tornado, TornadoInput};
pub use walk_off::{WalkOff, WalkStep};

#[cfg(test)]
mod tests;
