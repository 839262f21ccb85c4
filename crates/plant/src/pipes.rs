//! Riser, downcomer and ground pipes: size, steel, pumping, heat content.

use std::f64::consts::PI;

use crate::process::Duty;
use crate::vessels::ALLOWED_STRESS_PA;
use crate::{Carrier, Fluid, Process};

/// Density [kg/m³] and specific heat [J/(kg K)] of steel (EN 1993-1-1 and common value, from memory).
const STEEL_KG_M3: f64 = 7850.0;
const STEEL_J_KG_K: f64 = 500.0;

/// Standard gravity, m/s².
const GRAVITY_M_S2: f64 = 9.806_65;

/// Velocity in pipes and ducts [m/s] (common practice, no source).
const WATER_M_S: f64 = 2.0;
const SALT_M_S: f64 = 2.5;
const AIR_M_S: f64 = 20.0;

/// Thinnest pipe wall, corrosion allowance and shell of an air duct [m] (common practice, no
/// source).
const LEAST_PIPE_WALL_M: f64 = 3.6e-3;
const CORROSION_M: f64 = 1.0e-3;
const DUCT_SHELL_M: f64 = 5.0e-3;

/// Lining inside a hot air duct: thickness [m], density [kg/m³], specific heat [J/(kg K)]; its mean
/// is half as warm as the air (common practice, no source).
const LINING_M: f64 = 0.2;
const LINING_KG_M3: f64 = 130.0;
const LINING_J_KG_K: f64 = 1000.0;

/// Pipe length ÷ straight distance: bends and expansion loops (common practice, no source).
const PIPE_DETOUR: f64 = 1.2;

/// Air temperature that pipes cool down to [K], and specific heat of pressurised water between 15 and
/// 230 °C [J/(kg K)] (steam tables, from memory).
const COLD_K: f64 = 288.15;
const WATER_J_KG_K: f64 = 4350.0;

/// The pipes between receiver and use.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Piping {
    /// Height of the riser up the tower [m].
    pub riser_height_m: f64,
    /// Distance on the ground between tower and use [m].
    pub ground_run_m: f64,
    /// Pressure drop around the loop at rated flow [Pa].
    pub rated_pressure_drop_pa: f64,
    /// Heat lost by warm pipes ÷ rated heat flow of the receiver. At rest pipes lose it too, less as
    /// they cool, and it is made good when the loop starts again.
    pub loss_fraction: f64,
    /// Efficiency of pumps or blower with their motors, 0 … 1.
    pub pump_efficiency: f64,
}

impl Piping {
    /// Electric power that moves a heat flow [W] at a share of the rated flow [W]: friction with the
    /// square of the flow, and for salt the lift up the tower, which the open hot tank does not give
    /// back.
    pub(crate) fn loop_pump_w(&self, carrier: &Carrier, heat_w: f64, load: f64) -> f64 {
        let flow_m3_s = carrier.flow_kg_s(heat_w) / carrier.cold_density_kg_m3;
        let friction_pa = load * load * self.rated_pressure_drop_pa;
        (friction_pa + self.lift_pa(carrier)) * flow_m3_s / self.pump_efficiency
    }

    fn lift_pa(&self, carrier: &Carrier) -> f64 {
        match carrier.fluid {
            Fluid::Salt => carrier.cold_density_kg_m3 * GRAVITY_M_S2 * self.riser_height_m,
            Fluid::Water | Fluid::Air => 0.0,
        }
    }

    /// Electric power that feeds a steam generator for a heat flow [W], in W.
    pub(crate) fn feed_pump_w(&self, process: &Process, heat_w: f64) -> f64 {
        match &process.duty {
            Duty::Steam(steam) => {
                heat_w / steam.gain_j_kg * steam.feed_pressure_rise_pa
                    / (steam.condensate_density_kg_m3 * self.pump_efficiency)
            }
            Duty::HotAir | Duty::Electricity(_) => 0.0,
        }
    }

    /// Pressure that the pipes have to hold [Pa].
    fn design_pressure_pa(&self, carrier: &Carrier) -> f64 {
        match carrier.fluid {
            Fluid::Water => carrier.pressure_pa,
            Fluid::Salt => self.lift_pa(carrier) + self.rated_pressure_drop_pa,
            Fluid::Air => self.rated_pressure_drop_pa,
        }
    }
}

/// Riser, downcomer and ground pipes of the loop.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Pipe {
    carrier: Carrier,
    pub length_m: f64,
    pub inner_diameter_m: f64,
    pub steel_kg: f64,
}

impl Pipe {
    /// Pipes for a heat flow [W].
    pub fn for_loop(carrier: &Carrier, piping: &Piping, heat_w: f64) -> Self {
        let velocity_m_s = match carrier.fluid {
            Fluid::Water => WATER_M_S,
            Fluid::Salt => SALT_M_S,
            Fluid::Air => AIR_M_S,
        };
        let flow_m3_s = carrier.flow_kg_s(heat_w) / carrier.hot_density_kg_m3;
        let length_m = 2.0 * PIPE_DETOUR * (piping.riser_height_m + piping.ground_run_m);
        let inner_diameter_m = (4.0 * flow_m3_s / (PI * velocity_m_s)).sqrt();
        let steel_kg_m = match carrier.fluid {
            Fluid::Water | Fluid::Salt => {
                pipe_kg_m(inner_diameter_m, piping.design_pressure_pa(carrier))
            }
            Fluid::Air => shell_kg_m(inner_diameter_m + 2.0 * LINING_M, DUCT_SHELL_M),
        };
        Self {
            carrier: *carrier,
            length_m,
            inner_diameter_m,
            steel_kg: steel_kg_m * length_m,
        }
    }

