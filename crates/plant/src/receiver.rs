//! The receiver: what it absorbs, and what it loses when hot.

use std::f64::consts::FRAC_PI_2;

use crate::Carrier;
use crate::air::{Air, PRANDTL};
use crate::convection::{
    forced_cylinder_w_m2_k, forced_plate_w_m2_k, lip_factor, mixed_w_m2_k, natural_cavity_w_m2_k,
    natural_large_plate_w_m2_k, natural_plate_w_m2_k,
};

/// Stefan–Boltzmann constant, W/(m² K⁴) (CODATA 2018).
const STEFAN_BOLTZMANN_W_M2_K4: f64 = 5.670_374_419e-8;

/// Wind speed grows with height to this power; open country (common practice, no
/// source).
const WIND_EXPONENT: f64 = 0.15;

/// Height, m, at which weather files give the wind.
const WIND_REFERENCE_M: f64 = 10.0;

/// How much warmer than the air the insulated casing is taken to be for its film, K
/// (common practice, no source; the insulation decides).
const CASING_WARMTH_K: f64 = 20.0;

/// Temperature, K, at which the casing's film is evaluated.
const CASING_AIR_K: f64 = 293.15;

/// Radius of the tubes that roughen a cylinder, m: 25 mm tubes (common practice, no source).
const TUBE_RADIUS_M: f64 = 12.5e-3;

/// Shape of the absorbing surface.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ReceiverKind {
    /// A flat panel that fills the aperture.
    Billboard,
    /// A room lined with panels behind the aperture.
    Cavity {
        /// Inner surface ÷ aperture area, above one.
        inside_ratio: f64,
        /// Share of the inner surface that is the lower lip, 0 … 1.
        lower_lip_share: f64,
        /// Share of the inner surface above the aperture's upper edge, 0 … 1.
        above_upper_lip_share: f64,
    },
    /// An upright cylinder of panels, lit all around.
    Cylinder,
}

/// A receiver and its sizes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Receiver {
    /// Shape.
    pub kind: ReceiverKind,
    /// Surface that takes light [m²].
    pub aperture_area_m2: f64,
    /// Width of the aperture; diameter of a cylinder [m].
    pub aperture_width_m: f64,
    /// Height of the aperture along its slope [m].
    pub aperture_height_m: f64,
    /// Downward tilt of the aperture's outward normal from the horizontal, rad.
    pub tilt_rad: f64,
    /// Height of the aperture's centre above ground [m]; the wind there counts.
    pub centre_height_m: f64,
    /// Solar absorptance of the surface.
    pub absorptance: f64,
    /// Thermal emittance of the surface.
    pub emittance: f64,
    /// Largest flux that may fall on the aperture [W/m²].
    pub flux_limit_w_m2: f64,
    /// Resistance from the wall's outside to the fluid [m² K/W of wall]: tube wall and inner film.
    pub film_resistance_m2_k_w: f64,
    /// Thickness of the insulation behind the panels [m].
    pub insulation_thickness_m: f64,
    /// Conductivity of the insulation [W/(m K)].
    pub insulation_conductivity_w_m_k: f64,
    /// Heat that warms up the cold receiver and its water, per area of panel [J/m²]; pipes are
    /// counted apart.
    pub start_energy_j_m2: f64,
    /// Time without sun after which the open receiver is fully cold [s].
    pub cooling_time_s: f64,
    /// Whether a door, insulated like the rest, closes a cavity while it is at rest.
    pub has_door: bool,
    /// Largest heat flow to the fluid, W: what loop and pumps are made for.
    pub rated_output_w: f64,
    /// Lowest heat flow to the fluid at which the loop is run ÷ rated heat flow.
    pub min_load_fraction: f64,
}

impl Receiver {
    /// Area of the panels, m²: the aperture of a billboard or cylinder, the inside of a cavity.
    #[must_use]
    pub fn panel_area_m2(&self) -> f64 {
        self.aperture_area_m2 * self.panel_ratio()
    }

