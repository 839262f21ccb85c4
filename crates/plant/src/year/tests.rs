//! The year against its conservation and ordering laws.

use proptest::prelude::*;

use super::*;
use crate::samples::{billboard, cavity, hot_air, piping, salt_power, steam_process as process};
use crate::{ReceiverKind, Shifts};

/// Twenty invented days are enough for the laws.
const HOURS: usize = 480;

fn inputs<'a>(process: &'a Process, demand: &'a Demand, capacity_j: f64) -> PlantInputs<'a> {
    PlantInputs {
        process,
        demand,
        receiver: billboard(),
        store: Store {
            capacity_j,
            wall_w_m2_k: 0.35,
            loss_per_hour: 0.001,
            max_charge_w: 3e6,
            max_discharge_w: 2e6,
        },
        piping: piping(),
        availability: 0.97,
        air_pressure_pa: 101_325.0,
        tracking_power_w: 2e3,
        standby_power_w: 500.0,
    }
}

/// Steam by way of water, hot air, electricity by way of salt.
fn processes() -> [Process; 3] {
    [
        process(),
        hot_air().prepare().unwrap(),
        salt_power().prepare().unwrap(),
    ]
}

fn demand(power_w: f64) -> Demand {
    Demand::from_shifts(power_w, 0.0, &Shifts::always())
}

/// A clear day: half a sine from 6 to 18 h, every day alike.
fn clear_hour(hour: usize, peak_w: f64) -> HourIn {
    let height = libm::sin(((hour % 24) as f64 - 5.5) / 12.0 * std::f64::consts::PI).max(0.0);
    HourIn {
        aperture_power_w: peak_w * height,
        peak_flux_w_m2: 1.8 * peak_w * height / billboard().aperture_area_m2,
        air_temperature_k: 293.15,
        wind_speed_m_s: 3.0,
    }
}

fn clear_year(inputs: &PlantInputs<'_>, peak_w: f64) -> YearTotals {
    run_year(
        inputs,
        (0..8760).map(|hour| clear_hour(hour, peak_w)),
        |_, _| {},
    )
}

/// Relative gap in the balance of one hour, given the store's content before it.
fn gap(out: &HourOut, store_before_j: f64) -> f64 {
    let spent_w = out.unavailable_w
        + out.defocused_w
        + out.idle_w
        + out.reflected_w
        + out.radiated_w
        + out.convected_w
        + out.conducted_w
        + out.start_w
        + out.pipe_loss_w
        + out.store_loss_w
        + out.dumped_w
        + out.rejected_w
        + out.own_supplied_w
        + out.delivered_w
        + (out.store_j - store_before_j) / SECONDS_PER_HOUR;
    let scale_w = out.aperture_power_w + store_before_j / SECONDS_PER_HOUR + 1.0;
    ((out.aperture_power_w - spent_w) / scale_w).abs()
}

