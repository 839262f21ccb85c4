//! One hour: what it brings and what becomes of it.

/// Seconds in an hour, the step of the year.
pub(crate) const SECONDS_PER_HOUR: f64 = 3600.0;

/// What one hour brings.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HourIn {
    /// Mean power of sunlight on the aperture with all mirrors working [W].
    pub aperture_power_w: f64,
    /// Flux at the brightest point of the aperture [W/m²].
    pub peak_flux_w_m2: f64,
    /// Air temperature [K].
    pub air_temperature_k: f64,
    /// Wind speed 10 m above ground [m/s].
    pub wind_speed_m_s: f64,
}

/// What became of one hour's sunlight; mean powers in W.
///
/// `aperture_power_w` + `from_store_w` = all that follows up to `delivered_w`, except
/// `receiver_out_w`, which is what is left after `start_w`, and `used_w`, which is `rejected_w` +
/// `own_supplied_w` + `delivered_w`.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct HourOut {
    /// Sunlight that would fall on the aperture with all mirrors working.
    pub aperture_power_w: f64,
    /// Lost because field or plant is out of order.
    pub unavailable_w: f64,
    /// Let go because the receiver's flux or power limit is reached.
    pub defocused_w: f64,
    /// Let go because the receiver would run below its least load.
    pub idle_w: f64,
    /// Reflected by the receiver.
    pub reflected_w: f64,
    /// Radiated by the receiver.
    pub radiated_w: f64,
    /// Carried off by air.
    pub convected_w: f64,
    /// Lost through the insulation.
    pub conducted_w: f64,
    /// Spent on warming receiver and pipes up after a rest.
    pub start_w: f64,
    /// Heat that leaves the receiver in the fluid.
    pub receiver_out_w: f64,
    /// Lost by the pipes.
    pub pipe_loss_w: f64,
    /// Put into the store.
    pub to_store_w: f64,
    /// Taken out of the store.
    pub from_store_w: f64,
    /// Lost by the standing store, out of its content.
    pub store_loss_w: f64,
    /// Heat that neither customer nor store can take.
    pub dumped_w: f64,
    /// Heat that goes to its use: the customer's, or a turbine set.
    pub used_w: f64,
    /// Given to the surroundings by a turbine set and its condenser.
    pub rejected_w: f64,
    /// Electricity of a turbine set that the plant uses itself.
    pub own_supplied_w: f64,
    /// Crosses the fence: heat, or electricity of a turbine set.
    pub delivered_w: f64,
    /// Content of the store at the end of the hour [J].
    pub store_j: f64,
    /// Delivered steam [kg/s].
    pub steam_kg_s: f64,
    /// Electric power for pumps, tracking, controls and cooling, wherever it comes from.
    pub own_use_electric_w: f64,
    /// Hottest wall looked at of the running receiver [K]; zero when it is at rest.
    pub wall_temperature_k: f64,
}

impl HourOut {
    /// Whether the receiver ran.
    #[must_use]
    pub fn is_running(&self) -> bool {
        self.wall_temperature_k > 0.0
    }
}
