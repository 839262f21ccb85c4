//! One string, sized: its masses, the slope errors it leaves, and its margins.

mod cut_list;

use crate::demand::Demand;
use crate::gear::{castings_kg, fork_m, levers_kg, more_joints, wearing_kg};
use crate::members::{Star, StringLoads};
use crate::posts::Posts;
use crate::section::Series;
use crate::string::StringInputs;
use crate::transmission::{Carried, MOTIONS, Mover, Transmission};
use crate::{Check, Chs, Governing, LoadCase, Margins, Stock, StructureError};

pub use cut_list::{TubeUse, Tubes, cut_list, tubes};

/// Masses of a string by part.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Masses {
    /// Glass.
    pub glass_kg: f64,
    /// Stars behind the panels.
    pub stars_kg: f64,
    /// Mounts with joints, clamps and heads.
    pub mounts_kg: f64,
    /// Levers and bell-cranks.
    pub levers_kg: f64,
    /// Strands of both loops.
    pub lines_kg: f64,
    /// Posts with forks, above and below ground.
    pub posts_kg: f64,
    /// Rail.
    pub rail_kg: f64,
    /// Push-rods, or the bar of sliding levers.
    pub bars_kg: f64,
    /// Frames, above and below ground, and arms that hold the lines.
    pub frames_kg: f64,
}

impl Masses {
    /// Fabricated steel sections.
    #[must_use]
    pub const fn sections_kg(&self) -> f64 {
        self.stars_kg
            + self.levers_kg
            + self.posts_kg
            + self.rail_kg
            + self.bars_kg
            + self.frames_kg
    }

    /// Everything.
    #[must_use]
    pub const fn total_kg(&self) -> f64 {
        self.glass_kg + self.mounts_kg + self.lines_kg + self.sections_kg()
    }
}

/// Root mean square slope errors that the structure leaves, both axes together where not said
/// otherwise (divide by √2 for one axis).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SlopeErrors {
    /// Sag of the glass between its supports, lying level.
    pub gravity_rad: f64,
    /// Droop of the star's arms between upright and level.
    pub star_droop_rad: f64,
    /// Glass and star under root mean square wind.
    pub wind_rad: f64,
    /// Turn of the post heads under root mean square wind, in the wind's direction.
    pub sway_rad: f64,
}

impl SlopeErrors {
    /// Root of the sum of squares.
    #[must_use]
    pub fn together_rad(&self) -> f64 {
        let parts = [
            self.gravity_rad,
            self.star_droop_rad,
            self.wind_rad,
            self.sway_rad,
        ];
        parts.iter().map(|part| part * part).sum::<f64>().sqrt()
    }
}

/// The sizes taken from stock and what sets each.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sizes {
    /// Arms of the stars.
    pub star: Stock,
    /// Posts of the class used hardest.
    pub post: Stock,
    /// Rail, if there is one.
    pub rail: Option<Stock>,
    /// Strands of the loops, push-rods, or the bar.
    pub mover: Mover,
    /// Arms that hold the lines off the rail.
    pub frame_arm: Stock,
}

/// A string that has been sized.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StringParts {
    /// Masses by part.
    pub masses: Masses,
    /// Mirror area.
    pub glass_area_m2: f64,
    /// Length of panel edges.
    pub glass_edge_m: f64,
    /// Posts and frame legs in the ground.
    pub posts: usize,
    /// Embedded length of all posts and frame legs.
    pub embedded_m: f64,
    /// Concrete around them.
    pub concrete_m3: f64,
    /// Torque that each of the two drives must hold.
    pub drive_torque_n_m: f64,
    /// Power of each of the two drives on the way to stow.
    pub motor_power_w: f64,
    /// Axial stiffness EA of one loop with the rail in series.
    pub line_axial_stiffness_n: f64,
    /// Pretension of each strand.
    pub line_pretension_n: f64,
    /// Joints to be fitted beyond those of crossed shafts with shims and levers.
    pub more_joints: f64,
    /// Mass of what wears while it hands motion on: strands, or the sleeves of sliding levers.
    pub wearing_kg: f64,
    /// Turn of each mirror, root mean square in each direction, that play and give of joints and
    /// linkage add.
    pub gear_error_rad: f64,
    /// Root mean square wind moment about one mirror's hinge while tracking.
    pub rms_wind_moment_n_m: f64,
    /// The same with the wandering of the panel's weight moment: what stretches the lines.
    pub rms_line_moment_n_m: f64,
    /// Slope errors the structure leaves.
    pub slope: SlopeErrors,
    /// How far every check is from its limit.
    pub margins: Margins,
    /// Sizes taken from stock.
    pub sizes: Sizes,
}

