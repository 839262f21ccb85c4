//! Drives prepared for a plan: how every mirror stands under any sun.

use field::{Plan, Stance, StringRow};
use geometry::{LANES, Lane, LaneVec3, Vec3, lane};

use crate::frame::Frame;
use crate::line::Line;
use crate::reflection::{Incidence, angle_between_rad, normal_between, reflected};
use crate::tolerances::{Alignment, Posture, Tolerances};

/// What all strings of a field share in their mechanism.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mechanism {
    /// Latitude of the field, north positive [rad]; it points the polar axis.
    pub latitude_rad: f64,
    /// Unit vector to the sun under which every mirror was set exactly on its target.
    pub alignment_sun: Vec3,
    /// Errors of mounts and drives.
    pub tolerances: Tolerances,
    /// The lines along each string.
    pub line: Line,
}

/// One string's mounts: axes, target of its reference mirror and posture at alignment.
#[derive(Clone, Copy, Debug)]
struct Mount {
    rest: Frame,
    target: Vec3,
    alignment: Alignment,
}

/// The drives of a plan's strings, ready to stand under any sun.
#[derive(Clone, Debug)]
pub struct Drives {
    tolerances: Tolerances,
    mounts: Vec<Mount>,
    /// Normal of each mirror in the turning frame of its mount: what its shim holds.
    shims: Vec<Vec3>,
    /// Square of each mirror's rms twist by line stretch [rad²].
    twist_rad2: Vec<f64>,
}

/// What all mirrors of a string have alike under eight suns.
#[derive(Default)]
struct Shared {
    first: LaneVec3,
    second: LaneVec3,
    normal: LaneVec3,
    in_plane_rad2: Lane,
    across_rad2: Lane,
    in_plane_per_twist: Lane,
    across_per_twist: Lane,
}

impl Drives {
    /// Sets every mirror of `plan` on its target under the alignment sun.
    #[must_use]
    pub fn prepare(plan: &Plan, mechanism: &Mechanism) -> Self {
        let mut drives = Self {
            tolerances: mechanism.tolerances,
            mounts: Vec::with_capacity(plan.strings.len()),
            shims: Vec::with_capacity(plan.mirror_count()),
            twist_rad2: Vec::with_capacity(plan.mirror_count()),
        };
        for row in &plan.strings {
            drives.add_string(plan, row, mechanism);
        }
        drives
    }

    fn add_string(&mut self, plan: &Plan, row: &StringRow, mechanism: &Mechanism) {
        let mount = Mount::new(plan, row, mechanism);
        for (index, mirror) in row.mirrors().enumerate() {
            let exact = normal_between(mechanism.alignment_sun, plan.target(mirror));
            self.shims.push(mount.alignment.frame.components(exact));
            let twist_rad = mechanism.line.twist_rms_rad(index, row.mirror_count);
            self.twist_rad2.push(twist_rad * twist_rad);
        }
        self.mounts.push(mount);
    }

    /// Fills `stance` with the posture of string `string` under eight suns: the normals as they
    /// are, residual included, and the random beam error around them. Suns are unit vectors above
    /// the horizon. Nothing is allocated once `stance` has room for the string.
    pub fn stand(&self, plan: &Plan, string: usize, suns: &LaneVec3, stance: &mut Stance) {
        let row = &plan.strings[string];
        let shared = self.shared(string, suns);
        stance.resize(row.mirror_count);
        stance.width_edge = shared.second;
        let shims = &self.shims[row.mirrors()];
        for (normal, shim) in stance.normals.iter_mut().zip(shims) {
            shared.write_normal(*shim, normal);
        }
        let twists = &self.twist_rad2[row.mirrors()];
        for (blur, twist_rad2) in stance.blur_in_plane_rad2.iter_mut().zip(twists) {
            add_scaled(
                &shared.in_plane_rad2,
                &shared.in_plane_per_twist,
                *twist_rad2,
                blur,
            );
        }
        for (blur, twist_rad2) in stance.blur_across_rad2.iter_mut().zip(twists) {
            add_scaled(
                &shared.across_rad2,
                &shared.across_per_twist,
                *twist_rad2,
                blur,
            );
        }
    }

