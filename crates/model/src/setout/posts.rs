//! Posts and frames: where they stand, how deep, and what they bear.

use field::Plan;
use geometry::Vec3;
use structure::{Chs, Footing, Governing, PostDuty, StructureError, post_schedule};

use super::{Built, SetString};
use crate::case::Case;

/// What stands in a place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Standing {
    /// The post of a mirror (its place in the plan's columns), with what it bears.
    Post {
        /// The mirror.
        mirror: usize,
        /// What the post bears.
        duty: PostDuty,
    },
    /// The frame that carries the drives, on so many legs made like the string's tallest post. Lines
    /// pull on the rail, not on the frame; it holds the drives' torque.
    Frame {
        /// How many legs, astride.
        legs: usize,
    },
}

/// A post or a frame.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SetPost {
    /// Which string it belongs to, in plan order.
    pub string: usize,
    /// What it is.
    pub standing: Standing,
    /// East and north of the tower.
    pub place_m: [f64; 2],
    /// Height of the ground there above the tower's foot.
    pub ground_m: f64,
    /// Height of its head, the mirror's centre or the rail, above the ground.
    pub head_m: f64,
    /// Section of post or legs.
    pub section: Chs,
    /// What sets it.
    pub governed_by: Governing,
    /// Length in the ground.
    pub depth_m: f64,
    /// Diameter of the drilled hole to be filled with concrete; none for a driven post.
    pub hole_m: Option<f64>,
}

/// Legs of a frame.
const LEGS: usize = 2;

/// Posts of every string, each followed by its frame.
pub fn posts(
    case: &Case,
    plan: &Plan,
    strings: &[SetString],
    built: &[Built],
) -> Result<Vec<SetPost>, StructureError> {
    let schedules = built
        .iter()
        .map(|built| post_schedule(&built.inputs))
        .collect::<Result<Vec<_>, _>>()?;
    let mut posts = Vec::new();
    for (number, string) in strings.iter().enumerate() {
        let (duties, leg) = &schedules[string.make];
        let built = &built[string.make];
        let set = Ground {
            case,
            built,
            string: number,
        };
        let row = &plan.strings[number];
        let rises = string.ends_m[1].z >= string.ends_m[0].z;
        for (place, mirror) in row.mirrors().enumerate() {
            let from_low_end = if rises {
                place
            } else {
                row.mirror_count - 1 - place
            };
            let duty = duties[from_low_end.min(duties.len() - 1)];
            let standing = Standing::Post { mirror, duty };
            posts.push(set.post(plan.centre_m(mirror), &duty, standing));
        }
        let standing = Standing::Frame { legs: LEGS };
        posts.push(set.post(string.drive_m, leg, standing));
    }
    Ok(posts)
}

/// The ground that a string's posts are set in.
struct Ground<'a> {
    case: &'a Case,
    built: &'a Built,
    string: usize,
}

impl Ground<'_> {
    fn post(&self, head_m: Vec3, duty: &PostDuty, standing: Standing) -> SetPost {
        let site = &self.case.scenario.site;
        let ground_m = site.ground_slope_east * head_m.x + site.ground_slope_north * head_m.y;
        let hole_m = match self.built.inputs.rules.footing {
            Footing::Driven => None,
            Footing::Augered { hole_diameter_m } => Some(hole_diameter_m),
        };
        SetPost {
            string: self.string,
            standing,
            place_m: [head_m.x, head_m.y],
            ground_m,
            head_m: head_m.z - ground_m,
            section: duty.section,
            governed_by: duty.governed_by,
            depth_m: duty.depth_m,
            hole_m,
        }
    }
}
