//! What carries one drive's motion along a string: rail, loops or bar, arms of the frames; and the
//! drive.

use crate::demand::{Demand, Governing};
use crate::gear::{Handing, POSTS_PER_CRANK, USUAL_TIP, bar_sag_rad, bend_rad, play_rad};
use crate::glass::GRAVITY_M_S2;
use crate::line::{Loop, Run};
use crate::loads::greatest_case;
use crate::members::{StringLoads, unbalance_n_m};
use crate::section::Series;
use crate::string::StringInputs;
use crate::{LoadCase, STEEL_MODULUS_PA, Stock};

/// Loops along a string: one for each motion.
pub const LOOPS: f64 = 2.0;
/// A person standing on the rail between two posts, with the partial factor on live load (EN 1990,
/// from memory).
const PERSON_N: f64 = 1.5 * 1000.0;
/// Friction in a mount's bearings times their radius; from memory.
const BEARING_FRICTION_M: f64 = 0.15 * 0.015;
/// Efficiency of a self-locking worm gear (40–65 % in general, below 50 % when it locks; from memory).
pub const GEAR_EFFICIENCY: f64 = 0.45;

/// Rail, loops, arms and drive of a string.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Transmission {
    /// The rail along the post heads, which takes the loops' pull as a strut.
    pub rail: Stock,
    /// What hands the motion along.
    pub mover: Mover,
    /// Axial stiffness of one motion's line with the rail in series, at the levers.
    pub stiffness_n: f64,
    /// Each arm that holds a strand's end off a frame.
    pub arm: Stock,
    /// Pretension of each strand; none in a bar.
    pub pretension_n: f64,
    /// Turn of each mirror, root mean square in each direction, that play and give of the gear add.
    pub gear_error_rad: f64,
    /// Torque that each of the two drives must hold.
    pub torque_n_m: f64,
    /// Power of each drive on the way to stow.
    pub motor_power_w: f64,
    /// Root mean square wind moment about one mirror's hinge while tracking.
    pub rms_wind_moment_n_m: f64,
    /// The same with the wandering of the weight moment: what stretches the lines.
    pub rms_line_moment_n_m: f64,
}

/// What hands the motion along a string.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Mover {
    /// A loop for each of the two motions.
    Loops(Loop),
    /// A bar that is moved both ways.
    Bar(Stock),
}

impl Mover {
    /// Mass of strands per metre of string.
    pub fn strands_kg_m(&self) -> f64 {
        match self {
            Self::Loops(line) => LOOPS * 2.0 * line.strand_kg_m,
            Self::Bar(_) => 0.0,
        }
    }

    /// Mass of a bar per metre of string.
    pub fn bar_kg_m(&self) -> f64 {
        match self {
            Self::Loops(_) => 0.0,
            Self::Bar(bar) => bar.section.kg_m(),
        }
    }

    /// Axial stiffness of one strand; none of a bar, which is not tightened.
    const fn strand_n(&self) -> f64 {
        match self {
            Self::Loops(line) => line.strand_n,
            Self::Bar(_) => 0.0,
        }
    }

    /// How hard it is used.
    pub const fn demand(&self) -> &Demand {
        match self {
            Self::Loops(line) => &line.demand,
            Self::Bar(bar) => &bar.demand,
        }
    }

    /// Axial stiffness with the rail in series, as a line at levers of the given length has it: a bar
    /// pulls at tips that stand farther from their pivots.
    fn stiffness_n(&self, rail_n: f64) -> f64 {
        match self {
            Self::Loops(line) => 1.0 / (1.0 / line.pair_n + 1.0 / rail_n),
            Self::Bar(bar) => {
                let bar_n = STEEL_MODULUS_PA * bar.section.area_m2();
                USUAL_TIP * USUAL_TIP / (1.0 / bar_n + 1.0 / rail_n)
            }
        }
    }
}