    /// Heat that the warm loop holds above the air [J]: steel and fluid, of a lined duct the lining.
    pub fn heat_content_j(&self) -> f64 {
        let bore_m2 = PI / 4.0 * self.inner_diameter_m * self.inner_diameter_m;
        let fluid_kg = bore_m2 * self.length_m * self.carrier.hot_density_kg_m3;
        let swing_k = self.carrier.hot_k - self.carrier.cold_k;
        let j_k = match self.carrier.fluid {
            Fluid::Water => self.steel_kg * STEEL_J_KG_K + fluid_kg * WATER_J_KG_K,
            Fluid::Salt => {
                self.steel_kg * STEEL_J_KG_K + fluid_kg * self.carrier.gain_j_kg / swing_k
            }
            Fluid::Air => {
                let mean_m = self.inner_diameter_m + LINING_M;
                let lining_kg = PI * mean_m * LINING_M * self.length_m * LINING_KG_M3;
                0.5 * lining_kg * LINING_J_KG_K
            }
        };
        j_k * (self.carrier.mean_k() - COLD_K)
    }
}

/// Thin-walled pipe: hoop stress p d/(2 e) within the allowed stress.
fn pipe_kg_m(inner_diameter_m: f64, pressure_pa: f64) -> f64 {
    let hoop_m = pressure_pa * inner_diameter_m / (2.0 * ALLOWED_STRESS_PA);
    let wall_m = (hoop_m + CORROSION_M).max(LEAST_PIPE_WALL_M);
    shell_kg_m(inner_diameter_m, wall_m)
}

fn shell_kg_m(inner_diameter_m: f64, wall_m: f64) -> f64 {
    PI * (inner_diameter_m + wall_m) * wall_m * STEEL_KG_M3
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::samples::{piping, steam_process};

    #[test]
    fn three_megawatts_need_a_pipe_of_a_hundred_and_some_millimetres() {
        // 3 MW over 40 K of water at about 4.55 kJ/(kg K) are 16.5 kg/s, 20 l/s, at 2 m/s 0.010 m².
        let pipe = Pipe::for_loop(&steam_process().carrier, &piping(), 3e6);
        assert!(
            (0.105..0.120).contains(&pipe.inner_diameter_m),
            "{}",
            pipe.inner_diameter_m
        );
        assert!((pipe.length_m - 168.0).abs() < 1e-9);
        // EN 10220, 114.3 × 3.6 mm weighs 9.83 kg/m (from memory); here the inner side is 114 mm.
        let kg_m = pipe.steel_kg / pipe.length_m;
        assert!((9.0..12.0).contains(&kg_m), "{kg_m}");
    }

    /// By hand: 168 m of 114 mm bore hold 1.71 m³ or 1.42 t of water and weigh some 1.7 t; from 15
    /// to 210 °C they take 1.42 t × 4.35 kJ/(kg K) × 195 K + 1.7 t × 0.5 × 195 = 1.37 GJ.
    #[test]
    fn warm_pipes_hold_more_than_a_gigajoule() {
        let pipe = Pipe::for_loop(&steam_process().carrier, &piping(), 3e6);
        let content_j = pipe.heat_content_j();
        assert!((content_j / 1.37e9 - 1.0).abs() < 0.05, "{content_j}");
    }

    /// By hand: 42.2 MW of salt from 290 to 565 °C are 101.2 kg/s; lifted by 80 m they take 79.4 kW, at
    /// 65 % 122 kW of electricity, 0.3 % of the heat, whatever the load.
    #[test]
    fn salt_is_lifted_up_the_tower() {
        let salt = Carrier::salt(563.15, 838.15, 101_325.0).unwrap();
        let tall = Piping {
            riser_height_m: 80.0,
            rated_pressure_drop_pa: 0.0,
            ..piping()
        };
        let pump_w = tall.loop_pump_w(&salt, 42.2e6, 1.0);
        assert!((pump_w / 122.1e3 - 1.0).abs() < 2e-3, "{pump_w}");
        assert!((tall.loop_pump_w(&salt, 21.1e6, 0.5) / pump_w - 0.5).abs() < 1e-12);
    }

    /// By hand: 1.3 MW over 591 kJ/kg are 2.2 kg/s of air, at 700 °C 6.1 m³/s, at 20 m/s a bore of 0.62 m.
    #[test]
    fn hot_air_needs_a_wide_duct() {
        let air = Carrier::air(423.15, 973.15, 101_325.0).unwrap();
        let duct = Pipe::for_loop(&air, &piping(), 1.3e6);
        assert!((duct.inner_diameter_m - 0.62).abs() < 0.01);
    }
}
