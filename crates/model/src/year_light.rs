//! Light of the year, as closely as asked for, and what each hour brings of it.

use plant::HourIn;
use sky::NODES;

use crate::case::Case;
use crate::evaluate::Scratch;
use crate::fidelity::Fidelity;
use crate::light::{self, Chain, HourLight, NodeLight};
use crate::site::Sited;

const SECONDS_PER_HOUR: f64 = 3600.0;

/// Light of the year, as closely as asked for.
pub(crate) enum YearLight {
    /// At the node suns, with hours in between.
    Nodes(Box<AtNodes>),
    /// In every hour.
    Hours(Vec<HourLight>),
}

/// Light at the node suns.
pub(crate) struct AtNodes {
    light: NodeLight,
    /// Highest flux on the aperture per unit of DNI. Where strings set under one sun miss widely under others, that of an
    /// hour between node suns may be a quarter off, the year's highest 14 % too low.
    peak_suns: [f64; NODES],
}

pub(crate) fn shine(
    case: &Case,
    site: &Sited,
    fidelity: Fidelity,
    scratch: &mut Scratch,
) -> YearLight {
    let field = site.field();
    match fidelity {
        Fidelity::Search => {
            let stance = &mut scratch.stance;
            YearLight::at_nodes(light::sampled(&field, &case.sun, stance))
        }
        Fidelity::Every => YearLight::at_nodes(light::every_string(&field, &case.sun)),
        Fidelity::Hours => {
            let dni_w_m2 = &case.weather.dni_w_m2;
            YearLight::Hours(light::every_hour(&field, &case.sun, dni_w_m2))
        }
    }
}

impl YearLight {
    pub(crate) fn at_nodes(light: NodeLight) -> Self {
        Self::Nodes(Box::new(AtNodes {
            peak_suns: light.peak_suns(),
            light,
        }))
    }

    /// Year's energy after each step of the chain [J].
    pub fn chain_j(&self, case: &Case) -> Chain {
        match self {
            Self::Nodes(nodes) => nodes.light.chain_j(&case.sun),
            Self::Hours(hours) => {
                let mut chain = Chain::default();
                for (hour, dni_w_m2) in hours.iter().zip(&case.weather.dni_w_m2) {
                    for (sum, area_m2) in chain.iter_mut().zip(hour.steps_m2) {
                        *sum += area_m2 * dni_w_m2 * SECONDS_PER_HOUR;
                    }
                }
                chain
            }
        }
    }

    /// Light through the aperture in the brightest hour [W].
    pub fn brightest_w(&self, case: &Case) -> f64 {
        (0..case.weather.dni_w_m2.len())
            .map(|hour| self.power_w(case, hour))
            .fold(0.0, f64::max)
    }

    /// Light through the aperture in hour `hour` [W].
    fn power_w(&self, case: &Case, hour: usize) -> f64 {
        let dni_w_m2 = case.weather.dni_w_m2[hour];
        let area_m2 = match self {
            _ if dni_w_m2 <= 0.0 => 0.0,
            Self::Nodes(nodes) => case.sun.at_hour(hour, nodes.light.last_step_m2()),
            Self::Hours(hours) => hours[hour].last_step_m2(),
        };
        area_m2.max(0.0) * dni_w_m2
    }

    /// What hour `hour` brings to the receiver.
    pub fn hour(&self, case: &Case, hour: usize) -> HourIn {
        let dni_w_m2 = case.weather.dni_w_m2[hour];
        let peak_suns = match self {
            _ if dni_w_m2 <= 0.0 => 0.0,
            Self::Nodes(nodes) => case.sun.at_hour(hour, &nodes.peak_suns),
            Self::Hours(hours) => hours[hour].peak_suns,
        };
        HourIn {
            aperture_power_w: self.power_w(case, hour),
            peak_flux_w_m2: peak_suns.max(0.0) * dni_w_m2,
            air_temperature_k: case.weather.air_temperature_k[hour],
            wind_speed_m_s: case.weather.wind_speed_m_s[hour],
        }
    }
}
