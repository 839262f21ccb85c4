//! What has to be bought: areas, masses and powers of one plant.

use std::f64::consts::PI;

use crate::pipes::Pipe;
use crate::process::Duty;
use crate::vessels::Vessels;
use crate::{Carrier, Cooling, Fluid, PlantInputs, Process, Receiver};

/// Density of steel [kg/m³] (EN 1993-1-1, from memory).
const STEEL_KG_M3: f64 = 7850.0;

/// Wall of the receiver's tubes [m] (common practice, no source).
const TUBE_WALL_M: f64 = 3.0e-3;

/// Receiver steel ÷ steel of its tubes: headers, buckstays, casing (common practice, no source).
const RECEIVER_STEEL_FACTOR: f64 = 1.8;

/// Density of mineral wool [kg/m³] (common practice, no source).
const INSULATION_KG_M3: f64 = 100.0;

/// Heat transfer of a kettle steam generator heated by water [W/(m² K)], about that of salt too; by
/// air twenty times less (common practice, no source).
const GENERATOR_W_M2_K: f64 = 1500.0;
const GENERATOR_BY_AIR_W_M2_K: f64 = 75.0;

/// Quantities of one plant for the bill.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PlantParts {
    /// What flows through receiver, pipes and store.
    pub fluid: Fluid,
    /// Receiver panels [m²].
    pub receiver_panel_area_m2: f64,
    /// Receiver steel with headers, casing and insulation, without its fluid [kg].
    pub receiver_mass_kg: f64,
    /// Length of riser, downcomer and ground pipes together [m].
    pub pipe_length_m: f64,
    /// Inner diameter of the pipes [m].
    pub pipe_diameter_m: f64,
    /// Steel of the pipes [kg].
    pub pipe_mass_kg: f64,
    /// Water, salt or stones in the store [kg].
    pub storage_mass_kg: f64,
    /// Volume of the store's vessels [m³].
    pub storage_volume_m3: f64,
    /// Steel of the store's vessels [kg].
    pub storage_steel_kg: f64,
    /// Electric power of loop pump or blower at rated flow and of the feedwater pump at the largest
    /// demand [W].
    pub pump_power_w: f64,
    /// Heating surface of the steam generator of a works [m²].
    pub exchanger_area_m2: f64,
    /// Heat flow at the largest demand: of a works' steam generator, of a turbine set at full load [W].
    pub exchanger_power_w: f64,
    /// Gross electric power of the turbine set [W].
    pub turbine_w: f64,
    /// How its steam is condensed, if there is one.
    pub cooling: Option<Cooling>,
}

/// Sizes the parts of a plant: loop and pump by the receiver's rated output, the steam generator and
/// turbine set by the largest demand, the store by its capacity and the carrier's temperature swing.
#[must_use]
pub fn size_plant(inputs: &PlantInputs<'_>) -> PlantParts {
    let Process { carrier, duty } = inputs.process;
    let receiver = &inputs.receiver;
    let pipe = Pipe::for_loop(carrier, &inputs.piping, receiver.rated_output_w);
    let vessels = Vessels::holding(carrier, inputs.store.capacity_j);
    let turbine = inputs.turbine();
    let largest_w = inputs.demand.largest_w();
    let exchanger_power_w = turbine.map_or(largest_w, |turbine| turbine.full_heat_w());
    PlantParts {
        fluid: carrier.fluid,
        receiver_panel_area_m2: receiver.panel_area_m2(),
        receiver_mass_kg: receiver.panel_area_m2() * receiver_kg_m2(receiver),
        pipe_length_m: pipe.length_m,
        pipe_diameter_m: pipe.inner_diameter_m,
        pipe_mass_kg: pipe.steel_kg,
        storage_mass_kg: vessels.fill_kg,
        storage_volume_m3: vessels.volume_m3,
        storage_steel_kg: vessels.steel_kg,
        pump_power_w: inputs.rated_pump_w() + inputs.piping.feed_pump_w(inputs.process, largest_w),
        exchanger_area_m2: match duty {
            Duty::Steam(steam) => generator_m2(carrier, steam.temperature_k, exchanger_power_w),
            Duty::HotAir | Duty::Electricity(_) => 0.0,
        },
        exchanger_power_w,
        turbine_w: turbine.map_or(0.0, |turbine| turbine.gross_w),
        cooling: turbine.map(|turbine| turbine.set.cooling),
    }
}

/// Tubes side by side have π times the steel of a sheet as thick as their wall.
fn receiver_kg_m2(receiver: &Receiver) -> f64 {
    PI * TUBE_WALL_M * STEEL_KG_M3 * RECEIVER_STEEL_FACTOR
        + receiver.insulation_thickness_m * INSULATION_KG_M3
}

/// Surface between carrier and boiling water [m²].
fn generator_m2(carrier: &Carrier, boiling_k: f64, heat_w: f64) -> f64 {
    let transfer_w_m2_k = match carrier.fluid {
        Fluid::Water | Fluid::Salt => GENERATOR_W_M2_K,
        Fluid::Air => GENERATOR_BY_AIR_W_M2_K,
    };
    heat_w / (transfer_w_m2_k * mean_difference_k(carrier, boiling_k))
}

/// Logarithmic mean difference between carrier and boiling water [K]; preheating, which has larger
/// differences, is counted at the boiling point too.
fn mean_difference_k(carrier: &Carrier, boiling_k: f64) -> f64 {
    let hot_k = carrier.hot_k - boiling_k;
    let cold_k = carrier.cold_k - boiling_k;
    (hot_k - cold_k) / libm::log(hot_k / cold_k)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::samples::steam_process;

    #[test]
    fn logarithmic_mean_lies_between_its_ends() {
        // 50 K and 10 K: 40/ln 5 = 24.853 K.
        let carrier = steam_process().carrier;
        let boiling_k = carrier.cold_k - 10.0;
        assert!((mean_difference_k(&carrier, boiling_k) - 24.853).abs() < 1e-3);
    }
}
