//! The heat process: saturated steam made from a pressurised-water loop.

use crate::{PlantError, steam};

/// Pressure of the air, Pa, that open condensate and make-up tanks stand under.
const AMBIENT_PRESSURE_PA: f64 = 101_325.0;

/// What the customer takes and how the loop between receiver and steam generator is run.
///
/// Water circulates under pressure through the receiver, the store and the steam generator, and
/// never boils; steam leaves the generator dry and saturated at the delivery pressure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeatProcess {
    /// Absolute pressure of the delivered steam [Pa].
    pub delivery_pressure_pa: f64,
    /// Temperature of the returning condensate or make-up water [K].
    pub condensate_temperature_k: f64,
    /// How much warmer than the steam the loop water leaves the generator [K].
    pub approach_k: f64,
    /// Temperature rise of the loop water through the receiver [K]; also the swing of the store.
    pub loop_rise_k: f64,
    /// Loop pressure ÷ saturation pressure at the hottest point, above one.
    pub pressure_margin: f64,
}

/// A [`HeatProcess`] with its water and steam properties, prepared once per case.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Process {
    /// Temperature of the delivered steam [K].
    pub steam_temperature_k: f64,
    /// Heat taken up by each kilogram from condensate to delivered steam [J/kg].
    pub steam_gain_j_kg: f64,
    /// Pressure rise of the feedwater pump, from an open condensate tank [Pa].
    pub feed_pressure_rise_pa: f64,
    /// Density of the condensate [kg/m³].
    pub condensate_density_kg_m3: f64,
    /// Temperature of the loop water entering the receiver [K].
    pub loop_cold_k: f64,
    /// Temperature of the loop water leaving the receiver [K].
    pub loop_hot_k: f64,
    /// Absolute pressure of the loop [Pa].
    pub loop_pressure_pa: f64,
    /// Heat carried by each kilogram of loop water [J/kg].
    pub loop_gain_j_kg: f64,
    /// Density of the hot loop water [kg/m³].
    pub loop_hot_density_kg_m3: f64,
    /// Density of the cold loop water [kg/m³].
    pub loop_cold_density_kg_m3: f64,
}

impl HeatProcess {
    /// Looks up the water and steam properties.
    ///
    /// # Errors
    /// [`PlantError`] when a pressure or temperature leaves the range of saturated water, the
    /// condensate would boil, or a temperature difference isn't above zero.
    pub fn prepare(&self) -> Result<Process, PlantError> {
        positive("approach_k", self.approach_k)?;
        positive("loop_rise_k", self.loop_rise_k)?;
        positive("pressure_margin less one", self.pressure_margin - 1.0)?;
        let pressure_pa = self.delivery_pressure_pa;
        let boiling_k = steam::saturation_temperature_k(pressure_pa)?;
        let condensate_k = self.condensate_temperature_k;
        if condensate_k >= boiling_k {
            return Err(PlantError::CondensateTooHot {
                condensate_k,
                boiling_k,
            });
        }
        let loop_cold_k = boiling_k + self.approach_k;
        let loop_hot_k = loop_cold_k + self.loop_rise_k;
        let loop_pressure_pa = self.pressure_margin * steam::saturation_pressure_pa(loop_hot_k)?;
        Ok(Process {
            steam_temperature_k: boiling_k,
            steam_gain_j_kg: steam::saturated_steam_enthalpy_j_kg(pressure_pa)?
                - steam::liquid_enthalpy_j_kg(pressure_pa, condensate_k)?,
            feed_pressure_rise_pa: (pressure_pa - AMBIENT_PRESSURE_PA).max(0.0),
            condensate_density_kg_m3: steam::liquid_density_kg_m3(pressure_pa, condensate_k)?,
            loop_cold_k,
            loop_hot_k,
            loop_pressure_pa,
            loop_gain_j_kg: steam::liquid_enthalpy_j_kg(loop_pressure_pa, loop_hot_k)?
                - steam::liquid_enthalpy_j_kg(loop_pressure_pa, loop_cold_k)?,
            loop_hot_density_kg_m3: steam::liquid_density_kg_m3(loop_pressure_pa, loop_hot_k)?,
            loop_cold_density_kg_m3: steam::liquid_density_kg_m3(loop_pressure_pa, loop_cold_k)?,
        })
    }
}

impl Process {
    /// Mean temperature of the fluid in the receiver [K].
    #[must_use]
    pub fn receiver_fluid_temperature_k(&self) -> f64 {
        0.5 * (self.loop_cold_k + self.loop_hot_k)
    }

    /// Steam made from a flow of heat [W], in kg/s.
    #[must_use]
    pub fn steam_kg_s(&self, heat_w: f64) -> f64 {
        heat_w / self.steam_gain_j_kg
    }
}

fn positive(name: &'static str, value: f64) -> Result<(), PlantError> {
    if value > 0.0 {
        Ok(())
    } else {
        Err(PlantError::NotPositive { name, value })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::samples::ten_bar;

    #[test]
    fn ten_bar_steam_from_ninety_degree_condensate() {
        let process = ten_bar().prepare().unwrap();
        // IAPWS R7-97: boiling point 453.035632 K at 1 MPa. Steam tables (from memory):
        // steam at 10 bar 2,777 kJ/kg, water at 90 °C 377.7 kJ/kg.
        assert!((process.steam_temperature_k - 453.035_632).abs() < 1e-5);
        assert!((process.steam_gain_j_kg - 2.399e6).abs() < 2e3);
        // Water takes up about 4.5 … 4.6 kJ/(kg K) between 190 and 230 °C (from memory).
        let heat_capacity_j_kg_k = process.loop_gain_j_kg / 40.0;
        assert!(
            (4.45e3..4.7e3).contains(&heat_capacity_j_kg_k),
            "{heat_capacity_j_kg_k}"
        );
        // The hot end is 229.9 °C; saturation pressure at 230 °C is 27.97 bar (steam tables, from
        // memory).
        assert!((process.loop_pressure_pa / 1.2 / 27.97e5 - 1.0).abs() < 3e-3);
    }

    #[test]
    fn warmer_condensate_takes_less_heat() {
        let cool = ten_bar().prepare().unwrap();
        let warm = HeatProcess {
            condensate_temperature_k: 400.0,
            ..ten_bar()
        }
        .prepare()
        .unwrap();
        assert!(warm.steam_gain_j_kg < cool.steam_gain_j_kg);
    }

    #[test]
    fn refuses_boiling_condensate_and_empty_differences() {
        let boiling = HeatProcess {
            condensate_temperature_k: 460.0,
            ..ten_bar()
        };
        assert!(matches!(
            boiling.prepare(),
            Err(PlantError::CondensateTooHot { .. })
        ));
        let flat = HeatProcess {
            loop_rise_k: 0.0,
            ..ten_bar()
        };
        assert!(matches!(
            flat.prepare(),
            Err(PlantError::NotPositive { .. })
        ));
        let too_hot = HeatProcess {
            loop_rise_k: 300.0,
            ..ten_bar()
        };
        assert!(matches!(
            too_hot.prepare(),
            Err(PlantError::Temperature { .. })
        ));
    }
}
