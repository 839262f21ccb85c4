//! What one evaluation gives: fixed-width numbers, no prices.

use ledger::{Item, Quantities};
use optics::STEPS;

use crate::light::Chain;
use crate::margins::{MARGINS, Margins};

/// Everything that pricing, tables and charts need of one design, without prices.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Summary {
    /// What has to be bought, once and every year.
    pub quantities: Quantities,
    /// Year's energy after each step of the loss chain, from sun on the glass to light through the
    /// aperture [J].
    pub chain_j: Chain,
    /// Heat that leaves the receiver in the year [J].
    pub receiver_out_j: f64,
    /// Light let go at the receiver's limits in the year [J].
    pub defocused_j: f64,
    /// Heat that nobody could take in the year [J].
    pub dumped_j: f64,
    /// Heat that went to its use in the year [J].
    pub used_j: f64,
    /// Heat that a turbine set gave to the surroundings in the year [J].
    pub rejected_j: f64,
    /// Heat or electricity across the fence in the year [J].
    pub delivered_j: f64,
    /// Heat or electricity wanted in the year [J].
    pub demand_j: f64,
    /// Steam delivered in the year [kg].
    pub steam_kg: f64,
    /// Electricity used by the plant in the year [J].
    pub own_use_j: f64,
    /// Electricity bought for that in the year [J].
    pub bought_j: f64,
    /// Highest flux on the aperture in the year [W/m²].
    pub peak_flux_w_m2: f64,
    /// Beam error of the shared drive, rms over mirrors and over the year's sun while drives follow it [rad].
    pub residual_rad: f64,
    /// The same for the best common turn of all mirrors of a string under each of these suns [rad].
    pub bound_rad: f64,
    /// Glass area [m²].
    pub mirror_area_m2: f64,
    /// Land under the field [m²].
    pub land_m2: f64,
    /// Steel in strings, tower, receiver and plant [kg].
    pub steel_kg: f64,
    /// Glass [kg].
    pub glass_kg: f64,
    /// Concrete [m³].
    pub concrete_m3: f64,
    /// How far the design keeps from each limit; a negative margin breaks it.
    pub margins: Margins,
}

/// Numbers after quantities and chain.
const SINGLES: usize = 18;

impl Summary {
    /// How many numbers a summary is.
    pub const WIDTH: usize = Item::COUNT + STEPS + SINGLES + MARGINS;

    /// The summary as plain numbers, always [`Summary::WIDTH`] of them in the same order.
    #[must_use]
    pub fn to_numbers(&self) -> Vec<f64> {
        let mut numbers = Vec::with_capacity(Self::WIDTH);
        numbers.extend(self.quantities.amount);
        numbers.extend(self.chain_j);
        numbers.extend([
            self.receiver_out_j,
            self.defocused_j,
            self.dumped_j,
            self.used_j,
            self.rejected_j,
            self.delivered_j,
            self.demand_j,
            self.steam_kg,
            self.own_use_j,
            self.bought_j,
            self.peak_flux_w_m2,
            self.residual_rad,
            self.bound_rad,
            self.mirror_area_m2,
            self.land_m2,
            self.steel_kg,
            self.glass_kg,
            self.concrete_m3,
        ]);
        numbers.extend(self.margins.values());
        numbers
    }

    /// The summary that [`Summary::to_numbers`] took apart; `None` if the count is another.
    #[must_use]
    pub fn from_numbers(numbers: &[f64]) -> Option<Self> {
        let (amount, rest) = numbers.split_first_chunk::<{ Item::COUNT }>()?;
        let (chain_j, rest) = rest.split_first_chunk::<STEPS>()?;
        let (singles, rest) = rest.split_first_chunk::<SINGLES>()?;
        let margins: &[f64; MARGINS] = rest.try_into().ok()?;
        let [
            receiver_out_j,
            defocused_j,
            dumped_j,
            used_j,
            rejected_j,
            delivered_j,
            demand_j,
            steam_kg,
            own_use_j,
            bought_j,
            peak_flux_w_m2,
            residual_rad,
            bound_rad,
            mirror_area_m2,
            land_m2,
            steel_kg,
            glass_kg,
            concrete_m3,
        ] = *singles;
        Some(Self {
            quantities: Quantities { amount: *amount },
            chain_j: *chain_j,
            receiver_out_j,
            defocused_j,
            dumped_j,
            used_j,
            rejected_j,
            delivered_j,
            demand_j,
            steam_kg,
            own_use_j,
            bought_j,
            peak_flux_w_m2,
            residual_rad,
            bound_rad,
            mirror_area_m2,
            land_m2,
            steel_kg,
            glass_kg,
            concrete_m3,
            margins: Margins::from_values(*margins),
        })
    }

    /// Ratio of each step of the loss chain to the one before: cosine, shading, blocking,
    /// reflectance, attenuation, intercept.
    #[must_use]
    pub fn factors(&self) -> [f64; STEPS - 1] {
        std::array::from_fn(|step| self.chain_j[step + 1] / self.chain_j[step])
    }

    /// Light through the aperture ÷ sun on the glass.
    #[must_use]
    pub fn optical_efficiency(&self) -> f64 {
        self.chain_j[STEPS - 1] / self.chain_j[0]
    }

    /// Heat or electricity across the fence ÷ sun on the glass.
    #[must_use]
    pub fn delivered_share(&self) -> f64 {
        self.delivered_j / self.chain_j[0]
    }

    /// Share of the year's demand that the field serves.
    #[must_use]
    pub fn served_share(&self) -> f64 {
        if self.demand_j > 0.0 {
            self.delivered_j / self.demand_j
        } else {
            0.0
        }
    }
}