    /// Heat that warms up the fully cold receiver [J].
    #[must_use]
    pub fn start_energy_j(&self) -> f64 {
        self.start_energy_j_m2 * self.panel_area_m2()
    }

    fn panel_ratio(&self) -> f64 {
        match self.kind {
            ReceiverKind::Billboard | ReceiverKind::Cylinder => 1.0,
            ReceiverKind::Cavity { inside_ratio, .. } => inside_ratio,
        }
    }

    /// Surface from which air rises ÷ aperture: the inside of a cavity less what its lips hold back, the
    /// tubes of a cylinder, π/2 times as much as their lit width (Siebers & Kraabel 1984, SAND84-8717,
    /// from memory).
    fn natural_area_ratio(&self) -> f64 {
        match self.kind {
            ReceiverKind::Billboard => 1.0,
            ReceiverKind::Cylinder => FRAC_PI_2,
            ReceiverKind::Cavity {
                inside_ratio,
                lower_lip_share,
                above_upper_lip_share,
            } => {
                let below = 1.0 - above_upper_lip_share;
                inside_ratio * lip_factor(1.0, 1.0 - lower_lip_share, below)
            }
        }
    }
}

/// What surrounds the receiver in one hour.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Surroundings {
    /// Air temperature [K].
    pub air_temperature_k: f64,
    /// Wind speed 10 m above ground [m/s].
    pub wind_speed_m_s: f64,
}

/// Heat lost by the hot receiver, per area of aperture.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Losses {
    /// Radiated to sky and ground [W/m²].
    pub radiated_w_m2: f64,
    /// Carried off by the air in front [W/m²].
    pub convected_w_m2: f64,
    /// Lost through the insulation behind [W/m²].
    pub conducted_w_m2: f64,
}

impl Losses {
    /// All three together [W/m²].
    #[must_use]
    pub fn sum_w_m2(&self) -> f64 {
        self.radiated_w_m2 + self.convected_w_m2 + self.conducted_w_m2
    }
}

/// The surroundings as walls of one receiver meet them.
struct Outside {
    air: Air,
    /// Mean fourth power of the temperatures that the aperture faces, K⁴.
    facing_k4: f64,
    /// Wind at the receiver's height.
    wind_m_s: f64,
}

/// Where along the receiver its walls are looked at, and the share of it that each stands for:
/// Gauss and Legendre's three points, so that the mean of the fourth power of temperature is exact.
const PLACES: [(f64, f64); 3] = [
    (0.112_701_665_379_258_3, 5.0 / 18.0),
    (0.5, 4.0 / 9.0),
    (0.887_298_334_620_741_7, 5.0 / 18.0),
];

/// A receiver with everything worked out that no hour changes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HotReceiver {
    /// Effective solar absorptance of the aperture.
    pub absorptance: f64,
    /// Effective thermal emittance of the aperture.
    pub emittance: f64,
    kind: ReceiverKind,
    cold_k: f64,
    hot_k: f64,
    /// Wall above fluid per heat flow through the aperture, K m²/W.
    resistance_k_m2_w: f64,
    /// Area that convects ÷ aperture area, lips included.
    natural_area_ratio: f64,
    back_conductance_w_m2_k: f64,
    wind_ratio: f64,
    width_m: f64,
    sky_share: f64,
    air_pressure_pa: f64,
}

impl HotReceiver {
    /// Prepares a receiver for a carrier that is heated in it and for the site's air pressure.
    #[must_use]
    pub fn new(receiver: &Receiver, carrier: &Carrier, air_pressure_pa: f64) -> Self {
        let ratio = receiver.panel_ratio();
        let tilt_rad = match receiver.kind {
            ReceiverKind::Billboard | ReceiverKind::Cavity { .. } => receiver.tilt_rad,
            ReceiverKind::Cylinder => 0.0,
        };
        Self {
            absorptance: apparent(receiver.absorptance, 1.0 / ratio),
            emittance: apparent(receiver.emittance, 1.0 / ratio),
            kind: receiver.kind,
            cold_k: carrier.cold_k,
            hot_k: carrier.hot_k,
            resistance_k_m2_w: receiver.film_resistance_m2_k_w / ratio,
            natural_area_ratio: receiver.natural_area_ratio(),
            back_conductance_w_m2_k: ratio * back_conductance_w_m2_k(receiver, air_pressure_pa),
            wind_ratio: libm::pow(receiver.centre_height_m / WIND_REFERENCE_M, WIND_EXPONENT),
            width_m: receiver.aperture_width_m,
            sky_share: 0.5 * (1.0 - libm::sin(tilt_rad)),
            air_pressure_pa,
        }
    }

