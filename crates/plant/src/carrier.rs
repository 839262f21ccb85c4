//! What carries heat from the receiver to the store and to its use.

use crate::air;
use crate::{PlantError, salt, steam};

/// What flows through the receiver.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fluid {
    /// Water under such pressure that it never boils, in a closed loop.
    Water,
    /// Solar salt, from an open cold tank up the tower and back down into an open hot one.
    Salt,
    /// Air at the site's pressure, moved by a blower.
    Air,
}

/// A fluid between two temperatures, with its properties.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Carrier {
    /// What flows.
    pub fluid: Fluid,
    /// Temperature entering the receiver [K].
    pub cold_k: f64,
    /// Temperature leaving the receiver [K].
    pub hot_k: f64,
    /// Absolute pressure of a closed loop; of open ones that of the air [Pa].
    pub pressure_pa: f64,
    /// Heat carried by each kilogram [J/kg].
    pub gain_j_kg: f64,
    /// Density leaving the receiver [kg/m³].
    pub hot_density_kg_m3: f64,
    /// Density entering the receiver [kg/m³].
    pub cold_density_kg_m3: f64,
}

impl Carrier {
    /// Pressurised water; its pressure is `pressure_margin` times that at which it would boil when hot.
    ///
    /// # Errors
    /// [`PlantError::Temperature`] outside the range of liquid water.
    pub fn water(cold_k: f64, hot_k: f64, pressure_margin: f64) -> Result<Self, PlantError> {
        let pressure_pa = pressure_margin * steam::saturation_pressure_pa(hot_k)?;
        Ok(Self {
            fluid: Fluid::Water,
            cold_k,
            hot_k,
            pressure_pa,
            gain_j_kg: steam::liquid_enthalpy_j_kg(pressure_pa, hot_k)?
                - steam::liquid_enthalpy_j_kg(pressure_pa, cold_k)?,
            hot_density_kg_m3: steam::liquid_density_kg_m3(pressure_pa, hot_k)?,
            cold_density_kg_m3: steam::liquid_density_kg_m3(pressure_pa, cold_k)?,
        })
    }

    /// Solar salt.
    ///
    /// # Errors
    /// [`PlantError::Salt`] where it would freeze or decompose.
    pub fn salt(cold_k: f64, hot_k: f64, air_pressure_pa: f64) -> Result<Self, PlantError> {
        Ok(Self {
            fluid: Fluid::Salt,
            cold_k,
            hot_k,
            pressure_pa: air_pressure_pa,
            gain_j_kg: salt::gain_j_kg(cold_k, hot_k)?,
            hot_density_kg_m3: salt::density_kg_m3(hot_k)?,
            cold_density_kg_m3: salt::density_kg_m3(cold_k)?,
        })
    }

    /// Air.
    ///
    /// # Errors
    /// [`PlantError::Air`] outside the range of its properties.
    pub fn air(cold_k: f64, hot_k: f64, air_pressure_pa: f64) -> Result<Self, PlantError> {
        Ok(Self {
            fluid: Fluid::Air,
            cold_k,
            hot_k,
            pressure_pa: air_pressure_pa,
            gain_j_kg: air::gain_j_kg(cold_k, hot_k)?,
            hot_density_kg_m3: air::density_kg_m3(air_pressure_pa, hot_k)?,
            cold_density_kg_m3: air::density_kg_m3(air_pressure_pa, cold_k)?,
        })
    }

    /// Mean of its two temperatures [K].
    #[must_use]
    pub fn mean_k(&self) -> f64 {
        0.5 * (self.cold_k + self.hot_k)
    }

    /// Flow that carries so much heat [W], in kg/s.
    #[must_use]
    pub fn flow_kg_s(&self, heat_w: f64) -> f64 {
        heat_w / self.gain_j_kg
    }
}
