//! Inputs of the usual size for what needs no field.

use plant::{HourIn, Piping, PlantInputs, Receiver, ReceiverKind, Store};
use structure::{Gear, Glass, Panel, Rules, StringInputs, Terrain, Wind, WindCode};
use tautfield_tests::Works;

const MWH: f64 = 3.6e9;

/// A receiver of 3 MW with pipes and a store, for the process and the customer of a case.
#[must_use]
pub fn plant_inputs(works: &Works) -> PlantInputs<'_> {
    PlantInputs {
        process: &works.case.process,
        demand: &works.case.demand,
        receiver: receiver(),
        store: Store {
            capacity_j: 3.0 * MWH,
            wall_w_m2_k: 0.35,
            loss_per_hour: 0.0,
            max_charge_w: 1.5e6,
            max_discharge_w: 1.5e6,
        },
        piping: Piping {
            riser_height_m: 40.0,
            ground_run_m: 120.0,
            rated_pressure_drop_pa: 4e5,
            loss_fraction: 0.01,
            pump_efficiency: 0.65,
        },
        availability: 0.97,
        air_pressure_pa: works.case.air_pressure_pa,
        tracking_power_w: 2500.0,
        standby_power_w: 500.0,
    }
}

fn receiver() -> Receiver {
    Receiver {
        kind: ReceiverKind::Billboard,
        aperture_width_m: 3.4,
        aperture_height_m: 3.4,
        aperture_area_m2: 3.4 * 3.4,
        has_door: false,
        tilt_rad: 0.35,
        centre_height_m: 40.0,
        absorptance: 0.95,
        emittance: 0.88,
        flux_limit_w_m2: 600e3,
        film_resistance_m2_k_w: 1.5e-4,
        insulation_thickness_m: 0.1,
        insulation_conductivity_w_m_k: 0.06,
        start_energy_j_m2: 20e6,
        cooling_time_s: 10.0 * 3600.0,
        rated_output_w: 3e6,
        min_load_fraction: 0.1,
    }
}

/// What every hour of the year brings to that receiver.
///
/// # Panics
/// When the design breaks a limit.
#[must_use]
pub fn hours(works: &Works) -> Vec<HourIn> {
    let detail = model::detail(&works.case, &works.design).expect("a sound design");
    let weather = &works.case.weather;
    let hours = detail.hours.iter().enumerate();
    hours
        .map(|(hour, out)| HourIn {
            aperture_power_w: out.aperture_power_w,
            peak_flux_w_m2: 2.0 * out.aperture_power_w / receiver().aperture_area_m2,
            air_temperature_k: weather.air_temperature_k[hour],
            wind_speed_m_s: weather.wind_speed_m_s[hour],
        })
        .collect()
}

/// A string of 15 mirrors of 0.95 m in open land.
#[must_use]
pub const fn string_inputs() -> StringInputs {
    StringInputs {
        on_rail: true,
        panel: Panel {
            glass: Glass::ANNEALED,
            side_m: 0.95,
            thickness_m: 5e-3,
            shortest_focal_length_m: 48.0,
        },
        mirrors: 15,
        pitch_m: 1.22,
        mount_height_m: 0.9,
        stagger_m: 0.0,
        rail_slope_rad: 0.0,
        lever_m: 0.4,
        driven_from_middle: true,
        gear: Gear::CUSTOMARY,
        wind: Wind {
            code: WindCode::En1991,
            terrain: Terrain::OPEN,
            air_density_kg_m3: 1.18,
            operate_m_s: 10.0,
            drive_to_stow_m_s: 14.0,
            survive_m_s: 28.0,
            rms_operating_m_s: 4.0,
        },
        rules: Rules::customary(),
    }
}
