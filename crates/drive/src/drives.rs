//! Drives prepared for a plan: how every mirror stands under any sun.

mod as_built;
mod setting;

use field::{Linkage, Plan, Stance, StringRow};
use geometry::{LANES, Lane, LaneVec3, Vec3, abreast, lane};

use crate::control::Steered;
use crate::gains::Gains;
use crate::mechanism::{Control, Mechanism};
use crate::mount::Mount;
use crate::offsets::Offsets;
use crate::reflection::{angle_between_rad, normal_between, reflected};

pub use as_built::{AsBuilt, Found};
pub use setting::{MountAxes, Setting};

/// The drives of a plan's strings, ready to stand under any sun.
#[derive(Clone, Debug)]
pub struct Drives {
    control: Control,
    /// The sun under which each string was set.
    alignment_suns: Vec<Vec3>,
    mounts: Vec<Mount>,
    /// What the mirrors of each string have of their own.
    offsets: Vec<Offsets>,
    /// Square of each mirror's rms twist by line stretch [rad²].
    twist_rad2: Vec<f64>,
}

impl Drives {
    /// Sets every mirror of `plan` on its target under the alignment sun. A first axis and a linkage
    /// that [`Mechanism::check`] refuses are taken as equal angles with shims.
    #[must_use]
    pub fn prepare(plan: &Plan, mechanism: &Mechanism) -> Self {
        let suns = vec![mechanism.alignment_sun; plan.strings.len()];
        Self::prepare_each(plan, mechanism, suns)
    }

    /// The same with a sun of its own for the alignment of each string; one that is left out is set
    /// under the mechanism's.
    #[must_use]
    pub fn prepare_each(plan: &Plan, mechanism: &Mechanism, mut alignment_suns: Vec<Vec3>) -> Self {
        alignment_suns.resize(plan.strings.len(), mechanism.alignment_sun);
        let mut drives = Self {
            control: mechanism.control,
            alignment_suns: Vec::new(),
            mounts: Vec::with_capacity(plan.strings.len()),
            offsets: Vec::with_capacity(plan.strings.len()),
            twist_rad2: Vec::with_capacity(plan.mirror_count()),
        };
        let gains = Gains::at_latitude(mechanism.latitude_rad);
        let mut twists_rad2 = Vec::new();
        for (row, &alignment_sun) in plan.strings.iter().zip(&alignment_suns) {
            let mechanism = Mechanism {
                alignment_sun,
                ..*mechanism
            };
            drives.add_string(plan, row, &mechanism, &gains);
            // Strings of as many mirrors twist alike, and most that follow one another are.
            if twists_rad2.len() != row.mirror_count {
                twists_rad2 = mechanism.line.twists_rad2(row.mirror_count);
            }
            drives.twist_rad2.extend_from_slice(&twists_rad2);
        }
        drives.alignment_suns = alignment_suns;
        drives
    }

    /// Unit vector to the sun under which string `string` was set.
    #[must_use]
    pub fn alignment_sun(&self, string: usize) -> Vec3 {
        self.alignment_suns[string]
    }

    fn add_string(&mut self, plan: &Plan, row: &StringRow, mechanism: &Mechanism, gains: &Gains) {
        let mount = Mount::new(plan, row, mechanism);
        self.offsets
            .push(Offsets::set(plan, row, &mount, mechanism, gains));
        self.mounts.push(mount);
    }

    /// Fills `stance` with the posture of string `string` under eight suns: the normals as they
    /// are, residual included, and the random beam error around them. Suns are unit vectors above
    /// the horizon. Nothing is allocated once `stance` has room for the string.
    ///
    /// The width edge is that of the reference mirror, laid into every panel's plane: to first order
    /// in the offsets all edges of a string differ by a roll of no consequence.
    pub fn stand(&self, plan: &Plan, string: usize, suns: &LaneVec3, stance: &mut Stance) {
        let all = 0..plan.strings[string].mirror_count;
        self.stand_some(plan, string, all, suns, stance);
    }

    /// The same for some mirrors only, told by their places in the string (0 the first); `stance` keeps what it
    /// had for the others.
    pub fn stand_some(
        &self,
        plan: &Plan,
        string: usize,
        places: impl IntoIterator<Item = usize>,
        suns: &LaneVec3,
        stance: &mut Stance,
    ) {
        abreast(
            #[inline(always)]
            || {
                let wanted = self.wanted(plan, string, suns);
                self.turn_to(plan, string, places, &wanted, suns, stance);
            },
        );
    }

    /// The same with the drive turned until the reference mirror faces these directions (unit
    /// vectors), whatever the sun: on the way to stow, or where it has stalled.
    pub fn stand_facing(
        &self,
        plan: &Plan,
        string: usize,
        places: impl IntoIterator<Item = usize>,
        facing: &[Vec3; LANES],
        stance: &mut Stance,
    ) {
        let target = self.mounts[string].target;
        let served = lane::columns(&facing.map(|normal| reflected(target, normal)));
        let facing = lane::columns(facing);
        abreast(
            #[inline(always)]
            || self.turn_to(plan, string, places, &facing, &served, stance),
        );
    }

    /// Unit normal of the reference mirror of string `string` when it tracks this sun.
    #[must_use]
    pub fn facing(&self, plan: &Plan, string: usize, sun: Vec3) -> Vec3 {
        self.facings(plan, string, &lane::columns(&[sun; LANES]))[0]
    }

