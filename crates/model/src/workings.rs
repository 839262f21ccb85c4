//! How the drives of one field work out: what shared ones miss by and why, what that costs in light, how
//! far they turn, and what becomes of the light when drives stop.

mod classes;
mod escape;
mod light_shares;
mod news;
mod travel;

use field::Plan;
use scenario::{Design, FieldDesign, StringsDesign};
use structure::{Mover, StringParts};

use crate::case::Case;
use crate::evaluate::Scratch;
use crate::infeasible::Infeasible;
use crate::inputs::{self, Lee};
use crate::lay::lay;
use crate::makes::Makes;
use crate::margins::Margins;
use crate::site::Sited;
use crate::stand::{Stood, stand};

pub use classes::{CLASSES, ClassLight};
pub use escape::{Escape, Later, Stall};
pub use light_shares::{BlurPart, LightShare};
pub use news::AlignmentNews;
pub use travel::TravelUse;

/// How the drives of a field work out.
#[derive(Clone, Debug, PartialEq)]
pub struct Workings {
    /// Drives that mirrors share; none of heliostats.
    pub shared: Option<Sharing>,
    /// Power of each drive on the way to stow [W].
    pub motor_power_w: f64,
    /// A driven unit that stalls, the field without a grid, and the eye.
    pub escape: Escape,
}

/// How shared drives work out.
#[derive(Clone, Debug, PartialEq)]
pub struct Sharing {
    /// Beam error of the shared drive, root mean square over mirrors and the year's sun while drives follow
    /// it [rad].
    pub residual_rad: f64,
    /// The same for the best common turn of a string's mirrors under every sun [rad].
    pub bound_rad: f64,
    /// What spreads the beams around that, part by part.
    pub blur: Vec<BlurPart>,
    /// Light that stays out of the aperture because drives are shared, part by part.
    pub lost: Vec<LightShare>,
    /// The year's light in other classes of workmanship, trade by trade.
    pub classes: Vec<ClassLight>,
    /// When mirrors are set, and what other instants cost.
    pub alignment: AlignmentNews,
    /// How far the mounts turn, and what their stops cost.
    pub travel: TravelUse,
    /// The drives of one string.
    pub gear: DriveGear,
}

/// The drives of one string and what they move.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DriveGear {
    /// Torque that each drive must hold [N·m].
    pub torque_n_m: f64,
    /// Energy of one way to stow and back, both drives [J].
    pub stow_energy_j: f64,
    /// Time of a quarter turn to stow [s].
    pub stow_time_s: f64,
    /// Tilt in which the last mirrors are stowed [rad].
    pub stow_misfit_rad: f64,
    /// What hands the motion along.
    pub mover: Mover,
    /// Pretension of each strand [N].
    pub pretension_n: f64,
    /// Turn of the farthest mirror by stretch, warmth and play of its line, root mean square [rad].
    pub far_twist_rad: f64,
}

impl Workings {
    /// Of the field that a design lays.
    ///
    /// # Errors
    /// [`Infeasible`] when it breaks a limit before it stands.
    pub fn of_design(case: &Case, design: &Design) -> Result<Self, Infeasible> {
        let mut margins = Margins::unknown();
        let stood = lay(case, design, &mut margins, &mut Scratch::default())?;
        Ok(Self::of(case, design, &stood))
    }

    /// Of a given plan, with all else as a design has it; lines and drives are those of its commonest
    /// make.
    ///
    /// # Errors
    /// [`Infeasible`] when a driven unit's inputs make no sense together.
    pub fn of_plan(case: &Case, design: &Design, plan: Plan) -> Result<Self, Infeasible> {
        let mut margins = Margins::unknown();
        let stood = stand(case, design, plan, &mut margins, &mut Scratch::default())?;
        Ok(Self::of(case, design, &stood))
    }

    fn of(case: &Case, design: &Design, stood: &Stood) -> Self {
        Self {
            shared: Sharing::of(case, design, stood),
            motor_power_w: stood.makes.motor_power_w(),
            escape: Escape::of(case, &stood.site),
        }
    }
}

impl Sharing {
    fn of(case: &Case, design: &Design, stood: &Stood) -> Option<Self> {
        let (FieldDesign::Strings(strings), Makes::Strings(makes)) = (&design.field, &stood.makes)
        else {
            return None;
        };
        let (site, parts) = (&stood.site, &makes.first()?.parts);
        Some(Self {
            residual_rad: site.motion.residual_rad,
            bound_rad: site.motion.bound_rad,
            blur: light_shares::blur_parts(case, site),
            lost: light_shares::lost(case, site),
            classes: classes::classes(strings, |strings| {
                let mechanism = inputs::mechanism(case, design, strings, parts);
                light_shares::entering_j(case, site, &mechanism)
            }),
            alignment: AlignmentNews::of(case, site),
            travel: TravelUse::of(case, &site.plan, &site.drives, &site.mechanism),
            gear: DriveGear::of(case, design, strings, site, parts),
        })
    }
}

impl DriveGear {
    fn of(
        case: &Case,
        design: &Design,
        strings: &StringsDesign,
        site: &Sited,
        parts: &StringParts,
    ) -> Self {
        let rules = inputs::string_inputs(case, design, strings, Lee::Inside).rules;
        let mirrors = site.plan.strings[0].mirror_count;
        let ways = 2.0 * crate::bill::DRIVES_PER_UNIT;
        Self {
            torque_n_m: parts.drive_torque_n_m,
            stow_energy_j: ways * parts.motor_power_w * rules.stow_time_s,
            stow_time_s: rules.stow_time_s,
            stow_misfit_rad: rules.stow_misfit_rad,
            mover: parts.sizes.mover,
            pretension_n: parts.line_pretension_n,
            far_twist_rad: site.mechanism.line.twist_rms_rad(mirrors - 1, mirrors),
        }
    }
}

#[cfg(test)]
mod tests;
