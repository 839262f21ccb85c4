//! What hinges, sets and moves each mirror: mount, clamps, post head, levers, and the cranks and
//! sleeves of sliding levers.
//!
//! Sizes follow the moments at the mirror; factors between parts are common practice, no source.

use crate::line::LineKind;
use crate::loads::greatest_case;
use crate::members::{StringLoads, lever_bend_rad, lever_kg, mount_kg, shaft_side_m};
use crate::string::StringInputs;
use crate::{STEEL_DENSITY_KG_M3, STEEL_MODULUS_PA};

/// What a mount turns on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Joint {
    /// Two crossed shafts.
    Axes,
    /// A constant-velocity joint, with a key that keeps its ball from rolling.
    Ball,
}

/// What is adjusted when a mirror is set on its target.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Setting {
    /// Shims between mount and panel.
    Shim,
    /// The clamps of both levers.
    Lever,
    /// A head on the post that tilts both ways.
    Post,
}

/// What hands the motion along a string.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Handing {
    /// A loop of two strands for each motion, on double-ended levers.
    Loops(LineKind),
    /// A tube for each motion that pushes and pulls single levers.
    PushRods {
        /// Swinging guides that hold each rod sideways between two levers.
        guides: u32,
    },
    /// A stiff bar on cranks that moves the tips of sliding levers.
    Bar,
}

/// How the mirrors of a string are hinged, set and moved.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Gear {
    /// What a mount turns on.
    pub joint: Joint,
    /// What is adjusted.
    pub setting: Setting,
    /// What hands the motion on.
    pub handing: Handing,
}

impl Gear {
    /// Crossed shafts, shims, loops of rod.
    pub const CUSTOMARY: Self = Self {
        joint: Joint::Axes,
        setting: Setting::Shim,
        handing: Handing::Loops(LineKind::Rod),
    };
}

/// Distance from pivot to tip of a sliding lever over the length of the cranks, 2·cosθ, at its longest.
const LONGEST_TIP: f64 = 2.0;
/// The same at a usual angle of incidence θ of 40°.
pub const USUAL_TIP: f64 = 1.5;
/// A crank carries the bar at every third post.
pub const POSTS_PER_CRANK: f64 = 3.0;

/// Levers and bell-crank of two crossed axes: double-ended levers for both, and a third for the
/// bell-crank that the axis lying along the row needs.
const LEVERS_AND_CRANK: f64 = 3.0;
/// A ball is turned by one stick that is pulled both ways (√2), and one bell-crank.
const STICK_AND_CRANK: f64 = 2.4;

/// Mass of a constant-velocity joint over that of a mount with two crossed shafts.
const BALL_OVER_SHAFTS: f64 = 1.25;
/// Mass of a tilting head over that of a mount: it carries the same moments on one more pair of
/// bearings.
const HEAD_OVER_MOUNT: f64 = 0.5;
/// Diameter and length of a split clamp over the side of the shaft that it holds.
const CLAMP_DIAMETER: f64 = 2.5;
const CLAMP_LENGTH: f64 = 1.5;
/// Clamps of both levers; sleeve, tip and key of a sliding lever; root and head of a crank; forks with
/// pins that tie both push-rods to their levers; root and head of a guide for each of them.
const LEVER_CLAMPS: f64 = 2.0;
const ROD_CLAMPS: f64 = 2.0;
const GUIDE_CLAMPS: f64 = 4.0;
const SLIDING_CLAMPS: f64 = 3.0;
const CRANK_CLAMPS: f64 = 4.0;

/// Clearance of a sleeve and a tip that slide or turn on pins of about 20 mm, of a pin of about 12 mm in
/// its fork, both half worn, and of a cage with balls; from memory of usual running fits.
const SLEEVE_CLEARANCE_M: f64 = 0.15e-3;
const PIN_CLEARANCE_M: f64 = 0.10e-3;
const CAGE_CLEARANCE_M: f64 = 0.05e-3;

/// Mass of one mirror's mount with its joint, clamps, head and sleeve, and its share of the cranks'
/// joints: what is cast and machined.
pub fn castings_kg(inputs: &StringInputs, loads: &StringLoads) -> f64 {
    let gear = &inputs.gear;
    let clamp_kg = clamp_kg(lever_side_m(inputs, loads));
    let joint = match gear.joint {
        Joint::Axes => 1.0,
        Joint::Ball => BALL_OVER_SHAFTS,
    };
    let mount_kg = joint * mount_kg(inputs.panel.side_m, &inputs.rules, loads);
    let key_kg = match gear.joint {
        Joint::Axes => 0.0,
        Joint::Ball => clamp_kg,
    };
    let setting_kg = match gear.setting {
        Setting::Shim => 0.0,
        Setting::Lever => LEVER_CLAMPS * clamp_kg,
        Setting::Post => HEAD_OVER_MOUNT * mount_kg,
    };
    mount_kg + key_kg + setting_kg + handing_joints(gear) * clamp_kg
}

/// Joints of one mirror that hand motion on, each as heavy as a clamp.
const fn handing_joints(gear: &Gear) -> f64 {
    match gear.handing {
        Handing::Loops(_) => 0.0,
        Handing::PushRods { guides } => ROD_CLAMPS + guides as f64 * GUIDE_CLAMPS,
        Handing::Bar => SLIDING_CLAMPS + CRANK_CLAMPS / POSTS_PER_CRANK,
    }
}

