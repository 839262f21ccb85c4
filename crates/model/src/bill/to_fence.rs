//! The bill from the receiver to the fence, by what flows there and what is delivered.

use std::f64::consts::PI;

use ledger::{Item, Quantities};
use plant::{Cooling, Fluid, PlantParts, YearTotals};

/// Thickness of insulation on pipes and vessels, for their cladding surface (common practice, no
/// source).
const PIPE_INSULATION_M: f64 = 0.1;

/// Volume of the pressuriser over that of the loop's water: water swells by a quarter from 20 to 250 °C
/// (998 to 799 kg/m³, steam tables, from memory), and half as much again is gas and reserve.
const PRESSURISER_SHARE: f64 = 0.4;

/// Water of a plant with a turbine set: 786 gal/MWh with wet and 26 with dry cooling, medians of towers
/// (Macknick et al. 2012, Environ. Res. Lett. 7, 045802), m³/J.
const WET_WATER_M3_J: f64 = 786.0 * M3_PER_GAL / J_PER_MWH;
const DRY_WATER_M3_J: f64 = 26.0 * M3_PER_GAL / J_PER_MWH;
const M3_PER_GAL: f64 = 3.785_411_784e-3;
const J_PER_MWH: f64 = 3.6e9;

/// People who run a turbine set around the clock; with the rest of the upkeep some 65 USD of 2010 for
/// each kilowatt and year at 10 MW (Kolb et al. 2011, SAND2011-2419, from memory).
const STAFF_PER_TURBINE: f64 = 8.0;

const W_PER_KW: f64 = 1000.0;

/// The receiver's panels.
pub(super) fn add_receiver(parts: &PlantParts, bill: &mut Quantities) {
    let panels = match parts.fluid {
        Fluid::Water => Item::ReceiverPanel,
        Fluid::Salt => Item::SaltPanel,
        Fluid::Air => Item::AirAbsorber,
    };
    bill.add(panels, parts.receiver_panel_area_m2);
    bill.add(Item::ReceiverSteel, parts.receiver_mass_kg);
}

/// Pipes, pumps, store, and what makes steam or electricity.
pub(super) fn add_to_fence(parts: &PlantParts, bill: &mut Quantities) {
    add_loop(parts, bill);
    add_store(parts, bill);
    bill.add(Item::Exchanger, parts.exchanger_area_m2);
    if let Some(cooling) = parts.cooling {
        let rejected_w = parts.exchanger_power_w - parts.turbine_w;
        bill.add(Item::SteamGenerator, parts.exchanger_power_w / W_PER_KW);
        bill.add(Item::TurbineSet, parts.turbine_w / W_PER_KW);
        if cooling == Cooling::Dry {
            bill.add(Item::DryCooler, rejected_w / W_PER_KW);
        }
    }
    bill.add(Item::ControlRoom, 1.0);
}

fn add_loop(parts: &PlantParts, bill: &mut Quantities) {
    let pump_kw = parts.pump_power_w / W_PER_KW;
    if parts.fluid == Fluid::Air {
        let inside_m2 = PI * parts.pipe_diameter_m * parts.pipe_length_m;
        bill.add(Item::HotDuct, inside_m2);
        bill.add(Item::Blower, pump_kw);
    } else {
        let clad_m = parts.pipe_diameter_m + 2.0 * PIPE_INSULATION_M;
        bill.add(Item::Piping, parts.pipe_mass_kg);
        bill.add(Item::FreezeProtection, parts.pipe_length_m);
        bill.add(Item::Insulation, PI * clad_m * parts.pipe_length_m);
        bill.add(Item::Pump, pump_kw);
    }
}

fn add_store(parts: &PlantParts, bill: &mut Quantities) {
    let steel = match parts.fluid {
        Fluid::Water | Fluid::Air => Item::StorageVessel,
        Fluid::Salt => Item::SaltTank,
    };
    bill.add(steel, parts.storage_steel_kg);
    bill.add(Item::StorageVolume, parts.storage_volume_m3);
    match parts.fluid {
        Fluid::Water => {
            let bore_m2 = 0.25 * PI * parts.pipe_diameter_m * parts.pipe_diameter_m;
            let water_m3 = bore_m2 * parts.pipe_length_m + parts.storage_volume_m3;
            bill.add(Item::Pressuriser, PRESSURISER_SHARE * water_m3);
        }
        Fluid::Salt => bill.add(Item::Salt, parts.storage_mass_kg),
        Fluid::Air => bill.add(Item::PackedBed, parts.storage_mass_kg),
    }
}

/// What a turbine set takes every year.
pub(super) fn add_upkeep(parts: &PlantParts, year: &YearTotals, bill: &mut Quantities) {
    let water_m3_j = match parts.cooling {
        Some(Cooling::Wet) => WET_WATER_M3_J,
        Some(Cooling::Dry) => DRY_WATER_M3_J,
        None => return,
    };
    bill.add(Item::Water, water_m3_j * year.delivered_j);
    bill.add(Item::Staff, STAFF_PER_TURBINE);
}