    /// Temperature of the wall where the fluid is hottest of the places looked at, when the aperture
    /// passes a net heat flow [W/m²] to the fluid [K].
    #[must_use]
    pub fn hottest_wall_k(&self, net_w_m2: f64) -> f64 {
        let (hottest, _) = PLACES[PLACES.len() - 1];
        self.fluid_k(hottest) + self.resistance_k_m2_w * net_w_m2
    }

    /// Losses when the aperture absorbs a heat flow [W/m²], per area of aperture: the mean over walls
    /// along the way of the fluid, each in balance.
    #[must_use]
    pub fn losses_at(&self, absorbed_w_m2: f64, around: &Surroundings) -> Losses {
        let outside = self.outside(around);
        let (mut mean, mut losses) = (Losses::default(), Losses::default());
        for (place, share) in PLACES {
            let fluid_k = self.fluid_k(place);
            losses = self.losses_before(fluid_k, absorbed_w_m2, &outside, losses);
            mean.radiated_w_m2 += share * losses.radiated_w_m2;
            mean.convected_w_m2 += share * losses.convected_w_m2;
            mean.conducted_w_m2 += share * losses.conducted_w_m2;
        }
        mean
    }

    /// Time in which the receiver at rest behind its door cools down, s: what it holds, given through
    /// insulation and door.
    #[must_use]
    pub fn closed_cooling_time_s(&self, receiver: &Receiver) -> f64 {
        let through_w_m2_k = self.back_conductance_w_m2_k * (1.0 + 1.0 / receiver.panel_ratio());
        let warmth_k = 0.5 * (self.cold_k + self.hot_k) - CASING_AIR_K;
        let lost_w = through_w_m2_k * receiver.aperture_area_m2 * warmth_k;
        receiver.start_energy_j() / lost_w
    }

    fn fluid_k(&self, place: f64) -> f64 {
        self.cold_k + place * (self.hot_k - self.cold_k)
    }

    /// Losses of the wall before fluid of a temperature [K] when the aperture absorbs a heat flow [W/m²]:
    /// absorbed heat less the losses at the wall's temperature goes through the wall to the fluid.
    ///
    /// Secant steps from the wall that loses what is `guessed` until a step would be less than a millionth of a kelvin;
    /// three looks at the wall suffice as a rule.
    fn losses_before(
        &self,
        fluid_k: f64,
        absorbed_w_m2: f64,
        outside: &Outside,
        guessed: Losses,
    ) -> Losses {
        const STEPS: usize = 20;
        const CLOSE_K: f64 = 1e-6;
        let wall_losing_k = |losses: &Losses| {
            fluid_k + self.resistance_k_m2_w * (absorbed_w_m2 - losses.sum_w_m2())
        };
        let mut before_k = wall_losing_k(&guessed);
        let mut losses = self.losses(before_k, outside);
        let mut wall_k = wall_losing_k(&losses);
        let mut before_excess = before_k - wall_k;
        for _ in 0..STEPS {
            losses = self.losses(wall_k, outside);
            let excess = wall_k - wall_losing_k(&losses);
            if excess.abs() < CLOSE_K {
                break;
            }
            let slope = (excess - before_excess) / (wall_k - before_k);
            (before_k, before_excess) = (wall_k, excess);
            wall_k -= excess / slope;
        }
        losses
    }

