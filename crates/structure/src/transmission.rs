//! What carries one drive's motion along a string: rail, loops, push-rods or bar, arms of the frames; and
//! the drive.

use crate::demand::{Demand, Governing};
use crate::gear::{Handing, POSTS_PER_CRANK, USUAL_TIP, bar_sag_rad, bend_rad, play_rad};
use crate::glass::GRAVITY_M_S2;
use crate::line::{Loop, Run};
use crate::loads::greatest_case;
use crate::members::{StringLoads, unbalance_n_m};
use crate::section::Series;
use crate::string::StringInputs;
use crate::{LoadCase, STEEL_MODULUS_PA, Stock};

/// Motions handed along a string, each by a loop or push-rod of its own.
pub const MOTIONS: f64 = 2.0;
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
    /// The rail along the post heads, which takes the lines' pull as a strut; none on posts of their own.
    pub rail: Option<Stock>,
    /// What hands the motion along.
    pub mover: Mover,
    /// Axial stiffness of one motion's line with the rail in series, at the levers.
    pub stiffness_n: f64,
    /// Each arm that holds a strand's end off a frame.
    pub arm: Stock,
    /// Pretension of each strand; none in rods and bars.
    pub pretension_n: f64,
    /// What all lines together pull at a frame where no rail takes it.
    pub frame_pull_n: f64,
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
    /// A tube for each of the two motions, which pushes and pulls.
    PushRods(Stock),
    /// A bar that is moved both ways.
    Bar(Stock),
}

impl Mover {
    /// Mass of strands per metre of string.
    pub fn strands_kg_m(&self) -> f64 {
        match self {
            Self::Loops(line) => MOTIONS * 2.0 * line.strand_kg_m,
            Self::PushRods(_) | Self::Bar(_) => 0.0,
        }
    }

    /// Mass of rods or bar per metre of string.
    pub fn bars_kg_m(&self) -> f64 {
        match self {
            Self::Loops(_) => 0.0,
            Self::PushRods(rod) => MOTIONS * rod.section.kg_m(),
            Self::Bar(bar) => bar.section.kg_m(),
        }
    }

    /// How hard it is used.
    pub const fn demand(&self) -> &Demand {
        match self {
            Self::Loops(line) => &line.demand,
            Self::PushRods(bar) | Self::Bar(bar) => &bar.demand,
        }
    }

    /// Axial stiffness with the rail in series, as a line at levers of the given length has it: a bar
    /// pulls at tips that stand farther from their pivots.
    fn stiffness_n(&self, rail_n: f64) -> f64 {
        match self {
            Self::Loops(line) => 1.0 / (1.0 / line.pair_n + 1.0 / rail_n),
            Self::PushRods(rod) => 1.0 / (1.0 / axial_n(rod) + 1.0 / rail_n),
            Self::Bar(bar) => USUAL_TIP * USUAL_TIP / (1.0 / axial_n(bar) + 1.0 / rail_n),
        }
    }
}

/// Axial stiffness EA.
fn axial_n(stock: &Stock) -> f64 {
    STEEL_MODULUS_PA * stock.section.area_m2()
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
        let Moving {
            mover,
            pretension_n,
            force_n,
        } = Moving::size(inputs, &run, governing);
        let pull_n = MOTIONS * force_n.max(2.0 * pretension_n);
        let rail = inputs
            .on_rail
            .then(|| size_rail(inputs, &run, pull_n, governing));
        let rail_n = rail.as_ref().map_or(f64::INFINITY, axial_n);
        let friction_n_m = BEARING_FRICTION_M * carried.all_kg * GRAVITY_M_S2;
        let string_n_m = |moment_n_m| inputs.mirrors as f64 * (moment_n_m + friction_n_m);
        let to_stow_n_m = string_n_m(moments.peak_n_m(LoadCase::DriveToStow));
        let speed_rad_s = std::f64::consts::FRAC_PI_2 / inputs.rules.stow_time_s;
        Self {
            rail,
            stiffness_n: mover.stiffness_n(rail_n),
            arm: size_arm(inputs, force_n, governing),
            pretension_n,
            frame_pull_n: frame_pull_n(inputs, pull_n),
            gear_error_rad: gear_error_rad(inputs, top, &mover, run_moments.rms_n_m),
            mover,
            torque_n_m: string_n_m(greatest_n_m),
            motor_power_w: to_stow_n_m * speed_rad_s / GEAR_EFFICIENCY,
            rms_wind_moment_n_m: on_run.rms.drive_moment_n_m(),
            rms_line_moment_n_m: run_moments.rms_n_m,
        }
    }
}

/// What hands a run's motion on, and what pulls in it.
struct Moving {
    mover: Mover,
    pretension_n: f64,
    /// Greatest force in a strand, rod or bar, without partial factor.
    force_n: f64,
}

impl Moving {
    fn size(inputs: &StringInputs, run: &Run, governing: Governing) -> Self {
        let untightened = |mover| Self {
            mover,
            pretension_n: 0.0,
            force_n: run.whole_force_n(),
        };
        match inputs.gear.handing {
            Handing::Loops(kind) => {
                let line = run.size(kind, governing);
                Self {
                    mover: Mover::Loops(line),
                    pretension_n: run.pretension_n(kind, line.strand_n),
                    force_n: run.greatest_force_n(kind, line.strand_n),
                }
            }
            Handing::PushRods { guides } => {
                untightened(Mover::PushRods(size_rod(inputs, run, guides, governing)))
            }
            Handing::Bar => untightened(Mover::Bar(size_bar(inputs, run, governing))),
        }
    }
}

