//! What a pedestal stands on: its own driven end, or a drilled pier of concrete.

use std::f64::consts::PI;

use super::PedestalInputs;
use crate::members::StringLoads;
use crate::posts::depth_m;
use crate::{Chs, Footing};

/// Diameters of augers, m; common practice, no source.
const AUGERS_M: [f64; 9] = [0.25, 0.3, 0.4, 0.5, 0.6, 0.75, 0.9, 1.2, 1.5];
/// Clearance around a pedestal in its hole over its diameter, and height of the pier above ground;
/// common practice, no source.
const HOLE_OVER_PEDESTAL: f64 = 1.3;
const ABOVE_GROUND_M: f64 = 0.15;
/// Length of the pedestal in its pier over its diameter; bars carry on (common practice, no source).
const INSIDE_OVER_PEDESTAL: f64 = 4.0;
/// Reinforcement, kg/m³; common practice, no source.
const BARS_KG_M3: f64 = 60.0;
/// Deepest a pier is drilled over its diameter, and deepest a pedestal is driven; common practice, no
/// source.
const SLENDEREST_PIER: f64 = 8.0;
const DEEPEST_DRIVEN_M: f64 = 4.0;

/// A foundation that has been sized.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pier {
    /// Length in the ground.
    pub depth_m: f64,
    /// Of concrete; none for a driven pedestal.
    pub diameter_m: Option<f64>,
    /// Concrete.
    pub concrete_m3: f64,
    /// Reinforcement.
    pub bars_kg: f64,
    /// Length of the pedestal in it.
    pub pedestal_inside_m: f64,
    /// Root mean square turn of the head that the ground allows.
    pub turn_rad: f64,
    /// Depth over the deepest.
    pub utilisation: f64,
}

impl Pier {
    /// The pedestal's driven end, or the pier with the least concrete of those not too slender.
    pub fn under(
        inputs: &PedestalInputs,
        loads: &StringLoads,
        section: &Chs,
        carried_kg: f64,
    ) -> Self {
        let rules = &inputs.rules;
        let top_m = inputs.axis_height_m();
        let depth_m = |width_m: f64| depth_m(rules, loads, width_m, top_m, carried_kg);
        let arm_m = loads.rms.overturning_n_m(top_m) / loads.rms.drag_n;
        let turn_rad = |depth_m: f64| rules.ground.turn_rad(depth_m, loads.rms.drag_n, arm_m);
        let narrowest_m = match rules.footing {
            Footing::Driven => {
                let depth_m = depth_m(section.diameter_m);
                return Self {
                    depth_m,
                    diameter_m: None,
                    concrete_m3: 0.0,
                    bars_kg: 0.0,
                    pedestal_inside_m: depth_m,
                    turn_rad: turn_rad(depth_m),
                    utilisation: depth_m / DEEPEST_DRIVEN_M,
                };
            }
            Footing::Augered { hole_diameter_m } => {
                hole_diameter_m.max(HOLE_OVER_PEDESTAL * section.diameter_m)
            }
        };
        let drilled = |diameter_m: f64| {
            let depth_m = depth_m(diameter_m);
            let concrete_m3 = PI / 4.0 * diameter_m * diameter_m * (depth_m + ABOVE_GROUND_M);
            Self {
                depth_m,
                diameter_m: Some(diameter_m),
                concrete_m3,
                bars_kg: BARS_KG_M3 * concrete_m3,
                pedestal_inside_m: INSIDE_OVER_PEDESTAL * section.diameter_m,
                turn_rad: turn_rad(depth_m),
                utilisation: depth_m / (SLENDEREST_PIER * diameter_m),
            }
        };
        let widest = drilled(AUGERS_M[AUGERS_M.len() - 1].max(narrowest_m));
        AUGERS_M
            .into_iter()
            .filter(|diameter_m| *diameter_m >= narrowest_m)
            .map(drilled)
            .filter(|pier| pier.utilisation <= 1.0)
            .fold(widest, |least, next| {
                if next.concrete_m3 < least.concrete_m3 {
                    next
                } else {
                    least
                }
            })
    }
}
