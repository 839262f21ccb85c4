//! The year, hour by hour: aperture → losses → start-up → pipes → store → use → fence.

use crate::hour::{HourIn, HourOut, SECONDS_PER_HOUR};
use crate::loss_table::LossTable;
use crate::pipes::Pipe;
use crate::receiver::{HotReceiver, Receiver, Surroundings};
use crate::totals::YearTotals;
use crate::turbine::{Asked, Turbine};
use crate::vessels::Vessels;
use crate::warmth::{Cooling, Debt};
use crate::{Demand, Piping, Process, Store};

/// One design's plant; case-wide parts are borrowed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PlantInputs<'case> {
    /// What carries the heat, and what for.
    pub process: &'case Process,
    /// The customer's demand, of heat or electricity.
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

impl PlantInputs<'_> {
    /// The turbine set, made for the largest demand while the plant runs at its rating; none for
    /// heat.
    pub(crate) fn turbine(&self) -> Option<Turbine> {
        let own_w = self.rated_pump_w() + self.tracking_power_w + self.standby_power_w;
        let set = self.process.turbine()?;
        Some(Turbine::for_demand(*set, self.demand.largest_w(), own_w))
    }

    /// Loop pump or blower at rated flow [W].
    pub(crate) fn rated_pump_w(&self) -> f64 {
        let rated_w = self.receiver.rated_output_w;
        self.piping.loop_pump_w(&self.process.carrier, rated_w, 1.0)
    }
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
        turning: false,
    };
    let mut totals = YearTotals::default();
    for (index, (hour, demand_w)) in hours.zip(&inputs.demand.power_w).enumerate() {
        let mut out = plant.receive(&hour, &mut state);
        plant.own_use(&mut out);
        plant.serve(*demand_w, &hour, &mut state, &mut out);
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
    /// Whether the receiver ran.
    running: bool,
    /// Whether the turbine set ran.
    turning: bool,
}

/// Inputs with all that no hour changes.
struct Plant<'a> {
    inputs: &'a PlantInputs<'a>,
    hot: HotReceiver,
    losses: LossTable,
    cooling: Cooling,
    pipe_loss_w: f64,
    least_output_w: f64,
    vessels: Vessels,
    turbine: Option<Turbine>,
}

