//! Strings as they were found to stand: where each mirror sends its beam when posts have moved and
//! lean and panels are set wrong.

use field::{Linkage, Plan};
use geometry::{LANES, Vec3, lane};

use super::Drives;
use crate::frame::{Frame, Turn};
use crate::reflection::reflected;

/// How one mirror was found to stand against its plan.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Found {
    /// From its planned to its surveyed centre: east, north, up.
    pub moved_m: Vec3,
    /// How far its post leans east and north, as tangents [rad].
    pub lean_rad: [f64; 2],
    /// How far the panel is turned beyond its setting about first and second axis [rad].
    pub turned_rad: [f64; 2],
}

/// Strings as found, each driven so that its reference mirror does what its drive wants of it: the
/// drive's own offsets have been set by that mirror.
#[derive(Clone, Debug)]
pub struct AsBuilt {
    drives: Drives,
    plan: Plan,
    /// Images of the ground axes where each post leans. A sliding lever points from its pivot to a tip
    /// that the bar holds: how its post leans does not matter.
    leans: Vec<Frame>,
}

/// Most steps until the reference mirror points where it should; leans of milliradians take three.
const STEPS: usize = 20;
/// Close enough: the rounding of unit vectors.
const CLOSE_RAD: f64 = 1e-15;

impl AsBuilt {
    /// Strings whose mirrors were set as `drives` have them on `plan`, and then found as `found` says,
    /// one for each mirror of the plan.
    #[must_use]
    pub fn prepare(plan: &Plan, mut drives: Drives, found: &[Found]) -> Self {
        let as_built = shifted(plan, found);
        for (string, row) in plan.strings.iter().enumerate() {
            let alignment_sun = drives.alignment_suns[string];
            let mount = &mut drives.mounts[string];
            for (place, mirror) in row.mirrors().enumerate() {
                let turn = Turn::by(found[mirror].turned_rad);
                drives.offsets[string].turn_beyond(place, &turn, mount, alignment_sun);
            }
            mount.target = as_built.target(row.reference_mirror());
        }
        let leans = plan.strings.iter().flat_map(|row| {
            let felt = row.linkage != Linkage::SlidingLever;
            let lean = move |found: &Found| if felt { lean(found) } else { Frame::GROUND };
            found[row.mirrors()].iter().map(lean)
        });
        Self {
            leans: leans.collect(),
            drives,
            plan: as_built,
        }
    }

    /// The plan with every mirror where it was found.
    #[must_use]
    pub const fn plan(&self) -> &Plan {
        &self.plan
    }

    /// Unit vectors along which the mirrors of string `string` send the central ray of a sun, in
    /// their order. Exact, not to first order.
    #[must_use]
    pub fn rays(&self, string: usize, sun: Vec3) -> Vec<Vec3> {
        let places = 0..self.plan.strings[string].mirror_count;
        let steered = self.steered(string, sun);
        places
            .map(|place| reflected(sun, self.normal(string, place, sun, steered)))
            .collect()
    }

    /// The normal that the drive must believe its reference mirror to have.
    fn steered(&self, string: usize, sun: Vec3) -> Vec3 {
        let row = &self.plan.strings[string];
        let place = row.reference_mirror() - row.first_mirror;
        let suns = lane::columns(&[sun; LANES]);
        let wanted = lane::vector(&self.drives.wanted(&self.plan, string, &suns), 0);
        let mut steered = wanted;
        for _ in 0..STEPS {
            let found = self.normal(string, place, sun, steered);
            if (found - wanted).length() < CLOSE_RAD {
                break;
            }
            let back = Frame::GROUND.turned_onto(found, wanted);
            steered = back.direction(steered).normalize();
        }
        steered
    }

    /// Normal of the mirror at `place` when the drive believes its reference mirror to have the
    /// normal `steered`.
    fn normal(&self, string: usize, place: usize, sun: Vec3, steered: Vec3) -> Vec3 {
        let (mount, offsets) = (&self.drives.mounts[string], &self.drives.offsets[string]);
        let row = &self.plan.strings[string];
        let motion = mount.motion(&lane::columns(&[steered; LANES]));
        let reference = row.reference_mirror() - row.first_mirror;
        let believed = offsets.believed_sun(reference, steered, sun);
        let suns = lane::columns(&[believed; LANES]);
        let mut normal = [[0.0; LANES]; 3];
        offsets.write_normal(place, mount.base(), &motion, &suns, &mut normal);
        let mirror = row.first_mirror + place;
        self.leans[mirror].direction(lane::vector(&normal, 0))
    }
}

fn lean(found: &Found) -> Frame {
    let [east, north] = found.lean_rad;
    let post = Vec3::new(east, north, 1.0).normalize();
    Frame::GROUND.turned_onto(Vec3::Z, post)
}

fn shifted(plan: &Plan, found: &[Found]) -> Plan {
    let mut shifted = plan.clone();
    for (mirror, found) in found.iter().enumerate() {
        shifted.x_m[mirror] += found.moved_m.x;
        shifted.y_m[mirror] += found.moved_m.y;
        shifted.z_m[mirror] += found.moved_m.z;
    }
    shifted
}
