//! The heat process: what flows through the receiver, and what its heat is used for.

use crate::turbine::TurbineSet;
use crate::{Carrier, PlantError, steam};

/// Pressure of the air, Pa, that open condensate and make-up tanks stand under.
const AMBIENT_PRESSURE_PA: f64 = 101_325.0;

/// What is to flow through the receiver, and between which temperatures.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum CarrierWish {
    /// Water under pressure; it never boils, and its temperatures follow from the steam it makes.
    Water {
        /// How much warmer than the steam it leaves the generator [K].
        approach_k: f64,
        /// Temperature rise through the receiver [K]; also the swing of the store.
        rise_k: f64,
        /// Loop pressure ÷ saturation pressure at the hottest point, above one.
        pressure_margin: f64,
    },
    /// Solar salt.
    Salt {
        /// Temperature of the cold tank [K].
        cold_k: f64,
        /// Temperature of the hot tank [K].
        hot_k: f64,
    },
    /// Air.
    Air {
        /// Temperature entering the receiver [K].
        cold_k: f64,
        /// Temperature leaving the receiver [K].
        hot_k: f64,
    },
}

/// What is to cross the fence.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum DutyWish {
    /// Dry saturated steam.
    Steam {
        /// Its absolute pressure [Pa].
        pressure_pa: f64,
        /// Temperature of the returning condensate or make-up water [K].
        condensate_k: f64,
    },
    /// The hot air itself; it comes back, or fresh air comes in, at the carrier's cold temperature.
    HotAir,
    /// Electricity from a turbine set.
    Electricity(TurbineSet),
}

/// A carrier and a duty.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeatProcess {
    /// What flows through the receiver.
    pub carrier: CarrierWish,
    /// What crosses the fence.
    pub duty: DutyWish,
    /// Air pressure at the site [Pa].
    pub air_pressure_pa: f64,
}

/// Steam and the water it is made from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Steam {
    /// Temperature of the delivered steam [K].
    pub temperature_k: f64,
    /// Heat taken up by each kilogram from condensate to delivered steam [J/kg].
    pub gain_j_kg: f64,
    /// Pressure rise of the feedwater pump, from an open condensate tank [Pa].
    pub feed_pressure_rise_pa: f64,
    /// Density of the condensate [kg/m³].
    pub condensate_density_kg_m3: f64,
}

/// What crosses the fence, prepared.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Duty {
    /// Dry saturated steam.
    Steam(Steam),
    /// Hot air.
    HotAir,
    /// Electricity.
    Electricity(TurbineSet),
}

/// A [`HeatProcess`] with its properties, prepared once per case.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Process {
    /// What flows through the receiver.
    pub carrier: Carrier,
    /// What crosses the fence.
    pub duty: Duty,
}

impl HeatProcess {
    /// Looks up the properties.
    ///
    /// # Errors
    /// [`PlantError`] when a pressure or temperature leaves the range of its fluid, condensate would
    /// boil or the carrier would not, a temperature difference isn't above zero, or the carrier can't
    /// serve the duty.
    pub fn prepare(&self) -> Result<Process, PlantError> {
        let duty = self.prepare_duty()?;
        let carrier = self.prepare_carrier(&duty)?;
        positive(
            "the carrier's temperature rise",
            carrier.hot_k - carrier.cold_k,
        )?;
        if let Duty::Steam(steam) = &duty
            && carrier.cold_k <= steam.temperature_k
        {
            return Err(PlantError::TooColdToBoil {
                carrier_k: carrier.cold_k,
                boiling_k: steam.temperature_k,
            });
        }
        Ok(Process { carrier, duty })
    }

    fn prepare_duty(&self) -> Result<Duty, PlantError> {
        Ok(match self.duty {
            DutyWish::Steam {
                pressure_pa,
                condensate_k,
            } => Duty::Steam(Steam::new(pressure_pa, condensate_k)?),
            DutyWish::HotAir => Duty::HotAir,
            DutyWish::Electricity(set) => Duty::Electricity(set),
        })
    }

    fn prepare_carrier(&self, duty: &Duty) -> Result<Carrier, PlantError> {
        match (self.carrier, duty) {
            (
                CarrierWish::Water {
                    approach_k,
                    rise_k,
                    pressure_margin,
                },
                Duty::Steam(steam),
            ) => {
                positive("approach_k", approach_k)?;
                positive("loop_rise_k", rise_k)?;
                positive("pressure_margin less one", pressure_margin - 1.0)?;
                let cold_k = steam.temperature_k + approach_k;
                Carrier::water(cold_k, cold_k + rise_k, pressure_margin)
            }
            (CarrierWish::Water { .. }, _) => Err(PlantError::Mismatch {
                carrier: "pressurised water",
                duty: "anything but steam",
                remedy: "let heat.carrier be salt or air",
            }),
            (CarrierWish::Salt { .. }, Duty::HotAir) => Err(PlantError::Mismatch {
                carrier: "salt",
                duty: "hot air",
                remedy: "let heat.carrier be air",
            }),
            (CarrierWish::Salt { cold_k, hot_k }, _) => {
                Carrier::salt(cold_k, hot_k, self.air_pressure_pa)
            }
            (CarrierWish::Air { cold_k, hot_k }, _) => {
                Carrier::air(cold_k, hot_k, self.air_pressure_pa)
            }
        }
    }
}