/// Mass that a mount carries.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Carried {
    /// Panel, star, mount and levers.
    pub all_kg: f64,
    /// What swings off the axes: panel and star.
    pub swinging_kg: f64,
}

impl Transmission {
    /// Sizes for the loads at the string's mean height; levers are sized for those on `top`.
    pub fn size(inputs: &StringInputs, top: &StringLoads, carried: Carried) -> Self {
        let loads = StringLoads::together(inputs, inputs.mirrors);
        let moments = Moments::of(inputs, &loads, carried);
        let (_, greatest_n_m) = moments.greatest();
        let on_run = StringLoads::together(inputs, inputs.mirrors_on_run());
        let run_moments = Moments::of(inputs, &on_run, carried);
        let governing = Governing::Strength(run_moments.greatest().0);
        let run = run(inputs, &run_moments);
        let (mover, pretension_n) = match inputs.gear.handing {
            Handing::Loops => {
                let line = run.size(governing);
                (Mover::Loops(line), run.pretension_n(line.strand_n))
            }
            Handing::Bar => (Mover::Bar(size_bar(inputs, &run, governing)), 0.0),
        };
        let force_n = run.greatest_force_n(mover.strand_n());
        let rail = size_rail(inputs, &run, force_n.max(2.0 * pretension_n), governing);
        let rail_n = STEEL_MODULUS_PA * rail.section.area_m2();
        let friction_n_m = BEARING_FRICTION_M * carried.all_kg * GRAVITY_M_S2;
        let string_n_m = |moment_n_m| inputs.mirrors as f64 * (moment_n_m + friction_n_m);
        let to_stow_n_m = string_n_m(moments.peak_n_m(LoadCase::DriveToStow));
        let speed_rad_s = std::f64::consts::FRAC_PI_2 / inputs.rules.stow_time_s;
        Self {
            rail,
            stiffness_n: mover.stiffness_n(rail_n),
            arm: size_arm(inputs, force_n, governing),
            pretension_n,
            gear_error_rad: gear_error_rad(inputs, top, &mover, run_moments.rms_n_m),
            mover,
            torque_n_m: string_n_m(greatest_n_m),
            motor_power_w: to_stow_n_m * speed_rad_s / GEAR_EFFICIENCY,
            rms_wind_moment_n_m: on_run.rms.drive_moment_n_m(),
            rms_line_moment_n_m: run_moments.rms_n_m,
        }
    }
}

/// How far the weight moment strays from its value when the mirrors were aligned, as a share of the
/// upright moment; our estimate, no source.
const UNBALANCE_SWING: f64 = 0.3;

/// Mean moments on each of a run of mirrors that a drive or line holds at once: wind and weight.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Moments {
    peak_n_m: [f64; LoadCase::ALL.len()],
    rms_n_m: f64,
}

impl Moments {
    fn of(inputs: &StringInputs, loads: &StringLoads, carried: Carried) -> Self {
        let upright_n_m = unbalance_n_m(carried.swinging_kg);
        let peak_n_m = LoadCase::ALL.map(|case| {
            let lever = match case {
                LoadCase::Operate | LoadCase::DriveToStow => 1.0,
                LoadCase::Survive => libm::sin(inputs.mean_stow_misfit_rad()),
            };
            loads.peak(case).drive_moment_n_m() + lever * upright_n_m
        });
        let wandering_n_m = UNBALANCE_SWING * upright_n_m;
        Self {
            peak_n_m,
            rms_n_m: libm::hypot(loads.rms.drive_moment_n_m(), wandering_n_m),
        }
    }

    const fn peak_n_m(&self, case: LoadCase) -> f64 {
        self.peak_n_m[case as usize]
    }

    fn greatest(&self) -> (LoadCase, f64) {
        greatest_case(|case| self.peak_n_m(case))
    }
}

