//! What moves with one mirror: loads, star and mount.

use crate::demand::Demand;
use crate::gear::row_push_per_m;
use crate::glass::GRAVITY_M_S2;
use crate::loads::{Coefficients, Exposed, Face, greatest_case, gust_share};
use crate::plate::{CENTRE_SHARE, corner_sag_slope_rad};
use crate::section::Series;
use crate::string::StringInputs;
use crate::{
    Chs, LoadCase, MirrorLoad, Panel, Rules, STEEL_DENSITY_KG_M3, STEEL_MODULUS_PA, Stock, Wind,
};

/// Share of an even load that each corner of a panel carries.
const CORNER_SHARE: f64 = (1.0 - CENTRE_SHARE) / 4.0;

/// Peak loads on one mirror in every case, and root mean square loads while tracking.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StringLoads {
    peak: [MirrorLoad; LoadCase::ALL.len()],
    /// Root mean square load while tracking.
    pub rms: MirrorLoad,
}

impl StringLoads {
    /// Loads on a face of which `exposed` tells what reaches it.
    pub fn on(wind: &Wind, face: Face, exposed: &Exposed) -> Self {
        let rms_pa = wind.rms_pressure_pa(exposed.height_m, exposed.together) * exposed.shelter;
        Self {
            peak: LoadCase::ALL.map(|case| case.mirror_load(wind, face, exposed)),
            rms: Coefficients::OPERATING_MEAN.load(rms_pa, face),
        }
    }

    /// Loads on a mirror of a string at a height, left with a tilt in stow.
    pub fn at(inputs: &StringInputs, height_m: f64, stow_tilt_rad: f64) -> Self {
        let exposed = inputs.rules.exposed(height_m, stow_tilt_rad);
        Self::on(&inputs.wind, Face::square(inputs.panel.side_m), &exposed)
    }

    /// Loads on the post under such a mirror: its drag and what the line pushes along the string, taken
    /// to act the same way, which is on the safe side.
    pub fn on_post(inputs: &StringInputs, height_m: f64) -> Self {
        let push_per_m = row_push_per_m(inputs);
        let pushed = |load: MirrorLoad| MirrorLoad {
            drag_n: load.drag_n + push_per_m * load.drive_moment_n_m(),
            ..load
        };
        let loads = Self::at(inputs, height_m, inputs.rules.stow_misfit_rad);
        Self {
            peak: loads.peak.map(pushed),
            rms: pushed(loads.rms),
        }
    }

    /// Mean loads on each of a run of mirrors at once, at their mean height and tilt.
    pub fn together(inputs: &StringInputs, mirrors: usize) -> Self {
        let share = gust_share(mirrors, inputs.pitch_m, inputs.rules.gust_width_m);
        let exposed = Exposed {
            together: share,
            ..inputs
                .rules
                .exposed(inputs.mean_height_m(), inputs.mean_stow_misfit_rad())
        };
        Self::on(&inputs.wind, Face::square(inputs.panel.side_m), &exposed)
    }

    /// Peak load in a case.
    pub const fn peak(&self, case: LoadCase) -> &MirrorLoad {
        &self.peak[case as usize]
    }
}

/// Four arms from the mount to the corners of a panel, which bend and carry it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Star<'a> {
    /// The panel.
    pub panel: &'a Panel,
    /// What holds for all.
    pub rules: &'a Rules,
}

impl Star<'_> {
    /// Length of an arm: half the panel's diagonal.
    pub const fn arm_m(&self) -> f64 {
        self.panel.side_m * std::f64::consts::FRAC_1_SQRT_2
    }

    /// Mass of the four arms.
    pub fn kg(&self, section: &Chs) -> f64 {
        4.0 * self.arm_m() * section.kg_m()
    }

    /// Sizes the arms for strength in every case and for droop.
    pub fn size(&self, loads: &StringLoads) -> Stock {
        let rules = self.rules;
        Series::Air.lightest(|section| {
            let strength = Demand::hardest_case(|case| {
                self.root_moment_n_m(loads.peak(case))
                    / section.bending_resistance_n_m(rules.steel_yield_pa)
            });
            strength.or(Demand::stiffness(
                self.droop_rad(section) / rules.star_droop_limit_rad,
            ))
        })
    }

    /// Moment at an arm's root: its share of the wind's pressure and moment with the partial factor
    /// on wind, and its share of the focusing pull.
    fn root_moment_n_m(&self, load: &MirrorLoad) -> f64 {
        let panel = self.panel;
        let wind_n = CORNER_SHARE * load.normal_pa * panel.side_m * panel.side_m
            + load.drive_moment_n_m() / (2.0 * panel.side_m);
        let pull_n = panel.focusing_force_n() / 4.0;
        (self.rules.wind_factor * wind_n + pull_n) * self.arm_m()
    }

    /// Root mean square slope that the arms' droop gives the panel between upright and level.
    pub fn droop_rad(&self, section: &Chs) -> f64 {
        let own_weight_n = section.kg_m() * GRAVITY_M_S2 * self.arm_m();
        let glass_n = self.corner_force_n(self.panel.weight_pa());
        self.slope_rad(section, glass_n + 3.0 / 8.0 * own_weight_n)
    }

    /// Root mean square slope under a pressure on the panel.
    pub fn pressure_slope_rad(&self, section: &Chs, pressure_pa: f64) -> f64 {
        self.slope_rad(section, self.corner_force_n(pressure_pa))
    }

    const fn corner_force_n(&self, pressure_pa: f64) -> f64 {
        CORNER_SHARE * pressure_pa * self.panel.side_m * self.panel.side_m
    }

    /// Slope of the panel when a force at the tip of each arm bends it, FL³/(3EI).
    fn slope_rad(&self, section: &Chs, tip_n: f64) -> f64 {
        let arm_m = self.arm_m();
        let sag_m = tip_n * arm_m * arm_m * arm_m / (3.0 * section.bending_stiffness_n_m2());
        corner_sag_slope_rad(sag_m, self.panel.side_m)
    }
}