impl Steam {
    /// Steam at an absolute pressure [Pa] from condensate at a temperature [K].
    fn new(pressure_pa: f64, condensate_k: f64) -> Result<Self, PlantError> {
        let temperature_k = steam::saturation_temperature_k(pressure_pa)?;
        if condensate_k >= temperature_k {
            return Err(PlantError::CondensateTooHot {
                condensate_k,
                boiling_k: temperature_k,
            });
        }
        Ok(Self {
            temperature_k,
            gain_j_kg: steam::saturated_steam_enthalpy_j_kg(pressure_pa)?
                - steam::liquid_enthalpy_j_kg(pressure_pa, condensate_k)?,
            feed_pressure_rise_pa: (pressure_pa - AMBIENT_PRESSURE_PA).max(0.0),
            condensate_density_kg_m3: steam::liquid_density_kg_m3(pressure_pa, condensate_k)?,
        })
    }
}

impl Process {
    /// Steam made from a flow of heat [W], in kg/s; none if none is delivered.
    #[must_use]
    pub fn steam_kg_s(&self, heat_w: f64) -> f64 {
        match &self.duty {
            Duty::Steam(steam) => heat_w / steam.gain_j_kg,
            Duty::HotAir | Duty::Electricity(_) => 0.0,
        }
    }

    /// Heat that delivers so much [W] at full load, before the plant's own use of electricity, in W.
    #[must_use]
    pub fn heat_for_w(&self, delivered_w: f64) -> f64 {
        match &self.duty {
            Duty::Steam(_) | Duty::HotAir => delivered_w,
            Duty::Electricity(set) => delivered_w / (1.0 - set.own_share) / set.efficiency,
        }
    }

    /// The turbine set, if there is one.
    #[must_use]
    pub const fn turbine(&self) -> Option<&TurbineSet> {
        match &self.duty {
            Duty::Electricity(set) => Some(set),
            Duty::Steam(_) | Duty::HotAir => None,
        }
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
    use crate::samples::{hot_air, steam_process, ten_bar, turbine};

    fn steam_of(process: &Process) -> Steam {
        match process.duty {
            Duty::Steam(steam) => steam,
            _ => panic!("no steam"),
        }
    }

    fn with_water(approach_k: f64, rise_k: f64) -> HeatProcess {
        HeatProcess {
            carrier: CarrierWish::Water {
                approach_k,
                rise_k,
                pressure_margin: 1.2,
            },
            ..ten_bar()
        }
    }

    fn with_condensate(condensate_k: f64) -> HeatProcess {
        HeatProcess {
            duty: DutyWish::Steam {
                pressure_pa: 1e6,
                condensate_k,
            },
            ..ten_bar()
        }
    }

    #[test]
    fn ten_bar_steam_from_ninety_degree_condensate() {
        let process = steam_process();
        // IAPWS R7-97: boiling point 453.035632 K at 1 MPa. Steam tables (from memory):
        // steam at 10 bar 2,777 kJ/kg, water at 90 °C 377.7 kJ/kg.
        assert!((steam_of(&process).temperature_k - 453.035_632).abs() < 1e-5);
        assert!((steam_of(&process).gain_j_kg - 2.399e6).abs() < 2e3);
        // Water takes up about 4.5 … 4.6 kJ/(kg K) between 190 and 230 °C (from memory).
        let heat_capacity_j_kg_k = process.carrier.gain_j_kg / 40.0;
        assert!(
            (4.45e3..4.7e3).contains(&heat_capacity_j_kg_k),
            "{heat_capacity_j_kg_k}"
        );
        // The hot end is 229.9 °C; saturation pressure at 230 °C is 27.97 bar (steam tables, from
        // memory).
        assert!((process.carrier.pressure_pa / 1.2 / 27.97e5 - 1.0).abs() < 3e-3);
    }

    #[test]
    fn warmer_condensate_takes_less_heat() {
        let warm = with_condensate(400.0).prepare().unwrap();
        assert!(steam_of(&warm).gain_j_kg < steam_of(&steam_process()).gain_j_kg);
    }

    #[test]
    fn refuses_boiling_condensate_and_empty_differences() {
        assert!(matches!(
            with_condensate(460.0).prepare(),
            Err(PlantError::CondensateTooHot { .. })
        ));
        assert!(matches!(
            with_water(10.0, 0.0).prepare(),
            Err(PlantError::NotPositive { .. })
        ));
        assert!(matches!(
            with_water(10.0, 300.0).prepare(),
            Err(PlantError::Temperature { .. })
        ));
    }

    /// 700 °C air from 150 °C takes 0.591 MJ/kg (CoolProp 8.0.0, a general-purpose library: 715,653 J/kg
    /// less 124,467 J/kg above 300 K).
    #[test]
    fn hot_air_carries_its_own_heat() {
        let process = hot_air().prepare().unwrap();
        assert!((process.carrier.gain_j_kg / 0.591_4e6 - 1.0).abs() < 4e-3);
        assert_eq!(process.steam_kg_s(1e6), 0.0);
    }

    #[test]
    fn refuses_what_does_not_go_together() {
        let salt = CarrierWish::Salt {
            cold_k: 563.15,
            hot_k: 838.15,
        };
        let refused = |carrier, duty| {
            HeatProcess {
                carrier,
                duty,
                ..ten_bar()
            }
            .prepare()
            .unwrap_err()
        };
        assert!(matches!(
            refused(ten_bar().carrier, DutyWish::HotAir),
            PlantError::Mismatch { .. }
        ));
        assert!(matches!(
            refused(ten_bar().carrier, DutyWish::Electricity(turbine())),
            PlantError::Mismatch { .. }
        ));
        assert!(matches!(
            refused(salt, DutyWish::HotAir),
            PlantError::Mismatch { .. }
        ));
        let lukewarm = CarrierWish::Air {
            cold_k: 423.15,
            hot_k: 973.15,
        };
        assert!(matches!(
            refused(lukewarm, ten_bar().duty),
            PlantError::TooColdToBoil { .. }
        ));
    }
}