fn run(inputs: &StringInputs, moments: &Moments) -> Run {
    let mirrors = inputs.mirrors as f64 / inputs.runs();
    Run {
        kind: inputs.rules.line,
        mirrors,
        pitch_m: inputs.pitch_m,
        lever_m: inputs.lever_m,
        operating_moment_n_m: mirrors * moments.peak_n_m(LoadCase::Operate),
        greatest_moment_n_m: mirrors * moments.greatest().1,
        rms_moment_n_m: moments.rms_n_m,
        wind_factor: inputs.rules.wind_factor,
        twist_limit_rad: inputs.rules.twist_limit_rad,
        pretension_ratio: inputs.rules.pretension_ratio,
        warmth_k: inputs.rules.strand_warmth_k,
    }
}

/// The rail between two posts: a strut under the pull of all loops (`loop_n` each) with a person
/// standing on it, and stiff enough to take at most half the twist allowed.
fn size_rail(inputs: &StringInputs, run: &Run, loop_n: f64, governing: Governing) -> Stock {
    let rules = &inputs.rules;
    let pull_n = rules.wind_factor * LOOPS * loop_n;
    let person_n_m = PERSON_N * inputs.pitch_m / 4.0;
    Series::Air.lightest(|section| {
        let yield_pa = rules.steel_yield_pa;
        let pulled = pull_n / section.buckling_resistance_n(inputs.pitch_m, yield_pa);
        let stood_on = person_n_m / section.bending_resistance_n_m(yield_pa);
        let governed_by = if stood_on > pulled {
            Governing::Person
        } else {
            governing
        };
        let twist_rad = run.far_twist_rad(STEEL_MODULUS_PA * section.area_m2());
        Demand {
            utilisation: pulled + stood_on,
            governed_by,
        }
        .or(Demand::stiffness(twist_rad / (0.5 * rules.twist_limit_rad)))
    })
}

/// Force in a bar over what its mirrors' moments come to: cranks that stand slanting to it lock
/// together; common practice, no source.
const BAR_SURPLUS: f64 = 2.0;

/// The bar between two cranks: a strut under the mirrors' pull, stiff enough to take at most half the
/// twist allowed, lengthwise and by its sag together.
fn size_bar(inputs: &StringInputs, run: &Run, governed_by: Governing) -> Stock {
    let rules = &inputs.rules;
    let pull_n =
        BAR_SURPLUS * rules.wind_factor * run.greatest_moment_n_m / (USUAL_TIP * inputs.lever_m);
    let span_m = POSTS_PER_CRANK * inputs.pitch_m;
    Series::Air.lightest(|section| {
        let tip_n = USUAL_TIP * USUAL_TIP * STEEL_MODULUS_PA * section.area_m2();
        let sag_rad = bar_sag_rad(inputs, section.inertia_m4(), run.rms_moment_n_m);
        let twist_rad = libm::hypot(run.far_twist_rad(tip_n), sag_rad);
        Demand {
            utilisation: pull_n / section.buckling_resistance_n(span_m, rules.steel_yield_pa),
            governed_by,
        }
        .or(Demand::stiffness(twist_rad / (0.5 * rules.twist_limit_rad)))
    })
}

/// Play, and the bend of levers or the sag of a bar.
fn gear_error_rad(inputs: &StringInputs, top: &StringLoads, mover: &Mover, moment_n_m: f64) -> f64 {
    let bend_rad = match mover {
        Mover::Loops(_) => bend_rad(inputs, top, moment_n_m),
        Mover::Bar(bar) => bar_sag_rad(inputs, bar.section.inertia_m4(), moment_n_m),
    };
    libm::hypot(play_rad(inputs), bend_rad)
}

fn size_arm(inputs: &StringInputs, strand_force_n: f64, governed_by: Governing) -> Stock {
    let rules = &inputs.rules;
    let moment_n_m = rules.wind_factor * strand_force_n * inputs.lever_m;
    Series::Air.lightest(|section| Demand {
        utilisation: moment_n_m / section.bending_resistance_n_m(rules.steel_yield_pa),
        governed_by,
    })
}
