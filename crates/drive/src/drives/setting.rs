//! How every mirror of a string is set against its mount: what a crew turns until it is on target.

use field::{Plan, StringRow};
use geometry::Vec3;

use super::Drives;
use crate::frame::{Frame, Turn};
use crate::mount::Mount;
use crate::offsets::{Lever, Offsets};
use crate::reflection::{normal_between, reflected};

/// How one mirror is set against the mount of its string's reference mirror, as both stand under the
/// alignment sun.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Setting {
    /// Turns about the mount's first and second axis, right-handed, by shims, clamps or post head
    /// [rad]. Those of the reference mirror are zero.
    pub turns_rad: [f64; 2],
    /// Length of the mirror's lever for each axis over the reference mirror's [-].
    pub lever_ratio: [f64; 2],
}

/// How the mounts of a string stand when its reference mirror is on target under the alignment sun.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MountAxes {
    /// The first axis, fixed to the ground; of a ball the first direction in which it is moved.
    pub first: Vec3,
    /// The second axis, along the panels' width.
    pub second: Vec3,
    /// The reference mirror's normal.
    pub normal: Vec3,
}

impl Drives {
    /// The mounts of string `string` as they stand at alignment.
    #[must_use]
    pub fn mount_axes(&self, string: usize) -> MountAxes {
        let mount = &self.mounts[string];
        let aligned = &mount.alignment.frame;
        MountAxes {
            first: mount.first_axis(),
            second: aligned.second,
            normal: aligned.normal,
        }
    }

    /// How the mirrors of string `string` are set, in their order.
    #[must_use]
    pub fn settings(&self, plan: &Plan, string: usize) -> Vec<Setting> {
        let (mount, offsets) = (&self.mounts[string], &self.offsets[string]);
        let row = &plan.strings[string];
        let level = |turn: Turn| Setting {
            turns_rad: turn.angles_rad(),
            lever_ratio: [1.0, 1.0],
        };
        match offsets {
            Offsets::Shims(shims) => shims.iter().map(|shim| level(turn_of(*shim))).collect(),
            Offsets::Heads(heads) => {
                let aligned = &mount.alignment.frame;
                let shim = |head: &Frame| aligned.components(head.direction(aligned.normal));
                heads
                    .iter()
                    .map(|head| level(turn_of(shim(head))))
                    .collect()
            }
            Offsets::Parallel(squares) => {
                let then = &mount.alignment.turn;
                squares
                    .iter()
                    .map(|square| level(square.less(then)))
                    .collect()
            }
            Offsets::Levers(levers) => {
                let then = &mount.alignment.turn;
                let setting = |lever: &Lever| Setting {
                    turns_rad: lever.aligned().less(then).angles_rad(),
                    lever_ratio: lever.length_ratio(),
                };
                levers.iter().map(setting).collect()
            }
            Offsets::Tips(targets) => tips(mount, plan, row, targets).map(level).collect(),
        }
    }
}

/// The two turns that bring the normal of a mount onto a direction given by its components.
fn turn_of(components: Vec3) -> Turn {
    Frame::GROUND.turn_onto(components)
}

/// Turns of panels that stand square to sliding levers. The reference mirror's target and normal give
/// the alignment sun.
fn tips<'a>(
    mount: &'a Mount,
    plan: &'a Plan,
    row: &'a StringRow,
    targets: &'a [Vec3],
) -> impl Iterator<Item = Turn> + 'a {
    let aligned = &mount.alignment.frame;
    let reference = plan.target(row.reference_mirror());
    let sun = reflected(reference, aligned.normal);
    targets
        .iter()
        .map(move |target| turn_of(aligned.components(normal_between(sun, *target))))
}
