//! Strings as they were surveyed: where every mirror's central ray meets the target plane.

use drive::{AsBuilt, Drives};
use field::Plan;
use geometry::Vec3;
use scenario::{Design, FieldDesign};

use crate::alignment::Alignment;
use crate::case::Case;
use crate::infeasible::Infeasible;
use crate::inputs;
use crate::margins::Margins;
use crate::stand::{Usual, check_plan, usual};

pub use drive::Found;

/// Beams that run closer than this along the target plane never meet it.
const GRAZING: f64 = 1e-6;

/// Where a central ray meets the target plane, from the mirror's own aim point, as seen by someone in
/// the field who looks at the target.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spot {
    /// To the right, level.
    pub right_m: f64,
    /// Up, along the target plane.
    pub up_m: f64,
}

impl Spot {
    /// Distance from the aim point.
    #[must_use]
    pub fn off_m(&self) -> f64 {
        libm::hypot(self.right_m, self.up_m)
    }

    /// Distance from another spot.
    #[must_use]
    pub fn apart_m(&self, other: &Self) -> f64 {
        libm::hypot(self.right_m - other.right_m, self.up_m - other.up_m)
    }
}

/// The strings of a plan, ready to be surveyed.
pub struct Surveyed {
    plan: Plan,
    drives: Drives,
    right: Vec3,
    up: Vec3,
}

impl Surveyed {
    /// The strings of `plan`, moved by the mechanism of a design, set under the suns that it has them
    /// set under, and aimed at a plane that is tilted and turned like its aperture.
    ///
    /// # Errors
    /// [`Infeasible`] when a string cannot be moved or its inputs make no sense together.
    pub fn of_plan(case: &Case, design: &Design, plan: Plan) -> Result<Self, Infeasible> {
        let mut margins = Margins::unknown();
        check_plan(design, &plan)
            .map_err(|misfit| Infeasible::unbuildable(misfit.to_string(), margins))?;
        if !matches!(design.field, FieldDesign::Strings(_)) {
            let reason = "what a survey finds of heliostats is calibrated away; only strings have spots of their own";
            return Err(Infeasible::unbuildable(reason.to_owned(), margins));
        }
        let Usual {
            mechanism,
            instants,
            ..
        } = usual(case, design, &plan, &mut margins)?;
        let alignment = Alignment::found(case, &plan, &mechanism, instants);
        let aperture = inputs::aperture(case, design);
        Ok(Self {
            drives: alignment.drives(&plan, &mechanism),
            right: aperture.right,
            up: aperture.up,
            plan,
        })
    }

    /// The turns about first and second axis by which each mirror is set against its string's
    /// reference mirror, in plan order [rad].
    #[must_use]
    pub fn turns_rad(&self) -> Vec<[f64; 2]> {
        let strings = 0..self.plan.strings.len();
        strings
            .flat_map(|string| self.drives.settings(&self.plan, string))
            .map(|setting| setting.turns_rad)
            .collect()
    }

    /// The sun under which the settings of string `string` are exact.
    #[must_use]
    pub fn alignment_sun(&self, string: usize) -> Vec3 {
        self.drives.alignment_sun(string)
    }

    /// The same as [`Surveyed::spots`] with each string under the sun that it was set under.
    #[must_use]
    pub fn spots_as_set(&self, found: &[Found]) -> Vec<Option<Spot>> {
        let built = self.as_built(found);
        let strings = 0..self.plan.strings.len();
        strings
            .flat_map(|string| self.of_string(&built, string, self.alignment_sun(string)))
            .collect()
    }

    /// Where every mirror's central ray meets its target plane under each sun, sun by sun in plan
    /// order, for strings found as `found` says, one for each mirror. The plane passes through the
    /// mirror's own aim point; `None` where the ray never meets it.
    #[must_use]
    pub fn spots(&self, found: &[Found], suns: &[Vec3]) -> Vec<Vec<Option<Spot>>> {
        let built = self.as_built(found);
        let under = |sun: &Vec3| {
            let strings = 0..self.plan.strings.len();
            strings
                .flat_map(|string| self.of_string(&built, string, *sun))
                .collect()
        };
        suns.iter().map(under).collect()
    }

    fn as_built(&self, found: &[Found]) -> AsBuilt {
        AsBuilt::prepare(&self.plan, self.drives.clone(), found)
    }

    fn of_string(&self, built: &AsBuilt, string: usize, sun: Vec3) -> Vec<Option<Spot>> {
        let mirrors = self.plan.strings[string].mirrors();
        let rays = mirrors.zip(built.rays(string, sun));
        rays.map(|(mirror, ray)| {
            let from_aim_m = built.plan().centre_m(mirror) - self.plan.aim_of_m(mirror);
            self.spot(from_aim_m, ray)
        })
        .collect()
    }

    /// Where a ray that starts at `from_aim_m` from the aim point meets the plane.
    fn spot(&self, from_aim_m: Vec3, ray: Vec3) -> Option<Spot> {
        let normal = self.right.cross(self.up);
        let towards = -ray.dot(normal);
        if towards < GRAZING {
            return None;
        }
        let hit_m = from_aim_m + ray * (from_aim_m.dot(normal) / towards);
        Some(Spot {
            right_m: hit_m.dot(self.right),
            up_m: hit_m.dot(self.up),
        })
    }
}

#[cfg(test)]
mod tests;
