//! What has to be bought: areas, masses and powers of one plant.

use std::f64::consts::PI;

use crate::{Piping, PlantInputs, Process, Receiver};

/// Density of steel [kg/m³] (EN 1993-1-1, from memory).
const STEEL_KG_M3: f64 = 7850.0;

/// Allowed stress of boiler steel at 250 °C, Pa: proof stress about 170 MPa ÷ 1.5 (P235GH, from
/// memory).
const ALLOWED_STRESS_PA: f64 = 110e6;

/// Wall of the receiver's tubes [m] (common practice, no source).
const TUBE_WALL_M: f64 = 3.0e-3;

/// Receiver steel ÷ steel of its tubes: headers, buckstays, casing (common practice, no source).
const RECEIVER_STEEL_FACTOR: f64 = 1.8;

/// Density of mineral wool [kg/m³] (common practice, no source).
const INSULATION_KG_M3: f64 = 100.0;

/// Water velocity in the loop [m/s] (common practice, no source).
const PIPE_VELOCITY_M_S: f64 = 2.0;

/// Thinnest pipe wall and corrosion allowance [m] (common practice, no source).
const LEAST_PIPE_WALL_M: f64 = 3.6e-3;
const CORROSION_M: f64 = 1.0e-3;

/// Pipe length ÷ straight distance: bends and expansion loops (common practice, no source).
const PIPE_DETOUR: f64 = 1.2;

/// Specific heat of steel and of pressurised water between 15 and 230 °C, J/(kg K), and the air's
/// temperature that pipes cool down to [K] (steam tables and common values, from memory).
const STEEL_J_KG_K: f64 = 500.0;
const WATER_J_KG_K: f64 = 4350.0;
const COLD_K: f64 = 288.15;

/// Share of the store's water that is of use; the rest mixes between hot and cold (common
/// practice, no source).
const STORE_USABLE_SHARE: f64 = 0.9;

/// Heat transfer of a kettle steam generator heated by water [W/(m² K)] (common practice, no
/// source).
const GENERATOR_W_M2_K: f64 = 1500.0;

/// Quantities of one plant for the bill.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct PlantParts {
    /// Receiver panels [m²].
    pub receiver_panel_area_m2: f64,
    /// Receiver steel with headers, casing and insulation, without water [kg].
    pub receiver_mass_kg: f64,
    /// Length of riser, downcomer and ground pipes together [m].
    pub pipe_length_m: f64,
    /// Inner diameter of the pipes [m].
    pub pipe_diameter_m: f64,
    /// Steel of the pipes [kg].
    pub pipe_mass_kg: f64,
    /// Water in the store [kg].
    pub storage_mass_kg: f64,
    /// Volume of the store's vessels [m³].
    pub storage_volume_m3: f64,
    /// Steel of the store's vessels [kg].
    pub storage_steel_kg: f64,
    /// Electric power of the loop pump at rated flow and of the feedwater pump at the largest
    /// demand [W].
    pub pump_power_w: f64,
    /// Heating surface of the steam generator [m²].
    pub exchanger_area_m2: f64,
    /// Largest heat flow of the steam generator [W].
    pub exchanger_power_w: f64,
}

/// Sizes the parts of a plant: loop and pump by the receiver's rated output, the steam generator
/// by the largest demand, the store by its capacity and the loop's temperature swing.
#[must_use]
pub fn size_plant(inputs: &PlantInputs<'_>) -> PlantParts {
    let process = inputs.process;
    let receiver = &inputs.receiver;
    let pipe = Pipe::for_loop(process, &inputs.piping, receiver.rated_output_w);
    let storage_mass_kg = inputs.store.capacity_j / process.loop_gain_j_kg / STORE_USABLE_SHARE;
    let storage_volume_m3 = storage_mass_kg / process.loop_hot_density_kg_m3;
    let exchanger_power_w = inputs.demand.largest_w();
    PlantParts {
        receiver_panel_area_m2: receiver.panel_area_m2(),
        receiver_mass_kg: receiver.panel_area_m2() * receiver_kg_m2(receiver),
        pipe_length_m: pipe.length_m,
        pipe_diameter_m: pipe.inner_diameter_m,
        pipe_mass_kg: pipe.steel_kg(process.loop_pressure_pa),
        storage_mass_kg,
        storage_volume_m3,
        storage_steel_kg: vessel_steel_kg(process.loop_pressure_pa, storage_volume_m3),
        pump_power_w: inputs.piping.loop_pump_w(process, receiver.rated_output_w)
            + inputs.piping.feed_pump_w(process, exchanger_power_w),
        exchanger_area_m2: exchanger_power_w / (GENERATOR_W_M2_K * mean_difference_k(process)),
        exchanger_power_w,
    }
}