    /// The same under eight suns.
    #[must_use]
    pub fn facings(&self, plan: &Plan, string: usize, suns: &LaneVec3) -> [Vec3; LANES] {
        let wanted = self.wanted(plan, string, suns);
        std::array::from_fn(|column| lane::vector(&wanted, column))
    }

    /// Whether the drive of string `string` follows this sun: none of its mounts is asked beyond a stop. At a
    /// stop its light walks out of the aperture. Sliding levers know no stops.
    #[must_use]
    pub fn follows(&self, plan: &Plan, string: usize, sun: Vec3) -> bool {
        self.follow(plan, string, &lane::columns(&[sun; LANES]))[0]
    }

    /// The same of eight suns.
    #[must_use]
    pub fn follow(&self, plan: &Plan, string: usize, suns: &LaneVec3) -> [bool; LANES] {
        if plan.strings[string].linkage == Linkage::SlidingLever {
            return [true; LANES];
        }
        let facings = self.facings(plan, string, suns);
        facings.map(|facing| self.mounts[string].reaches(facing))
    }

    /// Turns [rad] since alignment that this sun asks of the mounts of string `string`, whatever their
    /// stops: about both axes, or the bend of a ball and none.
    #[must_use]
    pub fn turns_asked_rad(&self, plan: &Plan, string: usize, sun: Vec3) -> [f64; 2] {
        self.mounts[string].asked_rad(self.facing(plan, string, sun))
    }

    /// Where the reference mirror of string `string` may come to face (unit vectors) while its drive turns no
    /// farther than one of these facings asks of it: the corners of that travel and halfway between them, or
    /// eight ways in which a ball is bent the most.
    pub fn ends_of_travel(
        &self,
        string: usize,
        facings: impl Iterator<Item = Vec3>,
    ) -> [Vec3; LANES] {
        self.mounts[string].ends_of_travel(facings)
    }

    #[inline(always)]
    fn turn_to(
        &self,
        plan: &Plan,
        string: usize,
        places: impl IntoIterator<Item = usize>,
        wanted: &LaneVec3,
        suns: &LaneVec3,
        stance: &mut Stance,
    ) {
        let row = &plan.strings[string];
        let mount = &self.mounts[string];
        let motion = mount.motion(wanted);
        let blur = mount.blur(&motion, suns);
        stance.resize(row.mirror_count);
        stance.width_edge = motion.second;
        let (base, offsets) = (mount.base(), &self.offsets[string]);
        let twists_rad2 = &self.twist_rad2[row.mirrors()];
        for place in places {
            offsets.write_normal(place, base, &motion, suns, &mut stance.normals[place]);
            let twist_rad2 = twists_rad2[place];
            let in_plane_rad2 = &mut stance.blur_in_plane_rad2[place];
            add_scaled(
                &blur.in_plane_rad2,
                &blur.in_plane_per_twist,
                twist_rad2,
                in_plane_rad2,
            );
            let across_rad2 = &mut stance.blur_across_rad2[place];
            add_scaled(
                &blur.across_rad2,
                &blur.across_per_twist,
                twist_rad2,
                across_rad2,
            );
        }
    }

    /// Where the drive points the reference mirror's normal.
    #[inline(always)]
    fn wanted(&self, plan: &Plan, string: usize, suns: &LaneVec3) -> LaneVec3 {
        let mount = &self.mounts[string];
        let mut exact = [[0.0; LANES]; 3];
        for column in 0..LANES {
            let normal = normal_between(lane::vector(suns, column), mount.target);
            lane::set_vector(&mut exact, column, normal);
        }
        match self.control {
            Control::Reference => exact,
            Control::LeastSquares => Steered {
                plan,
                row: &plan.strings[string],
                offsets: &self.offsets[string],
                base: mount.base(),
                moved: |normals: &LaneVec3| mount.motion(normals),
            }
            .least_squares(suns, &exact),
        }
    }

    /// Unit normal of mirror `mirror` under one sun, without random errors.
    #[must_use]
    pub fn normal(&self, plan: &Plan, mirror: usize, sun: Vec3) -> Vec3 {
        let string = plan
            .strings
            .partition_point(|row| row.first_mirror <= mirror)
            - 1;
        let suns = lane::columns(&[sun; LANES]);
        let mount = &self.mounts[string];
        let motion = mount.motion(&self.wanted(plan, string, &suns));
        let place = mirror - plan.strings[string].first_mirror;
        let mut normal = [[0.0; LANES]; 3];
        self.offsets[string].write_normal(place, mount.base(), &motion, &suns, &mut normal);
        lane::vector(&normal, 0)
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

    /// Shortest and longest distance between pivot and tip of the sliding levers of string `string`
    /// under these suns, over the length of the cranks that carry their bar [-]: twice the cosine of
    /// the angle of incidence. The difference is how far the levers slide.
    #[must_use]
    pub fn tip_reach(&self, plan: &Plan, string: usize, suns: &[Vec3]) -> [f64; 2] {
        let row = &plan.strings[string];
        let reach = |sun: Vec3| {
            row.mirrors()
                .map(move |mirror| (sun + plan.target(mirror)).length())
        };
        suns.iter()
            .flat_map(|&sun| reach(sun))
            .fold([f64::INFINITY, 0.0], |[least, most], reach| {
                [least.min(reach), most.max(reach)]
            })
    }
}

#[inline(always)]
fn add_scaled(base: &Lane, slope: &Lane, scale: f64, out: &mut Lane) {
    for lane in 0..LANES {
        out[lane] = base[lane] + slope[lane] * scale;
    }
}