fn weather() -> impl Strategy<Value = Vec<HourIn>> {
    let hour = (
        0.0..8e6f64,
        0.0..4.0f64,
        240.0..325.0f64,
        0.0..28.0f64,
        any::<bool>(),
    )
        .prop_map(
            |(power_w, concentration, air_temperature_k, wind_speed_m_s, is_night)| {
                let aperture_power_w = if is_night { 0.0 } else { power_w };
                HourIn {
                    aperture_power_w,
                    peak_flux_w_m2: (1.0 + concentration) * aperture_power_w
                        / billboard().aperture_area_m2,
                    air_temperature_k,
                    wind_speed_m_s,
                }
            },
        );
    prop::collection::vec(hour, HOURS)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, rng_seed: proptest::test_runner::RngSeed::Fixed(20), ..ProptestConfig::default() })]

    #[test]
    fn energy_closes_every_hour(
        hours in weather(),
        kind in 0..3usize,
        shape in 0..3usize,
        has_door in any::<bool>(),
        capacity_j in 0.0..3e11f64,
        wanted_w in 0.0..4e6f64,
        min_power_w in 0.0..1e6f64,
        rated_w in 5e5..8e6f64,
    ) {
        let process = processes()[kind];
        let demand = Demand::from_shifts(wanted_w, min_power_w.min(wanted_w), &Shifts::always());
        let mut inputs = inputs(&process, &demand, capacity_j);
        inputs.receiver.kind = [ReceiverKind::Billboard, ReceiverKind::Cylinder, cavity()][shape];
        inputs.receiver.has_door = has_door;
        inputs.receiver.rated_output_w = rated_w;
        let mut before_j = 0.0;
        let totals = run_year(&inputs, hours.iter().copied(), |_, out| {
            assert!(gap(out, before_j) < 1e-9, "{out:?}");
            assert!(out.store_j <= capacity_j * (1.0 + 1e-12) + 1e-6);
            assert!(out.delivered_w <= wanted_w * (1.0 + 1e-12) + 1e-6);
            assert!(out.receiver_out_w <= inputs.receiver.rated_output_w * (1.0 + 1e-12));
            assert!(out.own_supplied_w <= out.own_use_electric_w * (1.0 + 1e-12));
            before_j = out.store_j;
        });
        let chain = totals.loss_chain();
        let rest_j: f64 = chain[1..].iter().map(|(_, amount_j)| amount_j).sum();
        prop_assert!((rest_j - chain[0].1).abs() <= 1e-9 * chain[0].1.max(1.0));
        for (step, amount_j) in chain {
            prop_assert!(amount_j >= -1e-3, "{step}: {amount_j}");
        }
    }

    #[test]
    fn start_up_never_creates_energy(hours in weather()) {
        let (process, demand) = (process(), demand(2e6));
        let cold = inputs(&process, &demand, 0.0);
        let mut light = cold;
        light.receiver.start_energy_j_m2 = 0.0;
        let slow = run_year(&cold, hours.iter().copied(), |_, out| assert!(out.start_w >= 0.0));
        let quick = run_year(&light, hours.iter().copied(), |_, _| {});
        let heated_j = |totals: &YearTotals| totals.receiver_out_j + totals.start_j;
        prop_assert!((heated_j(&slow) - heated_j(&quick)).abs() < 1e-9 * heated_j(&quick).max(1.0));
        prop_assert!(slow.delivered_j <= quick.delivered_j);
    }

    #[test]
    fn more_light_never_delivers_less(hours in weather(), less in 0.0..1.0f64) {
        let (process, demand) = (process(), demand(2e6));
        let inputs = inputs(&process, &demand, 1e10);
        let dimmed = hours.iter().map(|hour| HourIn {
            aperture_power_w: hour.aperture_power_w * less,
            peak_flux_w_m2: hour.peak_flux_w_m2 * less,
            ..*hour
        });
        let dim = run_year(&inputs, dimmed, |_, _| {});
        let bright = run_year(&inputs, hours.iter().copied(), |_, _| {});
        prop_assert!(dim.receiver_out_j <= bright.receiver_out_j * (1.0 + 1e-9));
        prop_assert!(dim.delivered_j <= bright.delivered_j * (1.0 + 1e-9) + 1.0);
    }

    /// Holds for a process without a least load and for perfect insulation: with a least load, a larger
    /// store may use itself up for an hour that a smaller one sits out, and larger walls lose more.
    #[test]
    fn a_larger_store_never_delivers_less(hours in weather(), small_j in 0.0..2e10f64, more_j in 0.0..2e10f64) {
        let (process, demand) = (process(), demand(1.5e6));
        let insulated = |capacity_j: f64| {
            let mut inputs = inputs(&process, &demand, capacity_j);
            inputs.store.wall_w_m2_k = 0.0;
            inputs
        };
        let small = run_year(&insulated(small_j), hours.iter().copied(), |_, _| {});
        let large = run_year(&insulated(small_j + more_j), hours.iter().copied(), |_, _| {});
        prop_assert!(large.delivered_j >= small.delivered_j * (1.0 - 1e-9));
    }
}

#[test]
fn no_sun_no_heat() {
    let (process, demand) = (process(), demand(2e6));
    let totals = clear_year(&inputs(&process, &demand, 1e10), 0.0);
    assert_eq!(totals.delivered_j.to_bits(), 0.0f64.to_bits());
    assert_eq!(totals.aperture_j.to_bits(), 0.0f64.to_bits());
    assert!((totals.own_use_electric_j - 500.0 * 8760.0 * 3600.0).abs() < 1.0);
}