/// Distance from a mount's crossing axes to the panel and its star; common practice, no source.
pub const MOUNT_REACH_M: f64 = 0.06;
/// Length of each of a mount's two shafts over the panel's side; common practice, no source.
const MOUNT_SHAFT_SHARE: f64 = 0.3;
/// Hub, bearings and fork over bare shafts; common practice, no source.
const MOUNT_SURPLUS: f64 = 2.0;

/// Side of a solid square shaft that carries a bending moment elastically.
pub fn shaft_side_m(moment_n_m: f64, rules: &Rules) -> f64 {
    libm::cbrt(6.0 * moment_n_m / rules.steel_yield_pa)
}

/// Depth of a lever at its root over its thickness, and its mean depth over that at its root: a flat
/// bar on edge that tapers with the moment (common practice, no source).
const LEVER_SLIMNESS: f64 = 4.0;
const LEVER_TAPER: f64 = 0.75;

/// Thickness of a flat bar on edge, four times as deep, that carries a bending moment elastically at
/// its root: W = thickness·depth²/6.
fn lever_thickness_m(moment_n_m: f64, rules: &Rules) -> f64 {
    let square = LEVER_SLIMNESS * LEVER_SLIMNESS;
    libm::cbrt(6.0 * moment_n_m / (square * rules.steel_yield_pa))
}

/// Mass of a lever over its length.
pub fn lever_kg(moment_n_m: f64, length_m: f64, rules: &Rules) -> f64 {
    let thickness_m = lever_thickness_m(moment_n_m, rules);
    let area_m2 = LEVER_TAPER * LEVER_SLIMNESS * thickness_m * thickness_m;
    STEEL_DENSITY_KG_M3 * area_m2 * length_m
}

/// Turn that a lever's bending adds under a moment, M·L/(3EI), for a lever sized for another.
pub fn lever_bend_rad(moment_n_m: f64, length_m: f64, sized_n_m: f64, rules: &Rules) -> f64 {
    let thickness_m = lever_thickness_m(sized_n_m, rules);
    let depth_m = LEVER_SLIMNESS * thickness_m;
    let inertia_m4 = thickness_m * depth_m * depth_m * depth_m / 12.0;
    moment_n_m * length_m / (3.0 * STEEL_MODULUS_PA * inertia_m4)
}

/// Mass of such a shaft over its length.
pub fn shaft_kg(moment_n_m: f64, length_m: f64, rules: &Rules) -> f64 {
    let side_m = shaft_side_m(moment_n_m, rules);
    STEEL_DENSITY_KG_M3 * side_m * side_m * length_m
}

/// Weight moment about the axes of a panel and star that stand upright, not counterweighted.
pub fn unbalance_n_m(swinging_kg: f64) -> f64 {
    swinging_kg * GRAVITY_M_S2 * MOUNT_REACH_M
}

/// Mass of one two-axis mount: two crossed shafts with hub, bearings and fork.
pub fn mount_kg(side_m: f64, rules: &Rules, loads: &StringLoads) -> f64 {
    let (_, greatest_n_m) = greatest_case(|case| {
        let load = loads.peak(case);
        load.drive_moment_n_m() + MOUNT_REACH_M * load.drag_n.max(load.lift_n)
    });
    let length_m = MOUNT_SHAFT_SHARE * side_m;
    2.0 * MOUNT_SURPLUS * shaft_kg(rules.wind_factor * greatest_n_m, length_m, rules)
}