    /// Losses at a wall temperature [K], per area of aperture.
    ///
    /// Radiation goes half to the sky (less when the aperture looks down), half to ground at air
    /// temperature. Wind is taken to blow along the plane of an aperture, of a cavity as well (common
    /// practice, no source), and across a cylinder.
    fn losses(&self, wall_k: f64, outside: &Outside) -> Losses {
        let warmth_k = wall_k - outside.air.temperature_k;
        Losses {
            radiated_w_m2: radiated_w_m2(self.emittance, wall_k, outside.facing_k4),
            convected_w_m2: self.convection_w_m2_k(wall_k, outside) * warmth_k,
            conducted_w_m2: self.back_conductance_w_m2_k * warmth_k,
        }
    }

    /// What no wall changes.
    fn outside(&self, around: &Surroundings) -> Outside {
        let air_k = around.air_temperature_k;
        Outside {
            air: Air::at(air_k, self.air_pressure_pa),
            facing_k4: self.surface_facing_k4(air_k),
            wind_m_s: around.wind_speed_m_s * self.wind_ratio,
        }
    }

    fn convection_w_m2_k(&self, wall_k: f64, outside: &Outside) -> f64 {
        let &Outside { air, wind_m_s, .. } = outside;
        let natural_w_m2_k = match self.kind {
            ReceiverKind::Cavity { .. } => natural_cavity_w_m2_k(wall_k, air.temperature_k),
            ReceiverKind::Billboard | ReceiverKind::Cylinder => {
                natural_large_plate_w_m2_k(wall_k, &air)
            }
        };
        let film = Air::at(0.5 * (wall_k + air.temperature_k), self.air_pressure_pa);
        let forced_w_m2_k = match self.kind {
            ReceiverKind::Billboard | ReceiverKind::Cavity { .. } => {
                forced_plate_w_m2_k(self.width_m, wind_m_s, &film)
            }
            ReceiverKind::Cylinder => {
                forced_cylinder_w_m2_k(self.width_m, TUBE_RADIUS_M, wind_m_s, &film)
            }
        };
        mixed_w_m2_k(natural_w_m2_k * self.natural_area_ratio, forced_w_m2_k)
    }

    /// Mean fourth power of the temperatures that the aperture faces, K⁴. Clear sky after Swinbank
    /// 1963, Q. J. R. Meteorol. Soc. 89, 339: T = 0.0552 T_air^1.5 (from memory).
    fn surface_facing_k4(&self, air_k: f64) -> f64 {
        let sky_k = 0.055_2 * air_k * air_k.sqrt();
        self.sky_share * fourth_power(sky_k) + (1.0 - self.sky_share) * fourth_power(air_k)
    }
}

/// Absorptance or emittance of an opening before a larger surface:
/// α/(α + (1 − α) A_opening/A_surface), for diffuse walls of one temperature.
fn apparent(of_surface: f64, opening_ratio: f64) -> f64 {
    of_surface / (of_surface + (1.0 - of_surface) * opening_ratio)
}

/// Radiation of a surface against surroundings given as a fourth power [W/m²].
fn radiated_w_m2(emittance: f64, wall_k: f64, facing_k4: f64) -> f64 {
    emittance * STEFAN_BOLTZMANN_W_M2_K4 * (fourth_power(wall_k) - facing_k4)
}

fn fourth_power(value: f64) -> f64 {
    let square = value * value;
    square * square
}

/// Insulation and the casing's own natural convection in series [W/(m² K) of panel].
fn back_conductance_w_m2_k(receiver: &Receiver, air_pressure_pa: f64) -> f64 {
    let film = Air::at(CASING_AIR_K + 0.5 * CASING_WARMTH_K, air_pressure_pa);
    let casing_w_m2_k =
        natural_plate_w_m2_k(receiver.aperture_height_m, CASING_WARMTH_K, &film, PRANDTL);
    let insulation_m2_k_w =
        receiver.insulation_thickness_m / receiver.insulation_conductivity_w_m_k;
    1.0 / (insulation_m2_k_w + 1.0 / casing_w_m2_k)
}

#[cfg(test)]
mod tests;