    /// What string `string` shares under eight suns, each lane on its own.
    fn shared(&self, string: usize, suns: &LaneVec3) -> Shared {
        let mount = self.mounts[string];
        let mut shared = Shared::default();
        for column in 0..LANES {
            let sun = lane::vector(suns, column);
            let posture = mount.posture(sun);
            let blur = self.tolerances.beam_variance(&mount.alignment, &posture);
            let per_twist = posture.per_twist();
            lane::set_vector(&mut shared.first, column, posture.frame.first);
            lane::set_vector(&mut shared.second, column, posture.frame.second);
            lane::set_vector(&mut shared.normal, column, posture.frame.normal);
            shared.in_plane_rad2[column] = blur.in_plane_rad2;
            shared.across_rad2[column] = blur.across_rad2;
            shared.in_plane_per_twist[column] = per_twist.in_plane_rad2;
            shared.across_per_twist[column] = per_twist.across_rad2;
        }
        shared
    }

    /// Unit normal of mirror `mirror` under one sun, without random errors.
    #[must_use]
    pub fn normal(&self, plan: &Plan, mirror: usize, sun: Vec3) -> Vec3 {
        let mount = &self.mounts[string_of(plan, mirror)];
        mount.turned(sun).direction(self.shims[mirror])
    }

    /// Beam error of mirror `mirror` under one sun, without random errors [rad]: the angle by
    /// which its reflected central ray misses the aim point. Exact, not to first order.
    #[must_use]
    pub fn residual_rad(&self, plan: &Plan, mirror: usize, sun: Vec3) -> f64 {
        let ray = reflected(sun, self.normal(plan, mirror, sun));
        angle_between_rad(ray, plan.target(mirror))
    }

    /// Root mean square over the mirrors of string `string` of their beam errors [rad].
    #[must_use]
    pub fn rms_residual_rad(&self, plan: &Plan, string: usize, sun: Vec3) -> f64 {
        let row = &plan.strings[string];
        let sum_rad2: f64 = row
            .mirrors()
            .map(|mirror| self.residual_rad(plan, mirror, sun))
            .map(|residual_rad| residual_rad * residual_rad)
            .sum();
        (sum_rad2 / row.mirror_count as f64).sqrt()
    }
}

impl Mount {
    fn new(plan: &Plan, row: &StringRow, mechanism: &Mechanism) -> Self {
        let rest = Frame::at_rest(row.first_axis, row.bearing_rad, mechanism.latitude_rad);
        let target = plan.target(row.reference_mirror());
        let turn = rest.turn_onto(normal_between(mechanism.alignment_sun, target));
        let alignment = Alignment {
            turn,
            arm: rest.arm(turn),
            frame: rest.turned(turn),
        };
        Self {
            rest,
            target,
            alignment,
        }
    }

    fn turned(&self, sun: Vec3) -> Frame {
        self.rest
            .turned(self.rest.turn_onto(normal_between(sun, self.target)))
    }

    #[inline(always)]
    fn posture(&self, sun: Vec3) -> Posture {
        let turn = self.rest.turn_onto(normal_between(sun, self.target));
        let frame = self.rest.turned(turn);
        Posture {
            turn,
            axis: self.rest.first,
            arm: self.rest.arm(turn),
            frame,
            incidence: Incidence::new(sun, frame.normal, frame.second),
        }
    }
}

impl Shared {
    fn write_normal(&self, shim: Vec3, normal: &mut LaneVec3) {
        for (axis, column) in normal.iter_mut().enumerate() {
            let (first, second, third) =
                (&self.first[axis], &self.second[axis], &self.normal[axis]);
            for (lane, value) in column.iter_mut().enumerate() {
                *value = first[lane] * shim.x + second[lane] * shim.y + third[lane] * shim.z;
            }
        }
    }
}

fn add_scaled(base: &Lane, slope: &Lane, scale: f64, out: &mut Lane) {
    for lane in 0..LANES {
        out[lane] = base[lane] + slope[lane] * scale;
    }
}

fn string_of(plan: &Plan, mirror: usize) -> usize {
    plan.strings
        .partition_point(|row| row.first_mirror <= mirror)
        - 1
}