/// Mass of one mirror's levers with bell-crank, each arm for the whole moment, as it must hold once
/// the other strand is slack; one arm where a rod pushes and pulls; or of its sliding lever with its
/// share of the cranks.
pub fn levers_kg(inputs: &StringInputs, loads: &StringLoads) -> f64 {
    let kg = |length_m| lever_kg(lever_moment_n_m(inputs, loads), length_m, &inputs.rules);
    let levers = match inputs.gear.joint {
        Joint::Axes => LEVERS_AND_CRANK,
        Joint::Ball => STICK_AND_CRANK,
    };
    match inputs.gear.handing {
        Handing::Loops(_) => levers * kg(2.0 * inputs.lever_m),
        Handing::PushRods { .. } => levers * kg(inputs.lever_m),
        Handing::Bar => kg((LONGEST_TIP + 1.0 / POSTS_PER_CRANK) * inputs.lever_m),
    }
}

/// Joints of one mirror that have to be fitted beyond those of crossed shafts with shims and levers.
pub const fn more_joints(gear: &Gear) -> f64 {
    let ball = match gear.joint {
        Joint::Axes => 0.0,
        Joint::Ball => 1.0,
    };
    let setting = match gear.setting {
        Setting::Shim => 0.0,
        Setting::Lever => LEVER_CLAMPS,
        Setting::Post => 1.0,
    };
    ball + setting + handing_joints(gear)
}

/// Mass of what wears at one mirror: the pins of push-rods, or the sleeve, tip and key of a sliding lever.
pub fn wearing_kg(inputs: &StringInputs, loads: &StringLoads) -> f64 {
    let clamps = match inputs.gear.handing {
        Handing::Loops(_) => 0.0,
        Handing::PushRods { .. } => ROD_CLAMPS,
        Handing::Bar => SLIDING_CLAMPS,
    };
    clamps * clamp_kg(lever_side_m(inputs, loads))
}

/// Length that a fork adds to each post: its second tine, as deep as the tip of a sliding lever
/// reaches.
pub const fn fork_m(inputs: &StringInputs) -> f64 {
    match inputs.gear.handing {
        Handing::Loops(_) | Handing::PushRods { .. } => 0.0,
        Handing::Bar => LONGEST_TIP * inputs.lever_m,
    }
}

/// Root mean square turn of a mirror that clearances of joint and linkage allow in each direction.
pub fn play_rad(inputs: &StringInputs) -> f64 {
    let cage_m = match inputs.gear.joint {
        Joint::Axes => 0.0,
        Joint::Ball => CAGE_CLEARANCE_M,
    };
    let clearance_m = match inputs.gear.handing {
        Handing::Loops(_) => cage_m,
        Handing::PushRods { .. } => libm::hypot(PIN_CLEARANCE_M, cage_m),
        Handing::Bar => SLEEVE_CLEARANCE_M / USUAL_TIP,
    };
    clearance_m / inputs.lever_m
}

/// Push along the string that a post's head takes for each newton metre of its mirror's moment where no
/// rail takes it; what one strand of a loop pulls more the other pulls less.
pub const fn row_push_per_m(inputs: &StringInputs) -> f64 {
    if inputs.on_rail {
        return 0.0;
    }
    match inputs.gear.handing {
        Handing::Loops(_) => 0.0,
        Handing::PushRods { .. } => 1.0 / inputs.lever_m,
        Handing::Bar => 1.0 / (USUAL_TIP * inputs.lever_m),
    }
}

/// Turn of a mirror that its lever's bending adds under a moment.
pub fn bend_rad(inputs: &StringInputs, loads: &StringLoads, moment_n_m: f64) -> f64 {
    let sized_n_m = lever_moment_n_m(inputs, loads);
    lever_bend_rad(moment_n_m, inputs.lever_m, sized_n_m, &inputs.rules)
}

/// Turn of a mirror when the bar sags between two cranks under an even load: 5·q·L⁴/(384·EI) over the
/// usual reach of a tip.
pub fn bar_sag_rad(inputs: &StringInputs, inertia_m4: f64, moment_n_m: f64) -> f64 {
    let reach_m = USUAL_TIP * inputs.lever_m;
    let load_n_m = moment_n_m / (reach_m * inputs.pitch_m);
    let span_m = POSTS_PER_CRANK * inputs.pitch_m;
    let sag_m = 5.0 * load_n_m * libm::pow(span_m, 4.0) / (384.0 * STEEL_MODULUS_PA * inertia_m4);
    sag_m / reach_m
}

fn lever_moment_n_m(inputs: &StringInputs, loads: &StringLoads) -> f64 {
    let (_, moment_n_m) = greatest_case(|case| loads.peak(case).drive_moment_n_m());
    inputs.rules.wind_factor * moment_n_m
}

fn lever_side_m(inputs: &StringInputs, loads: &StringLoads) -> f64 {
    shaft_side_m(lever_moment_n_m(inputs, loads), &inputs.rules)
}

/// A split hub around a shaft.
fn clamp_kg(shaft_side_m: f64) -> f64 {
    let ring = std::f64::consts::FRAC_PI_4 * CLAMP_DIAMETER * CLAMP_DIAMETER - 1.0;
    STEEL_DENSITY_KG_M3 * ring * CLAMP_LENGTH * shaft_side_m * shaft_side_m * shaft_side_m
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A shaft of 15 mm: a hub of 37.5 mm, 22.5 mm long, less the shaft, (π/4·37.5² − 15²) mm² ×
    /// 22.5 mm × 7850 kg/m³ = 0.155 kg.
    #[test]
    fn a_clamp_weighs_a_hub_less_its_shaft() {
        assert!((clamp_kg(0.015) - 0.155).abs() < 0.001);
    }
}