#[test]
fn clear_year_delivers_most_of_the_light_as_steam() {
    let (process, demand) = (process(), demand(4e6));
    let totals = clear_year(&inputs(&process, &demand, 0.0), 3.2e6);
    let share = totals.delivered_j / totals.aperture_j;
    // Orientation: α 0.95 × availability 0.97, losses 5 … 6 of some 180 kW/m² mean, pipes 1 %, each
    // morning 0.7 GJ for the receiver and, at 30 kW over a night, 0.9 GJ for the pipes of 88 GJ a day.
    assert!((0.81..0.89).contains(&share), "{share}");
    // 10 bar steam from 90 °C condensate takes 2.399 MJ/kg (steam tables, from memory).
    assert!((totals.delivered_j / totals.steam_kg / 2.399e6 - 1.0).abs() < 1e-3);
    assert!((totals.starts - 365.0).abs() < 1e-9);
}

/// Perfectly insulated pipes are warmed once, and the receiver every morning.
#[test]
fn a_night_costs_exactly_one_warming_when_it_is_long_enough() {
    let (process, demand) = (process(), demand(4e6));
    let mut inputs = inputs(&process, &demand, 0.0);
    inputs.piping.loss_fraction = 0.0;
    let totals = clear_year(&inputs, 3.2e6);
    let pipes_j = Pipe::for_loop(&process.carrier, &inputs.piping, 3e6).heat_content_j();
    let warmings = (totals.start_j - pipes_j) / inputs.receiver.start_energy_j();
    assert!((warmings - 365.0).abs() < 1e-6, "{warmings}");
}

/// Pipes that hold 1.37 GJ and lose 30 kW when warm have a time constant of 12.7 h: over some 13
/// hours at rest they lose 1 − e^(−13/12.7) of it, which is 62 % of 30 kW (worked by hand).
#[test]
fn pipes_lose_heat_through_the_night_too() {
    let (process, demand) = (process(), demand(4e6));
    let inputs = inputs(&process, &demand, 0.0);
    let resting_h = 8760.0 - clear_year(&inputs, 3.2e6).running_h;
    let mut insulated = inputs;
    insulated.piping.loss_fraction = 0.0;
    let more_j = clear_year(&inputs, 3.2e6).start_j - clear_year(&insulated, 3.2e6).start_j;
    let share = more_j / (30e3 * resting_h * SECONDS_PER_HOUR);
    assert!((0.58..0.66).contains(&share), "{share}");
}

#[test]
fn warming_takes_part_of_an_hour_not_all_of_it() {
    let (process, demand) = (process(), demand(4e6));
    let mut inputs = inputs(&process, &demand, 0.0);
    inputs.receiver.start_energy_j_m2 = 10e6;
    let mut first = HourOut::default();
    let hours = (12..13).map(|hour| clear_hour(hour, 2e6));
    run_year(&inputs, hours, |_, out| first = *out);
    let pipes_j = Pipe::for_loop(&process.carrier, &inputs.piping, 3e6).heat_content_j();
    let warming_j = inputs.receiver.start_energy_j() + pipes_j;
    assert!((first.start_w * 3600.0 - warming_j).abs() < 1e-3);
    assert!(first.delivered_w > 0.9 * (first.receiver_out_w));
}

#[test]
fn too_bright_a_spot_lets_its_share_go() {
    let (process, demand) = (process(), demand(4e6));
    let mut inputs = inputs(&process, &demand, 0.0);
    inputs.availability = 1.0;
    let bright = HourIn {
        aperture_power_w: 2e6,
        peak_flux_w_m2: 800e3,
        air_temperature_k: 293.15,
        wind_speed_m_s: 3.0,
    };
    run_year(&inputs, std::iter::once(bright), |_, out| {
        assert!((out.defocused_w - 0.25 * 2e6).abs() < 1e-6);
    });
}

#[test]
fn the_rated_output_is_kept_to_the_watt() {
    let (process, demand) = (process(), demand(9e6));
    let mut inputs = inputs(&process, &demand, 0.0);
    inputs.receiver.flux_limit_w_m2 = 2e6;
    let noon = clear_hour(12, 6e6);
    run_year(&inputs, std::iter::once(noon), |_, out| {
        assert!((out.receiver_out_w + out.start_w - 3e6).abs() < 1e-6);
        assert!(out.defocused_w > 1e6);
    });
}

