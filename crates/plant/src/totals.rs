//! Sums over the year.

use crate::hour::{HourOut, SECONDS_PER_HOUR};

/// Sums over the year, J unless the name says otherwise.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct YearTotals {
    /// Sunlight on the aperture with all mirrors working.
    pub aperture_j: f64,
    /// Lost because field or plant is out of order.
    pub unavailable_j: f64,
    /// Let go at the receiver's flux or power limit.
    pub defocused_j: f64,
    /// Let go below the receiver's least load.
    pub idle_j: f64,
    /// Reflected by the receiver.
    pub reflected_j: f64,
    /// Radiated by the receiver.
    pub radiated_j: f64,
    /// Carried off by air.
    pub convected_j: f64,
    /// Lost through the insulation.
    pub conducted_j: f64,
    /// Spent on warming up.
    pub start_j: f64,
    /// Heat that left the receiver in the fluid.
    pub receiver_out_j: f64,
    /// Lost by the pipes.
    pub pipe_loss_j: f64,
    /// Put into the store.
    pub to_store_j: f64,
    /// Taken out of the store.
    pub from_store_j: f64,
    /// Lost by the standing store.
    pub store_loss_j: f64,
    /// Neither customer nor store could take it.
    pub dumped_j: f64,
    /// Heat that went to its use.
    pub used_j: f64,
    /// Given to the surroundings by a turbine set.
    pub rejected_j: f64,
    /// Electricity of a turbine set that the plant used itself.
    pub own_supplied_j: f64,
    /// Crossed the fence: heat or electricity.
    pub delivered_j: f64,
    /// Still in the store at the end of the year.
    pub store_left_j: f64,
    /// Asked for by the customer.
    pub demand_j: f64,
    /// Delivered steam [kg].
    pub steam_kg: f64,
    /// Electricity for pumps, tracking, controls and cooling.
    pub own_use_electric_j: f64,
    /// Hours in which the receiver ran.
    pub running_h: f64,
    /// Hours in which anything was delivered.
    pub delivering_h: f64,
    /// Times the receiver went from rest to running.
    pub starts: f64,
    /// Highest wall temperature in an hour [K].
    pub hottest_wall_k: f64,
}

impl YearTotals {
    /// Where the year's sunlight went, in the order it was lost [J]; the values after the first
    /// add up to the first.
    #[must_use]
    pub fn loss_chain(&self) -> [(&'static str, f64); 16] {
        [
            ("aperture", self.aperture_j),
            ("unavailable", self.unavailable_j),
            ("defocused", self.defocused_j),
            ("idle", self.idle_j),
            ("reflected", self.reflected_j),
            ("radiated", self.radiated_j),
            ("convected", self.convected_j),
            ("conducted", self.conducted_j),
            ("start-up", self.start_j),
            ("pipes", self.pipe_loss_j),
            ("store", self.store_loss_j),
            ("left in store", self.store_left_j),
            ("dumped", self.dumped_j),
            ("rejected", self.rejected_j),
            ("own use", self.own_supplied_j),
            ("delivered", self.delivered_j),
        ]
    }

    /// Electricity that had to be bought [J].
    #[must_use]
    pub fn bought_electric_j(&self) -> f64 {
        self.own_use_electric_j - self.own_supplied_j
    }

    /// Adds one hour with its demand [W].
    pub(crate) fn add(&mut self, hour: &HourOut, demand_w: f64) {
        self.add_light(hour);
        self.add_heat(hour, demand_w);
    }

    fn add_light(&mut self, hour: &HourOut) {
        self.aperture_j += hour.aperture_power_w * SECONDS_PER_HOUR;
        self.unavailable_j += hour.unavailable_w * SECONDS_PER_HOUR;
        self.defocused_j += hour.defocused_w * SECONDS_PER_HOUR;
        self.idle_j += hour.idle_w * SECONDS_PER_HOUR;
        self.reflected_j += hour.reflected_w * SECONDS_PER_HOUR;
        self.radiated_j += hour.radiated_w * SECONDS_PER_HOUR;
        self.convected_j += hour.convected_w * SECONDS_PER_HOUR;
        self.conducted_j += hour.conducted_w * SECONDS_PER_HOUR;
        self.start_j += hour.start_w * SECONDS_PER_HOUR;
        self.receiver_out_j += hour.receiver_out_w * SECONDS_PER_HOUR;
        self.hottest_wall_k = self.hottest_wall_k.max(hour.wall_temperature_k);
        if hour.is_running() {
            self.running_h += 1.0;
        }
    }

    fn add_heat(&mut self, hour: &HourOut, demand_w: f64) {
        self.pipe_loss_j += hour.pipe_loss_w * SECONDS_PER_HOUR;
        self.to_store_j += hour.to_store_w * SECONDS_PER_HOUR;
        self.from_store_j += hour.from_store_w * SECONDS_PER_HOUR;
        self.store_loss_j += hour.store_loss_w * SECONDS_PER_HOUR;
        self.dumped_j += hour.dumped_w * SECONDS_PER_HOUR;
        self.used_j += hour.used_w * SECONDS_PER_HOUR;
        self.rejected_j += hour.rejected_w * SECONDS_PER_HOUR;
        self.own_supplied_j += hour.own_supplied_w * SECONDS_PER_HOUR;
        self.delivered_j += hour.delivered_w * SECONDS_PER_HOUR;
        self.store_left_j = hour.store_j;
        self.demand_j += demand_w * SECONDS_PER_HOUR;
        self.steam_kg += hour.steam_kg_s * SECONDS_PER_HOUR;
        self.own_use_electric_j += hour.own_use_electric_w * SECONDS_PER_HOUR;
        if hour.delivered_w > 0.0 {
            self.delivering_h += 1.0;
        }
    }
}
