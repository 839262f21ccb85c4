//! Inputs of the plant.

use plant::{
    CarrierWish, Cooling, Demand, DutyWish, HeatProcess, Piping, PlantInputs, Receiver,
    ReceiverKind, Shifts, Store, TurbineSet,
};
use scenario::{Carrier, Delivers, Design, Door, Heat, PowerSet, Scenario};

use crate::case::Case;
use crate::inputs;

const SECONDS_PER_HOUR: f64 = 3600.0;

/// Smallest loop that is sized, W: for a field whose light misses the aperture.
const LEAST_RATED_W: f64 = 1.0;

/// The heat process as written, at the site's air pressure [Pa].
#[must_use]
pub fn heat_process(scenario: &Scenario, air_pressure_pa: f64) -> HeatProcess {
    let heat = &scenario.heat;
    let (cold_k, hot_k) = (heat.cold_temperature_k, heat.hot_temperature_k);
    HeatProcess {
        carrier: match heat.carrier {
            Carrier::Water => CarrierWish::Water {
                approach_k: heat.approach_k,
                rise_k: heat.loop_rise_k,
                pressure_margin: heat.pressure_margin,
            },
            Carrier::Salt => CarrierWish::Salt { cold_k, hot_k },
            Carrier::Air => CarrierWish::Air { cold_k, hot_k },
        },
        duty: match heat.delivers {
            Delivers::Steam => DutyWish::Steam {
                pressure_pa: heat.delivery_pressure_pa,
                condensate_k: heat.condensate_temperature_k,
            },
            Delivers::HotAir => DutyWish::HotAir,
            Delivers::Electricity => {
                DutyWish::Electricity(turbine_set(&scenario.power, 0.5 * (cold_k + hot_k)))
            }
        },
        air_pressure_pa,
    }
}

/// The turbine set, its heat coming at a mean temperature [K].
const fn turbine_set(power: &PowerSet, heat_k: f64) -> TurbineSet {
    let (cooling, condensing_above_air_k) = match power.cooling {
        scenario::Cooling::Dry => (Cooling::Dry, power.dry_approach_k),
        scenario::Cooling::Wet => (
            Cooling::Wet,
            power.wet_approach_k - power.wet_bulb_depression_k,
        ),
    };
    TurbineSet {
        efficiency: power.efficiency,
        no_load_share: power.no_load_heat,
        min_load: power.min_load,
        own_share: power.own_use,
        cooling,
        condensing_above_air_k,
        rated_condensing_k: power.rated_condensing_k,
        heat_k,
        start_s: power.start_time_s,
    }
}

/// What the customer takes in each hour of a calendar year.
#[must_use]
pub fn demand(heat: &Heat, year: i32) -> Demand {
    let demand = &heat.demand;
    let shifts = Shifts {
        start_h: demand.from_s / SECONDS_PER_HOUR,
        end_h: demand.to_s / SECONDS_PER_HOUR,
        worked: demand.days.worked(),
        first_weekday: weekday_of_new_year(year),
        monthly_factor: demand.monthly_share,
    };
    Demand::from_shifts(demand.power_w, demand.min_power_w, &shifts)
}

/// Weekday of 1 January in the Gregorian calendar, Monday being 0; the year 1 began on a Monday.
fn weekday_of_new_year(year: i32) -> usize {
    let before = i64::from(year) - 1;
    let leap_days = before.div_euclid(4) - before.div_euclid(100) + before.div_euclid(400);
    (365 * before + leap_days).rem_euclid(7) as usize
}

/// One design's plant, for a field that brings so much light in its brightest hour: receiver, loop
/// and pumps are never made for more than comes.
#[must_use]
pub fn plant_inputs<'case>(
    case: &'case Case,
    design: &Design,
    driven_units: f64,
    brightest_w: f64,
) -> PlantInputs<'case> {
    let heat = &case.scenario.heat;
    let storage = &case.scenario.storage;
    PlantInputs {
        process: &case.process,
        demand: &case.demand,
        receiver: receiver(case, design, brightest_w),
        store: Store {
            capacity_j: design.storage_j,
            wall_w_m2_k: storage.wall_w_m2_k,
            loss_per_hour: storage.loss_per_s * SECONDS_PER_HOUR,
            max_charge_w: design.storage_j / storage.fill_time_s,
            max_discharge_w: design.storage_j / storage.empty_time_s,
        },
        piping: Piping {
            riser_height_m: design.aim_height_m,
            ground_run_m: heat.pipe_run_m,
            rated_pressure_drop_pa: heat.pipe_pressure_drop_pa,
            loss_fraction: heat.pipe_loss,
            pump_efficiency: heat.pump_efficiency,
        },
        availability: heat.availability,
        air_pressure_pa: case.air_pressure_pa,
        tracking_power_w: driven_units * heat.drive_power_w,
        standby_power_w: heat.standby_power_w,
    }
}

fn receiver(case: &Case, design: &Design, brightest_w: f64) -> Receiver {
    let receiver = &case.scenario.receiver;
    let at_work_w = (case.scenario.heat.availability * brightest_w).max(LEAST_RATED_W);
    let demand_w = case.scenario.heat.demand.power_w;
    let heat_w = case.process.heat_for_w(demand_w);
    let wanted_w = receiver.rating_ratio * heat_w;
    Receiver {
        kind: match receiver.kind {
            scenario::ReceiverKind::Billboard => ReceiverKind::Billboard,
            scenario::ReceiverKind::Cavity => ReceiverKind::Cavity {
                inside_ratio: receiver.cavity_inside_ratio,
                lower_lip_share: receiver.cavity_lower_lip,
                above_upper_lip_share: receiver.cavity_above_upper_lip,
            },
            scenario::ReceiverKind::Cylinder => ReceiverKind::Cylinder,
        },
        aperture_area_m2: inputs::aperture(case, design).area_m2(),
        aperture_width_m: design.aperture_width_m,
        aperture_height_m: design.aperture_height_m,
        tilt_rad: design.aperture_tilt_rad,
        centre_height_m: design.aim_height_m,
        absorptance: receiver.absorptance,
        emittance: receiver.emittance,
        flux_limit_w_m2: receiver.flux_limit_w_m2,
        film_resistance_m2_k_w: receiver.film_resistance_m2_k_w,
        insulation_thickness_m: receiver.insulation_thickness_m,
        insulation_conductivity_w_m_k: receiver.insulation_conductivity_w_m_k,
        start_energy_j_m2: receiver.start_energy_j_m2,
        cooling_time_s: receiver.cooling_time_s,
        has_door: receiver.door == Door::ClosedAtRest,
        rated_output_w: wanted_w.min(at_work_w),
        min_load_fraction: receiver.min_load,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Any wall calendar: 1 January was a Monday in 2001, 2018 and 2024, a Thursday in 2026.
    #[test]
    fn new_years_days() {
        for (year, weekday) in [(2001, 0), (2018, 0), (2024, 0), (2026, 3), (2000, 5)] {
            assert_eq!(weekday_of_new_year(year), weekday, "{year}");
        }
    }
}