/// Sizes all parts of a string.
///
/// # Errors
/// [`StructureError`] when an input is not a finite number above zero. A part that stock cannot
/// carry is not an error but a margin below zero.
pub fn size_string(inputs: &StringInputs) -> Result<StringParts, StructureError> {
    inputs.check()?;
    Ok(SizedString::of(inputs).parts())
}

/// How a string stands in the ground.
pub struct SetPosts {
    /// Its posts.
    pub posts: Posts,
    /// Legs of the frames.
    pub leg: Stock,
    /// Embedded length of the frames' legs.
    pub leg_depth_m: f64,
    /// Mass that each post carries.
    pub carried_kg: f64,
}

/// The posts of a string and its frame.
pub fn set_posts(inputs: &StringInputs) -> SetPosts {
    let sized = SizedString::of(inputs);
    SetPosts {
        posts: sized.posts,
        leg: sized.leg(),
        leg_depth_m: sized.leg_depth_m(),
        carried_kg: sized.carried_kg,
    }
}

/// Everything that was sized, before it is summed up.
struct SizedString<'a> {
    inputs: &'a StringInputs,
    top_loads: StringLoads,
    star: Stock,
    mount_kg: f64,
    levers_kg: f64,
    carried_kg: f64,
    posts: Posts,
    transmission: Transmission,
}

/// Legs of a frame, and their length over the height: they stand astride; common practice, no source.
/// Where lines only end, arms on the last post hold them off the rail, which takes their pull as a
/// strut, so that nothing is left for the ground; without a rail a frame holds them there.
const FRAME_LEGS: usize = 2;
const LEG_SLANT: f64 = 1.1;
/// Arms for each loop where a line ends.
const ARMS_PER_LOOP: f64 = 2.0;

impl<'a> SizedString<'a> {
    fn of(inputs: &'a StringInputs) -> Self {
        let worst_rad = inputs.rules.stow_misfit_rad;
        let top_loads = StringLoads::at(inputs, inputs.top_height_m(), worst_rad);
        let star = star_of(inputs).size(&top_loads);
        let mount_kg = castings_kg(inputs, &top_loads);
        let levers_kg = levers_kg(inputs, &top_loads);
        let star_kg = star_of(inputs).kg(&star.section);
        let swinging_kg = inputs.panel.kg() + star_kg;
        let carried = Carried {
            all_kg: swinging_kg + mount_kg + levers_kg,
            swinging_kg,
        };
        Self {
            inputs,
            top_loads,
            star,
            mount_kg,
            levers_kg,
            carried_kg: carried.all_kg,
            posts: Posts::size(inputs, carried.all_kg),
            transmission: Transmission::size(inputs, &top_loads, carried),
        }
    }

    fn parts(&self) -> StringParts {
        let (count, side_m) = (self.inputs.mirrors as f64, self.inputs.panel.side_m);
        let embedded_m = self.posts.embedded_m() + self.legs() as f64 * self.leg_depth_m();
        StringParts {
            masses: self.masses(),
            glass_area_m2: count * side_m * side_m,
            glass_edge_m: count * 4.0 * side_m,
            posts: self.inputs.mirrors + self.legs(),
            embedded_m,
            concrete_m3: embedded_m * self.inputs.rules.footing.concrete_m2(),
            drive_torque_n_m: self.transmission.torque_n_m,
            motor_power_w: self.transmission.motor_power_w,
            line_axial_stiffness_n: self.transmission.stiffness_n,
            line_pretension_n: self.transmission.pretension_n,
            more_joints: count * more_joints(&self.inputs.gear),
            wearing_kg: self.strands_kg() + count * wearing_kg(self.inputs, &self.top_loads),
            gear_error_rad: self.transmission.gear_error_rad,
            rms_wind_moment_n_m: self.transmission.rms_wind_moment_n_m,
            rms_line_moment_n_m: self.transmission.rms_line_moment_n_m,
            slope: self.slope(),
            margins: self.margins(),
            sizes: self.sizes(),
        }
    }

    fn legs(&self) -> usize {
        FRAME_LEGS * self.inputs.frames()
    }

    /// What the legs of a frame hold as a couple, up and down: the drive's torque, and the lines' pull at
    /// the height of the mirrors where no rail takes it.
    fn couple_n(&self) -> f64 {
        let height_m = self.inputs.mean_height_m();
        let astride_m = 2.0 * (LEG_SLANT * LEG_SLANT - 1.0).sqrt() * height_m;
        let moment_n_m = self.transmission.torque_n_m + self.transmission.frame_pull_n * height_m;
        self.inputs.rules.wind_factor * moment_n_m / astride_m
    }