/// Where no rail takes it, a frame holds what the lines of one run pull; the drive's frame what rods of
/// all runs push.
const fn frame_pull_n(inputs: &StringInputs, pull_n: f64) -> f64 {
    match (inputs.on_rail, inputs.gear.handing) {
        (true, _) => 0.0,
        (false, Handing::Loops(_)) => pull_n,
        (false, Handing::PushRods { .. } | Handing::Bar) => inputs.runs() * pull_n,
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

/// The rail between two posts: a strut under the pull of all lines with a person standing on it, and
/// stiff enough to take at most half the twist allowed.
fn size_rail(inputs: &StringInputs, run: &Run, pull_n: f64, governing: Governing) -> Stock {
    let rules = &inputs.rules;
    let pull_n = rules.wind_factor * pull_n;
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

/// A push-rod between two levers or guides, all of which hold it sideways: a strut under the run's whole
/// moment that bends by its own weight, and stiff enough to take at most half the twist allowed.
fn size_rod(inputs: &StringInputs, run: &Run, guides: u32, governed_by: Governing) -> Stock {
    let rules = &inputs.rules;
    let pull_n = rules.wind_factor * run.whole_force_n();
    let span_m = inputs.pitch_m / (f64::from(guides) + 1.0);
    Series::Air.lightest(|section| {
        let pushed = pull_n / section.buckling_resistance_n(span_m, rules.steel_yield_pa);
        let weight_n_m = GRAVITY_M_S2 * section.kg_m() * span_m * span_m / 8.0;
        let hanging = weight_n_m / section.bending_resistance_n_m(rules.steel_yield_pa);
        let twist_rad = run.far_twist_rad(STEEL_MODULUS_PA * section.area_m2());
        Demand {
            utilisation: pushed + hanging,
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
        Mover::Loops(_) | Mover::PushRods(_) => bend_rad(inputs, top, moment_n_m),
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

#[cfg(test)]
mod tests {
    use std::f64::consts::PI;

    use super::*;
    use crate::parts::tests::string;

    /// Eight levers of 0.35 m under 180 N·m each: 4114 N, with the partial factor 6171 N.
    fn run(pitch_m: f64) -> Run {
        Run {
            mirrors: 8.0,
            pitch_m,
            lever_m: 0.35,
            operating_moment_n_m: 200.0,
            greatest_moment_n_m: 1440.0,
            rms_moment_n_m: 3.0,
            wind_factor: 1.5,
            twist_limit_rad: 0.1,
            pretension_ratio: 1.1,
            warmth_k: 2.0,
        }
    }

    fn rod(pitch_m: f64, guides: u32) -> Stock {
        let inputs = StringInputs {
            pitch_m,
            ..string()
        };
        size_rod(&inputs, &run(pitch_m), guides, Governing::Stiffness)
    }

    /// A slender rod bears a little less than Euler's π²·EI/L² between levers 4 m apart, and hangs by its
    /// weight; a guide in their middle quarters what buckling asks of it.
    #[test]
    fn push_rods_buckle_as_euler_says() {
        let euler_n = |stock: &Stock, span_m: f64| {
            PI * PI * 210e9 * stock.section.inertia_m4() / (span_m * span_m)
        };
        let free = rod(4.0, 0);
        let section = free.section;
        let weight_n_m = 9.81 * section.kg_m() * 4.0 * 4.0 / 8.0;
        let hanging = weight_n_m / section.bending_resistance_n_m(235e6);
        let borne_n = 1.5 * 1440.0 / 0.35 / (free.demand.utilisation - hanging);
        let of_euler = borne_n / euler_n(&free, 4.0);
        println!("{section:?} bears {of_euler:.3} of Euler's load");
        assert!((0.75..1.0).contains(&of_euler), "{of_euler}");
        let guided = rod(4.0, 1);
        assert!(guided.section.inertia_m4() < 0.6 * section.inertia_m4());
        assert!(euler_n(&guided, 2.0) > 1.5 * 1440.0 / 0.35);
        assert!(euler_n(&guided, 4.0) < 1.5 * 1440.0 / 0.35);
    }

    /// 33.7 × 2.0 has 1.99 cm² (EN 10219-2, from memory): 41.8 MN, half of that in series with
    /// a rail as stiff. Eight levers 1.2 m apart, each loaded by 3 N·m at 0.35 m, turn the last by the pull of all
    /// spans: 3/0.35·1.2·(8 + 7 + … + 1 − 4)/41.8e6/0.35.
    #[test]
    fn push_rods_stretch_by_their_section() {
        let thin = Series::Air.lightest(|section| Demand::stiffness(0.033 / section.diameter_m));
        let mover = Mover::PushRods(thin);
        let rod_n = mover.stiffness_n(f64::INFINITY);
        assert!((rod_n / (210e9 * 1.99e-4) - 1.0).abs() < 3e-3, "{rod_n}");
        assert!((mover.stiffness_n(rod_n) / rod_n - 0.5).abs() < 1e-12);
        let by_hand_rad = 3.0 / 0.35 * 1.2 * (36.0 - 4.0) / rod_n / 0.35;
        assert!((run(1.2).far_twist_rad(rod_n) / by_hand_rad - 1.0).abs() < 1e-12);
    }
}
