//! How far the mounts turn over the year, how fast, and what their stops cost.

use drive::{Drives, Mechanism, sun_after};
use field::{FirstAxis, Linkage, Plan};
use geometry::Vec3;

use crate::case::Case;
use crate::light::even_sample;
use crate::motion::MOTION_STRINGS;

/// Over which the fastest turn is asked for [s].
const STEP_S: f64 = 900.0;

/// How far mounts turn over the year from where their mirrors were set; of strings that speak for the
/// field.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct TravelUse {
    /// Most that any mount is asked to turn about its first and second axis either way, or to bend as
    /// a ball [rad].
    pub asked_rad: [f64; 2],
    /// Where it stops [rad].
    pub stop_rad: f64,
    /// Sunny hours in a year in which a string stands at its stop, mean over strings [h].
    pub lost_h: f64,
    /// Share of the year's direct sun that comes in them.
    pub lost_share: f64,
    /// Fastest turn that the sun asks for in a quarter of an hour [rad/s].
    pub fastest_rad_s: f64,
    /// Speed of the drives, a quarter turn in the time to stow [rad/s].
    pub drive_rad_s: f64,
    /// How far the levers of strings with a bar slide [m].
    pub slide_m: f64,
}

impl TravelUse {
    pub(crate) fn of(case: &Case, plan: &Plan, drives: &Drives, mechanism: &Mechanism) -> Self {
        let sample = even_sample(plan.strings.len(), MOTION_STRINGS);
        let travel = &mechanism.travel;
        let is_ball = |string: usize| plan.strings[string].first_axis == FirstAxis::RollFree;
        let mut used = Self {
            stop_rad: if is_ball(sample[0]) {
                travel.ball_rad
            } else {
                travel.axes_rad
            },
            drive_rad_s: std::f64::consts::FRAC_PI_2 / case.scenario.structure.stow_time_s,
            slide_m: mechanism.line.lever_m * slide(case, plan, drives, &sample),
            ..Self::default()
        };
        let mut sunny = Sunny::default();
        for &string in &sample {
            let stop_rad = if is_ball(string) {
                travel.ball_rad
            } else {
                travel.axes_rad
            };
            let turns = |sun: Vec3| turns_rad(drives, plan, string, sun);
            used.watch(case, turns, stop_rad, &mut sunny);
        }
        used.lost_h /= sample.len() as f64;
        used.lost_share = sunny.lost / sunny.all.max(f64::MIN_POSITIVE);
        used
    }

    /// One string through the year.
    fn watch(
        &mut self,
        case: &Case,
        turns: impl Fn(Vec3) -> [f64; 2],
        stop_rad: f64,
        sunny: &mut Sunny,
    ) {
        let latitude_rad = case.scenario.site.latitude_rad;
        for (instants, dni_w_m2) in case.sun.instants.iter().zip(&case.weather.dni_w_m2) {
            for instant in instants {
                let beam = dni_w_m2 * instant.share;
                if beam <= 0.0 {
                    continue;
                }
                let now = turns(instant.sun);
                let later = turns(sun_after(instant.sun, latitude_rad, STEP_S));
                sunny.all += beam;
                if now.iter().any(|turn_rad| turn_rad.abs() > stop_rad) {
                    sunny.lost += beam;
                    self.lost_h += instant.lasts_h;
                }
                for axis in 0..2 {
                    self.asked_rad[axis] = self.asked_rad[axis].max(now[axis].abs());
                    let rate_rad_s = (later[axis] - now[axis]).abs() / STEP_S;
                    self.fastest_rad_s = self.fastest_rad_s.max(rate_rad_s);
                }
            }
        }
    }
}

/// Sums of the direct sun over strings and instants.
#[derive(Default)]
struct Sunny {
    all: f64,
    lost: f64,
}

/// What the sun asks of a string. A bar's tips go where they must and stand at no stop.
fn turns_rad(drives: &Drives, plan: &Plan, string: usize, sun: Vec3) -> [f64; 2] {
    if plan.strings[string].linkage == Linkage::SlidingLever {
        return [0.0, 0.0];
    }
    drives.turns_asked_rad(plan, string, sun)
}

/// How far levers slide at most, over their length.
fn slide(case: &Case, plan: &Plan, drives: &Drives, sample: &[usize]) -> f64 {
    let suns: Vec<Vec3> = case.instants.iter().map(|instant| instant.sun).collect();
    let slides = sample
        .iter()
        .filter(|&&string| plan.strings[string].linkage == Linkage::SlidingLever)
        .map(|&string| {
            let [least, most] = drives.tip_reach(plan, string, &suns);
            most - least
        });
    slides.fold(0.0, f64::max)
}
