//! What one string is sized from: its dimensions, the wind, and rules for all strings.

use crate::error::{require_not_negative, require_positive};
use crate::gear::{Gear, Handing, fork_m};
use crate::loads::Exposed;
use crate::{Footing, Ground, Panel, StructureError, Wind};

/// What holds for all strings of a field: materials, ground and how stiff is stiff enough.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rules {
    /// Yield of posts, rails and arms.
    pub steel_yield_pa: f64,
    /// Partial factor on wind for steel and ground.
    pub wind_factor: f64,
    /// Wind load over that on a lone mirror, in any position but stow; 1 at the field's edge.
    pub shelter: f64,
    /// Distance along a row over which what a gust does to two mirrors grows apart, to 1/e.
    pub gust_width_m: f64,
    /// Greatest rise of stow loads of small mirrors over those measured on large ones.
    pub small_chord_limit: f64,
    /// Tilt that the offsets leave the mirrors at a string's ends with in stow; a string's mean is
    /// half of it.
    pub stow_misfit_rad: f64,
    /// Root mean square turn of a post's head that operating wind may cause.
    pub sway_limit_rad: f64,
    /// Root mean square turn of the farthest mirror that stretch of its drive line may cause.
    pub twist_limit_rad: f64,
    /// Root mean square slope that droop of the star may cause.
    pub star_droop_limit_rad: f64,
    /// Time to reach stow.
    pub stow_time_s: f64,
    /// The soil.
    pub ground: Ground,
    /// How posts are set.
    pub footing: Footing,
    /// Pretension of a strand over what the strongest operating gust and warmth take off it; below 1
    /// the line goes slack.
    pub pretension_ratio: f64,
    /// How much warmer strands get than the rail, or the ground, that holds their ends.
    pub strand_warmth_k: f64,
}

impl Rules {
    /// S235, a wind factor of 1.5 (EN 1990, from memory), no shelter, gusts 5 m wide
    /// ([`crate::gust_share`]), a stow misfit of 3°, limits of half a milliradian each, a tenth more
    /// pretension than is taken off, and strands up to 2 K warmer than their rail; common practice, no
    /// source.
    #[must_use]
    pub const fn customary() -> Self {
        Self {
            steel_yield_pa: 235e6,
            wind_factor: 1.5,
            shelter: 1.0,
            gust_width_m: 5.0,
            small_chord_limit: 1.24,
            stow_misfit_rad: 0.052,
            sway_limit_rad: 0.5e-3,
            twist_limit_rad: 0.5e-3,
            star_droop_limit_rad: 0.5e-3,
            stow_time_s: 600.0,
            ground: Ground::MEDIUM_SAND,
            footing: Footing::Driven,
            pretension_ratio: 1.1,
            strand_warmth_k: 2.0,
        }
    }
}

impl Rules {
    /// What of the wind reaches one mirror of a string.
    pub(crate) const fn exposed(&self, height_m: f64, stow_tilt_rad: f64) -> Exposed {
        Exposed {
            height_m,
            stow_tilt_rad,
            small_chord_limit: self.small_chord_limit,
            shelter: self.shelter,
            together: 1.0,
        }
    }

    pub(crate) fn check(&self) -> Result<(), StructureError> {
        let ground = &self.ground;
        require_positive(&[
            ("steel_yield_pa", self.steel_yield_pa),
            ("wind_factor", self.wind_factor),
            ("shelter", self.shelter),
            ("gust_width_m", self.gust_width_m),
            ("small_chord_limit", self.small_chord_limit),
            ("sway_limit_rad", self.sway_limit_rad),
            ("twist_limit_rad", self.twist_limit_rad),
            ("star_droop_limit_rad", self.star_droop_limit_rad),
            ("stow_time_s", self.stow_time_s),
            ("pretension_ratio", self.pretension_ratio),
            ("ground unit_weight_n_m3", ground.unit_weight_n_m3),
            ("ground passive_coefficient", ground.passive_coefficient),
            ("ground shaft_friction_pa", ground.shaft_friction_pa),
            ("ground subgrade_n_m3", ground.subgrade_n_m3),
            ("width of the footing", self.footing.width_m(1.0)),
        ])?;
        require_not_negative(&[
            ("stow_misfit_rad", self.stow_misfit_rad),
            ("strand_warmth_k", self.strand_warmth_k),
        ])
    }
}

