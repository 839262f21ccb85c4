//! Invented parts that the tests share.

use crate::process::{CarrierWish, DutyWish};
use crate::{Carrier, Cooling, HeatProcess, Piping, Process, Receiver, ReceiverKind, TurbineSet};

const SEA_LEVEL_PA: f64 = 101_325.0;

/// Steam at 10 bar from condensate at 90 °C, loop 190 → 230 °C.
pub fn ten_bar() -> HeatProcess {
    HeatProcess {
        carrier: CarrierWish::Water {
            approach_k: 10.0,
            rise_k: 40.0,
            pressure_margin: 1.2,
        },
        duty: DutyWish::Steam {
            pressure_pa: 1e6,
            condensate_k: 363.15,
        },
        air_pressure_pa: SEA_LEVEL_PA,
    }
}

pub fn steam_process() -> Process {
    ten_bar().prepare().unwrap()
}

/// Air from 150 to 700 °C.
pub fn hot_air() -> HeatProcess {
    HeatProcess {
        carrier: CarrierWish::Air {
            cold_k: 423.15,
            hot_k: 973.15,
        },
        duty: DutyWish::HotAir,
        air_pressure_pa: SEA_LEVEL_PA,
    }
}

/// Electricity by way of salt from 290 to 565 °C.
pub fn salt_power() -> HeatProcess {
    HeatProcess {
        carrier: CarrierWish::Salt {
            cold_k: 563.15,
            hot_k: 838.15,
        },
        duty: DutyWish::Electricity(turbine()),
        air_pressure_pa: SEA_LEVEL_PA,
    }
}

pub fn turbine() -> TurbineSet {
    TurbineSet {
        efficiency: 0.34,
        no_load_share: 0.08,
        min_load: 0.2,
        own_share: 0.06,
        cooling: Cooling::Dry,
        condensing_above_air_k: 20.0,
        rated_condensing_k: 318.15,
        heat_k: 700.0,
        start_s: 900.0,
    }
}

/// Fluid at one temperature all along the receiver.
pub fn at_temperature(fluid_k: f64) -> Carrier {
    Carrier {
        cold_k: fluid_k,
        hot_k: fluid_k,
        ..steam_process().carrier
    }
}

/// A panel of 3.4 × 3.4 m for 3 MW.
pub fn billboard() -> Receiver {
    Receiver {
        kind: ReceiverKind::Billboard,
        aperture_area_m2: 3.4 * 3.4,
        aperture_width_m: 3.4,
        aperture_height_m: 3.4,
        tilt_rad: 0.3,
        centre_height_m: 40.0,
        absorptance: 0.95,
        emittance: 0.88,
        flux_limit_w_m2: 600e3,
        film_resistance_m2_k_w: 1.5e-4,
        insulation_thickness_m: 0.1,
        insulation_conductivity_w_m_k: 0.06,
        start_energy_j_m2: 60e6,
        cooling_time_s: 10.0 * 3600.0,
        has_door: false,
        rated_output_w: 3e6,
        min_load_fraction: 0.05,
    }
}

pub fn cavity() -> ReceiverKind {
    ReceiverKind::Cavity {
        inside_ratio: 4.0,
        lower_lip_share: 0.0,
        above_upper_lip_share: 0.2,
    }
}

pub fn piping() -> Piping {
    Piping {
        riser_height_m: 40.0,
        ground_run_m: 30.0,
        rated_pressure_drop_pa: 4e5,
        loss_fraction: 0.01,
        pump_efficiency: 0.65,
    }
}