#[test]
fn a_process_takes_nothing_below_its_least_load() {
    let process = process();
    let demand = Demand::from_shifts(2e6, 1e6, &Shifts::always());
    run_year(
        &inputs(&process, &demand, 0.0),
        (0..48).map(|hour| clear_hour(hour, 2.4e6)),
        |_, out| assert!(out.delivered_w.abs() < 1e-9 || out.delivered_w >= 1e6),
    );
}

#[test]
fn a_day_store_carries_heat_into_the_night() {
    let (process, demand) = (process(), demand(0.7e6));
    let none = clear_year(&inputs(&process, &demand, 0.0), 3.2e6);
    let day = clear_year(&inputs(&process, &demand, 14.0 * 3600.0 * 0.7e6), 3.2e6);
    assert!(none.dumped_j > 0.0);
    assert!(none.delivered_j < 0.5 * none.demand_j);
    assert!(
        day.delivered_j > 0.95 * day.demand_j,
        "{}",
        day.delivered_j / day.demand_j
    );
}

#[test]
fn feedwater_and_loop_pumps_take_little() {
    let (process, demand) = (process(), demand(4e6));
    let mut inputs = inputs(&process, &demand, 0.0);
    inputs.tracking_power_w = 0.0;
    inputs.standby_power_w = 0.0;
    let totals = clear_year(&inputs, 3.2e6);
    // Orientation: 4 bar through some 20 kg/s at 3 MW needs about 15 kW of electricity, 0.5 %.
    let share = totals.own_use_electric_j / totals.delivered_j;
    assert!((0.001..0.01).contains(&share), "{share}");
}

/// Electricity by way of salt: with a store for the night, a set of 0.4 MW on a receiver of 3 MW turns about
/// 34 % of the heat that reaches it into gross electricity, less starts, part load and its own use.
#[test]
fn salt_turns_heat_into_electricity_day_and_night() {
    let process = salt_power().prepare().unwrap();
    let demand = demand(0.3e6);
    let inputs = inputs(&process, &demand, 16.0 * 3600.0 * 2e6);
    let totals = clear_year(&inputs, 5.4e6);
    let gross_j = totals.delivered_j + totals.own_supplied_j;
    let efficiency = gross_j / totals.used_j;
    assert!((0.32..0.35).contains(&efficiency), "{efficiency}");
    assert!(totals.delivered_j > 0.95 * totals.demand_j);
    let own_share = totals.own_supplied_j / gross_j;
    assert!((0.06..0.12).contains(&own_share), "{own_share}");
    assert!(totals.bought_electric_j() >= 0.0);
    assert_eq!(totals.steam_kg, 0.0);
}

#[test]
fn an_empty_salt_store_is_kept_warm_by_electricity() {
    let process = salt_power().prepare().unwrap();
    let demand = demand(0.5e6);
    let mut inputs = inputs(&process, &demand, 1e11);
    let dark = clear_year(&inputs, 0.0);
    inputs.store.wall_w_m2_k = 0.0;
    let insulated = clear_year(&inputs, 0.0);
    let salt = process.carrier;
    let walls = Vessels::holding(&salt, 1e11).wall_loss(&salt, 0.35, 293.15);
    let more_j = dark.bought_electric_j() - insulated.bought_electric_j();
    assert!((more_j / (walls.empty_w * 8760.0 * 3600.0) - 1.0).abs() < 1e-9);
}

/// A door spares a cavity for hot air its warming up each morning.
#[test]
fn a_door_saves_start_up_heat() {
    let process = hot_air().prepare().unwrap();
    let demand = demand(4e6);
    let mut inputs = inputs(&process, &demand, 0.0);
    inputs.receiver.kind = cavity();
    let open = clear_year(&inputs, 3.2e6);
    inputs.receiver.has_door = true;
    let closed = clear_year(&inputs, 3.2e6);
    assert!(closed.start_j < 0.5 * open.start_j);
    assert!(closed.delivered_j > open.delivered_j);
}
