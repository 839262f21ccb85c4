//! The year, hour by hour: aperture → losses → start-up → pipes → store → customer.

use crate::hour::{HourIn, HourOut, SECONDS_PER_HOUR};
use crate::loss_table::LossTable;
use crate::receiver::{HotReceiver, Receiver, Surroundings};
use crate::size::Pipe;
use crate::totals::YearTotals;
use crate::warmth::{Cooling, Debt};
use crate::{Demand, Process, Store};

/// The loop between receiver and steam generator.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Piping {
    /// Height of the riser up the tower [m].
    pub riser_height_m: f64,
    /// Distance on the ground between tower and steam generator [m].
    pub ground_run_m: f64,
    /// Pressure drop around the loop at rated flow [Pa].
    pub rated_pressure_drop_pa: f64,
    /// Heat lost by warm pipes ÷ rated heat flow of the receiver. At rest pipes lose it too, less as
    /// they cool, and it is made good when the loop starts again.
    pub loss_fraction: f64,
    /// Pump and motor efficiency, 0 … 1, of loop and feedwater pumps.
    pub pump_efficiency: f64,
}

impl Piping {
    /// Electric power that pumps a heat flow [W] around the loop at the rated pressure drop [W].
    pub(crate) fn loop_pump_w(&self, process: &Process, heat_w: f64) -> f64 {
        let flow_m3_s = heat_w / process.loop_gain_j_kg / process.loop_cold_density_kg_m3;
        self.rated_pressure_drop_pa * flow_m3_s / self.pump_efficiency
    }

    /// Electric power that feeds the steam generator for a heat flow [W], in W.
    pub(crate) fn feed_pump_w(&self, process: &Process, heat_w: f64) -> f64 {
        process.steam_kg_s(heat_w) * process.feed_pressure_rise_pa
            / (process.condensate_density_kg_m3 * self.pump_efficiency)
    }
}

/// One design's plant; case-wide parts are borrowed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PlantInputs<'case> {
    /// The heat process.
    pub process: &'case Process,
    /// The customer's demand.
    pub demand: &'case Demand,
    /// The receiver.
    pub receiver: Receiver,
    /// The heat store.
    pub store: Store,
    /// The loop.
    pub piping: Piping,
    /// Share of the sunlight that finds field and plant in working order, 0 … 1.
    pub availability: f64,
    /// Air pressure at the site [Pa].
    pub air_pressure_pa: f64,
    /// Electric power that moves the mirrors while the sun is on the aperture [W].
    pub tracking_power_w: f64,
    /// Electric power of controls at all hours [W].
    pub standby_power_w: f64,
}

/// Runs the plant through the hours of the year, cold and with an empty store at the start.
///
/// `hours` gives one entry for each hour of the demand (the year ends with the shorter of the two);
/// `each` sees every hour as it is done. Within an hour all powers are constant, so that an hour in
/// which the sun rises pays its share of start-up and delivers the rest.
pub fn run_year(
    inputs: &PlantInputs<'_>,
    hours: impl Iterator<Item = HourIn>,
    mut each: impl FnMut(usize, &HourOut),
) -> YearTotals {
    let plant = Plant::new(inputs);
    let mut state = State {
        debt: plant.cooling.all_cold(),
        store_j: 0.0,
        running: false,
    };
    let mut totals = YearTotals::default();
    for (index, (hour, demand_w)) in hours.zip(&inputs.demand.power_w).enumerate() {
        let mut out = plant.receive(&hour, &mut state);
        plant.serve(*demand_w, &mut state, &mut out);
        plant.own_use(&mut out);
        if out.is_running() && !state.running {
            totals.starts += 1.0;
        }
        state.running = out.is_running();
        totals.add(&out, *demand_w);
        each(index, &out);
    }
    totals
}

/// What one hour hands to the next.
struct State {
    /// Heat still missing until receiver and pipes are warm.
    debt: Debt,
    store_j: f64,
    running: bool,
}

/// Inputs with all that no hour changes.
struct Plant<'a> {
    inputs: &'a PlantInputs<'a>,
    hot: HotReceiver,
    losses: LossTable,
    aperture_m2: f64,
    cooling: Cooling,
    pipe_loss_w: f64,
    least_output_w: f64,
}

impl<'a> Plant<'a> {
    fn new(inputs: &'a PlantInputs<'a>) -> Self {
        let receiver = &inputs.receiver;
        let fluid_k = inputs.process.receiver_fluid_temperature_k();
        let hot = HotReceiver::new(receiver, fluid_k, inputs.air_pressure_pa);
        let pipe = Pipe::for_loop(inputs.process, &inputs.piping, receiver.rated_output_w);
        let pipe_loss_w = inputs.piping.loss_fraction * receiver.rated_output_w;
        Self {
            inputs,
            hot,
            losses: LossTable::new(&hot, hot.absorptance * receiver.flux_limit_w_m2),
            aperture_m2: receiver.aperture_area_m2(),
            cooling: Cooling {
                receiver_j: receiver.start_energy_j(),
                receiver_time_s: receiver.cooling_time_s,
                pipes_j: pipe.heat_content_j(inputs.process),
                pipes_w: pipe_loss_w,
            },
            pipe_loss_w,
            least_output_w: receiver.min_load_fraction * receiver.rated_output_w,
        }
    }