/// A string to be sized: one post under every mirror, a rail along the post heads or none, and what
/// hands on each of the two motions.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StringInputs {
    /// Its panels.
    pub panel: Panel,
    /// How many.
    pub mirrors: usize,
    /// Distance between mirror centres along the rail.
    pub pitch_m: f64,
    /// Height of the lowest mirror's centre.
    pub mount_height_m: f64,
    /// How much higher every second mirror stands.
    pub stagger_m: f64,
    /// Rise of the rail.
    pub rail_slope_rad: f64,
    /// Half the length of the double-ended levers; length of the cranks of sliding levers.
    pub lever_m: f64,
    /// Driven from the middle instead of from an end.
    pub driven_from_middle: bool,
    /// Whether a rail ties the post heads together and takes the pull of the lines as a strut. Without
    /// one, frames hold the ends of loops, and posts what rods push.
    pub on_rail: bool,
    /// How its mirrors are hinged, set and moved.
    pub gear: Gear,
    /// The wind.
    pub wind: Wind,
    /// What holds for all strings.
    pub rules: Rules,
}

impl StringInputs {
    pub(crate) fn check(&self) -> Result<(), StructureError> {
        if self.mirrors == 0 {
            return Err(StructureError::NoMirrors);
        }
        require_positive(&[
            ("panel side_m", self.panel.side_m),
            ("panel thickness_m", self.panel.thickness_m),
            (
                "shortest_focal_length_m",
                self.panel.shortest_focal_length_m,
            ),
            ("pitch_m", self.pitch_m),
            ("mount_height_m", self.mount_height_m),
            ("lever_m", self.lever_m),
        ])?;
        require_not_negative(&[
            ("stagger_m", self.stagger_m),
            ("size of rail_slope_rad", self.rail_slope_rad.abs()),
        ])?;
        let reach_m = fork_m(self);
        if reach_m > self.mount_height_m {
            return Err(StructureError::BarInGround {
                reach_m,
                mount_height_m: self.mount_height_m,
            });
        }
        self.wind.check()?;
        self.rules.check()
    }

    /// Rise from one mirror to the next.
    pub(crate) fn rise_m(&self) -> f64 {
        self.pitch_m * libm::sin(self.rail_slope_rad.abs())
    }

    /// Height of a mirror's centre, counted from the string's low end.
    #[must_use]
    pub fn height_m(&self, mirror: usize) -> f64 {
        let raised_m = if mirror % 2 == 1 { self.stagger_m } else { 0.0 };
        self.mount_height_m + mirror as f64 * self.rise_m() + raised_m
    }

    /// Height of the highest mirror's centre.
    #[must_use]
    pub fn top_height_m(&self) -> f64 {
        let last = self.mirrors.saturating_sub(1);
        self.height_m(last)
            .max(self.height_m(last.saturating_sub(1)))
    }

    /// Mean tilt over the string that the offsets leave in stow: they grow evenly from its middle.
    pub(crate) const fn mean_stow_misfit_rad(&self) -> f64 {
        0.5 * self.rules.stow_misfit_rad
    }

    /// Mean height of the mirrors' centres.
    #[must_use]
    pub fn mean_height_m(&self) -> f64 {
        let count = self.mirrors as f64;
        let raised = (self.mirrors / 2) as f64 / count;
        self.mount_height_m + 0.5 * (count - 1.0) * self.rise_m() + raised * self.stagger_m
    }

    /// Runs that the drive's lines leave it in.
    pub(crate) const fn runs(&self) -> f64 {
        if self.driven_from_middle { 2.0 } else { 1.0 }
    }

    /// Mirrors on one run, the longer of two.
    pub(crate) const fn mirrors_on_run(&self) -> usize {
        if self.driven_from_middle {
            self.mirrors.div_ceil(2)
        } else {
            self.mirrors
        }
    }

    /// Places where lines are held off the rail by arms: each end, and the middle if driven there. What
    /// pushes needs none.
    pub(crate) const fn line_ends(&self) -> usize {
        match (self.gear.handing, self.driven_from_middle) {
            (Handing::Bar | Handing::PushRods { .. }, _) => 0,
            (Handing::Loops(_), true) => 3,
            (Handing::Loops(_), false) => 2,
        }
    }

    /// Frames in the ground: the drive's, and without a rail one at each end of a loop.
    pub(crate) const fn frames(&self) -> usize {
        match (self.gear.handing, self.on_rail, self.driven_from_middle) {
            (Handing::Loops(_), false, true) => 3,
            (Handing::Loops(_), false, false) => 2,
            _ => 1,
        }
    }
}