    /// Legs of the frames: struts at least as heavy as the tallest posts.
    fn leg(&self) -> Stock {
        let (rules, tallest) = (&self.inputs.rules, &self.posts.tallest.stock);
        let length_m = LEG_SLANT * self.inputs.mean_height_m();
        let pushed_n = LEG_SLANT * self.couple_n();
        let pushed = |section: &Chs| Demand {
            utilisation: pushed_n / section.buckling_resistance_n(length_m, rules.steel_yield_pa),
            governed_by: Governing::Lines,
        };
        if pushed(&tallest.section).utilisation <= 1.0 {
            return Stock {
                section: tallest.section,
                demand: Demand {
                    governed_by: tallest.demand.governed_by,
                    ..pushed(&tallest.section)
                },
            };
        }
        Series::Ground.lightest(pushed)
    }

    /// Embedded length of the frames' legs.
    fn leg_depth_m(&self) -> f64 {
        let (rules, tallest) = (&self.inputs.rules, &self.posts.tallest);
        let width_m = rules.footing.width_m(self.leg().section.diameter_m);
        rules
            .ground
            .holding_depth_m(width_m, self.couple_n())
            .max(tallest.depth_m)
    }

    fn masses(&self) -> Masses {
        let count = self.inputs.mirrors as f64;
        let length_m = count * self.inputs.pitch_m;
        let transmission = &self.transmission;
        Masses {
            glass_kg: count * self.inputs.panel.kg(),
            stars_kg: count * star_of(self.inputs).kg(&self.star.section),
            mounts_kg: count * self.mount_kg,
            levers_kg: count * self.levers_kg,
            lines_kg: self.strands_kg(),
            posts_kg: self.posts.kg() + self.forks_kg(),
            rail_kg: transmission
                .rail
                .map_or(0.0, |rail| length_m * rail.section.kg_m()),
            bars_kg: length_m * transmission.mover.bars_kg_m(),
            frames_kg: self.frames_kg(),
        }
    }

    /// Legs, and the arms that hold the strands off the rail.
    fn frames_kg(&self) -> f64 {
        let leg_m = LEG_SLANT * self.inputs.mean_height_m() + self.leg_depth_m();
        let arms_m = MOTIONS * ARMS_PER_LOOP * self.inputs.lever_m;
        self.legs() as f64 * leg_m * self.leg().section.kg_m()
            + self.inputs.line_ends() as f64 * arms_m * self.transmission.arm.section.kg_m()
    }

    fn strands_kg(&self) -> f64 {
        let length_m = self.inputs.mirrors as f64 * self.inputs.pitch_m;
        length_m * self.transmission.mover.strands_kg_m()
    }

    /// Second tines of the forks that let sliding levers through.
    fn forks_kg(&self) -> f64 {
        let section = &self.posts.tallest.stock.section;
        self.inputs.mirrors as f64 * fork_m(self.inputs) * section.kg_m()
    }

    fn slope(&self) -> SlopeErrors {
        let (panel, star) = (&self.inputs.panel, star_of(self.inputs));
        let wind_pa = self.top_loads.rms.normal_pa;
        let glass_rad = panel.slope_rad(wind_pa);
        let star_rad = star.pressure_slope_rad(&self.star.section, wind_pa);
        SlopeErrors {
            gravity_rad: panel.slope_rad(panel.weight_pa()),
            star_droop_rad: star.droop_rad(&self.star.section),
            wind_rad: libm::hypot(glass_rad, star_rad),
            sway_rad: self.posts.sway_rad(),
        }
    }

    fn margins(&self) -> Margins {
        let panel = &self.inputs.panel;
        let gust = |case| panel.gust_utilisation(self.top_loads.peak(case).normal_pa);
        let transmission = &self.transmission;
        Margins::from_utilisations(|check| match check {
            Check::GlassFocusing => panel.lasting_utilisation(),
            Check::GlassOperating => gust(LoadCase::Operate),
            Check::GlassDriveToStow => gust(LoadCase::DriveToStow),
            Check::GlassSurvival => gust(LoadCase::Survive),
            Check::Star => self.star.demand.utilisation,
            Check::Post => self.posts.hardest_used().demand.utilisation,
            Check::Footing => self.posts.footing_utilisation(),
            Check::Rail => transmission
                .rail
                .map_or(f64::NAN, |rail| rail.demand.utilisation),
            Check::Line => transmission.mover.demand().utilisation,
            Check::FrameArm => {
                let (arm, leg) = (transmission.arm.demand, self.leg().demand);
                arm.utilisation.max(leg.utilisation)
            }
            Check::Truss | Check::TorqueTube => f64::NAN,
        })
    }

    fn sizes(&self) -> Sizes {
        Sizes {
            star: self.star,
            post: self.posts.hardest_used(),
            rail: self.transmission.rail,
            mover: self.transmission.mover,
            frame_arm: self.transmission.arm,
        }
    }
}

const fn star_of(inputs: &StringInputs) -> Star<'_> {
    Star {
        panel: &inputs.panel,
        rules: &inputs.rules,
    }
}

#[cfg(test)]
pub mod tests;