    /// From sunlight on the aperture to heat in the fluid.
    fn receive(&self, hour: &HourIn, state: &mut State) -> HourOut {
        let working_w = hour.aperture_power_w * self.inputs.availability;
        let running = if working_w > 0.0 {
            self.run_receiver(working_w, hour, state)
        } else {
            None
        };
        let mut out = running.unwrap_or_else(|| {
            state.debt = self.cooling.rest(state.debt);
            HourOut {
                idle_w: working_w,
                ..HourOut::default()
            }
        });
        out.aperture_power_w = hour.aperture_power_w;
        out.unavailable_w = hour.aperture_power_w - working_w;
        out
    }

    /// The receiver's hour, or nothing if it can't reach its least load.
    fn run_receiver(&self, working_w: f64, hour: &HourIn, state: &mut State) -> Option<HourOut> {
        let mut out = HourOut::default();
        let net_w = self.heat(working_w, hour, &mut out);
        if net_w <= 0.0 || net_w < self.least_output_w {
            return None;
        }
        out.start_w = state.debt.pay_w(net_w);
        out.receiver_out_w = net_w - out.start_w;
        out.wall_temperature_k = self.hot.wall_at_net_k(net_w / self.aperture_m2);
        Some(out)
    }

    /// Heat flow left in the fluid by the sunlight accepted within the flux and power limits, W;
    /// fills in the losses of the hot receiver.
    fn heat(&self, working_w: f64, hour: &HourIn, out: &mut HourOut) -> f64 {
        let receiver = &self.inputs.receiver;
        let within_flux_w = working_w * (receiver.flux_limit_w_m2 / hour.peak_flux_w_m2).min(1.0);
        let absorbed_w = within_flux_w * self.hot.absorptance;
        let around = Surroundings {
            air_temperature_k: hour.air_temperature_k,
            wind_speed_m_s: hour.wind_speed_m_s,
        };
        let losses = self.losses.at(absorbed_w / self.aperture_m2, &around);
        let unlimited_w = absorbed_w - losses.sum_w_m2() * self.aperture_m2;
        let net_w = unlimited_w.min(receiver.rated_output_w);
        let accepted_w = within_flux_w - (unlimited_w - net_w) / self.hot.absorptance;
        out.defocused_w = working_w - accepted_w;
        out.reflected_w = accepted_w * (1.0 - self.hot.absorptance);
        out.radiated_w = losses.radiated_w_m2 * self.aperture_m2;
        out.convected_w = losses.convected_w_m2 * self.aperture_m2;
        out.conducted_w = losses.conducted_w_m2 * self.aperture_m2;
        net_w
    }

    /// From heat in the fluid to the customer and the store.
    fn serve(&self, demand_w: f64, state: &mut State, out: &mut HourOut) {
        let store = &self.inputs.store;
        out.pipe_loss_w = self.pipe_loss_w.min(out.receiver_out_w);
        let fresh_w = out.receiver_out_w - out.pipe_loss_w;
        out.store_loss_w = store.standing_loss_w(state.store_j);
        let stood_j = state.store_j - out.store_loss_w * SECONDS_PER_HOUR;
        let could_w = demand_w.min(fresh_w + store.can_give_w(stood_j));
        out.delivered_w = if could_w < self.inputs.demand.min_power_w {
            0.0
        } else {
            could_w
        };
        out.from_store_w = (out.delivered_w - fresh_w).max(0.0);
        let surplus_w = (fresh_w - out.delivered_w).max(0.0);
        out.to_store_w = surplus_w.min(store.can_take_w(stood_j));
        out.dumped_w = surplus_w - out.to_store_w;
        let moved_j = (out.to_store_w - out.from_store_w) * SECONDS_PER_HOUR;
        state.store_j = (stood_j + moved_j).max(0.0);
        out.store_j = state.store_j;
    }

    /// Electricity for loop pump (pressure drop with the square of the flow), feedwater pump,
    /// tracking and controls. Circulation between store and steam generator is left out.
    fn own_use(&self, out: &mut HourOut) {
        let PlantInputs {
            process,
            piping,
            receiver,
            ..
        } = self.inputs;
        out.steam_kg_s = process.steam_kg_s(out.delivered_w);
        let load = out.receiver_out_w / receiver.rated_output_w;
        let loop_w = load * load * piping.loop_pump_w(process, out.receiver_out_w);
        let feed_w = piping.feed_pump_w(process, out.delivered_w);
        let tracking_w = if out.aperture_power_w > 0.0 {
            self.inputs.tracking_power_w
        } else {
            0.0
        };
        out.own_use_electric_w = loop_w + feed_w + tracking_w + self.inputs.standby_power_w;
    }
}

#[cfg(test)]
mod tests;