impl<'a> Plant<'a> {
    fn new(inputs: &'a PlantInputs<'a>) -> Self {
        let receiver = &inputs.receiver;
        let carrier = &inputs.process.carrier;
        let hot = HotReceiver::new(receiver, carrier, inputs.air_pressure_pa);
        let pipe = Pipe::for_loop(carrier, &inputs.piping, receiver.rated_output_w);
        let pipe_loss_w = inputs.piping.loss_fraction * receiver.rated_output_w;
        Self {
            inputs,
            hot,
            losses: LossTable::new(&hot, hot.absorptance * receiver.flux_limit_w_m2),
            cooling: Cooling {
                receiver_j: receiver.start_energy_j(),
                receiver_time_s: cooling_time_s(receiver, &hot),
                pipes_j: pipe.heat_content_j(),
                pipes_w: pipe_loss_w,
            },
            pipe_loss_w,
            least_output_w: receiver.min_load_fraction * receiver.rated_output_w,
            vessels: Vessels::holding(carrier, inputs.store.capacity_j),
            turbine: inputs.turbine(),
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
        out.wall_temperature_k = self.hot.hottest_wall_k(net_w / self.aperture_m2());
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
        let losses = self.losses.at(absorbed_w / self.aperture_m2(), &around);
        let unlimited_w = absorbed_w - losses.sum_w_m2() * self.aperture_m2();
        let net_w = unlimited_w.min(receiver.rated_output_w);
        let accepted_w = within_flux_w - (unlimited_w - net_w) / self.hot.absorptance;
        out.defocused_w = working_w - accepted_w;
        out.reflected_w = accepted_w * (1.0 - self.hot.absorptance);
        out.radiated_w = losses.radiated_w_m2 * self.aperture_m2();
        out.convected_w = losses.convected_w_m2 * self.aperture_m2();
        out.conducted_w = losses.conducted_w_m2 * self.aperture_m2();
        net_w
    }

    const fn aperture_m2(&self) -> f64 {
        self.inputs.receiver.aperture_area_m2
    }

    /// Electricity for loop pump or blower, tracking and controls. Circulation between store and use is
    /// left out.
    fn own_use(&self, out: &mut HourOut) {
        let PlantInputs {
            process,
            piping,
            receiver,
            ..
        } = self.inputs;
        let load = out.receiver_out_w / receiver.rated_output_w;
        let loop_w = piping.loop_pump_w(&process.carrier, out.receiver_out_w, load);
        let tracking_w = if out.aperture_power_w > 0.0 {
            self.inputs.tracking_power_w
        } else {
            0.0
        };
        out.own_use_electric_w = loop_w + tracking_w + self.inputs.standby_power_w;
    }

    /// From heat in the fluid to its use and the store.
    fn serve(&self, demand_w: f64, hour: &HourIn, state: &mut State, out: &mut HourOut) {
        let store = &self.inputs.store;
        out.pipe_loss_w = self.pipe_loss_w.min(out.receiver_out_w);
        let fresh_w = out.receiver_out_w - out.pipe_loss_w;
        let stood_j = self.stand(hour, state, out);
        let there_w = fresh_w + store.can_give_w(stood_j);
        match &self.turbine {
            Some(turbine) => generate(turbine, demand_w, there_w, hour, state, out),
            None => self.give_heat(demand_w, there_w, out),
        }
        out.from_store_w = (out.used_w - fresh_w).max(0.0);
        let surplus_w = (fresh_w - out.used_w).max(0.0);
        out.to_store_w = surplus_w.min(store.can_take_w(stood_j));
        out.dumped_w = surplus_w - out.to_store_w;
        let moved_j = (out.to_store_w - out.from_store_w) * SECONDS_PER_HOUR;
        state.store_j = (stood_j + moved_j).max(0.0);
        out.store_j = state.store_j;
    }

    /// What the store still holds after an hour's standing [J]. Salt that has no heat to spare is kept
    /// from freezing by electric heaters.
    fn stand(&self, hour: &HourIn, state: &State, out: &mut HourOut) -> f64 {
        let store = &self.inputs.store;
        let carrier = &self.inputs.process.carrier;
        let air_k = hour.air_temperature_k;
        let walls = self.vessels.wall_loss(carrier, store.wall_w_m2_k, air_k);
        let stood = store.stand(state.store_j, &walls);
        if carrier.fluid == crate::Fluid::Salt {
            out.own_use_electric_w += stood.beyond_w;
        }
        out.store_loss_w = stood.lost_w;
        (state.store_j - stood.lost_w * SECONDS_PER_HOUR).max(0.0)
    }

    /// Heat straight to the customer.
    fn give_heat(&self, demand_w: f64, there_w: f64, out: &mut HourOut) {
        let could_w = demand_w.min(there_w);
        out.used_w = if could_w < self.inputs.demand.min_power_w {
            0.0
        } else {
            could_w
        };
        out.delivered_w = out.used_w;
        out.steam_kg_s = self.inputs.process.steam_kg_s(out.delivered_w);
        out.own_use_electric_w += self
            .inputs
            .piping
            .feed_pump_w(self.inputs.process, out.delivered_w);
    }
}

/// Heat through a turbine set; what the plant uses itself comes first.
fn generate(
    turbine: &Turbine,
    demand_w: f64,
    there_w: f64,
    hour: &HourIn,
    state: &mut State,
    out: &mut HourOut,
) {
    let made = turbine.run(&Asked {
        net_w: demand_w,
        own_w: out.own_use_electric_w,
        heat_w: there_w,
        air_k: hour.air_temperature_k,
        is_warm: state.turning,
    });
    state.turning = made.gross_w > 0.0;
    out.used_w = made.used_w;
    out.rejected_w = made.used_w - made.gross_w;
    out.own_use_electric_w += turbine.set.own_share * made.gross_w;
    out.own_supplied_w = out.own_use_electric_w.min(made.gross_w);
    out.delivered_w = made.gross_w - out.own_supplied_w;
}

/// Time at rest after which a receiver is cold [s]; a door never makes it shorter.
fn cooling_time_s(receiver: &Receiver, hot: &HotReceiver) -> f64 {
    if receiver.has_door {
        hot.closed_cooling_time_s(receiver)
            .max(receiver.cooling_time_s)
    } else {
        receiver.cooling_time_s
    }
}

#[cfg(test)]
mod tests;