/// Tubes side by side have π times the steel of a sheet as thick as their wall.
fn receiver_kg_m2(receiver: &Receiver) -> f64 {
    PI * TUBE_WALL_M * STEEL_KG_M3 * RECEIVER_STEEL_FACTOR
        + receiver.insulation_thickness_m * INSULATION_KG_M3
}

/// Riser, downcomer and ground pipes of the loop.
pub(crate) struct Pipe {
    length_m: f64,
    inner_diameter_m: f64,
}

impl Pipe {
    pub(crate) fn for_loop(process: &Process, piping: &Piping, heat_w: f64) -> Self {
        let flow_m3_s = heat_w / process.loop_gain_j_kg / process.loop_hot_density_kg_m3;
        Self {
            length_m: 2.0 * PIPE_DETOUR * (piping.riser_height_m + piping.ground_run_m),
            inner_diameter_m: (4.0 * flow_m3_s / (PI * PIPE_VELOCITY_M_S)).sqrt(),
        }
    }

    /// Thin-walled pipe: hoop stress p d/(2 e) within the allowed stress.
    fn steel_kg(&self, pressure_pa: f64) -> f64 {
        let hoop_m = pressure_pa * self.inner_diameter_m / (2.0 * ALLOWED_STRESS_PA);
        let wall_m = (hoop_m + CORROSION_M).max(LEAST_PIPE_WALL_M);
        PI * (self.inner_diameter_m + wall_m) * wall_m * self.length_m * STEEL_KG_M3
    }

    /// Heat that steel and water of the warm loop hold above the air [J].
    pub(crate) fn heat_content_j(&self, process: &Process) -> f64 {
        let bore_m2 = PI / 4.0 * self.inner_diameter_m * self.inner_diameter_m;
        let water_kg = bore_m2 * self.length_m * process.loop_hot_density_kg_m3;
        let steel_kg = self.steel_kg(process.loop_pressure_pa);
        (steel_kg * STEEL_J_KG_K + water_kg * WATER_J_KG_K)
            * (process.receiver_fluid_temperature_k() - COLD_K)
    }
}

/// Steel of a long thin-walled cylinder under inner pressure: 2 p V ρ/σ [kg].
fn vessel_steel_kg(pressure_pa: f64, volume_m3: f64) -> f64 {
    2.0 * pressure_pa * volume_m3 * STEEL_KG_M3 / ALLOWED_STRESS_PA
}

/// Logarithmic mean difference between loop water and boiling water [K]; preheating, which has
/// larger differences, is counted at the boiling point too.
fn mean_difference_k(process: &Process) -> f64 {
    let hot_k = process.loop_hot_k - process.steam_temperature_k;
    let cold_k = process.loop_cold_k - process.steam_temperature_k;
    (hot_k - cold_k) / libm::log(hot_k / cold_k)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::samples::{piping, process};

    #[test]
    fn three_megawatts_need_a_pipe_of_a_hundred_and_some_millimetres() {
        // 3 MW over 40 K of water at about 4.55 kJ/(kg K) are 16.5 kg/s, 20 l/s, at 2 m/s 0.010 m².
        let pipe = Pipe::for_loop(&process(), &piping(), 3e6);
        assert!(
            (0.105..0.120).contains(&pipe.inner_diameter_m),
            "{}",
            pipe.inner_diameter_m
        );
        assert!((pipe.length_m - 168.0).abs() < 1e-9);
        // EN 10220, 114.3 × 3.6 mm weighs 9.83 kg/m (from memory); here the inner side is 114 mm.
        let kg_m = pipe.steel_kg(33e5) / pipe.length_m;
        assert!((9.0..12.0).contains(&kg_m), "{kg_m}");
    }

    /// By hand: 168 m of 114 mm bore hold 1.71 m³ or 1.42 t of water and weigh some 1.7 t; from 15
    /// to 210 °C they take 1.42 t × 4.35 kJ/(kg K) × 195 K + 1.7 t × 0.5 × 195 = 1.37 GJ.
    #[test]
    fn warm_pipes_hold_more_than_a_gigajoule() {
        let pipe = Pipe::for_loop(&process(), &piping(), 3e6);
        let content_j = pipe.heat_content_j(&process());
        assert!((content_j / 1.37e9 - 1.0).abs() < 0.05, "{content_j}");
    }

    #[test]
    fn vessel_of_ten_cubic_metres_at_33_bar() {
        // Worked apart: bore 2 m, length 3.183 m, wall p r/σ = 30 mm, 4.71 t of shell.
        let shell_kg = PI * 2.0 * 3.183_1 * 0.03 * STEEL_KG_M3;
        assert!((vessel_steel_kg(33e5, 10.0) / shell_kg - 1.0).abs() < 1e-4);
    }

    #[test]
    fn logarithmic_mean_lies_between_its_ends() {
        // 50 K and 10 K: 40/ln 5 = 24.853 K.
        assert!((mean_difference_k(&process()) - 24.853).abs() < 1e-3);
    }
}
