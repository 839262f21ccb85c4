//! Losses of one receiver on a small grid of absorbed flux, air temperature and wind.
//!
//! Losses are smooth in all three, so that a year costs a few hundred wall temperatures instead of
//! thousands. Beyond its edges the table holds the edge value.

use crate::receiver::{HotReceiver, Losses, Surroundings};

const FLUX_NODES: usize = 4;
const AIR_NODES: usize = 3;
const WIND_NODES: usize = 17;

const AIR_LOW_K: f64 = 253.15;
const AIR_STEP_K: f64 = 36.0;
const WIND_STEP_M_S: f64 = 1.0;

/// Losses against absorbed flux, air temperature (−20 … 52 °C) and wind (0 … 16 m/s; beyond, mirrors
/// are stowed).
#[derive(Debug, Clone, PartialEq)]
pub struct LossTable {
    flux_step_w_m2: f64,
    losses: [[[Losses; FLUX_NODES]; WIND_NODES]; AIR_NODES],
}

impl LossTable {
    /// Fills the table up to the largest absorbed flux [W/m² of aperture].
    #[must_use]
    pub fn new(receiver: &HotReceiver, largest_absorbed_w_m2: f64) -> Self {
        let flux_step_w_m2 = largest_absorbed_w_m2 / (FLUX_NODES - 1) as f64;
        let mut losses = [[[Losses::default(); FLUX_NODES]; WIND_NODES]; AIR_NODES];
        for (air, block) in losses.iter_mut().enumerate() {
            for (wind, row) in block.iter_mut().enumerate() {
                let around = Surroundings {
                    air_temperature_k: AIR_LOW_K + AIR_STEP_K * air as f64,
                    wind_speed_m_s: WIND_STEP_M_S * wind as f64,
                };
                for (flux, node) in row.iter_mut().enumerate() {
                    let absorbed_w_m2 = flux_step_w_m2 * flux as f64;
                    *node = receiver.losses_at(absorbed_w_m2, &around);
                }
            }
        }
        Self {
            flux_step_w_m2,
            losses,
        }
    }

    /// Losses at an absorbed flux [W/m² of aperture].
    #[must_use]
    pub fn at(&self, absorbed_w_m2: f64, around: &Surroundings) -> Losses {
        let (air, air_share) = cell(
            (around.air_temperature_k - AIR_LOW_K) / AIR_STEP_K,
            AIR_NODES,
        );
        let (wind, wind_share) = cell(around.wind_speed_m_s / WIND_STEP_M_S, WIND_NODES);
        let (flux, flux_share) = cell(absorbed_w_m2 / self.flux_step_w_m2, FLUX_NODES);
        let along_flux = |air: usize, wind: usize| {
            let row = &self.losses[air][wind];
            blend(&row[flux], &row[flux + 1], flux_share)
        };
        let along_wind = |air: usize| {
            blend(
                &along_flux(air, wind),
                &along_flux(air, wind + 1),
                wind_share,
            )
        };
        blend(&along_wind(air), &along_wind(air + 1), air_share)
    }
}

/// Lower node and share of the upper one for a position in steps, held at the edges.
fn cell(position: f64, nodes: usize) -> (usize, f64) {
    let last = nodes - 2;
    let held = position.clamp(0.0, (nodes - 1) as f64);
    let lower = (held as usize).min(last);
    (lower, held - lower as f64)
}

fn blend(low: &Losses, high: &Losses, share: f64) -> Losses {
    let mix = |a: f64, b: f64| a + share * (b - a);
    Losses {
        radiated_w_m2: mix(low.radiated_w_m2, high.radiated_w_m2),
        convected_w_m2: mix(low.convected_w_m2, high.convected_w_m2),
        conducted_w_m2: mix(low.conducted_w_m2, high.conducted_w_m2),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::samples::{at_temperature, billboard, cavity};
    use crate::{Receiver, ReceiverKind};

    /// Largest error of the table ÷ losses, over points that avoid its nodes.
    fn worst_error(kind: ReceiverKind, fluid_k: f64) -> f64 {
        let prepared = HotReceiver::new(
            &Receiver {
                kind,
                ..billboard()
            },
            &at_temperature(fluid_k),
            95e3,
        );
        let table = LossTable::new(&prepared, 570e3);
        let mut worst = 0.0f64;
        for air in 0..9 {
            for wind in 0..46 {
                for flux in 0..8 {
                    let around = Surroundings {
                        air_temperature_k: 254.0 + 8.7 * f64::from(air),
                        wind_speed_m_s: 0.17 + 0.34 * f64::from(wind),
                    };
                    let absorbed_w_m2 = 12e3 + 77e3 * f64::from(flux);
                    let exact_w_m2 = prepared.losses_at(absorbed_w_m2, &around).sum_w_m2();
                    let table_w_m2 = table.at(absorbed_w_m2, &around).sum_w_m2();
                    worst = worst.max((table_w_m2 / exact_w_m2 - 1.0).abs());
                }
            }
        }
        worst
    }

    /// Losses are some 2 … 20 % of the light, so that these bounds mean less than 0.1 % of it. The
    /// largest errors are at the wind with which the flow along the panel turns turbulent, and
    /// with which a cylinder's roughness begins to count.
    #[test]
    fn table_agrees_with_the_wall_balance() {
        for (kind, fluid_k, bound) in [
            (ReceiverKind::Billboard, 480.0, 0.025),
            (ReceiverKind::Billboard, 1000.0, 0.006),
            (cavity(), 480.0, 0.002),
            (cavity(), 1000.0, 0.0005),
            (ReceiverKind::Cylinder, 480.0, 0.04),
            (ReceiverKind::Cylinder, 1000.0, 0.012),
        ] {
            let worst = worst_error(kind, fluid_k);
            assert!(worst < bound, "{kind:?} at {fluid_k} K: {worst}");
        }
    }

    #[test]
    fn edges_hold_their_value() {
        let prepared = HotReceiver::new(&billboard(), &at_temperature(480.0), 95e3);
        let table = LossTable::new(&prepared, 570e3);
        let storm = Surroundings {
            air_temperature_k: 200.0,
            wind_speed_m_s: 60.0,
        };
        let edge = Surroundings {
            air_temperature_k: AIR_LOW_K,
            wind_speed_m_s: WIND_STEP_M_S * (WIND_NODES - 1) as f64,
        };
        assert_eq!(table.at(900e3, &storm), table.at(570e3, &edge));
    }
}
