//! Invented parts that the tests share.

use crate::{HeatProcess, Piping, Process, Receiver, ReceiverKind};

/// Steam at 10 bar from condensate at 90 °C, loop 190 → 230 °C.
pub fn ten_bar() -> HeatProcess {
    HeatProcess {
        delivery_pressure_pa: 1e6,
        condensate_temperature_k: 363.15,
        approach_k: 10.0,
        loop_rise_k: 40.0,
        pressure_margin: 1.2,
    }
}

pub fn process() -> Process {
    ten_bar().prepare().unwrap()
}

/// A panel of 3.4 × 3.4 m for 3 MW.
pub fn billboard() -> Receiver {
    Receiver {
        kind: ReceiverKind::Billboard,
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
