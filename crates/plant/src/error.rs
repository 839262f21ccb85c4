//! What can be wrong with a plant's inputs.

use thiserror::Error;

/// A plant that can't be prepared; every message says what to change.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
#[non_exhaustive]
pub enum PlantError {
    /// Pressure outside the range where water boils and the formulation is simple.
    #[error(
        "pressure {pressure_pa} Pa is outside {low_pa} … {high_pa} Pa; choose a saturated-steam pressure in that range"
    )]
    Pressure {
        /// The offending pressure [Pa].
        pressure_pa: f64,
        /// Lowest accepted pressure [Pa].
        low_pa: f64,
        /// Highest accepted pressure [Pa].
        high_pa: f64,
    },
    /// Temperature outside the range of liquid water.
    #[error(
        "temperature {temperature_k} K is outside {low_k} … {high_k} K; lower the delivery pressure or the loop's temperature rise"
    )]
    Temperature {
        /// The offending temperature [K].
        temperature_k: f64,
        /// Lowest accepted temperature [K].
        low_k: f64,
        /// Highest accepted temperature [K].
        high_k: f64,
    },
    /// Salt too cold to flow or too hot to last.
    #[error(
        "salt at {temperature_k} K is outside {low_k} … {high_k} K, where it neither freezes nor decomposes; change heat.cold_temperature or heat.hot_temperature"
    )]
    Salt {
        /// The offending temperature [K].
        temperature_k: f64,
        /// Lowest accepted temperature [K].
        low_k: f64,
        /// Highest accepted temperature [K].
        high_k: f64,
    },
    /// Air outside the range of its properties.
    #[error(
        "air at {temperature_k} K is outside {low_k} … {high_k} K; change heat.cold_temperature or heat.hot_temperature"
    )]
    Air {
        /// The offending temperature [K].
        temperature_k: f64,
        /// Lowest accepted temperature [K].
        low_k: f64,
        /// Highest accepted temperature [K].
        high_k: f64,
    },
    /// A carrier too cold to boil water at the delivery pressure.
    #[error(
        "the carrier leaves the steam generator at {carrier_k} K, not above the boiling point {boiling_k} K; raise heat.cold_temperature or lower heat.delivery_pressure"
    )]
    TooColdToBoil {
        /// Carrier temperature [K].
        carrier_k: f64,
        /// Boiling point at delivery pressure [K].
        boiling_k: f64,
    },
    /// A use that the carrier cannot serve.
    #[error("{carrier} cannot serve {duty}; {remedy}")]
    Mismatch {
        /// What flows through the receiver.
        carrier: &'static str,
        /// What is to be delivered.
        duty: &'static str,
        /// What to change.
        remedy: &'static str,
    },
    /// Condensate that would already be steam.
    #[error(
        "condensate at {condensate_k} K is not below the boiling point {boiling_k} K at delivery pressure; lower it or raise the pressure"
    )]
    CondensateTooHot {
        /// Condensate temperature [K].
        condensate_k: f64,
        /// Boiling point at delivery pressure [K].
        boiling_k: f64,
    },
    /// A number that must be above zero.
    #[error("{name} is {value}; it must be above zero")]
    NotPositive {
        /// Which input.
        name: &'static str,
        /// Its value.
        value: f64,
    },
}
